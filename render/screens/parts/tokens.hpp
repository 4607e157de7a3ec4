// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The colours, sizes and spaces that every screen is made of, each named by its use. Colours are
// sRGB bytes; contrast is that of WCAG 2.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace redress::screens {

/// The room is dim by default (a bright surround costs small movements), study screens light.
enum class Theme : std::uint8_t { light, dim };

enum class Token : std::uint8_t {
  page,       ///< the ground of a screen
  sheet,      ///< panels
  well,       ///< insets; what is pointed at
  line,       ///< hairlines, decoration only
  edge,       ///< outlines of controls
  ink,        ///< text
  ink2,       ///< second text
  ink3,       ///< captions; what is not available
  act,        ///< main button, focus, links
  on_act,     ///< text on act
  chosen,     ///< selection
  right_eye,  ///< traces, sight lines, charts only
  left_eye,
  good,      ///< full mark, firm
  care,      ///< lost mark, fault, red flag
  cover,     ///< hatch of covered intervals
  surround,  ///< behind the head; the same in both themes
};
inline constexpr int kTokenCount = 17;

struct Rgb {
  std::uint8_t red = 0;
  std::uint8_t green = 0;
  std::uint8_t blue = 0;
  bool operator==(const Rgb&) const = default;
};

Rgb colour_of(Theme theme, Token token);
std::string_view name_of(Token token);

/// Relative luminance 0 ... 1 (WCAG 2.1, "relative luminance").
double calc_luminance(Rgb colour);
/// 1 ... 21 (WCAG 2.1, "contrast ratio").
double calc_contrast(Rgb a, Rgb b);

inline constexpr std::array<float, 6> kSpaces{4, 8, 12, 16, 24, 32};
inline constexpr float kRadiusKey = 4;     ///< key, tag
inline constexpr float kRadiusButton = 6;  ///< button, field
inline constexpr float kRadiusSheet = 8;
inline constexpr float kChosenLine = 2;
inline constexpr float kRing = 2;        ///< focus ring, outside by as much
inline constexpr float kHitHeight = 30;  ///< least height of what can be clicked
inline constexpr float kRoomHitHeight = 36;
inline constexpr float kDrillHitHeight = 44;

}  // namespace redress::screens
