// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/report_plots.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "sim/assessment/report_words.hpp"
#include "sim/basics/elementary.hpp"

namespace redress::assessment {

namespace {

using elementary::magnitude;

constexpr double kLeft = 22.0;
constexpr double kRight = 222.0;
constexpr double kTop = 14.0;
constexpr double kBottom = 94.0;
constexpr double kHeight = 120.0;
constexpr double kUnderAxis = kBottom + 10.0;
constexpr double kAxisName = kBottom + 20.0;
constexpr std::size_t kClasses = 20;
constexpr double kClassMarks = 5.0;

// 1, 2, 5 times a power of ten, so that there are no more than `most` of them.
double choose_step(double span, double most) {
  double step = 1.0;
  for (const double factor : {2.0, 2.5, 2.0, 2.0, 2.5, 2.0, 2.0, 2.5, 2.0}) {
    if (span / step <= most) break;
    step *= factor;
  }
  return step;
}

void add_words(Plot& plot, double x, double y, const std::string& said, Align align, bool strong) {
  auto& words =
      std::get<PlotWords>(plot.shapes.emplace_back(PlotShape(std::in_place_type<PlotWords>)));
  words.x = x;
  words.y = y;
  words.words = said;
  words.align = align;
  words.strong = strong;
}

void add_level(Plot& plot, double y, const std::string& words) {
  plot.shapes.emplace_back(PlotLine{kLeft, y, kRight, y, Ink::rule, 0.5, false});
  add_words(plot, kLeft - 4.0, y + 2.5, words, Align::end, false);
}

}  // namespace

Plot plot_distribution(const CohortFigures& figures, std::optional<double> own) {
  std::array<double, kClasses> counts{};
  for (const CandidateFigures& c : figures.candidates_in_order) {
    counts[static_cast<std::size_t>(std::clamp(c.total / kClassMarks, 0.0, kClasses - 1.0))] += 1.0;
  }
  const double most = *std::max_element(counts.begin(), counts.end());
  const double cut = figures.cut.mark;
  // From the lowest class that anybody is in, and the cut, in tens.
  std::size_t first = 0;
  while (first + 2 < kClasses && counts[first] + counts[first + 1] == 0.0 &&
         kClassMarks * static_cast<double>(first + 4) <= cut) {
    first += 2;
  }
  const double low = kClassMarks * static_cast<double>(first);
  const auto x = [&](double mark) {
    return kLeft + (kRight - kLeft) * (mark - low) / (100.0 - low);
  };
  const auto y = [&](double count) {
    return kBottom - (kBottom - kTop - 8.0) * count / std::max(most, 1.0);
  };
  Plot plot;
  plot.height = kHeight;
  plot.words = fmt::format(
      "Distribution of total marks of {} candidates: mean {:.1f}, standard deviation {:.1f}, pass "
      "mark {:.1f}; {} passed",
      figures.candidates, figures.mean, figures.deviation, cut, figures.passed);
  if (figures.cut.error) {
    const double from = x(std::max(low, cut - *figures.cut.error));
    const double to = x(std::min(100.0, cut + *figures.cut.error));
    plot.shapes.emplace_back(PlotBox{from, kTop, to - from, kBottom - kTop, Ink::band});
  }
  const double step = choose_step(most, 3.0);
  for (double count = 0.0; count <= most; count += step) {
    add_level(plot, y(count), fmt::format("{:.0f}", count));
  }
  for (std::size_t k = first; k < kClasses; ++k) {
    if (counts[k] == 0.0) continue;
    const double left = x(kClassMarks * static_cast<double>(k)) + 0.6;
    const double right = x(kClassMarks * static_cast<double>(k + 1)) - 0.6;
    // The class that the pass mark is in is parted there.
    const double parting = std::clamp(x(cut), left, right);
    const double top = y(counts[k]);
    if (parting > left) {
      plot.shapes.emplace_back(PlotBox{left, top, parting - left, kBottom - top, Ink::below});
    }
    if (parting < right) {
      plot.shapes.emplace_back(PlotBox{parting, top, right - parting, kBottom - top, Ink::passed});
    }
  }
  for (double mark = low; mark <= 100.0; mark += 10.0) {
    add_words(plot, x(mark), kUnderAxis, fmt::format("{:.0f}", mark), Align::middle, false);
  }
  add_words(plot, kLeft, kAxisName, "marks of 100", Align::start, false);
  plot.shapes.emplace_back(PlotLine{x(cut), kTop - 4.0, x(cut), kBottom, Ink::text, 1.1, false});
  add_words(plot, x(cut) - 3.0, kTop - 5.0,
            "pass " + to_fixed(cut, 1) +
                (figures.cut.error ? " \u00b1 " + to_fixed(figures.cut.error, 1) : std::string{}),
            x(cut) < 90.0 ? Align::start : Align::end, true);
  if (own) {
    plot.words += fmt::format("; this candidate {:.1f}", *own);
    plot.shapes.emplace_back(
        PlotLine{x(*own), kTop + 6.0, x(*own), kBottom, Ink::alarm, 1.1, true});
    add_words(plot, x(*own) + (*own < 80.0 ? 3.0 : -3.0), kTop + 4.0, "here " + to_fixed(*own, 1),
              *own < 80.0 ? Align::start : Align::end, true);
  }
  return plot;
}

Plot plot_agreement(const std::vector<SizePair>& sizes, const BlandAltman& agreement) {
  constexpr std::size_t kMostDots = 1500;  // a page need not hold more
  double widest = 1.0;
  double furthest = 1.0;
  for (const SizePair& s : sizes) {
    widest = std::max(widest, magnitude(0.5 * (s.written_pd + s.true_pd)));
    furthest = std::max(furthest, magnitude(s.written_pd - s.true_pd));
  }
  const double step_x = choose_step(widest, 5.0);
  const double step_y = choose_step(furthest, 3.0);
  const auto up_to = [](double value, double step) {
    double end = step;
    while (end < value) end += step;
    return end;
  };
  widest = up_to(widest, step_x);
  furthest = up_to(furthest, step_y);
  const auto x = [&](double pd) { return kLeft + (kRight - kLeft) * pd / widest; };
  const auto y = [&](double pd) {
    return 0.5 * (kTop + kBottom) - 0.5 * (kBottom - kTop) * pd / furthest;
  };
  Plot plot;
  plot.height = kHeight;
  plot.words = fmt::format(
      "Written minus true size over their mean, {} readings: mean difference {:.1f}, 95 % of "
      "differences from {:.1f} to {:.1f} prism dioptres",
      agreement.count, agreement.bias, agreement.limits.low, agreement.limits.high);
  for (double pd = -furthest; pd <= furthest; pd += step_y) {
    add_level(plot, y(pd), to_signed(pd, 0));
  }
  const std::size_t every = sizes.size() / kMostDots + 1;
  for (std::size_t i = 0; i < sizes.size(); i += every) {
    const SizePair& s = sizes[i];
    plot.shapes.emplace_back(PlotDot{x(magnitude(0.5 * (s.written_pd + s.true_pd))),
                                     y(s.written_pd - s.true_pd), 1.1, Ink::dot});
  }
  const auto level = [&](double pd, bool dashed) {
    if (magnitude(pd) > furthest) return;
    plot.shapes.emplace_back(PlotLine{kLeft, y(pd), kRight, y(pd), Ink::text, 0.9, dashed});
    add_words(plot, kRight + 2.0, y(pd) + 2.5, to_signed(pd, 1), Align::start, false);
  };
  level(agreement.limits.high, true);
  level(agreement.bias, false);
  level(agreement.limits.low, true);
  for (double pd = 0.0; pd <= widest; pd += step_x) {
    add_words(plot, x(pd), kUnderAxis, fmt::format("{:.0f}", pd), Align::middle, false);
  }
  add_words(plot, kLeft, kAxisName, "mean of written and true size, \u0394", Align::start, false);
  return plot;
}

Plot plot_reliability(const CohortFigures& figures) {
  const std::vector<double>& projected = figures.projected;
  const auto most = static_cast<double>(projected.size());
  const auto x = [&](double stations) { return kLeft + (kRight - kLeft) * stations / most; };
  const auto y = [](double g) { return kBottom - (kBottom - kTop) * g; };
  Plot plot;
  plot.height = kHeight;
  plot.words =
      fmt::format("Projected generalisability with 1 to {} stations like these", projected.size());
  if (figures.stations_for_080) {
    plot.words += fmt::format("; {} would reach 0.80", *figures.stations_for_080);
  }
  for (const double g : {0.0, 0.2, 0.4, 0.6, 0.8, 1.0}) add_level(plot, y(g), to_fixed(g, 1));
  plot.shapes.emplace_back(PlotLine{kLeft, y(0.8), kRight, y(0.8), Ink::text, 0.7, true});
  for (std::size_t k = 0; k < projected.size(); ++k) {
    const double stations = static_cast<double>(k + 1);
    if (k > 0) {
      plot.shapes.emplace_back(PlotLine{x(stations - 1.0), y(projected[k - 1]), x(stations),
                                        y(projected[k]), Ink::passed, 1.2, false});
    }
  }
  const std::size_t now = figures.stations.size();
  if (now >= 1 && now <= projected.size()) {
    plot.shapes.emplace_back(
        PlotDot{x(static_cast<double>(now)), y(projected[now - 1]), 2.4, Ink::text});
    add_words(plot, x(static_cast<double>(now)), y(projected[now - 1]) - 5.0,
              fmt::format("now {}", to_fixed(projected[now - 1], 2)), Align::middle, true);
  }
  const double step = choose_step(most, 6.0);
  for (double stations = step; stations <= most; stations += step) {
    add_words(plot, x(stations), kUnderAxis, fmt::format("{:.0f}", stations), Align::middle, false);
  }
  add_words(plot, kLeft, kAxisName, "stations", Align::start, false);
  return plot;
}

}  // namespace redress::assessment
