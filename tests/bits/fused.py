#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""No fused multiply-add in any object of the run-time library, by objdump, for every build under a folder of builds.

    fused.py BUILD

A build is a folder with libflowcomp/ in it, as tests/bits/matrix.py makes them. First the control: a function compiled
with contraction on must be found, for each processor. Objects that hold no machine code (link-time optimisation) are
judged in the shared library that they became.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path

FUSED = {
    "x86-64": re.compile(r"\tv?fn?m(add|sub)\w*\b"),
    "aarch64": re.compile(r"\t(fmadd|fmsub|fnmadd|fnmsub|fmla|fmls|fmad|fmsb|fnmla|fnmls|fcmla)\b"),
    "s390x": re.compile(r"\t(m[as][dex]br?|m[as][dey]r?|[vw]fn?m[as][dsx]b|vfn?m[as])\b"),
}
CONTROL = "double f(double a, double b, double c) { return a * b + c; }\n"
GCC = {"x86-64": ["gcc", "-mfma"], "aarch64": ["aarch64-linux-gnu-gcc"], "s390x": ["s390x-linux-gnu-gcc"]}
OBJDUMP = {"x86-64": "objdump", "aarch64": "aarch64-linux-gnu-objdump", "s390x": "s390x-linux-gnu-objdump"}


def look(arch: str, file: Path) -> tuple[int, list[str]]:
    """Instructions seen in a file, and those that are fused."""
    text = subprocess.run([OBJDUMP[arch], "-d", "--no-show-raw-insn", str(file)], check=True, capture_output=True,
                          text=True).stdout
    lines = [line for line in text.splitlines() if re.match(r"\s+[0-9a-f]+:\t", line)]
    return len(lines), [line.strip() for line in lines if FUSED[arch].search(line)]


def control(arch: str) -> bool:
    """Is a fused instruction found where there is one, and none where contraction is off?"""
    with tempfile.TemporaryDirectory() as folder:
        found = []
        for contract in ("fast", "off"):
            target = Path(folder) / f"{contract}.o"
            subprocess.run([*GCC[arch], "-O2", f"-ffp-contract={contract}", "-x", "c", "-c", "-", "-o", str(target)],
                           input=CONTROL, text=True, check=True)
            found.append(len(look(arch, target)[1]))
    return found == [1, 0]


def judge(folder: Path) -> tuple[int, int, list[str]]:
    """Files and instructions of a build, and what is wrong."""
    arch = next(arch for arch in FUSED if folder.name.endswith(arch))
    objects = sorted((folder / "libflowcomp" / "CMakeFiles" / "flowcomp_objects.dir").rglob("*.o"))
    objects += [file for file in (folder / "libflowcomp").glob("libflowcomp.so.*.*") if not file.is_symlink()]
    seen, wrong = 0, []
    for file in objects:
        try:
            count, fused = look(arch, file)
        except subprocess.CalledProcessError:  # bitcode of clang
            continue
        seen += count
        wrong += [f"{folder.name}/{file.name}: {line}" for line in fused]
    return len(objects), seen, wrong


def main() -> int:
    folders = sorted(path.parent for path in Path(sys.argv[1]).glob("*/libflowcomp")
                     if any(path.parent.name.endswith(arch) for arch in FUSED))
    archs = [arch for arch in FUSED if any(folder.name.endswith(arch) for folder in folders)]
    blind = [arch for arch in archs if not control(arch)]
    wrong = [f"{arch}: the control was not found, so nothing would be" for arch in blind]
    for folder in folders:
        files, seen, fused = judge(folder)
        wrong += fused + ([f"{folder.name}: only {seen} instructions were seen"] if seen < 20_000 else [])
        print(f"{folder.name:<20} {files} files, {seen} instructions, {len(fused)} fused")
    print("\n".join(wrong[:40]))
    print(f"{len(folders)} builds, {len(archs)} controls, {len(wrong)} problems")
    return 1 if wrong or not folders else 0


if __name__ == "__main__":
    sys.exit(main())
