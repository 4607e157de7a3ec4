// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/scene.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "render/face/invention.hpp"
#include "render/face/people.hpp"
#include "sim/examiners/prism_bar.hpp"
#include "sim/optics/sight.hpp"
#include "sim/room/holding_hand.hpp"

namespace redress::screens::examine {

namespace {

scene::Vec3 to_scene(const Vector& v) { return {v.x, v.y, v.z}; }
scene::Eye to_scene(Eye eye) { return eye == Eye::right ? scene::Eye::kRight : scene::Eye::kLeft; }

std::vector<scene::PrismStep> make_steps(std::span<const double> labels) {
  std::vector<scene::PrismStep> steps;
  for (const double label : labels) {
    const auto prism = optics::make_held_prism(PrismDioptres{label}, optics::Material::plastic, {});
    steps.push_back({label, prism ? prism->apex.value : 0.0});
  }
  return steps;
}

/// Bars are made once: their angles are found by bisection.
const std::vector<scene::PrismStep>& find_bar(bool horizontal) {
  static const std::vector<scene::PrismStep> across = make_steps(examiners::kHorizontalBar);
  static const std::vector<scene::PrismStep> upright = make_steps(examiners::kVerticalBar);
  return horizontal ? across : upright;
}

/// Where the axis straight ahead of the eye crosses a plane.
Vector cross_axis(const Vector& centre, const Vector& point, const Vector& normal) {
  const Vector ahead{0, 0, -1};
  const double towards = dot(ahead, normal);
  if (std::abs(towards) < 1e-9) return point;
  return centre + ahead * (dot(point - centre, normal) / towards);
}

scene::Prism make_prism(Eye eye, const PrismSlot& slot, const optics::PrismSolid& solid,
                        const Vector& centre, const std::optional<HeldLook>& look) {
  const optics::HeldPrism& held = slot.prism;
  scene::Prism p;
  p.eye = to_scene(eye);
  p.base_deg = held.base.value;
  p.refractive_index = optics::index_of(held.material);
  // Crown glass has an Abbe number of 59, acrylic of 57 (from memory).
  p.abbe = held.material == optics::Material::glass ? 59.0 : 57.0;
  p.step_mm = kBarStepMm;
  p.back_centre_mm = to_scene(cross_axis(centre, solid.back_point, solid.back_normal));
  p.back_normal = to_scene(solid.back_normal);

  const double turn = std::fmod(std::abs(held.base.value), 180.0);
  const std::vector<scene::PrismStep>& bar = find_bar(turn < 45.0 || turn > 135.0);
  const auto at = std::find_if(bar.begin(), bar.end(), [&](const scene::PrismStep& step) {
    return step.label_pd == held.label.value;
  });
  const bool can_be_bar = at != bar.end() && held.material == optics::Material::plastic;
  if (can_be_bar && (!look || look->bar)) {
    p.form = scene::PrismForm::kBar;
    p.steps = bar;
    p.at = static_cast<std::size_t>(at - bar.begin());
    p.slide_mm = look ? look->slide_mm : 0.0;
  } else {
    p.form = scene::PrismForm::kLoose;
    p.steps = {{held.label.value, held.apex.value}};
  }
  return p;
}

void add_prisms(Eye eye, const RoomState& room, const RoomParameters& parameters,
                const SceneChoice& choice, std::vector<scene::Prism>& prisms) {
  const PrismState& state = room.prisms[eye];
  const Vector centre = optics::centre_of_rotation(eye, parameters.interpupillary);
  std::size_t nth = 0;
  for (std::size_t i = 0; i < state.slots.size(); ++i) {
    if (!state.slots[i].filled) continue;
    optics::PrismSolid solid;
    if (nth < state.stack.count) {
      solid = state.stack.solids[nth];
    } else {  // held so that no light comes through: drawn square before the eye
      constexpr double kThicknessMm = 6.0;
      solid.back_point = centre + Vector{0, 0, -1} * (optics::kPrismToCentreMm +
                                                      kThicknessMm * static_cast<double>(nth));
    }
    prisms.push_back(make_prism(eye, state.slots[i], solid, centre, choice.held[eye][i]));
    ++nth;
  }
}

scene::EyePose to_scene(const EyeObservation& eye) {
  return {eye.horizontal_deg, eye.vertical_deg, eye.torsion_deg + eye.listing_deg, eye.pupil_mm,
          eye.lid_open_fraction};
}

scene::Occluder make_occluder(const optics::OccluderPose& pose, OccluderKind kind) {
  scene::Occluder o;
  o.present = true;
  o.translucent = kind == OccluderKind::translucent;
  o.centre_mm = {pose.x_mm, pose.y_mm, pose.z_mm};
  o.width_mm = optics::kOccluderWidthMm;
  o.height_mm = optics::kOccluderHeightMm;
  o.corner_mm = optics::kOccluderCornerMm;
  o.roll_deg = pose.roll_deg;
  o.handle_deg = handle_lean_deg(pose);
  return o;
}

scene::Lens to_scene(const optics::Lens& lens) {
  scene::Lens l;
  l.power_xx_d = lens.power.xx;
  l.power_xy_d = lens.power.xy;
  l.power_yy_d = lens.power.yy;
  l.prism_x = lens.prism_x;
  l.prism_y = lens.prism_y;
  l.centre_x_mm = lens.centre_x_mm;
  l.centre_y_mm = lens.centre_y_mm;
  l.vertex_mm = lens.vertex_mm;
  l.design = lens.design == optics::LensDesign::single    ? scene::LensDesign::kSingle
             : lens.design == optics::LensDesign::bifocal ? scene::LensDesign::kBifocal
                                                          : scene::LensDesign::kProgressive;
  l.add_d = lens.add_d;
  l.near_x_mm = lens.near_x_mm;
  l.near_top_mm = lens.near_top_mm;
  l.corridor_mm = lens.corridor_mm;
  return l;
}

/// Nothing of contact lenses is seen. A lens without power is glass all the same.
scene::Spectacles make_spectacles(const RoomState& room, const RoomParameters& parameters) {
  scene::Spectacles s;
  s.worn = room.spectacles_worn;
  s.frame_mm = parameters.interpupillary.value;
  for (const Eye eye : kBothEyes) {
    const std::optional<optics::Lens>& lens = parameters.spectacles[eye];
    if (!lens) continue;
    if (lens->contact) {
      s.worn = false;
    } else {
      s.lenses[static_cast<std::size_t>(to_scene(eye))] = to_scene(*lens);
    }
  }
  return s;
}

}  // namespace

scene::View to_scene_view(const ShownView& view, double width_px, double height_px) {
  // Right in the picture is the patient's left, down is down.
  scene::View v;
  v.pixels_per_mm = view.pixels_per_mm;
  v.centre_x_mm = view.x_mm - (width_px / 2 - view.centre_x_px) / view.pixels_per_mm;
  v.centre_y_mm = view.y_mm - (height_px / 2 - view.centre_y_px) / view.pixels_per_mm;
  return v;
}

scene::Scene make_scene(const Observation& seen, const RoomState& room,
                        const RoomParameters& parameters, const SceneChoice& choice) {
  scene::Scene s;
  for (const Eye eye : kBothEyes) {
    s.eyes[static_cast<std::size_t>(to_scene(eye))] = to_scene(seen.eye[eye]);
    s.trial_lens_d[static_cast<std::size_t>(to_scene(eye))] = room.lenses_d[eye];
    add_prisms(eye, room, parameters, choice, s.prisms);
  }
  s.spectacles = make_spectacles(room, parameters);
  const HeadState& head = room.head.now;
  s.head = {head.roll.value, head.turn.value, head.chin.value};
  s.examiner_mm = to_scene(room.viewpoint);
  s.view = to_scene_view(choice.view, choice.width_px, choice.height_px);
  if (room.occluder.before_face) {
    s.occluder = make_occluder(room.occluder.pose, room.occluder.kind);
  } else if (choice.waiting) {
    s.occluder = make_occluder(*choice.waiting, choice.waiting_kind);
  }
  s.light.penlight = room.penlight;
  constexpr double kDim = 0.35;  // judgement: an eye that has got used to it
  s.light.room = room.dim ? kDim : 1.0;
  s.transparent_occluder = choice.transparent_occluder;
  if (choice.fidgets) s.fidget_ms = static_cast<double>(seen.at_ms);
  return s;
}

scene::PatientAppearance make_appearance(const Case& the_case) {
  const CasePatient& patient = the_case.patient;
  const face::Person* person = face::find_person(patient.appearance);
  // Without a face of its own the name decides who it is, and nothing of what they have: FNV-1a.
  std::uint32_t name = 2166136261U;
  for (const char c : patient.name) name = (name ^ static_cast<std::uint8_t>(c)) * 16777619U;
  std::optional<bool> male;
  if (patient.sex != Sex::any) male = patient.sex == Sex::male;
  scene::PatientAppearance look =
      person != nullptr
          ? person->look
          : face::invent_appearance(name, static_cast<float>(patient.age_years), male);
  look.age_years = static_cast<float>(patient.age_years);
  look.interpupillary_mm = static_cast<float>(patient.interpupillary_distance.value);
  return look;
}

}  // namespace redress::screens::examine
