// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/eye_plant.hpp"

#include <utility>

namespace redress::patient {

namespace {
// Drive torsion that the table reaches: 0.12 x 2.1 of 47 degrees of tilt.
constexpr double kTorsionReach = 12.0;
}  // namespace

std::optional<EyePlant> make_eye_plant(const EyeMuscles& muscles, double tilt_gain,
                                       NodesSolved when) {
  if (is_healthy(muscles)) return std::nullopt;
  const Plant plant;
  const double reach = kTorsionReach * tilt_gain;
  const bool innervation = !is_healthy(with_healthy_mechanics(muscles));
  const bool mechanical = !is_healthy(with_healthy_innervation(muscles));
  std::optional<PlantTable> innervated;
  if (innervation && mechanical) {
    innervated.emplace(plant, with_healthy_mechanics(muscles), reach, when);
  }
  return EyePlant{muscles, PlantTable(plant, muscles, reach, when), std::move(innervated),
                  innervation, mechanical};
}

}  // namespace redress::patient
