// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where the examiner's eye is, and the way from the scene's frames into the picture's.
#pragma once

#include "render/face/maths.hpp"
#include "render/scene/scene.hpp"

namespace redress::face {

/// Head or room frame to the picture's frame: half a turn about the vertical.
glm::vec3 to_picture(scene::Vec3 v);

// The schematic eye that is drawn; mm from its centre of rotation. Corneal apex 13.5 mm before it
// (contract), corneal radius 7.8 mm [Gullstrand 1909; Atchison & Smith 2000], entrance pupil
// 3.05 mm behind the apex, so that the glint moves 1 mm against the pupil for about 21 prism
// dioptres, inside the 20-22 that are published.
inline constexpr float kCornealApex = 13.5F;
inline constexpr float kCornealRadius = 7.8F;
inline constexpr float kEntrancePupil = kCornealApex - 3.05F;
/// A horizontal turn is about a point that lies behind the middle of the globe: 15.3 mm (SD 1.5)
/// behind the apex, a vertical one about 12.5 mm (SD 1.4) behind it [horizontal and vertical centre
/// of rotation in eyes with different refractive errors, Ophthalmic Physiol Opt 2022; 42: 376];
/// textbooks have 1.3 mm behind the equator [von Noorden]. With 1.3 mm the limbus moves one
/// millimetre in 4.6 to 4.8 degrees, as it does in people [Paliaga and Ghisolfi]. Glint against
/// pupil does not depend on it; where the lines of sight point comes from the engine alone.
inline constexpr float kBehindGlobe = 1.3F;

/// Lamps of the room, in the picture's frame of the upright head: a large soft key at the upper
/// left of the picture, a weak fill from its right.
glm::vec3 key_lamp();
glm::vec3 fill_lamp();

/// All of it float: this is the GL boundary.
struct Camera {
  glm::mat4 room_to_clip{1};
  glm::mat4 head_to_clip{1};
  glm::mat3 head_to_room{1};
  glm::vec3 eye_in_head{0};  ///< the examiner, picture's frame turned with the head
  glm::vec3 eye_in_room{0};
  float mm_per_pixel = 0.1F;
  int width = 0;
  int height = 0;

  /// Pixels from the bottom left, of a point in the head's picture frame.
  [[nodiscard]] glm::vec2 to_pixels(glm::vec3 in_head) const;
  bool operator==(const Camera&) const = default;
};

/// The picture plane stays frontal and the frustum is shifted, so that the scale in the pupils'
/// plane is the same over the whole picture wherever the examiner leans.
Camera make_camera(const scene::Scene& scene, int width, int height);

/// Directions and levels that every shader of the face needs.
glm::mat3 calc_head_rotation(scene::HeadPose pose);

/// Eye to head (picture's frame): Listing's rotation for the line of sight, torsion about it, and
/// the pupillary axis temporal of it by angle kappa. `side` 0 right, 1 left.
glm::mat3 calc_eye_rotation(const scene::EyePose& pose, std::size_t side, float kappa_deg);

/// Middle of the drawn globe: at rest nasal of the contract's centre of rotation by as much as
/// kappa moves the pupil temporally, because a line of sight passes through its pupil. It goes
/// aside with the gaze by what kBehindGlobe says.
glm::vec3 calc_globe_centre(const scene::PatientAppearance& who, std::size_t side,
                            const scene::EyePose& pose);

}  // namespace redress::face
