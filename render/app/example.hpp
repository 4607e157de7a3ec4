// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// "Show me": the reference examiner examines a case's patient. It sees what a person would see, and
// its record is like any other; it is never counted as anybody's own.
#pragma once

#include <string>

#include "render/app/case_shelf.hpp"

namespace redress::app {

/// The text of its record, with the case's own chance. Takes a second or two.
std::string make_example(const ShelvedCase& shelved);

}  // namespace redress::app
