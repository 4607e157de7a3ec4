// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What an attentive examiner makes of the face: where an eye stood, whether and how far it moved,
// blinks left out. Movements in prism dioptres, with the sign of the deviation that they show.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "sim/examiners/consulting.hpp"

namespace redress::examiners {

/// Where an eye points, degrees; + to the patient's right and up.
struct Place {
  double horizontal_deg = 0.0;
  double vertical_deg = 0.0;
};

/// A movement, or the deviation that it shows, prism dioptres: eso +, right eye higher +.
struct Shown {
  double horizontal_pd = 0.0;
  double vertical_pd = 0.0;
};

double size_of(Shown shown);

/// The smallest movement that the reference examiner sees. People see 2 prism dioptres at ease
/// (Ludvigh 1949, from memory); this is the examiner that others are measured against.
inline constexpr double kReferenceSeesPd = 0.5;

/// Median over the glances from `from_ms` up to, not with, `to_ms` in which the eye is visible and
/// no blink is on. Nothing if there are none.
std::optional<Place> find_place(std::span<const Glance> glances, Eye eye, Tick from_ms, Tick to_ms);

/// The first glance after `since_ms` in which the eye is visible; nothing if there is none.
std::optional<Tick> find_appearing(std::span<const Glance> glances, Eye eye, Tick since_ms);

/// Where the eye stood as it came out from behind the occluder after `since_ms`, before it could
/// answer to what it sees.
std::optional<Place> find_place_on_appearing(std::span<const Glance> glances, Eye eye,
                                             Tick since_ms);

/// The deviation that an eye shows which goes from `from` to `to` to take up fixation: one that
/// comes out was in, one that comes down was up.
Shown calc_shown(Eye eye, Place from, Place to);

/// How far the two eyes are turned against each other, as a deviation from `straight`.
struct Alignment {
  PerEye<Place> eye;
};
Shown calc_change(const Alignment& from, const Alignment& to);

/// Both eyes in the same window.
std::optional<Alignment> find_alignment(std::span<const Glance> glances, Tick from_ms, Tick to_ms);

/// The time, after `from_ms`, from which on the eyes keep to their alignment in the last glances
/// before `to_ms` within `tolerance_pd`; nothing if it cannot be told.
std::optional<Tick> find_settling(std::span<const Glance> glances, Tick from_ms, Tick to_ms,
                                  double tolerance_pd);

/// Middle value of several readings, part by part; 0 of none.
Shown find_middle(const std::vector<Shown>& readings);
double find_middle(std::vector<double> values);

}  // namespace redress::examiners
