# SPDX-License-Identifier: Apache-2.0
"""API MPMS 11.1-2004 and ASTM D341 recomputed with mpmath at 40 digits, apart from the library.

Written from the formulas of the standards (constants from memory, as the library's headers say), not from the C. Each
quantity is a method named as in the library, generic in its arithmetic: EXACT computes the value with 40 digits, FAST in
binary64 serves the condition number, which needs two digits only.

    value(name, **inputs) -> mpf        raises NoValue where the quantity has none
    condition(name, **inputs) -> float  sum over the inputs x of |x df/dx / f|

An input in degC of a D341 quantity counts as its absolute temperature, because T = t + 273.15 K is what the formula
takes and what is rounded. A viscosity read off a D341 line counts W as one more input: the line gives W, and a thick
liquid hangs on its last bit (d ln nu = ln 10 ln Z dW), however well the points are known. For the same reason the
coefficients of a line count the W of each point.
"""

from __future__ import annotations

import functools
import math
from typing import Any, Callable

from exact_numbers import exp, log10, mpf



class NoValue(Exception):
    """The quantity has no value for these inputs."""


class Arithmetic:
    """A kind of number: how a decimal constant is read, and its elementary functions."""

    def __init__(self, number: Callable, exp: Callable, log10: Callable) -> None:
        self.exp, self.log10 = exp, log10
        self.number = functools.lru_cache(maxsize=4096)(number)  # the decimal constants are read once

    def power10(self, x: Any) -> Any:
        return self.number(10) ** x


EXACT = Arithmetic(mpf, exp, log10)
FAST = Arithmetic(float, math.exp, math.log10)

SHIFT = ("-0.148759", "-0.267408", "1.080760", "1.269056", "-4.089591", "-1.871251", "7.438081", "-3.536296")
COEFFICIENTS = {  # K0, K1, K2
    "crude": ("341.0957", "0", "0"), "fuel_oil": ("103.8720", "0.2701", "0"), "jet": ("330.3010", "0", "0"),
    "transition": ("1489.0670", "0", "-0.00186840"), "gasoline": ("192.4571", "0.2438", "0"),
    "lube": ("0", "0.34878", "0"),
}
# Densities at which the refined groups end, as doubles: a density given with the printed digits lies on the border.
REFINED = (("gasoline", 770.3520), ("transition", 787.5195), ("jet", 838.3127), ("fuel_oil", None))
# Density limits kg/m3 at 60 degF, 15 degC, 20 degC: the standard's of crude, refined and lube; the others as documented
# in flowcomp/petroleum_2004.h. None: alpha60 is given.
_REFINED_LIMITS = {60: (610.6, 1163.5), 15: (611.16, 1163.86), 20: (606.12, 1160.62)}
LIMITS = {
    "crude": {60: (610.6, 1163.5), 15: (611.16, 1163.79), 20: (606.12, 1161.15)},
    "refined": _REFINED_LIMITS, "fuel_oil": _REFINED_LIMITS, "jet": _REFINED_LIMITS, "gasoline": _REFINED_LIMITS,
    "transition": {60: (729.5, 842.3), 15: (730.18, 842.49), 20: (724.07, 840.74)},
    "lube": {60: (800.9, 1163.5), 15: (801.25, 1163.85), 20: (798.11, 1160.71)},
    None: {60: (610.6, 1163.5), 15: (611.16, 1163.86), 20: (606.12, 1161.15)},
}


class Petroleum2004:
    """The quantities *_petroleum_2004, in one arithmetic."""

    def __init__(self, arithmetic: Arithmetic) -> None:
        self.a = arithmetic
        n = arithmetic.number
        self.delta60, self.t_star60 = n("0.01374979547"), n("60.0068749")
        self.psi = n("6.894757")
        self.water = n("999.016")

    # --- the forward formulas ---

    def t90_minus_t68_its90(self, t_degc: Any) -> Any:
        tau = t_degc / self.a.number(630)
        return sum(self.a.number(c) * tau ** (k + 1) for k, c in enumerate(SHIFT))

    def t68_from_t90_petroleum_2004(self, t_degf: Any) -> Any:
        n = self.a.number
        t90 = (t_degf - n(32)) / n("1.8")
        return n("1.8") * (t90 - self.t90_minus_t68_its90(t90)) + n(32)

    def row(self, rho60: Any, group: str | None) -> tuple[Any, Any, Any]:
        if group == "refined":
            group = next(name for name, end in REFINED if end is None or rho60 < self.a.number(end))
        return tuple(self.a.number(k) for k in COEFFICIENTS[group])

    def rho_star_petroleum_2004(self, rho60_kgm3: Any, group: str | None = None, alpha60_per_degf: Any = None) -> Any:
        n, rho = self.a.number, rho60_kgm3
        if alpha60_per_degf is not None:
            x = alpha60_per_degf * self.delta60
            return rho * self.a.exp(n("0.5") * x * (1 + n("0.4") * x))
        k0, k1, k2 = self.row(rho, group)
        big_a = self.delta60 / 2 * ((k0 / rho + k1) / rho + k2)
        big_b = (2 * k0 + k1 * rho) / (k0 + (k1 + k2 * rho) * rho)
        top = self.a.exp(big_a * (1 + n("0.8") * big_a)) - 1
        return rho * (1 + top / (1 + big_a * (1 + n("1.6") * big_a) * big_b))

    def alpha60_petroleum_2004(self, rho60_kgm3: Any, group: str | None = None, alpha60_per_degf: Any = None) -> Any:
        if alpha60_per_degf is not None:
            return alpha60_per_degf
        k0, k1, k2 = self.row(rho60_kgm3, group)
        star = self.rho_star_petroleum_2004(rho60_kgm3, group)
        return (k0 / star + k1) / star + k2

    def ctl60_petroleum_2004(self, rho60_kgm3: Any, t_degf: Any, **product: Any) -> Any:
        alpha = self.alpha60_petroleum_2004(rho60_kgm3, **product)
        dt = self.t68_from_t90_petroleum_2004(t_degf) - self.t_star60
        return self.a.exp(-alpha * dt * (1 + self.a.number("0.8") * alpha * (dt + self.delta60)))

    def fp60_petroleum_2004(self, rho60_kgm3: Any, t_degf: Any, **product: Any) -> Any:
        n = self.a.number
        star = self.rho_star_petroleum_2004(rho60_kgm3, **product)
        t = self.t68_from_t90_petroleum_2004(t_degf)
        return self.a.exp(n("-1.9947") + n("0.00013427") * t + (n(793920) + n(2326) * t) / star ** 2)

    def cpl60_petroleum_2004(self, rho60_kgm3: Any, t_degf: Any, p_psig: Any, **product: Any) -> Any:
        return 1 / (1 - self.a.number("0.00001") * self.fp60_petroleum_2004(rho60_kgm3, t_degf, **product) * p_psig)

    def ctpl60_petroleum_2004(self, rho60_kgm3: Any, t_degf: Any, p_psig: Any, **product: Any) -> Any:
        return (self.ctl60_petroleum_2004(rho60_kgm3, t_degf, **product)
                * self.cpl60_petroleum_2004(rho60_kgm3, t_degf, p_psig, **product))

    def rho60_from_api60_petroleum_2004(self, api60: Any) -> Any:
        return self.a.number("141.5") * self.water / (api60 + self.a.number("131.5"))

    def api60_from_rho60_petroleum_2004(self, rho60_kgm3: Any) -> Any:
        return self.a.number("141.5") * self.water / rho60_kgm3 - self.a.number("131.5")

    def ctl60_from_api60_petroleum_2004(self, api60: Any, t_degf: Any, group: str) -> Any:
        return self.ctl60_petroleum_2004(self.rho60_from_api60_petroleum_2004(api60), t_degf, group=group)

    # --- the inverse ---

    def _observed(self, rho60: Any, t: Any, p: Any, product: dict) -> Any:
        return rho60 * self.ctpl60_petroleum_2004(rho60, t, p, **product)

    def _root(self, rho: Any, t: Any, p: Any, product: dict, low: Any, high: Any) -> Any:
        """Root of a rising smooth piece between low and high: by halving in binary64, then by Newton's steps with the
        slope from there, each of which gains seven digits or more."""
        fast, lo, hi = Petroleum2004(FAST), float(low), float(high)
        numbers = {k: v if isinstance(v, str) else float(v) for k, v in product.items()}

        def observed(x: float) -> float:
            return fast._observed(x, float(t), float(p), numbers)

        for _ in range(26):
            middle = 0.5 * (lo + hi)
            lo, hi = (middle, hi) if observed(middle) < float(rho) else (lo, middle)
        root, step = self.a.number(lo), 1e-4 * lo
        slope = (observed(lo + step) - observed(lo - step)) / (2 * step)
        for _ in range(6 if self.a is EXACT else 2):
            root = root - (self._observed(root, t, p, product) - rho) / slope
        return root

    def _refined(self, rho: Any, t: Any, p: Any, low: Any, high: Any) -> Any:
        """Piece by piece, each between the borders of its group. Where two pieces answer, or none does, the side of
        the border whose product is nearer to the observed density."""
        ends = [low, *(self.a.number(end) for _, end in REFINED[:-1]), high]
        names = [name for name, _ in REFINED]
        at_ends = [(self._observed(ends[i], t, p, {"group": name}), self._observed(ends[i + 1], t, p, {"group": name}))
                   for i, name in enumerate(names)]
        answers = [i for i, (first, last) in enumerate(at_ends) if first <= rho <= last]
        if len(answers) == 1:
            i = answers[0]
            return self._root(rho, t, p, {"group": names[i]}, ends[i], ends[i + 1])
        border = next(i for i in range(3) if min(at_ends[i][1], at_ends[i + 1][0]) <= rho
                      <= max(at_ends[i][1], at_ends[i + 1][0]))
        side = border if abs(at_ends[border][1] - rho) < abs(at_ends[border + 1][0] - rho) else border + 1
        if not answers:
            return ends[border + 1]
        return self._root(rho, t, p, {"group": names[side]}, ends[side], ends[side + 1])

    def rho60_from_observed_petroleum_2004(self, rho_kgm3: Any, t_degf: Any, p_psig: Any, **product: Any) -> Any:
        n = self.a.number
        low, high = (n(x) for x in LIMITS[product.get("group")][60])
        low, high = low - n("0.01"), high + n("0.01")
        first, last = self._observed(low, t_degf, p_psig, product), self._observed(high, t_degf, p_psig, product)
        if not first < rho_kgm3 < last:
            raise NoValue
        if product.get("group") == "refined":
            return self._refined(rho_kgm3, t_degf, p_psig, low, high)
        return self._root(rho_kgm3, t_degf, p_psig, product, low, high)

    # --- metric bases ---

    def _rho60_from_base(self, t_base: int, rho: Any, product: dict) -> Any:
        n, base = self.a.number, {59: 15, 68: 20}[t_base]
        low, high = LIMITS[product.get("group")][base]
        if not low <= rho <= high:
            raise NoValue
        return self.rho60_from_observed_petroleum_2004(rho, n(t_base), n(0), **product)

    def _at_base(self, t_base: int, rho: Any, t_degc: Any, p_kpag: Any, product: dict) -> dict[str, Any]:
        n = self.a.number
        rho60 = self._rho60_from_base(t_base, rho, product)
        t_degf, p_psig = n("1.8") * t_degc + n(32), p_kpag / self.psi
        ctl = self.ctl60_petroleum_2004(rho60, t_degf, **product) / self.ctl60_petroleum_2004(rho60, n(t_base), **product)
        cpl = self.cpl60_petroleum_2004(rho60, t_degf, p_psig, **product)
        return {"ctl": ctl, "cpl": cpl, "ctpl": ctl * cpl,
                "fp": self.fp60_petroleum_2004(rho60, t_degf, **product) / self.psi}

    def _to_base(self, t_base: int, rho60: Any, product: dict) -> Any:
        return rho60 * self.ctl60_petroleum_2004(rho60, self.a.number(t_base), **product)

    def _observed_to_base(self, t_base: int, rho: Any, t_degc: Any, p_kpag: Any, product: dict) -> Any:
        n = self.a.number
        rho60 = self.rho60_from_observed_petroleum_2004(rho, n("1.8") * t_degc + n(32), p_kpag / self.psi, **product)
        return self._to_base(t_base, rho60, product)

    def metric(self, name: str, inputs: dict[str, Any]) -> Any:
        """The quantities of base 15 and 20 degC, which differ in that number only."""
        base = "15" if "15" in name.split("_petroleum")[0] else "20"
        t_base = {"15": 59, "20": 68}[base]
        product = {k: v for k, v in inputs.items() if k in ("group", "alpha60_per_degf")}
        rho = inputs.get(f"rho{base}_kgm3")
        if name.startswith("rho60_from_rho"):
            return self._rho60_from_base(t_base, rho, product)
        if "_from_rho60_" in name:
            return self._to_base(t_base, inputs["rho60_kgm3"], product)
        if "_from_observed_" in name:
            return self._observed_to_base(t_base, inputs["rho_kgm3"], inputs["t_degc"], inputs["p_kpag"], product)
        part = name.split(base)[0]
        return self._at_base(t_base, rho, inputs["t_degc"], inputs.get("p_kpag", self.a.number(0)), product)[part]


class ViscosityD341:
    """The quantities of ASTM D341, in one arithmetic."""

    FULL = (("+", "-1.14883", "2.65868"), ("-", "-0.0038138", "12.5645"), ("+", "5.46491", "37.6289"),
            ("-", "13.0458", "74.6851"), ("+", "37.4619", "192.643"), ("-", "80.4945", "400.468"))

    def __init__(self, arithmetic: Arithmetic) -> None:
        self.a = arithmetic
        self.kelvin = arithmetic.number("273.15")

    def z(self, nu: Any, form: str) -> Any:
        n, z = self.a.number, nu + self.a.number("0.7")
        if form == "body":
            z += self.a.exp(n("-1.47") - n("1.84") * nu - n("0.51") * nu ** 2)
        elif form == "full":
            for sign, constant, slope in self.FULL:
                term = self.a.exp(n(constant) - n(slope) * nu)
                z = z + term if sign == "+" else z - term
        return z

    def z_d341_simple(self, nu_mm2s: Any) -> Any:
        return self.z(nu_mm2s, "simple")

    def z_d341_body(self, nu_mm2s: Any) -> Any:
        return self.z(nu_mm2s, "body")

    def z_d341_full(self, nu_mm2s: Any) -> Any:
        return self.z(nu_mm2s, "full")

    def w_d341(self, nu_mm2s: Any, form: str) -> Any:
        return self.a.log10(self.a.log10(self.z(nu_mm2s, form)))

    def nu_d341_inverse_series(self, z: Any) -> Any:
        n, x = self.a.number, z - self.a.number("0.7")
        return x - self.a.exp(n("-0.7487") - n("3.295") * x + n("0.6119") * x ** 2 - n("0.3193") * x ** 3)

    def nu_d341_from_z(self, z: Any, form: str) -> Any:
        """Halving in binary64, then secant steps: no derivative of the exponentials is written out here."""
        if form == "simple":
            return z - self.a.number("0.7")
        fast, lo, hi = ViscosityD341(FAST), max(0.2, float(z) - 0.9), float(z) - 0.7
        for _ in range(70):
            middle = 0.5 * (lo + hi)
            lo, hi = (middle, hi) if fast.z(middle, form) < float(z) else (lo, middle)
        if self.a is FAST:
            return hi
        previous, root = mpf(lo) * (1 - mpf("1e-9")), mpf(hi)
        for _ in range(7):
            over, before = self.z(root, form) - z, self.z(previous, form) - z
            if over == before or root == previous:
                break
            previous, root = root, root - over * (root - previous) / (over - before)
        return root

    def _nu_from_w(self, w: Any, form: str) -> Any:
        if not -4 < w < 1:
            raise NoValue
        nu = self.nu_d341_from_z(self.a.power10(self.a.power10(w)), form)
        if not (2 if form == "simple" else 0.21) <= nu <= 2e7:
            raise NoValue
        return nu

    def _line(self, t1: Any, nu1: Any, t2: Any, nu2: Any, form: str) -> tuple[Any, Any]:
        x1, x2 = self.a.log10(t1 + self.kelvin), self.a.log10(t2 + self.kelvin)
        w1, w2 = self.w_d341(nu1, form), self.w_d341(nu2, form)
        b = (w1 - w2) / (x2 - x1)
        return w1 + b * x1, b

    def a_d341_two_point(self, **point: Any) -> Any:
        return self._line(point["t1_degc"], point["nu1_mm2s"], point["t2_degc"], point["nu2_mm2s"], point["form"])[0]

    def b_d341_two_point(self, **point: Any) -> Any:
        return self._line(point["t1_degc"], point["nu1_mm2s"], point["t2_degc"], point["nu2_mm2s"], point["form"])[1]

    def nu_d341_two_point(self, t_degc: Any, **points: Any) -> Any:
        a, b = self.a_d341_two_point(**points), self.b_d341_two_point(**points)
        return self.nu_d341_ab(t_degc, a, b, points["form"])

    def t_d341_two_point(self, nu_mm2s: Any, **points: Any) -> Any:
        a, b = self.a_d341_two_point(**points), self.b_d341_two_point(**points)
        t = self.a.power10((a - self.w_d341(nu_mm2s, points["form"])) / b) - self.kelvin
        if not -100 <= t <= 400:
            raise NoValue
        return t

    def nu_d341_ab(self, t_degc: Any, a: Any, b: Any, form: str) -> Any:
        return self._nu_from_w(a - b * self.a.log10(t_degc + self.kelvin), form)

    def _fit(self, t: list, nu: list, form: str) -> tuple[Any, Any]:
        """Normal equations; 40 digits make centring needless, binary64 serves the condition number only."""
        n = self.a.number(len(t))
        x0 = self.a.log10(t[0] + self.kelvin)
        x = [self.a.log10(v + self.kelvin) - x0 for v in t]
        w = [self.w_d341(v, form) for v in nu]
        sx, sw, sxx = sum(x), sum(w), sum(v * v for v in x)
        b = -(n * sum(p * q for p, q in zip(x, w)) - sx * sw) / (n * sxx - sx * sx)
        return (sw + b * sx) / n + b * x0, b

    def a_d341_lsq(self, t_fit_degc: list, nu_fit_mm2s: list, form: str) -> Any:
        return self._fit(t_fit_degc, nu_fit_mm2s, form)[0]

    def b_d341_lsq(self, t_fit_degc: list, nu_fit_mm2s: list, form: str) -> Any:
        return self._fit(t_fit_degc, nu_fit_mm2s, form)[1]

    def nu_d341_lsq(self, t_degc: Any, t_fit_degc: list, nu_fit_mm2s: list, form: str) -> Any:
        a, b = self._fit(t_fit_degc, nu_fit_mm2s, form)
        return self.nu_d341_ab(t_degc, a, b, form)

    @staticmethod
    def _interval(t: Any, table: list) -> int:
        if not table[0] <= t <= table[-1]:
            raise NoValue
        return max(i for i in range(len(table) - 1) if table[i] <= t)

    def nu_d341_table(self, t_degc: Any, t_table_degc: list, nu_table_mm2s: list, form: str) -> Any:
        i = self._interval(t_degc, t_table_degc)
        return self.nu_d341_two_point(t_degc, t1_degc=t_table_degc[i], nu1_mm2s=nu_table_mm2s[i],
                                      t2_degc=t_table_degc[i + 1], nu2_mm2s=nu_table_mm2s[i + 1], form=form)

    def rho_table_linear(self, t_degc: Any, t_table_degc: list, rho_table_kgm3: list) -> Any:
        i = self._interval(t_degc, t_table_degc)
        t1, t2, rho1, rho2 = t_table_degc[i], t_table_degc[i + 1], rho_table_kgm3[i], rho_table_kgm3[i + 1]
        return rho1 + (rho2 - rho1) * (t_degc - t1) / (t2 - t1)


class _Moved(ViscosityD341):
    """In binary64, with the W of one point moved by a part of itself."""

    def __init__(self, place: int, part: float) -> None:
        super().__init__(FAST)
        self.left, self.part = place, part

    def w_d341(self, nu_mm2s: Any, form: str) -> Any:
        self.left -= 1
        return super().w_d341(nu_mm2s, form) * (1 + (self.part if self.left == -1 else 0))


def _line_condition(name: str, inputs: dict[str, Any]) -> float:
    """Sum over the points of |W dc/dW / c| of a coefficient c, which is linear in each W."""
    count = len(inputs.get("nu_fit_mm2s", (1, 2)))
    centre = getattr(ViscosityD341(FAST), name)(**inputs)
    return sum(abs(getattr(_Moved(i, 1e-3), name)(**inputs) / centre - 1) / 1e-3 for i in range(count))


ON_A_LINE = ("nu_d341_two_point", "nu_d341_lsq", "nu_d341_table")
OF_A_LINE = ("a_d341_two_point", "b_d341_two_point", "a_d341_lsq", "b_d341_lsq")


def _as(number: Callable, x: Any) -> Any:
    return x if isinstance(x, str) else [number(v) for v in x] if isinstance(x, list) else number(x)


def _evaluate(arithmetic: Arithmetic, name: str, inputs: dict[str, Any]) -> Any:
    numbers = {key: _as(arithmetic.number, x) for key, x in inputs.items()}
    for family in (Petroleum2004, ViscosityD341):
        if hasattr(family, name):
            return getattr(family(arithmetic), name)(**numbers)
    return Petroleum2004(arithmetic).metric(name, numbers)


def value(name: str, **inputs: Any) -> mpf:
    """The quantity to 40 digits; inputs are doubles, lists of doubles, or words."""
    return _evaluate(EXACT, name, inputs)


def condition(name: str, **inputs: Any) -> float:
    """Sum over the inputs of |x df/dx / f|, by central differences in binary64."""
    centre = _evaluate(FAST, name, inputs)
    is_d341 = hasattr(ViscosityD341, name)
    total = _w_condition(centre, inputs["form"]) if name in ON_A_LINE else 0.0
    total += _line_condition(name, inputs) if name in OF_A_LINE else 0.0
    for key, x in inputs.items():
        if isinstance(x, str):
            continue
        offset = 273.15 if is_d341 and key.endswith("_degc") else 0.0
        for place, number in enumerate(x) if isinstance(x, list) else [(None, x)]:
            total += abs((number + offset) * _slope(name, inputs, key, place, number) / centre) if centre else 0.0
    return total


def _w_condition(nu: float, form: str) -> float:
    """|W dnu/dW / nu|."""
    d341, step = ViscosityD341(FAST), 1e-6 * nu
    slope = (d341.w_d341(nu + step, form) - d341.w_d341(nu - step, form)) / (2 * step)
    return abs(d341.w_d341(nu, form) / (slope * nu))


def _slope(name: str, inputs: dict[str, Any], key: str, place: int | None, number: float) -> float:
    step = 1e-6 * max(abs(number), 1e-4 if "alpha" in key else 1.0)

    def moved(by: float) -> float:
        changed = list(inputs[key]) if place is not None else None
        if changed is not None:
            changed[place] = number + by
        return _evaluate(FAST, name, {**inputs, key: number + by if changed is None else changed})

    try:
        return (moved(step) - moved(-step)) / (2 * step)
    except NoValue:  # at an end of the range: one side only
        try:
            return (moved(step) - moved(0.0)) / step
        except NoValue:
            return (moved(0.0) - moved(-step)) / step
