// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The mirrored patient, examined in the mirror, moves as the mirror image: to the last bit.
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

std::string sensory(const char* preferred, const char* suppressed) {
  return std::string{R"("sensory": {"preferred_eye": ")"} + preferred +
         R"(", "preference": 0.8, "suppression": {"eye": ")" + suppressed +
         R"(", "scotoma_diameter_deg": 2}},)";
}

Case patient_of(bool mirrored, const std::string& muscles = "") {
  const char* right = R"("right": {"sphere_d": 1.5, "acuity_logmar": 0.2})";
  const char* left = R"("left": {"sphere_d": -0.5, "acuity_logmar": 0.0})";
  const char* right_mirrored = R"("left": {"sphere_d": 1.5, "acuity_logmar": 0.2})";
  const char* left_mirrored = R"("right": {"sphere_d": -0.5, "acuity_logmar": 0.0})";
  return case_with(std::string{"\"refraction\": {"} + (mirrored ? right_mirrored : right) + ", " +
                   (mirrored ? left_mirrored : left) + "}, " +
                   (mirrored ? sensory("right", "left") : sensory("left", "right")) +
                   R"("deviation": {"distance_pd": -7, "near_pd": -12, "vertical_pd": )" +
                   (mirrored ? "-1" : "1") + "}" + muscles);
}

// Left and right change places; the room's left and right as well.
std::vector<Act> acts(bool mirrored) {
  const Eye r = mirrored ? Eye::left : Eye::right;
  const Eye l = fellow(r);
  const double side = mirrored ? -1.0 : 1.0;
  const auto base = [mirrored](double deg) { return mirrored ? 180.0 - deg : deg; };
  act::MoveOccluder hand;
  hand.x_mm = side * 28.0;
  hand.y_mm = 9.0;
  hand.z_mm = -33.0;
  hand.roll_deg = side * 12.0;
  act::TiltHead tilt;
  tilt.roll_deg = side * 20.0;
  tilt.turn_deg = side * -8.0;
  tilt.chin_deg = 5.0;
  tilt.travel_ms = 400;
  act::ShowTarget moving;
  moving.distance_m = 0.35;
  moving.horizontal_deg = side * 14.0;
  moving.vertical_deg = -11.0;
  moving.travel_ms = 900;
  return {cover(500, r),
          cover(2500, l),
          hold_prism(3000, l, 6, base(30)),
          uncover(4500),
          hold_prism(6000, r, 4, base(180)),
          Act{8000, hand},
          uncover(10000),
          Act{11000, moving},
          cover(12500, r),
          Act{14000, tilt},
          remove_prism(15000, l),
          uncover(16000),
          show(17000, 6.0, side * -20.0, 10.0)};
}

void check_mirrored(const Case& patient, const Case& image) {
  const Trace one = run_story(patient, acts(false), 20000);
  const Trace two = run_story(image, acts(true), 20000);
  bool moved = false;
  for (Tick t = 0; t <= 20000; ++t) {
    const Observation& a = one.at(t);
    const Observation& b = two.at(t);
    for (const Eye eye : kBothEyes) {
      const EyeObservation& p = a.eye[eye];
      const EyeObservation& q = b.eye[fellow(eye)];
      INFO("at " << t << " ms, " << name_of(eye) << " eye");
      REQUIRE(p.horizontal_deg == -q.horizontal_deg);
      REQUIRE(p.vertical_deg == q.vertical_deg);
      REQUIRE(p.torsion_deg == -q.torsion_deg);
      REQUIRE(p.covered == q.covered);
      REQUIRE(p.pupil_mm == q.pupil_mm);
    }
    REQUIRE(a.accommodation_d == b.accommodation_d);
    REQUIRE(a.fused == b.fused);
    moved = moved || std::abs(a.eye.right.horizontal_deg) > 5.0;
  }
  CHECK(moved);
}

}  // namespace

TEST_CASE("a mirrored case and mirrored acts give the mirrored trace, exactly") {
  check_mirrored(patient_of(false), patient_of(true));
}

TEST_CASE("so do mirrored muscles") {
  const auto muscles = [](const char* one, const char* other, const char* skew) {
    return std::string{R"(, "muscles": {"skew_pd": )"} + skew + R"(, ")" + one +
           R"(": {"lateral_rectus": {"strength": 0.4}, "superior_oblique": {"limit_deg": 6}}, ")" +
           other + R"(": {"medial_rectus": {"version_gain": 0.5}}, "tilt_gain": 1.5})";
  };
  check_mirrored(patient_of(false, muscles("right", "left", "2")),
                 patient_of(true, muscles("left", "right", "-2")));
}

TEST_CASE("one seed gives one examination, two seeds give two") {
  const Case c = case_with_deviation(-6, -9);
  const std::vector<Act> list{cover(1000, Eye::right), uncover(4000)};
  const Trace a = run_story(c, list, 8000, 1.0, 11);
  const Trace again = run_story(c, list, 8000, 1.0, 11);
  const Trace b = run_story(c, list, 8000, 1.0, 12);
  bool differs = false;
  for (Tick t = 0; t <= 8000; ++t) {
    REQUIRE(a.at(t).eye.right.horizontal_deg == again.at(t).eye.right.horizontal_deg);
    differs = differs || a.at(t).eye.right.horizontal_deg != b.at(t).eye.right.horizontal_deg;
  }
  CHECK(differs);
}
