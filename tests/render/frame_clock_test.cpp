// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/frame_clock.hpp"

#include <catch2/catch.hpp>

#include <cstdint>
#include <random>
#include <set>
#include <vector>

using redress::app::FrameClock;

namespace {

/// Ticks at the end of `seconds`, drawn at `hz`; `jitter` lets each frame come early or late.
std::int64_t ticks_after(double seconds, double hz, bool jitter = false, unsigned seed = 1) {
  FrameClock clock;
  std::minstd_rand chance(seed);
  std::uniform_real_distribution<double> part(0.1, 1.9);
  const double start = 12345.678;
  const double end = start + 1000 * seconds;
  FrameClock::Due due = clock.advance(start);
  for (double now = start; now < end;) {
    now += 1000 / hz * (jitter ? part(chance) : 1.0);
    due = clock.advance(now < end ? now : end);
  }
  return due.now_tick;
}

}  // namespace

TEST_CASE("the same stretch of time gives the same ticks at every frame rate") {
  for (const double hz : {24.0, 30.0, 59.94, 60.0, 75.0, 144.0, 240.0, 1000.0}) {
    INFO(hz << " Hz");
    CHECK(ticks_after(10, hz) == 10000);
    CHECK(ticks_after(3.5, hz) == 3500);
  }
}

TEST_CASE("and with frames that come early and late") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    INFO("seed " << seed);
    CHECK(ticks_after(10, 60, true, seed) == 10000);
    CHECK(ticks_after(10, 30, true, seed) == 10000);
    CHECK(ticks_after(10, 144, true, seed) == 10000);
  }
}

TEST_CASE("an event belongs to the same tick, however frames fall") {
  std::set<std::int64_t> ticks;
  for (const double hz : {30.0, 60.0, 144.0}) {
    FrameClock clock;
    clock.advance(0);
    const double event_ms = 333.25;
    for (double now = 1000 / hz; now < event_ms + 1000 / hz; now += 1000 / hz) {
      // Asked in the frame in which it arrived, before the clock moves on.
      if (now >= event_ms) {
        ticks.insert(clock.tick_at(event_ms));
        break;
      }
      clock.advance(now);
    }
  }
  CHECK(ticks == std::set<std::int64_t>{333});
}

TEST_CASE("the share tells how much of the tick has passed") {
  FrameClock clock;
  clock.advance(100);
  const FrameClock::Due due = clock.advance(116.25);
  CHECK(due.now_tick == 16);
  CHECK(due.share == Approx(0.25));
  CHECK_FALSE(due.slipped);
}

TEST_CASE("time does not run backwards") {
  FrameClock clock;
  clock.advance(100);
  CHECK(clock.advance(150).now_tick == 50);
  CHECK(clock.advance(120).now_tick == 50);
  CHECK(clock.advance(160).now_tick == 60);
}

TEST_CASE("a machine that slept does not make the patient wait") {
  FrameClock clock;
  clock.advance(0);
  const FrameClock::Due due = clock.advance(3'600'000);
  CHECK(due.slipped);
  CHECK(due.now_tick == FrameClock::kMostCaughtUpUs / 1000);
  CHECK(clock.advance(3'600'010).now_tick == FrameClock::kMostCaughtUpUs / 1000 + 10);
}

TEST_CASE("a pause does not count") {
  FrameClock clock;
  clock.advance(0);
  clock.pause(40);
  CHECK(clock.advance(500).now_tick == 40);
  clock.resume(1000);
  CHECK(clock.advance(1005).now_tick == 45);
}
