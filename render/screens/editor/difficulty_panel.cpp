// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How hard the case is: for each mark the share of simulated novices and experts who get it in
// full, each with its 95 % interval.
#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "render/screens/editor/editor.hpp"

namespace redress::screens::editor {

namespace {

using redress::assessment::Difficulty;
using redress::assessment::MarkDifficulty;
using redress::assessment::MarkShare;
using scoring::Item;

constexpr std::size_t kNovice = 0;  // of redress::assessment::kSkills
constexpr std::size_t kExpert = redress::assessment::kSkills.size() - 1;

struct Named {
  Item item;
  std::string_view words;
};
/// What the patient is like first, then what the hands do; short words for the rubric's titles.
constexpr std::array<Named, scoring::kItemCount> kOrder{{
    {Item::d1, "Class of deviation"},
    {Item::d2, "Direction"},
    {Item::d3, "Size"},
    {Item::d4, "Which eye, comitance"},
    {Item::d5, "Recovery"},
    {Item::e, "Tests called for"},
    {Item::g1, "Impression"},
    {Item::g2, "Plan and advice"},
    {Item::g3, "How soon"},
    {Item::f, "Record"},
    {Item::a1, "History"},
    {Item::a2, "Correction worn"},
    {Item::a3, "Target and distance"},
    {Item::a4, "Looks first"},
    {Item::b1, "Each eye covered"},
    {Item::b2, "Covers long enough"},
    {Item::b3, "Time to recover"},
    {Item::b4, "Own view"},
    {Item::c1, "Kept dissociated"},
    {Item::c2, "Base of the prism"},
    {Item::c3, "Neutral, reversal"},
    {Item::c4, "Prism handled rightly"},
    {Item::c5, "Measured throughout"},
}};

std::string write_share(const MarkShare& s) {
  if (s.of == 0) return "not asked";
  return fmt::format("{:.0f} % ({:.0f} to {:.0f})", 100 * s.share, 100 * s.interval.low,
                     100 * s.interval.high);
}

/// Line and dot on a scale of 0 to 1 along r, at height y.
void draw_share(Ui& ui, const Rect& r, float y, const MarkShare& s, bool filled, bool faded) {
  if (s.of == 0) return;
  const Token token = faded ? Token::ink3 : Token::act;
  const auto x = [&](double share) { return r.x + r.w * static_cast<float>(share); };
  ui.line({x(s.interval.low), y}, {x(s.interval.high), y}, token, 2);
  const Point at{x(s.share), y};
  ui.disc(at, 4, filled ? token : Token::sheet);
  if (!filled) ui.ring(at, 3.5F, token, 1.5F);
}

void draw_mark(Ui& ui, Rect row, const MarkDifficulty& mark, std::string_view words, bool faded) {
  const Rect all = row;
  const float label = std::min(146.0F, row.w * 0.55F);
  ui.text_in(row.cut_left(label), TextStyle::small, faded ? Token::ink3 : Token::ink, words);
  row = row.inset(8, 0);
  const float y = row.centre().y;
  ui.line({row.x, y}, {row.right(), y}, Token::line);
  // Apart, so that neither hides the other where they are alike.
  draw_share(ui, row, y - 4, mark.skills[kNovice], false, faded);
  draw_share(ui, row, y + 4, mark.skills[kExpert], true, faded);
  const Touch touch = ui.touch_unfocused(fmt::format("mark {}", static_cast<int>(mark.item)), all,
                                         words, PartKind::drawing);
  if (touch.hovered) {
    ui.hint(all, fmt::format("{}: novices {}, trainees {}, experts {}", words,
                             write_share(mark.skills[kNovice]), write_share(mark.skills[1]),
                             write_share(mark.skills[kExpert])));
  }
}

void draw_legend(Ui& ui, Rect r, bool faded) {
  const Token token = faded ? Token::ink3 : Token::act;
  const auto word = [&](std::string_view words, bool filled) {
    const Point at{r.x + 5, r.centre().y};
    if (filled) {
      ui.disc(at, 4, token);
    } else {
      ui.ring(at, 3.5F, token, 1.5F);
    }
    r.cut_left(14);
    const float w = ui.measure_text(TextStyle::small, words);
    ui.text_in(r.cut_left(w + 1), TextStyle::small, Token::ink2, words);
    r.cut_left(12);
  };
  word("novice", false);
  word("expert", true);
  for (const std::string_view words : {"0 to 100 % get it in full, 95 %", "0 to 100 %, 95 %"}) {
    if (ui.measure_text(TextStyle::small, words) > r.w) continue;
    ui.text_in(r, TextStyle::small, Token::ink2, words, Align::right);
    break;
  }
}

}  // namespace

void draw_difficulty(Ui& ui, const Rect& r, const EditorModel& model) {
  ui.begin_region("difficulty", r, Token::page);
  sheet(ui, r);
  Rect rest = r.inset(14, 8);
  const Rect head = rest.cut_top(26);
  ui.text_in(head, TextStyle::strong, Token::ink, "Difficulty");
  const Difficulty* found = model.difficulty;
  const bool faded = found == nullptr || model.difficulty_revision != model.draft.revision();
  const std::string aside = model.judging      ? std::string{"simulating …"}
                            : found == nullptr ? std::string{}
                            : faded            ? std::string{"of before the change"}
                                               : fmt::format("{} simulated of each", found->people);
  ui.text_in(head, TextStyle::small, Token::ink2, aside, Align::right);
  if (found == nullptr) {
    ui.paragraph(rest, TextStyle::small, Token::ink3,
                 "How many simulated novices and experts get each mark, when it is computed.");
    ui.end_region();
    return;
  }
  draw_legend(ui, rest.cut_bottom(20), faded);
  rest.cut_bottom(4);
  constexpr float kRowHigh = 26;
  constexpr float kAbove = 4;  // the first row's interval is not cut
  const float up =
      ui.begin_scroll("marks", rest, kAbove + kRowHigh * static_cast<float>(found->marks.size()));
  float y = rest.y + kAbove - up;
  for (const Named& named : kOrder) {
    const auto mark =
        std::find_if(found->marks.begin(), found->marks.end(),
                     [&](const MarkDifficulty& each) { return each.item == named.item; });
    if (mark == found->marks.end()) continue;
    draw_mark(ui, {rest.x, y, rest.w - 10, kRowHigh}, *mark, named.words, faded);
    y += kRowHigh;
  }
  ui.end_scroll();
  ui.end_region();
}

}  // namespace redress::screens::editor
