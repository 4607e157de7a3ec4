// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Handle, hand and forearm that hold the occluder: what they take from the practitioner's own view
// of an eye. They follow from where the blade is and are no state; the patient's line of sight is
// cut by the blade alone. The picture draws the same outline (tests/render/hand_outline_test.cpp).
#pragma once

#include <array>

#include "sim/optics/occluder.hpp"

namespace redress {

/// The handle leans outwards as far as this while the blade is before an eye: it is out of the way
/// of both eyes wherever the blade comes from and goes to (common practice, no source).
inline constexpr double kHandleLeanDeg = 45.0;
/// From this far beside the midline on; half of a small child's eyes' distance.
inline constexpr double kWholeLeanMm = 24.0;

/// How far the handle leans: + with its lower end to the patient's right. Against the plate, whose
/// own roll comes on top; continuous in the blade's place, and mirrored with it.
double handle_lean_deg(const optics::OccluderPose& blade);

/// A rectangle with round corners about the handle's line, mm: `from` and `to` along it from the
/// middle of the blade.
struct HeldPart {
  double half_width_mm;
  double from_mm;
  double to_mm;
  double corner_mm;
};
/// Handle, fist and forearm, in the plane of the blade: a grown-up's right hand and its mirror, the
/// left one, both within 6 mm of this (judgement; the picture's hand).
inline constexpr std::array<HeldPart, 3> kHeldParts{{
    {5.5, 31.0, 155.0, 4.0},
    {30.0, 47.0, 125.0, 12.0},
    {19.0, 116.0, 220.0, 10.0},
}};

/// Signed distance, in the plane of the blade, from the line between an eye and a practitioner's
/// own eye to handle, hand and forearm: negative where they hide it; optics::kNoCrossingMm where
/// the line ends before them. All in the head frame.
double held_clearance(const optics::OccluderPose& blade, Vector pupil, Vector own_eye);

/// Whether blade, handle, hand or forearm hide an eye from one of the practitioner's own.
bool hides_from_view(const optics::OccluderPose& blade, Vector pupil, Vector own_eye);

}  // namespace redress
