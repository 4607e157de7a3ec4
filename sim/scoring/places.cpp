// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The places at which a case wants the eyes tested: in what state they were tested there, and what
// is there in that state.
#include <algorithm>
#include <utility>

#include "sim/basics/elementary.hpp"
#include "sim/patient/poor_sight.hpp"
#include "sim/patient/sight.hpp"
#include "sim/scoring/examined.hpp"
#include "sim/scoring/judged.hpp"
#include "sim/scoring/rubric.hpp"
#include "sim/truth/conditions.hpp"
#include "sim/truth/dissociated.hpp"
#include "sim/truth/reading.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::CoverSpan;
using findings::PrismStep;
using findings::Setting;

namespace {

constexpr double kFarDistanceM = 20.0;
constexpr double kFarDifferencePd = 5.0;  // rubric: the far distance is called for from here on
// Sight is clear if blur costs no more than one line (judgement).
constexpr double kClearLogmar = 0.1;
// From the least gaze at which the near part of a lens is looked through.
constexpr double kReadingRoomDeg = 2.0;
constexpr double kLowestDeg = 45.0;
constexpr double kSameGazeDeg = 5.0;
constexpr double kNearM = 0.55;

Place make_place(std::string name, double nominal_m, double low_m, double high_m) {
  Place p;
  p.name = std::move(name);
  p.nominal_m = p.used_m = nominal_m;
  p.low_m = low_m;
  p.high_m = high_m;
  return p;
}

/// What blur that accommodation cannot remove costs the worse eye, logMAR.
double calc_loss(const ExaminationSetup& setup, const RoomState& room) {
  const patient::Retinas retinas = calc_retinas(setup.room, room);
  double worst = 0.0;
  for (const Eye eye : kBothEyes) {
    const patient::RetinalImage& image = retinas.image[eye];
    worst = std::max(worst,
                     patient::calc_blur_loss(setup.patient.accommodation, image, image.demand_d));
  }
  return worst;
}

// Those that the patient owns, unless they are for another distance: reading glasses at 6 m.
bool should_wear_spectacles(const ExaminationSetup& setup, double distance_m) {
  if (!setup.room.spectacles_owned) return false;
  act::ShowTarget target;
  target.distance_m = distance_m;
  PerEye<double> loss{};  // right: worn, left: not
  for (const bool worn : {true, false}) {
    RoomState room = opening_room(setup.room, target);
    apply_act(setup.room, act::Spectacles{worn}, 0, room);
    (worn ? loss.right : loss.left) = calc_loss(setup, room);
  }
  return loss.right <= loss.left + kClearLogmar;
}

bool is_clear(const ExaminationSetup& setup, const CoverSpan& span) {
  if (setup.patient.accommodation.spasm_d > 0.0) {
    // What a lens in spasm blurs comes and goes, and no correction is at fault: asked is what the
    // one that is worn would blur without it.
    act::ShowTarget target;
    target.distance_m = span.setting.distance_m;
    RoomState room = opening_room(setup.room, target);
    apply_act(setup.room, act::Spectacles{span.setting.spectacles}, 0, room);
    if (span.setting.lenses) {
      apply_act(setup.room, act::TrialLenses{span.setting.lenses_d}, 0, room);
    }
    return calc_loss(truth::without_spasm(setup), room) <= kClearLogmar;
  }
  const auto& acuity = setup.patient.sensory.acuity_logmar;
  return std::max(span.threshold_logmar.right - acuity.right,
                  span.threshold_logmar.left - acuity.left) <= kClearLogmar;
}

bool same_lenses(const PerEye<double>& a, const PerEye<double>& b) {
  return a.right == b.right && a.left == b.left;
}

// The state of the covers at this place that counts: the head straight, or a near target lowered to
// be read through an addition, before a head held askew (which is how it is found: what is seen
// then is compared with what is there then); clear sight before blurred; the correction to be worn
// before another or trial lenses; the distance called for before one like it.
void find_used(const findings::Evidence& evidence, const ExaminationSetup& setup, Place& p) {
  p.used_spectacles = p.right_spectacles;
  const CoverSpan* best = nullptr;
  int best_rank = -1;
  for (const CoverSpan& span : evidence.covers) {
    const Setting& s = span.setting;
    if (s.distance_m < p.low_m || s.distance_m > p.high_m) continue;
    if (!is_for_cover_test(setup, s)) continue;
    const bool usual = s.spectacles == p.right_spectacles && !s.lenses;
    const int rank = (s.own_posture ? 0 : 8) + (is_clear(setup, span) ? 4 : 0) + (usual ? 2 : 0) +
                     (findings::is_same_distance(s.distance_m, p.nominal_m) ? 1 : 0);
    if (rank > best_rank) {
      best = &span;
      best_rank = rank;
    }
  }
  if (best == nullptr) return;
  const Setting& s = best->setting;
  p.used_m = s.distance_m;
  p.used_spectacles = s.spectacles;
  p.used_lenses_d = s.lenses_d;
  p.own_posture = s.own_posture;
  if (!s.straight && !s.own_posture) p.used_gaze_deg = s.gaze_vertical_deg;
  p.right_correction =
      is_clear(setup, *best) ? s.lenses || s.spectacles == p.right_spectacles : false;
}

bool same_state(const Place& a, const Place& b) {
  return a.used_m == b.used_m && a.used_spectacles == b.used_spectacles &&
         same_lenses(a.used_lenses_d, b.used_lenses_d) && a.used_gaze_deg == b.used_gaze_deg &&
         a.own_posture == b.own_posture;
}

truth::Condition find_there(const Examined& x, const Place& p, Eye fixing,
                            const Examined* alike = nullptr) {
  const bool plain = !p.own_posture && p.used_gaze_deg == 0.0 && same_lenses(p.used_lenses_d, {});
  if (plain) {
    for (const truth::Condition& c : x.truth.conditions) {
      if (magnitude(c.distance_m - p.used_m) < 1e-9 && c.spectacles == p.used_spectacles &&
          c.fixing == fixing) {
        return c;
      }
    }
  }
  if (alike != nullptr) {
    for (const Place& known : alike->places) {
      if (same_state(known, p)) return known.there[fixing];
    }
  }
  return truth::calc_condition(x.setup, p.as_used(), fixing);
}

void fill_place(const Examined& x, const Examined* alike, Place& p) {
  find_used(x.evidence, x.setup, p);
  for (const CoverSpan& span : x.evidence.covers) {
    if (p.is_used_at(span.setting)) p.covers.push_back(&span);
  }
  for (const PrismStep& step : x.evidence.prisms) {
    if ((step.transfers > 0 || step.with_cover) && p.is_used_at(step.setting)) {
      p.steps.push_back(&step);
    }
  }
  for (const Eye eye : kBothEyes) p.there[eye] = find_there(x, p, eye, alike);
  p.cover_entry =
      findings::find_entry(x.card, FindingTest::cover_test, p.used_m, p.used_spectacles);
  p.prism_entry =
      findings::find_entry(x.card, FindingTest::prism_cover, p.used_m, p.used_spectacles);
}

void fill_let_go(const Examined& x, Place& p) {
  if (x.setup.patient.accommodation.spasm_d <= 0.0) return;
  const ExaminationSetup calm = truth::without_spasm(x.setup);
  p.let_go.emplace();
  for (const Eye eye : kBothEyes) {
    (*p.let_go)[eye] = truth::calc_condition(calm, p.used_m, p.used_spectacles, eye, p.own_posture);
  }
}

// Krimsky: prism before the eye that sees, until the other's reflex is central.
void fill_reflexes(const Examined& x, Place& p) {
  constexpr Tick kPenlightMs = 2000;
  const auto& acuity = x.setup.patient.sensory.acuity_logmar;
  if (std::max(acuity.right, acuity.left) < patient::kNoFormLogmar) return;
  p.by_reflexes = x.evidence.penlight_ms >= kPenlightMs;
  for (const PrismStep& step : x.evidence.prisms) {
    if (step.open && step.transfers == 0 && p.is_used_at(step.setting)) {
      p.open_steps.push_back(&step);
    }
  }
}

// What moves under a cover is what a prism would have to neutralise: behind spectacles that carry
// the deviation, and where an eye fixes beside its centre by as much as it deviates, nothing does.
int rank_of(const truth::Condition& c) {
  const bool seen =
      magnitude(c.neutralising_horizontal_pd.value_or(c.horizontal_pd)) >= kSeenHorizontalPd ||
      magnitude(c.neutralising_vertical_pd.value_or(c.vertical_pd)) >= kSeenVerticalPd;
  if (!seen) return 0;
  switch (c.manifest) {
    case truth::Manifest::constant: return 3;
    case truth::Manifest::intermittent: return 2;
    case truth::Manifest::none: break;
  }
  return 1;
}

bool needs_far_distance(const truth::Condition& six, const truth::Condition& far) {
  return six.manifest != far.manifest ||
         magnitude(six.horizontal_pd - far.horizontal_pd) >= kFarDifferencePd;
}

}  // namespace

bool is_for_cover_test(const ExaminationSetup& setup, const Setting& s) {
  if (s.straight || s.own_posture) return true;
  // A target lowered, or a chin raised, until the near part is looked through.
  const bool lowered = s.spectacles && s.distance_m <= kNearM &&
                       magnitude(s.gaze_horizontal_deg) <= kReadingRoomDeg &&
                       magnitude(s.roll_deg) <= kReadingRoomDeg &&
                       s.gaze_vertical_deg >= -kLowestDeg;
  if (!lowered) return false;
  const auto reading = truth::find_reading_gaze(setup, s.distance_m, Eye::right);
  return reading && s.gaze_vertical_deg <= *reading + kReadingRoomDeg;
}

bool Place::is_seen() const { return rank_of(there.right) > 0; }
int Place::rank() const { return rank_of(there.right); }

bool Place::is_used_at(const Setting& s) const {
  const bool same = findings::is_same_distance(s.distance_m, used_m) &&
                    s.spectacles == used_spectacles && same_lenses(s.lenses_d, used_lenses_d);
  if (!same) return false;
  if (own_posture) return s.own_posture;
  if (used_gaze_deg == 0.0) return s.straight;
  return !s.own_posture && magnitude(s.gaze_vertical_deg - used_gaze_deg) <= kSameGazeDeg &&
         magnitude(s.gaze_horizontal_deg) <= kSameGazeDeg && magnitude(s.roll_deg) <= kSameGazeDeg;
}

Opening Place::as_used() const {
  Opening opening;
  opening.target = truth::plain_target(used_m, 0.0, used_gaze_deg);
  opening.spectacles = used_spectacles;
  opening.lenses_d = used_lenses_d;
  opening.own_posture = own_posture;
  return opening;
}

Place find_place_of(const Examined& x, const findings::WrittenFinding& entry) {
  for (const Place& place : x.places) {
    if (place.cover_entry == &entry || place.prism_entry == &entry) return place;
  }
  const Finding& f = entry.finding;
  const double distance_m = f.distance_m.value_or(x.places.front().used_m);
  Place p = make_place("", distance_m, distance_m, distance_m);
  p.used_spectacles = f.spectacles.value_or(should_wear_spectacles(x.setup, distance_m));
  for (const CoverSpan& span : x.evidence.covers) {
    if (p.is_used_at(span.setting)) p.covers.push_back(&span);
  }
  for (const PrismStep& step : x.evidence.prisms) {
    if ((step.transfers > 0 || step.with_cover) && p.is_used_at(step.setting)) {
      p.steps.push_back(&step);
    }
  }
  for (const Eye eye : kBothEyes) p.there[eye] = find_there(x, p, eye);
  fill_let_go(x, p);
  return p;
}

Examined::Examined(const Case& c, const ExaminationSetup& s, findings::Evidence e,
                   const truth::Truth& t, const Examined* alike)
    : the_case(c),
      setup(s),
      truth(t),
      evidence(std::move(e)),
      card(findings::make_card(evidence.notes)) {
  // Rooms of 3 m and more are used for the distance test; within arm's reach is near.
  places.push_back(make_place("6 m", 6.0, 2.5, 9.0));
  places.push_back(make_place("near", c.patient.near_working_distance.value, 0.25, kNearM));
  for (Place& place : places) {
    place.right_spectacles = should_wear_spectacles(s, place.nominal_m);
  }
  const auto there = [&](double distance_m) {
    Place plain = make_place("", distance_m, distance_m, distance_m);
    plain.used_spectacles = places.front().right_spectacles;
    return find_there(*this, plain, Eye::right);
  };
  if (needs_far_distance(there(6.0), there(kFarDistanceM))) {
    places.push_back(make_place("far distance", kFarDistanceM, 9.0, 1000.0));
    places.back().right_spectacles = places.front().right_spectacles;
  }
  for (Place& place : places) {
    fill_place(*this, alike, place);
    fill_reflexes(*this, place);
    fill_let_go(*this, place);
  }
  // 6 m is the main distance unless the deviation is of a worse class elsewhere.
  for (std::size_t i = 1; i < places.size(); ++i) {
    if (places[i].rank() > places[main_place].rank()) main_place = i;
  }
}

}  // namespace redress::scoring
