// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Spectacles: what a lens does to a measured deviation, and prism off its centre. Ids B.. are those
// of the check cases.
#include "sim/evidence/rows.hpp"

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/basics/vector.hpp"
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

double label_of(const std::string& members, bool spectacles) {
  const truth::Condition c =
      truth::calc_condition(setup_with(members), 6.0, spectacles, Eye::right);
  if (!c.neutralising_horizontal_pd) throw DidNotHappen{"no prism neutralises it"};
  return elementary::magnitude(*c.neutralising_horizontal_pd);
}

// The label that neutralises a constant deviation seen through its full correction, as a size,
// where without lenses exactly `true_pd` would do. (The eyes' own turn is another number than a
// label.)
double measured_through(double true_pd, double power_d) {
  const std::string bare = deviation_of(true_pd, true_pd) + R"(, "fusion": {"present": false})";
  const double through = label_of(bare + ", " + glasses(power_d, power_d), true);
  return through * elementary::magnitude(true_pd) / label_of(bare, false);
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

constexpr double kLensToCentreMm = 12.0 + optics::kCorneaToCentreMm;

// The vertical label that neutralises behind lenses, looking down through points so far below their
// centres.
double vertical_behind(double right_d, double left_d, double below_mm) {
  const double down =
      -elementary::arc_tangent(below_mm / kLensToCentreMm) * elementary::kDegreesPerRadian;
  const ExaminationSetup setup = setup_with(
      deviation_of(0, 0) + R"(, "fusion": {"present": false}, )" + glasses(right_d, left_d));
  Opening opening;
  opening.target = truth::plain_target(6.0, 0.0, down);
  opening.spectacles = true;
  const truth::Condition c = truth::calc_dissociated_condition(setup, opening, Eye::right);
  if (!c.neutralising_vertical_pd) throw DidNotHappen{"no prism neutralises it"};
  return elementary::magnitude(*c.neutralising_vertical_pd);
}

// How a lens before the right eye bends the line of sight at a place in it, + out and + up, prism
// dioptres: the target far away is moved until the line goes through there.
struct Bend {
  double out_pd = 0.0;
  double up_pd = 0.0;
};
Bend bend_at(double power_d, double in_mm, double down_mm) {
  constexpr double kFarM = 500.0;
  const ExaminationSetup setup = setup_with(
      deviation_of(0, 0) + R"(, "fusion": {"present": false}, )" + glasses(power_d, power_d));
  // As slopes to the right and up; a right eye's nose is to the left.
  const double wanted_x = -in_mm / kLensToCentreMm;
  const double wanted_y = -down_mm / kLensToCentreMm;
  double x = wanted_x;
  double y = wanted_y;
  for (int i = 0; i < 8; ++i) {
    const GazeAngles at = gaze_angles(normalised(Vector{x, y, -1.0}));
    Opening opening;
    opening.target = truth::plain_target(kFarM, at.horizontal.value, at.vertical.value);
    opening.spectacles = true;
    const EyeObservation eye = truth::dissociate(setup, opening, Eye::right).observe().eye.right;
    const Vector sight = line_of_sight({Degrees{eye.horizontal_deg}, Degrees{eye.vertical_deg}});
    x += wanted_x - sight.x / -sight.z;
    y += wanted_y - sight.y / -sight.z;
  }
  return {100.0 * (x - wanted_x), 100.0 * (y - wanted_y)};
}

void add_off_centre(Group& g) {
  g.add("B08", "R +3.00, L -1.00, looking 5 mm below the centres: vertical imbalance",
        about(2.0, 0.2), "Δ", "worked example in optics review notes; Prentice's rule", [](Bench&) {
          return figure(elementary::magnitude(vertical_behind(3.0, -1.0, 5.0)),
                        "label before the left eye");
        });
  constexpr const char* kReview = "worked example in optics review notes";
  g.add("B09.up", "+5.00 in each lens, 2 mm in and 8 mm down: prism base up", about(4.0, 0.05), "Δ",
        kReview, [](Bench&) { return figure(bend_at(5.0, 2.0, 8.0).up_pd); });
  g.add("B09.out", "the same: prism base out", about(1.0, 0.05), "Δ", kReview,
        [](Bench&) { return figure(bend_at(5.0, 2.0, 8.0).out_pd); });
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
