// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A direction, a turn or its rate in the two angles of a line of sight; degrees, signs in
// sim/basics/eye.hpp.
#pragma once

namespace redress::patient {

struct Angles {
  double horizontal = 0.0;
  double vertical = 0.0;
};

}  // namespace redress::patient
