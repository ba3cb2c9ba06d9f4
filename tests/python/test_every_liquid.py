# SPDX-License-Identifier: Apache-2.0
"""Liquids of every family and model from Python, their files, fits, and the command flowcomp liquid."""

from __future__ import annotations

import csv
import math
from dataclasses import astuple
from pathlib import Path
from typing import Any

import flowcomp as fc
import numpy as np
import pytest
from flowcomp import errors, methods
from flowcomp.cli import app
from typer.testing import CliRunner

NONE: dict[str, Any] = {"compressibility": "none"}
FAMILIES: dict[str, tuple[dict[str, Any], dict[str, Any], float]] = {
    # keywords of the liquid, of its volume, and the CTL of the published method
    "crude, tables of 1980": (
        {"volume": "petroleum_1980", "group": "crude", "base": "15C", "compressibility": "1984"},
        {"t_degc": 40.0, "p_kpag": 900.0, "rho_base_kgm3": 860.0},
        methods.ctl_table54_petroleum_1980(rho15_kgm3=860.0, t_degc=40.0, group="crude")),
    "propane": (
        {"volume": "light_ends_2007", "base": "15C", "compressibility": "1986", "vapour": "measured"},
        {"t_degc": 20.0, "p_kpag": 2000.0, "pe_kpa": 840.0, "rho_base_kgm3": 508.0},
        methods.ctl15_light_ends_2007(rho15_kgm3=508.0, t_degc=20.0)),
    "benzene": ({"volume": "aromatics_d1555", "aromatic": "benzene", "base": "60F", **NONE}, {"t_degc": 30.0},
                methods.ctl60_aromatics_d1555(fluid="benzene", t_degf=86.0)),
    "ethanol": ({"volume": "ethanol_oiml_r22", "mass_fraction": 0.96, "base": "20C", **NONE}, {"t_degc": 30.0},
                methods.ctl20_ethanol_water_oiml_r22(mass_fraction=0.96, t_degc=30.0)),
    "water": ({"volume": "water", "water": "kell_1975", "t_base_degc": 25.0}, {"t_degc": 60.0},
              methods.ctl_water_kell_1975(t_degc=60.0, t_base_degc=25.0)),
    "sea water": ({"volume": "seawater_eos80", "salinity_psu": 35.0, "base": "15C"}, {"t_degc": 4.0},
                  methods.ctl_seawater_eos80(s_psu=35.0, t_degc=4.0, t_base_degc=15.0)),
    "brine": ({"volume": "produced_water_api20", "base": "60F"}, {"t_degc": 50.0, "rho_base_kgm3": 1050.0},
              methods.ctl60_produced_water_api20(rho60_kgm3=1050.0, t_degf=122.0)),
    "glycol": ({"volume": "glycol_water_melinder_2010", "glycol": "meg", "mass_fraction": 0.4, "base": "20C", **NONE},
               {"t_degc": 50.0}, methods.ctl_meg_water_melinder_2010(mass_fraction=0.4, t_degc=50.0, t_base_degc=20.0)),
    "biodiesel": ({"volume": "fame_en14214", "base": "15C", "compressibility": "supplied", "f_per_kpa": 6e-7},
                  {"t_degc": 40.0, "rho_base_kgm3": 880.0}, methods.ctl15_fame_en14214(rho15_kgm3=880.0, t_degc=40.0)),
    "LNG": ({"volume": "lng_iso6578", "t_base_degc": -160.0, "lng": {"c1": 0.95, "c2": 0.05}, **NONE},
            {"t_degc": -165.0},
            methods.ctl_lng_iso6578(t_k=-165.0 + 273.15, t_base_k=-160.0 + 273.15, x_c1=0.95, x_c2=0.05)),
    "ethylene": ({"volume": "saturated_liquid", "saturated": "ethylene", "t_base_degc": -50.0, **NONE},
                 {"t_degc": -30.0},
                 methods.ctl_saturated_liquid_ancillary(fluid="ethylene", t_k=243.15, t_base_k=223.15)),
    "n-butane": ({"volume": "costald", "costald": "n_butane", "base": "15C", "pc_kpa": 3796.0, "vapour": "laboratory",
                  "pe378_kpa": 360.0, "vapour_slope_k": 2700.0}, {"t_degc": 20.0, "p_kpag": 900.0},
                 methods.ctl_saturated_liquid_costald_1979(fluid="n_butane", t_k=293.15, t_base_k=288.15)),
    "polynomial": ({"volume": "polynomial", "polynomial": fc.Polynomial((870.0, -0.62), -20.0, 80.0), "base": "15C",
                    **NONE}, {"t_degc": 30.0}, (870 - 0.62 * 30) / (870 - 0.62 * 15)),
    "table": ({"volume": "density_table", "density_table": fc.DensityTable((0.0, 20.0, 60.0), (900.0, 886.0, 858.0)),
               "base": "20C", **NONE}, {"t_degc": 30.0}, (900 - 0.7 * 30) / 886),
}


def liquid_of(name: str) -> fc.Liquid:
    return fc.Liquid(name, viscosity="measured", u_nu_relative=0.01, **FAMILIES[name][0])


@pytest.mark.parametrize("name", FAMILIES)
def test_volume_and_file_of_every_family(name: str) -> None:
    _, state, ctl = FAMILIES[name]
    liquid = liquid_of(name)
    factors = liquid.volume(**state)
    assert factors.ctl == pytest.approx(ctl, rel=1e-15)
    assert factors.ctpl == factors.ctl * factors.cpl
    again = fc.Liquid.from_json(liquid.to_json())
    assert again.hash == liquid.hash and repr(again) == repr(liquid)
    np.testing.assert_array_equal(astuple(again.volume(**state)), astuple(factors))  # a NaN equals a NaN there
    assert liquid.methods and set(liquid.methods) <= set(fc.method_names())
    many = liquid.volume(**{key: np.full(3, value) for key, value in state.items()})
    assert many.ctl.tolist() == [factors.ctl] * 3


def test_a_measured_vapour_pressure_goes_through_the_meter(meter: fc.Meter) -> None:
    propane = liquid_of("propane")
    reading: dict[str, Any] = {"pulses": 950_000, "duration_s": 3600.0, "t_degc": 20.0, "p_kpag": 2000.0,
                               "nu_mm2s": 2.0, "rho_base_kgm3": 508.0}
    result = meter.evaluate(propane, **reading, pe_kpa=840.0)
    assert "vapour_measured" in result.flag_words()
    assert result.ctl == FAMILIES["propane"][2]
    explained = meter.explain(propane, **reading, pe_kpa=840.0)
    assert "GPA TP-27" in explained.text
    with pytest.raises(errors.E_MISSING, match="pe_kpa"):
        meter.evaluate(propane, **reading)


# Check rows of a published method, as a liquid and a reading; the meter's base volume over its gross volume is the row.
THROUGH_A_METER: dict[str, Any] = {
    "ctl_table54_petroleum_1980": lambda r: (
        {"volume": "petroleum_1980", "group": r["group"], "base": "15C"},
        {"rho_base_kgm3": float(r["rho15_kgm3"]), "t_degc": float(r["t_degc"])}),
    "ctl15_light_ends_2007": lambda r: (
        {"volume": "light_ends_2007", "base": "15C"},
        {"rho_base_kgm3": float(r["rho15_kgm3"]), "t_degc": float(r["t_degc"])}),
    "ctl20_light_ends_2007": lambda r: (
        {"volume": "light_ends_2007", "base": "20C"},
        {"rho_base_kgm3": float(r["rho20_kgm3"]), "t_degc": float(r["t_degc"])}),
    "ctl15_aromatics_d1555": lambda r: (
        {"volume": "aromatics_d1555", "aromatic": r["fluid"], "base": "15C"}, {"t_degc": float(r["t_degc"])}),
    "ctl20_aromatics_d1555": lambda r: (
        {"volume": "aromatics_d1555", "aromatic": r["fluid"], "base": "20C"}, {"t_degc": float(r["t_degc"])}),
    "ctl15_ethanol_water_oiml_r22": lambda r: (
        {"volume": "ethanol_oiml_r22", "mass_fraction": float(r["mass_fraction"]), "base": "15C"},
        {"t_degc": float(r["t_degc"])}),
    "ctl20_ethanol_water_oiml_r22": lambda r: (
        {"volume": "ethanol_oiml_r22", "mass_fraction": float(r["mass_fraction"]), "base": "20C"},
        {"t_degc": float(r["t_degc"])}),
    "ctl15_fame_en14214": lambda r: (
        {"volume": "fame_en14214", "base": "15C"},
        {"rho_base_kgm3": float(r["rho15_kgm3"]), "t_degc": float(r["t_degc"])}),
}


def rows_of(quantity: str) -> list[tuple[dict[str, str], float, float]]:
    """Judged rows with a number and a tolerance: inputs, expected, tolerance."""
    found = []
    for path in sorted((Path(__file__).parents[1] / "checks").glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                if row.get("quantity") == quantity and row["role"] != "contrast" and row["tolerance"] and (
                        not row["expected"].startswith("E_")):
                    inputs = dict(pair.split("=", 1) for pair in row["inputs"].split(";"))
                    found.append((inputs, float(row["expected"]), float(row["tolerance"])))
    return found


@pytest.mark.parametrize("quantity", THROUGH_A_METER)
def test_check_rows_through_a_meter(quantity: str, meter: fc.Meter) -> None:
    rows = rows_of(quantity)
    assert rows
    for inputs, expected, tolerance in rows:
        of_liquid, state = THROUGH_A_METER[quantity](inputs)
        liquid = fc.Liquid("row", viscosity="measured", u_nu_relative=0.0, **of_liquid, **NONE)
        result = meter.evaluate(liquid, pulses=950_000, duration_s=3600.0, p_kpag=0.0, nu_mm2s=2.0, **state)
        assert result.v_base_m3 / result.v_m3 == pytest.approx(expected, abs=tolerance + 4e-16 * expected), inputs


def test_unknown_words_and_numbers_are_named() -> None:
    with pytest.raises(TypeError, match="salinity"):
        fc.Liquid("x", volume="none", viscosity="measured", u_nu_relative=0.0, salinity=35.0)
    with pytest.raises(errors.E_UNKNOWN_NAME, match="vapour"):
        fc.Liquid("x", volume="none", viscosity="measured", u_nu_relative=0.0, vapour="guessed")
    with pytest.raises(errors.E_MISSING, match="compressibility"):
        fc.Liquid("x", volume="fame_en14214", base="15C", viscosity="measured", u_nu_relative=0.0)


# --- viscosity --------------------------------------------------------------------------------------------------------


def test_a_dynamic_model_takes_the_density_of_the_same_liquid() -> None:
    water = fc.Liquid("water", volume="water", water="iapws95", base="15C", viscosity="model", model="water_r12_08",
                      u_nu_relative=0.01)
    rho = methods.rho_water_iapws95(t_k=323.15, p_mpa=(2000.0 + 101.325) / 1000)
    expected = 1000 * methods.mu_water_r12_08(t_k=323.15, rho_kgm3=rho) / rho
    assert water.viscosity(50.0, p_kpag=2000.0).nu_mm2s == pytest.approx(expected, rel=1e-14)
    assert "viscosity_model" in fc.flag_words(water.viscosity(50.0).flags)


@pytest.mark.parametrize("model", ["andrade", "vogel", "dutt_prasad", "dippr101", "power_law", "yaws", "polynomial"])
def test_fits_of_water_from_dynamic_points(model: str) -> None:
    t = np.arange(0.0, 101.0, 5.0)
    mu = np.array([methods.mu_water_1atm(t_degc=float(value)) for value in t])
    fit = fc.fit_viscosity(t, mu_mpas=mu, model=model)
    print(f"water 0 to 100 degC by {model}: rms {fit.rms_pct:.4f} %, worst {fit.worst_pct:+.4f} %")
    assert fit.kind == "dynamic" and len(fit.residual_pct) == len(t) and abs(fit.worst_pct) < 15
    liquid = fc.Liquid("water", volume="water", water="kell_1975", base="15C", u_nu_relative=0.02, **fit.options())
    at = liquid.viscosity(50.0).nu_mm2s * methods.rho_water_kell_1975(t_degc=50.0) / 1000
    assert 100 * (at / mu[10] - 1) == pytest.approx(fit.residual_pct[10], abs=1e-9)
    assert fc.Liquid.from_json(liquid.to_json()).hash == liquid.hash
    with pytest.raises(errors.E_ABOVE_VISCOSITY_RANGE):
        liquid.viscosity(101.0)


def test_fit_refuses_what_is_no_set_of_points() -> None:
    with pytest.raises(errors.E_COUNT):
        fc.fit_viscosity([20.0], nu_mm2s=[3.0])
    with pytest.raises(errors.E_SINGULAR):
        fc.fit_viscosity([20.0, 20.0], nu_mm2s=[3.0, 3.1])
    with pytest.raises(errors.E_ORDER):
        fc.fit_viscosity([20.0, 10.0], nu_mm2s=[3.0, 4.0])
    with pytest.raises(errors.E_NAN):
        fc.fit_viscosity([20.0, 30.0], nu_mm2s=[3.0, math.nan])
    with pytest.raises(errors.E_CONFLICT):
        fc.fit_viscosity([20.0, 30.0])


def test_the_command_fits_points_of_a_table(tmp_path: Path) -> None:
    """JP-5, AFRL POSF 10289: least squares through its four points leaves up to 2.8 % (viscosity.md)."""
    table = tmp_path / "liquids.csv"
    with table.open("w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(["liquid", "volume", "group", "base", "viscosity", "model", "water", "t_degc", "nu_mm2s",
                       "u_nu_pct"])
        for t, nu in zip((-40, -20, 40, 100), (14.1, 6.5, 1.57, 0.76), strict=True):
            rows.writerow(["JP-5", "petroleum_2004", "jet", "15C", "fit", "d341_ab", "", t, nu, 3])
        rows.writerow(["water", "water", "", "15C", "model", "water_sr6_08", "cipm_2001", "", "", 1])
    out = tmp_path / "out"
    done = CliRunner().invoke(app, ["liquid", str(table), "--out", str(out)])
    assert done.exit_code == 0, done.output
    assert "residuals" in done.output and "JP-5: d341_ab" in done.output
    jp_5, water = fc.Liquid.load(out / "JP-5.json"), fc.Liquid.load(out / "water.json")
    residuals = [100 * (nu / jp_5.viscosity(t).nu_mm2s - 1)
                 for t, nu in zip((-40, -20, 40, 100), (14.1, 6.5, 1.57, 0.76), strict=True)]
    assert max(map(abs, residuals)) == pytest.approx(2.8, abs=0.05)
    with pytest.raises(errors.E_BELOW_VISCOSITY_RANGE):
        jp_5.viscosity(-41.0)
    assert water.viscosity(20.0).nu_mm2s == pytest.approx(1.0034, rel=1e-4)  # D2161-17
