// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// step_examination TICKS: a living patient under an alternating cover, for counting instructions.
#include <cstdlib>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"

int main(int argc, char** argv) {
  using namespace redress;
  const long ticks = argc > 1 ? std::atol(argv[1]) : 1000;
  const Result<Case> the_case =
      read_case_text(R"({"format":"redress-case","version":1,"title":"bench",)"
                     R"("deviation":{"distance_pd":-6,"near_pd":-9}})");
  Examination exam(setup_of(the_case.value()), {7, 1.0, true});
  for (long t = 0; t < ticks; ++t) {
    if (t % 1500 == 0) {
      act::Cover cover;
      cover.eye = (t / 1500) % 2 == 0 ? Eye::right : Eye::left;
      exam.apply(cover);
    }
    exam.step();
  }
  return exam.hash() == 0 ? 1 : 0;  // keeps the work from being optimised away
}
