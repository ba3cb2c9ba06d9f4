# SPDX-License-Identifier: Apache-2.0
"""Aromatics, ethanol-water, water, sea water and produced water recomputed with mpmath at 40 digits, apart from the
library.

Written from the formulas and coefficients of the standards, not from the C or its tables. Each quantity is a method
named as in the library, generic in its arithmetic, as in petroleum_oracle.py.

    value(name, **inputs) -> mpf        raises NoValue where the quantity has none
    condition(name, **inputs) -> float  sum over the inputs x of |x df/dx / f|
    draw(name, rng) -> inputs           one point of the domain
    NAMES                               the quantities

Where a formula takes T = t + 273.15 K, an input in degC counts as its absolute temperature, because that sum is what is
rounded.
"""

from __future__ import annotations

import random
from typing import Any, Callable

import iapws95_oracle
from iapws95_oracle import Iapws95
from petroleum_oracle import EXACT, FAST, Arithmetic, NoValue, mpf

Inputs = dict[str, Any]


def polynomial(x: Any, coefficients: list[Any]) -> Any:
    """Coefficients of x^0, x^1, ..."""
    return sum(c * x ** power for power, c in enumerate(coefficients))


def root(arithmetic: Arithmetic, function: Callable[[Arithmetic, Any], Any], low: float, high: float) -> Any:
    """Zero of a function that rises from low to high: inside a bracket in binary64, then secant steps."""
    if function(arithmetic, arithmetic.number(low)) > 0 or function(arithmetic, arithmetic.number(high)) < 0:
        raise NoValue
    close = _bracketed(lambda x: function(FAST, x), low, high)
    if arithmetic is FAST:
        return close
    step = mpf(high - low) * mpf("1e-9")
    before, x = mpf(close) - step, mpf(close) + step
    value_before = function(EXACT, before)
    for _ in range(7):
        value = function(EXACT, x)
        if value == value_before:
            break
        before, x, value_before = x, x - value * (x - before) / (value - value_before), value
    return x


def _bracketed(function: Callable[[float], float], low: float, high: float) -> float:
    """Zero in binary64 by false position, the older end's value halved where it stays (Illinois); by halving where that
    is slow."""
    at_low, at_high, side, x = function(low), function(high), 0, low
    for count in range(120):
        before = x
        x = high - at_high * (high - low) / (at_high - at_low) if at_high > at_low else low
        if count > 30 or not low < x < high:
            x = 0.5 * (low + high)
        value = function(x)
        if value < 0:
            low, at_low, at_high, side = x, value, at_high / (2 if side < 0 else 1), -1
        else:
            high, at_high, at_low, side = x, value, at_low / (2 if side > 0 else 1), 1
        if value == 0 or abs(x - before) <= 2e-16 * abs(x) or high - low <= 2e-16 * abs(high):
            break
    return x


class Aromatics:
    """ASTM D1555."""

    VCF = {
        "benzene": "1.038382492 -6.2307e-4 -2.8505e-7 1.2692e-10 0",
        "cumene": "1.032401114 -5.3445e-4 -9.5067e-8 3.6272e-11 0",
        "cyclohexane": "1.039337296 -6.4728e-4 -1.4582e-7 1.03538e-10 0",
        "ethylbenzene": "1.033346632 -5.5243e-4 8.37035e-10 -1.2692e-9 5.55061e-12",
        "styrene": "1.032227515 -5.3444e-4 -4.4323e-8 0 0",
        "toluene": "1.035323647 -5.8887e-4 2.46508e-9 -7.2802e-12 0",
        "m_xylene": "1.031887514 -5.2326e-4 -1.3253e-7 -7.35960e-11 0",
        "mixed_xylenes": "1.031887514 -5.2326e-4 -1.3253e-7 -7.35960e-11 0",
        "o_xylene": "1.031436449 -5.2302e-4 -2.5217e-9 -2.13840e-10 0",
        "p_xylene": "1.032307000 -5.2815e-4 -1.8416e-7 1.89256e-10 0",
        "aromatics_300_350f": "1.031118000 -5.1827e-4 -3.5109e-9 -1.98360e-11 0",
        "aromatics_350_400f": "1.029099000 -4.8287e-4 -3.7692e-8 3.78575e-11 0",
    }

    def __init__(self, arithmetic: Arithmetic) -> None:
        self.n = arithmetic.number

    def ctl60_aromatics_d1555(self, fluid: str, t_degf: Any) -> Any:
        return polynomial(t_degf, [self.n(c) for c in self.VCF[fluid].split()])

    def ctl_aromatics_d1555(self, fluid: str, t_degc: Any, t_base_degc: Any) -> Any:
        t, base = (self.n("1.8") * x + self.n(32) for x in (t_degc, t_base_degc))
        return self.ctl60_aromatics_d1555(fluid, t) / self.ctl60_aromatics_d1555(fluid, base)

    def ctl15_aromatics_d1555(self, fluid: str, t_degc: Any) -> Any:
        return self.ctl_aromatics_d1555(fluid, t_degc, self.n(15))

    def ctl20_aromatics_d1555(self, fluid: str, t_degc: Any) -> Any:
        return self.ctl_aromatics_d1555(fluid, t_degc, self.n(20))

    def rho60_from_observed_aromatics_d1555(self, fluid: str, rho_kgm3: Any, t_degf: Any) -> Any:
        return rho_kgm3 / self.ctl60_aromatics_d1555(fluid, t_degf)

    def rho15_from_observed_aromatics_d1555(self, fluid: str, rho_kgm3: Any, t_degc: Any) -> Any:
        return rho_kgm3 / self.ctl15_aromatics_d1555(fluid, t_degc)

    def rho20_from_observed_aromatics_d1555(self, fluid: str, rho_kgm3: Any, t_degc: Any) -> Any:
        return rho_kgm3 / self.ctl20_aromatics_d1555(fluid, t_degc)

    def rho_base_from_observed_aromatics_d1555(self, fluid: str, rho_kgm3: Any, t_degc: Any, t_base_degc: Any) -> Any:
        return rho_kgm3 / self.ctl_aromatics_d1555(fluid, t_degc, t_base_degc)

    def rho_air_from_rho_vacuum_d1555(self, rho_gcm3: Any) -> Any:
        return self.n("1.000149926") * rho_gcm3 - self.n("0.001199407795")

    def rho_vacuum_from_rho_air_d1555(self, rho_air_gcm3: Any) -> Any:
        return (rho_air_gcm3 + self.n("0.001199407795")) / self.n("1.000149926")

    def lb_per_gal_from_gcm3_d1555(self, rho_gcm3: Any) -> Any:
        return rho_gcm3 * self.n("8.345404452")

    def gcm3_from_lb_per_gal_d1555(self, rho_lb_per_gal: Any) -> Any:
        return rho_lb_per_gal / self.n("8.345404452")


class Ethanol:
    """OIML R 22."""

    A = ("9.982012300e2 -1.929769495e2 3.891238958e2 -1.668103923e3 1.352215441e4 -8.829278388e4 3.062874042e5 "
         "-6.138381234e5 7.470172998e5 -5.478461354e5 2.234460334e5 -3.903285426e4").split()
    B = "-2.0618513e-1 -5.2682542e-3 3.6130013e-5 -3.8957702e-7 7.1693540e-9 -9.9739231e-11".split()
    C = (
        "1.693443461530087e-1 -1.046914743455169e1 7.196353469546523e1 -7.047478054272792e2 3.924090430035045e3 "
        "-1.210164659068747e4 2.248646550400788e4 -2.605562982188164e4 1.852373922069467e4 -7.420201433430137e3 "
        "1.285617841998974e3",
        "-1.193013005057010e-2 2.517399633803461e-1 -2.170575700536993 1.353034988843029e1 -5.029988758547014e1 "
        "1.096355666577570e2 -1.422753946421155e2 1.080435942856230e2 -4.414153236817392e1 7.442971530188783",
        "-6.802995733503803e-4 1.876837790289664e-2 -2.002561813734156e-1 1.022992966719220 -2.895696483903638 "
        "4.810060584300675 -4.672147440794683 2.458043105903461 -5.411227621436812e-1",
        "4.075376675622027e-6 -8.763058573471110e-6 6.515031360099368e-6 -1.515784836987210e-6",
        "-2.788074354782409e-8 1.345612883493354e-8")

    def __init__(self, arithmetic: Arithmetic) -> None:
        self.a, self.n = arithmetic, arithmetic.number

    def rho_ethanol_water_oiml_r22(self, mass_fraction: Any, t_degc: Any) -> Any:
        p, dt = mass_fraction, t_degc - self.n(20)
        rho = polynomial(p, [self.n(a) for a in self.A])
        rho = rho + sum(self.n(b) * dt ** k for k, b in enumerate(self.B, 1))
        return rho + sum(self.n(c) * p ** k * dt ** i for i, row in enumerate(self.C, 1)
                         for k, c in enumerate(row.split(), 1))

    def volume_percent_from_mass_fraction_ethanol_oiml_r22(self, mass_fraction: Any, t_ref_degc: Any) -> Any:
        rho = self.rho_ethanol_water_oiml_r22
        return self.n(100) * mass_fraction * rho(mass_fraction, t_ref_degc) / rho(self.n(1), t_ref_degc)

    def _mass_fraction(self, q: Any, t_ref: Any) -> Any:
        def excess(a: Arithmetic, p: Any) -> Any:
            rho, t = Ethanol(a).rho_ethanol_water_oiml_r22, _in(a, t_ref)
            return p * rho(p, t) - _in(a, q) * rho(a.number(1), t)
        return root(self.a, excess, 0.0, 1.0)

    def _from_density(self, rho_kgm3: Any, t_degc: Any) -> Any:
        def excess(a: Arithmetic, p: Any) -> Any:
            return _in(a, rho_kgm3) - Ethanol(a).rho_ethanol_water_oiml_r22(p, _in(a, t_degc))
        return root(self.a, excess, 0.0, 1.0)

    def mass_percent_from_volume_fraction_ethanol_oiml_r22(self, volume_fraction: Any, t_ref_degc: Any) -> Any:
        return self.n(100) * self._mass_fraction(volume_fraction, t_ref_degc)

    def mass_percent_from_density_ethanol_oiml_r22(self, rho_kgm3: Any, t_degc: Any) -> Any:
        return self.n(100) * self._from_density(rho_kgm3, t_degc)

    def sg_in_air_ethanol_oiml_r22(self, volume_fraction: Any, t_ref_degc: Any, t_degc: Any) -> Any:
        p, air = self._mass_fraction(volume_fraction, t_ref_degc), self.n("1.2")
        rho = self.rho_ethanol_water_oiml_r22
        return (rho(p, t_degc) - air) / (rho(self.n(0), t_degc) - air)

    def gal_per_lb_in_air_ethanol_oiml_r22(self, proof: Any) -> Any:
        n, t = self.n, self.n(140) / self.n(9)
        rho = self.rho_ethanol_water_oiml_r22(self._mass_fraction(proof / n(200), t), t)
        return n("0.45359237") * (1 - n("1.2") / n(8393)) / ((rho - n("1.2")) * n("0.003785411784"))

    def ctl_ethanol_water_oiml_r22(self, mass_fraction: Any, t_degc: Any, t_base_degc: Any) -> Any:
        rho = self.rho_ethanol_water_oiml_r22
        return rho(mass_fraction, t_degc) / rho(mass_fraction, t_base_degc)

    def ctl15_ethanol_water_oiml_r22(self, mass_fraction: Any, t_degc: Any) -> Any:
        return self.ctl_ethanol_water_oiml_r22(mass_fraction, t_degc, self.n(15))

    def ctl20_ethanol_water_oiml_r22(self, mass_fraction: Any, t_degc: Any) -> Any:
        return self.ctl_ethanol_water_oiml_r22(mass_fraction, t_degc, self.n(20))

    def rho_base_from_observed_ethanol_water_oiml_r22(self, rho_kgm3: Any, t_degc: Any, t_base_degc: Any) -> Any:
        return self.rho_ethanol_water_oiml_r22(self._from_density(rho_kgm3, t_degc), t_base_degc)

    def rho15_from_observed_ethanol_water_oiml_r22(self, rho_kgm3: Any, t_degc: Any) -> Any:
        return self.rho_base_from_observed_ethanol_water_oiml_r22(rho_kgm3, t_degc, self.n(15))

    def rho20_from_observed_ethanol_water_oiml_r22(self, rho_kgm3: Any, t_degc: Any) -> Any:
        return self.rho_base_from_observed_ethanol_water_oiml_r22(rho_kgm3, t_degc, self.n(20))


class Water:
    """Pure water at about 1 atm, and its viscosity."""

    HIJ = ("0.520094 0.0850895 -1.08374 -0.289555 0 0", "0.222531 0.999115 1.88797 1.26613 0 0.120573",
           "-0.281378 -0.906851 -0.772479 -0.489837 -0.257040 0", "0.161913 0.257399 0 0 0 0",
           "-0.0325372 0 0 0.0698452 0 0", "0 0 0 0 0.00872102 0", "0 0 0 -0.00435673 0 -0.000593264")

    def __init__(self, arithmetic: Arithmetic) -> None:
        self.a, self.n = arithmetic, arithmetic.number

    def rho_water_cipm_2001(self, t_degc: Any, p_kpa: Any = None) -> Any:
        a1, a2, a3, a4, a5 = (self.n(x) for x in "-3.983035 301.797 522528.9 69.34881 999.974950".split())
        rho = a5 * (1 - (t_degc + a1) ** 2 * (t_degc + a2) / (a3 * (t_degc + a4)))
        if p_kpa is None:
            return rho
        kappa = polynomial(t_degc, [self.n(x) for x in "50.74 -0.326 0.00416".split()]) * self.n("1e-11")
        return rho * (1 + kappa * (self.n(1000) * p_kpa - self.n(101325)))

    def air_saturation_shift_water_cipm_2001(self, t_degc: Any) -> Any:
        return self.n("-4.612e-3") + self.n("0.106e-3") * t_degc

    def rho_water_patterson_morris_1994(self, t_degc: Any) -> Any:
        d = t_degc - self.n("3.9818")
        fall = "0 7.0134e-8 7.926504e-6 -7.575677e-8 7.314894e-10 -3.596458e-12".split()
        return self.n("999.97358") * (1 - polynomial(d, [self.n(x) for x in fall]))

    def rho_water_jones_harris_1992(self, t_degc: Any) -> Any:
        c = "999.85308 6.32693e-2 -8.523829e-3 6.943248e-5 -3.821216e-7".split()
        return polynomial(t_degc, [self.n(x) for x in c])

    def rho_water_kell_1975(self, t_degc: Any) -> Any:
        c = "999.83952 16.945176 -7.9870401e-3 -46.170461e-6 105.56302e-9 -280.54253e-12".split()
        return polynomial(t_degc, [self.n(x) for x in c]) / (1 + self.n("16.879850e-3") * t_degc)

    def kappa_water_kell_1975(self, t_degc: Any) -> Any:
        c = "50.88496 0.6163813 1.459187e-3 20.08438e-6 -58.47727e-9 410.4110e-12".split()
        return polynomial(t_degc, [self.n(x) for x in c]) / (1 + self.n("19.67348e-3") * t_degc)

    def ctl_water_cipm_2001(self, t_degc: Any, t_base_degc: Any) -> Any:
        return self.rho_water_cipm_2001(t_degc) / self.rho_water_cipm_2001(t_base_degc)

    def ctl_water_patterson_morris_1994(self, t_degc: Any, t_base_degc: Any) -> Any:
        return self.rho_water_patterson_morris_1994(t_degc) / self.rho_water_patterson_morris_1994(t_base_degc)

    def ctl_water_jones_harris_1992(self, t_degc: Any, t_base_degc: Any) -> Any:
        return self.rho_water_jones_harris_1992(t_degc) / self.rho_water_jones_harris_1992(t_base_degc)

    def ctl_water_kell_1975(self, t_degc: Any, t_base_degc: Any) -> Any:
        return self.rho_water_kell_1975(t_degc) / self.rho_water_kell_1975(t_base_degc)

    def cpl_water_common_practice(self, p_psig: Any) -> Any:
        return 1 / (1 - self.n("3.2e-6") * p_psig)

    def mu_water_r12_08(self, t_k: Any, rho_kgm3: Any) -> Any:
        n, tr, r = self.n, t_k / self.n("647.096"), rho_kgm3 / self.n(322)
        h = [n(x) for x in "1.67752 2.20462 0.6366564 -0.241605".split()]
        mu0 = n(100) * tr ** n("0.5") / polynomial(1 / tr, h)
        rows = [polynomial(1 / tr - 1, [n(x) for x in row.split()]) for row in self.HIJ]
        return mu0 * self.a.exp(r * polynomial(r - 1, rows)) / n(1000)

    def mu_water_sr6_08(self, t_k: Any) -> Any:
        n, x = self.n, t_k / self.n(300)
        terms = (("280.68", "-1.9"), ("511.45", "-7.7"), ("61.131", "-19.6"), ("0.45903", "-40"))
        return sum(n(a) * x ** n(b) for a, b in terms) / n(1000)

    def mu_water_1atm(self, t_degc: Any) -> Any:
        return self.mu_water_r12_08(t_degc + self.n("273.15"), self.rho_water_kell_1975(t_degc))

    def nu_water_1atm(self, t_degc: Any) -> Any:
        return self.n(1000) * self.mu_water_1atm(t_degc) / self.rho_water_kell_1975(t_degc)

    def mu_water_swindells(self, t_degc: Any) -> Any:
        n, d = self.n, t_degc - self.n(20)
        return n("1.002") * self.a.power10((-n("1.3272") * d - n("0.001053") * d ** 2) / (t_degc + n(105)))


class Seawater:
    """EOS-80 and the viscosities that use it."""

    SURFACE = ("999.842594 6.793952e-2 -9.095290e-3 1.001685e-4 -1.120083e-6 6.536332e-9",
               "8.24493e-1 -4.0899e-3 7.6438e-5 -8.2467e-7 5.3875e-9", "-5.72466e-3 1.0227e-4 -1.6546e-6", "4.8314e-4")
    K0 = ("19652.21 148.4206 -2.327105 1.360477e-2 -5.155288e-5", "54.6746 -0.603459 1.09987e-2 -6.1670e-5",
          "7.944e-2 1.6483e-2 -5.3009e-4", "0")
    KA = ("3.239908 1.43713e-3 1.16092e-4 -5.77905e-7", "2.2838e-3 -1.0981e-5 -1.6078e-6", "1.91075e-4", "0")
    KB = ("8.50935e-5 -6.12293e-6 5.2787e-8", "-9.9348e-7 2.0816e-8 9.1697e-10", "0", "0")

    def __init__(self, arithmetic: Arithmetic) -> None:
        self.a, self.n = arithmetic, arithmetic.number

    def _sum(self, rows: tuple[str, ...], s: Any, t: Any) -> Any:
        at0, by_s, by_s15, by_s2 = (polynomial(t, [self.n(x) for x in row.split()]) for row in rows)
        return at0 + by_s * s + by_s15 * s ** self.n("1.5") + by_s2 * s ** 2

    def rho_seawater_eos80(self, s_psu: Any, t_degc: Any, p_bar: Any = 0) -> Any:
        return self._sum(self.SURFACE, s_psu, t_degc) * self.cpl_seawater_eos80(s_psu, t_degc, p_bar)

    def cpl_seawater_eos80(self, s_psu: Any, t_degc: Any, p_bar: Any) -> Any:
        k = (self._sum(self.K0, s_psu, t_degc) + self._sum(self.KA, s_psu, t_degc) * p_bar
             + self._sum(self.KB, s_psu, t_degc) * p_bar ** 2)
        return 1 / (1 - p_bar / k)

    def ctl_seawater_eos80(self, s_psu: Any, t_degc: Any, t_base_degc: Any) -> Any:
        return self.rho_seawater_eos80(s_psu, t_degc) / self.rho_seawater_eos80(s_psu, t_base_degc)

    def s_psu_from_observed_seawater_eos80(self, rho_kgm3: Any, t_degc: Any, p_bar: Any = 0) -> Any:
        def excess(a: Arithmetic, s: Any) -> Any:
            return Seawater(a).rho_seawater_eos80(s, _in(a, t_degc), _in(a, p_bar)) - _in(a, rho_kgm3)
        return root(self.a, excess, 0.0, 42.0)

    def rho_base_from_observed_seawater_eos80(self, rho_kgm3: Any, t_degc: Any, t_base_degc: Any,
                                              p_bar: Any = 0) -> Any:
        s = self.s_psu_from_observed_seawater_eos80(rho_kgm3, t_degc, p_bar)
        return self.rho_seawater_eos80(s, t_base_degc)

    def mu_seawater_sharqawy(self, t_degc: Any, s_kgkg: Any) -> Any:
        n, t, s = self.n, t_degc, s_kgkg
        water = n("4.2844e-5") + 1 / (n("0.157") * (t + n("64.993")) ** 2 - n("91.296"))
        a = polynomial(t, [n(x) for x in "1.541 1.998e-2 -9.52e-5".split()])
        b = polynomial(t, [n(x) for x in "7.974 -7.561e-2 4.724e-4".split()])
        return n(1000) * water * (1 + a * s + b * s ** 2)

    def nu_seawater_sharqawy(self, t_degc: Any, s_gkg: Any) -> Any:
        mu = self.mu_seawater_sharqawy(t_degc, s_gkg / self.n(1000))
        return self.n(1000) * mu / self.rho_seawater_eos80(s_gkg, t_degc)

    def mu_seawater_millero(self, t_degc: Any, s_psu: Any) -> Any:
        n, t, d = self.n, t_degc, t_degc - self.n(20)
        water = n("1.002") * self.a.power10((-n("1.1709") * d - n("0.001827") * d ** 2) / (t + n("89.93")))
        cl = self.rho_seawater_eos80(s_psu, t) * s_psu / n("1806.55")
        a, b = n("1.0675e-4") + n("5.185e-5") * t, n("2.591e-3") + n("3.300e-5") * t
        return water * (1 + a * cl ** n("0.5") + b * cl)

    def nu_seawater_millero(self, t_degc: Any, s_psu: Any) -> Any:
        return self.n(1000) * self.mu_seawater_millero(t_degc, s_psu) / self.rho_seawater_eos80(s_psu, t_degc)


class ProducedWater:
    """API 20.1 style."""

    def __init__(self, arithmetic: Arithmetic) -> None:
        self.a, self.n = arithmetic, arithmetic.number

    def ctl60_produced_water_api20(self, rho60_kgm3: Any, t_degf: Any) -> Any:
        n, b, d = self.n, (rho60_kgm3 - self.n(999)) / self.n("7.2"), t_degf - self.n(60)
        return (1 - (n("1.0312e-4") + n("7.1568e-6") * b) * d - (n("1.2701e-6") - n("4.4641e-8") * b) * d ** 2
                + (n("1.2333e-9") - n("2.2436e-11") * b) * d ** 3)

    def rho60_from_observed_produced_water_api20(self, rho_kgm3: Any, t_degf: Any, p_psig: Any = 0) -> Any:
        def excess(a: Arithmetic, rho60: Any) -> Any:
            ctl = ProducedWater(a).ctl60_produced_water_api20(rho60, _in(a, t_degf))
            return rho60 * ctl - _in(a, rho_kgm3) * (1 - a.number("3.2e-6") * _in(a, p_psig))
        return root(self.a, excess, 999.0, 1100.0)

    def _degf(self, t_degc: Any) -> Any:
        return self.n("1.8") * t_degc + self.n(32)

    def ctl_produced_water_api20(self, rho_base_kgm3: Any, t_base_degc: Any, t_degc: Any) -> Any:
        base = self._degf(t_base_degc)
        rho60 = self.rho60_from_observed_produced_water_api20(rho_base_kgm3, base)
        return (self.ctl60_produced_water_api20(rho60, self._degf(t_degc))
                / self.ctl60_produced_water_api20(rho60, base))

    def rho_base_from_observed_produced_water_api20(self, rho_kgm3: Any, t_degc: Any, t_base_degc: Any,
                                                    p_kpag: Any = 0) -> Any:
        p = p_kpag / self.n("6.894757")
        rho60 = self.rho60_from_observed_produced_water_api20(rho_kgm3, self._degf(t_degc), p)
        return rho60 * self.ctl60_produced_water_api20(rho60, self._degf(t_base_degc))


FAMILIES = (Aromatics, Ethanol, Water, Iapws95, Seawater, ProducedWater)
NAMES = frozenset(name for family in FAMILIES for name in vars(family) if name[0] != "_" and name.islower())
ABSOLUTE = {"mu_water_1atm", "nu_water_1atm"}


def _in(arithmetic: Arithmetic, x: Any) -> Any:
    """An input in the arithmetic that a root is being sought in."""
    return float(x) if arithmetic is FAST else x


def _evaluate(arithmetic: Arithmetic, name: str, inputs: Inputs) -> Any:
    numbers = {key: x if isinstance(x, str) else arithmetic.number(x) for key, x in inputs.items()}
    family = next(family for family in FAMILIES if name in vars(family))
    return getattr(family(arithmetic), name)(**numbers)


def value(name: str, **inputs: Any) -> mpf:
    """The quantity to 40 digits; inputs are doubles or words."""
    return _evaluate(EXACT, name, inputs)


def condition(name: str, **inputs: Any) -> float:
    """Sum over the inputs of |x df/dx / f|, by differences in binary64 that stay inside the domain."""
    centre, total = _evaluate(FAST, name, inputs), 0.0
    for key, x in inputs.items():
        if isinstance(x, str) or centre == 0:
            continue
        step = 1e-6 * max(abs(x), 1.0 if key.startswith(("t_", "p_")) else 1e-3)
        values = {}
        for by in (-step, 0.0, step):
            try:
                values[by] = _evaluate(FAST, name, {**inputs, key: x + by})
            except NoValue:
                continue
        ends = sorted(values)
        slope = (values[ends[-1]] - values[ends[0]]) / (ends[-1] - ends[0])
        total += abs((x + (273.15 if name in ABSOLUTE else 0.0)) * slope / centre)
    return total


# --- points of the domain ---------------------------------------------------------------------------------------------

RANGES = {  # name: argument: low, high
    "air_saturation_shift_water_cipm_2001": {"t_degc": (0, 25)},
    "rho_water_patterson_morris_1994": {"t_degc": (1, 40)}, "rho_water_jones_harris_1992": {"t_degc": (5, 40)},
    "rho_water_kell_1975": {"t_degc": (0, 150)}, "kappa_water_kell_1975": {"t_degc": (0, 150)},
    "rho_water_cipm_2001": {"t_degc": (0, 40), "p_kpa": (10, 2000)},
    "ctl_water_cipm_2001": {"t_degc": (0, 40), "t_base_degc": (0, 40)},
    "ctl_water_patterson_morris_1994": {"t_degc": (1, 40), "t_base_degc": (1, 40)},
    "ctl_water_jones_harris_1992": {"t_degc": (5, 40), "t_base_degc": (5, 40)},
    "ctl_water_kell_1975": {"t_degc": (0, 150), "t_base_degc": (0, 150)},
    "cpl_water_common_practice": {"p_psig": (0, 1500)},
    "mu_water_sr6_08": {"t_k": (253.15, 383.15)}, "mu_water_1atm": {"t_degc": (0, 100)},
    "nu_water_1atm": {"t_degc": (0, 100)}, "mu_water_swindells": {"t_degc": (20, 100)},
    "mu_seawater_sharqawy": {"t_degc": (0, 180), "s_kgkg": (0, 0.15)},
    "nu_seawater_sharqawy": {"t_degc": (0, 40), "s_gkg": (0, 42)},
    "mu_seawater_millero": {"t_degc": (0, 30), "s_psu": (0, 40)},
    "nu_seawater_millero": {"t_degc": (0, 30), "s_psu": (0, 40)},
    "rho_air_from_rho_vacuum_d1555": {"rho_gcm3": (0.5, 1.5)},
    "rho_vacuum_from_rho_air_d1555": {"rho_air_gcm3": (0.4988, 1.4991)},
    "lb_per_gal_from_gcm3_d1555": {"rho_gcm3": (0.4, 1.6)},
    "gcm3_from_lb_per_gal_d1555": {"rho_lb_per_gal": (3.34, 13.35)},
    "p_saturation_water_sr1_86": {"t_k": (273.15, 647.096)},
}
ARGUMENTS = {  # of a family, where a name above says nothing else
    "aromatics_d1555": {"t_degf": (-4, 140), "t_degc": (-20, 60), "t_base_degc": (-20, 60), "rho_kgm3": (600, 1100)},
    "oiml_r22": {"mass_fraction": (0, 1), "volume_fraction": (0, 1), "proof": (0, 200), "t_degc": (-20, 40),
                 "t_base_degc": (-20, 40), "t_ref_degc": (-20, 40), "rho_kgm3": (770, 1000)},
    "eos80": {"s_psu": (0, 42), "t_degc": (-2, 40), "t_base_degc": (-2, 40), "p_bar": (0, 1000),
              "rho_kgm3": (990, 1080)},
    "api20": {"rho60_kgm3": (999, 1100), "t_degf": (40, 200), "t_degc": (5, 93), "t_base_degc": (5, 93),
              "p_psig": (0, 1500), "p_kpag": (0, 10340), "rho_kgm3": (960, 1110), "rho_base_kgm3": (960, 1110)},
}


def _arguments(name: str) -> list[str]:
    method = next(vars(family)[name] for family in FAMILIES if name in vars(family))
    return list(method.__code__.co_varnames[1:method.__code__.co_argcount])


def draw(name: str, rng: random.Random) -> Inputs:
    """A point of the domain of a quantity, with every optional argument given."""
    if name in ("p_water_iapws95", "rho_water_iapws95", "mu_water_r12_08"):
        return iapws95_oracle.draw(name, rng)
    family = next((key for key in ARGUMENTS if name.endswith(key)), "")
    ranges = RANGES.get(name) or ARGUMENTS[family]
    inputs: Inputs = {key: rng.choice(list(Aromatics.VCF)) if key == "fluid" else rng.uniform(*ranges[key])
                      for key in _arguments(name)}
    return inputs
