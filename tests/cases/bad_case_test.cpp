// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Bad cases: each is refused with the place, the value and what is allowed. The ranges are tried
// from the schema that ships (scenarios/case.schema.json), so the two cannot drift apart.
#include <catch2/catch.hpp>
#include <cmath>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/defaults.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;
using nlohmann::json;

namespace {

struct Field {
  std::string place;
  json schema;
};

// All fields that the schema describes, with references followed; array items as /0, /1, ...
void list_fields(const json& root, json node, const std::string& place, std::vector<Field>& out) {
  if (node.contains("$ref")) {
    const std::string name = node["$ref"].get<std::string>().substr(1);
    node = root[json::json_pointer(name)];
  }
  out.push_back({place, node});
  if (node.contains("properties")) {
    for (const auto& [key, member] : node["properties"].items()) {
      list_fields(root, member, place + "/" + key, out);
    }
  }
  if (!node.contains("items")) return;
  if (node["items"].is_array()) {
    std::size_t i = 0;
    for (const json& item : node["items"]) {
      list_fields(root, item, place + "/" + std::to_string(i++), out);
    }
  } else {
    list_fields(root, node["items"], place + "/0", out);
  }
}

std::vector<Field> all_fields() {
  const json schema = json::parse(read_scenario("case.schema.json"));
  std::vector<Field> out;
  list_fields(schema, schema, "", out);
  return out;
}

// A case that writes out everything, so that any pointer of the schema can be set in it.
json complete_case() {
  json value = to_json(make_healthy_case());
  value["title"] = "complete";
  const json lens = {{"sphere_d", 0}, {"cylinder_d", 0}, {"axis_deg", 0},
                     {"prism_pd", 0}, {"base_deg", 0},   {"optical_centre_height_mm", 0}};
  value["refraction"]["spectacles"]["right"] = lens;
  value["refraction"]["spectacles"]["left"] = lens;
  value["deviation"]["by_distance_pd"] = json::parse("[[10, -1]]");
  value["fusion"]["far_distance"] = value["fusion"]["distance"];
  value["expected"]["accepted"] = {"x"};
  value["expected"]["plan"] = {"glasses or contact_lenses", "driving"};
  value["expected"]["harmful"] = {"prism"};
  value["expected"]["tests"] = {"near_point"};
  value["expected"]["urgency"] = "routine";
  value["patient"]["answers"]["onset"] = "Last week.";
  value["teaching"]["key_questions"] = {"onset"};
  value["teaching"]["look_alikes"] = {{{"name", "another"}, {"sign", "a sign"}}};
  value["teaching"]["sources"] = {"from memory"};
  return value;
}

bool has_problem(const Problems& problems, const std::string& place, const std::string& words) {
  for (const Problem& problem : problems) {
    if (problem.place == place && problem.message.find(words) != std::string::npos) return true;
  }
  return false;
}

bool allows_type(const json& schema, const std::string& type) {
  const json& types = schema["type"];
  if (types.is_string()) return types == type;
  for (const json& one : types) {
    if (one == type) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("the complete case is valid and has every key of the schema, and no other") {
  const json complete = complete_case();
  if (const Problems problems = problems_of(complete); !problems.empty()) FAIL(listed(problems));
  std::set<std::string> described;
  for (const Field& field : all_fields()) {
    INFO(field.place);
    CHECK((field.place.empty() || complete.contains(json::json_pointer(field.place))));
    described.insert(field.place);
  }
  // The other way round, object by object.
  const auto visit = [&](const auto& self, const json& value, const std::string& place) -> void {
    INFO(place);
    CHECK(described.count(place) == 1);
    if (!value.is_object() || place == "/patient/answers" || place == "/on_file") return;
    for (const auto& [key, member] : value.items()) self(self, member, place + "/" + key);
  };
  visit(visit, complete, "");
}

TEST_CASE("every number is held to the range that the schema gives") {
  int tried = 0;
  for (const Field& field : all_fields()) {
    if (!field.schema.contains("minimum")) continue;
    ++tried;
    INFO(field.place);
    const double low = field.schema["minimum"];
    const double high = field.schema["maximum"];
    const json::json_pointer pointer(field.place);
    json value = complete_case();
    for (const double bad :
         {low - 1e-6 * (1.0 + std::abs(low)), high * 1.000001 + 1e-6, -1e300, 1e300}) {
      value[pointer] = bad;
      CHECK(has_problem(problems_of(value), field.place, "allowed: "));
    }
    for (const double good : {low, high}) {
      value[pointer] = to_json_number(good);
      CHECK_FALSE(has_problem(problems_of(value), field.place, "out of range"));
      CHECK_FALSE(has_problem(problems_of(value), field.place, "not whole"));
    }
  }
  REQUIRE(tried > 90);
}

TEST_CASE("the ranges are at least those that the format promises") {
  const std::vector<std::tuple<std::string, double, double>> promised{
      {"/deviation/distance_pd", -100, 100},
      {"/deviation/near_pd", -100, 100},
      {"/deviation/vertical_pd", -50, 50},
      {"/deviation/ac_a_pd_per_d", 0, 15},
      {"/patient/interpupillary_distance_mm", 40, 80},
      {"/patient/age_years", 1, 99},
      {"/muscles/right/lateral_rectus/strength", 0, 3},
      {"/refraction/left/acuity_logmar", -0.3, 3.0},
      {"/fusion/release_time_constant_s", 0.02, 600},
      {"/fusion/recovery_time_constant_s", 0.02, 600},
      {"/sensory/preference", 0.5, 1},
      {"/muscles/tilt_gain", 1, 2},
      {"/muscles/skew_pd", -30, 30},
      {"/muscles/fatigability/right", 0, 1},
      {"/seed", 0, 9007199254740991.0}};
  for (const auto& [place, low, high] : promised) {
    for (const double good : {low, high}) {
      INFO(place << " " << good);
      json value = complete_case();
      value[json::json_pointer(place)] = to_json_number(good);
      CHECK_FALSE(has_problem(problems_of(value), place, "out of range"));
    }
  }
}

TEST_CASE("a value of the wrong type is refused everywhere") {
  for (const Field& field : all_fields()) {
    if (field.place.empty() || !field.schema.contains("type")) continue;
    INFO(field.place);
    const std::vector<std::pair<std::string, json>> kinds{
        {"null", nullptr}, {"boolean", true},          {"number", 0.5},
        {"string", "1"},   {"array", json::array({})}, {"object", json::object()}};
    for (const auto& [type, bad] : kinds) {
      if (allows_type(field.schema, type)) continue;
      INFO(type);
      json value = complete_case();
      value[json::json_pointer(field.place)] = bad;
      CHECK(has_problem(problems_of(value), field.place, "allowed: "));
    }
  }
}

TEST_CASE("a word that is not in the list is refused, each listed one is read") {
  for (const Field& field : all_fields()) {
    if (!field.schema.contains("enum")) continue;
    INFO(field.place);
    json value = complete_case();
    value[json::json_pointer(field.place)] = "sideways";
    CHECK(has_problem(problems_of(value), field.place, "allowed: one of "));
    value[json::json_pointer(field.place)] = 1;
    CHECK(has_problem(problems_of(value), field.place, "allowed: one of "));
    for (const json& word : field.schema["enum"]) {
      value[json::json_pointer(field.place)] = word;
      CHECK_FALSE(has_problem(problems_of(value), field.place, "is unknown"));
    }
  }
}

TEST_CASE("an unknown key is refused in every object") {
  for (const Field& field : all_fields()) {
    if (!field.schema.contains("properties")) continue;
    INFO(field.place);
    json value = complete_case();
    value[json::json_pointer(field.place + "/zzz")] = 0;
    CHECK(has_problem(problems_of(value), field.place + "/zzz", "is not a key of this object"));
  }
  CHECK(has_problem(problems_of(with("/deviation/distance_dp", 1)), "/deviation/distance_dp",
                    "did you mean distance_pd?"));
}

TEST_CASE("each required key is missed") {
  for (const std::string key : {"format", "version", "title", "deviation"}) {
    json value = least_case();
    value.erase(key);
    INFO(key);
    CHECK(is_only_problem(problems_of(value), "/" + key, "is missing"));
  }
  CHECK(is_only_problem(problems_of(with("/title", "")), "/title", "is empty"));
  CHECK(is_only_problem(problems_of(json::array()), "", "allowed: an object"));
}

TEST_CASE("another format or a newer version is refused and not read on") {
  json value = with("/version", 2);
  value["invented_later"] = true;
  CHECK(is_only_problem(problems_of(value), "/version",
                        "written by a newer version (2; this one reads 1)"));
  CHECK(is_only_problem(problems_of(with("/version", 1e300)), "/version", "newer version"));
  CHECK(is_only_problem(problems_of(with("/version", 0)), "/version", "is 0; allowed: 1"));
  CHECK(is_only_problem(problems_of(with("/version", "1")), "/version", "allowed: 1"));
  CHECK(is_only_problem(problems_of(with("/format", "redress-record")), "/format",
                        "allowed: \"redress-case\""));
}

TEST_CASE("muscles that find no rest are refused, with the place where the eye finds none") {
  json torn = {{"strength", 3},
               {"limit_deg", -60},
               {"limit_stiffness", 100},
               {"shorter_deg", 40},
               {"stiffness", 10}};
  json value = complete_case();
  for (const char* muscle : {"lateral_rectus", "medial_rectus", "superior_rectus",
                             "inferior_rectus", "superior_oblique", "inferior_oblique"}) {
    value["muscles"]["left"][muscle].update(torn);
  }
  CHECK(is_only_problem(problems_of(value), "/muscles/left", "find no rest when the eye is sent"));
}

TEST_CASE("contradictions are refused") {
  const std::vector<std::tuple<std::string, json, std::string, std::string>> contradictions{
      {"/patient/head_posture",
       {{"seeks_comfort", true}, {"turn_deg", 10}},
       "/patient/head_posture",
       "allowed: angles, or seeks_comfort true"},
      {"/fusion/distance/base_out_pd",
       {9, 19, 20},
       "/fusion/distance/base_out_pd/2",
       "recovery 20 is above the break"},
      {"/fusion/near/base_in_pd",
       {22, 21, 13},
       "/fusion/near/base_in_pd/0",
       "blur 22 is above the break"},
      {"/fusion/vertical/right_supra_pd",
       {3, 4},
       "/fusion/vertical/right_supra_pd/1",
       "above the break"},
      {"/fusion/distance/base_out_pd",
       {nullptr, -20, -30},
       "/fusion/distance",
       "no position in which the patient could fuse"},
      {"/fusion/vertical/right_infra_pd", {-4, -5}, "/fusion/vertical", "no position"},
      {"/deviation/by_distance_pd",
       {{6, -2}},
       "/deviation/by_distance_pd/0",
       "which distance_pd gives"},
      {"/deviation/by_distance_pd",
       {{0.4, -2}},
       "/deviation/by_distance_pd/0",
       "which near_pd gives"},
      {"/deviation/by_distance_pd",
       {{20, -2}, {1, -1}, {20, -3}},
       "/deviation/by_distance_pd/2",
       "given before"},
      {"/deviation",
       {{"distance_pd", -1}, {"far_distance_pd", -9}, {"by_distance_pd", {{20, -2}}}},
       "/deviation/by_distance_pd/0",
       "which far_distance_pd gives"},
      {"/fusion/far_distance",
       {{"base_out_pd", {nullptr, -20, -30}}},
       "/fusion/far_distance",
       "no position in which the patient could fuse"},
      {"/deviation/near_pd", 60, "/deviation", "allowed: -5 to 25"},
      {"/deviation/near_pd", -30, "/deviation", "allowed: -5 to 25"},
      {"/sensory/suppression/scotoma_diameter_deg", 3, "/sensory/suppression/scotoma_diameter_deg",
       "the eye is none"},
      {"/refraction/spectacles/worn", true, "/refraction/spectacles/worn", "no lens is given"},
      {"/patient/answers/single_or_double", "double", "/patient/answers/single_or_double",
       "what the patient's eyes answer"}};
  for (const auto& [where, bad, place, words] : contradictions) {
    const Problems problems = problems_of(with(where, bad));
    INFO(where << "\n" << listed(problems));
    CHECK(is_only_problem(problems, place, words));
  }
}

TEST_CASE("what is only odd is warned of") {
  const std::vector<std::pair<json, std::string>> odd{
      {with("/deviation/near_pd", 8), "/deviation"},
      {with("/deviation/near_pd", -7), "/deviation"},
      {with("/patient/near_working_distance_cm", 80), "/patient/near_working_distance_cm"},
      {with("/sensory/suppression/eye", "right"), "/sensory/suppression/eye"}};
  for (const auto& [value, place] : odd) {
    const Result<Case> result = parse_case(value);
    if (!result) FAIL(listed(result.problems()));
    Problems warnings;
    CHECK(check_meaning(result.value(), &warnings).empty());
    INFO(listed(warnings));
    REQUIRE(warnings.size() == 1);
    CHECK(warnings[0].place == place);
    CHECK(warnings[0].message.find("usual: ") != std::string::npos);
  }
}

TEST_CASE("every problem of a case is listed at once") {
  json value = with("/deviation/distance_pd", 1000);
  value["patient"]["age_years"] = "old";
  value["surprise"] = 1;
  value["fusion"]["near"]["base_out_pd"] = {9, 19, 20};
  value["refraction"]["spectacles"]["add_d"] = 1;
  value["patient"]["answers"]["Not A Key"] = "x";
  const Problems problems = problems_of(value);
  INFO(listed(problems));
  CHECK(problems.size() == 6);
  CHECK(has_problem(problems, "/deviation/distance_pd", "1000; allowed: -100 to 100"));
  CHECK(has_problem(problems, "/patient/age_years", "\"old\"; allowed: a number from 1 to 99"));
  CHECK(has_problem(problems, "/surprise", "is not a key"));
  CHECK(has_problem(problems, "/fusion/near/base_out_pd/2", "above the break"));
  CHECK(has_problem(problems, "/refraction/spectacles/add_d", "no lens is given"));
  CHECK(has_problem(problems, "/patient/answers/Not A Key", "allowed: "));
}

TEST_CASE("eccentric fixation without an eye is refused, as a scotoma without one is") {
  const Problems problems = problems_of(with("/sensory/eccentric_fixation/nasal_deg", 3));
  INFO(listed(problems));
  CHECK(has_problem(problems, "/sensory/eccentric_fixation/nasal_deg",
                    "is 3, but the eye is none; allowed: 0, or an eye"));
}
