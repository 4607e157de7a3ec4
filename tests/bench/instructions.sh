#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# instructions.sh PROGRAM: instructions that a tick of an examination costs, counted by callgrind:
# the same on a busy machine as on a quiet one. Fails above the limit, which is what was counted
# (g++ 12.2, -O2) plus a tenth.
set -euo pipefail
program=${1:?the program that steps an examination}
limit=2000

count() {
  valgrind --tool=callgrind --callgrind-out-file=/dev/null "$program" "$1" 2>&1 |
    sed -n 's/.*Collected : \([0-9]*\).*/\1/p'
}
few=$(count 2000)
many=$(count 12000)
each=$(((many - few) / 10000))
echo "$each instructions a tick; allowed: $limit"
((each <= limit))
