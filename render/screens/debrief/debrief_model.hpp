// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Everything that the debrief shows, computed from the text of a record alone: the examination is
// simulated once more, watched, marked, and compared with what is there. Pure.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "render/screens/debrief/playback.hpp"
#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"
#include "sim/findings/movements.hpp"
#include "sim/scoring/score.hpp"

namespace redress::screens::debrief {

/// A movement, as its tag says it: "4Δ in", "2Δ up".
struct MovementTag {
  findings::Movement movement;
  std::string words;
  bool unseen = false;  ///< under the cover, or less than 1Δ: nobody could see it
};

/// What was being done, along the top of the time axis.
struct Phase {
  double from_ms = 0;
  double to_ms = 0;
  std::string words;  ///< "Story", "6 m, cover", "33 cm, prism"
};

struct NoteMark {
  Tick at_ms = 0;
  std::string words;  ///< as it would be written in shorthand
};

enum class Judged : std::uint8_t { full, part, none, unjudged };

/// What was written beside what was there.
struct ComparedRow {
  std::string finding;  ///< "6 m, cc", "Recovery, 6 m"
  std::string written;
  std::string there;
  Judged judged = Judged::unjudged;
  Tick at_ms = 0;  ///< when it was written
};

struct LostMark {
  scoring::Item item = scoring::Item::a1;
  double marks = 0;   ///< lost, above 0
  std::string words;  ///< why, as a sentence
  std::vector<Tick> at_ms;
};

struct MarkLine {
  std::string name;  ///< "A1"
  std::string title;
  std::string why;
  double marks = 0;
  double max = 0;
  Judged judged = Judged::full;
  std::vector<scoring::MarkEvidence> evidence;
};

struct Reviewed;

struct DebriefModel {
  std::string who;  ///< "Piet Lockyer, 27"
  double interpupillary_mm = 62;
  Playback playback;
  std::vector<findings::CoveredInterval> covers;
  std::vector<MovementTag> movements;  ///< in order of their onset
  std::vector<Phase> phases;           ///< without gaps
  std::vector<NoteMark> notes;
  std::vector<ComparedRow> rows;
  double total = 0;
  bool unsafe = false;
  std::vector<std::string> limits;     ///< why the total is capped
  std::vector<LostMark> lost;          ///< most first
  std::vector<MarkLine> marks;         ///< every item that counts
  std::vector<std::string> next_time;  ///< at most three
  double largest_pd = 6;               ///< of the deviations from the target: for the lanes' scale
  std::shared_ptr<const Reviewed> reviewed;  ///< what it was made of; never null
};

/// How the marks are counted where it is no practice: the sheet of `column`, changed by `then`.
struct CountedBy {
  scoring::Column column = scoring::Column::formative;
  std::function<scoring::ScoreSheet(scoring::ScoreSheet)> then;
};

/// Refused with reasons where the record is altered, newer or not complete, or its case is
/// refused.
redress::Result<DebriefModel> make_debrief(std::string_view record_text,
                                           const CountedBy& counted = {});

}  // namespace redress::screens::debrief
