// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Fifteen observations that an experienced teacher would look for in the first five minutes. Most
// intervals are design targets set by practice; where a source was read it is named.
#include "sim/evidence/practice.hpp"
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/evidence/gazes.hpp"

namespace redress::evidence {

using elementary::magnitude;

namespace {

constexpr const char* kPractice = "practice: what convinces a teacher";
constexpr Standing kCommon = Standing::common_practice;

std::string esotropia() {
  return deviation_of(20, 20) + R"(, "fusion": {"present": false}, "sensory": {
    "preferred_eye": "left", "preference": 1.0,
    "suppression": {"eye": "right", "scotoma_diameter_deg": 3}})";
}

void add_esotropia(Group& g) {
  const auto left_covered = [](Bench& b) -> const Trace& {
    return b.once("esotropia left", [] {
      return run_story(esotropia(), {cover(1000, Eye::left), uncover(5000)}, 9000);
    });
  };
  g.add(
      "P01.both", "right esotropia of 20: covering the left, the right eye turns by",
      about(11.3, 0.4), "°", kPractice,
      [left_covered](Bench& b) {
        const Trace& t = left_covered(b);
        const Tick from = t.covered_after(1000, Eye::left);
        return figure(t.horizontal(4900, Eye::right) - t.horizontal(from, Eye::right));
      },
      kCommon);
  g.add(
      "P01.onset", "both eyes start within", at_most(5), "ms", kPractice,
      [left_covered](Bench& b) {
        const Trace& t = left_covered(b);
        const Tick from = t.covered_after(1000, Eye::left);
        return figure(magnitude(static_cast<double>(t.moved_after(from, Eye::right, 0.2) -
                                                    t.moved_after(from, Eye::left, 0.2))));
      },
      kCommon);
  g.add(
      "P01.nothing", "covering the right, either eye moves by", at_most(0.3), "°", kPractice,
      [](Bench&) {
        const Trace t = run_story(esotropia(), {cover(1000, Eye::right)}, 5000);
        return figure(
            std::max(t.furthest(1000, 5000, Eye::right), t.furthest(1000, 5000, Eye::left)));
      },
      kCommon);
}

void add_exophoria(Group& g) {
  // The right eye behind a translucent cover, then the cover crosses to the left.
  const auto seen = [](Bench& b) -> const Trace& {
    return b.once("translucent", [] {
      return run_story(deviation_of(-10, -10),
                       {cover(1000, Eye::right, OccluderKind::translucent),
                        cover(9000, Eye::left, OccluderKind::translucent)},
                       12000);
    });
  };
  g.add(
      "P02.drift", "exophoria of 10 under cover: 63 % of the drift", between(0.9, 1.4), "s",
      kPractice,
      [seen](Bench& b) {
        const Trace& t = seen(b);
        const Tick from = t.covered_after(1000, Eye::right);
        const double whole = t.horizontal(8900, Eye::right) - t.horizontal(from, Eye::right);
        return figure(
            0.001 * static_cast<double>(t.when(from, "no drift", [&](Tick k) {
              return (t.horizontal(k, Eye::right) - t.horizontal(from, Eye::right)) / whole >= 0.63;
            }) - from));
      },
      kCommon);
  g.add(
      "P02.slow", "peak speed of the drift", at_most(15), "°/s", kPractice,
      [seen](Bench& b) {
        const Trace& t = seen(b);
        double most = 0.0;
        for (Tick k = 1001; k < 8900; ++k) most = std::max(most, t.speed(k, Eye::right));
        return figure(most);
      },
      kCommon);
  g.add(
      "P02.fast", "peak speed of the refixation on transfer", at_least(200), "°/s", kPractice,
      [seen](Bench& b) {
        const Trace& t = seen(b);
        return figure(find_saccade(t, t.free_after(9000, Eye::right), Eye::right).peak_deg_s);
      },
      kCommon);
  g.add(
      "P02.duration", "duration of that refixation", printed("about 40", about(40, 12)), "ms",
      kPractice,
      [seen](Bench& b) {
        const Trace& t = seen(b);
        return figure(find_saccade(t, t.free_after(9000, Eye::right), Eye::right).duration_ms());
      },
      kCommon);
  const auto freed = [](Bench& b) -> const Trace& {
    return b.once("exophoria freed", [] {
      return run_story(deviation_of(-10, -10), {cover(1000, Eye::right), uncover(9000)}, 13000);
    });
  };
  g.add(
      "P03.first", "uncovering it: first movement after", between(140, 220), "ms", kPractice,
      [freed](Bench& b) {
        const Trace& t = freed(b);
        const Tick free = t.free_after(9000, Eye::right);
        return figure(static_cast<double>(t.moved_after(free, Eye::right, 0.1) - free));
      },
      kCommon);
  g.add(
      "P03.whole", "fusion is complete (95 %) after", between(0.6, 1.4), "s", kPractice,
      [freed](Bench& b) {
        const Trace& t = freed(b);
        const Tick free = t.free_after(9000, Eye::right);
        const double out = t.deviation_pd(free);
        return figure(0.001 * static_cast<double>(t.when(free, "no recovery", [&](Tick k) {
                        return t.deviation_pd(k) >= 0.03 * out + 0.05 * 0.97 * out;
                      }) - free));
      },
      kCommon);
  g.add("P03.twitch", "the other eye twitches by a share of the phoria", between(0.1, 0.55), "",
        "Peli & McCormack 1983; up to about half", [freed](Bench& b) {
          const Trace& t = freed(b);
          const Tick free = t.free_after(9000, Eye::right);
          return figure(to_pd(t.furthest(free, free + 1500, Eye::left)) / 10.0);
        });
  g.add("P03.returns", "and comes back to within", at_most(0.3), "°", "Peli & McCormack 1983",
        [freed](Bench& b) {
          const Trace& t = freed(b);
          const Tick free = t.free_after(9000, Eye::right);
          return figure(magnitude(t.horizontal(13000, Eye::left) - t.horizontal(free, Eye::left)));
        });
}

// Ten covers of one eye, with noise.
struct TenCovers {
  std::vector<double> sizes_pd;
  std::vector<double> latencies_ms;
};
TenCovers cover_ten_times(std::uint64_t seed) {
  std::vector<Act> acts;
  for (int i = 0; i < 10; ++i) {
    acts.push_back(cover(2000 + 10000 * i, Eye::right));
    acts.push_back(uncover(7000 + 10000 * i));
  }
  const Trace t = run_story(deviation_of(-10, -10), acts, 103000, 1.0, seed);
  TenCovers found;
  for (int i = 0; i < 10; ++i) {
    const Tick free = t.free_after(7000 + 10000 * i, Eye::right);
    found.sizes_pd.push_back(t.deviation_pd(free));
    found.latencies_ms.push_back(static_cast<double>(t.moved_after(free, Eye::right, 0.4) - free));
  }
  return found;
}

void add_repeats(Group& g) {
  const auto ten = [](Bench& b) -> const TenCovers& {
    return b.once("ten covers", [] { return cover_ten_times(4); });
  };
  g.add(
      "P04.sizes", "the same cover ten times: spread of the sizes", between(0.2, 0.6), "Δ",
      kPractice, [ten](Bench& b) { return figure(calc_sd(ten(b).sizes_pd)); }, kCommon);
  g.add(
      "P04.least", "shortest latency of the ten", between(150, 300), "ms", kPractice,
      [ten](Bench& b) {
        const auto& all = ten(b).latencies_ms;
        return figure(*std::min_element(all.begin(), all.end()));
      },
      kCommon);
  g.add(
      "P04.most", "longest latency of the ten", between(150, 300), "ms", kPractice,
      [ten](Bench& b) {
        const auto& all = ten(b).latencies_ms;
        return figure(*std::max_element(all.begin(), all.end()));
      },
      kCommon);
  g.add(
      "P04.repeat", "the ten again with the same seed, and with another",
      exactly("equal, different"), "", kPractice,
      [ten](Bench& b) {
        const TenCovers again = cover_ten_times(4);
        const TenCovers other = cover_ten_times(5);
        const bool equal = again.sizes_pd == ten(b).sizes_pd;
        const bool different = other.sizes_pd != ten(b).sizes_pd;
        return in_words(std::string{equal ? "equal" : "not equal"} +
                        (different ? ", different" : ", the same"));
      },
      kCommon);
}

void add_prisms(Group& g) {
  for (const double label : {0.0, 4.0, 8.0, 10.0}) {
    g.add(
        fmt::format("P05.{}", label),
        fmt::format("exophoria of 8 behind {} base in: mean refixation inwards", label),
        about(8.0 - label, 0.3), "Δ", kPractice,
        [label](Bench&) { return figure(mean_refixation(deviation_of(-8, -10), label, 2000)); },
        kCommon);
  }
  g.add(
      "P05.short", "covers of half a second show a share of the phoria", at_most(0.35), "",
      kPractice,
      [](Bench&) {
        const Trace t =
            run_story(deviation_of(-8, -10), {cover(1000, Eye::right), uncover(1500)}, 3000);
        const Tick free = t.free_after(1300, Eye::right);
        return figure(t.deviation_pd(free) / -8.0);
      },
      kCommon);
}

// A right esotropia whose right eye reads 6/60; the left is covered ten times.
double share_taken_up(double size_logmar, double* delay_ms) {
  const std::string members =
      deviation_of(20, 20) + R"(, "refraction": {"right": {"acuity_logmar": 1.0}},
        "fusion": {"present": false}, "sensory": {"preferred_eye": "left", "preference": 1.0})";
  act::ShowTarget target;
  target.kind = size_logmar > 1.0 ? TargetKind::picture : TargetKind::letters;
  target.size_logmar = size_logmar;
  std::vector<Act> acts{{0, target}};
  constexpr int kCovers = 40;
  for (int i = 0; i < kCovers; ++i) {
    acts.push_back(cover(2000 + 8000 * i, Eye::left));
    acts.push_back(uncover(6000 + 8000 * i));
  }
  const Trace t = run_story(members, acts, 2000 + 8000 * kCovers, 1.0, 3);
  int taken = 0;
  std::vector<double> delays;
  for (int i = 0; i < kCovers; ++i) {
    const Tick from = t.covered_after(2000 + 8000 * i, Eye::left);
    if (magnitude(t.horizontal(from + 3000, Eye::right) + 0.3) > 1.5) continue;
    ++taken;
    delays.push_back(static_cast<double>(t.moved_after(from, Eye::right, 2.0) - from));
  }
  if (delay_ms != nullptr) *delay_ms = calc_median(delays);
  return static_cast<double>(taken) / kCovers;
}

void add_acuity(Group& g) {
  g.add(
      "P06.letter", "a letter below 6/60: the right eye does not take it up, share of covers",
      at_least(0.8), "", kPractice,
      [](Bench&) { return figure(1.0 - share_taken_up(0.3, nullptr)); }, kCommon);
  g.add(
      "P06.picture", "a large picture: it does, share of covers", at_least(0.8), "", kPractice,
      [](Bench&) { return figure(share_taken_up(1.5, nullptr)); }, kCommon);
  g.add("P06.later", "later than a healthy eye (205 ms) by", printed("about 80", about(80, 40)),
        "ms", "Gambacorta et al. 2018: 77 ms", [](Bench&) {
          double delay = 0.0;
          share_taken_up(1.5, &delay);
          return figure(delay - 205.0, "median of 40 covers, to 2° of movement");
        });
}

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
      "P09.alternator", "an alternator holds either eye, turn of the freed eye on uncovering",
      at_most(1.0), "°", kPractice,
      [](Bench&) {
        const Trace t = run_story(exotropia(0.5), {cover(1000, Eye::right), uncover(5000)}, 9000);
        const Tick free = t.free_after(5000, Eye::right);
        return figure(t.furthest(free, 9000, Eye::right));
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

}  // namespace

void add_practice_rows(std::vector<Row>& rows) {
  Group g(rows, "Fifteen observations of practice");
  add_esotropia(g);
  add_exophoria(g);
  add_repeats(g);
  add_prisms(g);
  add_acuity(g);
  add_accommodation(g);
  add_peep(g);
  add_fixation(g);
  add_later_practice_rows(g);
}

}  // namespace redress::evidence
