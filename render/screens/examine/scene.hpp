// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From what the engine knows of one moment to what is drawn of it. The one place where an
// observation and a room become a scene; used by the room, the debrief and `redress picture`.
#pragma once

#include <array>
#include <cstddef>
#include <optional>

#include "render/scene/scene.hpp"
#include "render/screens/examine/view.hpp"
#include "sim/cases/case.hpp"
#include "sim/optics/prism.hpp"
#include "sim/room/observation.hpp"
#include "sim/room/room.hpp"

namespace redress::screens::examine {

/// How a prism that the room knows of is held in a hand.
struct HeldLook {
  bool bar = true;
  double slide_mm = 0;  ///< how far a bar is past its step
};
/// A bar's step, mm along the bar; slides are told for it.
inline constexpr double kBarStepMm = 22.5;

struct SceneChoice {
  double width_px = 1280;
  double height_px = 720;
  ShownView view{640, 310, 0, 0, 9.8};
  bool transparent_occluder = false;  ///< debrief only
  bool fidgets = false;               ///< a child's head; not in a picture that is measured
  /// The occluder where the room has none: waiting below the face. None: not drawn.
  std::optional<optics::OccluderPose> waiting;
  OccluderKind waiting_kind = OccluderKind::opaque;
  /// By eye and slot; none: a bar if a bar has such a step, else loose.
  PerEye<std::array<std::optional<HeldLook>, optics::kMaximumPrisms>> held;
};

scene::Scene make_scene(const Observation& seen, const RoomState& room,
                        const RoomParameters& parameters, const SceneChoice& choice);

/// The point of the patient in the middle of the picture, and its scale.
scene::View to_scene_view(const ShownView& view, double width_px, double height_px);

/// The face that the case names, else one that only its name decides, near its age; with the
/// case's own distance between the eyes.
scene::PatientAppearance make_appearance(const Case& the_case);

}  // namespace redress::screens::examine
