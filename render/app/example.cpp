// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/example.hpp"

#include <sstream>

#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/record/write_run.hpp"

namespace redress::app {

std::string make_example(const ShelvedCase& shelved) {
  const Case& the_case = shelved.content;
  const ExaminationSetup setup = setup_of(the_case);
  const Chance chance{the_case.seed, 1.0, true};
  examiners::Habits habits;
  habits.near_m = the_case.patient.near_working_distance.value;
  habits.age_years = the_case.patient.age_years;
  habits.owns_spectacles = the_case.spectacles.owned();
  Examination exam(setup, chance);
  const examiners::Examined examined = examiners::examine(exam, habits);

  std::ostringstream out;
  // A text takes whatever is written.
  (void)record::write_run(out, shelved.written, setup, chance, examined.acts, examined.until);
  return out.str();
}

}  // namespace redress::app
