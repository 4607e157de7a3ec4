// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/html_text.hpp"

namespace redress {

std::string escape_html(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default: out += c;
    }
  }
  return out;
}

}  // namespace redress
