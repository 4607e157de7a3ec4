// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/nystagmus.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::magnitude;

namespace {

constexpr double kTickS = 0.001;
constexpr double kLatentS = 0.5;
constexpr double kGateS = 0.1;          // judgement: it turns round within half a second
constexpr double kTranslucent = 0.75;   // of the pull; gives amplitudes of about two thirds
constexpr double kSuppressed = 0.35;    // judgement
constexpr double kFormlessLight = 0.5;  // of the room's: more than this comes through
constexpr double kBeatsPull = 0.1;      // degrees

constexpr double kFullFromNullDeg = 20.0;
constexpr double kLeastShare = 0.15;  // near the null
constexpr double kNullHalfWidthDeg = 2.0;
// Convergence dampens it (from memory); by half at 20 cm: judgement.
constexpr double kDamped = 0.5;
constexpr double kFarVergenceDeg = 1.0;
constexpr double kNearVergenceDeg = 16.0;
constexpr double kGrowth = 2.5;  // e-foldings in a slow phase: it starts at a twelfth of its end

// How strongly the pull acts: 1 with one eye covered.
double calc_gate(const Retinas& retinas, const FixationState& x) {
  const bool right = retinas.image.right.present;
  const bool left = retinas.image.left.present;
  if (right != left) {
    const Eye covered = right ? Eye::left : Eye::right;
    return retinas.light[covered] > kFormlessLight ? kTranslucent : 1.0;
  }
  if (!right) return 0.0;
  return kSuppressed * x.suppression[fellow(x.eye)];
}

}  // namespace

double step_latent_nystagmus(const Unsteadiness& p, const Retinas& retinas, const Sight& sight,
                             const FixationState& x, UnsteadyState& s) {
  const double size = p.latent_nystagmus_deg;
  const double gate = calc_gate(retinas, x);
  const double goal = -side_of(x.eye) * size * gate;
  s.latent_pull_deg += (goal - s.latent_pull_deg) * (kTickS / kGateS);
  if (magnitude(goal - s.latent_pull_deg) < 1e-9) s.latent_pull_deg = goal;
  s.beats = magnitude(s.latent_pull_deg) > kBeatsPull;
  if (!s.beats) return 0.0;
  // Far from the target (a glance elsewhere) the drift is what it would be near it.
  const double past = clamp(-sight.error[x.eye].horizontal, -size, size);
  return (s.latent_pull_deg - gate * past) * (kTickS / kLatentS);
}

void step_infantile_nystagmus(const Unsteadiness& p, double gaze_deg, double vergence_deg,
                              UnsteadyState& s) {
  const auto period_ms = static_cast<std::int32_t>(1000.0 / p.infantile_hz + 0.5);
  ++s.infantile_ms;
  if (s.infantile_ms <= 0) {
    // The quick phase, in minimum jerk; it ends where the next slow phase begins.
    const double a = magnitude(s.infantile_goal_deg - s.infantile_start_deg);
    const double duration = 21.0 + 2.2 * a;  // ms: Carpenter 1988, from memory
    const double u = clamp(1.0 + static_cast<double>(s.infantile_ms) / duration, 0.0, 1.0);
    const double share = u * u * u * (10.0 - 15.0 * u + 6.0 * u * u);
    s.infantile_deg = s.infantile_goal_deg + (s.infantile_start_deg - s.infantile_goal_deg) * share;
    if (s.infantile_ms == 0) s.infantile_deg = s.infantile_start_deg;
    return;
  }
  const double growth = kGrowth * p.infantile_hz;
  s.infantile_deg += growth * s.infantile_deg * kTickS;
  if (s.infantile_ms < period_ms) return;
  // The next slow phase, towards the null.
  const double off = p.infantile_null_deg - gaze_deg;
  const double share = (1.0 - kLeastShare) * clamp(off / kFullFromNullDeg, -1.0, 1.0) +
                       kLeastShare * clamp(off / kNullHalfWidthDeg, -1.0, 1.0);
  s.infantile_goal_deg = s.infantile_deg;
  const double converged = clamp((vergence_deg - kFarVergenceDeg) / kNearVergenceDeg, 0.0, 1.0);
  s.infantile_start_deg =
      p.infantile_deg * (1.0 - kDamped * converged) * share * elementary::exponential(-kGrowth);
  const double a = magnitude(s.infantile_goal_deg - s.infantile_start_deg);
  s.infantile_ms = -static_cast<std::int32_t>(21.0 + 2.2 * a);
}

}  // namespace redress::patient
