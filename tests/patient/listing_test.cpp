// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Listing's law in convergence: against Eigen's rotations, and what it does to a patient.
#include <cmath>

#include <Eigen/Geometry>
#include <catch2/catch.hpp>

#include "sim/patient/listing.hpp"
#include "sim/patient/plant.hpp"
#include "sim/truth/dissociated.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::patient;
using namespace redress::tests;

namespace {

// Muscle frame: x temporal, y up, z straight ahead.
const Eigen::Vector3d kAhead{0, 0, 1};

Eigen::Vector3d line_of(double horizontal, double vertical) {
  const double h = horizontal / kDegrees;
  const double v = vertical / kDegrees;
  return {std::sin(h) * std::cos(v), std::sin(v), std::cos(h) * std::cos(v)};
}

// From straight ahead to the primary direction and from there to the line, each the shortest way.
Eigen::Quaterniond by_primary(double temporal, double horizontal, double vertical) {
  const Eigen::Vector3d primary = line_of(temporal, 0);
  return Eigen::Quaterniond::FromTwoVectors(primary, line_of(horizontal, vertical)) *
         Eigen::Quaterniond::FromTwoVectors(kAhead, primary);
}

Eigen::Quaterniond eye_turned(Direction3 direction) {
  const Vector o = orientation_of(direction);
  const Eigen::Vector3d turn = Eigen::Vector3d(o.x, o.y, o.z) / kDegrees;
  const double angle = turn.norm();
  if (angle < 1e-12) return Eigen::Quaterniond::Identity();
  return Eigen::Quaterniond(Eigen::AngleAxisd(angle, turn / angle));
}

Observation look(const std::string& members, double distance_m, double vertical_deg) {
  Opening opening;
  opening.target = truth::plain_target(distance_m, 0.0, vertical_deg);
  Examination exam(setup_of(case_with(members)), truth::kCalm, opening);
  truth::wait(exam, 2000);
  return exam.observe();
}

constexpr const char* kStraight = R"("deviation": {"distance_pd": 0, "near_pd": 0})";

}  // namespace

TEST_CASE("in convergence the eye obeys Listing's law about a temporal primary direction",
          "[muscles]") {
  for (const double vergence : {-6.0, 9.0, 25.0}) {
    const double temporal = 0.5 * kListingShare * vergence;
    for (const double h : {-30.0, -4.0, 0.0, 17.0}) {
      for (const double v : {-35.0, -10.0, 0.0, 28.0}) {
        const double turn = calc_listing_turn({h, v, 0}, vergence);
        const Eigen::Quaterniond ours = eye_turned({h, v, turn});
        CHECK(ours.angularDistance(by_primary(temporal, h, v)) < 1e-9);
      }
    }
  }
}

TEST_CASE("convergence: intorsion on looking up, extorsion on looking down, none ahead",
          "[muscles]") {
  // Mok et al. 1992. For small angles a quarter of share x vergence x elevation.
  CHECK(calc_listing_turn({-5, 20, 0}, 10) == Approx(0.65).margin(0.03));
  CHECK(calc_listing_turn({-5, -20, 0}, 10) == Approx(-0.65).margin(0.03));
  CHECK(calc_listing_turn({1, 2, 0}, 3) ==
        Approx(0.25 * kListingShare * 3 * 2 / kDegrees).epsilon(0.01));
  CHECK(calc_listing_turn({-12, 0, 0}, 24) == 0.0);
  CHECK(calc_listing_turn({-12, 30, 0}, 0) == 0.0);
}

TEST_CASE("with the whole share the two retinas keep one horizontal plane", "[muscles]") {
  // What the extension is for (Tweed 1997, from memory): no torsional disparity in the midline.
  for (const double half : {4.0, 9.0}) {
    for (const double v : {-30.0, 20.0}) {
      // A target in the midline: its lines of sight lie in one plane with the line between the
      // eyes. Each eye's angles in its own muscle frame; the line between the eyes is x.
      const double nasal = std::atan(std::tan(half / kDegrees) / std::cos(v / kDegrees)) * kDegrees;
      const double up = std::asin(std::sin(v / kDegrees) * std::cos(half / kDegrees)) * kDegrees;
      const Eigen::Vector3d normal = line_of(-nasal, up).cross(Eigen::Vector3d::UnitX());
      const auto tilt = [&](double turn) {
        const Eigen::Vector3d meridian = eye_turned({-nasal, up, turn}) * Eigen::Vector3d::UnitX();
        return std::asin(meridian.dot(normal.normalized())) * kDegrees;
      };
      const double whole = calc_listing_turn({-nasal, up, 0}, 2 * half / kListingShare);
      CHECK(std::abs(tilt(0.0)) > 0.6);
      CHECK(std::abs(tilt(whole)) < 0.06);
    }
  }
}

TEST_CASE("a healthy patient near: torsion is told against Listing's orientation, which turns",
          "[muscles]") {
  const Observation down = look(kStraight, 0.25, -25);
  const Observation up = look(kStraight, 0.25, 25);
  const Observation ahead = look(kStraight, 0.25, 0);
  for (const Eye eye : kBothEyes) {
    CHECK(down.eye[eye].torsion_deg == 0.0);
    CHECK(up.eye[eye].torsion_deg == 0.0);
    CHECK(std::abs(ahead.eye[eye].listing_deg) < 0.02);
    // 14 degrees of convergence, 25 of elevation: a quarter of 0.75 x 14 x 25.
    const double extorsion = side_of(eye) * down.eye[eye].listing_deg;
    CHECK(extorsion == Approx(1.2).margin(0.25));
    CHECK(-side_of(eye) * up.eye[eye].listing_deg == Approx(1.2).margin(0.25));
  }
}

TEST_CASE("a weak eye is sent where convergence asks, and rests where the cold plant says",
          "[muscles]") {
  const Observation near = look(std::string(kStraight) + R"(, "fusion": {"present": false},
    "sensory": {"preferred_eye": "left"},
    "muscles": {"right": {"superior_oblique": {"strength": 0}}})",
                                0.25, -25);
  EyeMuscles muscles;
  muscles.muscle[kSuperiorOblique].strength = 0;
  // The healthy left eye shows what both were told.
  const double vergence = 2.0 * std::atan(63.0 / 2.0 / 250.0) * kDegrees;
  const Direction3 sent = to_muscle_frame(
      Eye::right, {near.eye.left.horizontal_deg - vergence, near.eye.left.vertical_deg, 0});
  Direction3 told = sent;
  told.torsion = calc_listing_turn(sent, vergence);
  const auto cold = Plant{}.calc_departure(muscles, told);
  REQUIRE(cold);
  const Direction3 seen =
      to_muscle_frame(Eye::right, {near.eye.right.horizontal_deg, near.eye.right.vertical_deg,
                                   near.eye.right.torsion_deg + near.eye.right.listing_deg});
  CHECK(seen.horizontal == Approx(sent.horizontal + cold->turn.horizontal).margin(0.3));
  CHECK(seen.vertical == Approx(sent.vertical + cold->turn.vertical).margin(0.3));
  CHECK(seen.torsion == Approx(told.torsion + cold->turn.torsion).margin(0.1));
}
