// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An examination that is known by its acts, simulated into a record: the one place where acts that
// nobody recorded while they were done become a record.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <span>

#include "sim/basics/problem.hpp"
#include "sim/room/act.hpp"
#include "sim/room/examination.hpp"

namespace redress::record {

/// `written`: the case as in its file. Returns the first problem of writing.
[[nodiscard]] std::optional<Problem> write_run(std::ostream& out, const nlohmann::json& written,
                                               const ExaminationSetup& setup, const Chance& chance,
                                               std::span<const Act> acts, Tick until_ms);

}  // namespace redress::record
