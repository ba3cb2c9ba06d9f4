# SPDX-License-Identifier: Apache-2.0
"""No public C function crashes where every pointer is NULL: it refuses, or answers NaN, 0 or NULL. Only the
initialisers, whose contract says never NULL, are left out."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import flowcomp as fc
import pytest
from public_headers import HEADERS, Prototype, prototypes

PROGRAM = """#include "flowcomp/flowcomp.h"
#include "flowcomp/analysis.h"
#include "flowcomp/identity.h"
#include "flowcomp/records.h"
#include "flowcomp/state_file.h"
#include "flowcomp/ticket_file.h"
#include "flowcomp/trail.h"
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

int main(void)
{
    int status = 0, crashes = 0;
#define TRY(NAME, CALL)                                                 \\
    if (fork() == 0) {                                                  \\
        CALL;                                                           \\
        _exit(0);                                                       \\
    }                                                                   \\
    wait(&status);                                                      \\
    if (WIFSIGNALED(status)) {                                          \\
        printf("%s: signal %d\\n", NAME, WTERMSIG(status));             \\
        crashes++;                                                      \\
    }
"""


def call_of(function: Prototype) -> str:
    """A call with every pointer NULL, numbers 1, and structs and choices of zeros."""
    zeros, arguments = "", []
    for place, (kind, name) in enumerate(function.parameters):
        if kind.endswith("*") or "[" in name:
            arguments.append("NULL")
        elif kind in ("double", "size_t") or kind.removeprefix("u").startswith("int"):
            arguments.append("1")
        else:
            zeros += f"{kind} a{place}; memset(&a{place}, 0, sizeof a{place}); "
            arguments.append(f"a{place}")
    return f'TRY("{function.name}", {{ {zeros}(void){function.name}({", ".join(arguments)}); }})'


def crashes(functions: list[Prototype], folder: Path) -> str:
    compiler = shutil.which("cc") or pytest.skip("no C compiler")
    libraries = sorted(Path(fc.__file__).parent.glob("libflowcomp*.so.0"))
    if not libraries:
        pytest.skip("the installed package carries no libraries")
    calls = "\n".join(map(call_of, functions))
    source = folder / "null_pointers.c"
    source.write_text(PROGRAM + calls + '\n    printf("%d crashes\\n", crashes);\n    return 0;\n}\n', encoding="utf-8")
    subprocess.run([compiler, "-std=c11", "-Werror=implicit-function-declaration", "-D_POSIX_C_SOURCE=200809L",
                    f"-I{HEADERS.parent}", str(source), *map(str, libraries), f"-Wl,-rpath,{libraries[0].parent}", "-o",
                    str(folder / "program")], check=True)
    return subprocess.run([str(folder / "program")], check=True, capture_output=True, text=True).stdout


def with_pointers() -> list[Prototype]:
    return [function for function in prototypes() if any(kind.endswith("*") for kind, _ in function.parameters)]


def test_null_is_refused(tmp_path: Path) -> None:
    functions = [function for function in with_pointers() if not function.name.endswith(("_init_sized", "_init"))]
    assert len(functions) > 400
    assert crashes(functions, tmp_path) == "0 crashes\n"


def test_a_crash_would_be_seen(tmp_path: Path) -> None:
    initialiser = [function for function in with_pointers() if function.name == "flc_reading_init_sized"]
    assert crashes(initialiser, tmp_path) == "flc_reading_init_sized: signal 11\n1 crashes\n"
