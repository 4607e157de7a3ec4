// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A picture of lines and words as SVG, in greys, for paper. Places in pixels from the upper left.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace redress::evidence {

class Svg {
 public:
  Svg(int width, int height, std::string title)
      : width_(width), height_(height), title_(std::move(title)) {}

  /// Grey 0 is black, 255 white.
  void line(double x1, double y1, double x2, double y2, int grey, double width = 1.0);
  void curve(const std::vector<std::pair<double, double>>& points, int grey, double width = 1.4,
             bool dashed = false);
  void box(double x, double y, double width, double height, int grey);
  void dot(double x, double y, double radius, int grey, bool filled = true);
  enum class Anchor { start, middle, end };
  void text(double x, double y, const std::string& words, Anchor anchor = Anchor::start,
            int grey = 40);

  [[nodiscard]] std::string finish() const;

 private:
  int width_;
  int height_;
  std::string title_;
  std::string body_;
};

/// A frame with a scale on both sides, and places in it.
class Axes {
 public:
  Axes(double left, double top, double width, double height)
      : l_(left), t_(top), w_(width), h_(height) {}
  void set_x(double low, double high) { x0_ = low, x1_ = high; }
  void set_y(double low, double high) { y0_ = low, y1_ = high; }
  [[nodiscard]] double x(double value) const { return l_ + w_ * (value - x0_) / (x1_ - x0_); }
  [[nodiscard]] double y(double value) const { return t_ + h_ * (y1_ - value) / (y1_ - y0_); }
  /// Lines at these values with their numbers beside the frame.
  void draw(Svg& svg, const std::vector<double>& at_x, const std::vector<double>& at_y) const;
  [[nodiscard]] double right() const { return l_ + w_; }
  [[nodiscard]] double bottom() const { return t_ + h_; }
  [[nodiscard]] double left() const { return l_; }
  [[nodiscard]] double top() const { return t_; }

 private:
  double l_, t_, w_, h_;
  double x0_ = 0.0, x1_ = 1.0, y0_ = 0.0, y1_ = 1.0;
};

}  // namespace redress::evidence
