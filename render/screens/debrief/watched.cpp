// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/watched.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/findings/gatherer.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/record/run.hpp"

namespace redress::screens::debrief {

namespace {

constexpr double kSecondPartPd = 1.0;  // of the smaller component, to be told as well
constexpr double kSecondShare = 0.4;

/// Watches for marking and for drawing at once.
struct Watcher {
  const Examination& exam;
  findings::Gatherer& gatherer;
  Playback playback{};

  void row(const Observation& seen) {
    gatherer.row(seen, exam.room());
    playback.row(seen, exam.room());
  }
  void act(const Act& act) {
    gatherer.act(act, exam.room());
    const ActContent& a = act.content;
    const bool elsewhere =
        std::holds_alternative<act::Cover>(a) || std::holds_alternative<act::Uncover>(a) ||
        std::holds_alternative<act::MoveOccluder>(a) || std::holds_alternative<act::Note>(a) ||
        std::holds_alternative<act::Ask>(a) || std::holds_alternative<act::Request>(a);
    if (!elsewhere) playback.keep_room(act.at_ms, exam.room());
  }
};

// Before the row of its tick, as findings::gather_evidence_from keeps them.
Watched go_on(findings::Checkpoint now, std::span<const Act> acts, Tick last,
              findings::Checkpoints* keep) {
  Examination& exam = now.exam;
  Watcher watcher{exam, now.gatherer};
  if (keep != nullptr) keep->acts.assign(acts.begin(), acts.end());
  std::size_t next = 0;
  while (next < acts.size() && acts[next].at_ms < exam.now()) ++next;
  for (;;) {
    if (keep != nullptr && exam.now() % findings::kCheckpointMs == 0) keep->kept.push_back(now);
    record::observe_tick(exam, watcher);
    for (; next < acts.size() && acts[next].at_ms <= exam.now(); ++next) {
      record::perform(exam, acts[next], watcher);
    }
    if (exam.now() >= last) break;
    record::finish_tick(exam, watcher);
  }
  return {now.gatherer.finish(), std::move(watcher.playback)};
}

}  // namespace

Watched watch(const ExaminationSetup& setup, std::span<const Act> acts, Chance chance, Tick last,
              findings::Checkpoints* keep) {
  return go_on({Examination(setup, chance, first_target(acts)), findings::Gatherer(setup)}, acts,
               last, keep);
}

Watched watch_from(const findings::Checkpoints& states, const ExaminationSetup& setup,
                   std::span<const Act> acts, Chance chance, Tick from, Tick last) {
  const findings::Checkpoint* state = findings::find_common(states, acts, from);
  return state != nullptr ? go_on(*state, acts, last, nullptr) : watch(setup, acts, chance, last);
}

std::string say_size(double pd) {
  const double rounded = pd < 5.0 ? std::round(2.0 * pd) / 2.0 : std::round(pd);
  return findings::write_number(rounded) + "Δ";
}

MovementTag make_tag(const findings::Movement& m) {
  const double across = std::abs(m.outward_pd);
  const double up = std::abs(m.upward_pd);
  const std::string h = say_size(across) + (m.outward_pd > 0.0 ? " out" : " in");
  const std::string v = say_size(up) + (m.upward_pd > 0.0 ? " up" : " down");
  const bool both = std::min(across, up) >= kSecondPartPd &&
                    std::min(across, up) >= kSecondShare * std::max(across, up);
  MovementTag tag;
  tag.movement = m;
  tag.words = both ? h + ", " + v : across >= up ? h : v;
  tag.unseen = m.out_of_view;
  return tag;
}

}  // namespace redress::screens::debrief
