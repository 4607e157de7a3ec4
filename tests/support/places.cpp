// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The one file that is compiled with paths of this machine in it.
#include "tests/support/places.hpp"

namespace redress::support {

std::string source_dir() { return REDRESS_SOURCE_DIR; }

std::string program_path() { return REDRESS_PROGRAM; }

std::string screens_dir() { return REDRESS_SCREENS_DIR; }

std::string scenario_path(const std::string& name) {
  return source_dir() + "/scenarios/" + name + ".json";
}

}  // namespace redress::support
