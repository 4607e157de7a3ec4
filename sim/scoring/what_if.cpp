// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/what_if.hpp"

#include <algorithm>
#include <memory>
#include <utility>

#include "sim/basics/elementary.hpp"
#include "sim/findings/checkpoints.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/scoring/score.hpp"
#include "sim/scoring/sightings.hpp"

namespace redress::scoring {

using elementary::magnitude;

namespace {

double calc_total(const Examined& x, Column column) { return calc_score(x, column).total; }

// Whether or not anything done could have shown it: what stands there is compared with what would.
std::optional<double> find_written(const Place& place, bool vertical) {
  for (const findings::WrittenFinding* entry : {place.prism_entry, place.cover_entry}) {
    if (entry == nullptr) continue;
    const Finding& f = entry->finding;
    if (f.horizontal_pd || f.vertical_pd) return vertical ? f.vertical_pd : f.horizontal_pd;
    if (f.kind == FindingKind::none) return 0.0;
  }
  return std::nullopt;
}

Difference compare(const Examined& done, const Examined& mended, std::size_t place) {
  const Place& before = done.places[place];
  const Place& after = mended.places[place];
  Difference d;
  d.place = before.name;
  const truth::Condition& there = after.there.right;
  d.vertical = magnitude(there.vertical_pd) > magnitude(there.horizontal_pd);
  const Sighting was = find_sighting(done, before);
  const Sighting is = find_sighting(mended, after);
  const SeenPair seen =
      d.vertical ? SeenPair{was.by_eye_vertical_pd, is.by_eye_vertical_pd} : pair_seen(was, is);
  d.seen_pd = seen.done_pd;
  d.seen_mended_pd = seen.mended_pd;
  d.written_pd = find_written(before, d.vertical);
  d.written_mended_pd = find_written(after, d.vertical);
  d.there_pd = d.vertical ? there.vertical_pd : there.horizontal_pd;
  return d;
}

double calc_size(const Difference& d) {
  return magnitude(d.seen_mended_pd.value_or(0.0) - d.seen_pd.value_or(0.0));
}

Difference find_largest(const Examined& done, const Examined& mended) {
  Difference largest = compare(done, mended, done.main_place);
  const std::size_t places = std::min(done.places.size(), mended.places.size());
  for (std::size_t i = 0; i < places; ++i) {
    Difference here = compare(done, mended, i);
    if (calc_size(here) > calc_size(largest)) largest = std::move(here);
  }
  return largest;
}

}  // namespace

void run_in_order(std::vector<Job>& jobs) {
  for (const Job& job : jobs) job();
}

namespace {

/// The examination as it was done, and how another is made of it.
struct Done {
  const Case& the_case;
  const ExaminationSetup& setup;
  const Chance chance;
  const truth::Truth& truth;
  const findings::Checkpoints& on_the_way;
  std::unique_ptr<Examined> examined;
  bool goes_on_to_reversal = false;  ///< nowhere a bracket left open

  // With the notes that the writer of the first examination would have made. It goes on from where
  // it first differs from another.
  [[nodiscard]] std::unique_ptr<Examined> watch(MendedActs& mended,
                                                const findings::Checkpoints& from,
                                                findings::Checkpoints* keep) const {
    const auto see = [&] {
      findings::Evidence evidence =
          findings::gather_evidence_from(setup, mended.acts, chance, mended.until_ms, &from, keep);
      const Examined read(the_case, setup, evidence, truth, examined.get());
      evidence.notes = rewrite_notes(*examined, read);
      return std::make_unique<Examined>(the_case, setup, std::move(evidence), truth, &read);
    };
    auto other = see();
    if (!goes_on_to_reversal) return other;
    // Who does so goes on as well where the patient's own spread left a bracket open this time.
    auto more = mend(Habit::not_reversed, *other, mended.acts, mended.until_ms);
    if (!more) return other;
    mended.acts = std::move(more->acts);
    mended.until_ms = more->until_ms;
    if (keep != nullptr) *keep = {};
    return see();
  }
};

Price price_one(const Done& done, const Examined& other, Habit habit, double total, Column column) {
  Price price;
  price.habit = habit;
  price.total = calc_total(other, column);
  price.marks = price.total - total;
  price.difference = find_largest(*done.examined, other);
  price.size_pd = calc_size(price.difference);
  return price;
}

// The others after the first, each on what has been mended so far.
double mend_the_rest(const Done& done, Habit first, MendedActs all, std::unique_ptr<Examined> last,
                     findings::Checkpoints on_the_way, Column column) {
  for (const Habit habit : kHabits) {
    if (habit <= first) continue;
    auto mended = mend(habit, *last, all.acts, all.until_ms);
    if (!mended) continue;
    all = std::move(*mended);
    findings::Checkpoints next;
    last = done.watch(all, on_the_way, &next);
    on_the_way = std::move(next);
  }
  return calc_total(*last, column);
}

}  // namespace

AsDone simulate_as_done(const ExaminationSetup& setup, std::span<const Act> acts, Chance chance,
                        Tick until_ms) {
  AsDone done;
  done.evidence =
      findings::gather_evidence_from(setup, acts, chance, until_ms, nullptr, &done.on_the_way);
  return done;
}

WhatIf price_habits(const Case& the_case, const ExaminationSetup& setup, std::span<const Act> acts,
                    Chance chance, Tick until_ms, const truth::Truth& truth, Column column,
                    const Runner& run) {
  return price_habits(the_case, setup, acts, chance, until_ms, truth,
                      simulate_as_done(setup, acts, chance, until_ms), column, run);
}

WhatIf price_habits(const Case& the_case, const ExaminationSetup& setup, std::span<const Act> acts,
                    Chance chance, Tick until_ms, const truth::Truth& truth, const AsDone& as_done,
                    Column column, const Runner& run) {
  Done done{the_case, setup, chance, truth, as_done.on_the_way, nullptr, false};
  done.examined = std::make_unique<Examined>(the_case, setup, as_done.evidence, truth);
  WhatIf what_if;
  what_if.total = calc_total(*done.examined, column);
  done.goes_on_to_reversal = !mend(Habit::not_reversed, *done.examined, acts, until_ms);
  std::vector<std::pair<Habit, MendedActs>> mends;
  for (const Habit habit : kHabits) {
    if (auto mended = mend(habit, *done.examined, acts, until_ms)) {
      mends.emplace_back(habit, std::move(*mended));
    }
  }
  if (mends.empty()) return what_if;
  what_if.prices.resize(mends.size());
  std::vector<Job> jobs;
  for (std::size_t i = 0; i < mends.size(); ++i) {
    jobs.push_back([&, i] {
      auto& [habit, mended] = mends[i];
      // The first one mended is where mending all of them begins: simulated once.
      findings::Checkpoints on_the_way;
      auto other = done.watch(mended, done.on_the_way, i == 0 ? &on_the_way : nullptr);
      what_if.prices[i] = price_one(done, *other, habit, what_if.total, column);
      if (i > 0) return;
      what_if.all_mended =
          mend_the_rest(done, habit, mended, std::move(other), std::move(on_the_way), column);
    });
  }
  run(jobs);
  for (std::size_t i = 0; i < mends.size(); ++i) {
    what_if.prices[i].mended = std::move(mends[i].second);
  }
  std::stable_sort(what_if.prices.begin(), what_if.prices.end(),
                   [](const Price& a, const Price& b) {
                     return a.marks != b.marks ? a.marks > b.marks : a.size_pd > b.size_pd;
                   });
  return what_if;
}

}  // namespace redress::scoring
