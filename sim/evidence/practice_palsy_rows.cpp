// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The twelfth and thirteenth of the fifteen observations, and head posture: palsies.
#include <algorithm>

#include "sim/evidence/gazes.hpp"
#include "sim/evidence/practice.hpp"

namespace redress::evidence {

namespace {

constexpr const char* kPractice = "practice: what convinces a teacher";
constexpr Standing kCommon = Standing::common_practice;

// Numbers about muscles: 20 % either way is allowed, as the practice page says.
std::string sixth() { return weak("right", "lateral_rectus", 0.45); }

void add_palsies(Group& g) {
  g.add(
      "P12.left", "R sixth nerve, strength 0.45: left eye fixing", about(18, 3.6), "Δ eso",
      kPractice, [](Bench&) { return figure(deviation_at(sixth(), {}, Eye::left).horizontal_pd); },
      kCommon);
  g.add(
      "P12.right", "the same with the right eye fixing", about(24, 4.8), "Δ eso", kPractice,
      [](Bench&) { return figure(deviation_at(sixth(), {}, Eye::right).horizontal_pd); }, kCommon);
  g.add(
      "P12.away", "nearly straight in left gaze", at_most(6), "Δ eso", kPractice,
      [](Bench&) {
        return figure(deviation_at(sixth(), {-25, 0}, Eye::left).horizontal_pd);
      },
      kCommon);
  const auto changed = [] {
    return std::string{R"("muscles": {
      "right": {"lateral_rectus": {"strength": 0.59}, "medial_rectus": {"shorter_deg": 12}},
      "left": {"medial_rectus": {"strength": 1.22}}})"};
  };
  g.add(
      "P12.changed.left",
      "months later, strength 0.59, the other muscles changed with it: left eye fixing (fitted)",
      about(18, 3.6), "Δ eso", kPractice,
      [changed](Bench&) { return figure(deviation_at(changed(), {}, Eye::left).horizontal_pd); },
      kCommon);
  g.add(
      "P12.changed.right", "the same with the right eye fixing (fitted)", about(24, 4.8), "Δ eso",
      kPractice,
      [changed](Bench&) { return figure(deviation_at(changed(), {}, Eye::right).horizontal_pd); },
      kCommon);
  g.add(
      "P12.speed", "strength 0.45: peak of the right eye's abducting saccade over a healthy one's",
      at_most(0.6), "", kPractice,
      [](Bench&) {
        const auto peak = [](const std::string& members) {
          const Trace t =
              run_story(members + deviation_of(0, 0) + R"(, "fusion": {"present": false})",
                        {cover(0, Eye::left), show(2000, 6, -10), show(5000, 6, 10)}, 8000);
          return find_saccade(t, 5001, Eye::right).peak_deg_s;
        };
        return figure(peak(sixth() + ", ") / peak(""));
      },
      kCommon);
  g.add(
      "P12.near", "strength 0.45: less at near than at distance, the first over the second",
      at_most(0.95), "", kPractice,
      [](Bench&) {
        return figure(deviation_at(sixth(), {0, 0, 0, 0.40}).horizontal_pd /
                      deviation_at(sixth(), {}).horizontal_pd);
      },
      kCommon);
  g.add(
      "P12.head", "the head turns to the right by itself", at_least(5), "°", kPractice,
      [](Bench&) {
        const ExaminationSetup setup =
            setup_with(sixth() + ", " + deviation_of(0, 0) +
                       R"(, "patient": {"head_posture": {"seeks_comfort": true}})");
        const Examination exam(setup, {1, 1.0, true});
        return figure(exam.room().head.now.turn.value, exam.observe().fused ? "single" : "double");
      },
      kCommon);
  const auto fourth = [] { return weak("right", "superior_oblique", 0); };
  g.add(
      "P13.tilt", "R superior oblique palsy: right less left head tilt", at_least(6), "Δ hyper",
      kPractice,
      [fourth](Bench&) {
        return figure(deviation_at(fourth(), {0, 0, 30}).vertical_pd -
                      deviation_at(fourth(), {0, 0, -30}).vertical_pd);
      },
      kCommon);
  g.add(
      "P13.gaze", "more in left gaze by", at_least(4), "Δ hyper", kPractice,
      [fourth](Bench&) {
        return figure(deviation_at(fourth(), {-25, 0}).vertical_pd -
                      deviation_at(fourth(), {25, 0}).vertical_pd);
      },
      kCommon);
  g.add(
      "P13.worst", "worst of nine gazes", exactly("down left"), "", kPractice,
      [fourth](Bench&) {
        const Gazes nine = nine_gazes(fourth(), Eye::left);
        // The first of several that are equally bad.
        const auto worst =
            std::max_element(nine.begin(), nine.end(), [](const GazeAt& a, const GazeAt& b) {
              return a.deviation.vertical_pd < b.deviation.vertical_pd;
            });
        return in_words(worst->name);
      },
      kCommon);
  g.add(
      "P13.says", "the patient says of the two images", exactly("above and tilted"), "", kPractice,
      [fourth](Bench&) {
        const Trace t =
            run_story(fourth() + ", " + deviation_of(0, 0), {ask(1000, "arrangement")}, 4000);
        if (t.replies.empty()) throw DidNotHappen{"no answer"};
        const std::string& answer = t.replies.front().answer;
        const bool above = answer.find("above") != std::string::npos;
        const bool tilted = answer.find("tilted") != std::string::npos;
        return in_words(above && tilted ? "above and tilted" : answer);
      },
      kCommon);
}

// A weakness of the right superior oblique since birth: the other muscles have changed with it, and
// vertical fusion reaches far. The head leans to the left.
std::string old_fourth() {
  return R"("deviation": {"distance_pd": 0, "near_pd": 0},
    "patient": {"head_posture": {"roll_deg": -20}},
    "fusion": {"vertical": {"right_supra_pd": [12, 8], "right_infra_pd": [12, 8]}},
    "muscles": {"tilt_gain": 1.7, "right": {"superior_oblique": {"strength": 0.04},
      "inferior_oblique": {"strength": 0.89}, "superior_rectus": {"shorter_deg": 10}}})";
}

double vertical_with_head(bool own_posture) {
  Opening opening;
  opening.target = truth::plain_target(6.0);
  opening.own_posture = own_posture;
  return truth::calc_dissociated(setup_with(old_fourth()), opening, Eye::left).vertical_pd;
}

void add_posture(Group& g) {
  g.add(
      "PH.posture", "R superior oblique palsy since birth, head 20° to the left: phoria",
      about(3, 1), "Δ hyper", "practice: head posture first",
      [](Bench&) { return figure(vertical_with_head(true)); }, kCommon);
  g.add(
      "PH.straight", "the same, the head held straight", about(12, 2.4), "Δ hyper",
      "practice: head posture first", [](Bench&) { return figure(vertical_with_head(false)); },
      kCommon);
  g.add(
      "PH.relax", "told to relax, the head is back in its posture after", between(2, 5), "s",
      "practice: head posture first",
      [](Bench&) {
        Examination exam(setup_with(old_fourth()), {1, 1.0, true}, act::ShowTarget{});
        exam.apply(act::TiltHead{0, 0, 0, 500});
        truth::wait(exam, 5000);
        if (exam.room().head.now.roll.value != 0.0) throw DidNotHappen{"the head was not straight"};
        exam.apply(act::Instruct{Instruction::relax});
        const Tick from = exam.now();
        while (exam.room().head.now.roll.value != -20.0) {
          exam.step();
          if (exam.now() > from + 20000) throw DidNotHappen{"the head did not go back"};
        }
        return figure(0.001 * static_cast<double>(exam.now() - from));
      },
      kCommon);
}

}  // namespace

void add_palsy_practice_rows(Group& g) {
  add_palsies(g);
  add_posture(g);
}

}  // namespace redress::evidence
