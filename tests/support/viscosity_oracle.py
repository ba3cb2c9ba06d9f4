# SPDX-License-Identifier: Apache-2.0
"""Viscosity models, pressure, blending, index and units recomputed with mpmath at 40 digits, apart from the library.

The formulas are in viscosity_formulas.py.

    value(name, **inputs) -> mpf        raises NoValue where the quantity has none
    condition(name, **inputs) -> float  sum over the inputs x of |x df/dx / f|
    draw(name, rng) -> inputs           one point of the domain
    NAMES                               the quantities

Where a formula takes T = t + 273.15 K, an input in degC counts as its absolute temperature; a blend by ASTM D7152
counts W as one more input (see petroleum_oracle.py).
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from typing import Any

from petroleum_oracle import EXACT, FAST, Arithmetic, NoValue, _w_condition, mpf
from viscosity_formulas import Blending, Models, Pressure, Units, ViscosityIndex

Inputs = dict[str, Any]
FAMILIES = (Models, Pressure, Blending, ViscosityIndex, Units)
NAMES = frozenset(name for family in FAMILIES for name in vars(family) if name[0] != "_" and name.islower())


def evaluator(families: tuple[type, ...]) -> Callable[[Arithmetic, str, Inputs], Any]:
    """A quantity of some families in an arithmetic, from doubles, lists of doubles and words."""
    def evaluate(arithmetic: Arithmetic, name: str, inputs: Inputs) -> Any:
        def number(x: Any) -> Any:
            return x if isinstance(x, str) else [number(v) for v in x] if isinstance(x, list) else arithmetic.number(x)

        family = next(family for family in families if name in vars(family))
        return getattr(family(arithmetic), name)(**{key: number(x) for key, x in inputs.items()})
    return evaluate


def sensitivity(evaluate: Callable[[Arithmetic, str, Inputs], Any], name: str, inputs: Inputs,
                zero_degc: float = 0.0) -> float:
    """Sum over the inputs of |x df/dx / f|, by differences in binary64 that stay inside the domain. zero_degc is what
    the formula adds to an input in degC."""
    centre, total = evaluate(FAST, name, inputs), 0.0
    if centre == 0:
        return math.inf
    for key, given in inputs.items():
        if isinstance(given, str):
            continue
        absolute = zero_degc if key.endswith("_degc") else 0.0
        for place, x in enumerate(given) if isinstance(given, list) else [(-1, given)]:
            step, values = 1e-6 * (max(abs(x), 1.0) if key.startswith("t") else abs(x) or 1e-9), {}
            for by in (-step, 0.0, step):
                moved = [v + by if i == place else v for i, v in enumerate(given)] if place >= 0 else x + by
                try:
                    values[by] = evaluate(FAST, name, {**inputs, key: moved})
                except (NoValue, StopIteration):
                    continue
            ends = sorted(values)
            if len(ends) > 1:
                total += abs((x + absolute) * (values[ends[-1]] - values[ends[0]]) / (ends[-1] - ends[0]) / centre)
    return total


_evaluate = evaluator(FAMILIES)


def value(name: str, **inputs: Any) -> mpf:
    """The quantity to 40 digits."""
    return _evaluate(EXACT, name, inputs)


def condition(name: str, **inputs: Any) -> float:
    """Sum over the inputs of |x df/dx / f|."""
    of_w = _w_condition(_evaluate(FAST, name, inputs), inputs["form"]) if "form" in inputs else 0.0
    return of_w + sensitivity(_evaluate, name, inputs, 273.15)


# --- points of the domain ---------------------------------------------------------------------------------------------

HANDBOOK = {  # sets of coefficients that handbooks print, for t from 220 to 450 K
    "mu_dippr101": [(-9.4622, 877.07, -0.23445, 1.4022e22, -10), (-226.08, 6805.7, 37.542, -0.060853, 1),
                    (-804.54, 30487, 130.79, -0.15449, 1), (-52.843, 3703.6, 5.866, -5.879e-29, 10)],
    "mu_yaws": [(-9.4406, 1117.6, 0.0137, -1.5465e-5)],
    "mu_power_law": [(4900800, -3.8075)],
    "mu_dutt_prasad": [(-2.7173, -1071.18, -129.51), (-1.7098, -805.48, 52.26), (-1.5365, -277.33, 51.64)],
    "mu_vogel": [(-2.671, 791.18, -160.23), (-0.309, 641.96, -115.03)],
    "mu_andrade": [(-5.308, 2094.51), (-3.955, 1233.87)],
}
ARGUMENTS = {"mu_dippr101": "c1 c2 c3 c4 c5", "mu_yaws": "a b c d", "mu_power_law": "c d", "mu_dutt_prasad": "a b c",
             "mu_vogel": "a b c", "mu_andrade": "a b"}


def logarithmic(rng: random.Random, low: float, high: float) -> float:
    return math.exp(rng.uniform(math.log(low), math.log(high)))


def _fit_points(rng: random.Random, count: int) -> Inputs:
    """Points of a liquid, measured within 2 %."""
    b, c, mu20 = rng.uniform(300, 1500), rng.uniform(-180, -60), logarithmic(rng, 0.3, 3000)
    while True:
        t = [rng.uniform(-40, 150) for _ in range(count)]
        if all(abs(t[i] - t[j]) > 10 for i in range(count) for j in range(i)):
            break
    mu = [mu20 * math.exp(b / (v + 273.15 + c) - b / (293.15 + c)) * rng.uniform(0.98, 1.02) for v in t]
    if not all(1e-4 < m < 1e9 for m in mu):
        return _fit_points(rng, count)
    return {"t_fit_degc": t, "mu_fit_mpas": mu}


def _draw_model(name: str, rng: random.Random) -> Inputs:
    if name in HANDBOOK:
        numbers = [c * rng.uniform(0.99, 1.01) for c in rng.choice(HANDBOOK[name])]
        return {**dict(zip(ARGUMENTS[name].split(), numbers, strict=True)), "t_k": rng.uniform(220, 450)}
    points = _fit_points(rng, 3 if "three_point" in name else rng.randint(2, 8))
    return {**({"t_degc": rng.uniform(-40, 150)} if name.startswith("mu") else {}), **points}


def _draw_pressure(name: str, rng: random.Random) -> Inputs:
    ranges = {"mu0_mpas": (0.1, 1e6), "alpha_per_gpa": (0.01, 50), "p_mpa": (0.001, 300), "z": (0.01, 2),
              "beta_per_k": (1e-3, 0.2), "t0_k": (250, 400)}
    if "kouzel" in name:
        return {"mu0_mpas": logarithmic(rng, 0.01, 1e4), "p_mpag" if "1965" in name else "p_mpaa": rng.uniform(0, 100)}
    arguments = Pressure.__dict__[name].__code__.co_varnames[1:Pressure.__dict__[name].__code__.co_argcount]
    inputs: Inputs = {key: logarithmic(rng, *ranges[key]) for key in arguments if key in ranges and key != "t0_k"}
    if name == "s0_roelands" or (name == "mu_roelands" and rng.random() < 0.5):
        inputs["t0_k"] = rng.uniform(*ranges["t0_k"])
        if name == "mu_roelands":
            inputs.update(t_k=rng.uniform(250, 400), s0=rng.uniform(0.2, 2))
    return inputs


def _fractions(rng: random.Random, count: int) -> list[float]:
    shares = [rng.random() for _ in range(count)]
    return [share / sum(shares) for share in shares]


def _draw_blend(name: str, rng: random.Random) -> Inputs:
    if name == "vbn_refutas":
        return {"nu_mm2s": logarithmic(rng, 0.3, 2e7)}
    if name == "nu_from_vbn_refutas":
        return {"vbn": rng.uniform(-23, 51.9)}
    count, form = rng.randint(1, 5), rng.choice(("simple", "body", "full"))
    low = 0.3 if "refutas" in name else 2.0 if form == "simple" else 0.21
    nu = [logarithmic(rng, low, 1e5) for _ in range(count)]
    if name == "nu_blend_refutas":
        return {"mass_fraction": _fractions(rng, count), "nu_mm2s": nu}
    if name == "nu_blend_astm":
        return {"fraction": _fractions(rng, count), "nu_mm2s": nu, "form": form}
    t1 = [rng.uniform(-40, 60) for _ in range(count)]
    nu1 = [v * rng.uniform(1.5, 30) for v in nu]
    return {"t_degc": rng.uniform(-40, 120), "fraction": _fractions(rng, count), "t1_degc": t1, "nu1_mm2s": nu1,
            "t2_degc": [t + rng.uniform(20, 80) for t in t1], "nu2_mm2s": nu, "form": form}


def _draw_index(name: str, rng: random.Random) -> Inputs:
    if name.endswith("quadratic"):
        return {"nu100_mm2s": rng.uniform(2, 70)}
    while True:
        y, vi = logarithmic(rng, 2, 1000), rng.uniform(-200, 400)
        if name in ("l_d2270", "h_d2270"):
            return {"nu100_mm2s": y}
        try:
            u = ViscosityIndex(FAST).nu40_from_vi_d2270(vi, y)
        except NoValue:
            continue
        if name == "nu40_from_vi_d2270":
            return {"vi": vi, "nu100_mm2s": y}
        if u < 1e6 and abs(y - 70) > 0.1:
            return {"vi": vi, "nu40_mm2s": u} if name == "nu100_from_vi_d2270" else {"nu40_mm2s": u, "nu100_mm2s": y}


def _draw_unit(name: str, rng: random.Random) -> Inputs:
    t = rng.choice((100.0, 210.0, rng.uniform(0, 500)))
    furol = {"nu_mm2s": logarithmic(rng, 50, 2e7), "t_degf": rng.choice((122.0, 210.0))}
    universal = {"nu_mm2s": logarithmic(rng, 1.82, 2e7), "t_degf": t}
    simple = {"mu_from_nu_rho": {"nu_mm2s": logarithmic(rng, 1e-4, 2e7), "rho_kgm3": rng.uniform(1, 25000)},
              "nu_from_mu_rho": {"mu_mpas": logarithmic(rng, 1e-5, 1e9), "rho_kgm3": rng.uniform(1, 25000)},
              "nu_mm2s_from_ft2s": {"nu_ft2s": logarithmic(rng, 1e-7, 1e3)},
              "nu_mm2s_from_in2s": {"nu_in2s": logarithmic(rng, 1e-7, 1e5)},
              "mu_mpas_from_reyn": {"mu_lbf_s_in2": logarithmic(rng, 1e-9, 1e3)},
              "mu_mpas_from_lb_ft_s": {"mu_lb_ft_s": logarithmic(rng, 1e-6, 1e6)},
              "sus_factor_d2161": {"t_degf": t}, "sus_d2161": universal, "sfs_d2161": furol}
    if name == "nu_from_sus_d2161":
        return {"sus": Units(FAST).sus_d2161(**universal), "t_degf": t}
    if name == "nu_from_sfs_d2161":
        return {"sfs": Units(FAST).sfs_d2161(**furol), "t_degf": furol["t_degf"]}
    return simple[name]


DRAWS = {Models: _draw_model, Pressure: _draw_pressure, Blending: _draw_blend, ViscosityIndex: _draw_index,
         Units: _draw_unit}


def draw(name: str, rng: random.Random) -> Inputs:
    """A point of the domain of a quantity."""
    family = next(family for family in FAMILIES if name in vars(family))
    return DRAWS[family](name, rng)
