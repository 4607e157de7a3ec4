// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/drill/movement.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/patient/parameters.hpp"
#include "sim/patient/saccade.hpp"

namespace redress::drill {

namespace {

// As in the patient: so much of the waveform's infinite tails is kept, in units of c/eta.
constexpr double kLead = 1.5;
constexpr double kTail = 3.0;

/// A hand from rest to rest (Flash & Hogan 1985), 0 ... 1.
double minimum_jerk(double share) {
  const double x = elementary::clamp(share, 0.0, 1.0);
  return x * x * x * (10 - 15 * x + 6 * x * x);
}

}  // namespace

double calc_saccade(double after_s, double amplitude_deg) {
  const patient::Saccades s;
  const double eta = s.asymptotic_speed_deg_s;
  const double c = s.amplitude_constant_deg;
  const double lead = kLead * c / eta;
  const double length = lead + amplitude_deg / eta + kTail * c / eta;
  const double t = elementary::clamp(after_s, 0.0, length);
  const double begin = patient::calc_saccade_waveform(-lead, amplitude_deg, eta, c);
  const double end = patient::calc_saccade_waveform(length - lead, amplitude_deg, eta, c);
  const double now = patient::calc_saccade_waveform(t - lead, amplitude_deg, eta, c);
  return amplitude_deg * (now - begin) / (end - begin);
}

Shown calc_shown(const Pair& pair, double at_ms) {
  Shown shown;
  shown.second = at_ms >= kCoverMs;
  shown.over = at_ms >= kPairMs;
  const double t = shown.second ? at_ms - kCoverMs : at_ms;
  constexpr double kCovered = kStillMs + kTravelMs;
  constexpr double kLifted = kCovered + kCoveredMs;
  shown.cover_share = minimum_jerk((t - kStillMs) / kTravelMs);
  if (t > kLifted) shown.cover_share = 1 - minimum_jerk((t - kLifted) / kTravelMs);
  if (shown.second != pair.second || t < kCovered) return shown;

  const double amplitude =
      elementary::arc_tangent(pair.size_pd / 100.0) * elementary::kDegreesPerRadian;
  // It counts from when the pupil is free: half of the way.
  const double free_ms = kLifted + kTravelMs / 2;
  const double done = calc_saccade((t - free_ms - kLatencyMs) / 1000.0, amplitude);
  const double left = amplitude - done;
  // It goes where the way says, so it stands off to the other side. Out is + for the right eye.
  switch (pair.way) {
    case Way::in: shown.horizontal_deg = left; break;
    case Way::out: shown.horizontal_deg = -left; break;
    case Way::up: shown.vertical_deg = -left; break;
    case Way::down: shown.vertical_deg = left; break;
  }
  return shown;
}

}  // namespace redress::drill
