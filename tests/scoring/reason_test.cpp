// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Part G: what counts as the impression that a case accepts, and what a red flag asks of the
// record. History before the first cover (A1) by the thresholds of the rubric.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "sim/scoring/items.hpp"
#include "sim/scoring/score.hpp"
#include "sim/scoring/wording.hpp"
#include "tests/scoring/scored_patient.hpp"

using namespace redress;
using namespace redress::scoring;
using namespace redress::tests;

namespace {

/// A constant right esotropia of 20, the left eye fixing.
Patient make_right_esotrope(const std::string& expected) {
  return make_patient(R"("deviation": {"distance_pd": 20, "near_pd": 20},
    "fusion": {"present": false}, "sensory": {"preferred_eye": "left", "preference": 1.0,
    "suppression": {"eye": "right", "scotoma_diameter_deg": 5}}, "expected": )" +
                      expected);
}

ScoreSheet score(const Patient& p, const std::vector<Act>& acts) {
  return calc_score(p.the_case, p.setup, acts, Chance{1, 0.0, true},
                    record::calc_default_until(acts), p.truth);
}

const ItemScore& item(const ScoreSheet& sheet, Item which) {
  return sheet.items.at(static_cast<std::size_t>(which));
}

double share(const ScoreSheet& sheet, Item which) {
  const ItemScore& i = item(sheet, which);
  INFO(kRubric[static_cast<std::size_t>(which)].name << ": " << i.why);
  REQUIRE(i.grade != Grade::removed);
  return i.marks / i.max;
}

Finding esotropia_at(double distance_m) {
  Finding f;
  f.test = FindingTest::cover_test;
  f.distance_m = distance_m;
  f.kind = FindingKind::tropia;
  f.constancy = Constancy::constant;
  f.eye = FindingEye::right;
  f.horizontal_pd = 20.0;
  f.vertical_pd = 0.0;
  f.method = SizeMethod::estimated;
  return f;
}

/// Each eye covered twice at both distances and a right esotropia written; asked before it.
std::vector<Act> examine(const std::vector<std::string>& asked = {"onset"}) {
  std::vector<Act> acts;
  for (const std::string& key : asked) acts.push_back({0, act::Ask{key}});
  Tick t = 5000;
  for (const double distance_m : {6.0, 0.4}) {
    acts.push_back(show(t, distance_m));
    t += 4000;
    for (const Eye eye : {Eye::right, Eye::left, Eye::right, Eye::left}) {
      acts.push_back(cover(t, eye));
      acts.push_back(uncover(t + 3000));
      t += 6000;
    }
  }
  for (const double distance_m : {6.0, 0.4}) {
    acts.push_back({t += 500, act::Note{esotropia_at(distance_m)}});
  }
  return acts;
}

double share_of_impression(const Patient& p, const std::string& words) {
  std::vector<Act> acts = examine();
  Finding f;
  f.test = FindingTest::impression;
  f.diagnosis = words;
  acts.push_back({acts.back().at_ms + 500, act::Note{f}});
  const ScoreSheet sheet = score(p, acts);
  INFO(words << ": " << item(sheet, Item::g1).why);
  return share(sheet, Item::g1);
}

ScoreSheet score_plan(const Patient& p, const std::string& advice,
                      const std::optional<Urgency>& urgency) {
  std::vector<Act> acts = examine();
  Finding f;
  f.test = FindingTest::plan;
  f.advice = advice;
  f.urgency = urgency;
  acts.push_back({acts.back().at_ms + 500, act::Note{f}});
  return score(p, acts);
}

const Cap* find_cap(const ScoreSheet& sheet, int rule) {
  for (const Cap& cap : sheet.caps) {
    if (cap.rule == rule) return &cap;
  }
  return nullptr;
}

constexpr const char* kFlag =
    R"({"diagnosis": "acute esotropia", "urgency": "same_day", "red_flag": true})";

}  // namespace

TEST_CASE("an accepted wording is the impression in any order, with what is so beside it",
          "[scoring]") {
  const Patient p = make_right_esotrope(R"({"diagnosis": "right esotropia"})");
  for (const char* words :
       {"right esotropia", "Right Esotropia.", "esotropia, right", "constant right esotropia",
        "comitant right esotropia 20Δ", "suspected right esotropia", "RET", "R esotropia",
        "esotropia of the right eye", "right manifest esotropia"}) {
    INFO(words);
    CHECK(share_of_impression(p, words) == 1.0);
  }
}

TEST_CASE("an accepted wording inside another that says something else is not accepted",
          "[scoring]") {
  const Patient p = make_right_esotrope(R"({"diagnosis": "right esotropia",
                                            "accepted": ["esotropia"]})");
  for (const char* words :
       {"pseudo-esotropia", "pseudoesotropia", "esotropia excluded", "no esotropia",
        "left esotropia", "esotropia or exotropia", "intermittent esotropia",
        "esotropia and exotropia", "esotropia ruled out", "not esotropia but a broad bridge",
        "esotropia unlikely", "esotropia with a sixth nerve palsy"}) {
    INFO(words);
    CHECK(share_of_impression(p, words) < 1.0);
  }
  // What takes it back, or names two that exclude one another, is worth nothing at all.
  for (const char* words : {"pseudo-esotropia", "esotropia excluded", "no esotropia",
                            "esotropia or exotropia", "esotropia unlikely"}) {
    INFO(words);
    CHECK(share_of_impression(p, words) == 0.0);
  }
}

TEST_CASE("the side belongs to a palsy, and which comes first to a height", "[scoring]") {
  const Patient palsy = make_right_esotrope(
      R"({"diagnosis": "right sixth nerve palsy", "accepted": ["right over left phoria"]})");
  CHECK(share_of_impression(palsy, "right sixth nerve palsy") == 1.0);
  CHECK(share_of_impression(palsy, "right VI paresis") == 1.0);
  CHECK(share_of_impression(palsy, "right abducens palsy") == 1.0);
  CHECK(share_of_impression(palsy, "sixth nerve palsy") == 0.5);  // the right family
  CHECK(share_of_impression(palsy, "left sixth nerve palsy") == 0.0);
  CHECK(share_of_impression(palsy, "right sixth nerve palsy excluded") == 0.0);
  CHECK(share_of_impression(palsy, "right over left phoria") == 1.0);
  CHECK(share_of_impression(palsy, "left over right phoria") < 1.0);
}

TEST_CASE("a red flag has to be sent to somebody, and how soon has to be said", "[scoring]") {
  const Patient p = make_right_esotrope(kFlag);
  // Rubric, rule 1: no referral, at most 39 and unsafe, however soon.
  for (const auto& urgency : {std::optional<Urgency>(), std::optional(Urgency::same_day)}) {
    const ScoreSheet kept = score_plan(p, "Glasses; review.", urgency);
    CHECK(kept.unsafe);
    REQUIRE(find_cap(kept, 1) != nullptr);
    CHECK(find_cap(kept, 1)->limit == 39.0);
    CHECK(find_cap(kept, 1)->why == "A red flag, and the patient was sent to nobody.");
    CHECK_FALSE(find_cap(kept, 1)->evidence.empty());
  }
  CHECK(find_cap(score_plan(p, "No referral.", Urgency::same_day), 1)->limit == 39.0);
  // Sent on, and nobody knows how soon: as one step too slow, pass mark less one.
  const ScoreSheet unsaid = score_plan(p, "Refer to ophthalmology.", std::nullopt);
  CHECK_FALSE(unsaid.unsafe);
  REQUIRE(find_cap(unsaid, 1) != nullptr);
  CHECK(find_cap(unsaid, 1)->limit == 59.0);
  CHECK(share(unsaid, Item::g3) == 0.0);
  // The emergency department is the same day by itself.
  const ScoreSheet emergency = score_plan(p, "Emergency department.", std::nullopt);
  CHECK(find_cap(emergency, 1) == nullptr);
  CHECK(share(emergency, Item::g3) == 1.0);
  const ScoreSheet slow = score_plan(p, "Refer to ophthalmology.", Urgency::urgent);
  CHECK(find_cap(slow, 1)->limit == 59.0);
  CHECK(find_cap(slow, 1)->why ==
        "\"urgent\" was written where it is \"same day\": one step too slow.");
}

TEST_CASE("an emergency that is none costs, said or sent", "[scoring]") {
  const Patient p =
      make_right_esotrope(R"({"diagnosis": "right esotropia", "urgency": "routine"})");
  for (const auto& urgency : {std::optional<Urgency>(), std::optional(Urgency::same_day)}) {
    const ScoreSheet sheet = score_plan(p, "Emergency department.", urgency);
    REQUIRE(find_cap(sheet, 5) != nullptr);
    CHECK(find_cap(sheet, 5)->limit == 79.0);
    CHECK_FALSE(sheet.unsafe);
    CHECK(share(sheet, Item::g3) == 0.0);
  }
}

TEST_CASE("history goes by four fifths and by half of the key questions", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": 0, "near_pd": 0},
    "patient": {"answers": {"onset": "a", "double_vision": "b", "variation": "c",
                            "headache": "d", "injury": "e"}},
    "teaching": {"key_questions": ["onset", "double_vision", "variation", "headache", "injury"]})");
  const std::vector<std::string> keys{"onset", "double_vision", "variation", "headache", "injury"};
  const auto first = [&keys](std::size_t n) {
    return std::vector<std::string>(keys.begin(), keys.begin() + static_cast<std::ptrdiff_t>(n));
  };
  const auto share_of = [&](const std::vector<Act>& acts) {
    return share(score(p, acts), Item::a1);
  };
  CHECK(share_of(examine(first(5))) == 1.0);
  CHECK(share_of(examine(first(4))) == 1.0);
  CHECK(share_of(examine(first(3))) == 0.5);
  CHECK(share_of(examine(first(2))) == 0.0);
  CHECK(share_of(examine({})) == 0.0);
  // All of them, but only after the covers.
  std::vector<Act> late = examine({});
  const Tick end = late.back().at_ms;
  for (const std::string& key : keys) late.push_back({end + 500, act::Ask{key}});
  CHECK(share_of(late) == 0.5);
}
