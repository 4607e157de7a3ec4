// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Tests that a case names, part E: marked only if done, and read right within practice's B3. And a
// head that is held askew.
#include <catch2/catch.hpp>

#include <string>
#include <utility>
#include <vector>

#include "sim/scoring/called_for.hpp"
#include "sim/scoring/score.hpp"
#include "tests/scoring/scored_patient.hpp"

using namespace redress;
using namespace redress::scoring;
using namespace redress::tests;

namespace {

const ItemScore& item(const ScoreSheet& sheet, Item which) {
  return sheet.items.at(static_cast<std::size_t>(which));
}

ScoreSheet score(const Patient& p, const std::vector<Act>& acts) {
  return calc_score(p.the_case, p.setup, acts, Chance{1, 0.0, true},
                    record::calc_default_until(acts), p.truth);
}

double share_of_e(const Patient& p, const std::vector<Act>& acts) {
  const ItemScore e = item(score(p, acts), Item::e);
  INFO(e.why);
  CHECK(e.grade != Grade::removed);
  return e.marks / e.max;
}

Act note(Tick at_ms, const Finding& finding) { return {at_ms, act::Note{finding}}; }

Finding near_point(double break_cm) {
  Finding f;
  f.test = FindingTest::near_point;
  f.break_value = break_cm;
  return f;
}

}  // namespace

TEST_CASE("called for: the near point, done and read", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": -1, "near_pd": -9,
    "ac_a_pd_per_d": 2}, "fusion": {"near": {"base_out_pd": [7, 12, 6],
    "base_in_pd": [14, 22, 14]}}, "expected": {"tests": ["near_point"]})");
  std::vector<Act> acts{show(0, 0.4)};
  Tick t = 2000;
  for (double cm = 40.0; cm > 5.0; cm -= 0.3, t += 100) acts.push_back(show(t, 0.01 * cm));
  const Tick end = t + 500;
  const auto found = findings::gather_evidence(p.setup, acts, Chance{1, 0.0, true}, end);
  REQUIRE(found.approaches.size() == 1);
  REQUIRE(found.approaches[0].break_cm);
  const double there = *found.approaches[0].break_cm;

  CHECK(share_of_e(p, {note(1000, near_point(there))}) == 0.0);  // written, never done
  CHECK(share_of_e(p, acts) == 0.5);                             // done, not written
  const auto with = [&](double cm) {
    std::vector<Act> all = acts;
    all.push_back(note(end, near_point(cm)));
    return all;
  };
  CHECK(share_of_e(p, with(there + 1.9)) == 1.0);
  CHECK(share_of_e(p, with(there + 2.0 + 0.25 * there)) == 0.5);
  // The mark says when it was shown.
  const ScoreSheet sheet = score(p, with(there));
  REQUIRE(item(sheet, Item::e).evidence.size() == 2);
  CHECK(item(sheet, Item::e).evidence[0].at_ms == found.approaches[0].at_ms);
}

TEST_CASE("called for: a reserve, within a step of the bar", "[scoring]") {
  // Exo is held by the reserve base out, and that is the one called for.
  const Patient p = make_patient(R"("deviation": {"distance_pd": -6, "near_pd": -6},
    "fusion": {"distance": {"base_out_pd": [9, 19, 10], "base_in_pd": [null, 7, 4]}},
    "expected": {"tests": ["reserves"]})");
  std::vector<Act> acts{show(0, 6.0)};
  Tick t = 2000;
  for (const double label : {4.0, 8.0, 12.0, 16.0, 18.0, 20.0, 25.0}) {
    acts.push_back(hold_prism(t, Eye::right, label, base_out(Eye::right)));
    t += 3500;
  }
  acts.push_back(remove_prism(t, Eye::right));
  const auto with = [&](double break_pd) {
    std::vector<Act> all = acts;
    Finding f;
    f.test = FindingTest::reserves;
    f.distance_m = 6.0;
    f.base = "out";
    f.break_value = break_pd;
    all.push_back(note(t + 1000, f));
    return all;
  };
  CHECK(share_of_e(p, with(20)) == 1.0);
  CHECK(share_of_e(p, with(18)) == 1.0);
  CHECK(share_of_e(p, with(12)) == 0.5);
  CHECK(share_of_e(p, {acts[0]}) == 0.0);
  // Where neither way is held against, both are: one of them is half.
  Patient straight = make_patient(R"("deviation": {"distance_pd": -1, "near_pd": -2},
    "fusion": {"distance": {"base_out_pd": [9, 19, 10], "base_in_pd": [null, 7, 4]}},
    "expected": {"tests": ["reserves"]})");
  CHECK(share_of_e(straight, with(20)) == 0.5);
  std::vector<Act> both = with(20);
  for (const double label : {2.0, 4.0, 6.0, 8.0, 10.0}) {
    both.push_back(hold_prism(t + 3000, Eye::right, label, base_in(Eye::right)));
    t += 3500;
  }
  both.push_back(remove_prism(t + 3000, Eye::right));
  Finding in;
  in.test = FindingTest::reserves;
  in.distance_m = 6.0;
  in.base = "in";
  in.break_value = 8.0;
  both.push_back(note(t + 4000, in));
  CHECK(share_of_e(straight, both) == 1.0);
}

TEST_CASE("called for: each position of gaze counts for itself, tested and written", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": 0, "near_pd": 0},
    "muscles": {"right": {"lateral_rectus": {"strength": 0.4}}},
    "expected": {"tests": ["nine_gazes"]})",
                                 {true, false, false});
  constexpr double kSides[][2] = {{25, 0}, {-25, 0}, {0, 25}, {0, -25}};
  std::vector<Act> acts{{0, act::Instruct{Instruction::look}}};
  Tick t = 1000;
  for (const auto& [horizontal, vertical] : kSides) {
    acts.push_back(show(t, 6.0, horizontal, vertical));
    t += 2500;
    for (int i = 0; i < 6; ++i, t += 1500) {
      acts.push_back(cover(t, i % 2 == 0 ? Eye::right : Eye::left));
    }
    acts.push_back(uncover(t));
    t += 2500;
  }
  // What is there in the first `written` of them, with the left eye fixing.
  const auto with = [&](std::size_t written) {
    std::vector<Act> all = acts;
    for (std::size_t i = 0; i < written; ++i) {
      Finding f;
      f.test = FindingTest::gaze;
      f.distance_m = 6.0;
      f.gaze_horizontal_deg = kSides[i][0];
      f.gaze_vertical_deg = kSides[i][1];
      f.fixing = FindingEye::left;
      for (const truth::Position& there : p.truth.gaze) {
        if (there.fixing != Eye::left || there.horizontal_deg != kSides[i][0] ||
            there.vertical_deg != kSides[i][1]) {
          continue;
        }
        f.horizontal_pd = there.horizontal_pd;
        f.vertical_pd = there.vertical_pd;
      }
      REQUIRE(f.horizontal_pd);
      all.push_back(note(t += 100, f));
    }
    return all;
  };
  CHECK(share_of_e(p, with(4)) == 1.0);
  CHECK(share_of_e(p, with(1)) == Approx(0.5 + 0.5 / 4));
  CHECK(share_of_e(p, with(0)) == 0.5);
  const ItemScore e = item(score(p, with(1)), Item::e);
  CHECK(e.why.find("eyes 25° left not written") != std::string::npos);
  int movements = 0;
  for (const MarkEvidence& each : e.evidence) {
    if (each.what.find("after the cover crossed over") != std::string::npos) ++movements;
  }
  CHECK(movements >= 1);
}

TEST_CASE("called for: which eye falls short", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": 0, "near_pd": 0},
    "muscles": {"right": {"lateral_rectus": {"strength": 0.0}}},
    "expected": {"tests": ["eye_movements"]})");
  const auto with = [&](SeenWay right, SeenWay left) {
    Finding f;
    f.test = FindingTest::motility;
    f.falls_short.right = right;
    f.falls_short.left = left;
    return std::vector<Act>{show(0, 6.0), show(2000, 6.0, 30), show(4000, 6.0, -30), note(6000, f)};
  };
  CHECK(share_of_e(p, with(SeenWay::out, SeenWay::none)) == 1.0);
  CHECK(share_of_e(p, with(SeenWay::in, SeenWay::none)) == 0.5);
  CHECK(share_of_e(p, with(SeenWay::out, SeenWay::out)) == 0.5);
}

TEST_CASE("called for: what nothing could have shown is noted", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": 0, "near_pd": 0})");
  std::vector<Act> acts{show(0, 6.0)};
  Tick t = 1000;
  for (const FindingTest test :
       {FindingTest::near_point, FindingTest::reserves, FindingTest::gaze, FindingTest::control,
        FindingTest::reflexes, FindingTest::motility}) {
    Finding f;
    f.test = test;
    f.break_value = 10;
    f.base = "out";
    f.gaze_horizontal_deg = 25;
    f.control = 2;
    acts.push_back(note(t += 500, f));
  }
  const ScoreSheet sheet = score(p, acts);
  REQUIRE_FALSE(sheet.notes.empty());
  CHECK(sheet.notes[0].find("6 entries") == 0);
}

TEST_CASE("a head held askew: what is found so counts as found so", "[scoring]") {
  // A right superior oblique palsy of long standing, the head tilted to the left by 20: with it so
  // 3 or so of height, straight 12 or so (practice, 2.6). The covers are as good as any; that the
  // head was never straightened costs C5 and nothing else of the technique.
  const Patient p = make_patient(R"("deviation": {"distance_pd": 0, "near_pd": 0},
    "patient": {"head_posture": {"roll_deg": -20}},
    "fusion": {"vertical": {"right_supra_pd": [12, 8], "right_infra_pd": [6, 3]}},
    "muscles": {"right": {"superior_oblique": {"strength": 0.3}}})");
  const auto story = [](bool straighten) {
    std::vector<Act> acts{show(0, 6.0), {0, act::Instruct{Instruction::look}}};
    if (straighten) acts.push_back({1000, act::TiltHead{0, 0, 0, 500}});
    Tick t = 6000;
    for (const double distance_m : {6.0, 0.4}) {
      acts.push_back(show(t, distance_m));
      t += 3000;
      for (const Eye eye : {Eye::right, Eye::left, Eye::right, Eye::left}) {
        acts.push_back(cover(t, eye));
        acts.push_back(uncover(t + 5000));
        t += 9000;
      }
    }
    return acts;
  };
  const ScoreSheet askew = score(p, story(false));
  const ScoreSheet straight = score(p, story(true));
  for (const Item i : {Item::a2, Item::a3, Item::a4, Item::b1, Item::b2, Item::b4}) {
    INFO(kRubric[static_cast<std::size_t>(i)].name << ": " << item(askew, i).why);
    CHECK(item(askew, i).marks / item(askew, i).max ==
          Approx(item(straight, i).marks / item(straight, i).max));
    CHECK(item(askew, i).marks > 0.0);
  }
  CHECK(item(askew, Item::c5).why.find("head straight") != std::string::npos);
  CHECK(item(straight, Item::c5).why.find("Never with the head straight") == std::string::npos);
}

TEST_CASE("every mark for a finding cites the moment and the movement that shows it", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": -6, "near_pd": -9})");
  std::vector<Act> acts;
  Tick t = 1000;
  for (const double distance_m : {6.0, 0.4}) {
    acts.push_back(show(t, distance_m));
    t += 3000;
    for (const Eye eye : {Eye::right, Eye::left, Eye::right, Eye::left}) {
      acts.push_back(cover(t, eye));
      acts.push_back(uncover(t + 4000));
      t += 8000;
    }
  }
  for (const auto& [distance_m, size_pd] : {std::pair{6.0, -6.0}, std::pair{0.4, -9.0}}) {
    Finding f;
    f.distance_m = distance_m;
    f.kind = FindingKind::phoria;
    f.horizontal_pd = size_pd;
    f.recovery = RecoveryGrade::rapid;
    acts.push_back(note(t += 500, f));
  }
  const ScoreSheet sheet = score(p, acts);
  for (const Item which : {Item::d1, Item::d2, Item::d3}) {
    const ItemScore& i = item(sheet, which);
    INFO(kRubric[static_cast<std::size_t>(which)].name << ": " << i.why);
    CHECK(i.grade == Grade::full);
    int movements = 0;
    for (const MarkEvidence& e : i.evidence) {
      if (e.what.find(" eye ") == std::string::npos || e.what.find(" in, ") == std::string::npos) {
        continue;
      }
      ++movements;
      CHECK(e.at_ms > 1000);
      CHECK(e.at_ms < t - 1500);
    }
    CHECK(movements == 2);  // one at each distance: an exo eye comes in
  }
  bool single_again = false;
  for (const MarkEvidence& e : item(sheet, Item::d5).evidence) {
    single_again = single_again || e.what.find("single again") != std::string::npos;
  }
  CHECK(single_again);
}
