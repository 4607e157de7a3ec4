// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Microsaccades: how many, how large, how fast, of both eyes; and when there are none.
#include <algorithm>
#include <cmath>
#include <vector>

#include "sim/basics/random.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

struct Small {
  Tick at_ms = 0;
  double size_deg = 0.0;
  double horizontal_deg = 0.0;
  double peak_deg_s = 0.0;
  double apart_deg = 0.0;  // what the other eye made of it, less this
  bool blink = false;      // with which the eyes dip
};

// Those that come by themselves, as the state counts them: when one is launched.
std::vector<Small> watch(Examination& exam, Tick until) {
  std::vector<Small> found;
  patient::Angles before{};
  patient::Angles fellow_before{};
  std::uint32_t count = exam.patient_state().instability.spontaneous;
  bool moving = false;
  while (exam.now() < until) {
    const patient::State& s = exam.patient_state();
    if (!moving) {
      before = s.gaze.right;
      fellow_before = s.gaze.left;
    }
    const patient::Angles last = s.gaze.right;
    exam.step();
    if (s.instability.spontaneous != count) {
      count = s.instability.spontaneous;
      moving = s.saccade.moving && s.saccade.fixational;
      if (moving) found.push_back({exam.now(), 0, 0, 0, 0, false});
    }
    if (!moving) continue;
    Small& m = found.back();
    const double speed = 1000.0 * std::hypot(s.gaze.right.horizontal - last.horizontal,
                                             s.gaze.right.vertical - last.vertical);
    m.peak_deg_s = std::max(m.peak_deg_s, speed);
    m.blink = m.blink || s.instability.blink_ms >= 0;
    if (s.saccade.moving && s.saccade.fixational) continue;
    moving = false;
    m.horizontal_deg = s.gaze.right.horizontal - before.horizontal;
    m.size_deg = std::hypot(m.horizontal_deg, s.gaze.right.vertical - before.vertical);
    m.apart_deg = (s.gaze.left.horizontal - fellow_before.horizontal) - m.horizontal_deg;
  }
  return found;
}

}  // namespace

TEST_CASE("microsaccades come by themselves about once a second, 0.2 to 0.4 degrees") {
  Examination exam(setup_of(case_with_deviation(-1, -3)), {9, 1.0, true});
  constexpr double kSeconds = 300.0;
  const std::vector<Small> found = watch(exam, static_cast<Tick>(1000.0 * kSeconds));
  const double rate = static_cast<double>(found.size()) / kSeconds;
  // A Poisson process of 1 a second that stands still during saccades and blinks.
  CHECK(rate > 0.65);
  CHECK(rate < 1.05);
  int horizontal = 0;
  for (const Small& m : found) {
    if (m.blink) continue;
    INFO(m.at_ms << " ms");
    CHECK(m.size_deg > 0.1);             // drift is in it
    CHECK(std::abs(m.apart_deg) < 0.1);  // of both eyes (Ciuffreda, Kenyon & Stark 1978)
    if (std::abs(m.horizontal_deg) > 0.7 * m.size_deg) ++horizontal;
  }
  std::vector<double> sizes;
  std::vector<double> speeds;
  for (const Small& m : found) {
    sizes.push_back(m.size_deg);
    speeds.push_back(m.peak_deg_s);
  }
  std::sort(sizes.begin(), sizes.end());    // of numbers alone
  std::sort(speeds.begin(), speeds.end());  // of numbers alone
  const std::size_t half = found.size() / 2;
  CHECK(sizes[half] > 0.25);
  CHECK(sizes[half] < 0.35);
  // On the main sequence of the large ones (Zuber, Stark & Cook 1965): 470 (1 - exp(-0.3 / 9)).
  CHECK(speeds[half] == Approx(15.4).margin(2.5));
  CHECK(2 * horizontal > static_cast<int>(found.size()));
}

TEST_CASE("no microsaccade comes with noise off or soon after a change before the eyes") {
  Examination calm(setup_of(case_with_deviation(-1, -3)), {9, 0.0, true});
  CHECK(watch(calm, 20000).empty());

  Examination exam(setup_of(case_with_deviation(0, 0, 4)), {9, 1.0, true});
  int soon = 0;
  int later = 0;
  for (int i = 0; i < 60; ++i) {
    exam.apply(i % 2 == 0 ? cover(0, Eye::left, 0).content : uncover(0, 0).content);
    const Tick at = exam.now();
    for (const Small& m : watch(exam, at + 1500)) (m.at_ms - at < 300 ? soon : later) += 1;
  }
  CHECK(soon == 0);
  CHECK(later > 30);
}

TEST_CASE("the draws of microsaccades do not depend on what is done") {
  const ExaminationSetup setup = setup_of(case_with_deviation(-1, -3));
  Examination one(setup, {9, 1.0, true});
  Examination other(setup, {9, 1.0, true});
  other.apply(hold_prism(0, Eye::right, 6.0, 0.0).content);
  const auto draw = [](std::uint32_t event) {
    return 0.2 + 0.2 * random_uniform(9, Stream::spontaneous_microsaccade, event, 1);
  };
  // Each is of the size drawn for its number, whenever it comes.
  for (Examination* exam : {&one, &other}) {
    std::uint32_t count = 0;
    int checked = 0;
    for (int t = 0; t < 30000; ++t) {
      exam->step();
      const patient::State& s = exam->patient_state();
      if (s.instability.spontaneous == count) continue;
      count = s.instability.spontaneous;
      if (!s.saccade.fixational || s.saccade.elapsed_ms > 1) continue;
      CHECK(s.saccade.amplitude_deg == Approx(draw(count)));
      ++checked;
    }
    CHECK(checked > 10);
  }
}
