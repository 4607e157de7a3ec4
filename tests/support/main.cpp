// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The main() of all tests.
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
