// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The cohort and candidate reports as HTML (sim/assessment/report.hpp).
#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "sim/assessment/report.hpp"
#include "sim/assessment/report_plots.hpp"
#include "sim/basics/html_text.hpp"

namespace redress::assessment {

namespace {

constexpr const char* kStyle = R"(
  body { font: 14px/1.45 sans-serif; color: #111; background: #fff; max-width: 62em;
         margin: 2em auto; padding: 0 1em; }
  h1 { font-size: 1.7em; margin-bottom: 0; } h2 { font-size: 1.2em; margin: 1.6em 0 0.2em; }
  .under { color: #444; margin-top: 0.2em; }
  dl.head { display: flex; flex-wrap: wrap; gap: 1.6em; padding: 0; }
  dl.head div { border-top: 2px solid #111; min-width: 9em; padding-top: 0.3em; }
  dt { font-size: 12px; } dd { margin: 0; } dd b { font-size: 1.7em; } dd span { font-size: 12px; }
  table { border-collapse: collapse; width: 100%; }
  th, td { border-bottom: 1px solid #ccc; padding: 3px 8px; text-align: left; }
  th { border-bottom: 1px solid #555; font-weight: normal; font-size: 12px; }
  td.n, th.n { text-align: right; font-variant-numeric: tabular-nums; }
  figure { margin: 0.5em 0; } figcaption { font-size: 12px; color: #444; }
  footer { border-top: 1px solid #ccc; margin-top: 2.5em; font-size: 12px; color: #444; }
  tr, h2, figure { break-inside: avoid; } h2 { break-after: avoid; }
  thead { display: table-header-group; }
  @media print { body { margin: 0; max-width: none; font-size: 10pt; } }
)";

std::string minus(std::string text) {
  if (text.starts_with("-")) text.replace(0, 1, "\u2212");
  return text;
}
std::string fixed(double x, int decimals) { return minus(fmt::format("{:.{}f}", x, decimals)); }
std::string fixed(const std::optional<double>& x, int decimals) {
  return x ? fixed(*x, decimals) : "\u2013";
}
std::string signed_pd(double x) { return (x > 0.0 ? "+" : "") + fixed(x, 1) + "\u0394"; }
std::string percent(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

std::string begin_page(const std::string& title) {
  return "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n<title>" +
         escape_html(title) + "</title>\n<style>" + kStyle + "</style>\n</head>\n<body>\n<main>\n";
}

std::string end_page() {
  return "</main>\n<footer><p>Redress trains and examines on simulated patients. It does not "
         "diagnose real people. Performance on simulated patients; hand skill, child handling and "
         "communication are to be shown on people. Any station can be replayed from its record "
         "alone.</p></footer>\n</body>\n</html>\n";
}

std::string figure(const std::string& name, const std::string& value, const std::string& under) {
  return "<div><dt>" + escape_html(name) + "</dt><dd><b>" + escape_html(value) + "</b><br><span>" +
         escape_html(under) + "</span></dd></div>\n";
}

std::string provenance(const ReportHead& head) {
  std::string text;
  const auto add = [&](const std::string& part) {
    if (!part.empty()) text += (text.empty() ? "" : " \u00b7 ") + part;
  };
  add(head.circuit_seal.empty() ? "not sealed" : "circuit seal " + head.circuit_seal);
  add("engine " + head.engine);
  add(head.when);
  return text;
}

std::string make_head(const CohortFigures& f) {
  std::string html = "<dl class=\"head\">\n";
  html +=
      figure("Passed", fmt::format("{} of {}", f.passed, f.candidates),
             fmt::format("{}, interval {:.0f} to {:.0f}",
                         percent(static_cast<double>(f.passed) / static_cast<double>(f.candidates)),
                         100.0 * f.passed_interval.low, 100.0 * f.passed_interval.high));
  html += figure(
      "Pass mark", fixed(f.cut.mark, 1),
      std::string(to_words(f.standard)) + (f.cut.error ? ", error " + fixed(f.cut.error, 1) : ""));
  html += figure("Alpha", fixed(f.alpha, 2), "error of a mark " + fixed(f.error_of_measurement, 1));
  html +=
      figure("Generalisability", fixed(f.generalisability, 2),
             f.stations_for_080 ? fmt::format("{} stations would reach 0.80", *f.stations_for_080)
                                : "no number of stations would reach 0.80");
  if (f.items_marked > 0) {
    html += figure("Overruled marks", fmt::format("{} of {}", f.overruled, f.items_marked),
                   "kappa with the engine " + fixed(f.kappa, 2));
  }
  return html + "</dl>\n";
}

std::string make_stations(const CohortFigures& f) {
  std::string html =
      "<h2>Stations</h2>\n<p class=\"under\">Difficulty is the fraction of marks earned; "
      "discrimination is the correlation of a station with the rest.</p>\n<table><thead><tr>"
      "<th scope=\"col\">Station</th><th class=\"n\" scope=\"col\">Difficulty</th><th class=\"n\" "
      "scope=\"col\">Discrimination</th><th class=\"n\" scope=\"col\">Mean</th><th class=\"n\" "
      "scope=\"col\">Pass mark</th><th class=\"n\" scope=\"col\">Pass</th><th class=\"n\" "
      "scope=\"col\">Without it, alpha</th><th scope=\"col\">Look at</th></tr></thead>\n<tbody>\n";
  for (const StationFigures& s : f.stations) {
    html += fmt::format(
        "<tr><th scope=\"row\">{} {}</th><td class=\"n\">{}</td><td class=\"n\">{}</td>"
        "<td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td>"
        "<td class=\"n\">{}</td><td>{}</td></tr>\n",
        s.station + 1, escape_html(s.name), fixed(s.difficulty, 2), fixed(s.discrimination, 2),
        fixed(s.mean, 0), fixed(s.cut.mark, 1), percent(s.share_passing), fixed(s.alpha_without, 2),
        escape_html(s.look_at));
  }
  return html + "</tbody></table>\n";
}

std::string make_lost(const CohortFigures& f) {
  constexpr std::size_t kShown = 6;
  if (f.lost.empty()) return "";
  std::string html =
      "<h2>Lost most often</h2>\n<table><thead><tr><th scope=\"col\">Item</th><th class=\"n\" "
      "scope=\"col\">Lost half or more</th><th class=\"n\" scope=\"col\">Mean share lost</th></tr>"
      "</thead>\n<tbody>\n";
  for (std::size_t i = 0; i < std::min(kShown, f.lost.size()); ++i) {
    const auto& line = scoring::kRubric[static_cast<std::size_t>(f.lost[i].item)];
    html += fmt::format(
        "<tr><th scope=\"row\">{}</th><td class=\"n\">{}</td><td class=\"n\">{}</td></tr>\n",
        escape_html(line.title), percent(f.lost[i].share_of_candidates), percent(f.lost[i].marks));
  }
  return html + "</tbody></table>\n";
}

std::string rows_of(const std::vector<const CandidateFigures*>& those) {
  std::string html =
      "<table><thead><tr><th scope=\"col\">Candidate</th><th class=\"n\" scope=\"col\">Total</th>"
      "<th scope=\"col\">Decision</th><th scope=\"col\">Unsafe at station</th></tr></thead>\n"
      "<tbody>\n";
  for (const CandidateFigures* c : those) {
    std::string unsafe;
    for (const std::size_t s : c->unsafe)
      unsafe += fmt::format("{}{}", unsafe.empty() ? "" : ", ", s + 1);
    html += fmt::format(
        "<tr><th scope=\"row\">{}</th><td class=\"n\">{}</td><td>{}</td><td>{}</td></tr>\n",
        escape_html(c->candidate), fixed(c->total, 1), to_words(c->decision), unsafe);
  }
  return html + "</tbody></table>\n";
}

std::string make_lists(const CohortFigures& f) {
  std::vector<const CandidateFigures*> near;
  std::vector<const CandidateFigures*> unsafe;
  for (const CandidateFigures& c : f.candidates_in_order) {
    if (c.near_line) near.push_back(&c);
    if (!c.unsafe.empty()) unsafe.push_back(&c);
  }
  std::stable_sort(near.begin(), near.end(),
                   [](const auto* a, const auto* b) { return a->total > b->total; });
  std::string html =
      "<h2>Near the line</h2>\n<p class=\"under\">Within one error of the pass mark: read the "
      "records before deciding.</p>\n";
  html += near.empty() ? "<p>Nobody.</p>\n" : rows_of(near);
  html +=
      "<h2>Unsafe</h2>\n<p class=\"under\">A red flag missed, or a plan that would do "
      "harm.</p>\n";
  html += unsafe.empty() ? "<p>Nobody.</p>\n" : rows_of(unsafe);
  return html;
}

}  // namespace

std::string make_cohort_report(const Cohort& cohort, const CohortFigures& f,
                               const ReportHead& head) {
  std::string html = begin_page(cohort.circuit.title);
  html += "<h1>" + escape_html(cohort.circuit.title) + "</h1>\n<p class=\"under\">" +
          fmt::format("{} \u00b7 {} {} \u00b7 {} scored stations<br>{}</p>\n",
                      head.rehearsal ? "Rehearsal: nobody sat it" : "Cohort report", f.candidates,
                      head.rehearsal ? "simulated candidates" : "candidates", f.stations.size(),
                      escape_html(provenance(head)));
  html += make_head(f);
  if (!f.standard_note.empty()) html += "<p>" + escape_html(f.standard_note) + "</p>\n";
  html += "<h2>Distribution</h2>\n<figure>" + plot_distribution(f) +
          "<figcaption>Candidates by total mark. Dark line: pass mark; band: its error."
          "</figcaption></figure>\n";
  if (f.sizes) {
    html += "<h2>Sizes written against what was there</h2>\n<figure>" +
            plot_agreement(cohort.sizes, *f.sizes) +
            fmt::format(
                "<figcaption>Bland\u2013Altman: mean difference {}; 95 % of differences "
                "from {} to {}. \u0394, written minus true.</figcaption></figure>\n",
                signed_pd(f.sizes->bias), signed_pd(f.sizes->limits.low),
                signed_pd(f.sizes->limits.high));
  }
  return html + make_stations(f) + make_lost(f) + make_lists(f) + end_page();
}

std::string make_candidate_report(const Cohort& cohort, const CohortFigures& f, std::size_t index,
                                  const ReportHead& head) {
  const CandidateFigures& c = f.candidates_in_order.at(index);
  const CohortRow& row = cohort.rows.at(index);
  std::string html = begin_page("Candidate " + c.candidate);
  html += "<h1>Candidate " + escape_html(c.candidate) + "</h1>\n<p class=\"under\">" +
          escape_html(cohort.circuit.title) + "<br>" + escape_html(provenance(head)) +
          "</p>\n<dl class=\"head\">\n";
  html += figure("Result", std::string(to_words(c.decision)),
                 fmt::format("{} of {} stations passed", c.stations_passed, f.stations.size()));
  html += figure("Mark", fixed(c.total, 1), "error " + fixed(f.error_of_measurement, 1));
  html += figure("Pass mark", fixed(f.cut.mark, 1), std::string(to_words(f.standard)));
  html +=
      "</dl>\n<h2>Stations</h2>\n<table><thead><tr><th scope=\"col\">Station</th>"
      "<th class=\"n\" scope=\"col\">Mark</th><th class=\"n\" scope=\"col\">Pass mark</th>"
      "<th class=\"n\" scope=\"col\">Mean of all</th><th scope=\"col\">Remark</th></tr></thead>"
      "\n<tbody>\n";
  for (std::size_t i = 0; i < f.stations.size(); ++i) {
    const StationFigures& s = f.stations[i];
    const CohortMark& mark = row.stations[i];
    std::string remark;
    if (mark.unsafe) remark = "unsafe";
    if (!mark.finished) remark += remark.empty() ? "not finished" : ", not finished";
    // Candidates learn a station's number, not what was there.
    html += fmt::format(
        "<tr><th scope=\"row\">{}</th><td class=\"n\">{}</td><td class=\"n\">{}"
        "</td><td class=\"n\">{}</td><td>{}</td></tr>\n",
        s.station + 1, fixed(mark.marks, 1), fixed(s.cut.mark, 1), fixed(s.mean, 1), remark);
  }
  html +=
      "</tbody></table>\n<h2>Where marks were lost</h2>\n<table><thead><tr>"
      "<th scope=\"col\">Item</th><th class=\"n\" scope=\"col\">Share earned</th></tr></thead>"
      "\n<tbody>\n";
  for (std::size_t item = 0; item < scoring::kItemCount; ++item) {
    double sum = 0.0;
    double count = 0.0;
    for (const CohortMark& mark : row.stations) {
      if (item >= mark.shares.size() || mark.shares[item] < 0.0) continue;
      sum += mark.shares[item];
      count += 1.0;
    }
    constexpr double kWorthTelling = 0.7;
    if (count == 0.0 || sum / count >= kWorthTelling) continue;
    html += fmt::format("<tr><th scope=\"row\">{}</th><td class=\"n\">{}</td></tr>\n",
                        escape_html(scoring::kRubric[item].title), percent(sum / count));
  }
  return html + "</tbody></table>\n" + end_page();
}

}  // namespace redress::assessment
