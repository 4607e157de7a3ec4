// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Simulated practitioners: skill shows in the marks, and the same numbers give the same people.
#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/assessment/practitioner.hpp"
#include "sim/assessment/rehearsal.hpp"
#include "sim/assessment/statistics.hpp"
#include "sim/cases/case_file.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::assessment;

namespace {

SkillMix mix_of(const std::string& text) { return parse_skill_mix(text).value(); }

}  // namespace

TEST_CASE("a mix of skills is read, scaled, and refused with what is allowed", "[assessment]") {
  const SkillMix mix = mix_of("novice:1,expert:3");
  CHECK(mix[0] == Approx(0.25));
  CHECK(mix[1] == 0.0);
  CHECK(mix[2] == Approx(0.75));
  CHECK(mix_of("trainee")[1] == 1.0);
  for (const std::string bad : {"", "wizard", "novice:", "novice:-1", "novice:1,", "novice:nan",
                                "novice,novice", "novice:1x"}) {
    INFO(bad);
    const auto refused = parse_skill_mix(bad);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problems()[0].message.find("allowed: novice, trainee, expert") !=
          std::string::npos);
  }
}

TEST_CASE("practitioners are drawn by number, in the shares asked for", "[assessment]") {
  const SkillMix mix = mix_of("novice:0.3,trainee:0.5,expert:0.2");
  std::vector<double> counts(3);
  for (std::uint64_t i = 0; i < 4000; ++i) {
    const Practitioner p = draw_practitioner(mix, 3, i);
    CHECK(draw_practitioner(mix, 3, i).ability == p.ability);
    counts[p.skill] += 1.0 / 4000.0;
  }
  // Binomial: standard deviation 0.008 at the most; four of them.
  for (std::size_t i = 0; i < 3; ++i) CHECK(std::abs(counts[i] - mix[i]) < 0.032);
}

TEST_CASE("the more skilled have more marks, and read sizes as published", "[assessment]") {
  Station station;
  station.time_s = 480;
  station.instruments = {};
  Form form;
  form.written = nlohmann::json::parse(testing::shipped_case("exophoria"));
  form.content = parse_case(form.written).value();
  form.seed = 7;
  const PreparedForm prepared = prepare_form(station, form, true);
  REQUIRE(prepared.runs.size() == 5);
  CHECK(prepared.reference_marks >= 98.0);
  std::vector<double> means;
  for (const std::string skill : {"novice", "trainee", "expert"}) {
    std::vector<double> marks;
    for (std::uint64_t i = 0; i < 150; ++i) {
      const Practitioner p = draw_practitioner(mix_of(skill), 5, i);
      const Attendance a = attend(station, prepared, 5, 0, p);
      marks.push_back(a.marks);
      CHECK(attend(station, prepared, 5, 0, p).marks == a.marks);
    }
    means.push_back(calc_mean(marks));
  }
  INFO(means[0] << ", " << means[1] << ", " << means[2]);
  CHECK(means[0] + 5.0 < means[1]);
  CHECK(means[1] + 5.0 < means[2]);
  CHECK(means[2] < 100.0);

  // Hrynchak et al 2010 (clinical notes, section 8): mean -0.6 and SD 1.1 of the experienced for
  // sizes around and below 10; a whole prism dioptre is written, which adds 1/12 to the variance.
  std::vector<double> differences;
  for (std::uint64_t i = 0; i < 600; ++i) {
    const Practitioner p = draw_practitioner(mix_of("expert"), 9, i);
    for (const SizePair& s : attend(station, prepared, 9, 0, p).sizes) {
      const bool same_way = (s.written_pd < 0.0) == (s.true_pd < 0.0) && s.written_pd != 0.0;
      if (same_way) {
        differences.push_back(std::abs(s.written_pd) - std::abs(s.true_pd));
      }
    }
  }
  REQUIRE(differences.size() > 300);
  // The reference examiner's bar brackets to half a step on either side of the truth.
  CHECK(std::abs(calc_mean(differences) + 0.6) < 0.6);
  CHECK(calc_deviation(differences) > 0.9);
  CHECK(calc_deviation(differences) < 1.6);
}

TEST_CASE("who has too little time does not finish and loses marks", "[assessment]") {
  Station station;
  Form form;
  form.written = nlohmann::json::parse(testing::shipped_case("exophoria"));
  form.content = parse_case(form.written).value();
  form.seed = 7;
  const PreparedForm prepared = prepare_form(station, form, false);
  const auto mean_in = [&](std::int64_t time_s, double& finishing) {
    station.time_s = time_s;
    double sum = 0.0;
    finishing = 0.0;
    for (std::uint64_t i = 0; i < 60; ++i) {
      const Attendance a =
          attend(station, prepared, 5, 0, draw_practitioner(mix_of("trainee"), 5, i));
      sum += a.marks / 60.0;
      finishing += a.finished ? 1.0 / 60.0 : 0.0;
    }
    return sum;
  };
  double ample = 0.0;
  double scarce = 0.0;
  const double with_time = mean_in(900, ample);
  const double without = mean_in(150, scarce);
  CHECK(ample == Approx(1.0));
  CHECK(scarce == 0.0);
  CHECK(without + 10.0 < with_time);
}

TEST_CASE("simulated assessors rate as people do, and a line can be set from them",
          "[assessment]") {
  Station station;
  Form form;
  form.written = nlohmann::json::parse(testing::shipped_case("exophoria"));
  form.content = parse_case(form.written).value();
  form.seed = 7;
  const PreparedForm prepared = prepare_form(station, form, true);
  const SkillMix mix = parse_skill_mix("novice:0.3,trainee:0.5,expert:0.2").value();
  std::vector<GlobalRating> ratings;
  std::vector<double> marks;
  for (std::uint64_t i = 0; i < 400; ++i) {
    const Attendance a = attend(station, prepared, 5, 0, draw_practitioner(mix, 5, i));
    ratings.push_back(a.rating);
    marks.push_back(a.marks);
    if (a.unsafe) CHECK(a.rating == GlobalRating::fail);
  }
  const auto found = calc_borderline_cut(ratings, marks);
  REQUIRE(found);
  // Hejri et al 2013: R squared 0.44 to 0.79 at nine stations.
  INFO(found->line.r_squared << ", " << found->cut.mark);
  CHECK(found->line.r_squared > 0.44);
  CHECK(found->line.r_squared < 0.79);
  CHECK(found->cut.mark > 40.0);
  CHECK(found->cut.mark < 70.0);
  CHECK(found->cut.error.value_or(0.0) > 0.0);
}
