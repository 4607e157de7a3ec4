// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the patient says when asked, from what it sees; and what is on file.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/patient/retinas.hpp"
#include "sim/patient/step.hpp"
#include "sim/room/observation.hpp"

namespace redress {

using Answers = std::vector<std::pair<std::string, std::string>>;

/// Where two images are furthest apart.
enum class Worst : std::uint8_t { nowhere, same, left, right, up, down, near, far };

/// What an answer about the eyes rests on.
struct Asked {
  const patient::Percept& percept;
  const patient::Retinas& retinas;
  const patient::Chance& chance;
  Worst worst = Worst::nowhere;  ///< for where_worst only
  double age_years = 23.0;
};

/// Questions about what is seen now, for any patient: single_or_double, clear, jump,
/// which_eye_removes_it, arrangement, where_worst. Others are looked up among the case's answers.
/// `arrangement` answers with words in a row: side_by_side, one_above_the_other or
/// side_by_side_and_above; then crossed or uncrossed; right_lower or left_lower; tilted.
Reply answer_question(std::string_view what, const Asked& asked, const Answers& history, Tick now);

/// Takes the practitioner's time: 15 s.
Reply answer_request(std::string_view what, const Answers& on_file, Tick now);

}  // namespace redress
