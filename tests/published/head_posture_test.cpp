// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A head held so that the eyes have less to do: what it hides, and what brings it out. Practice:
// the posture is there first, straightening the head makes the deviation appear, and told to relax
// the patient is back in it within 2 to 5 s.
#include "sim/room/comfortable_posture.hpp"
#include "sim/truth/truth.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

Case weak_abduction(const std::string& eye, const std::string& patient = "") {
  return case_with(R"("deviation": {"distance_pd": 0, "near_pd": 0}, "muscles": {")" + eye +
                   R"(": {"lateral_rectus": {"strength": 0.45}}})" + patient);
}

void wait(Examination& exam, Tick ms) {
  for (Tick t = 0; t < ms; ++t) exam.step();
}

constexpr const char* kComfort = R"(, "patient": {"head_posture": {"seeks_comfort": true}})";

}  // namespace

TEST_CASE("an eye that does not abduct turns the head towards its side", "[posture]") {
  // Practice: with a right sixth nerve palsy the head turns right by itself.
  const HeadState right = find_comfortable_posture(setup_of(weak_abduction("right")));
  CHECK(right.turn.value >= 5.0);
  const HeadState left = find_comfortable_posture(setup_of(weak_abduction("left")));
  CHECK(left.turn.value == -right.turn.value);
  CHECK(left.roll.value == -right.roll.value);
  CHECK(left.chin.value == right.chin.value);
  CHECK(find_comfortable_posture(setup_of(case_with_deviation(-6, -8))) == HeadState{});
  // A squint that is the same in all gazes has nothing to gain.
  CHECK(find_comfortable_posture(setup_of(case_with(
            R"("deviation": {"distance_pd": 20, "near_pd": 20}, "fusion": {"present": false})"))) ==
        HeadState{});
}

TEST_CASE("nystagmus turns the head so that the eyes look towards its null", "[posture]") {
  // Case of a null 15 degrees to the right: the face turns left.
  const Case c = case_with(R"("deviation": {"distance_pd": -2, "near_pd": -4}, "instability": {
      "infantile_nystagmus": {"amplitude_deg": 3, "frequency_hz": 4, "null_deg": 15}})");
  const HeadState head = find_comfortable_posture(setup_of(c));
  CHECK(head.turn.value <= -10.0);
  CHECK(head.turn.value >= -20.0);
  CHECK(head.roll.value == 0.0);
}

TEST_CASE("the head straightened shows what the posture hid, and goes back on relax", "[posture]") {
  const ExaminationSetup setup = setup_of(weak_abduction("right", kComfort));
  Examination exam(setup, {3, 1.0, true}, act::ShowTarget{});
  const HeadState own = setup.room.own_posture;
  CHECK(exam.room().head.now == own);
  CHECK(exam.observe().fused);

  exam.apply(act::TiltHead{0, 0, 0, 500});
  wait(exam, 8000);
  CHECK(exam.room().head.now == HeadState{});
  CHECK_FALSE(exam.observe().fused);

  exam.apply(act::Instruct{Instruction::relax});
  wait(exam, 1000);
  CHECK(exam.room().head.now == HeadState{});
  wait(exam, 4000);
  CHECK(exam.room().head.now == own);
  wait(exam, 3000);
  CHECK(exam.observe().fused);
}

TEST_CASE("a hand that takes the head again ends the return to its posture", "[posture]") {
  Examination exam(setup_of(weak_abduction("right", kComfort)), {3, 0.0, true}, act::ShowTarget{});
  exam.apply(act::TiltHead{0, 0, 0, 0});
  wait(exam, 100);
  exam.apply(act::Instruct{Instruction::relax});
  wait(exam, 500);
  exam.apply(act::TiltHead{0, 0, 10, 300});
  wait(exam, 8000);
  CHECK(exam.room().head.now == HeadState{{}, {}, Degrees{10}});
}

TEST_CASE("truth is of the straight head, and tells of the posture beside it", "[posture]") {
  const std::string posture = R"(, "patient": {"head_posture": {"turn_deg": 20}})";
  const truth::Extent little{false, false, false};
  const truth::Truth with =
      truth::calc_truth(setup_of(weak_abduction("right", posture)), {}, little);
  const truth::Truth without = truth::calc_truth(setup_of(weak_abduction("right")), {}, little);
  CHECK(with.conditions[2].horizontal_pd == without.conditions[2].horizontal_pd);
  CHECK_FALSE(without.own_posture.has_value());
  REQUIRE(with.own_posture.has_value());
  CHECK(with.own_posture->head.turn.value == 20.0);
  CHECK(with.own_posture->horizontal_pd < 0.5 * with.conditions[2].horizontal_pd);
}
