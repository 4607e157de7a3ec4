// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/room/room.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/optics/optotype.hpp"
#include "sim/optics/path.hpp"
#include "sim/optics/sight.hpp"
#include "sim/room/letter_line.hpp"
#include "sim/room/practitioner.hpp"

namespace redress {

namespace {

constexpr Tick kLineEndMs = 1500;  // each end of the line, in turn
constexpr double kTicksPerSecond = 1000.0;
constexpr double kPenlightGain = 1.3;  // of the room's light, before both eyes
// Pupils in a dimmed room are 1.0 to 1.1 mm wider than with the lights on: what the formula of
// Watson and Yellott (2012, J Vis 12(10):12, from memory) gives for a tenth of the luminance of a
// lit room. On the scale of calc_pupil_goal that is this much light.
constexpr double kDimGain = 0.3;

double fraction(const Motion& motion, Tick now) {
  if (motion.travel_ms <= 0) return 1.0;
  return optics::minimum_jerk_fraction(static_cast<double>(now - motion.start) /
                                       static_cast<double>(motion.travel_ms));
}

double between(double a, double b, double share) { return share >= 1.0 ? b : a + (b - a) * share; }

bool under_way(const Motion& motion) { return motion.travel_ms > 0; }

bool arrives(Motion& motion, Tick now) {
  if (now - motion.start < motion.travel_ms) return false;
  motion.travel_ms = 0;
  return true;
}

bool move_occluder(OccluderState& o, Tick now) {
  if (!under_way(o.motion)) return false;
  const double share = fraction(o.motion, now);
  o.pose = {between(o.from.x_mm, o.to.x_mm, share), between(o.from.y_mm, o.to.y_mm, share),
            between(o.from.z_mm, o.to.z_mm, share), between(o.from.roll_deg, o.to.roll_deg, share)};
  if (arrives(o.motion, now) && o.leaving) {
    o.leaving = false;
    o.before_face = false;
  }
  return true;
}

bool move_target(TargetState& t, Tick now) {
  if (!under_way(t.motion)) return false;
  const double share = fraction(t.motion, now);
  t.place = {between(t.from.distance_m, t.to.distance_m, share),
             between(t.from.horizontal_deg, t.to.horizontal_deg, share),
             between(t.from.vertical_deg, t.to.vertical_deg, share)};
  arrives(t.motion, now);
  return true;
}

bool move_head(HeadMotion& h, Tick now) {
  if (!under_way(h.motion)) return false;
  const double share = fraction(h.motion, now);
  const HeadState before = h.now;
  h.now = {Degrees{between(h.from.roll.value, h.to.roll.value, share)},
           Degrees{between(h.from.turn.value, h.to.turn.value, share)},
           Degrees{between(h.from.chin.value, h.to.chin.value, share)}};
  h.speed_deg_s = {(h.now.turn.value - before.turn.value) * kTicksPerSecond,
                   (h.now.chin.value - before.chin.value) * kTicksPerSecond};
  if (arrives(h.motion, now)) h.speed_deg_s = {};
  return true;
}

// The spectacle lens alone; null without one.
const optics::Lens* find_worn(const RoomParameters& parameters, const RoomState& room, Eye eye) {
  const auto& lens = parameters.spectacles[eye];
  return room.spectacles_worn && lens ? &*lens : nullptr;
}

// A trial lens on the spectacle lens bends light as one with it; over a contact lens or nothing it
// stands by itself. What it does to accommodation is its label, at the cornea (calc_retinas).
std::optional<optics::Lens> put_together(const optics::Lens* worn, double trial_d) {
  if (trial_d == 0.0) return worn != nullptr ? std::optional(*worn) : std::nullopt;
  optics::Lens lens;
  if (worn != nullptr && !worn->contact) lens = *worn;
  lens.power = lens.power + optics::sphere_of(trial_d);
  return lens;
}

// Also finds what the spectacles leave for accommodation.
std::optional<Vector> look_through_lenses(const optics::Lens* worn, optics::PowerMatrix correction,
                                          Eye eye, Vector centre, const RoomState& room,
                                          Appearance& a) {
  const double distance_m = room.target.place.distance_m;
  const auto seen =
      optics::look_through(*room.lens[eye], centre, a.target, room.prisms[eye].stack.view());
  if (!seen) return std::nullopt;
  if (worn != nullptr) {
    const optics::PowerMatrix power =
        worn->contact ? worn->power : seen->power - optics::sphere_of(room.lenses_d[eye]);
    a.focus = optics::calc_focus(correction, *worn, power, distance_m);
  }
  return seen->direction;
}

// Directions from the target; those close to it are no distraction.
void find_attractions(const RoomParameters& parameters, const Vector& target, RoomState& room) {
  constexpr double kApartDeg = 5.0;
  constexpr double kFurthestDeg = 15.0;
  const GazeAngles to_target = gaze_angles(target);
  const auto add = [&](const Vector& place) {
    const GazeAngles there = gaze_angles(place);
    const patient::Angles off{there.horizontal.value - to_target.horizontal.value,
                              there.vertical.value - to_target.vertical.value};
    const double size = elementary::hypotenuse(off.horizontal, off.vertical);
    if (size < kApartDeg) return;
    const double share = size > kFurthestDeg ? kFurthestDeg / size : 1.0;
    room.attractions[static_cast<std::size_t>(room.attractive++)] = {share * off.horizontal,
                                                                     share * off.vertical};
  };
  room.attractive = 0;
  if (room.viewpoint.z < 0.0) add(room.viewpoint);
  for (const Eye eye : kBothEyes) {
    const bool prism = room.prisms[eye].slots.front().filled;
    if (!prism || room.attractive == 2) continue;
    add(optics::centre_of_rotation(eye, parameters.interpupillary) +
        Vector{0, 0, -optics::kPrismToCentreMm});
  }
}

// The point that the patient looks at, in room axes.
Vector attended_point(const RoomState& room, Tick now) {
  const TargetPlace& p = room.target.place;
  Vector point = optics::target_point(p.distance_m, p.horizontal_deg, p.vertical_deg);
  if (room.instruction == Instruction::line_ends) {
    const bool left_end = ((now - room.instructed_at) / kLineEndMs) % 2 == 0;
    point.x += (left_end ? -0.5 : 0.5) * calc_line_mm(room.target);
  }
  return point;
}

}  // namespace

RoomState opening_room(const RoomParameters& parameters, const act::ShowTarget& target) {
  RoomState room;
  room.spectacles_worn = parameters.spectacles_worn;
  act::ShowTarget at_once = target;
  at_once.travel_ms = 0;
  apply_act(parameters, ActContent{at_once}, 0, room);
  return room;
}

bool move_things(RoomState& room, Tick now) {
  const bool occluder = move_occluder(room.occluder, now);
  const bool target = move_target(room.target, now);
  const bool head = move_head(room.head, now);
  const bool line_end =
      room.instruction == Instruction::line_ends && (now - room.instructed_at) % kLineEndMs == 0;
  if (occluder) room.margin = {};
  return target || head || line_end;
}

bool is_moving(const RoomState& room, Tick now) {
  return under_way(room.occluder.motion) || under_way(room.target.motion) ||
         under_way(room.head.motion) ||
         (room.instruction == Instruction::line_ends &&
          (now + 1 - room.instructed_at) % kLineEndMs == 0);
}

const optics::Lens* find_lens(const RoomState& room, Eye eye) {
  return room.lens[eye] ? &*room.lens[eye] : nullptr;
}

void find_appearance(const RoomParameters& parameters, Tick now, RoomState& room) {
  const Vector in_room = attended_point(room, now);
  const bool upright = room.head.now.roll.value == 0.0 && room.head.now.turn.value == 0.0 &&
                       room.head.now.chin.value == 0.0;
  const Vector point =
      upright
          ? in_room
          : transposed(head_rotation(room.head.now.roll, room.head.now.turn, room.head.now.chin)) *
                in_room;
  room.nearness_d = 1.0 / room.target.place.distance_m;
  room.margin = {};
  find_attractions(parameters, point, room);
  for (const Eye eye : kBothEyes) {
    const optics::Lens* worn = find_worn(parameters, room, eye);
    room.lens[eye] = put_together(worn, room.lenses_d[eye]);
    Appearance& a = room.appearance[eye];
    a.target = point;
    const Vector centre = optics::centre_of_rotation(eye, parameters.interpupillary);
    const PrismState& prisms = room.prisms[eye];
    const optics::PowerMatrix& correction = parameters.correction[eye];
    a.focus = optics::calc_focus(correction, room.target.place.distance_m);
    a.behind_head = hides_target(room.viewpoint, centre, point);
    a.visible = prisms.passes_light;
    if (!a.visible) continue;
    const auto direction = room.lens[eye]
                               ? look_through_lenses(worn, correction, eye, centre, room, a)
                               : optics::apparent_direction(centre, point, prisms.stack.view());
    a.visible = direction.has_value() && !a.behind_head;
    if (!direction) continue;
    const GazeAngles angles = gaze_angles(*direction);
    a.horizontal_deg = angles.horizontal.value;
    a.vertical_deg = angles.vertical.value;
  }
}

namespace {

// While nothing but the eye moves, the point where its line of sight crosses the occluder's plane
// moves no further than the pupil does, 10.45 mm a radian; until that could reach the edge, covered
// stays covered. Half as much again for the curved path.
bool still_sure(const RoomState::Margin& margin, const patient::Angles& gaze) {
  const double turned = elementary::magnitude(gaze.horizontal - margin.gaze.horizontal) +
                        elementary::magnitude(gaze.vertical - margin.gaze.vertical);
  constexpr double kMmPerDegree = 1.5 * optics::kPupilToCentreMm * elementary::kRadiansPerDegree;
  return margin.mm > kMmPerDegree * turned + 0.01;
}

}  // namespace

void find_covered(const RoomParameters& parameters, const PerEye<patient::Angles>& gaze,
                  RoomState& room) {
  if (!room.occluder.before_face) {
    room.covered = {false, false};
    room.margin = {};
    return;
  }
  for (const Eye eye : kBothEyes) {
    if (still_sure(room.margin[eye], gaze[eye])) continue;
    const Vector centre = optics::centre_of_rotation(eye, parameters.interpupillary);
    const Vector sight =
        line_of_sight({Degrees{gaze[eye].horizontal}, Degrees{gaze[eye].vertical}});
    const Vector pupil = optics::entrance_pupil(centre, sight);
    const double clearance =
        optics::clearance(room.occluder.pose, pupil, room.appearance[eye].target);
    room.covered[eye] = clearance < 0.0;
    room.margin[eye] = {elementary::magnitude(clearance), gaze[eye]};
  }
}

patient::Retinas calc_retinas(const RoomParameters& /*parameters*/, const RoomState& room) {
  patient::Retinas retinas;
  const TargetState& t = room.target;
  retinas.nearness_d = room.nearness_d;
  retinas.head_roll_deg = room.head.now.roll.value;
  retinas.head_speed_deg_s = room.head.speed_deg_s;
  retinas.attractions = room.attractions;
  retinas.attractive = room.attractive;
  retinas.urged = room.urged;
  // A spot of light gives accommodation little to work on; a picture somewhat less than letters.
  switch (t.kind) {
    case TargetKind::letters:
    case TargetKind::letter: retinas.detail = 1.0; break;
    case TargetKind::picture: retinas.detail = 0.95; break;
    case TargetKind::spot: retinas.detail = 0.6; break;
  }
  retinas.size_logmar = t.kind == TargetKind::spot ? 2.0 : t.size_logmar;

  for (const Eye eye : kBothEyes) {
    const Appearance& a = room.appearance[eye];
    patient::RetinalImage& image = retinas.image[eye];
    image.present = a.visible && !room.covered[eye];
    image.horizontal_deg = a.horizontal_deg;
    image.vertical_deg = a.vertical_deg;
    // A trial lens counts at the cornea by its label, so that AC/A is per dioptre of stimulus.
    image.demand_d = a.focus.demand_d - room.lenses_d[eye];
    image.astigmatism_d = a.focus.astigmatism_d;
    // A translucent cover lets light through, without form.
    const bool dark = room.covered[eye] && room.occluder.kind == OccluderKind::opaque;
    const double lit = room.dim ? kDimGain : 1.0;
    retinas.light[eye] = (dark ? 0.0 : lit) * (room.penlight ? kPenlightGain : 1.0);
  }
  return retinas;
}

}  // namespace redress
