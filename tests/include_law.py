#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The law of the tree: who may include whom, unique file names, short files, a fixed top level.

    include_law.py              judge this checkout
    include_law.py --self-test  judge a small bad tree made on the spot; every rule must fire there
"""

from __future__ import annotations

import argparse
import re
import subprocess
import sys
import tempfile
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "CMakeLists.txt", "CMakePresets.json",
             "libflowcomp", "bindings", "tests", "tables", "examples"}
RUNTIME = ["base", "properties", "meter", "custody", "batch"]
MAY_USE = {layer: set(RUNTIME[: place + 1]) for place, layer in enumerate(RUNTIME)}
MAY_USE["analysis"] = {*RUNTIME, "analysis"}
MAY_USE["records"] = {*RUNTIME, "records"}
HEADERS = "libflowcomp/include/flowcomp"
PUBLIC_HEADERS_INCLUDE = {"stddef.h", "stdint.h"}
UMBRELLA = "flowcomp.h"  # the table of contents: it includes every run-time header and no layer includes it
ROWS = "methods.h"  # the types of method rows, which base needs; the list of them is built in batch

# Names that tools prescribe, or that mean the same wherever they lie.
REPEATABLE = {"README.md", "CMakeLists.txt", "LICENSE", "__init__.py", "conftest.py", "run.sh", ".gitignore"}
LONGEST = 500
LENGTH_RULES = {".c", ".h", ".py", ".sh", ".i", ".cmake"}
GENERATED = re.compile(r"src/\w+/(methods|tables)/[^/]+\.inc$")


def files_of(root: Path) -> list[str]:
    """Paths that belong to the tree: what git tracks and what it would add; without git, all but the build folder."""
    git = subprocess.run(["git", "-C", str(root), "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
                         capture_output=True, text=True)
    if git.returncode == 0:
        return sorted(name for name in git.stdout.split("\0") if name and (root / name).is_file())
    walked = (path.relative_to(root) for path in root.rglob("*") if path.is_file())
    return sorted(str(path) for path in walked if path.parts[0] != "build" and "__pycache__" not in path.parts)


def top_level(files: list[str]) -> list[str]:
    entries = {name.split("/", 1)[0] for name in files}
    return [f"{entry}: not an entry of the top level" for entry in sorted(entries)
            if entry not in TOP_LEVEL and not entry.startswith(".")]


def unique_names(files: list[str]) -> list[str]:
    places = defaultdict(list)
    for name in files:
        places[Path(name).name].append(name)
    return [f"{' and '.join(where)}: one name, several files" for name, where in sorted(places.items())
            if len(where) > 1 and name not in REPEATABLE]


def short_files(root: Path, files: list[str]) -> list[str]:
    problems = []
    for name in files:
        if Path(name).suffix in LENGTH_RULES or name.endswith(".inc") and not GENERATED.search(name):
            lines = len((root / name).read_text(encoding="utf-8").splitlines())
            if lines > LONGEST:
                problems.append(f"{name}: {lines} lines, at most {LONGEST}")
    return problems


def layers_of(root: Path, files: list[str]) -> dict[str, str]:
    """Layer of every header and included file by name. A public header lies in the layer of the source of its name;
    one without such a source lies as far right as what it includes."""
    layers = {"flowcomp/" + UMBRELLA: "batch", "flowcomp/" + ROWS: "base"}
    sources = {}
    for name in files:
        part = re.match(r"libflowcomp/src/(\w+)/(?:\w+/)?([^/]+)$", name)
        if part and name.endswith(".c"):
            sources[Path(name).stem] = part[1]
        elif part:
            layers[part[2]] = part[1]
    public = {"flowcomp/" + Path(name).name: root / name for name in files if name.startswith(HEADERS + "/")}
    for header in public:
        _place(header, public, sources, layers)
    return layers


def _place(header: str, public: dict[str, Path], sources: dict[str, str], layers: dict[str, str]) -> str:
    """Find, note and return the layer of a public header."""
    if header not in layers:
        family = re.match(r"flowcomp/([a-z]+)", header)[1]
        if family in ("analysis", "records"):
            layers[header] = family
        elif Path(header).stem in sources:
            layers[header] = sources[Path(header).stem]
        else:
            used = re.findall(r'^#include "(flowcomp/\w+\.h)"', public[header].read_text(encoding="utf-8"), re.M)
            places = [_place(other, public, sources, layers) for other in used if other in public]
            layers[header] = max((p for p in places if p in RUNTIME), key=RUNTIME.index, default="base")
    return layers[header]


def includes(root: Path, files: list[str]) -> tuple[list[str], int]:
    """Problems, and how many include lines were judged."""
    layers = layers_of(root, files)
    problems, judged = [], 0
    for name in files:
        inside = re.match(r"libflowcomp/src/(\w+)/.*\.(c|h|inc)$", name)
        public = re.match(HEADERS + r"/[^/]+\.h$", name)
        if not inside and not public:
            continue
        own = inside[1] if inside else layers["flowcomp/" + Path(name).name]
        if own not in MAY_USE:
            problems.append(f"{name}: '{own}' is no layer")
            continue
        text = (root / name).read_text(encoding="utf-8")
        for form, target in re.findall(r'^\s*#\s*include\s+([<"])([^>"]+)[>"]', text, re.M):
            judged += 1
            problems += _judge(name, own, bool(public), form, target, layers)
    return problems, judged


def _judge(name: str, own: str, public: bool, form: str, target: str, layers: dict[str, str]) -> list[str]:
    if form == "<":
        allowed = not public or target in PUBLIC_HEADERS_INCLUDE
        return [] if allowed else [f"{name}: a public header includes only <stddef.h> and <stdint.h>, not <{target}>"]
    if public and not target.startswith("flowcomp/"):
        return [f'{name}: a public header includes "{target}", which is not installed']
    layer = layers.get(target if target.startswith("flowcomp/") else Path(target).name)
    if layer is None:
        return [f'{name}: "{target}" is not in the tree']
    if layer not in MAY_USE[own]:
        return [f'{name}: {own} may not use "{target}", which lies in {layer}']
    return []


def judge(root: Path) -> int:
    files = files_of(root)
    problems, judged = includes(root, files)
    problems = top_level(files) + unique_names(files) + short_files(root, files) + problems
    if judged == 0:
        problems.append("no include line was found under libflowcomp: nothing was judged")
    for problem in problems:
        print(problem)
    print(f"{len(files)} files, {judged} includes, {len(problems)} problems")
    return 1 if problems else 0


def self_test() -> int:
    """Each rule must find its own breach in a tree that breaks them all."""
    bad = {
        "notes.txt": "",
        "libflowcomp/src/base/low.c": '#include "high.h"\n#include "gone.h"\n',
        "libflowcomp/src/batch/high.h": "",
        "libflowcomp/src/batch/fit.c": '#include "flowcomp/analysis.h"\n',
        "libflowcomp/src/meter/twice.h": "\n" * (LONGEST + 1),
        "libflowcomp/src/custody/twice.h": "",
        "libflowcomp/src/attic/old.c": '#include "twice.h"\n',
        f"{HEADERS}/analysis.h": "#include <stdio.h>\n",
    }
    expected = ["notes.txt", "may not use \"high.h\"", "\"gone.h\" is not in the tree", "lies in analysis",
                f"{LONGEST + 1} lines", "several files", "'attic' is no layer", "not <stdio.h>"]
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        for name, text in bad.items():
            (root / name).parent.mkdir(parents=True, exist_ok=True)
            (root / name).write_text(text, encoding="utf-8")
        files = files_of(root)
        found = top_level(files) + unique_names(files) + short_files(root, files) + includes(root, files)[0]
        blind = includes(root, ["notes.txt"])[1]
    missed = [rule for rule in expected if not any(rule in problem for problem in found)]
    for rule in missed:
        print(f"self-test: no problem reported for: {rule}")
    if len(found) != len(expected) or blind != 0:
        print(f"self-test: {len(found)} problems found, {len(expected)} planted")
        missed.append("count")
    print(f"self-test: {len(expected)} breaches planted, {len(expected) - len(missed)} found")
    return 1 if missed else 0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--self-test", action="store_true", help="check that each rule can fail")
    return self_test() if parser.parse_args().self_test else judge(ROOT)


if __name__ == "__main__":
    sys.exit(main())
