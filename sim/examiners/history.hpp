// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the reference examiner asks before the test, and what it makes of the answers, by their
// words alone.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>

#include "sim/basics/units.hpp"
#include "sim/examiners/consulting.hpp"
#include "sim/examiners/record_card.hpp"

namespace redress::examiners {

inline constexpr Tick kAnswerMs = 2000;
inline constexpr Tick kFileMs = 15'500;  ///< a finding on file takes 15 s

bool contains(const std::string& text, std::string_view word);
bool contains_any(const std::string& text, std::initializer_list<std::string_view> words);

/// Questions and acuity, into `e`.
void take_history(Consulting& room, WholeFinding& e);

}  // namespace redress::examiners
