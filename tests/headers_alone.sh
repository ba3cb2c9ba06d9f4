#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Each public header compiles alone, as C99 and as C++, without a warning.
set -euo pipefail
include=$(cd "$(dirname "$0")/../libflowcomp/include" && pwd)
warnings=(-Wall -Wextra -Wconversion -Wshadow -pedantic -Werror -fsyntax-only)

alone() { # compiler and options; the translation unit comes on standard input
    printf '#include "flowcomp/%s"\n#include "flowcomp/%s"\nint flc_here;\n' "$header" "$header" | "$@" "${warnings[@]}" -I"$include" -
}

# The gate can fail: a header that needs another one first is refused.
if echo 'size_t flc_bad(void);' | gcc -std=c99 -x c "${warnings[@]}" - 2>/dev/null; then
    echo "headers_alone.sh: the compiler accepted a bad header, so this gate sees nothing"
    exit 1
fi

count=0
for path in "$include"/flowcomp/*.h; do
    header=$(basename "$path")
    alone gcc -std=c99 -x c || { echo "$header does not compile alone as C99"; exit 1; }
    alone g++ -std=c++11 -x c++ || { echo "$header does not compile alone as C++"; exit 1; }
    count=$((count + 1))
done
[ "$count" -gt 1 ] || { echo "no public header found in $include"; exit 1; }
echo "$count public headers compile alone as C99 and as C++11"
