// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The type: Inter in two weights, seven styles, with what it lacks from DejaVu Sans; made for one
// scale and made again when the scale changes. Sizes in units (line height after the stroke).
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

struct ImFont;
struct ImFontAtlas;

namespace redress::screens {

enum class TextStyle : std::uint8_t {
  title,         ///< 34/40 SemiBold
  head,          ///< 24/32 SemiBold
  subhead,       ///< 18/26 SemiBold
  strong,        ///< 15/22 SemiBold
  body,          ///< 15/22 Regular
  small_strong,  ///< 13/18 SemiBold
  small,         ///< 13/18 Regular
};
inline constexpr int kTextStyleCount = 7;

struct TextMeasure {
  float size = 15;
  float line = 22;
  bool semibold = false;
};
TextMeasure measure_of(TextStyle style);

/// Which letters there are; each step has those before it, and takes about twice as long to make.
enum class Letters : std::uint8_t {
  plain,     ///< ASCII and the signs that the screens are written with
  latin,     ///< Latin-1, general punctuation, the encircled plus
  extended,  ///< Latin Extended-A
};

/// The least that this text (UTF-8) needs.
Letters find_letters(std::string_view text);

/// Pointers into an atlas; they live as long as it does.
struct Fonts {
  std::array<ImFont*, kTextStyleCount> font{};
  float scale = 1;
  Letters letters = Letters::plain;
  std::string trouble;  ///< which font file was not found; empty: none

  [[nodiscard]] ImFont* of(TextStyle style) const { return font[static_cast<std::size_t>(style)]; }
};

/// Empties the atlas and fills it for a scale of 1 ... 2. Without font files it falls back, at
/// worst to the built-in bitmap font, and says so in `trouble`. Does not upload to a texture.
Fonts make_fonts(ImFontAtlas& atlas, float scale, Letters letters = Letters::plain);

}  // namespace redress::screens
