// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Dissociated vertical deviation and latent nystagmus.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"

namespace redress::evidence {

using elementary::magnitude;

namespace {

constexpr const char* kGradstein = "Gradstein et al. 2004, IOVS 45:1139";

// Ten prism dioptres of the right eye; it is covered at 2000 ms and freed at 8000 ms.
const Trace& updrift(Bench& b, OccluderKind kind) {
  return b.once(kind == OccluderKind::opaque ? "updrift" : "updrift translucent", [&] {
    return run_story(deviation_of(0, 0) + R"(, "instability": {"dvd_pd": {"right": 10, "left": 6}},
      "sensory": {"preferred_eye": "left", "preference": 1.0})",
                     {cover(2000, Eye::right, kind), uncover(8000)}, 14000);
  });
}

double risen(const Trace& t, Tick from, Tick to) {
  return t.vertical(to, Eye::right) - t.vertical(from, Eye::right);
}

void add_updrift(Group& g) {
  g.add(
      "DV.tau", "time constant of the updrift", mean_and_sd(0.67, 0.14), "s",
      "van Rijn, Simonsz & ten Tusscher 1997, Strabismus, n = 5", [](Bench& b) {
        const Trace& t = updrift(b, OccluderKind::opaque);
        const Tick from = t.covered_after(2000, Eye::right);
        const double whole = risen(t, from, 7900);
        const auto at = [&](double share) {
          return t.when(from, "the eye did not rise",
                        [&](Tick k) { return risen(t, from, k) >= share * whole; });
        };
        return figure(0.001 * static_cast<double>(at(0.9) - at(0.1)) / elementary::logarithm(9.0));
      });
  g.add(
      "DV.size", "updrift of 10 Δ as written", about(10, 0.5), "Δ",
      "the case's number is the whole updrift",
      [](Bench& b) {
        const Trace& t = updrift(b, OccluderKind::opaque);
        return figure(to_pd(risen(t, t.covered_after(2000, Eye::right), 7900)));
      },
      Standing::derived);
  g.add("DV.extorsion", "extorsion with it", at_least(0.5), "°", "Guyton et al. 1998; Brodsky 1999",
        [](Bench& b) {
          const Trace& t = updrift(b, OccluderKind::opaque);
          return figure(t.at(7900).eye.right.torsion_deg - t.at(1900).eye.right.torsion_deg);
        });
  g.add("DV.fellow", "the other eye goes down by", at_most(0.3), "°",
        "no matching hypotropia: Guyton et al. 1998; Brodsky 1999", [](Bench& b) {
          const Trace& t = updrift(b, OccluderKind::opaque);
          double least = 0.0;
          for (Tick k = 2000; k < 8000; ++k) {
            least = std::min(least, t.vertical(k, Eye::left) - t.vertical(1900, Eye::left));
          }
          return figure(-least);
        });
  g.add("DV.return", "its return over its rise, to 63 %", at_least(0.8), "",
        "slow return: Guyton et al. 1998", [](Bench& b) {
          const Trace& t = updrift(b, OccluderKind::opaque);
          const Tick from = t.covered_after(2000, Eye::right);
          const double whole = risen(t, from, 7900);
          const Tick up = t.when(from, "the eye did not rise",
                                 [&](Tick k) { return risen(t, from, k) >= 0.63 * whole; });
          const Tick free = t.free_after(8000, Eye::right);
          const Tick down = t.when(free, "the eye did not sink",
                                   [&](Tick k) { return risen(t, from, k) <= 0.37 * whole; });
          return figure(static_cast<double>(down - free) / static_cast<double>(up - from));
        });
}

// Right eye covered from 2000 to 8000 ms, then the left until 14000, then both open.
const Trace& latent(Bench& b, OccluderKind kind) {
  return b.once(kind == OccluderKind::opaque ? "latent" : "latent translucent", [&] {
    return run_story(deviation_of(4, 4) + R"(, "instability": {"latent_nystagmus_deg": 3})",
                     {cover(2000, Eye::right, kind), cover(8000, Eye::left, kind), uncover(14000)},
                     22000);
  });
}

// Beats in a span: starts of quick phases, with their direction.
struct Beat {
  Tick at_ms;
  double turn_deg;
};
// `onset`: speed that tells a quick phase from a slow one.
std::vector<Beat> beats(const Trace& t, Tick from, Tick to, Eye eye, double onset = 15.0) {
  std::vector<Beat> found;
  for (Tick k = from; k < to; ++k) {
    if (t.speed(k, eye) < onset) continue;
    Tick end = k;
    while (end < to && t.speed(end, eye) >= onset) ++end;
    found.push_back({k, t.horizontal(end, eye) - t.horizontal(k, eye)});
    k = end + 20;
  }
  return found;
}

double mean_size(const std::vector<Beat>& all) {
  std::vector<double> sizes;
  for (const Beat& beat : all) sizes.push_back(magnitude(beat.turn_deg));
  return calc_mean(sizes);
}

std::string towards(const std::vector<Beat>& all, Eye seeing) {
  double sum = 0.0;
  for (const Beat& beat : all) sum += beat.turn_deg;
  if (all.size() < 3) throw DidNotHappen{"there are no beats"};
  return side_of(seeing) * sum > 0.0 ? "towards the seeing eye" : "away from the seeing eye";
}

void add_latent(Group& g) {
  constexpr const char* kDell = "Dell'Osso, Schmidt & Daroff 1979, Arch Ophthalmol 97:1877";
  g.add("LN.left", "quick phases with the right eye covered", exactly("towards the seeing eye"), "",
        kDell, [](Bench& b) {
          const Trace& t = latent(b, OccluderKind::opaque);
          return in_words(towards(beats(t, 3500, 7900, Eye::left), Eye::left));
        });
  g.add("LN.right", "quick phases with the left eye covered", exactly("towards the seeing eye"), "",
        kDell, [](Bench& b) {
          const Trace& t = latent(b, OccluderKind::opaque);
          return in_words(towards(beats(t, 9500, 13900, Eye::right), Eye::right));
        });
  g.add(
      "LN.rate", "beats in a second", between(2, 5), "1/s", "drift of 1 to 5° with 0.4 to 0.6 s",
      [](Bench& b) {
        const Trace& t = latent(b, OccluderKind::opaque);
        return figure(static_cast<double>(beats(t, 3500, 7900, Eye::left).size()) / 4.4);
      },
      Standing::from_memory);
  g.add("LN.speed", "slow phase of the seeing eye, median speed", between(1.6, 2.8 * 3.0), "°/s",
        std::string{kGradstein} + ": linear 1.6 to 2.8, or 1 to 5° with 0.4 to 0.6 s (to 8.3)",
        [](Bench& b) {
          const Trace& t = latent(b, OccluderKind::opaque);
          std::vector<double> slow;
          for (Tick k = 3500; k < 7900; ++k) {
            if (t.speed(k, Eye::left) < 15.0) slow.push_back(t.speed(k, Eye::left));
          }
          return figure(calc_median(slow));
        });
  g.add("LN.open", "beats in a second with both eyes open and fusing", at_most(0.5), "1/s",
        "latent: all but vanishes with both eyes open", [](Bench& b) {
          const Trace& t = latent(b, OccluderKind::opaque);
          return figure(static_cast<double>(beats(t, 16000, 21000, Eye::left).size()) / 5.0);
        });
  g.add(
      "LN.turn", "direction turns after the cover crosses within", at_most(500), "ms",
      "practice: flips within half a second",
      [](Bench& b) {
        const Trace& t = latent(b, OccluderKind::opaque);
        const Tick crossed = t.covered_after(8000, Eye::left);
        for (const Beat& beat : beats(t, crossed, 13900, Eye::right)) {
          if (beat.turn_deg > 0.0 && magnitude(beat.turn_deg) < 4.0) {
            return figure(static_cast<double>(beat.at_ms - crossed));
          }
        }
        return in_words("not at all");
      },
      Standing::common_practice);
  g.add(
      "LN.translucent", "size with a translucent over an opaque cover", between(0.5, 0.8), "",
      "practice",
      [](Bench& b) {
        const Trace& clear = latent(b, OccluderKind::translucent);
        const Trace& black = latent(b, OccluderKind::opaque);
        return figure(mean_size(beats(clear, 3500, 7900, Eye::left)) /
                      mean_size(beats(black, 3500, 7900, Eye::left)));
      },
      Standing::from_memory);
}

// Five degrees, three and a half beats a second, least straight ahead; a target 20 degrees aside.
const Trace& infantile(Bench& b, double gaze_deg) {
  return b.once(fmt::format("infantile {}", gaze_deg), [&] {
    return run_story(deviation_of(0, 0) + R"(, "instability": {"infantile_nystagmus": {
      "amplitude_deg": 5, "frequency_hz": 3.5, "null_deg": 0}})",
                     {show(0, 6.0, gaze_deg)}, 12000);
  });
}

// Its slow phases speed up: only what is faster than they get is a quick phase.
constexpr double kInfantileOnset = 60.0;

void add_infantile(Group& g) {
  constexpr const char* kAbadi = "Abadi & Bjerre 2002, BJO 86:1152, n = 224";
  g.add(
      "IN.rate", "beats in a second, 20° from the null", between(2, 5), "1/s", "Abadi",
      [](Bench& b) {
        return figure(static_cast<double>(
                          beats(infantile(b, 20), 2000, 12000, Eye::left, kInfantileOnset).size()) /
                      10.0);
      },
      Standing::from_memory);
  g.add(
      "IN.size", "size, 20° from the null", between(1, 10), "°", "Abadi",
      [](Bench& b) {
        return figure(mean_size(beats(infantile(b, 20), 2000, 12000, Eye::left, kInfantileOnset)));
      },
      Standing::from_memory);
  g.add("IN.null", "sweep of the gaze at the null over that 20° away", at_most(0.7), "",
        std::string{kAbadi} + ": a null zone", [](Bench& b) {
          const auto sweep = [&](double gaze_deg) {
            const Trace& t = infantile(b, gaze_deg);
            std::vector<double> all;
            for (Tick k = 2000; k < 12000; ++k) all.push_back(t.horizontal(k, Eye::left));
            return calc_sd(all);
          };
          return figure(sweep(0) / sweep(20));
        });
  g.add("IN.conjugate", "the two eyes' sweeps differ by", at_most(0.3), "°",
        std::string{kAbadi} + ": 77.7 % conjugate horizontal", [](Bench& b) {
          const Trace& t = infantile(b, 20);
          std::vector<double> apart;
          for (Tick k = 2000; k < 12000; ++k) {
            apart.push_back(t.horizontal(k, Eye::left) - t.horizontal(k, Eye::right));
          }
          return figure(calc_sd(apart));
        });
  g.add("IN.slow", "slow phase: speed late in it over speed early in it", at_least(1.1), "",
        std::string{kAbadi} + ": increasing velocity", [](Bench& b) {
          const Trace& t = infantile(b, 20);
          const std::vector<Beat> all = beats(t, 2000, 12000, Eye::left, kInfantileOnset);
          std::vector<double> early;
          std::vector<double> late;
          for (std::size_t i = 1; i < all.size(); ++i) {
            // From 80 ms after a quick phase, when it has ended, to just before the next.
            const Tick from = all[i - 1].at_ms + 80;
            const Tick to = all[i].at_ms - 5;
            const Tick third = (to - from) / 3;
            if (third < 15) continue;
            early.push_back(
                magnitude(t.horizontal(from + third, Eye::left) - t.horizontal(from, Eye::left)));
            late.push_back(
                magnitude(t.horizontal(to, Eye::left) - t.horizontal(to - third, Eye::left)));
          }
          return figure(calc_mean(late) / calc_mean(early));
        });
  g.add("IN.torsion", "torsional sweep of both eyes over the horizontal one",
        printed("8.16 to 94.42 %, median 32.94", between(0.0816, 0.9442)), "",
        "J Neuroophthalmol 2002;22:22, 13 patients, coils", [](Bench& b) {
          const Trace& t = infantile(b, 20);
          std::vector<double> turned;
          std::vector<double> rolled;
          for (Tick k = 2000; k < 12000; ++k) {
            turned.push_back(t.horizontal(k, Eye::left));
            rolled.push_back(t.at(k).eye.left.torsion_deg);
          }
          return figure(calc_sd(rolled) / calc_sd(turned));
        });
}

}  // namespace

void add_nystagmus_rows(std::vector<Row>& rows) {
  Group up(rows, "Dissociated vertical deviation");
  add_updrift(up);
  Group latent_group(rows, "Latent nystagmus");
  add_latent(latent_group);
  Group infantile_group(rows, "Infantile nystagmus");
  add_infantile(infantile_group);
}

}  // namespace redress::evidence
