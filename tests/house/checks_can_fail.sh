#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# A check that cannot fail is no check. Builds a small house with one fault of each kind and asks
# that the script beside this one names each of them; and a clean one, that it passes.
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
house=$(mktemp -d)
trap 'rm -rf "$house"' EXIT
failures=0

write() {  # write FILE TEXT: with a proper beginning
  mkdir -p "$house/$(dirname "$1")"
  printf '// SPDX-License-Identifier: MIT\n// Copyright the Redress authors\n%b\n' "$2" >"$house/$1"
}
clean_house() {
  rm -rf "${house:?}"/*
  mkdir -p "$house"/{sim/basics,render,scenarios,assets,tests}
  touch "$house"/{README.md,DEVELOPERS.md,LICENSE}
  printf '# SPDX-License-Identifier: MIT\n# Copyright the Redress authors\n' >"$house/CMakeLists.txt"
  write sim/basics/good.hpp '#pragma once\n#include <string>\nint good(int value);'
  write sim/room/good.cpp '#include "sim/basics/good.hpp"\nnamespace {\nconstexpr int kOne = 1;\n}'
}
# expect SCRIPT PATTERN FILE TEXT: with this file in the house, the script names the fault.
expect() {
  local output
  clean_house
  write "$3" "$4"
  if output=$(bash "$here/$1.sh" "$house"); then
    echo "$1 did not notice: $4"
    failures=$((failures + 1))
  elif ! grep -qF -- "$2" <<<"$output"; then
    echo "$1 said something else about: $4"
    echo "$output"
    failures=$((failures + 1))
  fi
}

clean_house
for script in arrows bans nothing_scripted source_files top_level; do
  bash "$here/$script.sh" "$house" >"$house.out" || {
    echo "$script is not content with a clean house:"
    cat "$house.out"
    failures=$((failures + 1))
  }
done
rm -f "$house.out"

expect source_files 'not found by CTest' tests/cut_test.cpp 'TEST_CASE("one; two") {}'
expect arrows 'not below' sim/basics/up.cpp '#include "sim/room/good.hpp"'
expect arrows 'not there' sim/room/gone.cpp '#include "sim/basics/gone.hpp"'
expect arrows 'not below' sim/patient/up.cpp '#include "sim/room/act.hpp"'
expect arrows 'not below' sim/room/up.cpp '#include "sim/truth/truth.hpp"'
expect arrows 'not below' sim/record/side.cpp '#include "sim/cases/case.hpp"'
expect arrows 'not below' sim/cases/side.cpp '#include "sim/record/record.hpp"'
expect arrows 'not below' render/window/side.cpp '#include "render/draw/draw.hpp"'
expect arrows 'not below' render/gl/side.cpp '#include "render/scene/scene.hpp"'
expect arrows 'never includes' sim/room/view.cpp '#include "render/scene/scene.hpp"'
expect arrows 'never includes' sim/examiners/peep.cpp '#include "sim/truth/truth.hpp"'
expect arrows 'never includes' sim/examiners/peep.cpp '#include "sim/patient/state.hpp"'
expect arrows 'never includes' render/draw/know.cpp '#include "sim/basics/good.hpp"'
expect arrows 'no room' sim/attic/new.cpp 'int a();'
expect arrows 'full path' sim/basics/short.cpp '#include "good.hpp"'
for header in cmath chrono thread random ctime SDL.h GL/gl.h imgui.h SDL2/SDL.h; do
  expect arrows "includes $header" sim/room/outside.cpp "#include <$header>"
done
expect arrows 'standard library alone' sim/patient/text.cpp '#include <nlohmann/json.hpp>'

expect bans 'random.hpp' sim/room/a.cpp 'int f() { return rand(); }'
expect bans 'random.hpp' sim/room/a.cpp 'std::normal_distribution<double> d;'
expect bans 'StateHash' sim/room/a.cpp 'auto h = std::hash<int>{}(3);'
expect bans 'std::sort' sim/room/a.cpp '\nvoid f() { std::sort(v.begin(), v.end()); }'
expect bans 'clock' sim/room/a.cpp 'auto now = std::chrono::system_clock::now();'
expect bans 'elementary' sim/room/a.cpp 'double f(double x) { return std::sin(x); }'
expect bans 'outlives' sim/room/a.cpp 'int f() {\n  static int calls = 0;\n  return ++calls;\n}'
expect bans 'outlives' sim/room/a.cpp 'namespace {\nint calls = 0;\n}'
expect bans 'outlives' sim/room/a.cpp 'namespace {\nstd::vector<int> seen;\n}'
expect bans 'promise' sim/room/a.cpp 'std::unordered_map<int, int> m;'
expect bans 'look inside' sim/examiners/a.cpp 'auto s = exam.patient_state();'
expect bans 'cannot see' sim/examiners/a.cpp 'if (seen.fused) write_phoria();'

expect nothing_scripted 'diagnosis' sim/patient/a.cpp 'if (exophoria) drift_out();'
expect nothing_scripted 'diagnosis' sim/room/a.cpp 'if (name == "Microtropia") hold();'
expect nothing_scripted 'diagnosis' sim/optics/a.cpp 'bool has_palsy = true;'

expect source_files 'columns' sim/room/a.cpp "// $(printf 'x%.0s' {1..100})"
expect source_files '500 lines' sim/room/a.cpp "$(printf '\\n%.0s' {1..500})"
expect source_files 'pragma once' sim/room/a.hpp 'int a();'
expect source_files 'a tab' sim/room/a.cpp '\tint a();'
expect top_level 'not part' vendor/a.cpp 'int a();'
clean_house
printf 'int a();\n' >"$house/sim/room/bare.cpp"
bash "$here/source_files.sh" "$house" | grep -q 'begins without' || {
  echo "source_files did not notice a missing licence"
  failures=$((failures + 1))
}
# A comment may name a diagnosis, a clock or a sine.
clean_house
write sim/patient/a.cpp '// exophoria, std::sin(x), rand()\n/* esotropia\n   std::hash<int> */'
for script in bans nothing_scripted; do
  bash "$here/$script.sh" "$house" >/dev/null || {
    echo "$script reads comments"
    failures=$((failures + 1))
  }
done

# The engine's library with one sine in it.
printf '#include <cmath>\ndouble f(double x) { return std::sin(x) + std::sqrt(x); }\n' >"$house/s.cpp"
"${CXX:-g++}" -O2 -c "$house/s.cpp" -o "$house/s.o" && ar rc "$house/s.a" "$house/s.o"
bash "$here/no_libm.sh" "$house/s.a" | grep -q 'sin is a function of libm' || {
  echo "no_libm did not notice a sine"
  failures=$((failures + 1))
}

((failures == 0)) && echo "each check finds its fault"
exit $((failures > 0))
