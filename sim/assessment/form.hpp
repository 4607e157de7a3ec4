// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The patients of a station: one for all, or one of several parallel forms each.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include <nlohmann/json.hpp>

#include "sim/assessment/circuit.hpp"
#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"

namespace redress::assessment {

struct Form {
  nlohmann::json written;  ///< the case as its file has it, or as drawn
  Case content;
  std::uint64_t seed = 1;  ///< chance of the examination
};

/// Finds the case of a station: reads the file, or draws the person of that seed. Who calls knows
/// folders and the generator.
using FindPatient = std::function<Result<nlohmann::json>(const Station&, std::uint64_t seed)>;

/// One for each of the station's seeds. Problems: "/stations/3/case" and what is wrong there.
Result<std::vector<Form>> find_forms(const Circuit& circuit, std::size_t station,
                                     const FindPatient& find_patient);

}  // namespace redress::assessment
