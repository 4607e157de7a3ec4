// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/gatherer.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/findings/prism_steps.hpp"
#include "sim/optics/sight.hpp"
#include "sim/patient/sight.hpp"
#include "sim/room/holding_hand.hpp"
#include "sim/room/practitioner.hpp"

namespace redress::findings {

namespace {

using elementary::magnitude;

constexpr double kAcuityRoom = 0.005;  // logMAR: a letter at the threshold is resolved
constexpr double kStraightDeg = 2.0;   // off straight ahead that still counts as straight
constexpr double kWidestGapMm = 12.0;  // wider is an occluder beside the eye, not before it
constexpr Tick kLeastPeekMs = 1000;
constexpr double kAsideDeg = 15.0;
// Four-dioptre test: the prism turns light by 2.3 degrees.
constexpr double kTrialPowerPd = 4.0;
constexpr double kTrialPowerRoomPd = 1.0;
constexpr double kVersionDeg = 0.9;
constexpr double kReturnDeg = 0.7;
constexpr Tick kVersionByMs = 900;
constexpr Tick kTrialMs = 2500;

bool same_setting(const Setting& a, const Setting& b) {
  return is_same_distance(a.distance_m, b.distance_m) && a.spectacles == b.spectacles &&
         a.lenses_d.right == b.lenses_d.right && a.lenses_d.left == b.lenses_d.left &&
         a.straight == b.straight && a.own_posture == b.own_posture;
}

bool near_angle(double a_deg, double b_deg) { return magnitude(a_deg - b_deg) <= kStraightDeg; }

bool is_like(const HeadState& a, const HeadState& b) {
  return near_angle(a.roll.value, b.roll.value) && near_angle(a.turn.value, b.turn.value) &&
         near_angle(a.chin.value, b.chin.value);
}

}  // namespace

Gatherer::Gatherer(const ExaminationSetup& setup) : setup_(setup) {}

Setting Gatherer::setting_of(const RoomState& room) const {
  Setting s;
  s.distance_m = room.target.place.distance_m;
  s.spectacles = room.spectacles_worn;
  s.lenses = room.lenses_d.right != 0.0 || room.lenses_d.left != 0.0;
  s.lenses_d = room.lenses_d;
  s.lens_d = 0.5 * (room.lenses_d.right + room.lenses_d.left);
  const HeadState& head = room.head.now;
  const TargetPlace& place = room.target.place;
  const bool ahead = near_angle(place.horizontal_deg, 0.0) && near_angle(place.vertical_deg, 0.0);
  const bool upright = is_like(head, HeadState{});
  s.straight = ahead && upright;
  s.own_posture = ahead && !upright && is_like(head, setup_.room.own_posture);
  s.gaze_horizontal_deg = place.horizontal_deg - head.turn.value;
  s.gaze_vertical_deg = place.vertical_deg - head.chin.value;
  s.roll_deg = head.roll.value;
  return s;
}

namespace {

// How far the lids stand open against how they stand in this patient and gaze without a blink: a
// lid that hangs, and lids that follow the eyes down, are no blink. They follow by 0.0085 of the
// opening a degree (sim/patient/pupil_lids.cpp).
Observation without_hanging_lids(Observation row, const ExaminationSetup& setup) {
  constexpr double kFollow = 0.0085;
  constexpr double kMostFollowed = 0.5;
  for (const Eye eye : kBothEyes) {
    const double down = std::max(0.0, -row.eye[eye].vertical_deg);
    row.eye[eye].lid_open_fraction +=
        setup.patient.lids.ptosis_mm[eye] / patient::kRestingOpeningMm +
        std::min(kFollow * down, kMostFollowed);
  }
  return row;
}

}  // namespace

void Gatherer::row(const Observation& seen, const RoomState& room) {
  const Observation row = without_hanging_lids(seen, setup_);
  finder_.push(row);
  follow_covers(row, room);
  follow_opening(row, room);
  follow_views(row, room);
  follow_trial(row, room);
  follow_peeking(row, room);
  follow_setting(row, room);
  const PerEye<Appearance>& target = room.appearance;
  if (target.right.behind_head || target.left.behind_head) ++evidence_.head_before_target_ms;
  evidence_.end_ms = row.at_ms;
  last_ = row;
}

void Gatherer::follow_covers(const Observation& row, const RoomState& room) {
  for (const Eye eye : kBothEyes) {
    if (!row.eye[eye].covered && covering_[eye]) end_cover(eye, row.at_ms);
  }
  for (const Eye eye : kBothEyes) {
    if (row.eye[eye].covered && !covering_[eye]) begin_cover(eye, row, room);
  }
}

// An attempt at a cover: held there, and taken away again. The margin is the way from the line of
// sight to the occluder's edge.
void Gatherer::follow_peeking(const Observation& row, const RoomState& room) {
  const OccluderState& o = room.occluder;
  const bool still =
      o.before_face && !o.leaving && row.at_ms >= o.motion.start + o.motion.travel_ms;
  for (const Eye eye : kBothEyes) {
    const double gap_mm = room.margin[eye].mm;
    const bool peeks = still && !row.eye[eye].covered && !row.eye[fellow(eye)].covered &&
                       gap_mm >= 0.0 && gap_mm <= kWidestGapMm;
    auto& since = peeking_since_[eye];
    if (peeks && !since) since = row.at_ms;
    if (!peeks && since) {
      const bool taken_away = !o.before_face || o.leaving;
      if (taken_away && row.at_ms - *since >= kLeastPeekMs)
        evidence_.peeks.push_back({eye, *since, row.at_ms});
      since.reset();
    }
  }
}

void Gatherer::follow_setting(const Observation& row, const RoomState& room) {
  const Setting setting = setting_of(room);
  const bool free = !row.eye.right.covered && !row.eye.left.covered;
  approach_watch_.row(row, setting, free && !prism_open_);
  if (approach_watch_.so_far().size() != evidence_.approaches.size()) {
    evidence_.approaches = approach_watch_.so_far();
  }
  if (free && room.penlight) ++evidence_.penlight_ms;
  evidence_.looked_aside = evidence_.looked_aside ||
                           magnitude(setting.gaze_horizontal_deg) >= kAsideDeg ||
                           magnitude(setting.gaze_vertical_deg) >= kAsideDeg;
  if (evidence_.first_cover_ms || prism_open_) return;
  auto& watches = evidence_.first_watches;
  auto known = std::find_if(watches.begin(), watches.end(),
                            [&](const FirstWatch& w) { return same_setting(w.setting, setting); });
  if (known == watches.end()) known = watches.insert(watches.end(), {setting, 0, 0});
  ++known->ms;
  if (!row.fused) ++known->apart_ms;
}

void Gatherer::begin_cover(Eye eye, const Observation& row, const RoomState& room) {
  CoverSpan span;
  span.eye = eye;
  span.from_ms = span.to_ms = row.at_ms;
  span.setting = setting_of(room);
  span.kind = room.target.kind;
  span.size_logmar = room.target.size_logmar;
  const patient::Retinas retinas = calc_retinas(setup_.room, room);
  for (const Eye e : kBothEyes) {
    const patient::RetinalImage& image = retinas.image[e];
    span.threshold_logmar[e] =
        setup_.patient.sensory.acuity_logmar[e] +
        patient::calc_blur_loss(setup_.patient.accommodation, image, image.demand_d);
    span.behind_head[e] = room.appearance[e].behind_head;
    span.resolvable[e] =
        span.kind == TargetKind::spot || span.size_logmar + kAcuityRoom >= span.threshold_logmar[e];
  }
  span.opaque = room.occluder.kind == OccluderKind::opaque;
  span.behind_prism = any_prism(room.prisms.right) || any_prism(room.prisms.left);
  if (last_span_) {
    CoverSpan& previous = evidence_.covers[*last_span_];
    const Tick gap = row.at_ms - previous.to_ms;
    previous.open_after_ms = gap;
    previous.fused_before_next = last_.fused;
    if (previous.eye != eye && gap < kTransferGapMs) {
      previous.transfer_out = span.transfer_in = true;
      span.glimpse_ms = gap;
      span.fused_in_glimpse = last_.fused && gap > 0;
      if (previous.transfer_in) alternated_.push_back(span.setting);  // two in a row
    }
  } else if (covering_[fellow(eye)]) {  // the second of two eyes covered at once: seen through both
    evidence_.covers[*covering_[fellow(eye)]].transfer_out = true;
    span.transfer_in = true;
  }
  last_span_.reset();
  span.before_alternating =
      std::none_of(alternated_.begin(), alternated_.end(),
                   [&](const Setting& s) { return same_setting(s, span.setting); });
  if (prism_open_) evidence_.prisms.back().open = false;
  covering_[eye] = evidence_.covers.size();
  if (!evidence_.first_cover_ms) evidence_.first_cover_ms = row.at_ms;
  views_.push_back({evidence_.covers.size(), fellow(eye), true, row.at_ms, 0});
  evidence_.covers.push_back(span);
  trial_.reset();
}

void Gatherer::end_cover(Eye eye, Tick now) {
  CoverSpan& span = evidence_.covers[*covering_[eye]];
  span.to_ms = now;
  span.ended = true;
  if (!covering_[fellow(eye)]) last_span_ = covering_[eye];
  views_.push_back({*covering_[eye], eye, false, now, 0});
  covering_[eye].reset();
}

void Gatherer::follow_opening(const Observation& row, const RoomState& room) {
  if (row.eye.right.covered || row.eye.left.covered) return;
  if (!evidence_.first_cover_ms) evidence_.looked_ms = row.at_ms;
  if (last_span_) {
    CoverSpan& span = evidence_.covers[*last_span_];
    span.open_after_ms = row.at_ms - span.to_ms;
    span.fused_before_next = row.fused;
    if (row.fused && !span.regained_ms) span.regained_ms = row.at_ms - span.to_ms;
  }
  if (row.fused || row.fixing == WhichEyes::none || row.fixing == WhichEyes::both) return;
  const Setting setting = setting_of(room);
  auto& open = evidence_.open;
  if (open.empty() || !same_setting(open.back().setting, setting)) {
    const auto known = std::find_if(open.begin(), open.end(), [&](const OpenDeviation& o) {
      return same_setting(o.setting, setting);
    });
    if (known == open.end()) {
      open.push_back({setting, {}});
    } else {
      std::rotate(known, known + 1, open.end());  // the one in use goes last
    }
  }
  ++open.back().fixing_ms[row.fixing == WhichEyes::right ? Eye::right : Eye::left];
}

void Gatherer::follow_views(const Observation& row, const RoomState& room) {
  for (View& view : views_) {
    if (!looked_at_.shows(view.eye)) {
      for (const Eye own : kBothEyes) ++evidence_.covers[view.span].own_eye_lost_ms[own];
      continue;
    }
    const EyeObservation& eye = row.eye[view.eye];
    const Vector centre = optics::centre_of_rotation(view.eye, setup_.room.interpupillary);
    const Vector pupil = optics::entrance_pupil(
        centre, line_of_sight({Degrees{eye.horizontal_deg}, Degrees{eye.vertical_deg}}));
    if (!room.occluder.before_face) {
      ++view.seen_ms;
      continue;
    }
    if (!hides_from_view(room.occluder.pose, pupil, room.viewpoint)) ++view.seen_ms;
    for (const Eye own : kBothEyes) {
      if (!hides_from_view(room.occluder.pose, pupil, own_eye(room.viewpoint, own))) continue;
      ++evidence_.covers[view.span].own_eye_lost_ms[own];
    }
  }
  std::erase_if(views_, [&](const View& view) {
    const Tick watched = row.at_ms - view.from_ms + 1;
    CoverSpan& span = evidence_.covers[view.span];
    (view.on_cover ? span.view_on_cover : span.view_on_uncover) =
        static_cast<double>(view.seen_ms) / static_cast<double>(watched);
    return watched >= kOwnViewMs;
  });
}

namespace {

/// What gives the eyes another reason to move.
bool moves_images(const ActContent& content) {
  return std::holds_alternative<act::ShowTarget>(content) ||
         std::holds_alternative<act::HoldPrism>(content) ||
         std::holds_alternative<act::RemovePrism>(content) ||
         std::holds_alternative<act::Spectacles>(content) ||
         std::holds_alternative<act::TrialLenses>(content) ||
         std::holds_alternative<act::TiltHead>(content);
}

}  // namespace

void Gatherer::act(const Act& act, const RoomState& room) {
  const Tick now = act.at_ms;
  if (moves_images(act.content)) finder_.break_off();
  if (const auto* ask = std::get_if<act::Ask>(&act.content)) {
    evidence_.questions.push_back({now, ask->what});
  } else if (const auto* request = std::get_if<act::Request>(&act.content)) {
    evidence_.requests.push_back({now, request->what});
  } else if (const auto* closer = std::get_if<act::Magnify>(&act.content)) {
    looked_at_ = {closer->across_mm, closer->eye};
    finder_.look(looked_at_);
  } else if (const auto* note = std::get_if<act::Note>(&act.content)) {
    evidence_.notes.push_back({now, note->finding});
  } else if (const auto* instruct = std::get_if<act::Instruct>(&act.content)) {
    const bool clear =
        instruct->what == Instruction::look || instruct->what == Instruction::keep_clear;
    if (clear && !evidence_.instructed_ms) evidence_.instructed_ms = now;
    if (instruct->what == Instruction::line_ends) evidence_.line_ends_ms.push_back(now);
  } else if (const auto* hold = std::get_if<act::HoldPrism>(&act.content)) {
    const bool first = !prism_open_;  // a step of a bar is no presentation of its own
    change_prisms(now, room);
    trial_.reset();
    if (first) begin_trial(*hold, now, room);
  } else if (std::holds_alternative<act::RemovePrism>(act.content)) {
    change_prisms(now, room);
    trial_.reset();
  } else if (std::holds_alternative<act::ShowTarget>(act.content) ||
             std::holds_alternative<act::Spectacles>(act.content) ||
             std::holds_alternative<act::TrialLenses>(act.content) ||
             std::holds_alternative<act::TiltHead>(act.content)) {
    if (prism_open_) change_prisms(now, room);  // the same prisms in another setting
  }
}

void Gatherer::reply(const Reply& reply) {
  if (reply.to == "clear" && prism_open_) {
    evidence_.prisms.back().said_clear = reply.answer == "clear";
  }
}

void Gatherer::change_prisms(Tick now, const RoomState& room) {
  if (prism_open_) {
    evidence_.prisms.back().to_ms = now;
    evidence_.prisms.back().single_at_end = last_.fused;
  }
  PrismStep step;
  step.from_ms = now;
  step.single_before = last_.fused;
  step.open = !covering_.right && !covering_.left;
  step.setting = setting_of(room);
  describe_prisms(setup_.room, room, step);
  prism_open_ = step.before.right || step.before.left;
  if (prism_open_) evidence_.prisms.push_back(step);
}

void Gatherer::begin_trial(const act::HoldPrism& hold, Tick now, const RoomState& room) {
  trial_.reset();
  const PrismStep& step = evidence_.prisms.back();
  const bool alone = !any_prism(room.prisms[fellow(hold.eye)]);
  const bool four = magnitude(step.horizontal_pd - kTrialPowerPd) <= kTrialPowerRoomPd &&
                    magnitude(step.vertical_pd) <= kTrialPowerRoomPd;
  if (!alone || !four || covering_.right || covering_.left) return;
  Trial trial;
  trial.index = evidence_.four_dioptre.size();
  for (const Eye eye : kBothEyes) trial.start_deg[eye] = last_.eye[eye].horizontal_deg;
  evidence_.four_dioptre.push_back({now, hold.eye, step.setting, std::nullopt});
  trial_ = trial;
}

// The eye behind a base-out prism turns in to follow its image, and both eyes with it; then the
// fellow comes back if the patient fuses. Towards the nose of the tested eye is +.
void Gatherer::follow_trial(const Observation& row, const RoomState&) {
  if (!trial_) return;
  FourDioptreTrial& trial = evidence_.four_dioptre[trial_->index];
  const Tick age = row.at_ms - trial.at_ms;
  const auto moved = [&](Eye eye) {
    return -side_of(trial.eye) * (row.eye[eye].horizontal_deg - trial_->start_deg[eye]);
  };
  const bool lids_open =
      std::min(row.eye.right.lid_open_fraction, row.eye.left.lid_open_fraction) > 0.85;
  const double other = moved(fellow(trial.eye));
  if (lids_open && age <= kVersionByMs && moved(trial.eye) >= kVersionDeg && other >= kVersionDeg) {
    trial_->version = true;
  }
  if (lids_open) trial_->furthest_fellow_deg = std::max(trial_->furthest_fellow_deg, other);
  if (age < kTrialMs || !lids_open) return;
  if (!trial_->version) {
    trial.seen = FourDioptreResponse::no_movement;
  } else if (trial_->furthest_fellow_deg - other >= kReturnDeg) {
    trial.seen = FourDioptreResponse::typical;
  } else {
    trial.seen = FourDioptreResponse::version_without_return;
  }
  trial_.reset();
}

Evidence Gatherer::finish() {
  for (const Eye eye : kBothEyes) {
    if (covering_[eye]) evidence_.covers[*covering_[eye]].to_ms = evidence_.end_ms;
  }
  if (prism_open_) {
    evidence_.prisms.back().to_ms = evidence_.end_ms + 1;
    evidence_.prisms.back().single_at_end = last_.fused;
  }
  finder_.finish();
  evidence_.approaches = approach_watch_.finish();
  evidence_.movements = finder_.movements();
  measure_prisms(evidence_);
  return std::move(evidence_);
}

}  // namespace redress::findings
