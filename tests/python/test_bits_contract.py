# SPDX-License-Identifier: Apache-2.0
"""The contract of bits from Python: the published hash by every way, any alignment of arrays, and the reference that
was written from the contract alone (tests/support/bits_reference.py)."""

from __future__ import annotations

import math
import struct
import sys
from functools import partial
from pathlib import Path

import flowcomp as fc
import numpy as np
import pytest
from flowcomp import _flowcomp as raw
from flowcomp import bits_contract, selfcheck

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
import bits_reference  # noqa: E402

PLAIN = raw.flc_method_count()  # place of the plain whole records in the set
FIELDS = ("d_m", "b_ratio", "ro", "re", "st", "k_per_m3", "q_m3s", "ctl", "cpl", "q_base_m3s", "slope", "dlnq_dlnf")


def bits(value: float) -> int:
    return struct.unpack("<Q", struct.pack("<d", value))[0]


@pytest.fixture(scope="module")
def plain() -> tuple[fc.Meter, fc.Liquid]:
    """Meter and liquid of the plain whole records."""
    meter, liquid = fc.Meter.__new__(fc.Meter), fc.Liquid.__new__(fc.Liquid)
    raw_meter, raw_liquid = raw.flc_bits_objects(PLAIN)
    meter._set(raw_meter)
    liquid._set(raw_liquid)
    return meter, liquid


def written() -> dict[str, object]:
    """The invented meter as the contract writes it (DEVELOPERS.md); the hoop strain by Lamé with closed ends."""
    inner, outer = 0.0254, 0.0254 + 2.0 * 0.005
    ring = 193.0 * 1e6 * (outer - inner) * (outer + inner)
    strain = ((1.0 - 2.0 * 0.29) * (inner * inner) + (1.0 + 0.29) * (outer * outer)) / ring
    knots, st = [8.0, 9.0, 10.5, 12.0, 13.5], [3.125, 3.375, 3.421875, 3.40625, 3.4]
    slope, cubics = [0.375, 0.125, -0.0078125, -0.00390625, 0.001], []
    for i in range(4):
        w = knots[i + 1] - knots[i]
        rise, g, h = (st[i + 1] - st[i]) / w, slope[i], slope[i + 1]
        cubics.append((st[i], g, (3.0 * rise - 2.0 * g - h) / w, (g + h - 2.0 * rise) / (w * w)))
    return {"d0": 0.0254, "t0": 20.0, "p0": 100.0, "housing": 15.9e-6, "rotor": 10.4e-6, "strain_per_kpa": strain,
            "blocked": 0.22, "knots": knots, "cubics": cubics}


# --- the hash ---------------------------------------------------------------------------------------------------------

@pytest.mark.parametrize("chunk", [0, 65])
def test_hash_by_the_library(chunk: int) -> None:
    assert bits_contract.contract_hash(chunk=chunk) == bits_contract.published_hash()


@pytest.mark.parametrize("chunk, threads", [(65_536, 1), (64, 7)])
def test_hash_by_arrays(chunk: int, threads: int) -> None:
    assert bits_contract.contract_hash_by_arrays(chunk, threads) == bits_contract.published_hash()


def test_identifier_and_hash_stand_on_the_page() -> None:
    page = (Path(__file__).resolve().parents[1] / "bits" / "CHANGES.md").read_text(encoding="utf-8")
    last = page.rstrip("\n").split("\n")[-1].split("|")
    assert [cell.strip() for cell in last[1:3]] == [bits_contract.identifier(), bits_contract.published_hash()]


def test_selfcheck_tells_a_contract_that_is_not_kept() -> None:
    bits_kept = selfcheck.Bits("FLC-BITS-1", "00", "00")
    bits_broken = selfcheck.Bits("FLC-BITS-1", "00", "01")
    check = selfcheck.Check("ctl", 1)
    assert selfcheck.Report([check], [], bits=bits_kept).passed
    report = selfcheck.Report([check], [], bits=bits_broken)
    assert report.exit_status == 1 and "DIFFERENT from the published 01" in report.lines()[-2]


# --- the reference ----------------------------------------------------------------------------------------------------

def test_reference_is_short_and_needs_no_libm() -> None:
    text = Path(bits_reference.__file__).read_text(encoding="utf-8")
    assert "import math" not in text and "numpy" not in text and "flowcomp" not in text
    assert len([line for line in text.splitlines() if line.strip()]) <= 70


def compare(results: fc.Results, fields: tuple[str, ...], records: list[tuple[float, ...]]) -> int:
    """How many records the reference gives bit for bit: (pulses, seconds, t, p, density, viscosity) each."""
    numbers = written()
    compared = 0
    for place, values in enumerate(records):
        if math.isnan(results.q_base_m3s[place]):
            continue
        expected = bits_reference.record(numbers, *values)
        wrong = [name for name in fields if bits(expected[name]) != bits(float(results[name][place]))]
        assert not wrong, (values, {name: (expected[name], float(results[name][place])) for name in wrong})
        compared += 1
    return compared


def test_reference_gives_the_bits_of_the_set(plain: tuple[fc.Meter, fc.Liquid]) -> None:
    """The plain records: a frequency is pulses in one second."""
    meter, liquid = plain
    columns = dict(zip(fc.READING_NAMES, bits_contract.part_arguments(PLAIN)[:, 0]))
    given = {name: columns[name] for name in ("f_hz", "t_degc", "p_kpag", "rho_base_kgm3", "nu_mm2s")}
    results = meter.evaluate(liquid, on_refused="nan", **given)
    f, *rest = (column.tolist() for column in given.values())
    assert compare(results, FIELDS, list(zip(f, [1.0] * len(f), *rest))) > 3000


def test_reference_gives_the_bits_of_windows(plain: tuple[fc.Meter, fc.Liquid]) -> None:
    """Pulses in a window, with volumes, over other draws; one record at a time and all side by side."""
    meter, liquid = plain
    draw = np.random.default_rng(20)
    given = {"pulses": draw.integers(1_000, 24_000, 2_000).astype(float), "duration_s": np.full(2_000, 60.0),
             "t_degc": draw.uniform(-40.0, 140.0, 2_000), "p_kpag": draw.uniform(0.0, 10_000.0, 2_000),
             "rho_base_kgm3": draw.uniform(620.0, 1160.0, 2_000), "nu_mm2s": draw.uniform(0.4, 20.0, 2_000)}
    results = meter.evaluate(liquid, on_refused="nan", **given)
    records = list(zip(*(column.tolist() for column in given.values())))
    assert compare(results, (*FIELDS, "f_hz", "v_m3", "v_base_m3"), records) > 1500
    for place in range(0, 2_000, 20):
        reading = {name: float(column[place]) for name, column in given.items()}
        alone = meter.evaluate(liquid, on_refused="nan", **reading)
        for name in FIELDS:
            assert bits(alone[name]) == bits(float(results[name][place]))


def test_reference_can_fail() -> None:
    """One last bit of an input moves a result."""
    numbers = written()
    here = bits_reference.record(numbers, 12_000.0, 60.0, 31.5, 420.0, 850.0, 5.0)
    there = bits_reference.record(numbers, 12_000.0, 60.0, 31.5, 420.0, 850.0, math.nextafter(5.0, 9.0))
    assert any(bits(here[name]) != bits(there[name]) for name in FIELDS)


# --- alignment of arrays ----------------------------------------------------------------------------------------------

def at_offset(array: np.ndarray, offset: int) -> np.ndarray:
    """The numbers in memory that begins so many bytes past a multiple of 64."""
    room = np.zeros(array.size * 8 + 192, dtype=np.uint8)
    start = -room.ctypes.data % 64 + offset
    moved = room[start:start + array.size * 8].view(np.float64)
    moved[:] = array
    return moved


def test_any_alignment(plain: tuple[fc.Meter, fc.Liquid]) -> None:
    """Arrays that begin at any byte, also where no double should: 0 to 63 past a multiple of 64."""
    meter, liquid = plain
    columns = dict(zip(fc.READING_NAMES, bits_contract.part_arguments(PLAIN)[:, 0, :200]))
    given = {name: columns[name] for name in ("f_hz", "t_degc", "p_kpag", "rho_base_kgm3", "nu_mm2s")}
    expected = meter.evaluate(liquid, on_refused="nan", **given)
    ctl60 = partial(fc.methods.ctl60_petroleum_2004, group="crude")
    ctl = ctl60(rho60_kgm3=given["rho_base_kgm3"], t_degf=given["t_degc"])
    for offset in range(64):
        moved = {name: at_offset(column, offset) for name, column in given.items()}
        got = meter.evaluate(liquid, on_refused="nan", **moved)
        for name in FIELDS:
            assert np.array_equal(np.asarray(got[name]).view(np.uint64), np.asarray(expected[name]).view(np.uint64))
        again = ctl60(rho60_kgm3=moved["rho_base_kgm3"], t_degf=moved["t_degc"])
        assert np.array_equal(again.view(np.uint64), ctl.view(np.uint64))
