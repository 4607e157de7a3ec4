// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Reading, writing and checking of what sim/cases/case_teaching.hpp holds, and of the findings that
// lie on file for this patient.
#pragma once

#include <nlohmann/json.hpp>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case.hpp"

namespace redress {

void read_teaching(ObjectReader reader, CaseTeaching& teaching);
/// The member `key` of `reader`: an object of texts, each under a key of small letters, digits, _.
void read_texts(ObjectReader& reader, std::string_view key,
                std::vector<std::pair<std::string, std::string>>& texts);

nlohmann::json to_json(const CaseTeaching& teaching);
nlohmann::json texts_json(const std::vector<std::pair<std::string, std::string>>& texts);

/// Key questions that the case does not answer, and findings that are computed, not written.
void check_teaching(const Case& the_case, Problems& problems);

}  // namespace redress
