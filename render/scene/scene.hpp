// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the picture has to show at one moment: plain data, in millimetres and degrees.
//
// Axes are those of the head: right-handed, origin midway between the two centres of rotation,
// +x to the patient's RIGHT, +y up, -z straight ahead. The examiner sits at -z and sees the patient
// mirrored: the patient's right eye is on the left of the picture.
// Instruments, spectacles and penlight are given in the head's frame and move with the head; the
// examiner and the view are given in the room's frame, which is that of the upright head. Lengths
// of the face are float because they go nowhere but into the picture.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace redress::scene {

/// Index of an eye in every pair below; right before left, as everywhere.
enum class Eye : std::size_t { kRight = 0, kLeft = 1 };

/// A point or direction in the head's frame (or the room's, where said), mm.
struct Vec3 {
  double x = 0;
  double y = 0;
  double z = 0;
  bool operator==(const Vec3&) const = default;
};

/// Linear reflectance, each part 0..1.
struct Colour {
  float red = 0;
  float green = 0;
  float blue = 0;
  bool operator==(const Colour&) const = default;
};

/// Everything that makes one person look different from another. The defaults are a young adult.
struct PatientAppearance {
  std::uint32_t seed = 1;  ///< hairs, freckles, vessels, iris; what is uneven
  float age_years = 28;    ///< for captions; lines and folds have their own values below

  // Lids and globes. Index 0 right, 1 left.
  float interpupillary_mm = 62;                      ///< between the centres of rotation
  float face_scale = 1;                              ///< nose, brow, cheeks; 0.83 at five years
  std::array<float, 2> upper_margin_mm{4.0F, 4.0F};  ///< margin above the pupil's centre (MRD1)
  std::array<float, 2> lower_margin_mm{5.5F, 5.5F};  ///< margin below the pupil's centre (MRD2)
  std::array<float, 2> ptosis_mm{0, 0};              ///< droop of the upper lid, taken off MRD1
  float fissure_length_mm = 29;                      ///< canthus to canthus
  float telecanthus_mm = 0;                          ///< inner canthi apart by this much more, each
  float canthal_tilt_mm = 1.7F;                      ///< lateral canthus above the medial one
  float prominence_mm = 0;                           ///< globe forward (+) or deep set (-)
  float iris_radius_mm = 5.85F;                      ///< limbus
  float crease_show_mm = 2.4F;  ///< skin between lashes and fold, straight gaze
  float crease_depth = 1;       ///< 0 is a single lid
  float epicanthus = 0;         ///< fold over the inner canthus, 0..1
  float fold_fullness_mm = 0;   ///< fat above the crease; negative is hollow
  float hooding = 0;            ///< fold sags over the outer half, 0..1
  float bags = 0;               ///< fat of the lower lid and tear trough, 0..1
  float wrinkles = 0;           ///< crow's feet, lower lid, frown, 0..1

  // Shape of the face, 0..1.
  float brow_ridge = 0.5F;
  float nose_bridge = 0.5F;
  float nose_width = 0.5F;
  float cheek = 0.5F;

  // Skin, 0..1.
  float melanin = 0.10F;
  float blood = 0.5F;
  float yellow = 0;
  float freckles = 0;
  float mottling = 0.5F;
  float shine = 0.5F;
  float pores = 0.6F;
  float circles = 0.35F;  ///< darkness round the eyes
  float coarse_pores = 0;

  // Hair.
  Colour hair{0.045F, 0.026F, 0.015F};
  float grey_hair = 0;          ///< share of white strands
  float brow_start_mm = 13.6F;  ///< height of the medial end over the eye's centre
  float brow_arch_mm = 4.2F;    ///< rise to the peak
  float brow_width_mm = 5.4F;
  float brow_density = 1;
  float brow_hair_mm = 7.5F;
  float brow_asymmetry_mm = 0.5F;  ///< left brow higher by this much
  float brow_gap_mm = 9.5F;        ///< medial end from the midline
  float lash_mm = 7.5F;
  float lash_density = 1;
  float lash_curl = 0.7F;
  float scalp_hair = 1;  ///< hair at the temples; 0 is shaven

  // The eye itself.
  Colour iris_outer{0.10F, 0.17F, 0.23F};  ///< ciliary zone
  Colour iris_inner{0.20F, 0.16F, 0.09F};  ///< round the pupil
  float iris_fibre = 0.8F;                 ///< contrast of the stroma
  float limbal_ring = 0.8F;
  float arcus = 0;        ///< arcus senilis
  float redness = 0.25F;  ///< conjunctival vessels
  float sclera_yellow = 0.2F;
  float kappa_deg = 5.5F;  ///< pupillary axis temporal of the line of sight

  bool operator==(const PatientAppearance&) const = default;
};

/// One eye and its lids now. Angles with the signs of the contract: + to the patient's right, + up,
/// torsion against Listing's orientation, + with the top of the eye to the patient's right.
struct EyePose {
  double horizontal_deg = 0;
  double vertical_deg = 0;
  double torsion_deg = 0;
  double pupil_mm = 3.5;         ///< diameter as seen from outside (entrance pupil)
  double lid_open_fraction = 1;  ///< 1 as far as this gaze and person allow, 0 shut
  bool operator==(const EyePose&) const = default;
};

/// + roll to the right shoulder, + turn to the right, + chin up; degrees.
struct HeadPose {
  double roll_deg = 0;
  double turn_deg = 0;
  double chin_deg = 0;
  bool operator==(const HeadPose&) const = default;
};

/// What part of the patient fills the picture. The scale holds in the frontal plane of the pupils.
struct View {
  double centre_x_mm = 0;  ///< + towards the patient's right, so to the left of the picture
  double centre_y_mm = 0;
  double pixels_per_mm = 1280.0 / 130.0;
  bool operator==(const View&) const = default;
};

/// Plate with rounded corners (radius 20 mm), its handle downwards at roll 0 and handle 0.
struct Occluder {
  bool present = false;
  bool translucent = false;
  Vec3 centre_mm{0, -70, -120};  ///< of the plate
  double width_mm = 50;
  double height_mm = 70;
  double corner_mm = 20;
  double thickness_mm = 3;
  double roll_deg = 0;     ///< + as the head's roll: top towards the patient's right
  double handle_deg = 0;   ///< of the handle against the plate: + lower end to the patient's right
  bool hand = true;        ///< draw the hand that holds it
  bool left_hand = false;  ///< it is the examiner's left
  bool operator==(const Occluder&) const = default;
};

enum class PrismForm { kLoose, kBar };

/// One step of a prism bar, or the one loose prism.
struct PrismStep {
  double label_pd = 0;  ///< engraved power; 0: nothing engraved
  double apex_angle_deg = 0;
  bool operator==(const PrismStep&) const = default;
};

/// A loose prism or a bar before one eye; up to three for each eye, those of one eye a stack. A bar
/// runs square to its base direction: its later steps lie a quarter turn clockwise from the base as
/// the examiner sees it.
struct Prism {
  Eye eye = Eye::kRight;
  PrismForm form = PrismForm::kLoose;
  std::vector<PrismStep> steps;  ///< one if loose; all of a bar's
  std::size_t at = 0;            ///< the step before the eye
  double slide_mm = 0;           ///< how far the bar is past that step's centre, to later steps
  double step_mm = 22.5;         ///< height of one step along the bar
  double loose_mm = 38;          ///< side of a loose prism
  double bar_width_mm = 30;      ///< from apex to base of a bar
  double base_deg = 0;           ///< base points to (-cos, sin) in head x, y (ISO 8429)
  double refractive_index = 1.49;
  double abbe = 57;                 ///< for the colour fringe; acrylic
  Vec3 back_centre_mm{31, 0, -27};  ///< centre of the face next to the eye
  Vec3 back_normal{0, 0, -1};       ///< of that face, away from the patient
  bool operator==(const Prism&) const = default;
};

enum class LensDesign { kSingle, kBifocal, kProgressive };

/// A thin lens before one eye. Places are those in its plane from the point straight ahead of the
/// eye's centre of rotation: + to the patient's right, + up.
struct Lens {
  double power_xx_d = 0;  ///< powers along the head's x and y
  double power_xy_d = 0;
  double power_yy_d = 0;
  double prism_x = 0;  ///< worked in: slopes towards the base, dioptres / 100
  double prism_y = 0;
  double centre_x_mm = 0;  ///< optical centre
  double centre_y_mm = 0;
  double vertex_mm = 12;  ///< before the cornea
  LensDesign design = LensDesign::kSingle;
  double add_d = 0;
  double near_x_mm = 0;  ///< middle of the segment, or of the near end of the corridor
  double near_top_mm = 0;
  double corridor_mm = 14;
  bool operator==(const Lens&) const = default;
};

/// The patient's own spectacles.
struct Spectacles {
  bool worn = false;
  std::array<Lens, 2> lenses;
  double frame_mm = 62;  ///< made for eyes this far apart; a child's are smaller and coloured
  bool operator==(const Spectacles&) const = default;
};

struct Light {
  double room = 1;  ///< 1 the consulting room with its lights on, 0.35 dim
  bool penlight = false;
  Vec3 penlight_mm{0, 0, -480};  ///< in the head's frame
  bool operator==(const Light&) const = default;
};

/// One moment as the examiner sees it.
struct Scene {
  std::array<EyePose, 2> eyes;
  HeadPose head;
  Vec3 examiner_mm{0, 0, -600};  ///< nodal point of the examiner's eye, room frame
  View view;
  Occluder occluder;
  std::vector<Prism> prisms;
  Spectacles spectacles;
  std::array<double, 2> trial_lens_d{};  ///< round lenses held before them; 0: none
  Light light;
  bool transparent_occluder = false;  ///< debrief only: the covered eye shows through
  double fidget_ms = 0;               ///< a child's head wanders with this time; 0: it sits still
  bool operator==(const Scene&) const = default;
};

}  // namespace redress::scene
