// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/fixed_point.hpp"

#include <array>
#include <charconv>
#include <cstring>

namespace redress {

namespace {
constexpr std::array<double, 10> kScales{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};
}

void append_fixed(std::string& text, double value, int decimals) {
  const double scaled = (value < 0 ? -value : value) * kScales[static_cast<std::size_t>(decimals)];
  std::uint64_t digits = static_cast<std::uint64_t>(scaled + 0.5);
  std::array<char, 32> buffer;
  char* p = buffer.data() + buffer.size();
  const char* const end = p;
  const bool negative = value < 0 && digits != 0;
  for (int i = 0; i < decimals; ++i) {
    *--p = static_cast<char>('0' + digits % 10);
    digits /= 10;
  }
  if (decimals > 0) *--p = '.';
  do {
    *--p = static_cast<char>('0' + digits % 10);
    digits /= 10;
  } while (digits != 0);
  if (negative) *--p = '-';
  text.append(p, static_cast<std::size_t>(end - p));
}

void append_integer(std::string& text, std::int64_t value) {
  std::array<char, 24> buffer;
  const auto [end, error] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
  (void)error;  // 24 characters hold any 64-bit integer
  text.append(buffer.data(), static_cast<std::size_t>(end - buffer.data()));
}

}  // namespace redress
