// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/cohort.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"

namespace redress::assessment {

namespace {

constexpr double kLeastDiscrimination = 0.2;  // common practice, no source
constexpr double kFewFinish = 0.7;            // judgement
constexpr double kWanted = 0.8;               // high stakes (clinical notes, section 10)
constexpr std::size_t kMostProjected = 40;    // further than anybody can examine

std::vector<double> marks_at(const Cohort& cohort, std::size_t index) {
  std::vector<double> marks;
  for (const CohortRow& row : cohort.rows) marks.push_back(row.stations[index].marks);
  return marks;
}

std::optional<Cut> find_borderline(const Cohort& cohort, std::size_t index) {
  std::vector<GlobalRating> ratings;
  std::vector<double> marks;
  for (const CohortRow& row : cohort.rows) {
    const CohortMark& mark = row.stations[index];
    if (!mark.rating) continue;
    ratings.push_back(*mark.rating);
    marks.push_back(mark.marks);
  }
  const auto found = calc_borderline_cut(ratings, marks);
  if (!found) return std::nullopt;
  return found->cut;
}

std::optional<Cut> find_angoff(const Station& station) {
  Table judges;
  for (const double figure : station.angoff_percent) judges.push_back({figure});
  return calc_angoff_cut(judges);
}

// The standard that the circuit names, or the fixed one where it cannot be set, and why.
void set_standard(const Cohort& cohort, const std::vector<std::size_t>& scored,
                  CohortFigures& figures) {
  std::vector<Cut> cuts;
  for (std::size_t i = 0; i < scored.size(); ++i) {
    std::optional<Cut> cut;
    if (cohort.circuit.standard == StandardMethod::borderline_regression) {
      cut = find_borderline(cohort, i);
    } else if (cohort.circuit.standard == StandardMethod::angoff) {
      cut = find_angoff(cohort.circuit.stations[scored[i]]);
    }
    if (!cut) break;
    cuts.push_back(*cut);
  }
  const bool set = cuts.size() == scored.size();
  figures.standard = set ? cohort.circuit.standard : StandardMethod::fixed;
  if (!set && cohort.circuit.standard != StandardMethod::fixed) {
    figures.standard_note = fmt::format(
        "The fixed mark was used: station {} has no ratings from which {} could be set.",
        scored[cuts.size()] + 1, to_words(cohort.circuit.standard));
  }
  for (std::size_t i = 0; i < scored.size(); ++i) {
    figures.stations[i].cut =
        set ? cuts[i] : Cut{cohort.circuit.stations[scored[i]].pass_mark, std::nullopt};
  }
  figures.cut = set ? combine_cuts(cuts) : Cut{cohort.circuit.pass_mark, std::nullopt};
}

std::string find_look_at(const StationFigures& s, bool several) {
  if (s.share_finishing < kFewFinish) {
    return fmt::format("Too short: {:.0f} % did not finish", 100.0 * (1.0 - s.share_finishing));
  }
  if (!several) return "";
  if (!s.discrimination) return "Everybody has the same marks";
  if (*s.discrimination < kLeastDiscrimination) return "Does not go with the other stations";
  return "";
}

Decision decide(const Cohort& cohort, const std::vector<std::size_t>& scored,
                const CohortFigures& figures, const CandidateFigures& candidate,
                const std::vector<bool>& passed) {
  bool safe = true;
  bool elsewhere = false;
  for (std::size_t i = 0; i < scored.size(); ++i) {
    const bool unsafe = std::find(candidate.unsafe.begin(), candidate.unsafe.end(), scored[i]) !=
                        candidate.unsafe.end();
    if (cohort.circuit.stations[scored[i]].safety) {
      safe = safe && passed[i] && !unsafe;
    } else {
      elsewhere = elsewhere || unsafe;
    }
  }
  const bool enough =
      candidate.total >= figures.cut.mark &&
      static_cast<std::int64_t>(candidate.stations_passed) >= cohort.circuit.stations_to_pass;
  if (!safe || !enough) return Decision::fail;
  return elsewhere ? Decision::board : Decision::pass;
}

std::vector<LostItem> find_lost(const Cohort& cohort) {
  std::vector<LostItem> lost;
  for (std::size_t item = 0; item < scoring::kItemCount; ++item) {
    std::size_t met = 0;
    std::size_t half = 0;
    double sum = 0.0;
    for (const CohortRow& row : cohort.rows) {
      for (const CohortMark& mark : row.stations) {
        if (item >= mark.shares.size() || mark.shares[item] < 0.0) continue;
        ++met;
        sum += 1.0 - mark.shares[item];
        if (mark.shares[item] <= 0.5) ++half;
      }
    }
    if (met == 0 || half == 0) continue;
    lost.push_back({static_cast<scoring::Item>(item),
                    static_cast<double>(half) / static_cast<double>(met),
                    sum / static_cast<double>(met)});
  }
  std::stable_sort(lost.begin(), lost.end(), [](const LostItem& a, const LostItem& b) {
    return a.share_of_candidates > b.share_of_candidates;
  });
  return lost;
}

}  // namespace

CohortFigures calc_figures(const Cohort& cohort) {
  const std::vector<std::size_t> scored = find_scored(cohort.circuit);
  CohortFigures figures;
  figures.candidates = cohort.rows.size();
  const auto n = static_cast<double>(cohort.rows.size());

  Table table;
  for (const CohortRow& row : cohort.rows) {
    std::vector<double> marks;
    for (const CohortMark& mark : row.stations) marks.push_back(mark.marks);
    table.push_back(std::move(marks));
  }
  const std::vector<double> totals = calc_row_means(table);
  figures.mean = calc_mean(totals);
  figures.deviation = calc_deviation(totals);
  figures.alpha = calc_alpha(table);
  if (figures.alpha) {
    const double unreliable = std::clamp(1.0 - *figures.alpha, 0.0, 1.0);
    figures.error_of_measurement = figures.deviation * elementary::square_root(unreliable);
  }
  if (const auto components = calc_components(table)) {
    const auto k = static_cast<double>(components->item_count);
    figures.generalisability = calc_generalisability(*components, k);
    figures.dependability = calc_dependability(*components, k);
    figures.stations_for_080 = find_items_for(*components, kWanted);
    const std::size_t shown = std::clamp(figures.stations_for_080.value_or(kMostProjected) + 2,
                                         2 * components->item_count, kMostProjected);
    for (std::size_t items = 1; items <= shown; ++items) {
      figures.projected.push_back(calc_generalisability(*components, static_cast<double>(items)));
    }
  }

  for (std::size_t i = 0; i < scored.size(); ++i) {
    const std::vector<double> marks = marks_at(cohort, i);
    StationFigures s;
    s.station = scored[i];
    s.name = cohort.circuit.stations[scored[i]].name;
    s.mean = calc_mean(marks);
    s.deviation = calc_deviation(marks);
    s.difficulty = s.mean / 100.0;
    s.discrimination = calc_discrimination(table, i);
    s.alpha_without = scored.size() > 2 ? calc_alpha_without(table, i) : std::nullopt;
    for (const CohortRow& row : cohort.rows) {
      s.share_finishing += (row.stations[i].finished ? 1.0 : 0.0) / n;
    }
    figures.stations.push_back(std::move(s));
  }
  set_standard(cohort, scored, figures);

  for (std::size_t p = 0; p < cohort.rows.size(); ++p) {
    CandidateFigures c;
    c.candidate = cohort.rows[p].candidate;
    c.total = totals[p];
    std::vector<bool> passed;
    for (std::size_t i = 0; i < scored.size(); ++i) {
      const CohortMark& mark = cohort.rows[p].stations[i];
      passed.push_back(mark.marks >= figures.stations[i].cut.mark);
      if (passed.back()) {
        ++c.stations_passed;
        figures.stations[i].share_passing += 1.0 / n;
      }
      if (mark.unsafe) c.unsafe.push_back(scored[i]);
    }
    c.near_line = elementary::magnitude(c.total - figures.cut.mark) <= figures.error_of_measurement;
    c.decision = decide(cohort, scored, figures, c, passed);
    if (c.decision == Decision::pass) ++figures.passed;
    figures.candidates_in_order.push_back(std::move(c));
  }
  for (StationFigures& s : figures.stations) s.look_at = find_look_at(s, scored.size() > 1);
  if (!cohort.circuit_id.empty()) {
    std::vector<std::string> names;
    for (const CohortRow& row : cohort.rows) names.push_back(row.candidate);
    figures.second_marking = choose_for_second_marking(
        names, totals, figures.cut.mark, figures.error_of_measurement, cohort.circuit_id);
  }
  figures.passed_interval = calc_share_interval(figures.passed, figures.candidates);

  if (!cohort.agreement.empty()) {
    figures.kappa = calc_kappa(cohort.agreement);
    for (std::size_t r = 0; r < cohort.agreement.size(); ++r) {
      for (std::size_t c = 0; c < cohort.agreement.size(); ++c) {
        const auto count = static_cast<std::size_t>(cohort.agreement[r][c]);
        figures.items_marked += count;
        if (r != c) figures.overruled += count;
      }
    }
  }
  std::vector<double> written;
  std::vector<double> there;
  for (const SizePair& pair : cohort.sizes) {
    written.push_back(pair.written_pd);
    there.push_back(pair.true_pd);
  }
  figures.sizes = calc_bland_altman(written, there);
  figures.lost = find_lost(cohort);
  return figures;
}

std::string_view to_words(Decision decision) {
  switch (decision) {
    case Decision::pass: return "pass";
    case Decision::board: return "to the board";
    case Decision::fail: break;
  }
  return "fail";
}

std::string_view to_words(StandardMethod method) {
  switch (method) {
    case StandardMethod::angoff: return "modified Angoff";
    case StandardMethod::borderline_regression: return "borderline regression";
    case StandardMethod::fixed: break;
  }
  return "fixed";
}

}  // namespace redress::assessment
