// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/what_if.hpp"

#include <algorithm>
#include <memory>
#include <utility>

#include "sim/basics/elementary.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/scoring/score.hpp"
#include "sim/scoring/sightings.hpp"

namespace redress::scoring {

using elementary::magnitude;

namespace {

double calc_total(const Examined& x, Column column) {
  return calc_score(x.the_case, x.setup, x.evidence, x.truth, column).total;
}

std::optional<double> find_written(const Place& place, bool vertical) {
  const auto reading = find_reading(place);
  if (!reading) return std::nullopt;
  return vertical ? reading->vertical_pd : reading->horizontal_pd;
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

WhatIf price_habits(const Case& the_case, const ExaminationSetup& setup, std::span<const Act> acts,
                    Chance chance, Tick until_ms, const truth::Truth& truth, Column column) {
  const Examined done(the_case, setup, findings::gather_evidence(setup, acts, chance, until_ms),
                      truth);
  // With the notes that the writer of the first examination would have made.
  const auto watch = [&](const MendedActs& mended) {
    findings::Evidence evidence =
        findings::gather_evidence(setup, mended.acts, chance, mended.until_ms);
    evidence.notes = rewrite_notes(done, Examined(the_case, setup, evidence, truth));
    return std::make_unique<Examined>(the_case, setup, std::move(evidence), truth);
  };
  WhatIf what_if;
  what_if.total = calc_total(done, column);
  // The first one mended is where mending all of them begins: simulated once.
  MendedActs all;
  std::unique_ptr<Examined> last;
  for (const Habit habit : kHabits) {
    auto mended = mend(habit, done, acts, until_ms);
    if (!mended) continue;
    std::unique_ptr<Examined> other = watch(*mended);
    Price price;
    price.habit = habit;
    price.total = calc_total(*other, column);
    price.marks = price.total - what_if.total;
    price.difference = find_largest(done, *other);
    price.size_pd = calc_size(price.difference);
    if (!last) {
      all = *mended;
      last = std::move(other);
    }
    price.mended = std::move(*mended);
    what_if.prices.push_back(std::move(price));
  }
  if (what_if.prices.empty()) return what_if;
  const Habit first = what_if.prices.front().habit;
  std::stable_sort(what_if.prices.begin(), what_if.prices.end(),
                   [](const Price& a, const Price& b) {
                     return a.marks != b.marks ? a.marks > b.marks : a.size_pd > b.size_pd;
                   });
  for (const Habit habit : kHabits) {
    if (habit <= first) continue;
    auto mended = mend(habit, *last, all.acts, all.until_ms);
    if (!mended) continue;
    all = std::move(*mended);
    last = watch(all);
  }
  what_if.all_mended = calc_total(*last, column);
  return what_if;
}

}  // namespace redress::scoring
