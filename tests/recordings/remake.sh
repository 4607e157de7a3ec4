#!/bin/bash
# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# Makes the kept records again, after a change that is meant to change what patients do. Read the
# difference in behaviour first; then say why in the commit.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
for case in no_deviation exophoria near_esophoria_high_ac_a right_esotropia \
  intermittent_exotropia microtropia; do
  "$root/build/redress" simulate "$root/scenarios/$case.json" --acts "$root/tests/recordings/busy.acts" \
    --seed 41 --record "$root/tests/recordings/$case.record" --until-ms 21000 >/dev/null
done
