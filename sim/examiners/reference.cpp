// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The reference examiner: history and acuity, a look at the open eyes, then at 6 m and near
// cover-uncover, alternating cover and prism to reversal; far distance, the four-dioptre test and a
// look around where they are called for; then the card.
#include <algorithm>
#include <initializer_list>
#include <string_view>

#include "sim/basics/elementary.hpp"
#include "sim/examiners/alternate_by_eye.hpp"
#include "sim/examiners/cover_test.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/examiners/four_dioptre.hpp"
#include "sim/examiners/further_tests.hpp"
#include "sim/examiners/history.hpp"
#include "sim/examiners/looking_around.hpp"
#include "sim/examiners/prism_bar.hpp"
#include "sim/examiners/record_card.hpp"
#include "sim/examiners/signs.hpp"

namespace redress::examiners {

namespace {

using elementary::magnitude;

constexpr std::int32_t kStraightenMs = 600;
constexpr Tick kSettledMs = 3000;
constexpr Tick kLookMs = 4000;  // rubric A4: 3 s at the least
constexpr Tick kTurnToTargetMs = 3000;
constexpr Tick kPutOnMs = 1500;
constexpr Tick kRegainMs = 3000;
constexpr Tick kWriteMs = 500;
constexpr double kLargerLogmar = 0.2;  // one or two lines larger than the worse eye's acuity
constexpr double kLeastLogmar = 0.1;
constexpr double kLargestLogmar = 3.0;  // no chart goes further
constexpr double kEnlargeLogmar = 0.2;
constexpr double kWithinReachM = 1.0;
constexpr double kFarDistanceM = 20.0;
constexpr double kDistanceM = 6.0;
constexpr double kLeastHighPd = 1.0;
constexpr double kLeastPlusD = 1.5;     // in glasses: a turn may hang on it
constexpr double kOtherEyePd = 1.5;     // by which one eye moves less than the other
constexpr double kOtherEyeShare = 0.1;  // or this share of a large deviation
constexpr double kPresbyopeYears = 40.0;
constexpr double kDrivingYears = 17.0;
constexpr double kDifferencePd = 4.0;  // near against distance, from which it is looked into
constexpr double kLittlePd = 4.0;      // explains no trouble
// Long enough for an eye to take up fixation, too short for a latent deviation to build up.
constexpr Tick kShortCoverMs = 1700;
// Suspicion of a central scotoma: unexplained unequal acuity with no movement or a flick.
constexpr double kUnequalLogmar = 0.1;
constexpr double kFlickPd = 10.0;
constexpr int kRepeatFourDioptre = 2;

// What the glasses are is read off them before they are trusted; also the prisms that the patient
// tells of.
void look_at_spectacles(Consulting& room, const Habits& habits, WholeFinding& e) {
  e.owns_glasses = habits.owns_spectacles;
  if (!e.owns_glasses) return;
  room.act(act::Request{"spectacles"});
  room.wait(kFileMs);
  e.sphere_d = read_acuity(room.find_answer("spectacles"));
  e.plus = std::max(e.sphere_d.right, e.sphere_d.left) >= kLeastPlusD;
  e.has_addition = contains(room.find_answer("spectacles"), " add ");
  e.carries_prism = contains(room.find_answer("previous_treatment"), "rism") &&
                    contains(room.find_answer("spectacles"), " prism ");
}

// A lid that hangs may belong to the eye's nerve, and then the pupil decides.
void look_at_lids(Consulting& room, WholeFinding& e) {
  e.low_lid = find_low_lid(room);
  if (e.low_lid.empty()) return;
  room.act(act::Request{"pupils"});
  room.wait(kFileMs);
  e.fixed_pupil = contains(room.find_answer("pupils"), "fixed");
}

bool tells_of_tiring(Consulting& room) {
  return contains_any(room.find_answer("variation"), {"within minutes", "after a rest", "a nap"});
}

// Crossed eyes that come and go: the pupils tell whether it is the near reflex.
void watch_near_reflex(Consulting& room, WholeFinding& e) {
  if (!contains(room.find_answer("variation"), "within a minute")) return;
  e.near_reflex = sees_near_reflex(room);
}

// An eye that reads no letter of any chart moves behind no cover.
std::optional<Eye> find_sightless(const WholeFinding& e) {
  constexpr double kNoLetterLogmar = 1.6;
  if (e.acuity_logmar.right >= kNoLetterLogmar) return Eye::right;
  if (e.acuity_logmar.left >= kNoLetterLogmar) return Eye::left;
  return std::nullopt;
}

bool says_clear(Consulting& room) {
  room.act(act::Ask{"clear"});
  room.wait(kAnswerMs);
  return contains(room.find_answer("clear"), "clear");
}

void wear(Consulting& room, bool spectacles) {
  if (room.sees_spectacles() == spectacles) return;
  room.act(act::Spectacles{spectacles});
  room.wait(kPutOnMs);
}

// An addition is at the bottom of the lens: what is to be read is held where it is read, and lower
// until it is clear.
bool lower_until_clear(Consulting& room, act::ShowTarget& target) {
  for (const double down_deg : {25.0, 35.0}) {
    target.vertical_deg = -down_deg;
    room.act(target);
    room.wait(kTurnToTargetMs);
    if (says_clear(room)) return true;
  }
  target.vertical_deg = 0.0;
  room.act(target);
  room.wait(kTurnToTargetMs);
  return false;
}

// Tested with the glasses that are owned, unless they are for another distance: reading glasses
// blur what is far away. Where none make near clear to somebody past 40, trial lenses do.
void choose_correction(Consulting& room, const Habits& habits, bool near, bool has_addition,
                       act::ShowTarget& target) {
  if (room.trial_lens() != 0.0) room.act(act::TrialLenses{});
  wear(room, habits.owns_spectacles);
  if (habits.age_years < kPresbyopeYears || habits.fault == Fault::letter_too_small) return;
  if (near && has_addition && lower_until_clear(room, target)) return;
  if (says_clear(room)) return;
  if (habits.owns_spectacles) {
    wear(room, false);
    if (says_clear(room)) return;
    wear(room, true);
  }
  if (!near) return;
  for (const double lens_d : {1.0, 1.5, 2.0, 2.5}) {
    room.act(act::TrialLenses{{lens_d, lens_d}});
    room.wait(kPutOnMs);
    if (says_clear(room)) return;
  }
  room.act(act::TrialLenses{});
}

double choose_letters(const PerEye<double>& acuity, Fault fault) {
  const double worse = std::max(acuity.right, acuity.left);
  if (fault == Fault::letter_too_small) return worse;
  return std::clamp(worse + kLargerLogmar, kLeastLogmar, kLargestLogmar);
}

// Before the eye that moves less when it is bared: with its fellow fixing the deviation is the
// smaller, and that is the one to be measured. If both move alike, or one was never seen to move
// for blinks, before the one that deviates.
Eye choose_prism_eye(const CoverFinding& found, const PerEye<std::vector<Shown>>& bared) {
  if (!bared.right.empty() && !bared.left.empty()) {
    const double right = size_of(find_middle(bared.right));
    const double left = size_of(find_middle(bared.left));
    if (magnitude(right - left) > std::max(kOtherEyePd, kOtherEyeShare * std::max(right, left))) {
      return right > left ? Eye::left : Eye::right;
    }
  }
  return found.eye == FindingEye::left ? Eye::left : Eye::right;
}

// At near somebody past 40 may not see letters of the size that does for distance: larger ones are
// shown until they are said to be clear. It is the better eye that says so: the other one needs as
// many lines more as it does at distance.
void enlarge_until_clear(Consulting& room, act::ShowTarget& target, const PerEye<double>& acuity) {
  const double apart = magnitude(acuity.right - acuity.left);
  const auto show = [&](double size_logmar) {
    target.size_logmar = std::min(size_logmar, kLargestLogmar);
    room.act(target);
    room.wait(kTurnToTargetMs);
  };
  if (apart > 0.0) show(target.size_logmar - apart);
  bool enlarged = false;
  for (;;) {
    const bool clear = says_clear(room);
    if (clear && !enlarged) break;
    // The other eye may see it less well.
    enlarged = true;
    show(target.size_logmar + kEnlargeLogmar);
    if (clear || target.size_logmar >= kLargestLogmar) break;
  }
  if (apart > 0.0) show(target.size_logmar + apart);
}

act::ShowTarget choose_target(double distance_m, const WholeFinding& e, const Habits& habits) {
  act::ShowTarget target;
  target.kind = TargetKind::letters;
  target.distance_m = distance_m;
  target.size_logmar = choose_letters(e.acuity_logmar, habits.fault);
  return target;
}

// Either eye comes down when it is bared, neither ever up: a dissociated vertical deviation, which
// no prism neutralises and which is no height of one eye.
bool is_dissociated(const PerEye<Shown>& bared) {
  return bared.right.vertical_pd >= kLeastHighPd && bared.left.vertical_pd <= -kLeastHighPd;
}

// Both eyes covered once by themselves and the cover alternated, without the glasses: what they
// hold, shown by their absence.
DistanceFinding test_without(Consulting& room, const WholeFinding& e, const Habits& habits) {
  wear(room, false);
  room.act(choose_target(kDistanceM, e, habits));
  room.act(act::Instruct{Instruction::keep_clear});
  room.wait(kTurnToTargetMs);
  Manner manner;
  manner.distance_m = kDistanceM;
  manner.covers_of_each_eye = 1;
  const std::vector<CoverReading> readings = cover_and_uncover(room, manner);
  begin_alternating(room);
  std::vector<Shown> movements;
  alternate(room, manner, manner.transfers, movements);
  open_both(room, kRegainMs);
  DistanceFinding found;
  found.cover = read_covers(readings, find_middle(movements), kDistanceM);
  wear(room, true);
  return found;
}

DistanceFinding test_at(Consulting& room, double distance_m, WholeFinding& e,
                        const Habits& habits) {
  act::ShowTarget target = choose_target(distance_m, e, habits);
  room.act(target);
  room.act(act::Instruct{Instruction::look});
  room.wait(kTurnToTargetMs);
  e.beats = e.beats || sees_beats(room);
  choose_correction(room, habits, distance_m < kWithinReachM, e.has_addition, target);
  const bool past_reading = distance_m < kWithinReachM && habits.age_years >= kPresbyopeYears;
  if ((past_reading || e.near_reflex) && habits.fault != Fault::letter_too_small) {
    enlarge_until_clear(room, target, e.acuity_logmar);
  }

  Manner manner;
  manner.distance_m = distance_m;
  // A poorer eye holds less steadily: whether it flicked is looked for more than twice.
  constexpr double kUnsteadyLogmar = 0.3;
  if (magnitude(e.acuity_logmar.right - e.acuity_logmar.left) >= kUnsteadyLogmar) {
    manner.covers_of_each_eye = 4;
  }
  if (habits.fault == Fault::short_covers) manner.cover_ms = kShortCoverMs;
  const std::vector<CoverReading> readings = cover_and_uncover(room, manner);

  begin_alternating(room);
  const PerEye<std::vector<Shown>> movements = alternate_by_eye(room, manner, manner.transfers);
  std::vector<Shown> all = movements.right;
  all.insert(all.end(), movements.left.begin(), movements.left.end());
  Shown alternating = find_middle(all);
  const PerEye<Shown> bared{find_middle(movements.right), find_middle(movements.left)};
  if (is_dissociated(bared)) {
    e.dissociated = true;
    alternating.vertical_pd = 0.0;
  }
  open_both(room, kRegainMs);

  DistanceFinding found;
  found.spectacles = room.sees_spectacles();
  found.lens_d = room.trial_lens();
  found.lowered = target.vertical_deg < 0.0;
  found.cover = read_covers(readings, alternating, distance_m);
  found.prism =
      measure_with_prisms(room, manner, alternating, choose_prism_eye(found.cover, movements),
                          habits.fault == Fault::wrong_base);
  return found;
}

bool suspects_scotoma(const WholeFinding& e) {
  const bool unequal =
      magnitude(e.acuity_logmar.right - e.acuity_logmar.left) >= kUnequalLogmar - 1e-9;
  const CoverFinding& far = e.far->cover;
  const bool little = far.kind == FindingKind::none ||
                      (far.kind == FindingKind::tropia && size_of(far.shown) < kFlickPd);
  return unequal && little;
}

// A head that is held askew hides a deviation; the cover test is done with it straight.
void straighten_head(Consulting& room) {
  if (!room.sees_head_askew()) return;
  room.act(act::TiltHead{0, 0, 0, kStraightenMs});
  room.wait(kStraightenMs + kSettledMs);
}

// A child that shuts an eye outdoors and is held at 6 m.
bool asks_for_far_distance(Consulting& room, const WholeFinding& e) {
  return e.far->cover.kind != FindingKind::tropia &&
         contains_any(room.find_answer("variation"), {"outdoors", "ar away"});
}

// Double vision, a deviation in height, and any that the patient tells to change with the gaze.
bool asks_to_look_around(Consulting& room, const WholeFinding& e) {
  const auto is_high = [](const std::optional<DistanceFinding>& d) {
    return d && magnitude(d->cover.alternating.vertical_pd) >= kLeastHighPd;
  };
  return is_high(e.far) || is_high(e.near) ||
         (e.sees_double && (e.new_in_weeks || e.new_and_sudden)) ||
         contains(room.find_answer("variation"), "ooking");
}

// An exotropia that seems much smaller at near may only be held there: one eye is patched for half
// an hour and the near deviation measured again, before single vision comes back.
void patch_and_measure(Consulting& room, WholeFinding& e, const Habits& habits) {
  constexpr Tick kPatchMs = 45 * 60'000;
  constexpr double kExcessPd = 10.0;  // Burian (from memory)
  if (!e.far || !e.near || e.far->cover.kind != FindingKind::tropia) return;
  const double far = e.far->cover.alternating.horizontal_pd;
  const double near = e.near->cover.alternating.horizontal_pd;
  if (far > -kExcessPd || near - far < kExcessPd) return;
  room.act(choose_target(habits.near_m, e, habits));
  begin_alternating(room);
  room.wait(kPatchMs);
  std::vector<Shown> shown;
  alternate(room, {}, Manner{}.transfers, shown);
  e.near_after_patch_pd = find_middle(shown).horizontal_pd;
  open_both(room, kRegainMs);
}

// A child that shuts an eye in the sun may have one that drifts out: how well it is held is watched
// before anything has dissociated the eyes.
bool suspects_drifting(Consulting& room) {
  return contains_any(room.find_answer("bright_light"), {"shut", "close", "squeeze"});
}

void watch_control(Consulting& room, WholeFinding& e, const Habits& habits) {
  const auto watch = [&](double distance_m) {
    room.act(choose_target(distance_m, e, habits));
    room.act(act::Instruct{Instruction::look});
    room.wait(kTurnToTargetMs);
    return watch_for_deviation(room, distance_m);
  };
  const double far_share = watch(6.0);
  const double near_share = watch(kControlNearM);
  const auto score = [&](double distance_m, double share) {
    room.act(choose_target(distance_m, e, habits));
    room.act(act::Instruct{Instruction::look});
    room.wait(kTurnToTargetMs);
    return find_control(room, distance_m, share);
  };
  e.control_far = score(6.0, far_share);
  e.control_near = score(kControlNearM, near_share);
}

// At near, the eyes open: what holds the eyes together where they deviate more than at distance, or
// where there is trouble and nothing else to show for it; the AC/A ratio where near is the more
// eso.
void test_further_at_near(Consulting& room, WholeFinding& e, const Habits& habits) {
  if (!e.near || !e.far || e.near->cover.kind == FindingKind::tropia ||
      e.far->cover.kind == FindingKind::tropia) {
    return;
  }
  const double near = e.near->cover.alternating.horizontal_pd;
  const double change = near - e.far->cover.alternating.horizontal_pd;
  const bool little = magnitude(near) < kLittlePd && magnitude(near - change) < kLittlePd;
  if (change <= -kDifferencePd || (e.has_trouble && little)) {
    e.near_point = find_near_point(room, choose_target(habits.near_m, e, habits));
    room.act(choose_target(habits.near_m, e, habits));
    room.wait(kTurnToTargetMs);
    e.base_out = measure_reserve(room, true);
    e.base_in = measure_reserve(room, false);
  }
  if (change >= kDifferencePd && habits.age_years < kPresbyopeYears) {
    e.ac_a_pd_per_d = measure_ac_a(room, {});
  }
}

}  // namespace

void examine_by_the_book(Consulting& room, const Habits& habits) {
  WholeFinding e;
  e.presbyope = habits.age_years >= kPresbyopeYears;
  e.may_drive = habits.age_years >= kDrivingYears;
  room.wait(500);
  take_history(room, e);
  e.wore_glasses = room.sees_spectacles();
  look_at_spectacles(room, habits, e);
  wear(room, e.owns_glasses);
  room.act(act::Instruct{Instruction::look});
  room.wait(kLookMs);
  look_at_lids(room, e);
  watch_near_reflex(room, e);
  straighten_head(room);

  if (suspects_drifting(room)) watch_control(room, e, habits);
  e.far = test_at(room, 6.0, e, habits);
  if (suspects_scotoma(e) && !find_sightless(e))
    e.four_dioptre = test_four_dioptres(room, kRepeatFourDioptre);
  if (habits.fault != Fault::no_near_test) e.near = test_at(room, habits.near_m, e, habits);
  test_further_at_near(room, e, habits);
  if (e.carries_prism) {
    Habits without = habits;
    without.owns_spectacles = false;
    e.bare = test_at(room, 6.0, e, without);
    wear(room, true);
  }
  if (const auto sightless = find_sightless(e)) {
    const auto by_reflexes = [&](double distance_m) {
      room.act(choose_target(distance_m, e, habits));
      return measure_by_reflexes(room, fellow(*sightless), distance_m);
    };
    e.reflexes_far = by_reflexes(6.0);
    e.reflexes_near = by_reflexes(habits.near_m);
  }

  if (e.plus && habits.age_years < kPresbyopeYears) e.without = test_without(room, e, habits);
  patch_and_measure(room, e, habits);
  if (asks_for_far_distance(room, e)) e.beyond = test_at(room, kFarDistanceM, e, habits);
  if (asks_to_look_around(room, e) && !find_sightless(e)) {
    room.act(choose_target(kDistanceM, e, habits));
    room.wait(kTurnToTargetMs);
    // As at that distance before: what was clear then is not asked again.
    if (room.trial_lens() != 0.0) room.act(act::TrialLenses{});
    wear(room, e.far->spectacles);
    e.around = look_around(room, {}, choose_target(6.0, e, habits), true);
  }
  if (tells_of_tiring(room)) {
    e.tires = tires_on_looking_up(room, {}, choose_target(6.0, e, habits));
  }

  for (const Finding& f : write_card(e)) {
    room.act(act::Note{f});
    room.wait(kWriteMs);
  }
}

}  // namespace redress::examiners
