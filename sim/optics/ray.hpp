// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A line with a beginning and a sense. Head frame (sim/basics/eye.hpp), millimetres.
#pragma once

#include "sim/basics/vector.hpp"

namespace redress::optics {

struct Ray {
  Vector origin;     ///< mm
  Vector direction;  ///< unit vector
};

}  // namespace redress::optics
