// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/fusion.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::magnitude;

namespace {

constexpr double kTickS = 0.001;
constexpr std::size_t kDelayMs = 160;    // 160 ms is "generally assumed" (Pobuda & Erkelens 1993)
constexpr std::int32_t kHoldMs = 100;    // before release begins; a blink passes within it
constexpr std::int32_t kUnlockMs = 250;  // without disparity, after which fusion must start anew
constexpr double kFollowReleaseS = 0.05;
constexpr double kGreatestSpeed = 40.0;   // deg/s
constexpr double kAdaptationRate = 0.01;  // 95 % in 3 to 6 min (Thiagarajan et al. 2010)
constexpr double kAdaptationDecayS = 300.0;
constexpr double kAdaptationShare = 0.6;
constexpr double kPrismToRotationMm = 27.0;  // back face of a prism to the centre of rotation
// What is regained at a label is regained at that very step of a bar: a solid prism turns the eye
// by a hair more than the formula for the near effect says.
constexpr double kAtTheStepPd = 0.03;
constexpr double kBlindLogmar = 1.6;  // an eye that sees no form feeds no fusion
constexpr double kFarNearness = 1.0 / 6.0;
constexpr double kNearNearness = 2.5;
constexpr double kFarDistanceNearness = 1.0 / 20.0;

// Denormal numbers are slow, and a library that flushes them would change the hash.
double settled(double v) { return magnitude(v) < 1e-9 ? 0.0 : v; }

double between(double far, double near, double share) { return far + (near - far) * share; }

// The eyes' turn behind a prism of this label: near effect P / (1 + s/l) (Brooks & Borish).
double turn_behind_prism(double label_pd, double nearness_d) {
  const double through = 1.0 - nearness_d * (kPrismToRotationMm / 1000.0);
  return to_degrees(PrismDioptres{label_pd * (through > 0.0 ? through : 0.0)}).value;
}

struct Direction {
  double break_deg;
  double recovery_deg;
  double blur_deg;
};

Direction reserve_here(const Reserve& far, const Reserve& near, double share, double nearness) {
  const auto turn = [&](double f, double n) {
    return turn_behind_prism(between(f, n, share), nearness);
  };
  // Where one distance has no blur before the break, the break stands in for it.
  const double far_blur = far.blur.value_or(far.break_point).value;
  const double near_blur = near.blur.value_or(near.break_point).value;
  return {turn(far.break_point.value, near.break_point.value),
          turn(far.recovery.value + kAtTheStepPd, near.recovery.value + kAtTheStepPd),
          turn(far_blur, near_blur)};
}

}  // namespace

double calc_accommodation_goal(const Accommodation& a, double demand_d, double detail) {
  return clamp(a.tonic_d + a.slope * detail * (demand_d - a.tonic_d), 0.0, a.amplitude_d);
}

double calc_resting_vergence(const Tonus& tonus, double nearness_d) {
  double extra = 0.0;
  const std::int32_t n = tonus.corrections;
  if (n > 0) {
    const auto& points = tonus.correction;
    if (nearness_d <= points[0].nearness_d) {
      extra = points[0].vergence_deg;
    } else if (nearness_d >= points[static_cast<std::size_t>(n - 1)].nearness_d) {
      extra = points[static_cast<std::size_t>(n - 1)].vergence_deg;
    } else {
      std::size_t i = 1;
      while (points[i].nearness_d < nearness_d) ++i;
      const TonusCorrection& a = points[i - 1];
      const TonusCorrection& b = points[i];
      const double share = (nearness_d - a.nearness_d) / (b.nearness_d - a.nearness_d);
      extra = between(a.vergence_deg, b.vergence_deg, share);
    }
  }
  return tonus.tonic_deg + tonus.proximal_deg_per_d * nearness_d + extra;
}

double calc_vergence_demand(double interpupillary_mm, double nearness_d) {
  return 2.0 * elementary::arc_tangent(interpupillary_mm / 2000.0 * nearness_d) *
         elementary::kDegreesPerRadian;
}

AtThisDistance calc_at_distance(const Parameters& p, double nearness_d) {
  AtThisDistance here;
  here.nearness_d = nearness_d;
  here.resting_deg = calc_resting_vergence(p.tonus, nearness_d);
  // Demand at the cornea, 13.5 mm before the centre of rotation from which distance is told.
  const double demand_d = nearness_d / (1.0 - 0.0135 * nearness_d);
  here.deviation_deg =
      here.resting_deg +
      p.tonus.ac_a_deg_per_d * calc_accommodation_goal(p.accommodation, demand_d, 1.0) -
      calc_vergence_demand(p.interpupillary_mm, nearness_d);

  const double share =
      clamp((nearness_d - kFarNearness) / (kNearNearness - kFarNearness), 0.0, 1.0);
  const Fusion& f = p.fusion;
  Direction out = reserve_here(f.distance.base_out, f.near.base_out, share, nearness_d);
  Direction in = reserve_here(f.distance.base_in, f.near.base_in, share, nearness_d);
  if (f.far_distance && nearness_d < kFarNearness) {
    const double beyond = clamp(
        (nearness_d - kFarDistanceNearness) / (kFarNearness - kFarDistanceNearness), 0.0, 1.0);
    out = reserve_here(f.far_distance->base_out, f.distance.base_out, beyond, nearness_d);
    in = reserve_here(f.far_distance->base_in, f.distance.base_in, beyond, nearness_d);
  }
  // A bar is read from the fused position, so the total on fusion there is what that position
  // already takes: an exophore who breaks at 21 base out holds 21 and the phoria.
  // Nearer than 40 cm nothing new is written: the total that can be held stays what it is there,
  // and a target brought nearer asks for more until it breaks (near point of convergence).
  const double anchor = nearness_d > kNearNearness
                            ? calc_at_distance(p, kNearNearness).deviation_deg
                            : here.deviation_deg;
  const double straight = f.anomaly_deg - anchor;
  here.break_high_deg = straight + out.break_deg;
  here.break_low_deg = straight - in.break_deg;
  here.recovery_high_deg = straight + out.recovery_deg;
  here.recovery_low_deg = straight - in.recovery_deg;
  here.blur_high_deg = straight + out.blur_deg;
  here.blur_low_deg = straight - in.blur_deg;

  const auto turn = [&](PrismDioptres label) { return turn_behind_prism(label.value, nearness_d); };
  const double level = -p.tonus.vertical_deg;
  here.vertical_break_high_deg = level + turn(f.right_supra_break);
  here.vertical_break_low_deg = level - turn(f.right_infra_break);
  here.vertical_recovery_high_deg = level + turn(f.right_supra_recovery);
  here.vertical_recovery_low_deg = level - turn(f.right_infra_recovery);

  // Reflex fusion starts from 3 to 5 degrees for a small target, more for large ones (Stevenson,
  // Lott & Yang 1997, from memory). The patient's own deviation is always within reach, and so is
  // what the typed recoveries say that this patient regains.
  const auto larger = [](double a, double b) { return a > b ? a : b; };
  here.greatest_disparity_deg =
      larger(larger(6.0, 1.1 * magnitude(straight)),
             1.1 * larger(here.recovery_high_deg, -here.recovery_low_deg));
  return here;
}

bool within_break(const AtThisDistance& here, double demand_deg, double vertical_deg) {
  return demand_deg <= here.break_high_deg && demand_deg >= here.break_low_deg &&
         vertical_deg <= here.vertical_break_high_deg &&
         vertical_deg >= here.vertical_break_low_deg;
}

bool within_recovery(const AtThisDistance& here, double demand_deg, double vertical_deg) {
  return demand_deg <= here.recovery_high_deg && demand_deg >= here.recovery_low_deg &&
         vertical_deg <= here.vertical_recovery_high_deg &&
         vertical_deg >= here.vertical_recovery_low_deg;
}

namespace {

// A small central scotoma: the image of the eye that suppresses, once vergence has arrived, may
// move about inside it and no disparity is felt (Lang 1974; Parks 1969).
bool hidden_in_scotoma(const Parameters& p, const Sight& sight, const State& s) {
  const Eye other = fellow(s.fixation.eye);
  const Angles e = sight.error[other];
  const double reach = p.sensory.scotoma_reach_deg[other];
  return e.horizontal * e.horizontal + e.vertical * e.vertical < reach * reach;
}

void step_adaptation(const Parameters& p, const Chance& chance, bool held, State& s) {
  FusionState& f = s.fusion;
  if (!chance.slow_adaptation) return;
  if (held) {
    const double uncorrected = s.here.deviation_deg - p.fusion.habitual_prism_deg;
    const double habitual = kFusionGain * (p.fusion.anomaly_deg - uncorrected);
    const double change = (f.fast_deg + f.slow_deg + s.control.tenacious_deg) - habitual;
    // So much is aimed at that, with what is lost on the way, the share is what it comes to.
    constexpr double kAim = kAdaptationShare * (1.0 + 1.0 / (kAdaptationRate * kAdaptationDecayS));
    const double gained = kAdaptationRate * (kAim * change - f.slow_deg);
    f.slow_deg += (gained - f.slow_deg / kAdaptationDecayS) * kTickS;
  } else {
    f.slow_deg -= f.slow_deg / kAdaptationDecayS * kTickS;
  }
  f.slow_deg = settled(f.slow_deg);
}

}  // namespace

void step_fusion(const Parameters& p, const Sight& sight, const Chance& chance, State& s) {
  FusionState& f = s.fusion;
  const AtThisDistance& here = s.here;
  const bool form =
      p.sensory.acuity_logmar.right < kBlindLogmar && p.sensory.acuity_logmar.left < kBlindLogmar;
  const bool attends = s.instability.lapse_ms <= 0;
  const bool input = sight.both_seen && p.fusion.present && form && attends;

  f.disparity.push(sight.disparity_deg);
  f.total.push(f.fast_deg + f.slow_deg + s.control.tenacious_deg);
  f.vertical_disparity.push(sight.vertical_disparity_deg);
  f.vertical_total.push(f.vertical_deg);
  f.seen.push(input ? 1.0 : 0.0);
  f.seen_ms = input ? (f.seen_ms < 1000000 ? f.seen_ms + 1 : f.seen_ms) : 0;

  const bool felt = f.seen.back(kDelayMs) > 0.5;
  const double disparity = f.disparity.back(kDelayMs);
  const double demand = disparity + f.total.back(kDelayMs);
  const double vertical_demand =
      f.vertical_disparity.back(kDelayMs) + f.vertical_total.back(kDelayMs);
  if (felt) {
    if (f.locked) {
      f.locked = within_break(here, demand, vertical_demand);
    } else {
      // An effort (told to look, or after a blink) brings back what can be held at all.
      const bool reaches = s.instability.effort_ms > 0
                               ? within_break(here, demand, vertical_demand)
                               : within_recovery(here, demand, vertical_demand);
      // A glimpse shorter than the delay starts nothing: covers can be moved across.
      const bool lasting = f.seen_ms >= static_cast<std::int32_t>(kDelayMs);
      const bool rested =
          !s.control.in_force || s.instability.effort_ms > 0 || has_waited(s.control);
      f.locked = lasting && rested && reaches && magnitude(disparity) < here.greatest_disparity_deg;
    }
    if (!f.locked) f.settled = false;
  }

  const bool held = felt && f.locked;
  if (held) {
    f.invalid_ms = 0;
    const bool hidden = f.settled && hidden_in_scotoma(p, sight, s);
    if (!hidden) {
      f.demand_deg = kFusionGain * clamp(demand, here.break_low_deg, here.break_high_deg) -
                     f.slow_deg - s.control.tenacious_deg;
      f.vertical_demand_deg = kFusionGain * clamp(vertical_demand, here.vertical_break_low_deg,
                                                  here.vertical_break_high_deg);
      f.settled = magnitude(disparity) < 0.2 + 0.04 * magnitude(demand);
    }
  } else {
    if (f.invalid_ms < 1000000) ++f.invalid_ms;
    if (f.invalid_ms > kHoldMs) {
      f.demand_deg = settled(f.demand_deg - f.demand_deg * (kTickS / p.fusion.release_s));
      f.vertical_demand_deg =
          settled(f.vertical_demand_deg - f.vertical_demand_deg * (kTickS / p.fusion.release_s));
    }
    if (f.invalid_ms > kUnlockMs) {
      f.locked = false;
      f.settled = false;
    }
  }

  const double tau = held ? p.fusion.recovery_s : kFollowReleaseS;
  f.fast_deg =
      settled(f.fast_deg +
              clamp((f.demand_deg - f.fast_deg) / tau, -kGreatestSpeed, kGreatestSpeed) * kTickS);
  const double vertical_tau = held ? p.fusion.vertical_recovery_s : kFollowReleaseS;
  f.vertical_deg =
      settled(f.vertical_deg + (f.vertical_demand_deg - f.vertical_deg) * (kTickS / vertical_tau));
  step_adaptation(p, chance, held, s);
}

}  // namespace redress::patient
