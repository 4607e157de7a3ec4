// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/state_hash.hpp"

namespace redress {

std::string to_hex(std::uint64_t value) {
  static constexpr char kDigits[] = "0123456789abcdef";
  std::string text(16, '0');
  for (std::size_t i = 0; i < 16; ++i) text[15 - i] = kDigits[(value >> (4 * i)) & 15U];
  return text;
}

}  // namespace redress
