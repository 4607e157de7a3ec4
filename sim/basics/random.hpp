// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Random draws keyed by (seed, stream, event, part), not by the order of the calls.
//
// Why: when one act of an examination is changed and the examination is simulated again, every
// other draw stays what it was. The price of one fault can then be told from the noise. It also
// means that a stream has no state beyond a count of its events.
#pragma once

#include <cstdint>

namespace redress {

/// One source of chance in the patient or the examiner. The numbers are part of the record format:
/// new streams go at the end.
enum class Stream : std::uint32_t {
  person = 1,  ///< traits of this patient that the case does not fix
  saccade_latency = 2,
  saccade_gain = 3,
  fixation_choice = 4,
  fixation_delay = 5,
  drift = 6,
  vergence_drift = 7,
  blink = 8,
  attention = 9,
  image_jump = 10,
  microsaccade = 11,
  speech = 12,
  examiner = 13,
  gaze_wander = 14,
  square_wave = 15,
  poor_sight = 16,
  session = 17,
  behaviour = 18,
  spontaneous_microsaccade = 19,
};

/// 64 well-mixed bits (SplitMix64 finaliser over the four numbers; Steele, Lea & Flood 2014).
std::uint64_t random_bits(std::uint64_t seed, Stream stream, std::uint64_t event,
                          std::uint32_t part = 0);

/// Uniform in [0, 1).
double random_uniform(std::uint64_t seed, Stream stream, std::uint64_t event,
                      std::uint32_t part = 0);

/// Standard normal (Box & Muller 1958).
double random_normal(std::uint64_t seed, Stream stream, std::uint64_t event,
                     std::uint32_t part = 0);

/// Mean 0, variance 1, bounded by 3.46: the sum of four uniforms. For noise drawn at every tick.
double random_bounded(std::uint64_t seed, Stream stream, std::uint64_t event,
                      std::uint32_t part = 0);

}  // namespace redress
