// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Lines of sight through prisms, against published values and against themselves. Numbers like A20
// are rows of the design's list of clinical check cases.
#include "sim/optics/sight.hpp"

#include <catch2/catch.hpp>
#include <rapidcheck.h>

#include <optional>
#include <vector>

#include "sim/basics/elementary.hpp"

using namespace redress;
using namespace redress::optics;

namespace {

HeldPrism make(double label, double base, Material material = Material::plastic) {
  const auto prism = make_held_prism(PrismDioptres{label}, material, Degrees{base});
  REQUIRE(prism);
  return *prism;
}

Vector see(Vector centre, Vector target, const std::vector<HeldPrism>& prisms) {
  const auto stack = make_stack(prisms, Hold::frontal, {}, centre, normalised(target - centre));
  REQUIRE(stack);
  const auto seen = apparent_direction(centre, target, stack->view());
  REQUIRE(seen);
  return *seen;
}

/// How far inward two eyes have to turn, together, beyond the target itself.
double deviation_met(double right_label, double left_label, double distance_mm) {
  const Vector target{0, 0, -distance_mm};
  const double right = right_label > 0
                           ? gaze_angles(see({}, target, {make(right_label, 180)})).horizontal.value
                           : 0.0;
  const double left = gaze_angles(see({}, target, {make(left_label, 0)})).horizontal.value;
  return to_prism_dioptres(Degrees{left - right}).value;
}

Vector mirrored(Vector v) { return {-v.x, v.y, v.z}; }

struct Setting {
  std::vector<HeldPrism> prisms;
  Hold hold = Hold::frontal;
  Degrees tilt;
  Vector centre;
  Vector target;
};

double tenths(int low, int high) { return *rc::gen::inRange(low, high) * 0.1; }

Setting any_setting() {
  Setting p;
  const int count = *rc::gen::inRange(1, 4);
  for (int i = 0; i < count; ++i) {
    const auto material = *rc::gen::element(Material::plastic, Material::glass);
    const double label = tenths(1, 450);
    const double base = tenths(0, 3601);
    const auto prism = make_held_prism(PrismDioptres{label}, material, Degrees{base});
    RC_ASSERT(prism.has_value());
    p.prisms.push_back(*prism);
  }
  p.hold = *rc::gen::element(Hold::frontal, Hold::prentice, Hold::minimum);
  p.tilt = Degrees{tenths(-200, 201)};
  p.centre = {tenths(-350, 351), 0, 0};
  const double horizontal = tenths(-250, 251);
  const double vertical = tenths(-250, 251);
  p.target = target_point(tenths(2, 200), horizontal, vertical);
  return p;
}

Setting mirrored(const Setting& p) {
  Setting m = p;
  for (HeldPrism& prism : m.prisms) prism.base = Degrees{180.0 - prism.base.value};
  m.centre = mirrored(p.centre);
  m.target = mirrored(p.target);
  return m;
}

std::optional<PrismStack> stack_of(const Setting& p) {
  return make_stack(p.prisms, p.hold, p.tilt, p.centre, normalised(p.target - p.centre));
}

}  // namespace

TEST_CASE("A prism dioptre is a centimetre at a metre", "[optics][published]") {
  // A14: 8 prism dioptres at 6 m, 48 cm.
  const Vector a14 = target_point(6.0, to_degrees(PrismDioptres{8}).value, 0);
  CHECK(6000.0 * a14.x / -a14.z == Approx(480.0).margin(0.1));
  // A16: 12 cm, 6 either side, at 6 m. A17: 60 cm at 6 m. A18: 4 mm at 40 cm.
  CHECK(to_prism_dioptres(vergence_demand(Millimetres{120}, 6.0)).value ==
        Approx(2.0002).margin(0.0005));
  CHECK(to_prism_dioptres(gaze_angles({600, 0, -6000}).horizontal).value ==
        Approx(10.0).margin(0.001));
  CHECK(to_prism_dioptres(gaze_angles({4, 0, -400}).horizontal).value == Approx(1.0).margin(0.001));
}

TEST_CASE("Prisms split between the eyes add as angles", "[optics][published]") {
  // Thompson & Guyton 1983 (abstract): one prism before each eye lessens the error and does not
  // remove it. 100 tan(atan a + atan b).
  constexpr double kFarMm = 1e9;
  CHECK(deviation_met(40, 5, kFarMm) == Approx(45.92).margin(0.02));   // A20
  CHECK(deviation_met(40, 10, kFarMm) == Approx(52.08).margin(0.02));  // A21
  CHECK(deviation_met(20, 20, kFarMm) == Approx(41.67).margin(0.02));  // A22
  CHECK(deviation_met(40, 40, kFarMm) == Approx(95.24).margin(0.02));
  CHECK(deviation_met(30, 30, kFarMm) == Approx(65.93).margin(0.02));  // A24
  CHECK(deviation_met(45, 45, kFarMm) == Approx(112.9).margin(0.06));
  CHECK(deviation_met(50, 50, kFarMm) == Approx(133.3).margin(0.06));
}

TEST_CASE("The near effect, by the published formula", "[optics][published]") {
  // Brooks & Borish, System for Ophthalmic Dispensing: P / (1 - s / l), l negative, s = 27 mm.
  CHECK(near_effect(PrismDioptres{10}, 0.4).value == Approx(9.368).margin(0.0005));      // A40
  CHECK(near_effect(PrismDioptres{10}, 1.0 / 3).value == Approx(9.251).margin(0.0005));  // A41
  CHECK(near_effect(PrismDioptres{10}, 6.0).value == Approx(9.955).margin(0.0005));      // A42
  CHECK(near_effect(PrismDioptres{40}, 1.0 / 3).value == Approx(37.0).margin(0.01));
}

TEST_CASE("The near effect of a solid is that of the formula within 0.2 percent", "[optics]") {
  // The formula knows a plane that bends light; the solid has thickness, and its front face bends.
  for (const double distance_m : {1.0 / 3, 0.4, 1.0, 6.0, 20.0}) {
    for (const double label : {1.0, 4.0, 10.0, 20.0, 30.0, 40.0, 45.0}) {
      CAPTURE(distance_m, label);
      const double met = deviation_met(0, label, 1000.0 * distance_m + kPrismToCentreMm);
      CHECK(met == Approx(near_effect(PrismDioptres{label}, distance_m).value).epsilon(0.002));
      CHECK(met < label);
    }
  }
}

TEST_CASE("Vergence demand and places on the line of sight", "[optics]") {
  CHECK(vergence_demand(Millimetres{62}, 0.4).value == Approx(8.8633).margin(0.0005));
  const Vector right = centre_of_rotation(Eye::right, Millimetres{62});
  const Vector left = centre_of_rotation(Eye::left, Millimetres{62});
  CHECK(right == Vector{31, 0, 0});
  CHECK(left == Vector{-31, 0, 0});
  const Vector target = target_point(0.4, 0, 0);
  CHECK(target == Vector{0, 0, -400});
  const double between =
      gaze_angles(target - left).horizontal.value - gaze_angles(target - right).horizontal.value;
  CHECK(between == Approx(vergence_demand(Millimetres{62}, 0.4).value).epsilon(1e-12));
  CHECK(corneal_apex(right, {0, 0, -1}) == Vector{31, 0, -13.5});
  CHECK(entrance_pupil(right, {0, 0, -1}).z == Approx(-10.45).epsilon(1e-14));
  CHECK(apparent_direction(right, target, {}) == normalised(target - right));
}

TEST_CASE("The line of sight through prisms hits the target", "[optics]") {
  const bool held = rc::check([] {
    const Setting p = any_setting();
    const auto stack = stack_of(p);
    RC_PRE(stack.has_value());
    const auto seen = apparent_direction(p.centre, p.target, stack->view());
    RC_PRE(seen.has_value());
    RC_ASSERT(elementary::magnitude(length(*seen) - 1.0) < 1e-12);
    const auto out = trace({p.centre, *seen}, stack->view());
    RC_ASSERT(out.has_value());
    const Vector gap = p.target - out->origin;
    const double miss = length(gap - out->direction * dot(gap, out->direction));
    // Near grazing exit a direction of the eye is magnified on the way out.
    RC_ASSERT(miss < 1e-8 * length(p.target));
  });
  REQUIRE(held);
}

TEST_CASE("What the eye can look at through a prism, it finds", "[optics]") {
  const bool held = rc::check([] {
    Setting p = any_setting();
    p.prisms.resize(1);
    const double h = tenths(-300, 301);
    const double v = tenths(-300, 301);
    const double beyond_mm = 1000.0 * tenths(3, 200);
    const auto stack = stack_of(p);
    RC_PRE(stack.has_value());
    const PrismSolid& solid = stack->solids[0];
    const Vector look = line_of_sight({Degrees{h}, Degrees{v}});
    const auto out = trace({p.centre, look}, stack->view());
    RC_PRE(out.has_value());
    // Not where the light all but grazes a face.
    RC_PRE(dot(out->direction, solid.front_normal) > 0.2);
    RC_PRE(dot(look, solid.back_normal) > 0.2);
    const Vector target = out->origin + out->direction * beyond_mm;
    const auto seen = apparent_direction(p.centre, target, stack->view());
    RC_ASSERT(seen.has_value());
    RC_ASSERT(length(*seen - look) < 1e-12);
  });
  REQUIRE(held);
}

TEST_CASE("Light back along its way arrives where it came from", "[optics]") {
  const HeldPrism prism = make(25, 200);
  const auto stack = make_stack({&prism, 1}, Hold::frontal, Degrees{7}, {}, {0, 0, -1});
  REQUIRE(stack);
  const Ray eye{{}, line_of_sight({Degrees{-11}, Degrees{3}})};
  const auto out = trace(eye, stack->view());
  REQUIRE(out);
  const auto back =
      trace_inward({out->origin + out->direction * 500.0, -out->direction}, stack->view());
  REQUIRE(back);
  CHECK(length(back->direction + eye.direction) < 1e-14);
  const auto untouched = trace(eye, {});
  REQUIRE(untouched);
  CHECK(untouched->direction == eye.direction);
}

TEST_CASE("A mirrored problem has exactly the mirrored answer", "[optics]") {
  const bool held = rc::check([] {
    const Setting p = any_setting();
    const Setting m = mirrored(p);
    const auto stack = stack_of(p);
    const auto other = stack_of(m);
    RC_ASSERT(stack.has_value() == other.has_value());
    RC_PRE(stack.has_value());
    for (std::size_t i = 0; i < stack->count; ++i) {
      RC_ASSERT(other->solids[i].front_point == mirrored(stack->solids[i].front_point));
      RC_ASSERT(other->solids[i].front_normal == mirrored(stack->solids[i].front_normal));
      RC_ASSERT(other->solids[i].back_normal == mirrored(stack->solids[i].back_normal));
    }
    const auto seen = apparent_direction(p.centre, p.target, stack->view());
    const auto other_seen = apparent_direction(m.centre, m.target, other->view());
    RC_ASSERT(seen.has_value() == other_seen.has_value());
    RC_PRE(seen.has_value());
    RC_ASSERT(*other_seen == mirrored(*seen));
  });
  REQUIRE(held);
}

TEST_CASE("Targets mirror exactly", "[optics]") {
  const bool held = rc::check([] {
    const double distance = tenths(2, 200);
    const double h = tenths(-400, 401);
    const double v = tenths(-400, 401);
    RC_ASSERT(target_point(distance, -h, v) == mirrored(target_point(distance, h, v)));
  });
  REQUIRE(held);
}

TEST_CASE("The neutralising label is the label of the prism that neutralises", "[optics]") {
  const bool held = rc::check([] {
    const Eye eye = *rc::gen::element(Eye::right, Eye::left);
    const double label = tenths(0, 1000);
    const double base = tenths(0, 3600);
    const Vector target = target_point(tenths(2, 200), 0, 0);
    const Vector centre = centre_of_rotation(eye, Millimetres{62});
    const auto prism = make_held_prism(PrismDioptres{label}, Material::plastic, Degrees{base});
    RC_ASSERT(prism.has_value());
    const auto stack = make_stack({&*prism, 1}, Hold::frontal, {}, centre, {0, 0, -1});
    RC_ASSERT(stack.has_value());
    const auto seen = apparent_direction(centre, target, stack->view());
    RC_PRE(seen.has_value());
    const auto found = neutralising(eye, *seen, centre, target);
    RC_ASSERT(found.has_value());
    const Vector towards = label * base_direction(Degrees{base});
    RC_ASSERT(elementary::magnitude(found->horizontal.value - side_of(eye) * towards.x) < 1e-8);
    RC_ASSERT(elementary::magnitude(found->vertical.value + side_of(eye) * towards.y) < 1e-8);
    // The mirrored patient has the same horizontal deviation and the opposite vertical one.
    const auto other = neutralising(fellow(eye), mirrored(*seen), mirrored(centre), target);
    RC_ASSERT(other.has_value());
    RC_ASSERT(other->horizontal.value == found->horizontal.value);
    RC_ASSERT(other->vertical.value == -found->vertical.value);
  });
  REQUIRE(held);
}

TEST_CASE("Signs and sizes of neutralising labels", "[optics]") {
  const Vector target = target_point(6.0, 0, 0);
  for (const Eye eye : kBothEyes) {
    CAPTURE(name_of(eye));
    const Vector centre = centre_of_rotation(eye, Millimetres{62});
    const GazeAngles straight = gaze_angles(target - centre);
    const auto find = [&](double inward_deg, double up_deg) {
      return neutralising(eye,
                          line_of_sight({straight.horizontal - Degrees{side_of(eye) * inward_deg},
                                         straight.vertical + Degrees{up_deg}}),
                          centre, target);
    };
    const auto none = find(0, 0);
    REQUIRE(none);
    CHECK(none->horizontal.value == Approx(0.0).margin(1e-9));
    CHECK(none->vertical.value == 0.0);
    const auto eso = find(to_degrees(PrismDioptres{10}).value, 0);
    REQUIRE(eso);
    // 10 of rotation at 6 m: 10 (1 + 27 / 5973) by the published near effect.
    CHECK(eso->horizontal.value == Approx(10.045).margin(0.02));
    const auto exo = find(to_degrees(PrismDioptres{-10}).value, 0);
    REQUIRE(exo);
    CHECK(exo->horizontal.value == Approx(-10.045).margin(0.02));
    // The eye that is higher: + when it is the right one.
    const auto higher = find(0, to_degrees(PrismDioptres{5}).value);
    REQUIRE(higher);
    CHECK(higher->vertical.value == Approx(side_of(eye) * 5.02).margin(0.02));
    CHECK_FALSE(find(60, 0));
    CHECK_FALSE(find(-60, 0));
    CHECK_FALSE(find(0, 75));
  }
}

TEST_CASE("Thirty true prism dioptres at a third of a metre need 32.4", "[optics]") {
  // Design's correction A6, computed with 27 mm.
  const Vector centre{};
  const Vector target{0, 0, -(1000.0 / 3 + kPrismToCentreMm)};
  const auto label = neutralising(Eye::left, line_of_sight({to_degrees(PrismDioptres{30}), {}}),
                                  centre, target);
  REQUIRE(label);
  CHECK(label->horizontal.value == Approx(32.4).margin(0.1));
}

TEST_CASE("Nonsense gives no answer, and no nonsense", "[optics]") {
  const double not_a_number = __builtin_nan("");
  const HeldPrism prism = make(10, 0);
  const auto stack = make_stack({&prism, 1}, Hold::frontal, {}, {}, {0, 0, -1});
  REQUIRE(stack);
  CHECK_FALSE(apparent_direction({}, {not_a_number, 0, -500}, stack->view()));
  CHECK_FALSE(apparent_direction({}, {0, 0, 500}, stack->view()));
  CHECK_FALSE(apparent_direction({}, {0, 0, -20}, stack->view()));  // nearer than the prism
  CHECK_FALSE(trace({{}, {0, 0, 1}}, stack->view()));
  CHECK_FALSE(trace({{}, {1, 0, 0}}, stack->view()));
  CHECK_FALSE(neutralising(Eye::right, {0, 0, 1}, {}, {0, 0, -500}));
  CHECK_FALSE(neutralising(Eye::right, {not_a_number, 0, -1}, {}, {0, 0, -500}));
}
