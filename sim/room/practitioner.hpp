// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The practitioner's own head and eyes: the head can get between the patient and the target, the
// occluder between the patient and either of the eyes.
#pragma once

#include "sim/basics/eye.hpp"
#include "sim/basics/vector.hpp"

namespace redress {

/// Half the breadth of an adult's head, and the height of its top above the eyes, mm (both from
/// memory of anthropometric tables; a hood of hair left out).
inline constexpr double kHeadHalfBreadthMm = 77.0;
inline constexpr double kEyesToVertexMm = 115.0;
/// Who sits in front sits low enough for the patient to look over the head, wherever the target is:
/// by this much the eyes are below the line to it (common practice, no source).
inline constexpr double kSeatBelowSightMm = 140.0;

/// A rise that hides the target from nobody, however far aside.
inline constexpr double kClearRiseMm = kSeatBelowSightMm - kEyesToVertexMm;
/// Half the distance of the practitioner's own eyes, mm (adult mean, from memory).
inline constexpr double kOwnHalfDistanceMm = 31.5;

/// Where one of the own eyes is. Who faces the patient has the own right eye on the patient's left.
Vector own_eye(const Vector& viewpoint, Eye own);

/// Whether the head hides the target from an eye. `viewpoint`: the practitioner's eyes, mm, as in
/// act::MoveViewpoint: sideways and up from the seat in front, and how far before the patient (z
/// below 0). `eye`: centre of rotation, `target`: both in the head frame. A target that is nearer
/// than the head is never hidden.
bool hides_target(const Vector& viewpoint, const Vector& eye, const Vector& target);

}  // namespace redress
