// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/movements.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/basics/units.hpp"

namespace redress::findings {

namespace {

using elementary::hypotenuse;
using elementary::magnitude;

constexpr double kLidsOpenFraction = 0.85;  // below: a blink, with which the gaze dips
constexpr std::size_t kBlinkMarginMs = 60;  // lids are still on the move
// Slower than this is vergence (at most about 25 degrees a second) or drift.
constexpr double kSaccadeDegPerS = 30.0;
constexpr std::size_t kSpeedSpanMs = 6;  // speeds are told over this time
constexpr double kSmallestSaccadeDeg = 0.2;
constexpr std::size_t kShortestSaccadeMs = 4;
constexpr std::size_t kSoonestMs = 80;        // nothing answers a cover sooner
constexpr std::size_t kLatestFirstMs = 1200;  // later saccades are not the cover's doing
constexpr std::size_t kNextStepMs = 400;      // a correction follows within this
constexpr std::size_t kSettledMs = 150;       // over which a place is told
constexpr std::size_t kStartMs = 120;         // the same before anything moves
constexpr double kOnsetDeg = 0.1;

struct Place {
  double h = 0.0;
  double v = 0.0;
};

Place operator-(Place a, Place b) { return {a.h - b.h, a.v - b.v}; }
double size_of(Place p) { return hypotenuse(p.h, p.v); }

struct Saccade {
  std::size_t from = 0;
  std::size_t to = 0;
  Place change;
  double peak = 0.0;
};

/// One eye during one watch; `usable` leaves out blinks.
struct Track {
  std::vector<Place> place;
  std::vector<char> usable;
  std::size_t event = 0;  // index of the event's row

  [[nodiscard]] std::size_t size() const { return place.size(); }

  /// Median over the last `count` usable rows before `to`; nothing if there is none.
  [[nodiscard]] std::optional<Place> middle(std::size_t to, std::size_t count) const {
    std::vector<double> h;
    std::vector<double> v;
    for (std::size_t i = std::min(to, size()); i-- > 0 && h.size() < count;) {
      if (!usable[i]) continue;
      h.push_back(place[i].h);
      v.push_back(place[i].v);
    }
    if (h.empty()) return std::nullopt;
    const auto median = [](std::vector<double>& x) {
      const auto half = x.begin() + static_cast<std::ptrdiff_t>(x.size() / 2);
      std::nth_element(x.begin(), half, x.end());  // equal values are interchangeable
      return *half;
    };
    return Place{median(h), median(v)};
  }
};

std::vector<Saccade> find_saccades(const Track& t) {
  std::vector<Saccade> found;
  const auto speed = [&](std::size_t i) {
    const Place d = t.place[i] - t.place[i - kSpeedSpanMs];
    return size_of(d) * 1000.0 / static_cast<double>(kSpeedSpanMs);
  };
  std::size_t i = std::max(t.event + kSoonestMs, kSpeedSpanMs);
  while (i < t.size()) {
    if (!t.usable[i] || !t.usable[i - kSpeedSpanMs] || speed(i) < kSaccadeDegPerS) {
      ++i;
      continue;
    }
    Saccade s;
    s.from = i - kSpeedSpanMs / 2;
    for (; i < t.size() && t.usable[i] && speed(i) >= kSaccadeDegPerS; ++i) {
      s.peak = std::max(s.peak, speed(i));
    }
    s.to = i - kSpeedSpanMs / 2;
    // The speed is told over a span: what moved before and after its middle belongs to it.
    const std::size_t first = s.from - kSpeedSpanMs / 2;
    const std::size_t last = std::min(s.to + kSpeedSpanMs / 2, t.size() - 1);
    s.change = t.place[last] - t.place[first];
    if (s.to - s.from >= kShortestSaccadeMs && size_of(s.change) >= kSmallestSaccadeDeg) {
      found.push_back(s);
    }
  }
  return found;
}

/// The saccades that answer the event: the first soon enough, and corrections that follow closely.
std::vector<Saccade> find_answer(const std::vector<Saccade>& all, std::size_t event) {
  std::vector<Saccade> answer;
  for (const Saccade& s : all) {
    const std::size_t latest =
        answer.empty() ? event + kLatestFirstMs : answer.back().to + kNextStepMs;
    if (s.from > latest) break;
    answer.push_back(s);
  }
  return answer;
}

/// What is common to slow and saccadic readings.
struct Reading {
  Place total;
  std::size_t start = 0;
  std::size_t end = 0;
  double peak = 0.0;
  bool saccadic = false;
  std::int32_t steps = 0;
};

double along(Place change, Place total) {
  const double size = size_of(total);
  return size > 0.0 ? (change.h * total.h + change.v * total.v) / size : 0.0;
}

/// From the first departure to 95 % of the way.
void time_slow(const Track& t, Place from, Reading& r) {
  const double size = size_of(r.total);
  bool started = false;
  r.end = t.size() - 1;
  for (std::size_t i = t.event; i < t.size(); ++i) {
    if (!t.usable[i]) continue;
    const double done = along(t.place[i] - from, r.total);
    if (!started && done >= std::max(kOnsetDeg, 0.05 * size)) {
      started = true;
      r.start = i;
    }
    if (done >= 0.95 * size) {
      r.end = i;
      break;
    }
  }
  if (!started) r.start = r.end;
  for (std::size_t i = std::max(r.start, kSpeedSpanMs); i <= r.end; ++i) {
    if (!t.usable[i] || !t.usable[i - kSpeedSpanMs]) continue;
    const double speed =
        size_of(t.place[i] - t.place[i - kSpeedSpanMs]) * 1000.0 / double{kSpeedSpanMs};
    r.peak = std::max(r.peak, speed);
  }
}

std::optional<Reading> read_track(const Track& t, Cause cause, bool under_cover,
                                  double smallest_deg) {
  const auto from = t.middle(t.event + kSoonestMs, kStartMs);
  if (!from || t.size() < t.event + 2 * kSoonestMs) return std::nullopt;
  const std::vector<Saccade> answer = find_answer(find_saccades(t), t.event);
  Reading r;

  // An eye that takes up fixation has done so when its saccades are over; what follows is drift.
  // An eye under cover, or one that comes back to its fellow, moves on as long as it is watched.
  const bool takes_up = !under_cover && cause != Cause::uncover;
  std::size_t last = t.size();
  if (takes_up && !answer.empty()) {
    last = std::min(last, answer.back().to + kSpeedSpanMs + kSettledMs);
  }
  const auto to = t.middle(last, kSettledMs);
  if (!to) return std::nullopt;
  r.total = *to - *from;
  if (size_of(r.total) < smallest_deg) return std::nullopt;

  double by_saccades = 0.0;
  for (const Saccade& s : answer) by_saccades += along(s.change, r.total);
  r.saccadic = by_saccades >= 0.5 * size_of(r.total);
  for (const Saccade& s : answer) r.peak = std::max(r.peak, s.peak);
  r.steps = static_cast<std::int32_t>(answer.size());
  if (r.saccadic) {
    r.start = answer.front().from;
    r.end = answer.back().to;
  } else {
    time_slow(t, *from, r);
  }
  return r;
}

double to_pd(double deg) { return to_prism_dioptres(Degrees{deg}).value; }

Cause cause_of(PerEye<bool> before, PerEye<bool> after) {
  const bool one_before = before.right != before.left;
  const bool one_after = after.right != after.left;
  if (!before.right && !before.left && one_after) return Cause::cover;
  if (one_before && !after.right && !after.left) return Cause::uncover;
  if (one_before && one_after && before.right != after.right) return Cause::transfer;
  return Cause::other;
}

}  // namespace

double LookedAt::smallest_movement_deg() const {
  const double in_proportion = kSmallestMovementDeg * across_mm / LookedAt{}.across_mm;
  return std::clamp(in_proportion, kSmallestCloseDeg, kSmallestMovementDeg);
}

void MovementFinder::push(const Observation& row) {
  last_ms_ = row.at_ms;
  Sample sample;
  sample.lids_open = true;
  for (const Eye eye : kBothEyes) {
    sample.horizontal_deg[eye] = row.eye[eye].horizontal_deg;
    sample.vertical_deg[eye] = row.eye[eye].vertical_deg;
    if (row.eye[eye].lid_open_fraction < kLidsOpenFraction) sample.lids_open = false;
  }
  const PerEye<bool> covers{row.eye.right.covered, row.eye.left.covered};
  if (rows_ == 0) now_ = before_ = covers;
  follow_covers(row);
  if (covers != now_ || rows_ == 0) {
    const bool same_event = watching_ && row.at_ms - event_ms_ < kSameEventMs;
    if (!same_event) {
      close_watch();
      open_watch(row.at_ms, now_);
    }
    now_ = covers;
  }
  if (watching_) {
    watch_.push_back(sample);
    if (row.at_ms - event_ms_ >= kLongestWatchMs) close_watch();
  }
  past_[rows_ % kBeforeMs] = sample;
  ++rows_;
}

void MovementFinder::finish() {
  close_watch();
  for (const Eye eye : kBothEyes) {
    if (open_interval_[eye]) covered_[*open_interval_[eye]].to_ms = last_ms_;
    open_interval_[eye].reset();
  }
}

void MovementFinder::follow_covers(const Observation& row) {
  for (const Eye eye : kBothEyes) {
    const bool covered = row.eye[eye].covered;
    if (covered && !open_interval_[eye]) {
      open_interval_[eye] = covered_.size();
      covered_.push_back({eye, row.at_ms, row.at_ms, false, std::nullopt});
    } else if (!covered && open_interval_[eye]) {
      CoveredInterval& interval = covered_[*open_interval_[eye]];
      interval.to_ms = row.at_ms;
      interval.ended = true;
      not_yet_single_ = open_interval_[eye];
      open_interval_[eye].reset();
    }
  }
  if (row.eye.right.covered || row.eye.left.covered) not_yet_single_.reset();
  if (not_yet_single_ && row.fused) {
    covered_[*not_yet_single_].regained_ms = row.at_ms - covered_[*not_yet_single_].to_ms;
    not_yet_single_.reset();
  }
}

void MovementFinder::open_watch(Tick now, PerEye<bool> before) {
  watching_ = true;
  event_ms_ = now;
  watched_at_ = looked_at_;
  before_ = before;
  watch_.clear();
  watch_past_ = std::min(rows_, kBeforeMs);
  for (std::size_t i = rows_ - watch_past_; i < rows_; ++i) watch_.push_back(past_[i % kBeforeMs]);
}

void MovementFinder::close_watch() {
  if (!watching_) return;
  watching_ = false;
  if (before_ == now_) return;  // a flicker, or the first rows of all
  const Cause cause = cause_of(before_, now_);
  for (const Eye eye : kBothEyes) read_eye(eye, cause, now_[eye]);
}

void MovementFinder::read_eye(Eye eye, Cause cause, bool under_cover) {
  Track track;
  track.place.reserve(watch_.size());
  track.usable.assign(watch_.size(), 1);
  track.event = watch_past_;
  bool blink = false;
  for (std::size_t i = 0; i < watch_.size(); ++i) {
    track.place.push_back({watch_[i].horizontal_deg[eye], watch_[i].vertical_deg[eye]});
    if (watch_[i].lids_open) continue;
    blink = true;
    const std::size_t from = i > kBlinkMarginMs ? i - kBlinkMarginMs : 0;
    const std::size_t to = std::min(i + kBlinkMarginMs, watch_.size() - 1);
    for (std::size_t k = from; k <= to; ++k) track.usable[k] = 0;
  }
  const auto reading = read_track(track, cause, under_cover, watched_at_.smallest_movement_deg());
  if (!reading) return;
  Movement m;
  m.eye = eye;
  m.cause = cause;
  m.under_cover = under_cover;
  m.out_of_view = !watched_at_.shows(eye);
  m.event_ms = event_ms_;
  const auto at = [&](std::size_t i) {
    return event_ms_ + static_cast<Tick>(i) - static_cast<Tick>(track.event);
  };
  m.start_ms = at(reading->start);
  m.end_ms = at(reading->end);
  m.outward_pd = to_pd(side_of(eye) * reading->total.h);
  m.upward_pd = to_pd(reading->total.v);
  m.peak_deg_per_s = reading->peak;
  m.saccadic = reading->saccadic;
  m.steps = reading->steps;
  m.with_blink = blink;
  movements_.push_back(m);
}

}  // namespace redress::findings
