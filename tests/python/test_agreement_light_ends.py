# SPDX-License-Identifier: Apache-2.0
"""Light ends (GPA TP-27) and compressibility of light hydrocarbons (API MPMS 11.2.2) against the reference equations of
state of CoolProp. The agreement stated is the largest difference seen, rounded up; without CoolProp the tests are
skipped, visibly. For the tables of 1980 no second implementation of a general-purpose library was found."""

from __future__ import annotations

from typing import Any

import numpy as np
import peers
import pytest
from flowcomp import methods
from peers import largest

RD60 = {"Ethane": 0.355994, "n-Propane": 0.507025, "IsoButane": 0.562827, "n-Butane": 0.584127, "Isopentane": 0.624285,
        "n-Pentane": 0.631054, "Isohexane": 0.657167, "n-Hexane": 0.664064, "n-Heptane": 0.688}


@pytest.fixture(scope="module")
def coolprop(request: pytest.FixtureRequest) -> Any:
    return peers.load(request, "CoolProp.CoolProp", "CoolProp")


def kelvin(t_degf: Any) -> np.ndarray:
    return (np.asarray(t_degf, dtype=float) + 459.67) / 1.8


def saturated(coolprop: Any, output: str, t_degf: Any, fluid: str) -> np.ndarray:
    return np.asarray(coolprop.PropsSI(output, "T", kelvin(t_degf), "Q", 0, fluid))


@pytest.mark.parametrize("fluid", RD60)
def test_relative_density(coolprop: Any, fluid: str) -> None:
    """The relative densities of the reference fluids, which are measured figures."""
    density = saturated(coolprop, "D", [60.0], fluid)[0]
    assert abs(density / 999.016 / RD60[fluid] - 1) < 0.0014


@pytest.mark.parametrize("fluid", [fluid for fluid in RD60 if fluid != "Ethane"])
@pytest.mark.parametrize(("low", "high", "agreement"), [(32.0, 100.0, 4.1e-4), (-50.8, 199.4, 1.7e-3)])
def test_ctl(coolprop: Any, fluid: str, low: float, high: float, agreement: float) -> None:
    t = np.linspace(low, high, 60)
    other = saturated(coolprop, "D", t, fluid) / saturated(coolprop, "D", [60.0], fluid)
    assert largest(methods.ctl60_light_ends_2007(rd60=RD60[fluid], t_degf=t) - other) < agreement


@pytest.mark.parametrize(("high", "agreement"), [(60.0, 8e-4), (85.0, 2.3e-3)])
def test_ctl_of_ethane(coolprop: Any, high: float, agreement: float) -> None:
    t = np.linspace(-50.8, high, 60)
    other = saturated(coolprop, "D", t, "Ethane") / saturated(coolprop, "D", [60.0], "Ethane")
    assert largest(methods.ctl60_light_ends_2007(rd60=RD60["Ethane"], t_degf=t) - other) < agreement


@pytest.mark.parametrize("fluid", ["n-Propane", "n-Butane", "n-Pentane"])
def test_observed_density(coolprop: Any, fluid: str) -> None:
    """The density of the equation of state at t, taken back to 60 degF."""
    t = np.linspace(-50.8, 130.0, 40)
    rd60 = methods.rd60_from_observed_light_ends_2007(rd=saturated(coolprop, "D", t, fluid) / 999.016, t_degf=t)
    assert largest(rd60 - saturated(coolprop, "D", [60.0], fluid) / 999.016) < 8e-4


@pytest.mark.parametrize(("fluid", "low", "high"), [
    ("n-Propane", -0.040, 0.049), ("n-Butane", -0.012, 0.048), ("IsoButane", -0.052, -0.015),
    ("n-Pentane", -0.060, -0.038)])
def test_compressibility(coolprop: Any, fluid: str, low: float, high: float) -> None:
    """F at equilibrium pressure against the isothermal compressibility there."""
    t = np.linspace(-20.0, 120.0, 60)
    other = saturated(coolprop, "ISOTHERMAL_COMPRESSIBILITY", t, fluid) * 6894.757293168 * 1e5
    ratio = methods.f_compressibility_1986(rd60=RD60[fluid], t_degf=t, dp_psi=0.0) / other - 1
    assert low < ratio.min() and ratio.max() < high
