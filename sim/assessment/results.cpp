// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/results.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "sim/assessment/clocks.hpp"

namespace redress::assessment {

namespace {

// Which of two of the same candidate and station counts; by id where nothing tells them apart.
bool counts_before(const StoredStation& a, const StoredStation& b) {
  if (a.whole != b.whole) return a.whole;
  if (a.used_ms != b.used_ms) return a.used_ms > b.used_ms;
  return a.id < b.id;
}

// What who reads a record should know beforehand.
std::vector<std::string> find_remarks(const std::vector<StationScore>& scores,
                                      const std::vector<FinalMarks>& marks) {
  std::size_t overruled = 0;
  for (const FinalMarks& one : marks) overruled += one.overruled();
  int left = 0;
  int resumed = 0;
  Tick away_ms = 0;
  int clock_faults = 0;
  Tick still_ms = 0;
  for (const StationScore& score : scores) {
    clock_faults += score.clock_faults;
    still_ms += score.stood_still_ms;
    left += score.left_window;
    away_ms += score.out_of_window_ms;
    resumed += score.resumptions;
  }
  std::vector<std::string> remarks;
  const auto times = [](int n) {
    return n == 1   ? std::string("once")
           : n == 2 ? std::string("twice")
                    : fmt::format("{} times", n);
  };
  if (overruled > 0) {
    remarks.push_back(fmt::format("{} {} overruled", overruled, overruled == 1 ? "mark" : "marks"));
  }
  if (left > 0) {
    remarks.push_back(fmt::format("left the window {}", times(left)) +
                      (away_ms > 0 ? fmt::format(", {} s", (away_ms + 500) / 1000) : ""));
  }
  if (resumed > 0) remarks.push_back("resumed " + times(resumed));
  if (clock_faults > 0) remarks.push_back("the clock was set or differed " + times(clock_faults));
  if (still_ms > 0) remarks.push_back("the computer stood still for " + write_span(still_ms));
  return remarks;
}

// A candidate is at one station at a time: where two say that they went on together, a clock is
// wrong, or somebody else sat there.
void compare_clocks(const std::string& candidate, const std::map<std::size_t, ScoredStation>& own,
                    std::vector<std::string>& remarks) {
  for (auto a = own.begin(); a != own.end(); ++a) {
    for (auto b = std::next(a); b != own.end(); ++b) {
      const StationScore& x = a->second.score;
      const StationScore& y = b->second.score;
      if (x.began_utc_ms == 0 || y.began_utc_ms == 0) continue;
      const std::int64_t together =
          std::min(x.ended_utc_ms, y.ended_utc_ms) - std::max(x.began_utc_ms, y.began_utc_ms);
      if (together < kLeastSetMs) continue;
      remarks.push_back(fmt::format(
          "Candidate {}: by their clocks stations {} (at {}) and {} (at {}) went on together for "
          "{}. A clock was wrong, or somebody else sat there. No mark depends on it.",
          candidate, a->first + 1, a->second.station.workstation, b->first + 1,
          b->second.station.workstation, write_span(together)));
    }
  }
}

}  // namespace

const ScoredStation* find_counted(std::span<const ScoredStation> stations,
                                  std::string_view candidate, std::size_t station) {
  const ScoredStation* counted = nullptr;
  for (const ScoredStation& each : stations) {
    if (each.station.candidate != candidate || each.station.station != station) continue;
    if (counted == nullptr || counts_before(each.station, counted->station)) counted = &each;
  }
  return counted;
}

GatheredCohort gather_cohort(const Circuit& circuit, std::vector<ScoredStation> stations,
                             std::span<const Ledger> ledgers) {
  const std::vector<std::size_t> scored = find_scored(circuit);
  GatheredCohort out;
  out.cohort.circuit = circuit;
  std::map<std::string, std::map<std::size_t, ScoredStation>> by_candidate;
  std::set<std::string> workstations;
  for (ScoredStation& one : stations) {
    workstations.insert(one.station.workstation);
    out.cohort.circuit_id = one.station.circuit;
    auto& own = by_candidate[one.station.candidate];
    const auto there = own.find(one.station.station);
    if (there == own.end()) {
      own.emplace(one.station.station, std::move(one));
      continue;
    }
    out.remarks.push_back(fmt::format(
        "Candidate {} has station {} more than once, from {} and {}: please decide. The one that "
        "is whole, or went on for longest, is counted.",
        one.station.candidate, one.station.station + 1, there->second.station.workstation,
        one.station.workstation));
    if (counts_before(one.station, there->second.station)) there->second = std::move(one);
  }
  out.cohort.workstations = workstations.size();
  std::vector<FinalMarks> all_marks;
  for (const auto& [candidate, own] : by_candidate) {
    compare_clocks(candidate, own, out.remarks);
    CohortRow row{candidate, {}, {}};
    std::vector<FinalMarks> marks;
    std::vector<StationScore> scores;
    std::vector<SizePair> sizes;
    for (const std::size_t s : scored) {
      const auto found = own.find(s);
      if (found == own.end()) {
        out.remarks.push_back(fmt::format(
            "Candidate {} is left out: station {} is not in the store.", candidate, s + 1));
        break;
      }
      const StationScore& score = found->second.score;
      FinalMarks final = apply_ledgers(score.sheet, candidate, s, ledgers);
      CohortMark mark;
      mark.marks = final.total;
      mark.unsafe = final.unsafe;
      mark.finished = score.finished;
      mark.rating = final.rating();
      for (const FinalItem& item : final.items) {
        mark.shares.push_back(item.max > 0.0 ? item.final / item.max : -1.0);
      }
      sizes.insert(sizes.end(), score.sizes.begin(), score.sizes.end());
      marks.push_back(std::move(final));
      scores.push_back(score);
      row.stations.push_back(std::move(mark));
    }
    if (row.stations.size() != scored.size()) continue;
    row.remarks = find_remarks(scores, marks);
    out.cohort.rows.push_back(std::move(row));
    out.cohort.sizes.insert(out.cohort.sizes.end(), sizes.begin(), sizes.end());
    all_marks.insert(all_marks.end(), marks.begin(), marks.end());
  }
  if (!ledgers.empty()) out.cohort.agreement = count_agreement(all_marks);
  return out;
}

}  // namespace redress::assessment
