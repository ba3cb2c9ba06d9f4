#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# The contract of bits, shown: the hash of its set in every combination of compiler, level, instructions, processor,
# threads, chunks and binding; random whole records, one call each against batches; no fused instruction; sizes.
#
#     tests/bits/run.sh            everything, an hour or two; its table goes into table.md of the build folder
#     tests/bits/run.sh --quick    a part of it in a few minutes, as tests/run.sh does
#
# Writes bits.json into the folder bits of the build folder (FLOWCOMP_BUILD, or build/ beside the README). Missing Debian
# packages are installed as root or through sudo.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
build=${FLOWCOMP_BUILD:-$root/build}
mkdir -p "$build/bits"
build=$(cd "$build" && pwd)
# shellcheck source=tests/support/prepare.sh
. "$root/tests/support/prepare.sh"

quick=()
processors=(aarch64 s390x)
records=100000000
case ${1:-} in
    "") ;;
    --quick)
        quick=(--quick)
        processors=(aarch64)
        records=1000000
        ;;
    *) sed -n '3,11s/^# \{0,1\}//p' "${BASH_SOURCE[0]}"; exit 2 ;;
esac

need_for_python
need clang command -v clang
need binutils command -v objdump
for processor in "${processors[@]}"; do
    need "gcc-$processor-linux-gnu" command -v "$processor-linux-gnu-gcc"
    need qemu-user command -v "qemu-$processor"
    case $processor in
        aarch64) need libc6-dev-arm64-cross test -e /usr/aarch64-linux-gnu/lib/libc.a ;;
        *) need "libc6-dev-$processor-cross" test -e "/usr/$processor-linux-gnu/lib/libc.a" ;;
    esac
done
if [ ${#quick[@]} = 0 ]; then
    need lld command -v ld.lld
    need llvm command -v llvm-ar
fi
install_missing
install_python_package cli,test

echo "== the hash of the set =="
"$root/tests/bits/matrix.py" "$build/bits" "${quick[@]}" --python "$venv/bin/python" --table "$build/bits/table.md"

echo "== the published hash, part by part =="
FLOWCOMP_BUILD=$build "$root/tests/bits/publish.py" --check

echo "== one call each against batches =="
"$build/bits/gcc-O3-$(uname -m | tr _ -)/tests/bits_differential" "$records" 1 "$(nproc)" | tee "$build/bits/differential"

echo "== fused instructions =="
"$root/tests/bits/fused.py" "$build/bits" | tee "$build/bits/fused"

echo "== sizes, as the Python package carries them: file, and code with constants =="
for library in "$("$venv/bin/python" -c 'import flowcomp, os; print(os.path.dirname(flowcomp.__file__))')"/libflowcomp*.so.0; do
    size "$library" | awk -v name="$(basename "$library")" -v bytes="$(stat -c %s "$library")" \
        'NR == 2 { printf "%-28s %8d bytes, %8d of code and constants\n", name, bytes, $1 }'
done | tee "$build/bits/sizes"

{
    echo
    echo "One call each against batches, random whole records (the seed is 1; a flipped bit was noticed first):"
    sed 's/^/- /' "$build/bits/differential"
    echo
    echo "Fused instructions (objdump; the controls were found):"
    sed 's/^/- /; s/  */ /g' "$build/bits/fused" | grep -v '^- $'
    echo
    echo "Sizes:"
    sed 's/^/- /; s/  */ /g' "$build/bits/sizes"
} >>"$build/bits/table.md"
