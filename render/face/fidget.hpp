// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A child does not sit still: every few seconds the head goes to another place, some tenths of a
// millimetre to a millimetre away. Looks only, by age, seed and time: it knows nothing of the eyes,
// so it tells nothing of them. The amounts are judgement.
#pragma once

#include <glm/glm.hpp>

#include "render/scene/scene.hpp"

namespace redress::face {

/// Where the head has got to, mm from where it sat at first: + to the right of the picture, + up.
/// None at `at_ms` 0 and below, nor at any time from ten years of age.
glm::vec2 calc_fidget_mm(const scene::PatientAppearance& who, double at_ms);

}  // namespace redress::face
