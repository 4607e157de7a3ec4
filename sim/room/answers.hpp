// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the patient says, asked and unasked, from what it sees; and what is on file.
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

/// How long a patient takes to speak: 0.5 to 1.5 s (judgement), in part this person's pace, in part
/// the moment's. Nothing of what is said or seen enters into it.
Tick draw_speech_ms(const patient::Chance& chance, Tick now);

/// Unasked: a patient who has noticed two of everything for 2 s says so, once, unless it has told
/// so already; not before three years of age (judgement).
inline constexpr std::string_view kUnasked = "unasked";
class DoubleVision {
 public:
  /// To be called every kLookEveryMs with what the patient sees. True when it begins to speak.
  bool notices(const patient::Percept& percept);
  /// An answer has told of it.
  void told() { told_ = true; }
  [[nodiscard]] bool has_told() const { return told_; }
  [[nodiscard]] std::int32_t noticed_ms() const { return noticed_ms_; }

  static constexpr Tick kLookEveryMs = 100;

 private:
  std::int32_t noticed_ms_ = 0;
  bool told_ = false;
};
Reply say_unasked(double age_years, Tick at);
/// Whether so old a patient speaks of its own accord.
bool speaks_unasked(double age_years);

/// Takes the practitioner's time: 15 s.
Reply answer_request(std::string_view what, const Answers& on_file, Tick now);

}  // namespace redress
