// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Traces of both eyes with covers, movements and notes over time; and the same as a table.
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include <fmt/format.h>
#include <imgui.h>

#include "render/screens/debrief/debrief_screen.hpp"
#include "render/screens/debrief/note_marks.hpp"
#include "render/screens/parts/plots.hpp"

namespace redress::screens::debrief {

namespace {

constexpr float kNames = 92;  // left of the lanes
constexpr float kTagHeight = 24;
constexpr float kTagRow = 28;
constexpr float kAxis = 26;
constexpr float kLegend = 26;
constexpr float kPhases = 44;
constexpr double kWheelZoom = 1.25;
constexpr float kDragUnits = 4;  // less is a click

struct Heights {
  bool phases = true;
  int note_rows = 2;
  bool legend = true;
  int tag_rows = 2;
};

Heights choose(float height) {
  Heights h;
  h.legend = height >= 300;
  h.note_rows = height >= 300 ? 2 : height >= 250 ? 1 : 0;
  h.phases = height >= 210;
  h.tag_rows = height >= 330 ? 2 : height >= 130 ? 1 : 0;
  return h;
}

void draw_phases(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state) {
  const double whole = std::max(1.0, static_cast<double>(model.playback.end_ms()));
  float free_from = r.x;
  for (std::size_t i = 0; i < model.phases.size(); ++i) {
    const Phase& phase = model.phases[i];
    const float from = r.x + r.w * static_cast<float>(phase.from_ms / whole);
    const float to = r.x + r.w * static_cast<float>(phase.to_ms / whole);
    const Rect bar{from, r.y, std::max(2.0F, to - from - 3), 8};
    const bool here = state.now_ms >= phase.from_ms && state.now_ms < phase.to_ms;
    const Touch touch = ui.touch_unfocused(fmt::format("phase {}", i), {bar.x, r.y - 8, bar.w, 38},
                                           phase.words, PartKind::drawing);
    ui.fill(bar, here ? Token::act : touch.hovered ? Token::edge : Token::line, 3);
    if (touch.clicked) show(model, phase.from_ms, state);
    // Words where they fit beside what stands there already.
    const TextStyle style = here ? TextStyle::small_strong : TextStyle::small;
    const float width = ui.measure_text(style, phase.words);
    const float x = std::max(from, free_from);
    const bool last = i + 1 == model.phases.size();
    const float at = last ? std::min(x, r.right() - width) : x;
    const float room = last ? r.right() : to - 6;
    if (at < free_from || (at + width > room && !here)) continue;
    if (at + width > r.right()) continue;
    ui.text({at, r.y + 13}, style, here ? Token::ink : Token::ink2, phase.words);
    free_from = at + width + 10;
  }
}

struct PlacedTag {
  std::string words;
  float x = 0;
  float stem_x = 0;
  int row = 0;
  std::size_t first = 0;
  std::size_t count = 1;
  bool unseen = false;
};

// One row, a second where tags would overlap, then several become one.
std::vector<PlacedTag> place_tags(const Ui& ui, const TimeAxis& axis, const DebriefModel& model,
                                  int rows) {
  std::vector<PlacedTag> placed;
  std::array<float, 2> free{axis.x - 20, axis.x - 20};
  const float right = axis.x + axis.w;
  for (std::size_t i = 0; i < model.movements.size() && rows > 0; ++i) {
    const MovementTag& tag = model.movements[i];
    const double ms = static_cast<double>(tag.movement.start_ms);
    if (ms < axis.from_ms || ms > axis.to_ms) continue;
    const float stem = axis.x_at(ms);
    const float width = measure_tag(ui, tag.words);
    const float x = std::clamp(stem, axis.x + width / 2 - 2, right - width / 2 + 8);
    int row = -1;
    for (int k = 0; k < rows && row < 0; ++k) {
      if (x - width / 2 >= free[static_cast<std::size_t>(k)] + 4) row = k;
    }
    if (row >= 0) {
      free[static_cast<std::size_t>(row)] = x + width / 2;
      placed.push_back({tag.words, x, stem, row, i, 1, tag.unseen});
      continue;
    }
    // The last one takes it in.
    PlacedTag& last = placed.back();
    ++last.count;
    last.unseen = last.unseen && tag.unseen;
    last.words = fmt::format("{} movements", last.count);
    const float wide = measure_tag(ui, last.words);
    last.x = std::clamp(last.x, axis.x + wide / 2 - 2, right - wide / 2 + 8);
    free[static_cast<std::size_t>(last.row)] = last.x + wide / 2;
  }
  return placed;
}

void draw_tags(Ui& ui, const Rect& r, float lanes_top, const std::array<Rect, 2>& lanes,
               const TimeAxis& axis, const DebriefModel& model, DebriefState& state, int rows) {
  const auto chosen = find_chosen(model, state.now_ms);
  const std::vector<PlacedTag> tags = place_tags(ui, axis, model, rows);
  const auto y_of = [&](int row) {
    return r.bottom() - 4 - kTagHeight / 2 - static_cast<float>(row) * kTagRow;
  };
  for (const PlacedTag& tag : tags) {
    const bool left = model.movements[tag.first].movement.eye == Eye::left;
    ui.line({tag.stem_x, y_of(tag.row) + kTagHeight / 2}, {tag.stem_x, lanes_top}, Token::edge);
    // The left eye's goes on above its own lane, not through the other one.
    if (tag.count == 1 && left) {
      ui.line({tag.stem_x, lanes[0].bottom()}, {tag.stem_x, lanes[1].y}, Token::edge);
    }
  }
  for (const PlacedTag& tag : tags) {
    const bool on = chosen && *chosen >= tag.first && *chosen < tag.first + tag.count;
    const std::string id = fmt::format("movement {}", tag.first);
    if (redress::screens::tag(ui, {tag.x, y_of(tag.row)}, tag.words,
                              {.chosen = on, .unseen = tag.unseen, .id = id})) {
      const Tick at = model.movements[tag.first].movement.start_ms;
      state.playing = false;
      state.now_ms = static_cast<double>(at);
    }
  }
}

std::vector<CoverInterval> covers_of(const DebriefModel& model, Eye eye) {
  std::vector<CoverInterval> covers;
  for (const findings::CoveredInterval& c : model.covers) {
    if (c.eye != eye) continue;
    covers.push_back({static_cast<double>(c.from_ms), static_cast<double>(c.to_ms)});
  }
  return covers;
}

// A round tick, and room above it; in a low lane there is room for the zero alone.
LaneLook look_of(const DebriefModel& model, Eye eye, float height) {
  constexpr float kLow = 52;
  constexpr std::array<double, 9> kTicks{3, 6, 9, 12, 15, 20, 30, 40, 60};
  LaneLook look;
  look.name = eye == Eye::right ? "Right eye" : "Left eye";
  look.token = eye == Eye::right ? Token::right_eye : Token::left_eye;
  look.tick_pd = kTicks.back();
  for (const double tick : kTicks) {
    if (tick * 1.25 >= model.largest_pd) {
      look.tick_pd = tick;
      break;
    }
  }
  look.most_pd = 1.35 * look.tick_pd;
  if (height < kLow) look.tick_pd = 0;
  return look;
}

void touch_lanes(Ui& ui, const Rect& r, const TimeAxis& axis, const DebriefModel& model,
                 DebriefState& state) {
  const Touch touch = ui.touch_unfocused("lanes", r, "lanes", PartKind::drawing);
  if (touch.wheel != 0) {
    const double factor = std::pow(kWheelZoom, -static_cast<double>(touch.wheel));
    zoom(model, axis.ms_at(touch.pointer.x), factor, state);
  }
  if (touch.pressed) {
    state.drag_from_ms = state.from_ms;
    state.dragged = false;
  }
  if (touch.held && state.drag_from_ms) {
    if (std::abs(touch.dragged.x) > kDragUnits) state.dragged = true;
    if (state.dragged) {
      const double per_unit = (axis.to_ms - axis.from_ms) / static_cast<double>(axis.w);
      pan(model,
          *state.drag_from_ms - per_unit * static_cast<double>(touch.dragged.x) - state.from_ms,
          state);
    }
  }
  if (touch.clicked && !state.dragged) {
    state.playing = false;
    state.now_ms =
        std::clamp(axis.ms_at(touch.pointer.x), 0.0, static_cast<double>(model.playback.end_ms()));
  }
  if (touch.hovered && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) {
    apply(model, Command::whole, state);
  }
}

void draw_legend(Ui& ui, const Rect& r, const DebriefModel& model, const DebriefState& state) {
  const float y = r.y + 4;
  float x = r.x;
  const Rect box{x, y + 2, 26, 14};
  ui.fill(box, Token::well);
  ui.hatch(box, Token::cover);
  x += 34;
  const auto words = [&](std::string_view text) {
    ui.text({x, y}, TextStyle::small, Token::ink2, text);
    x += ui.measure_text(TextStyle::small, text) + 20;
  };
  words("eye covered, and for how long");
  if (state.blind) return;
  const Rect sample{x, y - 2, measure_tag(ui, "4Δ in"), 22};
  ui.fill(sample, Token::well, kRadiusKey);
  ui.outline(sample, Token::edge, 1, kRadiusKey);
  ui.text_in(sample, TextStyle::small_strong, Token::ink, "4Δ in", Align::centre);
  x = sample.right() + 8;
  const bool any_unseen = std::any_of(model.movements.begin(), model.movements.end(),
                                      [](const MovementTag& tag) { return tag.unseen; });
  words(any_unseen ? "could be seen; dashed: was out of view" : "a movement that could be seen");
  const std::string_view scale = state.vertical ? "Δ from the target, up is up"
                                                : "Δ from the target, up is to the patient's right";
  const float width = ui.measure_text(TextStyle::small, scale);
  if (x + width <= r.right()) {
    ui.text({r.right() - width, y}, TextStyle::small, Token::ink2, scale);
  }
}

}  // namespace

void draw_lanes(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state,
                bool compact) {
  Rect inner = r.inset(compact ? 8 : 14, compact ? 4 : 12);
  const Heights heights = choose(inner.h);
  if (heights.phases) draw_phases(ui, inner.cut_top(kPhases), model, state);
  const Rect legend = heights.legend ? inner.cut_bottom(kLegend) : Rect{};
  inner.x += kNames;
  inner.w -= kNames + 4;
  const Rect notes = inner.cut_bottom(
      heights.note_rows > 0 ? static_cast<float>(heights.note_rows) * kNoteRow + 4 : 0);
  const Rect axis_row = inner.cut_bottom(kAxis);
  const Rect tags = inner.cut_top(static_cast<float>(heights.tag_rows) * kTagRow + 4);

  const float gap = compact ? 6 : 14;
  const float lane_h = (inner.h - gap) / 2;
  const std::array<Rect, 2> lanes{Rect{inner.x, inner.y, inner.w, lane_h},
                                  Rect{inner.x, inner.y + lane_h + gap, inner.w, lane_h}};
  const TimeAxis axis{state.from_ms, state.to_ms, inner.x, inner.w};
  for (const Eye eye : kBothEyes) {
    const Rect& at = lanes[eye == Eye::right ? 0 : 1];
    Trace trace{
        state.vertical ? model.playback.vertical_pd(eye) : model.playback.horizontal_pd(eye), 0,
        static_cast<double>(kFrameMs)};
    LaneLook look = look_of(model, eye, lane_h);
    if (state.blind) {  // what the hands did, not what the eyes did, nor how far
      trace = {};
      look.tick_pd = 0;
    }
    const std::vector<CoverInterval> covers = covers_of(model, eye);
    lane(ui, at, axis, trace, covers, look);
  }
  time_ticks(ui, axis_row, axis);
  if (heights.tag_rows > 0 && !state.blind) {
    ui.text_in({r.x + 14, tags.bottom() - 26, kNames - 8, 20}, TextStyle::small_strong, Token::ink,
               "Movements");
    draw_tags(ui, tags, lanes[0].y, lanes, axis, model, state, heights.tag_rows);
  }
  touch_lanes(ui, {inner.x, lanes[0].y, inner.w, lanes[1].bottom() - lanes[0].y}, axis, model,
              state);
  if (state.now_ms >= state.from_ms && state.now_ms <= state.to_ms) {
    playhead(ui, axis, state.now_ms, lanes[0].y - 6, lanes[1].bottom());
  }
  if (heights.note_rows > 0) draw_notes(ui, notes, axis, model, heights.note_rows);
  if (heights.legend) draw_legend(ui, legend, model, state);
}

void draw_numbers(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state) {
  struct Col {
    std::string_view head;
    float w;
  };
  constexpr std::array<Col, 7> kCols{{{"Onset", 0.14F},
                                      {"Eye", 0.1F},
                                      {"Movement", 0.2F},
                                      {"After", 0.16F},
                                      {"Latency", 0.13F},
                                      {"Lasted", 0.12F},
                                      {"Peak", 0.15F}}};
  Rect inner = r.inset(14, 8);
  const auto cells = [&](float y, TextStyle style, Token token,
                         const std::array<std::string, 7>& words) {
    float x = inner.x;
    for (std::size_t i = 0; i < kCols.size(); ++i) {
      const float width = kCols[i].w * (inner.w - 12);
      ui.text_in({x, y, width - 8, 24}, style, token, words[i]);
      x += width;
    }
  };
  std::array<std::string, 7> heads;
  for (std::size_t i = 0; i < kCols.size(); ++i) heads[i] = kCols[i].head;
  cells(inner.y, TextStyle::small, Token::ink2, heads);
  inner.cut_top(26);
  constexpr const char* kCauses[] = {"a cover", "a transfer", "uncovering", "another change"};
  const float up = ui.begin_scroll("numbers", inner, state.numbers_height);
  float y = inner.y - up;
  for (std::size_t i = 0; i < model.movements.size(); ++i) {
    const findings::Movement& m = model.movements[i].movement;
    if (list_row(ui, {inner.x - 6, y, inner.w, 24}, fmt::format("number {}", i),
                 model.movements[i].words, find_chosen(model, state.now_ms) == i)) {
      show(model, static_cast<double>(m.start_ms), state);
      state.numbers = true;
    }
    cells(y, TextStyle::small, Token::ink,
          {write_time(static_cast<double>(m.start_ms), 2), name_of(m.eye), model.movements[i].words,
           kCauses[static_cast<std::size_t>(m.cause)], fmt::format("{} ms", m.latency_ms()),
           fmt::format("{} ms", m.duration_ms()), fmt::format("{:.0f} °/s", m.peak_deg_per_s)});
    y += 24;
  }
  ui.end_scroll();
  state.numbers_height = y + up - inner.y;
}

}  // namespace redress::screens::debrief
