# SPDX-License-Identifier: Apache-2.0
"""The meter from Python: one reading, its explanation, totals, and files."""

from __future__ import annotations

import json
import math
import random
from pathlib import Path
from typing import Any

import flowcomp as fc
import numpy as np
import pytest

GOLDEN = Path(__file__).resolve().parents[1] / "golden"


def test_one_reading_obeys_the_definitions(meter: fc.Meter, liquid: fc.Liquid, reading: dict[str, float]) -> None:
    r = meter.evaluate(liquid, **reading)
    state = meter.body.at(25.0, 300.0)
    assert (r.d_m, r.b_ratio) == (state.d_m, state.b_ratio)
    assert r.f_hz == 200.0 and r.nu_mm2s == liquid.viscosity(25.0).nu_mm2s
    volume = liquid.volume(rho_base_kgm3=800.0, t_degc=25.0, p_kpag=300.0)
    assert (r.ctl, r.cpl, r.rho_base_kgm3) == (volume.ctl, volume.cpl, 800.0)
    curve = meter.curve.at(r.ro)
    assert (r.st, r.slope) == (curve.st, curve.slope)
    for value, expected in [
        (r.ro, 200.0 * r.d_m**2 / (r.nu_mm2s * 1e-6)), (r.k_per_m3, 4 * r.st / (math.pi * 0.0779**3) * r.b_ratio),
        (r.q_m3s, 200.0 / r.k_per_m3), (r.v_m3, 720_000 / r.k_per_m3), (r.v_base_m3, r.v_m3 * r.ctl * r.cpl),
        (r.re, 4 * r.q_m3s / (math.pi * r.d_m * r.nu_mm2s * 1e-6)), (r.u_v_nu, abs(r.slope) * 0.01),
    ]:
        assert value == pytest.approx(expected, rel=3e-15)
    assert r.status == 0 and r.status_names == "OK" and "from_memory" in r.flag_words() == r.flag_words(0)
    assert dict(r)["v_m3"] == r["v_m3"] == r.v_m3 and set(r.keys()) <= set(dir(r))
    assert "v_base_m3" in repr(r) and "m3/s" in repr(r) and r.to_frame().shape == (1, len(fc.COLUMNS) + 2)


@pytest.mark.parametrize("changed, error, argument", [
    ({"pulses": None, "duration_s": None}, "E_MISSING", "pulses"), ({"f_hz": 10.0}, "E_CONFLICT", "f_hz"),
    ({"pulses": 0.5}, "E_NOT_WHOLE", "pulses"), ({"duration_s": 0.0}, "E_BELOW", "duration_s"),
    ({"t_degc": math.nan}, "E_NAN", "t_degc"), ({"t_degc": math.inf}, "E_INFINITE", "t_degc"),
    ({"p_kpag": -1.0}, "E_NEGATIVE_PRESSURE", "p_kpag"), ({"rho_base_kgm3": None}, "E_MISSING", "rho_base_kgm3"),
    ({"rho_observed_kgm3": 800.0}, "E_CONFLICT", "rho_observed_kgm3"), ({"nu_mm2s": 2.0}, "E_CONFLICT", "nu_mm2s"),
    ({"t_degc": 45.0}, "E_ABOVE_VISCOSITY_RANGE", "t_degc"), ({"pulses": 3600.0}, "E_BELOW_CURVE", "ro"),
    ({"pulses": 7.2e6}, "E_ABOVE_CURVE", "ro"),
    ({"rho_base_kgm3": 500.0}, "E_BELOW", "rho_base_kgm3"),
])
def test_refusals_by_name(meter: fc.Meter, liquid: fc.Liquid, reading: dict[str, float], changed: dict[str, Any],
                          error: str, argument: str) -> None:
    bad = reading | changed
    with pytest.raises(getattr(fc.errors, error)) as caught:
        meter.evaluate(liquid, **bad)
    assert caught.value.argument == argument
    refused = meter.evaluate(liquid, **bad, on_refused="nan")
    assert refused.status_names == error and math.isnan(refused.v_m3) and math.isnan(refused.v_base_m3)
    with pytest.raises(getattr(fc.errors, error), match="^1 of 2 records refused") as caught:
        _second_of_two(meter, liquid, reading, changed)
    assert caught.value.index == 1
    explained = meter.explain(liquid, **bad)
    assert explained.status_name == error and str(explained.error) in explained.text


def _second_of_two(meter: fc.Meter, liquid: fc.Liquid, reading: dict[str, float], changed: dict[str, Any]) -> None:
    """The same refusal as the second record of two, the first of which is good."""
    nan = math.nan
    columns = {name: [reading.get(name, nan), nan if (reading | changed).get(name) is None
                      else (reading | changed)[name]] for name in reading.keys() | changed.keys()}
    meter.evaluate(liquid, **columns)


def test_unknown_inputs_are_refused(meter: fc.Meter, liquid: fc.Liquid, reading: dict[str, float]) -> None:
    with pytest.raises(TypeError, match="not temperature"):
        meter.evaluate(liquid, **reading, temperature=20.0)
    with pytest.raises(TypeError, match="not temperature"):
        meter.explain(liquid, **reading, temperature=20.0)


def test_measured_viscosity_and_observed_density(meter: fc.Meter) -> None:
    liquid = fc.Liquid.measured("m", volume="petroleum_2004", group="jet", base="15C", u_nu_relative=0.01)
    r = meter.evaluate(liquid, f_hz=200.0, t_degc=25.0, p_kpag=300.0, nu_mm2s=1.7, rho_observed_kgm3=795.0,
                       t_observed_degc=22.0, p_observed_kpag=200.0, densitometer_factor=1.001)
    assert r.nu_mm2s == 1.7 and math.isnan(r.v_m3) and r.q_m3s > 0
    assert r.rho_base_kgm3 == pytest.approx(fc.methods.rho15_from_observed_petroleum_2004(
        rho_kgm3=795.0 * 1.001, t_degc=22.0, p_kpag=200.0, group="jet"), rel=1e-15)


def test_standstill_reverse_and_cutoff(body: fc.Body, fit: fc.Fit, liquid: fc.Liquid,
                                       reading: dict[str, float]) -> None:
    meter = fc.Meter("cut", body, fit.curve, below="hold_end", above="extend_slope", cutoff_hz=10.0)
    assert (meter.name, meter.below, meter.above, meter.cutoff_hz) == ("cut", "hold_end", "extend_slope", 10.0)
    assert "cut-off 10 Hz" in repr(meter) and "below hold_end, above extend_slope" in repr(meter)
    still = meter.evaluate(liquid, **(reading | {"pulses": 0.0}))
    assert still.v_m3 == 0.0 and still.flag_words()[0] == "no_flow" and math.isnan(still.k_per_m3)
    slow = meter.evaluate(liquid, **(reading | {"pulses": 3600.0}))
    assert slow.v_m3 == 0.0 and "below_cutoff" in slow.flag_words()
    forward, back = (meter.evaluate(liquid, **(reading | {"pulses": sign * 720_000.0})) for sign in (1, -1))
    assert back.v_m3 == -forward.v_m3 and "reverse" in back.flag_words()
    fast = meter.evaluate(liquid, **(reading | {"pulses": 3.6e6}))
    assert {"above_curve", "extrapolated"} <= set(fast.flag_words())


# --- explain ----------------------------------------------------------------------------------------------------------

def test_explanation_holds_the_very_numbers(meter: fc.Meter, liquid: fc.Liquid, reading: dict[str, float]) -> None:
    r, explained = meter.evaluate(liquid, **reading), meter.explain(liquid, **reading)
    steps = {step.symbol: step for step in explained.steps}
    for symbol, value in {"f": r.f_hz, "nu": r.nu_mm2s, "D": r.d_m, "B": r.b_ratio, "Ro": r.ro, "St": r.st,
                          "K": r.k_per_m3, "V": r.v_m3, "V_b": r.v_base_m3, "CTL": r.ctl, "CPL": r.cpl}.items():
        assert steps[symbol].value == value
        assert f"{symbol} " in explained.text
    assert explained.error is None and explained.status_name == "OK" and str(explained) == explained.text
    ro = steps["Ro"]
    assert dict(ro)["equation"] == ro["equation"] == "f D^2 / nu" and ro.unit == "1"
    read = json.loads(explained.to_json())
    assert [step["value"] for step in read["steps"]] == [step.value for step in explained.steps]
    assert read["status"] == "OK" and read["error"] is None
    assert all(step.method or step.symbol in ("alphaH", "alphaR", "eH", "eR") for step in explained.steps)
    refused = meter.explain(liquid, **(reading | {"pulses": 3600.0}))
    assert isinstance(refused.error, fc.errors.E_BELOW_CURVE) and 0 < len(refused.steps) < len(explained.steps)
    assert json.loads(refused.to_json())["status"] == "E_BELOW_CURVE" and "refused:" in refused.text


# --- totals -----------------------------------------------------------------------------------------------------------

def test_totals_do_not_depend_on_grouping(meter: fc.Meter, liquid: fc.Liquid) -> None:
    random_ = random.Random(5)
    pulses = np.array([float(random_.choice([0, 3600, 1, 720_000, -500_000, 650_000])) for _ in range(300)])
    t = np.array([random_.uniform(5, 35) for _ in range(300)])
    record = {"duration_s": 3600.0, "p_kpag": 300.0, "rho_base_kgm3": 800.0}
    whole = fc.Totals()
    results = meter.evaluate(liquid, pulses=pulses, t_degc=t, **record, on_refused="nan", totals=whole)
    assert whole.balance() == 0 and whole.records == 300 and whole.pulses_in == int(np.abs(pulses).sum())
    assert whole.pulses_forward == int(pulses[(pulses > 0) & (results.status == 0)].sum())
    order = list(range(300))
    random_.shuffle(order)
    parts = [fc.Totals() for _ in range(7)]
    for place in order:
        meter.evaluate(liquid, pulses=float(pulses[place]), t_degc=float(t[place]), **record, on_refused="nan",
                       totals=random_.choice(parts))
    merged = fc.Totals()
    for part in parts:
        assert merged.merge(part) is merged
    assert merged.to_dict() == whole.to_dict() and merged.copy().to_dict() == whole.to_dict()
    volume = results.v_m3[(results.v_m3 > 0)]
    assert whole.gross_m3() == pytest.approx(math.fsum(volume), abs=1e-9 * volume.size)
    assert whole.gross_m3(2) == round(whole.gross_m3(), 2) == whole.gross_m3(fc.Rounding.decimals(2))
    assert whole.gross_m3(direction="net") == pytest.approx(whole.gross_m3() - whole.gross_m3(direction="reverse"),
                                                            rel=1e-15)
    assert whole.mass_kg() == pytest.approx(800.0 * whole.base_m3(), rel=1e-9)
    assert "from_memory" in whole.flag_words() and "300 records" in repr(whole) and "base_forward" in dir(whole)


def test_nothing_is_totalled_where_an_exception_is_raised(meter: fc.Meter, liquid: fc.Liquid,
                                                          reading: dict[str, float]) -> None:
    totals = fc.Totals(1e-6)
    with pytest.raises(fc.errors.E_BELOW_CURVE):
        meter.evaluate(liquid, **(reading | {"pulses": [720_000.0, 3600.0]}), totals=totals)
    assert totals.records == 0 and totals.unit_m3 == 1e-6
    with pytest.raises(fc.errors.E_CONFLICT):
        totals.merge(fc.Totals())
    with pytest.raises(fc.errors.E_UNKNOWN_NAME):
        totals.gross_m3(direction="sideways")
    with pytest.raises(fc.errors.E_BELOW):
        fc.Totals(0.0)
    with pytest.raises(AttributeError):
        totals.volume


# --- files ------------------------------------------------------------------------------------------------------------

def test_meter_and_liquid_survive_their_files(meter: fc.Meter, liquid: fc.Liquid, reading: dict[str, float],
                                              tmp_path: Path) -> None:
    meter.save(tmp_path / "meter.json")
    liquid.save(tmp_path / "liquid.json")
    same_meter, same_liquid = fc.Meter.load(tmp_path / "meter.json"), fc.Liquid.load(str(tmp_path / "liquid.json"))
    assert same_meter.hash == meter.hash and len(meter.hash) == 64 and same_liquid.hash == liquid.hash
    assert same_meter.to_json() == meter.to_json() == fc.Meter.from_json(meter.to_json()).to_json()
    assert fc.Liquid.from_json(liquid.to_json().encode()).to_json() == liquid.to_json()
    assert repr(same_meter) == repr(meter) and repr(same_liquid) == repr(liquid)
    a, b = meter.evaluate(liquid, **reading), same_meter.evaluate(same_liquid, **reading)
    assert [a[name] for name in a.keys()] == [b[name] for name in b.keys()]


def test_damaged_files_are_refused(meter: fc.Meter, tmp_path: Path) -> None:
    text = meter.to_json()
    with pytest.raises(fc.errors.E_SYNTAX) as caught:
        fc.Meter.from_json(text[: len(text) // 2])
    assert isinstance(caught.value, fc.errors.RecordError)
    with pytest.raises(fc.errors.E_HASH):
        fc.Meter.from_json(text.replace("DN80 invented", "DN80 invenTed"))
    with pytest.raises(fc.errors.E_SCHEMA):
        fc.Liquid.from_json(text)
    with pytest.raises(FileNotFoundError):
        fc.Meter.load(tmp_path / "no such file.json")


@pytest.mark.parametrize("kind, file", [(fc.Meter, "meter_1.json"), (fc.Liquid, "liquid_1.json")])
def test_golden_files_are_read(kind: Any, file: str) -> None:
    text = (GOLDEN / file).read_text(encoding="utf-8")
    assert kind.load(GOLDEN / file).to_json() == text
