// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#pragma once

#include <string>

namespace redress::support {

/// The root of the source tree that these tests were built from, without a slash at its end.
[[nodiscard]] std::string source_dir();

/// The program that was built together with these tests.
[[nodiscard]] std::string program_path();

/// Where tests leave the pictures that people look at.
[[nodiscard]] std::string screens_dir();

/// The file of a shipped case: scenario_path("exophoria").
[[nodiscard]] std::string scenario_path(const std::string& name);

}  // namespace redress::support
