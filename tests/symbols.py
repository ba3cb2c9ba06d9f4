#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""What the built libraries show and what they lean on, read with nm and readelf.

    symbols.py BUILD            judge BUILD/libflowcomp (a release build with FLOWCOMP_STATIC)
    symbols.py --self-test      compile a bad library and see every rule fire

Rules: only flc_* is exported, from shared and static forms alike; libflowcomp imports nothing but the C library's
functions listed here and needs no other library; no library can abort, exit or print; none has a mutable global.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import re
import subprocess
import sys
import tempfile
from pathlib import Path

RUNTIME_IMPORTS = set("""
    malloc calloc realloc free
    memcpy memmove memset memcmp memchr strlen strcmp strncmp strchr strspn strcspn
    __stack_chk_fail __cxa_finalize __gmon_start__ _ITM_deregisterTMCloneTable _ITM_registerTMCloneTable
    __memcpy_chk __memmove_chk __memset_chk
""".split())

# Ends the host, prints, changes the process, or reads its surroundings: none of it is a library's business. (uselocale
# is the thread's own and is put back.)
FORBIDDEN_IMPORTS = re.compile(
    r"(__)?(v?[fsd]?n?printf|v?asprintf|puts|fputs|fputc|putc|putchar|fwrite|perror)(_chk)?$|"
    r"(abort|_?_?exit|_Exit|quick_exit|raise|kill|signal|sigaction|__assert_fail|__assert_perror_fail)$|"
    r"(stderr|stdout|stdin|fopen|freopen|open|creat|system|fork|getenv|setenv|setlocale|srand|rand)(64)?$|"
    r"(fesetround|fesetenv|feenableexcept|feclearexcept|gsl_\w+|cblas_\w+)$")

# Trails and saved totals are the only files that any of the libraries touches.
OPENS_FILES = "libflowcomp-records"

SYSTEM_LIBRARIES = {"libc.so.6", "ld-linux-x86-64.so.2", "ld-linux-aarch64.so.1"}
NEEDED = {
    "libflowcomp": SYSTEM_LIBRARIES,
    "libflowcomp-analysis": SYSTEM_LIBRARIES | {"libm.so.6", "libflowcomp.so.0"},
    "libflowcomp-records": SYSTEM_LIBRARIES | {"libflowcomp.so.0", "libjansson.so.4", "libsodium.so.23"},
}


def output(*command: str) -> str:
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def symbols(file: Path, *options: str) -> set[str]:
    names = set()
    for line in output("nm", "-P", *options, str(file)).splitlines():
        fields = line.split()
        if len(fields) >= 2 and fields[1] != "A":
            names.add(fields[0].split("@")[0])
    return names


def is_forbidden(symbol: str, library: str) -> bool:
    return bool(FORBIDDEN_IMPORTS.match(symbol)) and not (library == OPENS_FILES and symbol in ("open", "open64"))


def judge_exports(where: str, names: set[str]) -> list[str]:
    problems = [f"{where} exports {name}" for name in sorted(names) if not name.startswith("flc_")]
    return problems if names else [f"{where} exports nothing"]


def judge_shared(file: Path, name: str) -> list[str]:
    problems = judge_exports(file.name, symbols(file, "-D", "--defined-only"))
    imports = symbols(file, "-D", "--undefined-only")
    for symbol in sorted(imports):
        if name == "libflowcomp" and symbol not in RUNTIME_IMPORTS:
            problems.append(f"{file.name} imports {symbol}, which is not on the list in tests/symbols.py")
        elif is_forbidden(symbol, name):
            problems.append(f"{file.name} imports {symbol}")
    dynamic = output("readelf", "-dW", str(file))
    for library in re.findall(r"\(NEEDED\).*\[([^\]]+)\]", dynamic):
        if library not in NEEDED[name]:
            problems.append(f"{file.name} needs {library}")
    soname = re.findall(r"\(SONAME\).*\[([^\]]+)\]", dynamic)
    if soname != [f"{name}.so.0"]:
        problems.append(f"{file.name} has the SONAME {soname}, not {name}.so.0")
    return problems


def judge_archive(file: Path) -> list[str]:
    problems = judge_exports(file.name, symbols(file, "-g", "--defined-only"))
    return problems + [f"{file.name} refers to {symbol}" for symbol in sorted(symbols(file, "-u"))
                       if is_forbidden(symbol, file.stem)]


def mutable_globals(file: Path) -> list[str]:
    """Sections of an object that are written at run time and not empty (relocated constants excepted)."""
    pattern = re.compile(r"\]\s+(\.(?:data|bss|tdata|tbss)[\w.]*)\s+\S+\s+\S+\s+\S+\s+([0-9a-f]+)")
    return [f"{file.name} has a mutable global (section {section}, {int(size, 16)} bytes)"
            for section, size in pattern.findall(output("readelf", "-SW", str(file)))
            if int(size, 16) > 0 and not section.startswith(".data.rel.ro")]


def judge(build: Path) -> list[str]:
    folder = build / "libflowcomp"
    problems = []
    for name in NEEDED:
        shared, archive = folder / f"{name}.so", folder / f"{name}.a"
        for file in (shared, archive):
            if not file.exists():
                problems.append(f"{file} is not there: build the release preset first")
        if shared.exists() and archive.exists():
            problems += judge_shared(shared, name) + judge_archive(archive)
            print(f"{name}: {len(symbols(shared, '-D', '--defined-only'))} exported, "
                  f"{len(symbols(shared, '-D', '--undefined-only'))} imported")
    objects = sorted(folder.glob("CMakeFiles/flowcomp*_objects.dir/**/*.o"))
    for file in objects:
        problems += mutable_globals(file)
    print(f"{len(objects)} objects looked through for mutable globals")
    if not objects:
        problems.append("no object file was found: nothing was judged")
    return problems


def self_test() -> int:
    source = """
        #include <stdio.h>
        #include <stdlib.h>
        #include <math.h>
        int counter = 1; /* exported and mutable */
        double flc_bad(double x) { if (x > counter) { fprintf(stderr, "no"); abort(); } return pow(x, x); }
    """
    expected = ["exports counter", "imports pow", "imports abort", "imports stderr", "needs libm", "SONAME",
                "mutable global", "refers to abort", "is not there", "no object file"]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "bad.c").write_text(source, encoding="utf-8")
        compile_ = ["cc", "-O0", "-fPIC", str(folder / "bad.c"), "-o"]
        subprocess.run([*compile_, str(folder / "bad.o"), "-c"], check=True)
        subprocess.run([*compile_, str(folder / "bad.so"), "-shared", "-Wl,--no-as-needed", "-lm"], check=True)
        found = judge_shared(folder / "bad.so", "libflowcomp") + judge_archive(folder / "bad.o")
        found += mutable_globals(folder / "bad.o")
        with contextlib.redirect_stdout(io.StringIO()):
            found += judge(folder)
    missed = [rule for rule in expected if not any(rule in problem for problem in found)]
    for rule in missed:
        print(f"self-test: no problem reported for: {rule}")
    print(f"self-test: {len(expected)} breaches planted, {len(expected) - len(missed)} found")
    return 1 if missed else 0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("build", nargs="?", type=Path, help="folder of a release build")
    parser.add_argument("--self-test", action="store_true", help="check that each rule can fail")
    arguments = parser.parse_args()
    if arguments.self_test:
        return self_test()
    if arguments.build is None:
        parser.error("give the folder of a release build")
    problems = judge(arguments.build)
    print("\n".join([*problems, f"{len(problems)} problems"]))
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
