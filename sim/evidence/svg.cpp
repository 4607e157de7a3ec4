// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/evidence/svg.hpp"

#include <fmt/format.h>

#include "sim/basics/html_text.hpp"
#include "sim/evidence/row.hpp"

namespace redress::evidence {

namespace {
std::string colour(int grey) { return fmt::format("#{0:02x}{0:02x}{0:02x}", grey); }
}  // namespace

void Svg::line(double x1, double y1, double x2, double y2, int grey, double width) {
  body_ += fmt::format(
      "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" "
      "stroke-width=\"{}\"/>\n",
      x1, y1, x2, y2, colour(grey), width);
}

void Svg::curve(const std::vector<std::pair<double, double>>& points, int grey, double width,
                bool dashed) {
  body_ += "<polyline points=\"";
  for (const auto& [x, y] : points) body_ += fmt::format("{:.1f},{:.1f} ", x, y);
  body_ += fmt::format("\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{}/>\n", colour(grey),
                       width, dashed ? " stroke-dasharray=\"5 3\"" : "");
}

void Svg::box(double x, double y, double width, double height, int grey) {
  body_ += fmt::format(
      "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"{}\"/>\n", x, y,
      width, height, colour(grey));
}

void Svg::dot(double x, double y, double radius, int grey, bool filled) {
  body_ +=
      fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" fill=\"{}\" stroke=\"{}\"/>\n",
                  x, y, radius, filled ? colour(grey) : std::string{"#ffffff"}, colour(grey));
}

void Svg::text(double x, double y, const std::string& words, Anchor anchor, int grey) {
  const char* at = anchor == Anchor::start ? "start" : anchor == Anchor::middle ? "middle" : "end";
  body_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" fill=\"{}\">{}</text>\n",
                       x, y, at, colour(grey), escape_html(words));
}

std::string Svg::finish() const {
  return fmt::format(
      "<svg viewBox=\"0 0 {0} {1}\" width=\"{0}\" height=\"{1}\" role=\"img\" "
      "xmlns=\"http://www.w3.org/2000/svg\" font-family=\"sans-serif\" font-size=\"11\">"
      "<title>{2}</title>\n{3}</svg>\n",
      width_, height_, escape_html(title_), body_);
}

void Axes::draw(Svg& svg, const std::vector<double>& at_x, const std::vector<double>& at_y) const {
  for (const double v : at_x) {
    svg.line(x(v), t_, x(v), bottom(), 220, 0.7);
    svg.text(x(v), bottom() + 13, format_number(v), Svg::Anchor::middle);
  }
  for (const double v : at_y) {
    svg.line(l_, y(v), right(), y(v), v == 0.0 ? 160 : 220, 0.7);
    svg.text(l_ - 5, y(v) + 4, format_number(v), Svg::Anchor::end);
  }
  svg.line(l_, t_, l_, bottom(), 90);
  svg.line(l_, bottom(), right(), bottom(), 90);
}

}  // namespace redress::evidence
