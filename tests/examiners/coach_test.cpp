// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The coach goes through the routine in its order, and says the same whatever the eyes do.
#include "sim/examiners/coach.hpp"

#include <catch2/catch.hpp>

#include <cctype>
#include <string>
#include <vector>

#include "sim/examiners/examine.hpp"
#include "sim/findings/gatherer.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::examiners;
using namespace redress::tests;

namespace {

/// Somebody who does what is said, and asks after each thing what is next.
class Pupil {
 public:
  explicit Pupil(const Case& the_case)
      : setup_(setup_of(the_case)), exam_(setup_, Chance{1, 1.0, true}), gatherer_(setup_) {}

  void does(const ActContent& content) {
    exam_.apply(content);
    gatherer_.act({exam_.now(), content}, exam_.room());
  }
  void waits(Tick ms) {
    for (Tick t = 0; t < ms; ++t) {
      gatherer_.row(exam_.observe(), exam_.room());
      exam_.step();
    }
  }
  void covers(Eye eye, Tick ms) {
    act::Cover cover;
    cover.eye = eye;
    does(cover);
    waits(ms);
  }
  void covers_alone(Eye eye, Tick ms) {
    covers(eye, ms);
    does(act::Uncover{});
    waits(3500);
  }
  void alternates(int transfers) {
    for (int i = 0; i <= transfers; ++i) covers(i % 2 == 0 ? Eye::right : Eye::left, 1500);
    does(act::Uncover{});
    waits(2500);
  }
  void approaches() {
    act::ShowTarget target;
    for (double cm = 40.0; cm > 8.0; cm -= 0.5) {
      target.distance_m = 0.01 * cm;
      does(target);
      waits(100);
    }
    target.distance_m = 0.4;
    does(target);
    waits(500);
  }
  void writes(FindingTest test, std::optional<FindingKind> kind = {}) {
    Finding f;
    f.test = test;
    if (test == FindingTest::cover_test || test == FindingTest::prism_cover) {
      f.distance_m = exam_.room().target.place.distance_m;
    }
    f.kind = kind;
    does(act::Note{f});
  }
  [[nodiscard]] Advice hears() const {
    Advice advice = advise(gatherer_.so_far(), exam_.room());
    CHECK(advice.next.size() <= kLongestAdvice);
    CHECK(advice.why.size() <= kLongestAdvice);
    return advice;
  }
  [[nodiscard]] Step next() const { return hears().step; }

 private:
  ExaminationSetup setup_;
  Examination exam_;
  findings::Gatherer gatherer_;
};

void begin(Pupil& pupil) {
  pupil.does(act::Ask{"onset"});
  pupil.waits(1500);
  pupil.does(act::Ask{"double_vision"});
  pupil.does(act::Instruct{Instruction::look});
  pupil.waits(4000);
}

void cover_each_eye(Pupil& pupil) {
  for (int i = 0; i < 2; ++i) {
    pupil.covers_alone(Eye::right, 3000);
    pupil.covers_alone(Eye::left, 3000);
  }
}

}  // namespace

TEST_CASE("the coach: the routine in its order", "[examiners]") {
  Pupil pupil(case_with_deviation(-8, -8));
  CHECK(pupil.next() == Step::ask);
  pupil.does(act::Ask{"onset"});
  CHECK(pupil.next() == Step::ask);
  pupil.waits(1500);
  pupil.does(act::Ask{"double_vision"});
  CHECK(pupil.next() == Step::tell);
  pupil.does(act::Instruct{Instruction::look});
  CHECK(pupil.next() == Step::look);
  pupil.waits(4000);
  CHECK(pupil.next() == Step::one_eye);
  CHECK(pupil.hears().next.find("cover the right eye") != std::string::npos);
  pupil.covers_alone(Eye::right, 1200);
  CHECK(pupil.next() == Step::longer);
  pupil.covers_alone(Eye::right, 3000);
  CHECK(pupil.next() == Step::one_eye);
  CHECK(pupil.hears().next.find("cover the left eye") != std::string::npos);
  cover_each_eye(pupil);
  CHECK(pupil.next() == Step::alternate);
  pupil.alternates(8);
  CHECK(pupil.next() == Step::write);
  pupil.writes(FindingTest::cover_test, FindingKind::phoria);
  CHECK(pupil.next() == Step::prism);
  for (const double label : {8.0, 10.0}) {
    pupil.does(hold_prism(0, Eye::right, label, base_in(Eye::right)).content);
    pupil.alternates(4);
    CHECK(pupil.next() == (label < 9.0 ? Step::neutralise : Step::write_size));
  }
  pupil.writes(FindingTest::prism_cover);
  CHECK(pupil.next() == Step::put_away);
  pupil.does(act::RemovePrism{});
  CHECK(pupil.next() == Step::go_to);
  act::ShowTarget near;
  near.distance_m = 0.4;
  pupil.does(near);
  CHECK(pupil.next() == Step::one_eye);
  cover_each_eye(pupil);
  pupil.alternates(8);
  pupil.writes(FindingTest::cover_test, FindingKind::none);
  // What was written, a phoria at 6 m, calls for what comes after the routine.
  CHECK(pupil.next() == Step::sides);
  for (const double gaze_deg : {25.0, -25.0, 0.0}) {
    pupil.does(show(0, 6.0, gaze_deg).content);
    pupil.waits(1000);
  }
  CHECK(pupil.next() == Step::write_sides);
  pupil.writes(FindingTest::motility);
  CHECK(pupil.next() == Step::near_point);
  pupil.approaches();
  CHECK(pupil.next() == Step::near_point);  // once is not enough
  pupil.approaches();
  CHECK(pupil.next() == Step::write_near_point);
  pupil.writes(FindingTest::near_point);
  CHECK(pupil.next() == Step::reserves);
  for (const double label : {2.0, 4.0, 6.0, 8.0}) {
    pupil.does(hold_prism(0, Eye::right, label, base_out(Eye::right)).content);
    pupil.waits(1500);
  }
  pupil.does(act::RemovePrism{});
  CHECK(pupil.next() == Step::write_reserves);
  pupil.writes(FindingTest::reserves);
  CHECK(pupil.next() == Step::impression);
  pupil.writes(FindingTest::impression);
  CHECK(pupil.next() == Step::plan);
  pupil.writes(FindingTest::plan);
  CHECK(pupil.next() == Step::finish);
}

TEST_CASE("the coach goes on by what was written, and never by what is there", "[examiners]") {
  // The same doings and the same words of four patients: the same advice, to the end of the card.
  const Case patients[] = {case_with_deviation(0, 0), case_with_deviation(-25, -25),
                           case_with_deviation(15, 22)};
  for (const FindingKind kind : {FindingKind::none, FindingKind::tropia}) {
    for (const Case& patient : patients) {
      Pupil pupil(patient);
      begin(pupil);
      for (const double distance_m : {6.0, 0.4}) {
        pupil.does(show(0, distance_m).content);
        cover_each_eye(pupil);
        pupil.alternates(8);
        pupil.writes(FindingTest::cover_test, kind);
        if (kind == FindingKind::tropia) pupil.writes(FindingTest::prism_cover);
      }
      CHECK(pupil.next() == Step::sides);
      pupil.writes(FindingTest::motility);
      pupil.does(show(0, 6.0, 25.0).content);
      pupil.waits(500);
      CHECK(pupil.next() == (kind == FindingKind::none ? Step::near_point : Step::impression));
    }
  }
}

TEST_CASE("the coach says the same of every patient", "[examiners]") {
  const Case patients[] = {case_with_deviation(0, 0), case_with_deviation(-25, -25),
                           case_with_deviation(15, 22),
                           case_with(R"("deviation": {"distance_pd": 20, "near_pd": 20},
                   "fusion": {"present": false})")};
  std::vector<std::string> first;
  for (const Case& patient : patients) {
    Pupil pupil(patient);
    std::vector<std::string> heard{pupil.hears().next};
    begin(pupil);
    heard.push_back(pupil.hears().next);
    cover_each_eye(pupil);
    heard.push_back(pupil.hears().next);
    pupil.alternates(8);
    heard.push_back(pupil.hears().next);
    pupil.writes(FindingTest::cover_test, FindingKind::tropia);
    heard.push_back(pupil.hears().next);
    if (first.empty()) first = heard;
    CHECK(heard == first);
  }
}
