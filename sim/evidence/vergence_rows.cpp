// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Disparity vergence under cover and after it, vertical vergence, prism adaptation, disparity.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/cases/setup.hpp"

namespace redress::evidence {

using elementary::magnitude;

namespace {

constexpr const char* kEconomides =
    "Economides, Adams & Horton 2017, Ophthalmology 124:496, n = 13";
constexpr const char* kTatara = "Tatara et al. 2025, n = 15";

// A cover of the right eye and what comes of it, noise off.
struct Covered {
  Trace trace;
  Tick covered_ms = 0;
  Tick free_ms = 0;
  double before_pd = 0.0;
  double out_pd = 0.0;

  // From the cover (or its end) to this share of the whole way.
  [[nodiscard]] double build_ms(double share) const {
    return static_cast<double>(
        trace.when(covered_ms, "the deviation did not build up",
                   [&](Tick t) { return share_of(trace.deviation_pd(t)) >= share; }) -
        covered_ms);
  }
  [[nodiscard]] double recovery_ms(double share) const {
    return static_cast<double>(trace.when(free_ms, "the deviation did not recover", [&](Tick t) {
      return share_of(trace.deviation_pd(t)) <= 1.0 - share;
    }) - free_ms);
  }
  [[nodiscard]] double share_of(double pd) const { return (pd - before_pd) / (out_pd - before_pd); }
};

Covered cover_once(const std::string& members) {
  Covered c;
  c.trace = run_story(members, {cover(1000, Eye::right), uncover(11000)}, 20000);
  c.covered_ms = c.trace.covered_after(1000, Eye::right);
  c.free_ms = c.trace.free_after(11000, Eye::right);
  c.before_pd = c.trace.deviation_pd(c.covered_ms);
  c.out_pd = c.trace.deviation_pd(c.free_ms);
  return c;
}

const Covered& exophoria(Bench& b) {
  return b.once("covered exophoria", [] { return cover_once(deviation_of(-6, -9)); });
}

// The quicker release is that of the recordings of intermittent exotropia.
const Covered& intermittent(Bench& b) {
  return b.once("covered intermittent", [] {
    return cover_once(deviation_of(-25, -25) + R"(, "fusion": {"release_time_constant_s": 0.6,
      "distance": {"base_out_pd": [null, 20, 10], "base_in_pd": [null, 10, 6]}})");
  });
}

void add_cover(Group& g) {
  g.add("V.intermittent.90", "exotropia of 25 under cover: 90 % of the way (fitted)",
        printed("1.75 (mean)", about(1.75, 0.35)), "s", kEconomides, [](Bench& b) {
          return figure(0.001 * intermittent(b).build_ms(0.9), "release time constant 0.6 s");
        });
  g.add("V.intermittent.back", "its recovery over its loss, to 90 %", at_most(0.999), "",
        "Economides et al. 2017: recovery is faster than loss", [](Bench& b) {
          return figure(intermittent(b).recovery_ms(0.9) / intermittent(b).build_ms(0.9));
        });
  g.add("V.intermittent.saccade", "its recovery has a saccade of the fixing eye", exactly("yes"),
        "", "Economides et al. 2017: often with a disconjugate saccade", [](Bench& b) {
          const Covered& c = intermittent(b);
          for (Tick t = c.free_ms; t < c.free_ms + 1500; ++t) {
            if (c.trace.speed(t, Eye::left) > 30.0) return in_words("yes");
          }
          return in_words("no");
        });
  g.add("V.exophoria.steady", "exophoria of 6 under cover: steady (95 %)", mean_and_sd(3.33, 2.39),
        "s", kTatara, [](Bench& b) { return figure(0.001 * exophoria(b).build_ms(0.95)); });
  g.add(
      "V.exophoria.63", "exophoria of 6 under cover: 63 % of the way", between(0.9, 1.4), "s",
      "time constant 1 to 1.3 s after Tatara et al., with the delay before it",
      [](Bench& b) { return figure(0.001 * exophoria(b).build_ms(0.63)); }, Standing::derived);
  g.add(
      "V.still", "the uncovered eye moves on covering its fellow by", at_most(0.5), "Δ",
      "in a phoria the uncovered eye stays still",
      [](Bench& b) {
        const Covered& c = exophoria(b);
        return figure(to_pd(c.trace.furthest(c.covered_ms, c.free_ms, Eye::left)));
      },
      Standing::common_practice);
  g.add("V.both", "on uncovering the other eye moves too, and returns: furthest", at_least(0.3),
        "°", "Peli & McCormack 1983: saccades and vergence in both eyes, n = 9", [](Bench& b) {
          const Covered& c = exophoria(b);
          return figure(c.trace.furthest(c.free_ms, c.free_ms + 1500, Eye::left));
        });
  g.add("V.latency", "from the eye being free to the first vergence",
        printed("160 (130 to 200)", between(130, 200)), "ms",
        "Pobuda & Erkelens 1993, Biol Cybern 68:221", [](Bench& b) {
          const Covered& c = exophoria(b);
          return figure(
              static_cast<double>(c.trace.moved_after(c.free_ms, Eye::right, 0.1) - c.free_ms));
        });
  g.add(
      "V.recovery", "exophoria of 6: recovery to 95 %", between(0.6, 1.4), "s",
      "a healthy adult fuses at once, within about a second",
      [](Bench& b) { return figure(0.001 * exophoria(b).recovery_ms(0.95)); },
      Standing::common_practice);
}

// Four degrees of convergence asked for by prisms before both eyes, so that no version is needed.
const Trace& vergence_step(Bench& b) {
  return b.once("vergence step", [] {
    const double label = to_pd(2.0);
    return run_story(deviation_of(0, 0),
                     {hold_prism(1000, Eye::right, label, base_out(Eye::right)),
                      hold_prism(1000, Eye::left, label, base_out(Eye::left))},
                     6000);
  });
}

double turned_in(const Trace& t, Tick k) {
  return t.horizontal(k, Eye::left) - t.horizontal(k, Eye::right);
}

double peak_vergence(const Trace& t) {
  double most = 0.0;
  for (Tick k = 1001; k < 5000; ++k) {
    most = std::max(most, 500.0 * (turned_in(t, k + 1) - turned_in(t, k - 1)));
  }
  return most;
}

void add_step(Group& g) {
  g.add(
      "V.step.peak", "peak velocity of a 4° step (fitted)",
      printed("about 20 (12 to 30)", between(12, 30)), "°/s", "Alvarez group; Hung 1998",
      [](Bench& b) { return figure(peak_vergence(vergence_step(b))); }, Standing::from_memory);
  g.add(
      "V.step.slope", "peak velocity over amplitude, convergence", between(4, 6), "1/s",
      "Collewijn, Erkelens & Steinman 1995; Alvarez",
      [](Bench& b) {
        const Trace& t = vergence_step(b);
        return figure(peak_vergence(t) / (turned_in(t, 6000) - turned_in(t, 1000)));
      },
      Standing::from_memory);
}

// Vertical prism before the right eye, base down, rising by a quarter every 8 s until it breaks and
// falling until single vision is back; labels.
struct VerticalRange {
  double break_pd = 0.0;
  double recovery_pd = 0.0;
};

VerticalRange vertical_range(double base_deg) {
  constexpr double kStep = 0.25;
  constexpr Tick kHoldMs = 8000;
  Examination exam(setup_with(deviation_of(0, 0)), truth::kCalm);
  const auto hold = [&](double label) {
    if (label > 0.0) {
      exam.apply(hold_prism(0, Eye::right, label, base_deg).content);
    } else {
      exam.apply(remove_prism(0, Eye::right).content);
    }
    truth::wait(exam, kHoldMs);
  };
  VerticalRange range;
  double label = 0.0;
  while (exam.patient_state().fusion.locked && label < 20.0) hold(label += kStep);
  range.break_pd = label;
  while (!exam.patient_state().fusion.locked && label > 0.0) hold(label -= kStep);
  range.recovery_pd = label;
  return range;
}

void add_vertical(Group& g) {
  const auto down = [](Bench& b) -> const VerticalRange& {
    return b.once("vertical range down", [] { return vertical_range(270.0); });
  };
  const auto up = [](Bench& b) -> const VerticalRange& {
    return b.once("vertical range up", [] { return vertical_range(90.0); });
  };
  constexpr const char* kUlyat = "Ulyat, Firth & Griffiths 2004; Ogle & Prangen 1953";
  g.add("V.vertical.one", "vertical vergence, one way, to break", between(2.5, 3.5), "Δ", kUlyat,
        [down](Bench& b) {
          return figure(down(b).break_pd, "2.5 to 3 and a quarter-step's reading");
        });
  g.add("V.vertical.break", "vertical vergence, both ways, to break", between(5.5, 6.5), "Δ",
        kUlyat, [up, down](Bench& b) {
          return figure(up(b).break_pd + down(b).break_pd,
                        "5.5 to 6 and two quarter-steps' reading");
        });
  g.add("V.vertical.recovery", "vertical vergence, both ways, recovery", between(3.5, 4.0), "Δ",
        kUlyat, [up, down](Bench& b) { return figure(up(b).recovery_pd + down(b).recovery_pd); });
  const auto vertical_time = [](double share) {
    const Trace t = run_story(deviation_of(0, 0), {hold_prism(1000, Eye::right, 1.5, 270)}, 20000);
    const double end = t.vertical_pd(20000);
    return static_cast<double>(t.when(1000, "vertical vergence did not follow", [&](Tick k) {
      return t.vertical_pd(k) / end >= share;
    }) - 1000);
  };
  g.add("V.vertical.time", "time to complete a vertical step (99 %)",
        printed("about 8", between(6, 10)), "s", "Perlmutter & Kertesz 1978",
        [vertical_time](Bench&) { return figure(0.001 * vertical_time(0.99)); });
  g.add("V.vertical.slower", "slower than a horizontal step, to 90 %",
        printed("about 8", between(6, 10)), "times", "Perlmutter & Kertesz 1978",
        [vertical_time](Bench& b) {
          const Trace& t = vergence_step(b);
          const double whole = turned_in(t, 6000) - turned_in(t, 1000);
          const Tick horizontal = t.when(1000, "vergence did not follow", [&](Tick k) {
            return turned_in(t, k) - turned_in(t, 1000) >= 0.9 * whole;
          });
          return figure(vertical_time(0.9) / static_cast<double>(horizontal - 1000));
        });
}

// Deviation behind 12 base out after fusing through it for so long, against that at once.
double adapted_pd(Tick fused_ms) {
  Examination exam(setup_with(deviation_of(0, 0)), Chance{1, 0.0, true});
  exam.apply(hold_prism(0, Eye::left, 12, base_out(Eye::left)).content);
  truth::wait(exam, fused_ms);
  exam.apply(cover(0, Eye::left).content);
  truth::wait(exam, 8000);
  return truth::calc_deviation(exam).horizontal_pd;
}

void add_slow(Group& g) {
  g.add("V.adaptation", "prism adaptation to 12 base out: 95 % of the change", between(3, 6), "min",
        "Thiagarajan, Lakshminarayanan & Bobier 2010, OVS", [](Bench&) {
          const double start = adapted_pd(2000);
          const double end = adapted_pd(15 * 60000);
          for (int half_min = 1; half_min <= 30; ++half_min) {
            if ((adapted_pd(30000 * half_min) - start) / (end - start) >= 0.95) {
              return figure(0.5 * half_min, fmt::format("{} Δ in all", format_number(end - start)));
            }
          }
          return in_words("later than 15 min");
        });
  g.add(
      "V.unworn", "two minutes of fusing leave of an exophoria of 6", about(6.0, 0.3), "Δ",
      "prism adaptation acts on the change from the habitual demand only",
      [](Bench&) {
        Examination exam(setup_with(deviation_of(-6, -9)), Chance{1, 0.0, true});
        truth::wait(exam, 120000);
        exam.apply(cover(0, Eye::left).content);
        truth::wait(exam, 8000);
        return figure(-truth::calc_deviation(exam).horizontal_pd);
      },
      Standing::derived);
  g.add("V.sessions", "spread of a phoria from session to session",
        printed("0.33", about(0.33, 0.1)), "°", "Paulus, Straube & Eggert 2019, JEMR 12(4):3",
        [](Bench&) {
          std::vector<double> found;
          for (std::uint64_t seed = 1; seed <= 40; ++seed) {
            Examination exam(setup_with(deviation_of(-8, -8)), Chance{seed, 1.0, true});
            truth::wait(exam, 4000);
            exam.apply(cover(0, Eye::left).content);
            truth::wait(exam, 8000);
            found.push_back(to_deg(truth::calc_deviation(exam).horizontal_pd));
          }
          return figure(calc_sd(found), "40 sessions");
        });
}

// Largest deviation of eyes that do not fuse at which the target is still said to be single.
double single_up_to(bool vertical) {
  constexpr double kStepPd = 0.05;
  double single = 0.0;
  for (double pd = 0.0; pd < 4.0; pd += kStepPd) {
    const Trace t = run_story(
        fmt::format(R"("deviation": {{"distance_pd": {}, "near_pd": 0, "vertical_pd": {}}},
                       "fusion": {{"present": false}})",
                    vertical ? 0.0 : pd, vertical ? pd : 0.0),
        {ask(500, "single_or_double")}, 2000);
    if (t.replies.empty() || t.replies.front().answer != "single") break;
    single = pd;
  }
  return 60.0 * to_deg(single);
}

void add_disparity(Group& g) {
  g.add("V.disparity", "fixation disparity of an exophoria of 6", at_most(10), "′",
        "Jaschinski 2018, PLoS ONE 13:e0199958: typically 10′ or less",
        [](Bench& b) { return figure(60.0 * magnitude(to_deg(exophoria(b).before_pd))); });
  g.add("V.disparity.side", "its direction", exactly("exo"), "", "Jaschinski 2018: exo commoner",
        [](Bench& b) { return in_words(exophoria(b).before_pd < 0.0 ? "exo" : "eso"); });
  constexpr const char* kQin = "Qin, Takamatsu & Nakashima 2006, Opt Rev 13:34, half of the whole";
  g.add("V.panum.horizontal", "Panum's area, fovea, horizontal, to one side", between(16, 20), "′",
        kQin, [](Bench&) { return figure(single_up_to(false)); });
  g.add("V.panum.vertical", "Panum's area, fovea, vertical, to one side", between(9.5, 13), "′",
        kQin, [](Bench&) { return figure(single_up_to(true)); });
}

}  // namespace

void add_vergence_rows(std::vector<Row>& rows) {
  Group cover_group(rows, "Vergence under cover and after");
  add_cover(cover_group);
  Group vergence(rows, "Vergence: steps, vertical, adaptation, disparity");
  add_step(vergence);
  add_vertical(vergence);
  add_slow(vergence);
  add_disparity(vergence);
}

}  // namespace redress::evidence
