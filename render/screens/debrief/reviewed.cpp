// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/reviewed.hpp"

#include <algorithm>
#include <atomic>
#include <future>
#include <thread>
#include <utility>

#include "render/screens/debrief/watched.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/findings/record_card.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"

namespace redress::screens::debrief {

namespace {

// Reserves and the near point take long to compute.
truth::Truth find_truth(const Reviewed& r) {
  truth::Distances distances;
  distances.screen_m = r.the_case.patient.screen_distance.value;
  distances.near_working_m = r.the_case.patient.near_working_distance.value;
  truth::Extent extent;
  extent.reserves = extent.near_point = false;
  for (const findings::WrittenFinding& entry : findings::make_card(r.acts).entries) {
    if (entry.finding.test == FindingTest::reserves) extent.reserves = true;
    if (entry.finding.test == FindingTest::near_point) extent.near_point = true;
  }
  return truth::calc_truth(r.setup, distances, extent);
}

}  // namespace

redress::Result<std::shared_ptr<const Reviewed>> review_record(std::string_view record_text,
                                                               Playback* playback) {
  redress::Result<record::Record> loaded = record::read_record(record_text);
  if (!loaded) return loaded.problems();
  record::Record record = std::move(loaded).value();
  redress::Result<Case> parsed = parse_case(record.header.the_case);
  if (!parsed) return parsed.problems();
  const auto r = std::make_shared<Reviewed>();
  r->the_case = std::move(parsed).value();
  r->setup = setup_of(r->the_case);
  r->chance = {record.header.seed, record.header.noise, true};
  r->last = record::calc_last_tick(record);
  r->acts = std::move(record.acts);
  std::vector<scoring::Job> jobs{
      [&] {
        if (playback == nullptr) {
          r->as_done = scoring::simulate_as_done(r->setup, r->acts, r->chance, r->last);
          return;
        }
        Watched watched = watch(r->setup, r->acts, r->chance, r->last, &r->as_done.on_the_way);
        r->as_done.evidence = std::move(watched.evidence);
        *playback = std::move(watched.playback);
      },
      [&] { r->truth = find_truth(*r); }};
  run_side_by_side(jobs);
  return std::shared_ptr<const Reviewed>(r);
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

}  // namespace redress::screens::debrief
