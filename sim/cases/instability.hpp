// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Reading, writing and checking of what sim/cases/case_instability.hpp holds.
#pragma once

#include <nlohmann/json.hpp>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case.hpp"

namespace redress {

void read_instability(ObjectReader reader, CaseInstability& instability);
void read_pupils(ObjectReader reader, CasePupils& pupils);
void read_lids(ObjectReader reader, CaseLids& lids);

nlohmann::json to_json(const CaseInstability& instability);
nlohmann::json to_json(const CasePupils& pupils);
nlohmann::json to_json(const CaseLids& lids);

/// Contradictions between these parts and the rest of the case.
void check_instability(const Case& the_case, Problems& problems);

}  // namespace redress
