// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/poor_sight.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::magnitude;

namespace {

constexpr std::uint64_t kWanderMs = 200;
constexpr std::uint64_t kBlindMs = 2000;
constexpr double kBlindSdDeg = 2.0;
constexpr double kBlindReachDeg = 5.0;

// A place is drawn once in so long, and the eye is on its way to it for as long: it drifts, and
// never trembles. With as much time to get there as a place lasts, its variance over time is
// 1 / e of that of the places.
constexpr double kRootE = 1.6487212707001282;

double step_towards(double value, double place, std::uint64_t hold_ms) {
  constexpr double kThereDeg = 1e-9;  // no denormal numbers when both eyes are in use again
  const double way = place - value;
  if (magnitude(way) < kThereDeg) return place;
  return value + way * (1.0 / static_cast<double>(hold_ms));
}

}  // namespace

void step_poor_sight(const Parameters& p, const Sight& sight, const Chance& chance, State& s) {
  if (chance.noise <= 0.0) return;
  UnsteadyState& u = s.unsteady;
  const Unsteadiness& k = p.unsteadiness;
  const auto tick = static_cast<std::uint64_t>(s.tick);
  const auto draw = [&](std::uint64_t hold_ms, std::uint32_t part) {
    return kRootE * random_bounded(chance.seed, Stream::poor_sight, tick / hold_ms, part);
  };
  // Two eyes in use are as steady as the better of them.
  const bool alone = !sight.both_seen || !s.fusion.locked;
  const double sd = alone ? chance.noise * k.fixation_sd_deg[s.fixation.eye] : 0.0;
  u.wander.horizontal = step_towards(u.wander.horizontal, sd * draw(kWanderMs, 0), kWanderMs);
  u.wander.vertical = step_towards(u.wander.vertical, sd * draw(kWanderMs, 1), kWanderMs);
  for (const Eye eye : kBothEyes) {
    if (!k.blind[eye]) continue;
    Angles& d = u.blind_drift[eye];
    const std::uint32_t part = eye == Eye::right ? 2 : 4;
    const auto place = [&](std::uint32_t meridian) {
      return clamp(chance.noise * kBlindSdDeg * draw(kBlindMs, part + meridian), -kBlindReachDeg,
                   kBlindReachDeg);
    };
    d.horizontal = step_towards(d.horizontal, place(0), kBlindMs);
    d.vertical = step_towards(d.vertical, place(1), kBlindMs);
  }
}

}  // namespace redress::patient
