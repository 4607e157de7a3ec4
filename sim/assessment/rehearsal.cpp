// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/rehearsal.hpp"

#include <algorithm>
#include <array>
#include <utility>
#include <variant>

#include "sim/assessment/slips.hpp"
#include "sim/assessment/station_mark.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"

namespace redress::assessment {

namespace {

using examiners::Fault;

constexpr std::array kFaults{Fault::none, Fault::short_covers, Fault::no_near_test,
                             Fault::wrong_base, Fault::letter_too_small};

examiners::Habits make_habits(const Form& form, Fault fault) {
  examiners::Habits habits;
  habits.fault = fault;
  habits.near_m = form.content.patient.near_working_distance.value;
  habits.age_years = form.content.patient.age_years;
  habits.owns_spectacles = form.content.spectacles.owned();
  habits.seed = form.seed;
  return habits;
}

bool is_vertical(Degrees base) {
  return base.value > 45.0 && base.value < 135.0 ? true : base.value > 225.0 && base.value < 315.0;
}

void use(std::vector<Instrument>& used, Instrument instrument) {
  if (std::find(used.begin(), used.end(), instrument) == used.end()) used.push_back(instrument);
}

std::vector<Instrument> find_used(const std::vector<Act>& acts) {
  std::vector<Instrument> used;
  for (const Act& act : acts) {
    if (const auto* cover = std::get_if<act::Cover>(&act.content)) {
      use(used, cover->occluder == OccluderKind::opaque ? Instrument::opaque_occluder
                                                        : Instrument::translucent_occluder);
    } else if (const auto* prism = std::get_if<act::HoldPrism>(&act.content)) {
      use(used, is_vertical(prism->base) ? Instrument::vertical_bar : Instrument::horizontal_bar);
    } else if (std::holds_alternative<act::Spectacles>(act.content)) {
      use(used, Instrument::spectacles);
    } else if (std::holds_alternative<act::TrialLenses>(act.content)) {
      use(used, Instrument::trial_lenses);
    } else if (std::holds_alternative<act::Penlight>(act.content)) {
      use(used, Instrument::penlight);
    }
  }
  return used;
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

PreparedForm prepare_form(const Station& station, Form form, bool faults,
                          const std::function<bool()>& goes_on) {
  PreparedForm prepared;
  prepared.setup = setup_of(form.content);
  const CasePatient& patient = form.content.patient;
  prepared.truth = truth::calc_truth(
      prepared.setup, {patient.screen_distance.value, patient.near_working_distance.value},
      {.gaze = true, .reserves = false, .near_point = false});
  const Chance chance{form.seed, 1.0, true};
  for (const Fault fault : kFaults) {
    if (fault != Fault::none && goes_on && !goes_on()) break;
    Examination exam(prepared.setup, chance);
    const examiners::Examined examined = examiners::examine(exam, make_habits(form, fault));
    HabitRun run{fault,
                 findings::gather_evidence(prepared.setup, examined.acts, chance, examined.until)};
    if (fault == Fault::none) {
      prepared.reference_ms = examined.until;
      prepared.used = find_used(examined.acts);
      prepared.reference_marks =
          reweigh(scoring::calc_score(form.content, prepared.setup, run.evidence, prepared.truth,
                                      station.column),
                  station.weights)
              .total;
    }
    prepared.runs.push_back(std::move(run));
    if (!faults) break;
  }
  prepared.form = std::move(form);
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
  attendance.sizes = std::move(sizes);
  for (const scoring::ItemScore& item : sheet.items) {
    attendance.shares.push_back(item.max > 0.0 ? item.marks / item.max : -1.0);
  }
  return attendance;
}

}  // namespace redress::assessment
