// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/consulting.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/optics/occluder.hpp"
#include "sim/optics/sight.hpp"

namespace redress::examiners {

namespace {

// Which way the light takes from the eye to the examiner: the occluder is between or it is not. An
// examiner who sits in front need not know the patient's interpupillary distance for that; the
// occluder is 50 mm wide, so that a usual one is near enough.
constexpr Millimetres kUsualInterpupillary{62};

bool is_hidden(const RoomState& room, Eye eye, const EyeObservation& o) {
  if (!room.occluder.before_face || room.occluder.kind == OccluderKind::translucent) return false;
  const Vector centre = optics::centre_of_rotation(eye, kUsualInterpupillary);
  const Vector pupil = optics::entrance_pupil(
      centre, line_of_sight({Degrees{o.horizontal_deg}, Degrees{o.vertical_deg}}));
  return optics::cuts(room.occluder.pose, pupil, room.viewpoint);
}

}  // namespace

Consulting::Consulting(Examination& exam) : exam_(exam) {
  constexpr std::size_t kUsualGlances = 100'000;
  glances_.reserve(kUsualGlances);
  look();
}

void Consulting::act(const ActContent& content) {
  acts_.push_back({exam_.now(), content});
  exam_.apply(content);
}

void Consulting::wait(Tick ms) {
  for (Tick t = 0; t < ms; ++t) {
    exam_.step();
    if (exam_.now() % kGlanceEveryMs == 0) look();
  }
  for (const Reply& reply : exam_.take_replies()) replies_.push_back(reply);
}

Tick Consulting::now() const { return exam_.now(); }

void Consulting::look() {
  const Observation seen = exam_.observe();
  Glance glance;
  glance.at_ms = seen.at_ms;
  for (const Eye eye : kBothEyes) {
    const EyeObservation& o = seen.eye[eye];
    if (is_hidden(exam_.room(), eye, o)) {
      glance.eye[eye] = {.visible = false};
    } else {
      glance.eye[eye] = {true, o.horizontal_deg, o.vertical_deg, o.lid_open_fraction, o.pupil_mm};
    }
  }
  glances_.push_back(glance);
}

std::string Consulting::find_answer(std::string_view to) const {
  for (auto it = replies_.rbegin(); it != replies_.rend(); ++it) {
    if (it->to == to) return it->text;
  }
  return {};
}

bool Consulting::sees_spectacles() const { return exam_.room().spectacles_worn; }

double Consulting::trial_lens() const { return exam_.room().lenses_d.right; }

bool Consulting::sees_head_askew() const {
  constexpr double kSeenDeg = 3.0;
  const HeadState& head = exam_.room().head.now;
  return elementary::magnitude(head.roll.value) >= kSeenDeg ||
         elementary::magnitude(head.turn.value) >= kSeenDeg ||
         elementary::magnitude(head.chin.value) >= kSeenDeg;
}

}  // namespace redress::examiners
