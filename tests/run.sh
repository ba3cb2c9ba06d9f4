#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Build and test everything, in stages; stop at the first that fails.
#
#     tests/run.sh                 all stages
#     tests/run.sh --only STAGE    one stage, with the builds it needs
#     tests/run.sh --list          names of the stages
#
# FLOWCOMP_BUILD names the build folder (build/ beside the README by default). With CI set, the whole log of a failed
# stage is printed. Missing Debian packages are installed as root or through sudo; Python packages go into a private
# environment in the build folder.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
build=${FLOWCOMP_BUILD:-$root/build}
mkdir -p "$build/logs"
build=$(cd "$build" && pwd)
export FLOWCOMP_BUILD=$build
jobs=$(nproc)
# shellcheck source=tests/support/prepare.sh
. "$root/tests/support/prepare.sh"

stages=(packages release bare tests clang sanitizers threads valgrind analyzer gates consumer python rows accuracy bits quickstart)
declare -A title=(
    [packages]="Debian packages and the Python environment"
    [release]="gcc -O3, shared and static libraries, C tests"
    [bare]="a bare configure and build, without Python and cmocka"
    [tests]="C tests, gcc -O0, an ignored status is an error"
    [clang]="C tests, clang -O2"
    [sanitizers]="C tests under AddressSanitizer and UndefinedBehaviorSanitizer"
    [threads]="C tests under ThreadSanitizer"
    [valgrind]="the quick C tests under valgrind"
    [analyzer]="gcc -fanalyzer over the libraries"
    [gates]="layers, generated files, symbols, headers, contracts, ABI"
    [consumer]="install, use from outside by CMake and pkg-config, uninstall"
    [python]="Python package and its tests"
    [rows]="check rows through the Python package"
    [accuracy]="2000 random draws per method against 40 digits"
    [bits]="the contract of bits: compilers, processors, batches, fused instructions"
    [quickstart]="examples/quickstart.sh"
)
declare -A hint=(
    [packages]="Install the packages named above by hand, or run as root."
    [gates]="The last line says which gate refused; generated files are refreshed by the script named there."
    [consumer]="See tests/consumer/run.sh: it says which way of linking failed."
    [python]="The package is in bindings/python, its tests in tests/python."
    [bits]="tests/bits/publish.py --check says which results differ from the published ones."
    [rows]="Each failing row is printed with its value, expected value and limit."
    [accuracy]="The line marked ABOVE names the method and the inputs; tests/accuracy/methods_study.py --only NAME."
)

# --- what stages use --------------------------------------------------------------------------------------------------

note() { # one short fact for the line of this stage
    echo "$*" >"$build/logs/note"
}

compile() { # preset
    cmake --preset "$1" -S "$root" -B "$build/$1"
    cmake --build "$build/$1" -j "$jobs"
}

run_c_tests() { # preset, then a command to run ctest under
    local folder=$build/$1 programs checks
    shift
    "$@" ctest --test-dir "$folder" --output-on-failure --no-tests=error -j "$jobs"
    programs=$(grep -c '^"test_.*end time' "$folder/Testing/Temporary/LastTest.log") || programs=0
    checks=$(sed -n 's/^\[  PASSED  \] \([0-9]*\) test(s)\.$/\1/p' "$folder/Testing/Temporary/LastTest.log" |
        awk '{ sum += $1 } END { print sum + 0 }')
    [ "$checks" -gt 0 ] || { echo "ctest ran, but no cmocka test passed"; return 1; }
    note "$checks tests in $programs test programs"
}

# --- stages -----------------------------------------------------------------------------------------------------------

stage_packages() {
    local tool
    for tool in clang valgrind binutils:nm; do
        need "${tool%%:*}" command -v "${tool##*:}"
    done
    need libcmocka-dev pkg-config --exists cmocka
    need_for_python
    install_missing
    make_venv
    note "${#missing[@]} packages installed"
}

stage_release() {
    compile release
    run_c_tests release
}

stage_bare() {
    rm -rf "$build/bare"
    cmake -S "$root" -B "$build/bare"
    cmake --build "$build/bare" -j "$jobs"
    local count
    count=$(find "$build/bare/libflowcomp" -maxdepth 1 -name 'libflowcomp*.so' | wc -l)
    [ "$count" = 3 ] || { echo "$count shared libraries were built, not 3"; return 1; }
    note "3 shared libraries"
}

stage_tests() {
    compile dev
    run_c_tests dev
}

stage_clang() {
    compile dev-clang
    run_c_tests dev-clang
}

stage_sanitizers() {
    compile asan-ubsan
    ASAN_OPTIONS=strict_string_checks=1:detect_stack_use_after_return=1 UBSAN_OPTIONS=print_stacktrace=1 \
        run_c_tests asan-ubsan
}

stage_threads() {
    compile tsan
    # Without address randomisation: ThreadSanitizer's map of memory does not fit every kernel's.
    run_c_tests tsan setarch "$(uname -m)" -R
}

stage_valgrind() {
    compile dev
    run_c_tests dev
    # Programs of under a quarter of a second, so about ten seconds each here; valgrind does not keep the processor's
    # control word, has 64 bits for a long double, and brings its own malloc: what rests on any of these is left out.
    local name runs seconds count=0 left=()
    while read -r name runs seconds; do
        if [ "$name" = --- ]; then break; fi
        if grep -qs '_mm_setcsr\|fesetround\|feenableexcept\|__libc_malloc\|long double' "$root/tests/$name.c" ||
            awk -v t="$seconds" 'BEGIN { exit !(t > 0.25) }'; then
            left+=("$name")
            continue
        fi
        echo "valgrind: $name"
        valgrind --quiet --error-exitcode=9 --leak-check=full --errors-for-leak-kinds=definite,indirect \
            "$build/dev/tests/$name"
        count=$((count + 1))
    done <"$build/dev/Testing/Temporary/CTestCostData.txt"
    [ "$count" -gt 0 ] || { echo "no test program was run under valgrind"; return 1; }
    note "$count programs; left out: ${left[*]:-none}"
}

stage_analyzer() {
    compile analyzer
}

stage_gates() {
    compile release
    cd "$root"
    local script
    tests/include_law.py --self-test
    tests/include_law.py
    for script in tables/generate*.py; do
        echo "python3 $script --check"
        python3 "$script" --check
    done
    tests/symbols.py --self-test
    tests/symbols.py "$build/release"
    tests/headers_alone.sh
    tests/contracts.py --self-test
    tests/contracts.py
    tests/abi.py "$build/release"
    python3 tests/golden/canonical_hash.py tests/golden/*.json
}

stage_consumer() {
    compile release
    "$root/tests/consumer/run.sh" "$build/release"
}

stage_python() {
    install_python_package cli,test
    cd "$root"
    "$venv/bin/python" -m pytest -q tests/python
    note "$(tail -n 1 "$build/logs/python.log")"
}

stage_rows() {
    install_python_package cli,test
    cd "$root"
    # fpmath.csv and the whole records have a form of their own, read by C tests
    local rows
    rows=$(grep -l '^id,quantity,inputs,expected,' tests/checks/*.csv)
    "$venv/bin/python" tests/check_rows.py $rows
    note "$(tail -n 1 "$build/logs/rows.log")"
    local shared=$root/../shared/reference/checks
    if [ -d "$shared" ]; then
        "$venv/bin/python" tests/check_rows.py --skip-unknown "$shared"/*.csv
        note "$(cat "$build/logs/note"); reference rows: $(tail -n 1 "$build/logs/rows.log")"
    fi
}

stage_accuracy() {
    compile release
    install_exact_numbers
    # of the ten or so that are slow to recompute, as many draws as 1.5 s allow; tests/accuracy/run.sh has no such limit
    FLOWCOMP_EXACT=mpfr "$venv/bin/python" "$root/tests/accuracy/methods_study.py" "$build/release/libflowcomp" \
        --draws 2000 --seconds 1.5
    note "$(tail -n 1 "$build/logs/accuracy.log")"
}

stage_bits() {
    "$root/tests/bits/run.sh" --quick
    note "$(grep 'combinations run' "$build/logs/bits.log")"
}

stage_quickstart() {
    bash "$root/examples/quickstart.sh" | tee "$build/logs/quickstart.out"
    [ -s "$build/logs/quickstart.out" ] || { echo "examples/quickstart.sh printed nothing"; return 1; }
}

# --- running them -----------------------------------------------------------------------------------------------------

usage() {
    sed -n '3,12s/^# \{0,1\}//p' "${BASH_SOURCE[0]}"
}

chosen=("${stages[@]}")
case ${1:-} in
    "") ;;
    --list) for name in "${stages[@]}"; do printf '%-11s %s\n' "$name" "${title[$name]}"; done; exit 0 ;;
    --only)
        [[ -n ${2:-} && -n ${title[${2:-}]:-} ]] || { echo "Which stage? One of: ${stages[*]}"; exit 2; }
        chosen=("$2")
        ;;
    -h | --help) usage; exit 0 ;;
    *) usage; exit 2 ;;
esac

summary=()
passed=0
failed=0
for name in "${chosen[@]}"; do
    if [ "$failed" -gt 0 ]; then
        summary+=("$(printf '%-11s not run' "$name")")
        continue
    fi
    printf '%-11s %s ... ' "$name" "${title[$name]}"
    log=$build/logs/$name.log
    rm -f "$build/logs/note"
    start=$SECONDS
    set +e
    (
        set -e
        "stage_$name"
    ) >"$log" 2>&1 </dev/null
    code=$?
    set -e
    seconds=$((SECONDS - start))
    if [ "$code" -eq 0 ]; then
        passed=$((passed + 1))
        facts=$(cat "$build/logs/note" 2>/dev/null || true)
        printf '%s s%s\n' "$seconds" "${facts:+, $facts}"
        summary+=("$(printf '%-11s passed  %4d s  %s' "$name" "$seconds" "$facts")")
    else
        failed=1
        echo "FAILED after $seconds s"
        if [ -n "${CI:-}" ]; then cat "$log"; else tail -n 40 "$log"; fi
        echo
        echo "Stage '$name' failed (exit code $code). ${hint[$name]:-Read the lines above from the first error down.}"
        echo "Its whole log is $log; run it alone with: tests/run.sh --only $name"
        summary+=("$(printf '%-11s FAILED  %4d s' "$name" "$seconds")")
    fi
done

echo
printf '%s\n' "${summary[@]}"
echo "total       $SECONDS s"
echo "$passed passed, $failed failed"
exit "$failed"
