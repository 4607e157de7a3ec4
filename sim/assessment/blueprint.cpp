// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/blueprint.hpp"

#include <algorithm>

#include "sim/assessment/circuit_file.hpp"

namespace redress::assessment {

std::vector<BlueprintCell> make_blueprint(const Circuit& circuit,
                                          const std::vector<StationCondition>& conditions) {
  std::vector<BlueprintCell> cells;
  for (const auto& [name, procedure] : procedure_names()) {
    const std::size_t first = cells.size();
    for (const StationCondition& c : conditions) {
      const std::vector<Procedure>& asked = circuit.stations.at(c.station).procedures;
      if (std::find(asked.begin(), asked.end(), procedure) == asked.end()) continue;
      const auto same =
          std::find_if(cells.begin() + static_cast<std::ptrdiff_t>(first), cells.end(),
                       [&](const BlueprintCell& cell) {
                         return cell.condition == c.condition && cell.urgency == c.urgency;
                       });
      if (same != cells.end()) {
        same->stations.push_back(c.station);
      } else {
        cells.push_back({procedure, c.condition, c.urgency, {c.station}});
      }
    }
  }
  return cells;
}

std::string to_words(const std::optional<Urgency>& urgency) {
  if (!urgency) return "not said";
  switch (*urgency) {
    case Urgency::same_day: return "same day";
    case Urgency::urgent: return "urgent";
    case Urgency::soon: return "soon";
    case Urgency::routine: break;
  }
  return "routine";
}

}  // namespace redress::assessment
