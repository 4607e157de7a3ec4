// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A record looked at again after it has grown, or after a line of it was changed: what was found
// good before is not looked at again.
#pragma once

#include <string_view>

#include "sim/record/verify.hpp"

namespace redress::record {

/// As verify(text), from the end of the good lines of `so_far`, which is of the beginning of the
/// same bytes.
Verdict verify_on(std::string_view text, const Verdict& so_far);

}  // namespace redress::record
