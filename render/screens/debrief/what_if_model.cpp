// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/what_if_model.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <future>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "render/screens/debrief/watched.hpp"
#include "sim/basics/eye.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/findings/record_card.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"

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
  const std::vector<float>& all = watched.playback.horizontal_pd(eye);
  const auto index = [&](double ms) {
    return std::min(all.size(), static_cast<std::size_t>(ms / static_cast<double>(kFrameMs)));
  };
  e.values_pd.assign(all.begin() + static_cast<std::ptrdiff_t>(index(e.from_ms)),
                     all.begin() + static_cast<std::ptrdiff_t>(index(e.to_ms)));
  e.playback = watched.playback.cut(e.from_ms, e.to_ms);
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

void run_side_by_side(std::vector<scoring::Job>& jobs) {
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t i = next++; i < jobs.size(); i = next++) jobs[i]();
  };
  const std::size_t hands =
      std::min<std::size_t>(jobs.size(), std::max(1U, std::thread::hardware_concurrency()));
  std::vector<std::future<void>> others;
  for (std::size_t i = 1; i < hands; ++i) others.push_back(std::async(std::launch::async, work));
  work();
  for (std::future<void>& other : others) other.get();
}

}  // namespace

redress::Result<WhatIfModel> make_what_if(std::string_view record_text, scoring::Column column) {
  const redress::Result<record::Record> loaded = record::read_record(record_text);
  if (!loaded) return loaded.problems();
  const record::Record& record = loaded.value();
  const redress::Result<Case> parsed = parse_case(record.header.the_case);
  if (!parsed) return parsed.problems();
  const Case& the_case = parsed.value();
  const ExaminationSetup setup = setup_of(the_case);
  const Chance chance{record.header.seed, record.header.noise, true};
  const Tick last = record::calc_last_tick(record);

  const truth::Truth truth = find_truth(the_case, setup, findings::make_card(record.acts));
  const scoring::WhatIf what_if = scoring::price_habits(the_case, setup, record.acts, chance, last,
                                                        truth, column, run_side_by_side);
  WhatIfModel model;
  model.total = what_if.total;
  model.all_mended = what_if.all_mended;
  model.habits.resize(what_if.prices.size());
  // Watched no further than the excerpts that are shown.
  const auto shown_until = [](const scoring::Price& price) {
    return price.mended.at_ms + static_cast<Tick>(kExcerptMs + kBeforeMs);
  };
  Tick done_until = 0;
  for (const scoring::Price& price : what_if.prices) {
    done_until = std::max(done_until, std::min(last, shown_until(price)));
  }
  Watched done;
  std::vector<Watched> mended(what_if.prices.size());
  std::vector<scoring::Job> jobs{[&] { done = watch(setup, record.acts, chance, done_until); }};
  for (std::size_t i = 0; i < what_if.prices.size(); ++i) {
    jobs.push_back([&, i] {
      const scoring::Price& price = what_if.prices[i];
      const Tick until = std::min(price.mended.until_ms, shown_until(price));
      mended[i] = watch(setup, price.mended.acts, chance, until);
    });
  }
  run_side_by_side(jobs);
  for (std::size_t i = 0; i < what_if.prices.size(); ++i) {
    model.habits[i] = describe(what_if.prices[i], done, mended[i]);
  }
  return model;
}

}  // namespace redress::screens::debrief
