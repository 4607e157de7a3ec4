#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# Each source file says its licence in its first two lines (after a #!), is at most 500 lines long,
# 100 columns wide, without tabs or spaces at the ends of lines; headers are guarded. The name of a
# test has nothing that cuts it off on its way through CTest: such a test would never be run, and
# would be told to have passed.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
cd "${1:?root}" || exit 2

licence='SPDX-License-Identifier: MIT'
holder='Copyright the Redress authors'

while IFS= read -r file; do
  { read -r first; read -r second; read -r third; } <"$file"
  [[ $first != '#!'* ]] || first=$second second=$third
  [[ $first == *"$licence" && $second == *"$holder" ]] ||
    fault "$file:1: begins without the two lines '$licence' and '$holder'"
done < <(find CMakeLists.txt sim render tests .ci -type f \
  \( -name '*.cpp' -o -name '*.hpp' -o -name '*.cmake' -o -name '*.sh' -o -name CMakeLists.txt \
  -o -name run -o -name '*.vert' -o -name '*.frag' -o -name '*.glsl' \) 2>/dev/null | sort)

mapfile -t files < <(sources sim render tests)
while IFS=: read -r file number; do
  fault "$file:$number: longer than 500 lines"
done < <(awk 'FNR == 501 && FILENAME !~ /^tests/ { print FILENAME ":" FNR }' "${files[@]}")
while IFS=: read -r file number _; do
  # Columns are characters, not bytes: a degree sign is one.
  fault "$file:$number: wider than 100 columns"
done < <(LC_ALL=C.UTF-8 grep -HnP '^.{101,}' "${files[@]}")
while IFS=: read -r file number _; do
  fault "$file:$number: a tab, or a space at the end of the line"
done < <(grep -HnP '\t|[ \t]+$' "${files[@]}")
while IFS=: read -r file number _; do
  fault "$file:$number: a test whose name has ; [ or ] is not found by CTest"
done < <(grep -HnE 'TEST_CASE\("[^"]*[][;]' "${files[@]}")
while IFS= read -r file; do
  [[ $file != *.hpp ]] || fault "$file:1: no #pragma once"
done < <(grep -L '^#pragma once$' "${files[@]}")
finish "every source file is in order"
