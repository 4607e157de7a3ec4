// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a case is for: words for learners and teachers. The engine reads none of it. Part of
// sim/cases/case.hpp.
#pragma once

#include <string>
#include <vector>

namespace redress {

/// What this patient may be taken for, and the sign that tells the two apart.
struct CaseLookAlike {
  std::string name;
  std::string sign;
};

struct CaseTeaching {
  std::string goal;  ///< what is practised; shown before the examination: no diagnosis in it
  int level = 0;     ///< 1 easiest ... 5; 0: not said
  int step = 0;      ///< of the learning path, 1 ... 9; 0: none
  /// Questions of the history without which this patient is misjudged, by their keys; empty: those
  /// of every history.
  std::vector<std::string> key_questions;
  std::string different;  ///< what makes this patient different, for the time after
  std::vector<CaseLookAlike> look_alikes;
  std::vector<std::string> sources;  ///< where the teaching comes from
};

}  // namespace redress
