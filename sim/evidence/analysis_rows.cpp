// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Rules of analysis and norms as arithmetic, and the AC/A ratio by both methods. Ids D.. are those
// of the check cases.
#include "sim/evidence/rows.hpp"

#include <fmt/format.h>

#include "sim/cases/proximal.hpp"
#include "sim/optics/sight.hpp"
#include "sim/truth/criteria.hpp"
#include "sim/truth/procedures.hpp"

namespace redress::evidence {

namespace {

constexpr const char* kSheard = "Sheard's rule, worked examples: P = (2D - R)/3";
constexpr const char* kPercival = "Percival: the middle third; formula from memory";

void add_rules(Group& g) {
  g.add("D01", "Sheard: exo 9, base-out blur 12", about(2.0, 0.01), "Δ base in", kSheard,
        [](Bench&) { return figure(truth::calc_sheard_prism(9, 12)); });
  g.add("D02", "Sheard: eso 3, base-in blur 8 (below 0: none)", about(-0.667, 0.01), "Δ", kSheard,
        [](Bench&) { return figure(truth::calc_sheard_prism(3, 8)); });
  g.add("D04", "Sheard: exo 10, base-out blur 10", printed("3.25 (rounded)", about(3.333, 0.01)),
        "Δ base in", kSheard, [](Bench&) { return figure(truth::calc_sheard_prism(10, 10)); });
  g.add(
      "D05", "Percival: 20 and 8", about(1.333, 0.01), "Δ", kPercival,
      [](Bench&) { return figure(truth::calc_percival_prism(20, 8)); }, Standing::from_memory);
  g.add("D06", "Percival: 20 and 10", about(0, 0.01), "Δ", kPercival,
        [](Bench&) { return figure(truth::calc_percival_prism(20, 10)); });
  g.add("D08", "AC/A, heterophoria: 60 mm, 36 eso at 6 m, 30 eso at 33 cm", about(4.0, 0.05), "Δ/D",
        "examination question; interpupillary distance + d (N - D)",
        [](Bench&) { return figure(truth::calc_ac_a_heterophoria(6.0, 1.0 / 3.0, 36, 30)); });
  g.add("D09", "AC/A, gradient: 10 eso to 25 eso with -3.00", about(5.0, 0.01), "Δ/D",
        "examination question",
        [](Bench&) { return figure(truth::calc_ac_a_gradient(10, 25, -3)); });
  g.add("D10", "25 eso uncorrected, +4.00 in full, AC/A 6: what is left", about(1.0, 0.1), "Δ",
        "examination question", [](Bench&) {
          const ExaminationSetup setup =
              setup_with(deviation_of(1, 4, 6) + R"(, "patient": {"age_years": 5}, "refraction": {
                "right": {"sphere_d": 4}, "left": {"sphere_d": 4}})");
          Opening opening;
          opening.target = truth::plain_target(6.0);
          const double bare = truth::calc_dissociated(setup, opening, Eye::right).horizontal_pd;
          opening.lenses_d = {4.0, 4.0};
          const double full = truth::calc_dissociated(setup, opening, Eye::right).horizontal_pd;
          return figure(25.0 - (bare - full),
                        fmt::format("{} uncorrected, {} corrected", format_number(bare),
                                    format_number(full)));
        });
  const auto demand = [](double distance_m) {
    // Each eye's turn in prism dioptres, added as the formula adds them.
    const Degrees both = optics::vergence_demand(Millimetres{60}, distance_m);
    return 2.0 * to_pd(0.5 * both.value);
  };
  g.add(
      "D12.spectacle", "vergence demand at 40 cm, 60 mm, from the spectacle plane",
      about(15.0, 0.01), "Δ", "100 x IPD / d",
      [demand](Bench&) { return figure(demand(0.40), "each eye's half, added"); },
      Standing::derived);
  g.add(
      "D12.centre", "the same to the centres of rotation (+27 mm)", about(14.05, 0.01), "Δ",
      "100 x IPD / d", [demand](Bench&) { return figure(demand(0.427)); }, Standing::derived);
  g.add("D13", "least amplitude at 12 years", about(12.0, 0.01), "D",
        "Hofstetter 1950: 15 - 0.25 age",
        [](Bench&) { return figure(truth::calc_least_amplitude_d(12)); });
  g.add("D14", "near phoria of 9 exo against 3 exo, SD 3", about(-2.0, 0.01), "SD",
        "Morgan 1944, table in Scheiman & Wick",
        [](Bench&) { return figure(truth::calc_z(-9, -3, 3)); });
}

// A patient whose AC/A is 4 by the gradient, with the phorias of Morgan's means.
std::string morgan() { return deviation_of(-1, -3, 4); }

void add_ac_a(Group& g) {
  g.add(
      "AC.gradient", "AC/A of 4 by +-1.00 D at 40 cm", about(4.0, 0.5), "Δ/D",
      "the gradient per dioptre of stimulus, by definition; margin of one reading",
      [](Bench&) { return figure(truth::calc_ac_a_gradient(setup_with(morgan()))); },
      Standing::derived);
  const auto heterophoria = [] {
    const ExaminationSetup setup = setup_with(morgan());
    const auto at = [&](double distance_m) {
      Opening opening;
      opening.target = truth::plain_target(distance_m);
      return truth::calc_dissociated(setup, opening, Eye::right).horizontal_pd;
    };
    return truth::calc_ac_a_heterophoria(6.3, 0.40, at(6.0), at(0.40));
  };
  g.add("AC.heterophoria", "the same patient by the heterophoria method",
        printed("5.0 (IQR 1.7)", between(4.15, 5.85)), "Δ/D", "Murray & Newsham 2018 (median)",
        [heterophoria](Bench&) { return figure(heterophoria()); });
  g.add("AC.order", "heterophoria method less gradient", at_least(0.5), "Δ/D",
        "Murray & Newsham 2018: medians 5.0 and 2.0; proximal vergence counts in one only",
        [heterophoria](Bench&) {
          return figure(heterophoria() - truth::calc_ac_a_gradient(setup_with(morgan())));
        });
  g.add(
      "AC.why", "that difference, per dioptre, against proximal vergence and response",
      about(0.0, 0.6), "Δ/D", "what is left when proximal vergence over 2.33 D is taken off",
      [heterophoria](Bench&) {
        const double difference = heterophoria() - truth::calc_ac_a_gradient(setup_with(morgan()));
        const double proximal = proximal_pd_at_40cm(case_with(morgan())) / 2.5;
        return figure(difference - proximal,
                      fmt::format("difference {}, proximal {}", format_number(difference),
                                  format_number(proximal)));
      },
      Standing::derived);
  g.add("AC.response", "response AC/A over stimulus AC/A",
        printed("2.43/1.98 = 1.23", between(1.0, 1.45)), "",
        "Br Ir Orthopt J 2010;7:41 (SD 1.3 and 1.6)", [](Bench&) {
          const auto at = [](double power) {
            const Trace t = run_story(deviation_of(0, 0, 4),
                                      {show(0, 0.40), lenses(0, power), cover(0, Eye::left)}, 7000);
            return std::pair{t.deviation_pd(7000, 0.40), t.at(7000).accommodation_d};
          };
          const auto [more, response_more] = at(-1.0);
          const auto [less, response_less] = at(1.0);
          return figure(2.0 / (response_more - response_less),
                        fmt::format("{} Δ for {} D of response", format_number(more - less),
                                    format_number(response_more - response_less)));
        });
  g.add(
      "AC.presbyope", "at 60 years, -3.00 at 40 cm changes the deviation by", about(0.0, 0.3), "Δ",
      "no accommodation is left to call on",
      [](Bench&) {
        const auto with = [](double power) {
          const Trace t = run_story(deviation_of(-1, -6) + R"(, "patient": {"age_years": 60})",
                                    {show(0, 0.40), lenses(0, power), cover(0, Eye::left)}, 7000);
          return t.deviation_pd(7000, 0.40);
        };
        return figure(with(-3.0) - with(0.0));
      },
      Standing::derived);
}

}  // namespace

void add_analysis_rows(std::vector<Row>& rows) {
  Group rules(rows, "Rules of analysis");
  add_rules(rules);
  Group ac_a(rows, "AC/A by both methods");
  add_ac_a(ac_a);
}

}  // namespace redress::evidence
