// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is found on request: an answer to everything for everybody, from the case's own numbers
// where they decide, from its author's words where there are any.
#include <string>

#include <catch2/catch.hpp>

#include "sim/cases/case_file.hpp"
#include "sim/cases/on_file.hpp"
#include "sim/cases/setup.hpp"

using namespace redress;

namespace {

std::string find_on_file(const std::string& more, std::string_view what) {
  const auto read = read_case_text(
      R"({"format": "redress-case", "version": 1, "title": "on file",
          "deviation": {"distance_pd": -1, "near_pd": -3})" +
      more + "}");
  REQUIRE(read.ok());
  for (const auto& [key, words] : setup_of(read.value()).on_file) {
    if (key == what) return words;
  }
  FAIL("nothing for " << what);
  return {};
}

}  // namespace

TEST_CASE("every request has an answer in health, and none says that nothing is on file") {
  for (const std::string_view what : file_requests()) {
    INFO(what);
    CHECK_FALSE(find_on_file("", what).empty());
    CHECK(find_on_file("", what).find("on file") == std::string::npos);
  }
}

TEST_CASE("what is found follows from the patient's own numbers") {
  CHECK(find_on_file(R"(, "pupils": {"fixed_mm": {"right": 7}})", "pupils") ==
        "Right fixed at 7.0 mm. No relative defect.");
  CHECK(find_on_file(R"(, "pupils": {"anisocoria_mm": -0.8})", "pupils") ==
        "Left larger by 0.8 mm in any light. No relative defect.");
  CHECK(find_on_file(R"(, "lids": {"ptosis_mm": {"left": 2}})", "lids") ==
        "Left upper lid 2.0 mm low.");
  CHECK(find_on_file(R"(, "fusion": {"present": false})", "stereo") == "None found.");
  CHECK(find_on_file(R"(, "sensory": {"suppression": {"eye": "left", "scotoma_diameter_deg": 3}})",
                     "stereo") == "400 seconds of arc.");
  CHECK(find_on_file(R"(, "sensory": {"eccentric_fixation": {"eye": "left", "nasal_deg": 1.5}})",
                     "fixation") == "Left beside the fovea by 1.5°, nasal.");
}

TEST_CASE("a palsy of the superior oblique shows excyclotorsion, a healthy eye none") {
  CHECK(find_on_file("", "torsion") == "The two lines stand parallel.");
  // Unilateral palsies: 3 to 7 degrees of excyclotorsion (from memory: textbooks of strabismus).
  const std::string found =
      find_on_file(R"(, "muscles": {"right": {"superior_oblique": {"strength": 0}}})", "torsion");
  INFO(found);
  CHECK(found.find("rolled out") != std::string::npos);
  const std::size_t by = found.find("by ");
  REQUIRE(by != std::string::npos);
  const int degrees = std::stoi(found.substr(by + 3));
  CHECK(degrees >= 3);
  CHECK(degrees <= 7);
}

TEST_CASE("what the author wrote has the word, and what is beyond the list is kept") {
  const std::string written = R"(, "on_file": {"discs": "Swollen.", "tuning_fork": "Heard."})";
  CHECK(find_on_file(written, "discs") == "Swollen.");
  CHECK(find_on_file(written, "tuning_fork") == "Heard.");
}
