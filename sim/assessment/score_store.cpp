// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/score_store.hpp"

#include <map>
#include <utility>

#include <fmt/format.h>

namespace redress::assessment {

Result<ScoredStore> score_store(Store& store, const OpenedCircuit& circuit) {
  const std::string id = to_text(circuit.keys.id());
  const auto stations = store.list(id);
  if (!stations) return stations.problems();
  const auto scores = store.list_scores(id);
  if (!scores) return scores.problems();
  std::map<std::string, std::string> known;
  for (const StoredScore& score : scores.value()) known.emplace(score.id, score.sheet);
  ScoredStore all;
  for (const StoredStation& station : stations.value()) {
    const auto found = known.find(station.id);
    if (found != known.end()) {
      auto score = parse_station_score(found->second);
      if (!score) return score.problems();
      all.stations.push_back({station, std::move(score).value()});
      continue;
    }
    const auto content = store.read_content(station.id);
    if (!content) return content.problems();
    auto score = score_station(content.value(), circuit);
    if (!score) {
      for (const Problem& p : score.problems()) {
        all.left_out.push_back(
            {fmt::format("candidate {}, station {}", station.candidate, station.station + 1),
             p.message});
      }
      continue;
    }
    const std::vector<StoredScore> one{{station.id, score.value().sheet.total,
                                        score.value().sheet.unsafe, to_text(score.value())}};
    if (const auto problem = store.put_scores(one)) return Problems{*problem};
    all.stations.push_back({station, std::move(score).value()});
  }
  return all;
}

}  // namespace redress::assessment
