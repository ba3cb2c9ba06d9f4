# SPDX-License-Identifier: Apache-2.0
"""A small invented meter and liquid, and where the helpers of the other tests lie."""

from __future__ import annotations

import sys
from pathlib import Path

import flowcomp as fc
import pytest

TESTS = Path(__file__).resolve().parents[1]
for folder in (TESTS, TESTS / "support", TESTS / "python"):
    if str(folder) not in sys.path:
        sys.path.insert(0, str(folder))


@pytest.fixture(scope="session")
def body() -> fc.Body:
    steel = fc.Metal.mean(16e-6, -50, 150, modulus_gpa=193, poisson=0.3, source="invented")
    return fc.Body(bore_m=0.0779, t0_degc=20, housing=steel, end="lame_closed", wall_m=0.0055)


@pytest.fixture(scope="session")
def fit(body: fc.Body) -> fc.Fit:
    """Invented points: a fall towards low Roshko numbers, a hump, a plateau."""
    points = [{"f_hz": f, "k_per_m3": k, "nu_mm2s": 2.0, "t_degc": 20.0, "p_kpag": 100.0}
              for f, k in [(20, 11_800), (50, 11_950), (100, 12_020), (200, 12_030), (400, 12_010), (800, 12_000)]]
    return fc.fit_certificate(points, body=body, convention="raw", treatment="as_run", reference="at_meter")


@pytest.fixture(scope="session")
def meter(body: fc.Body, fit: fc.Fit) -> fc.Meter:
    return fc.Meter("DN80 invented", body, fit.curve)


@pytest.fixture(scope="session")
def liquid() -> fc.Liquid:
    return fc.Liquid("invented jet fuel", volume="petroleum_2004", group="jet", base="15C", viscosity="points",
                     t_degc=[-20, 40], nu_mm2s=[4.6, 1.3], u_nu_relative=0.01, nu_source="invented report")


@pytest.fixture(scope="session")
def reading() -> dict[str, float]:
    return {"pulses": 720_000.0, "duration_s": 3600.0, "t_degc": 25.0, "p_kpag": 300.0, "rho_base_kgm3": 800.0}
