#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# The evaluation errors of all methods over 100 000 draws each, written to tests/accuracy/methods_table.md. Hours.
#
#     tests/accuracy/run.sh                       all, 100 000 draws each
#     tests/accuracy/run.sh --seconds 20          the same, but at most 20 s for a method
#     tests/accuracy/run.sh --draws 2000 --only NAME
#
# Options go to methods_study.py. Findings are kept in the build folder as they come: a run that was stopped goes on where
# it was, and begins anew when the library or the study is newer than they are. A choice of methods writes no table.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
build=${FLOWCOMP_BUILD:-$root/build}
mkdir -p "$build/logs"
build=$(cd "$build" && pwd)
# shellcheck source=../support/prepare.sh
. "$root/tests/support/prepare.sh"

cmake --preset release -S "$root" -B "$build/release" >"$build/logs/accuracy_build.log"
cmake --build "$build/release" --target flowcomp flowcomp_analysis >>"$build/logs/accuracy_build.log"
install_exact_numbers

results=(--keep "$build/accuracy.jsonl" --table "$root/tests/accuracy/methods_table.md")
case " $* " in *" --only"*) results=() ;; esac
find "$build/accuracy.jsonl" ! -newer "$build/release/libflowcomp/libflowcomp.so" -delete 2>/dev/null || true
FLOWCOMP_EXACT=mpfr nice "$venv/bin/python" "$root/tests/accuracy/methods_study.py" "$build/release/libflowcomp" \
    --draws 100000 "${results[@]}" "$@"
