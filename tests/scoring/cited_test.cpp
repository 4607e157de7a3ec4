// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Every mark cites the moment and the movement that shows it: latent or manifest by covers of one
// eye by itself, a height by a movement in height, a size by what is there and not by a glance
// elsewhere. And prisms: before which eye, and what stacking costs.
#include <catch2/catch.hpp>

#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

#include "sim/scoring/score.hpp"
#include "sim/scoring/sightings.hpp"
#include "tests/scoring/scored_patient.hpp"

using namespace redress;
using namespace redress::scoring;
using namespace redress::tests;

namespace {

ScoreSheet score(const Patient& p, const std::vector<Act>& acts, double noise = 0.0,
                 std::uint64_t seed = 1) {
  return calc_score(p.the_case, p.setup, acts, Chance{seed, noise, true},
                    record::calc_default_until(acts), p.truth);
}

const ItemScore& item(const ScoreSheet& sheet, Item which) {
  return sheet.items.at(static_cast<std::size_t>(which));
}

std::string all_evidence(const ItemScore& i) {
  std::string all;
  for (const MarkEvidence& e : i.evidence) all += e.what + "\n";
  return all;
}

bool cites(const ScoreSheet& sheet, Item which, const std::string& words) {
  const std::string all = all_evidence(item(sheet, which));
  INFO(all);
  return all.find(words) != std::string::npos;
}

Finding found(double distance_m, FindingKind kind, double horizontal_pd, double vertical_pd) {
  Finding f;
  f.test = FindingTest::cover_test;
  f.distance_m = distance_m;
  f.kind = kind;
  f.horizontal_pd = horizontal_pd;
  f.vertical_pd = vertical_pd;
  f.method = SizeMethod::estimated;
  return f;
}

/// Each eye covered twice by itself at both distances, and what was seen.
std::vector<Act> examine(const Finding& seen, int covers = 2) {
  std::vector<Act> acts{{0, act::Instruct{Instruction::look}}};
  Tick t = 4000;
  for (const double distance_m : {6.0, 0.4}) {
    acts.push_back(show(t, distance_m));
    t += 3000;
    for (int i = 0; i < covers; ++i) {
      for (const Eye eye : kBothEyes) {
        acts.push_back(cover(t, eye));
        acts.push_back(uncover(t + 4500));
        t += 8500;
      }
    }
  }
  for (const double distance_m : {6.0, 0.4}) {
    Finding f = seen;
    f.distance_m = distance_m;
    acts.push_back({t += 500, act::Note{f}});
  }
  return acts;
}

}  // namespace

TEST_CASE("latent is shown by the freed eye, and by neither having moved before", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": -7, "near_pd": -8})");
  const ScoreSheet sheet = score(p, examine(found(6, FindingKind::phoria, -7, 0)));
  CHECK(item(sheet, Item::d1).grade == Grade::full);
  CHECK(cites(sheet, Item::d1, "neither eye was seen to move as the other was covered"));
  CHECK(cites(sheet, Item::d1, "s after it was freed"));
  CHECK_FALSE(cites(sheet, Item::d1, "s after the other was covered"));
}

TEST_CASE("manifest is shown by the eye that was left free", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": 20, "near_pd": 20},
    "fusion": {"present": false}, "sensory": {"preferred_eye": "left", "preference": 1.0,
    "suppression": {"eye": "right", "scotoma_diameter_deg": 5}})");
  Finding f = found(6, FindingKind::tropia, 20, 0);
  f.constancy = Constancy::constant;
  f.eye = FindingEye::right;
  const ScoreSheet sheet = score(p, examine(f));
  for (const Item which : {Item::d1, Item::d4}) {
    CHECK(item(sheet, which).grade == Grade::full);
    CHECK(cites(sheet, which, "right eye 2"));  // 20 or so
    CHECK(cites(sheet, which, "out, 0."));
    CHECK(cites(sheet, which, "s after the other was covered"));
    CHECK_FALSE(cites(sheet, which, "neither eye"));
  }
}

TEST_CASE("a height is shown by a movement in height", "[scoring]") {
  // Right over left 5, nothing across worth the name: the right eye comes down, the left goes up.
  const Patient p = make_patient(
      R"("deviation": {"distance_pd": -1, "near_pd": -1, "vertical_pd": 5},
    "fusion": {"vertical": {"right_supra_pd": [8, 6], "right_infra_pd": [8, 6]}})");
  const ScoreSheet sheet = score(p, examine(found(6, FindingKind::phoria, 0, 5)));
  for (const Item which : {Item::d2, Item::d3}) {
    CHECK(item(sheet, which).grade == Grade::full);
    CHECK((cites(sheet, which, " down, ") || cites(sheet, which, " up, ")));
    CHECK_FALSE(cites(sheet, which, " in, "));
    CHECK_FALSE(cites(sheet, which, " out, "));
    CHECK(cites(sheet, which, "5.0Δ right over left"));
  }
}

TEST_CASE("no sentence of a mark has a minus before nothing", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": 0, "near_pd": 0})");
  const ScoreSheet sheet = score(p, examine(found(6, FindingKind::none, 0, 0)));
  for (const ItemScore& i : sheet.items) {
    const std::string all = i.why + "\n" + all_evidence(i);
    INFO(all);
    CHECK(all.find("-0") == std::string::npos);
    CHECK(all.find("+0") == std::string::npos);
  }
  CHECK(cites(sheet, Item::d1, "neither eye was seen to move"));
  CHECK(cites(sheet, Item::d3, "no movement across was seen"));
}

TEST_CASE("a glance elsewhere is no evidence of a size", "[scoring]") {
  // Looks at the examiner or the prism 2 to 6 times a minute (practice, 2.8b), by 10 degrees and
  // more; blinks, and small jerks of fixation. What is cited is the exophoria of 8 all the same.
  const Patient p = make_patient(R"("deviation": {"distance_pd": -8, "near_pd": -8},
    "instability": {"attention": 0.5, "blink_on_uncovering": 0.35})");
  int movements = 0;
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    const std::vector<Act> acts = examine(found(6, FindingKind::phoria, -8, 0), 3);
    const Chance chance{seed, 1.0, true};
    const Examined x(
        p.the_case, p.setup,
        findings::gather_evidence(p.setup, acts, chance, record::calc_default_until(acts)),
        p.truth);
    for (const Place& place : x.places) {
      const Sighting seen = find_sighting(x, place);
      INFO(place.name << ", seed " << seed);
      REQUIRE(seen.across);
      CHECK(std::abs(seen.across->shown_horizontal_pd() + 8.0) < 4.0);
      ++movements;
    }
  }
  CHECK(movements == 12);
}

// ------------------------------------------------------------------------------------------ prisms

namespace {

/// The cover alternated behind each of these before an eye, each four times, at 6 m.
std::vector<Act> measure(Eye eye, const std::vector<double>& labels, double base_deg) {
  std::vector<Act> acts{show(0, 6.0), {0, act::Instruct{Instruction::look}}};
  Tick t = 4000;
  for (const double label : labels) {
    acts.push_back(hold_prism(t, eye, label, base_deg));
    for (int i = 0; i < 6; ++i) {
      acts.push_back(cover(t + 200, i % 2 == 0 ? Eye::right : Eye::left));
      t += 1500;
    }
    acts.push_back(uncover(t));
    t += 2500;
  }
  acts.push_back(remove_prism(t, eye));
  return acts;
}

}  // namespace

TEST_CASE("the eye behind the prism matters where the deviation depends on it", "[scoring]") {
  // A right lateral rectus of half force: more with the right eye fixing (secondary deviation).
  const Patient weak = make_patient(R"("deviation": {"distance_pd": 0, "near_pd": 0},
    "muscles": {"right": {"lateral_rectus": {"strength": 0.4}}})",
                                    {true, false, false});
  REQUIRE_FALSE(weak.truth.comitant);
  const auto share = [](const Patient& p, Eye eye) {
    const ScoreSheet sheet = score(p, measure(eye, {10, 14, 18, 25}, base_out(eye)));
    const ItemScore& c2 = item(sheet, Item::c2);
    INFO(c2.why);
    return c2.marks / c2.max;
  };
  CHECK(share(weak, Eye::right) == 1.0);
  CHECK(share(weak, Eye::left) == 0.0);
  // Comitant: either eye, price nothing (practice, A11).
  const Patient comitant = make_patient(R"("deviation": {"distance_pd": 14, "near_pd": 14},
    "fusion": {"distance": {"base_out_pd": [9, 19, 10], "base_in_pd": [null, 20, 15]}})",
                                        {true, false, false});
  CHECK(share(comitant, Eye::right) == 1.0);
  CHECK(share(comitant, Eye::left) == 1.0);
}

TEST_CASE("a stack of prisms costs what it does, in prism dioptres", "[scoring]") {
  // 5 on 40 in glass, bases alike, act as 59 in the Prentice position (Thompson & Guyton 1983): far
  // beyond any tolerance. 2 on 4 in plastic is a lapse that changes next to nothing.
  const auto stack = [](const Patient& p, double inner, double outer, PrismMaterial material) {
    std::vector<Act> acts = measure(Eye::right, {inner}, base_out(Eye::right));
    auto& first = std::get<act::HoldPrism>(acts[2].content);
    first.material = material;
    if (material == PrismMaterial::glass) first.held = PrismHold::prentice;
    act::HoldPrism second = first;
    second.power = PrismDioptres{outer};
    second.slot = 2;
    acts.insert(acts.begin() + 3, {acts[2].at_ms, second});
    const ScoreSheet sheet = score(p, acts);
    const ItemScore& c4 = item(sheet, Item::c4);
    INFO(c4.why);
    CHECK(c4.why.find("Δ off here") != std::string::npos);
    return c4.marks / c4.max;
  };
  const Patient large = make_patient(R"("deviation": {"distance_pd": 45, "near_pd": 45},
    "fusion": {"present": false}, "sensory": {"preferred_eye": "left", "preference": 1.0,
    "suppression": {"eye": "right", "scotoma_diameter_deg": 5}})");
  CHECK(stack(large, 40, 5, PrismMaterial::glass) == 0.0);
  const Patient small = make_patient(R"("deviation": {"distance_pd": 6, "near_pd": 6})");
  CHECK(stack(small, 4, 2, PrismMaterial::plastic) == 0.5);
}

TEST_CASE("what measurement error alone costs of the marks for size", "[scoring]") {
  // Rubric, sanity tests: an expert's spread of 1.1 costs 0.3 of the 9 marks at truth up to 10, a
  // student's of 1.6 about 1. By the normal distribution: 1 - P(|e| <= 2) is lost by half and
  // 1 - P(|e| <= 4) by the other half.
  const auto beyond = [](double limit, double sd) {
    return std::erfc(limit / sd / std::sqrt(2.0));
  };
  const double tolerance = calc_tolerance(8.0, false, false);
  const auto lost = [&](double sd) {
    return 9.0 * 0.5 * (beyond(tolerance, sd) + beyond(2.0 * tolerance, sd));
  };
  CHECK(lost(1.1) == Approx(0.3).margin(0.05));
  CHECK(lost(1.6) == Approx(1.0).margin(0.1));
}
