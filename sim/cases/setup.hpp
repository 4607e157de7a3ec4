// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From a case in clinical units to the constant parameters of a patient and a room. Here and in
// truth's naming are the only places that know what an educator meant; the engine gets numbers.
#pragma once

#include "sim/cases/case.hpp"
#include "sim/room/examination.hpp"

namespace redress {

/// The case must have been read and checked (sim/cases/case_file.hpp).
ExaminationSetup setup_of(const Case& the_case);

}  // namespace redress
