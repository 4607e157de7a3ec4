#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# test_names.sh TESTS: every test case of the executable is known to ctest. Its discovery (Catch.cmake
# 2.13) takes a semicolon or a square bracket in a name for the end of a list, and then loses every
# test that follows, in silence.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
tests=${1:?executable of the tests}
mapfile -t names < <("$tests" --list-test-names-only)
((${#names[@]} > 0)) || fault "$tests has no tests"
for name in "${names[@]}"; do
  [[ $name != *[\;\[\]\\\"]* ]] || fault "a semicolon, bracket, backslash or quote in: $name"
done
# The newest list: one made with other options may lie beside it.
list=$(ls -t "$(dirname "$tests")"/"$(basename "$tests")"_tests*.cmake | head -n 1)
known=$(grep -c '^add_test(' "$list")
((known == ${#names[@]})) || fault "ctest knows $known of ${#names[@]} tests"
finish "${#names[@]} tests, all of them known to ctest"
