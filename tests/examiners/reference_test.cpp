// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The reference examiner on patients made by hand: within 1 prism dioptre of the label that
// neutralises up to 10, within a step of the bar above (steps from memory, as in clinical tables);
// latent, intermittent and constant told apart.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

#include "sim/cases/case_file.hpp"
#include "sim/cases/defaults.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/examiners/record_card.hpp"
#include "sim/truth/truth.hpp"

using namespace redress;
using examiners::Fault;
using examiners::Habits;

namespace {

Case make_case(double far_pd, double near_pd, double vertical_pd = 0.0) {
  Case c = make_healthy_case();
  c.deviation.distance = PrismDioptres{far_pd};
  c.deviation.near = PrismDioptres{near_pd};
  c.deviation.vertical = PrismDioptres{vertical_pd};
  return c;
}

Case make_squint(double pd, Eye preferred, double preference) {
  Case c = make_case(pd, pd);
  c.fusion.present = false;
  c.sensory.preferred_eye = preferred;
  c.sensory.preference = preference;
  c.sensory.suppression_eye = AffectedEye::either;
  c.sensory.scotoma_diameter = Degrees{5.0};
  return c;
}

struct Card {
  std::vector<Finding> entries;
  std::vector<Act> acts;

  [[nodiscard]] std::optional<Finding> find(FindingTest test, double distance_m) const {
    for (const Finding& f : entries) {
      if (f.test == test && f.distance_m == distance_m) return f;
    }
    return std::nullopt;
  }
  [[nodiscard]] const Finding& last(FindingTest test) const {
    const auto it = std::find_if(entries.rbegin(), entries.rend(),
                                 [test](const Finding& f) { return f.test == test; });
    REQUIRE(it != entries.rend());
    return *it;
  }
};

Card examine_case(const Case& c, double noise, std::uint64_t seed = 1, Fault fault = Fault::none) {
  Examination exam(setup_of(c), {seed, noise});
  Habits habits;
  habits.fault = fault;
  habits.near_m = c.patient.near_working_distance.value;
  habits.owns_spectacles = c.spectacles.owned();
  Card card;
  card.acts = examiners::examine(exam, habits).acts;
  for (const Act& a : card.acts) {
    if (const auto* note = std::get_if<act::Note>(&a.content)) {
      card.entries.push_back(note->finding);
    }
  }
  return card;
}

// The bar goes in steps of 2 up to 20 and of 5 above; the mid-point is within one step.
double allowed(double label_pd) {
  const double size = std::abs(label_pd);
  return size <= 10.0 ? 1.0 : size <= 20.0 ? 2.0 : 5.0;
}

void check_sizes(const Case& c, const Card& card) {
  const ExaminationSetup setup = setup_of(c);
  for (const double distance_m : {6.0, c.patient.near_working_distance.value}) {
    const truth::Condition there = truth::calc_condition(setup, distance_m, false, Eye::left);
    const auto found = card.find(FindingTest::prism_cover, distance_m);
    CAPTURE(distance_m);
    REQUIRE(found);
    REQUIRE(there.neutralising_horizontal_pd);
    REQUIRE(there.neutralising_vertical_pd);
    const double h = *there.neutralising_horizontal_pd;
    const double v = *there.neutralising_vertical_pd;
    CHECK(*found->horizontal_pd == Approx(h).margin(allowed(h)));
    CHECK(*found->vertical_pd == Approx(v).margin(allowed(v)));
  }
}

}  // namespace

TEST_CASE("Latent deviations are measured within one prism dioptre", "[examiners]") {
  for (const auto& [far, near] : {std::pair{-2.0, -6.0}, {-6.0, -9.0}, {4.0, 4.0}, {-8.0, -10.0}}) {
    const Case c = make_case(far, near);
    for (const double noise : {0.0, 1.0}) {
      CAPTURE(far, near, noise);
      const Card card = examine_case(c, noise, 3);
      check_sizes(c, card);
      const auto at_far = card.find(FindingTest::cover_test, 6.0);
      REQUIRE(at_far);
      CHECK(at_far->kind == FindingKind::phoria);
      CHECK(at_far->recovery != RecoveryGrade::none);
    }
  }
}

TEST_CASE("A vertical deviation is measured, alone and with a horizontal one", "[examiners]") {
  for (const double horizontal : {0.0, -5.0}) {
    for (const double vertical : {2.0, -2.0}) {
      CAPTURE(horizontal, vertical);
      const Card card = examine_case(make_case(horizontal, horizontal, vertical), 0.0);
      const auto found = card.find(FindingTest::prism_cover, 6.0);
      REQUIRE(found);
      CHECK(*found->vertical_pd == Approx(vertical).margin(1.0));
      CHECK(*found->horizontal_pd == Approx(horizontal).margin(1.0));
      CHECK(card.find(FindingTest::cover_test, 6.0)->kind == FindingKind::phoria);
    }
  }
}

TEST_CASE("A third nerve palsy with a low lid is measured with the sound eye fixing",
          "[examiners]") {
  // With the weak eye fixing it is twice as much: the sound eye is driven up, its lid goes with it
  // and comes down again when it is bared.
  const auto read = read_case_text(R"({"format": "redress-case", "version": 1, "title": "t",
    "patient": {"age_years": 54}, "deviation": {"distance_pd": 0, "near_pd": -2},
    "sensory": {"preferred_eye": "left", "preference": 1.0},
    "muscles": {"right": {"medial_rectus": {"strength": 0.2}, "superior_rectus": {"strength": 0.2},
      "inferior_rectus": {"strength": 0.4}, "inferior_oblique": {"strength": 0.2}}},
    "lids": {"ptosis_mm": {"right": 3}}, "pupils": {"fixed_mm": {"right": 6.5}}})");
  REQUIRE(read);
  const Card card = examine_case(read.value(), 1.0, 7);
  check_sizes(read.value(), card);
  CHECK(card.find(FindingTest::cover_test, 6.0)->eye == FindingEye::right);
}

TEST_CASE("A constant squint is told from a latent one, and which eye", "[examiners]") {
  for (const double pd : {20.0, -20.0, 35.0}) {
    for (const Eye preferred : kBothEyes) {
      CAPTURE(pd, name_of(preferred));
      const Case c = make_squint(pd, preferred, 1.0);
      const Card card = examine_case(c, 1.0, 2);
      const auto found = card.find(FindingTest::cover_test, 6.0);
      REQUIRE(found);
      CHECK(found->kind == FindingKind::tropia);
      CHECK(found->constancy == Constancy::constant);
      CHECK(found->eye == (preferred == Eye::left ? FindingEye::right : FindingEye::left));
      check_sizes(c, card);
    }
  }
}

TEST_CASE("A squint above the bar's end is measured with a prism before each eye", "[examiners]") {
  const Case c = make_squint(60.0, Eye::left, 1.0);
  const Card card = examine_case(c, 0.0);
  const auto found = card.find(FindingTest::prism_cover, 6.0);
  REQUIRE(found);
  // Steps there: 53.3 (25 and 25), 65.9 (30 and 30), clinical tables.
  CHECK(*found->horizontal_pd == Approx(60.0).margin(8.0));
}

TEST_CASE("Taking turns is seen", "[examiners]") {
  const Card card = examine_case(make_squint(20.0, Eye::left, 0.5), 0.0);
  CHECK(card.find(FindingTest::cover_test, 6.0)->eye == FindingEye::alternating);
}

TEST_CASE("Straight before the cover and not after it is intermittent", "[examiners]") {
  Case c = make_squint(-25.0, Eye::right, 1.0);
  c.fusion.present = true;
  for (CaseReserves* r : {&c.fusion.distance, &c.fusion.near}) {
    r->base_out = {std::nullopt, PrismDioptres{12.0}, PrismDioptres{-5.0}};
  }
  for (const double noise : {0.0, 1.0}) {
    CAPTURE(noise);
    const Card card = examine_case(c, noise);
    const auto found = card.find(FindingTest::cover_test, 6.0);
    REQUIRE(found);
    CHECK(found->kind == FindingKind::tropia);
    CHECK(found->constancy == Constancy::intermittent);
    CHECK(found->recovery == RecoveryGrade::none);
  }
}

TEST_CASE("With no deviation nothing is written as found", "[examiners]") {
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    const Card card = examine_case(make_case(0.0, 0.0), 1.0, seed);
    CHECK(card.find(FindingTest::cover_test, 6.0)->kind == FindingKind::none);
    CHECK(card.last(FindingTest::plan).urgency == Urgency::routine);
  }
}

TEST_CASE("The four-dioptre test is done for unequal acuity without a movement", "[examiners]") {
  Case c = make_case(0.0, 0.0);
  CHECK_FALSE(examine_case(c, 0.0).find(FindingTest::four_dioptre, 6.0));
  c.refraction.right.acuity_logmar = 0.3;
  CHECK(examine_case(c, 0.0).find(FindingTest::four_dioptre, 6.0));
}

TEST_CASE("Each fault is what it says", "[examiners]") {
  const Case c = make_case(-6.0, -8.0);
  CHECK(examine_case(c, 0.0).find(FindingTest::cover_test, 0.4));
  CHECK_FALSE(examine_case(c, 0.0, 1, Fault::no_near_test).find(FindingTest::cover_test, 0.4));

  const auto first_prism = [&](Fault fault) {
    for (const Act& a : examine_case(c, 0.0, 1, fault).acts) {
      if (const auto* hold = std::get_if<act::HoldPrism>(&a.content)) return hold->base.value;
    }
    return -1.0;
  };
  // ISO 8429: before the right eye 0 is base in, which neutralises exo; 180 is out.
  CHECK(first_prism(Fault::none) == 0.0);
  CHECK(first_prism(Fault::wrong_base) == 180.0);

  const auto letters = [&](Fault fault) {
    for (const Act& a : examine_case(c, 0.0, 1, fault).acts) {
      if (const auto* show = std::get_if<act::ShowTarget>(&a.content)) return show->size_logmar;
    }
    return -1.0;
  };
  CHECK(letters(Fault::none) >= 0.1);
  CHECK(letters(Fault::letter_too_small) < 0.1);

  const auto first_cover_ms = [&](Fault fault) {
    Tick covered = -1;
    for (const Act& a : examine_case(c, 0.0, 1, fault).acts) {
      if (covered < 0 && std::holds_alternative<act::Cover>(a.content)) covered = a.at_ms;
      if (std::holds_alternative<act::Uncover>(a.content)) return a.at_ms - covered;
    }
    return Tick{-1};
  };
  CHECK(first_cover_ms(Fault::none) >= 4000);
  CHECK(first_cover_ms(Fault::short_covers) < 2000);
}

TEST_CASE("Acuity is read from the file as it is written there", "[examiners]") {
  const auto acuity = examiners::read_acuity("right 0.30 left -0.10 logMAR, corrected");
  CHECK(acuity.right == Approx(0.3));
  CHECK(acuity.left == Approx(-0.1));
  CHECK(examiners::read_acuity("Nothing on file.").right == 0.0);
}
