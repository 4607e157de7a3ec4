// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A manifest squint under cover, and the four-dioptre base-out test.
#include "tests/support/story.hpp"

#include "sim/findings/movements.hpp"
#include "sim/truth/procedures.hpp"
#include "sim/truth/truth.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

Case right_esotropia(double preference) {
  return case_with(R"("deviation": {"distance_pd": 20, "near_pd": 20, "ac_a_pd_per_d": 4},
    "fusion": {"present": false},
    "sensory": {"preferred_eye": "left", "preference": )" +
                   std::to_string(preference) +
                   R"(, "suppression": {"eye": "right", "scotoma_diameter_deg": 3}})");
}

}  // namespace

TEST_CASE("covering the squinting eye of a constant esotropia moves nothing") {
  const Trace trace = run_story(right_esotropia(0.95), {cover(1000, Eye::right)}, 5000);
  for (const Eye eye : kBothEyes) {
    for (Tick t = 1000; t <= 5000; ++t) {
      REQUIRE(std::abs(trace.at(t).eye[eye].horizontal_deg -
                       trace.at(1000).eye[eye].horizontal_deg) < 0.3);
    }
  }
}

TEST_CASE("covering the fixing eye moves both eyes, together, by the angle of the squint") {
  // Hering's law; 20 prism dioptres are 11.31 degrees. Latencies 150 to 400 ms (Shinomiya et al.:
  // 227 +- 70 ms when the cover is alternated).
  const Trace trace =
      run_story(right_esotropia(0.95), {cover(1000, Eye::left), uncover(5000)}, 9000);
  const Tick covered = trace.covered_after(1000, Eye::left);
  const Tick right = trace.moved_after(covered, Eye::right, 0.2);
  const Tick left = trace.moved_after(covered, Eye::left, 0.2);
  CHECK(right - covered >= 150);
  CHECK(right - covered <= 400);
  CHECK(std::abs(right - left) <= 5);
  for (const Eye eye : kBothEyes) {
    const double turned =
        trace.at(5000).eye[eye].horizontal_deg - trace.at(covered).eye[eye].horizontal_deg;
    CHECK(turned == Approx(11.31).margin(0.4));  // outwards: to the right
  }
  // Uncovered, the preferred eye takes up fixation again, 0.2 to 0.5 s later (judgement).
  const Tick free = trace.free_after(5000, Eye::left);
  const Tick back = trace.moved_after(free, Eye::left, 1.0) - free;
  CHECK(back >= 200);
  CHECK(back <= 500);
  CHECK(trace.at(9000).eye.left.horizontal_deg ==
        Approx(trace.at(covered).eye.left.horizontal_deg).margin(0.3));
}

TEST_CASE("without a preferred eye the squint changes sides and stays so") {
  const Trace trace =
      run_story(right_esotropia(0.5), {cover(1000, Eye::left), uncover(5000)}, 9000);
  CHECK(trace.at(9000).eye.right.horizontal_deg ==
        Approx(trace.at(4900).eye.right.horizontal_deg).margin(0.3));
}

namespace {

Case microtropia() {
  return case_with(R"("deviation": {"distance_pd": 4, "near_pd": 4, "ac_a_pd_per_d": 4},
    "sensory": {"preferred_eye": "left", "preference": 1.0, "anomaly_pd": 4,
                "suppression": {"eye": "right", "scotoma_diameter_deg": 3}})");
}

struct Response {
  double furthest_behind = 0;  ///< of the eye behind the prism, degrees towards its apex
  double furthest_fellow = 0;
  double left_over_fellow = 0;
};

Response four_dioptre(const Trace& trace, Tick from, Eye behind, double towards) {
  const Eye other = fellow(behind);
  Response r;
  const auto turned = [&](Tick t, Eye eye) {
    return towards * (trace.at(t).eye[eye].horizontal_deg - trace.at(from).eye[eye].horizontal_deg);
  };
  for (Tick t = from; t < from + 700; ++t) {
    r.furthest_behind = std::max(r.furthest_behind, turned(t, behind));
    r.furthest_fellow = std::max(r.furthest_fellow, turned(t, other));
  }
  r.left_over_fellow = turned(from + 3000, other);
  return r;
}

}  // namespace

TEST_CASE("four dioptres base out: a normal pair of eyes goes and the fellow eye comes back") {
  // Jampolsky 1964; the apex is towards the nose, so the right eye's prism turns both eyes left.
  const Case normal = case_with(
      R"("deviation": {"distance_pd": -1, "near_pd": -3}, "sensory": {"preference": 0.5})");
  const Trace trace = run_story(
      normal,
      {hold_prism(1000, Eye::right, 4, base_out(Eye::right)), remove_prism(5000, Eye::right),
       hold_prism(9000, Eye::left, 4, base_out(Eye::left))},
      13000);
  const Response right = four_dioptre(trace, 1000, Eye::right, -1);
  CHECK(right.furthest_behind > 1.5);
  CHECK(right.furthest_fellow > 1.0);
  CHECK(right.left_over_fellow == Approx(0.0).margin(0.3));
  const Response away = four_dioptre(trace, 5000, Eye::right, +1);  // the reverse
  CHECK(away.furthest_fellow > 1.0);
  CHECK(away.left_over_fellow == Approx(0.0).margin(0.3));
  const Response left = four_dioptre(trace, 9000, Eye::left, +1);  // the mirror
  CHECK(left.furthest_fellow == Approx(right.furthest_fellow).margin(0.05));
  CHECK(left.left_over_fellow == Approx(0.0).margin(0.3));
}

TEST_CASE("four dioptres before an eye with a central scotoma move neither eye") {
  const Trace trace = run_story(
      microtropia(),
      {hold_prism(1000, Eye::right, 4, base_out(Eye::right)), remove_prism(5000, Eye::right)},
      9000);
  for (Tick t = 1000; t <= 9000; ++t) {
    for (const Eye eye : kBothEyes) {
      REQUIRE(std::abs(trace.at(t).eye[eye].horizontal_deg -
                       trace.at(1000).eye[eye].horizontal_deg) < 0.3);
    }
  }
}

TEST_CASE("four dioptres before its fellow move both eyes, and neither returns") {
  const Trace trace = run_story(
      microtropia(),
      {hold_prism(1000, Eye::left, 4, base_out(Eye::left)), remove_prism(5000, Eye::left)}, 9000);
  const Response in = four_dioptre(trace, 1000, Eye::left, +1);
  CHECK(in.furthest_behind == Approx(2.29).margin(0.3));
  CHECK(in.left_over_fellow == Approx(2.29).margin(0.3));
  const Response out = four_dioptre(trace, 5000, Eye::left, -1);
  CHECK(out.left_over_fellow == Approx(2.29).margin(0.3));
}

TEST_CASE("normal eyes answer four dioptres atypically now and then, by person and occasion") {
  // Frantz, Cotter & Wick 1992 (Optom Vis Sci 69:777): many atypical and unrepeatable answers among
  // normals; no rate is published. 65 to 90 % typical a presentation, and more than 30 % of persons
  // with at least one atypical answer in four, are judgement.
  const Case normal = case_with_deviation(-1, -3);
  int typical = 0;
  int presentations = 0;
  int persons_with_atypical = 0;
  constexpr int kPersons = 60;
  for (int seed = 1; seed <= kPersons; ++seed) {
    std::vector<Act> acts;
    for (int i = 0; i < 4; ++i) {
      const Eye eye = i % 2 == 0 ? Eye::right : Eye::left;
      acts.push_back(hold_prism(2000 + 8000 * i, eye, 4, base_out(eye)));
      acts.push_back(remove_prism(6000 + 8000 * i, eye));
    }
    const Trace trace = run_story(normal, acts, 34000, 1.0, static_cast<std::uint64_t>(seed));
    bool any_atypical = false;
    for (int i = 0; i < 4; ++i) {
      const Eye eye = i % 2 == 0 ? Eye::right : Eye::left;
      const Response r = four_dioptre(trace, 2000 + 8000 * i, eye, eye == Eye::right ? -1.0 : 1.0);
      // Back, as far as anybody sees: microsaccades leave an eye some tenths of a degree off.
      const bool ok =
          r.furthest_fellow > 1.0 && r.left_over_fellow < findings::kSmallestMovementDeg;
      typical += ok ? 1 : 0;
      any_atypical = any_atypical || !ok;
      ++presentations;
    }
    persons_with_atypical += any_atypical ? 1 : 0;
  }
  const double rate = static_cast<double>(typical) / presentations;
  INFO(persons_with_atypical << " of " << kPersons << " persons, rate " << rate);
  CHECK(rate >= 0.65);
  CHECK(rate <= 0.90);
  CHECK(persons_with_atypical > 0.3 * kPersons);
}

TEST_CASE("a squint is named by the eye that deviates and the way it stands") {
  const auto diagnosis = [](const std::string& members) {
    const ExaminationSetup setup = setup_of(case_with(members));
    return truth::calc_truth(setup, {}, {false, false, false}).diagnosis;
  };
  CHECK(diagnosis(R"("deviation": {"distance_pd": 0, "near_pd": -3, "vertical_pd": 20},
                     "fusion": {"present": false})") == "constant left hypotropia");
  CHECK(diagnosis(R"("deviation": {"distance_pd": 0, "near_pd": -3, "vertical_pd": 20},
                     "fusion": {"present": false},
                     "sensory": {"preferred_eye": "left"})") == "constant right hypertropia");
  // Without suppression a small angle is a squint that sees double, not a microtropia.
  CHECK(diagnosis(R"("deviation": {"distance_pd": 6, "near_pd": 6},
                     "fusion": {"present": false})") == "constant left esotropia");
}

TEST_CASE("eyes held at an anomalous angle keep the preferred one on the target") {
  const Case c = case_with(R"("deviation": {"distance_pd": 20, "near_pd": 20},
    "sensory": {"preferred_eye": "left", "preference": 0.95, "anomaly_pd": 20})");
  const Trace trace = run_story(c, {cover(2000, Eye::left), uncover(6000)}, 12000);
  CHECK(trace.at(1000).eye.left.horizontal_deg == Approx(0.30).margin(0.3));
  CHECK(trace.deviation_pd(1000) == Approx(20).margin(1.0));
  CHECK(trace.at(12000).eye.left.horizontal_deg == Approx(0.30).margin(0.5));
}

TEST_CASE("an eye that cannot make out its target wanders, but not away") {
  // About one degree rms (judgement); never a refixation on what it cannot resolve.
  act::ShowTarget tiny;
  tiny.size_logmar = -0.2;
  const Trace trace = run_story(case_with_deviation(-2, -4), {{0, tiny}}, 60000, 1.0, 4);
  double sum = 0;
  for (Tick t = 5000; t <= 60000; ++t) {
    const double v = trace.at(t).eye.right.vertical_deg;
    REQUIRE(std::abs(v) < 6.0);
    sum += v * v;
  }
  CHECK(std::sqrt(sum / 55001) > 0.3);
  CHECK(std::sqrt(sum / 55001) < 2.0);
}

TEST_CASE("a near point recedes with small reserves and with age") {
  // Near points of 5 to 10 cm are usual (Wajuihian 2018, 13 to 18 years); a convergence
  // insufficiency has 6 cm and more (CITT criteria).
  const auto near_point = [](const std::string& members) {
    return truth::calc_near_point(setup_of(case_with(members))).break_cm;
  };
  const auto usual = near_point(R"("deviation": {"distance_pd": -1, "near_pd": -3})");
  const auto weak = near_point(R"("deviation": {"distance_pd": -1, "near_pd": -9,
    "ac_a_pd_per_d": 2}, "fusion": {"near": {"base_out_pd": [null, 7, 4],
                                             "base_in_pd": [13, 21, 13]}})");
  const auto old = near_point(R"("patient": {"age_years": 45},
                                 "deviation": {"distance_pd": -1, "near_pd": -5})");
  REQUIRE(usual);
  REQUIRE(weak);
  REQUIRE(old);
  INFO("usual " << *usual << ", weak " << *weak << ", at 45 " << *old);
  CHECK(*usual >= 4.0);
  CHECK(*usual <= 10.0);
  CHECK(*weak > *usual + 2.0);
  CHECK(*old > *usual);
}
