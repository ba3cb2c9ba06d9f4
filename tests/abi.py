#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The binary interface as a committed text, tests/abi/flowcomp.abi: exported symbols with their library and prototype,
types, enum values, sizes and offsets of public structs (on 64-bit Linux).

    abi.py BUILD          compare with what BUILD/libflowcomp exports and the headers declare
    abi.py BUILD --write  refresh the text; then read the difference before committing it
"""

from __future__ import annotations

import argparse
import difflib
import re
import subprocess
import sys
import tempfile
from pathlib import Path

from public_headers import HEADERS, prototypes
from symbols import symbols

ABI = Path(__file__).resolve().parent / "abi" / "flowcomp.abi"
LIBRARIES = ("libflowcomp", "libflowcomp-analysis", "libflowcomp-records")


def functions(build: Path) -> tuple[list[str], list[str]]:
    """Lines "library: prototype", and what is exported without a prototype or declared and not exported."""
    declared = {p.name: p for p in prototypes()}
    lines, problems, seen = [], [], set()
    for library in LIBRARIES:
        names = symbols(build / "libflowcomp" / f"{library}.so", "-D", "--defined-only")
        if not names:
            problems.append(f"{library} exports nothing")
        for name in sorted(names):
            if name in seen:
                problems.append(f"{name} is exported by two libraries")
            seen.add(name)
            if name in declared:
                lines.append(f"{library}: {declared[name].declaration()}")
            else:
                problems.append(f"{library} exports {name}, which no public header declares")
    problems += [f"{declared[name].header} declares {name}, which no library exports"
                 for name in sorted(set(declared) - seen)]
    return lines, problems


def own_text() -> str:
    """The public headers, preprocessed, without what comes from the system's headers."""
    source = "".join(f'#include "flowcomp/{path.name}"\n' for path in sorted(HEADERS.glob("*.h")))
    command = ["cc", "-std=c11", "-E", "-DSWIG", f"-I{HEADERS.parent}", "-x", "c", "-"]
    text = subprocess.run(command, input=source, check=True, capture_output=True, text=True).stdout
    kept, ours = [], False
    for line in text.splitlines():
        marker = re.match(r'# \d+ "([^"]*)"', line)
        if marker:
            ours = str(HEADERS) in marker[1]
        elif ours:
            kept.append(line)
    return " ".join(" ".join(kept).split())


def types(text: str) -> tuple[dict[str, list[str]], list[str], list[str]]:
    """Public structs with their fields, enum constants, and the other typedefs (handles, callbacks)."""
    structs, constants, others = {}, [], []
    for match in re.finditer(r"typedef (struct|enum)(?: \w+)? \{(.*?)\} (\w+);", text):
        if match[1] == "enum":
            constants += [re.match(r"\w+", piece.strip())[0] for piece in match[2].split(",") if piece.strip()]
        elif "{" in match[2]:
            raise ValueError(f"struct {match[3]} holds another one without a name: give that one its own typedef")
        else:
            structs[match[3]] = [name for piece in match[2].split(";") if piece.strip() for name in _fields(piece)]
    for match in re.finditer(r"\b(struct \w+) \{([^{}]*)\};", text):  # of the Arrow C data interface: without a typedef
        structs[match[1]] = [name for piece in match[2].split(";") if piece.strip() for name in _fields(piece)]
    for match in re.finditer(r"typedef (?!(?:struct|enum)(?: \w+)? \{)[^;]*;", text):
        others.append(match[0])
    bodies = len(re.findall(r"\b(?:struct|union|enum)\b(?: \w+)? \{", text))
    found = len(structs) + len(re.findall(r"typedef enum(?: \w+)? \{", text))
    if bodies != found:
        raise ValueError(f"{bodies} struct, union and enum bodies in the headers, but {found} were understood")
    return structs, constants, sorted(others)


def _fields(declaration: str) -> list[str]:
    """Names declared by one field declaration: "double low, high", "char text[8]", "int (*call)(void *)"."""
    pointer = re.search(r"\(\*\s*(\w+)\)", declaration)
    if pointer:
        return [pointer[1]]
    return [re.search(r"(\w+)\s*(?:\[[^\]]*\]\s*)*$", piece)[1] for piece in declaration.split(",")]


def measure(structs: dict[str, list[str]], constants: list[str]) -> list[str]:
    """Compile and run a program that prints values, sizes and offsets."""
    body = [f'printf("enum {name} = %ld\\n", (long){name});' for name in constants]
    for name, fields in structs.items():
        label = "struct " + name.removeprefix("struct ")
        body.append(f'printf("{label}: size %zu, alignment %zu\\n", sizeof({name}), _Alignof({name}));')
        body += [f'printf("{label}.{field}: offset %zu, size %zu\\n", offsetof({name}, {field}), '
                 f'sizeof((({name} *)0)->{field}));' for field in fields]
    includes = "".join(f'#include "flowcomp/{path.name}"\n' for path in sorted(HEADERS.glob("*.h")))
    with tempfile.TemporaryDirectory() as folder:
        source, program = Path(folder) / "layout.c", Path(folder) / "layout"
        source.write_text(f"#include <stdio.h>\n{includes}int main(void)\n{{\n" + "\n".join(body) + "\n}\n",
                          encoding="utf-8")
        subprocess.run(["cc", "-std=c11", f"-I{HEADERS.parent}", str(source), "-o", str(program)], check=True)
        return subprocess.run([str(program)], check=True, capture_output=True, text=True).stdout.splitlines()


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("build", type=Path, help="folder of a release build")
    parser.add_argument("--write", action="store_true", help="refresh the committed text")
    arguments = parser.parse_args()
    try:
        lines, problems = functions(arguments.build)
        structs, constants, others = types(own_text())
        lines += others + measure(structs, constants)
    except (ValueError, subprocess.CalledProcessError) as problem:
        print(f"abi.py could not look: {problem}")
        return 1
    print(f"{len(lines)} lines: {len(structs)} structs, {len(constants)} enum constants")
    if not structs or not constants:
        problems.append("no struct or no enum was found in the public headers: nothing was judged")
    if problems:
        print("\n".join(problems))
        return 1
    text = "".join(line + "\n" for line in ["# Written by tests/abi.py. Order: functions, types, values, layout.", *lines])
    if arguments.write:
        ABI.write_text(text, encoding="utf-8")
        return 0
    before = ABI.read_text(encoding="utf-8") if ABI.exists() else ""
    difference = list(difflib.unified_diff(before.splitlines(), text.splitlines(), "committed", "built", lineterm="", n=0))
    if difference:
        print("\n".join(difference))
        print(f"The binary interface changed. If that is meant: python3 tests/abi.py {arguments.build} --write")
    return 1 if difference else 0


if __name__ == "__main__":
    sys.exit(main())
