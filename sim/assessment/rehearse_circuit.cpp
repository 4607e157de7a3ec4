// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/rehearse_circuit.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "sim/assessment/prepare_form.hpp"

namespace redress::assessment {

namespace {

// What is to be known of one form, and the pieces of it as they come.
struct Making {
  std::size_t station = 0;
  PreparedForm* form = nullptr;
  truth::Truth truth;
  std::vector<TriedHabit> tried;
};

}  // namespace

std::vector<std::vector<PreparedForm>> prepare_circuit(const Circuit& circuit,
                                                       const std::vector<std::vector<Form>>& forms,
                                                       const WorkSpread& spread) {
  std::vector<std::vector<PreparedForm>> prepared(forms.size());
  std::vector<Making> makings;
  for (std::size_t s = 0; s < forms.size(); ++s) {
    for (const Form& form : forms[s]) prepared[s].push_back(begin_form(form));
    for (PreparedForm& form : prepared[s]) {
      makings.push_back({s, &form, {}, std::vector<TriedHabit>(kTriedFaults.size())});
    }
  }
  constexpr std::size_t kPieces = kTriedFaults.size() + 1;  // the last one: the truth
  spread(makings.size() * kPieces, [&](std::size_t i) {
    Making& making = makings[i / kPieces];
    const std::size_t piece = i % kPieces;
    if (piece < kTriedFaults.size()) {
      making.tried[piece] = try_habit(*making.form, kTriedFaults[piece]);
    } else {
      making.truth = find_truth(*making.form);
    }
  });
  for (Making& making : makings) {
    finish_form(circuit.stations[making.station], std::move(making.truth), std::move(making.tried),
                *making.form);
  }
  return prepared;
}

Cohort send_through(const Circuit& circuit,
                    const std::vector<const std::vector<PreparedForm>*>& stations,
                    const RehearsalPlan& plan, const WorkSpread& spread,
                    const std::function<bool()>& goes_on) {
  const std::vector<std::size_t> scored = find_scored(circuit);
  std::vector<std::uint64_t> numbers;
  for (std::uint64_t n = plan.first; n < plan.candidates; n += plan.step) numbers.push_back(n);
  Cohort cohort;
  cohort.circuit = circuit;
  cohort.rows.resize(numbers.size());
  std::vector<std::vector<SizePair>> sizes(numbers.size());
  spread(numbers.size(), [&](std::size_t i) {
    if (goes_on && !goes_on()) return;
    const Practitioner practitioner = draw_practitioner(plan.mix, plan.seed, numbers[i]);
    CohortRow& row = cohort.rows[i];
    row.candidate = fmt::format("{:05}", numbers[i] + 1);
    for (const std::size_t s : scored) {
      const std::vector<PreparedForm>& forms = *stations[s];
      const std::size_t form = find_form(circuit.title, row.candidate, s, forms.size());
      Attendance a = attend(circuit.stations[s], forms[form], plan.seed, s, practitioner);
      row.stations.push_back({a.marks, a.unsafe, a.finished, a.rating, std::move(a.shares)});
      sizes[i].insert(sizes[i].end(), a.sizes.begin(), a.sizes.end());
    }
  });
  const bool whole = std::all_of(cohort.rows.begin(), cohort.rows.end(), [&](const CohortRow& row) {
    return row.stations.size() == scored.size();
  });
  if (!whole) cohort.rows.clear();
  for (const auto& own : sizes) {
    if (whole) cohort.sizes.insert(cohort.sizes.end(), own.begin(), own.end());
  }
  return cohort;
}

}  // namespace redress::assessment
