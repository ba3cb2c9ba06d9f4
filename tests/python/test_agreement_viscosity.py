# SPDX-License-Identifier: Apache-2.0
"""Viscosity models, index and Saybolt seconds against the package chemicals, an independent implementation of the same
formulas (and another transcription of the table of ASTM D2270). The agreement stated is the largest difference seen,
rounded up; without chemicals the tests are skipped, visibly. For Roelands, Kouzel, the blending rules and Furol seconds
no second implementation was found."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import peers
import pytest
from flowcomp import methods

T_K = np.linspace(250.0, 400.0, 60)


@pytest.fixture(scope="module")
def viscosity(request: pytest.FixtureRequest) -> Any:
    return peers.load(request, "chemicals.viscosity", "chemicals")


@pytest.fixture(scope="module")
def dippr(request: pytest.FixtureRequest) -> Any:
    return peers.load(request, "chemicals.dippr", "chemicals")


def milli(function: Callable[..., float], *coefficients: float) -> np.ndarray:
    """mPa s over T_K from a function of one temperature that gives Pa s."""
    return 1000.0 * np.array([function(t, *coefficients) for t in T_K])


def test_andrade(viscosity: Any) -> None:
    other = milli(viscosity.Viswanath_Natarajan_2, -5.9719 - math.log(100), 1007.0)
    ours = methods.mu_andrade(a=-5.9719 - math.log(100) + math.log(1000), b=1007.0, t_k=T_K)
    assert peers.largest(ours / other - 1) < 3e-15


def test_dutt_prasad(viscosity: Any) -> None:
    other = milli(viscosity.Viswanath_Natarajan_3, -2.7173 - 3.0, -1071.18, -129.51)
    ours = methods.mu_dutt_prasad(a=-2.7173, b=-1071.18, c=-129.51, t_k=T_K)
    assert peers.largest(ours / other - 1) < 5e-15


def test_power_law(viscosity: Any) -> None:
    other = milli(viscosity.Viswanath_Natarajan_2_exponential, 4900800.0, -3.8075)
    assert peers.largest(methods.mu_power_law(c=4900800.0, d=-3.8075, t_k=T_K) / other - 1) < 1e-15


def test_yaws(viscosity: Any) -> None:
    other = milli(viscosity.mu_Yaws, -9.4406, 1117.6, 0.0137, -1.5465e-5)
    assert peers.largest(methods.mu_yaws(a=-9.4406, b=1117.6, c=0.0137, d=-1.5465e-5, t_k=T_K) / other - 1) < 5e-15


@pytest.mark.parametrize("coefficients", [(-9.4622, 877.07, -0.23445, 1.4022e22, -10),
                                          (-804.54, 30487, 130.79, -0.15449, 1),
                                          (-52.843, 3703.6, 5.866, -5.879e-29, 10)])
def test_dippr101(dippr: Any, coefficients: tuple[float, ...]) -> None:
    other = milli(dippr.EQ101, *coefficients)
    ours = methods.mu_dippr101(**dict(zip(("c1", "c2", "c3", "c4", "c5"), coefficients, strict=True)), t_k=T_K)
    assert peers.largest(ours / other - 1) < 5e-13  # terms of 800 that cancel


def test_table_of_the_index(viscosity: Any) -> None:
    """Both transcriptions have the same 311 rows."""
    y = np.asarray(viscosity.VI_nus)
    assert len(y) == 311
    assert peers.largest(methods.l_d2270(nu100_mm2s=y) - np.asarray(viscosity.VI_Ls)) < 1e-12
    assert peers.largest(methods.h_d2270(nu100_mm2s=y) - np.asarray(viscosity.VI_Hs)) < 1e-12


def test_index(viscosity: Any) -> None:
    """Over the table and the formula above it; at 70 mm2/s itself chemicals takes the formula already."""
    vi, y = np.meshgrid(np.linspace(-49.9, 350.2, 81), np.geomspace(2.0, 900.0, 80))  # no integers: see below
    u = methods.nu40_from_vi_d2270(vi=vi, nu100_mm2s=y, on_refused="nan")
    there = ~np.isnan(u)
    u, y, vi = u[there], y[there], vi[there]
    pairs = list(zip(u * 1e-6, y * 1e-6, strict=True))
    assert len(pairs) > 5000
    assert peers.largest(np.array([viscosity.viscosity_index(a, b) for a, b in pairs]) - vi) < 2e-11
    # chemicals rounds an exact integer down to the one before; where there is none, both report the same
    reported = np.array([viscosity.viscosity_index(a, b, rounding=True) for a, b in pairs])
    plain = (np.abs(vi - np.rint(vi)) > 1e-6) & (np.abs(vi - np.floor(vi) - 0.5) > 1e-6)
    assert plain.sum() > 5000
    assert np.array_equal(reported[plain], methods.vi_d2270_reported(nu40_mm2s=u, nu100_mm2s=y)[plain])


def test_saybolt_universal(viscosity: Any) -> None:
    nu = np.geomspace(1.81, 499.9, 200)
    other = np.array([viscosity.Saybolt_universal_eq(v) for v in nu])
    assert peers.largest(methods.sus_d2161(nu_mm2s=nu, t_degf=100.0) / other - 1) < 1e-15
    back = np.array([1e6 * viscosity.viscosity_converter(s, "saybolt universal", "kinematic viscosity") for s in other])
    assert peers.largest(methods.nu_from_sus_d2161(sus=other, t_degf=100.0) / back - 1) < 1e-9
