# SPDX-License-Identifier: Apache-2.0
"""Aromatics, water and sea water against independent implementations of reference equations of state: CoolProp, iapws
(IAPWS-95, R12-08) and gsw (TEOS-10). The agreement stated is the largest difference seen, rounded up; a library that is
not installed skips its tests, visibly. For ethanol-water see test_agreement_general.py."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Any

import numpy as np
import peers
import pytest
from flowcomp import methods
from peers import largest

P_ATM = 101325.0


Peer = Callable[[str, str], Any]


@pytest.fixture(scope="module")
def peer(request: pytest.FixtureRequest) -> Peer:
    """The module of another implementation."""
    return functools.partial(peers.load, request)


@pytest.fixture(scope="module")
def coolprop(peer: Peer) -> Any:
    return peer("CoolProp.CoolProp", "CoolProp")


def liquid(coolprop: Any, output: str, t_degc: Any, p_pa: Any = P_ATM, fluid: str = "Water") -> np.ndarray:
    """A property of the liquid at t and p; above the boiling point a shade above saturation."""
    t, p = np.broadcast_arrays(np.asarray(t_degc, dtype=float) + 273.15, p_pa)
    saturation = np.asarray(coolprop.PropsSI("P", "T", t.ravel(), "Q", 0, fluid)).reshape(t.shape)
    values = coolprop.PropsSI(output, "T", t.ravel(), "P", np.maximum(p, 1.0001 * saturation).ravel(), fluid)
    return np.asarray(values).reshape(t.shape)


# --- aromatics --------------------------------------------------------------------------------------------------------

FLUIDS = {"benzene": "Benzene", "cyclohexane": "CycloHexane", "ethylbenzene": "EthylBenzene", "toluene": "Toluene",
          "m_xylene": "m-Xylene", "o_xylene": "o-Xylene", "p_xylene": "p-Xylene"}


@pytest.mark.parametrize("fluid", FLUIDS)
@pytest.mark.parametrize(("low", "high", "agreement"), [(44.0, 100.0, 3.1e-4), (44.0, 140.0, 9.0e-4)])
def test_aromatics(coolprop: Any, fluid: str, low: float, high: float, agreement: float) -> None:
    t = np.linspace(max(low, 56.0) if fluid == "p_xylene" else low, high, 40)
    other = (liquid(coolprop, "D", (t - 32) / 1.8, fluid=FLUIDS[fluid])
             / liquid(coolprop, "D", 140 / 9, fluid=FLUIDS[fluid]))
    assert largest(methods.ctl60_aromatics_d1555(fluid=fluid, t_degf=t) - other) < agreement


# --- water at 1 atm ---------------------------------------------------------------------------------------------------

@pytest.mark.parametrize(("name", "low", "high", "agreement_kgm3"), [
    ("rho_water_cipm_2001", 0.01, 40.0, 0.0012), ("rho_water_patterson_morris_1994", 1.0, 40.0, 0.0017),
    ("rho_water_jones_harris_1992", 5.0, 40.0, 0.0053), ("rho_water_kell_1975", 0.01, 40.0, 0.0036),
    ("rho_water_kell_1975", 0.01, 99.0, 0.015), ("rho_water_kell_1975", 99.0, 150.0, 0.18)])
def test_density_at_1_atm(coolprop: Any, name: str, low: float, high: float, agreement_kgm3: float) -> None:
    t = np.linspace(low, high, 80)
    assert largest(getattr(methods, name)(t_degc=t) - liquid(coolprop, "D", t)) < agreement_kgm3


@pytest.mark.parametrize(("name", "low", "high", "agreement"), [
    ("ctl_water_cipm_2001", 0.01, 40.0, 1.1e-6), ("ctl_water_patterson_morris_1994", 1.0, 40.0, 8e-7),
    ("ctl_water_jones_harris_1992", 5.0, 40.0, 1.9e-6), ("ctl_water_kell_1975", 0.01, 99.0, 1.8e-5)])
def test_ctl(coolprop: Any, name: str, low: float, high: float, agreement: float) -> None:
    t = np.linspace(low, high, 80)
    other = liquid(coolprop, "D", t) / liquid(coolprop, "D", 15.0)
    assert largest(getattr(methods, name)(t_degc=t, t_base_degc=15.0) - other) < agreement


@pytest.mark.parametrize(("p_high_kpa", "agreement"), [(1000.0, 1.5e-6), (2000.0, 4.0e-6)])
def test_pressure_term_of_cipm(coolprop: Any, p_high_kpa: float, agreement: float) -> None:
    t, p = np.meshgrid(np.linspace(0.01, 40, 30), np.linspace(10.0, p_high_kpa, 12))
    ours = methods.rho_water_cipm_2001(t_degc=t, p_kpa=p) / methods.rho_water_cipm_2001(t_degc=t)
    assert largest(ours - liquid(coolprop, "D", t, 1000 * p) / liquid(coolprop, "D", t)) < agreement


@pytest.mark.parametrize(("high", "agreement"), [(99.0, 1.5e-4), (150.0, 1.6e-3)])
def test_compressibility(coolprop: Any, high: float, agreement: float) -> None:
    t = np.linspace(0.01, high, 60)
    other = 1e11 * liquid(coolprop, "ISOTHERMAL_COMPRESSIBILITY", t)
    assert largest(methods.kappa_water_kell_1975(t_degc=t) / other - 1) < agreement


def test_cpl_of_common_practice(coolprop: Any) -> None:
    t, p = np.meshgrid(np.linspace(1, 90, 30), np.linspace(0, 1500, 10))
    other = liquid(coolprop, "D", t, P_ATM + 6894.757293168 * p) / liquid(coolprop, "D", t)
    assert largest(methods.cpl_water_common_practice(p_psig=p) - other) < 3.5e-4


@pytest.mark.parametrize(("low", "high", "agreement"), [(50.0, 200.0, 2.2e-4), (40.0, 50.0, 6e-4)])
def test_produced_water_without_salt(coolprop: Any, low: float, high: float, agreement: float) -> None:
    t = np.linspace(low, high, 60)
    other = liquid(coolprop, "D", (t - 32) / 1.8) / liquid(coolprop, "D", 140 / 9)
    assert largest(methods.ctl60_produced_water_api20(rho60_kgm3=999.0, t_degf=t) - other) < agreement


# --- IAPWS-95 ---------------------------------------------------------------------------------------------------------

def single_phase(coolprop: Any) -> tuple[np.ndarray, np.ndarray]:
    """Temperatures and densities outside the dome."""
    points = [(t, rho) for t in np.linspace(274.0, 1200.0, 30) for rho in (0.1, 5.0, 200.0, 600.0, 900.0, 1e3, 1150.0)
              if t > 648 or rho > 1.0001 * coolprop.PropsSI("D", "T", t, "Q", 0, "Water")
              or rho < 0.9999 * coolprop.PropsSI("D", "T", t, "Q", 1, "Water")]
    t, rho = np.array(points).T
    return t, rho


def test_pressure(coolprop: Any, peer: Peer) -> None:
    """Differences of pressure count as those of density: over rho dp/drho."""
    iapws = peer("iapws", "iapws")
    t, rho = single_phase(coolprop)
    ours = methods.p_water_iapws95(t_k=t, rho_kgm3=rho)
    stiffness = (methods.p_water_iapws95(t_k=t, rho_kgm3=rho * (1 + 1e-6)) - ours) / 1e-6
    assert largest((ours - coolprop.PropsSI("P", "T", t, "D", rho, "Water") / 1e6) / stiffness) < 1e-12
    others = np.array([iapws.IAPWS95(T=one_t, rho=one_rho).P for one_t, one_rho in zip(t, rho)])
    assert largest((ours - others) / stiffness) < 1e-12


def test_density_of_the_liquid(coolprop: Any) -> None:
    t = np.linspace(273.16, 643.0, 60)
    saturation = methods.p_saturation_water_sr1_86(t_k=t)
    assert largest(saturation * 1e6 / coolprop.PropsSI("P", "T", t, "Q", 0, "Water") - 1) < 1e-4
    for p in (1.01 * saturation, np.maximum(saturation * 1.2, 1.0), np.full_like(t, 25.0), np.full_like(t, 600.0)):
        ours = methods.rho_water_iapws95(t_k=t, p_mpa=p)
        assert largest(ours / coolprop.PropsSI("D", "T", t, "P", 1e6 * p, "Water") - 1) < 1e-10


# --- viscosity --------------------------------------------------------------------------------------------------------

def test_viscosity_r12_08(coolprop: Any, peer: Peer) -> None:
    """CoolProp includes mu2, which this library leaves out; iapws does not, away from the critical point."""
    iapws = peer("iapws._iapws", "iapws")
    t, rho = np.meshgrid(np.linspace(260, 1100, 20), np.linspace(0.5, 1200, 25))
    others = np.array([iapws._Viscosity(one_rho, one_t) for one_rho, one_t in zip(rho.ravel(), t.ravel())])
    ours = methods.mu_water_r12_08(t_k=t.ravel(), rho_kgm3=rho.ravel())
    assert largest(ours / (1000 * others) - 1) < 1e-12
    for high, agreement in ((500.0, 1e-8), (640.0, 1.5e-3)):
        t = np.linspace(274.0, high, 40)
        rho = 1.0001 * coolprop.PropsSI("D", "T", t, "Q", 0, "Water")
        other = 1000 * coolprop.PropsSI("V", "T", t, "D", rho, "Water")
        assert largest(methods.mu_water_r12_08(t_k=t, rho_kgm3=rho) / other - 1) < agreement


def test_viscosity_at_1_atm(coolprop: Any) -> None:
    """The density of Kell instead of that of IAPWS-95 costs 3e-5."""
    t = np.linspace(0.01, 99.0, 60)
    other = 1000 * liquid(coolprop, "V", t)
    assert largest(methods.mu_water_1atm(t_degc=t) / other - 1) < 3.1e-5
    assert largest(methods.mu_water_sr6_08(t_k=t + 273.15) / other - 1) < 5e-5


# --- sea water --------------------------------------------------------------------------------------------------------

@pytest.mark.parametrize(("p_high_bar", "agreement_kgm3"), [(0.0, 0.012), (100.0, 0.012), (1000.0, 0.05)])
def test_sea_water(peer: Peer, p_high_bar: float, agreement_kgm3: float) -> None:
    """EOS-80 against TEOS-10: another equation, on ITS-90 and with absolute salinity, which is 35.16504 / 35 of the
    practical one in the composition of the open ocean."""
    gsw = peer("gsw", "gsw")
    s, t68, p = np.meshgrid(np.linspace(0, 42, 15), np.linspace(-2, 40, 22), np.linspace(0, p_high_bar, 5))
    ours = methods.rho_seawater_eos80(s_psu=s, t_degc=t68, p_bar=p)
    assert largest(ours - gsw.rho_t_exact(s * 35.16504 / 35, 0.99976 * t68, 10 * p)) < agreement_kgm3


def test_ctl_of_sea_water(peer: Peer) -> None:
    gsw = peer("gsw", "gsw")
    s, t = np.meshgrid(np.linspace(0, 42, 15), np.linspace(-2, 40, 22))
    sa = s * 35.16504 / 35
    other = gsw.rho_t_exact(sa, t, 0) / gsw.rho_t_exact(sa, np.full_like(t, 15.0), 0)
    assert largest(methods.ctl_seawater_eos80(s_psu=s, t_degc=t, t_base_degc=15.0) - other) < 1e-5
