// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Letters and acuity; corneal reflexes and the limbus. Ids C.. and E.. are those of the check
// cases.
#include "sim/evidence/rows.hpp"

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/optics/optotype.hpp"
#include "sim/optics/sight.hpp"

namespace redress::evidence {

namespace {

constexpr const char* kLetters = "ISO 8596: five minutes of arc";

void add_letters(Group& g) {
  struct Letter {
    const char* id;
    const char* words;
    double distance_m, logmar, height, margin;
  };
  for (const Letter& l : {Letter{"C01", "6/6 letter at 6 m", 6, 0, 8.727, 0.005},
                          Letter{"C02", "6/60 letter at 6 m", 6, 1, 87.27, 0.02},
                          Letter{"C04", "6/9 letter at 6 m", 6, 0.17609125905568124, 13.090, 0.01},
                          Letter{"C05", "6/6 letter at 3 m", 3, 0, 4.363, 0.005},
                          Letter{"C06", "6/6 letter at 40 cm", 0.4, 0, 0.582, 0.005}}) {
    g.add(l.id, l.words, about(l.height, l.margin), "mm", kLetters,
          [l](Bench&) { return figure(optics::letter_height(l.distance_m, l.logmar).value); });
  }
  constexpr const char* kLogmar = "log10 of the minimum angle of resolution";
  struct Acuity {
    const char* id;
    double letter_m, logmar;
  };
  for (const Acuity& a : {Acuity{"C08.12", 12, 0.301}, Acuity{"C08.9", 9, 0.176},
                          Acuity{"C08.60", 60, 1.0}, Acuity{"C08.4.8", 4.8, -0.097}}) {
    g.add(a.id, fmt::format("6/{} as logMAR", a.letter_m), about(a.logmar, 0.001), "", kLogmar,
          [a](Bench&) { return figure(optics::to_logmar(6.0, a.letter_m)); });
  }
  g.add("C09", "logMAR 0.1, 0.2, 0.3, 0.4, 0.5", exactly("6/7.5, 6/9.5, 6/12, 6/15, 6/19"), "",
        "printed table of equivalents", [](Bench&) {
          std::string all;
          for (const double m : {0.1, 0.2, 0.3, 0.4, 0.5}) {
            all += (all.empty() ? "" : ", ") + optics::to_snellen(m);
          }
          return in_words(all);
        });
  const auto limit = [](double sign) {
    return optics::letter_height(6.0, 0.0).value * (1.0 + sign * optics::kLetterTolerance);
  };
  g.add("C10.least", "smallest 6/6 letter allowed at 6 m", about(8.29, 0.01), "mm",
        "ISO 10938: 5 %", [limit](Bench&) { return figure(limit(-1.0)); });
  g.add("C10.most", "largest 6/6 letter allowed at 6 m", about(9.16, 0.01), "mm", "ISO 10938: 5 %",
        [limit](Bench&) { return figure(limit(+1.0)); });
  g.add(
      "C.below", "share of covers in which an eye of 6/60 takes up a 6/9.5 letter", at_most(0.05),
      "", "an eye that cannot resolve the target does not refix on it",
      [](Bench&) {
        std::vector<Act> acts;
        constexpr int kCovers = 10;
        for (int i = 0; i < kCovers; ++i) {
          acts.push_back(cover(2000 + 8000 * i, Eye::left));
          acts.push_back(uncover(6000 + 8000 * i));
        }
        const Trace trace = run_story(deviation_of(20, 20) +
                                          R"(, "refraction": {"right": {"acuity_logmar": 1.0}},
                      "fusion": {"present": false},
                      "sensory": {"preferred_eye": "left", "preference": 1.0})",
                                      acts, 82000, 1.0, 3);
        int taken = 0;
        for (int i = 0; i < kCovers; ++i) {
          const Tick from = trace.covered_after(2000 + 8000 * i, Eye::left);
          // Taken up: within a degree of the target, which is straight ahead of the right eye.
          taken += elementary::magnitude(trace.horizontal(from + 3000, Eye::right) + 0.3) < 1.0;
        }
        return figure(static_cast<double>(taken) / kCovers);
      },
      Standing::common_practice);
}

void add_reflexes(Group& g) {
  // The reflex lies half a corneal radius behind the cornea; seen against the pupil it moves by the
  // distance from the pupil to the centre of the cornea's curve. Radius 7.8 mm (schematic eye).
  constexpr double kCorneaMm = 7.80;
  const auto reflex_mm = [](double degrees) {
    return (kCorneaMm - optics::kCorneaToPupilMm) *
           elementary::sine(degrees * elementary::kRadiansPerDegree);
  };
  const auto pd_for = [reflex_mm](double mm) {
    double degrees = 0.0;
    for (int i = 0; i < 40; ++i) degrees += 10.0 * (mm - reflex_mm(degrees));
    return to_pd(degrees);
  };
  constexpr const char* kEskridge = "Eskridge, Wick & Perrigin 1988, Am J Optom Physiol Opt 65:745";
  g.add("E01.one", "reflex 1.0 mm off centre: deviation", about(22, 0.1), "Δ", kEskridge,
        [pd_for](Bench&) { return figure(pd_for(1.0), "from the engine's eye, cornea 7.8 mm"); });
  g.add("E01.half", "reflex 1.5 mm off centre: deviation", about(33, 0.1), "Δ", kEskridge,
        [pd_for](Bench&) { return figure(pd_for(1.5), "from the engine's eye, cornea 7.8 mm"); });
  g.add("E01.spread", "reflex 1.0 mm off centre: within the spread of persons", between(14, 24),
        "Δ", "Binocul Vis Strabismus Q 2006;21:45",
        [pd_for](Bench&) { return figure(pd_for(1.0)); });
  g.add("E02", "12.81° for a millimetre, as prism dioptres", about(22.74, 0.02), "Δ/mm",
        "Model et al. 2010, IOVS 51:4035", [](Bench&) { return figure(to_pd(12.81)); });

  // The limbus as a circle on the cornea, 11.71 mm across (Rüfer, Schröder & Erb 2005).
  const auto limbus_mm = [](double pd) {
    constexpr double kHalfMm = 0.5 * 11.71;
    const double sag =
        kCorneaMm - elementary::square_root(kCorneaMm * kCorneaMm - kHalfMm * kHalfMm);
    const double lever = elementary::hypotenuse(optics::kCorneaToCentreMm - sag, kHalfMm);
    return lever * to_deg(pd) * elementary::kRadiansPerDegree;
  };
  struct Shift {
    const char* id;
    double pd, mm;
  };
  for (const Shift& s :
       {Shift{"E04.2", 2, 0.25}, Shift{"E04.10", 10, 1.24}, Shift{"E04.40", 40, 4.74}}) {
    g.add(s.id, fmt::format("{} Δ seen as travel of the limbus", s.pd), about(s.mm, 0.05 * s.mm),
          "mm", "Paliaga & Ghisolfi, Millimetric cover test: 4.6° for a millimetre",
          [s, limbus_mm](Bench&) {
            return figure(limbus_mm(s.pd),
                          "along its circle; 13.5 mm from cornea to centre, cornea 11.71 mm wide");
          });
  }
}

}  // namespace

void add_acuity_rows(std::vector<Row>& rows) {
  Group letters(rows, "Letters and acuity");
  add_letters(letters);
  Group reflexes(rows, "Reflexes and limbus");
  add_reflexes(reflexes);
}

}  // namespace redress::evidence
