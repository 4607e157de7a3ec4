// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Cases for the tests of the case reader: the shipped ones as text, and a small one to be changed.
#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "sim/basics/problem.hpp"
#include "sim/cases/case_file.hpp"
#include "tests/support/places.hpp"

namespace redress::testing {

/// Every case of scenarios/, by the name of its file without the ending, in order of the alphabet.
inline const std::vector<std::string>& shipped_case_names() {
  static const std::vector<std::string> kNames = [] {
    std::vector<std::string> names;
    const std::string folder = support::source_dir() + "/scenarios";
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
      const std::string name = entry.path().stem().string();
      if (entry.path().extension() == ".json" && name.find("schema") == std::string::npos) {
        names.push_back(name);
      }
    }
    std::sort(names.begin(), names.end());
    return names;
  }();
  return kNames;
}

inline std::string read_scenario(const std::string& file) {
  std::ifstream stream(support::source_dir() + "/scenarios/" + file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

inline std::string shipped_case(const std::string& name) { return read_scenario(name + ".json"); }

/// Nothing but the required keys.
inline nlohmann::json least_case() {
  return {{"format", "redress-case"},
          {"version", 1},
          {"title", "least"},
          {"deviation", {{"distance_pd", -1}, {"near_pd", -3}}}};
}

/// The least case with one value put at a JSON pointer.
inline nlohmann::json with(const std::string& pointer, const nlohmann::json& value) {
  nlohmann::json changed = least_case();
  changed[nlohmann::json::json_pointer(pointer)] = value;
  return changed;
}

inline Problems problems_of(const nlohmann::json& value) {
  const Result<Case> result = parse_case(value);
  return result ? Problems{} : result.problems();
}

/// One problem exactly, there, whose message has these words.
inline bool is_only_problem(const Problems& problems, const std::string& place,
                            const std::string& words) {
  return problems.size() == 1 && problems[0].place == place &&
         problems[0].message.find(words) != std::string::npos;
}

inline std::string listed(const Problems& problems) {
  std::string out;
  for (const Problem& problem : problems) out += problem.place + ": " + problem.message + "\n";
  return out;
}

}  // namespace redress::testing
