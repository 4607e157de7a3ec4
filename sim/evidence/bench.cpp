// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/evidence/bench.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/record/run.hpp"

namespace redress::evidence {

using elementary::magnitude;

Case case_with(const std::string& members) {
  const Result<Case> read = read_case_text(
      R"({"format": "redress-case", "version": 1, "title": "evidence", )" + members + "}");
  if (!read) {
    const Problem& first = read.problems().front();
    throw NotSimulated{first.place + " " + first.message};
  }
  return read.value();
}

ExaminationSetup setup_with(const std::string& members) { return setup_of(case_with(members)); }

std::string deviation_of(double distance_pd, double near_pd, double ac_a) {
  return fmt::format(R"("deviation": {{"distance_pd": {}, "near_pd": {}, "ac_a_pd_per_d": {}}})",
                     distance_pd, near_pd, ac_a);
}

Act cover(Tick at_ms, Eye eye, OccluderKind kind) {
  act::Cover a;
  a.eye = eye;
  a.occluder = kind;
  return {at_ms, a};
}

Act uncover(Tick at_ms) { return {at_ms, act::Uncover{}}; }

Act hold_prism(Tick at_ms, Eye eye, double label, double base_deg) {
  act::HoldPrism a;
  a.eye = eye;
  a.power = PrismDioptres{label};
  a.base = Degrees{base_deg};
  return {at_ms, a};
}

Act remove_prism(Tick at_ms, Eye eye) {
  act::RemovePrism a;
  a.eye = eye;
  return {at_ms, a};
}

Act show(Tick at_ms, double distance_m, double horizontal_deg, double vertical_deg, TargetKind kind,
         double size_logmar) {
  act::ShowTarget a;
  a.kind = kind;
  a.distance_m = distance_m;
  a.size_logmar = size_logmar;
  a.horizontal_deg = horizontal_deg;
  a.vertical_deg = vertical_deg;
  return {at_ms, a};
}

Act lenses(Tick at_ms, double power_d) { return {at_ms, act::TrialLenses{{power_d, power_d}}}; }

Act ask(Tick at_ms, const std::string& what) { return {at_ms, act::Ask{what}}; }

double to_pd(double degrees) { return to_prism_dioptres(Degrees{degrees}).value; }
double to_deg(double prism_dioptres) { return to_degrees(PrismDioptres{prism_dioptres}).value; }

const Observation& Trace::at(Tick t) const {
  if (t < 0 || t > last()) throw DidNotHappen{fmt::format("nothing was watched at {} ms", t)};
  return rows[static_cast<std::size_t>(t)];
}

double Trace::deviation_pd(Tick t, double distance_m) const {
  const double demand = 2.0 * elementary::arc_tangent(interpupillary_mm / 2000.0 / distance_m) *
                        elementary::kDegreesPerRadian;
  return to_pd(horizontal(t, Eye::left) - horizontal(t, Eye::right) - demand);
}

double Trace::vertical_pd(Tick t) const {
  return to_pd(vertical(t, Eye::right) - vertical(t, Eye::left));
}

double Trace::speed(Tick t, Eye eye) const {
  return 500.0 * elementary::hypotenuse(horizontal(t + 1, eye) - horizontal(t - 1, eye),
                                        vertical(t + 1, eye) - vertical(t - 1, eye));
}

Tick Trace::when(Tick t, const std::string& what, const Holds& holds) const {
  for (; t <= last(); ++t) {
    if (holds(t)) return t;
  }
  throw DidNotHappen{what};
}

Tick Trace::covered_after(Tick t, Eye eye) const {
  return when(t, "the eye was not covered", [&](Tick k) { return at(k).eye[eye].covered; });
}

Tick Trace::free_after(Tick t, Eye eye) const {
  return when(t, "the eye was not freed", [&](Tick k) { return !at(k).eye[eye].covered; });
}

Tick Trace::moved_after(Tick t, Eye eye, double degrees) const {
  const double before = horizontal(t, eye);
  return when(t, "the eye did not move",
              [&](Tick k) { return magnitude(horizontal(k, eye) - before) > degrees; });
}

double Trace::furthest(Tick from, Tick to, Eye eye) const {
  double most = 0.0;
  for (Tick t = from; t <= to; ++t) {
    most = std::max(most, magnitude(horizontal(t, eye) - horizontal(from, eye)));
  }
  return most;
}

SaccadeMade find_saccade(const Trace& trace, Tick from, Eye eye) {
  constexpr double kOnset = 30.0;
  SaccadeMade made;
  made.start_ms = trace.when(std::max<Tick>(from, 1), "no saccade", [&](Tick t) {
    return t < trace.last() && trace.speed(t, eye) > kOnset;
  });
  Tick t = made.start_ms;
  for (; t < trace.last() && trace.speed(t, eye) > kOnset; ++t) {
    if (trace.speed(t, eye) > made.peak_deg_s) {
      made.peak_deg_s = trace.speed(t, eye);
      made.peak_ms = t;
    }
  }
  made.end_ms = t;
  // The slow head and tail belong to its size.
  const Tick begin = std::max<Tick>(made.start_ms - 10, 0);
  const Tick end = std::min<Tick>(made.end_ms + 20, trace.last());
  made.size_deg = elementary::hypotenuse(trace.horizontal(end, eye) - trace.horizontal(begin, eye),
                                         trace.vertical(end, eye) - trace.vertical(begin, eye));
  return made;
}

Trace run_story(const std::string& members, const std::vector<Act>& acts, Tick until, double noise,
                std::uint64_t seed) {
  struct Sink {
    Trace trace;
    void row(const Observation& o) { trace.rows.push_back(o); }
    void reply(const Reply& r) { trace.replies.push_back(r); }
  } sink;
  const Case the_case = case_with(members);
  sink.trace.interpupillary_mm = the_case.patient.interpupillary_distance.value;
  sink.trace.rows.reserve(static_cast<std::size_t>(until) + 1);
  record::RunOptions options;
  options.chance = {seed, noise, true};
  options.until_ms = until;
  record::run(setup_of(the_case), acts, options, sink);
  return std::move(sink.trace);
}

double calc_mean(const std::vector<double>& values) {
  if (values.empty()) throw DidNotHappen{"there is nothing to average"};
  double sum = 0.0;
  for (const double v : values) sum += v;
  return sum / static_cast<double>(values.size());
}

double calc_sd(const std::vector<double>& values) {
  if (values.size() < 2) throw DidNotHappen{"there are too few to spread"};
  const double mean = calc_mean(values);
  double sum = 0.0;
  for (const double v : values) sum += (v - mean) * (v - mean);
  return elementary::square_root(sum / static_cast<double>(values.size() - 1));
}

double calc_median(std::vector<double> values) {
  if (values.empty()) throw DidNotHappen{"there is nothing to take the middle of"};
  std::stable_sort(values.begin(), values.end());
  return values[values.size() / 2];
}

}  // namespace redress::evidence
