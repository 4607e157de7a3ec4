// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A patient with what a score is calculated from.
#pragma once

#include <string>

#include "sim/truth/truth.hpp"
#include "tests/support/story.hpp"

namespace redress::tests {

struct Patient {
  Case the_case;
  ExaminationSetup setup;
  truth::Truth truth;
};

/// `members`: of the case's JSON. `extent`: what of the truth is calculated.
inline Patient make_patient(const std::string& members,
                            truth::Extent extent = {false, false, false}) {
  Patient p{case_with(members), {}, {}};
  p.setup = setup_of(p.the_case);
  p.truth = truth::calc_truth(p.setup, {}, extent);
  return p;
}

}  // namespace redress::tests
