// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/evidence/saccades.hpp"

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"

namespace redress::evidence {

namespace {
constexpr int kTries = 12;
}

Trace jump_trace(double from_deg, double to_deg, double vertical_deg, int age_years) {
  return run_story(
      deviation_of(-1, -3) + fmt::format(R"(, "patient": {{"age_years": {}}})", age_years),
      {show(0, 6.0, from_deg), show(1000, 6.0, to_deg, vertical_deg)}, 2200);
}

SaccadeMade make_saccade(double size_deg, bool vertical) {
  double asked = size_deg;
  SaccadeMade made;
  for (int i = 0; i < kTries; ++i) {
    // Large ones cross the middle, so that no eye has to reach its limit.
    const Trace t =
        vertical ? jump_trace(0, 0, asked, 23) : jump_trace(-0.5 * asked, 0.5 * asked, 0, 23);
    made = find_saccade(t, 1001, Eye::right);
    asked += size_deg - made.size_deg;
  }
  return made;
}

std::vector<double> collect_latencies() {
  constexpr int kJumps = 160;
  constexpr Tick kEveryMs = 1600;
  std::vector<Act> acts{show(0, 6.0)};
  for (int i = 0; i < kJumps; ++i) {
    acts.push_back(show(1000 + kEveryMs * i, 6.0, i % 2 == 0 ? 8.0 : -8.0));
  }
  const Trace t = run_story(deviation_of(-1, -3), acts, 1000 + kEveryMs * kJumps, 1.0, 5);
  std::vector<double> found;
  for (int i = 0; i < kJumps; ++i) {
    const Tick at = 1000 + kEveryMs * i;
    bool blink = false;
    for (Tick k = at - 500; k < at + 700; ++k) {
      blink = blink || t.at(k).eye.right.lid_open_fraction < 0.95;
    }
    if (blink) continue;
    for (Tick k = at + 60; k < at + 900; ++k) {
      const double later = t.horizontal(k + 20, Eye::right) - t.horizontal(k, Eye::right);
      if (t.speed(k, Eye::right) > 60.0 && elementary::magnitude(later) > 2.0) {
        found.push_back(static_cast<double>(k - at));
        break;
      }
    }
  }
  return found;
}

}  // namespace redress::evidence
