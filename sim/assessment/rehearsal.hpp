// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Simulated practitioners at a station. Preparing a form is slow: the engine simulates the
// examination once for each fault of technique. Sending one practitioner through is then quick,
// since all who have the same habit do the same acts; what they see, ask, write and conclude is
// their own. Pure functions: who calls may use threads.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "sim/assessment/form.hpp"
#include "sim/assessment/practitioner.hpp"
#include "sim/examiners/habits.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/room/examination.hpp"
#include "sim/scoring/score.hpp"
#include "sim/truth/truth.hpp"

namespace redress::assessment {

/// Prism dioptres, eso +; what is there is what would neutralise.
struct SizePair {
  double written_pd = 0.0;
  double true_pd = 0.0;
};

/// What was measured with prism at the distances that the truth has, straight ahead.
std::vector<SizePair> find_sizes(const findings::Evidence& evidence, const truth::Truth& truth);

/// The examination of one habit of fault, with all that it showed.
struct HabitRun {
  examiners::Fault fault = examiners::Fault::none;
  findings::Evidence evidence;
};

struct PreparedForm {
  Form form;
  ExaminationSetup setup;
  truth::Truth truth;
  std::vector<HabitRun> runs;  ///< the first one without a fault
  double reference_marks = 0.0;
  Tick reference_ms = 0;         ///< when the reference examiner puts the pen down
  std::vector<Instrument> used;  ///< by the reference examiner
};

/// With `faults` false the reference examiner alone. `goes_on`, if given, is asked before each
/// examination but the first; where it says no, the rest are not there.
PreparedForm prepare_form(const Station& station, Form form, bool faults,
                          const std::function<bool()>& goes_on = {});

struct Attendance {
  double marks = 0.0;   ///< 0 ... 100
  bool passed = false;  ///< the station's pass mark reached
  bool unsafe = false;
  bool finished = false;        ///< all that the examiner set out to do was done in time
  std::vector<double> shares;   ///< of each rubric item; below 0: not needed here
  std::vector<SizePair> sizes;  ///< horizontal, measured with prism
};

/// `station_number` and the practitioner's number key the chance.
Attendance attend(const Station& station, const PreparedForm& prepared, std::uint64_t seed,
                  std::size_t station_number, const Practitioner& practitioner);

}  // namespace redress::assessment
