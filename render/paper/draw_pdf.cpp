// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A report on paper: A4 pages as PDF, drawn with Cairo, set with Pango. The whole of the module
// redress_paper.so, which sim/program/paper.cpp loads when somebody asks for a PDF: these libraries
// and what they bring are not there at the start of the program. Lengths in points (1/72 inch).
#include <algorithm>
#include <array>
#include <cstddef>
#include <exception>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <cairo-pdf.h>

#include "render/paper/sheet.hpp"
#include "sim/assessment/report_document.hpp"

namespace redress::paper {

namespace {

using namespace assessment;

constexpr double kGap = 24.0;     // between blocks side by side
constexpr double kRowGap = 15.0;  // between rows of blocks
constexpr double kHeading = 11.5;
constexpr double kSmall = 7.5;
constexpr double kBody = 8.0;
constexpr double kCellPad = 3.4;
constexpr double kScaleLong = 64.0;

class Writer {
 public:
  Writer(Sheet& sheet, const ReportDocument& document) : sheet_(sheet), document_(document) {}

  void write(int pages) {
    pages_ = pages;
    if (document_.certificate) {
      write_certificate();
      return;
    }
    begin_page();
    write_head();
    for (const auto& row : document_.rows) write_row(row);
    end_page();
  }
  [[nodiscard]] int pages() const { return page_; }

 private:
  [[nodiscard]] double bottom() const { return kPaperHeight - kMargin - 24.0; }

  void begin_page() {
    ++page_;
    y_ = kMargin;
    const std::string number =
        pages_ > 0 ? "Page " + std::to_string(page_) + " of " + std::to_string(pages_)
                   : "Page " + std::to_string(page_) + " of 9";
    double y = kMargin;
    for (const std::string& line : document_.provenance) {
      if (page_ > 1) break;
      y += sheet_.words(
          line, {kMargin, y, kPaperWidth - 2.0 * kMargin, kSmall, Align::end, Ink::faint, false});
    }
    sheet_.words(number,
                 {kMargin, y, kPaperWidth - 2.0 * kMargin, kSmall, Align::end, Ink::faint, false});
    if (page_ > 1) {
      y_ += sheet_.words(document_.title,
                         {kMargin, y_, 380.0, kSmall, Align::start, Ink::faint, false}) +
            10.0;
    }
  }

  void end_page() {
    const double y = kPaperHeight - kMargin - 8.0;
    sheet_.rule(kMargin, y - 6.0, kPaperWidth - kMargin, 0.5);
    const double width = kPaperWidth - 2.0 * kMargin;
    for (std::size_t i = 0; i < document_.foot.size(); ++i) {
      sheet_.words(document_.foot[i], {kMargin, y, width, kSmall,
                                       i == 0 ? Align::start : Align::end, Ink::faint, false});
    }
    sheet_.next_page();
  }

  void turn_page() {
    end_page();
    begin_page();
  }

  void write_head() {
    constexpr double kTitle = 19.0;
    y_ += sheet_.words(document_.title,
                       {kMargin, y_ - 3.0, 370.0, kTitle, Align::start, Ink::text, true});
    y_ += sheet_.words(document_.under, {kMargin, y_, 380.0, 8.5, Align::start, Ink::faint, false});
    y_ += 14.0;
    write_figures();
    for (const std::string& remark : document_.remarks) {
      y_ += sheet_.words(remark, {kMargin, y_, kPaperWidth - 2.0 * kMargin, kBody, Align::start,
                                  Ink::text, false}) +
            4.0;
    }
    y_ += document_.remarks.empty() ? 4.0 : 8.0;
  }

  void write_figures() {
    const auto n = static_cast<double>(document_.figures.size());
    if (n == 0.0) return;
    constexpr double kBetween = 12.0;
    const double width = (kPaperWidth - 2.0 * kMargin - (n - 1.0) * kBetween) / n;
    double x = kMargin;
    double most = 0.0;
    for (const ReportFigure& figure : document_.figures) {
      sheet_.rule(x, y_, x + width, 1.2, Ink::text);
      double y = y_ + 5.0;
      y += sheet_.words(figure.name, {x, y, width, kSmall, Align::start, Ink::text, false});
      y += sheet_.words(figure.value, {x, y, width, 17.0, Align::start, Ink::text, true});
      y += sheet_.words(figure.under, {x, y, width, 7.0, Align::start, Ink::faint, false});
      most = std::max(most, y - y_);
      x += width + kBetween;
    }
    y_ += most + 12.0;
  }

  void write_row(const std::vector<ReportBlock>& row) {
    if (row.empty()) return;
    const auto n = static_cast<double>(row.size());
    const double width = (kPaperWidth - 2.0 * kMargin - (n - 1.0) * kGap) / n;
    double needed = 0.0;
    for (const ReportBlock& block : row) needed = std::max(needed, measure(block, width));
    const double most = bottom() - kMargin - 24.0;
    // What does not fit goes on the next page; what fits on none is parted.
    const bool parted = needed > most;
    if (y_ + (parted ? 90.0 : needed) > bottom()) turn_page();
    const double top = y_;
    double x = kMargin;
    double lowest = y_;
    for (const ReportBlock& block : row) {
      y_ = top;
      write_block(block, x, width, parted && row.size() == 1);
      lowest = std::max(lowest, y_);
      x += width + kGap;
    }
    y_ = lowest + kRowGap;
  }

  double measure(const ReportBlock& block, double width) {
    sheet_.set_measuring(true);
    const double before = y_;
    y_ = 0.0;
    write_block(block, 0.0, width, false);
    const double height = y_;
    y_ = before;
    sheet_.set_measuring(false);
    return height;
  }

  void write_block(const ReportBlock& block, double x, double width, bool parted) {
    y_ +=
        sheet_.words(block.heading, {x, y_, width, kHeading, Align::start, Ink::text, true}) + 1.0;
    if (!block.under.empty()) {
      y_ += sheet_.words(block.under, {x, y_, width, kSmall, Align::start, Ink::faint, false});
    }
    y_ += 4.0;
    if (const auto* table = std::get_if<ReportTable>(&block.content)) {
      write_table(*table, x, width, parted);
    } else if (const auto* plot = std::get_if<Plot>(&block.content)) {
      y_ += sheet_.plot(*plot, x, y_, width);
    }
  }

  // The places of the columns: left edges and widths, a gap before each but the first.
  static std::vector<std::pair<double, double>> find_columns(const ReportTable& table, double x,
                                                             double width) {
    constexpr double kBetween = 9.0;
    double sum = 0.0;
    for (const ReportColumn& column : table.columns) sum += column.share;
    const double free = width - kBetween * static_cast<double>(table.columns.size() - 1);
    std::vector<std::pair<double, double>> places;
    for (const ReportColumn& column : table.columns) {
      const double own = free * column.share / sum;
      places.emplace_back(x, own);
      x += own + kBetween;
    }
    return places;
  }

  void write_table(const ReportTable& table, double x, double width, bool parted) {
    if (table.rows.empty()) {
      y_ += sheet_.words(table.nobody, {x, y_, width, kBody, Align::start, Ink::text, false});
      return;
    }
    const auto places = find_columns(table, x, width);
    write_table_head(table, places, x, width);
    for (const auto& row : table.rows) {
      const double height = measure_cells(row, table, places);
      if (parted && y_ + height > bottom()) {
        turn_page();
        write_table_head(table, places, x, width);
      }
      write_cells(row, table, places);
      y_ += height;
      sheet_.rule(x, y_, x + width, 0.4);
    }
  }

  void write_table_head(const ReportTable& table,
                        const std::vector<std::pair<double, double>>& places, double x,
                        double width) {
    double most = 0.0;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
      most = std::max(most, sheet_.words(table.columns[c].heading,
                                         {places[c].first, y_ + 2.0, places[c].second, kSmall,
                                          table.columns[c].align, Ink::faint, false}));
    }
    y_ += most + 5.0;
    sheet_.rule(x, y_, x + width, 0.6, Ink::below);
  }

  double measure_cells(const std::vector<ReportCell>& row, const ReportTable& table,
                       const std::vector<std::pair<double, double>>& places) {
    const bool was = sheet_.set_measuring(true);
    const double height = write_cells(row, table, places);
    sheet_.set_measuring(was);
    return height;
  }

  double write_cells(const std::vector<ReportCell>& row, const ReportTable& table,
                     const std::vector<std::pair<double, double>>& places) {
    double most = 0.0;
    for (std::size_t c = 0; c < row.size() && c < places.size(); ++c) {
      const ReportCell& cell = row[c];
      auto [x, width] = places[c];
      if (cell.bar || cell.dot) {
        const double scale = std::min(kScaleLong, 0.7 * width);
        sheet_.scale(cell, x, y_ + kCellPad + 5.0, scale);
        x += scale + 5.0;
        width = 0.0;
      }
      const double height =
          sheet_.words(cell.words, {x, y_ + kCellPad, width, kBody, table.columns[c].align,
                                    cell.alarm ? Ink::alarm : Ink::text, cell.strong, true});
      most = std::max(most, height);
    }
    return most + 2.0 * kCellPad;
  }

  // A sheet for a wall, across.
  void write_certificate() {
    page_ = 1;
    const double width = kPaperHeight - 2.0 * 90.0;
    constexpr double kLeft = 90.0;
    double y = 110.0;
    sheet_.frame(28.0);
    const auto line = [&](const std::string& words, double size, Ink ink, bool strong, double gap) {
      y += sheet_.words(words, {kLeft, y, width, size, Align::middle, ink, strong}) + gap;
    };
    line("Certificate", 13.0, Ink::faint, false, 26.0);
    line(document_.title, 30.0, Ink::text, true, 8.0);
    line(document_.under, 15.0, Ink::text, false, 22.0);
    for (const std::string& remark : document_.remarks) line(remark, 11.0, Ink::text, false, 12.0);
    y += 70.0;
    // Where people sign.
    constexpr double kSigned = 190.0;
    const double middle = kLeft + 0.5 * width;
    for (const auto& [x, who] : {std::pair(middle - kSigned - 30.0, "Assessor"),
                                 std::pair(middle + 30.0, "Date and place")}) {
      sheet_.rule(x, y, x + kSigned, 0.6, Ink::text);
      sheet_.words(who, {x, y + 4.0, kSigned, kSmall, Align::start, Ink::faint, false});
    }
    y += 46.0;
    for (const std::string& from : document_.provenance) line(from, 8.5, Ink::faint, false, 1.0);
    y = kPaperWidth - 60.0;
    if (!document_.foot.empty()) line(document_.foot.front(), kSmall, Ink::faint, false, 0.0);
    sheet_.next_page();
  }

  Sheet& sheet_;
  const ReportDocument& document_;
  double y_ = 0.0;
  int page_ = 0;
  int pages_ = 0;  // 0: not known yet
};

}  // namespace

}  // namespace redress::paper

/// The module's door. True: `out` has the PDF; false: it says what went wrong.
extern "C" [[gnu::visibility("default")]] bool redress_draw_pdf(
    const redress::assessment::ReportDocument* document, std::string* out) {
  using namespace redress::paper;
  try {
    int pages = 0;
    {
      Sheet sheet(*document);  // once to count
      Writer writer(sheet, *document);
      writer.write(0);
      pages = writer.pages();
    }
    Sheet sheet(*document);
    Writer(sheet, *document).write(pages);
    *out = sheet.finish();
    return true;
  } catch (const std::exception& e) {
    *out = e.what();
    return false;
  }
}
