// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Every act that has a key, in groups; a row is chosen, then its new key pressed.
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "render/screens/examine/help_page.hpp"
#include "render/screens/parts/parts.hpp"

namespace redress::screens::examine {

namespace {

constexpr float kRow = 32;
constexpr float kHead = 34;

struct ActGroup {
  std::string_view title;
  std::vector<std::size_t> acts;
};

std::string_view title_of(Command command) {
  if (command <= Command::other_occluder) return "Occluder";
  if (command <= Command::prism_held) return "Prism";
  if (command <= Command::near_point) return "Target";
  if (command >= Command::record && command <= Command::record_section) return "Record";
  return "Patient, view and pages";
}

std::vector<ActGroup> make_groups() {
  std::vector<ActGroup> groups;
  for (std::size_t i = 0; i < room_keys().size(); ++i) {
    if (is_fixed(i)) continue;
    const std::string_view title = title_of(room_keys()[i].order.command);
    auto group = groups.begin();
    while (group != groups.end() && group->title != title) ++group;
    if (group == groups.end()) group = groups.insert(group, {title, {}});
    group->acts.push_back(i);
  }
  return groups;
}

std::string write_refusal(const KeyRefusal& refusal, const Chord& wanted,
                          const KeyCaptions& captions) {
  const std::string key = captions.of(wanted);
  const std::string_view other = room_keys()[refusal.by].words;
  switch (refusal.why) {
    case KeyRefusal::Why::reserved:
      return wanted.key == hid::kTab
                 ? "Tab goes from control to control. Press another key."
                 : "That key has no name that could be shown. Press another key.";
    case KeyRefusal::Why::taken:
      return fmt::format("{} is the key of “{}”. Press another, or give that one a new key first.",
                         key, other);
    case KeyRefusal::Why::taken_slow:
      return fmt::format("{} does “{}” slowly. Press another key.", key, other);
    case KeyRefusal::Why::shift_slows:
      return "With Shift this is done slowly: press its key without Shift.";
  }
  return {};
}

void draw_act(Ui& ui, const Rect& r, std::size_t act, KeyCaptions& captions, HelpPageState& state) {
  const std::string_view words = room_keys()[act].words;
  const bool waits = state.moving == act;
  if (list_row(ui, r, words, words, waits)) {
    state.moving = waits ? std::nullopt : std::optional(act);
    state.refusal.clear();
    state.moved.clear();
  }
  Rect inner = r.inset(8, 0);
  if (waits) {
    const std::string_view ask = "press its new key";
    const float width = ui.measure_text(TextStyle::small_strong, ask);
    ui.text_in(inner.cut_right(width), TextStyle::small_strong, Token::act, ask);
  } else {
    const std::string caption = captions.of(captions.keys.chord_of(act));
    const float width = measure_key_cap(ui, caption);
    key_cap(ui, {inner.right() - width, r.centre().y}, caption);
    inner.cut_right(width);
  }
  inner.cut_right(8);
  // What was moved is told by more than its place.
  const bool own = !captions.keys.is_usual(act);
  ui.text_in(inner, own || waits ? TextStyle::small_strong : TextStyle::small, Token::ink, words);
}

}  // namespace

float draw_key_top(Ui& ui, const Rect& area, KeyCaptions& captions, HelpPageState& state) {
  Rect row{area.x, area.y, area.w, 36};
  const std::string_view usual = "Usual keys";
  const ButtonLook look{.available = !captions.keys.is_usual(),
                        .why_not = "All keys are where they usually are."};
  if (button(ui, row.cut_right(measure_button(ui, usual, look)), usual, look)) {
    captions.keys.use_usual();
    state.moving.reset();
    state.refusal.clear();
    state.moved = "All keys are where they usually are.";
  }
  row.cut_right(16);
  std::string words = "Choose what you want to move, then press its new key.";
  if (state.moving) {
    words = fmt::format("Press the new key of “{}”. Esc leaves it where it is.",
                        room_keys()[*state.moving].words);
  } else if (!state.moved.empty()) {
    words = state.moved;
  }
  if (!state.refusal.empty()) words = state.refusal;
  if (!state.refusal.empty()) {
    icon(ui, Icon::caution, {row.x + 8, row.y + 11}, Token::care, 16);
    row.cut_left(24);
  }
  ui.paragraph({row.x, row.y, row.w, 44}, TextStyle::body,
               state.refusal.empty() ? Token::ink2 : Token::ink, words);
  return 56;
}

void take_new_key(const Chord& pressed, KeyCaptions& captions, HelpPageState& state) {
  if (!state.moving) return;
  state.refusal.clear();
  state.moved.clear();
  if (pressed.key == hid::kEscape) {
    state.moving.reset();
    return;
  }
  const std::size_t act = *state.moving;
  if (const auto refusal = captions.keys.assign(act, pressed)) {
    state.refusal = write_refusal(*refusal, pressed, captions);
    return;
  }
  state.moved = fmt::format("“{}” is on {} now.", room_keys()[act].words, captions.of(pressed));
  state.moving.reset();
}

float draw_key_list(Ui& ui, const Rect& area, KeyCaptions& captions, HelpPageState& state) {
  if (state.moving) ui.set_typing();  // no key is a command while one is waited for
  const float top = area.y;
  const std::size_t columns = area.w < 1000 ? 2 : 3;
  constexpr float kGap = 28;
  const float width = (area.w - 12 + kGap) / static_cast<float>(columns) - kGap;
  float whole = 0;
  const std::vector<ActGroup> groups = make_groups();
  for (const ActGroup& g : groups) whole += kHead + kRow * static_cast<float>(g.acts.size()) + 12;
  const float most = whole / static_cast<float>(columns);
  float x = area.x;
  float y = top;
  float lowest = top;
  std::size_t column = 0;
  const auto write_title = [&](std::string_view title, Token token) {
    ui.text_in({x, y, width, kHead - 6}, TextStyle::strong, token, title);
    y += kHead;
  };
  // A column ends where its share does; a title never stands alone at its foot.
  const auto next_column = [&](float needed) {
    if (y + needed <= top + most + kRow || column + 1 >= columns) return false;
    ++column;
    x += width + kGap;
    y = top;
    return true;
  };
  for (const ActGroup& group : groups) {
    next_column(kHead + 2 * kRow);
    write_title(group.title, Token::ink);
    for (const std::size_t act : group.acts) {
      if (next_column(kRow)) write_title(group.title, Token::ink3);  // goes on
      draw_act(ui, {x, y, width, kRow - 2}, act, captions, state);
      y += kRow;
      lowest = std::max(lowest, y);
    }
    y += 12;
  }
  return lowest + 24 - area.y;
}

}  // namespace redress::screens::examine
