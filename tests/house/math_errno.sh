#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# No target is compiled with -fno-math-errno. With it gcc 12.2 (-O1, -O2, -Os) takes a function that
# hands its arguments on to one with a square root for a function that reads no memory, and drops the
# stores to those arguments: a rotation compared with the identity came out as garbage. The argument
# is the list of compile commands of the build.
source "$(dirname "${BASH_SOURCE[0]}")/common.sh"
commands=${1:?compile_commands.json}
[[ -s $commands ]] || { echo "$commands is not there"; exit 2; }
while IFS= read -r file; do
  fault "$file: compiled with a flag that makes wrong code or other bits"
done < <(grep -E '"command"' "$commands" |
  grep -E -- '-fno-math-errno|-ffast-math|-Ofast|-funsafe-math|-fassociative-math|-ffp-contract=(fast|on)' |
  grep -oE '[^ "]+\.cpp"' | tr -d '"')
while IFS= read -r file; do
  fault "$file: compiled without -ffp-contract=off"
done < <(grep -E '"command"' "$commands" | grep -E '/(sim|tests)/' |
  grep -v -- '-ffp-contract=off' | grep -oE '[^ "]+\.cpp"' | tr -d '"')
while IFS= read -r file; do
  fault "$file: compiled without -fno-tree-slp-vectorize, in which gcc 12.2 fuses a*b - c, d*e + f"
done < <(grep -E '"command"' "$commands" | grep -E '/sim/(basics|optics|patient|room|cases)/' |
  grep -v -- '-fno-tree-slp-vectorize' | grep -oE '[^ "]+\.cpp"' | tr -d '"')
finish "every file is compiled for the same bits"
