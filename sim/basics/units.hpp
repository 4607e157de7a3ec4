// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Quantities that cannot be mixed up. A quantity is one double: the machine code is the same.
//
// A prism dioptre is 100 tan(angle). Two of them do not add: 40 before one eye and 40 before the
// other make 95, not 80. The type therefore has no operator+; angles add, and the two named
// functions convert.
#pragma once

#include <compare>

#include "sim/basics/elementary.hpp"

namespace redress {

/// What every quantity has: a value, an order, a sign.
template <class Unit>
struct Quantity {
  double value = 0.0;

  constexpr Quantity() = default;
  constexpr explicit Quantity(double v) : value(v) {}
  constexpr auto operator<=>(const Quantity&) const = default;
  constexpr Quantity operator-() const { return Quantity{-value}; }
};

/// Units whose values add in the ordinary way.
template <class Unit>
concept Additive = Unit::adds;

template <Additive Unit>
constexpr Quantity<Unit> operator+(Quantity<Unit> a, Quantity<Unit> b) {
  return Quantity<Unit>{a.value + b.value};
}
template <Additive Unit>
constexpr Quantity<Unit> operator-(Quantity<Unit> a, Quantity<Unit> b) {
  return Quantity<Unit>{a.value - b.value};
}
template <Additive Unit>
constexpr Quantity<Unit>& operator+=(Quantity<Unit>& a, Quantity<Unit> b) {
  a.value += b.value;
  return a;
}
template <Additive Unit>
constexpr Quantity<Unit> operator*(Quantity<Unit> a, double k) {
  return Quantity<Unit>{a.value * k};
}
template <Additive Unit>
constexpr Quantity<Unit> operator*(double k, Quantity<Unit> a) {
  return Quantity<Unit>{k * a.value};
}
template <Additive Unit>
constexpr Quantity<Unit> operator/(Quantity<Unit> a, double k) {
  return Quantity<Unit>{a.value / k};
}
template <Additive Unit>
constexpr double operator/(Quantity<Unit> a, Quantity<Unit> b) {
  return a.value / b.value;
}

namespace unit {
struct Degree {
  static constexpr bool adds = true;
};
struct PrismDioptre {
  static constexpr bool adds = false;
};
struct Dioptre {
  static constexpr bool adds = true;
};
struct Millimetre {
  static constexpr bool adds = true;
};
struct Metre {
  static constexpr bool adds = true;
};
struct Second {
  static constexpr bool adds = true;
};
}  // namespace unit

using Degrees = Quantity<unit::Degree>;
using PrismDioptres = Quantity<unit::PrismDioptre>;
using Dioptres = Quantity<unit::Dioptre>;
using Millimetres = Quantity<unit::Millimetre>;
using Metres = Quantity<unit::Metre>;
using Seconds = Quantity<unit::Second>;

/// 100 tan(angle); |angle| < 90.
inline PrismDioptres to_prism_dioptres(Degrees angle) {
  return PrismDioptres{100.0 * elementary::tangent(angle.value * elementary::kRadiansPerDegree)};
}

/// atan(power / 100).
inline Degrees to_degrees(PrismDioptres power) {
  return Degrees{elementary::arc_tangent(power.value / 100.0) * elementary::kDegreesPerRadian};
}

constexpr Millimetres to_millimetres(Metres length) { return Millimetres{length.value * 1000.0}; }

}  // namespace redress
