// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/record/record_reason.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "render/screens/record/record_rows.hpp"
#include "sim/findings/impressions.hpp"
#include "sim/findings/plan_words.hpp"

namespace redress::screens::record {

using Words = std::string_view;
using findings::Impression;

namespace {

constexpr float kChoice = 32;  // pitch of a line of choices
constexpr std::array<Words, 4> kHowSoon{"Routine", "Soon", "Urgent", "Same day"};

std::string upper_first(Words text) {
  std::string s(text);
  if (!s.empty() && s[0] >= 'a' && s[0] <= 'z') s[0] = static_cast<char>(s[0] - 'a' + 'A');
  return s;
}

// ------------------------------------------------------------------------------------ impression

void set_diagnosis(CardEditor& editor, RecordState& state, std::string text) {
  Finding f = editor.impression();
  f.diagnosis = std::move(text);
  state.impression_text = f.diagnosis;
  // The list has done its work and makes room for the plan; its group's head says what was chosen.
  state.impressions_open.reset();
  editor.set_impression(f);
  editor.settle();
}

// Two columns of choices; what is too long for one takes the whole line.
class Flow {
 public:
  explicit Flow(const Rect& area) : area_(area), y_(area.y) {}
  Rect place(const Ui& ui, Words label) {
    constexpr float kMark = 40;
    const bool wide = ui.measure_text(TextStyle::body, label) + kMark > area_.w / 2;
    if (wide && !left_) end_line();
    const Rect at{left_ ? area_.x : area_.x + area_.w / 2, y_, wide ? area_.w : area_.w / 2, 30};
    if (wide || !left_) {
      end_line();
    } else {
      left_ = false;
    }
    return at;
  }
  [[nodiscard]] float height() const { return y_ + (left_ ? 0 : kChoice) - area_.y; }

 private:
  void end_line() {
    y_ += kChoice;
    left_ = true;
  }
  Rect area_;
  float y_;
  bool left_ = true;  ///< where the next one goes
};

// Returns the height used.
float draw_choices(Ui& ui, const Rect& r, std::span<const Impression* const> all,
                   CardEditor& editor, RecordState& state) {
  const findings::ReadImpression now = findings::read_impression(editor.impression().diagnosis);
  Flow flow(r);
  for (const Impression* each : all) {
    const std::string label = upper_first(each->name);
    const bool on = now.impression == each;
    const Rect at = flow.place(ui, label);
    if (!radio(ui, at, label, on, std::string("impression ").append(each->name))) continue;
    // A side that was said stays, if this can have one.
    std::optional<Words> side;
    for (const Words word : findings::words_of(each->sides)) {
      if (now.side == word) side = word;
    }
    set_diagnosis(editor, state, findings::write_impression(*each, side));
  }
  return flow.height();
}

std::vector<const Impression*> members_of(std::size_t group) {
  std::vector<const Impression*> members;
  for (const Impression& each : findings::impressions()) {
    if (static_cast<std::size_t>(each.group) == group) members.push_back(&each);
  }
  return members;
}

// A line to be clicked, from the left edge.
bool head(Ui& ui, const Rect& r, const std::string& id, const std::string& words) {
  const Touch touch = ui.touch(id, r, words, PartKind::button);
  if (touch.hovered) ui.fill(r, Token::well, kRadiusButton);
  if (touch.focused) ui.focus_ring(r, kRadiusButton);
  ui.text_in(r, TextStyle::small_strong, Token::act, words);
  return touch.clicked;
}

// Heads of the groups, one of them open.
float draw_groups(Ui& ui, Rect r, CardEditor& editor, RecordState& state) {
  const float top = r.y;
  const Impression* chosen = findings::read_impression(editor.impression().diagnosis).impression;
  for (std::size_t g = 0; g < static_cast<std::size_t>(findings::kImpressionGroups); ++g) {
    const bool open = state.impressions_open == g;
    std::string words = fmt::format("{} {}", open ? "−" : "+",
                                    findings::name_of(static_cast<findings::ImpressionGroup>(g)));
    if (!open && chosen != nullptr && static_cast<std::size_t>(chosen->group) == g) {
      const std::string named = fmt::format("{}: {}", words, chosen->name);
      if (ui.measure_text(TextStyle::small_strong, named) <= r.w) words = named;
    }
    if (head(ui, r.cut_top(30), fmt::format("group {}", g), words)) {
      state.impressions_open = open ? std::optional<std::size_t>{} : g;
    }
    if (open) r.cut_top(draw_choices(ui, r, members_of(g), editor, state) + 4);
  }
  return r.y - top;
}

// What was typed is on the list, or begins as some of it does, or stands as it is.
float draw_found(Ui& ui, const Rect& r, CardEditor& editor, RecordState& state) {
  constexpr std::size_t kMost = 12;
  std::vector<const Impression*> found = findings::find_impressions(state.impression_text);
  const std::size_t all = found.size();
  if (all > kMost) found.resize(kMost);
  const float used = draw_choices(ui, r, found, editor, state);
  std::string words;
  const bool written = state.impression_text == editor.impression().diagnosis;
  if (all == 0) words = "None of the list begins so. Enter writes it as it stands.";
  if (written) words = "Written as it stands.";
  if (all > kMost) words = fmt::format("{} more begin so. Type on.", all - kMost);
  if (words.empty()) return used;
  ui.text_in({r.x, r.y + used, r.w, 20}, TextStyle::small, Token::ink2, words);
  return used + 24;
}

float draw_sides(Ui& ui, const Rect& r, CardEditor& editor, RecordState& state) {
  const findings::ReadImpression now = findings::read_impression(editor.impression().diagnosis);
  if (now.impression == nullptr) return 0;
  const std::span<const Words> sides = findings::words_of(now.impression->sides);
  if (sides.empty()) return 0;
  std::vector<std::string> names;
  std::vector<Words> shown;
  names.reserve(sides.size());
  std::optional<std::size_t> chosen;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    names.push_back(upper_first(sides[i]));
    shown.push_back(names.back());
    if (now.side == sides[i]) chosen = i;
  }
  ui.text_in({r.x, r.y, 80, 30}, TextStyle::small, Token::ink2, "Side");
  if (const auto pick = one_of_few(ui, {r.x + 84, r.y, 0, 30}, "side", shown, chosen)) {
    set_diagnosis(editor, state, findings::write_impression(*now.impression, sides[*pick]));
  }
  return 38;
}

float draw_impression(Ui& ui, Rect r, CardEditor& editor, RecordState& state) {
  const float top = r.y;
  ui.text_in(r.cut_top(28), TextStyle::subhead, Token::ink, "Impression");
  r.cut_top(8);
  if (std::exchange(state.focus_impression, false)) ui.focus(ui.full_id("impression"));
  std::string& text = state.impression_text;
  if (text.empty() && ui.focused() != ui.full_id("impression")) {
    text = editor.impression().diagnosis;
  }
  const FieldEvent event =
      field(ui, r.cut_top(38), "impression", text,
            {.hint = "Type a few letters, or choose", .longest = 200, .room_below = 160});
  // Left for the list, what was typed goes on being looked up.
  if (event.settled &&
      (event.entered || findings::find_impressions(text).empty() || text.empty())) {
    settle_reason(editor, state);
  }
  r.cut_top(8);
  r.cut_top(draw_sides(ui, r, editor, state));
  const bool listed = text.empty() || findings::read_impression(text).impression != nullptr;
  r.cut_top(listed ? draw_groups(ui, r, editor, state) : draw_found(ui, r, editor, state));
  return r.y - top;
}

// ------------------------------------------------------------------------------------------ plan

void write_plan(CardEditor& editor, const Finding& f) {
  editor.set_plan(f);
  editor.settle();
}

constexpr std::array<Words, 5> kPlanGroups{"Correction", "Treatment", "Watching", "Refer to",
                                           "Advice"};

// Turns one part of the plan over.
void turn_part(CardEditor& editor, PlanPart part) {
  Finding f = editor.plan();
  const auto at = std::lower_bound(f.parts.begin(), f.parts.end(), part);
  if (at != f.parts.end() && *at == part) {
    f.parts.erase(at);
  } else {
    f.parts.insert(at, part);
  }
  write_plan(editor, f);
}

// Each group under its head; driving has a row of its own.
float draw_parts(Ui& ui, Rect r, CardEditor& editor) {
  const float top = r.y;
  for (std::size_t g = 0; g < kPlanGroups.size(); ++g) {
    ui.text_in(r.cut_top(20), TextStyle::small, Token::ink2, kPlanGroups[g]);
    Flow flow{r};
    for (const findings::PlanTerm& term : findings::plan_terms()) {
      if (static_cast<std::size_t>(term.group) != g || term.part == PlanPart::driving) continue;
      const auto& parts = editor.plan().parts;
      const bool on = std::find(parts.begin(), parts.end(), term.part) != parts.end();
      const Rect at = flow.place(ui, term.label);
      if (check(ui, at, term.label, on, std::string("plan ").append(term.label))) {
        turn_part(editor, term.part);
        break;
      }
    }
    r.cut_top(flow.height() + 4);
  }
  return r.y - top;
}

void draw_plan_rows(Ui& ui, Column& column, CardEditor& editor, RecordState& state) {
  const Rect next = column.row(ui, "Seen again in");
  std::optional<double> weeks = editor.plan().next_weeks;
  if (const auto value =
          stepper(ui, {next.x, next.y, 120, next.h}, "weeks", weeks, {0, 520, 1, 0, ""})) {
    Finding f = editor.plan();
    f.next_weeks = *value;
    if (weeks && *value == 0.0) f.next_weeks.reset();
    if (!weeks) f.next_weeks = std::max(1.0, *value);
    write_plan(editor, f);
  }
  ui.text_in({next.x + 130, next.y, next.w - 130, next.h}, TextStyle::small, Token::ink2, "weeks");

  static constexpr Words kDriving[] = {"No bar", "Not until controlled", "Not, and notify"};
  std::optional<std::size_t> driving;
  if (editor.plan().driving) driving = static_cast<std::size_t>(*editor.plan().driving);
  const Rect d = column.row(ui, "Driving");
  const float width = std::min(d.w, measure_one_of_few(ui, kDriving));
  if (const auto pick = one_of_few(ui, {d.x, d.y, width, d.h}, "driving", kDriving, driving)) {
    Finding f = editor.plan();
    f.driving = static_cast<Driving>(*pick);
    write_plan(editor, f);
  }
  if (driving && state.department) {
    const std::string& words =
        state.departments[*state.department].words_of(*editor.plan().driving);
    const float wide = column.area.w - column.label;
    const float height = ui.measure_paragraph(wide, TextStyle::small, words);
    ui.paragraph({column.area.x + column.label, column.area.y, wide, height}, TextStyle::small,
                 Token::ink2, words);
    column.gap(height + 8);
  }
  std::string advice = editor.plan().advice;
  if (draw_text_row(ui, column, "Advice", "advice", "in your words", advice, state)) {
    Finding f = editor.plan();
    f.advice = advice;
    write_plan(editor, f);
  }
}

float draw_plan(Ui& ui, Rect r, CardEditor& editor, RecordState& state) {
  const float top = r.y;
  ui.text_in(r.cut_top(28), TextStyle::subhead, Token::ink, "Plan");
  r.cut_top(4);
  r.cut_top(draw_parts(ui, r, editor) + 4);
  Column column{r, 96};
  draw_plan_rows(ui, column, editor, state);
  return column.area.y - top;
}

// -------------------------------------------------------------------------------------- how soon

// What the department calls this step; which department is chosen below.
float draw_code(Ui& ui, Rect r, const CardEditor& editor, RecordState& state) {
  const float top = r.y;
  if (state.departments.empty()) return 0;
  if (state.department && editor.plan().urgency) {
    const findings::Department& d = state.departments[*state.department];
    const std::string words = fmt::format("{}{}", d.code_of(*editor.plan().urgency),
                                          d.example ? " (an example, not your code)" : "");
    const float height = ui.measure_paragraph(r.w, TextStyle::strong, words);
    ui.paragraph({r.x, r.y, r.w, height}, TextStyle::strong, Token::ink, words);
    r.cut_top(height + 8);
  }
  ui.text_in(r.cut_top(20), TextStyle::small, Token::ink2, "Written in the code of");
  r.cut_top(2);
  if (radio(ui, r.cut_top(30), "None: the four steps alone", !state.department, "no department")) {
    state.department.reset();
  }
  for (std::size_t i = 0; i < state.departments.size(); ++i) {
    const std::string id = fmt::format("department {}", i);
    if (radio(ui, r.cut_top(30), state.departments[i].title, state.department == i, id)) {
      state.department = i;
    }
  }
  r.cut_top(8);
  return r.y - top;
}

float draw_how_soon(Ui& ui, Rect r, CardEditor& editor, RecordState& state) {
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
    write_plan(editor, f);
  }
  r.cut_top(10);
  r.cut_top(draw_code(ui, r, editor, state));
  constexpr Words kCaution =
      "Act on your local code and under a licensed practitioner. Redress trains; it does not "
      "diagnose real people.";
  const float height = ui.measure_paragraph(r.w, TextStyle::small, kCaution);
  ui.paragraph({r.x, r.y, r.w, height}, TextStyle::small, Token::ink2, kCaution);
  return r.y + height - top;
}

}  // namespace

void settle_reason(CardEditor& editor, RecordState& state) {
  const std::string text = state.impression_text;
  if (text == editor.impression().diagnosis) return;
  // One alone of the list that begins so is meant.
  const auto found = findings::find_impressions(text);
  const bool whole = findings::read_impression(text).impression != nullptr;
  if (whole || found.size() != 1 || text.empty()) {
    set_diagnosis(editor, state, text);
    return;
  }
  const bool right = text.find("right") != std::string::npos;
  const bool left = text.find("left") != std::string::npos;
  std::optional<Words> side;
  if (found[0]->sides != findings::Sides::none && right != left) {
    side = right ? Words("right") : Words("left");
  }
  set_diagnosis(editor, state, findings::write_impression(*found[0], side));
}

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
  r.cut_top(draw_plan(ui, r, editor, state));
  rule();
  r.cut_top(draw_how_soon(ui, r, editor, state));
  return r.y - top;
}

}  // namespace redress::screens::record
