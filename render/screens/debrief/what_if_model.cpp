// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/what_if_model.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "render/screens/debrief/watched.hpp"
#include "sim/basics/eye.hpp"
#include "sim/findings/shorthand.hpp"

namespace redress::screens::debrief {

namespace {

constexpr double kBeforeMs = 1500;
constexpr double kExcerptMs = 12000;
constexpr double kTooFewPd = 0.5;  // below, nothing that anybody would see
constexpr double kHeadroom = 1.25;

Excerpt cut(const Watched& watched, Eye eye, double from_ms) {
  Excerpt e;
  e.from_ms = std::max(0.0, from_ms - kBeforeMs);
  e.to_ms = e.from_ms + kExcerptMs;
  e.playback = watched.playback.cut(e.from_ms, e.to_ms);
  e.values_pd = e.playback.horizontal_pd(eye);
  constexpr auto kMost = static_cast<std::size_t>(kExcerptMs / static_cast<double>(kFrameMs));
  if (e.values_pd.size() > kMost) e.values_pd.resize(kMost);
  for (const findings::CoverSpan& span : watched.evidence.covers) {
    const auto from = static_cast<double>(span.from_ms);
    const auto to = static_cast<double>(span.to_ms);
    if (span.eye == eye && to > e.from_ms && from < e.to_ms) e.covers.push_back({from, to});
  }
  for (const findings::Movement& m : watched.evidence.movements) {
    const auto at = static_cast<double>(m.start_ms);
    if (m.eye == eye && !m.under_cover && at >= e.from_ms && at < e.to_ms) {
      e.movements.push_back(make_tag(m));
    }
  }
  return e;
}

/// The eye that was covered next: what a cover shows is seen in it.
Eye find_eye(const findings::Evidence& evidence, Tick at_ms) {
  for (const findings::CoverSpan& span : evidence.covers) {
    if (span.to_ms >= at_ms) return span.eye;
  }
  return Eye::right;
}

double find_most(const PricedHabit& habit) {
  double most = std::abs(habit.difference.there_pd);
  for (const Excerpt* e : {&habit.as_done, &habit.mended}) {
    for (const float pd : e->values_pd) {
      if (!std::isnan(pd)) most = std::max(most, static_cast<double>(std::abs(pd)));
    }
  }
  constexpr double kLeast = 4;
  constexpr double kMost = 60;  // another target in the excerpt is not what it is about
  return std::clamp(most * kHeadroom, kLeast, kMost);
}

std::string say_price(const PricedHabit& habit) {
  const double marks = std::round(10 * habit.marks) / 10;
  if (marks >= 0.1) {
    return fmt::format("cost {} {}", findings::write_number(marks), marks == 1 ? "mark" : "marks");
  }
  return habit.size_pd >= kTooFewPd ? "cost no marks here" : "cost nothing here";
}

std::string write_headline(const scoring::Price& price, const PricedHabit& habit) {
  const scoring::Difference& d = price.difference;
  const bool covers = price.habit == scoring::Habit::short_covers;
  if (covers && d.seen_pd && std::abs(*d.seen_pd) < std::abs(d.there_pd) &&
      std::abs(*d.seen_pd) >= kTooFewPd) {
    std::string words = habit.done;
    words[0] = 'c';
    return fmt::format("Your {} let {} of {} show", words, say_size(std::abs(*d.seen_pd)),
                       say_size(std::abs(d.there_pd)));
  }
  return fmt::format("{}: it {}", habit.done, say_price(habit));
}

PricedHabit describe(const scoring::Price& price, const Watched& done, const Watched& mended) {
  PricedHabit habit;
  habit.done = price.mended.done;
  habit.instead = price.mended.instead;
  habit.marks = price.marks;
  habit.size_pd = price.size_pd;
  habit.total = price.total;
  habit.difference = price.difference;
  habit.eye = find_eye(done.evidence, price.mended.at_ms);
  habit.headline = write_headline(price, habit);
  habit.about = fmt::format("{} eye, {}. Instead: {}.", habit.eye == Eye::right ? "Right" : "Left",
                            price.difference.place, habit.instead);
  const auto at = static_cast<double>(price.mended.at_ms);
  habit.as_done = cut(done, habit.eye, at);
  habit.mended = cut(mended, habit.eye, at);
  habit.most_pd = find_most(habit);
  return habit;
}

}  // namespace

redress::Result<WhatIfModel> make_what_if(std::string_view record_text, scoring::Column column) {
  const auto reviewed = review_record(record_text);
  if (!reviewed) return reviewed.problems();
  return make_what_if(*reviewed.value(), column);
}

WhatIfModel make_what_if(const Reviewed& reviewed, scoring::Column column) {
  const auto& [the_case, setup, chance, acts, last, truth, as_done] = reviewed;
  const scoring::WhatIf what_if = scoring::price_habits(the_case, setup, acts, chance, last, truth,
                                                        as_done, column, run_side_by_side);
  WhatIfModel model;
  model.total = what_if.total;
  model.all_mended = what_if.all_mended;
  model.habits.resize(what_if.prices.size());
  // Watched no more than the excerpts that are shown.
  std::vector<Watched> done(what_if.prices.size());
  std::vector<Watched> mended(what_if.prices.size());
  std::vector<scoring::Job> jobs;
  for (std::size_t i = 0; i < what_if.prices.size(); ++i) {
    const scoring::Price& price = what_if.prices[i];
    const Tick from = std::max(Tick{0}, price.mended.at_ms - static_cast<Tick>(kBeforeMs));
    const Tick until = price.mended.at_ms + static_cast<Tick>(kExcerptMs + kBeforeMs);
    const auto watch_part = [&reviewed, from, until](std::span<const Act> part, Tick end) {
      return watch_from(reviewed.as_done.on_the_way, reviewed.setup, part, reviewed.chance, from,
                        std::min(end, until));
    };
    jobs.push_back([&, i, watch_part] {
      done[i] = watch_part(reviewed.acts, reviewed.last);
      done[i].evidence = reviewed.as_done.evidence;  // of the whole of it
    });
    jobs.push_back(
        [&, i, watch_part] { mended[i] = watch_part(price.mended.acts, price.mended.until_ms); });
  }
  run_side_by_side(jobs);
  for (std::size_t i = 0; i < what_if.prices.size(); ++i) {
    model.habits[i] = describe(what_if.prices[i], done[i], mended[i]);
  }
  return model;
}

}  // namespace redress::screens::debrief
