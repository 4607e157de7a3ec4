// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/help_page.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <string_view>

#include <fmt/format.h>

#include "render/screens/parts/parts.hpp"

namespace redress::screens::examine {

namespace {

using hid::letter;

enum class Group : std::uint8_t { occluder, prism, room };

struct HelpKey {
  Scancode key;
  std::string_view words;
  Group group;
};
constexpr Scancode digit(int n) { return static_cast<Scancode>(hid::kDigit1 + n - 1); }

// Rows of the block under the hand that does not hold the mouse, as for a mouse in the right hand.
constexpr std::array<std::array<HelpKey, 5>, 4> kBlock{{
    {{{digit(1), "base in", Group::prism},
      {digit(2), "base out", Group::prism},
      {digit(3), "base up", Group::prism},
      {digit(4), "base down", Group::prism},
      {digit(5), "kind of prism", Group::prism}}},
    {{{letter('Q'), "weaker", Group::prism},
      {letter('W'), "lift up", Group::occluder},
      {letter('E'), "stronger", Group::prism},
      {letter('R'), "other eye", Group::prism},
      {letter('T'), "target", Group::room}}},
    {{{letter('A'), "cover, left side", Group::occluder},
      {letter('S'), "lower", Group::occluder},
      {letter('D'), "cover, right side", Group::occluder},
      {letter('F'), "take, put away", Group::prism},
      {letter('G'), "split, stack", Group::prism}}},
    {{{letter('Z'), "closer, back", Group::room},
      {letter('X'), "say or ask", Group::room},
      {letter('C'), "correction", Group::room},
      {letter('V'), "other occluder", Group::occluder},
      {letter('B'), "penlight", Group::room}}},
}};
constexpr std::array<float, 4> kIndent{0, 26, 40, 64};

struct Gesture {
  std::string_view title;
  std::string_view words;
};
constexpr std::array kMouse{
    Gesture{"Move: it is ready, below the pointer",
            "The occluder waits under the face and hides nothing."},
    Gesture{"Press: it comes up before the face",
            "As fast as a hand. Hold, and it follows 1:1 in millimetres. Wheel: nearer, farther; "
            "with Shift it turns."},
    Gesture{"Slide while pressed: a transfer",
            "From one eye to the other. A slow or low slide lets both eyes see."},
    Gesture{"Let go while moving: it leaves that way",
            "Let go at rest: it is lowered. Right button while pressed: it stays there, your hand "
            "is free."},
};

constexpr std::array kController{
    Gesture{"Right stick", "occluder, up, down, sideways"},
    Gesture{"Right trigger", "brings it up; pull for nearer"},
    Gesture{"Let go", "it leaves the way it moves"},
    Gesture{"Left stick", "lean"},
    Gesture{"Left trigger", "prism before the eye"},
    Gesture{"Left, right bumper", "prism weaker, stronger"},
    Gesture{"Direction pad", "base in, out, up, down"},
    Gesture{"Lower, right button", "say again; say or ask"},
    Gesture{"Left, upper button", "target; record card"},
    Gesture{"Press right stick", "other occluder"},
    Gesture{"In a drawer", "pad moves, lower chooses, right closes"},
};

struct Dress {
  Token ground, edge;
};
Dress dress_of(Group group) {
  switch (group) {
    case Group::occluder: return {Token::chosen, Token::act};
    case Group::prism: return {Token::well, Token::edge};
    case Group::room: break;
  }
  return {Token::sheet, Token::edge};
}

void draw_key(Ui& ui, const Rect& r, const std::string& caption, std::string_view words,
              Group group) {
  const Dress dress = dress_of(group);
  ui.fill(r, dress.ground, kRadiusButton);
  ui.outline(r, dress.edge, 1, kRadiusButton);
  Rect inner = r.inset(8, 5);
  ui.text_in(inner.cut_top(20), TextStyle::strong, Token::ink, caption);
  const float used = ui.measure_paragraph(inner.w, TextStyle::small, words);
  ui.paragraph({inner.x, inner.bottom() - used, inner.w, used}, TextStyle::small, Token::ink,
               words);
}

/// Returns the height used.
float draw_keyboard(Ui& ui, const Rect& area, const KeyCaptions& captions) {
  const float pitch = std::min(94.0F, (area.w - kIndent.back()) / 5);
  const float high = 72;
  float y = area.y;
  for (std::size_t row = 0; row < kBlock.size(); ++row) {
    const float indent = captions.mirrored ? kIndent.back() - kIndent[row] : kIndent[row];
    for (std::size_t i = 0; i < kBlock[row].size(); ++i) {
      // The digits keep their order on the other side of the keyboard, the letters turn round.
      const bool turned = captions.mirrored && row > 0;
      const HelpKey& key = kBlock[row][turned ? kBlock[row].size() - 1 - i : i];
      std::string_view words = key.words;
      if (captions.mirrored && key.key == letter('A')) words = "cover, right side";
      if (captions.mirrored && key.key == letter('D')) words = "cover, left side";
      const Scancode place = captions.mirrored ? mirror_key(key.key) : key.key;
      const auto known = captions.printed.find(place);
      const std::string caption =
          known != captions.printed.end() ? known->second : std::string(find_caption(place));
      draw_key(ui, {area.x + indent + pitch * static_cast<float>(i), y, pitch - 6, high - 6},
               caption, words, key.group);
    }
    y += high;
  }
  const Rect space{area.x + 40, y, 4 * pitch - 6, 40};
  const Dress dress = dress_of(Group::occluder);
  ui.fill(space, dress.ground, kRadiusButton);
  ui.outline(space, dress.edge, 1, kRadiusButton);
  ui.text_in(space.inset(8, 0), TextStyle::strong, Token::ink, "Space");
  ui.text_in(space.inset(8, 0), TextStyle::small, Token::ink,
             "to the other eye; the rhythm is yours", Align::right);
  return y + 40 - area.y;
}

float draw_table(Ui& ui, const Rect& area, std::string_view title, std::span<const HelpLine> lines,
                 float keys) {
  float y = area.y;
  ui.text_in({area.x, y, area.w, 22}, TextStyle::strong, Token::ink, title);
  y += 28;
  for (const HelpLine& line : lines) {
    const float width = area.w - keys - 8;
    const float used = std::max(ui.measure_paragraph(width, TextStyle::small, line.words),
                                ui.measure_paragraph(keys, TextStyle::small_strong, line.keys));
    ui.paragraph({area.x, y + 4, keys, used}, TextStyle::small_strong, Token::ink, line.keys);
    ui.paragraph({area.x + keys + 8, y + 4, width, used}, TextStyle::small, Token::ink2,
                 line.words);
    y += used + 9;
    ui.line({area.x, y - 1}, {area.right(), y - 1}, Token::line);
  }
  return y - area.y;
}

float draw_mouse(Ui& ui, const Rect& area) {
  ui.text_in({area.x, area.y, area.w, 32}, TextStyle::head, Token::ink,
             "The mouse hand holds the occluder");
  constexpr float kGap = 24;
  const float width = (area.w - 3 * kGap) / 4;
  float most = 0;
  for (std::size_t i = 0; i < kMouse.size(); ++i) {
    const float x = area.x + static_cast<float>(i) * (width + kGap);
    float y = area.y + 40;
    y += ui.paragraph({x, y, width, 200}, TextStyle::strong, Token::ink, kMouse[i].title) + 2;
    y += ui.paragraph({x, y, width, 200}, TextStyle::small, Token::ink2, kMouse[i].words);
    most = std::max(most, y - area.y);
  }
  return most;
}

void draw_legend(Ui& ui, const Rect& r) {
  constexpr std::pair<Group, std::string_view> kLegend[] = {
      {Group::room, "room"},
      {Group::prism, "prism"},
      {Group::occluder, "occluder, without a mouse"}};
  Rect rest = r;
  for (const auto& [group, words] : kLegend) {
    const float width = ui.measure_text(TextStyle::small, words);
    ui.text_in(rest.cut_right(width), TextStyle::small, Token::ink2, words);
    rest.cut_right(8);
    const Rect box = rest.cut_right(14);
    const Rect at{box.x, box.centre().y - 7, 14, 14};
    ui.fill(at, dress_of(group).ground, kRadiusKey);
    ui.outline(at, dress_of(group).edge, 1, kRadiusKey);
    rest.cut_right(20);
  }
}

bool draw_bar(Ui& ui, const StudyLayout& layout) {
  ui.begin_region("help bar", layout.bar, Token::sheet);
  Rect r = layout.bar;
  ui.line({r.x, r.bottom() - 1}, {r.right(), r.bottom() - 1}, Token::line);
  r = r.inset(16, 8);
  const ButtonLook look{.kind = ButtonKind::quiet, .key = "Esc", .icon = Icon::back};
  const std::string_view words = "Back to the patient";
  const bool back = button(ui, r.cut_left(measure_button(ui, words, look)), words, look);
  r.cut_left(16);
  ui.text_in(r, TextStyle::strong, Token::ink, "Hands and keys");
  ui.end_region();
  return back;
}

}  // namespace

std::vector<HelpLine> make_help_lines(const KeyCaptions& captions) {
  const auto of = [&](char c) { return captions.of(c); };
  const std::string cover = fmt::format("{}, {}", of('A'), of('D'));
  return {
      {cover + " once more", "takes the occluder away on that side"},
      {"Shift + occluder key", "the same, slowly"},
      {"Arrow keys", "occluder by 1 mm, with Shift 5 mm"},
      {"Page Up, Down", "farther, nearer; Home and End turn it"},
      {"F1 to F6", "target distance"},
      {fmt::format("{} and {}", captions.of(hid::kLeftBracket), captions.of(hid::kRightBracket)),
       "smaller, larger target"},
      {"Number pad", "position of gaze; 4 is the patient's right"},
      {of('M'), "near point: the target comes nearer, or stops"},
      {fmt::format("{} then 1 to 8", of('X')), "say or ask at once; Enter repeats the last"},
      {"Ctrl + arrows", "lean: move your own head; Ctrl + Home straight again"},
      {fmt::format("{}, {}", of('N'), captions.of(hid::kSlash)),
       fmt::format("record card; write a finding (or {} twice)", of('N'))},
      {"Ctrl 1 to 6", "section of the card"},
      {fmt::format("{}, {}", of('H'), of('J')), "story and what was said; tasks"},
      {"F9, Shift + F9", "what comes next, said or not; why"},
      {"Tab, Shift + Tab", "next, previous control; Esc back to the room"},
  };
}

bool draw_help_page(Ui& ui, const StudyLayout& layout, const KeyCaptions& captions,
                    HelpPageState& state) {
  const bool back = draw_bar(ui, layout);
  const Rect under{0, layout.bar.bottom(), layout.bar.w, ui.size().y - layout.bar.bottom()};
  ui.begin_region("help", under, Token::page);
  const Rect body = layout.body;
  const float up =
      ui.begin_scroll("help", {0, body.y, under.w, under.bottom() - body.y}, state.height);
  float y = body.y - up;
  y += draw_mouse(ui, {body.x, y, body.w, 0}) + 20;
  ui.line({body.x, y}, {body.right(), y}, Token::line);
  y += 16;
  ui.text_in({body.x, y, body.w * 0.5F, 32}, TextStyle::head, Token::ink,
             "The other hand holds the prism, and speaks");
  draw_legend(ui, {body.x + body.w * 0.5F, y, body.w * 0.5F, 32});
  y += 44;
  const float board = std::min(540.0F, body.w * 0.4F);
  const float right = std::min(330.0F, body.w * 0.25F);
  constexpr float kGap = 28;
  const Rect middle{body.x + board + kGap, y, body.w - board - right - 2 * kGap, 0};
  const std::vector<HelpLine> lines = make_help_lines(captions);
  std::vector<HelpLine> pad;
  for (const Gesture& g : kController) pad.push_back({std::string(g.title), std::string(g.words)});
  float keyboard = draw_keyboard(ui, {body.x, y, board, 0}, captions) + 20;
  const auto turn = [&](std::string_view words, bool& value) {
    if (check(ui, {body.x, y + keyboard, board, 30}, words, value)) value = !value;
    keyboard += 34;
  };
  turn("One key at a time: Shift and Ctrl wait for the next key", state.one_key_at_a_time);
  turn("A click takes the occluder, the next lets it go", state.click_holds);
  const float used =
      std::max({keyboard, draw_table(ui, middle, "Everywhere in the room", lines, 136),
                draw_table(ui, {body.right() - right, y, right, 0}, "Game controller", pad, 128)});
  y += used + 24;
  state.height = y + up - body.y;
  ui.end_scroll();
  ui.end_region();
  return back;
}

}  // namespace redress::screens::examine
