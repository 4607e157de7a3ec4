// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What if: the same patient, the same hands, one habit mended, simulated again from the record. The
// difference is what that habit cost, in prism dioptres seen and in marks. Chance is keyed by
// event, so what the change does not touch stays as it was. Prices do not add up: faults hide one
// another. Whoever wrote too much or too little does so in the mended examination as well.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sim/cases/case.hpp"
#include "sim/findings/checkpoints.hpp"
#include "sim/room/examination.hpp"
#include "sim/scoring/mends.hpp"
#include "sim/scoring/rubric.hpp"
#include "sim/truth/truth.hpp"

namespace redress::scoring {

/// At the place where mending a habit changes most.
struct Difference {
  std::string place;  ///< "6 m", "near"
  /// The largest movement seen, eso +; of covers of one eye by itself if there were any both times.
  std::optional<double> seen_pd;
  std::optional<double> seen_mended_pd;
  std::optional<double> written_pd;  ///< the size in the record, by prism if there is one
  std::optional<double> written_mended_pd;
  double there_pd = 0.0;  ///< what is there, as a rotation of the eyes
  /// The height is the larger part of what is there: all of the above is of it, right eye higher +.
  bool vertical = false;
};

struct Price {
  Habit habit = Habit::short_covers;
  MendedActs mended;
  double total = 0.0;    ///< of the mended examination
  double marks = 0.0;    ///< total less that of the examination as done
  double size_pd = 0.0;  ///< by how much more or less was seen, 0 or above
  Difference difference;
};

struct WhatIf {
  double total = 0.0;                ///< as done
  std::vector<Price> prices;         ///< dearest first: by marks, then by prism dioptres
  std::optional<double> all_mended;  ///< total with every one of them mended; none: nothing to mend
};

/// Does all of them, in any order or side by side: this library knows no threads.
using Job = std::function<void()>;
using Runner = std::function<void(std::vector<Job>& jobs)>;
void run_in_order(std::vector<Job>& jobs);

/// The examination as it was done, simulated once: others go on from its states.
struct AsDone {
  findings::Evidence evidence;
  findings::Checkpoints on_the_way;
};
/// Needs no truth, which can be computed beside it. `setup` must outlive the states.
AsDone simulate_as_done(const ExaminationSetup& setup, std::span<const Act> acts, Chance chance,
                        Tick until_ms);

/// `acts` in order of time; `setup`, `chance` and `until_ms` as the record says; `truth` as
/// calc_score wants it; `as_done` of these acts.
WhatIf price_habits(const Case& the_case, const ExaminationSetup& setup, std::span<const Act> acts,
                    Chance chance, Tick until_ms, const truth::Truth& truth, const AsDone& as_done,
                    Column column = Column::formative, const Runner& run = run_in_order);
/// The same, simulated here.
WhatIf price_habits(const Case& the_case, const ExaminationSetup& setup, std::span<const Act> acts,
                    Chance chance, Tick until_ms, const truth::Truth& truth,
                    Column column = Column::formative, const Runner& run = run_in_order);

}  // namespace redress::scoring
