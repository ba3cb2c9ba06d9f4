# SPDX-License-Identifier: Apache-2.0
"""Formulas of hydrocarbon_oracle.py: the tables of 1980, compressibility of 1984 and 1986, light ends of 2007 and
supplied liquids, one class per family, one method per quantity, generic in the arithmetic (see petroleum_oracle.py).

Written from the formulas and coefficients of the standards, not from the C or its tables.
"""

from __future__ import annotations

import functools
from typing import Any

from aqueous_oracle import polynomial, root
from exact_numbers import floor
from petroleum_oracle import EXACT, FAST, Arithmetic, NoValue, Petroleum2004, mpf

BORDERS = (770.352, 787.5195, 838.3127)


class Petroleum1980:
    """API Standard 2540; the set names the base: "60" in degF, "15" in degC."""

    K = {
        "60": {"crude": "341.0957 0 0", "fuel_oil": "103.8720 0.2701 0", "jet": "330.3010 0 0",
               "transition": "1489.0670 0 -0.0018684", "gasoline": "192.4571 0.2438 0", "lube": "0 0.34878 0"},
        "15": {"crude": "613.9723 0 0", "fuel_oil": "186.9696 0.4862 0", "jet": "594.5418 0 0",
               "transition": "2680.3206 0 -0.00336312", "gasoline": "346.4228 0.4388 0", "lube": "0 0.6278 0"},
    }
    LIMITS = {"60": {"crude": (610.6, 1075.0), "lube": (800.8, 1163.5), "transition": (729.5, 842.3)},
              "15": {"crude": (610.5, 1075.0), "lube": (800.0, 1164.0), "transition": (729.5, 842.3)}}
    REFINED = {"60": (652.9, 1075.0), "15": (653.0, 1075.0)}

    def __init__(self, arithmetic: Arithmetic) -> None:
        self._a, self._n = arithmetic, arithmetic.number
        self._water = self._n("999.012")

    def _limits(self, base: str, group: str) -> tuple[float, float]:
        return self.LIMITS[base].get(group, self.REFINED[base])

    def _alpha(self, base: str, group: str, rho: Any) -> Any:
        if group == "refined":
            ends = [self._n(border) for border in BORDERS]
            group = ("gasoline", "transition", "jet", "fuel_oil")[sum(rho >= end for end in ends)]
        k0, k1, k2 = (self._n(k) for k in self.K[base][group].split())
        return k0 / rho ** 2 + k1 / rho + k2

    def _rounded(self, alpha: Any) -> Any:
        if self._a is FAST:
            return alpha
        scaled = alpha * 10 ** 7
        if abs(scaled - floor(scaled) - mpf("0.5")) < mpf("1e-6"):
            raise NoValue
        return floor(scaled + mpf("0.5")) / 10 ** 7

    def _factor(self, base: str, alpha: Any, t: Any) -> Any:
        x = alpha * (t - self._n({"60": 60, "15": 15}[base]))
        return self._a.exp(-x * (1 + self._n("0.8") * x))

    def _vcf(self, base: str, group: str, rho: Any, t: Any) -> Any:
        low, high = self._limits(base, group)
        if not low <= rho <= high:
            raise NoValue
        return self._factor(base, self._rounded(self._alpha(base, group, rho)), t)

    def _smooth(self, base: str, group: str, rho: Any, t: Any) -> Any:
        return self._factor(base, self._alpha(base, group, rho), t)

    def _base(self, base: str, group: str, observed: Any, t: Any, limits: tuple[float, float] | None = None) -> Any:
        low, high = limits or self._limits(base, group)

        def excess(arithmetic: Arithmetic, rho: Any) -> Any:
            of = self if arithmetic is self._a else Petroleum1980(arithmetic)
            at, over = (float(t), float(observed)) if arithmetic is FAST else (t, observed)
            return rho * of._smooth(base, group, rho, at) - over

        return root(self._a, excess, low - 0.01, high + 0.01)

    def hydrometer_glass_factor_1980_degf(self, t_degf: Any, glass_base_degf: Any) -> Any:
        return polynomial(t_degf - glass_base_degf, [self._n(c) for c in ("1", "-0.00001278", "-0.0000000062")])

    def hydrometer_glass_factor_1980_degc(self, t_degc: Any, glass_base_degc: Any) -> Any:
        return polynomial(t_degc - glass_base_degc, [self._n(c) for c in ("1", "-0.000023", "-0.00000002")])

    def ctl_table6_petroleum_1980(self, api60: Any, t_degf: Any, group: str) -> Any:
        return self._vcf("60", group, self._n("141.5") / (api60 + self._n("131.5")) * self._water, t_degf)

    def ctl_table24_petroleum_1980(self, rd60: Any, t_degf: Any, group: str) -> Any:
        return self._vcf("60", group, rd60 * self._water, t_degf)

    def ctl_table6c_petroleum_1980(self, alpha60_per_degf: Any, t_degf: Any) -> Any:
        return self._factor("60", alpha60_per_degf, t_degf)

    def ctl_table54_petroleum_1980(self, rho15_kgm3: Any, t_degc: Any, group: str) -> Any:
        return self._vcf("15", group, rho15_kgm3, t_degc)

    def ctl_table54c_petroleum_1980(self, alpha15_per_degc: Any, t_degc: Any) -> Any:
        return self._factor("15", alpha15_per_degc, t_degc)

    def ctl_petroleum_1980(self, rho_base_kgm3: Any, t_degc: Any, t_base_degc: Any, group: str) -> Any:
        rho15 = self._base("15", group, rho_base_kgm3, t_base_degc)
        alpha = self._rounded(self._alpha("15", group, rho15))
        return self._factor("15", alpha, t_degc) / self._factor("15", alpha, t_base_degc)

    def ctl_table60_petroleum_1980(self, rho20_kgm3: Any, t_degc: Any, group: str) -> Any:
        return self.ctl_petroleum_1980(rho20_kgm3, t_degc, self._n(20), group)

    def api60_table5_petroleum_1980(self, api: Any, t_degf: Any, group: str, glass_base_degf: Any) -> Any:
        rd = self._n("141.5") / (api + self._n("131.5"))
        return self._n("141.5") / self.rd60_table23_petroleum_1980(rd, t_degf, group, glass_base_degf) \
            - self._n("131.5")

    def rd60_table23_petroleum_1980(self, rd: Any, t_degf: Any, group: str, glass_base_degf: Any) -> Any:
        rho = rd * self._water * self.hydrometer_glass_factor_1980_degf(t_degf, glass_base_degf)
        return self._base("60", group, rho, t_degf) / self._water

    def rho15_table53_petroleum_1980(self, rho_kgm3: Any, t_degc: Any, group: str, glass_base_degc: Any) -> Any:
        rho = rho_kgm3 * self.hydrometer_glass_factor_1980_degc(t_degc, glass_base_degc)
        return self._base("15", group, rho, t_degc)

    def rho20_table59_petroleum_1980(self, rho_kgm3: Any, t_degc: Any, group: str, glass_base_degc: Any) -> Any:
        rho15 = self.rho15_table53_petroleum_1980(rho_kgm3, t_degc, group, glass_base_degc)
        return rho15 * self._smooth("15", group, rho15, self._n(20))

    def rho_base_from_observed_petroleum_1980(self, rho_kgm3: Any, t_degc: Any, t_base_degc: Any, group: str) -> Any:
        rho15 = self._base("15", group, rho_kgm3, t_degc)
        return rho15 * self._smooth("15", group, rho15, t_base_degc)

    def ctl15_difference_1980_2004(self, rho15_kgm3: Any, t_degc: Any, group: str) -> Any:
        of_2004 = Petroleum2004(self._a).metric("ctl15_petroleum_2004", {"rho15_kgm3": rho15_kgm3, "t_degc": t_degc,
                                                                        "group": group})
        return self._vcf("15", group, rho15_kgm3, t_degc) - of_2004


class Compressibility1984:
    """API MPMS 11.2.1 and 11.2.1M."""

    FORMS = {"60": ("-1.99470", "0.00013427", "0.79392", "0.0023260", "0.00001"),
             "15": ("-1.62080", "0.00021592", "0.87096", "0.0042092", "0.000001")}

    def __init__(self, arithmetic: Arithmetic) -> None:
        self._a, self._n = arithmetic, arithmetic.number
        self._thermal = Petroleum1980(arithmetic)

    def _f(self, base: str, rho: Any, t: Any) -> Any:
        a, b, c, d, _ = (self._n(k) for k in self.FORMS[base])
        rho_gcm3 = rho / 1000
        return self._a.exp(a + b * t + c / rho_gcm3 ** 2 + d * t / rho_gcm3 ** 2)

    def _cpl(self, base: str, rho: Any, t: Any, p: Any, pe: Any) -> Any:
        dp = p - max(pe, self._n(0))
        if dp < 0:
            raise NoValue
        return 1 / (1 - self._n(self.FORMS[base][4]) * self._f(base, rho, t) * dp)

    def f_compressibility_1984_metric(self, rho15_kgm3: Any, t_degc: Any) -> Any:
        return self._f("15", rho15_kgm3, t_degc)

    def f_compressibility_1984_customary(self, rho60_kgm3: Any, t_degf: Any) -> Any:
        return self._f("60", rho60_kgm3, t_degf)

    def f_from_observed_compressibility_1984_metric(self, rho_kgm3: Any, t_degc: Any, group: str) -> Any:
        low, high = self._thermal._limits("15", group)
        limits = (low, high if group == "transition" else 1164.0)
        return self._f("15", self._thermal._base("15", group, rho_kgm3, t_degc, limits), t_degc)

    def cpl_compressibility_1984_metric(self, rho15_kgm3: Any, t_degc: Any, p_kpag: Any, pe_kpag: Any) -> Any:
        return self._cpl("15", rho15_kgm3, t_degc, p_kpag, pe_kpag)

    def cpl_compressibility_1984_customary(self, rho60_kgm3: Any, t_degf: Any, p_psig: Any, pe_psig: Any) -> Any:
        return self._cpl("60", rho60_kgm3, t_degf, p_psig, pe_psig)

    def rho_at_zero_gauge_compressibility_1984_metric(self, rho_kgm3: Any, t_degc: Any, p_kpag: Any,
                                                      group: str) -> Any:
        f = self.f_from_observed_compressibility_1984_metric(rho_kgm3, t_degc, group)
        if self._a is EXACT:
            if abs(f * 1000 - floor(f * 1000) - mpf("0.5")) < mpf("1e-6"):
                raise NoValue
            f = floor(f * 1000 + mpf("0.5")) / 1000
        return rho_kgm3 * (1 - f * p_kpag / 10 ** 6)

    def _base(self, base: str, group: str, observed: Any, t: Any, p: Any, pe: Any) -> Any:
        low, high = self._thermal._limits(base, group)

        def excess(arithmetic: Arithmetic, rho: Any) -> Any:
            of = self if arithmetic is self._a else Compressibility1984(arithmetic)
            over, at, p_, pe_ = (float(x) if arithmetic is FAST else x for x in (observed, t, p, pe))
            return rho * of._thermal._smooth(base, group, rho, at) * of._cpl(base, rho, at, p_, pe_) - over

        return root(self._a, excess, max(low, 638.0) - 0.01, min(high, 1074.0) + 0.01)

    def rho15_from_observed_compressibility_1984_metric(self, rho_kgm3: Any, t_degc: Any, p_kpag: Any, group: str,
                                                        pe_kpag: Any) -> Any:
        return self._base("15", group, rho_kgm3, t_degc, p_kpag, pe_kpag)

    def rho60_from_observed_compressibility_1984_customary(self, rho_kgm3: Any, t_degf: Any, p_psig: Any, group: str,
                                                           pe_psig: Any) -> Any:
        return self._base("60", group, rho_kgm3, t_degf, p_psig, pe_psig)


class LightEnds2007:
    """GPA TP-27."""

    FLUIDS = [line.split() for line in """
        0.325022 298.11 0.27998 6.250 2.54616855327 -0.058244177754 0.803398090807 -0.745720314137
        0.355994 305.33 0.28220 6.870 1.89113042610 -0.370305782347 -0.544867288720 0.337876634952
        0.429277 333.67 0.28060 5.615 2.20970078464 -0.294253708172 -0.405754420098 0.319443433421
        0.470381 352.46 0.27930 5.110 2.25341981320 -0.266542138024 -0.372756711655 0.384734185665
        0.507025 369.78 0.27626 5.000 1.96568366933 -0.327662435541 -0.417979702538 0.303271602831
        0.562827 407.85 0.28326 3.860 2.04748034410 -0.289734363425 -0.330345036434 0.291757103132
        0.584127 425.16 0.27536 3.920 2.03734743118 -0.299059145695 -0.418883095671 0.380367738748
        0.624285 460.44 0.27026 3.247 2.06541640707 -0.238366208840 -0.161440492247 0.258681568613
        0.631054 469.65 0.27235 3.200 2.11263474494 -0.261269413560 -0.291923445075 0.308344290017
        0.657167 498.05 0.26706 2.727 2.02382197871 -0.423550090067 -1.152810982570 0.950139001678
        0.664064 507.35 0.26762 2.704 2.17134547773 -0.232997313405 -0.267019794036 0.378629524102
        0.688039 540.15 0.26312 2.315 2.19773533433 -0.275056764147 -0.447144095029 0.493770995799
        """.strip().splitlines()]

    def __init__(self, arithmetic: Arithmetic) -> None:
        self._n = arithmetic.number
        self._a = arithmetic
        self._water = self._n("999.016")
        self._fluids = self._read(arithmetic)

    @staticmethod
    @functools.cache
    def _read(arithmetic: Arithmetic) -> list[list[Any]]:
        return [[arithmetic.number(x) for x in fluid] for fluid in LightEnds2007.FLUIDS]

    def _degf(self, t: Any) -> Any:
        return (t + self._n("459.67")) / self._n("1.8")

    def _degc(self, t: Any) -> Any:
        return t + self._n("273.15")

    def _saturated(self, fluid: list[Any], tr: Any) -> Any:
        _, _, _, rho_c, k1, k2, k3, k4 = fluid
        s = max(1 - tr, self._n(0))
        return rho_c * (1 + (k1 * s ** self._n("0.35") + k3 * s ** 2 + k4 * s ** 3) / (1 + k2 * s ** self._n("0.65")))

    def _ctl60(self, rd60: Any, t_k: Any, held: bool = False) -> Any:
        """held: a liquid above its critical temperature counts as at it."""
        fluids = self._fluids
        place = max(i for i in range(11) if fluids[i][0] <= rd60)
        one, two = fluids[place], fluids[place + 1]
        d = (rd60 - one[0]) / (two[0] - one[0])
        tc = one[1] + d * (two[1] - one[1])
        if t_k > tc and not held:
            raise NoValue
        h = one[2] * one[3] / (two[2] * two[3])

        def mixed(tr: Any) -> Any:
            rho1, rho2 = self._saturated(one, tr), self._saturated(two, tr)
            return rho1 / (1 + d * (rho1 / (h * rho2) - 1))

        return mixed(t_k / tc) / mixed(self._n("519.67") / (self._n("1.8") * tc))

    def _rd60(self, rd: Any, t_k: Any) -> Any:
        """The lightest density that is not above its critical temperature bounds the search."""
        low, high = 0.35 - 2e-5, 0.688 + 2e-5
        critical = [(float(fluid[0]), float(fluid[1])) for fluid in self.FLUIDS]
        for (g1, t1), (g2, t2) in zip(critical, critical[1:]):
            if t1 <= t_k < t2:
                low = max(low, g1 + (float(t_k) - t1) / (t2 - t1) * (g2 - g1))

        def excess(arithmetic: Arithmetic, x: Any) -> Any:
            of = self if arithmetic is self._a else LightEnds2007(arithmetic)
            over, at = (float(rd), float(t_k)) if arithmetic is FAST else (rd, t_k)
            return x * of._ctl60(x, at, held=True) - over

        return root(self._a, excess, low, high)

    def ctl60_light_ends_2007(self, rd60: Any, t_degf: Any) -> Any:
        return self._ctl60(rd60, self._degf(t_degf))

    def rd60_from_observed_light_ends_2007(self, rd: Any, t_degf: Any) -> Any:
        return self._rd60(rd, self._degf(t_degf))

    def ctl_light_ends_2007(self, rho_base_kgm3: Any, t_degc: Any, t_base_degc: Any) -> Any:
        base = self._degc(t_base_degc)
        rd60 = self._rd60(rho_base_kgm3 / self._water, base)
        return self._ctl60(rd60, self._degc(t_degc)) / self._ctl60(rd60, base)

    def rho_base_from_observed_light_ends_2007(self, rho_kgm3: Any, t_degc: Any, t_base_degc: Any) -> Any:
        rd60 = self._rd60(rho_kgm3 / self._water, self._degc(t_degc))
        return rd60 * self._water * self._ctl60(rd60, self._degc(t_base_degc))

    def ctl15_light_ends_2007(self, rho15_kgm3: Any, t_degc: Any) -> Any:
        return self.ctl_light_ends_2007(rho15_kgm3, t_degc, self._n(15))

    def rho15_from_observed_light_ends_2007(self, rho_kgm3: Any, t_degc: Any) -> Any:
        return self.rho_base_from_observed_light_ends_2007(rho_kgm3, t_degc, self._n(15))

    def ctl20_light_ends_2007(self, rho20_kgm3: Any, t_degc: Any) -> Any:
        return self.ctl_light_ends_2007(rho20_kgm3, t_degc, self._n(20))

    def rho20_from_observed_light_ends_2007(self, rho_kgm3: Any, t_degc: Any) -> Any:
        return self.rho_base_from_observed_light_ends_2007(rho_kgm3, t_degc, self._n(20))


class Compressibility1986:
    """API MPMS 11.2.2."""

    A = (("-2.1465891e-6", 2, 0), ("1.5774390e-5", 2, 2), ("-1.0502139e-5", 2, 4), ("2.8324481e-7", 3, 6),
         ("-0.95495939", 0, 0), ("7.2900662e-8", 3, 2), ("-2.7769343e-7", 3, 4), ("0.036458380", 1, 2),
         ("-0.05110158", 1, 1), ("0.00795529", 1, 0), ("9.13114910", 0, 1))
    B = (("-6.0357667e-10", 2, 0), ("2.2112678e-6", 1, 2), ("0.00088384", 0, 1), ("-0.00204016", 0, 2))

    def __init__(self, arithmetic: Arithmetic) -> None:
        self._a, self._n = arithmetic, arithmetic.number
        self._light = LightEnds2007(arithmetic)

    def f_compressibility_1986(self, rd60: Any, t_degf: Any, dp_psi: Any) -> Any:
        t = t_degf + self._n("459.67")
        a, b = (sum(self._n(c) * t ** i * rd60 ** j for c, i, j in terms) for terms in (self.A, self.B))
        if a <= 0 or a + b * dp_psi <= 0:
            raise NoValue
        return 1 / (a + b * dp_psi)

    def cpl_compressibility_1986(self, rd60: Any, t_degf: Any, dp_psi: Any) -> Any:
        return 1 / (1 - self.f_compressibility_1986(rd60, t_degf, dp_psi) * dp_psi / 10 ** 5)

    def _observed(self, rd60: Any, t_degf: Any, dp_psi: Any) -> Any:
        return (rd60 * self._light.ctl60_light_ends_2007(rd60, t_degf)
                * self.cpl_compressibility_1986(rd60, t_degf, dp_psi))

    def rd60_from_observed_compressibility_1986(self, rd: Any, t_degf: Any, dp_psi: Any) -> Any:
        """Down from the heavy end, in steps, to the one that holds the observed density."""
        fast, t, dp = Compressibility1986(FAST), float(t_degf), float(dp_psi)
        high, before = 0.637 + 2e-5, fast._observed(0.637 + 2e-5, t, dp)
        if before < rd:
            raise NoValue
        while True:
            low = max(high - 0.0005, 0.35 - 2e-5)
            here = fast._observed(low, t, dp) if low < high else before
            if here >= before:
                raise NoValue  # the end of the range, or the product no longer falls
            if here <= rd:
                break
            high, before = low, here

        def excess(arithmetic: Arithmetic, x: Any) -> Any:
            of = self if arithmetic is self._a else fast
            return of._observed(x, t, dp) - float(rd) if arithmetic is FAST else of._observed(x, t_degf, dp_psi) - rd

        return root(self._a, excess, low, high)


class SuppliedLiquid:
    """Polynomials, tables and compressibilities of the caller."""

    def __init__(self, arithmetic: Arithmetic) -> None:
        self._n = arithmetic.number

    def rho_polynomial(self, t: Any, t_low: Any, t_high: Any, c: list) -> Any:
        if not t_low <= t <= t_high or polynomial(t, c) <= 0:
            raise NoValue
        return polynomial(t, c)

    def ctl_polynomial(self, t: Any, t_base: Any, t_low: Any, t_high: Any, c: list) -> Any:
        return self.rho_polynomial(t, t_low, t_high, c) / self.rho_polynomial(t_base, t_low, t_high, c)

    def rho_base_from_observed_polynomial(self, rho_kgm3: Any, t: Any, t_base: Any, t_low: Any, t_high: Any,
                                          c: list) -> Any:
        return rho_kgm3 / self.ctl_polynomial(t, t_base, t_low, t_high, c)

    def rho_table_bilinear(self, t_degc: Any, p_kpag: Any, t_table_degc: list, p_table_kpag: list,
                           rho_table_kgm3: list) -> Any:
        """Weights of the four corners."""
        grid = dict(zip(zip(t_table_degc, p_table_kpag), rho_table_kgm3))
        total = 0
        sides = []
        for x, values in ((t_degc, sorted(set(t_table_degc))), (p_kpag, sorted(set(p_table_kpag)))):
            i = max(i for i in range(len(values) - 1) if values[i] <= x)
            part = (x - values[i]) / (values[i + 1] - values[i])
            sides.append(((values[i], 1 - part), (values[i + 1], part)))
        for t, t_weight in sides[0]:
            for p, p_weight in sides[1]:
                total += t_weight * p_weight * grid[t, p]
        return total

    def cpl_supplied_compressibility(self, f_per_kpa: Any, p_kpag: Any, pe_kpag: Any) -> Any:
        dp = p_kpag - max(pe_kpag, self._n(0))
        if dp < 0 or f_per_kpa * dp >= 1:
            raise NoValue
        return 1 / (1 - f_per_kpa * dp)

    def equilibrium_pressure_gauge(self, pe_kpa: Any, p_atmospheric_kpa: Any) -> Any:
        return max(pe_kpa - p_atmospheric_kpa, self._n(0))
