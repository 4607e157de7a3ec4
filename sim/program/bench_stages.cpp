// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/bench_stages.hpp"

#include <algorithm>
#include <ctime>

#include "sim/patient/accommodation.hpp"
#include "sim/patient/fixation.hpp"
#include "sim/patient/fusion.hpp"
#include "sim/patient/instability.hpp"
#include "sim/patient/muscles.hpp"
#include "sim/patient/pupil_lids.hpp"
#include "sim/patient/pursuit.hpp"
#include "sim/patient/saccade.hpp"
#include "sim/patient/sight.hpp"

namespace redress::program {

namespace {

constexpr int kTicks = 100000;
constexpr int kRepeats = 3;
constexpr Chance kLiving{7, 1.0, true};

// What a stage works on: an examination that has gone on for a while, with one eye covered.
struct Workbench {
  const ExaminationSetup& setup;
  patient::State state;
  RoomState room;
  patient::Retinas retinas;
  patient::Sight sight;
  patient::Angles error;
  double kept = 0.0;  // so that nothing is left out as unused

  explicit Workbench(const ExaminationSetup& from) : setup(from) {
    Examination exam(from, kLiving);
    act::Cover cover;
    cover.eye = Eye::right;
    exam.apply(cover);
    for (int t = 0; t < 3000; ++t) exam.step();
    state = exam.patient_state();
    room = exam.room();
    retinas = calc_retinas(from.room, room);
    sight = patient::calc_sight(from.patient, retinas, state);
    error = patient::calc_version_error(from.patient, sight, state);
  }
};

template <class Stage>
double measure(const ExaminationSetup& setup, Stage stage) {
  double best = 0.0;
  for (int i = 0; i < kRepeats; ++i) {
    Workbench bench(setup);
    const std::clock_t begin = std::clock();
    for (int t = 0; t < kTicks; ++t) {
      ++bench.state.tick;
      stage(bench);
    }
    const double ns = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC * 1e9 / kTicks;
    best = i == 0 ? ns : std::min(best, ns);
  }
  return best;
}

}  // namespace

std::vector<std::pair<std::string, double>> measure_stages(const ExaminationSetup& setup) {
  using namespace patient;
  const Parameters& p = setup.patient;
  std::vector<std::pair<std::string, double>> stages;
  const auto add = [&](const char* name, auto stage) {
    stages.emplace_back(name, measure(setup, stage));
  };
  add("optics", [](Workbench& b) {
    find_covered(b.setup.room, b.state.gaze, b.room);
    b.retinas = calc_retinas(b.setup.room, b.room);
  });
  add("sight",
      [&p](Workbench& b) { b.kept += calc_sight(p, b.retinas, b.state).error.left.horizontal; });
  add("fusion", [&p](Workbench& b) { step_fusion(p, b.sight, kLiving, b.state); });
  add("accommodation",
      [&p](Workbench& b) { step_accommodation(p.accommodation, b.retinas, b.sight, b.state); });
  add("pupils", [&p](Workbench& b) { step_pupils(p, p.accommodation, b.retinas, b.state); });
  add("pursuit", [&p](Workbench& b) { step_pursuit(p, b.retinas, b.sight, b.state); });
  add("fixation", [&p](Workbench& b) {
    step_fixation(p, b.retinas, b.sight, kLiving, b.state);
    b.kept += calc_version_error(p, b.sight, b.state).horizontal;
  });
  add("drift_blinks_attention",
      [&p](Workbench& b) { step_instability(p, b.retinas, b.sight, kLiving, b.state); });
  add("saccades", [&p](Workbench& b) { step_saccade(p, kLiving, b.error, true, b.state); });
  add("muscles", [&p](Workbench& b) { step_muscles(p, b.state); });
  return stages;
}

}  // namespace redress::program
