// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/random.hpp"

#include "sim/basics/elementary.hpp"

namespace redress {

namespace {
constexpr std::uint64_t mix(std::uint64_t z) {
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
  return z ^ (z >> 31);
}
}  // namespace

std::uint64_t random_bits(std::uint64_t seed, Stream stream, std::uint64_t event,
                          std::uint32_t part) {
  const std::uint64_t source =
      (static_cast<std::uint64_t>(static_cast<std::uint32_t>(stream)) << 32) | part;
  const std::uint64_t key = mix(seed + 0x9E3779B97F4A7C15ULL) ^ (source * 0xD1B54A32D192ED03ULL);
  return mix(mix(key) + (event + 1) * 0x9E3779B97F4A7C15ULL);
}

double random_uniform(std::uint64_t seed, Stream stream, std::uint64_t event, std::uint32_t part) {
  return static_cast<double>(random_bits(seed, stream, event, part) >> 11) * 0x1.0p-53;
}

double random_normal(std::uint64_t seed, Stream stream, std::uint64_t event, std::uint32_t part) {
  // 1 - u is in (0, 1], so the logarithm is finite.
  const double u = 1.0 - random_uniform(seed, stream, event, 2 * part);
  const double angle = 2.0 * elementary::kPi * random_uniform(seed, stream, event, 2 * part + 1);
  const double radius = elementary::square_root(-2.0 * elementary::logarithm(u));
  return radius * elementary::cosine(angle);
}

double random_bounded(std::uint64_t seed, Stream stream, std::uint64_t event, std::uint32_t part) {
  const std::uint64_t bits = random_bits(seed, stream, event, part);
  const std::uint64_t sum =
      (bits & 0xFFFFU) + ((bits >> 16) & 0xFFFFU) + ((bits >> 32) & 0xFFFFU) + (bits >> 48);
  return (static_cast<double>(sum) - 131070.0) * (1.0 / 37837.23);
}

}  // namespace redress
