// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Good cases: defaults and their sources, every key, the way back, the shipped six, explanations.
#include "sim/cases/case_file.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/defaults.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;
using nlohmann::json;

namespace {

// JSON pointers of everything that is no object (an empty object counts).
void list_leaves(const json& value, const std::string& place, std::set<std::string>& out) {
  if (!value.is_object() || value.empty()) {
    out.insert(place);
    return;
  }
  for (const auto& [key, member] : value.items()) list_leaves(member, place + "/" + key, out);
}

std::set<std::string> leaves_of(const json& value) {
  std::set<std::string> out;
  list_leaves(value, "", out);
  return out;
}

// A value other than the default for every key that may differ from it in this version.
json fullest_case() {
  return json::parse(R"({
    "format": "redress-case", "version": 1, "title": "fullest", "note": "n",
    "seed": 9007199254740991,
    "patient": {"name": "Ada Invented", "appearance": "face-3", "age_years": 41.5,
      "story": "Så här.", "interpupillary_distance_mm": 58.5, "near_working_distance_cm": 57,
      "screen_distance_cm": 63.3,
      "answers": {"onset": "Last week.", "pain": "None."}},
    "refraction": {"right": {"sphere_d": -2.25, "axis_deg": 90, "acuity_logmar": 0.1},
      "left": {"sphere_d": 1.5, "axis_deg": 180, "acuity_logmar": -0.1},
      "spectacles": {"right": {"sphere_d": -2, "axis_deg": 5, "base_deg": 270}, "left": null,
        "worn": false, "optical_centres_mm": 58.5}},
    "deviation": {"distance_pd": -8, "near_pd": -6.5, "vertical_pd": 0.5, "ac_a_pd_per_d": 4.2,
      "by_distance_pd": [[20, -20], [1, -7]]},
    "fusion": {"present": false,
      "distance": {"base_out_pd": [null, 15, -4], "base_in_pd": [2, 8, 4]},
      "near": {"base_out_pd": [10, 16, 9], "base_in_pd": [null, 12, 12]},
      "vertical": {"right_supra_pd": [8, 5], "right_infra_pd": [2, 1]},
      "release_time_constant_s": 0.6, "recovery_time_constant_s": 0.4},
    "sensory": {"preferred_eye": "left", "preference": 0.75,
      "suppression": {"eye": "either", "scotoma_diameter_deg": 2.5},
      "eccentric_fixation": {"eye": "right", "nasal_deg": 0}, "anomaly_pd": -3},
    "instability": {"attention": 0.4},
    "expected": {"diagnosis": "d", "accepted": ["e", "f"], "urgency": "urgent",
      "red_flag": true}})");
}

}  // namespace

TEST_CASE("the least case is a healthy young adult") {
  const Result<Case> result = parse_case(least_case());
  REQUIRE(result.ok());
  const Case& healthy = result.value();
  REQUIRE(healthy.patient.age_years == 23.0);
  REQUIRE(healthy.deviation.ac_a_pd_per_d == 4.0);
  REQUIRE(healthy.fusion.present);
  REQUIRE_FALSE(healthy.spectacles.owned());
  REQUIRE_FALSE(healthy.spectacles.worn_at_start());
  REQUIRE(healthy.sensory.suppression_eye == AffectedEye::none);
  REQUIRE(healthy.muscles == PerEye<CaseMuscles>{});

  // Dodgson 2004: adult mean.
  REQUIRE(healthy.patient.interpupillary_distance == Millimetres{63});

  // Morgan's expected values as tabled by Scheiman & Wick; no blur on distance base-in.
  const auto is = [](const CaseReserve& reserve, std::optional<double> blur, double break_point,
                     double recovery) {
    return reserve.blur.has_value() == blur.has_value() &&
           (!blur || reserve.blur->value == *blur) && reserve.break_point.value == break_point &&
           reserve.recovery.value == recovery;
  };
  REQUIRE(is(healthy.fusion.distance.base_out, 9, 19, 10));
  REQUIRE(is(healthy.fusion.distance.base_in, std::nullopt, 7, 4));
  REQUIRE(is(healthy.fusion.near.base_out, 17, 21, 11));
  REQUIRE(is(healthy.fusion.near.base_in, 13, 21, 13));
}

TEST_CASE("a deviation without numbers is that of Morgan's means") {
  json least = least_case();
  least["deviation"] = json::object();
  const Result<Case> result = parse_case(least);
  REQUIRE(result.ok());
  REQUIRE(result.value().deviation.distance == PrismDioptres{-1});
  REQUIRE(result.value().deviation.near == PrismDioptres{-3});
}

TEST_CASE("every default has a source") {
  Case healthy = make_healthy_case();
  healthy.spectacles.lens.right = CaseSpectacleLens{};
  std::set<std::string> places = leaves_of(to_json(healthy));
  places.merge(leaves_of(to_json(make_healthy_case())));
  for (const std::string required : {"/format", "/version", "/title"}) {
    REQUIRE(places.erase(required) == 1);
  }
  for (const std::string& place : places) {
    INFO(place);
    CHECK_FALSE(find_default_source(place).empty());
  }
  REQUIRE(find_default_source("/title").empty());
  REQUIRE(find_default_source("/patient").empty());
}

TEST_CASE("every key arrives where it belongs and comes back") {
  const json written = fullest_case();
  const Result<Case> result = parse_case(written);
  if (!result) FAIL(listed(result.problems()));
  const Case& the_case = result.value();

  REQUIRE(the_case.seed == 9007199254740991ULL);
  REQUIRE(the_case.patient.near_working_distance == Metres{0.57});
  REQUIRE_FALSE(the_case.spectacles.worn_at_start());
  REQUIRE_FALSE(the_case.spectacles.lens.left.has_value());
  REQUIRE(the_case.deviation.by_distance.size() == 2);
  REQUIRE(the_case.deviation.by_distance[0].first == Metres{20});
  REQUIRE(the_case.sensory.suppression_eye == AffectedEye::either);
  REQUIRE(the_case.expected.urgency == Urgency::urgent);
  REQUIRE(the_case.answers.size() == 2);

  const json back = to_json(the_case);
  for (const std::string& place : leaves_of(written)) {
    INFO(place);
    const json::json_pointer pointer(place);
    REQUIRE(back.contains(pointer));
    CHECK(back[pointer] == written[pointer]);
  }
}

TEST_CASE("a case written out reads back as the same case") {
  std::vector<json> cases{least_case(), fullest_case()};
  for (const std::string& name : shipped_case_names()) {
    cases.push_back(json::parse(shipped_case(name)));
  }
  for (const json& written : cases) {
    INFO(written["title"]);
    const Result<Case> first = parse_case(written);
    REQUIRE(first.ok());
    const json out = to_json(first.value());
    const Result<Case> second = read_case_text(out.dump());
    if (!second) FAIL(listed(second.problems()));
    REQUIRE(to_json(second.value()) == out);
    REQUIRE(to_json(second.value()).dump() == out.dump());
  }
}

TEST_CASE("spectacles that are owned are worn unless the case says otherwise") {
  json value = with("/refraction/spectacles/left", {{"sphere_d", -1}});
  REQUIRE(parse_case(value).value().spectacles.worn_at_start());
  value["refraction"]["spectacles"]["worn"] = false;
  REQUIRE_FALSE(parse_case(value).value().spectacles.worn_at_start());
}

TEST_CASE("each shipped case is valid, without warnings, and complete") {
  for (const std::string& name : shipped_case_names()) {
    INFO(name);
    const Result<Case> result = read_case_text(shipped_case(name));
    if (!result) FAIL(listed(result.problems()));
    const Case& the_case = result.value();
    Problems warnings;
    REQUIRE(check_meaning(the_case, &warnings).empty());
    INFO(listed(warnings));
    REQUIRE(warnings.empty());
    REQUIRE(the_case.note.find("Invented") != std::string::npos);
    REQUIRE_FALSE(the_case.patient.story.empty());
    REQUIRE(the_case.answers.size() >= 5);
    REQUIRE_FALSE(the_case.expected.diagnosis.empty());
    REQUIRE(the_case.expected.urgency.has_value());
    // The diagnosis itself is among the wordings that are accepted.
    const auto& accepted = the_case.expected.accepted_diagnoses;
    REQUIRE(std::find(accepted.begin(), accepted.end(), the_case.expected.diagnosis) !=
            accepted.end());
    // What the patient says and what heads the page do not give the answer away.
    for (const std::string word : {"phoria", "tropia", "microtropia"}) {
      REQUIRE(the_case.title.find(word) == std::string::npos);
      REQUIRE(the_case.patient.story.find(word) == std::string::npos);
    }
  }
}

TEST_CASE("the explanation lists every value in force, written or with its source") {
  const json written = json::parse(shipped_case("microtropia"));
  const Case the_case = parse_case(written).value();
  const std::string text = explain(the_case, written);
  const std::set<std::string> in_force = leaves_of(to_json(the_case));
  std::set<std::string> explained;
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t end = text.find('\n', begin);
    const std::string line = text.substr(begin, end - begin);
    INFO(line);
    const std::string place = line.substr(0, line.find(" = "));
    REQUIRE(explained.insert(place).second);
    const bool is_written = written.contains(json::json_pointer(place));
    REQUIRE((line.find("  (written)") != std::string::npos) == is_written);
    REQUIRE((line.find("  (default: ") != std::string::npos) != is_written);
    REQUIRE(line.find("(default: )") == std::string::npos);
    begin = end + 1;
  }
  REQUIRE(explained == in_force);
  REQUIRE(text.find("/sensory/anomaly_pd = 4  (written)") != std::string::npos);
  REQUIRE(text.find("/fusion/near/base_out_pd = [null,14,8]  (written)") != std::string::npos);
  REQUIRE(text.find("Dodgson 2004") == std::string::npos);  // the pupils' distance is written
}
