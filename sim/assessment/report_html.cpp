// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A report as one HTML page: headings, tables, words for each plot; prints in greys; needs nothing
// from elsewhere (sim/assessment/report_document.hpp).
#include <array>
#include <variant>

#include <fmt/format.h>

#include "sim/assessment/report.hpp"
#include "sim/basics/html_text.hpp"

namespace redress::assessment {

namespace {

constexpr const char* kStyle = R"(
  body { font: 14px/1.45 Inter, sans-serif; color: #1b1f22; background: #fff; max-width: 66em;
         margin: 2em auto; padding: 0 1em; font-feature-settings: "tnum"; }
  header.top { display: flex; justify-content: space-between; align-items: flex-start; gap: 2em; }
  h1 { font-size: 1.9em; margin: 0; } h2 { font-size: 1.15em; margin: 0; }
  .under { color: #4c5459; margin: 0.1em 0 0.5em; font-size: 12.5px; }
  .from { text-align: right; color: #4c5459; font-size: 12px; white-space: nowrap; }
  dl.head { display: flex; flex-wrap: wrap; gap: 1.4em; padding: 0; margin: 1.6em 0 1em; }
  dl.head div { border-top: 2px solid #1b1f22; flex: 1; min-width: 9em; padding-top: 0.4em; }
  dt { font-size: 12px; } dd { margin: 0; } dd b { font-size: 1.8em; font-weight: 600; }
  dd span { font-size: 12px; color: #4c5459; }
  .row { display: flex; flex-wrap: wrap; gap: 2em; margin: 1.8em 0; }
  .row section { flex: 1; min-width: 24em; }
  table { border-collapse: collapse; width: 100%; }
  th, td { border-bottom: 1px solid #d6d2cc; padding: 4px 8px 4px 0; text-align: left;
           vertical-align: middle; font-size: 13px; }
  thead th { font-weight: normal; font-size: 12px; color: #4c5459; }
  tbody th { font-weight: 600; } td.end, th.end { text-align: right; }
  td { white-space: nowrap; } td:last-child { white-space: normal; }
  td.alarm { color: #9a2a35; font-weight: 600; }
  td svg { vertical-align: middle; margin-right: 6px; }
  figure { margin: 0; } figure svg { width: 100%; max-width: 34em; height: auto; }
  footer { border-top: 1px solid #d6d2cc; margin-top: 2.5em; font-size: 12px; color: #4c5459;
           display: flex; justify-content: space-between; gap: 2em; }
  tr, h2, figure { break-inside: avoid; } h2 { break-after: avoid; }
  thead { display: table-header-group; }
  main.certificate { text-align: center; padding: 6em 4em; }
  @media print { body { margin: 0; max-width: none; font-size: 10pt; } }
)";

const char* colour_of(Ink ink) {
  switch (ink) {
    case Ink::text: return "#1b1f22";
    case Ink::faint: return "#4c5459";
    case Ink::rule: return "#d6d2cc";
    case Ink::passed: return "#2b6c78";
    case Ink::below: return "#a6a29a";
    case Ink::alarm: return "#9a2a35";
    case Ink::band: return "#ececec";
    case Ink::dot: break;
  }
  return "#2b6c78";
}

struct SvgWriter {
  std::string& svg;

  void operator()(const PlotLine& l) const {
    svg += fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" "
        "stroke-width=\"{:.1f}\"{}/>",
        l.x1, l.y1, l.x2, l.y2, colour_of(l.ink), l.width,
        l.dashed ? " stroke-dasharray=\"3 2\"" : "");
  }
  void operator()(const PlotBox& b) const {
    svg += fmt::format(
        "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"{}\"/>", b.x,
        b.y, b.width, b.height, colour_of(b.ink));
  }
  void operator()(const PlotDot& d) const {
    svg +=
        fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" fill=\"{}\"{}/>", d.x, d.y,
                    d.radius, colour_of(d.ink), d.ink == Ink::dot ? " fill-opacity=\"0.5\"" : "");
  }
  void operator()(const PlotWords& w) const {
    constexpr std::array<const char*, 3> kAnchors{"start", "middle", "end"};
    svg += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" fill=\"{}\"{}>{}</text>",
                       w.x, w.y, kAnchors[static_cast<std::size_t>(w.align)],
                       colour_of(w.strong ? Ink::text : Ink::faint),
                       w.strong ? " font-weight=\"600\"" : "", escape_html(w.words));
  }
};

std::string write_plot(const Plot& plot) {
  const std::string words = escape_html(plot.words);
  std::string svg = fmt::format(
      "<figure><svg viewBox=\"0 0 {:.0f} {:.0f}\" role=\"img\" aria-label=\"{}\" font-size=\"7.5\" "
      "font-family=\"Inter, sans-serif\"><title>{}</title>",
      plot.width, plot.height, words, words);
  for (const PlotShape& shape : plot.shapes) std::visit(SvgWriter{svg}, shape);
  return svg + "</svg></figure>\n";
}

// The bar or the dot before a cell's words says nothing that the words do not.
std::string write_scale(const ReportCell& cell) {
  constexpr double kLong = 80.0;
  if (!cell.bar && !cell.dot) return "";
  std::string svg = fmt::format(
      "<svg viewBox=\"0 0 {0:.0f} 10\" width=\"{0:.0f}\" height=\"10\" aria-hidden=\"true\">",
      kLong);
  const SvgWriter write{svg};
  if (cell.bar) {
    write(PlotBox{0.0, 2.0, kLong, 6.0, Ink::band});
    write(PlotBox{0.0, 2.0, kLong * *cell.bar, 6.0, Ink::below});
  } else {
    write(PlotLine{0.0, 5.0, kLong, 5.0, Ink::rule, 1.0, false});
  }
  if (cell.mark) {
    write(PlotLine{kLong * *cell.mark, 0.0, kLong * *cell.mark, 10.0, Ink::faint, 1.0, false});
  }
  if (cell.dot) write(PlotDot{kLong * *cell.dot, 5.0, 3.2, cell.alarm ? Ink::alarm : Ink::passed});
  return svg + "</svg>";
}

std::string write_table(const ReportTable& table) {
  if (table.rows.empty()) return "<p>" + escape_html(table.nobody) + "</p>\n";
  const auto end = [&](std::size_t c) {
    return c < table.columns.size() && table.columns[c].align == Align::end;
  };
  std::string html = "<table><thead><tr>";
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    html += fmt::format("<th scope=\"col\"{}>{}</th>", end(c) ? " class=\"end\"" : "",
                        escape_html(table.columns[c].heading));
  }
  html += "</tr></thead>\n<tbody>\n";
  for (const auto& row : table.rows) {
    html += "<tr>";
    for (std::size_t c = 0; c < row.size(); ++c) {
      const ReportCell& cell = row[c];
      if (c == 0) {
        html += "<th scope=\"row\">" + escape_html(cell.words) + "</th>";
        continue;
      }
      html += fmt::format("<td{}>{}{}</td>",
                          cell.alarm ? " class=\"alarm\"" : (end(c) ? " class=\"end\"" : ""),
                          write_scale(cell), escape_html(cell.words));
    }
    html += "</tr>\n";
  }
  return html + "</tbody></table>\n";
}

std::string write_block(const ReportBlock& block) {
  std::string html = "<section><h2>" + escape_html(block.heading) + "</h2>\n";
  if (!block.under.empty()) html += "<p class=\"under\">" + escape_html(block.under) + "</p>\n";
  if (const auto* table = std::get_if<ReportTable>(&block.content)) html += write_table(*table);
  if (const auto* plot = std::get_if<Plot>(&block.content)) html += write_plot(*plot);
  return html + "</section>\n";
}

}  // namespace

std::string make_html(const ReportDocument& d) {
  std::string html =
      "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n<title>" +
      escape_html(d.title) + "</title>\n<style>" + kStyle + "</style>\n</head>\n<body>\n";
  html += d.certificate ? "<main class=\"certificate\">\n" : "<main>\n";
  html += "<header class=\"top\"><div><h1>" + escape_html(d.title) + "</h1><p class=\"under\">" +
          escape_html(d.under) + "</p></div><p class=\"from\">";
  for (std::size_t i = 0; i < d.provenance.size(); ++i) {
    html += (i > 0 ? "<br>" : "") + escape_html(d.provenance[i]);
  }
  html += "</p></header>\n";
  if (!d.figures.empty()) {
    html += "<dl class=\"head\">\n";
    for (const ReportFigure& f : d.figures) {
      html += "<div><dt>" + escape_html(f.name) + "</dt><dd><b>" + escape_html(f.value) +
              "</b><br><span>" + escape_html(f.under) + "</span></dd></div>\n";
    }
    html += "</dl>\n";
  }
  for (const std::string& remark : d.remarks) html += "<p>" + escape_html(remark) + "</p>\n";
  for (const auto& row : d.rows) {
    html += "<div class=\"row\">\n";
    for (const ReportBlock& block : row) html += write_block(block);
    html += "</div>\n";
  }
  html += "</main>\n<footer>";
  for (const std::string& line : d.foot) html += "<p>" + escape_html(line) + "</p>";
  return html + "</footer>\n</body>\n</html>\n";
}

}  // namespace redress::assessment
