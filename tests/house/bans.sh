#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# What would make an examination depend on the machine, the library's version or the hour, and what
# an examiner must not look at.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
cd "${1:?root}" || exit 2
mapfile -t engine < <(sources sim)
engine_code=$(code_of "${engine[@]}")
below_program=$(grep -v '^sim/program/' <<<"$engine_code")
examiners=$(grep '^sim/examiners/' <<<"$engine_code")

report '\b(s?rand|random|drand48|rand_r)[[:space:]]*\(' \
  'chance comes from sim/basics/random.hpp' "$engine_code"
report 'std::([a-z_]+_distribution|mt19937(_64)?|random_device|default_random_engine|shuffle|sample)\b' \
  'differs between standard libraries; use sim/basics/random.hpp' "$engine_code"
report 'std::hash\b' 'differs between standard libraries; use StateHash' "$engine_code"
report 'std::unordered_(multi)?(map|set)\b' 'its order is nobody'"'"'s promise' "$engine_code"
report '\b(system_clock|steady_clock|high_resolution_clock|gettimeofday|clock_gettime|localtime|gmtime)\b|std::time\b|[^_[:alnum:].>]time[[:space:]]*\((NULL|nullptr|0)\)' \
  'no clock inside the engine: time is the tick' "$below_program"
report 'std::(sin|cos|tan|asin|acos|atan2?|sinh|cosh|tanh|exp2?|expm1|log(2|10|1p)?|pow|sqrt|cbrt|hypot|fma|lerp|l?l?round|l?l?rint|nearbyint|floor|ceil|trunc|fmod|remainder|tgamma|lgamma|erfc?)[[:space:]]*\(' \
  'use sim/basics/elementary.hpp' "$engine_code"
report '__builtin_(sin|cos|tan|exp|log|pow|fma|a?sin|a?cos|atan)' \
  'use sim/basics/elementary.hpp' "$engine_code"
# Nodes of a table of muscles are what they are whoever solves them, and are never changed.
report '\b(shared_ptr|make_shared|dynamic_cast|const_cast)\b' 'values, not shared objects' \
  "$(grep -v '^sim/patient/plant_table\.' <<<"$engine_code")"
report '(^|[^_[:alnum:]])(thread_local|volatile)\b' 'no hidden state' "$engine_code"
report '(::|\bstd::)reduce[[:space:]]*\(|transform_reduce' \
  'the order of a sum is part of the result' "$engine_code"
report '\b(getenv|usleep|nanosleep|sleep_for)\b' \
  'the result does not depend on where it is computed' "$below_program"
report 'setlocale|std::locale' 'numbers are written the same everywhere' "$engine_code"

# Equal keys may come out of std::sort in any order. Say beside it, on the line or on the one above,
# why no two are equal (or use std::stable_sort).
while IFS=: read -r file number line; do
  [[ $line == *//* || $(sed -n "$((number - 1))p" "$file") == *//* ]] ||
    fault "$file:$number: std::sort without a word on why no two keys are equal"
done < <(grep -HnE 'std::(ranges::)?(sort|partial_sort|nth_element)[[:space:]]*\(' "${engine[@]}")

# A variable that keeps a value between calls, in a function or at namespace level. Constants are
# fine. The layout helps: what stands at the first column and has no bracket is at namespace level.
while IFS=: read -r file number _; do
  fault "$file:$number: a mutable variable outlives the call"
done < <(
  {
    grep -E ':[0-9]+:[[:space:]]*(inline )?static ' <<<"$engine_code" |
      grep -vE '\(.*[[:space:]]*$'
    grep -E ':[0-9]+:(inline |static )?[a-z][A-Za-z0-9_:]*(<[^()]*>)? [a-z][a-z0-9_]*( = [^()]*|\{.*\})?;' \
      <<<"$engine_code" | grep -vE ':[0-9]+:(return|namespace|struct|class|enum|template|goto) '
  } | grep -vE '\b(const|constexpr|consteval|using|extern|typedef|friend)\b' | sort -u
)

# An examiner sees gaze, lids, pupils and its own occluder (sim/room/observation.hpp).
report '\b(patient_state|setup)[[:space:]]*\([[:space:]]*\)|\bpatient::' \
  'an examiner does not look inside the patient' "$examiners"
report '(\.|->)(fixing|fused|suppressed|accommodation_d)\b' \
  'an examiner cannot see that' "$examiners"
finish "nothing banned is used"
