// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The same text as sim/basics/fixed_point.hpp, for tables of millions of numbers, in less than half
// the time: the count of decimals is known when compiling, and the text goes to a plain buffer.
//
// Each function writes at `to` and returns the end of what it wrote. That end is handed from call
// to call and not kept in an object: as far as the compiler knows, a char that is written may be
// part of the object, and the pointer would go through memory each time.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>

#include "sim/basics/fixed_point.hpp"

namespace redress {

/// The longest number: sign, 19 digits, point.
inline constexpr std::size_t kLongestNumber = 24;

namespace detail {
/// "00" to "99": two digits at a time halve the divisions.
inline constexpr std::array<char, 200> kDigitPairs = [] {
  std::array<char, 200> pairs{};
  for (std::size_t i = 0; i < 100; ++i) {
    pairs[2 * i] = static_cast<char>('0' + i / 10);
    pairs[2 * i + 1] = static_cast<char>('0' + i % 10);
  }
  return pairs;
}();

inline char* write_pair(char* to, std::uint32_t below_100) {
  std::memcpy(to, &kDigitPairs[2 * below_100], 2);
  return to + 2;
}
inline char* write_digit(char* to, std::uint32_t below_10) {
  *to = static_cast<char>('0' + below_10);
  return to + 1;
}
/// Without leading zeros.
inline char* write_whole(char* to, std::uint32_t value) {
  if (value < 10) return write_digit(to, value);
  if (value < 100) return write_pair(to, value);
  return write_pair(write_whole(to, value / 100), value % 100);
}
}  // namespace detail

inline char* write_text(char* to, std::string_view text) {
  std::memcpy(to, text.data(), text.size());
  return to + text.size();
}

inline char* write_integer(char* to, std::int64_t value) {
  if (value >= 0 && value < 4'000'000'000) {
    return detail::write_whole(to, static_cast<std::uint32_t>(value));
  }
  std::string text;
  append_integer(text, value);
  return write_text(to, text);
}

/// As append_fixed(). |value| < 1e9.
template <std::uint32_t decimals>
char* write_fixed(char* to, double value) {
  static_assert(decimals == 4 || decimals == 5);
  constexpr std::uint32_t kScale = decimals == 5 ? 100000 : 10000;
  const double scaled = (value < 0 ? -value : value) * kScale;
  if (!(scaled < 4e9)) {  // does not fit 32 bits: rare, so it may take its time
    std::string text;
    append_fixed(text, value, static_cast<int>(decimals));
    return write_text(to, text);
  }
  const auto digits = static_cast<std::uint32_t>(scaled + 0.5);
  *to = '-';
  to += value < 0 && digits != 0 ? 1 : 0;
  to = detail::write_whole(to, digits / kScale);
  *to++ = '.';
  std::uint32_t part = digits % kScale;
  if constexpr (decimals == 5) {
    to = detail::write_digit(to, part / 10000);
    part %= 10000;
  }
  return detail::write_pair(detail::write_pair(to, part / 100), part % 100);
}

}  // namespace redress
