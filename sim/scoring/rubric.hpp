// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The default rubric: 100 marks over 23 items in two columns. P: pre-registration student,
// formative. O: station of a final examination. The weights are data, and a file can set others
// (sim/scoring/rubric_file.hpp); items that a case does not need are removed and the rest scaled to
// 100.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>

namespace redress::scoring {

enum class Column : std::uint8_t { formative, station };

enum class Item : std::uint8_t {
  a1,
  a2,
  a3,
  a4,
  b1,
  b2,
  b3,
  b4,
  c1,
  c2,
  c3,
  c4,
  c5,
  d1,
  d2,
  d3,
  d4,
  d5,
  e,
  f,
  g1,
  g2,
  g3
};
inline constexpr std::size_t kItemCount = 23;

struct RubricLine {
  Item item;
  const char* name;
  const char* title;
  double formative;
  double station;

  [[nodiscard]] constexpr double weight(Column column) const {
    return column == Column::formative ? formative : station;
  }
};

inline constexpr std::array<RubricLine, kItemCount> kRubric{{
    {Item::a1, "A1", "History before the first cover", 5, 4},
    {Item::a2, "A2", "Right correction worn", 4, 2},
    {Item::a3, "A3", "Target and distance", 5, 2},
    {Item::a4, "A4", "Looks first, clear instruction", 4, 2},
    {Item::b1, "B1", "Cover-uncover of each eye at each distance, before alternating", 8, 6},
    {Item::b2, "B2", "Covers long enough", 6, 3},
    {Item::b3, "B3", "Time to recover between covers", 3, 1},
    {Item::b4, "B4", "The moving eye in own view", 3, 2},
    {Item::c1, "C1", "Dissociation kept while alternating", 4, 3},
    {Item::c2, "C2", "Base of the prism", 5, 4},
    {Item::c3, "C3", "Neutral and reversal bracketed", 6, 4},
    {Item::c4, "C4", "Prism handled rightly", 2, 1},
    {Item::c5, "C5", "Measured wherever it is called for", 3, 2},
    {Item::d1, "D1", "Class of deviation at each distance", 8, 12},
    {Item::d2, "D2", "Direction", 4, 6},
    {Item::d3, "D3", "Size", 6, 9},
    {Item::d4, "D4", "Which eye, comitance", 3, 5},
    {Item::d5, "D5", "Recovery", 3, 4},
    {Item::e, "E", "Tests that the case calls for", 6, 10},
    {Item::f, "F", "Record", 6, 4},
    {Item::g1, "G1", "Impression", 3, 5},
    {Item::g2, "G2", "Plan and advice", 1, 3},
    {Item::g3, "G3", "Urgency", 2, 6},
}};

/// The lines stand in the order of the items.
static_assert([] {
  for (std::size_t i = 0; i < kItemCount; ++i) {
    if (kRubric[i].item != static_cast<Item>(i)) return false;
  }
  return true;
}());

/// Weights that a department may set otherwise (sim/scoring/rubric_file.hpp).
struct Rubric {
  std::string title = "The default rubric";
  std::array<double, kItemCount> formative{};  ///< in the order of the items
  std::array<double, kItemCount> station{};
  // Until there are data: 50, for the formative column 60.
  double formative_pass = 60.0;
  double station_pass = 50.0;

  [[nodiscard]] double weight(Item item, Column column) const {
    const auto i = static_cast<std::size_t>(item);
    return column == Column::formative ? formative[i] : station[i];
  }
  [[nodiscard]] double pass_mark(Column column) const {
    return column == Column::formative ? formative_pass : station_pass;
  }
};

/// kRubric as it stands.
inline Rubric make_default_rubric() {
  Rubric rubric;
  for (std::size_t i = 0; i < kItemCount; ++i) {
    rubric.formative[i] = kRubric[i].formative;
    rubric.station[i] = kRubric[i].station;
  }
  return rubric;
}

// Tolerances, prism dioptres. For prism readings max(2, 20 %) up to 8: the between-examiner limits
// of the PEDIG study (from memory) without their steps; vertical max(1, 20 %) up to 4; by eye
// max(3, 40 %) (judgement). Full marks within the tolerance, half within twice that.
constexpr double calc_tolerance(double truth_pd, bool vertical, bool by_eye) {
  const double size = truth_pd < 0.0 ? -truth_pd : truth_pd;
  const auto larger = [](double a, double b) { return a > b ? a : b; };
  const auto smaller = [](double a, double b) { return a < b ? a : b; };
  if (by_eye) return larger(3.0, 0.4 * size);
  return vertical ? smaller(larger(1.0, 0.2 * size), 4.0) : smaller(larger(2.0, 0.2 * size), 8.0);
}

/// Deviations below these are not reliably seen: "no movement seen" is right.
inline constexpr double kSeenHorizontalPd = 2.0;
inline constexpr double kSeenVerticalPd = 1.0;

}  // namespace redress::scoring
