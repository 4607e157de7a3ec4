// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Accommodation: amplitude by age, response, dynamics.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/optics/sight.hpp"
#include "sim/patient/fusion.hpp"
#include "sim/patient/step.hpp"

namespace redress::evidence {

namespace {

constexpr const char* kHofstetter = "Hofstetter 1950: 18.5 - 0.30 age";

// Distance from the head origin at which the demand at the cornea is so many dioptres.
double distance_for(double demand_d) { return 1.0 / demand_d + optics::kCorneaToCentreMm / 1000.0; }

double response_at(double demand_d, double age_years) {
  const Trace t = run_story(
      deviation_of(-1, -3) + fmt::format(R"(, "patient": {{"age_years": {}}})", age_years),
      {show(0, distance_for(demand_d), 0, 0, TargetKind::letters, 0.6), cover(0, Eye::left)}, 6000);
  return t.at(6000).accommodation_d;
}

// The greatest response that any demand brings about; letters that can be made out through the
// blur.
double greatest_response(double age_years) {
  double most = 0.0;
  for (int demand = 1; demand <= 22; ++demand) {
    const Trace t = run_story(
        deviation_of(-1, -3) + fmt::format(R"(, "patient": {{"age_years": {}}})", age_years),
        {show(0, distance_for(demand), 0, 0, TargetKind::letters, 1.6), cover(0, Eye::left)}, 1000);
    most = std::max(most, t.at(1000).accommodation_d);
  }
  return most;
}

// Accommodation for a prism dioptre of vergence that two images without detail ask for.
double open_loop_response() {
  const patient::Parameters p = setup_with(deviation_of(-1, -3)).patient;
  patient::Retinas retinas;
  retinas.detail = 0.0;
  const double half = 0.5 * patient::calc_vergence_demand(p.interpupillary_mm, retinas.nearness_d);
  const auto ask = [&](double extra_deg) {
    for (const Eye eye : kBothEyes) {
      retinas.image[eye].horizontal_deg = -side_of(eye) * (half + 0.5 * extra_deg);
    }
  };
  ask(0.0);
  patient::State s = patient::opening_state(p, retinas);
  const auto settle = [&] {
    constexpr int kSettleMs = 4000;
    for (int i = 0; i < kSettleMs; ++i) patient::step(p, retinas, {1, 0.0, false}, s);
  };
  settle();
  const double response_before = s.accommodation.response_d;
  const double vergence_before = s.vergence_deg;
  ask(to_deg(6.0));
  settle();
  return (s.accommodation.response_d - response_before) / to_pd(s.vergence_deg - vergence_before);
}

void add_amplitude(Group& g) {
  for (const int age : {10, 20, 30, 40, 50}) {
    g.add(fmt::format("AM.{}", age), fmt::format("mean amplitude at {} years", age),
          about(18.5 - 0.30 * age, 0.1), "D", kHofstetter,
          [age](Bench&) { return figure(greatest_response(age), "greatest response"); });
  }
  g.add("AM.65", "amplitude at 65 years", printed("floor 0.5 to 1", between(0.5, 1.0)), "D",
        "depth of focus is what is left", [](Bench&) { return figure(greatest_response(65)); });
  g.add("AM.child", "amplitude at 9 years", about(14.4, 1.0), "D",
        "Hashemi et al., Clin Exp Optom: measured; the formula gives too much at 6 to 12 years",
        [](Bench&) { return figure(greatest_response(9)); });
}

void add_response(Group& g) {
  constexpr const char* kJohns = "Johns et al. 2004, OVS 81:939";
  g.add("A.lag.2", "lag at 2 D", mean_and_sd(0.34, 0.29), "D", kJohns,
        [](Bench&) { return figure(2.0 - response_at(2.0, 23)); });
  g.add("A.lag.6", "lag at 6 D", mean_and_sd(1.04, 0.66), "D", kJohns,
        [](Bench&) { return figure(6.0 - response_at(6.0, 23)); });
  g.add(
      "A.slope", "slope of the response, 1 to 5 D", between(0.80, 0.95), "", "Ciuffreda",
      [](Bench&) { return figure((response_at(5.0, 23) - response_at(1.0, 23)) / 4.0); },
      Standing::from_memory);
  g.add(
      "A.lead", "response at 6 m leads the demand by", between(0.0, 0.5), "D",
      "Ciuffreda: crosses unity near the tonic level",
      [](Bench&) { return figure(response_at(1.0 / 5.9865, 23) - 1.0 / 5.9865); },
      Standing::from_memory);
  g.add("A.tonic", "tonic accommodation: where response and demand are equal",
        mean_and_sd(1.84, 1.29), "D", "Liu et al. 2016, Vision Res 129:25 (in the dark)",
        [](Bench&) {
          double low = 0.2;
          double high = 4.0;
          for (int i = 0; i < 20; ++i) {
            const double middle = 0.5 * (low + high);
            (response_at(middle, 23) > middle ? low : high) = middle;
          }
          return figure(low);
        });
  g.add(
      "A.open", "convergence accommodation, open loop", between(0.08, 0.12), "D/Δ",
      "Fincham & Walton 1957; Schor; Rosenfield",
      [](Bench&) {
        return figure(open_loop_response(), "nothing to accommodate on; 6 Δ base out");
      },
      Standing::from_memory);
}

// One eye, a target that comes nearer at 1000 ms, or goes away.
const Trace& step_of(Bench& b, double from_d, double to_d) {
  return b.once(fmt::format("accommodation {} {}", from_d, to_d), [&] {
    return run_story(
        deviation_of(-1, -3),
        {show(0, distance_for(from_d)), cover(0, Eye::left), show(1000, distance_for(to_d))}, 5000);
  });
}

double share_time(const Trace& t, double share) {
  const double from = t.at(1000).accommodation_d;
  const double to = t.at(5000).accommodation_d;
  return static_cast<double>(t.when(1000, "accommodation did not follow", [&](Tick k) {
    return (t.at(k).accommodation_d - from) / (to - from) >= share;
  }) - 1000);
}

double time_constant(const Trace& t) {
  return 0.001 * (share_time(t, 0.9) - share_time(t, 0.1)) / elementary::logarithm(9.0);
}

double peak_speed(const Trace& t) {
  double most = 0.0;
  for (Tick k = 1001; k < 4999; ++k) {
    most = std::max(most, 500.0 * elementary::magnitude(t.at(k + 1).accommodation_d -
                                                        t.at(k - 1).accommodation_d));
  }
  return most;
}

void add_dynamics(Group& g) {
  constexpr const char* kCampbell = "Campbell & Westheimer 1960";
  g.add(
      "A.latency.near", "latency, far to near", printed("370 (300 to 400)", between(300, 400)),
      "ms", kCampbell, [](Bench& b) { return figure(share_time(step_of(b, 0.5, 2.5), 0.01)); },
      Standing::from_memory);
  g.add(
      "A.latency.far", "latency, near to far", printed("380 (300 to 400)", between(300, 400)), "ms",
      kCampbell, [](Bench& b) { return figure(share_time(step_of(b, 2.5, 0.5), 0.01)); },
      Standing::from_memory);
  g.add(
      "A.tau.near", "time constant, far to near: (t90 - t10)/ln 9",
      printed("0.25 (0.2 to 0.6)", between(0.2, 0.6)), "s",
      "Radhakrishnan, Allen & Charman 2007 (the measure); value of many",
      [](Bench& b) { return figure(time_constant(step_of(b, 0.5, 2.5))); }, Standing::from_memory);
  g.add(
      "A.tau.far", "time constant, near to far", printed("0.25 (0.2 to 0.6)", between(0.2, 0.6)),
      "s", "Radhakrishnan, Allen & Charman 2007 (the measure); value of many",
      [](Bench& b) { return figure(time_constant(step_of(b, 2.5, 0.5))); }, Standing::from_memory);
  for (const double start : {2.0, 4.0}) {
    g.add(fmt::format("A.speed.{}", start),
          fmt::format("peak velocity of relaxing from {} D", start),
          printed(fmt::format("{} (15 % allowed)", format_number(1.39 * start + 1.12)),
                  about(1.39 * start + 1.12, 0.15 * (1.39 * start + 1.12))),
          "D/s", "Bharadwaj & Schor: 1.39 start + 1.12", [start](Bench& b) {
            // The start counts as response: the demand that brings it about.
            const double demand = 0.75 + (start - 0.75) / 0.85;
            return figure(
                peak_speed(step_of(b, demand, 0.2)),
                fmt::format("from a response of {} D",
                            format_number(step_of(b, demand, 0.2).at(900).accommodation_d)));
          });
  }
}

}  // namespace

void add_accommodation_rows(std::vector<Row>& rows) {
  Group g(rows, "Accommodation");
  add_amplitude(g);
  add_response(g);
  add_dynamics(g);
}

}  // namespace redress::evidence
