// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The invigilator's page at a workstation: behind the circuit's passphrase, over whatever the
// candidate was doing. Everything done here is written into the station. Region "desk".
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "render/screens/assessment/desk_pages.hpp"

namespace redress::screens::assessment {

struct InvigilatorModel {
  bool known = false;  ///< the passphrase was right
  PassphraseModel passphrase;
  bool at_station = false;  ///< a station runs, or its reading time
  bool paused = false;
  double credit_s = 60;
  std::string reason;
  std::string incident;
  bool asks_to_abort = false;
  std::string told;                   ///< what was done last
  std::vector<std::string> happened;  ///< at this station so far: "1:20 left window"
  std::string moving;                 ///< how this candidate goes on at another workstation
  PageState page;
};

enum class InvigilatorAct : std::uint8_t {
  none,
  try_passphrase,
  close,
  pause,  ///< or go on
  give_time,
  note_incident,
  abort,
};
InvigilatorAct draw_invigilator(Ui& ui, const StudyLayout& layout, InvigilatorModel& model);

}  // namespace redress::screens::assessment
