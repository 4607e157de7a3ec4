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
#include "render/screens/debrief/debrief_model.hpp"
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

struct Lap {
  double clock_s = 0;
  double processor_s = 0;  // of all threads
};

class Watch {
 public:
  [[nodiscard]] Lap lap() const {
    return {std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count(),
            static_cast<double>(std::clock() - worked_) / CLOCKS_PER_SEC};
  }

 private:
  std::chrono::steady_clock::time_point began_ = std::chrono::steady_clock::now();
  std::clock_t worked_ = std::clock();
};

nlohmann::ordered_json summarise(const std::vector<Lap>& laps) {
  std::vector<long> clock;
  std::vector<long> processor;
  for (const Lap& lap : laps) {
    clock.push_back(std::lround(1e3 * lap.clock_s));
    processor.push_back(std::lround(1e3 * lap.processor_s));
  }
  // Numbers alone: equal ones are one another.
  std::sort(clock.begin(), clock.end());
  std::sort(processor.begin(), processor.end());
  return {{"median_ms", clock[clock.size() / 2]},
          {"worst_ms", clock.back()},
          {"processor_median_ms", processor[processor.size() / 2]},
          {"processor_worst_ms", processor.back()}};
}

}  // namespace

nlohmann::ordered_json time_what_if() {
  std::vector<Lap> debriefs;
  std::vector<Lap> pages;
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
    const Watch debrief;
    const auto made = screens::debrief::make_debrief(record.str());
    if (!made) continue;
    debriefs.push_back(debrief.lap());
    const Watch page;
    const auto model = screens::debrief::make_what_if(*made.value().reviewed);
    pages.push_back(page.lap());
    const auto by_work = [](const Lap& a, const Lap& b) { return a.processor_s < b.processor_s; };
    if (std::max_element(pages.begin(), pages.end(), by_work) == pages.end() - 1) worst = each.key;
    habits.push_back(model.habits.size());
  }
  if (pages.empty()) return {{"not_measured", "there are no cases"}};
  std::sort(habits.begin(), habits.end());  // numbers alone
  return {{"cases", pages.size()},
          {"minutes", kTenMinutesMs / 60'000},
          {"habits_median", habits[habits.size() / 2]},
          {"habits_most", habits.back()},
          {"debrief", summarise(debriefs)},
          {"page", summarise(pages)},
          {"worst", worst}};
}

}  // namespace redress::app
