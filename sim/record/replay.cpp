// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/replay.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/basics/state_hash.hpp"
#include "sim/record/run.hpp"

namespace redress::record {

namespace {

std::string text_of(const Reply& reply) {
  return reply.to + " = " + reply.answer + " (\"" + reply.text + "\") at " +
         std::to_string(reply.at_ms) + " ms";
}

/// Compares instead of writing; stops at the first difference.
class Comparer {
 public:
  explicit Comparer(const Record& record) : record_(record) {}

  void state(Tick at_ms, std::uint64_t hash) {
    if (difference_ || states_ == record_.states.size()) return;  // the record was cut before this
    const std::uint64_t expected = record_.states[states_].second;
    if (hash == expected) {
      ++states_;
    } else {
      difference_ = Difference{at_ms, "state", to_hex(expected), to_hex(hash)};
    }
  }

  void reply(const Reply& reply) {
    if (difference_) return;
    if (replies_ == record_.replies.size()) {
      if (record_.end) difference_ = Difference{reply.at_ms, "reply", "none", text_of(reply)};
      return;
    }
    const Reply& expected = record_.replies[replies_];
    if (reply == expected) {
      ++replies_;
    } else {
      difference_ = Difference{std::min(reply.at_ms, expected.at_ms), "reply", text_of(expected),
                               text_of(reply)};
    }
  }

  void end(Tick) {
    if (difference_ || replies_ == record_.replies.size()) return;
    const Reply& missed = record_.replies[replies_];
    difference_ = Difference{missed.at_ms, "reply", text_of(missed), "none"};
  }

  [[nodiscard]] bool failed() const { return difference_.has_value(); }

  [[nodiscard]] ReplayVerdict verdict() const {
    ReplayVerdict verdict;
    verdict.agrees = !difference_;
    verdict.difference = difference_;
    verdict.states = states_;
    verdict.replies = replies_;
    return verdict;
  }

 private:
  const Record& record_;
  std::size_t states_ = 0;
  std::size_t replies_ = 0;
  std::optional<Difference> difference_;
};

}  // namespace

Tick calc_last_tick(const Record& record) {
  if (record.end) return *record.end;
  Tick last = 0;
  if (!record.acts.empty()) last = std::max(last, record.acts.back().at_ms);
  if (!record.replies.empty()) last = std::max(last, record.replies.back().at_ms);
  if (!record.states.empty()) last = std::max(last, record.states.back().first);
  return last;
}

ReplayVerdict replay(const Record& record, const ExaminationSetup& setup) {
  Comparer comparer(record);
  RunOptions options;
  options.chance.seed = record.header.seed;
  options.chance.noise = record.header.noise;
  options.until_ms = calc_last_tick(record);
  const RunEnd end = run(setup, record.acts, options, comparer);

  ReplayVerdict verdict = comparer.verdict();
  if (verdict.agrees && end.fault) {
    verdict.agrees = false;
    verdict.difference = Difference{end.at_ms, end.fault->field, "a number", to_text(*end.fault)};
  }
  verdict.same_arithmetic = record.header.arithmetic == to_hex(elementary::arithmetic_check());
  if (verdict.agrees) {
    verdict.message = "agrees: " + std::to_string(verdict.states) + " states and " +
                      std::to_string(verdict.replies) + " replies up to " +
                      std::to_string(*options.until_ms) + " ms";
    return verdict;
  }
  const Difference& first = *verdict.difference;
  verdict.message = "differs first at " + std::to_string(first.at_ms) + " ms in the " + first.what +
                    ": recorded " + first.expected + ", now " + first.got;
  if (!verdict.same_arithmetic) {
    verdict.message += "; the record was made with other arithmetic (" + record.header.arithmetic +
                       ", engine " + record.header.engine + ")";
  }
  return verdict;
}

}  // namespace redress::record
