// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Cases of older versions, brought up to date as documents, one version after another, before they
// are read: the reader knows one version alone. A step changes keys, never the meaning: what the
// engine makes of the case stays what it was. Who raises kCaseVersion adds a step here and the two
// golden files that tests/cases/migrate_test.cpp asks for.
#pragma once

#include <cstdint>
#include <span>

#include <nlohmann/json.hpp>

#include "sim/basics/problem.hpp"

namespace redress {

/// From one version to the next. The key "version" is not the step's business.
struct Migration {
  std::int64_t from = 1;
  void (*change)(nlohmann::ordered_json& document) = nullptr;
};

/// Those of cases, oldest first. Version 1 is the first, so that there are none yet.
std::span<const Migration> case_migrations();

/// The document as version `to` has it, in its author's order. One that is `to` already, or says no
/// version, is given back as it is. Problems: newer than `to`, or older than any step.
Result<nlohmann::ordered_json> migrate(nlohmann::ordered_json document, std::int64_t to,
                                       std::span<const Migration> steps = case_migrations());

}  // namespace redress
