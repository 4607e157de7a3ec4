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

constexpr double kSeenPd = 1.0;        // a pixel of the wider view
constexpr double kSecondPartPd = 1.0;  // of the smaller component, to be told as well
constexpr double kSecondShare = 0.4;

/// Watches for marking and for drawing at once.
struct Watcher {
  const Examination& exam;
  findings::Gatherer gatherer;
  Playback playback;

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

}  // namespace

Watched watch(const ExaminationSetup& setup, std::span<const Act> acts, Chance chance, Tick last) {
  Examination exam(setup, chance, first_target(acts));
  Watcher watcher{exam, findings::Gatherer(setup), {}};
  std::size_t next = 0;
  for (;;) {
    record::observe_tick(exam, watcher);
    for (; next < acts.size() && acts[next].at_ms <= exam.now(); ++next) {
      record::perform(exam, acts[next], watcher);
    }
    if (exam.now() >= last) break;
    record::finish_tick(exam, watcher);
  }
  return {watcher.gatherer.finish(), std::move(watcher.playback)};
}

truth::Truth find_truth(const Case& the_case, const ExaminationSetup& setup,
                        const findings::RecordCard& card) {
  truth::Distances distances;
  distances.screen_m = the_case.patient.screen_distance.value;
  distances.near_working_m = the_case.patient.near_working_distance.value;
  truth::Extent extent;
  extent.reserves = extent.near_point = false;
  for (const findings::WrittenFinding& entry : card.entries) {
    if (entry.finding.test == FindingTest::reserves) extent.reserves = true;
    if (entry.finding.test == FindingTest::near_point) extent.near_point = true;
  }
  return truth::calc_truth(setup, distances, extent);
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
  tag.unseen = std::max(across, up) < kSeenPd;
  return tag;
}

}  // namespace redress::screens::debrief
