// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// validate --explain: what the engine finds is told, and each contradiction that an author can
// write is named.
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/cases/setup.hpp"
#include "sim/program/explain_case.hpp"
#include "sim/program/verbs.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;
using nlohmann::json;

namespace {

struct Told {
  std::vector<std::string> disagreements;
  std::string text;
};

Told tell(const json& value) {
  const Result<Case> read = parse_case(value);
  if (!read) FAIL(listed(read.problems()));
  const truth::Truth found = program::calc_truth_of(read.value(), setup_of(read.value()));
  return {program::find_disagreements(read.value(), found),
          program::explain_findings(read.value(), found)};
}

bool is_only(const Told& told, const std::string& words) {
  return told.disagreements.size() == 1 && told.disagreements[0].find(words) != std::string::npos;
}

json shipped(const std::string& name) { return json::parse(shipped_case(name)); }

}  // namespace

TEST_CASE("the explanation tells what the engine finds", "[program]") {
  const Told told = tell(shipped("exophoria"));
  INFO(told.text);
  CHECK(told.disagreements.empty());
  CHECK(told.text.find("6.00 m  without   right") != std::string::npos);
  CHECK(told.text.find("-6.0") != std::string::npos);
  CHECK(told.text.find("These findings are called: exophoria.") != std::string::npos);
  CHECK(told.text.find("Comitant") != std::string::npos);
  CHECK(told.text.find("What does not agree: nothing.") != std::string::npos);
}

TEST_CASE("each contradiction of an author is named", "[program]") {
  json value = shipped("exophoria");
  value["expected"]["diagnosis"] = "esophoria";
  value["expected"]["accepted"] = {"esophoria"};
  CHECK(is_only(tell(value), "expected is \"esophoria\", and the findings come to \"exophoria"));

  value = shipped("no_deviation");
  value["expected"]["diagnosis"] = "right esotropia";
  value["expected"]["accepted"] = {"right esotropia"};
  CHECK(is_only(tell(value), "and no deviation is found"));

  value = shipped("right_esotropia");
  value["refraction"]["right"]["acuity_logmar"] = 1.3;
  CHECK(is_only(tell(value), "the right eye (logMAR 1.30) reads no letter"));
  value["refraction"]["right"]["acuity_logmar"] = 2.9;
  CHECK(is_only(tell(value), "makes out no target"));

  value = shipped("no_deviation");
  value["deviation"]["near_pd"] = 8;
  const Told odd = tell(value);
  INFO(odd.text);
  CHECK(odd.text.find("the AC/A is too low for so large a gain at near") != std::string::npos);

  value = shipped("exophoria");
  value["fusion"]["near"]["base_out_pd"] = {10, 14, 9};
  CHECK(is_only(tell(value), "at 40 cm the base-out reserve is 10, and Sheard's rule"));

  value = shipped("convergence_insufficiency");
  value["fusion"]["near"]["base_out_pd"] = {20, 25, 18};
  CHECK(is_only(tell(value), "the reserves meet their rule near and far"));
}

TEST_CASE("a squint of the other eye is named", "[program]") {
  json value = shipped("right_esotropia");
  value["expected"]["diagnosis"] = "left esotropia";
  value["expected"]["accepted"] = {"left esotropia"};
  CHECK(is_only(tell(value), "and it is the other eye that deviates: \"constant right esotropia"));
}

TEST_CASE("reserves are held against the criterion that the case chooses", "[program]") {
  // Exo of 6 with 16 base out and 7 base in at 6 m; 9 with 20 and 13 at 40 cm.
  json value = shipped("exophoria");
  CHECK(tell(value).disagreements.empty());
  value["expected"]["reserve_criterion"] = "percival";  // 7 is less than half of 16
  CHECK(is_only(tell(value), "at 6 m the base-in reserve is 7, and Percival's rule"));
  value["expected"]["reserve_criterion"] = "one_to_one";  // recoveries 14 and 18
  CHECK(tell(value).disagreements.empty());
  value["fusion"]["distance"]["base_out_pd"] = {16, 20, 5};
  CHECK(is_only(tell(value), "at 6 m the base-out recovery reserve is 5, and the 1:1 rule"));

  // Eso: by Sheard twice the deviation, where the usual rule asks the recovery alone.
  value = least_case();
  value["deviation"] = {{"distance_pd", 6}, {"near_pd", 7}, {"ac_a_pd_per_d", 4.5}};
  value["fusion"]["distance"]["base_in_pd"] = {nullptr, 9, 7};
  value["fusion"]["near"]["base_in_pd"] = {16, 20, 12};
  CHECK(tell(value).disagreements.empty());
  value["expected"]["reserve_criterion"] = "sheard";
  CHECK(is_only(tell(value), "at 6 m the base-in reserve is 9, and Sheard's rule"));
}

TEST_CASE("a contradiction the other way round is named as well", "[program]") {
  // Deviates, and no deviation is expected.
  json value = shipped("exophoria");
  value["expected"]["diagnosis"] = "no deviation";
  value["expected"]["accepted"] = {"no deviation"};
  CHECK(is_only(tell(value), "expected is \"no deviation\", and the findings come to"));

  // A proximal vergence below any.
  value = shipped("no_deviation");
  value["deviation"]["ac_a_pd_per_d"] = 7;
  const Told odd = tell(value);
  INFO(odd.text);
  CHECK(odd.text.find("the AC/A is too high for so small a gain at near") != std::string::npos);

  // Sheard at distance.
  value = shipped("exophoria");
  value["fusion"]["distance"]["base_out_pd"] = {8, 12, 7};
  CHECK(is_only(tell(value), "at 6 m the base-out reserve is 8, and Sheard's rule"));

  // Eso: the recovery as much as the deviation.
  value = least_case();
  value["deviation"] = {{"distance_pd", 6}, {"near_pd", 7}, {"ac_a_pd_per_d", 4.5}};
  value["fusion"]["distance"]["base_in_pd"] = {nullptr, 9, 3};
  value["fusion"]["near"]["base_in_pd"] = {10, 14, 9};
  CHECK(is_only(tell(value), "at 6 m the base-in recovery reserve is 3, and the 1:1 rule"));

  // The left eye as well as the right one.
  value = shipped("right_esotropia");
  value["refraction"]["left"]["acuity_logmar"] = 1.3;
  const Told left = tell(value);
  INFO(left.text);
  CHECK(left.text.find("the left eye (logMAR 1.30) reads no letter") != std::string::npos);
}
