// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How an examiner examines. Times are common practice (no source) unless said.
#pragma once

#include <cstdint>

#include "sim/basics/eye.hpp"
#include "sim/room/act.hpp"

namespace redress::examiners {

enum class Kind : std::uint8_t {
  reference,  ///< by the book
  random,     ///< acts and writes legally, without sense
  idle,       ///< does nothing
  guessing,   ///< tests nothing and writes the commonest finding
};

/// One fault at a time, in an examiner that otherwise goes by the book.
enum class Fault : std::uint8_t {
  none,
  short_covers,  ///< cover-uncover too short for a deviation to show
  no_near_test,
  wrong_base,        ///< the first prism the wrong way round, put right when the movement grows
  letter_too_small,  ///< no larger than the worse eye's acuity
};

struct Habits {
  Kind kind = Kind::reference;
  Fault fault = Fault::none;
  double near_m = 0.40;  ///< the patient's working distance, as the story tells
  bool owns_spectacles = false;
  double age_years = 23.0;  ///< as the patient looks
  std::uint64_t seed = 1;   ///< of an examiner that acts at random
};

/// What a session at one distance is done with.
struct Manner {
  double distance_m = 6.0;
  Tick open_before_ms = 2500;   ///< both eyes open before each cover
  Tick cover_ms = 5000;         ///< rubric B2: this patient's t90, at most 5 s
  Tick open_after_ms = 4000;    ///< to see whether and how the eyes come back
  Tick longest_open_ms = 9000;  ///< if they are still on the way
  int covers_of_each_eye = 2;
  Tick dwell_ms = 1500;  ///< of the alternating cover on each eye
  int transfers = 10;
  int transfers_behind_prism = 4;
};

}  // namespace redress::examiners
