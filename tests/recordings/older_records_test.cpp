// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Records of earlier versions open: they are whole, their card is read and they are marked. What is
// in tests/recordings/older is never made again; a record goes there when entries or cases get new
// keys. Whether the patient still does the same is not asked here (recordings_test.cpp does).
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/findings/plan_words.hpp"
#include "sim/findings/record_card.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/verify.hpp"
#include "sim/scoring/score.hpp"
#include "tests/support/places.hpp"

using namespace redress;

namespace {

std::string read_older(const std::string& name) {
  const std::string path = support::source_dir() + "/tests/recordings/older/" + name;
  std::ifstream file(path, std::ios::binary);
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

}  // namespace

TEST_CASE("a record from before the parts of a plan opens, and its advice is read", "[record]") {
  const std::string text = read_older("before_plan_parts.record");
  CHECK(record::verify(text).whole());
  const Result<record::Record> read = record::read_record(text);
  REQUIRE(read.ok());
  const findings::RecordCard card = findings::make_card(read.value().acts);
  REQUIRE(card.entries.size() == 4);
  const Finding& plan = card.entries.back().finding;
  CHECK(plan.test == FindingTest::plan);
  CHECK(plan.parts.empty());
  CHECK(findings::parts_of(plan) == std::vector<PlanPart>{PlanPart::exercises, PlanPart::monitor});
  // Scores and reflexes stood in the impression's remark: they are shown as they were written.
  CHECK(findings::write_words(card.entries[2].finding) ==
        "intermittent exotropia, comitant, “control at distance 3; control at near 1; corneal "
        "reflexes central”");
}

TEST_CASE("a record from before the further tests opens and is marked", "[record]") {
  const std::string text = read_older("before_further_tests.record");
  CHECK(record::verify(text).whole());
  const Result<record::Record> read = record::read_record(text);
  REQUIRE(read.ok());
  const record::Record& record = read.value();
  REQUIRE_FALSE(record.acts.empty());
  const Result<Case> the_case = parse_case(record.header.the_case);
  REQUIRE(the_case.ok());
  CHECK_FALSE(the_case.value().expected.tests.has_value());
  const findings::RecordCard card = findings::make_card(record.acts);
  CHECK_FALSE(card.entries.empty());
  const ExaminationSetup setup = setup_of(the_case.value());
  const truth::Truth truth = truth::calc_truth(setup, {}, {false, false, false});
  const scoring::ScoreSheet sheet = scoring::calc_score(
      the_case.value(), setup, record.acts, Chance{record.header.seed, record.header.noise, true},
      record::calc_last_tick(record), truth);
  CHECK(sheet.items.size() == scoring::kItemCount);
  CHECK(sheet.total >= 0.0);
}
