// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Versions migrate as documents. For each version of cases before the present one there is a golden
// pair in tests/cases/versions: case_N.json as it was written then, case_N_as_now.json as it is
// today. How steps follow each other is shown with an invented format, example_1.
#include <array>
#include <filesystem>
#include <string>

#include <catch2/catch.hpp>

#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/draft.hpp"
#include "sim/cases/migrate.hpp"
#include "tests/support/places.hpp"

using namespace redress;
using nlohmann::ordered_json;

namespace {

std::string golden(const std::string& name) {
  const auto text = read_file(support::source_dir() + "/tests/cases/versions/" + name);
  REQUIRE(text.ok());
  return text.value();
}

// A key that is called otherwise, at its place.
void rename_pupils(ordered_json& document) {
  ordered_json patient;
  for (const auto& [key, value] : document["patient"].items()) {
    patient[key == "pupils_mm" ? "interpupillary_distance_mm" : key] = value;
  }
  document["patient"] = patient;
}
// A value that was understood and is written now.
void write_vertical(ordered_json& document) { document["deviation"]["vertical_pd"] = 0; }

constexpr std::array<Migration, 2> kSteps{{{1, rename_pupils}, {2, write_vertical}}};

}  // namespace

TEST_CASE("a document goes from version to version, byte for byte as the golden file has it") {
  const auto document = migrate(ordered_json::parse(golden("example_1.json")), 3, kSteps);
  REQUIRE(document.ok());
  CHECK(write_case_document(document.value()) == golden("example_1_as_3.json"));
  // What is up to date is left alone.
  const auto again = migrate(document.value(), 3, kSteps);
  REQUIRE(again.ok());
  CHECK(again.value() == document.value());
}

TEST_CASE("versions that are newer, or older than any step, are refused") {
  const auto version = [](int n) {
    return ordered_json{{"format", "redress-case"}, {"version", n}};
  };
  const auto newer = migrate(version(4), 3, kSteps);
  REQUIRE_FALSE(newer.ok());
  CHECK(newer.problems()[0] ==
        Problem{"/version", "was written by a newer version (4; this one reads 3)"});
  const auto older = migrate(version(0), 3, kSteps);
  REQUIRE_FALSE(older.ok());
  CHECK(older.problems()[0] == Problem{"/version", "is 0; allowed: 1 to 3"});
  CHECK_FALSE(migrate(version(0), kCaseVersion).ok());
  CHECK_FALSE(CaseDraft::read(R"({"format":"redress-case","version":0,"title":"t"})").ok());
}

TEST_CASE("each version of cases before this one has its golden files") {
  for (int version = 1; version < kCaseVersion; ++version) {
    const std::string name = "case_" + std::to_string(version);
    INFO(name);
    const auto draft = CaseDraft::read(golden(name + ".json"));
    REQUIRE(draft.ok());
    CHECK(draft.value().is_changed());  // saved, it is of this version
    CHECK(draft.value().text() == golden(name + "_as_now.json"));
    CHECK(draft.value().content().ok());
    CHECK(read_case_text(golden(name + ".json")).ok());
  }
  // The present one has a case that needs none of it.
  CHECK(case_migrations().size() == static_cast<std::size_t>(kCaseVersion - 1));
}
