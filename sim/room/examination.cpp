// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/room/examination.hpp"

#include <algorithm>

#include "sim/patient/fixation.hpp"
#include "sim/patient/listing.hpp"
#include "sim/patient/muscles.hpp"
#include "sim/patient/sight.hpp"
#include "sim/patient/step.hpp"
#include "sim/room/answers.hpp"
#include "sim/room/where_worst.hpp"

namespace redress {

namespace {
constexpr int kSettleMs = 4000;

Opening opening_with(const act::ShowTarget& target) {
  Opening opening;
  opening.target = target;
  opening.own_posture = true;
  return opening;
}

WhichEyes only(Eye eye) { return eye == Eye::right ? WhichEyes::right : WhichEyes::left; }

double calc_listing(const patient::State& s, Eye eye) {
  const patient::Direction3 line =
      patient::to_muscle_frame(eye, {s.gaze[eye].horizontal, s.gaze[eye].vertical, 0.0});
  const double turn = patient::calc_listing_turn(line, s.vergence_deg);
  return patient::to_head_frame(eye, {0.0, 0.0, turn}).torsion;
}
}  // namespace

act::ShowTarget first_target(std::span<const Act> acts) {
  for (const Act& a : acts) {
    if (a.at_ms > 0) break;
    if (const auto* target = std::get_if<act::ShowTarget>(&a.content)) return *target;
  }
  return {};
}

Examination::Examination(const ExaminationSetup& setup, Chance chance, const act::ShowTarget& first)
    : Examination(setup, chance, opening_with(first)) {}

Examination::Examination(const ExaminationSetup& setup, Chance chance, const Opening& opening)
    : setup_(setup), chance_(chance), room_(opening_room(setup.room, opening.target)) {
  if (opening.spectacles) {
    apply_act(setup_.room, act::Spectacles{*opening.spectacles}, 0, room_);
  }
  apply_act(setup_.room, act::TrialLenses{opening.lenses_d}, 0, room_);
  const HeadState& head = opening.own_posture ? setup_.room.own_posture : opening.head;
  if (head != HeadState{}) {
    apply_act(setup_.room, act::TiltHead{head.roll.value, head.turn.value, head.chin.value}, 0,
              room_);
  }
  if (opening.covered) {
    act::Cover cover;
    cover.eye = *opening.covered;
    cover.travel_ms = 0;
    apply_act(setup_.room, cover, 0, room_);
  }
  settle();
}

void Examination::settle() {
  // The eyes' places decide whether the occluder is before the pupil, and the other way round.
  find_covered(setup_.room, patient_.gaze, room_);
  patient_ = patient::opening_state(setup_.patient, calc_retinas(setup_.room, room_));
  const Chance calm{chance_.seed, 0.0, false};
  for (int i = 0; i < kSettleMs; ++i) {
    look();
    patient::step(setup_.patient, retinas_, calm, patient_);
    looked_ = false;
  }
  patient::begin(setup_.patient, chance_, patient_);
  look();
  watch();
}

void Examination::watch() {
  if (!is_sound(patient_)) fault_ = find_fault(patient_, room_, now_);
}

void Examination::look() {
  if (looked_) return;
  find_covered(setup_.room, patient_.gaze, room_);
  retinas_ = calc_retinas(setup_.room, room_);
  looked_ = true;
}

void Examination::apply(const ActContent& content) {
  apply_act(setup_.room, content, now_, room_);
  const auto* instruct = std::get_if<act::Instruct>(&content);
  if (instruct != nullptr && instruct->what == Instruction::relax) {
    room_.relaxes_at = now_ + draw_relaxing_ms(chance_, now_);
  }
  looked_ = false;
  look();
  if (const auto* question = std::get_if<act::Ask>(&content)) {
    pending_.push_back(answer(*question));
  } else if (const auto* request = std::get_if<act::Request>(&content)) {
    pending_.push_back(look_up(*request));
  }
}

void Examination::step() {
  ++now_;
  if (fault_) return;
  patient::step(setup_.patient, retinas_, chance_, patient_);
  watch();
  if (fault_) return;
  if (is_moving(room_, now_ - 1)) {
    if (move_things(room_, now_)) find_appearance(setup_.room, now_, room_);
  }
  if (room_.relaxes_at == now_) take_own_posture(setup_.room, now_, room_);
  if (patient_.behaviour.in_force) {
    withdraw_head(setup_.room, patient_.behaviour.turn_deg, now_, room_);
  }
  looked_ = false;
  look();
  if (now_ % DoubleVision::kLookEveryMs == 0) notice();
}

Observation Examination::observe() const {
  const patient::Sight sight = patient::calc_sight(setup_.patient, retinas_, patient_);
  Observation o;
  o.at_ms = now_;
  for (const Eye eye : kBothEyes) {
    o.eye[eye] = {.horizontal_deg = patient_.gaze[eye].horizontal,
                  .vertical_deg = patient_.gaze[eye].vertical,
                  .torsion_deg = patient_.torsion_deg[eye],
                  .covered = room_.covered[eye],
                  .pupil_mm = patient_.pupil.diameter_mm[eye] + patient_.pupil.hippus_mm,
                  .lid_open_fraction = patient_.lid_open_fraction,
                  .listing_deg = calc_listing(patient_, eye)};
    if (setup_.patient.pupils.fixed_mm[eye]) o.eye[eye].pupil_mm = patient_.pupil.diameter_mm[eye];
    if (patient_.lids.in_force) {
      o.eye[eye].lid_open_fraction = patient_.lids.open_fraction[eye];
    }
    if (!patient_.muscles.in_force) continue;
    o.eye[eye].lid_open_fraction *= patient::calc_lid_share(patient_, eye);
    o.eye[eye].retraction_mm = patient::calc_retraction_mm(patient_, eye);
  }
  const bool right = retinas_.image.right.present;
  const bool left = retinas_.image.left.present;
  o.fused = patient::is_fused(patient_, retinas_, sight);
  o.fixing = !right && !left ? WhichEyes::none
             : o.fused       ? WhichEyes::both
                             : only(patient_.fixation.eye);
  o.accommodation_d = patient_.accommodation.response_d;
  const PerEye<double>& s = patient_.fixation.suppression;
  o.suppressed = s.right > 0.5 && s.left > 0.5 ? WhichEyes::both
                 : s.right > 0.5               ? WhichEyes::right
                 : s.left > 0.5                ? WhichEyes::left
                                               : WhichEyes::none;
  return o;
}

std::uint64_t Examination::hash() const {
  StateHash hash;
  hash("now", now_);
  visit_fields(patient_, hash);
  visit_fields(room_, hash);
  if (double_vision_.noticed_ms() > 0 || double_vision_.has_told()) {
    hash("double_vision.noticed_ms", double_vision_.noticed_ms());
    hash("double_vision.told", double_vision_.has_told());
  }
  // What has been said is no longer part of it, taken or not.
  const Tick until = last_word();
  const auto is_to_come = [until](const Reply& reply) { return reply.at_ms > until; };
  hash("pending",
       static_cast<std::uint64_t>(std::count_if(pending_.begin(), pending_.end(), is_to_come)));
  for (const Reply& reply : pending_) {
    if (is_to_come(reply)) hash("pending.at_ms", reply.at_ms);
  }
  if (speaks_unasked_at_ && *speaks_unasked_at_ > until) {
    hash("speaks_unasked_at_ms", *speaks_unasked_at_);
  }
  return hash.value();
}

std::vector<Reply> Examination::take_replies() {
  std::vector<Reply> due;
  const Tick until = last_word();
  const auto is_due = [until](const Reply& reply) { return reply.at_ms <= until; };
  for (Reply& reply : pending_) {
    if (is_due(reply)) due.push_back(std::move(reply));
  }
  std::erase_if(pending_, is_due);  // its time stays where the words were moved from
  if (speaks_unasked_at_ && *speaks_unasked_at_ <= until) {
    due.push_back(say_unasked(setup_.patient.age_years, *speaks_unasked_at_));
    speaks_unasked_at_.reset();
  }
  std::stable_sort(due.begin(), due.end(),
                   [](const Reply& a, const Reply& b) { return a.at_ms < b.at_ms; });
  return due;
}

// Eyes that are held together see one, with eyes that each see one; a blink changes nothing.
void Examination::notice() {
  if (double_vision_.has_told() || patient_.instability.blink_ms >= 0) return;
  const PerEye<bool>& ghost = setup_.patient.sensory.monocular_diplopia;
  const bool plainly_single = patient_.fusion.locked && !ghost.right && !ghost.left;
  if (plainly_single && double_vision_.noticed_ms() == 0) return;
  if (!speaks_unasked(setup_.patient.age_years)) return;
  const patient::Percept percept = patient::calc_percept(setup_.patient, retinas_, patient_);
  if (!double_vision_.notices(percept)) return;
  speaks_unasked_at_ = now_ + draw_speech_ms(chance_, now_);
}

Reply Examination::answer(const act::Ask& question) {
  const patient::Percept percept = patient::calc_percept(setup_.patient, retinas_, patient_);
  const bool about_two = question.what == "single_or_double" || question.what == "arrangement" ||
                         question.what == "which_eye_removes_it";
  if (about_two && (percept.is_double || percept.monocular.right || percept.monocular.left)) {
    double_vision_.told();
  }
  const Worst worst =
      question.what == "where_worst" ? find_worst(setup_, room_.spectacles_worn) : Worst::nowhere;
  return answer_question(question.what,
                         {percept, retinas_, chance_, worst, setup_.patient.age_years},
                         setup_.answers, now_);
}

Reply Examination::look_up(const act::Request& request) const {
  return answer_request(request.what, setup_.on_file, now_);
}

}  // namespace redress
