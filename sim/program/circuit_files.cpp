// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/circuit_files.hpp"

#include <filesystem>
#include <utility>

#include "sim/assessment/circuit_file.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/program/generate.hpp"

namespace redress::program {

Result<assessment::Circuit> load_circuit(const std::string& path) {
  const Result<std::string> text = read_file(path);
  if (!text) return text.problems();
  return assessment::read_circuit_text(text.value());
}

bool is_circuit_file(const std::string& path) {
  const Result<std::string> text = read_file(path);
  if (!text) return false;
  const auto value = parse_json(text.value());
  if (!value) return text.value().find("\"redress-circuit\"") != std::string::npos;
  if (!value.value().is_object()) return false;
  const auto format = value.value().find("format");
  return format != value.value().end() && *format == "redress-circuit";
}

assessment::FindPatient patients_beside(const std::string& circuit_path) {
  const std::string folder = std::filesystem::path(circuit_path).parent_path().string();
  return [folder](const assessment::Station& station,
                  std::uint64_t seed) -> Result<nlohmann::json> {
    if (station.family) {
      auto drawn = generate_cases(station.family->diagnosis, station.family->difficulty, seed, 1);
      if (!drawn) return drawn.problems();
      return std::move(drawn).value().front();
    }
    const std::string path = folder.empty() ? station.case_path : folder + "/" + station.case_path;
    const Result<std::string> text = read_file(path);
    if (!text) return text.problems();
    return parse_json(text.value());
  };
}

Result<std::vector<std::vector<assessment::Form>>> load_forms(
    const assessment::Circuit& circuit, const assessment::FindPatient& find_patient) {
  std::vector<std::vector<assessment::Form>> forms(circuit.stations.size());
  Problems problems;
  for (const std::size_t i : assessment::find_scored(circuit)) {
    auto found = assessment::find_forms(circuit, i, find_patient);
    if (found) {
      forms[i] = std::move(found).value();
    } else {
      problems.insert(problems.end(), found.problems().begin(), found.problems().end());
    }
  }
  if (!problems.empty()) return problems;
  return forms;
}

}  // namespace redress::program
