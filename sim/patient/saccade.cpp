// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/saccade.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"
#include "sim/patient/microsaccade.hpp"
#include "sim/patient/muscles.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::exponential;
using elementary::hypotenuse;

namespace {

constexpr double kTickS = 0.001;
constexpr std::size_t kDeadTimeMs =
    70;  // the goal is what was seen this long ago (Becker & Juergens 1979: 80 to 100)
constexpr std::size_t kSlowLoopMs = 100;
constexpr double kSlowLoopRate = 1.5;       // 1/s
constexpr double kSlowLoopReach = 1.0;      // degrees: errors beyond it are left to saccades
constexpr std::int32_t kSoonMs = 300;       // after a saccade the next may be a corrective one
constexpr std::int32_t kMostFruitless = 3;  // corrections in a row that did not help
constexpr std::int32_t kStillTryingMs = 1500;
// An eye that lands less surely is less sure of the size as well: 0.12 in all with the scatter of
// 0.4 degrees of a poorly seeing one, so that it goes too far at times and searches (calibration).
constexpr double kGainSdPerDegree = 0.09 / 0.4;
constexpr double kGained = 0.97;     // of the error before: less than this and something was gained
constexpr double kAnotherDeg = 2.0;  // an error so different is another target's
constexpr double kSmallDeg = 2.0;    // smaller saccades do not fall short
constexpr double kLead = 1.5;        // of c/eta, cut from the head of the waveform
constexpr double kTail = 3.0;        // and kept after its nominal end

double rounding(double x) {
  return x >= 0.0 ? x + 0.25 * exponential(-2.0 * x) : 0.25 * exponential(2.0 * x);
}

std::int32_t to_ticks(double seconds) { return static_cast<std::int32_t>(seconds * 1000.0 + 0.5); }

// What is left soon after a saccade of some size is that saccade's to correct.
bool is_correction(const Parameters& p, const SaccadeState& c, double size) {
  return c.since_last_ms < kSoonMs && c.amplitude_deg > p.saccades.threshold_deg &&
         size < 0.5 * c.amplitude_deg;
}

double calc_latency(const Parameters& p, const Chance& chance, double size, const State& s) {
  const Saccades& k = p.saccades;
  const double n =
      chance.noise * random_normal(chance.seed, Stream::saccade_latency, s.saccade.count);
  if (is_correction(p, s.saccade, size)) {
    const double t = k.corrective_latency_s + k.corrective_latency_sd_s * n;
    return t > 0.09 ? t : 0.09;
  }
  const double rate = (1.0 + k.latency_rate_sd * n) / k.latency_s;
  const double latency = 1.0 / (rate > 1.5 ? rate : 1.5);
  return latency + p.sensory.latency_extra_s[s.fixation.eye];
}

void launch(const Parameters& p, double amplitude, Angles unit, SaccadeState& c) {
  const double eta = c.speed_deg_s;
  const double width = p.saccades.amplitude_constant_deg / eta;
  const double lead = kLead * width;
  c.moving = true;
  c.direction = unit;
  c.amplitude_deg = amplitude;
  c.elapsed_ms = 0;
  c.duration_ms = to_ticks(lead + amplitude / eta + kTail * width) + 1;
  const double k = p.saccades.amplitude_constant_deg;
  const double begin = calc_saccade_waveform(-lead, amplitude, eta, k);
  const double end =
      calc_saccade_waveform(static_cast<double>(c.duration_ms) * kTickS - lead, amplitude, eta, k);
  c.done = begin;
  c.scale = amplitude / (end - begin);
}

// Counts for itself: what the next saccade draws does not depend on how many of these there were.
void launch_microsaccade(const Parameters& p, Angles step, SaccadeState& c) {
  const double size = hypotenuse(step.horizontal, step.vertical);
  launch(p, size, {step.horizontal / size, step.vertical / size}, c);
  c.fixational = true;
}

void start_saccade(const Parameters& p, const Chance& chance, State& s) {
  SaccadeState& c = s.saccade;
  const double h = c.error_horizontal.back(kDeadTimeMs);
  const double v = c.error_vertical.back(kDeadTimeMs);
  const double size = hypotenuse(h, v);
  if (size < 0.8 * p.saccades.threshold_deg) return;
  double gain = size < kSmallDeg ? 1.0 : p.saccades.gain;
  const double n1 = random_normal(chance.seed, Stream::saccade_gain, c.count, 0);
  const double n2 = random_normal(chance.seed, Stream::saccade_gain, c.count, 1);
  const double scatter = p.sensory.landing_sd_deg[s.fixation.eye];
  const double gain_sd = p.saccades.gain_sd + kGainSdPerDegree * scatter;
  gain += chance.noise * (gain_sd * n1 + scatter / size * n2);
  const double person = random_normal(chance.seed, Stream::person, 2);
  c.speed_deg_s = p.saccades.asymptotic_speed_deg_s * (1.0 + 0.05 * chance.noise * person);
  c.error_before_deg = size;
  launch(p, (gain > 0.1 ? gain : 0.1) * size, {h / size, v / size}, c);
  c.fixational = false;
  ++c.count;
}

// An eye whose muscles do not get it to the target stops trying, until the target or the eye that
// fixes is another. Nothing to a healthy eye.
bool gives_up(Angles error, MuscleState& m) {
  if (!m.gave_up) return false;
  const double changed = hypotenuse(error.horizontal - m.out_of_reach.horizontal,
                                    error.vertical - m.out_of_reach.vertical);
  m.gave_up = changed < kAnotherDeg;
  return m.gave_up;
}

// A weak eye gains little by each correction, and goes on as long as it gains anything.
bool finds_out_of_reach(Angles error, double size, State& s) {
  SaccadeState& c = s.saccade;
  const bool again = c.since_last_ms < kStillTryingMs && size > kGained * c.error_before_deg;
  c.fruitless = again ? c.fruitless + 1 : 0;
  if (c.fruitless < kMostFruitless) return false;
  c.fruitless = 0;
  s.muscles.gave_up = true;
  s.muscles.out_of_reach = error;
  return true;
}

void decide(const Parameters& p, const Chance& chance, Angles error, State& s) {
  if (gives_up(error, s.muscles)) return;
  SaccadeState& c = s.saccade;
  const double size = hypotenuse(error.horizontal, error.vertical);
  if (c.decision_ms < 0) {
    if (size > p.saccades.threshold_deg) {
      // Three corrections in a row that did not help: the eye cannot get there, and stops trying.
      const bool hampered = is_hampered(p, s.fixation.eye);
      if (c.since_last_ms >= kSoonMs && !hampered) c.fruitless = 0;
      if (c.fruitless >= kMostFruitless) return;
      c.decision_ms = to_ticks(calc_latency(p, chance, size, s));
    } else if (!c.moving && c.since_last_ms >= kSoonMs) {
      if (const auto step = step_microsaccades(p, chance, s)) launch_microsaccade(p, *step, c);
    }
    return;
  }
  if (size < 0.8 * p.saccades.threshold_deg) {
    c.decision_ms = -1;
    return;
  }
  if (--c.decision_ms > 0) return;
  c.decision_ms = -1;
  if (is_hampered(p, s.fixation.eye)) {
    if (finds_out_of_reach(error, size, s)) return;
  } else {
    const bool correcting = c.since_last_ms < kSoonMs;
    const bool helped = size < 0.8 * c.error_before_deg;
    c.fruitless = correcting && !helped && !s.unsteady.beats ? c.fruitless + 1 : 0;
  }
  start_saccade(p, chance, s);
}

// A saccade is over for the next decision where its waveform nominally ends, half way down its
// speed: the tail that is left is shorter than any latency.
// The drift of a nystagmus is told from that tail only when it has run out.
std::int32_t calc_over_ms(const Parameters& p, const State& s) {
  const SaccadeState& c = s.saccade;
  if (s.unsteady.beats) return c.duration_ms;
  return c.duration_ms - to_ticks(kTail * p.saccades.amplitude_constant_deg / c.speed_deg_s);
}

void advance(const Parameters& p, State& s) {
  SaccadeState& c = s.saccade;
  ++c.elapsed_ms;
  const double lead = kLead * p.saccades.amplitude_constant_deg / c.speed_deg_s;
  const double at =
      calc_saccade_waveform(static_cast<double>(c.elapsed_ms) * kTickS - lead, c.amplitude_deg,
                            c.speed_deg_s, p.saccades.amplitude_constant_deg);
  const double made = (at - c.done) * c.scale;
  c.done = at;
  s.version.horizontal += made * c.direction.horizontal;
  if (s.muscles.in_force) raise_pulse(p, made * c.direction.horizontal, s);
  s.version.vertical += made * c.direction.vertical;
  if (!c.fixational && c.elapsed_ms == calc_over_ms(p, s)) c.since_last_ms = 0;
  if (c.elapsed_ms >= c.duration_ms) c.moving = false;
}

// What is still to come of a saccade counts as made (efference copy).
Angles calc_error_at_end(const Parameters& p, const SaccadeState& c, Angles error) {
  if (!c.moving || c.fixational) return error;
  const double lead = kLead * p.saccades.amplitude_constant_deg / c.speed_deg_s;
  const double begin = calc_saccade_waveform(-lead, c.amplitude_deg, c.speed_deg_s,
                                             p.saccades.amplitude_constant_deg);
  const double left = c.amplitude_deg - (c.done - begin) * c.scale;
  return {error.horizontal - left * c.direction.horizontal,
          error.vertical - left * c.direction.vertical};
}

}  // namespace

double calc_saccade_waveform(double t, double amplitude, double eta, double c) {
  return c * rounding(eta * t / c) - c * rounding((eta * t - amplitude) / c);
}

void step_saccade(const Parameters& p, const Chance& chance, Angles error, bool guided, State& s) {
  SaccadeState& c = s.saccade;
  if (guided) {
    c.error_horizontal.push(error.horizontal);
    c.error_vertical.push(error.vertical);
  } else {
    c.error_horizontal.push(c.error_horizontal.back(0));
    c.error_vertical.push(c.error_vertical.back(0));
  }
  if (c.since_last_ms < 1000000) ++c.since_last_ms;
  // A fixational saccade does not hold up the next decision.
  const bool busy = c.moving && !c.fixational && c.elapsed_ms < calc_over_ms(p, s);
  if (!busy && guided) decide(p, chance, calc_error_at_end(p, c, error), s);
  if (c.moving) {
    advance(p, s);
  } else if (guided &&
             !s.unsteady.beats) {  // the drift of a latent nystagmus is what is left of it
    const double h = c.error_horizontal.back(kSlowLoopMs);
    const double v = c.error_vertical.back(kSlowLoopMs);
    if (hypotenuse(h, v) < kSlowLoopReach) {
      s.version.horizontal += kSlowLoopRate * h * kTickS;
      s.version.vertical += kSlowLoopRate * v * kTickS;
    }
  }
  const GazeRange range = s.muscles.in_force
                              ? GazeRange{kGreatestCommand, kGreatestCommand, kGreatestCommand}
                              : p.range;
  s.version.horizontal = clamp(s.version.horizontal, -range.aside_deg, range.aside_deg);
  s.version.vertical = clamp(s.version.vertical, -range.down_deg, range.up_deg);
}

}  // namespace redress::patient
