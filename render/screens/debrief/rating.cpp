// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An assessor's global rating, beside the replay and before any mark is seen.
#include <array>

#include "render/screens/debrief/debrief_screen.hpp"

namespace redress::screens::debrief {

void draw_rating(Ui& ui, const Rect& r, DebriefOutcome& outcome) {
  static constexpr std::array<std::string_view, 5> kRatings{"Fail", "Borderline", "Pass", "Good",
                                                            "Excellent"};
  sheet(ui, r);
  constexpr float kLow = 130;  // below, the words stand under the buttons, as far as there is room
  const bool low = r.h < kLow;
  Rect box = r.inset(16, low ? 6 : 12);
  ui.text_in(box.cut_top(26), TextStyle::subhead, Token::ink, "How was it, all in all?");
  constexpr std::string_view kWords =
      "Watch as much as you need. The marks are shown once you have rated; what you choose is "
      "signed and stands.";
  box.cut_top(4);
  if (!low) box.cut_top(ui.paragraph(box, TextStyle::small, Token::ink2, kWords) + 10);
  // Side by side where there is room, else one under another.
  const float beside = measure_one_of_few(ui, kRatings);
  if (beside <= box.w) {
    outcome.rate = one_of_few(ui, {box.x, box.y, beside, 34}, "rating", kRatings, std::nullopt);
    box.cut_top(38);
    if (low) {
      ui.text_in(box.cut_top(18), TextStyle::small, Token::ink2,
                 "Watch as much as you need. What you choose is signed and stands.");
    }
    return;
  }
  for (std::size_t i = 0; i < kRatings.size(); ++i) {
    if (button(ui, box.cut_top(32), kRatings[i])) outcome.rate = i;
    box.cut_top(4);
  }
}

}  // namespace redress::screens::debrief
