// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How each act changes the room.
#include <span>

#include "sim/optics/sight.hpp"
#include "sim/room/room.hpp"

namespace redress {

namespace {

constexpr double kAwayMm = 70.0;  // where the occluder comes from and goes to
constexpr double kBeforeCorneaMm = 20.0;

constexpr optics::Hold to_hold(PrismHold hold) {
  switch (hold) {
    case PrismHold::prentice: return optics::Hold::prentice;
    case PrismHold::minimum: return optics::Hold::minimum;
    case PrismHold::frontal: break;
  }
  return optics::Hold::frontal;
}

constexpr optics::Material to_material(PrismMaterial material) {
  return material == PrismMaterial::glass ? optics::Material::glass : optics::Material::plastic;
}

Vector way(Side side, Eye eye) {
  switch (side) {
    case Side::above: return {0, 1, 0};
    case Side::below: return {0, -1, 0};
    case Side::temporal: return {side_of(eye), 0, 0};
    case Side::nasal: return {-side_of(eye), 0, 0};
  }
  return {0, 1, 0};
}

optics::OccluderPose moved(const optics::OccluderPose& pose, Vector by) {
  return {pose.x_mm + by.x, pose.y_mm + by.y, pose.z_mm + by.z, pose.roll_deg};
}

void send_occluder(OccluderState& o, const optics::OccluderPose& to, std::int32_t travel_ms,
                   Tick now) {
  o.from = o.pose;
  o.to = to;
  o.motion = {now, travel_ms};
  if (travel_ms <= 0) {
    o.pose = to;
    o.motion.travel_ms = 0;
    if (o.leaving) {
      o.leaving = false;
      o.before_face = false;
    }
  }
}

// The act's changes to one room; one overload for each kind.
struct Apply {
  const RoomParameters& parameters;
  Tick now;
  RoomState& room;

  void operator()(const act::Cover& a) const {
    OccluderState& o = room.occluder;
    const Vector centre = optics::centre_of_rotation(a.eye, parameters.interpupillary);
    const Vector to_target = normalised(room.appearance[a.eye].target - centre);
    const Vector place = centre + to_target * (optics::kCorneaToCentreMm + kBeforeCorneaMm);
    const optics::OccluderPose goal{place.x, place.y, place.z, 0.0};
    if (!o.before_face) o.pose = moved(goal, way(a.from, a.eye) * kAwayMm);
    o.kind = a.occluder;
    o.before_face = true;
    o.leaving = false;
    send_occluder(o, goal, a.travel_ms, now);
  }

  void operator()(const act::Uncover& a) const {
    OccluderState& o = room.occluder;
    if (!o.before_face) return;
    // Temporal and nasal are those of the eye that the occluder stands before.
    const Eye eye = o.pose.x_mm >= 0.0 ? Eye::right : Eye::left;
    o.leaving = true;
    send_occluder(o, moved(o.pose, way(a.towards, eye) * kAwayMm), a.travel_ms, now);
  }

  void operator()(const act::MoveOccluder& a) const {
    OccluderState& o = room.occluder;
    const optics::OccluderPose goal{a.x_mm, a.y_mm, a.z_mm, a.roll_deg};
    // The first of such acts says where the hand is: there is no path from nowhere.
    const std::int32_t travel_ms = o.before_face ? a.travel_ms : 0;
    o.before_face = true;
    o.leaving = false;
    send_occluder(o, goal, travel_ms, now);
  }

  void operator()(const act::HoldPrism& a) const {
    PrismState& p = room.prisms[a.eye];
    const auto index = static_cast<std::size_t>(a.slot - 1);
    const auto prism = optics::make_held_prism(a.power, to_material(a.material), a.base);
    if (!prism) return;  // refused when the act is read: no such prism can be made
    p.slots[index] = {true, *prism, to_hold(a.held), a.tilt.value};
    hold_stack(a.eye);
  }

  void operator()(const act::RemovePrism& a) const {
    PrismState& p = room.prisms[a.eye];
    for (std::size_t i = 0; i < p.slots.size(); ++i) {
      if (!a.slot || static_cast<std::size_t>(*a.slot - 1) == i) p.slots[i] = {};
    }
    hold_stack(a.eye);
  }

  void operator()(const act::ShowTarget& a) const {
    TargetState& t = room.target;
    t.kind = a.kind;
    t.size_logmar = a.size_logmar;
    t.width_mm = a.width_mm;
    t.from = t.place;
    t.to = {a.distance_m, a.horizontal_deg, a.vertical_deg};
    t.motion = {now, a.travel_ms};
    if (a.travel_ms <= 0) t.place = t.to;
  }

  void operator()(const act::Spectacles& a) const {
    room.spectacles_worn = a.worn && parameters.spectacles_owned;
  }
  void operator()(const act::TrialLenses& a) const { room.lenses_d = a.power_d; }

  void operator()(const act::TiltHead& a) const {
    HeadMotion& h = room.head;
    h.from = h.now;
    h.to = {Degrees{a.roll_deg}, Degrees{a.turn_deg + room.withdrawn_deg}, Degrees{a.chin_deg}};
    h.motion = {now, a.travel_ms};
    h.speed_deg_s = {};
    if (a.travel_ms <= 0) h.now = h.to;
    room.relaxes_at = -1;
  }

  void operator()(const act::Penlight& a) const { room.penlight = a.on; }
  void operator()(const act::RoomLight& a) const { room.dim = a.level == LightLevel::dim; }

  void operator()(const act::Instruct& a) const {
    room.instruction = a.what;
    room.instructed_at = now;
    const bool looks = a.what != Instruction::hold_still && a.what != Instruction::relax;
    if (looks) ++room.urged;
    if (a.what == Instruction::hold_still) room.relaxes_at = -1;
  }

  void operator()(const act::MoveViewpoint& a) const { room.viewpoint = {a.x_mm, a.y_mm, a.z_mm}; }

  // Who looks closer changes what is seen of the patient, not the patient.
  void operator()(const act::Magnify&) const {}
  void operator()(const act::Ask&) const {}
  void operator()(const act::Request&) const {}
  void operator()(const act::Note&) const {}

  void hold_stack(Eye eye) const {
    PrismState& p = room.prisms[eye];
    std::array<optics::HeldPrism, optics::kMaximumPrisms> held{};
    std::size_t count = 0;
    p.hold = optics::Hold::frontal;
    p.tilt_deg = 0.0;
    for (const PrismSlot& slot : p.slots) {
      if (!slot.filled) continue;
      if (count == 0) {
        p.hold = slot.hold;
        p.tilt_deg = slot.tilt_deg;
      }
      held[count++] = slot.prism;
    }
    const Vector centre = optics::centre_of_rotation(eye, parameters.interpupillary);
    p.aimed_at = normalised(room.appearance[eye].target - centre);
    const auto stack =
        optics::make_stack({held.data(), count}, p.hold, Degrees{p.tilt_deg}, centre, p.aimed_at);
    p.passes_light = stack.has_value();
    p.stack = stack.value_or(optics::PrismStack{});
  }
};

}  // namespace

void apply_act(const RoomParameters& parameters, const ActContent& content, Tick now,
               RoomState& room) {
  std::visit(Apply{parameters, now, room}, content);
  find_appearance(parameters, now, room);
}

}  // namespace redress
