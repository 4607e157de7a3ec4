// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Reports as PDF. What draws them is a module beside the program, loaded when the first is asked
// for.
#pragma once

#include <string>

#include "sim/assessment/report_document.hpp"
#include "sim/basics/problem.hpp"

namespace redress::program {

/// The bytes of the file. Problem: the module, or a library that it needs, is not there.
Result<std::string> make_pdf(const assessment::ReportDocument& document);

}  // namespace redress::program
