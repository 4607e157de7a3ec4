#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# assessment.sh BUILD [CANDIDATES]: prints how long hand-in, report, replay and rehearsal take. Clock
# time, for people, on whatever else the machine is doing; nothing is tested by it.
set -euo pipefail
build=${1:?build folder} candidates=${2:-50}
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
"$build/assessment_bench" "$candidates"

# A rehearsal of twelve stations of five minutes: each of the six of the example twice. Preparing the
# forms is the same for any number of candidates, so two sizes tell what a thousand take.
circuit=$(mktemp -p "$root/scenarios/circuits" .bench-XXXXXX.json)
trap 'rm -f "$circuit"' EXIT
python3 - "$root/scenarios/circuits/second_year.json" "$circuit" <<'PYTHON'
import json, sys
day = json.load(open(sys.argv[1]))
patients = [s for s in day["stations"] if "rest_s" not in s]
for s in patients:
    s["time_s"] = 300
day["stations"] = [dict(s, name=f"{s['name']} {i}", seeds=[k + i for k in s.get("seeds", [1])])
                   for i in (0, 100) for s in patients]
day["pass"]["stations"] = 8
json.dump(day, open(sys.argv[2], "w"))
PYTHON
for threads in 1 2; do
  for n in 100 200; do
    begin=$(date +%s%N)
    "$build/redress" rehearse "$circuit" --candidates "$n" --threads "$threads" >/dev/null
    echo "rehearse: $n candidates, 12 stations, $threads threads:" \
      "$((($(date +%s%N) - begin) / 1000000)) ms"
  done
done
