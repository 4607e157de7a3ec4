// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/evidence.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/findings/gatherer.hpp"
#include "sim/record/run.hpp"

namespace redress::findings {

namespace {

constexpr double kSameDistanceShare = 0.10;

/// Lends the room to the gatherer at each row and act.
struct WithRoom {
  const Examination& exam;
  Gatherer& gatherer;

  void row(const Observation& observation) { gatherer.row(observation, exam.room()); }
  void act(const Act& act) { gatherer.act(act, exam.room()); }
};

}  // namespace

bool is_same_distance(double a_m, double b_m) {
  return elementary::magnitude(a_m - b_m) <= kSameDistanceShare * b_m + 1e-9;
}

bool is_at(const Setting& setting, double distance_m, bool spectacles) {
  return is_same_distance(setting.distance_m, distance_m) && setting.spectacles == spectacles &&
         !setting.lenses && setting.straight;
}

bool is_at_in_own_posture(const Setting& setting, double distance_m, bool spectacles) {
  return is_same_distance(setting.distance_m, distance_m) && setting.spectacles == spectacles &&
         !setting.lenses && setting.own_posture;
}

Evidence gather_evidence(const ExaminationSetup& setup, std::span<const Act> acts, Chance chance,
                         Tick until_ms) {
  Examination exam(setup, chance, first_target(acts));
  Gatherer gatherer(setup);
  WithRoom sink{exam, gatherer};
  std::size_t next = 0;
  for (;;) {
    record::observe_tick(exam, sink);
    for (; next < acts.size() && acts[next].at_ms <= exam.now(); ++next) {
      record::perform(exam, acts[next], sink);
    }
    if (exam.now() >= until_ms) break;
    record::finish_tick(exam, sink);
  }
  return gatherer.finish();
}

}  // namespace redress::findings
