// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pursuit, the turned head, square-wave jerks; control over minutes and from visit to visit.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"

namespace redress::evidence {

using elementary::magnitude;

namespace {

Act go(Tick at_ms, double horizontal_deg, std::int32_t travel_ms) {
  act::ShowTarget target;
  target.horizontal_deg = horizontal_deg;
  target.travel_ms = travel_ms;
  return {at_ms, target};
}

// The hand's path, minimum jerk: degrees after a share of its time.
double path(double degrees, double share) {
  const double u = std::clamp(share, 0.0, 1.0);
  return degrees * u * u * u * (10.0 + u * (6.0 * u - 15.0));
}

// Furthest that the right eye goes in 10 ms: a saccade of some size shows in it.
double furthest_in_10_ms(const Trace& t, Tick from, Tick to) {
  double most = 0.0;
  for (Tick k = from; k + 10 <= to; ++k) {
    most =
        std::max(most, magnitude(t.horizontal(k + 10, Eye::right) - t.horizontal(k, Eye::right)));
  }
  return most;
}

void add_pursuit(Group& g) {
  constexpr const char* kLeigh = "Leigh & Zee, Neurology of Eye Movements";
  g.add(
      "PS.latency", "from a target that has moved by 0.1° to an eye that has", between(100, 130),
      "ms", "Carl & Gellman 1987; Krauzlis 2004: onset of pursuit",
      [](Bench&) {
        constexpr Tick kStart = 2000;
        constexpr std::int32_t kTravel = 1500;
        const Trace t =
            run_story(deviation_of(0, 0), {go(0, -20, 0), go(kStart, 20, kTravel)}, 4000);
        Tick target = kStart;
        while (path(40.0, static_cast<double>(target - kStart) / kTravel) < 0.1) ++target;
        return figure(static_cast<double>(t.moved_after(kStart, Eye::right, 0.1) - target));
      },
      Standing::from_memory);
  g.add(
      "PS.gain", "speed of the eye over that of a target at 9.4°/s", between(0.9, 1.0), "", kLeigh,
      [](Bench&) {
        const Trace t = run_story(deviation_of(0, 0), {go(0, 0, 0), go(1000, 20, 4000)}, 7000);
        // Over a fifth of a second about half time, when the target is fastest.
        constexpr double kTargetDegS = 9.375;
        return figure((t.horizontal(3100, Eye::right) - t.horizontal(2900, Eye::right)) / 0.2 /
                      kTargetDegS);
      },
      Standing::from_memory);
  g.add(
      "PS.fast", "a target at up to 140°/s is caught with", exactly("saccades"), "", kLeigh,
      [](Bench&) {
        const Trace t = run_story(deviation_of(0, 0), {go(0, -22, 0), go(2000, 23, 600)}, 4000);
        return in_words(furthest_in_10_ms(t, 2000, 3200) > 1.5 ? "saccades" : "pursuit");
      },
      Standing::from_memory);
  g.add(
      "PS.head", "the head turned by 25° in a second: furthest that an eye leaves the target",
      at_most(1.0), "°", std::string{kLeigh} + ": a gain near 1 in the light",
      [](Bench&) {
        act::TiltHead turn;
        turn.turn_deg = 25.0;
        turn.travel_ms = 1000;
        const Trace t = run_story(deviation_of(0, 0), {show(0, 6), {2000, turn}}, 5000);
        double most = 0.0;
        for (Tick k = 2000; k <= 4000; ++k) {
          const double head = path(25.0, static_cast<double>(k - 2000) / 1000.0);
          const double gaze = 0.5 * (t.horizontal(k, Eye::right) + t.horizontal(k, Eye::left));
          most = std::max(most, magnitude(gaze + head));
        }
        return figure(most);
      },
      Standing::from_memory);
  g.add(
      "SW.back", "a square-wave jerk comes back after", printed("about 200", about(200, 50)), "ms",
      kLeigh,
      [](Bench&) {
        // Of 1.5 degrees, so that no microsaccade is taken for one.
        const Trace t = run_story(deviation_of(-1, -3) + R"(, "instability": {
          "square_wave_jerks": {"per_minute": 20, "size_deg": 1.5}})",
                                  {}, 60000, 1.0, 3);
        std::vector<double> stays;
        for (Tick k = 1000; k < 59000; ++k) {
          if (t.speed(k, Eye::right) < 30.0) continue;
          const SaccadeMade out = find_saccade(t, k, Eye::right);
          k = out.end_ms + 20;
          if (out.size_deg < 0.8 || k >= 59000) continue;
          Tick next = k;
          while (next < out.start_ms + 400 && t.speed(next, Eye::right) < 30.0) ++next;
          if (next >= out.start_ms + 400) continue;
          const SaccadeMade back = find_saccade(t, next, Eye::right);
          if (back.size_deg < 0.8) continue;
          stays.push_back(static_cast<double>(back.start_ms - out.start_ms));
          k = back.end_ms + 20;
        }
        return figure(calc_median(stays), fmt::format("{} jerks", stays.size()));
      },
      Standing::from_memory);
}

void add_minutes(Group& g) {
  // A right eye covered for 40 min; half of the deviation is written to be held on to.
  const auto covered_long = [](Bench& b) -> const std::vector<double>& {
    return b.once("covered for long", [] {
      Examination exam(setup_with(deviation_of(-20, -16, 5) + R"(, "fusion": {"tenacious": 0.5,
            "distance": {"base_out_pd": [null, 14, 6], "base_in_pd": [null, 8, 4]}})"),
                       Chance{1, 0.0, true});
      exam.apply(cover(0, Eye::right).content);
      std::vector<double> by_minute{truth::calc_deviation(exam).horizontal_pd};
      truth::wait(exam, 10000);
      by_minute.push_back(truth::calc_deviation(exam).horizontal_pd);
      for (const Tick minutes : {10, 30}) {
        truth::wait(exam, minutes * 60000 - exam.now());
        by_minute.push_back(truth::calc_deviation(exam).horizontal_pd);
      }
      return by_minute;
    });
  };
  g.add(
      "CT.tenacious", "tenacious fusion: of an exotropia of 20, shown after a cover of 10 s",
      about(-10, 2), "Δ", "practice: half of it appears only after 10 to 30 min; a judgement",
      [covered_long](Bench& b) { return figure(covered_long(b)[1]); }, Standing::common_practice);
  g.add("CT.occluded", "the same: what 30 min of occlusion bring out beyond that", at_least(5.0),
        "Δ",
        "30 min of prism adaptation: 5 or more in 44 % of patients (abstract); here by occlusion",
        [covered_long](Bench& b) { return figure(covered_long(b)[1] - covered_long(b)[3]); });
  g.add(
      "CT.slowly", "the same: share of that which has come by 10 min", between(0.2, 0.8), "",
      "practice: after 10 to 30 min; a judgement",
      [covered_long](Bench& b) {
        const auto& pd = covered_long(b);
        return figure((pd[1] - pd[2]) / (pd[1] - pd[3]));
      },
      Standing::common_practice);
  g.add("CT.sessions", "spread from session to session where the case writes it, 0.58 Δ",
        printed("0.33", about(0.33, 0.1)), "°", "Paulus, Straube & Eggert 2019, JEMR 12(4):3",
        [](Bench&) {
          std::vector<double> found;
          for (std::uint64_t seed = 1; seed <= 120; ++seed) {
            Examination exam(setup_with(deviation_of(-8, -8) +
                                        R"(, "instability": {"session_spread_pd": 0.58})"),
                             Chance{seed, 1.0, true});
            exam.apply(cover(0, Eye::left).content);
            truth::wait(exam, 8000);
            found.push_back(to_deg(truth::calc_deviation(exam).horizontal_pd));
          }
          return figure(calc_sd(found), "120 sessions");
        });
}

}  // namespace

void add_movement_rows(std::vector<Row>& rows) {
  Group pursuit(rows, "Pursuit, the turned head, square waves");
  add_pursuit(pursuit);
  Group minutes(rows, "Control over minutes, and visits");
  add_minutes(minutes);
}

}  // namespace redress::evidence
