// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The one loop that takes an examination from its first millisecond to its last. Everything that
// simulates a list of acts uses it: simulate, replay, score, truth. Who decides on acts as it goes
// (the window, an examiner) calls the three steps itself:
//   observe_tick(exam, sink);    row and state of this tick, once, before its acts
//   perform(exam, act, sink);    as often as there are acts
//   finish_tick(exam, sink);     on to the next tick
// and after observe_tick and the acts of the last tick, sink.end(exam.now()). An examination that
// has a fault() stops before that tick's row and has no end: what was told before it stands.
//
// A sink is any class with some of these members; what it lacks costs nothing:
//   void row(const Observation&)                each tick;  bool wants_rows() const: not now
//   void state(Tick, std::uint64_t hash)        every 250 ms;  bool wants_states() const
//   void act(const Act&)                        each act as it is applied
//   void reply(const Reply&)                    each reply as it falls due
//   void end(Tick)                              after the last tick, unless it stopped
//   bool failed() const                         true: stop
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

#include "sim/record/record_format.hpp"
#include "sim/room/act.hpp"
#include "sim/room/examination.hpp"
#include "sim/room/observation.hpp"

namespace redress::record {

struct RunOptions {
  Chance chance;
  /// Last tick, inclusive, 0 ... kLatestEnd (brought within); none: last act + 1000.
  std::optional<Tick> until_ms;
};

/// What a run came to.
struct RunEnd {
  Tick at_ms = 0;                    ///< the last tick reached
  std::size_t acts = 0;              ///< acts applied; those after the last tick are not
  std::uint64_t hash = 0;            ///< of the state after the last acts
  std::optional<EngineFault> fault;  ///< why it went no further than that tick
};

/// 1000 ms after the last act.
inline Tick calc_default_until(std::span<const Act> acts) {
  constexpr Tick kAfterLastActMs = 1000;
  return (acts.empty() ? 0 : acts.back().at_ms) + kAfterLastActMs;
}

template <class Sink>
bool has_failed(const Sink& sink) {
  if constexpr (requires { sink.failed(); }) return sink.failed();
  return false;
}

template <class Sink>
void observe_tick(const Examination& exam, Sink& sink) {
  if constexpr (requires(const Observation& observation) { sink.row(observation); }) {
    bool wanted = true;
    if constexpr (requires { sink.wants_rows(); }) wanted = sink.wants_rows();
    if (wanted) sink.row(exam.observe());
  }
  if constexpr (requires { sink.state(Tick{}, std::uint64_t{}); }) {
    bool wanted = exam.now() % kStateEveryMs == 0;
    if constexpr (requires { sink.wants_states(); }) wanted = wanted && sink.wants_states();
    if (wanted) sink.state(exam.now(), exam.hash());
  }
}

template <class Sink>
void tell_replies(Examination& exam, Sink& sink) {
  if constexpr (requires(const Reply& reply) { sink.reply(reply); }) {
    for (const Reply& reply : exam.take_replies()) sink.reply(reply);
  } else {
    (void)exam;
    (void)sink;
  }
}

template <class Sink>
void perform(Examination& exam, const Act& act, Sink& sink) {
  exam.apply(act.content);
  if constexpr (requires { sink.act(act); }) sink.act(act);
}

template <class Sink>
void finish_tick(Examination& exam, Sink& sink) {
  exam.step();
  tell_replies(exam, sink);
}

/// Runs the acts, in order of time, up to and including the last tick. All acts at or before t are
/// applied before the step from t to t + 1; row and state of t are those before its acts.
template <class Sink>
RunEnd run(const ExaminationSetup& setup, std::span<const Act> acts, const RunOptions& options,
           Sink& sink) {
  const Tick until =
      std::clamp(options.until_ms.value_or(calc_default_until(acts)), Tick{0}, kLatestEnd);
  Examination exam(setup, options.chance, first_target(acts));
  std::size_t next = 0;
  while (!exam.fault()) {
    observe_tick(exam, sink);
    for (; next < acts.size() && acts[next].at_ms <= exam.now(); ++next) {
      perform(exam, acts[next], sink);
    }
    if (exam.now() >= until || has_failed(sink)) break;
    finish_tick(exam, sink);
  }
  if constexpr (requires { sink.end(Tick{}); }) {
    if (!has_failed(sink) && !exam.fault()) sink.end(exam.now());
  }
  return {exam.now(), next, exam.hash(), exam.fault()};
}

}  // namespace redress::record
