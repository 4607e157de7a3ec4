// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/step_unsteady.hpp"

#include "sim/patient/dvd.hpp"
#include "sim/patient/nystagmus.hpp"
#include "sim/patient/poor_sight.hpp"
#include "sim/patient/square_waves.hpp"

namespace redress::patient {

namespace {

void add_up(UnsteadyState& u) {
  for (const Eye eye : kBothEyes) {
    u.turn[eye].horizontal =
        (u.infantile_deg + u.jerk_deg) + (u.wander.horizontal + u.blind_drift[eye].horizontal);
    u.turn[eye].vertical = u.risen_deg[eye] + (u.wander.vertical + u.blind_drift[eye].vertical);
  }
}

}  // namespace

void step_unsteady(const Parameters& p, const Retinas& retinas, const Sight& sight,
                   const Chance& chance, State& s) {
  const Unsteadiness& k = p.unsteadiness;
  UnsteadyState& u = s.unsteady;
  if (k.has_dvd()) step_dvd(k, retinas, u);
  if (k.latent_nystagmus_deg > 0.0) {
    s.version.horizontal += step_latent_nystagmus(k, retinas, sight, s.fixation, u);
  }
  if (k.infantile_deg > 0.0) step_infantile_nystagmus(k, s.version.horizontal, s.vergence_deg, u);
  if (u.jerk_in_ms >= 0 || u.jerk_ms >= 0) step_square_waves(k, chance, u);
  if (k.sees_poorly()) step_poor_sight(p, sight, chance, s);
  add_up(u);
}

void open_unsteady(const Parameters& p, const Retinas& retinas, State& s) {
  s.unsteady.in_force = p.unsteadiness.in_force();
  if (!s.unsteady.in_force) return;
  settle_dvd(p.unsteadiness, retinas, s.unsteady);
  add_up(s.unsteady);
}

void begin_unsteady(const Parameters& p, const Chance& chance, State& s) {
  if (!s.unsteady.in_force) return;
  begin_square_waves(p.unsteadiness, chance, s.unsteady);
}

}  // namespace redress::patient
