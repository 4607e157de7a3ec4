// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The faces that the library shows: people of every origin, none of them rare, and a named face for
// no more than two patients. Bounds are judgement.
#include <map>
#include <string>

#include <catch2/catch.hpp>

#include "render/screens/examine/scene.hpp"
#include "sim/cases/case_file.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;

TEST_CASE("the library's people are of every origin, and no face stands for many") {
  int all = 0;
  int fair = 0;
  int brown = 0;
  int dark = 0;
  int folded = 0;  // the fold of skin over the inner corner
  std::map<std::string, int> faces;
  for (const std::string& name : testing::shipped_case_names()) {
    INFO(name);
    const Result<Case> read = read_case_text(testing::shipped_case(name));
    REQUIRE(read.ok());
    const scene::PatientAppearance look = screens::examine::make_appearance(read.value());
    ++all;
    fair += look.melanin < 0.2F ? 1 : 0;
    brown += look.melanin >= 0.2F && look.melanin < 0.45F ? 1 : 0;
    dark += look.melanin >= 0.45F ? 1 : 0;
    folded += look.epicanthus >= 0.5F ? 1 : 0;
    if (!read.value().patient.appearance.empty()) ++faces[read.value().patient.appearance];
  }
  INFO(fair << " fair, " << brown << " brown, " << dark << " dark, " << folded << " folded");
  CHECK(5 * fair >= all);
  CHECK(5 * brown >= all);
  CHECK(5 * dark >= all);
  CHECK(10 * folded >= all);
  for (const auto& [face, times] : faces) {
    INFO(face);
    CHECK(times <= 2);
  }
}
