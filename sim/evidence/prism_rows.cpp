// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Prisms: conversion, hold, stacks, splits, near effect. Ids A.. are those of the check cases.
#include "sim/evidence/rows.hpp"

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/basics/vector.hpp"
#include "sim/optics/prism.hpp"
#include "sim/optics/sight.hpp"
#include "sim/truth/truth.hpp"

namespace redress::evidence {

namespace {

using optics::Calibration;
using optics::Hold;
using optics::Material;

constexpr const char* kDefinition = "prism dioptre: 100 times the tangent (Gurnani, Prisms, 2023)";
constexpr const char* kThompson = "Thompson & Guyton 1983, Ophthalmology 90:204 (abstract)";
constexpr const char* kSnell = "Snell's law with the index that gives Thompson & Guyton's figures";
constexpr const char* kAnglesAdd = "angles add: 100 tan(atan a + atan b)";
constexpr const char* kNear = "Brooks & Borish, System for Ophthalmic Dispensing: P/(1 - s/l)";

void add_conversions(Group& g) {
  struct Pair {
    const char* id;
    double from, to;
  };
  for (const Pair& p : {Pair{"A01", 1, 0.5729}, Pair{"A02", 2, 1.1458}, Pair{"A04", 10, 5.7106},
                        Pair{"A05", 20, 11.3099}, Pair{"A06", 45, 24.2277}, Pair{"A08", 100, 45}}) {
    g.add(p.id, fmt::format("{} Δ as an angle", p.from), about(p.to, 0.0005), "°", kDefinition,
          [p](Bench&) { return figure(to_deg(p.from)); });
  }
  for (const Pair& p : {Pair{"A09", 1, 1.7455}, Pair{"A10", 4, 6.9927}, Pair{"A12", 15, 26.7949},
                        Pair{"A13", 30, 57.7350}}) {
    g.add(p.id, fmt::format("{}° in prism dioptres", p.from), about(p.to, 0.0005), "Δ", kDefinition,
          [p](Bench&) { return figure(to_pd(p.from)); });
  }
}

double angle_at(double half_cm, double distance_m) {
  return gaze_angles(Vector{10.0 * half_cm, 0.0, -1000.0 * distance_m}).horizontal.value;
}

void add_lengths(Group& g) {
  g.add("A14", "8 Δ at 6 m displaces by", about(48.0, 0.01), "cm", kDefinition, [](Bench&) {
    return figure(600.0 * elementary::tangent(to_deg(8.0) * elementary::kRadiansPerDegree));
  });
  g.add("A16", "a 12 cm line about the midline at 6 m", about(2.0002, 0.0005), "Δ", kDefinition,
        [](Bench&) { return figure(to_pd(2.0 * angle_at(6.0, 6.0))); });
  g.add("A17", "60 cm at 6 m, from straight ahead", about(10.0, 0.001), "Δ", kDefinition,
        [](Bench&) { return figure(to_pd(angle_at(60.0, 6.0))); });
  g.add("A18", "4.0 mm at 40 cm", about(1.0, 0.001), "Δ", kDefinition,
        [](Bench&) { return figure(to_pd(angle_at(0.4, 0.4))); });
  g.add(
      "A16.sweep", "eyes read the ends of a 12 cm line at 6 m", about(2.0, 0.1), "Δ",
      "a 12 cm line swept end to end is a 2 Δ movement",
      [](Bench&) {
        act::ShowTarget line;
        line.width_mm = 120.0;
        const Trace trace = run_story(
            deviation_of(-1, -3), {{0, line}, {1000, act::Instruct{Instruction::line_ends}}}, 8000);
        // Left end until 2500 and from 4000 on, right end between.
        return figure(
            to_pd(trace.horizontal(3900, Eye::right) - trace.horizontal(5400, Eye::right)));
      },
      Standing::common_practice);
}

void add_splits(Group& g) {
  struct Split {
    const char* id;
    double right, left, sum;
  };
  for (const Split& s : {Split{"A20", 40, 5, 45.92}, Split{"A21", 40, 10, 52.08},
                         Split{"A22", 20, 20, 41.67}, Split{"A24", 30, 30, 65.93}}) {
    g.add(
        s.id, fmt::format("{} Δ before one eye and {} Δ before the other", s.right, s.left),
        about(s.sum, 0.02), "Δ", kAnglesAdd,
        [s](Bench&) { return figure(to_pd(to_deg(s.right) + to_deg(s.left))); }, Standing::derived);
  }
}

// What a far target's direction is turned by, as 100 tan; nothing where no light gets through.
std::optional<double> effect_of(const std::vector<double>& labels, Material material, Hold hold) {
  std::vector<optics::HeldPrism> prisms;
  for (const double label : labels) {
    const auto held = optics::make_held_prism(PrismDioptres{label}, material, Degrees{180.0});
    if (!held) return std::nullopt;
    prisms.push_back(*held);
  }
  const Vector ahead{0, 0, -1};
  const auto stack = optics::make_stack(prisms, hold, Degrees{0}, Vector{}, ahead);
  if (!stack) return std::nullopt;
  const auto seen = optics::apparent_direction(Vector{}, ahead * 1e9, stack->view());
  if (!seen) return std::nullopt;
  return elementary::magnitude(to_pd(gaze_angles(*seen).horizontal.value));
}

Figure effect(const std::vector<double>& labels, Material material, Hold hold) {
  const auto found = effect_of(labels, material, hold);
  return found ? figure(*found) : in_words("no light comes through");
}

// How far the fixing right eye turns behind the prisms, the left being covered.
Figure turn_behind(const std::vector<double>& labels, PrismHold hold) {
  std::vector<Act> acts{show(0, 100.0), cover(0, Eye::left)};
  std::int32_t slot = 1;
  for (const double label : labels) {
    act::HoldPrism a;
    a.power = PrismDioptres{label};
    a.base = Degrees{180};
    a.material = PrismMaterial::glass;
    a.held = hold;
    a.slot = slot++;
    acts.push_back({2000, a});
  }
  const Trace trace = run_story(deviation_of(0, 0), acts, 7000);
  return figure(elementary::magnitude(
      to_pd(trace.horizontal(7000, Eye::right) - trace.horizontal(1900, Eye::right))));
}

void add_holds(Group& g) {
  g.add("A25", "40 Δ glass with the back face frontal: the eye turns by",
        printed("32", about(32, 0.5)), "Δ", kThompson,
        [](Bench&) { return turn_behind({40}, PrismHold::frontal); });
  g.add("A26", "5 Δ on 40 Δ glass, Prentice position: the eye turns by",
        printed("59", about(59, 0.6)), "Δ", kThompson, [](Bench&) {
          return turn_behind({40, 5}, PrismHold::prentice);
        });
  struct Stack {
    const char* id;
    double inner, outer, sum;
  };
  for (const Stack& s :
       {Stack{"A28", 20, 20, 75.76}, Stack{"A29", 30, 10, 59.54}, Stack{"A30", 20, 5, 27.40}}) {
    g.add(
        s.id, fmt::format("{} on {} Δ glass, Prentice position", s.outer, s.inner),
        about(s.sum, 0.3), "Δ", kSnell,
        [s](Bench&) {
          return effect({s.inner, s.outer}, Material::glass, Hold::prentice);
        },
        Standing::derived);
  }
  g.add(
      "A32", "10 on 40 Δ glass, Prentice position", exactly("no light comes through"), "", kSnell,
      [](Bench&) {
        return effect({40, 10}, Material::glass, Hold::prentice);
      },
      Standing::derived);
  g.add(
      "A33", "20 Δ glass with the back face frontal", about(18.83, 0.1), "Δ", kSnell,
      [](Bench&) { return effect({20}, Material::glass, Hold::frontal); }, Standing::derived);
  g.add(
      "A34", "40 Δ acrylic (1.492), labelled at least deviation, Prentice position",
      printed("72", about(72.35, 1.0)), "Δ",
      "Thompson & Guyton 1983, body text; Snell's law gives 72.35",
      [](Bench&) {
        const auto apex =
            optics::apex_angle(PrismDioptres{40}, 1.492, Calibration::minimum_deviation);
        if (!apex) return in_words("no such prism");
        const auto turned = optics::calc_deviation(*apex, 1.492, Calibration::prentice);
        return turned ? figure(to_pd(turned->value)) : in_words("no light comes through");
      },
      Standing::from_memory);
}

void add_oblique(Group& g) {
  constexpr const char* kVectors = "vector sum (Durham Technical College optics notes)";
  // A left lens: base out is 0, base up 90.
  const auto sum = [](double horizontal, double base, double up) {
    return optics::combine({PrismDioptres{horizontal}, Degrees{base}},
                           {PrismDioptres{up}, Degrees{90}});
  };
  g.add("A36.power", "10 Δ base out with 4 Δ base up", about(10.77, 0.01), "Δ", kVectors,
        [sum](Bench&) { return figure(sum(10, 0, 4).power.value); });
  g.add("A36.base", "its base, from the horizontal", about(21.80, 0.05), "°", kVectors,
        [sum](Bench&) { return figure(sum(10, 0, 4).base.value); });
  g.add("A37.power", "2 Δ base in with 1.5 Δ base up, right lens", about(2.5, 0.01), "Δ", kVectors,
        [sum](Bench&) { return figure(sum(2, 0, 1.5).power.value); });
  g.add("A37.base", "its base", about(37, 0.5), "°", kVectors,
        [sum](Bench&) { return figure(sum(2, 0, 1.5).base.value); });
  const auto parts = [] {
    return optics::resolve({PrismDioptres{2.5}, Degrees{36.86989764584402}});
  };
  g.add("A38.horizontal", "2.5 Δ at 36.87°, horizontal part", about(2.0, 0.001), "Δ", kVectors,
        [parts](Bench&) { return figure(parts().along_0.value); });
  g.add("A38.vertical", "2.5 Δ at 36.87°, vertical part", about(1.5, 0.001), "Δ", kVectors,
        [parts](Bench&) { return figure(parts().along_90.value); });
}

void add_near(Group& g) {
  struct Near {
    const char* id;
    double distance_m, effect;
    const char* words;
  };
  for (const Near& n : {Near{"A40", 0.40, 9.368, "40 cm"}, Near{"A41", 1.0 / 3.0, 9.251, "1/3 m"},
                        Near{"A42", 6.0, 9.955, "6 m"}}) {
    g.add(n.id, fmt::format("10 Δ, target {} from the prism", n.words), about(n.effect, 0.005), "Δ",
          kNear, [n](Bench&) {
            return figure(optics::near_effect(PrismDioptres{10}, n.distance_m).value);
          });
  }
  g.add("A40.eye", "10 Δ before the fixing eye, target 40 cm from the prism: the eye turns by",
        about(9.368, 0.05), "Δ", kNear, [](Bench&) {
          const Trace trace = run_story(deviation_of(0, 0),
                                        {show(0, 0.427), cover(0, Eye::left),
                                         hold_prism(2000, Eye::right, 10, base_out(Eye::right))},
                                        8000);
          return figure(elementary::magnitude(to_pd(trace.horizontal(8000, Eye::right) -
                                                    trace.horizontal(1900, Eye::right))),
                        "100 tan of the turn, the other eye covered");
        });
  g.add(
      "P.A6", "label that neutralises an exotropia of 30 Δ at 33 cm", about(32.4, 0.4), "Δ",
      "near effect, 27 mm: 30/(1 - 0.027/0.357)",
      [](Bench&) {
        const truth::Condition c = truth::calc_condition(
            setup_with(deviation_of(-30, -30) + R"(, "fusion": {"present": false})"), 0.33, false,
            Eye::right);
        if (!c.neutralising_horizontal_pd) return in_words("no prism does it");
        return figure(
            -*c.neutralising_horizontal_pd * 30.0 / elementary::magnitude(c.horizontal_pd),
            "scaled to a deviation of exactly 30");
      },
      Standing::derived);
}

}  // namespace

void add_prism_rows(std::vector<Row>& rows) {
  Group g(rows, "Prisms");
  add_conversions(g);
  add_lengths(g);
  add_splits(g);
  add_holds(g);
  add_oblique(g);
  add_near(g);
}

}  // namespace redress::evidence
