// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/evidence/report.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/basics/html_text.hpp"
#include "sim/evidence/plots.hpp"
#include "sim/evidence/svg.hpp"
#include "sim/record/record_format.hpp"

namespace redress::evidence {

namespace {

constexpr const char* kStyle = R"(
  body { font: 14px/1.45 sans-serif; color: #111; background: #fff; max-width: 62em;
         margin: 2em auto; padding: 0 1em; }
  h1 { font-size: 1.6em; } h2 { font-size: 1.25em; margin-top: 2em; border-bottom: 1px solid #999; }
  h3 { font-size: 1em; margin-bottom: 0.2em; }
  table { border-collapse: collapse; width: 100%; font-size: 12px; }
  th, td { border-bottom: 1px solid #ddd; padding: 3px 6px; text-align: left; vertical-align: top; }
  th { border-bottom: 1px solid #666; }
  td.number { white-space: nowrap; }
  tr.outside td { background: #e4e4e4; }
  tr.outside td.verdict { font-weight: bold; }
  tr.not_simulated td { color: #666; }
  .caution { border: 1px solid #666; padding: 0.6em 0.9em; }
  .none { color: #666; }
  .panels { display: flex; flex-wrap: wrap; gap: 8px; }
  svg { max-width: 100%; height: auto; break-inside: avoid; }
  tr, h2, h3 { break-inside: avoid; } h2, h3 { break-after: avoid; }
  thead { display: table-header-group; }
  @media print { body { margin: 0; max-width: none; font-size: 10pt; } table { font-size: 8pt; }
                 tr.outside td { print-color-adjust: exact; -webkit-print-color-adjust: exact; } }
)";

std::string class_of(Verdict verdict) {
  return verdict == Verdict::not_simulated ? "not_simulated" : word_of(verdict);
}

// From memory and common practice stand out; what was read is the rule.
std::string mark_of(Standing standing) {
  const std::string word = word_of(standing);
  return standing == Standing::from_memory || standing == Standing::common_practice
             ? "<em>" + word + "</em>"
             : word;
}

// The interval that decides, unless the published text is that interval already.
std::string allowed_of(const Published& p) {
  std::string interval;
  if (p.low && p.high) {
    interval = format_number(*p.low) + " to " + format_number(*p.high);
  } else if (p.low) {
    interval = "at least " + format_number(*p.low);
  } else if (p.high) {
    interval = "at most " + format_number(*p.high);
  }
  return interval.empty() || interval == p.text ? "" : "<br>allowed " + escape_html(interval);
}

// Of a row outside, first why.
std::string remark_of(const Outcome& o) {
  if (o.verdict != Verdict::outside) return escape_html(o.remark);
  const std::string why = o.why.empty() ? "not explained" : o.why;
  return "<span class=\"why\">" + escape_html(why) + "</span>" +
         (o.remark.empty() ? "" : "<br>" + escape_html(o.remark));
}

std::string row_of(const Outcome& o) {
  const std::string unit = o.unit.empty() ? "" : " " + o.unit;
  return fmt::format(
      "<tr class=\"{}\"><td>{}</td><td>{}</td><td class=\"number\">{}</td>"
      "<td class=\"number\">{}</td><td class=\"verdict\">{}</td><td>{} [{}]</td><td>{}</td></tr>\n",
      class_of(o.verdict), escape_html(o.id), escape_html(o.quantity),
      escape_html(o.published.text + unit) + allowed_of(o.published),
      o.engine.empty() ? "&ndash;" : escape_html(o.engine + (o.published.word.empty() ? unit : "")),
      word_of(o.verdict), escape_html(o.source), mark_of(o.standing), remark_of(o));
}

std::string table_of(const std::vector<const Outcome*>& rows) {
  std::string html =
      "<table><thead><tr><th>Id</th><th>Quantity</th><th>Published</th><th>Engine</th>"
      "<th>Verdict</th><th>Source</th><th>Why outside; remark</th></tr></thead>\n<tbody>\n";
  for (const Outcome* o : rows) html += row_of(*o);
  return html + "</tbody></table>\n";
}

std::vector<const Outcome*> those(const std::vector<Outcome>& outcomes, Verdict verdict) {
  std::vector<const Outcome*> found;
  for (const Outcome& o : outcomes) {
    if (o.verdict == verdict) found.push_back(&o);
  }
  return found;
}

struct Section {
  std::string name;
  std::vector<Outcome> rows;
};

// In the order in which the groups first appear.
std::vector<Section> sections_of(const std::vector<Outcome>& outcomes) {
  std::vector<Section> sections;
  for (const Outcome& o : outcomes) {
    auto it = std::find_if(sections.begin(), sections.end(),
                           [&](const Section& s) { return s.name == o.group; });
    if (it == sections.end()) it = sections.insert(sections.end(), {o.group, {}});
    it->rows.push_back(o);
  }
  return sections;
}

std::string counts_table(const std::vector<Section>& sections, const Counts& all) {
  std::string html =
      "<table><thead><tr><th>Group</th><th>Rows</th><th>Within</th><th>Outside</th>"
      "<th>Not simulated</th></tr></thead>\n<tbody>\n";
  for (const Section& s : sections) {
    const Counts c = count(s.rows);
    html += fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n",
                        escape_html(s.name), c.all(), c.within, c.outside, c.not_simulated);
  }
  html += fmt::format(
      "<tr><th>All</th><th>{}</th><th>{}</th><th>{}</th><th>{}</th></tr></tbody></table>\n",
      all.all(), all.within, all.outside, all.not_simulated);
  return html;
}

std::string standing_counts(const std::vector<Outcome>& outcomes) {
  std::string words;
  for (const Standing standing :
       {Standing::read, Standing::derived, Standing::from_memory, Standing::common_practice}) {
    const auto n = std::count_if(outcomes.begin(), outcomes.end(),
                                 [&](const Outcome& o) { return o.standing == standing; });
    words += fmt::format("{}{} {}", words.empty() ? "" : ", ", n, word_of(standing));
  }
  return words;
}

}  // namespace

const char* word_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::within: return "within";
    case Verdict::outside: return "outside";
    case Verdict::not_simulated: break;
  }
  return "not simulated";
}

const char* word_of(Standing standing) {
  switch (standing) {
    case Standing::read: return "read";
    case Standing::from_memory: return "from memory";
    case Standing::common_practice: return "common practice";
    case Standing::derived: break;
  }
  return "derived";
}

Counts count(const std::vector<Outcome>& outcomes) {
  Counts counts;
  for (const Outcome& o : outcomes) {
    if (o.verdict == Verdict::within) ++counts.within;
    if (o.verdict == Verdict::outside) ++counts.outside;
    if (o.verdict == Verdict::not_simulated) ++counts.not_simulated;
  }
  return counts;
}

std::string make_report(const std::vector<Outcome>& outcomes) {
  const Counts counts = count(outcomes);
  const std::vector<Section> sections = sections_of(outcomes);
  std::string html =
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width\">\n"
      "<title>Redress: the model against the literature</title>\n<style>" +
      std::string{kStyle} + "</style>\n</head>\n<body>\n";
  html += "<h1>The model against the literature</h1>\n";
  html += fmt::format("<p>Redress {}, arithmetic {:016x}.</p>\n", record::kEngineVersion,
                      elementary::arithmetic_check());
  html +=
      "<p class=\"caution\">For training only. Redress is not a medical device, and nothing here "
      "says anything about a real person's eyes. A row within its published interval shows that "
      "the engine gives that number there, and no more.</p>\n";
  html += fmt::format(
      "<p>{} rows: <strong>{} within, {} outside, {} not simulated</strong>. Published values: {}. "
      "Each row was simulated for this page; where the published text is not itself the interval "
      "that decides, the interval allowed stands below it. Rows marked (fitted), {} of them, were "
      "aims when the engine's constants were found, or when the patient of the row was written: "
      "that they are met is no validation. Most other constants are published values themselves. "
      "Where a row asks for the very value that a constant was set to, being within shows that the "
      "parts put together still give it back, not that they foretold it.</p>\n",
      counts.all(), counts.within, counts.outside, counts.not_simulated, standing_counts(outcomes),
      std::count_if(outcomes.begin(), outcomes.end(), [](const Outcome& o) {
        return o.quantity.find("(fitted)") != std::string::npos;
      }));
  html += counts_table(sections, counts);

  html += fmt::format("<h2>Outside: {}</h2>\n", counts.outside);
  html += table_of(those(outcomes, Verdict::outside));
  html += fmt::format("<h2>Not simulated: {}</h2>\n", counts.not_simulated);
  html += table_of(those(outcomes, Verdict::not_simulated));

  html += "<h2>Main sequence</h2>\n" + plot_main_sequence();
  html += "<h2>Cover and uncover</h2>\n" + plot_covers();
  html += "<h2>Nine gazes, either eye fixing</h2>\n" + plot_nine_gazes();
  html += "<h2>Head tilt</h2>\n" + plot_head_tilt();

  for (const Section& s : sections) {
    const Counts c = count(s.rows);
    html += fmt::format("<h2>{}: {} within, {} outside, {} not simulated</h2>\n",
                        escape_html(s.name), c.within, c.outside, c.not_simulated);
    std::vector<const Outcome*> rows;
    for (const Verdict verdict : {Verdict::outside, Verdict::not_simulated, Verdict::within}) {
      for (const Outcome* o : those(s.rows, verdict)) rows.push_back(o);
    }
    html += table_of(rows);
  }
  return html + "</body>\n</html>\n";
}

}  // namespace redress::evidence
