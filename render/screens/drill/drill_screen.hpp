// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Train your eye on the screen: two covers, one with a movement; which, which way, how large. The
// patient is drawn by the application under the region "picture", which has no ground. The answer
// is told in words once all three are given, while the next pair is shown.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "render/screens/layout.hpp"
#include "render/screens/parts/parts.hpp"
#include "sim/drill/drill.hpp"

namespace redress::screens {

struct DrillLayout {
  bool compact = false;
  Rect bar;
  Rect picture;
  Rect questions;
};
DrillLayout make_drill_layout(const WindowSize& window);

/// What is being answered.
struct DrillState {
  std::optional<bool> second;
  std::optional<drill::Way> way;
  std::optional<double> said_pd;
  bool stop_asked = false;

  [[nodiscard]] bool complete() const { return second && way && said_pd; }
};

/// What the application knows.
struct DrillView {
  std::size_t pair = 1;  ///< from 1
  std::size_t pairs = drill::kPairs;
  bool showing = true;  ///< the covers are under way: nothing can be answered yet
  bool second_cover = false;
  bool patient_is_there = true;
  std::string told;     ///< what the pair before was; empty: none
  std::string readout;  ///< the size, fixed
  bool done = false;
  std::string result;  ///< once done: the smallest visible movement
  std::string details;
  std::string trouble;  ///< why it was not kept; empty: it was
};

struct DrillOutcome {
  bool stop = false;
  bool next = false;  ///< all three are answered
  bool again = false;
  bool progress = false;
};

DrillOutcome draw_drill(Ui& ui, const DrillLayout& layout, const DrillView& view,
                        DrillState& state);

/// The whole sizes that have a mark on the scale.
inline constexpr double kSaidMarks[] = {0, 1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20};
/// The mark beside this size, by steps.
double step_said(std::optional<double> said_pd, int by);
/// What a digit makes of what was typed before: 1 then 2 is 12; what is above 20 begins anew.
double type_said(std::optional<double> typed_before, int digit);

}  // namespace redress::screens
