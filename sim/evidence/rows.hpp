// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The rows by group, one file each. Intervals are those of the source; where a source prints a mean
// alone, the interval allowed is written beside it and was set before the engine was asked.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "sim/evidence/bench.hpp"
#include "sim/evidence/row.hpp"

namespace redress::evidence {

/// Adds rows of one group.
class Group {
 public:
  Group(std::vector<Row>& rows, std::string name) : rows_(rows), name_(std::move(name)) {}
  void add(std::string id, std::string quantity, Published published, std::string unit,
           std::string source, std::function<Figure(Bench&)> measure,
           Standing standing = Standing::read) {
    rows_.push_back({std::move(id), name_, std::move(quantity), std::move(published),
                     std::move(unit), std::move(source), standing, std::move(measure)});
  }

 private:
  std::vector<Row>& rows_;
  std::string name_;
};

void add_prism_rows(std::vector<Row>& rows);
void add_lens_rows(std::vector<Row>& rows);
void add_acuity_rows(std::vector<Row>& rows);
void add_analysis_rows(std::vector<Row>& rows);
void add_criteria_rows(std::vector<Row>& rows);
void add_saccade_rows(std::vector<Row>& rows);
void add_vergence_rows(std::vector<Row>& rows);
void add_reserve_rows(std::vector<Row>& rows);
void add_accommodation_rows(std::vector<Row>& rows);
void add_pupil_and_lid_rows(std::vector<Row>& rows);
void add_fixation_rows(std::vector<Row>& rows);
void add_suppression_rows(std::vector<Row>& rows);
void add_muscle_rows(std::vector<Row>& rows);
void add_single_muscle_rows(std::vector<Row>& rows);
void add_three_step_rows(std::vector<Row>& rows);
void add_nystagmus_rows(std::vector<Row>& rows);
void add_movement_rows(std::vector<Row>& rows);
void add_practice_rows(std::vector<Row>& rows);

}  // namespace redress::evidence
