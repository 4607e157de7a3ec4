// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/evidence.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/findings/checkpoints.hpp"
#include "sim/findings/gatherer.hpp"
#include "sim/record/act_json.hpp"
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
  void reply(const Reply& reply) { gatherer.reply(reply); }
};

// When the first act comes that is not the same; the latest tick if all are.
Tick find_first_change(std::span<const Act> a, std::span<const Act> b, Tick latest) {
  for (std::size_t i = 0; i < std::max(a.size(), b.size()); ++i) {
    if (i >= a.size()) return b[i].at_ms;
    if (i >= b.size()) return a[i].at_ms;
    if (a[i].at_ms != b[i].at_ms || record::to_json(a[i]) != record::to_json(b[i])) {
      return std::min(a[i].at_ms, b[i].at_ms);
    }
  }
  return latest;
}

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
  return gather_evidence_from(setup, acts, chance, until_ms, nullptr, nullptr);
}

const Checkpoint* find_common(const Checkpoints& from, std::span<const Act> acts, Tick latest) {
  const Tick change = std::min(find_first_change(from.acts, acts, latest), latest);
  const Checkpoint* last = nullptr;
  for (const Checkpoint& c : from.kept) {
    if (c.exam.now() > 0 && c.exam.now() <= change) last = &c;
  }
  return last;
}

Evidence gather_evidence_from(const ExaminationSetup& setup, std::span<const Act> acts,
                              Chance chance, Tick until_ms, const Checkpoints* from,
                              Checkpoints* keep) {
  const Checkpoint* begin = from != nullptr ? find_common(*from, acts, until_ms) : nullptr;
  Checkpoint now = begin != nullptr ? *begin
                                    : Checkpoint{Examination(setup, chance, first_target(acts)),
                                                 Gatherer(setup)};
  Examination& exam = now.exam;
  WithRoom sink{exam, now.gatherer};
  if (keep != nullptr) {
    keep->acts.assign(acts.begin(), acts.end());
    // Those from before the change are of this examination too.
    for (const Checkpoint* c = begin == nullptr ? nullptr : from->kept.data(); c != begin; ++c) {
      keep->kept.push_back(*c);
    }
  }
  std::size_t next = 0;
  while (next < acts.size() && acts[next].at_ms < exam.now()) ++next;
  for (;;) {
    if (keep != nullptr && exam.now() % kCheckpointMs == 0) keep->kept.push_back(now);
    record::observe_tick(exam, sink);
    for (; next < acts.size() && acts[next].at_ms <= exam.now(); ++next) {
      record::perform(exam, acts[next], sink);
    }
    if (exam.now() >= until_ms) break;
    record::finish_tick(exam, sink);
  }
  return now.gatherer.finish();
}

}  // namespace redress::findings
