// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A small circuit to be changed in tests.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

namespace redress::testing {

inline nlohmann::json small_circuit() {
  return nlohmann::json::parse(R"({
    "format": "redress-circuit", "version": 1, "title": "small",
    "pass": {"standard": "fixed", "mark": 55, "stations": 1},
    "stations": [
      {"name": "one", "case": "exophoria.json", "tasks": ["Find what there is."], "time_s": 600,
       "procedures": ["cover_uncover", "prism_cover"], "instruments": ["opaque_occluder"],
       "weights": {"findings": 8, "technique": 6, "reasoning": 3, "conclusion": 3}},
      {"rest_s": 60},
      {"name": "three", "family": {"diagnosis": "esophoria"}, "seeds": [3, 4],
       "tasks": ["Find what there is."], "time_s": 300, "safety": true, "angoff_percent": [50, 61]}
    ]})");
}

inline nlohmann::json circuit_with(const std::string& pointer, const nlohmann::json& value) {
  nlohmann::json changed = small_circuit();
  changed[nlohmann::json::json_pointer(pointer)] = value;
  return changed;
}

}  // namespace redress::testing
