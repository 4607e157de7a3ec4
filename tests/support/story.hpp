// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An examination told in a test: a case, acts at their times, and the row of every millisecond.
#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/record/run.hpp"

namespace redress::tests {

inline constexpr double kDegrees = 57.29577951308232;

/// A case with these members beside format, version and title, e.g.
/// R"("deviation": {"distance_pd": -6})".
inline Case case_with(const std::string& members) {
  const Result<Case> read = read_case_text(
      R"({"format": "redress-case", "version": 1, "title": "test", )" + members + "}");
  if (!read) {
    for (const Problem& p : read.problems()) UNSCOPED_INFO(p.place << ": " << p.message);
    FAIL("the case of this test is not valid");
  }
  return read.value();
}

inline Case case_with_deviation(double distance_pd, double near_pd, double ac_a = 4.0) {
  return case_with("\"deviation\": {\"distance_pd\": " + std::to_string(distance_pd) +
                   ", \"near_pd\": " + std::to_string(near_pd) +
                   ", \"ac_a_pd_per_d\": " + std::to_string(ac_a) + "}");
}

inline Act cover(Tick at_ms, Eye eye, std::int32_t travel_ms = 250) {
  act::Cover a;
  a.eye = eye;
  a.travel_ms = travel_ms;
  return {at_ms, a};
}

inline Act uncover(Tick at_ms, std::int32_t travel_ms = 250) {
  act::Uncover a;
  a.travel_ms = travel_ms;
  return {at_ms, a};
}

inline Act hold_prism(Tick at_ms, Eye eye, double label, double base_deg) {
  act::HoldPrism a;
  a.eye = eye;
  a.power = PrismDioptres{label};
  a.base = Degrees{base_deg};
  return {at_ms, a};
}

/// Base angles (ISO 8429).
inline double base_in(Eye eye) { return eye == Eye::right ? 0.0 : 180.0; }
inline double base_out(Eye eye) { return eye == Eye::right ? 180.0 : 0.0; }

inline Act remove_prism(Tick at_ms, Eye eye) {
  act::RemovePrism a;
  a.eye = eye;
  return {at_ms, a};
}

inline Act show(Tick at_ms, double distance_m, double horizontal_deg = 0, double vertical_deg = 0,
                TargetKind kind = TargetKind::letters) {
  act::ShowTarget a;
  a.kind = kind;
  a.distance_m = distance_m;
  a.horizontal_deg = horizontal_deg;
  a.vertical_deg = vertical_deg;
  return {at_ms, a};
}

inline Act lenses(Tick at_ms, double power_d) {
  return {at_ms, act::TrialLenses{{power_d, power_d}}};
}

/// Every row of the examination, by its millisecond.
struct Trace {
  std::vector<Observation> rows;
  double interpupillary_mm = 63.0;

  const Observation& at(Tick t) const { return rows.at(static_cast<std::size_t>(t)); }
  [[nodiscard]] Tick last() const { return static_cast<Tick>(rows.size()) - 1; }

  /// 100 tan of the eyes' vergence less that of a target straight ahead; eso +.
  [[nodiscard]] double deviation_pd(Tick t, double distance_m = 6.0) const {
    const auto& o = at(t);
    const double demand = 2.0 * std::atan(interpupillary_mm / 2000.0 / distance_m) * kDegrees;
    const double turned = o.eye.left.horizontal_deg - o.eye.right.horizontal_deg;
    return 100.0 * std::tan((turned - demand) / kDegrees);
  }

  /// First row at or after t for which it holds; fails the test if there is none.
  template <class Condition>
  Tick when(Tick t, Condition&& holds) const {
    for (; t <= last(); ++t) {
      if (holds(at(t))) return t;
    }
    FAIL("nothing of the kind happened after " << t << " ms");
    return t;
  }
  [[nodiscard]] Tick covered_after(Tick t, Eye eye) const {
    return when(t, [eye](const Observation& o) { return o.eye[eye].covered; });
  }
  [[nodiscard]] Tick free_after(Tick t, Eye eye) const {
    return when(t, [eye](const Observation& o) { return !o.eye[eye].covered; });
  }
  /// First row after t in which the eye has turned by `degrees` from where it was at t.
  [[nodiscard]] Tick moved_after(Tick t, Eye eye, double degrees) const {
    const double before = at(t).eye[eye].horizontal_deg;
    return when(t, [=](const Observation& o) {
      return std::abs(o.eye[eye].horizontal_deg - before) > degrees;
    });
  }
};

inline Trace run_story(const Case& the_case, const std::vector<Act>& acts, Tick until,
                       double noise = 0.0, std::uint64_t seed = 1) {
  struct Sink {
    Trace trace;
    void row(const Observation& o) { trace.rows.push_back(o); }
  } sink;
  sink.trace.interpupillary_mm = the_case.patient.interpupillary_distance.value;
  record::RunOptions options;
  options.chance = {seed, noise, true};
  options.until_ms = until;
  record::run(setup_of(the_case), acts, options, sink);
  return std::move(sink.trace);
}

}  // namespace redress::tests
