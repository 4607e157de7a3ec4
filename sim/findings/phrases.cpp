// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/phrases.hpp"

namespace redress::findings {

std::string fold_words(std::string_view text) {
  std::string words = " ";
  for (const char c : text) {
    const bool upper = c >= 'A' && c <= 'Z';
    const bool kept = upper || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') ||
                      static_cast<unsigned char>(c) >= 0x80;
    if (kept) {
      words += upper ? static_cast<char>(c - 'A' + 'a') : c;
    } else if (words.back() != ' ') {
      words += ' ';
    }
  }
  if (words.back() != ' ') words += ' ';
  return words;
}

}  // namespace redress::findings
