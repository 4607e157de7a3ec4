// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A line of shorthand cut into words, numbers and signs. UTF-8; what looks alike counts as the
// same: the primes ′ ’ ' `, the signs Δ ∆ ^, ϕ φ, small and capital letters.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace redress::findings {

enum class TokenKind : std::uint8_t {
  word,     ///< letters in capitals with / ( ) of the shorthand, or one sign: Δ Ø ϕ θ ⊕
  numbers,  ///< one number, or several with / between: 9/13, x/7/4
  prime,
  next,   ///< comma, semicolon: another entry
  quote,  ///< text between quotation marks
  other,  ///< a character that means nothing here
};

struct Token {
  TokenKind kind = TokenKind::other;
  std::string text;                            ///< word: in capitals; quote: what is inside
  std::vector<std::optional<double>> numbers;  ///< none: x, not found
  std::size_t at = 0;                          ///< byte in the line
  std::size_t length = 0;                      ///< bytes
};

std::vector<Token> find_tokens(std::string_view line);

}  // namespace redress::findings
