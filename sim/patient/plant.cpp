// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/plant.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::magnitude;
using elementary::square_root;

namespace {

// Published strengths (Filip, Stanev & Moustakas 2018) over that of the lateral rectus.
constexpr std::array<double, kMuscles> kForce{1.0, 1.070, 0.800, 0.970, 0.410, 0.380};
// Fitted: see the header.
constexpr std::array<double, kPairs> kTone{60.0, 20.0, 100.0};
constexpr double kInnervationRound = 100.0;  // b
constexpr double kTensionRound = 6.0;        // a
constexpr double kStopRound = 1.0;           // degrees over which a stop sets in
constexpr Vector kOrbit{4.6, 6.4, 4.6};      // K: against vertical, horizontal, torsional turns

constexpr double kCommandSettled = 1e-10;
constexpr double kRestSettled = 1e-8;  // degrees; what is left is less than a third of it
constexpr double kFastEnough = 0.3;    // a step this much shorter than the last: keep the slope
constexpr double kSlopeStep = 1e-4;    // degrees
constexpr double kLongestStep = 8.0;   // degrees

double rounded_positive(double x, double round) {
  return 0.5 * (x + square_root(x * x + round * round));
}

constexpr double sign_of(std::size_t muscle) { return muscle % 2 == 0 ? 1.0 : -1.0; }

double pull_of(const MuscleCondition& m, std::size_t i, double stretch, double innervation) {
  return kForce[i] *
         rounded_positive(m.stiffness * (stretch + m.shorter_deg) + innervation, kTensionRound);
}

// What times the columns gives b; nothing where they are nearly in one plane.
std::optional<Vector> solve(const TorqueSlope& a, Vector b) {
  const Vector yz = cross(a[1], a[2]);
  const double determinant = dot(a[0], yz);
  if (!(magnitude(determinant) > 1e-12)) return std::nullopt;
  const double k = 1.0 / determinant;
  return Vector{k * dot(b, yz), k * dot(b, cross(a[2], a[0])), k * dot(b, cross(a[0], a[1]))};
}

double largest(Vector a) { return std::max({magnitude(a.x), magnitude(a.y), magnitude(a.z)}); }

Vector orbit_torque(Vector o) { return {-kOrbit.x * o.x, -kOrbit.y * o.y, -kOrbit.z * o.z}; }

}  // namespace

bool is_healthy(const EyeMuscles& muscles) {
  return with_healthy_mechanics(muscles) == EyeMuscles{} &&
         with_healthy_innervation(muscles) == EyeMuscles{};
}

EyeMuscles with_healthy_innervation(EyeMuscles muscles) {
  for (MuscleCondition& m : muscles.muscle) {
    m.strength = 1.0;
    if (m.limit_deg >= kNoLimit || m.limit_stiffness == 0.0) {
      m.limit_deg = kNoLimit;
      m.limit_stiffness = MuscleCondition{}.limit_stiffness;
    }
  }
  muscles.share_of_medial = 0.0;
  muscles.version_gain = 1.0;
  return muscles;
}

EyeMuscles with_healthy_mechanics(EyeMuscles muscles) {
  for (MuscleCondition& m : muscles.muscle) {
    const double strength = m.strength;
    m = {};
    m.strength = strength;
  }
  return muscles;
}

std::optional<PairCommands> Plant::solve_commands(Vector orientation, PairCommands u) const {
  const MuscleLines lines = calc_muscle_lines(paths_, orientation);
  for (int round = 0; round < 60; ++round) {
    Vector torque = orbit_torque(orientation);
    TorqueSlope slope{};
    for (std::size_t i = 0; i < kMuscles; ++i) {
      const double sign = sign_of(i);
      const double c = kTone[i / 2] + sign * u[i / 2];
      const double q = square_root(c * c + kInnervationRound * kInnervationRound);
      const double x = lines.stretch_deg[i] + 0.5 * (c + q);
      const double s = square_root(x * x + kTensionRound * kTensionRound);
      torque = torque + lines.axis[i] * (kForce[i] * 0.5 * (x + s));
      const double rate = kForce[i] * sign * 0.25 * (1.0 + x / s) * (1.0 + c / q);
      slope[i / 2] = slope[i / 2] + lines.axis[i] * rate;
    }
    const auto step = solve(slope, torque);
    if (!step) return std::nullopt;
    u[0] -= clamp(step->x, -60.0, 60.0);
    u[1] -= clamp(step->y, -60.0, 60.0);
    u[2] -= clamp(step->z, -60.0, 60.0);
    if (largest(*step) < kCommandSettled) return u;
  }
  return std::nullopt;
}

Innervation Plant::calc_innervation(const PairCommands& u, const PairCommands& spared,
                                    const EyeMuscles& muscles, GainSide side) const {
  Innervation e{};
  for (std::size_t i = 0; i < kMuscles; ++i) {
    e[i] = rounded_positive(kTone[i / 2] + sign_of(i) * u[i / 2], kInnervationRound);
  }
  if (muscles.version_gain != 1.0 && (u[0] < spared[0] || side == GainSide::everywhere)) {
    const double command = spared[0] + muscles.version_gain * (u[0] - spared[0]);
    e[kMedialRectus] = rounded_positive(kTone[0] - command, kInnervationRound);
  }
  const double lent = muscles.share_of_medial * e[kMedialRectus];
  for (std::size_t i = 0; i < kMuscles; ++i) e[i] *= muscles.muscle[i].strength;
  e[kLateralRectus] += lent;
  return e;
}

std::array<double, kMuscles> Plant::calc_tension(Vector orientation, const Innervation& e,
                                                 const EyeMuscles& muscles) const {
  const MuscleLines lines = calc_muscle_lines(paths_, orientation);
  std::array<double, kMuscles> tension{};
  for (std::size_t i = 0; i < kMuscles; ++i) {
    tension[i] = pull_of(muscles.muscle[i], i, lines.stretch_deg[i], e[i]);
  }
  return tension;
}

Vector Plant::calc_torque(Vector orientation, const Innervation& e,
                          const EyeMuscles& muscles) const {
  const MuscleLines lines = calc_muscle_lines(paths_, orientation);
  Vector torque = orbit_torque(orientation);
  for (std::size_t i = 0; i < kMuscles; ++i) {
    const MuscleCondition& m = muscles.muscle[i];
    torque = torque + lines.axis[i] * pull_of(m, i, lines.stretch_deg[i], e[i]);
    if (m.limit_deg >= kNoLimit) continue;
    const double beyond = lines.stop_stretch_deg[i] - m.limit_deg;
    torque =
        torque + lines.stop_axis[i] * (m.limit_stiffness * rounded_positive(beyond, kStopRound));
  }
  return torque;
}

TorqueSlope Plant::calc_slope(Vector o, Vector torque, const Innervation& e,
                              const EyeMuscles& muscles, double damping) const {
  const auto along = [&](Vector by) {
    return (calc_torque(o + by * kSlopeStep, e, muscles) - torque) * (1.0 / kSlopeStep) -
           by * damping;
  };
  return {along({1, 0, 0}), along({0, 1, 0}), along({0, 0, 1})};
}

// Newton's method with slopes by differences, kept while the steps shrink fast.
std::optional<Vector> Plant::settle(const Innervation& e, const EyeMuscles& muscles, Vector o,
                                    std::optional<TorqueSlope>& slope) const {
  double last = 1e9;
  for (int round = 0; round < 60; ++round) {
    const Vector torque = calc_torque(o, e, muscles);
    bool fresh = false;
    if (!slope) {
      slope = calc_slope(o, torque, e, muscles, 0.0);
      fresh = true;
    }
    auto step = solve(*slope, torque);
    if (!fresh && (!step || largest(*step) > kFastEnough * last)) {
      slope = calc_slope(o, torque, e, muscles, 0.0);
      step = solve(*slope, torque);
    }
    if (!step) return std::nullopt;
    last = largest(*step);
    o = o - *step * (last > kLongestStep ? kLongestStep / last : 1.0);
    if (last < kRestSettled) return o;
  }
  return std::nullopt;
}

// A heavily damped eye is let go; where it has come to after a while.
std::optional<Vector> Plant::let_go(const Innervation& e, const EyeMuscles& muscles, Vector o,
                                    double damping) const {
  for (int round = 0; round < 60; ++round) {
    const Vector torque = calc_torque(o, e, muscles);
    const auto step = solve(calc_slope(o, torque, e, muscles, damping), torque);
    if (!step) return std::nullopt;
    const double size = largest(*step);
    o = o - *step * (size > kLongestStep ? kLongestStep / size : 1.0);
    if (size < kRestSettled) break;
  }
  return o;
}

std::optional<Vector> Plant::solve_rest(const Innervation& e, const EyeMuscles& muscles,
                                        Vector start, std::optional<TorqueSlope>& slope) const {
  if (const auto rest = settle(e, muscles, start, slope)) return rest;
  // Two stops against each other: let a heavily damped eye go, then Newton again.
  for (const double damping : {30.0, 300.0}) {
    const auto near = let_go(e, muscles, start, damping);
    if (!near) continue;
    slope.reset();
    if (const auto rest = settle(e, muscles, *near, slope)) return rest;
  }
  return std::nullopt;
}

std::optional<Departure> Plant::calc_departure(const EyeMuscles& muscles, Vector healthy,
                                               const PairCommands& commands, const Innervation& e,
                                               Vector start,
                                               std::optional<TorqueSlope>& slope) const {
  const auto rest = solve_rest(e, muscles, start, slope);
  if (!rest) return std::nullopt;
  const Direction3 actual = direction_of(*rest);
  const Direction3 wanted = direction_of(healthy);
  const auto now = calc_tension(*rest, e, muscles);
  const auto usual = calc_tension(healthy, calc_innervation(commands, commands, {}), {});
  const double pull = now[kLateralRectus] + now[kMedialRectus];
  return Departure{{actual.horizontal - wanted.horizontal, actual.vertical - wanted.vertical,
                    actual.torsion - wanted.torsion},
                   pull / (usual[kLateralRectus] + usual[kMedialRectus]) - 1.0,
                   *rest};
}

std::optional<Departure> Plant::calc_departure(const EyeMuscles& muscles, Direction3 command,
                                               double vergence) const {
  const Vector healthy = orientation_of(command);
  if (is_healthy(muscles)) return Departure{{}, 0.0, healthy};
  const auto commands = solve_commands(healthy);
  if (!commands) return std::nullopt;
  PairCommands spared = *commands;
  if (muscles.version_gain != 1.0) {
    const auto vergence_only =
        solve_commands(orientation_of({vergence, command.vertical, command.torsion}));
    if (!vergence_only) return std::nullopt;
    spared = *vergence_only;
  }
  std::optional<TorqueSlope> slope;
  return calc_departure(muscles, healthy, *commands, calc_innervation(*commands, spared, muscles),
                        healthy, slope);
}

}  // namespace redress::patient
