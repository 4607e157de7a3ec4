// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/plant_table.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::patient {

using elementary::clamp;

namespace {

constexpr double kStepDeg = 2.5;
constexpr double kStoppedStepDeg = 2.0;  // the onset of a stop bends within a degree
constexpr double kTorsionStepDeg = 2.5;
constexpr double kVergenceStepDeg = 5.0;
// One eye's part of vergence, + temporal: from 50 degrees of convergence to 20 of divergence.
constexpr double kMostConverged = -25.0;
constexpr std::size_t kVergences = 8;
constexpr double kMostDiverged = 10.0;  // the last of them
// Nodes beyond the edge serve interpolation up to it and are solved for this at most.
constexpr double kSolvedWithin = 60.0;

// Two numbers at a time: the same arithmetic, in half the instructions.
typedef double Pair __attribute__((vector_size(16)));

// One node beyond the reach on each side, and the reach rounded up to a node.
int half_nodes(double reach, double step) { return static_cast<int>(reach / step + 0.999) + 1; }

double step_for(const EyeMuscles& muscles) {
  for (const MuscleCondition& m : muscles.muscle) {
    if (m.limit_deg < kNoLimit) return kStoppedStepDeg;
  }
  return kStepDeg;
}

std::array<double, 4> weights(double x) {
  return {x * (-0.5 + x * (1.0 - 0.5 * x)), 1.0 + x * x * (-2.5 + 1.5 * x),
          x * (0.5 + x * (2.0 - 1.5 * x)), x * x * (-0.5 + 0.5 * x)};
}

}  // namespace

PlantTable::PlantTable(const Plant& plant, const EyeMuscles& muscles, double torsion_reach_deg)
    : torsion_reach_(torsion_reach_deg),
      step_(step_for(muscles)),
      by_vergence_(muscles.version_gain != 1.0),
      half_horizontal_(half_nodes(kGreatestCommand + (by_vergence_ ? kMostDiverged : 0.0), step_)),
      half_vertical_(half_nodes(kGreatestCommand, step_)),
      half_torsion_(half_nodes(torsion_reach_deg, kTorsionStepDeg)) {
  const auto count = [](int half) { return static_cast<std::size_t>(2 * half + 1); };
  const std::size_t slices = by_vergence_ ? 1 + kVergences : 1;
  node_.reserve(slices * count(half_torsion_) * count(half_vertical_) * count(half_horizontal_));
  EyeMuscles temporal = muscles;
  temporal.version_gain = 1.0;
  fill_slice(plant, temporal, 0.0, GainSide::nasal);
  for (std::size_t i = 0; i + 1 < slices; ++i) {
    fill_slice(plant, muscles, kMostConverged + static_cast<double>(i) * kVergenceStepDeg,
               GainSide::everywhere);
  }
}

// Versions from this vergence. Along a row each node starts where the last one ended.
void PlantTable::fill_slice(const Plant& plant, const EyeMuscles& muscles, double vergence,
                            GainSide side) {
  std::optional<TorqueSlope> slope;
  for (int l = -half_torsion_; l <= half_torsion_; ++l) {
    for (int j = -half_vertical_; j <= half_vertical_; ++j) {
      const double vertical = j * step_;
      const double torsion = l * kTorsionStepDeg;
      PairCommands commands{};
      const PairCommands spared =
          plant.solve_commands(orientation_of({vergence, vertical, torsion})).value_or(commands);
      Vector shift;
      TableValue last{};
      for (int i = -half_horizontal_; i <= half_horizontal_; ++i) {
        node_.push_back(last);
        // Of nasal versions' tables only that side is read.
        if (side == GainSide::everywhere && i > 1) continue;
        const double horizontal = clamp(vergence + i * step_, -kSolvedWithin, kSolvedWithin);
        const Vector healthy = orientation_of({horizontal, vertical, torsion});
        const auto solved = plant.solve_commands(healthy, commands);
        const auto departure =
            solved ? plant.calc_departure(muscles, healthy, *solved,
                                          plant.calc_innervation(*solved, spared, muscles, side),
                                          healthy + shift, slope)
                   : std::nullopt;
        if (!departure) {
          if (!restless_at_) restless_at_ = Direction3{horizontal, vertical, torsion};
          slope.reset();
          continue;
        }
        commands = *solved;
        shift = departure->rest - healthy;
        const Direction3& turn = departure->turn;
        last = {turn.horizontal, turn.vertical, turn.torsion, departure->pull};
        node_.back() = last;
      }
    }
  }
}

Direction3 PlantTable::clamped(Direction3 c) const {
  return {clamp(c.horizontal, -kGreatestCommand, kGreatestCommand),
          clamp(c.vertical, -kGreatestCommand, kGreatestCommand),
          clamp(c.torsion, -torsion_reach_, torsion_reach_)};
}

// The four rows of four nodes about the place, four layers deep: sixteen rows of sixteen numbers.
TableValue PlantTable::in_slice(std::size_t slice, Direction3 c) const {
  const double x = c.horizontal / step_ + half_horizontal_;
  const double y = c.vertical / step_ + half_vertical_;
  const double z = c.torsion / kTorsionStepDeg + half_torsion_;
  const auto inside = [](double at, int half) {
    const int cell = static_cast<int>(at);
    return cell < 2 * half - 1 ? cell : 2 * half - 2;  // the last place belongs to the last cell
  };
  const int i = inside(x, half_horizontal_);
  const int j = inside(y, half_vertical_);
  const int l = inside(z, half_torsion_);
  const std::array<double, 4> along = weights(x - i);
  const std::array<double, 4> up = weights(y - j);
  const std::array<double, 4> deep = weights(z - l);
  const auto columns = static_cast<std::size_t>(2 * half_horizontal_ + 1);
  const auto rows = static_cast<std::size_t>(2 * half_vertical_ + 1);
  const auto layers = static_cast<std::size_t>(2 * half_torsion_ + 1);

  std::array<Pair, 8> sum{};
  for (std::size_t dz = 0; dz < 4; ++dz) {
    const std::size_t layer = slice * layers + static_cast<std::size_t>(l) - 1 + dz;
    for (std::size_t dy = 0; dy < 4; ++dy) {
      const double weight = deep[dz] * up[dy];
      const std::size_t row = layer * rows + static_cast<std::size_t>(j) - 1 + dy;
      const double* from = node_[row * columns + static_cast<std::size_t>(i) - 1].data();
      // Written out, the sums stay in registers: as a loop each goes through memory.
#pragma GCC unroll 8
      for (std::size_t k = 0; k < 8; ++k) {
        sum[k] += Pair{from[2 * k], from[2 * k + 1]} * Pair{weight, weight};
      }
    }
  }
  TableValue value{};
  for (std::size_t k = 0; k < 2; ++k) {
    const auto share = [&](std::size_t node) {
      return sum[2 * node + k] * Pair{along[node], along[node]};
    };
    const Pair both = (share(0) + share(1)) + (share(2) + share(3));
    value[2 * k] = both[0];
    value[2 * k + 1] = both[1];
  }
  return value;
}

TableValue PlantTable::at(Direction3 command, double vergence) const {
  command = clamped(command);
  vergence = clamp(vergence, kMostConverged, kMostDiverged);
  if (!by_vergence_ || command.horizontal >= vergence) return in_slice(0, command);
  // A version towards the nose.
  Direction3 version = command;
  version.horizontal -= vergence;
  const double place = (vergence - kMostConverged) / kVergenceStepDeg;
  std::size_t slice = static_cast<std::size_t>(place);
  if (slice > kVergences - 2) slice = kVergences - 2;
  const double share = place - static_cast<double>(slice);
  TableValue value = in_slice(1 + slice, version);
  const TableValue next = in_slice(2 + slice, version);
  for (std::size_t k = 0; k < 4; ++k) value[k] += share * (next[k] - value[k]);
  return value;
}

}  // namespace redress::patient
