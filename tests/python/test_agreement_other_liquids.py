# SPDX-License-Identifier: Apache-2.0
"""Saturated liquids, COSTALD, biodiesel and glycol-water against the equations of state and tables of CoolProp, and
COSTALD against the package chemicals, an independent implementation of the same formulas. The agreement stated is the largest
difference seen, rounded up; a package that is not installed skips its tests, visibly. For the density of LNG no second
implementation of ISO 6578 was found; CoolProp's mixture of reference equations of state takes its place."""

from __future__ import annotations

from typing import Any

import numpy as np
import peers
import pytest
from flowcomp import methods

FLUIDS = {"carbon_dioxide": "CarbonDioxide", "ethane": "Ethane", "ethylene": "Ethylene", "isobutane": "IsoButane",
          "methane": "Methane", "n_butane": "n-Butane", "n_hexane": "n-Hexane", "n_pentane": "n-Pentane",
          "nitrogen": "Nitrogen", "propane": "n-Propane", "propylene": "Propylene", "water": "Water"}


@pytest.fixture(scope="module")
def coolprop(request: pytest.FixtureRequest) -> Any:
    return peers.load(request, "CoolProp.CoolProp", "CoolProp")


@pytest.fixture(scope="module")
def chemicals(request: pytest.FixtureRequest) -> Any:
    return peers.load(request, "chemicals", "chemicals")


def temperatures(coolprop: Any, fluid: str, low: float, high: float) -> np.ndarray:
    """From the triple point or low to high, both reduced."""
    critical, triple = (coolprop.PropsSI(name, FLUIDS[fluid]) for name in ("Tcrit", "Ttriple"))
    return np.linspace(max(1.0001 * triple, low * critical), high * critical, 50)


def saturated(coolprop: Any, output: str, t_k: np.ndarray, fluid: str) -> np.ndarray:
    return np.asarray(coolprop.PropsSI(output, "T", t_k, "Q", 0, FLUIDS[fluid]))


# --- ancillary equations ----------------------------------------------------------------------------------------------

@pytest.mark.parametrize(("fluid", "to_085", "to_095", "to_0999"), [
    ("carbon_dioxide", 8e-5, 8e-5, 4e-4), ("ethane", 5e-5, 5e-5, 3e-4), ("ethylene", 4e-5, 4e-5, 5e-4),
    ("isobutane", 8e-5, 9e-4, 2.4e-3), ("methane", 4e-6, 1.4e-5, 4e-4), ("n_butane", 1.1e-4, 1.2e-4, 1.6e-2),
    ("nitrogen", 5e-5, 5e-5, 8e-5), ("propane", 8e-5, 1e-4, 9e-4), ("propylene", 4.7e-4, 4.7e-4, 5.2e-4),
    ("water", 2.2e-4, 2.9e-4, 2.3e-3)])
def test_ancillary(coolprop: Any, fluid: str, to_085: float, to_095: float, to_0999: float) -> None:
    for high, agreement in ((0.85, to_085), (0.95, to_095), (0.999, to_0999)):
        t = temperatures(coolprop, fluid, 0.0, high)
        other = saturated(coolprop, "D", t, fluid)
        assert peers.largest(methods.rho_saturated_liquid_ancillary(fluid=fluid, t_k=t) / other - 1) < agreement


@pytest.mark.parametrize("fluid", ["ethane", "ethylene", "isobutane", "n_butane", "propane", "propylene"])
def test_ctl_to_15_degc(coolprop: Any, fluid: str) -> None:
    t = np.linspace(253.15, min(313.15, 0.93 * coolprop.PropsSI("Tcrit", FLUIDS[fluid])), 30)
    base = 288.15 if fluid not in ("ethane", "ethylene") else 253.15
    other = saturated(coolprop, "D", t, fluid) / saturated(coolprop, "D", np.array([base]), fluid)
    ours = methods.ctl_saturated_liquid_ancillary(fluid=fluid, t_k=t, t_base_k=base)
    assert peers.largest(ours - other) < 8e-5


def test_triple_points(coolprop: Any) -> None:
    """The lowest temperature that is taken is the triple point: just above there is an answer, just below a refusal."""
    for fluid in ("carbon_dioxide", "ethane", "methane", "n_butane", "propane", "propylene", "water"):
        triple = coolprop.PropsSI("Ttriple", FLUIDS[fluid])
        given = methods.rho_saturated_liquid_ancillary(fluid=fluid, t_k=np.array([triple - 0.01, triple + 0.01]),
                                                       on_refused="nan")
        assert np.isnan(given[0])
        assert not np.isnan(given[1])


# --- COSTALD ----------------------------------------------------------------------------------------------------------

@pytest.mark.parametrize(("fluid", "density", "compression"), [
    ("ethane", 2.7e-3, 2.4e-3), ("ethylene", 3.7e-3, 2.7e-3), ("isobutane", 5e-4, 4.3e-3), ("methane", 3e-3, 1.4e-3),
    ("n_butane", 1.5e-3, 3.5e-3), ("n_hexane", 3.6e-3, 3.6e-3), ("n_pentane", 3.8e-3, 3.6e-3),
    ("propane", 9e-4, 3.2e-3), ("propylene", 4e-3, 2.7e-3)])
def test_costald(coolprop: Any, fluid: str, density: float, compression: float) -> None:
    """From 0.5 to 0.85 Tc; compressed to 10 MPa."""
    t = temperatures(coolprop, fluid, 0.5, 0.85)
    rho, p_sat = saturated(coolprop, "D", t, fluid), saturated(coolprop, "P", t, fluid)
    assert peers.largest(methods.rho_saturated_liquid_costald_1979(fluid=fluid, t_k=t) / rho - 1) < density
    other = np.asarray(coolprop.PropsSI("D", "T", t, "P", 1e7, FLUIDS[fluid])) / rho
    ours = methods.cpl_costald_1982(fluid=fluid, t_k=t, p_kpa=1e4, psat_kpa=p_sat / 1000.0,
                                    pc_kpa=coolprop.PropsSI("pcrit", FLUIDS[fluid]) / 1000.0)
    assert peers.largest(ours - other) < compression


def test_costald_formulas(chemicals: Any) -> None:
    """n-Hexane with the same constants: molar volume in m3/mol, pressures in Pa."""
    t = np.linspace(130.0, 480.0, 60)
    other = np.array([86.1754e-3 / chemicals.COSTALD(v, 507.43, 0.3682e-3, 0.3007) for v in t])
    assert peers.largest(methods.rho_saturated_liquid_costald_1979(fluid="n_hexane", t_k=t) / other - 1) < 4e-15
    p, t = np.meshgrid(np.linspace(200.0, 60000.0, 30), t[t < 450])
    other = np.array([1.0 / chemicals.COSTALD_compressed(a, 1e3 * b, 1e5, 507.43, 3.025e6, 0.3007, 1.0)
                      for a, b in zip(t.ravel(), p.ravel(), strict=True)]).reshape(t.shape)
    ours = methods.cpl_costald_1982(fluid="n_hexane", t_k=t, p_kpa=p, psat_kpa=100.0, pc_kpa=3025.0)
    assert peers.largest(ours / other - 1) < 2e-14


# --- biodiesel --------------------------------------------------------------------------------------------------------

def test_fame(coolprop: Any) -> None:
    """Methyl oleate and linoleate, whose equations of state expand 0.6 and 1.7 % more than the standard says."""
    t = np.linspace(20.0, 60.0, 21)
    for fluid in ("MethylOleate", "MethylLinoleate"):
        rho = np.asarray(coolprop.PropsSI("D", "T", t + 273.15, "P", 101325.0, fluid))
        rho15 = coolprop.PropsSI("D", "T", 288.15, "P", 101325.0, fluid)
        assert peers.largest(methods.rho15_fame_en14214(rho_kgm3=rho, t_degc=t) / rho15 - 1) < 7e-4


# --- glycol -----------------------------------------------------------------------------------------------------------

@pytest.mark.parametrize(("short", "rho_method", "mu_method", "density", "viscosity"), [
    ("MEG", "rho_meg_water_melinder_2010", "mu_meg_water_melinder_2010", 1.3e-3, 0.042),
    ("MPG", "rho_mpg_water_melinder_2010", "mu_mpg_water_melinder_2010", 8e-4, 0.038)])
def test_glycol(coolprop: Any, short: str, rho_method: str, mu_method: str, density: float, viscosity: float) -> None:
    """The same coefficients in another hand (CoolProp's MEG, MPG), and the author's older tables (MEG2, MPG2)."""
    for x in (0.2, 0.3, 0.4, 0.5, 0.55):
        for t in np.linspace(-5.0, 39.0, 12):
            rho, mu = (float(getattr(methods, name)(mass_fraction=x, t_degc=t)) for name in (rho_method, mu_method))
            same_rho, same_mu, older_rho, older_mu = (
                coolprop.PropsSI(output, "T", t + 273.15, "P", 101325.0, f"INCOMP::{short}{edition}[{x}]")
                for edition in ("", "2") for output in ("D", "V"))
            assert abs(rho / same_rho - 1) < 1e-14
            assert abs(mu / (1000.0 * same_mu) - 1) < 1e-6  # its constant holds ln 1000 in fewer digits
            assert abs(rho / older_rho - 1) < density
            assert abs(mu / (1000.0 * older_mu) - 1) < viscosity


# --- LNG --------------------------------------------------------------------------------------------------------------

@pytest.mark.parametrize("composition", [{"x_c1": 0.92, "x_c2": 0.05, "x_c3": 0.018, "x_nc4": 0.004, "x_ic4": 0.003,
                                          "x_n2": 0.005},
                                         {"x_c1": 0.98, "x_c2": 0.01, "x_n2": 0.01}, {"x_c1": 0.9, "x_c2": 0.1},
                                         {"x_c1": 0.86, "x_c2": 0.09, "x_c3": 0.03, "x_nc4": 0.01, "x_ic4": 0.01}])
def test_lng(coolprop: Any, composition: dict[str, float]) -> None:
    """At the bubble point, within the 0.1 % that the method promises."""
    names = {"x_c1": "Methane", "x_c2": "Ethane", "x_c3": "Propane", "x_nc4": "n-Butane", "x_ic4": "IsoButane",
             "x_n2": "Nitrogen"}
    state = coolprop.AbstractState("HEOS", "&".join(names[key] for key in composition))
    state.set_mole_fractions(list(composition.values()))
    for t in (100.0, 105.0, 110.0, 114.0):
        state.update(coolprop.QT_INPUTS, 0, t)
        ours = float(methods.rho_lng_iso6578(t_k=t, **composition))
        assert abs(ours / state.rhomass() - 1) < 9e-4
