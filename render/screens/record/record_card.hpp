// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The record, beside the patient and whole. They propose notes; the application makes acts of them.
#pragma once

#include <string>
#include <string_view>

#include "render/screens/layout.hpp"
#include "render/screens/parts/parts.hpp"
#include "render/screens/record/record_state.hpp"

namespace redress::screens::record {

/// Beside the patient, in the room's theme; in the compact layout the page over it. Region
/// "record".
RecordOutcome draw_record_card(Ui& ui, const Rect& card, CardEditor& editor, RecordState& state,
                               Tick now);
/// The whole card. Regions "record bar", "record", "reason". `who`: "Piet Lockyer, 27".
RecordOutcome draw_record_page(Ui& ui, const StudyLayout& layout, std::string_view who,
                               CardEditor& editor, RecordState& state, Tick now);

/// Ctrl+1 to 6: opens the section; slash, or N twice: the line gets the keys.
void show_section(RecordState& state, Section section);
void write_finding(RecordState& state);

/// "05:07".
std::string write_clock(Tick at_ms);

}  // namespace redress::screens::record
