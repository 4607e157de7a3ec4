// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Cases drawn from published figures. Distance deviation, pupils, gradient AC/A and proximal
// vergence are drawn; the near deviation is computed from them, because drawn by itself it would
// give AC/A ratios that nobody has. Each case is then examined by the engine: it is kept if it is
// what it claims to be and unlike the one before. The same seed gives the same cases.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

#include "sim/basics/problem.hpp"

namespace redress::program {

/// The words that --diagnosis knows; "any": as people come, none asked for.
const std::vector<std::string_view>& generated_diagnoses();

/// What is drawn of one person, and the near deviation that follows. Prism dioptres, eso +.
struct DrawnPerson {
  double age_years = 25.0;
  double interpupillary_mm = 63.0;
  double distance_pd = -1.0;
  double ac_a_pd_per_d = 4.0;
  double proximal_pd = 1.5;
  double near_pd = -3.0;  ///< to half a prism dioptre
};
/// The person of that number, not selected for anything.
DrawnPerson draw_person(std::uint64_t seed, std::uint64_t number);

/// `difficulty` 0 ... 1: how small the deviation is and how soon it is over. Fewer than `count`
/// cannot be: what is not found after many draws is a problem. `goes_on`, if given, is told how
/// many there are before each draw that the engine examines; where it says no, those are all.
Result<std::vector<nlohmann::json>> generate_cases(std::string_view diagnosis, double difficulty,
                                                   std::uint64_t seed, int count,
                                                   const std::function<bool(int)>& goes_on = {});

/// What the case of that number, from 1 on, is called: "convergence_insufficiency_7_0001.json".
std::string name_generated_file(std::string_view diagnosis, std::uint64_t seed, int number);

}  // namespace redress::program
