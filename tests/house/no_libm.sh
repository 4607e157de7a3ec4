#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# no_libm.sh LIBRARY: the engine calls no function of the C library's mathematics, which picks its
# variant by processor at run time. Both lists are read from the files themselves.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
library=${1:?library}
[[ -s $library ]] || { echo "$library is not there"; exit 2; }

find_shared() {
  local file
  file=$("${CXX:-g++}" -print-file-name="$1")
  [[ -f $file ]] || { echo "cannot find $1" >&2; exit 2; }
  printf '%s' "$file"
}
names_defined_by() {
  nm -D --defined-only "$1" | awk '$2 ~ /^[TWiVBD]$/ { sub(/@.*/, "", $3); print $3 }' | sort -u
}
libm=$(find_shared libm.so.6) || exit 2
libc=$(find_shared libc.so.6) || exit 2
# frexp, ldexp, modf, copysign, scalbn, isnan, isinf, finite, signbit live in libc as well: they take
# numbers apart without rounding, have one answer and one variant.
banned=$(comm -23 <(names_defined_by "$libm") <(names_defined_by "$libc"))
[[ $(wc -l <<<"$banned") -gt 200 ]] || { echo "libm's list looks wrong: $banned"; exit 2; }

wanted=$(nm -u "$library" | awk '$1 == "U" { print $2 }' | sort -u)
[[ -n $wanted ]] || { echo "$library asks for nothing: it cannot be the engine"; exit 2; }
while IFS= read -r name; do
  [[ -n $name ]] || continue
  places=$(nm -A -u "$library" 2>/dev/null | awk -v n="$name" '$NF == n { print $1 }' |
    sed 's/:$//' | sort -u | tr '\n' ' ')
  fault "$name is a function of libm; asked for by $places"
done < <(comm -12 <(printf '%s\n' "$banned") <(printf '%s\n' "$wanted"))
finish "$(wc -l <<<"$wanted") undefined symbols, none of them of libm"
