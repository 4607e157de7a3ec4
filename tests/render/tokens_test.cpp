// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Contrast (WCAG 2.1, 1.4.3: text 4.5; 1.4.11: outlines 3), measured for each ink against the worst
// of the four grounds, against the figures of screens.md, section 4.
#include "render/screens/parts/tokens.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <utility>
#include <vector>

using namespace redress::screens;

namespace {

double worst_contrast(Theme theme, Token ink) {
  double worst = 21;
  for (const Token ground : {Token::page, Token::sheet, Token::well, Token::chosen}) {
    worst = std::min(worst, calc_contrast(colour_of(theme, ink), colour_of(theme, ground)));
  }
  return worst;
}

}  // namespace

TEST_CASE("contrast of black on white is 21, of a colour on itself 1 (WCAG 2.1)") {
  CHECK(calc_contrast({0, 0, 0}, {255, 255, 255}) == Approx(21));
  CHECK(calc_contrast({255, 255, 255}, {0, 0, 0}) == Approx(21));
  CHECK(calc_contrast({120, 30, 200}, {120, 30, 200}) == Approx(1));
  // #767676 is known as the lightest grey that reaches 4.5 on white.
  CHECK(calc_contrast({0x76, 0x76, 0x76}, {255, 255, 255}) >= 4.5);
  CHECK(calc_contrast({0x77, 0x77, 0x77}, {255, 255, 255}) < 4.5);
}

TEST_CASE("each ink has the contrast that the screens' table states") {
  const std::vector<std::pair<Token, double>> light{
      {Token::ink, 12.7}, {Token::ink2, 6.4},      {Token::ink3, 4.5},
      {Token::act, 5.9},  {Token::right_eye, 4.7}, {Token::left_eye, 5.3},
      {Token::good, 5.2}, {Token::care, 6.0},      {Token::edge, 3.2}};
  const std::vector<std::pair<Token, double>> dim{
      {Token::ink, 10.1}, {Token::ink2, 6.4},      {Token::ink3, 4.6},
      {Token::act, 6.5},  {Token::right_eye, 6.1}, {Token::left_eye, 5.7},
      {Token::good, 6.4}, {Token::care, 5.8},      {Token::edge, 3.1}};
  for (const auto& [theme, rows] : {std::pair{Theme::light, light}, std::pair{Theme::dim, dim}}) {
    for (const auto& [token, stated] : rows) {
      INFO(name_of(token) << (theme == Theme::light ? ", light" : ", dim"));
      // Stated to one decimal.
      CHECK(worst_contrast(theme, token) == Approx(stated).margin(0.06));
      CHECK(worst_contrast(theme, token) >= (token == Token::edge ? 3.0 : 4.45));
    }
  }
}

TEST_CASE("the words of the main button can be read") {
  CHECK(calc_contrast(colour_of(Theme::light, Token::on_act),
                      colour_of(Theme::light, Token::act)) == Approx(7.4).margin(0.06));
  CHECK(calc_contrast(colour_of(Theme::dim, Token::on_act), colour_of(Theme::dim, Token::act)) ==
        Approx(10.0).margin(0.06));
}

TEST_CASE("what lies behind the head does not change with the theme") {
  CHECK(colour_of(Theme::light, Token::surround) == colour_of(Theme::dim, Token::surround));
}
