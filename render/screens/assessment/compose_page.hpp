// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Composing a circuit: the stations as a table with what the reference examiner needs and gets and
// how many are expected to pass, what does not fit with its remedy, the blueprint, and the chosen
// station's values. Regions "compose bar", "stations", "station".
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "render/screens/assessment/desk_pages.hpp"
#include "render/screens/assessment/rehearsal_block.hpp"
#include "sim/assessment/check_circuit.hpp"
#include "sim/assessment/circuit.hpp"

namespace redress::screens::assessment {

/// What the engine found of a station so far.
struct StationFigures {
  bool computing = false;
  std::optional<double> reference_marks;  ///< the least of its forms
  std::optional<Tick> reference_ms;       ///< the longest
  std::optional<double> share_passing;    ///< mean of its forms
};

/// A concern with the words on its button; empty: a person must decide.
struct Remark {
  std::string what;
  std::string proposal;
  std::string remedy;  ///< "Give 10:00"
  bool wrong = false;
};

struct ComposeModel {
  redress::assessment::Circuit circuit;
  std::string path;                     ///< where it is saved
  std::vector<std::string> found;       ///< circuit files to open
  std::string not_circuits;             ///< of other files that lie beside them
  std::vector<StationFigures> figures;  ///< by station
  std::vector<Remark> remarks;
  std::vector<redress::assessment::BlueprintCell> blueprint;
  std::size_t chosen = 0;
  bool can_undo = false;
  bool changed = false;  ///< since it was saved
  bool sealing = false;  ///< the passphrase is being asked for
  bool busy = false;     ///< it is being sealed
  std::string passphrase, again;
  std::string told, trouble;
  RehearsalModel rehearsal;
  PageState list_page, station_page, seal_page;
};

struct ComposeOutcome {
  std::optional<redress::assessment::Circuit> changed;
  std::optional<std::size_t> choose;
  std::optional<std::size_t> remedy;  ///< one of `remarks`
  std::optional<std::size_t> open;    ///< one of `found`
  bool fresh = false;                 ///< begin a new circuit
  bool undo = false;
  bool save = false;
  bool seal = false;  ///< with the passphrase
  RehearsalOutcome rehearsal;
};
ComposeOutcome draw_compose(Ui& ui, const StudyLayout& layout, ComposeModel& model);

}  // namespace redress::screens::assessment
