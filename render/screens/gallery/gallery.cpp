// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/gallery/gallery.hpp"

#include <array>
#include <cmath>

namespace redress::screens {

namespace {

constexpr std::array<double, 16> kSteps{1, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 25, 30, 35, 40, 45};

void caption(Ui& ui, Rect& r, std::string_view words) {
  ui.text_in(r.cut_top(24), TextStyle::small, Token::ink2, words);
  r.cut_top(4);
}

void draw_colours(Ui& ui, Rect& r) {
  Rect head = r.cut_top(44);
  ui.text_in(head, TextStyle::head, Token::ink, ui.theme() == Theme::light ? "Light" : "Dim");
  const std::array<TextStyle, 6> styles{TextStyle::title,  TextStyle::head, TextStyle::subhead,
                                        TextStyle::strong, TextStyle::body, TextStyle::small};
  float x = r.x + 420;
  for (const TextStyle style : styles) {
    const std::string size = std::to_string(static_cast<int>(measure_of(style).size));
    ui.text({x, head.bottom() - Ui::line_height(style)}, style, Token::ink, size);
    x += ui.measure_text(style, size) + 16;
  }
  r.cut_top(8);
  Rect swatches = r.cut_top(56);
  for (const Token token : {Token::page, Token::sheet, Token::well, Token::line, Token::edge,
                            Token::act, Token::chosen, Token::care}) {
    Rect box = swatches.cut_left(72);
    swatches.cut_left(8);
    const Rect name = box.cut_bottom(20);
    ui.fill(box, token, kRadiusKey);
    ui.outline(box, Token::line, 1, kRadiusKey);
    ui.text_in(name, TextStyle::small, Token::ink2, name_of(token));
  }
  r.cut_top(12);
}

void draw_buttons(Ui& ui, Rect& r) {
  caption(ui, r, "Button: rest, unavailable, main, quiet; with a key, with a sign");
  Rect row = r.cut_top(36);
  const auto next = [&](std::string_view label, const ButtonLook& look) {
    button(ui, row.cut_left(measure_button(ui, label, look)), label, look);
    row.cut_left(12);
  };
  next("Show", {});
  next("Hide", {.available = false, .why_not = "There is nothing to hide."});
  next("Finish", {.kind = ButtonKind::main});
  next("All marks", {.kind = ButtonKind::quiet});
  next("Record", {.key = "N"});
  next("Back", {.icon = Icon::back});
  r.cut_top(12);
}

void draw_values(Ui& ui, Rect& r, GalleryModel& model) {
  caption(ui, r, "One of few; stepper; field: rest, not read; chips");
  Rect row = r.cut_top(32);
  constexpr std::array<std::string_view, 4> kDirections{"Eso", "Exo", "R/L", "L/R"};
  if (const auto picked =
          one_of_few(ui, row.cut_left(176), "direction", kDirections, model.direction)) {
    model.direction = picked;
  }
  row.cut_left(12);
  if (const auto size = stepper(ui, row.cut_left(132), "size", model.size_pd, {0, 45, 1, 0, "Δ"})) {
    model.size_pd = *size;
  }
  row.cut_left(12);
  field(ui, row.cut_left(92), "typed", model.typed);
  row.cut_left(12);
  field(ui, row.cut_left(110), "unread", model.unread, {.not_read = true});
  r.cut_top(8);
  row = r.cut_top(32);
  for (const auto& [label, look] : {std::pair{"6 m cc", ChipLook{.done = true}},
                                    std::pair{"33 cm cc", ChipLook{.chosen = true}},
                                    std::pair{"40 cm", ChipLook{.key = "F5"}}}) {
    chip(ui, row.cut_left(measure_chip(ui, label, look)), label, look);
    row.cut_left(8);
  }
  check(ui, row.cut_left(120), "Seen twice", true);
  radio(ui, row.cut_left(90), "Firm", true);
  radio(ui, row.cut_left(90), "Slow", false);
  r.cut_top(12);
}

void draw_room_parts(Ui& ui, Rect& r, GalleryModel& model) {
  caption(ui, r, "Place on the shelf: rest, open, not allowed at this station");
  Rect row = r.cut_top(82);
  const float third = row.w / 3;
  constexpr std::array<std::string_view, 1> kKey{"T"};
  constexpr std::array<PlaceState, 3> kStates{PlaceState::rest, PlaceState::open,
                                              PlaceState::not_here};
  for (std::size_t i = 0; i < kStates.size(); ++i) {
    const Rect one = row.cut_left(third);
    place(ui, one, "place " + std::to_string(i),
          {.caption = i == 2 ? "Penlight" : "Target",
           .keys = kKey,
           .now = "Letter line, 0.2",
           .detail = "6 m, straight ahead",
           .state = kStates[i]});
    if (i > 0) ui.line({one.x, one.y}, {one.x, one.bottom()}, Token::line);
  }
  r.cut_top(12);
  caption(ui, r, "Message: patient, caution, fault; key; tag; result");
  Rect left = r.cut_top(96);
  Rect right = left.cut_right(280);
  message_line(ui, left.cut_top(30), {MessageKind::speech, {}, "“It jumped to the side.”"}, "");
  message_line(ui, left.cut_top(30),
               {MessageKind::caution, {}, "Controller unplugged. Occluder stays."}, "");
  message_line(ui, left.cut_top(30), {MessageKind::fault, "Disk full.", "Your edit is kept."}, "");
  key_cap(ui, {right.x, right.y + 15}, "Q");
  tag(ui, {right.x + 70, right.y + 15}, "4Δ in");
  tag(ui, {right.x + 136, right.y + 15}, "5Δ in", {.chosen = true});
  tag(ui, {right.x + 204, right.y + 15}, "1Δ in", {.unseen = true});
  result_mark(ui, {right.x + 10, right.y + 50}, Result::full);
  result_mark(ui, {right.x + 44, right.y + 50}, Result::part);
  result_mark(ui, {right.x + 78, right.y + 50}, Result::none);
  ui.text({right.x + 100, right.y + 39}, TextStyle::small, Token::ink2, "full, part, none");
  interval_dot(ui, {right.x, right.y + 70, 160, 16}, 0, 10, {4, 2.5, 6, 5});
  r.cut_top(12);
  caption(ui, r, "Prism bar; occluder distance (band: 15 to 30 mm)");
  row = r.cut_top(34);
  if (const auto at = bar_drawing(ui, row.cut_left(256), "bar", kSteps, model.step)) {
    model.step = *at;
  }
  row.cut_left(24);
  distance_drawing(ui, row.cut_left(200), 20.0, true);
  r.cut_top(12);
}

}  // namespace

GalleryModel make_gallery() {
  GalleryModel model;
  constexpr int kSamples = 1000;  // 10 s
  for (int i = 0; i < kSamples; ++i) {
    const double t = i * 0.01;
    const auto drift = [&](double from, double size) {
      if (t < from) return 0.0;
      if (t < from + 2.2) return size * (1 - std::exp(-(t - from) / 0.5));
      return size * std::exp(-(t - from - 2.2) / 0.3);
    };
    model.right.push_back(static_cast<float>(drift(1.2, 6)));
    model.left.push_back(static_cast<float>(drift(4.9, -6)));
  }
  return model;
}

void draw_gallery(Ui& ui, const Rect& r, GalleryModel& model) {
  ui.begin_region(ui.theme() == Theme::light ? "gallery light" : "gallery dim", r, Token::page);
  constexpr float kContent = 760;
  const float up = ui.begin_scroll("parts", r, kContent, ScrollKeys::always);
  Rect rest = Rect{r.x, r.y - up, r.w, kContent}.inset(28, 20);
  draw_colours(ui, rest);
  draw_buttons(ui, rest);
  draw_values(ui, rest, model);
  draw_room_parts(ui, rest, model);
  caption(ui, rest, "Trace lane: one eye each; hatched where covered; never colour alone");
  const TimeAxis axis{0, 10000, rest.x + 100, rest.w - 100};
  const std::array<CoverInterval, 1> right{{{1100, 3300}}};
  const std::array<CoverInterval, 1> left{{{4900, 7100}}};
  Rect lanes = rest;
  lanes.cut_left(100);
  lane(ui, lanes.cut_top(76), axis, {model.right, 0, 10}, right,
       {"Right eye", Token::right_eye, 9, 6});
  lanes.cut_top(12);
  lane(ui, lanes.cut_top(76), axis, {model.left, 0, 10}, left, {"Left eye", Token::left_eye, 9, 6});
  time_ticks(ui, lanes, axis);
  playhead(ui, axis, 3400, rest.y, lanes.y);
  ui.end_scroll();
  ui.end_region();
}

}  // namespace redress::screens
