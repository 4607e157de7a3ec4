// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/help_page.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <string_view>
#include <vector>

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
constexpr std::array<Gesture, kGestures> kMouse{{
    {"Move: it is ready, below the pointer",
     "The occluder waits under the face and hides nothing."},
    {"Press: it comes up before the face",
     "As fast as a hand. Hold, and it follows 1:1 in millimetres. Wheel: nearer, farther; "
     "with Shift it turns."},
    {"Slide while pressed: a transfer",
     "From one eye to the other. A slow or low slide lets both eyes see."},
    {"Let go while moving: it leaves that way",
     "Let go at rest: it is lowered. Right button while pressed: it stays there, your hand "
     "is free."},
}};

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
    Gesture{"Start", "the pad goes round what can be pressed"},
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

struct KeyWords {
  std::string_view words;
  Group group = Group::room;
};

/// What lies on that place now, as far as anything does.
KeyWords find_words(const KeyCaptions& captions, const Chord& place) {
  const auto act = captions.keys.find_act(place);
  if (!act) return {};
  const KeyBinding& binding = room_keys()[*act];
  for (const auto& row : kBlock) {
    for (const HelpKey& key : row) {
      if (binding.key == key.key && binding.modifiers == Modifiers{}) return {key.words, key.group};
    }
  }
  const Command command = binding.order.command;
  const bool occluder = command <= Command::other_occluder;
  const bool prism = command >= Command::prism_step && command <= Command::prism_held;
  return {binding.words, occluder ? Group::occluder : prism ? Group::prism : Group::room};
}

/// Returns the height used.
float draw_keyboard(Ui& ui, const Rect& area, const KeyCaptions& captions) {
  const bool mirrored = captions.keys.mirrored();
  const float pitch = std::min(94.0F, (area.w - kIndent.back()) / 5);
  const float high = 72;
  float y = area.y;
  for (std::size_t row = 0; row < kBlock.size(); ++row) {
    const float indent = mirrored ? kIndent.back() - kIndent[row] : kIndent[row];
    for (std::size_t i = 0; i < kBlock[row].size(); ++i) {
      // The digits keep their order on the other side of the keyboard, the letters turn round.
      const bool turned = mirrored && row > 0;
      const HelpKey& key = kBlock[row][turned ? kBlock[row].size() - 1 - i : i];
      const Scancode place = mirrored ? mirror_key(key.key) : key.key;
      const KeyWords words = find_words(captions, {place, {}});
      draw_key(ui, {area.x + indent + pitch * static_cast<float>(i), y, pitch - 6, high - 6},
               captions.printed_on(place), words.words, words.group);
    }
    y += high;
  }
  const Rect space{area.x + 40, y, 4 * pitch - 6, 40};
  const KeyWords words = find_words(captions, {hid::kSpace, {}});
  const Dress dress = dress_of(words.group);
  ui.fill(space, dress.ground, kRadiusButton);
  ui.outline(space, dress.edge, 1, kRadiusButton);
  ui.text_in(space.inset(8, 0), TextStyle::strong, Token::ink, captions.printed_on(hid::kSpace));
  const bool usual = captions.of(hid::kSpace) == captions.printed_on(hid::kSpace);
  ui.text_in(space.inset(8, 0), TextStyle::small, Token::ink,
             usual ? "to the other eye; the rhythm is yours" : words.words, Align::right);
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

// Of the pictures, side by side.
constexpr float kGestureGap = 24;
std::size_t count_columns(float width) { return width < 900 ? 2 : 4; }
float measure_column(float width) {
  return (width + kGestureGap) / static_cast<float>(count_columns(width)) - kGestureGap;
}

/// Pointer and way of the hand in a picture, shares of its width and height.
struct Way {
  Point pointer;
  Point from;
  Point to;  ///< equal to from: the hand rests
};
constexpr std::array<Way, kGestures> kWays{{{{0.28F, 0.62F}, {}, {}},
                                            {{0.30F, 0.48F}, {0.34F, 0.92F}, {0.31F, 0.62F}},
                                            {{0.50F, 0.40F}, {0.38F, 0.70F}, {0.62F, 0.64F}},
                                            {{0.80F, 0.12F}, {0.72F, 0.56F}, {0.78F, 0.22F}}}};

/// What is drawn into a picture is light with a dark edge in both themes, so that it is seen on
/// skin and on the blade.
struct Chalk {
  Token light, edge;
};
Chalk find_chalk(const Ui& ui) {
  return ui.theme() == Theme::light ? Chalk{Token::sheet, Token::ink}
                                    : Chalk{Token::ink, Token::sheet};
}

/// The usual arrow of a pointer, its tip at `tip`.
void draw_pointer(Ui& ui, Point tip) {
  const Chalk chalk = find_chalk(ui);
  const auto at = [&](float x, float y) { return Point{tip.x + x, tip.y + y}; };
  const std::vector<Point> head{at(0, 0), at(0, 17), at(12, 12)};
  const std::vector<Point> tail{at(3.5F, 12), at(7.5F, 20.5F), at(10.5F, 19), at(6.5F, 11)};
  ui.polygon(tail, chalk.light);
  ui.polygon(head, chalk.light);
  ui.polyline({at(4, 15), at(0, 17), at(0, 0), at(12, 12), at(7.5F, 12.8F), at(10.5F, 19),
               at(7.5F, 20.5F), at(4, 15)},
              chalk.edge, 1);
}

void draw_way(Ui& ui, Point from, Point to) {
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  if (length < 1) return;
  const Chalk chalk = find_chalk(ui);
  const Point along{(to.x - from.x) / length, (to.y - from.y) / length};
  constexpr float kHead = 15;
  const Point neck{to.x - along.x * kHead, to.y - along.y * kHead};
  ui.line(from, neck, chalk.edge, 5);
  ui.line(from, neck, chalk.light, 3);
  const Point left{neck.x - along.y * 8, neck.y + along.x * 8};
  const Point right{neck.x + along.y * 8, neck.y - along.x * 8};
  ui.polygon({to, left, right}, chalk.light);
  ui.polyline({left, to, right, left}, chalk.edge, 1);
}

void draw_gesture(Ui& ui, const Rect& r, std::uintptr_t picture, const Way& way) {
  ui.fill(r, Token::surround, kRadiusButton);
  if (picture == 0) return;
  ui.picture(r, picture, kRadiusButton);
  const auto within = [&](Point share) { return Point{r.x + share.x * r.w, r.y + share.y * r.h}; };
  ui.push_clip(r);
  draw_way(ui, within(way.from), within(way.to));
  draw_pointer(ui, within(way.pointer));
  ui.pop_clip();
}

float draw_mouse(Ui& ui, const Rect& area, const HelpPageState& state) {
  ui.text_in({area.x, area.y, area.w, 32}, TextStyle::head, Token::ink,
             "The mouse hand holds the occluder");
  const std::size_t columns = count_columns(area.w);
  const float width = measure_column(area.w);
  const float high = width / kGestureAspect;
  float top = area.y + 40;
  float most = top;
  for (std::size_t i = 0; i < kMouse.size(); ++i) {
    if (i > 0 && i % columns == 0) top = most + 16;
    const float x = area.x + static_cast<float>(i % columns) * (width + kGestureGap);
    draw_gesture(ui, {x, top, width, high}, state.gestures[i], kWays[i]);
    float y = top + high + 8;
    y += ui.paragraph({x, y, width, 200}, TextStyle::strong, Token::ink, kMouse[i].title) + 2;
    y += ui.paragraph({x, y, width, 200}, TextStyle::small, Token::ink2, kMouse[i].words);
    most = std::max(most, y);
  }
  return most - area.y;
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

bool draw_bar(Ui& ui, const StudyLayout& layout, HelpPageState& state) {
  ui.begin_region("help bar", layout.bar, Token::sheet);
  Rect r = layout.bar;
  ui.line({r.x, r.bottom() - 1}, {r.right(), r.bottom() - 1}, Token::line);
  r = r.inset(layout.compact ? 8 : 16, 0);
  const ButtonLook look{.kind = ButtonKind::quiet, .key = "Esc", .icon = Icon::back};
  const std::string_view words = layout.compact ? "Back" : "Back to the patient";
  const Rect left = r.cut_left(measure_button(ui, words, look));
  const bool back = button(ui, {left.x, r.centre().y - 18, left.w, 36}, words, look);
  static constexpr std::string_view kTabs[] = {"Hands and keys", "Change keys"};
  if (const auto tab = tabs(ui, r.cut_right(measure_tabs(ui, kTabs)), "tabs", kTabs,
                            state.changes_keys ? 1 : 0)) {
    state.changes_keys = *tab == 1;
    state.moving.reset();
    state.refusal.clear();
    state.moved.clear();
  }
  ui.end_region();
  return back;
}

/// Several acts that lie together: their usual words while all lie where they usually do.
struct Run {
  Scancode first;
  Scancode last;
  Modifiers held;
  std::string_view usual;
};
std::string write_run(const KeyCaptions& captions, const Run& run) {
  bool as_usual = true;
  std::string all;
  for (Scancode key = run.first; key <= run.last; ++key) {
    const std::string caption = captions.of(key, run.held);
    as_usual = as_usual && caption == captions.of(Chord{key, run.held});
    all += (all.empty() ? "" : ", ") + caption;
  }
  return as_usual ? std::string(run.usual) : all;
}

float draw_settings(Ui& ui, const Rect& area, HelpPageState& state) {
  float y = area.y;
  const auto turn = [&](std::string_view words, bool& value) {
    if (check(ui, {area.x, y, area.w, 30}, words, value)) value = !value;
    y += 34;
  };
  turn("One key at a time: Shift and Ctrl wait for the next key", state.one_key_at_a_time);
  turn("A click takes the occluder, the next lets it go", state.click_holds);
  return y - area.y;
}

float draw_heading(Ui& ui, const Rect& area) {
  const std::string_view words = "The other hand holds the prism, and speaks";
  ui.text_in({area.x, area.y, area.w, 32}, TextStyle::head, Token::ink, words);
  constexpr float kLegend = 330;
  if (ui.measure_text(TextStyle::head, words) + kLegend < area.w) {
    draw_legend(ui, {area.x, area.y, area.w, 32});
    return 44;
  }
  draw_legend(ui, {area.x, area.y + 34, std::min(area.w, kLegend), 22});
  return 66;
}

/// Keyboard and tables beside each other, or in a narrow window one below the other.
float draw_hands_and_keys(Ui& ui, const Rect& area, bool one_column, const KeyCaptions& captions,
                          HelpPageState& state) {
  float y = area.y;
  if (one_column) y += draw_settings(ui, {area.x, y, area.w, 0}, state) + 8;
  y += draw_mouse(ui, {area.x, y, area.w, 0}, state) + 20;
  ui.line({area.x, y}, {area.right(), y}, Token::line);
  y += 16;
  y += draw_heading(ui, {area.x, y, area.w, 0});
  const std::vector<HelpLine> lines = make_help_lines(captions);
  std::vector<HelpLine> pad;
  for (const Gesture& g : kController) pad.push_back({std::string(g.title), std::string(g.words)});
  constexpr std::string_view kEverywhere = "Everywhere in the room";
  constexpr std::string_view kPad = "Game controller";
  if (one_column) {
    y += draw_keyboard(ui, {area.x, y, area.w, 0}, captions) + 20;
    y += draw_table(ui, {area.x, y, area.w, 0}, kEverywhere, lines, 150) + 20;
    y += draw_table(ui, {area.x, y, area.w, 0}, kPad, pad, 150);
    return y + 24 - area.y;
  }
  const float board = std::min(540.0F, area.w * 0.4F);
  const float right = std::min(330.0F, area.w * 0.25F);
  constexpr float kGap = 28;
  const Rect middle{area.x + board + kGap, y, area.w - board - right - 2 * kGap, 0};
  float keyboard = draw_keyboard(ui, {area.x, y, board, 0}, captions) + 20;
  keyboard += draw_settings(ui, {area.x, y + keyboard, board, 0}, state);
  const float used =
      std::max({keyboard, draw_table(ui, middle, kEverywhere, lines, 136),
                draw_table(ui, {area.right() - right, y, right, 0}, kPad, pad, 128)});
  return y + used + 24 - area.y;
}

}  // namespace

std::vector<HelpLine> make_help_lines(const KeyCaptions& captions) {
  constexpr Modifiers kShift{.shift = true};
  constexpr Modifiers kControl{.control = true};
  constexpr Scancode kCoach = hid::kF1 + 8;
  const auto of = [&](char c) { return captions.of(c); };
  const auto last = [](Scancode first, int count) {
    return static_cast<Scancode>(first + count - 1);
  };
  const std::string cover = fmt::format("{}, {}", of('A'), of('D'));
  const std::string arrows = write_run(captions, {hid::kRight, hid::kUp, {}, "Arrow keys"});
  const std::string far = write_run(captions, {hid::kRight, hid::kUp, kShift, "with Shift"});
  const std::string lean = write_run(captions, {hid::kRight, hid::kUp, kControl, "Ctrl + arrows"});
  return {
      {cover + " once more", "takes the occluder away on that side"},
      {"Shift + occluder key", "the same, slowly"},
      {arrows, fmt::format("occluder by 1 mm, {} 5 mm", far)},
      {fmt::format("{}, {}", captions.of(hid::kPageUp), captions.of(hid::kPageDown)),
       fmt::format("farther, nearer; {} and {} turn it", captions.of(hid::kHome),
                   captions.of(hid::kEnd))},
      {write_run(captions, {hid::kF1, last(hid::kF1, 6), {}, "F1 to F6"}), "target distance"},
      {fmt::format("{} and {}", captions.of(hid::kLeftBracket), captions.of(hid::kRightBracket)),
       "smaller, larger target"},
      {write_run(captions, {hid::kKeypad1, last(hid::kKeypad1, 9), {}, "Number pad"}),
       "position of gaze; 4 is the patient's right"},
      {of('M'), "near point: the target comes nearer, or stops"},
      {fmt::format("{} then 1 to 8", of('X')),
       fmt::format("say or ask at once; {} repeats the last", captions.of(hid::kReturn))},
      {lean, fmt::format("lean: move your own head; {} straight again",
                         captions.of(hid::kHome, kControl))},
      {fmt::format("{}, {}", of('N'), captions.of(hid::kSlash)),
       fmt::format("record card; write a finding (or {} twice)", of('N'))},
      {write_run(captions, {hid::kDigit1, last(hid::kDigit1, 6), kControl, "Ctrl 1 to 6"}),
       "section of the card"},
      {fmt::format("{}, {}", of('H'), of('J')), "story and what was said; tasks"},
      {fmt::format("{}, {}", captions.of(kCoach), captions.of(kCoach, kShift)),
       "what comes next, said or not; why"},
      {"Tab, Shift + Tab", "next, previous control; Esc back to the room"},
  };
}

float measure_gesture(const StudyLayout& layout) { return measure_column(layout.body.w); }

bool draw_help_page(Ui& ui, const StudyLayout& layout, KeyCaptions& captions,
                    HelpPageState& state) {
  const bool back = draw_bar(ui, layout, state);
  const Rect under{0, layout.bar.bottom(), layout.bar.w, ui.size().y - layout.bar.bottom()};
  ui.begin_region("help", under, Token::page);
  Rect body = layout.body;
  if (state.changes_keys) body.cut_top(draw_key_top(ui, body, captions, state));
  const std::string_view which = state.changes_keys ? "keys" : "help";
  const float up =
      ui.begin_scroll(which, {0, body.y, under.w, under.bottom() - body.y}, state.height,
                      state.changes_keys ? ScrollKeys::under_pointer : ScrollKeys::always);
  const Rect area{body.x, body.y - up, body.w, 0};
  state.height = state.changes_keys
                     ? draw_key_list(ui, area, captions, state)
                     : draw_hands_and_keys(ui, area, layout.compact, captions, state);
  ui.end_scroll();
  ui.end_region();
  return back;
}

}  // namespace redress::screens::examine
