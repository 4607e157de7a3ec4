// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Parts of charts: traces in lanes, covers, movements, results. Time in milliseconds, Δ from the
// target, up = the patient's right or up.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "render/screens/parts/ui.hpp"

namespace redress::screens {

/// Time along x. `ms_at` and `x_at` are inverse to each other.
struct TimeAxis {
  double from_ms = 0;
  double to_ms = 1;
  float x = 0;
  float w = 1;
  [[nodiscard]] float x_at(double ms) const {
    return x + w * static_cast<float>((ms - from_ms) / (to_ms - from_ms));
  }
  [[nodiscard]] double ms_at(float at) const {
    return from_ms + (to_ms - from_ms) * static_cast<double>((at - x) / w);
  }
};

struct CoverInterval {
  double from_ms = 0;
  double to_ms = 0;
};

/// One eye's trace. Values of every `step_ms` from `first_ms`; NaN is a gap (blink, no data).
struct Trace {
  std::span<const float> values_pd;
  double first_ms = 0;
  double step_ms = 1;
};

struct LaneLook {
  std::string_view name;  ///< "Right eye", drawn left of the lane in its colour
  Token token = Token::right_eye;
  double most_pd = 9;  ///< the lane shows -most ... +most with ticks at 2/3 of it
  double tick_pd = 6;
};
/// The lane fills `r`; names and ticks are drawn left of it, in 96 units. Polyline of 2, with the
/// least and most of each pixel column where samples are denser than pixels, clipped.
void lane(Ui& ui, const Rect& r, const TimeAxis& axis, const Trace& trace,
          std::span<const CoverInterval> covers, const LaneLook& look);
/// Points of the polyline that lane() draws, for tests; at most two a pixel column.
std::vector<Point> calc_trace_points(const Rect& r, const TimeAxis& axis, const Trace& trace,
                                     double most_pd, float pixel);

/// m:ss under the lanes, at round seconds.
void time_ticks(Ui& ui, const Rect& r, const TimeAxis& axis);
/// Vertical act line through the lanes.
void playhead(Ui& ui, const TimeAxis& axis, double at_ms, float top, float bottom);

struct TagLook {
  bool chosen = false;
  bool unseen = false;  ///< could not be seen at this magnification: dashed outline
  std::string_view id = {};
};
/// A movement ("4Δ in"), 24 high, middle at `at`; true: clicked.
bool tag(Ui& ui, Point at, std::string_view words, const TagLook& look = {});
[[nodiscard]] float measure_tag(const Ui& ui, std::string_view words);

enum class Result : std::uint8_t { full, part, none };
void result_mark(Ui& ui, Point centre, Result result);

/// Dot with its 95 % line and an optional tick for the target value, on a scale.
struct Interval {
  double value = 0;
  double low = 0;
  double high = 0;
  std::optional<double> target;
};
void interval_dot(Ui& ui, const Rect& r, double scale_from, double scale_to, const Interval& what);

}  // namespace redress::screens
