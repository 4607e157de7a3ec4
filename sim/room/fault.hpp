// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The watch over an examination: a value that no patient and no room can have, because something
// did not converge, ends it there. It is never set back to something sensible and gone on with.
#pragma once

#include <optional>
#include <string>

#include "sim/patient/state.hpp"
#include "sim/room/act.hpp"
#include "sim/room/room.hpp"

namespace redress {

/// What ended an examination.
struct EngineFault {
  Tick at_ms = 0;     ///< the first tick whose state is not sound
  std::string field;  ///< as in the list of the state's fields
  double value = 0.0;
};

/// "stopped at 1234 ms: vergence_deg is nan; allowed: -1e6 to 1e6".
std::string to_text(const EngineFault& fault);

/// Whether the values that all others end up in are numbers, and of a size that eyes may have.
bool is_sound(const patient::State& state);

/// The first field that is not, of the patient, then of the room.
EngineFault find_fault(const patient::State& state, const RoomState& room, Tick at_ms);

}  // namespace redress
