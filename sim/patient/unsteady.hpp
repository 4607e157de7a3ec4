// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What turns an eye without the patient's taking it for an error of fixation: dissociated vertical
// deviation, infantile nystagmus, square-wave jerks, the unsteadiness of an eye that sees poorly,
// the drift of one that sees nothing. Data only; the steps are in dvd.hpp, nystagmus.hpp,
// square_waves.hpp and poor_sight.hpp. Degrees.
//
// A turn is added to the line of sight and left out of the error that saccades and vergence work
// on, as the dip of a blink is. Latent nystagmus is the exception: it moves the version itself, and
// ordinary saccades take it back.
//
// In force only in a patient whose parameters say so: others have none of this state.
#pragma once

#include <cstdint>

#include "sim/basics/eye.hpp"
#include "sim/patient/angles.hpp"

namespace redress::patient {

struct Unsteadiness {
  PerEye<double> dvd_deg{};           ///< how far each eye rises when it does not see
  double latent_nystagmus_deg = 0.0;  ///< L: pull towards the nose of the viewing eye
  double infantile_deg = 0.0;         ///< amplitude of a beat far from the null
  double infantile_hz = 3.5;
  double infantile_null_deg = 0.0;
  double infantile_torsional_share = 0.33;  ///< of the horizontal turn
  double square_waves_per_minute = 0.0;
  double square_wave_deg = 0.5;
  PerEye<double> fixation_sd_deg{};  ///< beyond the healthy, while this eye fixes
  PerEye<bool> blind{};              ///< sees no form: drifts about

  [[nodiscard]] bool has_dvd() const { return dvd_deg.right > 0.0 || dvd_deg.left > 0.0; }
  [[nodiscard]] bool sees_poorly() const {
    return fixation_sd_deg.right > 0.0 || fixation_sd_deg.left > 0.0 || blind.right || blind.left;
  }
  [[nodiscard]] bool in_force() const {
    return has_dvd() || latent_nystagmus_deg > 0.0 || infantile_deg > 0.0 ||
           square_waves_per_minute > 0.0 || sees_poorly();
  }
};

struct UnsteadyState {
  bool in_force = false;
  PerEye<Angles> turn;               ///< of each eye, all together
  PerEye<double> risen_deg{};        ///< dissociated vertical deviation
  double latent_pull_deg = 0.0;      ///< + to the right
  bool beats = false;                ///< latent nystagmus: saccades that only take a drift back
  double infantile_deg = 0.0;        ///< turn of both eyes
  double infantile_start_deg = 0.0;  ///< of the slow phase under way
  double infantile_goal_deg = 0.0;   ///< where that phase ends
  std::int32_t infantile_ms = 0;     ///< since it began; below 0: the quick phase, until its end
  double jerk_deg = 0.0;
  double jerk_goal_deg = 0.0;
  std::int32_t jerk_ms = -1;     ///< since it began; -1 none
  std::int32_t jerk_in_ms = -1;  ///< until the next; -1 never
  std::uint32_t jerks = 0;
  Angles wander;  ///< of the fixing eye that sees poorly
  PerEye<Angles> blind_drift;
};

template <class Visitor>
void visit_fields(const UnsteadyState& s, Visitor& visit) {
  if (!s.in_force) return;
  for (const Eye eye : kBothEyes) {
    visit("unsteady.turn.horizontal", s.turn[eye].horizontal);
    visit("unsteady.turn.vertical", s.turn[eye].vertical);
    visit("unsteady.risen_deg", s.risen_deg[eye]);
    visit("unsteady.blind_drift.horizontal", s.blind_drift[eye].horizontal);
    visit("unsteady.blind_drift.vertical", s.blind_drift[eye].vertical);
  }
  visit("unsteady.latent_pull_deg", s.latent_pull_deg);
  visit("unsteady.beats", s.beats);
  visit("unsteady.infantile_deg", s.infantile_deg);
  visit("unsteady.infantile_start_deg", s.infantile_start_deg);
  visit("unsteady.infantile_goal_deg", s.infantile_goal_deg);
  visit("unsteady.infantile_ms", s.infantile_ms);
  visit("unsteady.jerk_deg", s.jerk_deg);
  visit("unsteady.jerk_goal_deg", s.jerk_goal_deg);
  visit("unsteady.jerk_ms", s.jerk_ms);
  visit("unsteady.jerk_in_ms", s.jerk_in_ms);
  visit("unsteady.jerks", s.jerks);
  visit("unsteady.wander.horizontal", s.wander.horizontal);
  visit("unsteady.wander.vertical", s.wander.vertical);
}

}  // namespace redress::patient
