// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Text: lines, shortened lines, wrapped paragraphs, figures in cells.
#include <imgui.h>

#include <algorithm>
#include <cfloat>
#include <cmath>

#include "render/screens/parts/ui.hpp"

namespace redress::screens {

namespace {

constexpr std::string_view kEllipsis = "…";

float measure_pixels(ImFont* font, std::string_view text) {
  if (text.empty()) return 0;
  return font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, text.data(), text.data() + text.size()).x;
}

bool is_continuation(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// A number, as a word: "12", "−0.50", "4:11.5".
bool is_number(std::string_view word) {
  if (word.empty() || !is_digit(word.back())) return false;
  return std::none_of(word.begin(), word.end(),
                      [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); });
}

/// What a number before it belongs to: "6 m", "2 s", "12 cm", "60 %".
bool is_unit(std::string_view word) {
  while (!word.empty() && (word.back() == '.' || word.back() == ',' || word.back() == ';' ||
                           word.back() == ')' || word.back() == ':')) {
    word.remove_suffix(1);
  }
  constexpr std::string_view kUnits[] = {"m", "cm", "mm", "s", "ms", "min", "%", "D", "Δ", "px"};
  return std::find(std::begin(kUnits), std::end(kUnits), word) != std::end(kUnits);
}

/// Where a line that would break at `stop` breaks instead: at a space, and never between a number
/// and its unit. What has no space before it breaks where it must.
const char* find_break(const char* at, const char* stop, const char* end) {
  if (stop >= end || *stop == '\n') return stop;
  const auto find_space = [at](const char* from) {
    while (from > at && *(from - 1) != ' ') --from;
    return from;
  };
  const char* line_end = *stop == ' ' ? stop : find_space(stop);
  if (line_end == at) return stop;
  const char* next = line_end;
  while (next < end && *next == ' ') ++next;
  while (line_end > at && *(line_end - 1) == ' ') --line_end;
  const char* const next_end =
      std::find_if(next, end, [](char c) { return c == ' ' || c == '\n'; });
  const char* const last = find_space(line_end);
  const std::string_view before{last, static_cast<std::size_t>(line_end - last)};
  const std::string_view after{next, static_cast<std::size_t>(next_end - next)};
  if (last > at && is_number(before) && is_unit(after)) {
    line_end = last;
    while (line_end > at && *(line_end - 1) == ' ') --line_end;
  }
  return line_end > at ? line_end : stop;
}

/// Calls `each` with one line after another, without the space at which it was broken.
template <class Each>
void break_lines(const ImFont* font, float wrap_px, std::string_view text, const Each& each) {
  const char* at = text.data();
  const char* const end = at + text.size();
  while (at < end) {
    const char* stop = font->CalcWordWrapPositionA(1.0F, at, end, wrap_px);
    if (stop == at) ++stop;  // not even one letter fits
    const char* const newline = std::find(at, stop, '\n');
    stop = newline != stop ? newline : find_break(at, stop, end);
    each(std::string_view{at, static_cast<std::size_t>(stop - at)});
    at = stop;
    if (newline == stop && at < end && *at == '\n') {
      ++at;
      continue;
    }
    while (at < end && *at == ' ') ++at;
    if (at < end && *at == '\n') ++at;
  }
}

}  // namespace

void Ui::note_text(std::string_view text, const Rect& needed, const Rect& given) {
  if (probe_ == nullptr || text.empty()) return;
  // Half a unit: what rounding to whole pixels may cost.
  probe_->add(ProbedText{std::string{text}, region_, needed, given, given.holds(needed, 0.5F),
                         calc_visible(needed)});
}

void Ui::draw_text(Point at, TextStyle style, Token token, std::string_view text) {
  if (text.empty()) return;
  wanted_letters_ = std::max(wanted_letters_, find_letters(text));
  ImFont* font = fonts_.of(style);
  const float line_px = to_pixels(line_height(style));
  const ImVec2 place{std::round(at.x * scale()),
                     std::round(at.y * scale() + (line_px - font->FontSize) / 2)};
  draw_list().AddText(font, font->FontSize, place, colour(token), text.data(),
                      text.data() + text.size());
}

float Ui::measure_text(TextStyle style, std::string_view text) const {
  return measure_pixels(fonts_.of(style), text) / scale();
}

void Ui::text(Point at, TextStyle style, Token token, std::string_view text) {
  draw_text(at, style, token, text);
  note_text(text, {at.x, at.y, measure_text(style, text), line_height(style)},
            clips_.empty() ? Rect{0, 0, size_.x, size_.y} : clips_.back());
}

void Ui::text_in(const Rect& r, TextStyle style, Token token, std::string_view text, Align align) {
  const float width = measure_text(style, text);
  const float y = r.y + (r.h - line_height(style)) / 2;
  float x = r.x;
  if (align == Align::centre) x += (r.w - width) / 2;
  if (align == Align::right) x += r.w - width;
  note_text(text, {x, y, width, line_height(style)},
            {r.x, std::min(r.y, y), r.w, std::max(r.h, line_height(style))});
  if (width <= r.w + 0.5F) {
    draw_text({x, y}, style, token, text);
    return;
  }
  const float room = r.w - measure_text(style, kEllipsis);
  std::size_t keep = text.size();
  while (keep > 0 && (measure_text(style, text.substr(0, keep)) > room)) {
    do {
      --keep;
    } while (keep > 0 && is_continuation(text[keep]));
  }
  while (keep > 0 && text[keep - 1] == ' ') --keep;
  std::string shown{text.substr(0, keep)};
  shown.append(kEllipsis);
  draw_text({r.x, y}, style, token, shown);
}

std::vector<std::string> Ui::wrap(float width, TextStyle style, std::string_view text) const {
  std::vector<std::string> lines;
  break_lines(fonts_.of(style), width * scale(), text,
              [&](std::string_view line) { lines.emplace_back(line); });
  return lines;
}

float Ui::measure_paragraph(float width, TextStyle style, std::string_view text) const {
  float height = 0;
  break_lines(fonts_.of(style), width * scale(), text,
              [&](std::string_view) { height += line_height(style); });
  return height;
}

float Ui::paragraph(const Rect& r, TextStyle style, Token token, std::string_view text) {
  float y = r.y;
  float widest = 0;
  break_lines(fonts_.of(style), r.w * scale(), text, [&](std::string_view line) {
    if (y + line_height(style) <= r.bottom() + 0.5F) draw_text({r.x, y}, style, token, line);
    widest = std::max(widest, measure_text(style, line));
    y += line_height(style);
  });
  note_text(text, {r.x, r.y, widest, y - r.y}, r);
  return y - r.y;
}

float Ui::measure_figures(TextStyle style, std::string_view text) const {
  const float cell = measure_text(style, "0");
  float width = 0;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t next = i + 1;
    while (next < text.size() && is_continuation(text[next])) ++next;
    const bool digit = text[i] >= '0' && text[i] <= '9';
    width += digit ? cell : measure_text(style, text.substr(i, next - i));
    i = next;
  }
  return width;
}

float Ui::figures(Point at, TextStyle style, Token token, std::string_view text) {
  const float cell = measure_text(style, "0");
  float x = at.x;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t next = i + 1;
    while (next < text.size() && is_continuation(text[next])) ++next;
    const std::string_view glyph = text.substr(i, next - i);
    const float width = measure_text(style, glyph);
    const bool digit = glyph[0] >= '0' && glyph[0] <= '9';
    draw_text({digit ? x + (cell - width) / 2 : x, at.y}, style, token, glyph);
    x += digit ? cell : width;
    i = next;
  }
  note_text(text, {at.x, at.y, x - at.x, line_height(style)},
            clips_.empty() ? Rect{0, 0, size_.x, size_.y} : clips_.back());
  return x - at.x;
}

void Ui::figures_in(const Rect& r, TextStyle style, Token token, std::string_view text,
                    Align align) {
  const float width = measure_figures(style, text);
  float x = r.x;
  if (align == Align::centre) x += (r.w - width) / 2;
  if (align == Align::right) x += r.w - width;
  figures({x, r.y + (r.h - line_height(style)) / 2}, style, token, text);
}

}  // namespace redress::screens
