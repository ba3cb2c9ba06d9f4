# SPDX-License-Identifier: Apache-2.0
# Shell functions shared by tests/run.sh and examples/quickstart.sh: Debian packages, the Python environment, and the
# Python package in it. Whoever sources this sets root (the source tree) and build (the build folder).

venv=$build/venv
missing=()

need() { # package, then a command that succeeds where it is there
    local package=$1
    shift
    "$@" >/dev/null 2>&1 || missing+=("$package")
}

need_for_python() { # what the Python package is built with
    local tool
    for tool in gcc g++ cmake make pkg-config ninja-build:ninja; do
        need "${tool%%:*}" command -v "${tool##*:}"
    done
    need libgsl-dev pkg-config --exists gsl
    need libjansson-dev pkg-config --exists jansson
    need libsodium-dev pkg-config --exists libsodium
    need tzdata test -e /usr/share/zoneinfo/Europe/Berlin
    need python3 command -v python3
    need python3-venv python3 -c 'import venv, ensurepip'
    need python3-dev python3 -c \
        'import os, sysconfig; assert os.path.exists(sysconfig.get_path("include") + "/Python.h")'
}

install_missing() { # the packages found missing, as root or through sudo
    if [ ${#missing[@]} -gt 0 ]; then
        local as_root=()
        [ "$(id -u)" = 0 ] || as_root=(sudo)
        if ! command -v apt-get || { [ "$(id -u)" != 0 ] && ! command -v sudo; }; then
            echo "Missing, by their Debian names: ${missing[*]}"
            return 1
        fi
        "${as_root[@]}" apt-get update </dev/null
        "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends \
            "${missing[@]}" </dev/null
    fi
    python3 -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Python 3.11 or later is needed."; return 1; }
}

make_venv() {
    [ -x "$venv/bin/python" ] || python3 -m venv "$venv"
}

has_extras() { # list with commas: whether the installed package has them all
    local extra
    for extra in ${1//,/ }; do
        case ,$(cat "$build/python_installed" 2>/dev/null), in *,"$extra",*) ;; *) return 1 ;; esac
    done
}

install_python_package() { # extras; only where a source is newer than what is installed
    local stamp=$build/python_installed sources=("$root/libflowcomp" "$root/bindings" "$root/tests/checks")
    make_venv
    if has_extras "$1" && "$venv/bin/python" -c 'import flowcomp' 2>/dev/null &&
        [ -z "$(find "${sources[@]}" -name __pycache__ -prune -o -newer "$stamp" -print -quit)" ]; then
        return 0
    fi
    rm -f "$stamp"
    echo "$1" >"$stamp.new" # its time is that of the sources being read
    "$venv/bin/python" -m pip install --disable-pip-version-check --quiet "$root/bindings/python[$1]"
    mv "$stamp.new" "$stamp"
}

install_exact_numbers() { # what the recomputations in 40 digits are made with
    make_venv
    "$venv/bin/python" -c 'import mpmath, gmpy2' 2>/dev/null ||
        "$venv/bin/python" -m pip install --disable-pip-version-check --quiet mpmath gmpy2
}
