#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Collect what the bench programs printed: a table on the screen, and bench.json.

    bench_table.py OUT.json COMPILER=FILE ...

A line "figure<tab>name<tab>value<tab>unit<tab>reach<tab>aim" is a figure; the unit ends in "at most" where less is better.
Nothing here judges: a figure that is not reached is shown as such.
"""

from __future__ import annotations

import json
import os
import platform
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def machine() -> str:
    """Processor, its number, and how busy it was."""
    model = next((line.split(":", 1)[1].strip() for line in Path("/proc/cpuinfo").read_text().splitlines()
                  if line.startswith("model name")), platform.processor() or platform.machine())
    return f"{model}, {os.cpu_count()} processors"


def commit() -> str:
    """The commit that was measured, with "+" where the tree has changes."""
    def git(*words: str) -> str:
        return subprocess.run(["git", "-C", str(ROOT), *words], capture_output=True, text=True, check=False).stdout.strip()
    return git("rev-parse", "--short=12", "HEAD") + ("+" if git("status", "--porcelain", "--untracked-files=no") else "")


def figures(text: str) -> list[dict[str, object]]:
    found = []
    for line in text.splitlines():
        kind, *fields = line.split("\t")
        if kind == "figure":
            name, value, unit, reach, aim = fields
            found.append({"figure": name, "ratio": float(value), "unit": unit, "reach": float(reach) or None,
                          "aim": float(aim) or None})
    return found


def verdict(row: dict[str, object]) -> str:
    if row["reach"] is None:
        return ""
    sign = -1 if str(row["unit"]).endswith("at most") else 1
    if sign * row["ratio"] >= sign * row["aim"]:
        return "aim"
    return "reached" if sign * row["ratio"] >= sign * row["reach"] else "not reached"


def main() -> None:
    where, rows = machine(), []
    version = commit()
    for given in sys.argv[2:]:
        compiler, path = given.split("=", 1)
        rows += [{**row, "machine": where, "compiler": compiler, "commit": version}
                 for row in figures(Path(path).read_text())]
    if not rows:
        sys.exit("bench_table.py: no figure was printed")
    Path(sys.argv[1]).write_text(json.dumps(rows, indent=1) + "\n")
    print(f"machine {where}, commit {version}, load {os.getloadavg()[0]:.1f}\n")
    print("| figure | value | unit | reach | aim | | compiler |\n|---|---|---|---|---|---|---|")
    for row in rows:
        limits = [f"{row[key]:g}" if row[key] is not None else "" for key in ("reach", "aim")]
        print(f"| {row['figure']} | {row['ratio']:.3g} | {row['unit']} | {limits[0]} | {limits[1]} | {verdict(row)} | "
              f"{row['compiler']} |")


if __name__ == "__main__":
    main()
