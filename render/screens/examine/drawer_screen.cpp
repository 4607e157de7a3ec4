// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/drawer_screen.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "render/screens/examine/reading.hpp"
#include "render/screens/parts/parts.hpp"

namespace redress::screens::examine {

namespace {

using Orders = std::vector<Order>;

constexpr float kPad = 20;
constexpr float kGap = 8;
constexpr float kStepperButtons = 90;  // minus, plus and what is between
constexpr float kPadSide = 42;         // of a key of the gaze pad
constexpr float kLeastPitch = 34;      // of rows that can be hit
constexpr float kPadWidth = 3 * kPadSide + 2 * 2;

struct Metrics {
  float label = 82;
  float chip = 34;
  float pitch = 42;
  bool keys = true;
};

float width_of(const Ui& ui, const DrawerItem& item, bool keys) {
  if (item.kind == DrawerItem::Kind::stepper) {
    const float label = item.label.empty() ? 0 : ui.measure_text(TextStyle::body, item.label) + 8;
    const std::string longest =
        fmt::format("{:.{}f} {}", std::min(item.least, -item.most), item.decimals, item.unit);
    return label + kStepperButtons + ui.measure_text(TextStyle::strong, longest);
  }
  if (item.kind == DrawerItem::Kind::words) return ui.measure_text(TextStyle::small, item.label);
  ChipLook look;
  look.chosen = item.chosen;
  look.done = item.done;
  look.key = keys ? std::string_view{item.key} : std::string_view{};
  // As wide as when it is chosen or done: a choice must not move its neighbours.
  ChipLook widest = look;
  widest.chosen = true;
  widest.done = item.done || item.order.command == Command::say;
  return std::max(measure_chip(ui, item.label, look), measure_chip(ui, item.label, widest));
}

/// How many lines a row takes in this width.
int count_lines(const Ui& ui, const DrawerRow& row, float width, bool keys) {
  int lines = 1;
  float x = 0;
  for (const DrawerItem& item : row.items) {
    const float w = width_of(ui, item, keys);
    if (x > 0 && x + w > width) {
      ++lines;
      x = 0;
    }
    x += w + kGap;
  }
  return lines;
}

int count_lines(const Ui& ui, const DrawerView& view, float width, bool keys) {
  int lines = 0;
  for (const DrawerRow& row : view.rows) lines += count_lines(ui, row, width, keys);
  return lines;
}

/// Where there is no room for the keys of all rows, those of a row that needs no more lines for
/// them.
Metrics metrics_of(const Ui& ui, const DrawerRow& row, float width, Metrics m) {
  m.keys = m.keys || count_lines(ui, row, width, true) == count_lines(ui, row, width, false);
  return m;
}

void draw_item(Ui& ui, const Rect& r, const DrawerItem& item, const std::string& id, bool keys,
               Orders& orders) {
  if (item.kind == DrawerItem::Kind::words) {
    ui.text_in(r, TextStyle::small, Token::ink2, item.label);
    return;
  }
  if (item.kind == DrawerItem::Kind::stepper) {
    Rect rest = r;
    if (!item.label.empty()) {
      const float label = ui.measure_text(TextStyle::body, item.label);
      ui.text_in(rest.cut_left(label), TextStyle::body, Token::ink2, item.label);
      rest.cut_left(8);
    }
    Range range;
    range.least = item.least;
    range.most = item.most;
    range.step = item.step;
    range.decimals = item.decimals;
    range.unit = item.unit;
    if (const auto value = stepper(ui, rest, id, item.value, range)) {
      orders.push_back({item.order.command, *value, 0});
    }
    return;
  }
  ChipLook look;
  look.chosen = item.chosen;
  look.done = item.done;
  look.id = id;
  if (keys) look.key = item.key;
  if (chip(ui, r, item.label, look)) orders.push_back(item.order);
}

/// Draws a row from `y` on; returns where the next begins.
float draw_row(Ui& ui, const Rect& area, float y, const DrawerRow& row, std::size_t index,
               const Metrics& m, Orders& orders) {
  ui.text_in({area.x, y, m.label, m.chip}, TextStyle::strong, Token::ink, row.label);
  const float left = area.x + m.label;
  float x = left;
  for (std::size_t i = 0; i < row.items.size(); ++i) {
    const float w = std::min(width_of(ui, row.items[i], m.keys), area.right() - left);
    if (x > left && x + w > area.right()) {
      x = left;
      y += m.pitch;
    }
    draw_item(ui, {x, y, w, m.chip}, row.items[i], fmt::format("{}.{}", index, i), m.keys, orders);
    x += w + kGap;
  }
  return y + m.pitch;
}

/// More than the drawer holds: the choices scroll. The name of a row stands beside it, or at the
/// edge beyond which it is, and leads there.
float draw_scrolled(Ui& ui, Rect r, const DrawerView& view, const Metrics& m, int lines,
                    Orders& orders) {
  const Rect names = r.cut_left(m.label);
  const auto count = static_cast<float>(view.rows.size());
  const float step = std::min(m.pitch, names.h / count);
  Metrics unnamed = m;
  unnamed.label = 0;
  std::vector<float> tops;
  const float up = ui.begin_scroll("rows", r, static_cast<float>(lines) * m.pitch);
  float y = r.y - up;
  for (std::size_t i = 0; i < view.rows.size(); ++i) {
    tops.push_back(y);
    DrawerRow row = view.rows[i];
    row.label.clear();
    y = draw_row(ui, {r.x, r.y, r.w - 10, r.h}, y, row, i, metrics_of(ui, row, r.w - 10, unnamed),
                 orders);
  }
  ui.end_scroll();
  for (std::size_t i = 0; i < view.rows.size(); ++i) {
    const std::string& name = view.rows[i].label;
    const auto before = static_cast<float>(i);
    const float at_y =
        std::clamp(tops[i], names.y + step * before,
                   std::max(names.y + step * before, names.bottom() - step * (count - before)));
    const Rect at{names.x, at_y, names.w - 6, step - 4};
    const Touch touched = ui.touch_unfocused("to " + name, at, "to " + name, PartKind::button);
    if (touched.hovered) ui.fill(at, Token::well, kRadiusButton);
    // Beside its own row in ink; else it points to where the row is.
    const bool here = at_y == tops[i];
    ui.text_in(at, here ? TextStyle::strong : TextStyle::small_strong,
               here ? Token::ink : Token::act,
               here             ? name
               : tops[i] < at_y ? "↑ " + name
                                : "↓ " + name);
    if (touched.clicked) ui.set_scroll("rows", tops[i] - tops[0]);
  }
  return r.bottom();
}

void draw_pad(Ui& ui, Rect r, int chosen, Orders& orders) {
  const float side = std::min(kPadSide, (r.h - 4) / 3);
  for (int row = 0; row < 3; ++row) {
    for (int column = 0; column < 3; ++column) {
      const int number = (2 - row) * 3 + column + 1;
      const Rect key{r.x + static_cast<float>(column) * (side + 2),
                     r.y + static_cast<float>(row) * (side + 2), side, side};
      const std::string label = fmt::format("{}", number);
      const Touch touched = ui.touch("gaze" + label, key, "Gaze " + label, PartKind::choice);
      const bool here = number == chosen;
      ui.fill(key,
              here || touched.held ? Token::chosen
              : touched.hovered    ? Token::well
                                   : Token::sheet,
              kRadiusKey);
      ui.outline(key, here ? Token::act : Token::edge, 1, kRadiusKey);
      if (touched.focused) ui.focus_ring(key, kRadiusKey);
      ui.text_in(key, here ? TextStyle::strong : TextStyle::body, Token::ink, label, Align::centre);
      if (here) {
        ui.fill({key.centre().x - 8, key.bottom() - 6, 16, kChosenLine}, Token::act);
      }
      if (touched.clicked) orders.push_back({Command::gaze, static_cast<double>(number)});
    }
  }
  r.cut_left(kPadWidth + 16);
  if (r.w < 150) return;
  ui.text_in({r.x, r.y, r.w, 22}, TextStyle::strong, Token::ink, "Position of gaze");
  ui.paragraph(
      {r.x, r.y + 28, r.w, r.h - 28}, TextStyle::small, Token::ink2,
      "As you face the patient: 4 is your left, the patient's right. Number pad, or click.");
}

void draw_compact(Ui& ui, const Rect& drawer, const DrawerView& view, ScreenState& state,
                  Orders& orders) {
  if (view.rows.empty()) return;
  state.row = std::min(state.row, view.rows.size() - 1);
  Rect r = drawer.inset(12, 0);
  Rect side = r.cut_right(76);
  r.cut_right(8);
  const std::string count = fmt::format("{} of {}", state.row + 1, view.rows.size());
  Rect head = side.cut_top(30);
  ui.text_in(head, TextStyle::small, Token::ink3, count, Align::centre);
  const Rect up{side.x, side.y, 36, 36};
  const Rect down{side.x + 40, side.y, 36, 36};
  if (button(ui, up, "‹", {.available = state.row > 0, .id = "row before"})) --state.row;
  if (button(ui, down, "›", {.available = state.row + 1 < view.rows.size(), .id = "row after"})) {
    ++state.row;
  }
  const DrawerRow& row = view.rows[state.row];
  Metrics m;
  m.label = 0;
  m.chip = 30;
  m.pitch = 33;
  m.keys = false;
  // The row's name stands before its choices; where two lines are needed, above each other.
  const float label = ui.measure_text(TextStyle::small_strong, row.label) + 10;
  const Rect name{r.x, r.y, label, 30};
  r.cut_left(label);
  const int lines = count_lines(ui, row, r.w, false);
  ui.text_in(name.moved(0, lines == 1 ? 24.0F : 8.0F), TextStyle::small_strong, Token::ink,
             row.label);
  if (lines <= 2) {
    DrawerRow unnamed = row;
    unnamed.label.clear();
    draw_row(ui, r, r.y + (lines == 1 ? 24.0F : 8.0F), unnamed, state.row, m, orders);
    return;
  }
  DrawerRow unnamed = row;
  unnamed.label.clear();
  const float content = static_cast<float>(lines) * m.pitch + 8;
  const float offset = ui.begin_scroll("row", {r.x, r.y + 2, r.w, r.h - 4}, content);
  draw_row(ui, {r.x, r.y, r.w - 10, r.h}, r.y + 6 - offset, unnamed, state.row, m, orders);
  ui.end_scroll();
}

}  // namespace

void draw_drawer(Ui& ui, const ExamineLayout& layout, const Session& session,
                 const KeyCaptions& captions, ScreenState& state, Orders& orders) {
  const Drawer open = session.drawer();
  if (open != state.row_of) {
    state.row_of = open;
    state.row = 0;
  }
  // The help is a page, which the application shows.
  if (open == Drawer::none || open == Drawer::help) return;
  if (layout.compact && is_reading(open)) {
    draw_reading_page(ui, layout.page, session, captions, orders);
    return;
  }
  if (layout.drawer.h < 60) return;
  const DrawerView view = make_drawer(session, open, layout.compact, captions);

  Rect drawer = layout.drawer;
  Metrics m;
  m.label = 0;
  for (const DrawerRow& row : view.rows) {
    m.label = std::max(m.label, ui.measure_text(TextStyle::strong, row.label) + 16);
  }
  const float pad_width = !view.gaze ? 0 : kPadWidth + (drawer.w > 1200 ? 16 + 190 : 0) + 24;
  const float width = drawer.w - 2 * kPad - pad_width - m.label;
  m.keys = count_lines(ui, view, width, true) <= static_cast<int>(view.rows.size()) ||
           count_lines(ui, view, width, true) == count_lines(ui, view, width, false);
  const int lines = count_lines(ui, view, width, m.keys);
  const bool reading = is_reading(open);
  if (!layout.compact && !reading) {
    const float free = drawer.h - 2 * 12;
    m.pitch = std::min(44.0F, std::floor(free / static_cast<float>(std::max(lines, 1))));
    // Rather scrolled than too small to hit.
    if (m.pitch < kLeastPitch) m.pitch = kLeastPitch;
    m.chip = std::clamp(m.pitch - 6, 28.0F, 36.0F);
    const float needed = std::max(static_cast<float>(lines) * m.pitch + 24 - 6,
                                  view.gaze ? 3 * kPadSide + 28 : 0.0F) +
                         (view.hint.empty() ? 0 : 20);
    const float height = std::min(drawer.h, needed);
    drawer = {drawer.x, drawer.bottom() - height, drawer.w, height};
  } else if (reading && !layout.compact) {
    const float height = std::min(drawer.h, 244.0F);
    drawer = {drawer.x, drawer.bottom() - height, drawer.w, height};
  }
  ui.begin_region("drawer", drawer, Token::sheet);
  ui.fill({drawer.x, drawer.y, drawer.w, ui.place() == Place::drawer ? 2.0F : 1.0F},
          ui.place() == Place::drawer ? Token::act : Token::line);
  if (reading) {
    draw_reading(ui, drawer.inset(kPad, 10), session, open);
  } else if (layout.compact) {
    draw_compact(ui, drawer, view, state, orders);
  } else {
    Rect r = drawer.inset(kPad, 12);
    Rect pad;
    if (view.gaze) {
      pad = r.cut_right(pad_width - 24);
      r.cut_right(12);
      ui.line({r.right(), pad.y}, {r.right(), pad.bottom()}, Token::line);
      r.cut_right(12);
    }
    float y = r.y;
    if (static_cast<float>(lines) * m.pitch - (m.pitch - m.chip) > r.h) {
      y = draw_scrolled(ui, r, view, m, lines, orders);
    } else {
      for (std::size_t i = 0; i < view.rows.size(); ++i) {
        const DrawerRow& row = view.rows[i];
        y = draw_row(ui, r, y, row, i, metrics_of(ui, row, width, m), orders);
      }
    }
    // After the rows: what is at the right is read, and reached, last.
    if (view.gaze) draw_pad(ui, pad, *view.gaze, orders);
    if (!view.hint.empty() && y + 18 <= drawer.bottom() - 4) {
      ui.text_in({r.x + m.label, y, r.w - m.label, 18}, TextStyle::small, Token::ink2, view.hint);
    }
  }
  ui.end_region();
}

}  // namespace redress::screens::examine
