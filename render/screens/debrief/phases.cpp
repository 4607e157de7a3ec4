// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/phases.hpp"

#include <algorithm>
#include <string>

#include "sim/findings/shorthand.hpp"

namespace redress::screens::debrief {

namespace {

struct Doing {
  Tick at_ms = 0;
  std::string place;  // "6 m"; empty: what has no distance
  std::string what;   // "cover", "Story"
};

bool is_history(const std::string& question) {
  // What is asked of the eyes belongs to the test that it interrupts.
  for (const char* of_test : {"single_or_double", "clear", "jump", "which_eye_removes_it",
                              "arrangement", "where_worst"}) {
    if (question == of_test) return false;
  }
  return true;
}

std::vector<Doing> find_doings(const findings::Evidence& evidence, std::span<const Act> acts) {
  std::vector<Doing> doings;
  for (const findings::Question& q : evidence.questions) {
    if (is_history(q.what)) doings.push_back({q.at_ms, "", "Story"});
  }
  for (const findings::Question& q : evidence.requests) doings.push_back({q.at_ms, "", "Story"});
  for (const findings::CoverSpan& span : evidence.covers) {
    const bool alternating = span.transfer_in || span.transfer_out;
    doings.push_back({span.from_ms, findings::write_distance(span.setting.distance_m),
                      span.behind_prism ? "prism"
                      : alternating     ? "alternating"
                                        : "cover"});
  }
  for (const findings::WrittenFinding& note : evidence.notes) {
    const FindingTest test = note.finding.test;
    if (test == FindingTest::impression || test == FindingTest::plan) {
      doings.push_back({note.at_ms, "", "Card"});
    }
  }
  for (const Act& act : acts) {
    const auto* target = std::get_if<act::ShowTarget>(&act.content);
    // A target that comes to the nose on its own way.
    if (target != nullptr && target->travel_ms > 0 && target->distance_m <= 0.1) {
      doings.push_back({act.at_ms, "", "Near point"});
    }
  }
  std::stable_sort(doings.begin(), doings.end(),
                   [](const Doing& a, const Doing& b) { return a.at_ms < b.at_ms; });
  return doings;
}

struct Part {
  Tick from_ms = 0;
  std::string place;
  std::vector<std::string> what;

  [[nodiscard]] std::string words() const {
    std::string text = place;
    for (std::size_t i = 0; i < what.size(); ++i) {
      if (i == 0) {
        text += text.empty() ? "" : ", ";
      } else {
        text += i + 1 == what.size() ? " and " : ", ";
      }
      text += what[i];
    }
    return text;
  }
  void add(const std::string& more) {
    if (std::find(what.begin(), what.end(), more) == what.end()) what.push_back(more);
  }
};

// Joins the shortest part to the neighbour at the same distance, else to the longer one.
void join_shortest(std::vector<Part>& parts, Tick end_ms) {
  const auto length = [&](std::size_t i) {
    return (i + 1 < parts.size() ? parts[i + 1].from_ms : end_ms) - parts[i].from_ms;
  };
  std::size_t shortest = 0;
  for (std::size_t i = 1; i < parts.size(); ++i) {
    if (length(i) < length(shortest)) shortest = i;
  }
  const bool has_left = shortest > 0;
  const bool has_right = shortest + 1 < parts.size();
  const auto same = [&](std::size_t other) { return parts[other].place == parts[shortest].place; };
  bool left = has_left;
  if (has_left && has_right) {
    const bool left_same = same(shortest - 1);
    const bool right_same = same(shortest + 1);
    left = left_same != right_same ? left_same : length(shortest - 1) >= length(shortest + 1);
  }
  const std::size_t into = left ? shortest - 1 : shortest + 1;
  if (same(into)) {
    for (const std::string& what : parts[shortest].what) parts[into].add(what);
  }
  if (!left) parts[into].from_ms = parts[shortest].from_ms;
  parts.erase(parts.begin() + static_cast<std::ptrdiff_t>(shortest));
}

}  // namespace

std::vector<Phase> find_phases(const findings::Evidence& evidence, std::span<const Act> acts) {
  std::vector<Part> parts;
  for (const Doing& d : find_doings(evidence, acts)) {
    const bool same =
        !parts.empty() && parts.back().place == d.place && parts.back().what.back() == d.what;
    if (!same) parts.push_back({d.at_ms, d.place, {d.what}});
  }
  if (parts.empty()) return {};
  parts.front().from_ms = 0;
  while (parts.size() > kMostPhases) {
    join_shortest(parts, evidence.end_ms);
    // What has come to stand side by side is one.
    for (std::size_t i = 1; i < parts.size();) {
      if (parts[i].words() == parts[i - 1].words()) {
        parts.erase(parts.begin() + static_cast<std::ptrdiff_t>(i));
      } else {
        ++i;
      }
    }
  }
  std::vector<Phase> phases;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Tick to = i + 1 < parts.size() ? parts[i + 1].from_ms : evidence.end_ms;
    phases.push_back(
        {static_cast<double>(parts[i].from_ms), static_cast<double>(to), parts[i].words()});
  }
  return phases;
}

}  // namespace redress::screens::debrief
