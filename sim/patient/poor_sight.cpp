// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/poor_sight.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::square_root;

namespace {

constexpr double kTickS = 0.001;
constexpr double kWanderS = 0.25;
constexpr double kBlindS = 2.0;
constexpr double kBlindSdDeg = 2.0;
constexpr double kBlindReachDeg = 5.0;

double step_process(double value, double sd, double tau_s, double draw) {
  const double f = kTickS / tau_s;
  return value - f * value + sd * square_root(2.0 * f) * draw;
}

}  // namespace

void step_poor_sight(const Parameters& p, const Sight& sight, const Chance& chance, State& s) {
  if (chance.noise <= 0.0) return;
  UnsteadyState& u = s.unsteady;
  const Unsteadiness& k = p.unsteadiness;
  const auto tick = static_cast<std::uint64_t>(s.tick);
  const auto draw = [&](std::uint32_t part) {
    return random_bounded(chance.seed, Stream::poor_sight, tick, part);
  };
  // Two eyes in use are as steady as the better of them.
  const bool alone = !sight.both_seen || !s.fusion.locked;
  const double sd = alone ? chance.noise * k.fixation_sd_deg[s.fixation.eye] : 0.0;
  u.wander.horizontal = step_process(u.wander.horizontal, sd, kWanderS, draw(0));
  u.wander.vertical = step_process(u.wander.vertical, sd, kWanderS, draw(1));
  for (const Eye eye : kBothEyes) {
    if (!k.blind[eye]) continue;
    Angles& d = u.blind_drift[eye];
    const std::uint32_t part = eye == Eye::right ? 2 : 4;
    const double blind_sd = chance.noise * kBlindSdDeg;
    d.horizontal = clamp(step_process(d.horizontal, blind_sd, kBlindS, draw(part)), -kBlindReachDeg,
                         kBlindReachDeg);
    d.vertical = clamp(step_process(d.vertical, blind_sd, kBlindS, draw(part + 1)), -kBlindReachDeg,
                       kBlindReachDeg);
  }
}

}  // namespace redress::patient
