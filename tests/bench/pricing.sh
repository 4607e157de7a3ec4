#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# pricing.sh PROGRAM: instructions that pricing every habit costs, for each tick of the examination
# that is priced, counted by callgrind: the same on a busy machine as on a quiet one. Fails above the
# limit, which is what was counted (g++ 12.2, -O2) plus a tenth.
set -euo pipefail
program=${1:?the program that prices an examination}
limit=98500
ticks=30000

folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
said=$(valgrind --tool=callgrind --callgrind-out-file="$folder/out" \
  --toggle-collect='price_every_habit*' "$program" 2>"$folder/log")
all=$(sed -n 's/.*Collected : \([0-9]*\).*/\1/p' "$folder/log")
each=$((all / ticks))
echo "$said, $each instructions a tick of the examination; allowed: $limit"
((each > 0 && each <= limit))
