// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/practitioner.hpp"

#include <charconv>
#include <system_error>

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

namespace redress::assessment {

namespace {

// Events of the examiner's stream that belong to a person, not to a station of theirs.
constexpr std::uint64_t kPersonEvents = std::uint64_t{1} << 40;

std::string all_skills() {
  std::string all;
  for (const Skill& skill : kSkills) all += (all.empty() ? "" : ", ") + std::string(skill.name);
  return all;
}

Problems refuse(std::string_view part) {
  return {{"/skill", "is \"" + std::string(part) + "\"; allowed: " + all_skills() +
                         ", each with a share above 0, as in novice:0.3,expert:0.7"}};
}

}  // namespace

Result<SkillMix> parse_skill_mix(std::string_view text) {
  SkillMix mix{};
  double sum = 0.0;
  std::string_view rest = text;
  while (true) {
    const std::size_t comma = rest.find(',');
    const std::string_view part = rest.substr(0, comma);
    const std::size_t colon = part.find(':');
    double share = 1.0;
    if (colon != std::string_view::npos) {
      const std::string_view number = part.substr(colon + 1);
      const auto read = std::from_chars(number.data(), number.data() + number.size(), share);
      if (read.ec != std::errc{} || read.ptr != number.data() + number.size()) return refuse(part);
    }
    if (!(share > 0.0) || share > 1e6) return refuse(part);
    bool known = false;
    for (std::size_t i = 0; i < kSkills.size(); ++i) {
      if (part.substr(0, colon) != kSkills[i].name || mix[i] > 0.0) continue;
      mix[i] = share;
      known = true;
    }
    if (!known) return refuse(part);
    sum += share;
    if (comma == std::string_view::npos) break;
    rest.remove_prefix(comma + 1);
  }
  for (double& share : mix) share /= sum;
  return mix;
}

Practitioner draw_practitioner(const SkillMix& mix, std::uint64_t seed, std::uint64_t number) {
  Practitioner p;
  p.number = number;
  const std::uint64_t event = kPersonEvents + number;
  const double u = random_uniform(seed, Stream::examiner, event, 0);
  double below = 0.0;
  for (std::size_t i = 0; i < mix.size(); ++i) {
    if (mix[i] > 0.0) p.skill = i;
    below += mix[i];
    if (u < below) break;
  }
  const Skill& skill = kSkills[p.skill];
  p.ability = skill.ability + kAbilitySpread * random_normal(seed, Stream::examiner, event, 1);
  p.pace = skill.pace *
           elementary::exponential(kPaceSpread * random_normal(seed, Stream::examiner, event, 2));
  return p;
}

}  // namespace redress::assessment
