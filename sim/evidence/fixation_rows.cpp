// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How still an eye stands: drift, microsaccades, area of fixation, amblyopia.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"

namespace redress::evidence {

using elementary::hypotenuse;
using elementary::magnitude;
using elementary::square_root;

namespace {

// A minute of fixation; what lies within 250 ms of a blink is left out.
struct Still {
  Trace trace;
  std::vector<bool> usable;
};

Still watch_minute(const std::string& members, std::vector<Act> acts) {
  Still still;
  still.trace = run_story(members, acts, 64000, 1.0, 6);
  still.usable.assign(still.trace.rows.size(), true);
  for (Tick t = 0; t <= still.trace.last(); ++t) {
    if (t < 3000) still.usable[static_cast<std::size_t>(t)] = false;
    if (still.trace.at(t).eye.right.lid_open_fraction > 0.97) continue;
    for (Tick k = std::max<Tick>(0, t - 50); k < std::min(t + 250, still.trace.last()); ++k) {
      still.usable[static_cast<std::size_t>(k)] = false;
    }
  }
  return still;
}

bool usable(const Still& s, Tick from, Tick to) {
  for (Tick t = from; t <= to; ++t) {
    if (!s.usable[static_cast<std::size_t>(t)]) return false;
  }
  return true;
}

const Still& healthy(Bench& b) {
  return b.once("minute healthy",
                [] { return watch_minute(deviation_of(-1, -3), {show(0, 6.0)}); });
}
const Still& alone(Bench& b) {
  return b.once("minute alone", [] {
    return watch_minute(deviation_of(-1, -3), {show(0, 6.0), cover(0, Eye::left)});
  });
}

// Mean distance between where the eye is and where it was so long before, degrees.
double excursion(const Still& s, Tick ms) {
  std::vector<double> far;
  for (Tick t = 3000; t + ms <= s.trace.last(); t += 97) {
    if (!usable(s, t, t + ms)) continue;
    far.push_back(
        hypotenuse(s.trace.horizontal(t + ms, Eye::right) - s.trace.horizontal(t, Eye::right),
                   s.trace.vertical(t + ms, Eye::right) - s.trace.vertical(t, Eye::right)));
  }
  return calc_mean(far);
}

struct Microsaccades {
  double per_second = 0.0;
  double mean_deg = 0.0;
};

Microsaccades find_microsaccades(const Still& s) {
  constexpr double kOnset = 4.0;
  std::vector<double> sizes;
  Tick watched = 0;
  for (Tick t = 3000; t + 60 < s.trace.last(); ++t) {
    if (!usable(s, t - 10, t + 60)) continue;
    ++watched;
    if (s.trace.speed(t, Eye::right) < kOnset || s.trace.speed(t - 1, Eye::right) >= kOnset) {
      continue;
    }
    Tick end = t;
    while (end < t + 60 && s.trace.speed(end, Eye::right) >= kOnset) ++end;
    const double size =
        hypotenuse(s.trace.horizontal(end + 8, Eye::right) - s.trace.horizontal(t - 8, Eye::right),
                   s.trace.vertical(end + 8, Eye::right) - s.trace.vertical(t - 8, Eye::right));
    if (size < 0.05) continue;
    sizes.push_back(size);
    t = end;
  }
  return {1000.0 * static_cast<double>(sizes.size()) / static_cast<double>(watched),
          calc_mean(sizes)};
}

// log10 of the area of the ellipse that holds 68 % of the places, square degrees. The share is that
// of tests/published/poor_sight_test.cpp for the same source.
double log_area(const Still& s, Eye eye) {
  std::vector<double> x;
  std::vector<double> y;
  for (Tick t = 3000; t < s.trace.last(); t += 4) {
    if (!s.usable[static_cast<std::size_t>(t)]) continue;
    x.push_back(s.trace.horizontal(t, eye));
    y.push_back(s.trace.vertical(t, eye));
  }
  const double mx = calc_mean(x);
  const double my = calc_mean(y);
  double sum = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) sum += (x[i] - mx) * (y[i] - my);
  const double sx = calc_sd(x);
  const double sy = calc_sd(y);
  const double r = sum / static_cast<double>(x.size() - 1) / (sx * sy);
  constexpr double kChiSquare68 = 2.28;  // two degrees of freedom
  const double area = kChiSquare68 * elementary::kPi * sx * sy * square_root(1.0 - r * r);
  return elementary::logarithm(area) / elementary::logarithm(10.0);
}

double drift_speed(const Still& s) {
  std::vector<double> all;
  for (Tick t = 3001; t < s.trace.last(); t += 7) {
    if (!usable(s, t - 1, t + 1)) continue;
    const double speed = s.trace.speed(t, Eye::right);
    if (speed < 3.0) all.push_back(speed);
  }
  return calc_mean(all);
}

void add_still(Group& g) {
  constexpr const char* kRiggs = "Riggs, Armington & Ratliff 1954, JOSA 44:315 (half allowed)";
  g.add("FX.tenth", "mean excursion in 0.1 s", printed("25", about(25, 12.5)), "″", kRiggs,
        [](Bench& b) { return figure(3600.0 * excursion(alone(b), 100)); });
  g.add("FX.second", "mean excursion in 1 s", printed("3", about(3, 1.5)), "′", kRiggs,
        [](Bench& b) { return figure(60.0 * excursion(alone(b), 1000)); });
  g.add(
      "FX.drift", "speed of drift", between(0.25, 0.9), "°/s",
      "Cherici et al. 2012, J Vis 12(6):31; Rucci & Poletti 2015",
      [](Bench& b) { return figure(drift_speed(alone(b))); }, Standing::from_memory);
  g.add("FX.rate", "microsaccades", between(1, 2), "1/s", "Martinez-Conde; Rolfs 2009",
        [](Bench& b) { return figure(find_microsaccades(alone(b)).per_second); });
  g.add("FX.size", "size of a microsaccade, mean", between(0.2, 0.5), "°",
        "Martinez-Conde; Rolfs 2009",
        [](Bench& b) { return figure(find_microsaccades(alone(b)).mean_deg); });
  constexpr const char* kBirch =
      "Kelly et al. 2019, Exp Eye Res 183:29, table 2: non-preferred eyes; SD 0.23 to 0.46";
  g.add("FX.area", "area of fixation, one healthy eye", about(-0.37, 0.3), "log deg²", kBirch,
        [](Bench& b) { return figure(log_area(alone(b), Eye::right), "68 % of the places"); });
  g.add("FX.binocular", "steadier with both eyes open than with one: difference of areas",
        at_most(-0.001), "log deg²", "González et al. 2012", [](Bench& b) {
          return figure(log_area(healthy(b), Eye::right) - log_area(alone(b), Eye::right));
        });
  g.add("FX.covered", "the covered eye is less steady than the seeing one: difference",
        at_least(0.001), "log deg²", "González et al. 2012: the covered eye is worst",
        [](Bench& b) {
          return figure(log_area(alone(b), Eye::left) - log_area(alone(b), Eye::right));
        });
  const auto amblyopic = [](const std::string& members) {
    const Still s =
        watch_minute(members + R"(, "refraction": {"right": {"acuity_logmar": 0.6}})",
                     {show(0, 6.0, 0, 0, TargetKind::letters, 0.9), cover(0, Eye::left)});
    return figure(log_area(s, Eye::right), "68 % of the places; acuity 0.6 worse");
  };
  g.add("FX.amblyopic", "area of fixation, amblyopic eye, anisometropia",
        printed("-0.23 (of every cause -0.02)", about(-0.23, 0.3)), "log deg²", kBirch,
        [amblyopic](Bench&) { return amblyopic(deviation_of(-1, -3)); });
  g.add(
      "FX.strabismic", "area of fixation, amblyopic eye, strabismus", about(0.09, 0.3), "log deg²",
      kBirch, [amblyopic](Bench&) {
        return amblyopic(deviation_of(20, 20) +
                         R"(, "fusion": {"present": false}, "sensory": {"preferred_eye": "left"})");
      });
  g.add(
      "FX.lost", "an eye whose target is below its acuity wanders, rms", between(0.7, 3.0), "°",
      "at least about one degree: judgement",
      [](Bench&) {
        const Still s = watch_minute(
            deviation_of(-1, -3) + R"(, "refraction": {"right": {"acuity_logmar": 1.0}})",
            {show(0, 6.0, 0, 0, TargetKind::letters, 0.2), cover(0, Eye::left)});
        double sum = 0.0;
        for (Tick t = 5000; t <= 60000; ++t) {
          const double h = s.trace.horizontal(t, Eye::right) + 0.3;
          const double v = s.trace.vertical(t, Eye::right);
          sum += h * h + v * v;
        }
        return figure(square_root(sum / 55001.0));
      },
      Standing::common_practice);
}

}  // namespace

void add_fixation_rows(std::vector<Row>& rows) {
  Group g(rows, "Stability of fixation");
  add_still(g);
}

}  // namespace redress::evidence
