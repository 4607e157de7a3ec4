// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Saccades: main sequence, duration, shape, latency, gain.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/evidence/saccades.hpp"

namespace redress::evidence {

using elementary::magnitude;

namespace {

constexpr const char* kHopf = "Hopf et al. 2018, PLoS ONE: reflexive saccades, n = 100";
constexpr const char* kCollewijn = "Collewijn, Erkelens & Steinman 1988, J Physiol 404:157";
constexpr const char* kIrving = "Irving et al. 2006, IOVS 47:2478, n = 195";
constexpr const char* kShinomiya = "Shinomiya et al., alternating cover, n = 25";

const SaccadeMade& made(Bench& bench, double size, bool vertical) {
  return bench.once(fmt::format("saccade {} {}", size, vertical),
                    [&] { return make_saccade(size, vertical); });
}

void add_main_sequence(Group& g) {
  struct Norm {
    double size, mean, sd;
    bool vertical;
  };
  for (const Norm& n : {Norm{5, 213, 29, false}, Norm{15, 352, 50, false}, Norm{30, 455, 67, false},
                        Norm{5, 208, 36, true}, Norm{10, 303, 50, true}, Norm{20, 391, 71, true}}) {
    const std::string way = n.vertical ? "vertical" : "horizontal";
    g.add(fmt::format("S.{}.{}", way, n.size),
          fmt::format("peak velocity of {}° made, {} (fitted)", n.size, way),
          mean_and_sd(n.mean, n.sd), "°/s", kHopf,
          [n](Bench& b) { return figure(made(b, n.size, n.vertical).peak_deg_s); });
  }
  g.add("S.asymptote", "peak velocity of 45° made", mean_and_sd(502, 32), "°/s", kCollewijn,
        [](Bench& b) { return figure(made(b, 45, false).peak_deg_s); });
  g.add(
      "S.duration.10", "duration of 10° made", between(40, 57), "ms",
      "Carpenter 1988: 2.2 A + 21; slope 2 to 2.7, intercept 20 to 30",
      [](Bench& b) { return figure(made(b, 10, false).duration_ms(), "above 30°/s"); },
      Standing::from_memory);
  g.add(
      "S.duration.slope", "growth of duration from 10° to 30°", between(2.0, 2.7), "ms/°",
      "Carpenter 1988; Baloh et al. 1975",
      [](Bench& b) {
        return figure((made(b, 30, false).duration_ms() - made(b, 10, false).duration_ms()) / 20);
      },
      Standing::from_memory);
  g.add(
      "S.shape", "peak over mean velocity, 10°", between(1.5, 1.9), "",
      "Becker 1989; Harwood, Mezey & Harris 1999",
      [](Bench& b) {
        const SaccadeMade& s = made(b, 10, false);
        return figure(s.peak_deg_s * s.duration_ms() / 1000.0 / s.size_deg);
      },
      Standing::from_memory);
  const auto skew = [](const SaccadeMade& s) {
    return static_cast<double>(s.peak_ms - s.start_ms) / s.duration_ms();
  };
  g.add("S.skew.10", "share of the duration before the peak, 10°", about(0.45, 0.05), "",
        kCollewijn, [skew](Bench& b) { return figure(skew(made(b, 10, false))); });
  g.add("S.skew.50", "share of the duration before the peak, 50°", about(0.20, 0.05), "",
        kCollewijn, [skew](Bench& b) { return figure(skew(made(b, 50, false))); });
}

void add_pairs(Group& g) {
  g.add("S.divergence", "transient divergence in a saccade of 20°", between(0.1, 0.9), "°",
        "Collewijn et al. 1988: a few tenths; the abducting eye is larger and faster", [](Bench&) {
          const Trace t = jump_trace(-10, 10, 0, 23);
          const auto apart = [&](Tick k) {
            return t.horizontal(k, Eye::left) - t.horizontal(k, Eye::right);
          };
          double most = 0.0;
          for (Tick k = 1000; k < 1500; ++k) most = std::max(most, apart(1000) - apart(k));
          return figure(most);
        });
  g.add("S.centripetal", "gain in peak velocity per degree of start, 20° towards the middle",
        printed("2.6", about(2.6, 0.8)), "°/s per °",
        "Kinematics of centrifugal and centripetal saccades (Pélisson & Prablanc 1988)",
        [](Bench&) {
          const auto peak = [](double from, double to) {
            return find_saccade(jump_trace(from, to, 0, 23), 1001, Eye::right).peak_deg_s;
          };
          return figure((peak(20, 0) - peak(0, 20)) / 20.0);
        });
  g.add("S.conjugate", "both eyes start a saccade within", at_most(1.0), "ms",
        "Ciuffreda, Kenyon & Stark 1978: both eyes move together", [](Bench&) {
          const Trace t = jump_trace(0, 15, 0, 23);
          return figure(static_cast<double>(
              magnitude(static_cast<double>(find_saccade(t, 1001, Eye::right).start_ms -
                                            find_saccade(t, 1001, Eye::left).start_ms))));
        });
}

void add_latency(Group& g) {
  const auto latencies = [](Bench& b) -> const std::vector<double>& {
    return b.once("latencies", [] { return collect_latencies(); });
  };
  g.add("S.latency", "median latency to a target that jumps",
        printed("180 to 200 (100 to 300)", between(180, 200)), "ms",
        "review in J Vis after Saslow 1967, Gellman & Carl 1991, Munoz 1998",
        [latencies](Bench& b) { return figure(calc_median(latencies(b)), "160 jumps"); });
  g.add("S.later", "spread of the reciprocal latency over its mean", between(0.15, 0.25), "",
        "Carpenter & Williams 1995, Nature 377:59; Noorani & Carpenter 2016",
        [latencies](Bench& b) {
          std::vector<double> rates;
          for (const double ms : latencies(b)) rates.push_back(1000.0 / ms);
          return figure(calc_sd(rates) / calc_mean(rates));
        });
  struct Age {
    const char* id;
    int years;
    double ms;
  };
  for (const Age& a :
       {Age{"S.latency.3", 3, 439}, Age{"S.latency.14", 14, 172}, Age{"S.latency.80", 80, 264}}) {
    g.add(a.id, fmt::format("latency at {} years", a.years), about(a.ms, 0.1 * a.ms), "ms",
          std::string{kIrving} + " (10 % allowed)", [a](Bench&) {
            const Trace t = jump_trace(0, 10, 0, a.years);
            return figure(static_cast<double>(t.moved_after(1000, Eye::right, 0.2) - 1000));
          });
  }
  for (const Age& a :
       {Age{"S.speed.3", 3, 446}, Age{"S.speed.14", 14, 610}, Age{"S.speed.80", 80, 345}}) {
    g.add(
        a.id, fmt::format("asymptotic peak velocity at {} years", a.years), about(a.ms, 0.1 * a.ms),
        "°/s", std::string{kIrving} + " (10 % allowed)", [a](Bench&) {
          return figure(find_saccade(jump_trace(-25, 25, 0, a.years), 1001, Eye::right).peak_deg_s);
        });
  }
}

// Mean time from the change of eyes to the saccade with which the freed eye takes up fixation.
double alternating_latency(const std::string& members) {
  std::vector<Act> acts;
  constexpr int kTransfers = 240;  // a mean of so many is certain to 4 ms
  for (int i = 0; i < kTransfers; ++i) {
    acts.push_back(cover(1000 + 3000 * i, i % 2 == 0 ? Eye::right : Eye::left));
  }
  const Trace t = run_story(members, acts, 1000 + 3000 * kTransfers, 1.0, 11);
  std::vector<double> found;
  for (int i = 4; i < kTransfers; ++i) {
    const Eye eye = i % 2 == 0 ? Eye::left : Eye::right;
    // Both: the cover crosses in a quarter of a second, and a shutter at once.
    const Tick free =
        std::max(t.free_after(1000 + 3000 * i, eye), t.covered_after(1000 + 3000 * i, fellow(eye)));
    for (Tick k = free; k < free + 900; ++k) {
      if (t.at(k).eye[eye].lid_open_fraction < 0.95) break;
      if (t.speed(k, eye) > 40.0) {
        found.push_back(static_cast<double>(k - free));
        break;
      }
    }
  }
  return calc_mean(found);
}

void add_cover_latency(Group& g) {
  g.add("S.cover.exophoria", "latency when the cover is alternated, exophoria of 8",
        mean_and_sd(198, 45), "ms", kShinomiya,
        [](Bench&) { return figure(alternating_latency(deviation_of(-8, -8))); });
  g.add("S.cover.intermittent", "latency when the cover is alternated, exotropia of 25",
        mean_and_sd(227, 70), "ms", kShinomiya,
        [](Bench&) { return figure(alternating_latency(deviation_of(-25, -25))); });
  // Of the right eye against its fellow, each fixing alone a letter that it sees.
  const auto delay = [](const std::string& members) {
    const auto with = [&](Eye covered) {
      act::ShowTarget large;
      large.size_logmar = 1.0;
      act::ShowTarget aside = large;
      aside.horizontal_deg = 10.0;
      const Trace t = run_story(members, {{0, large}, cover(0, covered), {4000, aside}}, 6000);
      return static_cast<double>(t.moved_after(4000, fellow(covered), 0.3) - 4000);
    };
    return with(Eye::left) - with(Eye::right);
  };
  g.add("S.anisometropic", "delay of an anisometropic amblyopic eye against its fellow",
        printed("25 (262 less 237)", about(25, 5)), "ms",
        "Perdziak et al. 2014, Front Integr Neurosci 8:77", [delay](Bench&) {
          return figure(
              delay(deviation_of(-1, -3) + R"(, "refraction": {"right": {"acuity_logmar": 0.6}})"),
              "acuity 0.6 worse; the delay was set after this source");
        });
  g.add("S.strabismic", "delay of a strabismic amblyopic eye against its fellow",
        printed("77", about(77, 15)), "ms", "Gambacorta et al. 2018, J Vis 18(3):20 (mean)",
        [delay](Bench&) {
          return figure(delay(deviation_of(20, 20) +
                              R"(, "refraction": {"right": {"acuity_logmar": 0.6}},
                "fusion": {"present": false}, "sensory": {"preferred_eye": "left"})"),
                        "acuity 0.6 worse; the delay was set after this source");
        });
}

void add_gain(Group& g) {
  const auto first = [] {
    const Trace t = jump_trace(0, 20, 0, 23);
    return std::pair{t, find_saccade(t, 1001, Eye::right)};
  };
  g.add("S.gain", "undershoot of a first saccade of 20°", between(5, 10), "%",
        "described in the literature, quoted by Collewijn et al. 1988", [first](Bench&) {
          const auto [t, s] = first();
          const double asked = 20.0;
          return figure(100.0 * (1.0 - s.size_deg / asked));
        });
  g.add(
      "S.correction", "from the end of a first saccade to its correction", between(130, 160), "ms",
      "Becker & Fuchs 1969, Vision Res 9:1247",
      [first](Bench&) {
        const auto [t, s] = first();
        const Tick next = find_saccade(t, s.end_ms + 30, Eye::right).start_ms;
        return figure(static_cast<double>(next - s.end_ms));
      },
      Standing::from_memory);
}

}  // namespace

void add_saccade_rows(std::vector<Row>& rows) {
  Group g(rows, "Saccades");
  add_main_sequence(g);
  add_pairs(g);
  add_gain(g);
  add_latency(g);
  add_cover_latency(g);
}

}  // namespace redress::evidence
