// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Procedural pictures made once (skin detail) or once for each person.
#pragma once

#include "render/face/hair.hpp"
#include "render/face/noise.hpp"

namespace redress::face {

/// 512 square, tiles 16 mm: slope in red and green, hollows in blue, speckle in alpha.
Image make_skin_detail();
/// Over kSkin: melanin, blood, slope of the wrinkles (two parts).
Image make_pigment_map(const scene::PatientAppearance& who, const Lids& lids);
/// Over kSkin, 1 mm: sky seen, lamp seen (direction `key`), hair on the skin, oil.
Image make_light_map(const scene::PatientAppearance& who, const Lids& lids, glm::vec3 key);
/// Angle across, pupil's edge at the bottom to limbus at the top: colour (square-root coded),
/// height.
Image make_iris_map(const scene::PatientAppearance& who, std::size_t side);
/// Equidistant about the eye's axis, +-84 degrees: thin vessels, deep vessels, stain.
Image make_sclera_map(const scene::PatientAppearance& who, std::size_t side);

}  // namespace redress::face
