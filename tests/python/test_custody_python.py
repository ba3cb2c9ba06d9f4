# SPDX-License-Identifier: Apache-2.0
"""Meter factors, tickets, line fill, batch cuts and pulse trains from Python. Expected values are written out here."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import flowcomp as fc
import numpy as np
import pandas as pd
import pytest


def test_meter_factors() -> None:
    assert fc.MeterFactor.single(1.0012).at().mf == 1.0012
    assert fc.MeterFactor.composite(1.0012, 1.0005).at().mf == pytest.approx(1.0012 * 1.0005, rel=1e-15)
    flow = fc.MeterFactor.interpolated([0.01, 0.02, 0.04], [1.001, 1.002, 1.001], contract_high=1.0015)
    value = flow.at(np.array([0.015, 0.02, 0.03]))
    np.testing.assert_allclose(value.mf, [1.0015, 1.002, 1.0015], rtol=5e-16)
    assert value.outside_contract[1] == 1
    with pytest.raises(fc.errors.E_BELOW_CURVE):
        flow.at(0.005)
    held = fc.MeterFactor.interpolated([0.01, 0.02], [1.001, 1.002], beyond="hold").at(0.03)
    assert held.mf == 1.002 and fc.flag_words(held.flags) == ["extrapolated"]
    curve = fc.MeterFactor.polynomial([1.0, 0.001, 0.002], 1e4, 1e6, axis="roshko", scale=1e6)
    assert curve.at(5e5).mf == pytest.approx(1 + 0.0005 + 0.0005, rel=1e-15)
    assert repr(curve) == "MeterFactor.polynomial(...)"
    with pytest.raises(fc.errors.E_COUNT):
        fc.MeterFactor.interpolated([0.01, 0.02], [1.001])
    with pytest.raises(fc.errors.E_COUNT):
        fc.MeterFactor.polynomial([1.0] * 17, 0.1, 1.0)
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="axis"):
        fc.MeterFactor.interpolated([0.01, 0.02], [1.001, 1.002], axis="speed")


def test_what_makes_a_factor_void(body: fc.Body) -> None:
    check = fc.factor_void({"flow": 0.02, "temperature": 20.0, "days": 0.0}, {"flow": 0.023, "temperature": 25.0,
                           "days": 40.0}, {"flow": 0.1, "temperature": 10.0, "days": 30.0, "volume": 1e5})
    assert check.exceeded == ("flow", "days") and check.unknown == ("volume",)
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="colour"):
        fc.factor_void({"colour": 1.0}, {}, {})
    change = fc.body_difference(body, t_proving_degc=20.0, p_proving_kpag=0.0, t_metering_degc=40.0,
                                p_metering_kpag=500.0)
    assert change.b_proving == body.at(20.0, 0.0).b_ratio and change.b_metering == body.at(40.0, 500.0).b_ratio
    assert change.ratio == pytest.approx(change.b_metering / change.b_proving, rel=1e-15) and change.flag_words == []


def test_a_ticket() -> None:
    """The chain of tests/checks/quantities_proving.csv, Q-TKT: 28571.43 bbl, MF 0.9987, CTL 0.9862, CPL 1.0012."""
    inputs = {"iv": 28571.43, "mf": 0.9987, "ctl": 0.9862, "cpl": 1.0012, "sw_pct": 0.25, "unit_m3": 0.158987294928}
    plain = fc.evaluate_ticket(**inputs, rho_base_kgm3=850.0)
    assert plain.gsv == pytest.approx(28571.43 * 0.9987 * 0.9862 * 1.0012, rel=1e-14)
    assert plain.nsv == pytest.approx(plain.gsv * 0.9975, rel=1e-14) and plain.apart is False
    assert plain.mass_kg == pytest.approx(plain.nsv * 0.158987294928 * 850.0, rel=1e-14)
    assert plain.air_factor == pytest.approx((1 - 1.2 / 850) / (1 - 1.2 / 8000), rel=1e-14)
    rounded = fc.evaluate_ticket(**inputs, rounding={"ccf": 4, "csw": 5, "volume": 2})
    assert (rounded.ccf, rounded.csw, rounded.nsv, rounded.swv) == (0.9861, 0.9975, 28103.85, 70.44)
    assert rounded.flag_words() == ["rounded"]
    assert fc.evaluate_ticket(**inputs, rounding=fc.rounding_1995("barrels")).ccf == 0.9861
    assert fc.evaluate_ticket(**inputs, rounding={"volume": fc.Rounding.increment(10)}).nsv % 10 == 0
    steps = {step.symbol: step for step in plain.steps()}
    assert steps["NSV"].value == plain.nsv and steps["GSV"]["equation"].startswith("IV CCF")
    with pytest.raises(fc.errors.E_CONFLICT):
        fc.evaluate_ticket(**inputs, ctpl=0.99)
    with pytest.raises(fc.errors.E_MISSING):
        fc.evaluate_ticket(**(inputs | {"sw_pct": 20.0}))
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="no step 'price'"):
        fc.evaluate_ticket(**inputs, rounding={"price": 2})
    with pytest.raises(TypeError, match="no field 'volume'"):
        fc.evaluate_ticket(volume=1.0)


def test_two_ways_over_a_ticket(liquid: fc.Liquid) -> None:
    rows = pd.DataFrame({"iv": [100.0, 0.0, 300.0], "mf": 1.0, "t_degc": [10.0, 99.0, 30.0],
                         "p_kpag": [0.0, 0.0, 200.0]})
    ways = fc.ticket_two_ways(liquid, rows, rho_base_kgm3=800.0)
    assert ways.t_degc == pytest.approx(25.0, rel=1e-15) and ways.p_kpag == pytest.approx(150.0, rel=1e-15)
    factors = [liquid.volume(rho_base_kgm3=800.0, t_degc=t, p_kpag=p).ctpl for t, p in ((10.0, 0.0), (30.0, 200.0))]
    assert ways.gsv_intervals == pytest.approx(100 * factors[0] + 300 * factors[1], rel=1e-14)
    assert ways.difference_ppm == pytest.approx(1e6 * (ways.gsv_averages / ways.gsv_intervals - 1), abs=1e-6)
    with pytest.raises(fc.errors.E_MISSING):
        fc.ticket_two_ways(liquid, rows)


def test_line_fill() -> None:
    line = {"base_volume_m3": 1000.0, "base_t_degc": 15.0, "gc_per_degc": 33.5e-6, "e_kpa": 207e6, "id_m": 0.5,
            "wall_m": 0.01, "t_degc": 25.0, "p_kpag": 4000.0, "ctl": 0.99, "cpl": 1.004}
    fill = fc.line_fill(**line)
    assert fill.cts == pytest.approx(1 + 33.5e-6 * 10, rel=1e-15)
    assert fill.cps == pytest.approx(1 + 4000 * 0.5 / (207e6 * 0.01), rel=1e-15)
    assert fill.gsv_m3 == pytest.approx(1000 * fill.cts * fill.cps * 0.99 * 1.004, rel=1e-14)
    after = line | {"ctl": 0.985}
    assert fc.line_fill_change(line, after) == pytest.approx(fc.line_fill(**after).gsv_m3 - fill.gsv_m3, rel=1e-9)
    with pytest.raises(fc.errors.E_NAN):
        fc.line_fill(base_volume_m3=1.0)


def test_cutting_batches() -> None:
    start = datetime(2024, 5, 1, tzinfo=UTC)
    records = [{"start_ms": start + timedelta(hours=hour), "end_ms": start + timedelta(hours=hour + 1),
                "pulses": 1000.0, "volume": 10.0} for hour in range(4)]
    first, last = ((start + timedelta(minutes=minutes)).timestamp() * 1000 for minutes in (90, 150))
    parts = fc.cut_records(records, by="time", first=first, last=last, allocation="half")
    assert (parts.head, parts.interface, parts.tail) == pytest.approx((15.0, 10.0, 15.0), rel=1e-14)
    assert (parts.batch_head, parts.batch_tail) == pytest.approx((20.0, 20.0), rel=1e-14)
    by_density = fc.cut_records([record | {"rho_kgm3": rho} for record, rho in zip(records, (780, 790, 810, 820))],
                                by="density", allocation="none", rho_head_kgm3=780.0, rho_tail_kgm3=820.0,
                                rho_tolerance_kgm3=1.0)
    assert (by_density.head, by_density.interface, by_density.tail) == (10.0, 20.0, 10.0)
    assert math.isnan(by_density.interface_to_head)
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="allocation"):
        fc.cut_records(records, by="time", first=first, last=last, allocation="quarter")


def test_counters_and_pulse_trains() -> None:
    assert fc.counter_advance(10, 25, modulus=1000, most=100) == (15, "on")
    assert fc.counter_advance(990, 5, modulus=1000, most=100) == (15, "rolled")
    assert fc.counter_advance(500, 40, modulus=1000, most=100, reset="restart") == (40, "was_reset")
    with pytest.raises(fc.errors.E_ABOVE):
        fc.counter_advance(500, 40, modulus=1000, most=100)
    pair = fc.PulsePair(1)
    pair.add_all(edge for period in range(100) for edge in (("A", 100 * period), ("B", 100 * period + 25))
                 if edge != ("B", 5025))
    assert pair.count == (100, 99) and pair.missing == (0, 1) and pair.extra == (0, 0) and pair.coincident == 0
    verdict = pair.judge("B", most_faults=0)
    assert (verdict.difference, verdict.faults, verdict.alarm, verdict.pulses) == (1, 1, 1, 100)
    assert pair.judge("E", most_faults=0).alarm == 0 and "missing (0, 1)" in repr(pair)
    with pytest.raises(fc.errors.E_ORDER):
        pair.add("A", 0)
    with pytest.raises(fc.errors.E_UNKNOWN_NAME):
        pair.add("C", 100_000)


def test_totals_over_a_restart(meter: fc.Meter, liquid: fc.Liquid, reading: dict[str, float]) -> None:
    totals = fc.Totals()
    meter.evaluate(liquid, **reading, totals=totals)
    kept = totals.to_bytes()
    assert fc.Totals.from_bytes(kept).to_dict() == totals.to_dict() and fc.Totals.from_bytes(kept).to_bytes() == kept
    with pytest.raises(fc.errors.E_SYNTAX):
        fc.Totals.from_bytes(kept[:-1])
