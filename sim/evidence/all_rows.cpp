// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/evidence/rows.hpp"

namespace redress::evidence {

std::vector<Row> all_rows() {
  std::vector<Row> rows;
  add_prism_rows(rows);
  add_lens_rows(rows);
  add_acuity_rows(rows);
  add_analysis_rows(rows);
  add_criteria_rows(rows);
  add_saccade_rows(rows);
  add_vergence_rows(rows);
  add_reserve_rows(rows);
  add_accommodation_rows(rows);
  add_pupil_and_lid_rows(rows);
  add_fixation_rows(rows);
  add_suppression_rows(rows);
  add_three_step_rows(rows);
  add_muscle_rows(rows);
  add_single_muscle_rows(rows);
  add_nystagmus_rows(rows);
  add_movement_rows(rows);
  add_practice_rows(rows);
  return rows;
}

}  // namespace redress::evidence
