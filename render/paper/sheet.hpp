// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pages of A4 that words, rules, plots and scales can be put on. Points, from the top left corner.
#pragma once

#include <memory>
#include <string>

#include "sim/assessment/report_document.hpp"

struct _cairo;
struct _cairo_surface;
struct _PangoLayout;

namespace redress::paper {

inline constexpr double kPaperWidth = 595.28;
inline constexpr double kPaperHeight = 841.89;
inline constexpr double kMargin = 40.0;

/// Where words go: the top left corner, the width that they are broken at (0: never), their size.
struct Place {
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double size = 8.0;
  assessment::Align align = assessment::Align::start;
  assessment::Ink ink = assessment::Ink::text;
  bool strong = false;
  bool tabular = false;  ///< figures as wide as each other
};

class Sheet {
 public:
  /// Across if the document is a certificate. Throws std::runtime_error if there is no memory.
  explicit Sheet(const assessment::ReportDocument& document);
  ~Sheet();
  Sheet(const Sheet&) = delete;
  Sheet& operator=(const Sheet&) = delete;

  /// While measuring nothing is drawn. Returns what it was.
  bool set_measuring(bool measuring);
  /// Returns their height.
  double words(const std::string& text, const Place& place);
  void rule(double x1, double y, double x2, double width,
            assessment::Ink ink = assessment::Ink::rule);
  /// A thin line round the page, so far from its edge.
  void frame(double inset);
  /// Scaled to the width; returns its height.
  double plot(const assessment::Plot& plot, double x, double y, double width);
  /// The bar or the dot of a cell, `y` its middle.
  void scale(const assessment::ReportCell& cell, double x, double y, double width);
  void next_page();
  /// The bytes. Nothing can be drawn afterwards. Throws if Cairo met a fault.
  std::string finish();

 private:
  std::string bytes_;
  _cairo_surface* surface_ = nullptr;
  _cairo* cairo_ = nullptr;
  _PangoLayout* layout_ = nullptr;
  bool measuring_ = false;
};

}  // namespace redress::paper
