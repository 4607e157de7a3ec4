// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/parts/plots.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "render/screens/parts/icons.hpp"

namespace redress::screens {

namespace {

float y_of(const Rect& r, double pd, double most_pd) {
  return r.y + r.h / 2 - r.h / 2 * static_cast<float>(pd / most_pd);
}

/// Points of the trace between gaps, in order.
std::vector<std::vector<Point>> calc_pieces(const Rect& r, const TimeAxis& axis, const Trace& trace,
                                            double most_pd, float pixel) {
  std::vector<std::vector<Point>> pieces;
  if (trace.values_pd.empty() || trace.step_ms <= 0 || r.empty()) return pieces;
  const double last = static_cast<double>(trace.values_pd.size() - 1);
  const double from = std::floor((axis.from_ms - trace.first_ms) / trace.step_ms);
  const double to = std::ceil((axis.to_ms - trace.first_ms) / trace.step_ms);
  if (from > last || to < 0) return pieces;
  const auto begin = static_cast<std::size_t>(std::max(0.0, from));
  const auto end = static_cast<std::size_t>(std::min(last, to));
  struct Column {
    float x = 0;
    float first = 0, least = 0, most = 0, last = 0;
    bool open = false;
    bool least_first = true;
  };
  Column column;
  bool in_piece = false;
  const auto close = [&] {
    if (!column.open) return;
    if (!in_piece) pieces.emplace_back();
    in_piece = true;
    std::vector<Point>& piece = pieces.back();
    if (column.least == column.most) {
      piece.push_back({column.x, column.first});
    } else if (column.least_first) {
      piece.push_back({column.x, column.least});
      piece.push_back({column.x, column.most});
    } else {
      piece.push_back({column.x, column.most});
      piece.push_back({column.x, column.least});
    }
    column.open = false;
  };
  for (std::size_t i = begin; i <= end; ++i) {
    const float value = trace.values_pd[i];
    if (std::isnan(value)) {
      close();
      in_piece = false;
      continue;
    }
    const double ms = trace.first_ms + trace.step_ms * static_cast<double>(i);
    const float x = axis.x_at(ms);
    const float y = y_of(r, static_cast<double>(value), most_pd);
    if (column.open && std::floor(x / pixel) == std::floor(column.x / pixel)) {
      if (y < column.least) column.least_first = false;  // the least came later than the most
      if (y > column.most) column.least_first = true;
      column.least = std::min(column.least, y);
      column.most = std::max(column.most, y);
      continue;
    }
    close();
    column = {x, y, y, y, y, true, true};
  }
  close();
  return pieces;
}

/// The upper or the lower edge of the lane, whichever the trace leaves more room at between two
/// places along it; top of a line of small text.
float find_room(const Rect& lane, const std::vector<std::vector<Point>>& pieces, float from,
                float to) {
  float least = lane.bottom();
  float most = lane.y;
  for (const std::vector<Point>& piece : pieces) {
    for (const Point& p : piece) {
      if (p.x < from || p.x > to) continue;
      least = std::min(least, p.y);
      most = std::max(most, p.y);
    }
  }
  const bool above = least - lane.y > lane.bottom() - most;
  return above ? lane.y + 2 : lane.bottom() - 20;
}

std::string format_pd(double pd) {
  if (pd == 0) return "0";
  return fmt::format("{}{:g}", pd > 0 ? "+" : "−", std::abs(pd));
}

}  // namespace

std::vector<Point> calc_trace_points(const Rect& r, const TimeAxis& axis, const Trace& trace,
                                     double most_pd, float pixel) {
  std::vector<Point> all;
  for (const std::vector<Point>& piece : calc_pieces(r, axis, trace, most_pd, pixel)) {
    all.insert(all.end(), piece.begin(), piece.end());
  }
  return all;
}

void lane(Ui& ui, const Rect& r, const TimeAxis& axis, const Trace& trace,
          std::span<const CoverInterval> covers, const LaneLook& look) {
  constexpr float kLeft = 96;
  const std::vector<std::vector<Point>> pieces =
      calc_pieces(r, axis, trace, look.most_pd, 1 / ui.scale());
  ui.fill(r, Token::sheet);
  for (const CoverInterval& cover : covers) {
    const float from = std::max(r.x, axis.x_at(cover.from_ms));
    const float to = std::min(r.right(), axis.x_at(cover.to_ms));
    if (to <= from) continue;
    const Rect box{from, r.y, to - from, r.h};
    ui.fill(box, Token::well);
    ui.hatch(box, Token::cover);
  }
  for (const double tick : {look.tick_pd, 0.0, -look.tick_pd}) {
    const float y = y_of(r, tick, look.most_pd);
    ui.line({r.x, y}, {r.right(), y}, tick == 0 ? Token::edge : Token::line);
    ui.text_in({r.x - 48, y - 9, 40, 18}, TextStyle::small, Token::ink2, format_pd(tick),
               Align::right);
  }
  ui.outline(r, Token::line);
  // On a ground of its own: neither hatch nor grid goes through it. A low lane has room for none.
  constexpr float kLowestWithWords = 40;
  for (const CoverInterval& cover : covers) {
    if (r.h < kLowestWithWords) break;
    const float from = std::max(r.x, axis.x_at(cover.from_ms));
    const float to = std::min(r.right(), axis.x_at(cover.to_ms));
    const std::string seconds = fmt::format("{:.1f} s", (cover.to_ms - cover.from_ms) / 1000);
    const float width = ui.measure_text(TextStyle::small, seconds);
    if (to - from < std::max(30.0F, width + 6)) continue;
    const float x = from + 4;
    const float y = find_room(r, pieces, x - 2, x + width + 2);
    ui.fill({x - 2, y + 2, width + 4, 15}, Token::well);
    ui.text({x, y}, TextStyle::small, Token::ink2, seconds);
  }
  ui.text_in({r.x - kLeft, y_of(r, look.tick_pd, look.most_pd) - 9, kLeft - 36, 18},
             TextStyle::small_strong, look.token, look.name);
  ui.push_clip(r);
  for (const std::vector<Point>& piece : pieces) ui.polyline(piece, look.token, 2);
  ui.pop_clip();
}

void time_ticks(Ui& ui, const Rect& r, const TimeAxis& axis) {
  constexpr std::array<double, 12> kApart{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300};
  const double seconds = (axis.to_ms - axis.from_ms) / 1000;
  if (seconds <= 0 || r.w <= 0) return;
  double apart = kApart.back();
  for (const double each : kApart) {
    if (static_cast<double>(r.w) / (seconds / each) >= 60) {
      apart = each;
      break;
    }
  }
  const double first = std::ceil(axis.from_ms / 1000 / apart - 1e-9);
  for (double k = first; k * apart * 1000 <= axis.to_ms + 1e-6; ++k) {
    const double at = k * apart;
    const int minutes = static_cast<int>(at / 60 + 1e-9);
    const double rest = std::max(0.0, at - 60.0 * minutes);
    const std::string text = apart < 1 ? fmt::format("{}:{:04.1f}", minutes, rest)
                                       : fmt::format("{}:{:02.0f}", minutes, rest);
    const float x = axis.x_at(at * 1000);
    ui.line({x, r.y}, {x, r.y + 4}, Token::edge);
    const float width = ui.measure_text(TextStyle::small, text);
    const float left = std::clamp(x - width / 2, r.x - width / 2, r.right() - width);
    ui.text({left, r.y + 5}, TextStyle::small, Token::ink2, text);
  }
}

void playhead(Ui& ui, const TimeAxis& axis, double at_ms, float top, float bottom) {
  const float x = axis.x_at(at_ms);
  if (x < axis.x - 1 || x > axis.x + axis.w + 1) return;
  ui.line({x - 1, top}, {x - 1, bottom}, Token::act, 2);
}

float measure_tag(const Ui& ui, std::string_view words) {
  return ui.measure_text(TextStyle::small_strong, words) + 14;
}

bool tag(Ui& ui, Point at, std::string_view words, const TagLook& look) {
  constexpr float kHeight = 24;
  const float width = measure_tag(ui, words);
  const Rect r{at.x - width / 2, at.y - kHeight / 2, width, kHeight};
  const Touch touch = ui.touch(look.id.empty() ? words : look.id, r, words, PartKind::tag);
  ui.fill(r, look.chosen ? Token::act : touch.hovered ? Token::chosen : Token::well, kRadiusKey);
  if (look.unseen) {
    ui.dashes({r.x, r.y}, {r.right(), r.y}, Token::edge);
    ui.dashes({r.x, r.bottom() - 1}, {r.right(), r.bottom() - 1}, Token::edge);
    ui.dashes({r.x, r.y}, {r.x, r.bottom()}, Token::edge);
    ui.dashes({r.right() - 1, r.y}, {r.right() - 1, r.bottom()}, Token::edge);
  } else if (!look.chosen) {
    ui.outline(r, Token::edge, 1, kRadiusKey);
  }
  if (touch.focused) ui.focus_ring(r, kRadiusKey);
  ui.text_in(r, TextStyle::small_strong, look.chosen ? Token::on_act : Token::ink, words,
             Align::centre);
  return touch.clicked;
}

void result_mark(Ui& ui, Point centre, Result result) {
  switch (result) {
    case Result::full: icon(ui, Icon::check, centre, Token::good, 16); return;
    case Result::part: icon(ui, Icon::half, centre, Token::ink2, 18); return;
    case Result::none: icon(ui, Icon::cross, centre, Token::care, 14); return;
  }
}

void interval_dot(Ui& ui, const Rect& r, double scale_from, double scale_to, const Interval& what) {
  if (scale_to <= scale_from) return;
  const auto x_at = [&](double value) {
    const double part = std::clamp((value - scale_from) / (scale_to - scale_from), 0.0, 1.0);
    return r.x + r.w * static_cast<float>(part);
  };
  const float y = r.centre().y;
  ui.line({x_at(what.low), y - 1}, {x_at(what.high), y - 1}, Token::ink2, 2);
  if (what.target) {
    const float x = x_at(*what.target);
    ui.line({x, r.y}, {x, r.bottom()}, Token::edge);
  }
  ui.disc({x_at(what.value), y}, 5, Token::act);
}

}  // namespace redress::screens
