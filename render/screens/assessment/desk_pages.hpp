// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a workstation shows besides the patient while a circuit is sat: opening it, who sits here,
// the reading time, a rest, what comes after a station. Regions "desk bar" and "desk". Nothing here
// knows truth, marks or what a case is called.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "render/screens/assessment/column.hpp"
#include "render/screens/layout.hpp"

namespace redress::screens::assessment {

/// What can be done with assessments: the pages of the door "Assessment".
enum class AssessmentTab : std::uint8_t { sit, compose, results };

/// Along the top.
struct DeskBar {
  std::string where = "Assessment";  ///< "Station 4 of 12"
  std::string candidate;             ///< "Candidate 0417"
  std::string clock_words;           ///< "reading time left"
  std::string clock;                 ///< "0:48"; empty: none
  std::string kept;                  ///< "Every act kept"
  bool leaves = false;               ///< back to the cases: before anybody sits here
  std::optional<AssessmentTab> tab;  ///< the pages beside this one; none: no way to them
  bool invigilator = false;          ///< the way to the invigilator's page
};
struct DeskBarOutcome {
  bool leave = false;
  bool invigilator = false;
  std::optional<AssessmentTab> tab;
};
DeskBarOutcome draw_desk_bar(Ui& ui, const StudyLayout& layout, const DeskBar& bar);

/// A passphrase that is asked for: to open a circuit, or the invigilator's page.
struct PassphraseModel {
  std::string typed;
  std::string trouble;  ///< "That does not open it. Next try in 8 s."
  bool busy = false;    ///< being tried
  bool waits = false;   ///< after a wrong one
};

struct OpeningModel {
  std::string path;
  std::vector<std::string> found;  ///< sealed circuits that lie where they usually do
  PassphraseModel passphrase;
  std::vector<std::string> debriefs;  ///< released ones that lie in the user's own folder
  std::string debrief;                ///< the file that is to be opened
  std::string debrief_trouble;
  PageState page;
};
struct OpeningOutcome {
  bool open = false;
  std::optional<std::size_t> choose;  ///< one of `found`
  std::optional<std::size_t> choose_debrief;
  bool show_debrief = false;
};
OpeningOutcome draw_opening(Ui& ui, const StudyLayout& layout, OpeningModel& model);

inline constexpr std::int64_t kExtraPercents[] = {0, 25, 50, 100};

/// One that was cut short and can go on.
struct Interrupted {
  std::string candidate;
  std::size_t station = 0;
  std::string used;         ///< "2:41"
  std::string workstation;  ///< where it was
};

/// The assessor's: before a candidate sits down.
struct SetupModel {
  std::string circuit;  ///< title
  std::string stations;
  std::string workstation;
  std::string folder;          ///< where the stations are kept
  std::size_t extra = 0;       ///< index into kExtraPercents
  std::size_t text_size = 0;   ///< index into kTextScales
  float largest_scale = 2;     ///< that this window has room for
  std::string size_on_screen;  ///< "Calibrated 28 November"
  std::vector<Interrupted> interrupted;
  std::string trouble;
  PageState page;
};
struct SetupOutcome {
  bool next = false;
  bool calibrate = false;
  bool text_size_changed = false;
  std::optional<std::size_t> resume;
};
SetupOutcome draw_setup(Ui& ui, const StudyLayout& layout, SetupModel& model);

/// The candidate's own first page.
struct CandidateModel {
  std::string candidate;
  double eye_distance_cm = 60;
  std::string magnification;  ///< "The eyes will be 2.0 times life size"
  std::string trouble;
  PageState page;
};
/// True: begin the practice minute.
bool draw_candidate(Ui& ui, const StudyLayout& layout, CandidateModel& model);

/// Before a station: what comes. True: go on.
struct BeforeModel {
  std::string title;  ///< "Station 4 of 12"
  std::string words;
  std::string button = "Begin reading";
  PageState page;
};
bool draw_before(Ui& ui, const StudyLayout& layout, BeforeModel& model);

/// Story and tasks; the patient is not there.
struct ReadingModel {
  std::string name;
  std::string age;
  std::string story;
  std::vector<std::string> tasks;
  std::string notice;  ///< something about the desk that the candidate should know
  PageState page;
};
void draw_station_reading(Ui& ui, const StudyLayout& layout, ReadingModel& model);

/// A rest station. True: go on before it is over.
bool draw_rest(Ui& ui, const StudyLayout& layout, const std::string& next, PageState& page);

/// After a station: a comment for the assessors. True: go on.
struct AfterModel {
  std::string title;  ///< "Time is up. Your card was handed in as it stands."
  std::string comment;
  std::string button = "Go on";
  PageState page;
};
bool draw_after(Ui& ui, const StudyLayout& layout, AfterModel& model);

/// Words and nothing to do: the end, a pause, a station that was aborted.
void draw_notice(Ui& ui, const StudyLayout& layout, const std::string& title,
                 const std::string& words, PageState& page);

}  // namespace redress::screens::assessment
