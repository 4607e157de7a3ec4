// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Morgan's expected values: phorias, and reserves by a smooth prism and by a bar; the near point.
#include "sim/evidence/rows.hpp"

#include <fmt/format.h>

#include "sim/patient/step.hpp"
#include "sim/truth/procedures.hpp"

namespace redress::evidence {

namespace {

constexpr const char* kMorgan = "Morgan 1944, table in Scheiman & Wick";

// A healthy patient is one with Morgan's means, which are the defaults of a case.
std::string healthy() { return deviation_of(-1, -3); }

// A rotary prism before the left eye, turned up by a tenth every 60 ms: blur, break, recovery.
truth::ReserveReading read_smoothly(double distance_m, double base_deg) {
  constexpr double kStep = 0.1;
  constexpr Tick kEveryMs = 60;
  Opening opening;
  opening.target = truth::plain_target(distance_m);
  Examination exam(setup_with(healthy()), truth::kCalm, opening);
  const auto turn_to = [&](double label, Tick ms) {
    exam.apply(hold_prism(0, Eye::left, label, base_deg).content);
    truth::wait(exam, ms);
  };
  const auto holds = [&] { return exam.patient_state().fusion.locked; };
  truth::ReserveReading reading;
  double label = 0.0;
  while (holds() && label < 60.0) {
    turn_to(label += kStep, kEveryMs);
    const patient::Retinas retinas = calc_retinas(exam.setup().room, exam.room());
    const bool clear =
        patient::calc_percept(exam.setup().patient, retinas, exam.patient_state()).clear;
    if (!reading.blur_pd && holds() && !clear) reading.blur_pd = label;
  }
  if (holds()) return reading;
  reading.break_pd = label;
  truth::wait(exam, 1000);
  while (!holds() && label > 2.0 * kStep) turn_to(label -= kStep, kEveryMs);
  if (holds()) reading.recovery_pd = label;
  return reading;
}

struct Norm {
  const char* id;
  const char* words;
  double distance_m;
  bool out;
  std::optional<double> truth::ReserveReading::*part;
  double mean, sd, bar;
};

using truth::ReserveReading;

constexpr Norm kNorms[] = {
    {"far.out.blur", "distance base out, blur", 6.0, true, &ReserveReading::blur_pd, 9, 4, 10},
    {"far.out.break", "distance base out, break", 6.0, true, &ReserveReading::break_pd, 19, 8, 20},
    {"far.out.recovery", "distance base out, recovery", 6.0, true, &ReserveReading::recovery_pd, 10,
     4, 10},
    {"far.in.break", "distance base in, break", 6.0, false, &ReserveReading::break_pd, 7, 3, 8},
    {"far.in.recovery", "distance base in, recovery", 6.0, false, &ReserveReading::recovery_pd, 4,
     2, 4},
    {"near.out.blur", "near base out, blur", 0.4, true, &ReserveReading::blur_pd, 17, 5, 18},
    {"near.out.break", "near base out, break", 0.4, true, &ReserveReading::break_pd, 21, 6, 25},
    {"near.out.recovery", "near base out, recovery", 0.4, true, &ReserveReading::recovery_pd, 11, 7,
     10},
    {"near.in.blur", "near base in, blur", 0.4, false, &ReserveReading::blur_pd, 13, 4, 14},
    {"near.in.break", "near base in, break", 0.4, false, &ReserveReading::break_pd, 21, 4, 25},
    {"near.in.recovery", "near base in, recovery", 0.4, false, &ReserveReading::recovery_pd, 13, 5,
     12},
};

Figure read(const ReserveReading& reading, const Norm& norm) {
  const auto& found = reading.*norm.part;
  return found ? figure(*found) : in_words("not reached");
}

void add_reserves(Group& smooth, Group& bar) {
  for (const Norm& n : kNorms) {
    smooth.add(
        std::string{"R.smooth."} + n.id, std::string{n.words} + ", smooth prism",
        printed(fmt::format("{} (SD {}); 1 allowed", n.mean, n.sd), about(n.mean, 1.0)), "Δ",
        kMorgan, [n](Bench& b) {
          const auto& reading = b.once(fmt::format("smooth {} {}", n.distance_m, n.out), [&] {
            return read_smoothly(n.distance_m, n.out ? base_out(Eye::left) : base_in(Eye::left));
          });
          return read(reading, n);
        });
  }
  for (const Norm& n : kNorms) {
    bar.add(
        std::string{"R.bar."} + n.id, std::string{n.words} + ", prism bar", about(n.bar, 0.0), "Δ",
        "Morgan's mean on the steps of a bar: the next up, for recovery the next down",
        [n](Bench& b) {
          const auto& all = b.once(fmt::format("bar {}", n.distance_m), [&] {
            return truth::calc_reserves(setup_with(healthy()), n.distance_m);
          });
          return read(n.out ? all.base_out : all.base_in, n);
        },
        Standing::derived);
  }
}

void add_phorias(Group& g) {
  const auto phoria = [](double distance_m) {
    Opening opening;
    opening.target = truth::plain_target(distance_m);
    return figure(
        truth::calc_dissociated(setup_with(healthy()), opening, Eye::right).horizontal_pd);
  };
  g.add("R.phoria.far", "lateral phoria at 6 m", mean_and_sd(-1, 2), "Δ", kMorgan,
        [phoria](Bench&) { return phoria(6.0); });
  g.add("R.phoria.near", "lateral phoria at 40 cm", mean_and_sd(-3, 3), "Δ", kMorgan,
        [phoria](Bench&) { return phoria(0.40); });
  g.add("R.blur.far.in", "blur at distance base in", exactly("none"), "",
        "a blur there is itself a finding; no value in Morgan's table", [](Bench& b) {
          const auto& all =
              b.once("bar 6", [] { return truth::calc_reserves(setup_with(healthy()), 6.0); });
          return in_words(all.base_in.blur_pd ? "some" : "none");
        });
  g.add(
      "R.straight", "near base-out break of 21 with an exophoria of 8, by a bar", about(25, 0), "Δ",
      "reserves are read on the prism from the straight position",
      [](Bench&) {
        const auto found = truth::calc_reserves(setup_with(deviation_of(-8, -8)), 0.40);
        return found.base_out.break_pd ? figure(*found.base_out.break_pd) : in_words("not reached");
      },
      Standing::common_practice);
  const auto near_point = [](const std::string& members, bool recovery) {
    const truth::NearPoint found = truth::calc_near_point(setup_with(members));
    const auto& part = recovery ? found.recovery_cm : found.break_cm;
    return part ? figure(*part) : in_words("not reached");
  };
  g.add("R.near_point", "near point of convergence, break", between(5, 10), "cm",
        "Wajuihian 2018, J Optom 12:143, 13 to 18 years",
        [near_point](Bench&) { return near_point(healthy(), false); });
  g.add("R.near_point.adult", "near point of convergence, adults, break", at_most(5), "cm",
        "Scheiman et al. 2003, OVS 80:214: cut-off 5",
        [near_point](Bench&) { return near_point(healthy(), false); });
  g.add("R.near_point.recovery", "near point of convergence, adults, recovery", at_most(7), "cm",
        "Scheiman et al. 2003: cut-off 7",
        [near_point](Bench&) { return near_point(healthy(), true); });
  g.add("R.near_point.slow", "near point at 1 cm/s", printed("6.72", about(6.72, 1.5)), "cm",
        "study of speed: 6.72 at 1 cm/s, 5.44 at 5 cm/s",
        [near_point](Bench&) { return near_point(healthy(), false); });
}

}  // namespace

void add_reserve_rows(std::vector<Row>& rows) {
  Group smooth(rows, "Phorias, near point, reserves by a smooth prism");
  Group bar(rows, "Reserves by a prism bar");
  add_phorias(smooth);
  add_reserves(smooth, bar);
}

}  // namespace redress::evidence
