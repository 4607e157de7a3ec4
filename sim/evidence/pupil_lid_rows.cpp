// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pupils, lids and blinks.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/optics/sight.hpp"

namespace redress::evidence {

using elementary::magnitude;

namespace {

double pupil_at(double demand_d, double age_years) {
  const Trace t = run_story(
      deviation_of(-1, -3) + fmt::format(R"(, "patient": {{"age_years": {}}})", age_years),
      {show(0, 1.0 / demand_d + optics::kCorneaToCentreMm / 1000.0)}, 500);
  return t.at(500).eye.right.pupil_mm;
}

// The penlight comes on at 1000 and goes at 5000; noise off.
const Trace& light(Bench& b) {
  return b.once("penlight", [] {
    return run_story(deviation_of(-1, -3),
                     {{1000, act::Penlight{true}}, {5000, act::Penlight{false}}}, 14000);
  });
}

double pupil(const Trace& t, Tick k) { return t.at(k).eye.right.pupil_mm; }

// (t90 - t10) / ln 9 of what follows `from`, up to `until`.
double pupil_tau(const Trace& t, Tick from, Tick until) {
  const double a = pupil(t, from);
  const double b = pupil(t, until);
  const auto at = [&](double share) {
    return t.when(from, "the pupil did not follow",
                  [&](Tick k) { return (pupil(t, k) - a) / (b - a) >= share; });
  };
  return 0.001 * static_cast<double>(at(0.9) - at(0.1)) / elementary::logarithm(9.0);
}

void add_pupils(Group& g) {
  g.add("PU.size", "pupil in a lit room, distance", between(3.0, 4.7), "mm", "Sanchis-Gimeno 2012",
        [](Bench&) { return figure(pupil_at(1.0 / 6.0, 23)); });
  g.add("PU.near", "near constriction, 0 to 6 D",
        printed("0.18 (5.70 to 4.62 mm); 0.1 to 0.4", between(0.1, 0.4)), "mm/D",
        "Bernal-Molina et al. 2014, OVS",
        [](Bench&) { return figure((pupil_at(0.2, 23) - pupil_at(6.2, 23)) / 6.0); });
  g.add(
      "PU.age", "smaller at 70 than at 25 years by",
      printed("0.02 (20 % allowed)", between(0.016, 0.026)), "mm/year",
      "Watson & Yellott 2012, J Vis 12(10):12",
      [](Bench&) { return figure((pupil_at(0.2, 25) - pupil_at(0.2, 70)) / 45.0); },
      Standing::from_memory);
  g.add(
      "PU.latency", "latency of the light reflex", between(220, 280), "ms",
      "Ellis 1981; Loewenfeld",
      [](Bench& b) {
        const Trace& t = light(b);
        return figure(static_cast<double>(t.when(1000, "the pupil did not constrict", [&](Tick k) {
          return pupil(t, k) < pupil(t, 1000) - 0.005;
        }) - 1000));
      },
      Standing::from_memory);
  g.add(
      "PU.constrict", "time constant of constriction", printed("0.3", about(0.3, 0.1)), "s",
      "textbooks", [](Bench& b) { return figure(pupil_tau(light(b), 1000, 4900)); },
      Standing::from_memory);
  g.add(
      "PU.dilate", "time constant of redilation", printed("1.5", about(1.5, 0.4)), "s", "textbooks",
      [](Bench& b) { return figure(pupil_tau(light(b), 5000, 14000)); }, Standing::from_memory);
  g.add(
      "PU.hippus", "hippus, from peak to peak", between(0.1, 0.3), "mm", "Stark",
      [](Bench&) {
        // Median over spells of 4 s: what is seen at a glance.
        const Trace t = run_story(deviation_of(-1, -3), {}, 40000, 1.0, 2);
        std::vector<double> found;
        for (Tick from = 0; from + 4000 <= 40000; from += 4000) {
          double least = 9.0;
          double most = 0.0;
          for (Tick k = from; k < from + 4000; ++k) {
            least = std::min(least, pupil(t, k));
            most = std::max(most, pupil(t, k));
          }
          found.push_back(most - least);
        }
        return figure(calc_median(found), "median of ten spells of 4 s");
      },
      Standing::from_memory);
  g.add(
      "PU.fellow", "dilation of the seeing eye when its fellow is covered, black paddle",
      between(0.3, 0.6), "mm", "practice",
      [](Bench&) {
        const Trace t = run_story(deviation_of(0, 0), {cover(1000, Eye::right)}, 9000);
        return figure(t.at(9000).eye.left.pupil_mm - t.at(900).eye.left.pupil_mm);
      },
      Standing::from_memory);
  g.add(
      "PU.consensual", "both pupils differ, one eye covered, by", at_most(0.05), "mm",
      "the consensual reflex is equal in health",
      [](Bench&) {
        const Trace t = run_story(deviation_of(0, 0), {cover(1000, Eye::right)}, 6000);
        return figure(magnitude(t.at(6000).eye.left.pupil_mm - t.at(6000).eye.right.pupil_mm));
      },
      Standing::from_memory);
}

struct Blink {
  Tick start_ms = 0;
  Tick end_ms = 0;
  double least_open = 1.0;
};
struct Blinks {
  std::vector<Blink> all;
  double minutes = 0.0;
  double down_deg = 0.0;   ///< mean of the furthest
  double nasal_deg = 0.0;  ///< of both eyes
};

Blinks watch_blinks() {
  constexpr Tick kWatchMs = 600000;
  Examination exam(setup_with(deviation_of(-1, -3)), Chance{8, 1.0, true});
  Blinks blinks;
  blinks.minutes = static_cast<double>(kWatchMs) / 60000.0;
  bool shut = false;
  Observation before;
  std::vector<double> down;
  std::vector<double> nasal;
  for (Tick t = 0; t < kWatchMs; ++t) {
    exam.step();
    const Observation o = exam.observe();
    const double open = o.eye.right.lid_open_fraction;
    if (!shut && open < 0.97) {
      shut = true;
      before = o;
      blinks.all.push_back({t, t, open});
      down.push_back(0.0);
      nasal.push_back(0.0);
    }
    if (!shut) continue;
    Blink& blink = blinks.all.back();
    blink.least_open = std::min(blink.least_open, open);
    down.back() = std::max(down.back(), before.eye.right.vertical_deg - o.eye.right.vertical_deg);
    const double inwards = 0.5 * ((before.eye.right.horizontal_deg - o.eye.right.horizontal_deg) +
                                  (o.eye.left.horizontal_deg - before.eye.left.horizontal_deg));
    nasal.back() = std::max(nasal.back(), inwards);
    if (open >= 0.97) {
      shut = false;
      blink.end_ms = t;
    }
  }
  blinks.down_deg = calc_mean(down);
  blinks.nasal_deg = calc_mean(nasal);
  return blinks;
}

void add_blinks(Group& g) {
  const auto seen = [](Bench& b) -> const Blinks& {
    return b.once("blinks", [] { return watch_blinks(); });
  };
  g.add("BL.rate", "blinks in a minute", between(10, 14), "1/min",
        "Ousler et al. 2014, Clin Ophthalmol 8:869 (14); Doughty 2002, OVS (10)", [seen](Bench& b) {
          return figure(static_cast<double>(seen(b).all.size()) / seen(b).minutes, "over 10 min");
        });
  g.add("BL.partial", "share of partial blinks", printed("53", about(53, 10)), "%",
        "Ousler et al. 2014", [seen](Bench& b) {
          double partial = 0.0;
          for (const Blink& blink : seen(b).all) partial += blink.least_open > 0.05 ? 1.0 : 0.0;
          return figure(100.0 * partial / static_cast<double>(seen(b).all.size()));
        });
  g.add("BL.duration", "duration of a blink, median", between(100, 400), "ms", "Evinger 1991",
        [seen](Bench& b) {
          std::vector<double> all;
          for (const Blink& blink : seen(b).all) {
            all.push_back(static_cast<double>(blink.end_ms - blink.start_ms));
          }
          return figure(calc_median(all));
        });
  constexpr const char* kDip =
      "Collewijn, van der Steen & Steinman 1985, J Neurophysiol: 1 to 5° down and nasal";
  g.add("BL.down", "the eyes turn down in a blink by", between(1, 5), "°", kDip,
        [seen](Bench& b) { return figure(seen(b).down_deg); });
  g.add("BL.nasal", "the eyes turn towards the nose in a blink by", between(0.1, 5), "°", kDip,
        [seen](Bench& b) { return figure(seen(b).nasal_deg); });
  g.add("BL.lids", "lids 40° down: opening over that straight ahead",
        printed("6.4 of 9.7 mm (SD 1.1)", between(0.55, 0.77)), "",
        "Read, Collins, Carney & Iskander 2006, OVS", [](Bench&) {
          const Trace t =
              run_story(deviation_of(0, 0), {show(0, 6, 0, 0), show(1000, 6, 0, -40)}, 5000);
          return figure(t.at(5000).eye.right.lid_open_fraction /
                        t.at(500).eye.right.lid_open_fraction);
        });
}

}  // namespace

void add_pupil_and_lid_rows(std::vector<Row>& rows) {
  Group pupils(rows, "Pupils");
  add_pupils(pupils);
  Group lids(rows, "Lids and blinks");
  add_blinks(lids);
}

}  // namespace redress::evidence
