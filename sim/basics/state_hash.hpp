// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The hash of a state: over its fields in order, never over struct bytes (padding is not state).
#pragma once

#include <bit>
#include <cstdint>
#include <string>

namespace redress {

/// A visitor for the field lists of the states. -0 counts as +0.
class StateHash {
 public:
  void operator()(const char* /*name*/, double v) {
    take(std::bit_cast<std::uint64_t>(v == 0.0 ? 0.0 : v));
  }
  void operator()(const char* /*name*/, bool v) { take(v ? 1U : 0U); }
  void operator()(const char* /*name*/, std::int32_t v) {
    take(static_cast<std::uint64_t>(static_cast<std::int64_t>(v)));
  }
  void operator()(const char* /*name*/, std::int64_t v) { take(static_cast<std::uint64_t>(v)); }
  void operator()(const char* /*name*/, std::uint32_t v) { take(v); }
  void operator()(const char* /*name*/, std::uint64_t v) { take(v); }

  [[nodiscard]] std::uint64_t value() const { return hash_; }

 private:
  void take(std::uint64_t word) {
    // FNV-1a by words, with a shift so that the high bits reach the low ones.
    hash_ = (hash_ ^ word) * 1099511628211ULL;
    hash_ ^= hash_ >> 29;
  }
  std::uint64_t hash_ = 14695981039346656037ULL;
};

/// 16 lower-case hexadecimal digits.
std::string to_hex(std::uint64_t value);

}  // namespace redress
