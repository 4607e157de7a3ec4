// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where the debrief stands: the moment shown, the part of the time axis, what is open. Keys and
// time change it by pure functions; the screen reads it.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "render/screens/debrief/debrief_model.hpp"
#include "render/screens/examine/keys.hpp"
#include "render/screens/examine/view.hpp"
#include "sim/progress/statistics.hpp"

namespace redress::screens::debrief {

inline constexpr std::array<double, 6> kSpeeds{0.1, 0.25, 0.5, 1, 2, 4};
inline constexpr double kWindowMs = 26000;  ///< of the axis at first
inline constexpr double kShortestWindowMs = 500;

enum class Tab : std::uint8_t { what_happened, every_mark, what_if };
/// In the narrow layout one of these stands under the picture.
enum class NarrowTab : std::uint8_t { traces, written, lost, next_time, every_mark, what_if };

struct DebriefState {
  double now_ms = 0;
  bool playing = false;
  std::size_t speed = 1;
  double from_ms = 0;  ///< of the time axis
  double to_ms = kWindowMs;
  bool clear_occluder = true;
  examine::Closeness view = examine::Closeness::both;
  bool above = false;         ///< the lines of sight have the large picture's place
  bool example = false;       ///< the reference examiner's, not the learner's
  bool for_assessor = false;  ///< a candidate's station, watched by who marks it
  bool blind = false;         ///< its marks are not shown; a rating is asked for instead
  Tab tab = Tab::what_happened;
  NarrowTab narrow_tab = NarrowTab::traces;
  std::size_t habit = 0;                         ///< chosen on the page of what-if
  bool side_by_side = false;                     ///< as done and as mended are watched
  double watched_ms = 0;                         ///< of them, since both began
  std::optional<progress::Agreement> estimates;  ///< the learner's, from drills
  bool vertical = false;                         ///< the lanes show up and down
  bool numbers = false;                          ///< the lanes as a table
  std::optional<double> drag_from_ms;
  bool dragged = false;
  float rows_height = 2000, lost_height = 2000, next_height = 2000;  ///< of what scrolls
  float marks_height = 4000, numbers_height = 4000;
};

/// At the first thing worth looking at: the dearest mark that was lost, else the first cover.
DebriefState make_state(const DebriefModel& model);

enum class Command : std::uint8_t {
  play,
  back_10_ms,
  on_10_ms,
  movement_before,
  movement_after,
  slower,
  faster,
  zoom_in,
  zoom_out,
  pan_back,
  pan_on,
  whole,
  numbers,
  vertical,
  occluder,
  view
};
/// The key of the screens' table (§3) for it: K, comma, period, J, L, minus, plus; besides these
/// arrows, Home, F10, V.
std::optional<Command> find_command(examine::Scancode key);

void apply(const DebriefModel& model, Command command, DebriefState& state);
/// The same on the page of what-if, where both stretches are watched.
void apply_beside(Command command, double length_ms, DebriefState& state);
void advance_beside(double seconds, double length_ms, DebriefState& state);
/// An example is watched from its beginning, as it was.
DebriefState make_example_state(const DebriefModel& model);
/// So much time has passed on the wall.
void advance(const DebriefModel& model, double seconds, DebriefState& state);
/// Goes there, with the axis round it, and stands still.
void show(const DebriefModel& model, double at_ms, DebriefState& state);
void zoom(const DebriefModel& model, double about_ms, double factor, DebriefState& state);
void pan(const DebriefModel& model, double by_ms, DebriefState& state);
/// How the patient is shown in a picture of this size, pixels: the eye that moves in the closer
/// views.
examine::ShownView find_view(const DebriefModel& model, const DebriefState& state, double width_px,
                             double height_px);
/// The movement that is under way or has just been, if any.
std::optional<std::size_t> find_chosen(const DebriefModel& model, double now_ms);

}  // namespace redress::screens::debrief
