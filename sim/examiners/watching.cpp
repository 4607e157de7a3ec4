// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/watching.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"

namespace redress::examiners {

namespace {

// Below this share of how far the lids stand open before and after: a blink, with which the gaze
// dips.
constexpr double kLidsOpenShare = 0.85;
constexpr Tick kBlinkMs = 400;       // the longest (Evinger 1991: 100 to 400 ms)
constexpr Tick kBlinkMarginMs = 60;  // lids still on the move
constexpr Tick kUnansweredMs = 80;   // nothing answers to a sight sooner
constexpr Tick kLateLookMs = 160;    // if a blink hid the first moment
constexpr Tick kSettledMs = 400;     // over which a place at rest is told

std::size_t index_at(std::span<const Glance> glances, Tick at_ms) {
  const auto it = std::lower_bound(glances.begin(), glances.end(), at_ms,
                                   [](const Glance& g, Tick t) { return g.at_ms < t; });
  return static_cast<std::size_t>(it - glances.begin());
}

double find_widest(std::span<const Glance> glances, Eye eye, std::size_t from, std::size_t to) {
  double widest = 0.0;
  for (std::size_t i = from; i < to; ++i) {
    if (glances[i].eye[eye].visible) {
      widest = std::max(widest, glances[i].eye[eye].lid_open_fraction);
    }
  }
  return widest;
}

// Lids that come down and open again. A drooping lid is no blink, nor is one that has followed the
// eye up or down. Where one of the two has not been watched, the other has to do.
bool is_down(std::span<const Glance> glances, std::size_t i, Eye eye) {
  constexpr auto kReach = static_cast<std::size_t>(kBlinkMs / kGlanceEveryMs);
  constexpr auto kBriefly =
      static_cast<std::size_t>((kUnansweredMs + kBlinkMarginMs) / kGlanceEveryMs);
  if (!glances[i].eye[eye].visible) return false;
  const auto widest_after = [&](std::size_t reach) {
    return find_widest(glances, eye, i + 1, std::min(i + 1 + reach, glances.size()));
  };
  const double before = find_widest(glances, eye, i > kReach ? i - kReach : 0, i);
  double usual = before;
  if (i < kReach || !glances[i - kReach].eye[eye].visible) {
    usual = std::max(before, widest_after(kBriefly));
  } else if (i + kReach < glances.size() && glances[i + kReach].eye[eye].visible) {
    usual = std::min(before, widest_after(kReach));
  }
  return glances[i].eye[eye].lid_open_fraction < kLidsOpenShare * usual;
}

/// Which glances are no blink, nor beside one; for those from `first` up to, not with, `last`.
class Unblinking {
 public:
  Unblinking(std::span<const Glance> glances, std::size_t first, std::size_t last)
      : first_(first), open_(last > first ? last - first : 0, true) {
    constexpr auto kMargin = static_cast<std::size_t>(kBlinkMarginMs / kGlanceEveryMs);
    const std::size_t end = std::min(last + kMargin, glances.size());
    for (std::size_t i = first > kMargin ? first - kMargin : 0; i < end; ++i) {
      if (!is_down(glances, i, Eye::right) && !is_down(glances, i, Eye::left)) continue;
      const std::size_t from = std::max(i > kMargin ? i - kMargin : 0, first);
      for (std::size_t k = from; k < std::min(i + kMargin + 1, last); ++k) open_[k - first] = false;
    }
  }
  [[nodiscard]] bool at(std::size_t i) const { return open_[i - first_]; }

 private:
  std::size_t first_;
  std::vector<bool> open_;
};

double to_pd(double degrees) { return to_prism_dioptres(Degrees{degrees}).value; }

}  // namespace

double size_of(Shown shown) {
  return elementary::hypotenuse(shown.horizontal_pd, shown.vertical_pd);
}

double find_middle(std::vector<double> values) {
  if (values.empty()) return 0.0;
  std::stable_sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

Shown find_middle(const std::vector<Shown>& readings) {
  std::vector<double> h;
  std::vector<double> v;
  for (const Shown& r : readings) {
    h.push_back(r.horizontal_pd);
    v.push_back(r.vertical_pd);
  }
  return {find_middle(std::move(h)), find_middle(std::move(v))};
}

std::optional<Place> find_place(std::span<const Glance> glances, Eye eye, Tick from_ms,
                                Tick to_ms) {
  std::vector<double> h;
  std::vector<double> v;
  const std::size_t first = index_at(glances, from_ms);
  const std::size_t last = index_at(glances, to_ms);
  const Unblinking lids_open(glances, first, last);
  for (std::size_t i = first; i < last; ++i) {
    const SeenEye& seen = glances[i].eye[eye];
    if (!seen.visible || !lids_open.at(i)) continue;
    h.push_back(seen.horizontal_deg);
    v.push_back(seen.vertical_deg);
  }
  if (h.empty()) return std::nullopt;
  return Place{find_middle(std::move(h)), find_middle(std::move(v))};
}

std::optional<Tick> find_appearing(std::span<const Glance> glances, Eye eye, Tick since_ms) {
  for (std::size_t i = index_at(glances, since_ms); i < glances.size(); ++i) {
    if (glances[i].eye[eye].visible) return glances[i].at_ms;
  }
  return std::nullopt;
}

std::optional<Place> find_place_on_appearing(std::span<const Glance> glances, Eye eye,
                                             Tick since_ms) {
  const std::optional<Tick> seen = find_appearing(glances, eye, since_ms);
  if (!seen) return std::nullopt;
  if (const auto place = find_place(glances, eye, *seen, *seen + kUnansweredMs)) return place;
  return find_place(glances, eye, *seen, *seen + kLateLookMs);
}

Shown calc_shown(Eye eye, Place from, Place to) {
  return {side_of(eye) * to_pd(to.horizontal_deg - from.horizontal_deg),
          -side_of(eye) * to_pd(to.vertical_deg - from.vertical_deg)};
}

Shown calc_change(const Alignment& from, const Alignment& to) {
  const auto turned = [](const Alignment& a) {
    return a.eye.left.horizontal_deg - a.eye.right.horizontal_deg;
  };
  const auto raised = [](const Alignment& a) {
    return a.eye.right.vertical_deg - a.eye.left.vertical_deg;
  };
  return {to_pd(turned(to) - turned(from)), to_pd(raised(to) - raised(from))};
}

std::optional<Alignment> find_alignment(std::span<const Glance> glances, Tick from_ms, Tick to_ms) {
  const auto right = find_place(glances, Eye::right, from_ms, to_ms);
  const auto left = find_place(glances, Eye::left, from_ms, to_ms);
  if (!right || !left) return std::nullopt;
  return Alignment{{*right, *left}};
}

std::optional<Tick> find_settling(std::span<const Glance> glances, Tick from_ms, Tick to_ms,
                                  double tolerance_pd) {
  const auto last = find_alignment(glances, to_ms - kSettledMs, to_ms);
  if (!last) return std::nullopt;
  std::optional<Tick> settled;
  const std::size_t first = index_at(glances, from_ms);
  const std::size_t end = index_at(glances, to_ms);
  const Unblinking lids_open(glances, first, end);
  for (std::size_t i = first; i < end; ++i) {
    const Glance& g = glances[i];
    if (!g.eye.right.visible || !g.eye.left.visible || !lids_open.at(i)) continue;
    const Alignment here{{Place{g.eye.right.horizontal_deg, g.eye.right.vertical_deg},
                          Place{g.eye.left.horizontal_deg, g.eye.left.vertical_deg}}};
    if (size_of(calc_change(here, *last)) > tolerance_pd) {
      settled.reset();
    } else if (!settled) {
      settled = g.at_ms;
    }
  }
  return settled;
}

}  // namespace redress::examiners
