// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How hard a case is: what share of simulated practitioners of each stated skill
// (sim/assessment/practitioner.hpp, where the sources of their slips stand) gets each mark of the
// rubric in full. Time is not short and nothing else is asked for than what the case calls for. It
// compares cases and marks with each other; how often people slip is judgement for the most part,
// so that it does not tell what a class will get.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "sim/assessment/practitioner.hpp"
#include "sim/assessment/statistics.hpp"
#include "sim/cases/case.hpp"
#include "sim/scoring/rubric.hpp"

namespace redress::assessment {

/// How many of these people, and where the share of all such people lies, 95 % (Wilson 1927).
/// Shares 0 ... 1.
struct MarkShare {
  std::size_t full = 0;
  std::size_t of = 0;  ///< people; the mark is not asked of everybody in every case
  double share = 0.0;
  Interval interval;
};

struct MarkDifficulty {
  scoring::Item item = scoring::Item::a1;
  std::array<MarkShare, kSkills.size()> skills;
};

struct Difficulty {
  std::size_t people = 0;             ///< of each skill
  std::vector<MarkDifficulty> marks;  ///< those that this case has, in the rubric's order
  std::array<double, kSkills.size()> mean_marks{};  ///< of 100
};

/// The same people, habits and slips at every skill, by number: what differs is skill. Simulates
/// one examination for each fault of technique. `goes_on` is asked between pieces of the work;
/// none: it said no.
std::optional<Difficulty> calc_difficulty(const Case& the_case, std::size_t people,
                                          std::uint64_t seed, const std::function<bool()>& goes_on);

}  // namespace redress::assessment
