// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The published schema against an independent validator (valijson, draft 7): every shipped case
// passes it, and what the reader refuses for a key, a type, a word or a range, it refuses at the
// same place. Keys of the schema against keys of the reader: bad_case_test.cpp.
#include <string>
#include <tuple>
#include <vector>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;
using nlohmann::json;

namespace {

const valijson::Schema& case_schema() {
  static const json kText = json::parse(read_scenario("case.schema.json"));
  static const valijson::Schema& kSchema = [&]() -> const valijson::Schema& {
    static valijson::Schema schema;
    valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
    parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(kText), schema);
    return schema;
  }();
  return kSchema;
}

// JSON pointers of what the schema finds wrong, the innermost place of each; empty: valid.
std::vector<std::string> places_refused(const json& value) {
  valijson::Validator validator(valijson::Validator::kStrongTypes);
  valijson::ValidationResults results;
  const valijson::adapters::NlohmannJsonAdapter target(value);
  std::vector<std::string> places;
  if (validator.validate(case_schema(), target, &results)) return places;
  for (const auto& error : results) {
    std::string place;
    for (const std::string& part : error.context) {  // "<root>", then "[key]" by "[key]"
      if (part.size() > 2 && part.front() == '[') place += "/" + part.substr(1, part.size() - 2);
    }
    places.push_back(place + "  " + error.description);
  }
  return places;
}

bool refuses_at(const json& value, const std::string& place) {
  for (const std::string& found : places_refused(value)) {
    if (found.rfind(place + "  ", 0) == 0) return true;
  }
  return false;
}

bool reader_refuses_at(const json& value, const std::string& place) {
  for (const Problem& problem : problems_of(value)) {
    if (problem.place == place && problem.message.find("allowed") != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("every shipped case passes the published schema", "[cases]") {
  REQUIRE(shipped_case_names().size() >= 40);
  for (const std::string& name : shipped_case_names()) {
    INFO(name);
    const std::vector<std::string> places = places_refused(json::parse(shipped_case(name)));
    INFO((places.empty() ? std::string{} : places.front()));
    CHECK(places.empty());
  }
  CHECK(places_refused(least_case()).empty());
}

TEST_CASE("reader and schema refuse a broken case at the same place", "[cases]") {
  const std::vector<std::tuple<std::string, json>> broken{
      {"/deviation/distance_pd", 101},
      {"/deviation/ac_a_pd_per_d", "4"},
      {"/patient/age_years", 0.5},
      {"/patient/name", 7},
      {"/patient/answers", json::array()},
      {"/refraction/right/acuity_logmar", 3.1},
      {"/refraction/spectacles/add_d", -1},
      {"/fusion/present", "yes"},
      {"/fusion/release_time_constant_s", 0},
      {"/sensory/suppression/scotoma_diameter_deg", 31},
      {"/muscles/right/lateral_rectus/strength", 3.5},
      {"/muscles/left/medial_rectus/version_gain", -0.1},
      {"/instability/attention", 1.5},
      {"/pupils/anisocoria_mm", 5},
      {"/lids/ptosis_mm/left", -1},
      {"/expected/red_flag", 1},
      {"/teaching/level", 6},
      {"/teaching/key_questions", "onset"},
      {"/teaching/step", 2.5},
      {"/on_file", json::array()},
      {"/seed", -1}};
  for (const auto& [place, value] : broken) {
    INFO(place << " = " << value);
    const json changed = with(place, value);
    CHECK(reader_refuses_at(changed, place));
    CHECK(refuses_at(changed, place));
  }
}

TEST_CASE("neither reader nor schema lets through an unknown key, a word or a missing key",
          "[cases]") {
  for (const std::string place :
       {"/zzz", "/deviation/zzz", "/fusion/vertical/zzz",
        "/muscles/right/superior_oblique/share_of_medial", "/teaching/zzz"}) {
    INFO(place);
    const json changed = with(place, 1);
    CHECK_FALSE(problems_of(changed).empty());
    CHECK_FALSE(places_refused(changed).empty());
  }
  for (const std::string place :
       {"/sensory/preferred_eye", "/expected/urgency", "/refraction/spectacles/design"}) {
    INFO(place);
    const json changed = with(place, "sideways");
    CHECK(reader_refuses_at(changed, place));
    CHECK(refuses_at(changed, place));
  }
  for (const std::string key : {"format", "version", "title", "deviation"}) {
    INFO(key);
    json changed = least_case();
    changed.erase(key);
    CHECK_FALSE(problems_of(changed).empty());
    CHECK_FALSE(places_refused(changed).empty());
  }
}
