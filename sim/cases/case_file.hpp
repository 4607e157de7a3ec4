// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A case as a file: format "redress-case", version 1, clinical units. Reading is strict: every
// problem is listed with its place, and what this version knows but does not simulate is refused,
// never ignored. Described for editors by scenarios/case.schema.json.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"

namespace redress {

inline constexpr std::string_view kCaseFormat = "redress-case";
inline constexpr int kCaseVersion = 1;

/// Keys, types, ranges and meaning (check_meaning without its warnings).
Result<Case> parse_case(const nlohmann::json& json);

/// parse_json and parse_case.
Result<Case> read_case_text(std::string_view text);

/// The case with every value written out. parse_case of it gives the same case.
nlohmann::json to_json(const Case& the_case);

/// What contradicts itself, what cannot be solved and what this version does not simulate. What is
/// only odd goes to `warnings` unless that is null.
Problems check_meaning(const Case& the_case, Problems* warnings);

/// Every value in force, one a line: JSON pointer, value, "written" or "default: source".
/// `as_written` is the file that the case was read from.
std::string explain(const Case& the_case, const nlohmann::json& as_written);

}  // namespace redress
