#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# prepare.sh [TARGET...]: installs the packages that are missing, configures and builds into build/.
# Without a target it builds everything. Quick when there is nothing to do; needs no network then.
# Everything it says goes to standard error.
set -euo pipefail
exec >&2

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
build="$root/build"
say() { printf 'prepare: %s\n' "$*"; }

# --- packages ---
mapfile -t wanted < <(sed -e 's/#.*//' -e 's/[[:space:]]//g' -e '/^$/d' \
  "$root/tests/support/packages.txt")
is_installed() {
  [[ $(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null) == installed ]]
}
missing=()
for package in "${wanted[@]}"; do
  is_installed "$package" || missing+=("$package")
done

if ((${#missing[@]} > 0)); then
  if ((EUID == 0)); then
    as_root=(env)
  elif command -v sudo >/dev/null; then
    as_root=(sudo env)
  else
    say "these packages are missing and need root or sudo to install: ${missing[*]}"
    say "as root: apt-get update && apt-get install --no-install-recommends ${missing[*]}"
    exit 1
  fi
  say "installing ${missing[*]}"
  apt=("${as_root[@]}" DEBIAN_FRONTEND=noninteractive apt-get -q -y)
  "${apt[@]}" update
  "${apt[@]}" install --no-install-recommends "${missing[@]}"
fi

# --- build; one at a time in one tree ---
mkdir -p "$build"
exec 9>"$build/.prepare.lock"
flock 9

# A build folder that came along when the tree was copied describes the other tree.
if [[ -f $build/CMakeCache.txt ]] &&
  ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$build/CMakeCache.txt"; then
  say "build/ was made for another folder; configuring anew"
  rm -rf "$build/CMakeCache.txt" "$build/CMakeFiles" "$build/determinism"
fi

options=()
# Continuous integration sets CI; there, a warning is an error.
[[ -n ${CI:-} ]] && options+=(-DREDRESS_WERROR=ON)
if [[ ! -f $build/build.ninja || ! -f $build/CMakeCache.txt || ${#options[@]} -gt 0 ]]; then
  say "configuring"
  cmake -S "$root" -B "$build" -G Ninja "${options[@]}" >"$build/configure.log" 2>&1 ||
    { cat "$build/configure.log"; exit 1; }
fi

say "building ${*:-everything}"
# 9>&- : a compiler left over must not hold the lock
cmake --build "$build" --parallel "$(nproc)" ${1:+--target "$@"} 9>&-
