# SPDX-License-Identifier: Apache-2.0
"""Fits, tables, statistics, similarity, EOS-80 and ethanol-water against general-purpose libraries: numpy and scipy (least
squares, interpolation, distributions), fluids and chemicals (dimensionless numbers, units), seawater (EOS-80 in another
hand) and CoolProp (tables of ethanol-water). The agreement stated is the largest difference seen, rounded up. Found in no
general-purpose library: the two-metal body, prover steel, provings, pulses, legal limits, and the petroleum tables."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from typing import Any

import numpy as np
import peers
import pytest
from flowcomp import methods
from peers import largest

Peer = Callable[[str, str], Any]
P_ATM = 101325.0


@pytest.fixture(scope="module")
def peer(request: pytest.FixtureRequest) -> Peer:
    """The module of another implementation."""
    return functools.partial(peers.load, request)


# --- fits and tables --------------------------------------------------------------------------------------------------

T = np.array([-20.0, 0.0, 15.0, 40.0, 70.0, 100.0])
NU = np.array([31.0, 11.2, 6.4, 3.05, 1.71, 1.13])


@pytest.mark.parametrize("form", ["simple", "body", "full"])
def test_line_of_d341_by_least_squares(peer: Peer, form: str) -> None:
    numpy = peer("numpy", "numpy")
    points = (T[:3], NU[:3]) if form == "simple" else (T, NU)
    w = [methods.w_d341(nu_mm2s=float(v), form=form) for v in points[1]]
    slope, at_zero = numpy.polyfit(np.log10(points[0] + 273.15), w, 1)
    given = {"t_fit_degc": points[0].tolist(), "nu_fit_mm2s": points[1].tolist(), "form": form}
    assert abs(methods.b_d341_lsq(**given) / -slope - 1) < 1e-12
    assert abs(methods.a_d341_lsq(**given) / at_zero - 1) < 1e-12


def test_andrade_by_least_squares(peer: Peer) -> None:
    numpy = peer("numpy", "numpy")
    slope, at_zero = numpy.polyfit(1 / (T + 273.15), np.log(NU), 1)
    given = {"t_fit_degc": T.tolist(), "mu_fit_mpas": NU.tolist()}
    assert abs(methods.b_andrade_lsq(**given) / slope - 1) < 1e-12
    assert abs(methods.a_andrade_lsq(**given) / at_zero - 1) < 1e-12
    assert abs(methods.d_andrade_lsq(**given) / math.exp(at_zero) - 1) < 1e-11
    assert abs(methods.mu_andrade_lsq(t_degc=33.0, **given) / math.exp(at_zero + slope / 306.15) - 1) < 1e-13


def test_linear_tables(peer: Peer) -> None:
    numpy = peer("numpy", "numpy")
    rho = [870.0, 851.0, 840.0, 822.5, 801.0, 779.0]
    for t in np.linspace(-20, 100, 49):
        ours = methods.rho_table_linear(t_degc=float(t), t_table_degc=T.tolist(), rho_table_kgm3=rho)
        assert abs(ours / numpy.interp(t, T, rho) - 1) < 1e-15
        if 15 <= t <= 40:
            ours = methods.youngs_modulus_interpolated_gpa(t_degc=float(t), t1_degc=15, e1_gpa=200, t2_degc=40, e2_gpa=198)
            assert abs(ours / numpy.interp(t, [15, 40], [200, 198]) - 1) < 1e-15


def test_two_dimensional_table(peer: Peer) -> None:
    interpolate = peer("scipy.interpolate", "scipy")
    t, p = np.array([0.0, 20.0, 50.0]), np.array([0.0, 1000.0, 5000.0, 9000.0])
    rho = 850.0 - 0.7 * t[:, None] + 6e-4 * p + 1e-6 * t[:, None] * p
    other = interpolate.RegularGridInterpolator((t, p), rho)
    table = {"t_table_degc": np.repeat(t, 4).tolist(), "p_table_kpag": np.tile(p, 3).tolist(),
             "rho_table_kgm3": rho.ravel().tolist()}
    for at_t in np.linspace(0, 50, 9):
        for at_p in np.linspace(0, 9000, 8):
            ours = methods.rho_table_bilinear(t_degc=float(at_t), p_kpag=float(at_p), **table)
            assert abs(ours / other([at_t, at_p])[0] - 1) < 1e-14


def test_polynomial(peer: Peer) -> None:
    polynomial = peer("numpy.polynomial", "numpy")
    c = [870.0, -0.7, 1e-4, -2e-6]
    for t in np.linspace(-50, 150, 41):
        other = polynomial.polynomial.polyval(t, c)
        assert abs(methods.rho_polynomial(t=float(t), t_low=-50, t_high=150, c=c) / other - 1) < 1e-15
        ratio = methods.ctl_polynomial(t=float(t), t_base=15.0, t_low=-50, t_high=150, c=c)
        assert abs(ratio / (other / polynomial.polynomial.polyval(15.0, c)) - 1) < 1e-15


def test_vogel(peer: Peer) -> None:
    """chemicals writes it with powers of ten and the other sign of C."""
    viscosity = peer("chemicals.viscosity", "chemicals")
    for t in np.linspace(250.0, 400.0, 31):
        other = 1000 * viscosity.Viswanath_Natarajan_3(t, (-3.2 - math.log(1000)) / math.log(10), -780.0 / math.log(10), -160.0)
        assert abs(methods.mu_vogel(a=-3.2, b=780.0, c=160.0, t_k=float(t)) / other - 1) < 5e-14


# --- statistics -------------------------------------------------------------------------------------------------------

def test_student(peer: Peer) -> None:
    stats = peer("scipy.stats", "scipy")
    for nu in (1.0, 2.0, 4.0, 9.0, 29.0, 250.5):
        for p in (0.5, 0.9, 0.95, 0.99, 0.999):
            assert abs(methods.student_t(probability=p, nu=nu) / stats.t.ppf(0.5 + p / 2, nu) - 1) < 1e-9


def test_mean_range(peer: Peer) -> None:
    """d2 by quadrature; A2, D3, D4 and the ranges of runs from it."""
    integrate, special, stats = (peer(f"scipy.{name}", "scipy") for name in ("integrate", "special", "stats"))
    for n in (2, 3, 5, 10, 25, 100):
        d2 = integrate.quad(lambda x, n=n: 1 - special.ndtr(-x) ** n - special.ndtr(x) ** n, -12, 12, epsabs=1e-13,
                            limit=200)[0]
        assert abs(methods.control_chart_d2(n=n) / d2 - 1) < 1e-12
        assert abs(methods.control_chart_a2(n=n) * d2 * math.sqrt(n) / 3 - 1) < 1e-12
        c4 = math.sqrt(2 / (n - 1)) * math.exp(special.gammaln(n / 2) - special.gammaln((n - 1) / 2))
        assert abs(methods.control_chart_c4(n=n) / c4 - 1) < 1e-12
        allowed = 0.027 * math.sqrt(n) * d2 / stats.t.ppf(0.975, n - 1)
        assert abs(methods.repeatability_limit_pct(n=n, target_pct=0.027, probability=0.95) / allowed - 1) < 1e-9
        found = methods.mean_uncertainty_from_range_pct(n=n, range_pct=allowed, probability=0.95)
        assert abs(found / 0.027 - 1) < 1e-9


def test_spread_of_the_range(peer: Peer) -> None:
    """The mean square of the range by double quadrature over its ends x < y."""
    integrate, special = (peer(f"scipy.{name}", "scipy") for name in ("integrate", "special"))

    def tail(y: float, x: float, n: int) -> float:
        low, high = special.ndtr(-x), special.ndtr(y)
        return 1 - high ** n - low ** n + (high + low - 1) ** n
    for n in (2, 5, 10):
        square = 2 * integrate.dblquad(tail, -8, 8, lambda x: x, 8, args=(n,), epsabs=1e-10)[0]
        d2 = methods.control_chart_d2(n=n)
        spread = math.sqrt(square - d2 ** 2)
        assert abs(methods.control_chart_d3(n=n) / spread - 1) < 1e-8
        assert abs(methods.control_chart_range_upper_d4(n=n) - (1 + 3 * spread / d2)) < 1e-7
        assert abs(methods.control_chart_range_lower_d3(n=n) - max(0.0, 1 - 3 * spread / d2)) < 1e-7


def test_means(peer: Peer) -> None:
    numpy = peer("numpy", "numpy")
    mf = [1.0021, 1.0017, 1.0024, 1.0019, 1.0022, 1.0018]
    assert abs(methods.mf_chart_mean(mf=mf) / numpy.mean(mf) - 1) < 1e-15
    assert abs(methods.mf_chart_stdev(mf=mf) / numpy.std(mf, ddof=1) - 1) < 1e-12
    assert abs(methods.mf_chart_sigma_moving_range(mf=mf, d2=1.128) / numpy.mean(numpy.abs(numpy.diff(mf))) * 1.128 - 1) < 1e-12
    volumes, values = [10.0, 0.0, 35.0, 5.0], [20.0, 99.0, 21.5, 19.0]
    ours = methods.flow_weighted_average(volumes=volumes, values=values)
    assert abs(ours / numpy.average(values, weights=volumes) - 1) < 1e-15


# --- dimensionless numbers and units ----------------------------------------------------------------------------------

def test_reynolds(peer: Peer) -> None:
    fluids = peer("fluids", "fluids")
    for q_lpm, d_mm, nu in ((400.0, 52.5, 1.2), (5.0, 10.0, 300.0), (60000.0, 600.0, 0.5)):
        v = q_lpm / 60000 / (math.pi / 4 * (d_mm / 1000) ** 2)
        assert abs(methods.pipe_velocity_m_per_s(q_lpm=q_lpm, d_mm=d_mm) / v - 1) < 1e-15
        other = fluids.Reynolds(V=v, D=d_mm / 1000, nu=nu * 1e-6)
        assert abs(methods.reynolds(q_lpm=q_lpm, d_mm=d_mm, nu_mm2s=nu) / other - 1) < 1e-14


def test_kinematic_and_dynamic(peer: Peer) -> None:
    fluids = peer("fluids", "fluids")
    for rho, nu in ((998.0, 1.0), (870.0, 35.5), (720.0, 0.61)):
        mu = 1000 * fluids.nu_mu_converter(rho, nu=nu * 1e-6)
        assert abs(methods.mu_from_nu_rho(nu_mm2s=nu, rho_kgm3=rho) / mu - 1) < 1e-14
        other = 1e6 * fluids.nu_mu_converter(rho, mu=mu / 1000)
        assert abs(methods.nu_from_mu_rho(mu_mpas=mu, rho_kgm3=rho) / other - 1) < 1e-14


def test_api_gravity(peer: Peer) -> None:
    utils = peer("chemicals.utils", "chemicals")
    for api in (-10.0, 0.0, 10.0, 36.5, 100.0):
        assert abs(methods.rho60_from_api60_petroleum_2004(api60=api) / (999.016 * utils.API_to_SG(api)) - 1) < 1e-15
    for rho in (650.0, 850.0, 1050.0):
        assert abs(methods.api60_from_rho60_petroleum_2004(rho60_kgm3=rho) - utils.SG_to_API(rho / 999.016)) < 1e-12


# --- sea water and ethanol --------------------------------------------------------------------------------------------

@pytest.mark.filterwarnings("ignore:The seawater library is deprecated")
def test_eos80_in_another_hand(peer: Peer) -> None:
    """seawater takes temperatures of ITS-90, times 1.00024, and pressures in dbar."""
    seawater = peer("seawater", "seawater")
    s, t68, p = np.meshgrid(np.linspace(0, 42, 15), np.linspace(-2, 40, 22), np.linspace(0, 1000, 6))
    other = seawater.dens(s, t68 / 1.00024, 10 * p)
    assert largest(methods.rho_seawater_eos80(s_psu=s, t_degc=t68, p_bar=p) / other - 1) < 1e-14
    compressed = other / seawater.dens(s, t68 / 1.00024, 0 * p)
    assert largest(methods.cpl_seawater_eos80(s_psu=s, t_degc=t68, p_bar=p) / compressed - 1) < 1e-14
    back = methods.s_psu_from_observed_seawater_eos80(rho_kgm3=other[:, 1:-1], t_degc=t68[:, 1:-1],
                                                     p_bar=p[:, 1:-1])
    assert largest(back - s[:, 1:-1]) < 1e-10


@pytest.mark.parametrize("mass_fraction", [0.1, 0.2, 0.3, 0.4, 0.5])
def test_ethanol_water(peer: Peer, mass_fraction: float) -> None:
    """Melinder's fit of ethyl alcohol and water, other data: density within 0.12 %."""
    coolprop = peer("CoolProp.CoolProp", "CoolProp")
    t = np.linspace(0.0, 40.0, 21)
    other = [coolprop.PropsSI("D", "T", x + 273.15, "P", P_ATM, f"INCOMP::MEA[{mass_fraction}]") for x in t]
    assert largest(methods.rho_ethanol_water_oiml_r22(mass_fraction=mass_fraction, t_degc=t) / other - 1) < 1.2e-3

