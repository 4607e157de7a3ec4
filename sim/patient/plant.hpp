// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One eye as the place where six length-tension muscles and the passive orbit balance.
//
//   innervation  e = (c + sqrt(c^2 + b^2)) / 2,   c = tone +- the command of the muscle's pair
//   tension      T = F (x + sqrt(x^2 + a^2)) / 2, x = stiffness (stretch + shorter) + strength e
//   stop         S = k (d + sqrt(d^2 + 1)) / 2,   d = stop stretch - limit
//   rest         sum T axis + sum S stop axis - K orientation = 0
// Neither innervation nor tension can be negative. Force is measured in degrees: one unit is what a
// degree of stretch of the lateral rectus adds. Two stages: `solve_commands` finds the three pair
// commands that hold a *healthy* eye at an orientation (inverse); `solve_rest` finds where *this*
// eye comes to rest under them (forward). A healthy eye comes back to where it was sent, so that
// its departure is zero and nothing need be computed (Robinson 1975; Miller & Robinson 1984).
//
// Sources and departures: force is published strength over that of the lateral rectus; tone, b, a,
// K are fitted to clinical targets (tests/published/muscles_test.cpp names them): the parameters
// are effective, not tissue constants, not to be quoted as anatomy. The orbit's published cubic
// term is left out: with it the deviations come out too small.
#pragma once

#include <array>
#include <optional>

#include "sim/patient/muscle_geometry.hpp"

namespace redress::patient {

/// Greater than any stretch: the muscle has no stop.
inline constexpr double kNoLimit = 1e9;

struct MuscleCondition {
  double strength = 1.0;          ///< of the innervation: 0 none, above 1 overacts
  double limit_deg = kNoLimit;    ///< stretch beyond which it stops yielding; may be below 0
  double limit_stiffness = 20.0;  ///< of that stop, force per degree
  double shorter_deg = 0.0;       ///< contracture
  double stiffness = 1.0;         ///< against stretch
  bool operator==(const MuscleCondition&) const = default;
};

/// The muscles of one eye. The default is healthy.
struct EyeMuscles {
  std::array<MuscleCondition, kMuscles> muscle{};
  double share_of_medial = 0.0;  ///< of the medial rectus's innervation that reaches the lateral
  double version_gain = 1.0;     ///< of the medial rectus; vergence is spared
  bool operator==(const EyeMuscles&) const = default;
};

/// Whether the eye does exactly what it is told. A stop's stiffness is nothing without a stop.
bool is_healthy(const EyeMuscles& muscles);
/// The same muscles, innervated as in health: what is left is mechanical.
EyeMuscles with_healthy_innervation(EyeMuscles muscles);
/// The same muscles without what is mechanical: what is left is innervation.
EyeMuscles with_healthy_mechanics(EyeMuscles muscles);

using PairCommands = std::array<double, kPairs>;
using Innervation = std::array<double, kMuscles>;
/// Change of torque with a turn about each axis: the columns of a matrix.
using TorqueSlope = std::array<Vector, 3>;

/// Where a version gain counts. `everywhere` carries the nasal side's law on smoothly past straight
/// ahead, so that a table can be read up to there without a kink.
enum class GainSide : std::uint8_t { nasal, everywhere };

/// How far an eye is from where a healthy eye with the same command would be, muscle frame.
struct Departure {
  Direction3 turn;
  double pull = 0.0;  ///< of the two horizontal recti together over the healthy eye's, less 1
  Vector rest;        ///< the eye's orientation, rotation vector
};

class Plant {
 public:
  /// Commands that hold a healthy eye there; `guess` is where Newton's method starts. Nothing if it
  /// does not settle, which does not happen within 60 degrees of straight ahead.
  [[nodiscard]] std::optional<PairCommands> solve_commands(Vector orientation,
                                                           PairCommands guess = {}) const;

  /// What reaches the muscles of this eye. `spared`: the commands of the vergence part alone, for
  /// a version gain.
  [[nodiscard]] Innervation calc_innervation(const PairCommands& commands,
                                             const PairCommands& spared, const EyeMuscles& muscles,
                                             GainSide side = GainSide::nasal) const;

  /// Where this eye comes to rest; `start` is where Newton's method starts, with the slope known
  /// from elsewhere, if any (and the last one used is left there). Nothing if there is no rest:
  /// such a case is refused.
  [[nodiscard]] std::optional<Vector> solve_rest(const Innervation& innervation,
                                                 const EyeMuscles& muscles, Vector start,
                                                 std::optional<TorqueSlope>& slope) const;

  /// Torque of muscles, stops and orbit on the eye: zero at rest.
  [[nodiscard]] Vector calc_torque(Vector orientation, const Innervation& innervation,
                                   const EyeMuscles& muscles) const;
  /// Tension of each muscle, stops not counted.
  [[nodiscard]] std::array<double, kMuscles> calc_tension(Vector orientation,
                                                          const Innervation& innervation,
                                                          const EyeMuscles& muscles) const;

  /// The departure of this eye at a command (muscle frame; its torsion is the *drive* torsion).
  /// `vergence`: how much of its horizontal is vergence. Solved cold, without a table.
  [[nodiscard]] std::optional<Departure> calc_departure(const EyeMuscles& muscles,
                                                        Direction3 command,
                                                        double vergence = 0.0) const;

  /// From a healthy eye's orientation and commands, and the innervation that comes of them here.
  [[nodiscard]] std::optional<Departure> calc_departure(const EyeMuscles& muscles, Vector healthy,
                                                        const PairCommands& commands,
                                                        const Innervation& innervation,
                                                        Vector start,
                                                        std::optional<TorqueSlope>& slope) const;

 private:
  [[nodiscard]] TorqueSlope calc_slope(Vector orientation, Vector torque,
                                       const Innervation& innervation, const EyeMuscles& muscles,
                                       double damping) const;
  [[nodiscard]] std::optional<Vector> settle(const Innervation& innervation,
                                             const EyeMuscles& muscles, Vector start,
                                             std::optional<TorqueSlope>& slope) const;
  [[nodiscard]] std::optional<Vector> let_go(const Innervation& innervation,
                                             const EyeMuscles& muscles, Vector start,
                                             double damping) const;

  MusclePaths paths_ = make_muscle_paths();
};

}  // namespace redress::patient
