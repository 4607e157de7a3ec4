// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/watching.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"

namespace redress::examiners {

namespace {

// Below this share of how far the lids stood open: a blink, with which the gaze dips.
constexpr double kLidsOpenShare = 0.85;
// Lids follow the eye, about a hundredth of their opening a degree (Read et al. 2006, down;
// Mastropietro 2009, up): an eye that comes down from high up, or sinks again behind a lid that
// hangs, has not blinked.
constexpr double kFollowPerDegree = 0.01;
constexpr Tick kLidsBeforeMs = 1000;  // over which it is told how far they stand open
constexpr Tick kBlinkMarginMs = 60;   // lids still on the move
constexpr Tick kUnansweredMs = 80;    // nothing answers to a sight sooner
constexpr Tick kLateLookMs = 160;     // if a blink hid the first moment
constexpr Tick kSettledMs = 400;      // over which a place at rest is told

std::size_t index_at(std::span<const Glance> glances, Tick at_ms) {
  const auto it = std::lower_bound(glances.begin(), glances.end(), at_ms,
                                   [](const Glance& g, Tick t) { return g.at_ms < t; });
  return static_cast<std::size_t>(it - glances.begin());
}

// How far the lids stand open but for their following the eye; a drooping lid is no blink.
double calc_level_opening(const SeenEye& seen) {
  return seen.lid_open_fraction - kFollowPerDegree * seen.vertical_deg;
}

PerEye<double> find_usual_opening(std::span<const Glance> glances, Tick from_ms, Tick to_ms) {
  PerEye<double> usual{};
  for (std::size_t i = index_at(glances, from_ms - kLidsBeforeMs); i < glances.size(); ++i) {
    if (glances[i].at_ms >= to_ms + kBlinkMarginMs) break;
    for (const Eye eye : kBothEyes) {
      const SeenEye& seen = glances[i].eye[eye];
      if (seen.visible) usual[eye] = std::max(usual[eye], calc_level_opening(seen));
    }
  }
  return usual;
}

bool lids_open(std::span<const Glance> glances, std::size_t i, const PerEye<double>& usual) {
  constexpr auto kMargin = static_cast<std::size_t>(kBlinkMarginMs / kGlanceEveryMs);
  const std::size_t from = i > kMargin ? i - kMargin : 0;
  const std::size_t to = std::min(i + kMargin + 1, glances.size());
  for (std::size_t k = from; k < to; ++k) {
    for (const Eye eye : kBothEyes) {
      const SeenEye& seen = glances[k].eye[eye];
      if (seen.visible && calc_level_opening(seen) < kLidsOpenShare * usual[eye]) return false;
    }
  }
  return true;
}

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
  const PerEye<double> usual = find_usual_opening(glances, from_ms, to_ms);
  for (std::size_t i = index_at(glances, from_ms); i < glances.size(); ++i) {
    if (glances[i].at_ms >= to_ms) break;
    const SeenEye& seen = glances[i].eye[eye];
    if (!seen.visible || !lids_open(glances, i, usual)) continue;
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
  const PerEye<double> usual = find_usual_opening(glances, from_ms, to_ms);
  for (std::size_t i = index_at(glances, from_ms); i < glances.size(); ++i) {
    const Glance& g = glances[i];
    if (g.at_ms >= to_ms) break;
    if (!g.eye.right.visible || !g.eye.left.visible || !lids_open(glances, i, usual)) continue;
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
