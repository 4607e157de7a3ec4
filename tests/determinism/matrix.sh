#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# matrix.sh ROOT BUILD PRINT_HASHES: builds the engine and print_hashes.cpp with two compilers,
# without and with optimisation and with the instruction set of this machine, and requires that each
# prints the same hashes of the shipped cases; and so must PRINT_HASHES, which is linked to the very
# library that the program is. One build runs again with AVX2 and FMA hidden from the C library. What
# did not change is not built again.
set -euo pipefail
root=${1:?root} build=${2:?build folder} shipped=${3:?print_hashes of the main build}
mkdir -p "$build"
cd "$root"
export LC_ALL=C

for compiler in g++ clang++; do
  command -v "$compiler" >/dev/null || { echo "$compiler is not installed"; exit 2; }
done

names=() compilers=() levels=()
add() { names+=("$1") compilers+=("$2") levels+=("$3"); }
add gcc-O0 g++ "-O0"
add gcc-O3 g++ "-O3"
add gcc-O3-native g++ "-O3 -march=native"
add clang-O0 clang++ "-O0"
add clang-O3 clang++ "-O3"
add clang-O3-native clang++ "-O3 -march=native"

mapfile -t files < <(find sim/basics sim/optics sim/patient sim/room sim/cases -name '*.cpp' | sort)
files+=(tests/determinism/print_hashes.cpp)
# These only take text apart and put it together. They cost a third of all compiling, and are built
# once for each compiler.
text_only=" sim/basics/json_reader.cpp sim/basics/json_text.cpp sim/cases/write_case.cpp"
text_only+=" sim/cases/draft.cpp sim/cases/pack.cpp sim/cases/case_head.cpp sim/cases/migrate.cpp "

# Paths with spaces and colons, as ninja wants them.
escaped() { sed -e 's/\$/$$/g' -e 's/ /$ /g' -e 's/:/$:/g' <<<"$1"; }
{
  echo "builddir = $(escaped "$build")"
  echo "flags = -std=c++20 -ffp-contract=off -fno-tree-slp-vectorize -I."
  echo "rule compile"
  echo "  command = \$compiler \$flags \$level -MD -MF \$out.d -c \$in -o \$out"
  echo "  depfile = \$out.d"
  echo "  deps = gcc"
  echo "rule link"
  echo "  command = \$compiler \$in -lfmt -lsodium -o \$out"
  declare -A declared=()
  for i in "${!names[@]}"; do
    objects=()
    for file in "${files[@]}"; do
      folder=${names[i]}
      [[ $text_only != *" $file "* ]] || folder=${compilers[i]}
      object="$(escaped "$build")/$folder/${file//\//_}.o"
      objects+=("$object")
      [[ -z ${declared[$object]:-} ]] || continue
      declared[$object]=yes
      echo "build $object: compile $(escaped "$file")"
      echo "  compiler = ${compilers[i]}"
      echo "  level = ${levels[i]}"
    done
    echo "build $(escaped "$build")/${names[i]}/print_hashes: link ${objects[*]}"
    echo "  compiler = ${compilers[i]}"
  done
} >"$build/build.ninja"
ninja -f "$build/build.ninja" -j 2 --quiet

# Every fifth of the library: each kind of case is among them, and a build at -O0 is slow.
mapfile -t cases < <(grep -lE '"format": *"redress-case"' scenarios/*.json 2>/dev/null | sort |
  awk 'NR % 5 == 1')
((${#cases[@]} > 0)) || { echo "scenarios/ has no case"; exit 1; }

reference="$build/${names[0]}/hashes.txt"
failures=0
compare() {  # compare NAME FILE
  [[ $(wc -l <"$2") -eq $((1 + 5 * ${#cases[@]})) ]] || {
    echo "$1 printed $(wc -l <"$2") lines"
    failures=$((failures + 1))
  }
  if ! diff "$reference" "$2" >"$2.diff"; then
    echo "$1 differs from ${names[0]}; the first lines:"
    head -n 6 "$2.diff"
    failures=$((failures + 1))
  fi
}

for name in "${names[@]}"; do
  "$build/$name/print_hashes" "${cases[@]}" >"$build/$name/hashes.txt"
  compare "$name" "$build/$name/hashes.txt"
done
"$shipped" "${cases[@]}" >"$build/shipped.txt"
compare "the program's own library" "$build/shipped.txt"
# The names of the capabilities changed with glibc 2.33; both are set, unknown ones are ignored.
hidden=-AVX2,-FMA,-AVX2_Usable,-FMA_Usable
GLIBC_TUNABLES="glibc.cpu.hwcaps=$hidden" "$build/gcc-O3/print_hashes" "${cases[@]}" \
  >"$build/gcc-O3/hidden.txt"
compare "gcc-O3 with AVX2 and FMA hidden" "$build/gcc-O3/hidden.txt"

cat "$reference"
((failures == 0)) || exit 1
echo "${#cases[@]} cases from $((${#names[@]} + 1)) builds, one of them twice: the same output"
