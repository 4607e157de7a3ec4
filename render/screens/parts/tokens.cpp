// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/parts/tokens.hpp"

#include <cmath>

namespace redress::screens {

namespace {

struct Row {
  std::string_view name;
  Rgb light;
  Rgb dim;
};

constexpr Rgb rgb(std::uint32_t hex) {
  return {static_cast<std::uint8_t>(hex >> 16U), static_cast<std::uint8_t>((hex >> 8U) & 255U),
          static_cast<std::uint8_t>(hex & 255U)};
}

// In the order of Token.
constexpr std::array<Row, kTokenCount> kRows{{
    {"page", rgb(0xF3F1EC), rgb(0x121517)},
    {"sheet", rgb(0xFCFBF8), rgb(0x1B1F22)},
    {"well", rgb(0xE9E6DF), rgb(0x262B2F)},
    {"line", rgb(0xD8D4CA), rgb(0x343B40)},
    {"edge", rgb(0x827F76), rgb(0x7A848A)},
    {"ink", rgb(0x1C2427), rgb(0xECEBE6)},
    {"ink2", rgb(0x485357), rgb(0xB9BFC0)},
    {"ink3", rgb(0x5F696D), rgb(0x98A1A4)},
    {"act", rgb(0x155E68), rgb(0x86CACB)},
    {"on act", rgb(0xFFFFFF), rgb(0x0E1416)},
    {"chosen", rgb(0xDCEAEA), rgb(0x1D3B3F)},
    {"right eye", rgb(0x935600), rgb(0xE8AE5C)},
    {"left eye", rgb(0x4453B8), rgb(0xA3AFF6)},
    {"good", rgb(0x1D6A4C), rgb(0x8ECBA8)},
    {"care", rgb(0x9A2C38), rgb(0xF0A09A)},
    {"cover", rgb(0xC9C5BB), rgb(0x3A4146)},
    {"surround", rgb(0x59626B), rgb(0x59626B)},
}};

// WCAG 2.1: the sRGB curve with its published threshold of 0.03928.
double to_linear(std::uint8_t value) {
  const double v = value / 255.0;
  return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}

}  // namespace

Rgb colour_of(Theme theme, Token token) {
  const Row& row = kRows[static_cast<std::size_t>(token)];
  return theme == Theme::light ? row.light : row.dim;
}

std::string_view name_of(Token token) { return kRows[static_cast<std::size_t>(token)].name; }

double calc_luminance(Rgb colour) {
  return 0.2126 * to_linear(colour.red) + 0.7152 * to_linear(colour.green) +
         0.0722 * to_linear(colour.blue);
}

double calc_contrast(Rgb a, Rgb b) {
  const double la = calc_luminance(a);
  const double lb = calc_luminance(b);
  const double bright = la > lb ? la : lb;
  const double dark = la > lb ? lb : la;
  return (bright + 0.05) / (dark + 0.05);
}

}  // namespace redress::screens
