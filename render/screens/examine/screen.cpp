// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/screen.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "render/screens/examine/drawer_screen.hpp"
#include "render/screens/examine/reading.hpp"
#include "render/screens/parts/room_parts.hpp"

namespace redress::screens::examine {

namespace {

using Orders = std::vector<Order>;

constexpr float kPad = 14;

Order open(Drawer drawer) { return {Command::drawer, static_cast<double>(drawer), 0}; }

struct Read {
  std::string_view id, words;
  const std::string& key;
  Drawer drawer;
};

std::array<Read, 2> list_reads(const RoomView& v) {
  return {{{"story", "Story", v.story_key, Drawer::story},
           {"tasks", "Tasks", v.tasks_key, Drawer::tasks}}};
}

float width_of(const Ui& ui, const Read& read) {
  return ui.measure_text(TextStyle::small, read.words) + 6 + measure_key_cap(ui, read.key);
}

/// What can be read: the story, and the tasks, as far as there is room.
void draw_reads(Ui& ui, const Rect& strip, Rect r, const RoomView& v, Orders& orders) {
  const float height = std::min(36.0F, strip.h - 2);
  for (const Read& read : list_reads(v)) {
    r.cut_left(16);
    const float width = width_of(ui, read);
    if (width > r.w && read.drawer != Drawer::story) break;
    const Rect place = r.cut_left(width);
    const Rect box{place.x, strip.centre().y - height / 2, place.w, height};
    const Touch asked = ui.touch(read.id, box, read.words, PartKind::button);
    if (asked.hovered) ui.fill(box.inset(-4, 2), Token::well, kRadiusButton);
    if (asked.focused) ui.focus_ring(box, kRadiusButton);
    const float word = ui.measure_text(TextStyle::small, read.words);
    ui.text_in({box.x, box.y, word, box.h}, TextStyle::small, Token::ink2, read.words);
    key_cap(ui, {box.x + word + 6, box.centre().y}, read.key);
    if (asked.clicked) orders.push_back(open(read.drawer));
  }
}

/// At a station: where and who sits here at the left, that every act is kept and the time left at
/// the right; then the patient. What has no room is left out, the clock and the tasks never.
void draw_station_strip(Ui& ui, const ExamineLayout& layout, const RoomView& v, Orders& orders) {
  ui.begin_region("strip", layout.strip, Token::sheet);
  Rect r = layout.strip.inset(layout.compact ? 8 : kPad, 0);
  const StationWords& at = *v.station;
  const float clock = ui.measure_figures(TextStyle::subhead, v.clock);
  ui.figures_in(r.cut_right(clock), TextStyle::subhead, Token::ink, v.clock, Align::right);
  r.cut_right(8);
  const std::string_view left = at.last_minute ? "last minute" : "left";
  ui.text_in(r.cut_right(ui.measure_text(TextStyle::body, left)), TextStyle::body, Token::ink2,
             left, Align::right);
  const std::string& where = layout.compact ? at.short_where : at.where;
  ui.text_in(r.cut_left(ui.measure_text(TextStyle::strong, where)), TextStyle::strong, Token::ink,
             where);
  const auto wide = [&](TextStyle style, std::string_view words) {
    return ui.measure_text(style, words);
  };
  const std::string age = ", " + v.age;
  float reads = 0;
  for (const Read& read : list_reads(v)) reads += 16 + width_of(ui, read);
  const float name = wide(TextStyle::strong, v.name) + wide(TextStyle::body, age) + 33;
  const float kept = wide(TextStyle::small, at.kept) + 20 + 24;
  const float who = wide(TextStyle::body, at.candidate) + 16;
  // A fault of the disk is always said.
  const bool says_kept = !at.all_kept || reads + kept + name <= r.w;
  if (says_kept) {
    r.cut_right(24);
    const float words = std::min(r.w, wide(TextStyle::small, at.kept));
    ui.text_in(r.cut_right(words), TextStyle::small, at.all_kept ? Token::ink2 : Token::care,
               at.kept, Align::right);
    icon(ui, at.all_kept ? Icon::check : Icon::caution, {r.right() - 12, r.centre().y},
         at.all_kept ? Token::ink2 : Token::care, 16);
    r.cut_right(24);
  }
  if (who + reads + name <= r.w) {
    r.cut_left(16);
    ui.text_in(r.cut_left(who - 16), TextStyle::body, Token::ink2, at.candidate);
  }
  if (name + reads <= r.w) {
    r.cut_left(16);
    ui.line({r.x, r.centre().y - 11}, {r.x, r.centre().y + 11}, Token::line);
    r.cut_left(17);
    ui.text_in(r.cut_left(wide(TextStyle::strong, v.name)), TextStyle::strong, Token::ink, v.name);
    ui.text_in(r.cut_left(wide(TextStyle::body, age)), TextStyle::body, Token::ink2, age);
  }
  draw_reads(ui, layout.strip, r, v, orders);
  ui.line({layout.strip.x, layout.strip.bottom() - 1},
          {layout.strip.right(), layout.strip.bottom() - 1}, Token::line);
  ui.end_region();
}

void draw_strip(Ui& ui, const ExamineLayout& layout, const RoomView& v, Orders& orders) {
  if (v.station) {
    draw_station_strip(ui, layout, v, orders);
    return;
  }
  ui.begin_region("strip", layout.strip, Token::sheet);
  Rect r = layout.strip.inset(kPad, 0);
  const float height = std::min(36.0F, r.h - 2);
  const auto row = [&](Rect box) { return Rect{box.x, r.centre().y - height / 2, box.w, height}; };

  const std::string_view leave = layout.compact ? "" : "Leave";
  const Rect back =
      row(r.cut_left(layout.compact ? 32.0F : 26 + ui.measure_text(TextStyle::body, leave)));
  const Touch touched = ui.touch("leave", back, "Leave", PartKind::button);
  if (touched.hovered) ui.fill(back, Token::well, kRadiusButton);
  if (touched.focused) ui.focus_ring(back, kRadiusButton);
  icon(ui, Icon::back, {back.x + 10, back.centre().y}, Token::ink2, 18);
  if (!leave.empty()) {
    ui.text_in({back.x + 20, back.y, back.w - 20, back.h}, TextStyle::body, Token::ink2, leave);
  }
  if (touched.clicked) orders.push_back({Command::leave});
  r.cut_left(layout.compact ? 4 : 12);
  if (!layout.compact) {
    ui.line({r.x, r.centre().y - 11}, {r.x, r.centre().y + 11}, Token::line);
    r.cut_left(16);
  }

  // From the right: the clock, then the mode, as far as there is room.
  const float clock = ui.measure_figures(TextStyle::subhead, v.clock);
  ui.figures_in(r.cut_right(clock), TextStyle::subhead, Token::ink, v.clock, Align::right);
  r.cut_right(16);
  const std::string age = ", " + v.age;
  const float age_width = ui.measure_text(TextStyle::body, age);
  const float reads_width = width_of(ui, list_reads(v).front());
  std::string aside = layout.compact ? v.short_mode : v.mode;
  if (layout.compact && !v.short_readout.empty()) {
    // What is told of the size gives way before the name does.
    const float name = ui.measure_text(TextStyle::strong, v.name) + age_width + reads_width + 36;
    const std::string magnification = v.short_readout.substr(0, v.short_readout.find(','));
    for (const std::string& more :
         {v.short_readout + "  ·  " + v.short_mode, v.short_readout, magnification}) {
      if (ui.measure_text(TextStyle::small, more) + name > r.w) continue;
      aside = more;
      break;
    }
  }
  const float aside_width = ui.measure_text(TextStyle::small, aside);
  ui.text_in(r.cut_right(aside_width), TextStyle::small, Token::ink2, aside, Align::right);
  r.cut_right(16);

  const float name_width = std::min(ui.measure_text(TextStyle::strong, v.name),
                                    std::max(40.0F, r.w - reads_width - age_width - 20));
  ui.text_in(r.cut_left(name_width), TextStyle::strong, Token::ink, v.name);
  ui.text_in(r.cut_left(age_width), TextStyle::body, Token::ink2, age);
  draw_reads(ui, layout.strip, r, v, orders);
  ui.line({layout.strip.x, layout.strip.bottom() - 1},
          {layout.strip.right(), layout.strip.bottom() - 1}, Token::line);
  ui.end_region();
}

void draw_spine(Ui& ui, const Rect& spine, const RoomView& v, Orders& orders) {
  ui.begin_region("spine", spine, Token::sheet);
  Rect r = spine;
  const Rect head = r.cut_top(std::min(124.0F, r.h));
  const Touch touched = ui.touch("card", head, "Card", PartKind::button);
  if (touched.hovered) ui.fill(head, Token::well);
  if (touched.focused) ui.outline(head.inset(2), Token::act, kRing, kRadiusButton);
  icon(ui, Icon::card, {head.centre().x, head.y + 26}, Token::ink2, 20);
  const float cap = measure_key_cap(ui, v.card_key);
  key_cap(ui, {head.centre().x - cap / 2, head.y + 58}, v.card_key);
  ui.text_in({head.x, head.y + 76, head.w, 18}, TextStyle::small, Token::ink2,
             std::to_string(v.entries), Align::centre);
  ui.text_in({head.x - 2, head.y + 94, head.w + 4, 18}, TextStyle::small, Token::ink2,
             v.entries == 1 ? "entry" : "entries", Align::centre);
  if (touched.clicked) orders.push_back({Command::record});
  ui.line({spine.x, spine.y}, {spine.x, spine.bottom()}, Token::line);
  ui.end_region();
}

bool draw_place(Ui& ui, const Rect& r, std::string_view id, const PlaceWords& words, bool compact,
                Rect* drawing = nullptr) {
  std::vector<std::string_view> keys(words.keys.begin(), words.keys.end());
  // Where there is no room for all keys, the last ones are left to the help sheet.
  const auto needed = [&] {
    constexpr float kCompactPad = 8;
    const float pad = 2 * (compact ? kCompactPad : kPad) + 6;
    float width = ui.measure_text(TextStyle::small, words.caption) + pad;
    for (const std::string_view key : keys) {
      width +=
          compact ? ui.measure_text(TextStyle::small, key) + 5 : measure_key_cap(ui, key) + kCapGap;
    }
    return width;
  };
  while (!keys.empty() && needed() > r.w) keys.pop_back();
  PlaceLook look;
  look.caption = words.caption;
  look.keys = keys;
  look.now = words.now;
  look.detail = words.detail;
  look.state = words.open ? PlaceState::open : PlaceState::rest;
  look.compact = compact;
  return place(ui, r, id, look, drawing);
}

/// The steps of the bar as places to click. The first part under the pointer has it, so they are
/// asked before the place on which they lie.
void touch_bar(Ui& ui, const Rect& bar, const RoomView& v, Orders& orders) {
  if (bar.empty() || v.bar_steps.empty()) return;
  const float cell = bar.w / static_cast<float>(v.bar_steps.size());
  ui.push_id("steps");
  for (std::size_t i = 0; i < v.bar_steps.size(); ++i) {
    const Rect box{bar.x + cell * static_cast<float>(i), bar.y, cell, bar.h};
    const std::string label = fmt::format("{:g}Δ", v.bar_steps[i]);
    const Touch touched = ui.touch_unfocused(label, box, label, PartKind::drawing);
    if (touched.hovered) ui.hint(box, label);
    if (touched.clicked) orders.push_back({Command::prism_jump, static_cast<double>(i)});
  }
  ui.pop_id();
}

void draw_shelf(Ui& ui, const ExamineLayout& layout, const RoomView& v, ScreenState& state,
                Orders& orders) {
  ui.begin_region("shelf", layout.shelf, Token::sheet);
  const bool compact = layout.compact;
  const auto at = [&](ShelfPlace which) { return layout.place(which); };
  Rect distance;
  if (layout.shelf_drawings) touch_bar(ui, state.bar, v, orders);
  // The occluder's place exchanges it: the mouse needs no drawer for what it does itself.
  if (draw_place(ui, at(ShelfPlace::occluder), "occluder", v.occluder, compact, &distance)) {
    orders.push_back({Command::other_occluder});
  }
  if (draw_place(ui, at(ShelfPlace::prism), "prism", v.prism, compact, &state.bar)) {
    orders.push_back(open(Drawer::prism));
  }
  if (draw_place(ui, at(ShelfPlace::target), "target", v.target, compact)) {
    orders.push_back(open(Drawer::target));
  }
  if (draw_place(ui, at(ShelfPlace::correction), "correction", v.correction, compact)) {
    orders.push_back(open(Drawer::correction));
  }
  if (draw_place(ui, at(ShelfPlace::speech), "speech", v.speech, compact)) {
    orders.push_back(open(Drawer::say));
  }
  Rect lean;
  if (draw_place(ui, at(ShelfPlace::last), compact ? "card" : "view", compact ? v.card : v.view,
                 compact, &lean)) {
    orders.push_back(compact ? Order{Command::record} : open(Drawer::view));
  }
  if (layout.shelf_drawings) {
    distance_drawing(ui, distance, v.occluder_distance_mm, v.distance_band);
    bar_drawing(ui, state.bar, "bar", v.bar_steps, v.bar_at);
    ui.text_in(lean.cut_top(18), TextStyle::small, Token::ink3, "Lean: press wheel");
  }
  for (const Rect& r : layout.places) {
    if (r.x > layout.shelf.x) ui.line({r.x, r.y}, {r.x, r.bottom()}, Token::line);
  }
  ui.line({layout.shelf.x, layout.shelf.y}, {layout.shelf.right(), layout.shelf.y}, Token::line);
  ui.end_region();
}

/// The coach's word on the message line, in as many lines as there are: one. Where it does not fit,
/// the shelf's and the drawers' own words must do.
void draw_coach(Ui& ui, const ExamineLayout& layout, const RoomView& v, Orders& orders) {
  constexpr float kSmallest = 160;
  Rect r = layout.message.inset(std::min(kPad, layout.message.w / 40), 0);
  const std::string_view turn = v.coach->shows_why ? "What next?" : "Why?";
  const ButtonLook look{.kind = ButtonKind::quiet, .id = "coach"};
  const float turn_w = measure_button(ui, turn, look);
  const std::string_view head = v.coach->shows_why ? "Why:" : "Next:";
  const std::string& words = v.coach->shows_why ? v.coach->why : v.coach->next;
  const float head_w = ui.measure_text(TextStyle::strong, head) + 6;
  // Size and magnification stand at the right; the long form where there is room for it.
  const float needed = head_w + ui.measure_text(TextStyle::body, words) + turn_w + 40;
  for (const std::string_view readout :
       {std::string_view{v.readout}, std::string_view{v.short_readout}}) {
    const float width = ui.measure_text(TextStyle::small, readout);
    if (width + needed > r.w && readout != v.short_readout) continue;
    if (layout.compact || width + kSmallest > r.w) break;
    ui.text_in(r.cut_right(width), TextStyle::small, Token::ink2, readout);
    r.cut_right(16);
    break;
  }
  const Rect button_at = r.cut_right(turn_w);
  if (button(ui, {button_at.x, button_at.y + 3, button_at.w, button_at.h - 6}, turn, look)) {
    orders.push_back({Command::coach_why});
  }
  r.cut_right(8);
  ui.text_in(r.cut_left(head_w), TextStyle::strong, Token::ink, head);
  const bool fits = ui.measure_text(TextStyle::body, words) <= r.w;
  const TextStyle style = fits ? TextStyle::body : TextStyle::small;
  const float height = ui.measure_paragraph(r.w, style, words);
  ui.paragraph({r.x, r.centre().y - height / 2, r.w, height}, style, Token::ink, words);
}

void draw_message(Ui& ui, const ExamineLayout& layout, const RoomView& v, Orders& orders) {
  ui.begin_region("message", layout.message, Token::page);
  if (!v.message && v.coach) {
    draw_coach(ui, layout, v, orders);
    ui.line({layout.message.x, layout.message.y}, {layout.message.right(), layout.message.y},
            Token::line);
    ui.end_region();
    return;
  }
  Message message;
  std::string words;
  if (v.message) {
    const Said& said = *v.message;
    words = said.voice == Voice::patient ? "“" + said.words + "”" : said.words;
    message.strong = said.strong;
    message.words = words;
    switch (said.voice) {
      case Voice::patient: message.kind = MessageKind::speech; break;
      case Voice::note: message.kind = MessageKind::note; break;
      case Voice::caution: message.kind = MessageKind::caution; break;
      case Voice::fault: message.kind = MessageKind::fault; break;
    }
  }
  // Where both do not fit, what was said has the line.
  std::string_view right = layout.compact ? std::string_view{} : std::string_view{v.readout};
  const float needed = ui.measure_text(TextStyle::body, words) +
                       ui.measure_text(TextStyle::strong, message.strong) + 80;
  const bool both = needed + ui.measure_text(TextStyle::small, right) < layout.message.w;
  if (message.kind != MessageKind::nothing && !both) right = v.short_readout;
  if (layout.compact && message.kind == MessageKind::nothing) right = v.readout;
  message_line(ui, layout.message, message, right);
  ui.line({layout.message.x, layout.message.y}, {layout.message.right(), layout.message.y},
          Token::line);
  ui.end_region();
}

}  // namespace

ViewFrame to_frame(const ExamineLayout& layout, float scale) {
  const auto pixels = [scale](float units) { return static_cast<double>(units * scale); };
  ViewFrame frame;
  frame.width_px = pixels(layout.view.w - (layout.compact ? 0 : kSpineWidth));
  frame.height_px = pixels(layout.view.h);
  frame.eyes_x_px = pixels(layout.eyes.x - layout.view.x);
  frame.eyes_y_px = pixels(layout.eyes.y - layout.view.y);
  frame.pixels_per_mm = layout.pixels_per_mm;
  frame.free_width_px = pixels(layout.view.w - (layout.compact ? 0 : kCardWidth));
  return frame;
}

ScreenOutcome draw_examine(Ui& ui, const ExamineLayout& layout, const Session& session,
                           const RoomViewChoice& choice, ScreenState& state) {
  ScreenOutcome outcome;
  RoomViewChoice chosen = choice;
  chosen.compact = layout.compact;
  const RoomView v = make_room_view(session, chosen);
  // Reading order is the order of Tab: strip, drawer, shelf, card.
  draw_strip(ui, layout, v, outcome.orders);
  draw_drawer(ui, layout, session, choice.captions, state, outcome.orders);
  if (layout.compact && is_reading(session.drawer())) return outcome;  // the page has their place
  draw_message(ui, layout, v, outcome.orders);
  draw_shelf(ui, layout, v, state, outcome.orders);
  if (!layout.spine.empty()) draw_spine(ui, layout.spine, v, outcome.orders);
  return outcome;
}

}  // namespace redress::screens::examine
