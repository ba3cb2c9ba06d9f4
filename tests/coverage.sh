#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Branch coverage of the C tests by folder; fails where properties/ or meter/ has under 95 %.
#
#     tests/coverage.sh             build, run the C tests, print
#     tests/coverage.sh --missing   and every branch that was not taken
#
# What stays untaken there, and why:
#   - guards of what the range check already refused (a switch over an enum without default, a status that cannot be
#     other than FLC_OK, a choice below 0): they stand so that an edit of a caller cannot turn into undefined behaviour;
#   - clamps of a root that rounding may carry a last bit beyond its bracket (piecewise_root.h, produced_water.c,
#     seawater_eos80.c, ethanol_oiml_r22.c, petroleum_2004.c): no input was found that needs them;
#   - a slope of zero inside a bracket (bracketed_newton.h): none of the functions sought has one.
# Not a stage of run.sh: building and running without optimisation takes some minutes.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
build=${FLOWCOMP_BUILD:-$root/build}
mkdir -p "$build/logs"
build=$(cd "$build" && pwd)
least=95
# shellcheck source=support/prepare.sh
. "$root/tests/support/prepare.sh"

command -v gcovr >/dev/null || { missing=(gcovr); install_missing; }
cmake --preset coverage -S "$root" -B "$build/coverage" >"$build/logs/coverage.log"
cmake --build "$build/coverage" -j "$(nproc)" >>"$build/logs/coverage.log"
find "$build/coverage" -name '*.gcda' -delete
ctest --test-dir "$build/coverage" --no-tests=error -j "$(nproc)" >>"$build/logs/coverage.log" ||
    { tail -n 40 "$build/logs/coverage.log"; exit 1; }

# files compiled twice (shared library, library under test) count once: gcovr merges them by line
report() { gcovr -r "$root/libflowcomp/src" --object-directory "$build/coverage/libflowcomp" --exclude-throw-branches "$@"; }
report --json >"$build/coverage.json"
if [ "${1:-}" = --missing ]; then report --branches; fi
python3 - "$build/coverage.json" "$least" <<'PYTHON'
import json, sys
from collections import defaultdict

taken, total = defaultdict(int), defaultdict(int)
for file in json.load(open(sys.argv[1]))["files"]:
    folder = file["file"].split("/")[0]
    for line in file["lines"]:
        for branch in line["branches"]:
            total[folder] += 1
            taken[folder] += branch["count"] > 0
for folder in ("base", "properties", "meter", "custody", "batch", "analysis", "records"):
    print(f"{folder:11} {taken[folder]:5} of {total[folder]:5} branches, {100 * taken[folder] / max(1, total[folder]):5.1f} %")
judged = [folder for folder in ("properties", "meter") if 100 * taken[folder] < int(sys.argv[2]) * max(1, total[folder])]
sys.exit(f"under {sys.argv[2]} %: {', '.join(judged)}" if judged else 0)
PYTHON
