// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Departures of one eye, solved in advance: what `step` reads instead of solving for a rest. A
// constant of the patient, made when the case is loaded; never state.
//
// Nodes every 2.5 degrees of command (horizontal, vertical, drive torsion; with a stop every 2
// horizontally and vertically) and, where version and
// vergence do not reach a muscle alike, every 5 degrees of this eye's vergence; between nodes
// Catmull & Rom 1974, between vergences linear. Worst error against the cold solution
// (tests/patient/plant_table_test.cpp prints it): below 0.02 degrees for weak muscles, below 0.05
// with stops.
//
// Where few gazes are looked at and nothing is recorded (a draft in the editor) the nodes can be
// solved when they are first read, each by itself: the same equilibrium to a millionth of a degree,
// but not to the last bit. Copies of a table share its nodes.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>

#include "sim/patient/plant.hpp"

namespace redress::patient {

/// Commands beyond these are taken for these: the clinical limits of ductions, degrees.
inline constexpr double kGreatestCommand = 50.0;

/// Horizontal, vertical, torsion (muscle frame, degrees) and pull of a Departure.
using TableValue = std::array<double, 4>;

enum class NodesSolved : std::uint8_t { at_once, when_read };

class PlantTable {
 public:
  /// `torsion_reach_deg`: of the drive torsion.
  PlantTable(const Plant& plant, const EyeMuscles& muscles, double torsion_reach_deg,
             NodesSolved when = NodesSolved::at_once);

  /// The first command for which there is no rest, if any: such a case is refused. (The table then
  /// says there what it says of the command before.) Not known where nodes are solved when read.
  [[nodiscard]] const std::optional<Direction3>& restless_at() const { return restless_at_; }
  [[nodiscard]] bool is_solved_when_read() const { return when_read_ != nullptr; }

  /// The command within the table's reach that stands for this one.
  [[nodiscard]] Direction3 clamped(Direction3 command) const;

  /// At a command (muscle frame, drive torsion) and this eye's part of the vergence.
  [[nodiscard]] TableValue at(Direction3 command, double vergence) const;

  [[nodiscard]] std::size_t nodes() const { return nodes_; }
  /// Of them those that were solved up to now: for tests and for counting.
  [[nodiscard]] std::size_t nodes_solved() const;

 private:
  struct WhenRead;

  TableValue* fill_slice(const Plant& plant, const EyeMuscles& muscles, double vergence,
                         GainSide side, TableValue* to);
  [[nodiscard]] std::optional<TableValue> solve_node(std::size_t slice, int i, int j, int l) const;
  [[nodiscard]] TableValue find_node(std::size_t slice, int i, int j, int l) const;
  void solve_cell(std::size_t slice, int i, int j, int l) const;
  [[nodiscard]] TableValue in_slice(std::size_t slice, Direction3 command) const;

  double torsion_reach_;
  double step_;          ///< between nodes, horizontal and vertical
  bool by_vergence_;     ///< slice 0 for temporal versions, the others for nasal ones by vergence
  int half_horizontal_;  ///< nodes on each side of zero
  int half_vertical_;
  int half_torsion_;
  std::size_t nodes_ = 0;
  std::shared_ptr<TableValue[]> node_;
  std::shared_ptr<WhenRead> when_read_;  ///< none where all are solved
  std::optional<Direction3> restless_at_;
};

}  // namespace redress::patient
