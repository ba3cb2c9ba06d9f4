# SPDX-License-Identifier: Apache-2.0
"""Points of the domain of API MPMS 11.1-2004 and ASTM D341; value, condition and NAMES of petroleum_oracle.py with them.

Left out of the draws: refined products within 0.01 kg/m3 of a border at 60 degF (the quantity steps there), points of a
line closer than 1 K or 1 % of viscosity, B outside 0.2 to 8, and inputs for which the quantity has no value.
"""

from __future__ import annotations

import math
import random
from typing import Any

import petroleum_oracle as oracle
from petroleum_oracle import condition, value

__all__ = ["NAMES", "condition", "draw", "value"]

GROUPS = ("crude", "refined", "fuel_oil", "jet", "transition", "gasoline", "lube")
BORDERS = (770.352, 787.5195, 838.3127)  # refined: the product steps here; what happens there has its own tests
Inputs = dict[str, Any]


def product(rng: random.Random) -> Inputs:
    if rng.random() < 0.2:
        return {"alpha60_per_degf": rng.uniform(230e-6, 930e-6)}
    return {"group": rng.choice(GROUPS)}


def rho60(rng: random.Random, of: Inputs) -> float:
    low, high = oracle.LIMITS[of.get("group")][60]
    while True:
        rho = rng.uniform(low, high)
        if of.get("group") != "refined" or all(abs(rho - border) > 0.01 for border in BORDERS):
            return rho


def draw_petroleum(name: str, rng: random.Random) -> Inputs:
    """Inputs of a method of petroleum_2004. A density that is not at 60 degF is the doubles' image of one that is."""
    if name in ("t90_minus_t68_its90", "t68_from_t90_petroleum_2004"):
        return {"t_degc": rng.uniform(-50, 150)} if name.startswith("t90") else {"t_degf": rng.uniform(-58, 302)}
    if name == "rho60_from_api60_petroleum_2004":
        return {"api60": rng.uniform(-10, 100)}
    if name == "ctl60_from_api60_petroleum_2004":
        group = rng.choice(("crude", "refined", "fuel_oil", "jet", "gasoline", "lube"))
        return {"api60": rng.uniform(-10, 45 if group == "lube" else 100), "t_degf": rng.uniform(-58, 302),
                "group": group}
    if name == "api60_from_rho60_petroleum_2004":
        return {"rho60_kgm3": rng.uniform(610.6, 1163.5)}
    of = product(rng)
    rho = rho60(rng, of)
    metric = "60_petroleum" not in name and "_from_rho60_" not in name and not name.startswith("rho60")
    metric = metric and name not in ("rho_star_petroleum_2004", "alpha60_petroleum_2004")
    t = {"t_degc": rng.uniform(-50, 150)} if metric else {"t_degf": rng.uniform(-58, 302)}
    p = {"p_kpag": rng.uniform(0, 10340)} if metric else {"p_psig": rng.uniform(0, 1500)}
    t_degf = 1.8 * t["t_degc"] + 32 if metric else t["t_degf"]
    p_psig = p["p_kpag"] / 6.894757 if metric else p["p_psig"]
    fast = oracle.Petroleum2004(oracle.FAST)
    if "_from_observed_" in name:
        return {"rho_kgm3": fast._observed(rho, t_degf, p_psig, of), **t, **p, **of}
    for base, t_base in (("15", 59.0), ("20", 68.0)):
        if f"rho60_from_rho{base}_" in name:
            return {f"rho{base}_kgm3": fast._observed(rho, t_base, 0.0, of), **of}
        if metric and name.split("_petroleum")[0].endswith(base):
            inputs = {f"rho{base}_kgm3": fast._observed(rho, t_base, 0.0, of), **t, **of}
            return {**inputs, **p} if name.startswith(("cpl", "ctpl")) else inputs
    inputs = {"rho60_kgm3": rho, **of}
    if name.startswith(("ctl60", "fp60", "cpl60", "ctpl60")):
        inputs.update(t)
    if name.startswith(("cpl60", "ctpl60")):
        inputs.update(p)
    return inputs


def viscosity(rng: random.Random, form: str) -> float:
    return math.exp(rng.uniform(math.log(2.0 if form == "simple" else 0.21), math.log(2e7)))


def points(rng: random.Random, form: str, count: int) -> tuple[list[float], list[float]]:
    """Rising temperatures at least 1 K apart, falling viscosities."""
    while True:
        t = sorted(rng.uniform(-100, 400) for _ in range(count))
        nu = sorted((viscosity(rng, form) for _ in range(count)), reverse=True)
        if all(b - a >= 1.0 for a, b in zip(t, t[1:])) and all(b < 0.99 * a for a, b in zip(nu, nu[1:])):
            return t, nu


def draw_d341(name: str, rng: random.Random) -> Inputs:
    form = rng.choice(("simple", "body", "full"))
    temperature = {"t_degc": rng.uniform(-100, 400)}
    if name.startswith("z_d341"):
        return {"nu_mm2s": viscosity(rng, name.removeprefix("z_d341_"))}
    if name == "w_d341":
        return {"nu_mm2s": viscosity(rng, form), "form": form}
    if name == "nu_d341_inverse_series":
        return {"z": oracle.ViscosityD341(oracle.FAST).z(viscosity(rng, "body"), "body")}
    if name == "nu_d341_from_z":
        return {"z": oracle.ViscosityD341(oracle.FAST).z(viscosity(rng, form), form), "form": form}
    if name.endswith("_two_point"):
        (t1, t2), (nu1, nu2) = points(rng, form, 2)
        line = {"t1_degc": t1, "nu1_mm2s": nu1, "t2_degc": t2, "nu2_mm2s": nu2, "form": form}
        return {**({"nu_mm2s": viscosity(rng, form)} if name[0] == "t" else temperature if name[0] == "n" else {}),
                **line}
    if name == "nu_d341_ab":
        b, at = rng.uniform(0.2, 8.0), rng.uniform(-100, 400)
        w = oracle.ViscosityD341(oracle.FAST).w_d341(viscosity(rng, form), form)
        return {**temperature, "a": w + b * math.log10(at + 273.15), "b": b, "form": form}
    t, nu = points(rng, form, rng.randint(2, 8))
    inside = {"t_degc": rng.uniform(t[0], t[-1])}
    if name == "rho_table_linear":
        return {**inside, "t_table_degc": t, "rho_table_kgm3": [rng.uniform(500, 1200) for _ in t]}
    if name == "nu_d341_table":
        return {**inside, "t_table_degc": t, "nu_table_mm2s": nu, "form": form}
    return {**(temperature if name[0] == "n" else {}), "t_fit_degc": t, "nu_fit_mm2s": nu, "form": form}


_BASES = ("ctl{0}", "fp{0}", "cpl{0}", "ctpl{0}", "rho60_from_rho{0}", "rho{0}_from_rho60", "rho{0}_from_observed")
NAMES = frozenset(name for family in (oracle.Petroleum2004, oracle.ViscosityD341) for name in vars(family)
                  if name[0] != "_" and ("_petroleum_2004" in name or "d341" in name)
                  ) | {form.format(base) + "_petroleum_2004" for form in _BASES for base in (15, 20)} | {
                      "t90_minus_t68_its90", "rho_table_linear"}


def draw(name: str, rng: random.Random) -> Inputs:
    """A point of the domain of a quantity; not each has a value."""
    if hasattr(oracle.ViscosityD341, name):
        return draw_d341(name, rng)
    return draw_petroleum(name, rng)
