// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Eyelids: the line of each margin for a given opening; the relief of lid, crease and fold; meshes.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "render/face/relief.hpp"

namespace redress::face {

/// The margins of one eye now, mm from the pupil's height in straight gaze.
struct LidLine {
  float top = 4.0F;     ///< upper margin at its highest, above
  float bottom = 5.5F;  ///< lower margin at its lowest, below
  bool operator==(const LidLine&) const = default;
};

/// A point of the skin; fifteen floats, uploaded as they are.
struct SkinVertex {
  glm::vec3 position;
  glm::vec3 normal;  ///< of the relief itself: for shine and blue light
  glm::vec3 soft;    ///< of the relief blurred by 1.5 mm: for red light that travels under the skin
  glm::vec2 rest;    ///< where this bit of skin is with the lids at rest: anchors all maps
  glm::vec2 wet_cavity;  ///< 1 on the wet margin; > 0 in folds, < 0 on ridges (mm)
  glm::vec2 creases;     ///< fine ones along a lid that is down: phase (radians) and steepness
};
struct SkinMesh {
  std::vector<SkinVertex> vertices;
  std::vector<std::uint32_t> indices;
};

class Lids {
 public:
  static constexpr int kSpokes = 60;         ///< round the opening
  static constexpr int kRings = 24;          ///< from the margin outwards
  static constexpr float kLipUpper = 0.25F;  ///< wet margin that the examiner sees, mm
  static constexpr float kLipLower = 0.55F;

  Lids(const scene::PatientAppearance& who, const Relief& relief);

  /// Margins that follow vertical gaze and blinks.
  [[nodiscard]] LidLine calc_line(std::size_t side, const scene::EyePose& pose) const;
  /// Margins in straight gaze, open.
  [[nodiscard]] LidLine calc_rest(std::size_t side) const;
  [[nodiscard]] float upper(float n, LidLine line) const;
  [[nodiscard]] float lower(float n, LidLine line) const;
  /// Outer surface of lids and surroundings.
  [[nodiscard]] float skin_z(std::size_t side, float n, float y, LidLine line) const;
  /// The moving skin round one eye.
  [[nodiscard]] SkinMesh make_patch(std::size_t side, LidLine line) const;

  [[nodiscard]] float nasal_end() const { return nasal_; }
  [[nodiscard]] float temporal_end() const { return temporal_; }
  [[nodiscard]] float nasal_y() const { return nasal_y_; }
  [[nodiscard]] float temporal_y() const { return temporal_y_; }
  [[nodiscard]] float half_ipd() const { return half_; }
  [[nodiscard]] float x(std::size_t side, float n) const { return x_of(side, n, half_); }
  /// Below 1 inside the moving patch.
  [[nodiscard]] static float calc_ellipse(float n, float y);

 private:
  struct Spoke;
  [[nodiscard]] Spoke calc_spoke(std::size_t side, int k, LidLine line) const;
  [[nodiscard]] float crease(std::size_t side, float n, LidLine line) const;
  [[nodiscard]] float crease_strength(float n) const;
  [[nodiscard]] glm::vec2 calc_creases(std::size_t side, float n, float above_mm,
                                       LidLine line) const;
  [[nodiscard]] float fold_z(std::size_t side, float n, float y, float face, float dome,
                             float smooth, LidLine line, float fade) const;

  scene::PatientAppearance who_;
  Traits traits_;
  Relief relief_;
  float half_;
  float nasal_;     // n of the inner canthus
  float temporal_;  // n of the outer canthus, negative
  float nasal_y_;
  float temporal_y_;
  float dome_;  // height of the lid over the globe
};

}  // namespace redress::face
