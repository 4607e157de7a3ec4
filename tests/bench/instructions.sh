#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# instructions.sh PROGRAM: instructions that a tick of an examination costs, counted by callgrind:
# the same on a busy machine as on a quiet one. Fails above the limit, which is what was counted
# (g++ 12.2, -O2) plus a tenth. Prints what each stage has of them, with what it calls.
set -euo pipefail
program=${1:?the program that steps an examination}
limit=2000

folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
count() {
  valgrind --tool=callgrind --callgrind-out-file="$folder/$1" "$program" "$1" 2>&1 |
    sed -n 's/.*Collected : \([0-9]*\).*/\1/p'
}
stage() {
  callgrind_annotate --inclusive=yes --threshold=100 "$folder/$1" 2>/dev/null |
    sed -n "s/^ *\([0-9,]*\).*redress::\(patient::\)\{0,1\}$2(.*/\1/p" | tr -d , | head -1
}
few=$(count 2000)
many=$(count 12000)
for name in find_covered calc_retinas calc_sight step_fusion step_accommodation step_pupils \
  step_pursuit step_fixation step_instability step_saccade step_muscles; do
  # Functions that the compiler drew into their callers have no line of their own.
  a=$(stage 2000 "$name") b=$(stage 12000 "$name")
  if [[ -n $a && -n $b ]]; then echo "  $name $(((b - a) / 10000))"; fi
done
each=$(((many - few) / 10000))
echo "$each instructions a tick; allowed: $limit"
((each <= limit))
