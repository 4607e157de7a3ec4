// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The columns of a trace, in the order that is held fixed, and how their values are written.
#include "sim/record/trace_csv.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "sim/basics/file.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::record;
using redress::tests::TemporaryFolder;

namespace {

std::string row_of(const Observation& observation) {
  std::string text;
  append_trace_row(text, observation);
  return text;
}

}  // namespace

TEST_CASE("the header names the columns of the contract") {
  std::string text;
  append_trace_header(text);
  CHECK(text ==
        "t_ms,right_horizontal_deg,right_vertical_deg,right_torsion_deg,left_horizontal_deg,"
        "left_vertical_deg,left_torsion_deg,right_covered,left_covered,fixing,fused,"
        "accommodation_d,right_pupil_mm,left_pupil_mm,right_lid_open_fraction,"
        "left_lid_open_fraction,suppressed,"
        // After the columns that are held fixed:
        "right_listing_deg,left_listing_deg\n");
}

TEST_CASE("a row: angles with five decimals, other numbers with four, yes and no as 1 and 0") {
  Observation observation;
  observation.at_ms = 12345;
  observation.eye.right = {1.5, -0.25, 0.123456, true, 4.25, 1.0};
  observation.eye.left = {-12.000004, 0.000001, -0.000001, false, 3.99996, 0.5};
  observation.fixing = WhichEyes::left;
  observation.fused = false;
  observation.accommodation_d = 2.5;
  observation.suppressed = WhichEyes::right;
  observation.eye.left.listing_deg = -1.25;
  CHECK(row_of(observation) ==
        "12345,1.50000,-0.25000,0.12346,-12.00000,0.00000,0.00000,1,0,left,0,2.5000,4.2500,4.0000,"
        "1.0000,0.5000,right,0.00000,-1.25000\n");
}

TEST_CASE("the words for eyes are right, left, both, none") {
  Observation observation;
  const std::pair<WhichEyes, std::string> words[] = {{WhichEyes::none, "none"},
                                                     {WhichEyes::right, "right"},
                                                     {WhichEyes::left, "left"},
                                                     {WhichEyes::both, "both"}};
  for (const auto& [eyes, word] : words) {
    observation.fixing = eyes;
    observation.suppressed = eyes;
    const std::string row = row_of(observation);
    CHECK(row.find("," + word + ",1,") != std::string::npos);
    CHECK(row.ends_with("," + word + ",0.00000,0.00000\n"));
  }
}

TEST_CASE("a trace file has its header and all rows, and appears when it is committed") {
  const TemporaryFolder folder;
  const std::string path = folder / "trace.csv";
  std::string expected;
  append_trace_header(expected);
  {
    TraceWriter writer(path);
    for (Tick t = 0; t <= 5000; ++t) {  // more than one block
      Observation observation;
      observation.at_ms = t;
      writer.row(observation);
      append_trace_row(expected, observation);
    }
    CHECK_FALSE(std::filesystem::exists(path));
    CHECK_FALSE(writer.commit().has_value());
  }
  CHECK(read_file(path).value() == expected);
}

TEST_CASE("a trace that finds no room says so") {
  TraceWriter writer("/dev/full");
  for (Tick t = 0; t <= 5000; ++t) writer.row({});
  const auto problem = writer.commit();
  REQUIRE(problem.has_value());
  CHECK(writer.failed());
  CHECK(problem->message.find("No space left on device") != std::string::npos);
}
