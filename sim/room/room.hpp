// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The consulting room: what hangs in it and where, how acts move it, and what it puts before each
// eye. Millimetres and degrees in the head frame unless said; times in ticks (1 ms).
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "sim/basics/eye.hpp"
#include "sim/basics/vector.hpp"
#include "sim/optics/lens.hpp"
#include "sim/optics/occluder.hpp"
#include "sim/optics/prism.hpp"
#include "sim/patient/parameters.hpp"
#include "sim/patient/retinas.hpp"
#include "sim/patient/state.hpp"
#include "sim/room/act.hpp"

namespace redress {

/// Of the head against the room; signs in sim/basics/eye.hpp.
struct HeadState {
  Degrees roll;
  Degrees turn;
  Degrees chin;
  bool operator==(const HeadState&) const = default;
};

/// What is constant about the room of one case.
struct RoomParameters {
  Millimetres interpupillary{63};
  PerEye<optics::PowerMatrix> correction{};        ///< corrects the eye for distance, at the cornea
  PerEye<std::optional<optics::Lens>> spectacles;  ///< of the own ones; none: no power in it
  bool spectacles_owned = false;
  bool spectacles_worn = false;  ///< when the examination begins
  /// How the patient holds its head unless told otherwise; found when the case is loaded.
  HeadState own_posture;
};

/// A motion from one value to another in minimum jerk.
struct Motion {
  Tick start = 0;
  std::int32_t travel_ms = 0;  ///< 0: already there
};

struct OccluderState {
  optics::OccluderPose pose{0, 0, 0, 0};
  optics::OccluderPose from{};
  optics::OccluderPose to{};
  Motion motion;
  OccluderKind kind = OccluderKind::opaque;
  bool before_face = false;  ///< held there, or on its way there or away
  bool leaving = false;      ///< on its way away; gone when it arrives
};

struct PrismSlot {
  bool filled = false;
  optics::HeldPrism prism;
  optics::Hold hold = optics::Hold::frontal;  ///< its own: counts while it is the innermost
  double tilt_deg = 0.0;
};

/// Prisms before one eye: a stack of solids, face on face, held as the innermost one is held.
struct PrismState {
  std::array<PrismSlot, optics::kMaximumPrisms> slots{};
  optics::Hold hold = optics::Hold::frontal;
  double tilt_deg = 0.0;
  Vector aimed_at{0, 0, -1};  ///< direction to the target when the stack was last held
  optics::PrismStack stack;   ///< follows from the above
  bool passes_light = true;   ///< false: total internal reflection
};

struct TargetPlace {
  double distance_m = 6.0;
  double horizontal_deg = 0.0;
  double vertical_deg = 0.0;
};

struct TargetState {
  TargetKind kind = TargetKind::letters;
  double size_logmar = 0.2;
  double width_mm = 0.0;
  TargetPlace place;
  TargetPlace from;
  TargetPlace to;
  Motion motion;
};

struct HeadMotion {
  HeadState now;
  HeadState from;
  HeadState to;
  Motion motion;
  patient::Angles speed_deg_s;  ///< of turn and chin over the last tick; follows from the motion
};

/// Where the target appears to each eye, through whatever stands before it.
struct Appearance {
  bool visible = true;       ///< false: no light comes through the prisms, or a head is before it
  bool behind_head = false;  ///< the practitioner's
  Vector target;             ///< the attended point, mm in the head frame
  double horizontal_deg = 0.0;
  double vertical_deg = 0.0;
  optics::Focus focus;  ///< behind the spectacles, where the line of sight goes through them
};

struct RoomState {
  OccluderState occluder;
  PerEye<PrismState> prisms;
  TargetState target;
  HeadMotion head;
  bool spectacles_worn = false;
  PerEye<double> lenses_d{};
  bool penlight = false;
  bool dim = false;  ///< the room's lights
  Instruction instruction = Instruction::look;
  Tick instructed_at = 0;
  std::int32_t urged = 0;  ///< times the patient was told to look or keep it clear
  Vector viewpoint{0, 0, -500};
  double withdrawn_deg = 0.0;  ///< turn of the head that is the patient's own doing, + to the right
  Tick relaxes_at = -1;        ///< when the head goes back to its own posture; -1: it does not

  /// Before each eye, spectacle and trial lens together; none: nothing that bends light. This and
  /// what comes after it follow from the rest; see find_appearance.
  PerEye<std::optional<optics::Lens>> lens;
  std::array<patient::Angles, 2> attractions{};
  std::int32_t attractive = 0;
  PerEye<Appearance> appearance;
  double nearness_d = 1.0 / 6.0;  ///< likewise
  PerEye<bool> covered{};         ///< likewise, and from the gaze
  /// How sure `covered` is: the margin to the occluder's edge and the gaze it was measured at.
  struct Margin {
    double mm = -1.0;  ///< below 0: to be measured
    patient::Angles gaze;
  };
  PerEye<Margin> margin{};
};

/// The room before anything has been done to it.
RoomState opening_room(const RoomParameters& parameters, const act::ShowTarget& target);

/// Moves instruments and target to where they are at this tick. True if the target appears
/// elsewhere.
bool move_things(RoomState& room, Tick now);

/// An act takes effect at `now`. Questions, requests and notes change nothing in the room.
void apply_act(const RoomParameters& parameters, const ActContent& content, Tick now,
               RoomState& room);

/// The lens before an eye now, spectacles and trial lens as one; null without one. A trial lens
/// lies on the spectacle lens, or stands 12 mm before the cornea; it is centred on the pupil.
const optics::Lens* find_lens(const RoomState& room, Eye eye);

/// Recomputes where the target appears to each eye.
void find_appearance(const RoomParameters& parameters, Tick now, RoomState& room);

/// The patient turns its head by itself, to `turn_deg` from where it is held. A hand with an
/// occluder stays behind in the room; prisms and lenses go with the head.
void withdraw_head(const RoomParameters& parameters, double turn_deg, Tick now, RoomState& room);

/// Told to relax at this tick, the patient lets its head go so much later: by its return it has
/// taken 2 to 5 s (judgement).
Tick draw_relaxing_ms(const patient::Chance& chance, Tick now);
/// The head sets out for the posture that the patient takes by itself.
void take_own_posture(const RoomParameters& parameters, Tick now, RoomState& room);

/// Recomputes which eyes are covered: the line from the centre of the entrance pupil to the target
/// is cut by the occluder.
void find_covered(const RoomParameters& parameters, const PerEye<patient::Angles>& gaze,
                  RoomState& room);

/// What falls on the retinas.
patient::Retinas calc_retinas(const RoomParameters& parameters, const RoomState& room);

/// Whether anything is on its way, so that the next tick finds it elsewhere.
bool is_moving(const RoomState& room, Tick now);

/// Calls visit(name, value) for every field of the state, always in the same order.
template <class Visitor>
void visit_fields(const RoomState& r, Visitor& visit) {
  const auto vector = [&visit](const char* name, const Vector& v) {
    visit(name, v.x);
    visit(name, v.y);
    visit(name, v.z);
  };
  const auto pose = [&visit](const char* name, const optics::OccluderPose& p) {
    visit(name, p.x_mm);
    visit(name, p.y_mm);
    visit(name, p.z_mm);
    visit(name, p.roll_deg);
  };
  const auto motion = [&visit](const char* name, const Motion& m) {
    visit(name, m.start);
    visit(name, m.travel_ms);
  };
  const auto place = [&visit](const char* name, const TargetPlace& p) {
    visit(name, p.distance_m);
    visit(name, p.horizontal_deg);
    visit(name, p.vertical_deg);
  };
  const auto posture = [&visit](const char* name, const HeadState& h) {
    visit(name, h.roll.value);
    visit(name, h.turn.value);
    visit(name, h.chin.value);
  };
  pose("occluder.pose", r.occluder.pose);
  pose("occluder.from", r.occluder.from);
  pose("occluder.to", r.occluder.to);
  motion("occluder.motion", r.occluder.motion);
  visit("occluder.kind", r.occluder.kind == OccluderKind::translucent);
  visit("occluder.before_face", r.occluder.before_face);
  visit("occluder.leaving", r.occluder.leaving);
  for (const Eye eye : kBothEyes) {
    const PrismState& p = r.prisms[eye];
    for (const PrismSlot& slot : p.slots) {
      visit("prism.filled", slot.filled);
      visit("prism.label", slot.prism.label.value);
      visit("prism.material", slot.prism.material == optics::Material::glass);
      visit("prism.base", slot.prism.base.value);
      visit("prism.slot_hold", static_cast<std::int32_t>(slot.hold));
      visit("prism.slot_tilt_deg", slot.tilt_deg);
    }
    visit("prism.hold", static_cast<std::int32_t>(p.hold));
    visit("prism.tilt_deg", p.tilt_deg);
    vector("prism.aimed_at", p.aimed_at);
  }
  visit("target.kind", static_cast<std::int32_t>(r.target.kind));
  visit("target.size_logmar", r.target.size_logmar);
  visit("target.width_mm", r.target.width_mm);
  place("target.place", r.target.place);
  place("target.from", r.target.from);
  place("target.to", r.target.to);
  motion("target.motion", r.target.motion);
  posture("head.now", r.head.now);
  posture("head.from", r.head.from);
  posture("head.to", r.head.to);
  motion("head.motion", r.head.motion);
  visit("spectacles_worn", r.spectacles_worn);
  for (const Eye eye : kBothEyes) visit("lenses_d", r.lenses_d[eye]);
  visit("penlight", r.penlight);
  visit("instruction", static_cast<std::int32_t>(r.instruction));
  visit("instructed_at", r.instructed_at);
  visit("urged", r.urged);
  vector("viewpoint", r.viewpoint);
  if (r.dim) visit("dim", r.dim);
  if (r.withdrawn_deg != 0.0) visit("withdrawn_deg", r.withdrawn_deg);
  if (r.relaxes_at >= 0) visit("relaxes_at", r.relaxes_at);
}

}  // namespace redress
