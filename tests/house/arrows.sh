#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# Who may include whom. A room may include itself and rooms on lower floors; rooms of one floor do
# not know each other. sim/ never includes render/ and knows no window, no clock and no C library
# mathematics. DEVELOPERS.md explains the floors.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
cd "${1:?root}" || exit 2

declare -A floor=(
  [sim/basics]=0 [sim/optics]=1 [sim/patient]=2 [sim/room]=3
  [sim/cases]=4 [sim/record]=4
  [sim/findings]=5 [sim/truth]=6 [sim/examiners]=7 [sim/scoring]=8 [sim/drill]=8 [sim/assessment]=9
  [sim/progress]=9 [sim/evidence]=9
  [sim/program]=10
  [render/gl]=20 [render/scene]=20 [render/face]=21
  [render/window]=22 [render/draw]=22 [render/screens]=22 [render/paper]=22
  [render/app]=23
)

# Never, whatever the floors say: "who -> what", both as beginnings of paths.
never=(
  "sim/examiners/ sim/truth/"              # an examiner that knows the answer is no examiner
  "sim/examiners/ sim/patient/state.hpp"   # it sees gaze, lids and occluder, no more
  "render/draw/ sim/"                      # the picture gets a scene and knows no diagnosis
)

# Never inside sim/. <cmath> is let in for std::isfinite and std::isnan alone.
outside='^(SDL|GL/|GLES|EGL/|glad/|KHR/|imgui|glm/|X11/|stb_|math\.h|chrono|thread|mutex|shared_mutex|condition_variable|future|atomic|stop_token|random|ctime|time\.h|sys/time\.h|pthread\.h|unordered_map|unordered_set|execution|complex|valarray)'
pure_rooms='^sim/(optics|patient)/'   # the standard library and nothing else

room_of() {
  local rest=${1#*/}
  printf '%s' "${1%%/*}/${rest%%/*}"
}

while IFS= read -r file; do
  from=$(room_of "$file")
  if [[ -z ${floor[$from]:-} ]]; then
    fault "$file:1: $from is no room of the house"
    continue
  fi
  while IFS=: read -r number line; do
    [[ $line =~ ^[[:space:]]*#[[:space:]]*include[[:space:]]*([\<\"])([^\>\"]+) ]] || continue
    quote=${BASH_REMATCH[1]} what=${BASH_REMATCH[2]}
    where="$file:$number: includes $what"

    if [[ $what == sim/* || $what == render/* ]]; then
      [[ -f $what ]] || fault "$where, which is not there"
      to=$(room_of "$what")
      if [[ $file == sim/* && $what == render/* ]]; then
        fault "$where: sim/ never includes render/"
      elif [[ -z ${floor[$to]:-} ]]; then
        fault "$where: $to is no room of the house"
      elif [[ $from != "$to" ]] && ((floor[$to] >= floor[$from])); then
        fault "$where: $to is not below $from"
      fi
      for pair in "${never[@]}"; do
        [[ $file == "${pair% *}"* && $what == "${pair#* }"* ]] &&
          fault "$where: ${pair% *} never includes ${pair#* }"
      done
    elif [[ $quote == '"' ]]; then
      fault "$where: write the full path from the root of the repository"
    fi

    if [[ $file == sim/* ]]; then
      if [[ $what == cmath ]]; then
        code_of "$file" | grep -Eq 'std::(isfinite|isnan)\b' ||
          fault "$where: sim/basics/elementary.hpp has the functions to use"
      # The benchmark is the one place that must look at a clock, spread the one that works on
      # several processors: each thread has places of its own to fill in. Nodes of a table that are
      # solved when they are read are what they are whoever solves them.
      elif [[ $what =~ $outside && ! ($what =~ ^(chrono|ctime)$ && $file == sim/program/bench*) &&
        ! ($what =~ ^(thread|atomic)$ && $file == sim/program/spread.cpp) &&
        ! ($what == atomic && $file == sim/patient/plant_table.cpp) ]]; then
        fault "$where: not known inside sim/"
      fi
      if [[ $file =~ $pure_rooms && $what =~ ^(nlohmann|fmt|CLI|sodium) ]]; then
        fault "$where: this room uses the standard library alone"
      fi
    fi
  done < <(grep -nE '^[[:space:]]*#[[:space:]]*include' "$file")
done < <(sources sim render)
finish "every include goes down"
