// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The seventh of the fifteen observations to the fifteenth.
#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/evidence/gazes.hpp"
#include "sim/evidence/practice.hpp"
#include "sim/optics/prism.hpp"
#include "sim/optics/sight.hpp"

namespace redress::evidence {

using elementary::magnitude;

double mean_refixation(const std::string& members, double base_in_pd, Tick hold_ms) {
  std::vector<Act> acts;
  if (base_in_pd > 0.0) {
    acts.push_back(hold_prism(500, Eye::right, base_in_pd, base_in(Eye::right)));
  }
  for (int i = 0; i < 8; ++i) {
    acts.push_back(cover(1000 + hold_ms * i, i % 2 == 0 ? Eye::right : Eye::left));
  }
  const Trace t = run_story(members, acts, 1000 + hold_ms * 8);
  std::vector<double> found;
  for (int i = 4; i < 8; ++i) {
    const Eye freed = i % 2 == 0 ? Eye::left : Eye::right;
    const Tick at = 1000 + hold_ms * i;
    const double from = t.horizontal(t.free_after(at, freed), freed);
    found.push_back(-side_of(freed) * (t.horizontal(at + hold_ms - 100, freed) - from));
  }
  return to_pd(calc_mean(found));
}

namespace {

constexpr const char* kPractice = "practice: what convinces a teacher";
constexpr Standing kCommon = Standing::common_practice;

void add_accommodation(Group& g) {
  const auto near = [](TargetKind kind, double lens, int age) {
    const Trace t =
        run_story(deviation_of(1, 8, 7) + fmt::format(R"(, "patient": {{"age_years": {}}})", age),
                  {show(0, 0.40, 0, 0, kind), lenses(500, lens), cover(2500, Eye::right)}, 12000);
    return t.deviation_pd(12000, 0.40);
  };
  g.add(
      "P07.letters", "convergence excess, AC/A 7: letters at 40 cm", about(8.0, 0.5), "Δ eso",
      kPractice, [near](Bench&) { return figure(near(TargetKind::letters, 0, 19)); }, kCommon);
  g.add(
      "P07.spot", "a spot of light", printed("about 3", about(3.0, 1.0)), "Δ eso", kPractice,
      [near](Bench&) { return figure(near(TargetKind::spot, 0, 19)); }, kCommon);
  g.add(
      "P07.plus", "+1.00 D moves it by", about(7.0, 0.5), "Δ", kPractice,
      [near](Bench&) {
        return figure(near(TargetKind::letters, 0, 19) - near(TargetKind::letters, 1.0, 19));
      },
      kCommon);
  g.add(
      "P07.old", "-3.00 D on a patient of 60 moves it by", about(0.0, 0.1), "Δ", kPractice,
      [near](Bench&) {
        return figure(near(TargetKind::letters, -3.0, 60) - near(TargetKind::letters, 0, 60));
      },
      kCommon);
}

void add_peep(Group& g) {
  // The edge of the paddle beside the right pupil's centre, 20 mm before the cornea.
  const auto shown = [](double edge_mm) {
    act::MoveOccluder paddle;
    paddle.x_mm = 31.5 + 25.0 + edge_mm;
    paddle.z_mm = -33.5;
    const Trace t = run_story(deviation_of(-8, -10), {{1000, paddle}}, 9000);
    return t.deviation_pd(9000) / -8.0;
  };
  g.add(
      "P08.peep", "4 mm to peep past the edge: share of the phoria shown", at_most(0.10), "",
      kPractice, [shown](Bench&) { return figure(shown(2.0)); }, kCommon);
  g.add(
      "P08.close", "the cover 4 mm across: share shown", at_least(0.9), "", kPractice,
      [shown](Bench&) { return figure(shown(-4.0)); }, kCommon);
}

std::string exotropia(double preference) {
  return deviation_of(-25, -25) +
         fmt::format(R"(, "fusion": {{"present": false}}, "sensory": {{"preferred_eye": "right",
           "preference": {}, "suppression": {{"eye": "either", "scotoma_diameter_deg": 5}}}})",
                     preference);
}

void add_fixation(Group& g) {
  g.add(
      "P09.alternator",
      "an alternator holds either eye: turn of the freed one on uncovering, the larger",
      at_most(1.0), "°", kPractice,
      [](Bench&) {
        double most = 0.0;
        for (const Eye eye : kBothEyes) {
          const Trace t = run_story(exotropia(0.5), {cover(1000, eye), uncover(5000)}, 9000);
          most = std::max(most, t.furthest(t.free_after(5000, eye), 9000, eye));
        }
        return figure(most);
      },
      kCommon);
  g.add(
      "P09.blink", "with noise, an alternator's eye still holds after a blink, share",
      at_least(0.6), "", kPractice,
      [](Bench&) {
        int held = 0;
        constexpr int kPatients = 12;
        for (std::uint64_t seed = 1; seed <= kPatients; ++seed) {
          const Trace t =
              run_story(exotropia(0.5), {cover(1000, Eye::right), uncover(5000)}, 25000, 1.0, seed);
          const Tick free = t.free_after(5000, Eye::right);
          const Tick blink = t.when(free + 300, "no blink", [&](Tick k) {
            return t.at(k).eye.right.lid_open_fraction < 0.3;
          });
          held += t.at(std::min<Tick>(blink + 800, 25000)).fixing == WhichEyes::left;
        }
        return figure(static_cast<double>(held) / kPatients);
      },
      kCommon);
  g.add(
      "P09.unilateral", "a unilateral squint snaps back after uncovering within", between(0.2, 0.5),
      "s", kPractice,
      [](Bench&) {
        const Trace t = run_story(exotropia(1.0), {cover(1000, Eye::right), uncover(5000)}, 9000);
        const Tick free = t.free_after(5000, Eye::right);
        return figure(0.001 * static_cast<double>(t.moved_after(free, Eye::right, 1.0) - free));
      },
      kCommon);
}

std::string intermittent(const std::string& more) {
  return deviation_of(-25, -18, 6) + R"(, "patient": {"age_years": 9,
    "interpupillary_distance_mm": 54}, "fusion": {
    "distance": {"base_out_pd": [6, 12, -5], "base_in_pd": [null, 8, 4]},
    "near": {"base_out_pd": [10, 18, 6], "base_in_pd": [12, 18, 10]},
    "release_time_constant_s": 0.6, "recovery_time_constant_s": 0.6)" +
         more + R"(}, "sensory": {"preference": 0.6,
    "suppression": {"eye": "either", "scotoma_diameter_deg": 5}},
    "instability": {"attention": 0.5})";
}

void add_control(Group& g) {
  g.add(
      "P10.breaks", "an intermittent exotropia breaks by itself in 30 s, share of patients",
      at_least(0.5), "", kPractice,
      [](Bench&) {
        int broke = 0;
        constexpr int kPatients = 12;
        for (std::uint64_t seed = 1; seed <= kPatients; ++seed) {
          const Trace t = run_story(intermittent(""), {}, 30000, 1.0, seed);
          Tick apart = 0;
          for (Tick k = 0; k <= 30000; ++k) apart += t.deviation_pd(k) < -15.0;
          broke += apart > 300;
        }
        return figure(static_cast<double>(broke) / kPatients, "12 patients");
      },
      kCommon);
  g.add(
      "P10.look", "told to look, it recovers within 3 s, share of times", at_least(0.7), "",
      kPractice,
      [](Bench&) {
        int back = 0;
        constexpr int kPatients = 12;
        for (std::uint64_t seed = 1; seed <= kPatients; ++seed) {
          const Trace t = run_story(
              intermittent(""),
              {cover(2000, Eye::right), uncover(8000), {11000, act::Instruct{Instruction::look}}},
              14000, 1.0, seed);
          bool fused = false;
          for (Tick k = 11000; k <= 14000; ++k) fused = fused || t.at(k).fused;
          back += fused;
        }
        return figure(static_cast<double>(back) / kPatients, "12 patients");
      },
      kCommon);
  g.add(
      "P10.tires", "after ten alternations recovery is slower than after one cover by",
      at_least(1.0), "s", "practice: one grade or more",
      [](Bench&) {
        const std::string members = deviation_of(-15, -12) +
                                    R"(, "fusion": {"fatigue": 1.0,
            "distance": {"base_out_pd": [9, 19, 8], "base_in_pd": [null, 7, 4]}})";
        const auto recovery = [&](int covers) {
          std::vector<Act> acts;
          Tick at = 1000;
          for (int i = 0; i < covers; ++i, at += 2000) {
            acts.push_back(cover(at, i % 2 == 0 ? Eye::right : Eye::left));
          }
          acts.push_back(uncover(at));
          const Trace t = run_story(members, acts, at + 20000);
          const Tick free = t.when(at, "the eye was not freed", [&](Tick k) {
            return !t.at(k).eye.right.covered && !t.at(k).eye.left.covered;
          });
          return t.when(free, "fusion did not come back", [&](Tick k) { return t.at(k).fused; }) -
                 free;
        };
        return figure(0.001 * static_cast<double>(recovery(10) - recovery(1)));
      },
      kCommon);
}

void add_updrift(Group& g) {
  g.add(
      "P11.below", "dissociated updrift of both eyes, cover swapped: an eye comes from below by",
      at_most(0.3), "°", kPractice,
      [](Bench&) {
        const Trace t = run_story(
            deviation_of(0, 0) + R"(, "instability": {"dvd_pd": {"right": 12, "left": 12}})",
            {cover(2000, Eye::right), cover(7000, Eye::left), cover(12000, Eye::right)}, 17000);
        double least = 0.0;
        for (Tick k = 2000; k <= 17000; ++k) {
          least = std::min({least, t.vertical(k, Eye::right), t.vertical(k, Eye::left)});
        }
        return figure(-least);
      },
      kCommon);
}

// Where the examiner, half a metre away, sees the pupil of a right eye behind a prism base out: so
// much nearer to the nose than it is. The light's way from the pupil, drawn straight on.
double displacement_behind(double label) {
  const Vector centre = optics::centre_of_rotation(Eye::right, Millimetres{63});
  const Vector pupil = optics::entrance_pupil(centre, {0, 0, -1});
  const Vector examiner{0, 0, -500};
  const auto prism = optics::make_held_prism(PrismDioptres{label}, optics::Material::plastic,
                                             Degrees{base_out(Eye::right)});
  if (!prism) throw DidNotHappen{"no such prism"};
  const auto stack =
      optics::make_stack({&*prism, 1}, optics::Hold::frontal, Degrees{}, centre, {0, 0, -1});
  if (!stack) throw DidNotHappen{"no light comes through"};
  const auto direction = optics::apparent_direction(pupil, examiner, stack->view());
  if (!direction) throw DidNotHappen{"the examiner sees no eye"};
  const auto out = optics::trace({pupil, *direction}, stack->view());
  if (!out) throw DidNotHappen{"no light comes through"};
  const double back = (pupil.z - out->origin.z) / out->direction.z;
  return pupil.x - (out->origin.x + back * out->direction.x);
}

void add_hidden(Group& g) {
  g.add(
      "P14.dilates", "the seeing eye's pupil when its fellow is covered, black paddle",
      between(0.3, 0.6), "mm", kPractice,
      [](Bench&) {
        const Trace t = run_story(deviation_of(0, 0), {cover(1000, Eye::left)}, 9000);
        return figure(t.at(9000).eye.right.pupil_mm - t.at(900).eye.right.pupil_mm);
      },
      Standing::from_memory);
  g.add(
      "P14.near", "the pupil constricts from 6 m to 20 cm by", printed("about 1", about(1, 0.35)),
      "mm", kPractice,
      [](Bench&) {
        const Trace t = run_story(deviation_of(-1, -3), {show(0, 6), show(1000, 0.20)}, 6000);
        return figure(t.at(900).eye.right.pupil_mm - t.at(6000).eye.right.pupil_mm);
      },
      kCommon);
  g.add(
      "P14.lids", "lids fall with 30° of down gaze to a share of the opening", at_most(0.8), "",
      kPractice,
      [](Bench&) {
        const Trace t = run_story(deviation_of(0, 0), {show(0, 6), show(1000, 6, 0, -30)}, 4000);
        return figure(t.at(4000).eye.right.lid_open_fraction);
      },
      kCommon);
  g.add(
      "P14.apex", "an eye behind 20 Δ looks displaced towards the apex by", about(4, 1), "mm",
      kPractice, [](Bench&) { return figure(displacement_behind(20.0)); }, kCommon);
  // Share of sixty uncoverings that a blink follows within half a second.
  const auto blinks = [](const std::string& more) {
    int blinked = 0;
    int all = 0;
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
      std::vector<Act> acts;
      for (int i = 0; i < 10; ++i) {
        acts.push_back(cover(2000 + 6000 * i, Eye::right));
        acts.push_back(uncover(5000 + 6000 * i));
      }
      const Trace t = run_story(deviation_of(-8, -8) + more, acts, 64000, 1.0, seed);
      for (int i = 0; i < 10; ++i) {
        const Tick free = t.free_after(5000 + 6000 * i, Eye::right);
        double least = 1.0;
        for (Tick k = free; k < free + 500; ++k) {
          least = std::min(least, t.at(k).eye.right.lid_open_fraction);
        }
        blinked += least < 0.7;
        ++all;
      }
    }
    return figure(100.0 * blinked / all, "60 uncoverings");
  };
  g.add(
      "P14.blink", "uncoverings that a blink follows within half a second", between(30, 40), "%",
      "practice: judgement", [blinks](Bench&) { return blinks(""); }, kCommon);
  g.add(
      "P14.blink.written", "the same where the case writes a share of 0.35", between(25, 50), "%",
      "practice: judgement; 0.35 of 60 and the blinks that come anyhow",
      [blinks](Bench&) { return blinks(R"(, "instability": {"blink_on_uncovering": 0.35})"); },
      kCommon);
}

void add_words(Group& g) {
  const auto sixth = [] { return weak("right", "lateral_rectus", 0.45); };
  const auto said = [](const std::string& members, const std::string& question) {
    const Trace t = run_story(members, {ask(500, question)}, 4000);
    if (t.replies.empty()) throw DidNotHappen{"no answer"};
    return t.replies.front();
  };
  g.add(
      "P15.beside", "a fresh esotropia says of the two images", exactly("side_by_side, uncrossed"),
      "", kPractice,
      [said](Bench&) {
        return in_words(
            said(deviation_of(15, 15) + R"(, "fusion": {"present": false})", "arrangement").answer);
      },
      kCommon);
  g.add(
      "P15.shut", "and that they go when an eye is shut", exactly("either"), "", kPractice,
      [said](Bench&) {
        return in_words(
            said(deviation_of(15, 15) + R"(, "fusion": {"present": false})", "which_eye_removes_it")
                .answer);
      },
      kCommon);
  const auto unasked = [](const std::string& members) {
    const Trace t = run_story(members, {}, 20000, 1.0);
    return std::count_if(t.replies.begin(), t.replies.end(),
                         [](const Reply& r) { return r.to == kUnasked; });
  };
  g.add(
      "P15.unasked", "a fresh paresis says in 20 s, unasked, that it sees two: times", about(1, 0),
      "", "practice: behaviours (k)",
      [unasked, sixth](Bench&) {
        return figure(static_cast<double>(unasked(sixth() + ", " + deviation_of(0, 0))));
      },
      kCommon);
  g.add(
      "P15.suppressor", "an esotropia that suppresses says so: times", about(0, 0), "",
      "practice: behaviours (k)",
      [unasked](Bench&) {
        return figure(static_cast<double>(
            unasked(deviation_of(20, 20) + R"(, "fusion": {"present": false}, "sensory": {
              "suppression": {"eye": "either", "scotoma_diameter_deg": 5}})")));
      },
      kCommon);
  g.add(
      "P15.delay", "an answer comes after", between(0.5, 1.5), "s", kPractice,
      [said](Bench&) {
        return figure(0.001 * static_cast<double>(
                                  said(deviation_of(-1, -3), "single_or_double").at_ms - 500));
      },
      kCommon);
  g.add(
      "P15.child", "wrong answers of a child of four", between(20, 30), "%", kPractice,
      [](Bench&) {
        int wrong = 0;
        int all = 0;
        for (std::uint64_t seed = 1; seed <= 10; ++seed) {
          std::vector<Act> acts;
          for (int i = 0; i < 5; ++i) acts.push_back(ask(500 + 4000 * i, "single_or_double"));
          const Trace t = run_story(deviation_of(-1, -3) + R"(, "patient": {"age_years": 4})", acts,
                                    22000, 1.0, seed);
          for (const Reply& reply : t.replies) {
            wrong += reply.answer != "single";
            ++all;
          }
        }
        return figure(100.0 * wrong / std::max(all, 1), "50 questions");
      },
      kCommon);
}

}  // namespace

void add_later_practice_rows(Group& g) {
  add_accommodation(g);
  add_peep(g);
  add_fixation(g);
  add_control(g);
  add_updrift(g);
  add_palsy_practice_rows(g);
  add_hidden(g);
  add_words(g);
}

}  // namespace redress::evidence
