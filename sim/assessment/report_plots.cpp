// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/report_plots.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "sim/assessment/report.hpp"
#include "sim/basics/elementary.hpp"
#include "sim/basics/html_text.hpp"

namespace redress::assessment {

namespace {

constexpr double kWidth = 560.0;
constexpr double kHeight = 220.0;
constexpr double kLeft = 40.0;
constexpr double kRight = 520.0;
constexpr double kTop = 20.0;
constexpr double kBottom = 180.0;
constexpr std::size_t kClasses = 20;

std::string begin(const std::string& words) {
  return fmt::format(
      "<svg viewBox=\"0 0 {:.0f} {:.0f}\" width=\"{:.0f}\" role=\"img\" "
      "aria-label=\"{}\" font-size=\"11\" font-family=\"sans-serif\">"
      "<title>{}</title>",
      kWidth, kHeight, kWidth, escape_html(words), escape_html(words));
}

std::string rule(double x1, double y1, double x2, double y2, const char* grey, double width,
                 bool dashed = false) {
  return fmt::format(
      "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" "
      "stroke-width=\"{}\"{}/>",
      x1, y1, x2, y2, grey, width, dashed ? " stroke-dasharray=\"5 4\"" : "");
}

std::string words_at(double x, double y, const std::string& words, const char* anchor) {
  return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>", x, y, anchor,
                     escape_html(words));
}

// 1, 2, 5 times a power of ten, so that there are no more than six of them.
double choose_step(double span) {
  double step = 1.0;
  for (const double factor : {2.0, 2.5, 2.0, 2.0, 2.5, 2.0, 2.0}) {
    if (span / step <= 6.0) break;
    step *= factor;
  }
  return step;
}

}  // namespace

std::string plot_distribution(const CohortFigures& figures) {
  std::array<double, kClasses> counts{};
  for (const CandidateFigures& c : figures.candidates_in_order) {
    const auto k = static_cast<std::size_t>(std::clamp(c.total / 5.0, 0.0, 19.0));
    counts[k] += 1.0;
  }
  const double most = *std::max_element(counts.begin(), counts.end());
  const auto x = [](double mark) { return kLeft + (kRight - kLeft) * mark / 100.0; };
  const auto y = [most](double count) {
    return kBottom - (kBottom - kTop) * count / std::max(most, 1.0);
  };
  std::string svg = begin(fmt::format(
      "Distribution of total marks of {} candidates: mean {:.1f}, standard deviation {:.1f}, pass "
      "mark {:.1f}; {} passed",
      figures.candidates, figures.mean, figures.deviation, figures.cut.mark, figures.passed));
  if (figures.cut.error) {
    const double low = x(std::max(0.0, figures.cut.mark - *figures.cut.error));
    const double high = x(std::min(100.0, figures.cut.mark + *figures.cut.error));
    svg += fmt::format(
        "<rect x=\"{:.1f}\" y=\"{:.0f}\" width=\"{:.1f}\" height=\"{:.0f}\" "
        "fill=\"#ddd\"/>",
        low, kTop, high - low, kBottom - kTop);
  }
  const double step = choose_step(most);
  for (double count = 0.0; count <= most; count += step) {
    svg += rule(kLeft, y(count), kRight, y(count), "#ccc", 1);
    svg += words_at(kLeft - 6, y(count) + 4, fmt::format("{:.0f}", count), "end");
  }
  for (std::size_t k = 0; k < kClasses; ++k) {
    if (counts[k] == 0.0) continue;
    const double left = 5.0 * static_cast<double>(k);
    svg += fmt::format(
        "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" "
        "fill=\"{}\"/>",
        x(left) + 1, y(counts[k]), x(5.0) - x(0.0) - 2, kBottom - y(counts[k]),
        left + 5.0 <= figures.cut.mark ? "#aaa" : "#555");
  }
  for (int mark = 0; mark <= 100; mark += 10) {
    svg += words_at(x(mark), kBottom + 15, std::to_string(mark), "middle");
  }
  svg += words_at(kLeft, kBottom + 30, "marks of 100", "start");
  svg += rule(x(figures.cut.mark), kTop - 6, x(figures.cut.mark), kBottom, "#000", 2);
  svg += words_at(x(figures.cut.mark) - 4, kTop - 8, fmt::format("pass {:.1f}", figures.cut.mark),
                  "end");
  return svg + "</svg>";
}

std::string plot_agreement(const std::vector<SizePair>& sizes, const BlandAltman& agreement) {
  using elementary::magnitude;
  constexpr std::size_t kMostDots = 2000;  // a page need not hold more
  double widest = 1.0;
  double furthest = 1.0;
  for (const SizePair& s : sizes) {
    widest = std::max(widest, magnitude(0.5 * (s.written_pd + s.true_pd)));
    furthest = std::max(furthest, magnitude(s.written_pd - s.true_pd));
  }
  const auto x = [&](double pd) { return kLeft + (kRight - kLeft) * pd / widest; };
  const auto y = [&](double pd) {
    return 0.5 * (kTop + kBottom) - 0.5 * (kBottom - kTop) * pd / furthest;
  };
  std::string svg = begin(fmt::format(
      "Written minus true size over their mean, {} readings: mean difference {:.1f}, 95 % of "
      "differences from {:.1f} to {:.1f} prism dioptres",
      agreement.count, agreement.bias, agreement.limits.low, agreement.limits.high));
  const std::size_t every = sizes.size() / kMostDots + 1;
  for (std::size_t i = 0; i < sizes.size(); i += every) {
    const SizePair& s = sizes[i];
    svg += fmt::format(
        "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"1.8\" fill=\"#555\" "
        "fill-opacity=\"0.5\"/>",
        x(magnitude(0.5 * (s.written_pd + s.true_pd))), y(s.written_pd - s.true_pd));
  }
  svg += rule(kLeft, y(0), kRight, y(0), "#aaa", 1);
  const auto level = [&](double pd, bool dashed) {
    svg += rule(kLeft, y(pd), kRight, y(pd), "#000", 1.2, dashed);
    svg += words_at(kRight + 4, y(pd) + 4, fmt::format("{:+.1f}", pd), "start");
  };
  level(agreement.bias, false);
  level(agreement.limits.low, true);
  level(agreement.limits.high, true);
  const double step = choose_step(widest);
  for (double pd = 0.0; pd <= widest; pd += step) {
    svg += words_at(x(pd), kBottom + 15, fmt::format("{:.0f}", pd), "middle");
  }
  svg += words_at(kLeft, kBottom + 30, "mean of written and true size, \u0394", "start");
  return svg + "</svg>";
}

}  // namespace redress::assessment
