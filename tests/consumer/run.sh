#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Install a build, use it from outside the tree in every way it is offered, uninstall it, and look for what is left.
#
#     tests/consumer/run.sh BUILD     BUILD: folder of a release build (FLOWCOMP_STATIC on)
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
build=$(cd "${1:?give the folder of a release build}" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
prefix=$work/prefix

fail() {
    echo "consumer: $1"
    exit 1
}

configure() { # folder, then options for cmake
    local folder=$1
    shift
    cmake -S "$here" -B "$work/$folder" -DCMAKE_PREFIX_PATH="$prefix" "$@" >"$work/log" 2>&1
}

by_cmake() { # name, components, ON or OFF for static
    echo "CMake, $1"
    configure "$1" -DCONSUMER_COMPONENTS="$2" -DCONSUMER_STATIC="$3" || { cat "$work/log"; fail "does not configure: $1"; }
    cmake --build "$work/$1" >"$work/log" 2>&1 || { cat "$work/log"; fail "does not build: $1"; }
    "$work/$1/consumer" || fail "does not run as expected: $1"
    if [ "$3" = ON ] && ldd "$work/$1/consumer" | grep -q flowcomp; then
        fail "the static program still loads a shared libflowcomp"
    fi
}

by_pkg_config() { # name, modules, options for the compiler
    echo "pkg-config, $1"
    local flags static="" modules=$2 defines=()
    [[ $modules == *analysis* ]] && defines+=(-DWITH_ANALYSIS)
    [[ $modules == *records* ]] && defines+=(-DWITH_RECORDS)
    [[ $3 == -static ]] && static=--static
    # shellcheck disable=SC2086 # words are meant to split
    flags=$(pkg-config $static --cflags --libs $modules) || fail "pkg-config does not know: $modules"
    # shellcheck disable=SC2086
    cc -std=c11 ${defines[@]+"${defines[@]}"} "$here/consumer.c" $3 -o "$work/program" $flags || fail "does not link: $1"
    LD_LIBRARY_PATH="$PKG_CONFIG_PATH/.." "$work/program" || fail "does not run as expected: $1"
}

host_with_gsl() { # options for the compiler
    echo "a host with its own GSL${1:+, $1}"
    local flags
    # shellcheck disable=SC2086
    flags=$(pkg-config ${1:+-$1} --cflags --libs flowcomp-analysis gsl)
    # shellcheck disable=SC2086
    cc -std=c11 "$here/host_gsl.c" $1 -o "$work/program" $flags || fail "does not link beside the host's GSL"
    LD_LIBRARY_PATH="$PKG_CONFIG_PATH/.." "$work/program" || fail "disturbs the host's GSL"
}

install_to_prefix() {
    cmake --install "$build" --prefix "$prefix" >"$work/log" 2>&1 || { cat "$work/log"; fail "does not install"; }
}

uninstall() {
    cmake --build "$build" --target uninstall >"$work/log" 2>&1 || { cat "$work/log"; fail "does not uninstall"; }
}

install_to_prefix
echo "installed: $(find "$prefix" -type f -o -type l | wc -l) files"

by_cmake shared-alone "" OFF
by_cmake shared-analysis analysis OFF
by_cmake shared-records records OFF
by_cmake shared-both "analysis;records" OFF
by_cmake static-alone "" ON
by_cmake static-both "analysis;records" ON
configure nonsense -DCONSUMER_COMPONENTS=nonsense && fail "a component that does not exist was found"

PKG_CONFIG_PATH=$(dirname "$(find "$prefix" -name flowcomp.pc)")
export PKG_CONFIG_PATH
by_pkg_config shared-alone flowcomp ""
by_pkg_config shared-analysis flowcomp-analysis ""
by_pkg_config shared-records flowcomp-records ""
by_pkg_config static-alone flowcomp -static
by_pkg_config static-both "flowcomp-analysis flowcomp-records" -static
host_with_gsl ""
host_with_gsl -static

uninstall
[ ! -e "$prefix" ] || { find "$prefix"; fail "uninstall left the above"; }

# What was there before stays there, and nothing else.
mkdir -p "$prefix/lib/cmake" && touch "$prefix/lib/keep"
before=$(find "$prefix" | sort)
install_to_prefix
uninstall
[ "$(find "$prefix" | sort)" = "$before" ] || { find "$prefix"; fail "uninstall did not leave the prefix as it was"; }
echo "uninstalled: nothing left, nothing of others removed"
