// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Muscles: palsies in gaze and on head tilt, mechanical limits, internuclear weakness,
// counter-roll, the range of the eyes. R = right eye, left eye fixing, unless said.
//
// (fitted): an aim when the muscles' constants were found, met or not.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/evidence/gazes.hpp"

namespace redress::evidence {

using elementary::magnitude;

namespace {

constexpr const char* kPalsies = "orthoptic textbooks";

std::string lateral(double strength) { return weak("right", "lateral_rectus", strength); }
std::string oblique(double strength) { return weak("right", "superior_oblique", strength); }

void add_sixth(Group& g) {
  g.add(
      "M.LR.primary", "complete R lateral rectus palsy, straight ahead (fitted)", between(20, 40),
      "Δ eso", kPalsies, [](Bench&) { return figure(deviation_at(lateral(0), {}).horizontal_pd); },
      Standing::from_memory);
  g.add(
      "M.LR.away", "gaze away (left) over straight ahead (fitted)", at_most(0.40), "", kPalsies,
      [](Bench&) {
        return figure(deviation_at(lateral(0), {-25, 0}).horizontal_pd /
                      deviation_at(lateral(0), {}).horizontal_pd);
      },
      Standing::from_memory);
  g.add(
      "M.LR.adduction", "no exodeviation in adduction: deviation in left gaze", at_least(0.0),
      "Δ eso", kPalsies,
      [](Bench&) {
        return figure(deviation_at(lateral(0), {-25, 0}).horizontal_pd);
      },
      Standing::from_memory);
  g.add("M.LR.secondary", "strength 0.6: secondary over primary deviation (fitted)", at_least(1.05),
        "", "Hering's law: secondary larger", [](Bench&) {
          return figure(deviation_at(lateral(0.6), {}, Eye::right).horizontal_pd /
                        deviation_at(lateral(0.6), {}, Eye::left).horizontal_pd);
        });
  g.add(
      "M.LR.paresis", "strength 0.5, straight ahead (fitted)", between(10, 18), "Δ eso", kPalsies,
      [](Bench&) { return figure(deviation_at(lateral(0.5), {}).horizontal_pd); },
      Standing::from_memory);
  g.add(
      "M.LR.abduction", "complete palsy: furthest abduction of the right eye (fitted)",
      between(-5, 5), "°", "the eye does not pass the middle",
      [](Bench&) { return figure(duction(lateral(0), Eye::right, 45, 0)); }, Standing::from_memory);
  g.add(
      "M.LR.duction", "strength 0.5: duction beyond version (fitted)", at_least(5), "°",
      "paresis: duction goes further than version",
      [](Bench&) {
        return figure(duction(lateral(0.5), Eye::right, 40, 0) -
                      version(lateral(0.5), Eye::right, 40, 0));
      },
      Standing::from_memory);
  g.add(
      "M.LR.near", "complete palsy: deviation at 40 cm over that at 6 m (fitted)", at_most(0.60),
      "", kPalsies,
      [](Bench&) {
        return figure(deviation_at(lateral(0), {0, 0, 0, 0.40}).horizontal_pd /
                      deviation_at(lateral(0), {}).horizontal_pd);
      },
      Standing::from_memory);
  g.add("M.LR.vertical", "complete palsy: vertical deviation, straight ahead (fitted)",
        about(0.3, 1.6), "Δ", "20 patients, 2002: 0.3 ± 0.8 (two SD allowed)",
        [](Bench&) { return figure(deviation_at(lateral(0), {}).vertical_pd); });
  g.add("M.LR.vertical.up", "complete palsy: vertical deviation, 25° up (fitted)", about(0.3, 1.6),
        "Δ", "20 patients, 2002: 0.3 ± 0.8 (two SD allowed)", [](Bench&) {
          return figure(deviation_at(lateral(0), {0, 25}).vertical_pd);
        });
  g.add(
      "M.LR.speed", "strength 0.5: peak of an abducting saccade over the healthy eye's",
      at_most(0.60), "", "paretic abducting saccades are slow",
      [](Bench&) {
        const Trace t = run_story(
            lateral(0.5) + ", " + deviation_of(0, 0) + R"(, "fusion": {"present": false})",
            {cover(0, Eye::left), show(2000, 6, -10), show(5000, 6, 10)}, 8000);
        const Trace healthy = run_story(
            deviation_of(0, 0), {cover(0, Eye::left), show(2000, 6, -10), show(5000, 6, 10)}, 8000);
        return figure(find_saccade(t, 5001, Eye::right).peak_deg_s /
                      find_saccade(healthy, 5001, Eye::right).peak_deg_s);
      },
      Standing::from_memory);
}

void add_fourth(Group& g) {
  g.add(
      "M.SO.primary", "R superior oblique palsy, straight ahead (fitted)", between(5, 15),
      "Δ hyper", kPalsies, [](Bench&) { return figure(deviation_at(oblique(0), {}).vertical_pd); },
      Standing::from_memory);
  const auto tilt = [] {
    return deviation_at(oblique(0), {0, 0, 30}).vertical_pd -
           deviation_at(oblique(0), {0, 0, -30}).vertical_pd;
  };
  g.add(
      "M.SO.tilt", "right less left head tilt, 30° (fitted)", between(6, 15), "Δ",
      "typical 8 to 15; read 6 or more", [tilt](Bench&) { return figure(tilt()); },
      Standing::from_memory);
  g.add("M.SO.torsion", "excyclotorsion, straight ahead (fitted)", between(3, 7), "°",
        "teaching page: usually 5° or less unilateral; series of 1993: from normal at 6°",
        [](Bench&) { return figure(deviation_at(oblique(0), {}).torsion_deg); });
  g.add(
      "M.SO.away", "left gaze over right gaze: more in adduction (fitted)", at_least(2.0), "Δ",
      kPalsies,
      [](Bench&) {
        return figure(deviation_at(oblique(0), {-25, 0}).vertical_pd -
                      deviation_at(oblique(0), {25, 0}).vertical_pd);
      },
      Standing::from_memory);
  g.add(
      "M.SO.worst", "worst of nine gazes (fitted)", exactly("down left"), "",
      "the oblique depresses in adduction",
      [](Bench&) {
        const Gazes nine = nine_gazes(oblique(0), Eye::left);
        std::size_t worst = 0;
        for (std::size_t i = 1; i < nine.size(); ++i) {
          if (nine[i].deviation.vertical_pd > nine[worst].deviation.vertical_pd) worst = i;
        }
        return in_words(nine[worst].name);
      },
      Standing::from_memory);
  g.add(
      "M.SO.pattern", "V pattern of one side, 25° down less up (fitted)", between(0, 15), "Δ",
      "less than 15 when unilateral",
      [](Bench&) {
        return figure(deviation_at(oblique(0), {0, -25}).horizontal_pd -
                      deviation_at(oblique(0), {0, 25}).horizontal_pd);
      },
      Standing::from_memory);
  g.add("M.SO.torsion.tilt", "change of excyclotorsion on left tilt (fitted)", about(-0.25, 1.2),
        "°", "series of 2009: -0.25 ± 0.6 (two SD allowed)", [](Bench&) {
          return figure(deviation_at(oblique(0), {0, 0, -30}).torsion_deg -
                        deviation_at(oblique(0), {}).torsion_deg);
        });
  g.add("M.SO.contralateral", "hyperdeviation lost on left tilt, share",
        printed("62 % (6.4 ± 3.9 Δ)", between(0.24, 1.0)), "", "published mean and SD", [](Bench&) {
          return figure(1.0 - deviation_at(oblique(0), {0, 0, -30}).vertical_pd /
                                  deviation_at(oblique(0), {}).vertical_pd);
        });
  g.add("M.SO.monkey.vertical", "acute palsy: vertical in adduction and down gaze, 20°",
        between(10, 12), "°", "Shan 2007, two monkeys (abstract)", [](Bench&) {
          return figure(to_deg(deviation_at(oblique(0), {-20, -20}).vertical_pd));
        });
  g.add("M.SO.monkey.torsion", "acute palsy: torsion in abduction and down gaze, 20°",
        between(10, 12), "°", "Shan 2007, two monkeys (abstract)", [](Bench&) {
          return figure(deviation_at(oblique(0), {20, -20}).torsion_deg);
        });
  const std::string both =
      R"("muscles": {"right": {"superior_oblique": {"strength": 0}},
                     "left": {"superior_oblique": {"strength": 0}}})";
  g.add(
      "M.SO.both.pattern", "both superior obliques: V pattern (fitted)", at_least(15), "Δ",
      kPalsies,
      [both](Bench&) {
        return figure(deviation_at(both, {0, -25}).horizontal_pd -
                      deviation_at(both, {0, 25}).horizontal_pd);
      },
      Standing::from_memory);
  g.add("M.SO.both.torsion", "both superior obliques: excyclotorsion (fitted)", at_least(10), "°",
        "teaching page: above 10 to 15° bilateral",
        [both](Bench&) { return figure(deviation_at(both, {}).torsion_deg); });
  g.add(
      "M.SO.both.reversal", "both: the higher eye changes with the side of gaze (fitted)",
      exactly("yes"), "", kPalsies,
      [both](Bench&) {
        return in_words(deviation_at(both, {-25, 0}).vertical_pd > 1.0 &&
                                deviation_at(both, {25, 0}).vertical_pd < -1.0
                            ? "yes"
                            : "no");
      },
      Standing::from_memory);
}

void add_others(Group& g) {
  const std::string third =
      R"("muscles": {"right": {"medial_rectus": {"strength": 0}, "superior_rectus": {"strength": 0},
          "inferior_rectus": {"strength": 0.3}, "inferior_oblique": {"strength": 0}}})";
  g.add(
      "M.III.horizontal", "R third nerve palsy, straight ahead (fitted)", between(20, 40), "Δ exo",
      kPalsies, [third](Bench&) { return figure(-deviation_at(third, {}).horizontal_pd); },
      Standing::from_memory);
  g.add(
      "M.III.vertical", "R third nerve palsy: right eye lower by (fitted)", between(5, 15), "Δ",
      kPalsies, [third](Bench&) { return figure(-deviation_at(third, {}).vertical_pd); },
      Standing::from_memory);
  struct One {
    const char* muscle;
    const char* words;
  };
  for (const One& m :
       {One{"superior_rectus", "superior rectus"}, One{"inferior_rectus", "inferior rectus"},
        One{"inferior_oblique", "inferior oblique"}}) {
    g.add(
        std::string{"M.one."} + m.muscle,
        fmt::format("R {} at 0.3: vertical straight ahead (fitted)", m.words), between(6, 15), "Δ",
        kPalsies,
        [m](Bench&) {
          return figure(magnitude(deviation_at(weak("right", m.muscle, 0.3), {}).vertical_pd));
        },
        Standing::from_memory);
  }
  const std::string brown = R"("muscles": {"right": {"superior_oblique": {"limit_deg": 6}}})";
  g.add(
      "M.Brown.adduction", "tight R superior oblique tendon: up in adduction", between(-30, -12),
      "Δ", "limited elevation in adduction",
      [brown](Bench&) {
        return figure(deviation_at(brown, {-25, 25}).vertical_pd);
      },
      Standing::from_memory);
  g.add("M.Brown.abduction", "the same, up in abduction", between(-4, 4), "Δ",
        "near normal in abduction", [brown](Bench&) {
          return figure(deviation_at(brown, {25, 25}).vertical_pd);
        });
  g.add(
      "M.Brown.pattern", "the same: V pattern, down less up (fitted)",
      printed("16", between(10, 25)), "Δ", "divergence in up gaze",
      [brown](Bench&) {
        return figure(deviation_at(brown, {0, -25}).horizontal_pd -
                      deviation_at(brown, {0, 25}).horizontal_pd);
      },
      Standing::from_memory);
  const std::string shared =
      R"("muscles": {"right": {"lateral_rectus": {"strength": 0, "share_of_medial": 0.5}}})";
  g.add("M.Duane.shared", "co-innervation alone (half): straight ahead (fitted)", between(0, 10),
        "Δ eso", "Duane type I: small angle for so large a limitation (Lee et al. 2020)",
        [shared](Bench&) { return figure(deviation_at(shared, {}).horizontal_pd); });
  const std::string duane =
      R"("muscles": {"right": {"lateral_rectus": {"strength": 0.3, "share_of_medial": 0.10,
          "shorter_deg": 20, "stiffness": 2}, "medial_rectus": {"limit_deg": 5}}})";
  g.add("M.Duane.tight", "with a tight lateral rectus as well: straight ahead", between(0, 10),
        "Δ eso", "Duane type I: small angle for so large a limitation (Lee et al. 2020)",
        [duane](Bench&) { return figure(deviation_at(duane, {}).horizontal_pd); });
  g.add("M.Duane.abduction", "the same: furthest abduction", at_most(15), "°", "abduction limited",
        [duane](Bench&) { return figure(duction(duane, Eye::right, 45, 0)); });
  const std::string thyroid =
      R"("muscles": {"right": {"inferior_rectus": {"limit_deg": -14, "limit_stiffness": 12}}})";
  g.add(
      "M.thyroid", "tight R inferior rectus: right eye lower straight ahead by", between(8, 25),
      "Δ", "restriction pulls the eye down",
      [thyroid](Bench&) { return figure(-deviation_at(thyroid, {}).vertical_pd); },
      Standing::from_memory);
  g.add(
      "M.thyroid.up", "the same: furthest elevation", at_most(20), "°", "elevation limited",
      [thyroid](Bench&) { return figure(duction(thyroid, Eye::right, 0, 40)); },
      Standing::from_memory);
}

void add_internuclear(Group& g) {
  const std::string ino = R"("muscles": {"right": {"medial_rectus": {"version_gain": 0.4}}})";
  g.add(
      "M.INO.primary", "R internuclear weakness: straight ahead", between(-3, 3), "Δ",
      "straight in the primary position",
      [ino](Bench&) { return figure(deviation_at(ino, {}).horizontal_pd); }, Standing::from_memory);
  const auto jump = [ino] {
    return run_story(ino + ", " + deviation_of(0, 0) +
                         R"(, "fusion": {"present": false}, "sensory": {"preferred_eye": "left"})",
                     {show(0, 6, 10), show(3000, 6, -10)}, 6000);
  };
  g.add(
      "M.INO.speed", "peak of the adducting over that of the abducting eye", between(0.3, 0.6), "",
      "adducting velocity 30 to 60 % of normal",
      [jump](Bench&) {
        const Trace t = jump();
        return figure(find_saccade(t, 3001, Eye::right).peak_deg_s /
                      find_saccade(t, 3001, Eye::left).peak_deg_s);
      },
      Standing::from_memory);
  g.add(
      "M.INO.overshoot", "a saccade of 20°: the abducting eye goes beyond its rest by (fitted)",
      at_least(0.5), "°", "practice: the abducting eye overshoots; the least seen: judgement",
      [jump](Bench&) {
        const Trace t = jump();
        return figure(t.furthest(3001, 6000, Eye::left) -
                      magnitude(t.horizontal(6000, Eye::left) - t.horizontal(3001, Eye::left)));
      },
      Standing::common_practice);
  g.add(
      "M.INO.near", "convergence is spared: change of the deviation at 40 cm", between(-3, 3), "Δ",
      "vergence spared",
      [ino](Bench&) {
        return figure(deviation_at(ino, {0, 0, 0, 0.40}).horizontal_pd -
                      deviation_at(ino, {}).horizontal_pd);
      },
      Standing::from_memory);
}

void add_range(Group& g) {
  struct Reach {
    const char* id;
    const char* words;
    double horizontal, vertical, low, high;
  };
  for (const Reach& r : {Reach{"M.range.adduction", "adduction", -60, 0, 45, 50},
                         Reach{"M.range.abduction", "abduction", 60, 0, 44, 50},
                         Reach{"M.range.elevation", "elevation", 0, 60, 35, 42},
                         Reach{"M.range.depression", "depression", 0, -60, 47, 60}}) {
    g.add(
        r.id, fmt::format("furthest {} of a healthy eye", r.words), between(r.low, r.high), "°",
        "Clark & Isenberg 2001; Lim 2014",
        [r](Bench&) {
          return figure(magnitude(
              duction(R"("patient": {"age_years": 23})", Eye::right, r.horizontal, r.vertical)));
        },
        Standing::from_memory);
  }
  g.add("M.range.age", "furthest elevation at 80 years, share of that at 23",
        printed("35 % less", about(0.65, 0.1)), "", "Lim 2014", [](Bench&) {
          return figure(duction(R"("patient": {"age_years": 80})", Eye::right, 0, 60) /
                        duction(R"("patient": {"age_years": 23})", Eye::right, 0, 60));
        });
  g.add("M.roll.45", "counter-roll at 45° of tilt", about(5.4, 0.5), "°", "Simonsz 1985",
        [](Bench&) {
          return figure(-healthy_torsion({0, 0, 45}));
        });
  g.add("M.roll.90", "counter-roll, greatest", about(4.9, 0.5), "°",
        "Bockisch & Haslwanter 2001, Vision Res 41:2127; 4 to 6 at 50 to 70° (Diamond & Markham)",
        [](Bench&) {
          return figure(-healthy_torsion({0, 0, 80}));
        });
  g.add("M.listing", "torsion of a healthy eye, largest of nine gazes", at_most(0.001), "°",
        "Listing's law", [](Bench&) {
          double most = 0.0;
          for (const GazeAt& gaze : nine_gazes("", Eye::left)) {
            most = std::max(most, magnitude(gaze.deviation.torsion_deg));
          }
          return figure(most);
        });
  // Half the vergence times the share, from what the eyes roll while they look down at 25 cm.
  g.add(
      "M.L2", "Listing's planes turned temporally, both together, over the vergence",
      between(0.5, 1.0), "",
      "Mok et al. 1992, Vision Res 32:2055; Kapoula et al. 1999, Exp Brain Res (sizes: from "
      "memory)",
      [](Bench&) {
        constexpr double kDownDeg = 20.0;
        constexpr double kDegrees = 57.29577951308232;
        const Trace t = run_story(deviation_of(0, 0), {show(0, 0.25, 0, -kDownDeg)}, 2000);
        const EyeObservation right = t.at(2000).eye.right;
        const EyeObservation left = t.at(2000).eye.left;
        const double vergence = left.horizontal_deg - right.horizontal_deg;
        const double apart = right.listing_deg - left.listing_deg;  // excyclo +
        return figure(2.0 * apart * kDegrees / (vergence * -right.vertical_deg));
      },
      Standing::from_memory);
  g.add("M.L2.sign", "an eye in convergence, looking down and looking up",
        exactly("extorts, intorts"), "", "Mok et al. 1992, Vision Res 32:2055", [](Bench&) {
          const auto roll = [](double vertical_deg) {
            const Trace t = run_story(deviation_of(0, 0), {show(0, 0.25, 0, vertical_deg)}, 2000);
            return t.at(2000).eye.right.listing_deg;
          };
          const auto word = [](double roll_deg) {
            return roll_deg > 0.1 ? "extorts" : roll_deg < -0.1 ? "intorts" : "stays";
          };
          return in_words(fmt::format("{}, {}", word(roll(-20)), word(roll(20))));
        });
  g.add(
      "M.comitant", "healthy muscles: largest change over nine gazes", at_most(0.5), "Δ",
      "a healthy pair is comitant",
      [](Bench&) {
        const Gazes nine = nine_gazes("", Eye::left);
        double most = 0.0;
        for (const GazeAt& gaze : nine) {
          most = std::max(
              most, magnitude(gaze.deviation.horizontal_pd - nine[4].deviation.horizontal_pd));
          most =
              std::max(most, magnitude(gaze.deviation.vertical_pd - nine[4].deviation.vertical_pd));
        }
        return figure(most);
      },
      Standing::derived);
}

}  // namespace

void add_muscle_rows(std::vector<Row>& rows) {
  Group sixth(rows, "Sixth nerve");
  add_sixth(sixth);
  Group fourth(rows, "Fourth nerve");
  add_fourth(fourth);
  Group others(rows, "Third nerve, single muscles, mechanical limits");
  add_others(others);
  Group internuclear(rows, "Internuclear weakness");
  add_internuclear(internuclear);
  Group range(rows, "Range, counter-roll, Listing");
  add_range(range);
}

}  // namespace redress::evidence
