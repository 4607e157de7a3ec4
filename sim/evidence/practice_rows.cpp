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
      "P04.distinct", "no two of the ten are equal in size and latency", exactly("none equal"), "",
      kPractice,
      [ten](Bench& b) {
        const TenCovers& t = ten(b);
        for (std::size_t i = 0; i < t.sizes_pd.size(); ++i) {
          for (std::size_t k = 0; k < i; ++k) {
            if (t.sizes_pd[i] == t.sizes_pd[k] && t.latencies_ms[i] == t.latencies_ms[k]) {
              return in_words(fmt::format("the {} and {} equal", k + 1, i + 1));
            }
          }
        }
        return in_words("none equal");
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

// A right esotropia whose right eye reads 6/60 unless said; the left is covered forty times.
struct TakenUp {
  double share = 0.0;     ///< of the covers
  double delay_ms = 0.0;  ///< to 2 degrees of movement, median
  double too_far = 0.0;   ///< share whose first saccade went 0.3 degrees or more beyond the rest
  double saccades = 0.0;  ///< mean number until the eye is there, above 0.5 degrees each
};

TakenUp take_up(double size_logmar, double acuity_logmar = 1.0) {
  const std::string members =
      deviation_of(20, 20) + fmt::format(R"(, "refraction": {{"right": {{"acuity_logmar": {}}}}},
        "fusion": {{"present": false}}, "sensory": {{"preferred_eye": "left", "preference": 1.0}})",
                                         acuity_logmar);
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
  int beyond = 0;
  int saccades = 0;
  std::vector<double> delays;
  for (int i = 0; i < kCovers; ++i) {
    const Tick from = t.covered_after(2000 + 8000 * i, Eye::left);
    double rest = 0.0;
    for (Tick k = from + 2000; k < from + 3000; ++k) rest += 0.001 * t.horizontal(k, Eye::right);
    if (magnitude(rest + 0.3) > 1.5) continue;
    ++taken;
    delays.push_back(static_cast<double>(t.moved_after(from, Eye::right, 2.0) - from));
    const SaccadeMade first = find_saccade(t, from, Eye::right);
    // Eso: it comes out, to the patient's right.
    beyond += t.horizontal(first.end_ms + 20, Eye::right) - rest >= 0.3;
    for (Tick k = from; k < from + 1500;) {
      const Tick left = from + 1500;
      while (k < left && t.speed(k, Eye::right) < 30.0) ++k;
      if (k >= left) break;
      const SaccadeMade one = find_saccade(t, k, Eye::right);
      saccades += one.size_deg >= 0.5;
      k = one.end_ms + 1;
    }
  }
  TakenUp found;
  found.share = static_cast<double>(taken) / kCovers;
  if (taken == 0) return found;
  found.delay_ms = calc_median(delays);
  found.too_far = static_cast<double>(beyond) / taken;
  found.saccades = static_cast<double>(saccades) / taken;
  return found;
}

void add_acuity(Group& g) {
  const auto picture = [](Bench& b) -> const TakenUp& {
    return b.once("taken up, picture", [] { return take_up(1.5); });
  };
  const auto healthy = [](Bench& b) -> const TakenUp& {
    return b.once("taken up, healthy", [] { return take_up(1.5, 0.0); });
  };
  g.add(
      "P06.letter", "a letter below 6/60: the right eye does not take it up, share of covers",
      at_least(0.8), "", kPractice, [](Bench&) { return figure(1.0 - take_up(0.3).share); },
      kCommon);
  g.add(
      "P06.picture", "a large picture: it does, share of covers", at_least(0.8), "", kPractice,
      [picture](Bench& b) { return figure(picture(b).share); }, kCommon);
  g.add("P06.later", "later than a healthy eye (205 ms) by", printed("about 80", about(80, 40)),
        "ms", "Gambacorta et al. 2018: 77 ms", [picture](Bench& b) {
          return figure(picture(b).delay_ms - 205.0, "median of 40 covers, to 2° of movement");
        });
  g.add(
      "P06.overshoots", "its first saccade goes too far (0.3° or more), share of covers",
      at_least(0.1), "", "practice: overshooting; the share: judgement",
      [picture, healthy](Bench& b) {
        return figure(picture(b).too_far,
                      fmt::format("{} in a healthy eye", format_number(healthy(b).too_far)));
      },
      kCommon);
  g.add(
      "P06.searches", "saccades more than a healthy eye takes to get there", at_least(0.2), "",
      "practice: searching; the number: judgement",
      [picture, healthy](Bench& b) {
        return figure(picture(b).saccades - healthy(b).saccades,
                      fmt::format("{} against {}", format_number(picture(b).saccades),
                                  format_number(healthy(b).saccades)));
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
  add_later_practice_rows(g);
}

}  // namespace redress::evidence
