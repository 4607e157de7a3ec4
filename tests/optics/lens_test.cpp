// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Lenses as optics, against published rules. Numbers like B01 are rows of the design's list of
// clinical check cases. Scattergood, Brown & Guyton 1983: Am J Ophthalmol 96:439.
#include "sim/optics/lens.hpp"

#include <catch2/catch.hpp>
#include <rapidcheck.h>

#include "sim/basics/elementary.hpp"
#include "sim/optics/sight.hpp"

using namespace redress;
using namespace redress::optics;

namespace {

constexpr double kFarMm = 1e9;
const Vector kFarAhead{0, 0, -kFarMm};

Lens sphere_lens(double dioptres, double vertex_mm = 12.0) {
  Lens lens;
  lens.power = sphere_of(dioptres);
  lens.vertex_mm = vertex_mm;
  return lens;
}

Lens progressive_lens(double add, double corridor_mm) {
  Lens lens;
  lens.design = LensDesign::progressive;
  lens.add_d = add;
  lens.corridor_mm = corridor_mm;
  return lens;
}

/// The prism that neutralises, before the lens, an eye turned out by so much.
double measured(double true_pd, const Lens& lens) {
  const Vector sight = line_of_sight({to_degrees(PrismDioptres{true_pd}), {}});
  const auto label = neutralising(Eye::right, sight, {}, kFarAhead, &lens);
  REQUIRE(label);
  return -label->horizontal.value;
}

/// What the lens bends at a place, prism dioptres towards x and y.
struct Prism {
  double right;
  double up;
};
Prism prism_at(const Lens& lens, double x_mm, double y_mm) {
  const LensEffect e = calc_effect(lens, part_at(lens, x_mm, y_mm), x_mm, y_mm);
  return {100.0 * e.bend_x, 100.0 * e.bend_y};
}

Vector mirrored(Vector v) { return {-v.x, v.y, v.z}; }
Lens mirrored(Lens lens) {
  lens.power.xy = -lens.power.xy;
  lens.prism_x = -lens.prism_x;
  lens.centre_x_mm = -lens.centre_x_mm;
  lens.near_x_mm = -lens.near_x_mm;
  return lens;
}

double any_between(int low, int high) { return *rc::gen::inRange(low * 100, high * 100) / 100.0; }

Lens any_lens() {
  Lens lens;
  lens.power = to_powers(Dioptres{any_between(-20, 15)}, Dioptres{any_between(-5, 5)},
                         Degrees{any_between(0, 180)});
  lens.prism_x = any_between(-10, 10) / 100.0;
  lens.prism_y = any_between(-10, 10) / 100.0;
  lens.centre_x_mm = any_between(-5, 5);
  lens.centre_y_mm = any_between(-5, 5);
  lens.vertex_mm = any_between(8, 16);
  lens.design =
      *rc::gen::element(LensDesign::single, LensDesign::bifocal, LensDesign::progressive);
  lens.add_d = any_between(1, 3);
  lens.near_x_mm = any_between(-3, 3);
  lens.near_top_mm = any_between(-6, 2);
  lens.corridor_mm = any_between(10, 18);
  return lens;
}

}  // namespace

TEST_CASE("Minus spectacles raise a measured deviation, plus lower it", "[optics][published]") {
  // Measured = true (1 - d F), 2.5 percent a dioptre: Scattergood, Brown & Guyton 1983; 40 in -10 D
  // measures 50 (worked example of optics review notes). The rule takes d as 25 mm; here a vertex
  // distance of 12 mm makes 25.5.
  CHECK(measured(40, sphere_lens(-10)) == Approx(50.0).margin(0.5));  // B01
  CHECK(measured(40, sphere_lens(+10)) == Approx(30.0).margin(0.5));  // B02
  CHECK(measured(20, sphere_lens(+4)) == Approx(18.0).margin(0.1));   // B06
  CHECK(measured(20, sphere_lens(-4)) == Approx(22.0).margin(0.1));
  CHECK(measured(40, sphere_lens(-10)) == Approx(40 * (1 + 0.0255 * 10)).epsilon(1e-6));
  // At 25 mm the rule itself, also the way back, with the four powers that are memorised (B04,
  // B05).
  constexpr double kVertexMm = 11.5;
  CHECK(30.0 / measured(30, sphere_lens(+10, kVertexMm)) == Approx(1.333).margin(0.001));
  CHECK(30.0 / measured(30, sphere_lens(-10, kVertexMm)) == Approx(0.80).margin(0.001));
  CHECK(30.0 / measured(30, sphere_lens(+20, kVertexMm)) == Approx(2.0).epsilon(0.01));
  CHECK(30.0 / measured(30, sphere_lens(-20, kVertexMm)) == Approx(0.667).epsilon(0.01));
  CHECK(30.0 / measured(30, sphere_lens(-5, kVertexMm)) == Approx(0.889).margin(0.001));
  CHECK(30.0 / measured(30, sphere_lens(+5, kVertexMm)) == Approx(1.143).margin(0.001));
  CHECK(measured(40, Lens{}) == Approx(40.0).epsilon(1e-6));
}

TEST_CASE("Prentice's rule", "[optics][published]") {
  // B08: R +3.00, L -1.00, 5 mm below the centres: R 1.5 base up, L 0.5 base down (worked example
  // of optics review notes). A line going outward bends towards the base.
  CHECK(prism_at(sphere_lens(+3), 0, -5).up == Approx(1.5).margin(1e-12));
  CHECK(prism_at(sphere_lens(-1), 0, -5).up == Approx(-0.5).margin(1e-12));
  // B09: +5.00, 2 mm in and 8 mm down: 4 base up and 1 base out; the right eye's nose is at -x.
  CHECK(prism_at(sphere_lens(+5), -2, -8).up == Approx(4.0).margin(1e-12));
  CHECK(prism_at(sphere_lens(+5), -2, -8).right == Approx(1.0).margin(1e-12));
  // B10: +3.00 decentred by 4 mm.
  Lens decentred = sphere_lens(+3);
  decentred.centre_x_mm = 4;
  CHECK(prism_at(decentred, 0, 0).right == Approx(1.2).margin(1e-12));
  // A cylinder bends across its axis only; axis 90 has its power along the horizontal.
  Lens cylinder;
  cylinder.power = to_powers(Dioptres{0}, Dioptres{-2}, Degrees{90});
  CHECK(prism_at(cylinder, 10, 10).right == Approx(2.0).margin(1e-12));
  CHECK(prism_at(cylinder, 10, 10).up == Approx(0.0).margin(1e-12));
}

TEST_CASE("Axes count as bases do: from the patient's left, upwards", "[optics]") {
  // ISO 8429. An axis of 45 degrees runs from the patient's lower right to the upper left.
  const PowerMatrix p = to_powers(Dioptres{1}, Dioptres{-2}, Degrees{45});
  CHECK(p.xx == Approx(0.0).margin(1e-12));
  CHECK(p.yy == Approx(0.0).margin(1e-12));
  // No power along the axis (-1, 1): +1 there; -1 across it.
  const double along = 0.5 * (p.xx - 2 * p.xy + p.yy);
  const double across = 0.5 * (p.xx + 2 * p.xy + p.yy);
  CHECK(along == Approx(1.0));
  CHECK(across == Approx(-1.0));
  CHECK(half_cylinder(p) == Approx(1.0));
  CHECK(to_powers(Dioptres{-3}, {}, Degrees{33}) == sphere_of(-3));
}

TEST_CASE("A correction carried to the cornea", "[optics][published]") {
  // F / (1 - v F): -10.00 at 12 mm is -8.93 on the cornea, +10.00 is +11.36 (textbook table, from
  // memory).
  CHECK(mean_of(carried(sphere_of(-10), 12)) == Approx(-8.93).margin(0.005));
  CHECK(mean_of(carried(sphere_of(+10), 12)) == Approx(11.36).margin(0.005));
  // Meridian by meridian, whatever the axis.
  for (const double axis : {0.0, 30.0, 90.0, 135.0}) {
    const PowerMatrix p = carried(to_powers(Dioptres{-4}, Dioptres{-6}, Degrees{axis}), 12);
    const double weak = -4.0 / 1.048;
    const double strong = -10.0 / 1.12;
    CHECK(mean_of(p) == Approx(0.5 * (weak + strong)));
    CHECK(half_cylinder(p) == Approx(0.5 * (weak - strong)));
  }
  CHECK(carried(PowerMatrix{}, 12) == PowerMatrix{});
}

TEST_CASE("What is left to accommodate", "[optics][published]") {
  // Nothing for a distant target in the exact correction, spectacles or contact lenses.
  for (const double sphere : {-12.0, -3.0, 4.0, 9.0}) {
    CAPTURE(sphere);
    const PowerMatrix written = to_powers(Dioptres{sphere}, Dioptres{-1.5}, Degrees{20});
    const PowerMatrix correction = carried(written, 12);
    Lens lens;
    lens.power = written;
    const Focus focus = calc_focus(correction, lens, lens.power, 1e7);
    CHECK(focus.demand_d == Approx(0.0).margin(1e-6));
    CHECK(focus.astigmatism_d == Approx(0.0).margin(1e-6));
    Lens contact;
    contact.contact = true;
    contact.power = correction;
    CHECK(calc_focus(correction, contact, contact.power, 1e7).demand_d ==
          Approx(0.0).margin(1e-6));
    // At near a contact lens leaves what an emmetrope has to do, minus spectacles less, plus more
    // (textbook rule, from memory).
    const double emmetrope = calc_focus({}, 0.4).demand_d;
    CHECK(calc_focus(correction, contact, contact.power, 0.4).demand_d == Approx(emmetrope));
    const double at_near = calc_focus(correction, lens, lens.power, 0.4).demand_d;
    CHECK((sphere < 0 ? at_near < emmetrope - 0.1 : at_near > emmetrope + 0.1));
  }
  CHECK(calc_focus({}, 0.4).demand_d == 1.0 / (0.4 - 0.0135));
  // Without the lens: a myope's far point, and a cylinder's half.
  const Focus myope = calc_focus(carried(sphere_of(-3), 12), 1e7);
  CHECK(myope.demand_d == Approx(-3.0 / 1.036).margin(1e-4));
  const Focus astigmat = calc_focus(to_powers(Dioptres{1}, Dioptres{-2}, Degrees{30}), 1e7);
  CHECK(astigmat.demand_d == Approx(0.0).margin(1e-4));
  CHECK(astigmat.astigmatism_d == Approx(1.0));
  // A flat lens leaves the demand as it is.
  CHECK(calc_focus({}, Lens{}, {}, 0.4).demand_d == Approx(calc_focus({}, 0.4).demand_d));
}

TEST_CASE("A lens without power changes no direction", "[optics]") {
  CHECK(is_plano(Lens{}));
  for (const Vector target :
       {Vector{0, 0, -400}, Vector{150, -90, -380}, Vector{-2000, 700, -6e3}}) {
    const auto seen = look_through(Lens{}, {31, 0, 0}, target);
    REQUIRE(seen);
    CHECK(length(seen->direction - normalised(target - Vector{31, 0, 0})) < 1e-15);
  }
  Lens add_only = progressive_lens(2, 14);
  CHECK_FALSE(is_plano(add_only));
}

TEST_CASE("Anisometropia in side gaze", "[optics][published]") {
  // Design's correction B18: 3 D of anisometropia at 25 degrees, 12.6 mm off the centres (27 mm
  // from the centre of rotation), adds 3.8. Prentice's rule, in slopes; the lens agrees.
  constexpr double kVertexMm = 13.5;
  const Vector sight = line_of_sight({Degrees{25}, {}});
  const double slope = sight.x / -sight.z;
  CHECK(27.0 * slope == Approx(12.6).margin(0.05));
  const auto bend_of = [&](double power) {
    const Lens lens = sphere_lens(power, kVertexMm);
    const Ray ray = pass_outward(lens, LensPart::distance, {}, {{}, sight});
    return 100.0 * (ray.direction.x / -ray.direction.z - slope);
  };
  CHECK(bend_of(-4) - bend_of(-1) == Approx(3.8).margin(0.05));
  // As a turn of the eye it is less: slopes are steep at 25 degrees.
  const auto turn_of = [&](double power) {
    const Lens lens = sphere_lens(power, kVertexMm);
    const auto seen = look_through(lens, {}, line_of_sight({Degrees{25}, {}}) * kFarMm);
    REQUIRE(seen);
    return gaze_angles(seen->direction).horizontal;
  };
  CHECK(to_prism_dioptres(turn_of(-1) - turn_of(-4)).value == Approx(2.79).margin(0.01));
  // Equal lenses: no difference, whatever their power.
  CHECK(bend_of(-8) - bend_of(-8) == 0.0);
}

TEST_CASE("The line of sight through a lens hits the target", "[optics]") {
  const bool held = rc::check([] {
    const Lens lens = any_lens();
    const Vector centre{any_between(-35, 35), 0, 0};
    const Vector target = target_point(any_between(1, 60) / 3.0 + 0.2, any_between(-25, 25),
                                       any_between(-25, 25));
    const auto seen = look_through(lens, centre, target);
    RC_PRE(seen.has_value());
    const Ray out = pass_outward(lens, seen->part, centre, {centre, seen->direction});
    const Vector to_target = target - out.origin;
    const Vector off = to_target - out.direction * dot(to_target, out.direction);
    RC_ASSERT(length(off) < 1e-9 * length(to_target));
    // And light back along that way arrives along the line of sight.
    const Ray in = pass_inward(lens, seen->part, centre, {out.origin, -out.direction});
    RC_ASSERT(length(in.direction + seen->direction) < 1e-13);
    // The mirrored eye behind the mirrored lens.
    const auto other = look_through(mirrored(lens), mirrored(centre), mirrored(target));
    RC_ASSERT(other.has_value());
    RC_ASSERT(other->direction == mirrored(seen->direction));
  });
  REQUIRE(held);
}

TEST_CASE("Behind a lens with prisms before it", "[optics]") {
  const auto make = [](double label, double base) {
    const auto prism = make_held_prism(PrismDioptres{label}, Material::plastic, Degrees{base});
    REQUIRE(prism);
    return *prism;
  };
  const Vector centre{31, 0, 0};
  SECTION("a prism alone and with a lens that does nothing") {
    const HeldPrism prism = make(15, 30);
    const auto stack = make_stack({&prism, 1}, Hold::frontal, {}, centre, {0, 0, -1});
    const Vector target = target_point(0.4, 3, -4);
    const auto alone = apparent_direction(centre, target, stack->view());
    const auto both = look_through(Lens{}, centre, target, stack->view());
    REQUIRE(alone);
    REQUIRE(both);
    CHECK(length(both->direction - *alone) < 1e-12);
  }
  SECTION("the prism that neutralises through a lens does so") {
    for (const double power : {-12.0, -4.0, 3.0, 10.0}) {
      for (const double distance_m : {0.4, 6.0}) {
        CAPTURE(power, distance_m);
        Lens lens = sphere_lens(power);
        lens.power = to_powers(Dioptres{power}, Dioptres{-2}, Degrees{35});
        lens.centre_y_mm = 1.5;
        const Vector target = target_point(distance_m, 0, 0);
        const Vector sight = line_of_sight({Degrees{9}, Degrees{-3}});
        const auto label = neutralising(Eye::right, sight, centre, target, &lens);
        REQUIRE(label);
        // Base down before the right eye for +.
        const Vector base{label->horizontal.value, -label->vertical.value, 0};
        const double angle = elementary::arc_tangent(base.y, -base.x) *
                             elementary::kDegreesPerRadian;
        const HeldPrism prism = make(length(base), angle);
        const auto stack = make_stack({&prism, 1}, Hold::frontal, {}, centre, {0, 0, -1});
        REQUIRE(stack);
        const auto seen = look_through(lens, centre, target, stack->view());
        REQUIRE(seen);
        CHECK(length(seen->direction - sight) < 1e-7);
      }
    }
  }
  SECTION("a contact lens goes with the eye") {
    Lens contact = sphere_lens(-10);
    contact.contact = true;
    const HeldPrism prism = make(40, 0);
    const auto stack = make_stack({&prism, 1}, Hold::frontal, {}, centre, {0, 0, -1});
    const Vector target = target_point(6.0, 0, 0);
    const auto seen = look_through(contact, centre, target, stack->view());
    REQUIRE(seen);
    CHECK(seen->direction == *apparent_direction(centre, target, stack->view()));
    CHECK(measured(40, contact) == measured(40, Lens{}));
  }
}

TEST_CASE("A bifocal: the segment, its jump, and what is seen through it", "[optics]") {
  Lens lens = sphere_lens(-2);
  lens.design = LensDesign::bifocal;
  lens.add_d = 2;
  lens.near_x_mm = -2.5;
  lens.near_top_mm = -5;
  // Jump: addition times the distance from the segment's top to its centre, base down (common
  // knowledge of dispensing, from memory).
  const LensEffect above = calc_effect(lens, LensPart::distance, -2.5, -5);
  const LensEffect below = calc_effect(lens, LensPart::near, -2.5, -5);
  CHECK(100.0 * (below.bend_y - above.bend_y) == Approx(-2.0 * 0.5).margin(1e-12));
  // Ahead through the distance part, 25 degrees down through the segment, beside it not.
  const auto ahead = look_through(lens, {31, 0, 0}, target_point(0.4, 0, 0));
  const auto down = look_through(lens, {31, 0, 0}, target_point(0.4, 0, -25));
  const auto beside = look_through(lens, {31, 0, 0}, target_point(0.4, 48, -25));
  REQUIRE((ahead && down && beside));
  CHECK(mean_of(ahead->power) == -2.0);
  CHECK(mean_of(down->power) == 0.0);
  CHECK(mean_of(beside->power) == -2.0);
  CHECK(part_at(lens, -2.5, -4.9) == LensPart::distance);
  CHECK(part_at(lens, -2.5, -5.1) == LensPart::near);
}

TEST_CASE("A progressive lens", "[optics][published]") {
  const Lens lens = progressive_lens(2.0, 14);
  const auto effect = [&](double x, double y) {
    return calc_effect(lens, LensPart::distance, x, y);
  };
  CHECK(effect(7, 3).power == PowerMatrix{});
  CHECK(mean_of(effect(0, -7).power) == Approx(1.0));
  CHECK(mean_of(effect(0, -14).power) == Approx(2.0));
  CHECK(mean_of(effect(0, -20).power) == Approx(2.0));
  // No astigmatism down the middle; beside it, it grows twice as fast as the power down the
  // corridor (Minkwitz 1963, Opt Acta 10:223).
  for (const double y : {-3.0, -7.0, -10.0}) {
    CAPTURE(y);
    CHECK(half_cylinder(effect(0, y).power) == Approx(0.0).margin(1e-12));
    constexpr double kStep = 1e-3;
    const double per_mm_down =
        (mean_of(effect(0, y - kStep).power) - mean_of(effect(0, y + kStep).power)) / (2 * kStep);
    constexpr double kBesideMm = 0.1;
    const double cylinder = 2.0 * half_cylinder(effect(kBesideMm, y).power);
    CHECK(cylinder / kBesideMm == Approx(2.0 * per_mm_down).epsilon(0.01));
  }
  // The powers are the slopes of the bends.
  for (const double x : {-6.0, 0.0, 3.0}) {
    for (const double y : {-2.0, -8.0, -15.0}) {
      CAPTURE(x, y);
      constexpr double kStep = 1e-4;
      const PowerMatrix p = effect(x, y).power;
      const double scale = -1000.0 / (2 * kStep);
      CHECK(scale * (effect(x + kStep, y).bend_x - effect(x - kStep, y).bend_x) ==
            Approx(p.xx).margin(1e-6));
      CHECK(scale * (effect(x, y + kStep).bend_y - effect(x, y - kStep).bend_y) ==
            Approx(p.yy).margin(1e-6));
      CHECK(scale * (effect(x, y + kStep).bend_x - effect(x, y - kStep).bend_x) ==
            Approx(p.xy).margin(1e-6));
      CHECK(scale * (effect(x + kStep, y).bend_y - effect(x - kStep, y).bend_y) ==
            Approx(p.xy).margin(1e-6));
    }
  }
}

TEST_CASE("An eye off the target: what the retina says and what turn is needed", "[optics]") {
  // The engine takes the turn that is needed for the place of the image on the retina. Light into
  // the middle of the pupil of an eye that points elsewhere comes at another angle; the difference
  // is stated in lens.hpp.
  const auto retina_over_turn = [](double power, double off_deg) {
    const Lens lens = sphere_lens(power);
    const Vector sight = line_of_sight({Degrees{off_deg}, {}});
    const Vector pupil = entrance_pupil({}, sight);
    // The target straight ahead at infinity: light along +z onto the lens, then into the pupil.
    const double plane = calc_distance_to_centre(lens);
    const double gap_m = (plane + pupil.z) / 1000.0;
    const double x = pupil.x / (1.0 - gap_m * power);
    const Ray in = pass_inward(lens, LensPart::distance, {}, {{x, 0, -plane}, {0, 0, 1}});
    const double seen_at = gaze_angles(-in.direction).horizontal.value;
    return (off_deg - seen_at) / off_deg;
  };
  CHECK(retina_over_turn(0.0, 10) == 1.0);
  CHECK(retina_over_turn(-10.0, 10) == Approx(1.09).margin(0.005));
  CHECK(retina_over_turn(-3.0, 10) == Approx(1.03).margin(0.005));
  CHECK(retina_over_turn(+6.0, 10) == Approx(0.93).margin(0.005));
}

TEST_CASE("Lenses that nobody can look through, and nonsense", "[optics]") {
  CHECK_FALSE(look_through(sphere_lens(40), {}, kFarAhead));
  CHECK(look_through(sphere_lens(38), {}, kFarAhead));
  CHECK_FALSE(look_through(sphere_lens(1), {}, {0, 0, -20}));
  CHECK_FALSE(look_through(sphere_lens(1), {}, {0, 0, 500}));
  const double not_a_number = __builtin_nan("");
  CHECK_FALSE(look_through(sphere_lens(1), {}, {not_a_number, 0, -500}));
  CHECK_FALSE(look_through(sphere_lens(not_a_number), {}, kFarAhead));
}
