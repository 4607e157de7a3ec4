// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the model of the muscles was known not to give when it was made, beside what it gives:
// single muscles without any force and to the side, a whole third nerve, the side of a lateral
// rectus palsy's tilt, up- and downshoot. And muscles that tire. R = right eye, left eye fixing.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/evidence/gazes.hpp"

namespace redress::evidence {

using elementary::magnitude;

namespace {

constexpr const char* kPalsies = "orthoptic textbooks";

double height(const std::string& members, const Place& place) {
  return magnitude(deviation_at(members, place).vertical_pd);
}

void add_single(Group& g) {
  struct One {
    const char* muscle;
    const char* words;
    double side;  ///< in which it is worse: right gaze +, left -
  };
  for (const One& m : {One{"superior_rectus", "superior rectus", 25.0},
                       One{"inferior_rectus", "inferior rectus", 25.0},
                       One{"inferior_oblique", "inferior oblique", -25.0}}) {
    const auto whole = [m] { return weak("right", m.muscle, 0.0); };
    g.add(
        std::string{"M.none."} + m.muscle,
        fmt::format("R {} without force: vertical straight ahead (fitted)", m.words),
        between(6, 15), "Δ", kPalsies, [whole](Bench&) { return figure(height(whole(), {})); },
        Standing::from_memory);
    g.add(
        std::string{"M.worse."} + m.muscle,
        fmt::format("R {} at 0.3: 25° to the worse side over straight ahead (fitted)", m.words),
        between(1.7, 2.0), "", "cases of a teaching collection",
        [m](Bench&) {
          const std::string members = weak("right", m.muscle, 0.3);
          return figure(height(members, {m.side, 0}) / height(members, {}));
        },
        Standing::from_memory);
    g.add(
        std::string{"M.better."} + m.muscle,
        fmt::format("R {} at 0.3: 25° to the better side over straight ahead (fitted)", m.words),
        between(0.25, 0.45), "", "cases of a teaching collection",
        [m](Bench&) {
          const std::string members = weak("right", m.muscle, 0.3);
          return figure(height(members, {-m.side, 0}) / height(members, {}));
        },
        Standing::from_memory);
  }
  const std::string third =
      R"("muscles": {"right": {"medial_rectus": {"strength": 0}, "superior_rectus": {"strength": 0},
          "inferior_rectus": {"strength": 0}, "inferior_oblique": {"strength": 0}}})";
  g.add(
      "M.III.whole", "all four of R third nerve without force: right eye lower by (fitted)",
      between(5, 15), "Δ", kPalsies,
      [third](Bench&) { return figure(-deviation_at(third, {}).vertical_pd); },
      Standing::from_memory);
  g.add(
      "M.LR.tilt", "complete R lateral rectus palsy: the higher eye on right head tilt, 30°",
      exactly("right"), "", "20 patients, 2002 (the side only)",
      [](Bench&) {
        const double pd = deviation_at(weak("right", "lateral_rectus", 0), {0, 0, 30}).vertical_pd;
        return in_words(pd > 0.0 ? "right" : "left", fmt::format("{} Δ", format_number(pd)));
      },
      Standing::from_memory);
  const std::string duane =
      R"("muscles": {"right": {"lateral_rectus": {"strength": 0.3, "share_of_medial": 0.10,
          "shorter_deg": 20, "stiffness": 2}, "medial_rectus": {"limit_deg": 5}}})";
  g.add(
      "M.Duane.shoot", "tight co-innervated R lateral rectus: up- or downshoot, adducted 25°",
      at_least(5.0), "Δ",
      "up- and downshoot on adduction, 15° up and down of it; the size: judgement",
      [duane](Bench&) {
        return figure(std::max(height(duane, {-25, 15}), height(duane, {-25, -15})));
      },
      Standing::from_memory);
}

// A minute of looking 25 degrees up, two minutes of rest, and up again.
struct Tired {
  double grown_pd = 0.0;
  double left_share = 0.0;
  double lid_mm = 0.0;
};

Tired tire() {
  constexpr double kFissureMm = 9.7;  // Read et al. 2006
  Opening opening;
  opening.target = truth::plain_target(6.0, 0.0, 25.0);
  opening.covered = Eye::right;
  Examination exam(setup_with(deviation_of(0, 0) + R"(, "fusion": {"present": false},
      "sensory": {"preferred_eye": "left"}, "muscles": {"fatigability": {"right": 0.2}})"),
                   truth::kCalm, opening);
  truth::wait(exam, 300);
  const double fresh = truth::calc_deviation(exam).vertical_pd;
  const double open = exam.observe().eye.right.lid_open_fraction;
  truth::wait(exam, 60000);
  Tired tired;
  const double grown = truth::calc_deviation(exam).vertical_pd - fresh;
  tired.lid_mm = kFissureMm * (open - exam.observe().eye.right.lid_open_fraction);
  exam.apply(truth::plain_target(6.0));
  truth::wait(exam, 120000);
  exam.apply(truth::plain_target(6.0, 0.0, 25.0));
  truth::wait(exam, 1500);
  tired.grown_pd = magnitude(grown);
  tired.left_share = (truth::calc_deviation(exam).vertical_pd - fresh) / grown;
  return tired;
}

void add_tiring(Group& g) {
  constexpr const char* kPractice = "practice: muscles that tire; a judgement";
  const auto tired = [](Bench& b) -> const Tired& {
    return b.once("tired", [] { return tire(); });
  };
  g.add(
      "MY.grows", "a minute of looking up adds to the deviation (fitted)",
      printed("about 10", about(10, 3)), "Δ", kPractice,
      [tired](Bench& b) { return figure(tired(b).grown_pd, "fatigability 0.2"); },
      Standing::common_practice);
  g.add(
      "MY.rests", "two minutes of rest take of that", about(70, 10), "%", kPractice,
      [tired](Bench& b) { return figure(100.0 * (1.0 - tired(b).left_share)); },
      Standing::common_practice);
  g.add(
      "MY.lids", "and the lid droops in that minute by", between(1, 3), "mm", kPractice,
      [tired](Bench& b) { return figure(tired(b).lid_mm, "of a fissure of 9.7 mm"); },
      Standing::common_practice);
}

}  // namespace

void add_single_muscle_rows(std::vector<Row>& rows) {
  Group single(rows, "Muscles: what was known not to come out, and its neighbours");
  add_single(single);
  Group tiring(rows, "Muscles that tire");
  add_tiring(tiring);
}

}  // namespace redress::evidence
