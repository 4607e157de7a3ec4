// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Refraction and spectacles in a case: read, written, explained, refused.
#include "sim/cases/spectacles.hpp"

#include <catch2/catch.hpp>

#include <tuple>

#include "sim/cases/setup.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;
using nlohmann::json;

namespace {

json with_spectacles(const json& spectacles) {
  json value = least_case();
  value["refraction"]["spectacles"] = spectacles;
  return value;
}

Case read(const json& value) {
  const Result<Case> result = parse_case(value);
  if (!result) FAIL(listed(result.problems()));
  return result.value();
}

}  // namespace

TEST_CASE("spectacles of every kind are read, and written so that they read the same", "[cases]") {
  const json lens = {{"sphere_d", -2.5}, {"cylinder_d", -0.75}, {"axis_deg", 170},
                     {"prism_pd", 3},    {"base_deg", 180},     {"optical_centre_height_mm", -2}};
  const std::vector<json> kinds{
      {{"right", lens}},
      {{"right", lens}, {"left", lens}, {"vertex_distance_mm", 14}, {"optical_centres_mm", 60}},
      {{"left", lens}, {"design", "bifocal"}, {"add_d", 2}, {"segment_top_mm", -6.5}},
      {{"left", lens}, {"design", "progressive"}, {"add_d", 2.25}, {"corridor_mm", 11},
       {"fitting_cross_mm", 1}, {"inset_mm", 2}},
      {{"right", {{"sphere_d", -4}}}, {"contact_lenses", true}}};
  for (const json& kind : kinds) {
    INFO(kind.dump());
    const Case first = read(with_spectacles(kind));
    const json written = to_json(first);
    for (const auto& [key, value] : kind.items()) {
      if (!value.is_object()) CHECK(written["refraction"]["spectacles"][key] == value);
    }
    CHECK(to_json(read(written)) == written);
  }
}

TEST_CASE("what a design has is told, and null where it has none", "[cases]") {
  const auto spectacles = [](const json& kind) {
    return to_json(read(with_spectacles(kind)))["refraction"]["spectacles"];
  };
  const json single = spectacles({{"right", json::object()}});
  for (const char* key : {"segment_top_mm", "fitting_cross_mm", "corridor_mm", "inset_mm"}) {
    CHECK(single[key].is_null());
  }
  const json bifocal =
      spectacles({{"right", json::object()}, {"design", "bifocal"}, {"add_d", 2}});
  CHECK(bifocal["segment_top_mm"] == -5);
  CHECK(bifocal["inset_mm"] == 2.5);
  CHECK(bifocal["corridor_mm"].is_null());
  const json progressive =
      spectacles({{"right", json::object()}, {"design", "progressive"}, {"add_d", 2}});
  CHECK(progressive["fitting_cross_mm"] == 0);
  CHECK(progressive["corridor_mm"] == 14);
  CHECK(progressive["segment_top_mm"].is_null());
}

TEST_CASE("spectacles that contradict themselves are refused, with the reason", "[cases]") {
  const json lens = json::object();
  const std::vector<std::tuple<json, std::string, std::string>> contradictions{
      {{{"worn", true}}, "/worn", "no lens is given"},
      {{{"contact_lenses", true}}, "/contact_lenses", "no lens is given"},
      {{{"add_d", 2}}, "/add_d", "no lens is given"},
      {{{"optical_centres_mm", 60}}, "/optical_centres_mm", "no lens is given"},
      {{{"right", lens}, {"add_d", 2}}, "/add_d", "the design is single"},
      {{{"right", lens}, {"design", "bifocal"}}, "/design", "without an addition"},
      {{{"right", lens}, {"design", "progressive"}}, "/design", "without an addition"},
      {{{"right", lens}, {"segment_top_mm", -5}}, "/segment_top_mm", "the design is single"},
      {{{"right", lens}, {"corridor_mm", 12}}, "/corridor_mm", "the design is single"},
      {{{"right", lens}, {"inset_mm", 2}}, "/inset_mm", "the design is single"},
      {{{"right", lens}, {"design", "progressive"}, {"add_d", 2}, {"segment_top_mm", -5}},
       "/segment_top_mm", "the design is progressive"},
      {{{"right", lens}, {"design", "bifocal"}, {"add_d", 2}, {"fitting_cross_mm", 0}},
       "/fitting_cross_mm", "the design is bifocal"},
      {{{"right", lens}, {"contact_lenses", true}, {"design", "bifocal"}, {"add_d", 2}},
       "/design", "of contact lenses"},
      {{{"right", {{"prism_pd", 2}}}, {"contact_lenses", true}}, "/right/prism_pd",
       "of a contact lens"},
      {{{"left", {{"optical_centre_height_mm", 2}}}, {"contact_lenses", true}},
       "/left/optical_centre_height_mm", "of a contact lens"},
      {{{"left", lens}, {"optical_centres_mm", 60}, {"contact_lenses", true}},
       "/optical_centres_mm", "go with the eyes"},
      {{{"left", {{"sphere_d", 25}}}, {"vertex_distance_mm", 20}}, "/left/sphere_d",
       "allowed: together at most 23.88"}};
  for (const auto& [kind, place, words] : contradictions) {
    const Problems problems = problems_of(with_spectacles(kind));
    INFO(kind.dump() << "\n" << listed(problems));
    CHECK(is_only_problem(problems, "/refraction/spectacles" + place, words));
  }
  CHECK(problems_of(with_spectacles({{"left", {{"sphere_d", 30}}}})).empty());
}

TEST_CASE("lenses as the engine gets them", "[cases]") {
  json kind = {{"right", {{"sphere_d", -3}, {"prism_pd", 4}, {"base_deg", 180}}},
               {"left", {{"sphere_d", 0}}},
               {"optical_centres_mm", 67}};
  const ExaminationSetup setup = setup_of(read(with_spectacles(kind)));
  REQUIRE(setup.room.spectacles.right);
  const optics::Lens& lens = *setup.room.spectacles.right;
  CHECK(lens.power == optics::sphere_of(-3));
  CHECK(lens.prism_x == Approx(0.04));  // base out before the right eye: to the right
  CHECK(lens.prism_y == Approx(0.0).margin(1e-15));
  CHECK(lens.centre_x_mm == Approx(2.0));  // pupils 63
  CHECK_FALSE(setup.room.spectacles.left);  // a flat lens does nothing
  CHECK(setup.room.spectacles_owned);
  CHECK(setup.room.spectacles_worn);

  kind["design"] = "progressive";
  kind["add_d"] = 2;
  const ExaminationSetup with_add = setup_of(read(with_spectacles(kind)));
  REQUIRE(with_add.room.spectacles.left);
  CHECK(with_add.room.spectacles.left->near_x_mm == Approx(-2.0 + 2.5));  // towards the nose
  CHECK(with_add.room.spectacles.right->near_x_mm == Approx(2.0 - 2.5));
}

TEST_CASE("a refraction is told as it is written on a prescription", "[cases]") {
  json value = with_spectacles({{"right",
                                 {{"sphere_d", 1.25}, {"cylinder_d", -0.5}, {"axis_deg", 5},
                                  {"prism_pd", 2}, {"base_deg", 0}}},
                                {"design", "bifocal"},
                                {"add_d", 2}});
  value["refraction"]["right"] = {{"sphere_d", -2}, {"cylinder_d", -1.5}, {"axis_deg", 90}};
  const Case c = read(value);
  CHECK(format_refraction(c, Eye::right) == "-2.00/-1.50x90");
  CHECK(format_refraction(c, Eye::left) == "+0.00");
  CHECK(format_spectacle_lens(c, Eye::right) == "+1.25/-0.50x5 prism 2 base 0 deg add +2.00");
  CHECK(format_spectacle_lens(c, Eye::left) == "none");
}

TEST_CASE("a spasm is no larger than accommodation at that age", "[cases]") {
  json value = with("/accommodation/spasm_d", 5);
  CHECK(problems_of(value).empty());
  value["patient"]["age_years"] = 55;
  CHECK(is_only_problem(problems_of(value), "/accommodation/spasm_d", "allowed: at most 1.75"));
}
