// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What covers and prisms showed at a place, as a number, and what somebody with the same habit of
// estimating would have written of another examination.
//
// Movements are taken by what happened to the covers: as the other eye was covered (what is
// manifest), as the eye itself was freed (what is latent), as the cover crossed over (all there
// is). Of each such group the middle one stands for all, the smaller of two: a glance at the
// practitioner, a blink or a small jerk of fixation is no answer to a cover, and comes once.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/scoring/examined.hpp"

namespace redress::scoring {

/// What there was to be seen at a place; prism dioptres, eso +. Nothing where nothing moved enough
/// to be told, or nothing was measured.
struct Sighting {
  std::optional<double> by_eye_pd;  ///< the most that taking up fixation showed
  std::optional<double> by_eye_vertical_pd;
  std::optional<double> alone_pd;     ///< the same of covers of one eye by itself
  std::optional<double> by_prism_pd;  ///< the best prism's label and what was left behind it
  std::optional<double> by_prism_vertical_pd;
  // The movements that show it: to size and direction across and in height, and to class.
  std::optional<findings::Movement> across;
  std::optional<findings::Movement> in_height;
  std::optional<findings::Movement> fellow;  ///< of the eye left free, as the other was covered
  std::optional<findings::Movement> freed;   ///< of the eye itself, as it was uncovered
  const findings::PrismStep* best_prism = nullptr;  ///< that left least
  bool fellow_moved = false;                        ///< enough to be seen: manifest
};

Sighting find_sighting(const Examined& x, const Place& place);

/// The movement that stands for what these covers showed, across or in height, whichever is more;
/// none: nothing moved.
std::optional<findings::Movement> find_movement(
    const Examined& x, const std::vector<const findings::CoverSpan*>& covers);

/// "right eye 5.8Δ in, 0.21 s after it was freed": the movement in words, along its longer way or,
/// if said, in height.
std::string describe_movement(const findings::Movement& movement, bool in_height);
std::string describe_movement(const findings::Movement& movement);

/// What was seen of the same place in two examinations, to be compared: in covers of one eye by
/// itself if there were any both times (the alternating cover shows all there is, whatever they
/// were like), else in any.
struct SeenPair {
  std::optional<double> done_pd;
  std::optional<double> mended_pd;
};
SeenPair pair_seen(const Sighting& done, const Sighting& mended);

/// The notes of one examination as the same writer would have made them in another: every size
/// differs by as much as what was seen differs; what became visible is written, by its movement, as
/// latent or manifest. `done` and `mended` have the same places.
std::vector<findings::WrittenFinding> rewrite_notes(const Examined& done, const Examined& mended);

}  // namespace redress::scoring
