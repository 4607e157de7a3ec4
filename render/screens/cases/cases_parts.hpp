// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The pieces of the list of patients: what comes next (cases.cpp), the path (learning_path.cpp),
// what is searched for and shown (case_filters.cpp).
#pragma once

#include <optional>

#include "render/screens/cases/cases.hpp"

namespace redress::screens {

inline constexpr int kGoodMarks =
    75;  ///< "to do again" is below, a step of the path done from here

/// The patient that comes next: the first not done, else the one done worst.
std::optional<std::size_t> find_next(const CasesModel& model);

/// Who comes next, the way of practising and the button that begins.
void draw_next(Ui& ui, Rect inner, CasesModel& model, bool from_right, bool compact,
               CasesOutcome& outcome);
/// For those who write cases; takes what it needs, if there is room.
void draw_writing(Ui& ui, Rect& r, const std::optional<std::size_t>& next, CasesOutcome& outcome);

void draw_path(Ui& ui, const Rect& r, CasesModel& model, CasesOutcome& outcome);
void draw_sidebar(Ui& ui, Rect r, CasesModel& model, CasesOutcome& outcome);

/// What a step of the path practises, as the goals are called.
std::string_view title_of_step(std::size_t index);

}  // namespace redress::screens
