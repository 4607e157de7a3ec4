// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the furniture of the room says: words and states made from what the user did and set up, and
// from nothing else. No value here depends on what the eyes did.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "render/screens/examine/captions.hpp"
#include "render/screens/examine/session.hpp"

namespace redress::screens::examine {

/// What the coach says: the next thing to do, and why.
struct CoachWords {
  std::string next;
  std::string why;
  bool shows_why = false;
};

/// What the strip says at a station of a circuit; nothing there follows from the patient.
struct StationWords {
  std::string where;        ///< "Station 4 of 12"
  std::string short_where;  ///< "4 of 12"
  std::string candidate;    ///< "Candidate 0417"
  std::string kept;         ///< "Every act kept", or what is wrong with that
  bool all_kept = true;
  bool last_minute = false;
};

/// What the application knows and the session does not.
struct RoomViewChoice {
  bool compact = false;
  std::string mode = "Practice, on my own";
  std::string short_mode = "On my own";
  bool practice = true;     ///< the band of good distance may be shown
  std::size_t entries = 0;  ///< on the card
  /// Real pixels to a millimetre of this screen; none: not known.
  std::optional<double> screen_pixels_per_mm;
  KeyCaptions captions;
  std::optional<Tick> time_left;    ///< at a station, instead of the time used
  std::optional<CoachWords> coach;  ///< none: there is none, or it holds its tongue
  std::optional<StationWords> station;
};

/// One place on the shelf.
struct PlaceWords {
  std::string caption;
  std::vector<std::string> keys;
  std::string now;
  std::string detail;
  bool open = false;
};

struct RoomView {
  std::string name;
  std::string age;
  std::string mode;
  std::string short_mode;
  std::string clock;          ///< mm:ss
  std::string readout;        ///< magnification and what one prism dioptre measures
  std::string short_readout;  ///< "2.4× life, 1Δ 0.55 mm"; empty if not known
  std::string story_key, tasks_key, card_key;
  PlaceWords occluder, prism, target, correction, speech, view, card;
  std::optional<double> occluder_distance_mm;
  bool distance_band = false;
  std::span<const double> bar_steps;
  std::optional<std::size_t> bar_at;
  std::size_t entries = 0;
  std::optional<Said> message;
  std::optional<CoachWords> coach;  ///< on the message line while nothing else stands there
  std::optional<StationWords> station;
};

RoomView make_room_view(const Session& session, const RoomViewChoice& choice);

/// "8Δ base in, right eye"; compact "8Δ in, R".
std::string format_piece(const HeldPiece& piece, bool compact);
/// "6 m", "40 cm".
std::string format_distance(double metres);
/// "+1.00", "−0.50" with a true minus.
std::string format_dioptres(double value);
std::string format_clock(Tick at);
/// "3:18", as time that is left.
std::string format_time_left(Tick left);

}  // namespace redress::screens::examine
