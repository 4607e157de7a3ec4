// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/rehearsal.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "sim/assessment/prepare_form.hpp"
#include "sim/assessment/sitting.hpp"
#include "sim/assessment/slips.hpp"
#include "sim/assessment/station_mark.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"

namespace redress::assessment {

namespace {

using examiners::Fault;

examiners::Habits make_habits(const Form& form, Fault fault) {
  examiners::Habits habits;
  habits.fault = fault;
  habits.near_m = form.content.patient.near_working_distance.value;
  habits.age_years = form.content.patient.age_years;
  habits.owns_spectacles = form.content.spectacles.owned();
  habits.seed = form.seed;
  return habits;
}

std::vector<Instrument> find_used(const std::vector<Act>& acts) {
  std::vector<Instrument> used;
  for (const Act& act : acts) {
    const auto instrument = find_instrument(act.content);
    if (!instrument || std::find(used.begin(), used.end(), *instrument) != used.end()) continue;
    used.push_back(*instrument);
  }
  return used;
}

// What an assessor says who has seen the whole of it and not the marks. Its spread is such that the
// marks explain about six tenths of the ratings, in the middle of what Hejri et al 2013 found at
// nine stations (0.44 to 0.79; clinical notes, section 10.1); where the five begin is judgement.
GlobalRating rate(const scoring::ScoreSheet& sheet, double chance) {
  constexpr double kSpread = 12.0;
  constexpr std::array kFrom{45.0, 58.0, 72.0, 86.0};  // borderline, pass, good, excellent
  if (sheet.unsafe) return GlobalRating::fail;
  const double seen = sheet.total + kSpread * chance;
  std::size_t rating = 0;
  while (rating < kFrom.size() && seen >= kFrom[rating]) ++rating;
  return static_cast<GlobalRating>(rating);
}

}  // namespace

std::vector<SizePair> find_sizes(const findings::Evidence& evidence, const truth::Truth& truth) {
  std::vector<SizePair> sizes;
  for (const findings::WrittenFinding& note : evidence.notes) {
    const Finding& f = note.finding;
    if (f.test != FindingTest::prism_cover || !f.distance_m || !f.horizontal_pd) continue;
    const auto there = std::find_if(
        truth.conditions.begin(), truth.conditions.end(), [&](const truth::Condition& c) {
          return findings::is_same_distance(c.distance_m, *f.distance_m) &&
                 c.neutralising_horizontal_pd && (!f.spectacles || c.spectacles == *f.spectacles);
        });
    if (there == truth.conditions.end()) continue;
    sizes.push_back({*f.horizontal_pd, *there->neutralising_horizontal_pd});
  }
  return sizes;
}

PreparedForm begin_form(Form form) {
  PreparedForm begun;
  begun.setup = setup_of(form.content);
  begun.form = std::move(form);
  return begun;
}

truth::Truth find_truth(const PreparedForm& begun) {
  const CasePatient& patient = begun.form.content.patient;
  return truth::calc_truth(begun.setup,
                           {patient.screen_distance.value, patient.near_working_distance.value},
                           {.gaze = true, .reserves = false, .near_point = false});
}

TriedHabit try_habit(const PreparedForm& begun, Fault fault) {
  const Chance chance{begun.form.seed, 1.0, true};
  Examination exam(begun.setup, chance);
  const examiners::Examined examined = examiners::examine(exam, make_habits(begun.form, fault));
  return {{fault, findings::gather_evidence(begun.setup, examined.acts, chance, examined.until)},
          examined.until,
          find_used(examined.acts)};
}

void finish_form(const Station& station, truth::Truth truth, std::vector<TriedHabit> tried,
                 PreparedForm& form) {
  form.truth = std::move(truth);
  form.reference_ms = tried.front().until_ms;
  form.used = tried.front().used;
  for (TriedHabit& each : tried) form.runs.push_back(std::move(each.run));
  form.reference_marks =
      reweigh(scoring::calc_score(form.form.content, form.setup, form.runs.front().evidence,
                                  form.truth, station.column),
              station.weights)
          .total;
}

PreparedForm prepare_form(const Station& station, Form form, bool faults,
                          const std::function<bool()>& goes_on) {
  PreparedForm prepared = begin_form(std::move(form));
  truth::Truth truth = find_truth(prepared);
  std::vector<TriedHabit> tried;
  for (const Fault fault : kTriedFaults) {
    if (fault != Fault::none && (!faults || (goes_on && !goes_on()))) break;
    tried.push_back(try_habit(prepared, fault));
  }
  finish_form(station, std::move(truth), std::move(tried), prepared);
  return prepared;
}

Attendance attend(const Station& station, const PreparedForm& prepared, std::uint64_t seed,
                  std::size_t station_number, const Practitioner& practitioner) {
  Slips slips(seed, station_number, practitioner);
  const std::size_t run =
      prepared.runs.size() > 1 ? slips.choose_run(prepared.runs.size()) : std::size_t{0};
  findings::Evidence evidence = prepared.runs[run].evidence;
  const auto in_time_ms =
      static_cast<Tick>(1000.0 * static_cast<double>(station.time_s) / practitioner.pace);
  const bool finished = slips.hurry(evidence, in_time_ms);
  slips.alter(evidence);
  std::vector<SizePair> sizes = find_sizes(evidence, prepared.truth);
  const scoring::ScoreSheet sheet =
      reweigh(scoring::calc_score(prepared.form.content, prepared.setup, std::move(evidence),
                                  prepared.truth, station.column),
              station.weights);
  Attendance attendance;
  attendance.marks = sheet.total;
  attendance.unsafe = sheet.unsafe;
  attendance.passed = sheet.total >= station.pass_mark && !(station.safety && sheet.unsafe);
  attendance.finished = finished;
  attendance.rating = rate(sheet, slips.normal());
  attendance.sizes = std::move(sizes);
  for (const scoring::ItemScore& item : sheet.items) {
    attendance.shares.push_back(item.max > 0.0 ? item.marks / item.max : -1.0);
  }
  return attendance;
}

}  // namespace redress::assessment
