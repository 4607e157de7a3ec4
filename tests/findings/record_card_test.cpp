// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "sim/findings/record_card.hpp"
#include "sim/findings/recovery.hpp"

using namespace redress;
using namespace redress::findings;

namespace {

Act note(Tick at_ms, FindingTest test, double distance_m, FindingKind kind, double horizontal_pd) {
  Finding f;
  f.test = test;
  f.distance_m = distance_m;
  f.spectacles = false;
  f.kind = kind;
  f.horizontal_pd = horizontal_pd;
  return {at_ms, act::Note{f}};
}

}  // namespace

TEST_CASE("of several entries for the same thing the latest counts", "[findings]") {
  const std::vector<Act> acts{note(1000, FindingTest::cover_test, 6.0, FindingKind::phoria, -4),
                              note(2000, FindingTest::cover_test, 0.4, FindingKind::phoria, -8),
                              note(3000, FindingTest::cover_test, 6.1, FindingKind::phoria, -6)};
  const RecordCard card = make_card(acts);
  REQUIRE(card.entries.size() == 2);
  const WrittenFinding* six = find_entry(card, FindingTest::cover_test, 6.0, false);
  REQUIRE(six != nullptr);
  CHECK(six->at_ms == 3000);
  CHECK(find_entry(card, FindingTest::prism_cover, 6.0, false) == nullptr);
  CHECK(find_entry(card, FindingTest::cover_test, 6.0, true) == nullptr);
  CHECK(card.contradictions.empty());
}

TEST_CASE("contradictions are pointed out and kept", "[findings]") {
  const std::vector<Act> acts{note(1000, FindingTest::cover_test, 6.0, FindingKind::phoria, -4),
                              note(2000, FindingTest::prism_cover, 6.0, FindingKind::phoria, 5),
                              note(3000, FindingTest::cover_test, 0.4, FindingKind::none, -6),
                              note(4000, FindingTest::cover_test, 1.0, FindingKind::tropia, -6)};
  const RecordCard card = make_card(acts);
  CHECK(card.entries.size() == 4);
  REQUIRE(card.contradictions.size() == 3);
  CHECK(card.contradictions[0].what == "6 m sc: the deviation is written as eso and as exo.");
  CHECK(card.contradictions[1].what == "40 cm sc: no movement is written beside a size.");
  const nlohmann::json json = to_json(card);
  CHECK(json.at("entries").size() == 4);
  CHECK(json.at("entries").at(0).at("finding").at("test") == "cover_test");
  CHECK(json.at("contradictions").size() == 3);
}

TEST_CASE("words for recovery", "[findings]") {
  CHECK(grade_recovery(1400) == RecoveryGrade::rapid);
  CHECK(grade_recovery(2000) == RecoveryGrade::moderate);
  CHECK(grade_recovery(4000) == RecoveryGrade::slow);
  CHECK(grade_recovery(std::nullopt) == RecoveryGrade::none);
}

namespace {

/// What is pointed out about these entries, one a line.
std::string contradictions(const std::vector<Finding>& findings) {
  std::vector<Act> acts;
  Tick t = 0;
  for (const Finding& f : findings) acts.push_back({t += 1000, act::Note{f}});
  const RecordCard card = make_card(acts);
  CHECK(card.entries.size() == findings.size());  // never forbidden
  std::string all;
  for (const Contradiction& c : card.contradictions) all += c.what + "\n";
  return all;
}

Finding covers(FindingKind kind, double horizontal_pd) {
  Finding f;
  f.test = FindingTest::cover_test;
  f.distance_m = 6.0;
  f.spectacles = false;
  f.kind = kind;
  f.eye = FindingEye::right;
  f.horizontal_pd = horizontal_pd;
  return f;
}

}  // namespace

TEST_CASE("contradictions between what moved and what it is called", "[findings]") {
  // An eye that comes in was out: exo.
  Finding phoria = covers(FindingKind::phoria, -6);
  phoria.on_cover.left = SeenWay::none;
  phoria.on_uncover.right = SeenWay::in;
  CHECK(contradictions({phoria}).empty());
  phoria.on_uncover.right = SeenWay::out;
  CHECK(contradictions({phoria}).find("do not go together") != std::string::npos);
  phoria.on_uncover.right.reset();
  phoria.on_cover.left = SeenWay::in;
  CHECK(contradictions({phoria}).find("a phoria is written, and that an eye moved") !=
        std::string::npos);
  Finding tropia = covers(FindingKind::tropia, 20);
  tropia.constancy = Constancy::constant;
  tropia.on_cover = {SeenWay::none, SeenWay::none};
  CHECK(contradictions({tropia}).find("neither eye moved") != std::string::npos);
  tropia.on_cover.right = SeenWay::out;
  CHECK(contradictions({tropia}).empty());
}

TEST_CASE("contradictions with numbers, control and driving", "[findings]") {
  Finding near;
  near.test = FindingTest::near_point;
  near.break_value = 9;
  near.recovery_value = 6;
  CHECK(contradictions({near}).find("nearer than its break") != std::string::npos);
  near.recovery_value = 12;
  CHECK(contradictions({near}).empty());
  Finding reserve;
  reserve.test = FindingTest::reserves;
  reserve.base = "out";
  reserve.break_value = 12;
  reserve.recovery_value = 16;
  CHECK(contradictions({reserve}).find("above its break") != std::string::npos);
  Finding not_done = covers(FindingKind::phoria, -6);
  not_done.not_done = "would not sit still";
  CHECK(contradictions({not_done}).find("could not be tested") != std::string::npos);
  Finding control;
  control.test = FindingTest::control;
  control.distance_m = 6.0;
  control.spectacles = false;
  control.control = 4;
  CHECK(contradictions({covers(FindingKind::phoria, -6), control}).find("control of 3") !=
        std::string::npos);
  control.control = 2;
  CHECK(contradictions({covers(FindingKind::phoria, -6), control}).empty());
  Finding seen = covers(FindingKind::tropia, 20);
  seen.constancy = Constancy::constant;
  seen.double_vision = true;
  Finding plan;
  plan.test = FindingTest::plan;
  plan.driving = Driving::no_bar;
  CHECK(contradictions({seen, plan}).find("driving") != std::string::npos);
  plan.driving = Driving::not_until_controlled;
  CHECK(contradictions({seen, plan}).empty());
}

TEST_CASE("contradictions of a plan and of gazes are pointed out", "[findings]") {
  const auto says = [](const std::vector<WrittenFinding>& notes, const char* what) {
    const RecordCard card = make_card(notes);
    return std::any_of(card.contradictions.begin(), card.contradictions.end(),
                       [&](const Contradiction& c) { return c.what.find(what) == 0; });
  };
  Finding plan;
  plan.test = FindingTest::plan;
  plan.parts = {PlanPart::no_treatment};
  CHECK_FALSE(says({{0, plan}}, "The plan says that no treatment"));
  plan.parts.push_back(PlanPart::refer_neurology);
  CHECK(says({{0, plan}}, "The plan says that no treatment"));
  plan.parts = {PlanPart::exercises};
  plan.urgency = Urgency::urgent;
  plan.next_weeks = 8;
  CHECK(says({{0, plan}}, "The plan is urgent"));
  plan.parts.push_back(PlanPart::refer_ophthalmology);
  CHECK_FALSE(says({{0, plan}}, "The plan is urgent"));

  const auto gaze = [](double across, double up, double size) {
    Finding f;
    f.test = FindingTest::gaze;
    f.gaze_horizontal_deg = across;
    f.gaze_vertical_deg = up;
    f.horizontal_pd = size;
    return WrittenFinding{1, f};
  };
  Finding whole;
  whole.comitant = true;
  std::vector<WrittenFinding> notes{{0, whole}, gaze(0, 0, 18), gaze(25, 0, 28), gaze(-25, 0, 6)};
  CHECK(says(notes, "Comitant is written"));
  whole.comitant = false;
  notes = {{0, whole},      gaze(0, 0, 8),  gaze(25, 0, 9),
           gaze(-25, 0, 7), gaze(0, 25, 8), gaze(0, -25, 8)};
  CHECK(says(notes, "Incomitant is written"));
  notes.pop_back();
  CHECK_FALSE(says(notes, "Incomitant is written"));  // not all sides were written
}
