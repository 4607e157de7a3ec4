// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/printed_keys.hpp"

#include <utility>

namespace redress::app {

std::map<screens::examine::Scancode, std::string> read_printed_keys(const window::Window& window) {
  namespace hid = screens::examine::hid;
  std::map<screens::examine::Scancode, std::string> printed;
  const auto read = [&](screens::examine::Scancode place) {
    std::string letter = window.letter_of(static_cast<window::Key>(place));
    constexpr std::size_t kLongest = 3;  // bytes: one letter of any alphabet in use
    if (!letter.empty() && letter.size() <= kLongest) printed[place] = std::move(letter);
  };
  for (char c = 'A'; c <= 'Z'; ++c) read(hid::letter(c));
  for (const auto place :
       {hid::kMinus, hid::kEquals, hid::kLeftBracket, hid::kRightBracket, hid::kBackslash,
        hid::kHash, hid::kSemicolon, hid::kApostrophe, hid::kGrave, hid::kComma, hid::kPeriod,
        hid::kSlash, hid::kBesideShift}) {
    read(place);
  }
  return printed;
}

}  // namespace redress::app
