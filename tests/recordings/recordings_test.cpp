// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Every record in this folder replays, bit for bit. They were made by this engine on another day: a
// change that moves them changes what patients do, and has to say so. To make them again:
// tests/recordings/remake.sh.
#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/record/replay.hpp"
#include "tests/support/places.hpp"

using namespace redress;

TEST_CASE("every kept record replays to its last state") {
  namespace fs = std::filesystem;
  std::vector<std::string> paths;
  for (const auto& entry : fs::directory_iterator(support::source_dir() + "/tests/recordings")) {
    if (entry.path().extension() == ".record") paths.push_back(entry.path().string());
  }
  CHECK(paths.size() >= 6);
  for (const std::string& path : paths) {
    INFO(path);
    const auto text = read_file(path);
    REQUIRE(text.ok());
    const auto loaded = record::read_record(text.value());
    REQUIRE(loaded.ok());
    const auto the_case = parse_case(loaded.value().header.the_case);
    REQUIRE(the_case.ok());
    const auto verdict = record::replay(loaded.value(), setup_of(the_case.value()));
    INFO(verdict.message);
    CHECK(verdict.agrees);
    CHECK(verdict.same_arithmetic);
  }
}
