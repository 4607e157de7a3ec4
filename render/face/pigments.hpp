// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Colours of hair and iris, linear reflectance (judgement, matched by eye).
#pragma once

#include <array>

#include "render/scene/scene.hpp"

namespace redress::face {

struct IrisColour {
  scene::Colour outer;  ///< ciliary zone
  scene::Colour inner;  ///< round the pupil
  float fibre;          ///< contrast of the stroma
};

namespace pigment {

inline constexpr scene::Colour kBlack{0.012F, 0.009F, 0.008F};
inline constexpr scene::Colour kBrown{0.040F, 0.022F, 0.012F};
inline constexpr scene::Colour kAuburn{0.105F, 0.040F, 0.016F};
inline constexpr scene::Colour kBlond{0.20F, 0.125F, 0.060F};
inline constexpr scene::Colour kGrey{0.19F, 0.140F, 0.098F};

inline constexpr IrisColour kBlueIris{{0.110F, 0.165F, 0.215F}, {0.17F, 0.165F, 0.115F}, 1.0F};
inline constexpr IrisColour kGreyIris{{0.17F, 0.20F, 0.21F}, {0.21F, 0.17F, 0.10F}, 0.9F};
inline constexpr IrisColour kGreenIris{{0.118F, 0.122F, 0.068F}, {0.17F, 0.10F, 0.035F}, 0.9F};
inline constexpr IrisColour kHazelIris{{0.105F, 0.085F, 0.035F}, {0.135F, 0.060F, 0.018F}, 0.85F};
inline constexpr IrisColour kBrownIris{{0.098F, 0.046F, 0.017F}, {0.13F, 0.058F, 0.020F}, 0.75F};
inline constexpr IrisColour kDarkIris{{0.050F, 0.020F, 0.0085F}, {0.062F, 0.025F, 0.009F}, 0.6F};
inline constexpr std::array<IrisColour, 6> kIrises{kBlueIris,  kGreyIris,  kGreenIris,
                                                   kHazelIris, kBrownIris, kDarkIris};

}  // namespace pigment
}  // namespace redress::face
