// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Spectacles: what a lens does to a measured deviation, and prism off its centre. Ids B.. are those
// of the check cases.
#include "sim/evidence/rows.hpp"

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/optics/sight.hpp"
#include "sim/truth/conditions.hpp"
#include "sim/truth/truth.hpp"

namespace redress::evidence {

namespace {

constexpr const char* kScattergood =
    "Scattergood, Brown & Guyton 1983, Am J Ophthalmol 96:439: true x (1 - 0.025 F)";

std::string glasses(double right_d, double left_d) {
  return fmt::format(
      R"("refraction": {{"right": {{"sphere_d": {0}}}, "left": {{"sphere_d": {1}}},
         "spectacles": {{"right": {{"sphere_d": {0}}}, "left": {{"sphere_d": {1}}}}}}})",
      right_d, left_d);
}

// The label that neutralises a constant deviation seen through its full correction, as a size.
double measured_through(double true_pd, double power_d) {
  const truth::Condition c = truth::calc_condition(
      setup_with(deviation_of(true_pd, true_pd) + R"(, "fusion": {"present": false}, )" +
                 glasses(power_d, power_d)),
      6.0, true, Eye::right);
  if (!c.neutralising_horizontal_pd) throw DidNotHappen{"no prism neutralises it"};
  return elementary::magnitude(*c.neutralising_horizontal_pd);
}

void add_power(Group& g) {
  struct Rule {
    const char* id;
    double true_pd, power_d, measured, margin;
  };
  for (const Rule& r : {Rule{"B01", -40, -10, 50, 0.5}, Rule{"B02", -40, 10, 30, 0.5},
                        Rule{"B06.plus", 20, 4, 18, 0.1}, Rule{"B06.minus", 20, -4, 22, 0.1}}) {
    g.add(r.id,
          fmt::format("a deviation of {} Δ through {:+} D measures",
                      elementary::magnitude(r.true_pd), r.power_d),
          about(r.measured, r.margin), "Δ", kScattergood,
          [r](Bench&) { return figure(measured_through(r.true_pd, r.power_d)); });
  }
  struct Back {
    const char* id;
    double power_d, factor, margin;
  };
  for (const Back& b : {Back{"B04", 10, 4.0 / 3.0, 0.02}, Back{"B05.plus", 20, 2.0, 0.02},
                        Back{"B05.minus", -20, 2.0 / 3.0, 0.007}}) {
    g.add(
        b.id, fmt::format("true over measured through {:+} D", b.power_d),
        about(b.factor, b.margin), "", "the rule read backwards",
        [b](Bench&) { return figure(20.0 / measured_through(-20.0, b.power_d)); },
        Standing::derived);
  }
  g.add(
      "B.equal", "equal lenses of -6 D change the deviation 25° to the side by", at_most(0.5), "Δ",
      "equal lenses add almost none, whatever their power",
      [](Bench&) {
        const ExaminationSetup setup = setup_with(
            deviation_of(0, 0) + R"(, "fusion": {"present": false}, )" + glasses(-6, -6));
        const auto at = [&](double horizontal) {
          Opening opening;
          opening.target = truth::plain_target(6.0, horizontal, 0.0);
          return truth::calc_dissociated(setup, opening, Eye::right).horizontal_pd;
        };
        return figure(elementary::magnitude(at(25) - at(0)));
      },
      Standing::derived);
}

// The vertical deviation that appears behind lenses, looking down through a point so far below
// their centres.
double vertical_behind(double right_d, double left_d, double below_mm) {
  constexpr double kLensToCentreMm = 12.0 + optics::kCorneaToCentreMm;
  const double down =
      -elementary::arc_tangent(below_mm / kLensToCentreMm) * elementary::kDegreesPerRadian;
  const ExaminationSetup setup = setup_with(
      deviation_of(0, 0) + R"(, "fusion": {"present": false}, )" + glasses(right_d, left_d));
  Opening opening;
  opening.target = truth::plain_target(6.0, 0.0, down);
  opening.spectacles = true;
  return truth::calc_dissociated(setup, opening, Eye::right).vertical_pd;
}

void add_off_centre(Group& g) {
  g.add("B08", "R +3.00, L -1.00, looking 5 mm below the centres: vertical imbalance",
        about(2.0, 0.2), "Δ", "worked example in optics review notes; Prentice's rule", [](Bench&) {
          return figure(elementary::magnitude(vertical_behind(3.0, -1.0, 5.0)),
                        "eye's own turn; Prentice's rule is a thin-lens approximation");
        });
  g.add("B09", "+5.00 in each lens, 2 mm in and 8 mm down: prism",
        exactly("4 base up and 1 base out"), "Δ", "worked example in optics review notes",
        [](Bench&) -> Figure {
          throw NotSimulated{"no function for the prism off the centre of a lens"};
        });
  g.add("B10", "+3.00 decentred 4 mm: prism of each lens", about(1.2, 0.05), "Δ",
        "Prentice's rule: F x mm / 10", [](Bench&) {
          const auto label = [](double centres_mm) {
            const truth::Condition c = truth::calc_condition(
                setup_with(deviation_of(0, 0) +
                           fmt::format(R"(, "fusion": {{"present": false}}, "refraction": {{
                "right": {{"sphere_d": 3}}, "left": {{"sphere_d": 3}}, "spectacles": {{
                "right": {{"sphere_d": 3}}, "left": {{"sphere_d": 3}},
                "optical_centres_mm": {}}}}})",
                                       centres_mm)),
                6.0, true, Eye::right);
            return c.neutralising_horizontal_pd.value_or(99.0);
          };
          return figure(0.5 * elementary::magnitude(label(71) - label(63)), "half of both lenses'");
        });
  g.add(
      "B.side", "3 D of anisometropia, 25° down (12.6 mm off centre): vertical imbalance",
      about(3.8, 0.4), "Δ", "Prentice's rule: 1.26 cm x 3 D",
      [](Bench&) { return figure(elementary::magnitude(vertical_behind(0.0, -3.0, 12.6))); },
      Standing::derived);
  g.add(
      "B.worked", "6 Δ base out worked into each lens: deviation that is left of 12 eso",
      about(0.0, 0.6), "Δ", "a prism in the spectacles is a prism",
      [](Bench&) {
        const truth::Condition c = truth::calc_condition(
            setup_with(deviation_of(12, 12) + R"(, "fusion": {"present": false},
                "refraction": {"spectacles": {
                  "right": {"sphere_d": 0, "prism_pd": 6, "base_deg": 180},
                  "left": {"sphere_d": 0, "prism_pd": 6, "base_deg": 0}}})"),
            6.0, true, Eye::right);
        return figure(c.neutralising_horizontal_pd.value_or(99.0));
      },
      Standing::common_practice);
}

void add_errors(Group& g) {
  g.add(
      "B.hypermetrope", "+2.00 D uncorrected, AC/A 5: eso more than through the correction by",
      about(10.0, 1.0), "Δ", "AC/A times the accommodation that the error asks for",
      [](Bench&) {
        const ExaminationSetup setup = setup_with(
            deviation_of(0, 2, 5) + R"(, "patient": {"age_years": 12}, )" + glasses(2, 2));
        const auto with = [&](bool worn) {
          Opening opening;
          opening.target = truth::plain_target(0.40);
          opening.spectacles = worn;
          return truth::calc_dissociated(setup, opening, Eye::right).horizontal_pd;
        };
        return figure(with(false) - with(true));
      },
      Standing::derived);
}

}  // namespace

void add_lens_rows(std::vector<Row>& rows) {
  Group g(rows, "Spectacles");
  add_power(g);
  add_off_centre(g);
  add_errors(g);
}

}  // namespace redress::evidence
