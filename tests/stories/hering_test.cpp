// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Hering's law in every patient: both eyes are told the same version and equal and opposite
// vergence, whatever is before them, whichever sees. And none is told to go further than eyes go.
// Held over every case of scenarios/ and over patients drawn at random, living, in a busy
// examination.
#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include <catch2/catch.hpp>

#include "sim/cases/setup.hpp"
#include "sim/patient/listing.hpp"
#include "sim/patient/muscles.hpp"
#include "sim/patient/sight.hpp"
#include "tests/cases/case_texts.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

constexpr double kGreatestDeg = 50.0;          // the limit of ductions, Clark & Isenberg 2001
constexpr double kRounding = 1e-9;             // degrees
constexpr double kFastestVergencePerMs = 0.1;  // degrees: a saccade of 5 degrees reaches 0.2

// What one eye is told, as degrees on the head.
patient::Angles calc_told(const ExaminationSetup& setup, const patient::State& s, Eye eye) {
  if (patient::is_hampered(setup.patient, eye)) {
    const patient::Angles& told = s.muscles.told[eye];
    const auto head = patient::to_head_frame(eye, {told.horizontal, told.vertical, 0.0});
    return {head.horizontal, head.vertical};
  }
  patient::Angles at = s.gaze[eye];
  const patient::Angles dip = patient::calc_blink_dip(s.instability, eye);
  at.horizontal -= dip.horizontal + s.muscles.phasic_deg;
  at.vertical -= dip.vertical;
  if (s.unsteady.in_force) {
    at.horizontal -= s.unsteady.turn[eye].horizontal;
    at.vertical -= s.unsteady.turn[eye].vertical;
  }
  at.vertical -= side_of(eye) * 0.5 * setup.patient.muscles.skew_deg;
  return at;
}

struct Worst {
  double version = 0.0;      // asked of either eye, less the other's, vergence taken off
  double command = 0.0;      // furthest version
  double vergence_ms = 0.0;  // fastest change of vergence in a tick in which a saccade is fast
  int saccades = 0;          // ticks of fast ones
};

Worst examine(const ExaminationSetup& setup, std::uint64_t seed) {
  Examination exam(setup, {seed, 1.0, true});
  std::mt19937 dice(static_cast<std::uint32_t>(seed));
  std::uniform_real_distribution<double> aside(-40.0, 40.0);
  Worst worst;
  double vergence = exam.patient_state().vergence_deg;
  double version = exam.patient_state().version.horizontal;
  for (int t = 0; t < 16000; ++t) {
    if (t % 2000 == 500) exam.apply(cover(0, t % 4000 < 2000 ? Eye::right : Eye::left).content);
    if (t % 4000 == 3500) exam.apply(uncover(0).content);
    if (t % 1500 == 700) {
      act::ShowTarget large;  // so that everybody sees it
      large.size_logmar = 2.0;
      large.horizontal_deg = aside(dice);
      large.vertical_deg = 0.5 * aside(dice);
      exam.apply(large);
    }
    exam.step();
    const patient::State& s = exam.patient_state();
    const patient::Angles right = calc_told(setup, s, Eye::right);
    const patient::Angles left = calc_told(setup, s, Eye::left);
    for (const double off : {0.5 * (right.horizontal + left.horizontal) - s.version.horizontal,
                             0.5 * (right.vertical + left.vertical) - s.version.vertical,
                             (left.horizontal - right.horizontal) - s.vergence_deg,
                             (right.vertical - left.vertical) - s.vertical_vergence_deg}) {
      worst.version = std::max(worst.version, std::abs(off));
    }
    worst.command =
        std::max({worst.command, std::abs(s.version.horizontal), std::abs(s.version.vertical)});
    if (std::abs(s.version.horizontal - version) > 0.2) {
      ++worst.saccades;
      worst.vergence_ms = std::max(worst.vergence_ms, std::abs(s.vergence_deg - vergence));
    }
    vergence = s.vergence_deg;
    version = s.version.horizontal;
  }
  return worst;
}

void check(const ExaminationSetup& setup, std::uint64_t seed) {
  const Worst worst = examine(setup, seed);
  CHECK(worst.version < kRounding);
  CHECK(worst.command <= kGreatestDeg);
  CHECK(worst.vergence_ms < kFastestVergencePerMs);
  CHECK(worst.saccades > 20);
}

}  // namespace

TEST_CASE("Hering and the limit of commands in every shipped case") {
  for (const std::string& name : testing::shipped_case_names()) {
    INFO(name);
    const Result<Case> read = read_case_text(testing::shipped_case(name));
    REQUIRE(read.ok());
    check(setup_of(read.value()), read.value().seed);
  }
}

TEST_CASE("Hering and the limit of commands in patients drawn at random") {
  int weak = 0;
  for (std::uint32_t seed = 1; seed <= 120; ++seed) {
    INFO("patient " << seed);
    const bool muscles = seed % 6 == 0;  // their tables take long to make
    const nlohmann::json drawn = draw_case(seed, muscles);
    const Result<Case> read = parse_case(drawn);
    if (!read.ok()) continue;  // impossible together, and refused
    if (muscles) ++weak;
    check(setup_of(read.value()), seed);
  }
  CHECK(weak >= 10);
}
