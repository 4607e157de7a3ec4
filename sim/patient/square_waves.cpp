// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/square_waves.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

namespace redress::patient {

using elementary::clamp;

namespace {

constexpr std::int32_t kSaccadeMs = 22;  // of half a degree: 21 ms + 2.2 ms a degree
constexpr double kStayMs = 200.0;
constexpr double kStaySdMs = 30.0;
constexpr std::int32_t kLeastGapMs = 300;

std::int32_t draw_gap(const Unsteadiness& p, const Chance& chance, std::uint32_t event) {
  const double mean = 60000.0 / (p.square_waves_per_minute * chance.noise);
  const double u = random_uniform(chance.seed, Stream::square_wave, event, 0);
  const double more = mean > kLeastGapMs ? mean - kLeastGapMs : 0.0;
  return kLeastGapMs + static_cast<std::int32_t>(-more * elementary::logarithm(1.0 - u));
}

double stepped(double ms) {
  const double u = clamp(ms / kSaccadeMs, 0.0, 1.0);
  return u * u * u * (10.0 - 15.0 * u + 6.0 * u * u);
}

}  // namespace

void begin_square_waves(const Unsteadiness& p, const Chance& chance, UnsteadyState& s) {
  s.jerks = 0;
  s.jerk_ms = -1;
  s.jerk_in_ms =
      chance.noise > 0.0 && p.square_waves_per_minute > 0.0 ? draw_gap(p, chance, 0) : -1;
}

void step_square_waves(const Unsteadiness& p, const Chance& chance, UnsteadyState& s) {
  if (s.jerk_ms >= 0) {
    ++s.jerk_ms;
    const double stay =
        kStayMs +
        kStaySdMs * clamp(random_normal(chance.seed, Stream::square_wave, s.jerks, 2), -2.0, 2.0);
    const auto t = static_cast<double>(s.jerk_ms);
    s.jerk_deg = s.jerk_goal_deg * (stepped(t) - stepped(t - stay));
    if (t > stay + kSaccadeMs) {
      s.jerk_deg = 0.0;
      s.jerk_ms = -1;
      s.jerk_in_ms = draw_gap(p, chance, s.jerks);
    }
    return;
  }
  if (s.jerk_in_ms < 0 || --s.jerk_in_ms > 0) return;
  ++s.jerks;
  s.jerk_ms = 0;
  const bool right = random_uniform(chance.seed, Stream::square_wave, s.jerks, 6) < 0.5;
  const double n = clamp(random_normal(chance.seed, Stream::square_wave, s.jerks, 4), -2.0, 2.0);
  s.jerk_goal_deg = (right ? 1.0 : -1.0) * p.square_wave_deg * (1.0 + 0.2 * chance.noise * n);
}

}  // namespace redress::patient
