// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Parts that hold a value: field and stepper.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string>
#include <vector>

#include "render/screens/parts/parts.hpp"

namespace redress::screens {

namespace {

bool escape_pressed() {
  const int index = ImGui::GetIO().KeyMap[ImGuiKey_Escape];
  return index >= 0 && ImGui::IsKeyPressed(index, false);
}

ImVec4 to_vec(const Ui& ui, Token token) {
  return ImGui::ColorConvertU32ToFloat4(ui.colour(token));
}

enum class LineKind : std::uint8_t { text, number, masked };

/// Dear ImGui's line editor without its looks. True: Enter.
bool edit_line(const Ui& ui, const std::string& full, std::string_view hint,
               std::vector<char>& buffer, const Rect& r, TextStyle style, LineKind kind,
               bool selects_all) {
  ImFont* font = ui.fonts().of(style);
  const ImVec2 a = ui.to_pixels(Point{r.x, r.y});
  const ImVec2 b = ui.to_pixels(Point{r.right(), r.bottom()});
  ImGui::PushFont(font);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                      ImVec2{ui.to_pixels(kind == LineKind::number ? 4.0F : 10.0F),
                             std::max(0.0F, std::floor((b.y - a.y - font->FontSize) / 2))});
  ImGui::PushStyleColor(ImGuiCol_FrameBg, ImVec4{0, 0, 0, 0});
  ImGui::PushStyleColor(ImGuiCol_Text, to_vec(ui, Token::ink));
  ImGui::PushStyleColor(ImGuiCol_TextDisabled, to_vec(ui, Token::ink3));
  ImGui::PushStyleColor(ImGuiCol_TextSelectedBg, to_vec(ui, Token::chosen));
  ImGui::PushAllowKeyboardFocus(false);  // Tab goes our way
  ImGui::SetCursorScreenPos(a);
  ImGui::SetNextItemWidth(b.x - a.x);
  const std::string words{hint};
  ImGuiInputTextFlags flags = ImGuiInputTextFlags_EnterReturnsTrue;
  if (selects_all) flags |= ImGuiInputTextFlags_AutoSelectAll;
  if (kind == LineKind::masked) flags |= ImGuiInputTextFlags_Password;
  const bool enter = ImGui::InputTextWithHint(("##" + full).c_str(), words.c_str(), buffer.data(),
                                              buffer.size(), flags);
  ImGui::PopAllowKeyboardFocus();
  ImGui::PopStyleColor(4);
  ImGui::PopStyleVar();
  ImGui::PopFont();
  return enter;
}

std::vector<char> to_buffer(const std::string& text, std::size_t longest) {
  std::vector<char> buffer(std::max(longest, text.size()) + 1, '\0');
  std::copy(text.begin(), text.end(), buffer.begin());
  return buffer;
}

std::string format_value(double value, const Range& range) {
  std::string text = fmt::format("{:.{}f}", value, range.decimals);
  if (text.starts_with('-')) text = "−" + text.substr(1);
  return text;
}

std::optional<double> parse_value(std::string text) {
  for (const std::string_view minus : {"−", "–"}) {
    const std::size_t at = text.find(minus);
    if (at != std::string::npos) text.replace(at, minus.size(), "-");
  }
  std::replace(text.begin(), text.end(), ',', '.');
  std::erase(text, ' ');
  if (text.starts_with('+')) text.erase(0, 1);
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return std::isfinite(value) ? std::optional<double>{value} : std::nullopt;
}

bool lies_in(double value, const Range& range) {
  return value >= range.least - 1e-9 && value <= range.most + 1e-9;
}

std::string format_allowed(const Range& range) {
  return fmt::format("{} to {}{}{}", format_value(range.least, range),
                     format_value(range.most, range),
                     range.unit.empty() || range.unit == "Δ" ? "" : " ", range.unit);
}

struct NumberEdit {
  std::optional<double> value;
  bool refused = false;
};

NumberEdit edit_number(Ui& ui, const Rect& r, std::string_view id, std::string& text,
                       const Range& range) {
  std::vector<char> buffer = to_buffer(text, 24);
  const bool arrives = ui.take_focus(id, true, r);
  if (arrives) ImGui::SetKeyboardFocusHere();
  const bool escape = escape_pressed();
  const bool enter =
      edit_line(ui, ui.full_id(id), "", buffer, r, TextStyle::strong, LineKind::number, true);
  const bool active = ImGui::IsItemActive();
  const bool left = ImGui::IsItemDeactivated();
  if (active) {
    ui.set_typing();
    ui.mark_focused(id);
  }
  NumberEdit edit;
  if (escape && !active) {
    ui.end_edit();
    return edit;
  }
  text = buffer.data();
  const std::optional<double> typed = parse_value(text);
  edit.refused = !typed || !lies_in(*typed, range);
  if (!enter && !left) return edit;
  if (!edit.refused) {
    edit.value = typed;
    ui.end_edit();
  }
  return edit;
}

}  // namespace

FieldEvent field(Ui& ui, const Rect& r, std::string_view id, std::string& text,
                 const FieldLook& look) {
  FieldEvent event;
  const std::string full = ui.full_id(id);
  if (ui.probe() != nullptr) {
    ui.probe()->add(ProbedPart{std::string{id}, full, PartKind::field, r, true});
  }
  const Rect in_sight{r.x, r.y, r.w, r.h + look.room_below};
  if (ui.take_focus(id, true, in_sight)) ImGui::SetKeyboardFocusHere();
  ui.fill(r, Token::sheet, kRadiusButton);
  std::vector<char> buffer = to_buffer(text, look.longest);
  Rect line = r;
  if (look.not_read) line.cut_right(32);
  const float cap = look.key.empty() ? 0 : measure_key_cap(ui, look.key);
  if (cap > 0) line.cut_right(cap + 8);
  const bool escape = escape_pressed();
  // Who enters a field of a value replaces it; who enters one of words adds to them.
  constexpr std::size_t kLongestValue = 48;
  const bool enter = edit_line(
      ui, full, look.hint, buffer, line, look.strong ? TextStyle::strong : TextStyle::body,
      look.masked ? LineKind::masked : LineKind::text, look.longest <= kLongestValue);
  const bool active = ImGui::IsItemActive();
  const bool left = ImGui::IsItemDeactivatedAfterEdit();
  const bool dropped = ImGui::IsItemDeactivated();
  const bool hovered = ImGui::IsItemHovered();
  if (active) {
    ui.set_typing();
    ui.mark_focused(id);
  }
  // Dear ImGui takes the text back at Esc; what was typed is kept here.
  event.escaped = escape && (active || dropped);
  const std::string typed = event.escaped ? text : std::string{buffer.data()};
  event.changed = typed != text;
  text = typed;
  event.settled = enter || left;
  event.entered = enter;

  if (look.not_read) {
    icon(ui, Icon::caution, {line.right() + 15, r.centre().y}, Token::care, 16);
  }
  if (cap > 0) key_cap(ui, {r.right() - cap - 8, r.centre().y}, look.key);
  const Token edge = look.not_read ? Token::care : active ? Token::act : Token::edge;
  ui.outline(r, edge, active || look.not_read ? 2 : 1, kRadiusButton);
  if (hovered && !active && !look.not_read) ui.outline(r, Token::ink3, 1, kRadiusButton);
  return event;
}

std::optional<double> stepper(Ui& ui, const Rect& r, std::string_view id,
                              std::optional<double> value, const Range& range) {
  std::optional<double> answer;
  const auto step_to = [&](double direction) {
    const double from = value.value_or(direction > 0 ? range.least - range.step : range.least);
    answer = std::clamp(from + direction * range.step, range.least, range.most);
  };
  const float side = std::min(r.h, 30.0F);
  Rect middle = r;
  const Rect less = Rect{middle.cut_left(side)}.inset(0, (r.h - side) / 2);
  const Rect more = Rect{middle.cut_right(side)}.inset(0, (r.h - side) / 2);
  middle = middle.inset(6, 0);

  ui.push_id(id);
  const auto end_button = [&](const Rect& at, std::string_view name, Icon sign, bool possible) {
    const Touch touch = ui.touch_unfocused(name, at, name, PartKind::button, possible);
    ui.fill(at,
            touch.held && touch.hovered ? Token::chosen
            : touch.hovered && possible ? Token::well
                                        : Token::sheet,
            kRadiusButton);
    ui.outline(at, possible ? Token::edge : Token::line, 1, kRadiusButton);
    icon(ui, sign, at.centre(), possible ? Token::ink2 : Token::ink3, 14);
    return touch.clicked;
  };
  const bool can_less = value && *value > range.least + 1e-9;
  const bool can_more = !value || *value < range.most - 1e-9;
  if (end_button(less, "less", Icon::minus, can_less)) step_to(-1);
  if (end_button(more, "more", Icon::plus, can_more)) step_to(1);

  std::string* const editing = ui.find_edit("value");
  bool refused = false;
  ui.fill(middle, Token::sheet, kRadiusButton);
  if (editing != nullptr) {
    const NumberEdit edit = edit_number(ui, middle, "value", *editing, range);
    refused = edit.refused;
    if (edit.value) answer = edit.value;
    ui.outline(middle, refused ? Token::care : Token::act, 2, kRadiusButton);
    if (refused) ui.hint(middle, "allowed: " + format_allowed(range));
    ui.pop_id();
    return answer;
  }
  const Touch touch = ui.touch("value", middle, id, PartKind::stepper);
  if (touch.hovered) ui.fill(middle, Token::well, kRadiusButton);
  ui.outline(middle, Token::edge, 1, kRadiusButton);
  if (touch.focused) ui.focus_ring(middle, kRadiusButton);
  if (touch.wheel > 0 || touch.up_key || touch.right_key) step_to(1);
  if (touch.wheel < 0 || touch.down_key || touch.left_key) step_to(-1);
  if (touch.clicked) {
    ui.begin_edit("value", value ? format_value(*value, range) : "");
    ui.focus(ui.full_id("value"));
  }
  const std::string figures = value ? format_value(*value, range) : "–";
  const float gap = range.unit.empty() ? 0 : 5;
  const float width = ui.measure_figures(TextStyle::strong, figures) + gap +
                      ui.measure_text(TextStyle::body, range.unit);
  const float x = middle.centre().x - width / 2;
  const float y = middle.centre().y - Ui::line_height(TextStyle::strong) / 2;
  const float after = ui.figures({x, y}, TextStyle::strong, Token::ink, figures);
  if (!range.unit.empty()) {
    ui.text({x + after + gap, y}, TextStyle::body, Token::ink2, range.unit);
  }
  ui.pop_id();
  return answer;
}

}  // namespace redress::screens
