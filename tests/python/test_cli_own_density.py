# SPDX-License-Identifier: Apache-2.0
"""Histories of liquids that have a density of their own, or whose vapour pressure is measured with every reading.

Expected factors are those of the published methods called by name; no way through a history enters them.
"""

from __future__ import annotations

from pathlib import Path

import flowcomp as fc
import pytest
from small_site import SmallSite

TIME = "2025-01-01T0{}:00:00+00:00,400000,{},{}"


@pytest.fixture
def site(tmp_path: Path) -> SmallSite:
    return SmallSite(tmp_path)


def of_water(site: SmallSite, density: str = "") -> None:
    site.write("liquids.csv", "liquid,volume,water,base,viscosity,model,u_nu_pct",
               "water,water,cipm_2001,15C,model,water_sr6_08,1")
    site.write("batches.csv", "start,liquid,rho_base_kgm3", f"2025-01-01T00:00:00+01:00,water,{density}")


@pytest.mark.parametrize(("columns", "values"), [
    ("rho_base_kgm3", "999.1"), ("rho_observed_kgm3,t_observed_degc,p_observed_kpag", "998.2,20,250")])
def test_logged_density_of_a_liquid_with_its_own_is_not_used_and_said(site: SmallSite, columns: str, values: str) -> None:
    of_water(site)
    site.readings(TIME.format(1, 20, 250), TIME.format(2, 30, 250))
    assert site.restate().exit_code == 0
    without = site.rows()
    site.readings(f"{TIME.format(1, 20, 250)},{values}", f"{TIME.format(2, 30, 250)}," + "," * values.count(","),
                  header=f"time,pulses,t_degc,p_kpag,{columns}")
    result = site.restate(overwrite=True)
    assert result.exit_code == 0 and site.statuses() == ["ok", "ok"], result.output
    assert [row["v_base_m3"] for row in site.rows()] == [row["v_base_m3"] for row in without]
    assert f"{columns.split(',')[0]} of 1 row was not used: the liquids have their own densities" in result.output
    expected = fc.methods.ctl_water_cipm_2001(t_degc=30.0, t_base_degc=15.0)
    assert float(without[1]["ctl"]) == pytest.approx(expected, rel=1e-12)


def test_batch_density_of_a_liquid_with_its_own_is_refused(site: SmallSite) -> None:
    of_water(site, density="999.1")
    site.readings(TIME.format(1, 20, 250))
    result = site.restate()
    assert result.exit_code == 2
    assert all(word in result.output for word in ("batches.csv", "line 2", "rho_base_kgm3", "density of its own"))


@pytest.mark.parametrize(("column", "values"), [
    ("pe_kpa", ("900", "1100")), ("pe_bara", ("9", "11")), ("pe_psia", ("130.533960639", "159.541507448"))])
def test_measured_vapour_pressure_is_read(site: SmallSite, column: str, values: tuple[str, str]) -> None:
    site.write("liquids.csv", "liquid,volume,base,compressibility,vapour,viscosity,t_degc,nu_mm2s,u_nu_pct",
               "propane,light_ends_2007,15C,1986,measured,typical,20,1.6,10")
    site.write("batches.csv", "start,liquid,rho_base_kgm3", "2025-01-01T00:00:00+01:00,propane,508")
    site.readings(f"{TIME.format(1, 20, 2000)},{values[0]}", f"{TIME.format(2, 25, 2000)},{values[1]}",
                  f"{TIME.format(3, 25, 2000)},", header=f"time,pulses,t_degc,p_kpag,{column}")
    result = site.restate()
    assert result.exit_code == 0 and site.statuses() == ["ok", "ok", "missing"], result.output
    liquid = fc.Liquid("propane", volume="light_ends_2007", base="15C", compressibility="1986", vapour="measured",
                       viscosity="typical", t_degc=20, nu_mm2s=1.6, u_nu_relative=0.05)
    for row, t, pe in zip(site.rows(), (20.0, 25.0), (900.0, 1100.0), strict=False):
        cpl = liquid.volume(rho_base_kgm3=508.0, t_degc=t, p_kpag=2000.0, pe_kpa=pe).cpl
        assert float(row["cpl"]) == pytest.approx(cpl, rel=1e-9) and "vapour_measured" in row["flags"]
    assert "pe_kpa" in result.output


def test_vapour_pressure_that_no_liquid_takes_is_said(site: SmallSite) -> None:
    site.readings(f"{TIME.format(1, 20, 250)},10", header="time,pulses,t_degc,p_kpag,pe_kpa")
    result = site.restate()
    assert result.exit_code == 0 and site.statuses() == ["ok"]
    assert "pe_kpa of 1 row was not used" in result.output
