// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the patient says when asked, from what it sees; and what is on file.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/patient/retinas.hpp"
#include "sim/patient/step.hpp"
#include "sim/room/observation.hpp"

namespace redress {

using Answers = std::vector<std::pair<std::string, std::string>>;

/// Questions about what is seen now, for any patient: single_or_double, clear, jump,
/// which_eye_removes_it, arrangement, where_worst. Others are looked up among the case's answers.
Reply answer_question(std::string_view what, const patient::Percept& percept,
                      const patient::Retinas& retinas, const Answers& history, Tick now);

/// Takes the practitioner's time: 15 s.
Reply answer_request(std::string_view what, const Answers& on_file, Tick now);

}  // namespace redress
