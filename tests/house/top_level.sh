#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# The visible top level is agreed; build/ is made and not kept.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
cd "${1:?root}" || exit 2

agreed=" CMakeLists.txt README.md DEVELOPERS.md LICENSE sim render scenarios assets tests "
for entry in *; do
  [[ $agreed == *" $entry "* || $entry == build || $entry == build-* ]] ||
    fault "$entry: not part of the agreed top level"
done
for entry in CMakeLists.txt README.md DEVELOPERS.md LICENSE sim render tests; do
  [[ -e $entry ]] || fault "$entry: missing"
done
finish "the top level is as agreed"
