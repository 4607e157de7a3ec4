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
#include "sim/program/generated_people.hpp"

namespace redress::program {

/// The words that --diagnosis knows; "any": as people come, none asked for.
const std::vector<std::string_view>& generated_diagnoses();

/// `difficulty` 0 ... 1: how small the deviation is and how soon it is over. Fewer than `count`
/// cannot be: what is not found after many draws is a problem. `threads` 0: as many as there are
/// processors; the cases are the same. `goes_on`, if given, is told how many there are before each
/// one that is kept or examined; where it says no, those are all.
Result<std::vector<nlohmann::json>> generate_cases(std::string_view diagnosis, double difficulty,
                                                   std::uint64_t seed, int count, int threads = 1,
                                                   const std::function<bool(int)>& goes_on = {});

/// What the case of that number, from 1 on, is called: "convergence_insufficiency_7_0001.json".
std::string name_generated_file(std::string_view diagnosis, std::uint64_t seed, int number);

/// The same, handed on one after the other, so that no more than a few are held at a time.
Problems generate_each(std::string_view diagnosis, double difficulty, std::uint64_t seed, int count,
                       int threads, const std::function<Problems(nlohmann::json)>& keep,
                       const std::function<bool(int)>& goes_on = {});

/// What the case of that number, from 1 on, is called: "convergence_insufficiency_7_0001.json".
std::string name_generated_file(std::string_view diagnosis, std::uint64_t seed, int number);

}  // namespace redress::program
