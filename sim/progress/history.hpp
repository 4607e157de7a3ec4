// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What one learner has done: finished practice examinations with their marks, and drills with their
// answers. Times are seconds since 1970, UTC, and always passed in: nobody here reads a clock.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/drill/drill.hpp"

namespace redress::progress {

struct ItemMark {
  std::string item;  ///< of the rubric: "B2"
  double marks = 0;
  double max = 0;  ///< above 0: an item that the case does not need is left out
};

struct ExaminationEntry {
  std::int64_t at_s = 0;
  std::string learner;
  std::string case_key;
  std::string record;  ///< the record's file
  std::string mode;    ///< "guided", "free", "exam_like"
  bool known = false;  ///< what this patient has was shown before: by an example or a debrief
  double total = 0;    ///< of 100
  std::vector<ItemMark> marks;
};

struct DrillEntry {
  std::int64_t at_s = 0;
  std::string learner;
  std::uint64_t seed = 0;
  double magnification = 0;  ///< of life size; 0: not known
  drill::ThresholdEstimate threshold;
  std::vector<drill::Answered> answers;
};

/// In order of time.
struct History {
  std::vector<ExaminationEntry> examinations;
  std::vector<DrillEntry> drills;
};

}  // namespace redress::progress
