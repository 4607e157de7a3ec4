// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/step_control.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"
#include "sim/patient/fusion.hpp"

namespace redress::patient {

namespace {

constexpr double kTickS = 0.001;
constexpr double kTiring = 0.1;
constexpr double kRestS = 300.0;
// Back soon after single vision is: half of a minute of it is enough to hide again what a patch has
// brought out (judgement).
constexpr double kTenaciousOnS = 10.0;
constexpr double kTenaciousOffS = 900.0;

double settled(double v) { return elementary::magnitude(v) < 1e-9 ? 0.0 : v; }

// Where the eyes do not come back by themselves nothing has been built up.
double tenacious_goal(const Parameters& p, const State& s) {
  const double own_deg = p.fusion.anomaly_deg - s.here.deviation_deg;
  if (!within_recovery(s.here, own_deg, -p.tonus.vertical_deg)) return 0.0;
  return p.control.tenacious * (kFusionGain * (p.fusion.anomaly_deg - s.here.deviation_deg));
}

}  // namespace

void step_control(const Parameters& p, const Retinas& retinas, const Chance& chance, State& s) {
  ControlState& c = s.control;
  const bool right = retinas.image.right.present;
  const bool left = retinas.image.left.present;
  if (right != left) {
    const std::int32_t only = right ? 1 : -1;
    if (only == -c.last_only) c.tired += kTiring * p.control.fatigue * (1.0 - c.tired);
    c.last_only = only;
  }
  const bool waits = right && left && !s.fusion.locked;
  c.waited_ms = waits ? (c.waited_ms < 1000000 ? c.waited_ms + 1 : c.waited_ms) : 0;
  if (right && left && s.fusion.locked) c.tired = settled(c.tired - c.tired * (kTickS / kRestS));

  if (!chance.slow_adaptation) return;
  if (s.fusion.locked) {
    c.tenacious_deg += (tenacious_goal(p, s) - c.tenacious_deg) * (kTickS / kTenaciousOnS);
  } else {
    c.tenacious_deg = settled(c.tenacious_deg - c.tenacious_deg * (kTickS / kTenaciousOffS));
  }
}

void begin_control(const Parameters& p, const Chance& chance, State& s) {
  ControlState& c = s.control;
  if (!c.in_force) return;
  c.tired = 0.0;
  c.last_only = 0;
  c.waited_ms = 0;
  if (chance.noise > 0.0 && p.control.session_sd_deg > 0.0) {
    c.session_deg =
        chance.noise * p.control.session_sd_deg * random_normal(chance.seed, Stream::session, 0);
  }
  FusionState& f = s.fusion;
  if (!f.locked) return;
  if (chance.slow_adaptation) c.tenacious_deg = tenacious_goal(p, s);
  // Fusion makes up for both, so that nothing moves at the first tick.
  f.fast_deg -= c.tenacious_deg + c.session_deg;
  f.demand_deg -= c.tenacious_deg + c.session_deg;
  f.total.fill(f.fast_deg + f.slow_deg + c.tenacious_deg);
}

}  // namespace redress::patient
