// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What patients do beside moving their eyes: blinks on being uncovered, small children, pupils and
// lids.
#include <algorithm>

#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

TEST_CASE("a blink follows uncovering within half a second in the share of the case",
          "[behaviour]") {
  // 30 to 40 % (judgement).
  const Case c = case_with(R"("deviation": {"distance_pd": -12, "near_pd": -12},
                              "instability": {"blink_on_uncovering": 0.35})");
  int blinks = 0;
  int uncoverings = 0;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    std::vector<Act> acts;
    for (int i = 0; i < 10; ++i) {
      acts.push_back(cover(1000 + 4000 * i, Eye::right));
      acts.push_back(uncover(3000 + 4000 * i));
    }
    const Trace trace = run_story(c, acts, 42000, 1.0, seed);
    for (int i = 0; i < 10; ++i) {
      const Tick free = trace.free_after(3000 + 4000 * i, Eye::right);
      if (trace.at(free).eye.right.lid_open_fraction < 0.9) continue;  // in a blink already
      ++uncoverings;
      double least = 1.0;
      for (Tick t = free; t < free + 560; ++t) {
        least = std::min(least, trace.at(t).eye.right.lid_open_fraction);
      }
      blinks += least < 0.3 ? 1 : 0;
    }
  }
  // Ordinary blinks fall into the same half second in a few per cent: 6 deep ones a minute.
  const double share = static_cast<double>(blinks) / uncoverings;
  INFO(blinks << " of " << uncoverings);
  CHECK(share >= 0.27);
  CHECK(share <= 0.50);
}

TEST_CASE("a small child looks away more and more from letters, and not from a picture",
          "[behaviour]") {
  // At attention 0.5: away 2 to 6 times a minute; a dull letter halves attention in 8 s at age 4
  // (judgement).
  const auto away_of = [](double age, TargetKind kind, bool urged) {
    const Case c = case_with(R"("patient": {"age_years": )" + std::to_string(age) +
                             R"(}, "deviation": {"distance_pd": -1, "near_pd": -3},
                                "instability": {"attention": 0.5})");
    int away = 0;
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
      act::ShowTarget target;
      target.kind = kind;
      target.size_logmar = 0.8;
      std::vector<Act> acts{{0, target}};
      for (int i = 1; urged && i < 30; ++i) acts.push_back({2000 * i, act::Instruct{}});
      const Trace trace = run_story(c, acts, 60000, 1.0, seed);
      bool was_away = false;
      for (Tick t = 0; t <= 60000; ++t) {
        const EyeObservation& o = trace.at(t).eye.right;
        const double off = std::hypot(o.horizontal_deg, o.vertical_deg);
        if (off > 4.0 && !was_away) ++away, was_away = true;
        if (off < 2.0) was_away = false;
      }
    }
    return away / 6.0;  // a minute
  };
  const double picture = away_of(4, TargetKind::picture, false);
  const double letters = away_of(4, TargetKind::letter, false);
  const double reminded = away_of(4, TargetKind::letter, true);
  const double older = away_of(9, TargetKind::letter, false);
  INFO(picture << " " << letters << " " << reminded << " " << older);
  CHECK(picture >= 2.0);
  CHECK(picture <= 6.5);
  CHECK(older >= 2.0);
  CHECK(older <= 6.5);
  CHECK(letters > 1.3 * picture);
  CHECK(reminded < 0.3 * letters);
}

TEST_CASE("a child withdraws its head when the better eye is covered", "[behaviour]") {
  // At least 10 degrees within 1.5 s in at least 70 % of the covers of the better eye, at most 15 %
  // of the other's (judgement).
  const Case c =
      case_with(R"("patient": {"age_years": 4}, "deviation": {"distance_pd": 25, "near_pd": 25},
    "fusion": {"present": false},
    "sensory": {"preferred_eye": "left",
                "suppression": {"eye": "right", "scotoma_diameter_deg": 3}},
    "instability": {"resists_cover": "left"})");
  const auto share = [&c](Eye eye) {
    int withdrawn = 0;
    constexpr int kCovers = 40;
    for (std::uint64_t seed = 1; seed <= kCovers; ++seed) {
      Examination exam(setup_of(c), {seed, 1.0, true});
      exam.apply(cover(0, eye).content);
      Tick covered = 0;
      double most = 0;
      bool sees_again = false;
      for (Tick t = 0; t < 2200; ++t) {
        exam.step();
        if (covered == 0 && exam.room().covered[eye]) covered = t;
        if (covered > 0 && t < covered + 1500) {
          most = std::max(most, std::abs(exam.room().head.now.turn.value));
        }
        sees_again = sees_again || (covered > 0 && !exam.room().covered[eye]);
      }
      if (most >= 10.0) {
        ++withdrawn;
        CHECK(sees_again);
      }
    }
    return static_cast<double>(withdrawn) / kCovers;
  };
  CHECK(share(Eye::left) >= 0.7);
  CHECK(share(Eye::right) <= 0.15);
}

TEST_CASE("the head comes back once the better eye sees again", "[behaviour]") {
  const Case c = case_with(R"("deviation": {"distance_pd": 5, "near_pd": 5},
                              "instability": {"resists_cover": "left"})");
  Examination exam(setup_of(c), {1, 0.0, true});
  exam.apply(cover(0, Eye::left).content);
  for (Tick t = 0; t < 1500; ++t) exam.step();
  CHECK(exam.room().head.now.turn.value == Approx(15.0));
  exam.apply(act::Uncover{});
  for (Tick t = 0; t < 4000; ++t) exam.step();
  CHECK(exam.room().head.now.turn.value == Approx(0.0).margin(1e-9));
}

TEST_CASE("pupils: light, near, age, the fellow's cover, unequal and fixed ones", "[pupils]") {
  const std::string healthy = R"("deviation": {"distance_pd": -1, "near_pd": -3})";
  const auto settled = [](const Case& c, std::vector<Act> acts) {
    return run_story(c, acts, 12000).at(12000);
  };
  const Observation rest = settled(case_with(healthy), {});
  // 3.0 to 4.7 mm in a lit room (Sanchis-Gimeno 2012).
  CHECK(rest.eye.right.pupil_mm >= 3.0);
  CHECK(rest.eye.right.pupil_mm <= 4.7);
  CHECK(rest.eye.right.pupil_mm == rest.eye.left.pupil_mm);
  // The seeing eye's pupil dilates by 0.3 to 0.6 mm when its fellow is covered by a black occluder
  // (from memory), and does not under a translucent one.
  const Observation dark = settled(case_with(healthy), {cover(1000, Eye::left)});
  CHECK(dark.eye.right.pupil_mm - rest.eye.right.pupil_mm >= 0.3);
  CHECK(dark.eye.right.pupil_mm - rest.eye.right.pupil_mm <= 0.6);
  act::Cover frosted;
  frosted.eye = Eye::left;
  frosted.occluder = OccluderKind::translucent;
  CHECK(settled(case_with(healthy), {{1000, frosted}}).eye.right.pupil_mm ==
        Approx(rest.eye.right.pupil_mm).margin(0.05));
  // Near: 0.18 mm a dioptre (Bernal-Molina 2014), 0.1 to 0.4.
  const Observation near = settled(case_with(healthy), {show(0, 0.33)});
  CHECK(rest.eye.right.pupil_mm - near.eye.right.pupil_mm >= 0.25);
  CHECK(rest.eye.right.pupil_mm - near.eye.right.pupil_mm <= 1.2);
  // Smaller with age.
  CHECK(settled(case_with(R"("patient": {"age_years": 70}, )" + healthy), {}).eye.right.pupil_mm <
        rest.eye.right.pupil_mm - 0.3);
  const Observation uneven =
      settled(case_with(healthy + R"(, "pupils": {"anisocoria_mm": -0.8})"), {});
  CHECK(uneven.eye.right.pupil_mm - uneven.eye.left.pupil_mm == Approx(-0.8).margin(0.01));
  const Case fixed = case_with(healthy + R"(, "pupils": {"fixed_mm": {"right": 7}})");
  const Trace trace = run_story(fixed, {show(0, 0.33), {3000, act::Penlight{true}}}, 9000, 1.0);
  for (Tick t = 0; t <= 9000; ++t) REQUIRE(trace.at(t).eye.right.pupil_mm == 7.0);
  CHECK(trace.at(9000).eye.left.pupil_mm < 4.2);
}

TEST_CASE("a lid that hangs narrows its own eye, and may hide the pupil", "[pupils]") {
  const auto with_ptosis = [](double mm) {
    return case_with(R"("deviation": {"distance_pd": -6, "near_pd": -6},
                        "lids": {"ptosis_mm": {"right": )" +
                     std::to_string(mm) + "}}");
  };
  // The resting opening is 9.7 mm (Read et al. 2006).
  const Observation some = run_story(with_ptosis(3), {}, 1000).at(1000);
  CHECK(some.eye.right.lid_open_fraction == Approx(1.0 - 3.0 / 9.7).margin(0.01));
  CHECK(some.eye.left.lid_open_fraction == Approx(1.0).margin(0.01));
  CHECK(some.fused);
  // Down gaze: 9.7 to 6.4 mm at 40 degrees; 0.5 at least.
  const Observation down = run_story(with_ptosis(3), {show(0, 6, 0, -30)}, 3000).at(3000);
  CHECK(down.eye.left.lid_open_fraction < 0.75);
  // Complete: the eye does not see, and the phoria stands.
  const Trace whole = run_story(with_ptosis(9.5), {}, 6000);
  CHECK(whole.deviation_pd(6000) == Approx(-6).margin(0.3));
}

TEST_CASE("a patient whose attention wanders looks at the examiner or at the prism",
          "[behaviour]") {
  // Practice: at the examiner or the prism, 2 to 6 times a minute.
  Examination exam(setup_of(case_with(R"("deviation": {"distance_pd": -1, "near_pd": -3},
                                         "instability": {"attention": 0.2})")),
                   {4, 1.0, true}, act::ShowTarget{});
  exam.apply(act::MoveViewpoint{-110, 30, -500});  // sits somewhat to the patient's left
  const auto look = [&](Tick until) {
    std::vector<double> sides;
    while (exam.now() < until) {
      exam.step();
      const patient::InstabilityState& n = exam.patient_state().instability;
      if (n.lapse_ms == 1) sides.push_back(n.glance.horizontal);
    }
    return sides;
  };
  const std::vector<double> at_face = look(60000);
  REQUIRE(at_face.size() >= 2);
  // 110 mm aside at 50 cm: 12.4 degrees; a face is no point.
  for (const double side : at_face) CHECK(side == Approx(-12.4).margin(2.2));
  exam.apply(hold_prism(0, Eye::right, 10, 0).content);
  const std::vector<double> with_prism = look(240000);
  CHECK(std::any_of(with_prism.begin(), with_prism.end(), [](double d) { return d > 8.0; }));
  CHECK(std::any_of(with_prism.begin(), with_prism.end(), [](double d) { return d < -8.0; }));
}
