// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Simulated practitioners of stated skill, to try a circuit before people sit it. What they do is
// the reference examiner's examination with one fault of technique or none; what they see, ask,
// write and conclude of it is drawn. Prism dioptres.
//
// Published (clinical notes, section 8): spread of one reading 1.1 for the experienced and 1.6 for
// novices (from the limits of Hrynchak et al 2010), growing with the size above 10 as in PEDIG
// 2009; novices read 1.4 and the experienced 0.6 off an eye tracker. That they read too little, and
// not too much, is judgement. Smallest movement seen: 2 for a trained observer, some 1 (from
// memory). Everything about habits, pace and conclusions is judgement.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/basics/problem.hpp"

namespace redress::assessment {

struct Skill {
  std::string_view name;
  double threshold_pd = 2.0;  ///< smaller movements are not seen
  double bias_pd = 0.0;       ///< read too little by this much
  double spread_pd = 1.1;     ///< standard deviation of one reading up to 10
  double ability = 0.0;       ///< mean, in logits: how seldom a habit of fault shows
  double pace = 1.0;          ///< time taken, of the reference examiner's
};

inline constexpr std::array<Skill, 3> kSkills{{{"novice", 3.0, 1.4, 1.6, -2.0, 1.15},
                                               {"trainee", 2.0, 1.0, 1.35, -1.0, 1.0},
                                               {"expert", 1.0, 0.6, 1.1, 1.2, 0.85}}};
/// Spread of ability and of pace within a skill.
inline constexpr double kAbilitySpread = 0.6;
inline constexpr double kPaceSpread = 0.1;

/// Shares of each of kSkills; they sum to 1.
using SkillMix = std::array<double, kSkills.size()>;

/// "novice", or "novice:0.3,trainee:0.5,expert:0.2"; shares are scaled to 1. The problem says what
/// is allowed.
Result<SkillMix> parse_skill_mix(std::string_view text);

/// One of them. Drawn by number alone: the same in every shard.
struct Practitioner {
  std::uint64_t number = 0;
  std::size_t skill = 0;  ///< of kSkills
  double ability = 0.0;   ///< own
  double pace = 1.0;
};
Practitioner draw_practitioner(const SkillMix& mix, std::uint64_t seed, std::uint64_t number);

}  // namespace redress::assessment
