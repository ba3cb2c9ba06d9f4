# SPDX-License-Identifier: Apache-2.0
"""The invented depot (examples/depot): restated months against a truth that was made apart from the library.

The truth, the sensor errors and the limits are those of the generator's docstring: over full-flow hours the restated
months must lie within 0.03 % of the truth, over all hours within the bound that the restatement itself states. The same
check must fail for a curve of one K, and for a viscosity that is half as large again.
"""

from __future__ import annotations

import csv
import functools
import tempfile
from collections import Counter
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import flowcomp as fc
import numpy as np
import pytest
from depot_truth import (
    Month,
    Restated,
    compare_months,
    instant,
    load_faults,
    load_truth,
    make_depot,
    read_rows,
)
from small_site import run, table

FULL_FLOW_LIMIT_PCT = 0.03
BOOKED_OFF_PCT = 0.1
BITS_32 = 4294967296
METERS = {"DN80-D": ("diesel", 310.0), "DN80-K": ("kerosene", 370.0)}  # file names, highest frequency of the site in Hz


@functools.cache
def depot() -> Path:
    """The generated year, with a meter file for each certificate; kept until the tests end."""
    holder = tempfile.TemporaryDirectory(prefix="flowcomp_depot_")
    depot.holder = holder  # type: ignore[attr-defined]
    folder = make_depot(Path(holder.name), "--parquet")
    for fuel, _ in METERS.values():
        result = run("fit", folder / f"certificate_{fuel}.csv", "--out", folder / f"{fuel}.json")
        assert result.exit_code == 0, result.output
    return folder


def restate(tag: str, out: Path, kind: str = "csv", **changed: object) -> Path:
    """Restate one meter's year."""
    fuel, highest_hz = METERS[tag]
    options: dict[str, object] = {
        "meter": depot() / f"{fuel}.json", "liquids": depot() / "liquids.csv", "batches": depot() / "batches.csv",
        "interval": 3600, "stamp": "end", "timezone": "Europe/Berlin", "counter-modulus": BITS_32,
        "highest-hz": highest_hz, "out": out} | changed
    result = run("restate", depot() / f"readings_{fuel}.{kind}",
                 *(word for name, value in options.items() for word in (f"--{name}", value)))
    assert result.exit_code == 0, result.output
    return out


@dataclass(frozen=True)
class Done:
    """A restated year: its folder, its usable rows, and the bound of each month in per cent."""

    folder: Path
    rows: list[Restated]
    bound_pct: dict[str, float]


def done(meter: str, folder: Path) -> Done:
    """Rows with a volume; the hour of a counter's reset has lost pulses and is left out."""
    rows = [Restated(instant(row["end"]), float(row["duration_s"]), float(row["v_m3"]), float(row["v_base_m3"]))
            for row in table(folder / f"rows_{meter}.csv")
            if row["status"] == "ok" and "counter_reset" not in row["flags"]]
    months = {row["month"]: row for row in table(folder / "months.csv")}
    return Done(folder, rows, {name: float(row["partial_flow_bound_pct"]) + float(row["viscosity_u_k2_pct"])
                               for name, row in months.items()})


@functools.cache
def good(meter: str) -> Done:
    """The restatement as it should be, made once."""
    return done(meter, restate(meter, depot() / f"out_{meter}"))


def full_flow_months(found: Done, meter: str) -> list[Month]:
    return compare_months(load_truth(depot(), meter), found.rows)


def worst(months: list[Month]) -> float:
    return max(max(abs(month.gross_error_pct), abs(month.base_error_pct)) for month in months)


@pytest.mark.parametrize("meter", METERS)
def test_full_flow_months_agree_with_the_truth(meter: str) -> None:
    months = full_flow_months(good(meter), meter)
    assert len(months) == 12
    assert worst(months) < FULL_FLOW_LIMIT_PCT
    for month in months:
        assert abs(month.booked_gross_error_pct) > BOOKED_OFF_PCT, month


@pytest.mark.parametrize("meter", METERS)
def test_all_hours_lie_within_the_stated_bound(meter: str) -> None:
    found = good(meter)
    months = compare_months(load_truth(depot(), meter), found.rows, full_flow=False)
    assert len(months) == 12
    for month in months:
        bound = found.bound_pct[month.month] + FULL_FLOW_LIMIT_PCT
        assert abs(month.gross_error_pct) < bound, (month, bound)
        assert abs(month.base_error_pct) < bound, (month, bound)


@pytest.mark.parametrize("meter", METERS)
def test_a_curve_of_one_k_fails(meter: str, tmp_path: Path) -> None:
    """The site's way, mean K of the first oil from 40 m3/h up, is found out."""
    fuel, _ = METERS[meter]
    fitted = fc.Meter.load(depot() / f"{fuel}.json")
    certificate = [row for row in read_certificate_rows(fuel) if float(row[1]) >= 40][:6]
    k = float(np.mean([float(row[3]) for row in certificate]))
    st = np.pi / 4 * k * fitted.body.bore_m**3
    ends = [fitted.curve.ln_ro[0], fitted.curve.ln_ro[-1]]
    flat = fc.Curve.from_knots(convention="raw", treatment="as_run", d0_m=fitted.body.bore_m,
                               t0_degc=fitted.body.t0_degc, p0_kpag=fitted.body.p0_kpag, ln_ro=ends, st=[st, st],
                               coefficients=[[st, 0.0, 0.0, 0.0]])
    fc.Meter(meter, fitted.body, flat).save(tmp_path / "flat.json")
    found = done(meter, restate(meter, tmp_path / "out", meter=tmp_path / "flat.json"))
    assert worst(full_flow_months(found, meter)) > 3 * FULL_FLOW_LIMIT_PCT


def read_certificate_rows(fuel: str) -> list[list[str]]:
    lines = (depot() / f"certificate_{fuel}.csv").read_text(encoding="utf-8").splitlines()
    return [line.split(",") for line in lines if line[:1].isdigit()]


@pytest.mark.parametrize("meter", METERS)
def test_a_wrong_viscosity_fails(meter: str, tmp_path: Path) -> None:
    rows = read_rows(depot() / "liquids.csv")
    with (tmp_path / "liquids.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0])
        writer.writeheader()
        writer.writerows(row | {"nu_mm2s": f"{1.5 * float(row['nu_mm2s']):.3f}"} for row in rows)
    found = done(meter, restate(meter, tmp_path / "out", liquids=tmp_path / "liquids.csv"))
    assert worst(full_flow_months(found, meter)) > FULL_FLOW_LIMIT_PCT


@pytest.mark.parametrize("meter", METERS)
def test_every_pulse_is_accounted_for(meter: str) -> None:
    """The truth knows the pulses of every hour; what the log lost is what the planted faults say."""
    record = fc_record(meter)
    totals = record["totals"]
    assert record["balance_difference"] == 0
    assert record["pulses_read"] == totals["pulses_in"]
    truth, faults = load_truth(depot(), meter), load_faults(depot(), meter)
    true = sum(hour.pulses for hour in truth.values())
    first = min(truth)
    if meter == "DN80-D":  # a counter: lost are the first hour, and 40 % of the hour of the reset (RESET_SHARE)
        reset = next(time for time, fault in faults.items() if fault == "counter_reset")
        lost = truth[first].pulses + int(0.4 * truth[reset].pulses)
    else:  # pulses of the hour: lost are missing hours and the one that is not a number; the duplicate counts twice
        lost = sum(truth[time].pulses for time, fault in faults.items() if fault in ("missing", "nan"))
        lost -= sum(truth[time].pulses for time, fault in faults.items() if fault == "duplicate_time")
    assert totals["pulses_in"] == true - lost


def fc_record(meter: str) -> dict[str, object]:
    import json
    return json.loads((good(meter).folder / "restatement.json").read_text(encoding="utf-8"))["meters"][meter]


@pytest.mark.parametrize("meter", METERS)
def test_planted_faults_are_found(meter: str) -> None:
    """Each fault that shows in one row stands among the events with its word."""
    expected = {"sensor_failed": {"above"}, "fahrenheit": {"above_viscosity_range"}, "nan": {"nan", "missing"},
                "negative_pressure": {"negative_pressure"}, "duplicate_time": {"duplicate_time"},
                "counter_rollover": {"counter_rollover"}, "counter_reset": {"counter_reset"}}
    events: dict[datetime, set[str]] = {}
    for row in table(good(meter).folder / f"events_{meter}.csv"):
        events.setdefault(instant(row["time"]), set()).update(row["event"].split())
    faults = load_faults(depot(), meter)
    for time, fault in faults.items():
        if fault != "missing":
            assert events.get(time, set()) & expected[fault], (time, fault, events.get(time))
    missing = {time for time, fault in faults.items() if fault == "missing"}
    after = {time + timedelta(hours=1) for time in missing} - missing
    assert after == {time for time, words in events.items() if words & {"gap", "spans_gap"}}


def test_repeated_and_skipped_hour_of_the_year() -> None:
    """Kerosene is logged in local time: 02:00 comes twice on 26 October and not at all on 30 March."""
    ends = [row["end"] for row in table(good("DN80-K").folder / "rows_DN80-K.csv")]
    assert "2025-10-26T02:00:00+02:00" in ends and "2025-10-26T02:00:00+01:00" in ends
    spring = [end for end in ends if end.startswith("2025-03-30T0")]
    assert spring[:3] == ["2025-03-30T00:00:00+01:00", "2025-03-30T01:00:00+01:00", "2025-03-30T03:00:00+02:00"]
    times = [instant(end) for end in ends]
    assert [time for time, count in Counter(times).items() if count > 1] == [
        time for time, fault in load_faults(depot(), "DN80-K").items() if fault == "duplicate_time"]
    assert min(times) == datetime(2025, 1, 1, tzinfo=UTC)


@pytest.mark.parametrize("meter", METERS)
def test_months_are_the_sums_of_the_rows(meter: str) -> None:
    """Each row's volume in whole microlitres, half away from zero, summed apart from the command."""
    sums: Counter[str] = Counter()
    for row in table(good(meter).folder / f"rows_{meter}.csv"):
        if row["v_m3"]:
            sums[row["begin"][:7]] += int(float(row["v_m3"]) / 1e-9 + 0.5)
    months = table(good(meter).folder / "months.csv")
    assert {row["month"]: int(row["gross_forward_units"]) for row in months} == dict(sums)
    assert [row["gross_m3"].replace(".", "") for row in months] == [row["gross_forward_units"] for row in months]


@pytest.mark.parametrize("meter", METERS)
def test_parquet_gives_the_same(meter: str, tmp_path: Path) -> None:
    """Readings and rows as Parquet: the same months to the last digit."""
    import pyarrow.parquet

    restate(meter, tmp_path / "out", "parquet", format="parquet")
    assert (tmp_path / "out" / "months.csv").read_bytes() == (good(meter).folder / "months.csv").read_bytes()
    rows = pyarrow.parquet.read_table(tmp_path / "out" / f"rows_{meter}.parquet")
    text = table(good(meter).folder / f"rows_{meter}.csv")
    assert rows.num_rows == len(text)
    for name in ("v_m3", "v_base_m3", "k_per_m3"):
        assert [None if not row[name] else float(row[name]) for row in text] == rows.column(name).to_pylist()


def test_booked_at_base(tmp_path: Path) -> None:
    """The generator's other booking, base volumes: the comparison is then of base volumes."""
    folder = make_depot(tmp_path / "depot", "--booked", "base")
    fuel, highest_hz = METERS["DN80-K"]
    result = run("restate", folder / f"readings_{fuel}.csv", "--meter", depot() / f"{fuel}.json", "--liquids",
                 folder / "liquids.csv", "--batches", folder / "batches.csv", "--interval", 3600, "--stamp", "end",
                 "--timezone", "Europe/Berlin", "--highest-hz", highest_hz, "--booked", "base",
                 "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    months = table(tmp_path / "out" / "months.csv")
    assert all(float(row["compared_restated_m3"]) == float(row["base_m3"]) for row in months)
    assert all(abs(float(row["difference_pct"])) < 0.3 for row in months)
