// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From observation and room to the scene that is drawn.
#include <catch2/catch.hpp>

#include "render/screens/examine/live_examination.hpp"
#include "render/screens/examine/scene.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/room/examination.hpp"

using namespace redress;
using namespace redress::screens::examine;

namespace {

Case make_case() {
  const Result<Case> read = read_case_text(
      R"({"format": "redress-case", "version": 1, "title": "test",
          "patient": {"name": "Ada Fenn", "interpupillary_distance_mm": 60},
          "deviation": {"distance_pd": -6, "near_pd": -9}})");
  REQUIRE(read.ok());
  return read.value();
}

act::HoldPrism hold(Eye eye, double label, double base, std::int32_t slot = 1,
                    PrismMaterial material = PrismMaterial::plastic) {
  act::HoldPrism a;
  a.eye = eye;
  a.power = PrismDioptres{label};
  a.base = Degrees{base};
  a.slot = slot;
  a.material = material;
  return a;
}

}  // namespace

TEST_CASE("pixels and millimetres agree: the eyes' midpoint is where the layout says") {
  const ViewFrame frame{1440, 704, 578, 303, 8.5};
  const ShownView both = calc_view(frame, Closeness::both, Eye::right, 62);
  const scene::View v = to_scene_view(both, 1440, 704);
  // A point p mm to the patient's right of the picture's middle lies p * scale left of it.
  const double eyes_x = 720 + v.centre_x_mm * v.pixels_per_mm;
  const double eyes_y = 352 + v.centre_y_mm * v.pixels_per_mm;
  CHECK(eyes_x == Approx(578));
  CHECK(eyes_y == Approx(303));
  const ShownView close = calc_view(frame, Closeness::close, Eye::left, 62);
  const scene::View one = to_scene_view(close, 1440, 704);
  CHECK(one.centre_x_mm == Approx(-31));
  CHECK(one.pixels_per_mm == Approx(32));
}

TEST_CASE("eyes, lids, occluder, head and light are those of the engine") {
  Examination exam(setup_of(make_case()), {1, 0.0, true});
  exam.apply(act::Cover{Eye::left, OccluderKind::translucent, Side::above, 0});
  exam.apply(act::TiltHead{10, -4, 3, 0});
  exam.apply(act::Penlight{true});
  exam.apply(act::RoomLight{LightLevel::dim});
  exam.apply(act::MoveViewpoint{20, 10, -450});
  for (int i = 0; i < 900; ++i) exam.step();
  const Observation seen = exam.observe();
  const scene::Scene s = make_scene(seen, exam.room(), exam.setup().room, {});
  CHECK(s.eyes[0].horizontal_deg == seen.eye.right.horizontal_deg);
  CHECK(s.eyes[1].horizontal_deg == seen.eye.left.horizontal_deg);
  CHECK(s.eyes[1].pupil_mm == seen.eye.left.pupil_mm);
  CHECK(s.occluder.present);
  CHECK(s.occluder.translucent);
  CHECK(s.occluder.centre_mm.x < -20);
  CHECK(s.head.roll_deg == Approx(10));
  CHECK(s.light.penlight);
  CHECK(s.light.room < 0.5);
  CHECK(s.examiner_mm == scene::Vec3{20, 10, -450});
  CHECK(s.prisms.empty());
}

TEST_CASE("spectacles and trial lenses are drawn as the engine has them") {
  const Result<Case> read = read_case_text(
      R"({"format": "redress-case", "version": 1, "title": "test",
          "patient": {"name": "Ada Fenn", "interpupillary_distance_mm": 60},
          "refraction": {"right": {"sphere_d": -4}, "left": {"sphere_d": -1},
                         "spectacles": {"right": {"sphere_d": -4}, "left": {"sphere_d": -1},
                                        "worn": true}},
          "deviation": {"distance_pd": -6, "near_pd": -9}})");
  REQUIRE(read.ok());
  Examination exam(setup_of(read.value()), {1, 0.0, true});
  act::TrialLenses lenses;
  lenses.power_d.right = 1.5;
  exam.apply(lenses);
  exam.step();
  const auto drawn = [&] { return make_scene(exam.observe(), exam.room(), exam.setup().room, {}); };
  const scene::Scene worn = drawn();
  CHECK(worn.spectacles.worn);
  CHECK(worn.spectacles.frame_mm == 60);
  CHECK(worn.spectacles.lenses[0].power_xx_d == Approx(-4));
  CHECK(worn.spectacles.lenses[1].power_yy_d == Approx(-1));
  CHECK(worn.trial_lens_d[0] == 1.5);
  CHECK(worn.trial_lens_d[1] == 0);
  exam.apply(act::Spectacles{false});
  exam.step();
  CHECK_FALSE(drawn().spectacles.worn);
}

TEST_CASE("an occluder that is not before the face is drawn only where it waits") {
  Examination exam(setup_of(make_case()), {1, 0.0, true});
  SceneChoice choice;
  CHECK_FALSE(make_scene(exam.observe(), exam.room(), exam.setup().room, choice).occluder.present);
  choice.waiting = optics::OccluderPose{10, -73, -133.5, 0};
  const auto s = make_scene(exam.observe(), exam.room(), exam.setup().room, choice);
  CHECK(s.occluder.present);
  CHECK(s.occluder.centre_mm == scene::Vec3{10, -73, -133.5});
}

TEST_CASE(
    "a plastic prism whose label is on a bar is a bar at that step, 27 mm before the centre") {
  Examination exam(setup_of(make_case()), {1, 0.0, true});
  exam.apply(hold(Eye::right, 8, 0));
  SceneChoice choice;
  choice.held.right[0] = HeldLook{true, 5.0};
  const auto s = make_scene(exam.observe(), exam.room(), exam.setup().room, choice);
  REQUIRE(s.prisms.size() == 1);
  const scene::Prism& p = s.prisms[0];
  CHECK(p.form == scene::PrismForm::kBar);
  CHECK(p.steps.size() == 16);
  CHECK(p.steps.at(p.at).label_pd == 8);
  CHECK(p.steps[p.at].apex_angle_deg == exam.room().prisms.right.slots[0].prism.apex.value);
  CHECK(p.slide_mm == 5.0);
  CHECK(p.back_centre_mm.x == Approx(30));
  CHECK(p.back_centre_mm.z == Approx(-27));
  choice.held.right[0] = HeldLook{false, 0};
  const auto loose = make_scene(exam.observe(), exam.room(), exam.setup().room, choice);
  CHECK(loose.prisms[0].form == scene::PrismForm::kLoose);
  CHECK(loose.prisms[0].steps.size() == 1);
}

TEST_CASE(
    "glass is never a bar; a stack stands one before the other; base up uses the upright bar") {
  Examination exam(setup_of(make_case()), {1, 0.0, true});
  exam.apply(hold(Eye::left, 20, 180));
  exam.apply(hold(Eye::left, 3, 90, 2));
  exam.apply(hold(Eye::right, 20, 0, 1, PrismMaterial::glass));
  const auto s = make_scene(exam.observe(), exam.room(), exam.setup().room, {});
  REQUIRE(s.prisms.size() == 3);
  CHECK(s.prisms[0].form == scene::PrismForm::kLoose);
  CHECK(s.prisms[0].refractive_index == optics::kGlassIndex);
  CHECK(s.prisms[2].back_centre_mm.z < s.prisms[1].back_centre_mm.z);
  CHECK(s.prisms[2].back_centre_mm.x == Approx(-30));
  CHECK(s.prisms[2].steps.size() == 14);
}

TEST_CASE("a face follows from the name alone, and has the case's distance between the eyes") {
  Case plain = make_case();
  Case squinting = make_case();
  squinting.deviation.distance = PrismDioptres{40};
  squinting.title = "another";
  squinting.seed = 9;
  CHECK(make_appearance(plain) == make_appearance(squinting));
  CHECK(make_appearance(plain).interpupillary_mm == 60.0F);
  Case child = make_case();
  child.patient.age_years = 5;
  CHECK(make_appearance(child).face_scale < 1.0F);
  Case named = make_case();
  named.patient.appearance = "walter";
  CHECK_FALSE(make_appearance(named) == make_appearance(plain));
}

TEST_CASE("between two ticks, angles and occluder lie between, a cover does not") {
  Moment a;
  Moment b;
  a.seen.eye.right.horizontal_deg = 1;
  b.seen.eye.right.horizontal_deg = 3;
  b.seen.eye.right.covered = true;
  a.room.occluder.before_face = b.room.occluder.before_face = true;
  a.room.occluder.pose.x_mm = 10;
  b.room.occluder.pose.x_mm = 12;
  const Moment m = interpolate(a, b, 0.25);
  CHECK(m.seen.eye.right.horizontal_deg == Approx(1.5));
  CHECK(m.room.occluder.pose.x_mm == Approx(10.5));
  CHECK(m.seen.eye.right.covered);
  a.room.occluder.before_face = false;  // from nowhere there is no way
  CHECK(interpolate(a, b, 0.25).room.occluder.pose.x_mm == 12);
}
