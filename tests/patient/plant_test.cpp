// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The plant of one eye: what must hold whatever its constants are.
#include <cmath>
#include <random>

#include <catch2/catch.hpp>

#include "sim/patient/plant.hpp"
#include "tests/support/two_eyes.hpp"

using namespace redress;
using namespace redress::patient;
using namespace redress::tests;

namespace {

EyeMuscles draw_muscles(std::mt19937& dice) {
  std::uniform_real_distribution<double> share(0.0, 1.0);
  EyeMuscles muscles;
  for (MuscleCondition& m : muscles.muscle) {
    if (share(dice) < 0.5) m.strength = 1.4 * share(dice);
  }
  if (share(dice) < 0.5) {
    const auto stopped = static_cast<std::size_t>(share(dice) * 5.999);
    muscles.muscle[stopped].limit_deg = -10.0 + 30.0 * share(dice);
  }
  return muscles;
}

}  // namespace

TEST_CASE("an orientation and its direction are each other's inverse", "[muscles]") {
  for (const double h : {-40.0, -7.5, 0.0, 31.0}) {
    for (const double v : {-35.0, 0.0, 22.0}) {
      for (const double t : {-12.0, 0.0, 5.0}) {
        const Direction3 back = direction_of(orientation_of({h, v, t}));
        CHECK(back.horizontal == Approx(h).margin(1e-9));
        CHECK(back.vertical == Approx(v).margin(1e-9));
        CHECK(back.torsion == Approx(t).margin(1e-9));
      }
    }
  }
}

TEST_CASE("Listing's law: without torsion the axis lies in one plane", "[muscles]") {
  for (const double h : {-40.0, 10.0}) {
    for (const double v : {-30.0, 25.0}) {
      CHECK(std::abs(orientation_of({h, v, 0.0}).z) < 1e-12);
    }
  }
}

TEST_CASE("straight ahead each muscle turns the eye as anatomy says", "[muscles]") {
  // Textbook actions: the recti superior and inferior intort and extort, and adduct; the oblique
  // muscles abduct in the textbooks, the inferior one hardly at all from where its path begins here
  // (published geometry gives +0.07 to -0.37). Muscle frame: x raises (below 0 up), y abducts,
  // z intorts.
  const MuscleLines lines = calc_muscle_lines(make_muscle_paths(), Vector{});
  const auto elevates = [&](Muscle m) { return -lines.axis[m].x; };
  const auto abducts = [&](Muscle m) { return lines.axis[m].y; };
  const auto intorts = [&](Muscle m) { return lines.axis[m].z; };
  CHECK(abducts(kLateralRectus) == Approx(1.0).margin(0.01));
  CHECK(abducts(kMedialRectus) == Approx(-1.0).margin(0.01));
  CHECK(elevates(kSuperiorRectus) == Approx(0.87).margin(0.02));
  CHECK(intorts(kSuperiorRectus) == Approx(0.40).margin(0.02));
  CHECK(abducts(kSuperiorRectus) == Approx(-0.30).margin(0.02));
  CHECK(elevates(kInferiorRectus) == Approx(-0.86).margin(0.02));
  CHECK(intorts(kInferiorRectus) == Approx(-0.41).margin(0.02));
  CHECK(elevates(kSuperiorOblique) == Approx(-0.57).margin(0.02));
  CHECK(intorts(kSuperiorOblique) == Approx(0.80).margin(0.02));
  CHECK(abducts(kSuperiorOblique) == Approx(0.17).margin(0.02));
  CHECK(elevates(kInferiorOblique) == Approx(0.64).margin(0.02));
  CHECK(intorts(kInferiorOblique) == Approx(-0.77).margin(0.02));
}

TEST_CASE("a healthy eye goes exactly where it is sent", "[muscles]") {
  const Plant plant;
  for (const double h : {-50.0, -12.0, 0.0, 33.0}) {
    for (const double v : {-40.0, 0.0, 17.0}) {
      const Vector o = orientation_of({h, v, 4.0});
      const auto commands = plant.solve_commands(o);
      REQUIRE(commands);
      const auto e = plant.calc_innervation(*commands, *commands, {});
      std::optional<TorqueSlope> slope;
      const auto rest = plant.solve_rest(e, {}, Vector{}, slope);
      REQUIRE(rest);
      CHECK(length(*rest - o) < 1e-6);
      CHECK(length(plant.calc_torque(o, e, {})) < 1e-6);
      const auto departure = plant.calc_departure({}, {h, v, 4.0});
      REQUIRE(departure);
      CHECK(departure->turn == Direction3{});  // without solving anything
      CHECK(departure->pull == 0.0);
    }
  }
}

TEST_CASE("a stop without stiffness is no stop, and a healthy eye", "[muscles]") {
  EyeMuscles muscles;
  CHECK(is_healthy(muscles));
  muscles.muscle[kMedialRectus].limit_stiffness = 60.0;
  CHECK(is_healthy(muscles));
  muscles.muscle[kMedialRectus].limit_deg = 10.0;
  CHECK_FALSE(is_healthy(muscles));
  muscles.muscle[kMedialRectus].limit_stiffness = 0.0;
  CHECK(is_healthy(muscles));
  muscles.version_gain = 0.9;
  CHECK_FALSE(is_healthy(muscles));
}

TEST_CASE("innervations and tensions are never negative, and drawn muscles find a rest",
          "[muscles]") {
  const Plant plant;
  std::mt19937 dice(20260101);
  std::uniform_real_distribution<double> reach(-1.0, 1.0);
  for (int i = 0; i < 3000; ++i) {
    const EyeMuscles muscles = draw_muscles(dice);
    const Direction3 command{35.0 * reach(dice), 35.0 * reach(dice), 8.0 * reach(dice)};
    const auto commands = plant.solve_commands(orientation_of(command));
    REQUIRE(commands);
    const auto e = plant.calc_innervation(*commands, *commands, muscles);
    const auto found = plant.calc_departure(muscles, command);
    REQUIRE(found);
    const auto tension = plant.calc_tension(found->rest, e, muscles);
    for (std::size_t k = 0; k < kMuscles; ++k) {
      REQUIRE(e[k] >= 0.0);
      REQUIRE(tension[k] > 0.0);
    }
    REQUIRE(length(plant.calc_torque(found->rest, e, muscles)) < 1e-5);
  }
}

TEST_CASE("the mirrored patient deviates as in a mirror, exactly", "[muscles]") {
  for (std::size_t m = 0; m < kMuscles; ++m) {
    TwoEyes right;
    right.muscles.right.muscle[m].strength = 0.4;
    TwoEyes left;
    left.muscles.left.muscle[m].strength = 0.4;
    const auto a = right.look(Eye::right, 14.0, -9.0, 3.0);
    const auto b = left.look(Eye::left, -14.0, -9.0, -3.0);
    CHECK(a.horizontal == -b.horizontal);
    CHECK(a.vertical == b.vertical);
    CHECK(a.torsion == -b.torsion);
  }
}

TEST_CASE("a weaker muscle never gives a smaller deviation in the nine gazes", "[muscles]") {
  int steps = 0;
  for (const Eye fixing : kBothEyes) {
    for (std::size_t m = 0; m < kMuscles; ++m) {
      for (const double h : {-25.0, 0.0, 25.0}) {
        for (const double v : {-25.0, 0.0, 25.0}) {
          double before = 0.0;
          for (const double strength : {1.0, 0.8, 0.6, 0.4, 0.2, 0.0}) {
            const auto found = weak_right(static_cast<Muscle>(m), strength).deviation(fixing, h, v);
            if (!found.reached) break;
            INFO("muscle " << m << " at " << strength << ", gaze " << h << ", " << v);
            CHECK(found.size() >= before);
            before = found.size();
            ++steps;
          }
        }
      }
    }
  }
  CHECK(steps > 600);
}

TEST_CASE("tightening a stop never lets the eye go farther", "[muscles]") {
  double before = 90.0;
  for (const double limit : {30.0, 20.0, 10.0, 0.0, -10.0}) {
    TwoEyes eyes;
    eyes.muscles.right.muscle[kInferiorRectus].limit_deg = limit;
    const double up = eyes.look(Eye::right, 0.0, 35.0, 0.0).vertical;
    CHECK(up < before);
    before = up;
  }
}
