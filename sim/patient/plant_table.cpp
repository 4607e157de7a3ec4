// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/plant_table.hpp"

#include <atomic>

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

// What a node comes to depends on the muscles alone: threads that read one at the same time may
// solve it twice, and the first writes it.
struct PlantTable::WhenRead {
  enum class Node : std::uint8_t { unknown, being_written, known };
  Plant plant;
  EyeMuscles muscles;
  std::unique_ptr<std::atomic<Node>[]> state;
  std::unique_ptr<std::atomic<bool>[]> cell;  ///< by its lowest inner node
};

PlantTable::PlantTable(const Plant& plant, const EyeMuscles& muscles, double torsion_reach_deg,
                       NodesSolved when)
    : torsion_reach_(torsion_reach_deg),
      step_(step_for(muscles)),
      by_vergence_(muscles.version_gain != 1.0),
      half_horizontal_(half_nodes(kGreatestCommand + (by_vergence_ ? kMostDiverged : 0.0), step_)),
      half_vertical_(half_nodes(kGreatestCommand, step_)),
      half_torsion_(half_nodes(torsion_reach_deg, kTorsionStepDeg)) {
  const auto count = [](int half) { return static_cast<std::size_t>(2 * half + 1); };
  const std::size_t slices = by_vergence_ ? 1 + kVergences : 1;
  nodes_ = slices * count(half_torsion_) * count(half_vertical_) * count(half_horizontal_);
  node_ = std::shared_ptr<TableValue[]>(new TableValue[nodes_]());
  if (when == NodesSolved::when_read) {
    when_read_ = std::make_shared<WhenRead>();
    when_read_->plant = plant;
    when_read_->muscles = muscles;
    when_read_->state = std::make_unique<std::atomic<WhenRead::Node>[]>(nodes_);
    when_read_->cell = std::make_unique<std::atomic<bool>[]>(nodes_);
    return;
  }
  EyeMuscles temporal = muscles;
  temporal.version_gain = 1.0;
  TableValue* to = fill_slice(plant, temporal, 0.0, GainSide::nasal, node_.get());
  for (std::size_t i = 0; i + 1 < slices; ++i) {
    to = fill_slice(plant, muscles, kMostConverged + static_cast<double>(i) * kVergenceStepDeg,
                    GainSide::everywhere, to);
  }
}

// Versions from this vergence. Along a row each node starts where the last one ended.
TableValue* PlantTable::fill_slice(const Plant& plant, const EyeMuscles& muscles, double vergence,
                                   GainSide side, TableValue* to) {
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
        TableValue& node = *to++;
        node = last;
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
        node = last;
      }
    }
  }
  return to;
}

// One node by itself, as fill_slice comes to it along its row; nothing where there is no rest.
std::optional<TableValue> PlantTable::solve_node(std::size_t slice, int i, int j, int l) const {
  const Plant& plant = when_read_->plant;
  EyeMuscles muscles = when_read_->muscles;
  if (slice == 0) muscles.version_gain = 1.0;
  const GainSide side = slice == 0 ? GainSide::nasal : GainSide::everywhere;
  const double vergence =
      slice == 0 ? 0.0 : kMostConverged + static_cast<double>(slice - 1) * kVergenceStepDeg;
  const double vertical = j * step_;
  const double torsion = l * kTorsionStepDeg;
  const double horizontal = clamp(vergence + i * step_, -kSolvedWithin, kSolvedWithin);
  const Vector healthy = orientation_of({horizontal, vertical, torsion});
  const auto commands = plant.solve_commands(healthy);
  if (!commands) return std::nullopt;
  PairCommands spared = *commands;
  if (muscles.version_gain != 1.0) {
    spared = plant.solve_commands(orientation_of({vergence, vertical, torsion}), *commands)
                 .value_or(PairCommands{});
  }
  std::optional<TorqueSlope> slope;
  const auto departure = plant.calc_departure(
      muscles, healthy, *commands, plant.calc_innervation(*commands, spared, muscles, side),
      healthy, slope);
  if (!departure) return std::nullopt;
  const Direction3& turn = departure->turn;
  return TableValue{turn.horizontal, turn.vertical, turn.torsion, departure->pull};
}

// Of nasal versions' tables only that side is read; where there is no rest, the last that there was
// along the row.
TableValue PlantTable::find_node(std::size_t slice, int i, int j, int l) const {
  if (slice > 0 && i > 1) i = 1;
  for (; i >= -half_horizontal_; --i) {
    if (const auto value = solve_node(slice, i, j, l)) return *value;
  }
  return {};
}

// The nodes that are read for a cell, counted from the table's first.
void PlantTable::solve_cell(std::size_t slice, int i, int j, int l) const {
  using Node = WhenRead::Node;
  const int columns = 2 * half_horizontal_ + 1;
  const int rows = 2 * half_vertical_ + 1;
  const int layers = 2 * half_torsion_ + 1;
  const auto row_of = [&](int y, int z) {
    return ((static_cast<std::ptrdiff_t>(slice) * layers + z) * rows + y) * columns;
  };
  std::atomic<bool>& all_known = when_read_->cell[static_cast<std::size_t>(row_of(j, l) + i)];
  if (all_known.load(std::memory_order_acquire)) return;
  for (int z = l - 1; z <= l + 2; ++z) {
    for (int y = j - 1; y <= j + 2; ++y) {
      const std::ptrdiff_t row = row_of(y, z);
      for (int x = i - 1; x <= i + 2; ++x) {
        std::atomic<Node>& state = when_read_->state[static_cast<std::size_t>(row + x)];
        if (state.load(std::memory_order_acquire) == Node::known) continue;
        const TableValue value =
            find_node(slice, x - half_horizontal_, y - half_vertical_, z - half_torsion_);
        Node expected = Node::unknown;
        if (state.compare_exchange_strong(expected, Node::being_written)) {
          node_[row + x] = value;
          state.store(Node::known, std::memory_order_release);
        }
        while (state.load(std::memory_order_acquire) != Node::known) continue;
      }
    }
  }
  all_known.store(true, std::memory_order_release);
}

std::size_t PlantTable::nodes_solved() const {
  if (!when_read_) return nodes_;
  std::size_t count = 0;
  for (std::size_t i = 0; i < nodes_; ++i) {
    if (when_read_->state[i] == WhenRead::Node::known) ++count;
  }
  return count;
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
  if (when_read_) solve_cell(slice, i, j, l);
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
      const std::size_t first = row * columns + static_cast<std::size_t>(i) - 1;
      const double* from = node_[static_cast<std::ptrdiff_t>(first)].data();
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
