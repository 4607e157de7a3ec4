// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/prism_bar.hpp"

#include <span>

#include "sim/basics/elementary.hpp"
#include "sim/basics/units.hpp"

namespace redress::examiners {

namespace {

using elementary::magnitude;

constexpr Tick kReachForPrismMs = 500;
constexpr Tick kRegainMs = 3000;
constexpr double kLeastHorizontalPd = 0.75;
constexpr double kLeastVerticalPd = 0.75;
constexpr double kStillPd = 0.6;  // of this the examiner says: neutral
constexpr double kClearPd = 1.0;  // a reversal that nobody doubts: the bar goes on to one
constexpr double kDoubtFromPd = 0.3;
constexpr double kDoubtToPd = 1.2;
constexpr int kMostRounds = 3;
constexpr double kStartBelowPd = 2.5;  // begin below what the eye estimates

/// One step: a label before the eye, for the largest deviations with one before the other as well.
struct Step {
  double first = 0.0;
  double second = 0.0;
  double together = 0.0;
};

enum class Axis : std::uint8_t { horizontal, vertical };

// Two prisms, one before each eye, add as angles: 100 tan(atan a + atan b).
double add_labels(double a, double b) {
  return to_prism_dioptres(to_degrees(PrismDioptres{a}) + to_degrees(PrismDioptres{b})).value;
}

std::vector<Step> steps_of(Axis axis) {
  std::vector<Step> steps;
  const std::span<const double> bar = axis == Axis::horizontal
                                          ? std::span<const double>{kHorizontalBar}
                                          : std::span<const double>{kVerticalBar};
  for (const double label : bar) steps.push_back({label, 0.0, label});
  const double last = bar.back();
  for (const double label : bar) {
    if (2.0 * label > last) steps.push_back({label, label, add_labels(label, label)});
  }
  return steps;
}

// ISO 8429: the right eye's base is in at 0 and up at 90; the left eye's out at 0. Base out
// neutralises eso; base down before the right eye or up before the left, a higher right eye.
Degrees base_for(Axis axis, bool positive, Eye eye) {
  if (axis == Axis::horizontal) {
    const bool out = positive;
    return Degrees{out == (eye == Eye::left) ? 0.0 : 180.0};
  }
  const bool up = positive == (eye == Eye::left);
  return Degrees{up ? 90.0 : 270.0};
}

class Bar {
 public:
  Bar(Consulting& room, const Manner& manner, Eye eye, Axis axis, bool positive)
      : room_(room),
        manner_(manner),
        eye_(eye),
        axis_(axis),
        positive_(positive),
        steps_(steps_of(axis)) {}

  /// The movement left behind this step, in the direction of the deviation: below 0 is reversed.
  double try_step(std::size_t i) { return try_step(i, positive_); }

  double try_wrong_way(std::size_t i) { return try_step(i, !positive_); }

  /// To reversal and the mid-point; nothing if the bar ends first.
  std::optional<double> measure(double estimate) {
    std::size_t i = 0;
    while (i + 1 < steps_.size() && steps_[i + 1].together <= estimate - kStartBelowPd) ++i;
    double under = 0.0;
    std::vector<double> neutral;
    std::optional<double> reversed;
    // The first prism may turn out to be too strong.
    double left = try_step(i);
    bool clear = false;
    while (left <= kStillPd && i > 0) {
      note(left, i, neutral, reversed);
      clear = clear || left <= -kClearPd;
      left = try_step(--i);
    }
    for (;;) {
      if (left > kStillPd) under = steps_[i].together;
      note(left, i, neutral, reversed);
      clear = clear || left <= -kClearPd;
      if (clear && reversed && *reversed > under) break;
      if (++i >= steps_.size()) return std::nullopt;
      left = try_step(i);
    }
    if (!neutral.empty()) return 0.5 * (neutral.front() + neutral.back());
    return 0.5 * (under + *reversed);
  }

 private:
  void note(double left, std::size_t i, std::vector<double>& neutral,
            std::optional<double>& reversed) const {
    const double label = steps_[i].together;
    if (magnitude(left) <= kStillPd) {
      if (neutral.empty() || label > neutral.back()) {
        neutral.push_back(label);
      } else if (label < neutral.front()) {
        neutral.insert(neutral.begin(), label);
      }
    } else if (left < 0.0 && (!reversed || label < *reversed)) {
      reversed = label;
    }
  }

  double try_step(std::size_t i, bool positive) {
    hold(eye_, steps_[i].first, positive);
    if (steps_[i].second > 0.0) {
      hold(fellow(eye_), steps_[i].second, positive);
      second_held_ = true;
    } else if (second_held_) {
      room_.act(act::RemovePrism{fellow(eye_), slot()});
      second_held_ = false;
    }
    room_.wait(kReachForPrismMs);
    std::vector<Shown> readings;
    double left = 0.0;
    for (int round = 0; round < kMostRounds; ++round) {
      alternate(room_, manner_, manner_.transfers_behind_prism, readings);
      left = along_deviation(find_middle(readings));
      if (!is_doubtful(left)) break;
    }
    return left;
  }

  [[nodiscard]] double along_deviation(Shown s) const {
    const double along = axis_ == Axis::horizontal ? s.horizontal_pd : s.vertical_pd;
    return positive_ ? along : -along;
  }

  // Between still and moving: watched for longer.
  static bool is_doubtful(double left) {
    return magnitude(left) > kDoubtFromPd && magnitude(left) < kDoubtToPd;
  }

  // A horizontal prism next to the eye, a vertical one before it: not of the same sense.
  [[nodiscard]] std::int32_t slot() const { return axis_ == Axis::horizontal ? 1 : 2; }

  void hold(Eye eye, double label, bool positive) {
    act::HoldPrism a;
    a.eye = eye;
    a.power = PrismDioptres{label};
    a.base = base_for(axis_, positive, eye);
    a.slot = slot();
    room_.act(a);
  }

  Consulting& room_;
  const Manner& manner_;
  Eye eye_;
  Axis axis_;
  bool positive_;
  std::vector<Step> steps_;
  bool second_held_ = false;
};

std::optional<double> measure_along(Consulting& room, const Manner& manner, Eye eye, Axis axis,
                                    double showed, bool wrong_base_first) {
  const bool positive = showed > 0.0;
  Bar bar(room, manner, eye, axis, positive);
  if (wrong_base_first) (void)bar.try_wrong_way(1);
  const std::optional<double> label = bar.measure(magnitude(showed));
  if (!label) return std::nullopt;
  return positive ? *label : -*label;
}

}  // namespace

PrismReading measure_with_prisms(Consulting& room, const Manner& manner, Shown showed, Eye eye,
                                 bool wrong_base_first) {
  PrismReading reading;
  const bool horizontal = magnitude(showed.horizontal_pd) >= kLeastHorizontalPd;
  const bool vertical = magnitude(showed.vertical_pd) >= kLeastVerticalPd;
  if (!horizontal && !vertical) return reading;
  begin_alternating(room);
  const auto measure_horizontal = [&] {
    reading.horizontal_pd =
        measure_along(room, manner, eye, Axis::horizontal, showed.horizontal_pd, wrong_base_first);
  };
  // The larger part first: the smaller is hard to see beside it.
  const bool vertical_first =
      vertical && magnitude(showed.vertical_pd) >= magnitude(showed.horizontal_pd);
  if (horizontal && !vertical_first) measure_horizontal();
  if (vertical) {
    reading.vertical_pd =
        measure_along(room, manner, eye, Axis::vertical, showed.vertical_pd, false);
  }
  if (horizontal && vertical_first) measure_horizontal();
  for (const Eye e : kBothEyes) room.act(act::RemovePrism{e, std::nullopt});
  open_both(room, kRegainMs);
  return reading;
}

}  // namespace redress::examiners
