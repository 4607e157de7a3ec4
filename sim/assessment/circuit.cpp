// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/circuit.hpp"

#include "sim/basics/content_hash.hpp"

namespace redress::assessment {

std::vector<std::size_t> find_scored(const Circuit& circuit) {
  std::vector<std::size_t> scored;
  for (std::size_t i = 0; i < circuit.stations.size(); ++i) {
    if (!circuit.stations[i].rest) scored.push_back(i);
  }
  return scored;
}

std::int64_t calc_length_s(const Circuit& circuit) {
  std::int64_t sum = 0;
  for (const Station& station : circuit.stations) sum += station.reading_s + station.time_s;
  return sum;
}

std::size_t find_form(std::string_view circuit_id, std::string_view candidate, std::size_t station,
                      std::size_t forms) {
  if (forms < 2) return 0;
  const std::string hash =
      calc_hash(circuit_id, std::string(candidate) + "/" + std::to_string(station));
  std::uint64_t number = 0;
  for (std::size_t i = 0; i < 12; ++i) {  // 48 bits: the remainder is as good as even
    const char c = hash[i];
    number = number * 16 + static_cast<std::uint64_t>(c <= '9' ? c - '0' : c - 'a' + 10);
  }
  return static_cast<std::size_t>(number % forms);
}

}  // namespace redress::assessment
