// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands in the reports (sim/assessment/report.hpp), whatever they are written on.
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "sim/assessment/report.hpp"
#include "sim/assessment/report_plots.hpp"
#include "sim/assessment/report_words.hpp"
#include "sim/basics/elementary.hpp"

namespace redress::assessment {

namespace {

constexpr std::size_t kLostShown = 6;
constexpr std::size_t kNearShown = 6;
constexpr double kLeastDiscrimination = 0.2;  // as in cohort.cpp: the tick on the line

ReportCell words(std::string text) { return {std::move(text), false, false, {}, {}, {}}; }
ReportCell strong(std::string text) { return {std::move(text), true, false, {}, {}, {}}; }

std::string joined(const std::vector<std::string>& parts, const char* between) {
  std::string all;
  for (const std::string& part : parts) all += (all.empty() ? "" : between) + part;
  return all;
}

std::string numbers(const std::vector<std::size_t>& stations) {
  std::string all;
  for (const std::size_t s : stations) all += fmt::format("{}{}", all.empty() ? "" : ", ", s + 1);
  return all;
}

std::vector<std::string> provenance(const ReportHead& head) {
  std::vector<std::string> lines;
  lines.push_back(head.circuit_seal.empty() ? "Not sealed" : "Circuit seal " + head.circuit_seal);
  lines.push_back("Engine " + head.engine +
                  (head.circuit_seal.empty() ? "" : " \u00b7 every record verified"));
  return lines;
}

std::vector<std::string> foot() {
  return {"Redress trains and examines on simulated patients. It does not diagnose real people.",
          "Any station can be replayed from its record alone."};
}

std::vector<ReportFigure> cohort_figures(const CohortFigures& f) {
  const double share = static_cast<double>(f.passed) / static_cast<double>(f.candidates);
  std::vector<ReportFigure> figures;
  figures.push_back({"Passed", fmt::format("{} of {}", f.passed, f.candidates),
                     fmt::format("{}, interval {:.0f} to {:.0f}", to_percent(share),
                                 100.0 * f.passed_interval.low, 100.0 * f.passed_interval.high)});
  figures.push_back({"Pass mark", to_fixed(f.cut.mark, 1),
                     std::string(to_words(f.standard)) +
                         (f.cut.error ? ", error " + to_fixed(f.cut.error, 1) : "")});
  figures.push_back(
      {"Alpha", to_fixed(f.alpha, 2), "error of a mark " + to_fixed(f.error_of_measurement, 1)});
  figures.push_back({"Generalisability", to_fixed(f.generalisability, 2),
                     f.stations_for_080 ? fmt::format("0.80 with {} stations", *f.stations_for_080)
                                        : "no number reaches 0.80"});
  if (f.items_marked > 0) {
    figures.push_back({"Overruled marks", fmt::format("{} of {}", f.overruled, f.items_marked),
                       "kappa with the engine " + to_fixed(f.kappa, 2)});
  } else {
    figures.push_back({"Overruled marks", "\u2013", "no assessor yet"});
  }
  return figures;
}

ReportBlock stations_block(const CohortFigures& f) {
  ReportTable table;
  table.columns = {{"Station", 2.6, Align::start},         {"Difficulty", 1.5, Align::start},
                   {"Discrimination", 1.5, Align::start},  {"Mean", 0.6, Align::end},
                   {"Pass mark", 0.8, Align::end},         {"Pass", 0.6, Align::end},
                   {"Without it, alpha", 1.2, Align::end}, {"Look at", 2.0, Align::start}};
  for (const StationFigures& s : f.stations) {
    ReportCell difficulty = words(to_fixed(s.difficulty, 2));
    difficulty.bar = s.difficulty;
    ReportCell discrimination = words(to_fixed(s.discrimination, 2));
    if (s.discrimination) {
      discrimination.dot = std::clamp(*s.discrimination, 0.0, 1.0);
      discrimination.mark = kLeastDiscrimination;
      discrimination.alarm = discrimination.strong = *s.discrimination < kLeastDiscrimination;
    }
    table.rows.push_back({strong(fmt::format("{} {}", s.station + 1, s.name)), difficulty,
                          discrimination, words(to_fixed(s.mean, 0)),
                          words(to_fixed(s.cut.mark, 1)), words(to_percent(s.share_passing)),
                          words(to_fixed(s.alpha_without, 2)), words(s.look_at)});
  }
  return {"Stations",
          "Difficulty is the fraction of marks earned; discrimination is the correlation of a "
          "station with the rest.",
          std::move(table)};
}

ReportBlock lost_block(const CohortFigures& f) {
  ReportTable table;
  table.columns = {{"Item", 3.4, Align::start},
                   {"Lost half or more", 1.3, Align::end},
                   {"Share lost", 0.9, Align::end}};
  table.nobody = "Nothing by anybody.";
  for (std::size_t i = 0; i < std::min(kLostShown, f.lost.size()); ++i) {
    const auto& line = scoring::kRubric[static_cast<std::size_t>(f.lost[i].item)];
    table.rows.push_back({words(line.title), words(to_percent(f.lost[i].share_of_candidates)),
                          words(to_percent(f.lost[i].marks))});
  }
  return {"Lost most often", "Of those who met the item, and of its marks.", std::move(table)};
}

using Chosen = std::vector<std::size_t>;  // indices of candidates

ReportTable candidates_table(const Cohort& cohort, const CohortFigures& f, const Chosen& chosen,
                             bool unsafe) {
  ReportTable table;
  table.columns = {{"Candidate", 1.1, Align::start},
                   {"Total", 0.6, Align::end},
                   {"Decision", 1.0, Align::start},
                   {unsafe ? "Unsafe at station" : "Remarks", 2.2, Align::start}};
  for (const std::size_t i : chosen) {
    const CandidateFigures& c = f.candidates_in_order[i];
    std::vector<std::string> remarks;
    if (unsafe) {
      remarks.push_back(numbers(c.unsafe));
    } else {
      if (!c.unsafe.empty()) remarks.push_back("unsafe at " + numbers(c.unsafe));
      const std::int64_t needed = cohort.circuit.stations_to_pass;
      if (static_cast<std::int64_t>(c.stations_passed) < needed) {
        remarks.push_back(fmt::format("{} stations passed, {} needed", c.stations_passed, needed));
      }
      const auto& own = cohort.rows[i].remarks;
      remarks.insert(remarks.end(), own.begin(), own.end());
    }
    table.rows.push_back({strong(c.candidate), words(to_fixed(c.total, 1)),
                          words(std::string(to_words(c.decision))), words(joined(remarks, ", "))});
  }
  return table;
}

Chosen find_near(const CohortFigures& f) {
  Chosen near;
  for (std::size_t i = 0; i < f.candidates_in_order.size(); ++i) {
    if (f.candidates_in_order[i].near_line) near.push_back(i);
  }
  std::stable_sort(near.begin(), near.end(), [&](std::size_t a, std::size_t b) {
    return f.candidates_in_order[a].total > f.candidates_in_order[b].total;
  });
  return near;
}

// Those whose mark is nearest to the line, in order of marks.
Chosen find_nearest(const CohortFigures& f, const Chosen& near) {
  const auto apart = [&](std::size_t i) {
    return elementary::magnitude(f.candidates_in_order[i].total - f.cut.mark);
  };
  Chosen nearest = near;
  std::stable_sort(nearest.begin(), nearest.end(),
                   [&](std::size_t a, std::size_t b) { return apart(a) < apart(b); });
  nearest.resize(std::min(kNearShown, nearest.size()));
  std::stable_sort(nearest.begin(), nearest.end(), [&](std::size_t a, std::size_t b) {
    return f.candidates_in_order[a].total > f.candidates_in_order[b].total;
  });
  return nearest;
}

ReportBlock overruled_block(const Cohort& cohort, const CohortFigures& f) {
  const std::vector<std::string> grades{"none", "part", "full"};
  ReportTable table;
  table.columns = {{"Engine", 1.2, Align::start}};
  for (const std::string& grade : grades) table.columns.push_back({grade, 0.8, Align::end});
  for (std::size_t r = 0; r < cohort.agreement.size() && r < grades.size(); ++r) {
    std::vector<ReportCell> row{strong(grades[r])};
    for (const double count : cohort.agreement[r]) row.push_back(words(to_fixed(count, 0)));
    table.rows.push_back(std::move(row));
  }
  table.nobody = "No assessor has marked yet.";
  return {
      "Marks by engine and by assessors",
      "Items with none, part or all of their marks: the engine's rows, the assessors' columns." +
          (f.kappa ? " Kappa " + to_fixed(f.kappa, 2) + "." : std::string{}),
      std::move(table)};
}

std::string agreement_words(const BlandAltman& sizes) {
  return fmt::format(
      "Bland\u2013Altman: mean difference {}\u0394; 95 % of differences from {} to {}\u0394. "
      "\u0394, written minus true.",
      to_signed(sizes.bias, 1), to_signed(sizes.limits.low, 1), to_signed(sizes.limits.high, 1));
}

}  // namespace

ReportDocument make_cohort_document(const Cohort& cohort, const CohortFigures& f,
                                    const ReportHead& head) {
  ReportDocument d;
  d.title = cohort.circuit.title;
  d.under = fmt::format("{} \u00b7 {} {}, {} scored stations",
                        head.rehearsal ? "Rehearsal: nobody sat it" : "Cohort report", f.candidates,
                        head.rehearsal ? "simulated candidates" : "candidates", f.stations.size());
  if (cohort.workstations > 0) d.under += fmt::format(", {} workstations", cohort.workstations);
  if (!head.when.empty()) d.under += " \u00b7 " + head.when;
  d.provenance = provenance(head);
  d.figures = cohort_figures(f);
  if (!f.standard_note.empty()) d.remarks.push_back(f.standard_note);
  std::vector<ReportBlock> first{{"Distribution",
                                  f.cut.error
                                      ? "Candidates by total mark. Dark line: pass mark; band: its "
                                        "error."
                                      : "Candidates by total mark. Dark line: pass mark, which is "
                                        "fixed and has no error.",
                                  plot_distribution(f)}};
  if (f.sizes) {
    first.push_back({"Sizes written against what was there", agreement_words(*f.sizes),
                     plot_agreement(cohort.sizes, *f.sizes)});
  }
  d.rows.push_back(std::move(first));
  d.rows.push_back({stations_block(f)});

  const Chosen near = find_near(f);
  const Chosen nearest = find_nearest(f, near);
  std::string under = "Within one error of the pass mark: read the records before deciding.";
  if (nearest.size() < near.size()) {
    under += fmt::format(" The {} nearest of {}.", nearest.size(), near.size());
  }
  d.rows.push_back(
      {lost_block(f), {"Near the line", under, candidates_table(cohort, f, nearest, false)}});

  Chosen unsafe;
  for (std::size_t i = 0; i < f.candidates_in_order.size(); ++i) {
    if (!f.candidates_in_order[i].unsafe.empty()) unsafe.push_back(i);
  }
  std::vector<ReportBlock> reliability{
      {"Projected reliability", "Generalisability with more or fewer stations like these.",
       plot_reliability(f)},
      overruled_block(cohort, f)};
  if (f.projected.empty()) reliability.erase(reliability.begin());
  d.rows.push_back(std::move(reliability));
  std::vector<ReportBlock> lists{{"Unsafe", "A red flag missed, or a plan that would do harm.",
                                  candidates_table(cohort, f, unsafe, true)}};
  if (nearest.size() < near.size()) {
    lists.push_back({"Everybody near the line", "In order of marks.",
                     candidates_table(cohort, f, near, false)});
  }
  constexpr std::size_t kMostBeside = 24;  // long lists go over pages, one after the other
  if (std::max(unsafe.size(), near.size()) <= kMostBeside) {
    d.rows.push_back(std::move(lists));
  } else {
    for (ReportBlock& list : lists) d.rows.push_back({std::move(list)});
  }
  if (!f.second_marking.empty()) {
    d.rows.push_back({{"To be marked by a second assessor",
                       "Everybody near the line, and of the others a tenth, chosen by the circuit.",
                       candidates_table(cohort, f, f.second_marking, false)}});
  }
  d.foot = foot();
  return d;
}

ReportDocument make_candidate_document(const Cohort& cohort, const CohortFigures& f,
                                       std::size_t index, const ReportHead& head) {
  const CandidateFigures& c = f.candidates_in_order.at(index);
  const CohortRow& row = cohort.rows.at(index);
  ReportDocument d;
  d.title = "Candidate " + c.candidate;
  d.under = cohort.circuit.title + (head.when.empty() ? "" : " \u00b7 " + head.when);
  d.provenance = provenance(head);
  d.figures.push_back(
      {"Result", std::string(to_words(c.decision)),
       fmt::format("{} of {} stations passed", c.stations_passed, f.stations.size())});
  d.figures.push_back(
      {"Mark", to_fixed(c.total, 1), "error " + to_fixed(f.error_of_measurement, 1)});
  d.figures.push_back({"Pass mark", to_fixed(f.cut.mark, 1),
                       std::string(to_words(f.standard)) +
                           (f.cut.error ? ", error " + to_fixed(f.cut.error, 1) : "")});
  if (c.near_line) {
    d.remarks.push_back(
        "The mark is within one error of the pass mark: the records are read by a "
        "second assessor before this is final.");
  }
  ReportTable stations;
  stations.columns = {{"Station", 0.8, Align::start}, {"Mark", 1.6, Align::start},
                      {"Pass mark", 0.8, Align::end}, {"Mean of all", 0.9, Align::end},
                      {"Passed", 0.7, Align::start},  {"Remark", 1.6, Align::start}};
  for (std::size_t i = 0; i < f.stations.size(); ++i) {
    const StationFigures& s = f.stations[i];
    const CohortMark& mark = row.stations[i];
    std::vector<std::string> remarks;
    if (mark.unsafe) remarks.push_back("unsafe");
    if (!mark.finished) remarks.push_back("not finished");
    ReportCell own = words(to_fixed(mark.marks, 1));
    own.bar = mark.marks / 100.0;
    own.mark = s.cut.mark / 100.0;
    // Candidates learn a station's number, not what was there.
    stations.rows.push_back({strong(std::to_string(s.station + 1)), own,
                             words(to_fixed(s.cut.mark, 1)), words(to_fixed(s.mean, 1)),
                             words(mark.marks >= s.cut.mark ? "yes" : "no"),
                             words(joined(remarks, ", "))});
  }
  d.rows.push_back({{"Stations", "The tick on each bar is the station's pass mark.", stations}});

  ReportTable lost;
  lost.columns = {{"Item", 3.2, Align::start}, {"Share earned", 1.8, Align::start}};
  lost.nobody = "Nowhere in particular: seven tenths and more of every item were earned.";
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
    ReportCell earned = words(to_percent(sum / count));
    earned.bar = sum / count;
    lost.rows.push_back({words(scoring::kRubric[item].title), earned});
  }
  d.rows.push_back({{"Where marks were lost", "Items with less than seven tenths earned.", lost},
                    {"Among all candidates", "Candidates by total mark. Dark line: pass mark.",
                     plot_distribution(f, c.total)}});
  d.rows.push_back({{"What this shows", std::string(kClaim), {}}});
  d.foot = foot();
  return d;
}

ReportDocument make_certificate(const Cohort& cohort, const CohortFigures& f, std::size_t index,
                                const ReportHead& head) {
  const CandidateFigures& c = f.candidates_in_order.at(index);
  ReportDocument d;
  d.certificate = true;
  d.title = "Candidate " + c.candidate;
  d.under = fmt::format("passed the assessment \u201c{}\u201d", cohort.circuit.title);
  d.remarks = {fmt::format("{} stations, of which {} were passed; mark {} of 100, pass mark {}.",
                           f.stations.size(), c.stations_passed, to_fixed(c.total, 1),
                           to_fixed(f.cut.mark, 1)),
               std::string(kClaim)};
  d.provenance = provenance(head);
  if (!head.when.empty()) d.provenance.insert(d.provenance.begin(), head.when);
  d.foot = foot();
  return d;
}

std::string make_cohort_report(const Cohort& cohort, const CohortFigures& figures,
                               const ReportHead& head) {
  return make_html(make_cohort_document(cohort, figures, head));
}

std::string make_candidate_report(const Cohort& cohort, const CohortFigures& figures,
                                  std::size_t index, const ReportHead& head) {
  return make_html(make_candidate_document(cohort, figures, index, head));
}

}  // namespace redress::assessment
