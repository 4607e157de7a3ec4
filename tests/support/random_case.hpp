// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Patients drawn from all that a case may say of eyes, so that a property is held against more than
// the patients that somebody thought of. Same seed, same patient.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <random>
#include <string>

#include "sim/cases/case_file.hpp"

namespace redress::tests {

class PatientDice {
 public:
  explicit PatientDice(std::uint32_t seed) : dice_(seed) {}

  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(dice_);
  }
  bool happens(double share) { return between(0.0, 1.0) < share; }
  std::string eye() { return happens(0.5) ? "right" : "left"; }

 private:
  std::mt19937 dice_;
};

/// The members of a case; `muscles`: at least one is not healthy, else all are.
inline nlohmann::json draw_case(std::uint32_t seed, bool muscles) {
  PatientDice dice(seed);
  nlohmann::json c{{"format", "redress-case"}, {"version", 1}, {"title", "drawn"}};
  const double distance = dice.between(-40, 40);
  const double ac_a = dice.between(1, 8);
  c["seed"] = seed;
  c["patient"] = {{"age_years", dice.between(3, 85)},
                  {"interpupillary_distance_mm", dice.between(50, 70)}};
  c["deviation"] = {{"distance_pd", distance},
                    {"near_pd", distance - 13.5 + 2.5 * ac_a + dice.between(0, 6)},
                    {"vertical_pd", dice.happens(0.5) ? dice.between(-12, 12) : 0.0},
                    {"ac_a_pd_per_d", ac_a}};
  c["fusion"] = {{"present", dice.happens(0.8)},
                 {"fatigue", dice.happens(0.3) ? dice.between(0, 1) : 0.0},
                 {"release_time_constant_s", dice.between(0.4, 1.4)}};
  for (const char* eye : {"right", "left"}) {
    c["refraction"][eye]["acuity_logmar"] = dice.happens(0.3) ? dice.between(0, 1.2) : 0.0;
    c["instability"]["dvd_pd"][eye] = dice.happens(0.2) ? dice.between(2, 20) : 0.0;
  }
  c["sensory"] = {{"preferred_eye", dice.eye()}, {"preference", dice.between(0.5, 1)}};
  auto& instability = c["instability"];
  instability["attention"] = dice.happens(0.4) ? dice.between(0.3, 1) : 1.0;
  if (dice.happens(0.2)) instability["latent_nystagmus_deg"] = dice.between(1, 5);
  if (dice.happens(0.15)) {
    instability["infantile_nystagmus"] = {{"amplitude_deg", dice.between(1, 6)}};
  }
  if (dice.happens(0.2)) instability["square_wave_jerks"] = {{"per_minute", dice.between(5, 60)}};
  if (!muscles) return c;
  const char* names[] = {"lateral_rectus",  "medial_rectus",    "superior_rectus",
                         "inferior_rectus", "superior_oblique", "inferior_oblique"};
  const int weak = 1 + static_cast<int>(dice.between(0, 2.999));
  for (int i = 0; i < weak; ++i) {
    auto& muscle = c["muscles"][dice.eye()][names[static_cast<int>(dice.between(0, 5.999))]];
    muscle["strength"] = dice.between(0, 1.5);
    if (dice.happens(0.25)) muscle["limit_deg"] = dice.between(-10, 20);
  }
  if (dice.happens(0.2)) c["muscles"]["skew_pd"] = dice.between(-10, 10);
  return c;
}

}  // namespace redress::tests
