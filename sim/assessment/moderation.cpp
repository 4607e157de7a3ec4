// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/moderation.hpp"

#include <algorithm>
#include <set>
#include <vector>

#include <fmt/format.h>

namespace redress::assessment {

namespace {

std::string cell(std::string_view text) {
  if (text.find_first_of(",\"\n\r") == std::string_view::npos) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

std::uint64_t find_seed(const Circuit& circuit, const std::string& circuit_id,
                        const StoredStation& at) {
  const std::vector<std::uint64_t>& seeds = circuit.stations[at.station].seeds;
  return seeds[find_form(circuit_id, at.candidate, at.station, seeds.size())];
}

bool has_patient(const Circuit& circuit, std::size_t station) {
  return station < circuit.stations.size() && !circuit.stations[station].rest &&
         !circuit.stations[station].seeds.empty();
}

std::string join(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? "" : "; ") + word;
  return all;
}

std::string describe_desk(const StationScore& score) {
  std::vector<std::string> words;
  if (score.resumptions > 0) words.push_back(fmt::format("resumed {} times", score.resumptions));
  if (score.left_window > 0) {
    words.push_back(fmt::format("left the window {} times, {} s", score.left_window,
                                score.out_of_window_ms / 1000));
  }
  if (score.clock_faults > 0) {
    words.push_back(fmt::format("the clock was set or differed {} times", score.clock_faults));
  }
  if (score.stood_still_ms > 0) {
    words.push_back(fmt::format("the computer stood still {} s", score.stood_still_ms / 1000));
  }
  return join(words);
}

}  // namespace

Exposure count_exposure(const Circuit& circuit, const std::string& circuit_id,
                        std::span<const ScoredStation> stations) {
  Exposure exposure;
  std::set<std::pair<std::size_t, std::string>> counted;  // a candidate's second copy is no person
  for (const ScoredStation& each : stations) {
    const StoredStation& at = each.station;
    if (!has_patient(circuit, at.station) || !counted.insert({at.station, at.candidate}).second) {
      continue;
    }
    ++exposure[{at.station, find_seed(circuit, circuit_id, at)}];
  }
  return exposure;
}

std::string make_moderation_csv(const Circuit& circuit, const std::string& circuit_id,
                                std::span<const ScoredStation> stations,
                                std::span<const Ledger> ledgers, const Cohort& cohort,
                                const CohortFigures& figures) {
  std::string text =
      "candidate,station,name,seed,met_by,workstation,whole,engine_marks,final_marks,pass_mark,"
      "unsafe,ratings,overruled,desk,total,decision,near_line,second_marking\n";
  const Exposure exposure = count_exposure(circuit, circuit_id, stations);
  for (const ScoredStation& each : stations) {
    const StoredStation& at = each.station;
    if (!has_patient(circuit, at.station)) continue;
    const FinalMarks marks = apply_ledgers(each.score.sheet, at.candidate, at.station, ledgers);
    std::vector<std::string> ratings;
    for (const auto& [assessor, rating] : marks.ratings) {
      ratings.push_back(
          fmt::format("{}: {}", assessor, kRatingNames[static_cast<std::size_t>(rating)]));
    }
    std::vector<std::string> overruled;
    for (const FinalItem& item : marks.items) {
      if (item.reasons.empty()) continue;
      overruled.push_back(fmt::format("{} {:.1f} to {:.1f} of {:.1f} ({})",
                                      scoring::kRubric[static_cast<std::size_t>(item.item)].name,
                                      item.engine, item.final, item.max, join(item.reasons)));
    }
    const std::uint64_t seed = find_seed(circuit, circuit_id, at);
    text += fmt::format("{},{},{},{},{},{},{},{:.1f},{:.1f},{:.1f},{},{},{},{}", cell(at.candidate),
                        at.station + 1, cell(circuit.stations[at.station].name), seed,
                        exposure.at({at.station, seed}), cell(at.workstation), at.whole ? 1 : 0,
                        marks.engine_total, marks.total, circuit.stations[at.station].pass_mark,
                        marks.unsafe ? 1 : 0, cell(join(ratings)), cell(join(overruled)),
                        cell(describe_desk(each.score)));
    const auto row = std::find_if(cohort.rows.begin(), cohort.rows.end(),
                                  [&](const CohortRow& r) { return r.candidate == at.candidate; });
    if (row == cohort.rows.end()) {
      text += ",,,,\n";
      continue;
    }
    const auto index = static_cast<std::size_t>(row - cohort.rows.begin());
    const CandidateFigures& c = figures.candidates_in_order[index];
    const bool twice = std::find(figures.second_marking.begin(), figures.second_marking.end(),
                                 index) != figures.second_marking.end();
    text += fmt::format(",{:.2f},{},{},{}\n", c.total, to_words(c.decision), c.near_line ? 1 : 0,
                        twice ? 1 : 0);
  }
  return text;
}

}  // namespace redress::assessment
