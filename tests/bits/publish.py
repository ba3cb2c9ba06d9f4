#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The published hash of the contract of bits: compare it with what this tree gives, or publish a new one.

    publish.py --check                            say what differs; exit status 1 where anything does
    publish.py                                    publish: nothing that was there may have changed
    publish.py --identifier FLC-BITS-2 --why TEXT publish changed results, under a new identifier
    publish.py --amend [--why TEXT]               replace the last line, while it stands in no release

Builds tests/bits/bits_hash (FLOWCOMP_BUILD, or build/ beside the README, names the build folder), and keeps three
things together: identifier and hash in version.h, the hash of each part in tests/bits/parts.tsv, and the page
tests/bits/CHANGES.md.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import re
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
VERSION = ROOT / "libflowcomp" / "include" / "flowcomp" / "version.h"
PARTS, PAGE = HERE / "parts.tsv", HERE / "CHANGES.md"


def build() -> Path:
    """The program that writes the set, made by the default compiler."""
    folder = Path(os.environ.get("FLOWCOMP_BUILD", ROOT / "build")) / "bits" / "publish"
    options = ["-DCMAKE_BUILD_TYPE=Release", "-DFLOWCOMP_ANALYSIS=OFF", "-DFLOWCOMP_RECORDS=OFF", "-DFLOWCOMP_BITS=ON"]
    for command in (["cmake", "-S", str(ROOT), "-B", str(folder), *options],
                    ["cmake", "--build", str(folder), "--target", "bits_hash", "-j", str(os.cpu_count() or 1)]):
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return folder / "tests" / "bits_hash"


def hashes(program: Path) -> tuple[str, dict[str, str]]:
    """SHA-256 of the whole set, and of each part by name."""
    listed = subprocess.run([program, "list"], check=True, capture_output=True, text=True).stdout
    stream = subprocess.run([program], check=True, capture_output=True).stdout
    parts, at = {}, 0
    for line in listed.splitlines():
        name, size = line.split("\t")[:2]
        parts[name] = hashlib.sha256(stream[at:at + int(size)]).hexdigest()
        at += int(size)
    if at != len(stream) or not parts:
        sys.exit("bits_hash: the parts do not make up the set")
    return hashlib.sha256(stream).hexdigest(), parts


def published() -> tuple[str, str, dict[str, str]]:
    """Identifier, hash and parts as they stand in the tree."""
    text = VERSION.read_text(encoding="utf-8")
    identifier, total = (re.search(rf'#define FLC_BITS_{name} "([^"]+)"', text)[1] for name in ("CONTRACT", "HASH"))
    lines = PARTS.read_text(encoding="utf-8").splitlines() if PARTS.exists() else []
    return identifier, total, dict(line.split("\t") for line in lines)


def differences(old: dict[str, str], new: dict[str, str]) -> tuple[list[str], list[str]]:
    """Parts that changed or are gone, and parts that are new."""
    return ([name for name in old if new.get(name) != old[name]], [name for name in new if name not in old])


def listed(names: list[str]) -> str:
    shown = ", ".join(f"`{name}`" for name in names[:12])
    return shown + (f" and {len(names) - 12} more" if len(names) > 12 else "")


def what_changed(changed: list[str], added: list[str], first: bool) -> str:
    if first:
        return "the first set"
    kinds = (("changed", changed), ("added", added))
    return "; ".join(f"{kind}: {listed(names)}" for kind, names in kinds if names) or "nothing"


def write(identifier: str, total: str, parts: dict[str, str], line: str, amend: bool) -> None:
    text = VERSION.read_text(encoding="utf-8")
    text = re.sub(r'(#define FLC_BITS_CONTRACT )"[^"]+"', rf'\1"{identifier}"', text)
    VERSION.write_text(re.sub(r'(#define FLC_BITS_HASH )"[^"]+"', rf'\1"{total}"', text), encoding="utf-8")
    PARTS.write_text("".join(f"{name}\t{part}\n" for name, part in parts.items()), encoding="utf-8")
    page = PAGE.read_text(encoding="utf-8").rstrip("\n").split("\n")
    PAGE.write_text("\n".join((page[:-1] if amend else page) + [line]) + "\n", encoding="utf-8")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true")
    parser.add_argument("--amend", action="store_true")
    parser.add_argument("--identifier")
    parser.add_argument("--why", default="")
    options = parser.parse_args()
    identifier, old_total, old = published()
    total, new = hashes(build())
    changed, added = differences(old, new)
    if total == old_total and not changed and not added:
        print(f"{identifier} {total}: {len(new)} parts as published")
        return 0
    print(f"published {identifier} {old_total}\nthis tree {total}\n{what_changed(changed, added, not old)}")
    if options.check:
        return 1
    if changed and not options.amend and (options.identifier in (None, identifier) or not options.why):
        print("Results that were published have changed: take a new identifier and say why "
              "(--identifier FLC-BITS-n --why TEXT).")
        return 1
    last = PAGE.read_text(encoding="utf-8").rstrip("\n").split("\n")[-1].split("|")
    what, why = what_changed(changed, added, not old), options.why
    if options.amend and len(last) > 6:
        what, why = last[4].strip(), why or last[5].strip()
    line = f"| {options.identifier or identifier} | {total} | {len(new)} | {what} | {why or 'new methods'} |"
    write(options.identifier or identifier, total, new, line, options.amend)
    print(line)
    return 0


if __name__ == "__main__":
    sys.exit(main())
