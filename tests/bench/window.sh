#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# window.sh PROGRAM [TIMES]: what the window costs, beside a bare one of SDL2 and Dear ImGui in the
# same run: first frame by the clock and by the processor, resident memory, frames at rest and with
# occluder and prism moving, 1280 x 720. Prints figures and ratios; judges nothing, since they are
# as good as the machine is quiet.
set -euo pipefail
program=$(realpath "${1:?the program}")
times=${2:-5}
root=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export SDL_VIDEODRIVER=${SDL_VIDEODRIVER:-offscreen}
# shellcheck disable=SC2046
${CXX:-c++} -std=c++20 -O2 -I"$root" "$root/tests/bench/bare_window.cpp" \
  $(pkg-config --cflags --libs imgui sdl2) -lGL -o "$work/bare"

median() { sort -n | awk '{v[NR] = $1} END {print v[int((NR + 1) / 2)]}'; }
field() { sed -n "s/.*$1.*/\\1/p" "$2" | median; }

for ((i = 0; i < times; ++i)); do
  "$work/bare" 5 2>>"$work/bare.txt"
  "$program" --own-folder "$work/own" --screen cases --width 1280 --height 720 --frames 5 \
    --timings 2>>"$work/cases.txt"
done
"$program" --own-folder "$work/own" --screen examine --width 1280 --height 720 --step-ms 16.7 \
  --frames 300 --timings 2>"$work/rest.txt"
{
  echo "300 key F"
  for ((t = 500; t < 8000; t += 500)); do
    echo "$t key E"
    echo "$((t + 100)) key Space"
  done
} >"$work/moving.script"
"$program" --own-folder "$work/own" --screen examine --width 1280 --height 720 --step-ms 16.7 \
  --script "$work/moving.script" --timings 2>"$work/moving.txt"

for unit in clock processor; do
  bare=$(field "[ ,]\\([0-9]*\\) ms of $unit" "$work/bare.txt")
  ours=$(field "[ ,]\\([0-9]*\\) ms of $unit" "$work/cases.txt")
  echo "first frame, $unit: $ours ms, bare $bare ms, ratio $(echo "scale=2; $ours / $bare" | bc)"
done
echo "memory: bare $(field 'memory \([0-9]*\) MiB' "$work/bare.txt") MiB," \
  "cases $(field 'memory \([0-9]*\) MiB' "$work/cases.txt") MiB," \
  "examine $(field 'memory \([0-9]*\) MiB' "$work/moving.txt") MiB"
for what in rest moving; do
  grep -h '^frames\|^processor' "$work/$what.txt" | sed "s/^/$what: /"
done
