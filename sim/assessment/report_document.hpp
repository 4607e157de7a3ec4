// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A report as plain data, before it is HTML (report_html.cpp) or paper (render/paper): head,
// figures in large, and blocks, one or two side by side, each with a heading, a line under it, and
// a table, a plot or a sentence. Plots are shapes in points, y downwards.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace redress::assessment {

/// What a mark on the paper means; each tells itself apart in greys too.
enum class Ink : std::uint8_t { text, faint, rule, passed, below, alarm, band, dot };
enum class Align : std::uint8_t { start, middle, end };

struct PlotLine {
  double x1 = 0.0, y1 = 0.0, x2 = 0.0, y2 = 0.0;
  Ink ink = Ink::rule;
  double width = 0.6;
  bool dashed = false;
};
struct PlotBox {
  double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
  Ink ink = Ink::passed;
};
struct PlotDot {
  double x = 0.0, y = 0.0, radius = 1.3;
  Ink ink = Ink::dot;
};
struct PlotWords {
  double x = 0.0, y = 0.0;  ///< y of the base line
  std::string words;
  Align align = Align::start;
  bool strong = false;
};
using PlotShape = std::variant<PlotLine, PlotBox, PlotDot, PlotWords>;

struct Plot {
  double width = 244.0;
  double height = 120.0;
  std::vector<PlotShape> shapes;  ///< in order of drawing
  std::string words;              ///< what it shows, for who does not see it
};

/// A cell has words, and may have a bar 0 ... 1 or a dot on a line from 0 to 1 before them.
struct ReportCell {
  std::string words;
  bool strong = false;
  bool alarm = false;
  std::optional<double> bar;
  std::optional<double> dot;
  std::optional<double> mark;  ///< a tick on the bar or the line
};
struct ReportColumn {
  std::string heading;
  double share = 1.0;  ///< of the table's width, against the others
  Align align = Align::start;
};
struct ReportTable {
  std::vector<ReportColumn> columns;
  std::vector<std::vector<ReportCell>> rows;  ///< empty: `nobody` is written
  std::string nobody = "Nobody.";
};

struct ReportBlock {
  std::string heading;
  std::string under;
  std::variant<std::monostate, ReportTable, Plot> content;
};

/// A figure in large, with its name above and what it rests on below.
struct ReportFigure {
  std::string name;
  std::string value;
  std::string under;
};

struct ReportDocument {
  std::string title;
  std::string under;
  std::vector<std::string> provenance;  ///< at the head's other side, one a line
  std::vector<ReportFigure> figures;
  std::vector<std::string> remarks;  ///< sentences before the blocks
  /// Side by side where there are two.
  std::vector<std::vector<ReportBlock>> rows;
  std::vector<std::string> foot;  ///< on every page, the first at the left
  bool certificate = false;       ///< a sheet for a wall: across, in the middle
};

}  // namespace redress::assessment
