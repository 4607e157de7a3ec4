// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/form.hpp"

#include <utility>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"

namespace redress::assessment {

Result<std::vector<Form>> find_forms(const Circuit& circuit, std::size_t number,
                                     const FindPatient& find_patient) {
  const Station& station = circuit.stations.at(number);
  const std::string place = pointer_to("/stations", number);
  const std::string source = pointer_to(place, station.family ? "family" : "case");
  Problems problems;
  std::vector<Form> forms;
  for (const std::uint64_t seed : station.seeds) {
    Result<nlohmann::json> written = find_patient(station, seed);
    const Result<Case> content =
        written ? parse_case(written.value()) : Result<Case>(written.problems());
    if (!content) {
      for (const Problem& p : content.problems()) {
        // The place inside the case goes into the message: the file at fault is the circuit's.
        const std::string inside = p.place.empty() ? "" : p.place + ": ";
        problems.push_back({source, (station.case_path.empty() ? "" : station.case_path + ": ") +
                                        inside + p.message});
      }
      break;
    }
    Form form;
    form.content = content.value();
    // A drawn person brings a chance of its own.
    form.seed = station.family ? form.content.seed : seed;
    form.written = std::move(written).value();
    forms.push_back(std::move(form));
  }
  if (!problems.empty()) return problems;
  return forms;
}

}  // namespace redress::assessment
