#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Timings as ratios against peers measured in the same run: builds the library with gcc and with clang, runs the bench
# programs of each and that of the Python package, prints the table and writes bench.json into the build folder.
#
#     tests/bench/run.sh [ROUNDS]      7 rounds where left out; more where the machine is busy
#
# FLOWCOMP_BUILD names the build folder (build/ beside the README by default; this uses bench/ in it), FLOWCOMP_BENCH_ROWS
# the records in memory (8 388 608). Nothing passes or fails on a clock. Packages are installed as tests/run.sh does.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
build=${FLOWCOMP_BUILD:-$root/build}/bench
mkdir -p "$build/logs"
build=$(cd "$build" && pwd)
rounds=${1:-7}
rows=${FLOWCOMP_BENCH_ROWS:-8388608}
# shellcheck source=tests/support/prepare.sh
. "$root/tests/support/prepare.sh"

need clang command -v clang
need git command -v git
need libmpfr-dev pkg-config --exists mpfr
need_for_python
{
    install_missing
    install_python_package cli
    for compiler in gcc clang; do
        cmake -S "$root" -B "$build/$compiler" -DCMAKE_C_COMPILER="$compiler" -DCMAKE_BUILD_TYPE=Release \
            -DFLOWCOMP_BENCH=ON -DFLOWCOMP_STATIC=ON
        cmake --build "$build/$compiler" -j "$(nproc)"
    done
} >"$build/logs/build.log" 2>&1 || { tail -n 40 "$build/logs/build.log"; exit 1; }

results=()
for compiler in gcc clang; do
    version=$("$compiler" --version | head -n 1)
    "$build/$compiler/tests/bench_record" "$rows" "$rounds" | tee "$build/$compiler.txt" | grep -v '^figure' |
        sed "s/^/$compiler: /"
    results+=("$version=$build/$compiler.txt")
done
"$venv/bin/python" "$root/tests/bench/bench_python.py" | tee "$build/python.txt" | grep -v '^figure' |
    sed 's/^/python: /'
results+=("$(gcc --version | head -n 1)=$build/python.txt")

echo
python3 "$root/tests/bench/bench_table.py" "$build/bench.json" "${results[@]}"
echo
echo "sizes in bytes: text, data, bss"
size "$build"/gcc/libflowcomp/libflowcomp*.so | awk 'NR > 1 { print $1, $2, $3, $6 }' | sed "s|$build/||"
echo "written: $build/bench.json"
