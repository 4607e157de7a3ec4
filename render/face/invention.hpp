// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Makes up a person: any number of faces, of any age from 1 to 90 years, that nobody has. The same
// seed is the same face; with another age it is that face grown older.
//
// What goes together in people goes together here: a stock is a set of ranges (skin, hair, iris,
// lids, nose), and one person in four has two of them. Sizes by age follow anthropometric tables
// (interpupillary distance: Dodgson 2004; MacLachlan & Howland 2002; fissure: Farkas, Anthropometry
// of the Head and Face 1994, from memory; margins of the lids: Rana 2023, fall with age).
#pragma once

#include <cstdint>
#include <optional>

#include "render/scene/scene.hpp"

namespace redress::face {

/// `age_years` is held to 1 ... 90.
/// `male`: none, the seed decides.
scene::PatientAppearance invent_appearance(std::uint32_t seed, float age_years,
                                           std::optional<bool> male = std::nullopt);

}  // namespace redress::face
