// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/fidget.hpp"

#include "render/face/maths.hpp"
#include "render/face/noise.hpp"

namespace redress::face {
namespace {

constexpr double kEveryMs = 4200;  // a place is left once in this time, when in it is chance
constexpr double kMoveMs = 420;
constexpr float kAcrossMm = 1.1F;
constexpr float kUpMm = 0.7F;

/// The place of the k-th time; the first is the seat itself.
glm::vec2 find_place(std::uint32_t seed, int k) {
  if (k <= 0) return {0, 0};
  return {kAcrossMm * (2 * calc_hash(k, 1, seed) - 1), kUpMm * (2 * calc_hash(k, 2, seed) - 1)};
}

}  // namespace

glm::vec2 calc_fidget_mm(const scene::PatientAppearance& who, double at_ms) {
  const float restless = ramp(10, 4, who.age_years);
  if (restless <= 0 || at_ms <= 0) return {0, 0};
  const std::uint32_t seed = who.seed * 23 + 11;
  const int k = static_cast<int>(at_ms / kEveryMs);
  const double leaves_ms = kEveryMs * k + (kEveryMs - kMoveMs) * double{calc_hash(k, 3, seed)};
  const float moved =
      ramp(0, 1, static_cast<float>(std::clamp((at_ms - leaves_ms) / kMoveMs, 0.0, 1.0)));
  return restless * glm::mix(find_place(seed, k), find_place(seed, k + 1), moved);
}

}  // namespace redress::face
