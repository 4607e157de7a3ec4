// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the reference examiner makes of more than the deviation: of the glasses, the reserves and
// the story; and how soon.
#pragma once

#include <optional>
#include <string>

#include "sim/examiners/record_card.hpp"
#include "sim/room/finding.hpp"

namespace redress::examiners {

struct Impression {
  std::string diagnosis;
  std::string advice;  ///< free words, read as parts of a plan (sim/findings/plan_words.hpp)
  Urgency urgency = Urgency::routine;
};

/// The deviation as measured by prism, else as the alternating cover showed it.
Shown measured(const DistanceFinding& d);

/// A height that only the lower part of unequal lenses makes.
std::optional<Impression> call_by_lenses(const WholeFinding& e);
/// Where the glasses hold the deviation, or were left at home.
std::optional<Impression> call_by_glasses(const WholeFinding& e);
/// Trouble, little to be seen, and small reserves.
Impression call_by_reserves(const WholeFinding& e, const Impression& found);
/// What the story decides, whatever the eyes do today.
std::optional<Impression> call_by_story(const WholeFinding& e, const Impression& found);
/// With both eyes open, by the answers.
bool sees_two(const WholeFinding& e);
/// Sooner where double vision is new.
Impression hasten(const WholeFinding& e, Impression found);

}  // namespace redress::examiners
