// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// After the day, for assessors: what is in the store by candidate and station, one station's marks
// with their evidence a click away, overruling with a reason, reports. A global rating is given
// from the replay before the marks are seen. Regions "desk bar" and "desk".
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "render/screens/assessment/desk_pages.hpp"

namespace redress::screens::assessment {

/// Which circuit, which store, who marks.
struct ResultsOpeningModel {
  std::string sealed_path;
  std::string store;
  std::string assessor;
  std::string marks_folder;  ///< where ledgers lie, and where this assessor's is written
  std::string kept_folder;   ///< what workstations kept, to be taken in first; empty: nothing
  bool cut_short_too = false;
  PassphraseModel passphrase;
  PageState page;
};
/// True: open.
bool draw_results_opening(Ui& ui, const StudyLayout& layout, ResultsOpeningModel& model);

struct ResultCell {
  bool there = false;
  bool whole = true;   ///< false: cut short
  std::string rating;  ///< by this assessor; empty: none
  bool seen = false;   ///< this assessor may see the marks
  double marks = 0;
  bool unsafe = false;
  std::size_t overruled = 0;
};
struct ResultRow {
  std::string candidate;
  std::vector<ResultCell> cells;  ///< by column
};
struct ResultsModel {
  std::vector<std::string> columns;  ///< numbers of stations: "1", "2", "4"
  std::vector<ResultRow> rows;
  bool all_seen = false;             ///< the marks of all are shown: nobody rates any more
  std::vector<std::string> remarks;  ///< what a person must decide
  std::string told;                  ///< "cohort.html was written"
  std::string trouble;
  PageState page;
};
struct ResultsOutcome {
  std::optional<std::pair<std::size_t, std::size_t>> open;  ///< row, column
  bool show_all = false;
  bool write_html = false;
  bool write_pdf = false;
  bool write_csv = false;
  bool write_moderation = false;
  std::optional<std::size_t> write_candidate;  ///< row: one page
  std::optional<std::size_t> release;          ///< row: the candidate's debriefs
  bool release_all = false;
};
/// `has_pdf`: this program can write it.
ResultsOutcome draw_results(Ui& ui, const StudyLayout& layout, ResultsModel& model, bool has_pdf);

struct ItemRow {
  std::string name;   ///< "D3"
  std::string title;  ///< "Size"
  double max = 0;
  double engine = 0;
  double final = 0;
  std::vector<std::string> reasons;  ///< "A. Perera: ..."
};
struct StationMarksModel {
  std::string title;   ///< "Candidate 0417, station 4"
  std::string events;  ///< what happened at the desk, in words
  bool rated_blind = false;
  std::string rating;  ///< this assessor's; empty: none yet
  bool seen = false;   ///< marks are shown
  bool unsafe = false;
  double total = 0;
  double engine_total = 0;
  std::vector<ItemRow> items;
  std::optional<std::size_t> overruling;  ///< the item that is being overruled
  double marks = 0;
  std::string reason;
  std::string trouble;
  PageState page;
};
struct StationMarksOutcome {
  bool back = false;
  bool watch = false;               ///< the replay with its evidence
  std::optional<std::size_t> rate;  ///< 0 fail ... 4 excellent
  bool show = false;                ///< without rating
  bool overrule = false;            ///< as `overruling`, `marks` and `reason` say
};
StationMarksOutcome draw_station_marks(Ui& ui, const StudyLayout& layout, StationMarksModel& model);

}  // namespace redress::screens::assessment
