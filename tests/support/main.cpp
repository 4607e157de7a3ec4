// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The main() of all tests. What the program counts for an account (sim/program/failure_count.hpp)
// goes into a folder of the run, not into the home of who runs the tests.
#define CATCH_CONFIG_RUNNER
#include <cstdlib>

#include <catch2/catch.hpp>

#include "tests/support/temporary_folder.hpp"

int main(int argc, char** argv) {
  const redress::tests::TemporaryFolder state;
  ::setenv("XDG_STATE_HOME", state.path().c_str(), 1);
  return Catch::Session().run(argc, argv);
}
