#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Evaluation error of the methods of the properties layer against 40 digits, over their whole domain.

    properties_oracle.py LIBRARY [--draws N] [--seed S] [--only TEXT]

LIBRARY is the path of the shared library. Each method gets N seeded draws; the error must be within
2e-15 relative x max(1, condition number). Printed per method: draws, largest relative error, largest error over
max(1, condition number), limit. Exit 1 if one is above, if a drawn input is refused, or if no method was found. How
the condition number counts temperatures and lines is said in support/petroleum_oracle.py.

Left out of the draws: refined products within 0.01 kg/m3 of a border at 60 degF (the quantity steps there), points of a
line closer than 1 K or 1 % of viscosity, B outside 0.2 to 8, and inputs for which the quantity has no value.
"""

from __future__ import annotations

import argparse
import math
import random
import sys
from pathlib import Path
from typing import Any, Callable, Iterator

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

import aqueous_oracle  # noqa: E402
import hydrocarbon_oracle  # noqa: E402
import other_liquids_oracle  # noqa: E402
import petroleum_oracle as oracle  # noqa: E402
import viscosity_oracle  # noqa: E402
from library_call import Library  # noqa: E402

LIMIT = 2e-15
# Each has NAMES, draw, value, condition; the other quantities are petroleum_oracle's.
FAMILIES = (aqueous_oracle, hydrocarbon_oracle, viscosity_oracle, other_liquids_oracle)
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


def oracle_of(name: str) -> Any:
    return next((family for family in FAMILIES if name in family.NAMES), oracle)


def draws(name: str, count: int, seed: int) -> Iterator[tuple[Inputs, Any]]:
    """Inputs with a value, and that value."""
    rng = random.Random(f"{seed} {name}")
    family = oracle_of(name)
    if family is oracle:
        draw: Callable = draw_d341 if hasattr(oracle.ViscosityD341, name) else draw_petroleum
    else:
        draw = family.draw
    while count > 0:
        inputs = draw(name, rng)
        try:
            expected = family.value(name, **inputs)
        except oracle.NoValue:
            continue
        count -= 1
        yield inputs, expected


def study(library: Library, name: str, count: int, seed: int) -> tuple[float, float, str]:
    """Largest relative error, largest error over max(1, condition), and what went wrong ("" if nothing)."""
    worst = worst_over = 0.0
    wrong = ""
    for inputs, expected in draws(name, count, seed):
        status, result = library.call(name, **inputs)
        if status != "OK":
            return math.inf, math.inf, f"{status} for {inputs}"
        error = float(abs((result - expected) / expected)) if expected else abs(result)
        over = error / max(1.0, oracle_of(name).condition(name, **inputs))
        if over > worst_over and over > LIMIT:
            wrong = f"{inputs}: {result!r}, expected {oracle.mp.nstr(expected, 20)}"
        worst, worst_over = max(worst, error), max(worst_over, over)
    return worst, worst_over, wrong


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("library", help="path of the shared library")
    parser.add_argument("--draws", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=20041101)
    parser.add_argument("--only", default="", help="methods whose name holds this text")
    options = parser.parse_args()
    library = Library(options.library)
    names = [name for name in library.names() if name.endswith("_petroleum_2004") or "d341" in name
             or name in ("t90_minus_t68_its90", "rho_table_linear") or oracle_of(name) is not oracle]
    names = [name for name in names if options.only in name]
    if not names:
        print("no method to look at", file=sys.stderr)
        return 1
    failed = 0
    print(f"{'method':45} {'draws':>7} {'max relative':>13} {'over condition':>15} {'limit':>8}")
    for name in names:
        worst, over, wrong = study(library, name, options.draws, options.seed)
        print(f"{name:45} {options.draws:7} {worst:13.2e} {over:15.2e} {LIMIT:8.0e}{'  ABOVE' if wrong else ''}")
        if wrong:
            failed += 1
            print(f"    {wrong}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
