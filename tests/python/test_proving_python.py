# SPDX-License-Identifier: Apache-2.0
"""Provings and limits from Python, on the worked chain of tests/checks/quantities_proving.csv (Q-PRV)."""

from __future__ import annotations

import math
from datetime import UTC, date, datetime, timedelta
from typing import Any

import flowcomp as fc
import pandas as pd
import pytest

PSI = 6.894757  # kPa, as API MPMS 12.2 converts
START = datetime(2024, 5, 1, 8, 0, tzinfo=UTC)


@pytest.fixture
def prover() -> fc.Prover:
    return fc.Prover("pipe", base_volume_m3=16.80425, base_t_degc=140 / 9, gc_per_degc=1.86e-5 * 1.8, e_kpa=30e6 * PSI,
                     id_m=10.020 * 0.0254, wall_m=0.365 * 0.0254, water_draw_day=date(2024, 1, 10),
                     expiry_day=date(2025, 1, 10))


@pytest.fixture
def passes() -> list[dict[str, Any]]:
    return [{"run": run, "pulses": pulses, "t_meter_degc": (78.38 - 32) / 1.8, "t_prover_degc": (78.38 - 32) / 1.8,
             "p_meter_kpag": 150 * PSI, "p_prover_kpag": 150 * PSI, "ctl_prover": 0.9908, "cpl_prover": 1.0010,
             "ctl_meter": 0.9909, "cpl_meter": 1.0010, "start_ms": START + timedelta(minutes=run),
             "end_ms": START + timedelta(minutes=run, seconds=16, milliseconds=794)}
            for run, pulses in enumerate((16793.0, 16795.0, 16792.0, 16796.0, 16794.0), 1)]


def test_the_worked_chain(prover: fc.Prover, passes: list[dict[str, Any]]) -> None:
    proving = fc.prove(passes, prover, nominal_k_per_m3=1000.0, day=date(2024, 5, 1))
    cts, cps = 1 + 1.86e-5 * 18.38, 1 + 150 * 10.020 / (30e6 * 0.365)
    run = proving.runs[0]
    assert run.cts_prover == pytest.approx(cts, rel=1e-14) and run["cps_prover"] == pytest.approx(cps, rel=1e-14)
    assert run.f_hz == pytest.approx(16793 / 16.794, rel=1e-14) and run.rejected == "none" and run.run == 1
    assert proving.mf == pytest.approx(16.80425 * cts * cps * 0.9908 / (16.794 * 0.9909), rel=1e-14)
    assert proving.range_pct == pytest.approx(0.02382, abs=5e-6)
    assert proving.accepted is True and proving.findings == [] and len(proving.runs) == proving.used_count == 5
    assert (proving.way, proving.method) == ("nominal_k", "average_data")
    assert proving.mf == proving.average.mf or proving.average.run == 0
    assert "mf=" in repr(proving) and "mf" in proving.keys() and dict(run)["mf"] == run.mf
    steps = {step.symbol: step for step in run.steps()}
    assert steps["MF"].value == run.mf and steps["MF"]["equation"] == "GSVp/ISVm"
    assert proving.average.steps()[-1].symbol == "MF"
    assert repr(prover).startswith("Prover('pipe', base volume 16.80425 m3 at 15.5556 degC")
    frame = fc.prove(pd.DataFrame(passes).drop(columns=["start_ms", "end_ms"]).assign(f_hz=1000.0), prover,
                     nominal_k_per_m3=1000.0)
    assert frame.mf == proving.mf


def test_a_proving_that_fails_says_why(prover: fc.Prover, passes: list[dict[str, Any]]) -> None:
    passes[3]["pulses"] = 16830.0
    passes[1]["pulses"] = 9000.0 * 2 - 1
    proving = fc.prove(passes, prover, nominal_k_per_m3=1000.0, day=date(2025, 2, 1), mf_low=0.9, mf_high=1.1)
    assert not proving.accepted
    faults = {finding.fault: finding for finding in proving.findings}
    assert {"range", "expired"} <= faults.keys()
    assert faults["range"].run == 2 and faults["range"].value > faults["range"].limit
    assert "certificate" in faults["expired"].text and faults["expired"].run == 0 and faults["expired"].place is None
    kept = fc.prove(passes, prover, nominal_k_per_m3=1000.0, rejection="furthest", reject_max=2, runs_min=3)
    assert kept.accepted and [run.rejected for run in kept.runs].count("furthest") == 2


def test_a_proving_with_a_curve(prover: fc.Prover, passes: list[dict[str, Any]], meter: fc.Meter,
                                liquid: fc.Liquid) -> None:
    for one in passes:
        for name in ("ctl_prover", "cpl_prover", "ctl_meter", "cpl_meter"):
            del one[name]
        one["pulses"] *= 12
        del one["start_ms"], one["end_ms"]
        one["f_hz"] = 200.0
    proving = fc.prove(passes, prover, meter=meter, liquid=liquid, rho_base_kgm3=800.0, range="fixed",
                       range_limit_pct=0.05)
    run = proving.runs[0]
    expected = meter.evaluate(liquid, f_hz=200.0, t_degc=run.t_meter_degc, p_kpag=run.p_meter_kpag, rho_base_kgm3=800.0)
    assert (run.k_per_m3, run.ro, run.st, run.ctl_meter) == (expected.k_per_m3, expected.ro, expected.st, expected.ctl)
    assert proving.way == "curve" and proving.st_proved == pytest.approx(proving.average.st / proving.mf, rel=1e-15)


@pytest.mark.parametrize("changed, error", [
    ({"pulses": math.nan}, "E_MISSING"), ({"t_meter_degc": math.inf}, "E_INFINITE"),
    ({"pulses_whole": 16793.0}, "E_CONFLICT"), ({"direction": "sideways"}, "E_UNKNOWN_NAME"), ({"run": 9}, "E_ORDER"),
])
def test_refusals(prover: fc.Prover, passes: list[dict[str, Any]], changed: dict[str, Any], error: str) -> None:
    passes[1] |= changed
    with pytest.raises(getattr(fc.errors, error)):
        fc.prove(passes, prover, nominal_k_per_m3=1000.0)


def test_wrong_calls(prover: fc.Prover, passes: list[dict[str, Any]]) -> None:
    with pytest.raises(TypeError, match=r"passes\[0\]: no field 'pulse'"):
        fc.prove([{"pulse": 1}], prover, nominal_k_per_m3=1000.0)
    with pytest.raises(TypeError, match="no field 'volume'"):
        fc.Prover("pipe", volume=2.0)
    with pytest.raises(ValueError, match="offset from UTC"):
        fc.prove([passes[0] | {"start_ms": datetime(2024, 5, 1)}], prover, nominal_k_per_m3=1000.0)
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="kind"):
        fc.Prover("bucket")
    with pytest.raises(fc.errors.E_ORDER):
        fc.Prover("tank", base_t_degc=15, gc_per_degc=5e-5, water_draw_day=date(2024, 2, 1),
                  expiry_day=date(2024, 1, 1))


def test_limits() -> None:
    outside = fc.judge_limit(99.0, 100.0, 0.5)
    assert (outside.error, outside.margin, outside.inside) == (-1.0, -0.5, False)
    assert fc.judge_limit(100.5, 100.0, 0.5).inside
    with pytest.raises(fc.errors.E_BELOW):
        fc.judge_limit(1.0, 1.0, -1.0)
    rules = next(a.choices for a in fc.method_info("acceptance_limit").arguments if a.name == "rule")
    assert {fc.acceptance_rule_provenance(rule) for rule in rules} <= {"published", "from_memory", "common_practice"}
    with pytest.raises(fc.errors.E_UNKNOWN_NAME):
        fc.acceptance_rule_provenance("my own")
