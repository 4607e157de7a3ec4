// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What somebody who teaches would say next, and why: the routine in its order, from what has been
// done and written so far; after it the further tests that what was written calls for. It never
// looks at what the eyes did, nor at the case: it names procedures, never findings.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

#include "sim/findings/evidence.hpp"
#include "sim/room/room.hpp"

namespace redress::examiners {

enum class Step : std::uint8_t {
  ask,         ///< the history
  tell,        ///< where to look
  look,        ///< at both eyes, before any cover
  go_to,       ///< the next distance
  one_eye,     ///< cover and uncover one eye by itself
  longer,      ///< the same, held for longer
  alternate,   ///< from eye to eye
  write,       ///< what the covers showed
  prism,       ///< put one up
  neutralise,  ///< go on with it, past neutral
  put_away,    ///< the prism
  write_size,  ///< what the prism measured
  sides,       ///< the eyes followed to the sides
  write_sides,
  tilt,  ///< the head tilted to either shoulder, and the cover alternated
  write_tilt,
  near_point,
  write_near_point,
  reserves,
  write_reserves,
  lenses,  ///< covered at near through plus and through minus
  write_lenses,
  four_dioptres,
  write_four_dioptres,
  impression,
  plan,
  finish,
};

/// Words for one line: kLongestAdvice bytes at the most.
inline constexpr std::size_t kLongestAdvice = 76;
struct Advice {
  Step step = Step::ask;
  std::string next;  ///< what to do, to go on after "Next: "
  std::string why;
};

/// `so_far` as gathered up to now (findings::Gatherer), `room` as it stands.
Advice advise(const findings::Evidence& so_far, const RoomState& room);

}  // namespace redress::examiners
