#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The hash of the contract's set over compilers, levels, instruction sets, processors, threads, chunks, host states and
bindings; all must be the published one. Called by tests/bits/run.sh, which installs what this needs.

    matrix.py BUILD [--quick] [--processors x86-64,aarch64,s390x] [--python PYTHON] [--table FILE]

Prints every combination with its hash, writes BUILD/bits.json, and exits with 1 where a hash differs or nothing ran.
"""

from __future__ import annotations

import argparse
import datetime
import hashlib
import json
import os
import platform
import re
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
VERSION = (ROOT / "libflowcomp" / "include" / "flowcomp" / "version.h").read_text(encoding="utf-8")
CONTRACT, PUBLISHED = (re.search(rf'#define FLC_BITS_{name} "([^"]+)"', VERSION)[1] for name in ("CONTRACT", "HASH"))
HERE = platform.machine().replace("_", "-")  # x86-64
LEVELS = ("-O0", "-O2", "-O3", "LTO")
CHUNKS = (1, 63, 64, 65, 100_000)
THREADS = (1, 2, 7)
SOME = {(1, 1), (2, 63), (7, 64), (1, 65), (2, 100_000)}  # of threads and chunks, each of them once
STATES = ("rounding=up", "rounding=down", "rounding=zero", "traps=1", "flush=1", "rounding=up traps=1 flush=1")
ISAS = {"x86-64": ("base", "avx2", "avx512")}
NO_STATE = {"aarch64": "no traps for floating point in the emulated processor", "s390x": "no flush to zero there"}


@dataclass(frozen=True)
class Build:
    """One compilation of the library with bits_hash, as CMake builds it for anybody."""

    compiler: str
    level: str
    arch: str

    def folder(self, build: Path) -> Path:
        return build / f"{self.compiler}{self.level if self.level != 'LTO' else '-lto'}-{self.arch}"

    def options(self) -> list[str]:
        flags = self.level if self.level != "LTO" else "-O2"
        config = "Debug" if self.level == "-O0" else "Release"
        options = [f"-DCMAKE_BUILD_TYPE={config}", f"-DCMAKE_C_FLAGS_{config.upper()}={flags}",
                   "-DFLOWCOMP_ANALYSIS=OFF", "-DFLOWCOMP_RECORDS=OFF", "-DFLOWCOMP_BITS=ON",
                   "-DCMAKE_COMPILE_WARNING_AS_ERROR=ON"]
        linker = []
        if self.level == "LTO":
            options.append("-DCMAKE_INTERPROCEDURAL_OPTIMIZATION=ON")
            linker += ["-fuse-ld=lld"] if self.compiler == "clang" else []
        compiler = self.compiler
        if self.arch != HERE:
            linker.append("-static")
            options += ["-DCMAKE_SYSTEM_NAME=Linux", f"-DCMAKE_SYSTEM_PROCESSOR={self.arch}"]
            if compiler == "clang":
                options.append(f"-DCMAKE_C_COMPILER_TARGET={self.arch}-linux-gnu")
            else:
                compiler = f"{self.arch}-linux-gnu-gcc"
        shared = [flag for flag in linker if flag != "-static"]
        return [*options, f"-DCMAKE_C_COMPILER={compiler}", f"-DCMAKE_EXE_LINKER_FLAGS={' '.join(linker)}",
                f"-DCMAKE_SHARED_LINKER_FLAGS={' '.join(shared)}"]

    def why_not(self) -> str:
        """Why this cannot be built here; empty where it can."""
        if self.compiler == "clang" and self.arch == "s390x" and self.level == "LTO":
            return "lld links no s390x"
        return ""

    def make(self, build: Path, jobs: int) -> Path:
        folder = self.folder(build)
        for command in (["cmake", "-S", str(ROOT), "-B", str(folder), "-G", "Ninja", *self.options()],
                        ["cmake", "--build", str(folder), "-j", str(jobs)]):
            done = subprocess.run(command, capture_output=True, text=True)
            if done.returncode:
                sys.exit(f"{self}:\n{done.stdout[-4000:]}{done.stderr[-4000:]}")
        return folder / "tests" / "bits_hash"


@dataclass(frozen=True)
class Combination:
    """One way of evaluating the set, and what came out."""

    compiler: str
    level: str
    isa: str
    arch: str
    binding: str = "C"
    threads: int = 1
    chunk: int = 0  # 0: one call per point or record
    offset: int = 0  # bytes past a multiple of 64
    state: str = ""
    hash: str = ""
    run: bool = True
    why: str = ""

    @property
    def good(self) -> bool:
        return not self.run or self.hash == PUBLISHED

    def describe(self) -> str:
        chunk = {0: "one by one", 100_000: "all"}.get(self.chunk, f"chunk {self.chunk}")
        extra = f"{self.state}{f' offset {self.offset}' if self.offset else ''}"
        what = (f"{self.arch:<8} {self.compiler:<6} {self.level:<4} {self.binding:<13} {self.isa:<7} "
                f"{self.threads} thr. {chunk:<11} {extra:<29}")
        return f"{what} {self.hash if self.run else f'not run: {self.why}'}{'' if self.good else '  DIFFERENT'}"


# --- what is asked for ------------------------------------------------------------------------------------------------

def builds(quick: bool) -> list[Build]:
    if quick:
        return [Build("gcc", "-O3", HERE), Build("clang", "-O2", HERE), Build("gcc", "-O2", "aarch64")]
    return [Build(compiler, level, arch) for arch in (HERE, "aarch64", "s390x") for compiler in ("gcc", "clang")
            for level in LEVELS]


def grid(c: Combination, pairs: set[tuple[int, int]] | None, where: str) -> Iterator[Combination]:
    """Every thread count with every chunk; those that are not among the pairs are listed as not run."""
    for threads in THREADS:
        for chunk in CHUNKS:
            ran = pairs is None or (threads, chunk) in pairs
            yield replace(c, threads=threads, chunk=chunk, run=ran,
                          why="" if ran else f"{where} it takes long: some pairs of threads and chunks only")


def native(build: Build, quick: bool) -> Iterator[Combination]:
    """Every instruction set, thread count and chunk; alignments and host states in two builds."""
    first = Combination(build.compiler, build.level, "scalar", build.arch)
    isas = ISAS.get(build.arch, ("base",))
    if quick:
        yield first
        pairs = [(1, 64), (2, 65), (7, 100_000), (1, 63), (2, 1)]
        for isa in isas if build.compiler == "gcc" else isas[-2:]:
            yield from (replace(first, isa=isa, threads=threads, chunk=chunk)
                        for threads, chunk in (pairs if isa == isas[0] else pairs[:2]))
            yield replace(first, isa=isa, chunk=64, state=STATES[-1], offset=24)
        return
    yield from (replace(first, threads=threads) for threads in THREADS)
    for isa in isas:
        yield from grid(replace(first, isa=isa), SOME if build.level == "-O0" else None, "without optimisation")
    if build.level in ("-O3", "LTO"):
        for isa in ("scalar", *isas):
            chunk = 0 if isa == "scalar" else 64
            yield from (replace(first, isa=isa, chunk=chunk, state=state) for state in STATES)
            yield from (replace(first, isa=isa, chunk=chunk, offset=8 * offset) for offset in range(1, 8))


def emulated(build: Build, quick: bool) -> Iterator[Combination]:
    """An emulator takes twenty times as long: with -O2 each thread count and chunk is run, otherwise one pair; the other
    pairs are listed."""
    first = Combination(build.compiler, build.level, "scalar", build.arch)
    if quick:
        yield first
        yield replace(first, isa="base", threads=2, chunk=65)
        return
    yield first
    yield from grid(replace(first, isa="base"), SOME if build.level == "-O2" else {(7, 65)}, "under an emulator")
    if build == Build("gcc", "-O2", build.arch):
        yield from (replace(first, isa="base", chunk=64, state=state) for state in STATES)
        yield replace(first, isa="base", chunk=65, offset=24)


def from_python(quick: bool) -> Iterator[Combination]:
    """The installed package: the hash by its library, and by array calls."""
    package = Combination("gcc", "-O3", "best", HERE, "Python")
    for isa in ("best",) if quick else ("scalar", *ISAS.get(HERE, ("base",))):
        yield from (replace(package, isa=isa, chunk=chunk) for chunk in ((64,) if quick else (0, *CHUNKS)))
    arrays = replace(package, binding="Python arrays")
    for threads in (2,) if quick else THREADS:
        yield from (replace(arrays, threads=threads, chunk=chunk) for chunk in ((65,) if quick else CHUNKS))


# --- running ----------------------------------------------------------------------------------------------------------

def run_program(program: Path, c: Combination) -> Combination:
    if not c.run:
        return c
    command = [str(program), f"isa={c.isa}", f"threads={c.threads}", f"chunk={c.chunk}", f"offset={c.offset // 8}"]
    command += c.state.split()
    if c.arch != HERE:
        command.insert(0, f"qemu-{c.arch}")
    done = subprocess.run(command, capture_output=True)
    if done.returncode == 3:
        why = NO_STATE.get(c.arch, "") if c.state else "the processor has not these instructions"
        return replace(c, run=False, why=why or "the processor has not this state")
    if done.returncode:
        return replace(c, hash=f"failed: {done.stderr.decode(errors='replace').strip()[:200]}")
    return replace(c, hash=hashlib.sha256(done.stdout).hexdigest())


def run_python(python: str, c: Combination) -> Combination:
    call = (f"contract_hash({c.isa!r}, {c.chunk})" if c.binding == "Python"
            else f"contract_hash_by_arrays({c.chunk}, {c.threads})")
    done = subprocess.run([python, "-c", f"from flowcomp import bits_contract as b\nprint(b.{call})"],
                          capture_output=True, text=True)
    return replace(c, hash=done.stdout.strip() if done.returncode == 0 else f"failed: {done.stderr.strip()[-200:]}")


def everything(options: argparse.Namespace, pool: ThreadPoolExecutor) -> Iterator[Combination]:
    for build in builds(options.quick):
        if build.arch not in options.processors.split(","):
            continue
        asked = list((native if build.arch == HERE else emulated)(build, options.quick))
        if why := build.why_not():
            yield from (replace(c, run=False, why=why) for c in asked)
            continue
        program = build.make(options.build, options.jobs)
        yield from pool.map(lambda c: run_program(program, c), asked)
    if options.python:
        yield from pool.map(lambda c: run_python(options.python, c), from_python(options.quick))


# --- the report -------------------------------------------------------------------------------------------------------

def compilers() -> list[str]:
    versions = []
    for command in ("gcc", "clang", "aarch64-linux-gnu-gcc", "s390x-linux-gnu-gcc", "qemu-aarch64"):
        try:
            done = subprocess.run([command, "--version"], capture_output=True, text=True, check=True)
        except FileNotFoundError:
            continue
        versions.append(done.stdout.splitlines()[0])
    return versions


def table(combinations: list[Combination]) -> str:
    """One row per processor, compiler, level, binding and instruction set."""
    groups: dict[tuple[str, ...], list[Combination]] = {}
    for c in combinations:
        groups.setdefault((c.arch, c.compiler, c.level, c.binding, c.isa), []).append(c)
    cpu = re.search(r"model name\s*: (.*)", Path("/proc/cpuinfo").read_text(encoding="utf-8"))
    lines = ["# The same bits", "", f"{CONTRACT}: `{PUBLISHED}`", "",
             f"Run on {datetime.date.today()}, processor {cpu[1].strip() if cpu else HERE}; aarch64 and s390x are emulated. "
             f"{'; '.join(compilers())}.", "",
             "| processor | compiler | level | binding | instructions | threads | chunks | states, offsets | run | equal | "
             "not run |", "|---|---|---|---|---|---|---|---|---|---|---|"]
    for key, group in groups.items():
        ran = [c for c in group if c.run]
        threads = ", ".join(str(t) for t in sorted({c.threads for c in ran}))
        chunks = ", ".join({0: "one by one", 100_000: "all"}.get(k, str(k)) for k in sorted({c.chunk for c in ran}))
        extras = len({c.state for c in ran if c.state}), len({c.offset for c in ran if c.offset})
        why = "; ".join(sorted({c.why for c in group if not c.run}))
        lines.append(f"| {' | '.join(key)} | {threads} | {chunks} | {extras[0]} states, {extras[1]} offsets | {len(ran)} | "
                     f"{sum(c.good for c in ran)} | {len(group) - len(ran)}{f': {why}' if why else ''} |")
    return "\n".join(lines) + "\n"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("build", type=Path)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--processors", default=f"{HERE},aarch64,s390x")
    parser.add_argument("--python")
    parser.add_argument("--table", type=Path)
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    options = parser.parse_args()
    combinations = []
    with ThreadPoolExecutor(options.jobs) as pool:
        for combination in everything(options, pool):
            print(combination.describe(), flush=True)
            combinations.append(combination)
    listed = [{name: value for name, value in vars(c).items()} for c in combinations]
    (options.build / "bits.json").write_text(json.dumps({"contract": CONTRACT, "hash": PUBLISHED,
                                                         "combinations": listed}, indent=1) + "\n", encoding="utf-8")
    if options.table:
        options.table.write_text(table(combinations), encoding="utf-8")
    ran = [c for c in combinations if c.run]
    different = [c for c in ran if not c.good]
    print(f"{len(ran)} combinations run, {len(ran) - len(different)} with the published hash, {len(different)} without, "
          f"{len(combinations) - len(ran)} not run")
    return 1 if different or not ran else 0


if __name__ == "__main__":
    sys.exit(main())
