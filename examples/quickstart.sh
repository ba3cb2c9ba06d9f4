#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# From a fresh Debian 12 to a restated year, in one command, as root or with sudo at hand:
#
#     examples/quickstart.sh
#
# Installs what is missing, builds the Python package, makes the readings of an invented fuel depot, fits the certificates
# of its two meters, restates a year of each and shows the months. Runs from any folder and as often as you like; its files
# are in build/quickstart, beside the README (FLOWCOMP_BUILD names another build folder).
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
build=${FLOWCOMP_BUILD:-$root/build}
mkdir -p "$build"
build=$(cd "$build" && pwd)
# shellcheck source=tests/support/prepare.sh
. "$root/tests/support/prepare.sh"

work=$build/quickstart
log=$work/log.txt
number=0
step="starting"
hint="Read the lines above."
rm -rf "$work"
mkdir -p "$work"

step() { # what is done, what helps if it fails
    number=$((number + 1))
    step=$1
    hint=$2
    echo "[$number/6] $step"
}

on_exit() {
    [ "$?" -ne 0 ] || return 0
    echo
    tail -n 15 "$log" 2>/dev/null || true
    echo "The quickstart stopped at step $number: $step."
    echo "$hint The whole log is $log."
}
trap on_exit EXIT

quietly() {
    "$@" >>"$log" 2>&1
}

step "Debian packages: compiler, CMake, GSL, jansson, libsodium, Python" \
    "Run it as root, or install the packages named above by hand; Debian's package mirror must be reachable."
need_for_python
if [ ${#missing[@]} -gt 0 ]; then echo "      installing ${missing[*]}"; fi
quietly install_missing

step "the Python package, built into $venv (a minute the first time)" \
    "The package is in bindings/python; the Python package index must be reachable the first time."
quietly install_python_package cli
flowcomp=$venv/bin/flowcomp

step "a year of an invented fuel depot: two meters, hourly readings" "The generator is examples/depot/make_depot.py."
depot=$work/depot
quietly "$venv/bin/python" "$root/examples/depot/make_depot.py" --out "$depot"

step "a curve from each meter's certificate" "See the lines above: they name file and line of the certificate."
for fuel in diesel kerosene; do
    quietly "$flowcomp" fit "$depot/certificate_$fuel.csv" --out "$work/$fuel.json"
    echo "      $work/$fuel.png"
done

restate() { # fuel, then further options: highest frequency of the site, counter
    local fuel=$1
    shift
    "$flowcomp" restate "$depot/readings_$fuel.csv" --meter "$work/$fuel.json" --liquids "$depot/liquids.csv" \
        --batches "$depot/batches.csv" --interval 3600 --stamp end --timezone Europe/Berlin --out "$work/$fuel" "$@" \
        >"$work/$fuel.txt" 2>>"$log"
    cat "$work/$fuel.txt" >>"$log"
}

step "the year restated: readings, batches and liquids through the curves" \
    "See the lines above: they name file and line of the readings."
restate diesel --counter-modulus 4294967296 --highest-hz 310
restate kerosene --highest-hz 370

step "results" "The reports are the .txt files in $work."
for fuel in diesel kerosene; do
    echo
    sed -n '/contract months/,/^[^ ]* *contract month begins/p' "$work/$fuel.txt" | sed '$d'
    echo "Report  $work/$fuel.txt"
    echo "Rows    $work/$fuel/rows_*.csv"
    echo "Picture $work/$fuel/months.png"
    echo "Picture $work/$fuel/k.png"
done
echo
echo "The depot books with one K for each meter; the pictures show what that misses, and how far each month is known:"
echo "the kerosene meter logs its flowing time from July on, and its bound shrinks."
echo "Everything in it is invented. A restated figure is a claim until both parties agree to it; the contract's method"
echo "decides; local codes, type approvals and licensed practice come first."
