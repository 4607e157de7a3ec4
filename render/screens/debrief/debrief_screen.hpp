// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The debrief on the screen. The patient is drawn by the application under the region "picture",
// which has no ground: DebriefOutcome says where, and what to draw there is
// model.playback.moment_at(state.now_ms).
#pragma once

#include <string_view>

#include "render/screens/debrief/debrief_state.hpp"
#include "render/screens/debrief/what_if_model.hpp"
#include "render/screens/layout.hpp"
#include "render/screens/parts/parts.hpp"

namespace redress::screens::debrief {

struct DebriefOutcome {
  bool leave = false;               ///< to the list of cases
  bool again = false;               ///< the same patient, from the beginning
  bool show_me = false;             ///< the reference examiner with this patient
  std::optional<std::size_t> rate;  ///< 0 fail ... 4 excellent
  Rect picture;                     ///< where the patient is drawn, units; empty: not at all
  bool clear_occluder = true;
  /// As done and as mended, where they are watched side by side; else empty.
  Rect done_picture, mended_picture;
};

/// `when`: "24 November", or empty. `what_if`: null until it is computed.
DebriefOutcome draw_debrief(Ui& ui, const DebriefLayout& layout, const DebriefModel& model,
                            DebriefState& state, std::string_view when = {},
                            const WhatIfModel* what_if = nullptr);

/// "4:26.48".
std::string write_time(double at_ms, int decimals);

// --- its parts, one file each ---
void draw_lanes(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state,
                bool compact);
void draw_numbers(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state);
void draw_sight_lines(Ui& ui, const Rect& r, const DebriefModel& model, const DebriefState& state,
                      bool compact);
void draw_written(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state);
void draw_lost(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state);
void draw_next_time(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state,
                    DebriefOutcome& outcome);
/// An assessor's rating, given before the marks are seen.
void draw_rating(Ui& ui, const Rect& r, DebriefOutcome& outcome);
void draw_every_mark(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state);
void draw_what_if(Ui& ui, const Rect& r, const WhatIfModel* model, DebriefState& state,
                  DebriefOutcome& outcome);

}  // namespace redress::screens::debrief
