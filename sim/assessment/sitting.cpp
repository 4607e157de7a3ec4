// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/sitting.hpp"

#include <algorithm>

namespace redress::assessment {

using nlohmann::json;

namespace {

// A file of a newer version may say other things there: then it says nothing.
std::int64_t read_number(const json& detail, const char* key, std::int64_t least,
                         std::int64_t most) {
  const auto found = detail.find(key);
  if (found == detail.end() || !found->is_number_integer()) return 0;
  return std::clamp(found->get<std::int64_t>(), least, most);
}

constexpr std::int64_t kMostExtraPercent = 200;
constexpr std::int64_t kMostCreditMs = 3'600'000;

bool is_vertical(Degrees base) {
  return (base.value > 45.0 && base.value < 135.0) || (base.value > 225.0 && base.value < 315.0);
}

}  // namespace

TimeTerms read_terms(std::span<const DeskEvent> events) {
  TimeTerms terms;
  for (const DeskEvent& event : events) {
    if (event.what == "began") {
      terms.extra_percent = read_number(event.detail, "extra_percent", 0, kMostExtraPercent);
    } else if (event.what == "time_credit") {
      terms.credit_ms += read_number(event.detail, "ms", 0, kMostCreditMs);
    } else if (event.what == "stood_still") {
      terms.credit_ms -= read_number(event.detail, "ms", 0, kMostCreditMs);
    }
  }
  return terms;
}

Tick calc_station_ms(const Station& station, const TimeTerms& terms) {
  return std::max<Tick>(0, station.time_s * 10 * (100 + terms.extra_percent) + terms.credit_ms);
}

Tick calc_reading_ms(const Station& station, const TimeTerms& terms) {
  return station.reading_s * 10 * (100 + terms.extra_percent);
}

StationProgress read_progress(std::span<const DeskEvent> events) {
  StationProgress progress;
  for (const DeskEvent& event : events) {
    if (event.what == "reading") {
      progress.reading_used_ms = read_number(event.detail, "used_ms", 0, kMostCreditMs);
    }
    if (event.what == "reading_over") progress.reading_done = true;
    if (event.what == "handed_in") progress.handed_in = true;
  }
  return progress;
}

std::optional<Instrument> find_instrument(const ActContent& content) {
  if (const auto* cover = std::get_if<act::Cover>(&content)) {
    return cover->occluder == OccluderKind::opaque ? Instrument::opaque_occluder
                                                   : Instrument::translucent_occluder;
  }
  if (const auto* prism = std::get_if<act::HoldPrism>(&content)) {
    return is_vertical(prism->base) ? Instrument::vertical_bar : Instrument::horizontal_bar;
  }
  if (std::holds_alternative<act::Spectacles>(content)) return Instrument::spectacles;
  if (std::holds_alternative<act::TrialLenses>(content)) return Instrument::trial_lenses;
  if (std::holds_alternative<act::Penlight>(content)) return Instrument::penlight;
  return std::nullopt;
}

bool allows(const Station& station, Instrument instrument) {
  const auto has = [&](Instrument i) {
    return std::find(station.instruments.begin(), station.instruments.end(), i) !=
           station.instruments.end();
  };
  const bool bar =
      instrument == Instrument::horizontal_bar || instrument == Instrument::vertical_bar;
  return has(instrument) || (bar && has(Instrument::loose_prisms));
}

bool is_candidate_number(std::string_view text) {
  constexpr std::size_t kLongest = 20;
  const auto fits = [](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' ||
           c == '.';
  };
  return !text.empty() && text.size() <= kLongest && text.front() != '.' && text.front() != '-' &&
         std::all_of(text.begin(), text.end(), fits);
}

std::string make_station_name(std::string_view candidate, std::size_t station) {
  return std::string(candidate) + "-" + std::to_string(station + 1) + ".station";
}

json practice_case() {
  return json{{"format", "redress-case"},
              {"version", 1},
              {"title", "Practice"},
              {"seed", 1},
              {"patient",
               {{"name", "Robin Hale"},
                {"age_years", 30},
                {"story", "I am here so that you can get used to the room. My eyes feel fine."}}},
              {"deviation", {{"distance_pd", -1}, {"near_pd", -3}}}};
}

}  // namespace redress::assessment
