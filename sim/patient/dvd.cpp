// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/dvd.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::patient {

namespace {
constexpr double kTickS = 0.001;
constexpr double kDriftS = 0.67;

double goal_of(const Unsteadiness& p, const Retinas& retinas, Eye eye) {
  return retinas.image[eye].present ? 0.0 : p.dvd_deg[eye];
}
}  // namespace

void step_dvd(const Unsteadiness& p, const Retinas& retinas, UnsteadyState& s) {
  for (const Eye eye : kBothEyes) {
    double& risen = s.risen_deg[eye];
    const double left = goal_of(p, retinas, eye) - risen;
    risen += left * (kTickS / kDriftS);
    if (elementary::magnitude(left) < 1e-9) risen = goal_of(p, retinas, eye);
  }
}

void settle_dvd(const Unsteadiness& p, const Retinas& retinas, UnsteadyState& s) {
  for (const Eye eye : kBothEyes) s.risen_deg[eye] = goal_of(p, retinas, eye);
}

}  // namespace redress::patient
