# SPDX-License-Identifier: Apache-2.0
"""Viscosity models, pressure, blending, index and units, written apart from the library for viscosity_oracle.py.

From the formulas of the sources, not from the C: where the C goes through differences, here stand the printed forms. L
and H of D2270 are read from the table as printed. Each quantity is a method named as in the library, generic in its
arithmetic, as in petroleum_oracle.py.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

from aqueous_oracle import root
import exact_numbers
from petroleum_oracle import EXACT, FAST, Arithmetic, NoValue, ViscosityD341

TABLES = Path(__file__).resolve().parents[2] / "tables"


def printed_rows(name: str) -> list[dict[str, str]]:
    """Rows of a table of the project, cells as printed."""
    text = (TABLES / f"{name}.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in text if not line.startswith("#")))


class Formulas:
    """Arithmetic and elementary functions."""

    def __init__(self, arithmetic: Arithmetic) -> None:
        self.a, self.n, self.exp, self.power10 = arithmetic, arithmetic.number, arithmetic.exp, arithmetic.power10
        self.ln = exact_numbers.log if arithmetic is EXACT else math.log
        self.floor = exact_numbers.floor if arithmetic is EXACT else math.floor

    def kelvin(self, t_degc: Any) -> Any:
        return t_degc + self.n("273.15")

    def inside(self, x: Any, low: float, high: float) -> Any:
        """x, which may miss an end by rounding."""
        if not low * (1 - 1e-9) <= x <= high * (1 + 1e-9):
            raise NoValue
        return x


class Models(Formulas):
    def mu_andrade(self, a: Any, b: Any, t_k: Any) -> Any:
        return self.exp(a + b / t_k)

    def mu_vogel(self, a: Any, b: Any, c: Any, t_k: Any) -> Any:
        return self.exp(a + b / (t_k + c))

    def mu_dutt_prasad(self, a: Any, b: Any, c: Any, t_k: Any) -> Any:
        return self.power10(a + b / (c - t_k))

    def mu_dippr101(self, c1: Any, c2: Any, c3: Any, c4: Any, c5: Any, t_k: Any) -> Any:
        return 1000 * self.exp(c1 + c2 / t_k + c3 * self.ln(t_k) + c4 * t_k ** c5)

    def mu_power_law(self, c: Any, d: Any, t_k: Any) -> Any:
        return 1000 * c * t_k ** d

    def mu_yaws(self, a: Any, b: Any, c: Any, d: Any, t_k: Any) -> Any:
        return 1000 * self.power10(a + b / t_k + c * t_k + d * t_k ** 2)

    def _andrade(self, t: list, mu: list) -> tuple[Any, Any]:
        """About the first point in binary64 too, where the means would drown."""
        x0 = 1 / self.kelvin(t[0])
        x, y = [1 / self.kelvin(v) - x0 for v in t], [self.ln(v) for v in mu]
        x_mean, y_mean = sum(x) / len(x), sum(y) / len(y)
        b = (sum((p - x_mean) * (q - y_mean) for p, q in zip(x, y, strict=True))
             / sum((p - x_mean) ** 2 for p in x))
        return y_mean - b * (x_mean + x0), b

    def a_andrade_lsq(self, t_fit_degc: list, mu_fit_mpas: list) -> Any:
        return self._andrade(t_fit_degc, mu_fit_mpas)[0]

    def b_andrade_lsq(self, t_fit_degc: list, mu_fit_mpas: list) -> Any:
        return self._andrade(t_fit_degc, mu_fit_mpas)[1]

    def d_andrade_lsq(self, t_fit_degc: list, mu_fit_mpas: list) -> Any:
        return self.exp(self.a_andrade_lsq(t_fit_degc, mu_fit_mpas))

    def mu_andrade_lsq(self, t_degc: Any, t_fit_degc: list, mu_fit_mpas: list) -> Any:
        a, b = self._andrade(t_fit_degc, mu_fit_mpas)
        return self.exp(a + b / self.kelvin(t_degc))

    def _vogel(self, t: list, mu: list) -> tuple[Any, Any, Any]:
        t1, t2, t3 = (self.kelvin(v) for v in t)
        y1, y2, y3 = (self.ln(v) for v in mu)
        r = (y1 - y2) * (t3 - t1) / ((y1 - y3) * (t2 - t1))
        c = (t3 - r * t2) / (r - 1)
        if len({bool(v + c > 0) for v in (t1, t2, t3)}) > 1:
            raise NoValue
        b = (y1 - y2) / (1 / (t1 + c) - 1 / (t2 + c))
        return y1 - b / (t1 + c), b, c

    def a_vogel_three_point(self, t_fit_degc: list, mu_fit_mpas: list) -> Any:
        return self._vogel(t_fit_degc, mu_fit_mpas)[0]

    def b_vogel_three_point(self, t_fit_degc: list, mu_fit_mpas: list) -> Any:
        return self._vogel(t_fit_degc, mu_fit_mpas)[1]

    def c_vogel_three_point(self, t_fit_degc: list, mu_fit_mpas: list) -> Any:
        return self._vogel(t_fit_degc, mu_fit_mpas)[2]

    def mu_vogel_three_point(self, t_degc: Any, t_fit_degc: list, mu_fit_mpas: list) -> Any:
        a, b, c = self._vogel(t_fit_degc, mu_fit_mpas)
        if (self.kelvin(t_degc) + c > 0) != (self.kelvin(t_fit_degc[0]) + c > 0):
            raise NoValue
        return self.exp(a + b / (self.kelvin(t_degc) + c))


class Pressure(Formulas):
    def mu_barus(self, mu0_mpas: Any, alpha_per_gpa: Any, p_mpa: Any) -> Any:
        return mu0_mpas * self.exp(alpha_per_gpa * p_mpa / 1000)

    def _height(self, mu0_mpas: Any) -> Any:
        return self.ln(mu0_mpas / 1000) + self.n("9.67")

    def z_roelands(self, mu0_mpas: Any, alpha_per_gpa: Any) -> Any:
        return alpha_per_gpa / (self.n("5.1") * self._height(mu0_mpas))

    def alpha_roelands(self, mu0_mpas: Any, z: Any) -> Any:
        return self.n("5.1") * z * self._height(mu0_mpas)

    def s0_roelands(self, mu0_mpas: Any, beta_per_k: Any, t0_k: Any) -> Any:
        return beta_per_k * (t0_k - 138) / self._height(mu0_mpas)

    def mu_roelands(self, mu0_mpas: Any, alpha_per_gpa: Any, p_mpa: Any, t_k: Any = None, t0_k: Any = None,
                    s0: Any = None) -> Any:
        z = self.z_roelands(mu0_mpas, alpha_per_gpa)
        power = (1 + self.n("5.1e-3") * p_mpa) ** z
        if t_k is not None:
            power *= ((t_k - 138) / (t0_k - 138)) ** -s0
        return mu0_mpas * self.exp(self._height(mu0_mpas) * (power - 1))

    def dlnmu_dp_roelands(self, mu0_mpas: Any, alpha_per_gpa: Any, p_mpa: Any) -> Any:
        z = self.z_roelands(mu0_mpas, alpha_per_gpa)
        return alpha_per_gpa * (1 + self.n("5.1e-3") * p_mpa) ** (z - 1)

    def mu_kouzel_1965(self, mu0_mpas: Any, p_mpag: Any) -> Any:
        n, p_psig = self.n, 1000000 * p_mpag / self.n("6894.757293168")
        return mu0_mpas * self.power10(p_psig / 1000 * (n("0.0239") + n("0.01638") * mu0_mpas ** n("0.278")))

    def mu_kouzel_api(self, mu0_mpas: Any, p_mpaa: Any) -> Any:
        n = self.n
        return mu0_mpas * self.power10((10 * p_mpaa - n("1.0133")) / 10000
                                       * (n("-1.48") + n("5.86") * mu0_mpas ** n("0.181")))


class Blending(Formulas):
    def vbn_refutas(self, nu_mm2s: Any) -> Any:
        return self.n("14.534") * self.ln(self.ln(nu_mm2s + self.n("0.8"))) + self.n("10.975")

    def nu_from_vbn_refutas(self, vbn: Any) -> Any:
        nu = self.exp(self.exp((vbn - self.n("10.975")) / self.n("14.534"))) - self.n("0.8")
        return self.inside(nu, 0.3, 2e7)

    def nu_blend_refutas(self, mass_fraction: list, nu_mm2s: list) -> Any:
        return self.nu_from_vbn_refutas(sum(x * self.vbn_refutas(nu)
                                            for x, nu in zip(mass_fraction, nu_mm2s, strict=True)))

    def nu_blend_astm(self, fraction: list, nu_mm2s: list, form: str) -> Any:
        d341 = ViscosityD341(self.a)
        w = sum(x * d341.w_d341(nu, form) for x, nu in zip(fraction, nu_mm2s, strict=True))
        return d341._nu_from_w(w, form)

    def nu_blend_wright(self, t_degc: Any, fraction: list, t1_degc: list, nu1_mm2s: list, t2_degc: list,
                        nu2_mm2s: list, form: str) -> Any:
        d341, log10 = ViscosityD341(self.a), self.a.log10
        top, bottom = log10(self.kelvin(t_degc)), 0
        for x, t1, nu1, t2, nu2 in zip(fraction, t1_degc, nu1_mm2s, t2_degc, nu2_mm2s, strict=True):
            x1, w1 = log10(self.kelvin(t1)), d341.w_d341(nu1, form)
            m = (log10(self.kelvin(t2)) - x1) / (d341.w_d341(nu2, form) - w1)
            top, bottom = top + x * (m * w1 - x1), bottom + x * m
        return d341._nu_from_w(top / bottom, form)


LH = [(row["nu100_mm2s"], row["l_mm2s"], row["h_mm2s"]) for row in printed_rows("astm_d2270/astm_d2270_lh")]
QUADRATIC = printed_rows("astm_d2270/astm_d2270_quadratic")


class ViscosityIndex(Formulas):
    def _lh(self, y: Any) -> tuple[Any, Any]:
        n = self.n
        if y > 70:
            return (n("0.8353") * y ** 2 + n("14.67") * y - 216, n("0.1684") * y ** 2 + n("11.85") * y - 97)
        i = next(i for i in range(len(LH) - 1) if y <= n(LH[i + 1][0]))
        (y1, *low), (y2, *high) = ([n(v) for v in LH[i]], [n(v) for v in LH[i + 1]])
        part = (y - y1) / (y2 - y1)
        return tuple(a + (b - a) * part for a, b in zip(low, high, strict=True))

    def l_d2270(self, nu100_mm2s: Any) -> Any:
        return self._lh(nu100_mm2s)[0]

    def h_d2270(self, nu100_mm2s: Any) -> Any:
        return self._lh(nu100_mm2s)[1]

    def _quadratic(self, y: Any, letters: str) -> Any:
        row = next(row for row in QUADRATIC if y <= self.n(row["hi"]))
        p, q, r = (self.n(row[letter]) for letter in letters)
        return p * y ** 2 + q * y + r

    def l_d2270_quadratic(self, nu100_mm2s: Any) -> Any:
        return self._quadratic(nu100_mm2s, "abc")

    def h_d2270_quadratic(self, nu100_mm2s: Any) -> Any:
        return self._quadratic(nu100_mm2s, "def")

    def _n(self, u: Any, y: Any, h: Any) -> Any:
        return (self.a.log10(h) - self.a.log10(u)) / self.a.log10(y)

    def _round(self, value: Any, parts: int) -> Any:
        """No draw hits a tie."""
        return self.n(int(self.floor(value * parts + self.n("0.5")))) / parts

    def _vi(self, u: Any, l: Any, h: Any, antilog: Callable[[], Any]) -> Any:
        return 100 * (l - u) / (l - h) if u >= h else 100 + (antilog() - 1) / self.n("0.00715")

    def n_d2270(self, nu40_mm2s: Any, nu100_mm2s: Any) -> Any:
        return self._n(nu40_mm2s, nu100_mm2s, self.h_d2270(nu100_mm2s))

    def n_d2270_printed_rounding(self, nu40_mm2s: Any, nu100_mm2s: Any) -> Any:
        return self._round(self._n(nu40_mm2s, nu100_mm2s, self._round(self.h_d2270(nu100_mm2s), 100)), 100000)

    def vi_d2270(self, nu40_mm2s: Any, nu100_mm2s: Any) -> Any:
        l, h = self._lh(nu100_mm2s)
        return self._vi(nu40_mm2s, l, h, lambda: self.power10(self._n(nu40_mm2s, nu100_mm2s, h)))

    def vi_d2270_printed_rounding(self, nu40_mm2s: Any, nu100_mm2s: Any) -> Any:
        l, h = (self._round(v, 100) for v in self._lh(nu100_mm2s))
        return self._vi(nu40_mm2s, l, h, lambda: self._round(
            self.power10(self.n_d2270_printed_rounding(nu40_mm2s, nu100_mm2s)), 100000))

    def vi_d2270_reported(self, nu40_mm2s: Any, nu100_mm2s: Any) -> Any:
        return self._round(self.vi_d2270(nu40_mm2s, nu100_mm2s), 1)

    def nu40_from_vi_d2270(self, vi: Any, nu100_mm2s: Any) -> Any:
        l, h = self._lh(nu100_mm2s)
        if vi > 100:
            u = h / nu100_mm2s ** self.a.log10(1 + self.n("0.00715") * (vi - 100))
        else:
            u = l - vi * (l - h) / 100
        if u <= nu100_mm2s:
            raise NoValue
        return u

    def nu100_from_vi_d2270(self, vi: Any, nu40_mm2s: Any) -> Any:
        def excess(a: Arithmetic, y: Any) -> Any:
            of, index = ViscosityIndex(a), a.number(float(vi)) if a is FAST else vi
            l, h = of._lh(y)
            u = (h / y ** a.log10(1 + a.number("0.00715") * (index - 100)) if index > 100
                 else l - index * (l - h) / 100)
            return u - (float(nu40_mm2s) if a is FAST else nu40_mm2s)
        return root(self.a, excess, 2.0, 1000.0)


class Units(Formulas):
    def _of_temperature(self, t_degf: Any) -> Any:
        return 1 + self.n("0.000061") * (t_degf - 100)

    def sus_factor_d2161(self, t_degf: Any) -> Any:
        printed = {100: "4.632", 210: "4.664"}.get(t_degf)
        return self.n(printed) if printed else self.n("4.6324") * self._of_temperature(t_degf)

    def _equation(self, v: Any) -> Any:
        n = self.n
        return n("4.6324") * v + (1 + n("0.03264") * v) / (
            (n("3930.2") + n("262.7") * v + n("23.97") * v ** 2 + n("1.646") * v ** 3) * n("1e-5"))

    def sus_d2161(self, nu_mm2s: Any, t_degf: Any) -> Any:
        if nu_mm2s > 500:
            return nu_mm2s * self.sus_factor_d2161(t_degf)
        return self._equation(nu_mm2s) * self._of_temperature(t_degf)

    def nu_from_sus_d2161(self, sus: Any, t_degf: Any) -> Any:
        if sus > self.sus_d2161(self.n(500), t_degf):
            return sus / self.sus_factor_d2161(t_degf)
        at_100 = sus / self._of_temperature(t_degf)
        return root(self.a, lambda a, v: Units(a)._equation(v) - (float(at_100) if a is FAST else at_100), 1.8, 501.0)

    def sfs_d2161(self, nu_mm2s: Any, t_degf: Any) -> Any:
        n, v = self.n, nu_mm2s
        if t_degf == 122:
            return n("0.4717") * v + 13924 / (v ** 2 - n("72.59") * v + 6816)
        if t_degf == 210:
            return n("0.4792") * v + 5610 / (v ** 2 + 2130)
        raise NoValue

    def nu_from_sfs_d2161(self, sfs: Any, t_degf: Any) -> Any:
        def excess(a: Arithmetic, v: Any) -> Any:
            x, t = (float(sfs), float(t_degf)) if a is FAST else (sfs, t_degf)
            return Units(a).sfs_d2161(v, t) - x
        guess = float(sfs) / 0.47
        return root(self.a, excess, 0.9 * guess, 1.05 * guess) if guess > 1000 else root(self.a, excess, 47.0, 2000.0)

    def mu_from_nu_rho(self, nu_mm2s: Any, rho_kgm3: Any) -> Any:
        return nu_mm2s * rho_kgm3 / 1000

    def nu_from_mu_rho(self, mu_mpas: Any, rho_kgm3: Any) -> Any:
        return 1000 * mu_mpas / rho_kgm3

    def nu_mm2s_from_ft2s(self, nu_ft2s: Any) -> Any:
        return nu_ft2s * self.n("304.8") ** 2

    def nu_mm2s_from_in2s(self, nu_in2s: Any) -> Any:
        return nu_in2s * self.n("25.4") ** 2

    def mu_mpas_from_reyn(self, mu_lbf_s_in2: Any) -> Any:
        return mu_lbf_s_in2 * self.n("453.59237") * self.n("9.80665") / self.n("0.0254") ** 2

    def mu_mpas_from_lb_ft_s(self, mu_lb_ft_s: Any) -> Any:
        return mu_lb_ft_s * self.n("453.59237") / self.n("0.3048")
