// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/instability.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"
#include "sim/patient/microsaccade.hpp"

namespace redress::patient {

using elementary::logarithm;
using elementary::magnitude;
using elementary::square_root;

namespace {

constexpr double kTickS = 0.001;
constexpr double kDriftS = 0.04;
constexpr double kWanderS = 0.4;      // of an eye whose target cannot be made out
constexpr double kWanderSpeed = 1.5;  // deg/s; with the pull below, about 1 degree rms
constexpr double kWanderPull = 0.9;   // 1/s, back to where the target was lost
constexpr double kVergenceS = 4.0;
constexpr double kHippusS = 0.6;
constexpr double kHippusMm = 0.055;  // 0.1 to 0.3 mm from peak to peak (Stark)
constexpr std::int32_t kBlinkMs = 300;
constexpr std::int32_t kLeastGapMs = 500;
constexpr std::int32_t kEffortMs = 2000;
constexpr std::int32_t kAttentiveMs = 8000;  // after "look at the letter" (judgement)
constexpr double kGlanceScatterDeg = 2.0;    // a face is no point: judgement
constexpr double kLapsesPerMinute = 10.0;    // at attention 0 (practice: 2 to 6 at 0.5)

std::int32_t exponential_ms(double mean_ms, double uniform) {
  return static_cast<std::int32_t>(-mean_ms * logarithm(1.0 - uniform));
}

std::int32_t draw_blink_gap(const Parameters& p, const Chance& chance, std::uint32_t event) {
  const double mean = 60000.0 / (p.instability.blinks_per_minute * chance.noise);
  return kLeastGapMs +
         exponential_ms(mean - kLeastGapMs, random_uniform(chance.seed, Stream::blink, event, 0));
}

std::int32_t draw_lapse_gap(const Parameters& p, const Chance& chance, std::uint32_t event) {
  const double rate = kLapsesPerMinute * (1.0 - p.instability.attention) * chance.noise;
  if (rate <= 0.0) return -1;
  return 1000 +
         exponential_ms(60000.0 / rate, random_uniform(chance.seed, Stream::attention, event, 0));
}

void step_blink(const Parameters& p, const Chance& chance, InstabilityState& n) {
  if (n.blink_ms >= 0) {
    if (++n.blink_ms >= kBlinkMs) {
      n.blink_ms = -1;
      // A blink sometimes completes the recovery of an eye that does not come back by itself.
      if (random_uniform(chance.seed, Stream::blink, n.blinks, 2) < 0.15) {
        n.effort_ms = n.effort_ms > 400 ? n.effort_ms : 400;
      }
    }
    return;
  }
  if (chance.noise <= 0.0 || p.instability.blinks_per_minute <= 0.0) return;
  if (--n.blink_in_ms > 0) return;
  ++n.blinks;
  n.blink_ms = 0;
  // Half of all blinks are partial (Ousler 2014: 53 %).
  const double depth = random_uniform(chance.seed, Stream::blink, n.blinks, 1);
  n.blink_depth = depth < 0.5 ? 1.0 : 0.45 + 0.8 * (depth - 0.5);
  n.blink_in_ms = kBlinkMs + draw_blink_gap(p, chance, n.blinks);
}

void step_attention(const Parameters& p, const Retinas& retinas, const Chance& chance,
                    InstabilityState& n) {
  if (n.effort_ms > 0) --n.effort_ms;
  if (retinas.urged != n.urged) {
    n.urged = retinas.urged;
    n.effort_ms = kEffortMs;
    n.lapse_ms = 0;
    if (n.lapse_in_ms >= 0 && n.lapse_in_ms < kAttentiveMs) n.lapse_in_ms = kAttentiveMs;
  }
  if (n.lapse_ms > 0) {
    if (--n.lapse_ms == 0) n.lapse_in_ms = draw_lapse_gap(p, chance, n.lapses);
    return;
  }
  if (n.lapse_in_ms < 0 || --n.lapse_in_ms > 0) return;
  ++n.lapses;
  const double length = random_uniform(chance.seed, Stream::attention, n.lapses, 1);
  const double side = random_uniform(chance.seed, Stream::attention, n.lapses, 2);
  const double far = random_uniform(chance.seed, Stream::attention, n.lapses, 3);
  n.lapse_ms = 800 + static_cast<std::int32_t>(1700.0 * length);
  const double angle = 2.0 * elementary::kPi * side;
  if (retinas.attractive > 0) {
    // The examiner or what is held there (practice: judgement), not always the same spot of it.
    const double which = random_uniform(chance.seed, Stream::attention, n.lapses, 4);
    const auto choice = static_cast<std::size_t>(which * retinas.attractive);
    const double off = kGlanceScatterDeg * far;
    n.glance = {retinas.attractions[choice].horizontal + off * elementary::cosine(angle),
                retinas.attractions[choice].vertical + off * elementary::sine(angle)};
    return;
  }
  const double size = 5.0 + 8.0 * far;
  n.glance = {size * elementary::cosine(angle), 0.6 * size * elementary::sine(angle)};
}

// Ornstein-Uhlenbeck processes, all from one draw of 64 bits at each tick.
void step_drift(const Parameters& p, const Sight& sight, const Chance& chance, State& s) {
  if (chance.noise <= 0.0) return;
  InstabilityState& n = s.instability;
  const std::uint64_t bits =
      random_bits(chance.seed, Stream::drift, static_cast<std::uint64_t>(s.tick));
  const auto uniform = [bits](unsigned part) {  // mean 0, variance 1
    return (static_cast<double>((bits >> (16U * part)) & 0xFFFFU) - 32767.5) * (1.0 / 18918.61);
  };
  const auto step_process = [](double value, double goal_sd, double tau_s, double draw) {
    const double f = kTickS / tau_s;
    return value - f * value + goal_sd * square_root(2.0 * f) * draw;
  };
  const bool lost = !sight.resolved.right && !sight.resolved.left;
  const double speed = chance.noise * (lost ? kWanderSpeed : p.instability.drift_speed_deg_s);
  const double tau = lost ? kWanderS : kDriftS;
  n.drift_speed.horizontal = step_process(n.drift_speed.horizontal, speed, tau, uniform(0));
  n.drift_speed.vertical = step_process(n.drift_speed.vertical, speed, tau, uniform(1));
  n.vergence_deg = step_process(n.vergence_deg, chance.noise * p.instability.vergence_sd_deg,
                                kVergenceS, uniform(2));
  s.pupil.hippus_mm =
      step_process(s.pupil.hippus_mm, chance.noise * kHippusMm, kHippusS, uniform(3));
  s.version.horizontal += n.drift_speed.horizontal * kTickS;
  s.version.vertical += n.drift_speed.vertical * kTickS;
  // A blink loses nothing; what cannot be made out is not found either, however long it is there.
  if (lost && !sight.none_seen && !n.lost) n.lost_at = s.version;
  if (!sight.none_seen) n.lost = lost;
  if (n.lost) {
    s.version.horizontal += kWanderPull * (n.lost_at.horizontal - s.version.horizontal) * kTickS;
    s.version.vertical += kWanderPull * (n.lost_at.vertical - s.version.vertical) * kTickS;
  }
}

}  // namespace

void begin_instability(const Parameters& p, const Chance& chance, State& s) {
  InstabilityState& n = s.instability;
  if (chance.noise > 0.0 && p.instability.blinks_per_minute > 0.0) {
    n.blink_in_ms = draw_blink_gap(p, chance, 0);
  }
  n.lapse_in_ms = draw_lapse_gap(p, chance, 0);
  begin_microsaccades(chance, n);
}

void step_instability(const Parameters& p, const Retinas& retinas, const Sight& sight,
                      const Chance& chance, State& s) {
  step_blink(p, chance, s.instability);
  step_attention(p, retinas, chance, s.instability);
  step_drift(p, sight, chance, s);
}

}  // namespace redress::patient
