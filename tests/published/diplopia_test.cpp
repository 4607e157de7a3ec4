// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Double vision as the patient reports it.
#include <algorithm>

#include "sim/room/answers.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

// The answer to a question asked at 3 s, after these acts.
Reply ask(const Case& c, const std::string& what, std::vector<Act> acts = {}, double noise = 0.0,
          std::uint64_t seed = 1) {
  Examination exam(setup_of(c), {seed, noise, true}, first_target(acts));
  std::size_t next = 0;
  std::vector<Reply> replies;
  for (Tick t = 0; t < 6000; ++t) {
    while (next < acts.size() && acts[next].at_ms <= t) exam.apply(acts[next++].content);
    if (t == 3000) exam.apply(act::Ask{what});
    exam.step();
    for (const Reply& r : exam.take_replies()) {
      if (r.to == what) replies.push_back(r);
    }
  }
  REQUIRE(replies.size() == 1);
  return replies[0];
}

Case squint(double horizontal, double vertical, const std::string& sensory = "") {
  return case_with(R"("deviation": {"distance_pd": )" + std::to_string(horizontal) +
                   R"(, "near_pd": )" + std::to_string(horizontal - 2) + R"(, "vertical_pd": )" +
                   std::to_string(vertical) + R"(}, "fusion": {"present": false})" + sensory);
}

}  // namespace

TEST_CASE("eso is uncrossed, exo is crossed, the higher eye sees the lower image", "[diplopia]") {
  // von Noorden; common practice.
  CHECK(ask(squint(15, 0), "arrangement").answer == "side_by_side, uncrossed");
  CHECK(ask(squint(-15, 0), "arrangement").answer == "side_by_side, crossed");
  CHECK(ask(squint(0, 6), "arrangement").answer == "one_above_the_other, right_lower");
  CHECK(ask(squint(0, -6), "arrangement").answer == "one_above_the_other, left_lower");
  CHECK(ask(squint(15, 6), "arrangement").answer ==
        "side_by_side_and_above, uncrossed, right_lower");
  CHECK(ask(case_with_deviation(-6, -8), "arrangement").answer == "single");
}

TEST_CASE("the images are as far apart as the disparity, within 15 %", "[diplopia]") {
  // 15 prism dioptres are 90 cm at 6 m.
  const std::string text = ask(squint(15, 0), "arrangement").text;
  INFO(text);
  const auto at = text.find("about ");
  REQUIRE(at != std::string::npos);
  CHECK(std::stod(text.substr(at + 6)) == Approx(90).epsilon(0.15));
}

TEST_CASE("who suppresses sees one, and double vision goes with either eye covered", "[diplopia]") {
  const std::string suppression =
      R"(, "sensory": {"suppression": {"eye": "left", "scotoma_diameter_deg": 3}})";
  CHECK(ask(squint(15, 0, suppression), "single_or_double").answer == "single");
  CHECK(ask(squint(15, 0), "single_or_double").answer == "double");
  CHECK(ask(squint(15, 0), "single_or_double", {cover(500, Eye::left)}).answer == "single");
  CHECK(ask(squint(15, 0), "which_eye_removes_it").answer == "either");
  CHECK(ask(case_with_deviation(-1, -3), "which_eye_removes_it").answer == "single");
}

TEST_CASE("monocular double vision stays when the fellow eye is covered", "[diplopia]") {
  const Case c = case_with(R"("deviation": {"distance_pd": -1, "near_pd": -3},
                              "sensory": {"monocular_diplopia": "right"})");
  CHECK(ask(c, "single_or_double").answer == "double");
  CHECK(ask(c, "which_eye_removes_it").answer == "right");
  CHECK(ask(c, "single_or_double", {cover(500, Eye::left)}).answer == "double");
  CHECK(ask(c, "single_or_double", {cover(500, Eye::right)}).answer == "single");
  CHECK(ask(c, "arrangement").answer == "ghost");
}

TEST_CASE("a prism that neutralises an anomalous angle gives paradoxical double vision",
          "[diplopia]") {
  // The eyes are straight for the target and the patient, an esotrope, sees crossed images.
  const Case c = case_with(R"("deviation": {"distance_pd": 20, "near_pd": 20},
    "fusion": {"present": false},
    "sensory": {"preferred_eye": "left", "preference": 1.0, "anomaly_pd": 20})");
  CHECK(ask(c, "single_or_double").answer == "single");
  const Act prism = hold_prism(500, Eye::right, 20, base_out(Eye::right));
  CHECK(ask(c, "single_or_double", {prism}).answer == "double");
  CHECK(ask(c, "arrangement", {prism}).answer == "side_by_side, crossed");
  // Normal correspondence: the same prism gives single vision.
  CHECK(ask(squint(20, 0), "single_or_double",
            {hold_prism(500, Eye::right, 20, base_out(Eye::right))})
            .answer == "single");
}

TEST_CASE("where it is worst is found by looking there", "[diplopia]") {
  CHECK(ask(squint(15, 0), "where_worst").answer == "same");
  CHECK(ask(case_with_deviation(-1, -3), "where_worst").answer == "single");
  // Beyond the reserves at near only.
  const Case near =
      case_with(R"("deviation": {"distance_pd": -2, "near_pd": -14, "ac_a_pd_per_d": 1},
    "fusion": {"near": {"base_out_pd": [null, -3, -6], "base_in_pd": [null, 20, 10]}})");
  CHECK(ask(near, "where_worst").answer == "near");
  const Case far = case_with(R"("deviation": {"distance_pd": 14, "near_pd": 4, "ac_a_pd_per_d": 1},
    "fusion": {"distance": {"base_out_pd": [null, 20, 10], "base_in_pd": [null, -3, -6]}})");
  CHECK(ask(far, "where_worst").answer == "far");
}

TEST_CASE("small children answer wrongly in 20 to 30 %, and only with the noise on", "[diplopia]") {
  const Case child = case_with(R"("patient": {"age_years": 5},
                                  "deviation": {"distance_pd": -1, "near_pd": -3})");
  const Case adult = case_with_deviation(-1, -3);
  int wrong = 0;
  int adults_wrong = 0;
  constexpr int kAsked = 150;
  for (std::uint64_t seed = 1; seed <= kAsked; ++seed) {
    wrong += ask(child, "single_or_double", {}, 1.0, seed).answer == "double" ? 1 : 0;
    if (seed <= 20) {
      adults_wrong += ask(adult, "single_or_double", {}, 1.0, seed).answer == "double" ? 1 : 0;
    }
  }
  INFO(wrong << " of " << kAsked);
  CHECK(wrong >= 0.18 * kAsked);
  CHECK(wrong <= 0.32 * kAsked);
  CHECK(adults_wrong == 0);
  CHECK(ask(child, "single_or_double").answer == "single");
}

namespace {

// When the patient spoke of its own accord in 30 s.
std::vector<Reply> unasked(const Case& c, double noise, std::uint64_t seed = 1,
                           std::vector<Act> acts = {}) {
  Examination exam(setup_of(c), {seed, noise, true}, first_target(acts));
  std::size_t next = 0;
  std::vector<Reply> spoken;
  while (exam.now() < 30000) {
    while (next < acts.size() && acts[next].at_ms <= exam.now()) exam.apply(acts[next++].content);
    exam.step();
    for (const Reply& r : exam.take_replies()) {
      if (r.to == kUnasked) spoken.push_back(r);
    }
  }
  return spoken;
}

}  // namespace

TEST_CASE("who sees two of everything says so once, who suppresses never", "[diplopia]") {
  // Practice: a fresh paresis volunteers it before it is asked, a suppressor never.
  for (const double noise : {0.0, 1.0}) {
    const auto spoken = unasked(squint(15, 0), noise);
    REQUIRE(spoken.size() == 1);
    CHECK(spoken[0].answer == "double");
    // Noticed for two seconds, and then the delay of speech.
    CHECK(spoken[0].at_ms >= 2500);
    CHECK(spoken[0].at_ms <= 3600);
    CHECK(unasked(squint(15, 0, R"(, "sensory": {"suppression": {"eye": "either",
                                      "scotoma_diameter_deg": 5}})"),
                  noise)
              .empty());
    CHECK(unasked(case_with_deviation(-6, -8), noise).empty());
  }
  // Nothing of it while an eye is covered; nothing twice once it has been told.
  CHECK(unasked(squint(15, 0), 0.0, 1, {cover(0, Eye::right, 0)}).empty());
  CHECK(unasked(squint(15, 0), 0.0, 1, {{200, act::Ask{"single_or_double"}}}).empty());
}

TEST_CASE("a child too young to speak does not say that it sees two", "[diplopia]") {
  const auto of_age = [](double years) {
    Case c = squint(15, 0);
    c.patient.age_years = years;
    return c;
  };
  CHECK(unasked(of_age(2), 0.0).empty());
  CHECK(unasked(of_age(5), 0.0).size() == 1);
}

TEST_CASE("how fast a patient speaks depends on the person, not on what it sees", "[diplopia]") {
  const auto delay = [](const Case& c, std::uint64_t seed) {
    return ask(c, "single_or_double", {}, 1.0, seed).at_ms - 3000;
  };
  Tick least = 5000;
  Tick most = 0;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    const Tick ms = delay(squint(15, 0), seed);
    CHECK(ms == delay(case_with_deviation(-1, -3), seed));
    least = std::min(least, ms);
    most = std::max(most, ms);
  }
  CHECK(least >= 500);
  CHECK(most <= 1500);
  CHECK(most - least > 200);
}
