// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/difficulty.hpp"

#include <utility>

#include "sim/assessment/circuit.hpp"
#include "sim/assessment/form.hpp"
#include "sim/assessment/rehearsal.hpp"

namespace redress::assessment {

namespace {

constexpr double kFull = 0.999;  // a share of an item is a quotient

/// One visit without a clock, marked as practice is.
Station make_visit() {
  Station visit;
  constexpr std::int64_t kADay = 24 * 3600;
  visit.time_s = kADay;
  visit.column = scoring::Column::formative;
  return visit;
}

}  // namespace

std::optional<Difficulty> calc_difficulty(const Case& the_case, std::size_t people,
                                          std::uint64_t seed,
                                          const std::function<bool()>& goes_on) {
  const Station visit = make_visit();
  Form form;
  form.content = the_case;
  form.seed = the_case.seed;
  const PreparedForm prepared = prepare_form(visit, std::move(form), true, goes_on);
  std::array<std::array<MarkShare, kSkills.size()>, scoring::kItemCount> counted{};
  Difficulty difficulty;
  difficulty.people = people;
  for (std::size_t skill = 0; skill < kSkills.size(); ++skill) {
    SkillMix mix{};
    mix[skill] = 1.0;
    double sum = 0.0;
    for (std::size_t number = 0; number < people; ++number) {
      if (!goes_on()) return std::nullopt;
      const Attendance a = attend(visit, prepared, seed, 0, draw_practitioner(mix, seed, number));
      sum += a.marks;
      for (std::size_t i = 0; i < a.shares.size(); ++i) {
        if (a.shares[i] < 0.0) continue;
        MarkShare& share = counted[i][skill];
        ++share.of;
        if (a.shares[i] >= kFull) ++share.full;
      }
    }
    if (people > 0) difficulty.mean_marks[skill] = sum / static_cast<double>(people);
  }
  for (std::size_t i = 0; i < scoring::kItemCount; ++i) {
    std::size_t asked = 0;
    for (MarkShare& share : counted[i]) {
      asked += share.of;
      if (share.of == 0) continue;
      share.share = static_cast<double>(share.full) / static_cast<double>(share.of);
      share.interval = calc_share_interval(share.full, share.of);
    }
    if (asked > 0) difficulty.marks.push_back({static_cast<scoring::Item>(i), counted[i]});
  }
  return difficulty;
}

}  // namespace redress::assessment
