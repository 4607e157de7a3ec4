// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/reserves.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/examiners/prism_bar.hpp"
#include "sim/scoring/judged.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::PrismStep;
using findings::WrittenFinding;

namespace {

constexpr double kRounding = 0.005;

double label_towards(const PrismStep& step, std::string_view base) {
  if (base == "out") return step.horizontal_pd;
  if (base == "in") return -step.horizontal_pd;
  return base == "up" ? -step.vertical_pd : step.vertical_pd;
}

bool is_vertical(std::string_view base) { return base == "up" || base == "down"; }

double bar_step_below(double label_pd, bool vertical) {
  double before = 0.0;
  double step = 0.0;
  const auto look = [&](const auto& bar) {
    for (const double label : bar) {
      step = label - before;
      if (label >= label_pd - kRounding) return;
      before = label;
    }
  };
  if (vertical) {
    look(examiners::kVerticalBar);
  } else {
    look(examiners::kHorizontalBar);
  }
  return step;
}

// Within the step of the bar below it or above.
bool is_reserve(double written_pd, double found_pd, bool vertical) {
  const double step =
      std::max(bar_step_below(found_pd, vertical), bar_step_below(found_pd + 0.5, vertical));
  return magnitude(written_pd - found_pd) <= step + kRounding;
}

// Away from the deviation, where it has to be held against: for exo base out. Where there is next
// to none (usual at near is 3 of exo: Morgan 1944, from memory) neither way is, and both are asked.
std::vector<std::string_view> wanted_bases(const Examined& x) {
  constexpr double kUsualPd = 4.0;
  const double there = x.places[x.main_place].there.right.horizontal_pd;
  if (magnitude(there) < kUsualPd) return {"out", "in"};
  return {there > 0.0 ? "in" : "out"};
}

double share_of_reserve(const Examined& x, std::string_view base, Mark& mark) {
  const auto run = find_reserve_run(x.evidence, base);
  if (!run || !run->break_pd) {
    mark.why += fmt::format("The reserve base {} was not taken to its break. ", base);
    return 0.0;
  }
  if (run->blur_pd) {
    mark.evidence.push_back(
        {run->at_ms, fmt::format("base {}: said to be blurred at {:.0f}Δ", base, *run->blur_pd)});
  }
  mark.evidence.push_back(
      {run->at_ms, fmt::format("base {}: single vision lost at {:.0f}Δ", base, *run->break_pd)});
  const WrittenFinding* entry = nullptr;
  for (const WrittenFinding& e : x.card.entries) {
    if (e.finding.test == FindingTest::reserves && e.finding.base == base) entry = &e;
  }
  if (entry == nullptr || !entry->finding.break_value) {
    mark.why += fmt::format("The break base {} was not written. ", base);
    return 0.5;
  }
  mark.evidence.push_back({entry->at_ms, fmt::format("base {}: break written {:.0f}Δ", base,
                                                     *entry->finding.break_value)});
  if (is_reserve(*entry->finding.break_value, *run->break_pd, is_vertical(base))) return 1.0;
  mark.why += fmt::format("Base {} broke at {:.0f}Δ. ", base, *run->break_pd);
  return 0.5;
}

}  // namespace

// Against this run of the bar; where there was none at this distance, the patient as a rule.
bool is_reserve_right(const Examined& x, const Finding& f) {
  if (!f.break_value) return false;
  const auto run = find_reserve_run(x.evidence, f.base);
  const bool here =
      run && run->break_pd &&
      (!f.distance_m || findings::is_same_distance(run->setting.distance_m, *f.distance_m));
  if (here) return is_reserve(*f.break_value, *run->break_pd, is_vertical(f.base));
  for (const truth::ReservesAt& at : x.truth.reserves) {
    if (!f.distance_m || !findings::is_same_distance(*f.distance_m, at.distance_m)) continue;
    const auto& rule = f.base == "out" ? at.base_out.break_pd : at.base_in.break_pd;
    return !is_vertical(f.base) && rule && is_reserve(*f.break_value, *rule, false);
  }
  return false;
}

std::optional<ReserveRun> find_reserve_run(const findings::Evidence& evidence,
                                           std::string_view base) {
  std::optional<ReserveRun> longest;
  std::optional<ReserveRun> run;
  const auto keep = [&] {
    if (run && (!longest || run->reached_pd > longest->reached_pd)) longest = run;
  };
  for (const PrismStep& step : evidence.prisms) {
    const double label = label_towards(step, base);
    const double across = is_vertical(base) ? step.horizontal_pd : step.vertical_pd;
    if (!step.open || label < 0.5 || magnitude(across) >= 0.5) {
      keep();
      run.reset();
      continue;
    }
    if (!run) {
      if (!step.single_before) continue;  // nothing to be broken
      run = ReserveRun{step.from_ms, step.setting, {}, {}, {}, 0.0};
    }
    run->reached_pd = std::max(run->reached_pd, label);
    if (step.said_clear == false && !run->break_pd && !run->blur_pd) run->blur_pd = label;
    if (!step.single_at_end && !run->break_pd) run->break_pd = label;
    if (run->break_pd && step.single_at_end && label < *run->break_pd && !run->recovery_pd) {
      run->recovery_pd = label;
    }
  }
  keep();
  return longest;
}

double share_of_reserves(const Examined& x, Mark& mark) {
  const std::vector<std::string_view> bases = wanted_bases(x);
  double sum = 0.0;
  for (const std::string_view base : bases) sum += share_of_reserve(x, base, mark);
  return sum / static_cast<double>(bases.size());
}

}  // namespace redress::scoring
