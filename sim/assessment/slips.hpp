// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a simulated practitioner makes of an examination: movements misread or not seen, questions
// not asked, entries left out, conclusions that follow their own findings or fall short of them.
// Changes the evidence of a reference examination; the acts with the eyes stay. Rates are judgement
// (sim/assessment/practitioner.hpp); one logit of ability changes the odds of a slip by e.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

#include "sim/assessment/practitioner.hpp"
#include "sim/findings/evidence.hpp"

namespace redress::assessment {

class Slips {
 public:
  Slips(std::uint64_t seed, std::size_t station, const Practitioner& practitioner);

  /// Which habit of fault: 0 none, else one of the others alike.
  std::size_t choose_run(std::size_t runs);
  /// Takes away what is not reached in the time, the examiner's own clock; false if that is
  /// anything. What was found by then is written.
  bool hurry(findings::Evidence& evidence, Tick in_time_ms);
  /// Everything else.
  void alter(findings::Evidence& evidence);
  /// The next draw, standard normal.
  double normal();

 private:
  bool slip(double rate);  ///< by somebody of ability 0
  double uniform();
  double read(double size_pd, bool vertical, bool by_eye);
  void misread(Finding& finding);
  void conclude(findings::Evidence& evidence);

  std::uint64_t seed_;
  std::uint64_t event_;
  std::uint32_t part_ = 0;
  const Practitioner& practitioner_;
  bool misled_ = false;  ///< own findings are of another kind or direction
  std::string own_impression_;
};

}  // namespace redress::assessment
