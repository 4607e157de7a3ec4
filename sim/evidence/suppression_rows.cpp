// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Suppression, microtropia, and four dioptres base out.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/truth/procedures.hpp"

namespace redress::evidence {

using elementary::magnitude;

namespace {

std::string microtropia() {
  return deviation_of(4, 4) + R"(, "sensory": {"preferred_eye": "left", "preference": 1.0,
    "anomaly_pd": 4, "suppression": {"eye": "right", "scotoma_diameter_deg": 3}})";
}

std::string name_of(FourDioptreResponse r) {
  switch (r) {
    case FourDioptreResponse::typical: return "version and return";
    case FourDioptreResponse::no_movement: return "no movement";
    case FourDioptreResponse::version_without_return: return "version without return";
    default: break;
  }
  return "other";
}

void add_four_dioptre(Group& g) {
  constexpr const char* kJampolsky = "Jampolsky 1964; four-dioptre base-out test";
  const auto answer = [](const std::string& members, Eye eye) {
    return in_words(name_of(truth::calc_four_dioptre(setup_with(members), eye)));
  };
  g.add("FD.normal.right", "four base out, healthy, before the right eye",
        exactly("version and return"), "", kJampolsky,
        [answer](Bench&) { return answer(deviation_of(-1, -3), Eye::right); });
  g.add("FD.normal.left", "four base out, healthy, before the left eye",
        exactly("version and return"), "", kJampolsky,
        [answer](Bench&) { return answer(deviation_of(-1, -3), Eye::left); });
  g.add("FD.scotoma", "before the eye with a central scotoma", exactly("no movement"), "",
        kJampolsky, [answer](Bench&) { return answer(microtropia(), Eye::right); });
  g.add("FD.fellow", "before its fellow", exactly("version without return"), "", kJampolsky,
        [answer](Bench&) { return answer(microtropia(), Eye::left); });
  g.add(
      "FD.rate", "typical answers of normals, with noise (fitted)", between(65, 90), "%",
      "judgement; Frantz, Cotter & Wick 1992, OVS 69:777: many atypical (no rate)",
      [](Bench&) {
        int typical = 0;
        int all = 0;
        for (std::uint64_t seed = 1; seed <= 40; ++seed) {
          const Trace t = run_story(deviation_of(-1, -3),
                                    {hold_prism(2000, Eye::right, 4, base_out(Eye::right)),
                                     remove_prism(6000, Eye::right),
                                     hold_prism(10000, Eye::left, 4, base_out(Eye::left))},
                                    14000, 1.0, seed);
          for (const auto& [from, eye] : {std::pair{Tick{2000}, Eye::left}, {10000, Eye::right}}) {
            const double left_over =
                magnitude(t.horizontal(from + 3000, eye) - t.horizontal(from, eye));
            typical += t.furthest(from, from + 700, eye) > 1.0 && left_over < 0.5;
            ++all;
          }
        }
        return figure(100.0 * typical / all, "80 presentations");
      },
      Standing::common_practice);
}

void add_microtropia(Group& g) {
  g.add("SU.identity", "microtropia with identity, either eye covered: largest movement",
        at_most(0.3), "°", "Helveston & von Noorden 1967, Arch Ophthalmol 78:272", [](Bench&) {
          const std::string members =
              deviation_of(4, 4) + R"(, "refraction": {"right": {"acuity_logmar": 0.2}},
                "sensory": {"preferred_eye": "left", "preference": 1.0, "anomaly_pd": 4,
                "suppression": {"eye": "right", "scotoma_diameter_deg": 3},
                "eccentric_fixation": {"eye": "right", "nasal_deg": 2.29}})";
          double most = 0.0;
          for (const Eye covered : kBothEyes) {
            const Trace t = run_story(
                members, {show(0, 6, 0, 0, TargetKind::letters, 0.5), cover(1000, covered)}, 5000);
            most = std::max(most, t.furthest(1000, 5000, fellow(covered)));
          }
          return figure(most);
        });
  g.add("SU.manifest", "microtropia: manifest angle", at_most(8), "Δ",
        "Parks 1969; Lang 1974: below 5°", [](Bench&) {
          const Trace t = run_story(microtropia(), {}, 1000);
          return figure(t.deviation_pd(1000));
        });
  g.add("SU.swap", "suppression changes eyes within", at_most(80), "ms",
        "Steinbach 1981, IOVS: with the saccade, in less than 80 ms", [](Bench&) {
          const Trace t =
              run_story(deviation_of(-25, -25) + R"(, "fusion": {"present": false}, "sensory": {
                "preferred_eye": "right", "preference": 1.0,
                "suppression": {"eye": "either", "scotoma_diameter_deg": 5}})",
                        {cover(1000, Eye::right), uncover(4000)}, 8000);
          const Tick free = t.free_after(4000, Eye::right);
          const Tick saccade = find_saccade(t, free, Eye::right).start_ms;
          const Tick swapped = t.when(free, "the left eye was not suppressed", [&](Tick k) {
            return t.at(k).suppressed == WhichEyes::left;
          });
          return figure(static_cast<double>(swapped - saccade), "from the start of the saccade");
        });
}

std::string said(const std::string& members, const std::string& question) {
  const Trace t = run_story(members, {ask(500, question)}, 3000);
  if (t.replies.empty()) throw DidNotHappen{"no answer"};
  return t.replies.front().answer;
}

void add_answers(Group& g) {
  g.add(
      "SU.single", "a constant squint with suppression says", exactly("single"), "",
      "a suppressor does not see double",
      [](Bench&) {
        return in_words(said(deviation_of(20, 20) + R"(, "fusion": {"present": false},
            "sensory": {"suppression": {"eye": "either", "scotoma_diameter_deg": 5}})",
                             "single_or_double"));
      },
      Standing::common_practice);
  g.add(
      "SU.double", "a constant squint without suppression says", exactly("double"), "",
      "diplopia of a fresh squint",
      [](Bench&) {
        return in_words(
            said(deviation_of(20, 20) + R"(, "fusion": {"present": false})", "single_or_double"));
      },
      Standing::common_practice);
  g.add(
      "SU.arrangement", "the right eye 10 Δ higher: two images",
      exactly("one_above_the_other, right_lower"), "", "the higher eye sees the lower image",
      [](Bench&) {
        return in_words(said(R"("deviation": {"distance_pd": 0, "near_pd": 0, "vertical_pd": 10},
                                  "fusion": {"present": false})",
                             "arrangement"));
      },
      Standing::common_practice);
}

}  // namespace

void add_suppression_rows(std::vector<Row>& rows) {
  Group four(rows, "Four dioptres base out");
  add_four_dioptre(four);
  Group g(rows, "Suppression and microtropia");
  add_microtropia(g);
  add_answers(g);
}

}  // namespace redress::evidence
