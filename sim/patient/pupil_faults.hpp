// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pupils and lids that are not alike: anisocoria, a pupil that reacts to nothing, ptosis.
// Millimetres.
//
// The opening of the lids is a fraction of the resting one, 9.7 mm straight ahead (Read et al.
// 2006); a lid that hangs takes from it, and an eye whose pupil it hides does not see.
#pragma once

#include <optional>

#include "sim/basics/eye.hpp"

namespace redress::patient {

inline constexpr double kRestingOpeningMm = 9.7;

struct PupilFaults {
  double anisocoria_mm = 0.0;                ///< right larger +, in any light
  PerEye<std::optional<double>> fixed_mm{};  ///< reacts to nothing

  [[nodiscard]] bool in_force() const {
    return anisocoria_mm != 0.0 || fixed_mm.right.has_value() || fixed_mm.left.has_value();
  }
};

struct Lids {
  PerEye<double> ptosis_mm{};

  [[nodiscard]] bool in_force() const { return ptosis_mm.right > 0.0 || ptosis_mm.left > 0.0; }
};

/// Each eye's own opening, for lids that are not alike.
struct LidState {
  bool in_force = false;
  PerEye<double> open_fraction{1.0, 1.0};
};

template <class Visitor>
void visit_fields(const LidState& s, Visitor& visit) {
  if (!s.in_force) return;
  visit("lids.open_fraction", s.open_fraction.right);
  visit("lids.open_fraction", s.open_fraction.left);
}

}  // namespace redress::patient
