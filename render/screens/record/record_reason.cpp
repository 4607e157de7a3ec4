// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/record/record_reason.hpp"

#include <array>
#include <span>
#include <string>
#include <utility>

namespace redress::screens::record {

using Words = std::string_view;

namespace {

// Without sides first; the rest under "Tropia, muscle and nerve conditions".
constexpr std::array<Words, 8> kCommon{
    "Convergence insufficiency", "Convergence excess",  "Divergence insufficiency",
    "Divergence excess",         "Exophoria",           "Esophoria",
    "Vergence dysfunction",      "No abnormality found"};
constexpr std::array<Words, 20> kMore{"Right esotropia",
                                      "Left esotropia",
                                      "Right exotropia",
                                      "Left exotropia",
                                      "Alternating esotropia",
                                      "Alternating exotropia",
                                      "Intermittent esotropia",
                                      "Intermittent exotropia",
                                      "Right microtropia",
                                      "Left microtropia",
                                      "Accommodative esotropia",
                                      "Right hyperphoria",
                                      "Left hyperphoria",
                                      "Third nerve palsy",
                                      "Right fourth nerve palsy",
                                      "Left fourth nerve palsy",
                                      "Right sixth nerve palsy",
                                      "Left sixth nerve palsy",
                                      "Dissociated vertical (DVD)",
                                      "Duane syndrome"};
constexpr std::array<Words, 6> kPlans{
    "Explain, no treatment", "Exercises", "Change correction", "Prism", "Review in weeks", "Refer"};
constexpr std::array<Words, 4> kHowSoon{"Routine", "Soon", "Urgent", "Same day"};

std::string lower_first(Words text) {
  std::string s(text);
  if (!s.empty() && s[0] >= 'A' && s[0] <= 'Z') s[0] = static_cast<char>(s[0] - 'A' + 'a');
  return s;
}

// ------------------------------------------------------------------------ impression, plan, how
// soon

void set_diagnosis(CardEditor& editor, RecordState& state, std::string text) {
  Finding f = editor.impression();
  f.diagnosis = std::move(text);
  state.impression_text = f.diagnosis;
  editor.set_impression(f);
  editor.settle();
}

bool matches(Words label, const std::string& typed) {
  return typed.empty() || lower_first(label).find(lower_first(typed)) != std::string::npos;
}

// Two columns of radio buttons, in reading order down the page.
float draw_choices(Ui& ui, const Rect& r, std::span<const Words> all, CardEditor& editor,
                   RecordState& state, bool filter) {
  const float first = r.w * 0.53F;  // "Convergence insufficiency" stands at the left
  std::size_t shown = 0;
  for (const Words label : all) {
    if (filter && !matches(label, state.impression_text)) continue;
    const bool left = shown % 2 == 0;
    const Rect at{left ? r.x : r.x + first, r.y + static_cast<float>(shown / 2) * 32,
                  left ? first : r.w - first, 30};
    const std::string text = lower_first(label);
    if (radio(ui, at, label, editor.impression().diagnosis == text)) {
      set_diagnosis(editor, state, text);
    }
    ++shown;
  }
  return static_cast<float>((shown + 1) / 2) * 32;
}

float draw_impression(Ui& ui, Rect r, CardEditor& editor, RecordState& state) {
  const float top = r.y;
  ui.text_in(r.cut_top(28), TextStyle::subhead, Token::ink, "Impression");
  r.cut_top(8);
  std::string& text = state.impression_text;
  const FieldEvent event = field(ui, r.cut_top(38), "impression", text,
                                 {.hint = "Type a few letters, or choose", .longest = 200});
  if (event.settled && text != editor.impression().diagnosis) set_diagnosis(editor, state, text);
  r.cut_top(8);
  const bool chosen = !text.empty() && text == editor.impression().diagnosis;
  const bool filter = !chosen && !text.empty();
  r.cut_top(draw_choices(ui, r, kCommon, editor, state, filter));
  const bool more = state.more_impressions || filter;
  if (!filter) {
    const Words words = state.more_impressions ? "Fewer" : "Tropia, muscle and nerve conditions …";
    const Rect at = r.cut_top(30);
    if (button(ui, {at.x - 14, at.y, measure_button(ui, words), 30}, words,
               {.kind = ButtonKind::quiet, .id = "more impressions"})) {
      state.more_impressions = !state.more_impressions;
    }
  }
  if (more) r.cut_top(draw_choices(ui, r, kMore, editor, state, filter));
  return r.y - top;
}

float draw_plan(Ui& ui, Rect r, CardEditor& editor) {
  const float top = r.y;
  ui.text_in(r.cut_top(28), TextStyle::subhead, Token::ink, "Plan");
  r.cut_top(6);
  const float width = r.w / 2;
  const std::string& advice = editor.plan().advice;
  for (std::size_t i = 0; i < kPlans.size(); ++i) {
    const Rect at{r.x + static_cast<float>(i % 2) * width, r.y + static_cast<float>(i / 2) * 34,
                  width, 30};
    // The advice is the chosen ones in order, each a sentence of its own.
    const auto is_on = [&](Words plan) {
      return ("; " + advice + ";").find("; " + std::string(plan) + ";") != std::string::npos;
    };
    if (!check(ui, at, kPlans[i], is_on(kPlans[i]))) continue;
    Finding f = editor.plan();
    f.advice.clear();
    for (std::size_t k = 0; k < kPlans.size(); ++k) {
      if (is_on(kPlans[k]) == (k == i)) continue;
      f.advice += (f.advice.empty() ? "" : "; ") + std::string(kPlans[k]);
    }
    editor.set_plan(f);
    editor.settle();
    break;
  }
  r.cut_top(static_cast<float>((kPlans.size() + 1) / 2) * 34 + 4);
  return r.y - top;
}

float draw_how_soon(Ui& ui, Rect r, CardEditor& editor) {
  const float top = r.y;
  ui.text_in(r.cut_top(28), TextStyle::subhead, Token::ink, "How soon");
  r.cut_top(6);
  std::optional<std::size_t> chosen;
  constexpr std::size_t kLast = kHowSoon.size() - 1;
  if (editor.plan().urgency) chosen = kLast - static_cast<std::size_t>(*editor.plan().urgency);
  const Rect at = r.cut_top(32);
  if (const auto pick = one_of_few(ui, {at.x, at.y, 0, at.h}, "how soon", kHowSoon, chosen)) {
    Finding f = editor.plan();
    f.urgency = static_cast<Urgency>(kLast - *pick);
    editor.set_plan(f);
    editor.settle();
  }
  r.cut_top(10);
  constexpr Words kCaution =
      "Act on your local code and under a licensed practitioner. Redress trains; it does not "
      "diagnose real people.";
  const float height = ui.measure_paragraph(r.w, TextStyle::small, kCaution);
  ui.paragraph({r.x, r.y, r.w, height}, TextStyle::small, Token::ink2, kCaution);
  return r.y + height - top;
}

}  // namespace

float draw_reason(Ui& ui, Rect r, CardEditor& editor, RecordState& state) {
  const float top = r.y;
  r.h = 1e5F;
  const auto rule = [&] {
    r.cut_top(6);
    ui.line({r.x, r.y}, {r.right(), r.y}, Token::line);
    r.cut_top(14);
  };
  r.cut_top(draw_impression(ui, r, editor, state));
  rule();
  r.cut_top(draw_plan(ui, r, editor));
  rule();
  r.cut_top(draw_how_soon(ui, r, editor));
  return r.y - top;
}

}  // namespace redress::screens::record
