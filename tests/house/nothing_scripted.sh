#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# Emergent, never scripted: the rooms that make the eyes move do not know the name of any diagnosis.
# What the eyes do follows from anatomy, tonus, reserves and sensory state.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
cd "${1:?root}" || exit 2
mapfile -t files < <(sources sim/basics sim/optics sim/patient sim/room)
# room/finding.hpp is the vocabulary of the record card, which has a class of deviation to write.
files=("${files[@]/sim\/room\/finding.hpp/}")
keep=()
for file in "${files[@]}"; do [[ -n $file ]] && keep+=("$file"); done

words='((exo|eso|hyper|hypo|cyclo|hetero|ortho)(phor|trop)|microtrop|strabism|squint|pals(y|ies)|pares(is|es)|diagnos|duane|internuclear|(in|ex)tropia|syndrome)'
report "$words" 'a diagnosis where only physiology belongs' \
  "$(code_of "${keep[@]}" | sed -E 's/[A-Z]/\L&/g')"
finish "no diagnosis below truth"
