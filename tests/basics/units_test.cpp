// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Units: what compiles, what must not, and the conversions of the prism dioptre against values
// printed elsewhere.
#include "sim/basics/units.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <rapidcheck/catch.h>
#include <type_traits>

using namespace redress;

namespace {

template <class A, class B>
concept Adds = requires(A a, B b) { a + b; };
template <class A, class B>
concept Subtracts = requires(A a, B b) { a - b; };
template <class A, class B>
concept AddsInPlace = requires(A a, B b) { a += b; };
template <class A, class B>
concept Multiplies = requires(A a, B b) { a * b; };
template <class A, class B>
concept Divides = requires(A a, B b) { a / b; };
template <class A, class B>
concept Compares = requires(A a, B b) { a < b; };

// Two prism dioptres do not add: they are tangents.
static_assert(!Adds<PrismDioptres, PrismDioptres>);
static_assert(!Subtracts<PrismDioptres, PrismDioptres>);
static_assert(!AddsInPlace<PrismDioptres&, PrismDioptres>);
static_assert(!Multiplies<PrismDioptres, double>);
static_assert(!Multiplies<double, PrismDioptres>);
static_assert(!Divides<PrismDioptres, double>);
static_assert(Compares<PrismDioptres, PrismDioptres>);

// Degrees, dioptres, lengths and times do.
static_assert(Adds<Degrees, Degrees> && Subtracts<Degrees, Degrees>);
static_assert(Adds<Dioptres, Dioptres> && Adds<Seconds, Seconds>);
static_assert(Adds<Millimetres, Millimetres> && Adds<Metres, Metres>);
static_assert(AddsInPlace<Degrees&, Degrees>);
static_assert(Multiplies<Degrees, double> && Multiplies<double, Degrees>);
static_assert(std::is_same_v<decltype(Degrees{1} / Degrees{2}), double>);

// Nothing mixes, neither with another unit nor with a bare number.
static_assert(!Adds<Degrees, PrismDioptres> && !Adds<PrismDioptres, Degrees>);
static_assert(!Adds<Degrees, Dioptres> && !Adds<Millimetres, Metres>);
static_assert(!Adds<Degrees, double> && !Adds<double, Degrees>);
static_assert(!Compares<Degrees, PrismDioptres> && !Compares<Degrees, double>);
static_assert(!Multiplies<Degrees, Degrees>);
static_assert(!std::is_convertible_v<double, Degrees>);
static_assert(!std::is_convertible_v<Degrees, double>);
static_assert(!std::is_convertible_v<Metres, Millimetres>);
static_assert(!std::is_constructible_v<Degrees, PrismDioptres>);

// One double, nothing else.
static_assert(sizeof(PrismDioptres) == sizeof(double));
static_assert(std::is_trivially_copyable_v<PrismDioptres>);

struct Row {
  const char* id;
  double given;
  double expected;
  double tolerance;
};

}  // namespace

TEST_CASE("prism dioptres to degrees: 100 tan, rows A01 to A08") {
  // Gurnani (ed.), Prisms, 2023: a prism dioptre is 1 cm at 1 m.
  for (const Row& row : {Row{"A01", 1, 0.5729, 0.0005}, Row{"A02", 2, 1.1458, 0.0005},
                         Row{"A04", 10, 5.7106, 0.0005}, Row{"A05", 20, 11.3099, 0.0005},
                         Row{"A06", 45, 24.2277, 0.0005}, Row{"A08", 100, 45.0, 0.0005}}) {
    INFO(row.id);
    REQUIRE(to_degrees(PrismDioptres{row.given}).value ==
            Approx(row.expected).margin(row.tolerance).epsilon(0));
  }
}

TEST_CASE("degrees to prism dioptres, rows A09 to A13") {
  // The same source; it also prints 1 degree = 1.75 and 7 prism dioptres = 4 degrees.
  for (const Row& row : {Row{"A09", 1, 1.7455, 0.0005}, Row{"A10", 4, 6.9927, 0.0005},
                         Row{"A12", 15, 26.7949, 0.0005}, Row{"A13", 30, 57.7350, 0.0005}}) {
    INFO(row.id);
    REQUIRE(to_prism_dioptres(Degrees{row.given}).value ==
            Approx(row.expected).margin(row.tolerance).epsilon(0));
  }
  REQUIRE(to_prism_dioptres(Degrees{1}).value == Approx(1.75).margin(0.005));
  REQUIRE(to_degrees(PrismDioptres{7}).value == Approx(4.0).margin(0.01));
}

TEST_CASE("displacements and lines of letters, rows A14 to A18") {
  // The same source: 1 cm for each metre and prism dioptre.
  const double degree = elementary::kRadiansPerDegree;
  // A14: 8 prism dioptres at 6 m displace by 48 cm.
  REQUIRE(600.0 * std::tan(to_degrees(PrismDioptres{8}).value * degree) ==
          Approx(48.0).margin(0.01).epsilon(0));
  // A16: from one end to the other of a line 12 cm long about the midline, at 6 m.
  const Degrees half_line{std::atan(6.0 / 600.0) / degree};
  REQUIRE(to_prism_dioptres(half_line + half_line).value ==
          Approx(2.0002).margin(0.0005).epsilon(0));
  // A17: 60 cm to the side at 6 m. A18: 4 mm to the side at 40 cm.
  REQUIRE(to_prism_dioptres(Degrees{std::atan(60.0 / 600.0) / degree}).value ==
          Approx(10.0).margin(0.001).epsilon(0));
  REQUIRE(to_prism_dioptres(Degrees{std::atan(4.0 / 400.0) / degree}).value ==
          Approx(1.0).margin(0.001).epsilon(0));
}

TEST_CASE("angles add where prism dioptres do not") {
  // 40 before one eye and 40 before the other: 100 tan(2 atan 0.4), computed by hand.
  const Degrees one = to_degrees(PrismDioptres{40});
  REQUIRE(to_prism_dioptres(one + one).value == Approx(80.0 / 0.84).epsilon(1e-12));
}

TEST_CASE("there and back again, odd and rising") {
  rc::prop("prism dioptres survive the way through degrees", [] {
    const double power = *rc::gen::inRange(-1000000, 1000001) * 1e-4;
    const PrismDioptres back = to_prism_dioptres(to_degrees(PrismDioptres{power}));
    RC_ASSERT(std::fabs(back.value - power) <= 1e-15 * (100.0 + std::fabs(power)) * 2.0);
    RC_ASSERT(to_degrees(PrismDioptres{-power}).value == -to_degrees(PrismDioptres{power}).value);
    RC_ASSERT(to_degrees(PrismDioptres{power}) < to_degrees(PrismDioptres{power + 1e-6}));
  });
}

TEST_CASE("the arithmetic of additive units") {
  Degrees angle{1.5};
  angle += Degrees{2.0};
  REQUIRE(angle == Degrees{3.5});
  REQUIRE(angle - Degrees{0.5} == Degrees{3.0});
  REQUIRE(angle * 2.0 == Degrees{7.0});
  REQUIRE(2.0 * angle == Degrees{7.0});
  REQUIRE(angle / 2.0 == Degrees{1.75});
  REQUIRE(Degrees{3.0} / Degrees{1.5} == 2.0);
  REQUIRE(-angle == Degrees{-3.5});
  REQUIRE(-PrismDioptres{4} == PrismDioptres{-4});
  REQUIRE(PrismDioptres{4} < PrismDioptres{6});
  REQUIRE(Degrees{}.value == 0.0);
  REQUIRE(to_millimetres(Metres{0.4}) == Millimetres{400.0});
}
