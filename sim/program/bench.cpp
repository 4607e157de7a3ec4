// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Throughput, for people. Nothing is tested by time; instruction counts gate (tests/bench).
#include <ctime>

#include <algorithm>
#include <string>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/basics/state_hash.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/program/bench_stages.hpp"
#include "sim/program/generate.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/trace_csv.hpp"
#include "sim/room/examination.hpp"

namespace redress::program {

namespace {

constexpr int kTicks = 200000;
constexpr int kRepeats = 5;

// Processor time: the other core's work and waiting do not count. The one clock of sim/, outside
// everything that an examination depends on.
double now_s() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

// A busy examination: alternate cover every 1.5 s, a prism step every 6 s.
void act_at(Examination& exam, int t) {
  if (t % 1500 == 0) {
    act::Cover cover;
    cover.eye = (t / 1500) % 2 == 0 ? Eye::right : Eye::left;
    exam.apply(cover);
  }
  if (t % 6000 == 3000) {
    act::HoldPrism prism;
    prism.eye = Eye::left;
    prism.power = PrismDioptres{static_cast<double>(2 * (1 + (t / 6000) % 8))};
    prism.base = Degrees{180.0};
    exam.apply(prism);
  }
}

struct Figure {
  double ns_per_step = 0.0;
  std::string state;
};

template <class AfterStep>
Figure measure(const ExaminationSetup& setup, double noise, bool busy, AfterStep after) {
  Figure best;
  for (int i = 0; i < kRepeats; ++i) {
    Examination exam(setup, {7, noise, true});
    const double begin = now_s();
    for (int t = 0; t < kTicks; ++t) {
      if (busy) act_at(exam, t);
      exam.step();
      after(exam);
    }
    const double ns = (now_s() - begin) * 1e9 / kTicks;
    best.ns_per_step = i == 0 ? ns : std::min(best.ns_per_step, ns);
    best.state = to_hex(exam.hash());
  }
  return best;
}

// Cases drawn and examined for their whole truth, one thread: processor milliseconds a case. What
// 10,000 of them take on two processors follows; it does not grow with their number, as none but
// the last is kept.
nlohmann::ordered_json measure_drawing() {
  constexpr int kFew = 20;
  constexpr int kMore = 60;
  nlohmann::ordered_json all;
  double sum = 0.0;
  for (const std::string_view diagnosis : generated_diagnoses()) {
    const auto draw = [&](int count) {
      const double begin = now_s();
      (void)generate_each(diagnosis, 0.5, 7, count, 1,
                          [](const nlohmann::json&) { return Problems{}; });
      return 1e3 * (now_s() - begin) / count;
    };
    const double few = draw(kFew);
    const double more = draw(kMore);
    sum += more;
    const auto tenth = [](double ms) {
      return 0.1 * static_cast<double>(static_cast<long>(10 * ms));
    };
    all[std::string(diagnosis)] = {{"first_20_ms_a_case", tenth(few)},
                                   {"first_60_ms_a_case", tenth(more)}};
  }
  const double mean_ms = sum / static_cast<double>(generated_diagnoses().size());
  all["ten_thousand_on_two_processors_s"] = static_cast<int>(mean_ms * 10'000 / 2 / 1e3 + 0.5);
  return all;
}

nlohmann::ordered_json row(const Figure& figure) {
  return {{"ns_per_step", static_cast<int>(figure.ns_per_step + 0.5)},
          {"times_real_time", static_cast<long>(1e6 / figure.ns_per_step)},
          {"state", figure.state}};
}

}  // namespace

std::string bench_engine() {
  const Result<Case> the_case =
      read_case_text(R"({"format":"redress-case","version":1,"title":"bench",)"
                     R"("deviation":{"distance_pd":-6,"near_pd":-9}})");
  const ExaminationSetup setup = setup_of(the_case.value());
  const Result<Case> weak =
      read_case_text(R"({"format":"redress-case","version":1,"title":"bench",)"
                     R"("deviation":{"distance_pd":0,"near_pd":0},"muscles":{)"
                     R"("right":{"lateral_rectus":{"strength":0.3}},)"
                     R"("left":{"superior_oblique":{"strength":0}}}})");
  const double before_tables = now_s();
  const ExaminationSetup weak_setup = setup_of(weak.value());
  const double tables_ms = (now_s() - before_tables) * 1e3;
  const auto nothing = [](const Examination&) {};
  std::string text;
  const auto trace = [&text](const Examination& exam) {
    if (text.size() > (1U << 20)) text.clear();
    record::append_trace_row(text, exam.observe());
  };
  const auto by_stage = [](const ExaminationSetup& of) {
    nlohmann::ordered_json all;
    for (const auto& [stage, ns] : measure_stages(of)) {
      all[stage] = static_cast<double>(static_cast<long>(10.0 * ns + 0.5)) / 10.0;
    }
    return all;
  };
  const nlohmann::ordered_json figures{
      {"ticks", kTicks},
      {"best_of", kRepeats},
      {"quiet", row(measure(setup, 0.0, false, nothing))},
      {"living", row(measure(setup, 1.0, false, nothing))},
      {"examined", row(measure(setup, 1.0, true, nothing))},
      {"examined_with_trace", row(measure(setup, 1.0, true, trace))},
      {"two_weak_eyes", row(measure(weak_setup, 1.0, false, nothing))},
      {"two_weak_eyes_examined", row(measure(weak_setup, 1.0, true, nothing))},
      {"ns_by_stage", by_stage(setup)},
      {"two_weak_eyes_ns_by_stage", by_stage(weak_setup)},
      {"two_plant_tables_ms", static_cast<int>(tables_ms + 0.5)},
      {"drawing_cases", measure_drawing()}};
  return figures.dump(2);
}

int bench() {
  fmt::print("{}\n", bench_engine());
  return 0;
}

}  // namespace redress::program
