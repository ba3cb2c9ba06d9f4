# SPDX-License-Identifier: Apache-2.0
"""What a restatement writes: the same whatever the blocks and files, complete or not at all, in bounded memory."""

from __future__ import annotations

import contextlib
import os
import random
import resource
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from long_history import write_history
from small_site import SmallSite, hours
from test_depot import METERS, depot, good, restate

PEAK_LIMIT_MB = 400
TELL = "import atexit, sys; atexit.register(lambda: sys.stderr.write(open('/proc/self/status').read())); "
TELLING_COMMAND = [sys.executable, "-c", TELL + "from flowcomp.cli import main; main()"]
COMMAND = [sys.executable, "-c", "from flowcomp.cli import main; main()"]
NAMES = ("rows_EX-50.csv", "events_EX-50.csv", "months.csv", "months.svg", "months.png", "k.svg", "k.png",
         "restatement.json")


@pytest.fixture
def site(tmp_path: Path) -> SmallSite:
    return SmallSite(tmp_path)


# --- any cutting gives the same ---------------------------------------------------------------------------------------

@pytest.mark.parametrize("meter", METERS)
@pytest.mark.parametrize("block_kib", [3, 17, 100])
def test_any_block_size_gives_the_same_bytes(meter: str, block_kib: int, tmp_path: Path) -> None:
    whole = good(meter).folder
    restate(meter, tmp_path / "out", **{"block-kib": block_kib})
    for path in sorted(whole.iterdir()):
        assert (tmp_path / "out" / path.name).read_bytes() == path.read_bytes(), path.name


@pytest.mark.parametrize("meter", METERS)
def test_any_split_into_files_gives_the_same(meter: str, tmp_path: Path) -> None:
    """Eleven files of random length, named in random order: the same months, and the same rows but for line numbers."""
    fuel, highest_hz = METERS[meter]
    lines = (depot() / f"readings_{fuel}.csv").read_text(encoding="utf-8").splitlines(keepends=True)
    header, rows = next(line for line in lines if line.startswith("time")), [
        line for line in lines if line[:2] == "20"]
    draw = random.Random(11)
    cuts = [0, *sorted(draw.sample(range(1, len(rows)), 10)), len(rows)]
    paths = []
    for number, (start, stop) in enumerate(zip(cuts, cuts[1:], strict=False)):
        paths.append(tmp_path / f"{draw.random():.6f}_{number}.csv")
        paths[-1].write_text(header + "".join(rows[start:stop]), encoding="utf-8")
    draw.shuffle(paths)
    site = SmallSite(tmp_path)
    result = site.restate(*paths, meter=depot() / f"{fuel}.json", liquids=depot() / "liquids.csv",
                          batches=depot() / "batches.csv", highest_hz=highest_hz, counter_modulus=2**32)
    assert result.exit_code == 0, result.output
    whole = good(meter).folder
    assert (site.out / "months.csv").read_bytes() == (whole / "months.csv").read_bytes()

    def without_lines(path: Path) -> list[list[str]]:
        return [[cell for place, cell in enumerate(line.split(",")) if place != 2]
                for line in path.read_text(encoding="utf-8").splitlines()]

    assert without_lines(site.out / f"rows_{meter}.csv") == without_lines(whole / f"rows_{meter}.csv")


def test_meters_mixed_in_one_file(site: SmallSite) -> None:
    """Two meters row by row: each comes out as if it stood alone."""
    second = site.folder / "second.json"
    import flowcomp as fc
    first = fc.Meter.load(site.folder / "meter.json")
    fc.Meter("EX-51", first.body, first.curve).save(second)
    stamps, header = hours(40), "time,pulses,t_degc,p_kpag,meter"
    counts = [300000 + 7919 * (number % 13) for number in range(40)]
    rows = {tag: [f"{stamp},{count + shift},20,250,{tag}" for stamp, count in zip(stamps, counts, strict=True)]
            for tag, shift in (("EX-50", 0), ("EX-51", 11))}
    batches = "start,meter,liquid,rho_base_kgm3\n" + "".join(
        f"2025-01-01T00:00:00+01:00,{tag},gas_oil,840\n" for tag in rows)
    (site.folder / "batches.csv").write_text(batches, encoding="utf-8")
    mixed = site.readings(*(row for pair in zip(*rows.values(), strict=True) for row in pair), header=header)
    options = site.options(out=site.folder / "both", block_kib=1)
    both = subprocess.run([*COMMAND, "restate", str(mixed), *options, "--meter", str(second)], check=True,
                          capture_output=True, text=True)
    assert "EX-51: pulse balance" in both.stdout
    for tag, path in (("EX-50", site.folder / "meter.json"), ("EX-51", second)):
        site.readings(*rows[tag], header=header, name=f"{tag}.csv")
        assert site.restate(site.folder / f"{tag}.csv", meter=path, out=site.folder / tag).exit_code == 0
        alone = (site.folder / tag / f"rows_{tag}.csv").read_text(encoding="utf-8").splitlines()
        together = (site.folder / "both" / f"rows_{tag}.csv").read_text(encoding="utf-8").splitlines()
        assert [line.split(",")[3:] for line in together] == [line.split(",")[3:] for line in alone]


# --- all or nothing ---------------------------------------------------------------------------------------------------

def test_results_are_not_overwritten_unasked(site: SmallSite) -> None:
    site.pulses(400000, 400000)
    assert site.restate().exit_code == 0
    assert sorted(path.name for path in site.out.iterdir()) == sorted(NAMES)
    before = {name: (site.out / name).read_bytes() for name in NAMES}
    site.pulses(400000, 500000)
    result = site.restate()
    assert result.exit_code == 2 and "--overwrite" in result.output
    assert {name: (site.out / name).read_bytes() for name in NAMES} == before
    assert site.restate(overwrite=True).exit_code == 0
    assert (site.out / "months.csv").read_bytes() != before["months.csv"]


def test_a_mistake_late_in_the_file_leaves_nothing(site: SmallSite) -> None:
    site.readings(*(f"{stamp},400000,20,250" for stamp in hours(5000)), "then,400000,20,250")
    result = site.restate(block_kib=4)
    assert result.exit_code == 2 and "line 5002" in result.output and "Nothing was written" in result.output
    assert not site.out.exists()


def test_a_mistake_leaves_earlier_results(site: SmallSite) -> None:
    site.pulses(400000)
    assert site.restate().exit_code == 0
    before = {name: (site.out / name).read_bytes() for name in NAMES}
    site.readings("then,400000,20,250")
    assert site.restate(overwrite=True).exit_code == 2
    assert {path.name: path.read_bytes() for path in site.out.iterdir()} == before


def start_long_run(site: SmallSite, rows: int, command: Sequence[str] = COMMAND, **options: object
                   ) -> subprocess.Popen[str]:
    """A restatement in a process of its own; one batch holds the whole history."""
    path = site.folder / "long.csv"
    write_history(path, rows)
    arguments = site.options(interval=1, above="hold_end", **options)
    return subprocess.Popen([*command, "restate", str(path), *arguments], stdout=subprocess.PIPE,
                            stderr=subprocess.PIPE, text=True)


@pytest.mark.parametrize(("number", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_interrupt_leaves_nothing(site: SmallSite, number: int, code: int) -> None:
    process = start_long_run(site, 1_500_000)
    deadline = time.monotonic() + 60
    while not any(path.stat().st_size > 1_000_000 for path in site.out.glob("rows*.part")):
        assert process.poll() is None and time.monotonic() < deadline, process.communicate()
        time.sleep(0.02)
    process.send_signal(number)
    _, errors = process.communicate(timeout=60)
    assert process.returncode == code, errors
    assert "Traceback" not in errors
    assert not site.out.exists()
    if number == signal.SIGINT:
        assert "interrupted" in errors and "Nothing was written" in errors


def test_a_file_that_may_not_grow(site: SmallSite) -> None:
    """A limit on the size of files stands for a full disk where none can be made."""
    path = site.folder / "long.csv"
    write_history(path, 60_000)
    process = subprocess.run([*COMMAND, "restate", str(path), *site.options(interval=1, above="hold_end")],
                             capture_output=True, text=True,
                             preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (3_000_000, 3_000_000)))
    assert process.returncode == 3, process.stderr
    assert "Traceback" not in process.stderr and "Nothing was written" in process.stderr
    assert not site.out.exists()


@contextlib.contextmanager
def small_disk(folder: Path) -> Iterator[None]:
    """A file system of 2 MB, where this user may mount one."""
    folder.mkdir()
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(folder)], capture_output=True,
                             text=True, check=False)
    if mounted.returncode:
        pytest.skip(f"no small file system can be mounted here: {mounted.stderr.strip()}")
    try:
        yield
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def test_full_disk(site: SmallSite) -> None:
    with small_disk(site.folder / "disk"):
        path = site.folder / "long.csv"
        write_history(path, 60_000)
        out = site.folder / "disk" / "out"
        process = subprocess.run([*COMMAND, "restate", str(path), *site.options(interval=1, above="hold_end", out=out)],
                                 capture_output=True, text=True, check=False)
        assert process.returncode == 3, process.stderr
        assert "the disk is full" in process.stderr and "Nothing was written" in process.stderr
        assert "Traceback" not in process.stderr
        assert not list((site.folder / "disk").rglob("*"))


def test_folder_without_permission(site: SmallSite) -> None:
    if os.geteuid() == 0:
        pytest.skip("root may write anywhere")
    site.pulses(400000)
    (site.folder / "locked").mkdir(mode=0o500)
    result = site.restate(out=site.folder / "locked" / "out")
    assert result.exit_code == 3 and "no permission" in result.output


def test_report_into_a_closed_pipe(site: SmallSite) -> None:
    path = site.pulses(*([400000] * 24))
    process = subprocess.Popen([*COMMAND, "restate", str(path), *site.options()], stdout=subprocess.PIPE,
                               stderr=subprocess.PIPE, text=True)
    assert process.stdout is not None and process.stderr is not None
    process.stdout.close()
    assert "Traceback" not in process.stderr.read()
    process.wait(timeout=60)
    assert (site.out / "restatement.json").exists()


# --- memory -----------------------------------------------------------------------------------------------------------

def peak_mb(site: SmallSite, rows: int, kind: str) -> float:
    """Largest memory of a restatement, MB: the process says it itself, as the kernel's figure for a child begins with
    that of its parent."""
    report, errors = start_long_run(site, rows, command=TELLING_COMMAND, format=kind).communicate()
    assert f"{rows:,}".replace(",", " ") in report, errors
    return int(errors.split("VmHWM:")[1].split()[0]) / 1024


@pytest.mark.parametrize("kind", ["csv", "parquet"])
def test_memory_of_two_million_rows(site: SmallSite, kind: str) -> None:
    peak = peak_mb(site, 2_000_000, kind)
    print(f"peak memory: {peak:.0f} MB")
    assert peak < PEAK_LIMIT_MB


@pytest.mark.skipif("FLOWCOMP_SLOW" not in os.environ, reason="takes minutes and 8 GB of disk: set FLOWCOMP_SLOW=1")
def test_memory_of_twenty_million_rows(site: SmallSite) -> None:
    peak = peak_mb(site, 20_000_000, "csv")
    print(f"peak memory: {peak:.0f} MB")
    assert peak < PEAK_LIMIT_MB
