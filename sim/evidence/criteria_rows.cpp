// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Scores and criteria as rules, and some of them as outcomes. Ids F.. are those of the check cases.
#include "sim/evidence/rows.hpp"

#include <array>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/truth/control_score.hpp"
#include "sim/truth/criteria.hpp"
#include "sim/truth/truth.hpp"

namespace redress::evidence {

namespace {

constexpr const char* kControl = "Mohney & Holmes 2006, table 1";
constexpr const char* kCitt = "Convergence Insufficiency Treatment Trial, entry criteria";

using Recoveries = std::array<std::optional<double>, 3>;

// (fitted): the patient was written so that this grade comes out; what is shown is that each can.
void add_control(Group& g) {
  struct Score {
    const char* id;
    const char* words;
    double share;
    Recoveries recoveries;
    double score;
  };
  for (const Score& s : {Score{"F01", "exotropia for all of 30 s", 1.0, {}, 5},
                         Score{"F02", "exotropia for 60 % of 30 s", 0.6, {}, 4},
                         Score{"F04", "none; recoveries 2, 6, 3 s", 0, {2.0, 6.0, 3.0}, 2},
                         Score{"F05", "none; recoveries 0.5, 4, 2 s", 0, {0.5, 4.0, 2.0}, 1},
                         Score{"F06", "none; recoveries 0.3, 0.4, 0.8 s", 0, {0.3, 0.4, 0.8}, 0}}) {
    g.add(s.id, std::string{"control score: "} + s.words, about(s.score, 0), "", kControl,
          [s](Bench&) { return figure(truth::calc_control_score(s.share, s.recoveries)); });
  }
  struct Patient {
    const char* id;
    const char* words;
    const char* members;
    double low, high;
  };
  for (const Patient& p :
       {Patient{"F.phoria", "control score of an exophoria of 8, as it comes out",
                R"("deviation": {"distance_pd": -8, "near_pd": -8})", 0, 0},
        Patient{"F.slow",
                "control score with a recovery time constant of 1.2 s, as it comes out (fitted)",
                R"("deviation": {"distance_pd": -15, "near_pd": -15},
                   "fusion": {"recovery_time_constant_s": 1.2})",
                1, 1},
        Patient{"F.intermittent",
                "control score where fusion once broken does not return, as it comes out (fitted)",
                R"("deviation": {"distance_pd": -25, "near_pd": -20},
                   "fusion": {"distance": {"base_out_pd": [null, 10, -3]},
                              "near": {"base_out_pd": [null, 12, -3]}})",
                2, 2},
        Patient{"F.lapses",
                "the same patient's, where fusion returns and attention wanders, as it comes out "
                "(fitted)",
                R"("deviation": {"distance_pd": -25, "near_pd": -20},
                   "fusion": {"distance": {"base_out_pd": [null, 10, 6]},
                              "near": {"base_out_pd": [null, 12, 6]}},
                   "instability": {"attention": 0.2})",
                3, 3},
        Patient{"F.mostly",
                "where fusion barely holds, attention wanders and fusion does not return, as it "
                "comes out (fitted)",
                R"("deviation": {"distance_pd": -25, "near_pd": -20},
                   "fusion": {"distance": {"base_out_pd": [null, 0.3, -10]},
                              "near": {"base_out_pd": [null, 12, -10]}},
                   "instability": {"attention": 0.0})",
                4, 4},
        Patient{"F.constant", "control score of a constant exotropia, as it comes out",
                R"("deviation": {"distance_pd": -25, "near_pd": -25},
                   "fusion": {"present": false})",
                5, 5}}) {
    g.add(p.id, p.words, between(p.low, p.high), "", kControl, [p](Bench&) {
      const truth::ControlScore score = truth::calc_control_scores(setup_with(p.members));
      return figure(score.distance, fmt::format("{} at near", score.near));
    });
  }
}

std::string words_of(const truth::InsufficiencyVerdict& v) {
  return v.all() ? "all criteria met" : "not all criteria met";
}

std::string name_of(truth::VerticalPattern p) {
  return p == truth::VerticalPattern::a ? "A" : p == truth::VerticalPattern::v ? "V" : "none";
}

std::string name_of(truth::ExotropiaType t) {
  switch (t) {
    case truth::ExotropiaType::divergence_excess: return "divergence excess";
    case truth::ExotropiaType::convergence_insufficiency: return "convergence insufficiency type";
    case truth::ExotropiaType::basic: break;
  }
  return "basic";
}

std::string yes_or_no(std::optional<bool> answer) {
  return !answer ? "not studied" : *answer ? "yes" : "no";
}

void add_rules(Group& g) {
  g.add("F08", "exo 2 and 8, near point 8 cm, base out 10, symptoms 20",
        exactly("all criteria met"), "", kCitt, [](Bench&) {
          return in_words(words_of(truth::check_insufficiency({2, 8, 8, 10, 20})));
        });
  g.add("F09", "the same with exo 2 and 5", exactly("not all criteria met"), "", kCitt, [](Bench&) {
    return in_words(words_of(truth::check_insufficiency({2, 5, 8, 10, 20})));
  });
  g.add("F10", "exo 25 up, 10 down; eso 20 up, 10 down", exactly("V, A"), "",
        "A above 10, V above 15 (ophthalmology review); >= as in common usage", [](Bench&) {
          return in_words(name_of(truth::find_vertical_pattern(-25, -10)) + ", " +
                          name_of(truth::find_vertical_pattern(20, 10)));
        });
  g.add(
      "F12", "exo 30 and 18; 20 and 20; 10 and 22",
      exactly("divergence excess, basic, convergence insufficiency type"), "",
      "Burian's types: 10 or more apart",
      [](Bench&) {
        return in_words(name_of(truth::find_exotropia_type(30, 18)) + ", " +
                        name_of(truth::find_exotropia_type(20, 20)) + ", " +
                        name_of(truth::find_exotropia_type(10, 22)));
      },
      Standing::from_memory);
  g.add("F13", "manifest 6, alternate cover 16, stereopsis 200 seconds", exactly("yes"), "",
        "Parks 1969: monofixation",
        [](Bench&) { return in_words(yes_or_no(truth::is_monofixation(6, 16, 200))); });
  g.add("F22", "real change: eso 30 to 40, 30 to 42, 16 to 21, 16 to 22",
        exactly("no, yes, no, yes"), "",
        "Pediatric Eye Disease Investigator Group 2009, Arch Ophthalmol 127:59", [](Bench&) {
          std::string all;
          for (const auto& [first, second] :
               {std::pair{30.0, 40.0}, {30.0, 42.0}, {16.0, 21.0}, {16.0, 22.0}}) {
            all += (all.empty() ? "" : ", ") + yes_or_no(truth::is_real_change(first, second));
          }
          return in_words(all);
        });
}

void add_steps(Group& g) {
  struct Steps {
    const char* id;
    Eye higher, gaze, tilt;
    const char* weak;
    Standing standing;
  };
  constexpr Eye R = Eye::right;
  constexpr Eye L = Eye::left;
  for (const Steps& s : {Steps{"F14", R, L, R, "right superior_oblique", Standing::read},
                         Steps{"F15", R, L, L, "left superior_rectus", Standing::from_memory},
                         Steps{"F16", R, R, R, "left inferior_oblique", Standing::from_memory},
                         Steps{"F17", R, R, L, "right inferior_rectus", Standing::from_memory},
                         Steps{"F18", L, R, L, "left superior_oblique", Standing::read},
                         Steps{"F19", L, R, R, "right superior_rectus", Standing::from_memory},
                         Steps{"F20", L, L, L, "right inferior_oblique", Standing::from_memory},
                         Steps{"F21", L, L, R, "left inferior_rectus", Standing::from_memory}}) {
    g.add(
        s.id,
        fmt::format("{} eye higher, worse in {} gaze and on {} tilt", redress::name_of(s.higher),
                    redress::name_of(s.gaze), redress::name_of(s.tilt)),
        exactly(s.weak), "", "Parks 1958: three steps; the oblique rows read, the rest derived",
        [s](Bench&) {
          const truth::WeakMuscle w = truth::find_weak_muscle(s.higher, s.gaze, s.tilt);
          return in_words(std::string{redress::name_of(w.eye)} + " " + std::string{w.name});
        },
        s.standing);
  }
}

// What simultaneous and alternate prism and cover measure: the manifest part, and the whole.
std::string both_measures(const std::string& members) {
  const truth::Condition c = truth::calc_condition(setup_with(members), 6.0, false, Eye::left);
  const auto whole = [](double pd) {
    return std::to_string(static_cast<int>(elementary::magnitude(pd) + 0.5));
  };
  return whole(c.manifest == truth::Manifest::constant ? c.manifest_horizontal_pd : 0.0) + " and " +
         whole(c.horizontal_pd);
}

void add_measures(Group& g) {
  constexpr const char* kHolmes = "Holmes, Leske & Hohberger 2008: tropia alone; tropia and phoria";
  g.add("F24.constant", "constant eso 30: simultaneous, alternate", exactly("30 and 30"), "Δ",
        kHolmes, [](Bench&) {
          return in_words(both_measures(deviation_of(30, 30) + R"(,
            "fusion": {"present": false}, "sensory": {"preferred_eye": "left", "preference": 1.0,
            "suppression": {"eye": "right", "scotoma_diameter_deg": 3}})"));
        });
  g.add("F24.controlled", "exo 20 under control: simultaneous, alternate", exactly("0 and 20"), "Δ",
        kHolmes, [](Bench&) { return in_words(both_measures(deviation_of(-20, -20))); });
  g.add("F24.monofixation", "monofixation 4 of 14: simultaneous, alternate", exactly("4 and 14"),
        "Δ", kHolmes, [](Bench&) {
          return in_words(both_measures(deviation_of(14, 14) + R"(,
            "sensory": {"preferred_eye": "left", "preference": 1.0, "anomaly_pd": 4,
            "suppression": {"eye": "right", "scotoma_diameter_deg": 3}})"));
        });
}

}  // namespace

void add_criteria_rows(std::vector<Row>& rows) {
  Group g(rows, "Scores and criteria");
  add_control(g);
  add_rules(g);
  add_steps(g);
  add_measures(g);
}

}  // namespace redress::evidence
