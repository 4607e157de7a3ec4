// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Movements read off rows made by hand (known sizes and times, with drift, microsaccades, blinks)
// and off examinations of the engine.
#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <optional>
#include <vector>

#include "sim/basics/random.hpp"
#include "sim/findings/movements.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::findings;
using namespace redress::tests;

namespace {

/// Right and left horizontal place, covers and lids as functions of the time.
struct Script {
  std::function<double(Tick)> right = [](Tick) { return 0.0; };
  std::function<double(Tick)> left = [](Tick) { return 0.0; };
  std::function<bool(Tick)> right_covered = [](Tick) { return false; };
  std::function<bool(Tick)> left_covered = [](Tick) { return false; };
  std::function<bool(Tick)> fused = [](Tick) { return true; };
  std::function<double(Tick)> lids = [](Tick) { return 1.0; };
};

MovementFinder watch(const Script& script, Tick until, std::optional<Tick> broken_off = {},
                     const LookedAt& looked_at = {}) {
  MovementFinder finder;
  finder.look(looked_at);
  for (Tick t = 0; t <= until; ++t) {
    if (t == broken_off) finder.break_off();
    Observation o;
    o.at_ms = t;
    o.eye.right.horizontal_deg = script.right(t);
    o.eye.left.horizontal_deg = script.left(t);
    o.eye.right.covered = script.right_covered(t);
    o.eye.left.covered = script.left_covered(t);
    for (const Eye eye : kBothEyes) o.eye[eye].lid_open_fraction = script.lids(t);
    o.fused = script.fused(t);
    finder.push(o);
  }
  finder.finish();
  return finder;
}

bool between(Tick t, Tick from, Tick to) { return t >= from && t < to; }

/// A saccade as a half cosine.
double saccade(Tick t, Tick start, Tick duration, double size) {
  if (t <= start) return 0.0;
  if (t >= start + duration) return size;
  const double share = static_cast<double>(t - start) / static_cast<double>(duration);
  return size * 0.5 * (1.0 - std::cos(3.14159265358979 * share));
}

double to_pd(double deg) { return 100.0 * std::tan(deg / kDegrees); }

const Movement* find(const MovementFinder& finder, Eye eye, Cause cause) {
  for (const Movement& m : finder.movements()) {
    if (m.eye == eye && m.cause == cause) return &m;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("an eye that takes up fixation when its fellow is covered is found", "[findings]") {
  Script s;
  s.left_covered = [](Tick t) { return between(t, 1000, 4000); };
  // The right eye was 5 degrees in (towards the left, -) and comes out.
  s.right = [](Tick t) { return -5.0 + saccade(t, 1200, 40, 5.0); };
  const MovementFinder finder = watch(s, 5000);

  const Movement* m = find(finder, Eye::right, Cause::cover);
  REQUIRE(m != nullptr);
  CHECK_FALSE(m->under_cover);
  CHECK(m->outward_pd == Approx(to_pd(5.0)).margin(0.02));
  CHECK(m->shown_horizontal_pd() > 0.0);  // comes out: it was in, eso
  CHECK(m->latency_ms() == Approx(200).margin(8));
  CHECK(m->duration_ms() == Approx(40).margin(12));
  CHECK(m->saccadic);
  CHECK(m->steps == 1);
  // Half cosine: peak = pi / 2 of the mean speed.
  CHECK(m->peak_deg_per_s == Approx(3.14159265 / 2.0 * 5.0 / 0.040).epsilon(0.05));
  CHECK(find(finder, Eye::left, Cause::cover) == nullptr);

  REQUIRE(finder.covered().size() == 1);
  CHECK(finder.covered()[0].eye == Eye::left);
  CHECK(finder.covered()[0].from_ms == 1000);
  CHECK(finder.covered()[0].to_ms == 4000);
}

TEST_CASE("the same movement mirrored shows the same deviation", "[findings]") {
  Script s;
  s.right_covered = [](Tick t) { return between(t, 1000, 4000); };
  s.left = [](Tick t) { return 5.0 - saccade(t, 1200, 40, 5.0); };
  const MovementFinder finder = watch(s, 5000);
  const Movement* m = find(finder, Eye::left, Cause::cover);
  REQUIRE(m != nullptr);
  CHECK(m->shown_horizontal_pd() == Approx(to_pd(5.0)).margin(0.02));
}

TEST_CASE("a transfer is one event, although both eyes see in between", "[findings]") {
  Script s;
  s.right_covered = [](Tick t) { return between(t, 1000, 3000); };
  s.left_covered = [](Tick t) { return between(t, 3040, 5000); };
  s.right = [](Tick t) { return 3.0 * (t >= 2000 ? 1.0 : 0.0) - saccade(t, 3210, 30, 3.0); };
  const MovementFinder finder = watch(s, 6000);
  const Movement* m = find(finder, Eye::right, Cause::transfer);
  REQUIRE(m != nullptr);
  CHECK(m->event_ms == 3000);
  CHECK(m->shown_horizontal_pd() == Approx(to_pd(-3.0)).margin(0.05));  // goes in: was out, exo
}

TEST_CASE("a slow recovery is a drift, timed from the eye being free", "[findings]") {
  Script s;
  s.right_covered = [](Tick t) { return between(t, 1000, 4000); };
  const auto back = [](Tick t) {
    return t < 4180 ? 3.0 : 3.0 * std::exp(-static_cast<double>(t - 4180) / 200.0);
  };
  s.right = back;
  s.fused = [&](Tick t) { return t < 1000 || back(t) < 0.3; };
  const MovementFinder finder = watch(s, 8000);
  const Movement* m = find(finder, Eye::right, Cause::uncover);
  REQUIRE(m != nullptr);
  CHECK_FALSE(m->saccadic);
  CHECK(m->outward_pd == Approx(to_pd(-3.0)).margin(0.05));
  CHECK(m->latency_ms() == Approx(190).margin(15));
  // 95 % of an exponential after 3 time constants.
  CHECK(m->end_ms - m->event_ms == Approx(180 + 600).margin(15));
  REQUIRE(finder.covered().size() == 1);
  REQUIRE(finder.covered()[0].regained_ms.has_value());
  CHECK(*finder.covered()[0].regained_ms == Approx(180 + 461).margin(3));  // ln 10 time constants
}

TEST_CASE("what the eyes do for another target is no answer to the cover", "[findings]") {
  Script s;
  s.right_covered = [](Tick t) { return between(t, 1000, 4000); };
  // Back by 3 degrees; 2 s later both eyes turn in by 7 for something near.
  s.right = [](Tick t) { return 3.0 - saccade(t, 4180, 40, 3.0) - saccade(t, 6200, 200, 7.0); };
  s.left = [](Tick t) { return saccade(t, 6200, 200, 7.0); };
  const MovementFinder finder = watch(s, 12000, 6000);
  const Movement* m = find(finder, Eye::right, Cause::uncover);
  REQUIRE(m != nullptr);
  CHECK(m->outward_pd == Approx(to_pd(-3.0)).margin(0.05));
  CHECK(find(finder, Eye::left, Cause::uncover) == nullptr);
}

TEST_CASE("a movement under a prism dioptre is seen by who looks closer", "[findings]") {
  Script s;
  s.right_covered = [](Tick t) { return between(t, 1000, 4000); };
  s.left = [](Tick t) { return saccade(t, 1200, 25, 0.5); };
  CHECK(watch(s, 5000).movements().empty());
  const LookedAt left_alone{75.0, Eye::left};
  const MovementFinder closer = watch(s, 5000, {}, left_alone);
  REQUIRE(closer.movements().size() == 1);
  CHECK(closer.movements().front().outward_pd == Approx(to_pd(-0.5)).margin(0.05));
  CHECK_FALSE(closer.movements().front().out_of_view);
  // Drift and microsaccades stay what they are at any size.
  s.left = [](Tick t) { return saccade(t, 1200, 25, 0.4); };
  CHECK(watch(s, 5000, {}, {45.0, Eye::left}).movements().empty());
}

TEST_CASE("drift, microsaccades and blinks are no movements", "[findings]") {
  const std::uint64_t seed = 7;
  Script s;
  s.right_covered = [](Tick t) { return between(t, 1000, 4000); };
  s.left = [&](Tick t) {
    const auto event = static_cast<std::uint64_t>(t);
    const double noise = 0.02 * (random_uniform(seed, Stream::examiner, event) - 0.5);
    const double micro = saccade(t, 1700, 10, 0.25) - saccade(t, 2300, 10, 0.25);
    const double dip = between(t, 1150, 1350) ? 1.5 : 0.0;  // with the lids shut
    return 0.02 * static_cast<double>(t) / 1000.0 + noise + micro + dip;
  };
  s.lids = [](Tick t) { return between(t, 1150, 1350) ? 0.0 : 1.0; };
  CHECK(watch(s, 5000).movements().empty());
}

TEST_CASE("a blink over the moment of uncovering does not hide the recovery", "[findings]") {
  Script s;
  s.right_covered = [](Tick t) { return between(t, 1000, 4000); };
  s.lids = [](Tick t) { return between(t, 3900, 4150) ? 0.1 : 1.0; };
  s.right = [](Tick t) {
    return t < 4180 ? 3.0 : 3.0 * std::exp(-static_cast<double>(t - 4180) / 200.0);
  };
  const MovementFinder finder = watch(s, 8000);
  const Movement* m = find(finder, Eye::right, Cause::uncover);
  REQUIRE(m != nullptr);
  CHECK(m->with_blink);
  CHECK(m->outward_pd == Approx(to_pd(-3.0)).margin(0.1));
}

TEST_CASE("a constant esotropia moves both eyes when the fixing eye is covered", "[findings]") {
  // 20 prism dioptres are 11.3 degrees (100 tan): both eyes turn by Hering's law.
  const Case c = case_with(R"("deviation": {"distance_pd": 20, "near_pd": 20},
      "fusion": {"present": false},
      "sensory": {"preferred_eye": "left", "preference": 0.95,
                  "suppression": {"eye": "right", "scotoma_diameter_deg": 5}})");
  MovementFinder finder;
  const Trace trace = run_story(
      c, {cover(2000, Eye::right), uncover(5000), cover(9000, Eye::left), uncover(12000)}, 16000);
  for (const Observation& row : trace.rows) finder.push(row);
  finder.finish();
  // Covering the right eye moves nothing.
  for (const Movement& m : finder.movements()) CHECK(m.event_ms > 8000);
  const Movement* right = find(finder, Eye::right, Cause::cover);
  const Movement* left = find(finder, Eye::left, Cause::cover);
  REQUIRE(right != nullptr);
  REQUIRE(left != nullptr);
  CHECK(right->shown_horizontal_pd() == Approx(20.0).margin(0.7));
  CHECK(left->under_cover);
  CHECK(left->outward_pd == Approx(-right->outward_pd).margin(0.7));
  CHECK(std::abs(right->start_ms - left->start_ms) <= 5);
  CHECK(right->saccadic);
}
