// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/remedy.hpp"

#include <algorithm>
#include <charconv>
#include <string_view>

namespace redress::assessment {

namespace {

constexpr std::string_view kStations = "/stations/";

/// "/time_s" of "/stations/3/time_s".
std::string_view find_key(std::string_view place) {
  if (!place.starts_with(kStations)) return {};
  place.remove_prefix(kStations.size());
  const std::size_t slash = place.find('/');
  return slash == std::string_view::npos ? std::string_view{} : place.substr(slash);
}

/// The form whose mean is farthest from the others'.
std::size_t find_odd_form(const StationCheck& check) {
  double sum = 0.0;
  for (const FormCheck& form : check.forms) sum += form.mean_marks.value_or(0.0);
  const double mean = sum / static_cast<double>(check.forms.size());
  std::size_t odd = 0;
  double farthest = -1.0;
  for (std::size_t i = 0; i < check.forms.size(); ++i) {
    const double marks = check.forms[i].mean_marks.value_or(0.0);
    const double apart = marks > mean ? marks - mean : mean - marks;
    if (apart > farthest) {
      farthest = apart;
      odd = i;
    }
  }
  return odd;
}

}  // namespace

std::optional<std::size_t> find_station(const Concern& concern) {
  std::string_view place = concern.place;
  if (!place.starts_with(kStations)) return std::nullopt;
  place.remove_prefix(kStations.size());
  std::size_t number = 0;
  const auto [end, error] = std::from_chars(place.data(), place.data() + place.size(), number);
  if (error != std::errc{}) return std::nullopt;
  return number;
}

std::optional<Circuit> apply_remedy(const Circuit& circuit, const CircuitCheck& check,
                                    const Concern& concern) {
  const auto number = find_station(concern);
  if (!number || *number >= circuit.stations.size()) return std::nullopt;
  const auto found =
      std::find_if(check.stations.begin(), check.stations.end(),
                   [&](const StationCheck& each) { return each.station == *number; });
  Circuit mended = circuit;
  Station& station = mended.stations[*number];
  const std::string_view key = find_key(concern.place);
  if (key == "/safety") {
    station.safety = true;
  } else if (found == check.stations.end()) {
    return std::nullopt;
  } else if (key == "/time_s") {
    Tick slowest = 0;
    for (const FormCheck& form : found->forms) slowest = std::max(slowest, form.reference_ms);
    station.time_s = calc_time_to_give_s(slowest);
  } else if (key == "/instruments") {
    for (const FormCheck& form : found->forms) {
      for (const Instrument instrument : form.not_allowed) {
        if (std::find(station.instruments.begin(), station.instruments.end(), instrument) ==
            station.instruments.end()) {
          station.instruments.push_back(instrument);
        }
      }
    }
  } else if (key == "/seeds" && station.seeds.size() > 1 &&
             found->forms.size() == station.seeds.size()) {
    station.seeds.erase(station.seeds.begin() + static_cast<std::ptrdiff_t>(find_odd_form(*found)));
  } else {
    return std::nullopt;
  }
  if (mended == circuit) return std::nullopt;
  return mended;
}

}  // namespace redress::assessment
