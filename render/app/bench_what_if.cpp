// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/bench_what_if.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <ctime>
#include <sstream>
#include <string>
#include <variant>
#include <vector>

#include "render/app/case_shelf.hpp"
#include "render/screens/debrief/what_if_model.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/record/write_run.hpp"

namespace redress::app {

namespace {

constexpr Tick kTenMinutesMs = 600'000;

std::vector<Act> examine(const ShelvedCase& patient, const ExaminationSetup& setup,
                         const Chance& chance) {
  examiners::Habits habits;
  habits.near_m = patient.content.patient.near_working_distance.value;
  habits.age_years = patient.content.patient.age_years;
  habits.owns_spectacles = patient.content.spectacles.owned();
  Examination exam(setup, chance);
  return examiners::examine(exam, habits).acts;
}

// Ordinary faults put into an examination by the book. The acts stay in order of time.
std::vector<Act> make_careless(std::vector<Act> acts) {
  constexpr Tick kShortMs = 1200;
  constexpr double kTwoLines = 0.2;
  double largest_pd = 0.0;
  for (const Act& act : acts) {
    const auto* prism = std::get_if<act::HoldPrism>(&act.content);
    if (prism != nullptr) largest_pd = std::max(largest_pd, prism->power.value);
  }
  std::vector<Act> careless{{0, act::Spectacles{false}}};
  const Act* covered = nullptr;
  for (Act& act : acts) {
    if (std::holds_alternative<act::Spectacles>(act.content)) continue;
    if (const auto* prism = std::get_if<act::HoldPrism>(&act.content)) {
      if (prism->power.value == largest_pd) continue;
    }
    if (auto* target = std::get_if<act::ShowTarget>(&act.content)) target->size_logmar -= kTwoLines;
    if (std::holds_alternative<act::Uncover>(act.content) && covered != nullptr) {
      act.at_ms = std::min(act.at_ms, std::max(covered->at_ms + kShortMs, careless.back().at_ms));
    }
    covered = std::holds_alternative<act::Cover>(act.content)     ? &act
              : std::holds_alternative<act::Uncover>(act.content) ? nullptr
                                                                  : covered;
    careless.push_back(act);
  }
  return careless;
}

long to_ms(double seconds) { return std::lround(1e3 * seconds); }

}  // namespace

nlohmann::ordered_json time_what_if() {
  std::vector<double> seconds;
  std::vector<double> processor;
  std::vector<std::size_t> habits;
  std::string worst;
  for (const ShelfEntry& each : read_case_shelf(find_cases_folder("", "")).cases) {
    const Result<ShelvedCase> patient = read_shelved_case(each.path);
    if (!patient) continue;
    const ExaminationSetup setup = setup_of(patient.value().content);
    const Chance chance{patient.value().content.seed, 1.0, true};
    std::ostringstream record;
    const auto problem =
        record::write_run(record, patient.value().written, setup, chance,
                          make_careless(examine(patient.value(), setup, chance)), kTenMinutesMs);
    if (problem) continue;
    const auto began = std::chrono::steady_clock::now();
    const std::clock_t worked = std::clock();  // of all threads
    const auto model = screens::debrief::make_what_if(record.str());
    processor.push_back(static_cast<double>(std::clock() - worked) / CLOCKS_PER_SEC);
    seconds.push_back(
        std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count());
    if (processor.back() >= *std::max_element(processor.begin(), processor.end())) worst = each.key;
    habits.push_back(model ? model.value().habits.size() : 0);
  }
  if (seconds.empty()) return {{"not_measured", "there are no cases"}};
  // Numbers alone: equal ones are one another.
  std::sort(seconds.begin(), seconds.end());
  std::sort(processor.begin(), processor.end());
  std::sort(habits.begin(), habits.end());
  return {{"cases", seconds.size()},
          {"minutes", kTenMinutesMs / 60'000},
          {"habits_median", habits[habits.size() / 2]},
          {"habits_most", habits.back()},
          {"median_ms", to_ms(seconds[seconds.size() / 2])},
          {"worst_ms", to_ms(seconds.back())},
          {"processor_median_ms", to_ms(processor[processor.size() / 2])},
          {"processor_worst_ms", to_ms(processor.back())},
          {"worst", worst}};
}

}  // namespace redress::app
