// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/microsaccade.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

namespace redress::patient {

namespace {

constexpr double kSpontaneousMs = 1000.0;
constexpr double kLeastDeg = 0.2;
constexpr double kMostDeg = 0.4;
constexpr double kVerticalShare = 0.5;  // most are horizontal; how much: judgement
constexpr std::int32_t kHeldMs = 300;
constexpr std::size_t kSeenBeforeMs = 70;  // as of other saccades, see saccade.cpp
constexpr double kNoneBelowDeg = 0.05;

std::int32_t exponential_ms(double mean_ms, double uniform) {
  return static_cast<std::int32_t>(-mean_ms * elementary::logarithm(1.0 - uniform));
}

std::int32_t draw_gap(const Chance& chance, std::uint32_t event) {
  return exponential_ms(kSpontaneousMs / chance.noise,
                        random_uniform(chance.seed, Stream::spontaneous_microsaccade, event, 0));
}

Angles draw_spontaneous(const Chance& chance, std::uint32_t event) {
  const double size =
      kLeastDeg + (kMostDeg - kLeastDeg) *
                      random_uniform(chance.seed, Stream::spontaneous_microsaccade, event, 1);
  const double way = 2.0 * elementary::kPi *
                     random_uniform(chance.seed, Stream::spontaneous_microsaccade, event, 2);
  const double h = elementary::cosine(way);
  const double v = kVerticalShare * elementary::sine(way);
  const double scale = size / elementary::hypotenuse(h, v);
  return {scale * h, scale * v};
}

// Takes back what is left of the error, not quite to the point.
Angles draw_return(const Chance& chance, std::uint32_t event, const SaccadeState& c) {
  const double jitter_h = random_normal(chance.seed, Stream::microsaccade, event, 1);
  const double jitter_v = random_normal(chance.seed, Stream::microsaccade, event, 2);
  return {c.error_horizontal.back(kSeenBeforeMs) + 0.12 * chance.noise * jitter_h,
          c.error_vertical.back(kSeenBeforeMs) + 0.08 * chance.noise * jitter_v};
}

}  // namespace

void begin_microsaccades(const Chance& chance, InstabilityState& n) {
  n.spontaneous = 0;
  n.spontaneous_in_ms = chance.noise > 0.0 ? draw_gap(chance, 0) : 0;
}

void hold_microsaccades(InstabilityState& n) {
  if (n.microsaccade_in_ms < kHeldMs) n.microsaccade_in_ms = kHeldMs;
  if (n.spontaneous_in_ms < kHeldMs) n.spontaneous_in_ms = kHeldMs;
}

std::optional<Angles> step_microsaccades(const Parameters& p, const Chance& chance, State& s) {
  InstabilityState& n = s.instability;
  if (chance.noise <= 0.0) return std::nullopt;
  --n.spontaneous_in_ms;
  --n.microsaccade_in_ms;
  if (n.spontaneous_in_ms > 0 && n.microsaccade_in_ms > 0) return std::nullopt;
  if (n.microsaccade_in_ms <= 0) {
    const std::uint32_t event = n.microsaccades++;
    const double u = random_uniform(chance.seed, Stream::microsaccade, event, 0);
    n.microsaccade_in_ms = 300 + exponential_ms(900.0, u);
    const Angles step = draw_return(chance, event, s.saccade);
    const double size = elementary::hypotenuse(step.horizontal, step.vertical);
    if (size < kNoneBelowDeg || size > p.saccades.threshold_deg) return std::nullopt;
    return step;
  }
  const Angles step = draw_spontaneous(chance, ++n.spontaneous);
  n.spontaneous_in_ms = draw_gap(chance, n.spontaneous);
  if (s.unsteady.beats || s.pursuit.active) return std::nullopt;
  return step;
}

}  // namespace redress::patient
