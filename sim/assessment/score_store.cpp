// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/score_store.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include <fmt/format.h>

namespace redress::assessment {
namespace {

// The truths of all forms, each simulated once for the whole cohort.
ScoringForms prepare_forms(const OpenedCircuit& circuit, const WorkSpread& spread) {
  ScoringForms prepared(circuit.forms.size());
  std::vector<std::pair<std::size_t, std::size_t>> pieces;
  for (std::size_t s = 0; s < circuit.forms.size(); ++s) {
    prepared[s].resize(circuit.forms[s].size());
    for (std::size_t f = 0; f < circuit.forms[s].size(); ++f) pieces.emplace_back(s, f);
  }
  spread(pieces.size(), [&](std::size_t i) {
    const auto [s, f] = pieces[i];
    prepared[s][f] = prepare_scoring(circuit.forms[s][f]);
  });
  return prepared;
}

}  // namespace

Result<ScoredStore> score_store(Store& store, const OpenedCircuit& circuit,
                                const WorkSpread& wanted) {
  const WorkSpread spread = wanted ? wanted : WorkSpread(work_in_order);
  const std::string id = to_text(circuit.keys.id());
  const auto stations = store.list(id);
  if (!stations) return stations.problems();
  const auto scores = store.list_scores(id);
  if (!scores) return scores.problems();
  std::map<std::string, std::string> known;
  for (const StoredScore& score : scores.value()) known.emplace(score.id, score.sheet);
  std::vector<std::optional<StationScore>> sheets(stations.value().size());
  std::vector<std::size_t> waiting;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const auto found = known.find(stations.value()[i].id);
    if (found == known.end()) {
      waiting.push_back(i);
      continue;
    }
    auto score = parse_station_score(found->second);
    if (!score) return score.problems();
    sheets[i] = std::move(score).value();
  }
  ScoredStore all;
  const ScoringForms prepared = waiting.empty() ? ScoringForms{} : prepare_forms(circuit, spread);
  // So many are in memory at a time, and lost if the power goes.
  constexpr std::size_t kAtOnce = 64;
  for (std::size_t at = 0; at < waiting.size(); at += kAtOnce) {
    const std::size_t count = std::min(kAtOnce, waiting.size() - at);
    std::vector<std::string> contents;
    for (std::size_t i = 0; i < count; ++i) {
      auto content = store.read_content(stations.value()[waiting[at + i]].id);
      if (!content) return content.problems();
      contents.push_back(std::move(content).value());
    }
    std::vector<std::optional<Result<StationScore>>> scored(count);
    spread(count, [&](std::size_t i) {
      scored[i].emplace(score_station(contents[i], circuit, &prepared));
    });
    std::vector<StoredScore> kept;
    for (std::size_t i = 0; i < count; ++i) {
      const StoredStation& station = stations.value()[waiting[at + i]];
      Result<StationScore>& score = *scored[i];
      if (!score) {
        for (const Problem& p : score.problems()) {
          all.left_out.push_back(
              {fmt::format("candidate {}, station {}", station.candidate, station.station + 1),
               p.message});
        }
        continue;
      }
      kept.push_back({station.id, score.value().sheet.total, score.value().sheet.unsafe,
                      to_text(score.value())});
      sheets[waiting[at + i]] = std::move(score).value();
    }
    if (const auto problem = store.put_scores(kept)) return Problems{*problem};
  }
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    if (sheets[i]) all.stations.push_back({stations.value()[i], std::move(*sheets[i])});
  }
  return all;
}

}  // namespace redress::assessment
