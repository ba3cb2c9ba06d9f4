# SPDX-License-Identifier: Apache-2.0
"""Tables of 1980, compressibility of 1984 and 1986, light ends of 2007 and supplied liquids recomputed with mpmath at
40 digits, apart from the library.

The formulas are in hydrocarbon_formulas.py; value, condition, draw and NAMES as in aqueous_oracle.py.

Where alpha or F is rounded, a point closer to a tie than 1e-6 of the step has no value here, and the condition number
is that of the smooth formula. Light ends and the compressibility of 1986 take T = t + 459.67 or t + 273.15, so their
temperatures count as absolute; likewise degAPI counts with the 131.5 that the formula adds to it. The difference
between the editions counts the two factors it is taken of.
"""

from __future__ import annotations

import random
from typing import Any

from hydrocarbon_formulas import (BORDERS, Compressibility1984, Compressibility1986, LightEnds2007, Petroleum1980,
                                  SuppliedLiquid)
from petroleum_oracle import EXACT, FAST, LIMITS as LIMITS_2004, Arithmetic, NoValue, mpf

Inputs = dict[str, Any]
GROUPS = ("crude", "refined", "fuel_oil", "jet", "transition", "gasoline", "lube")
FAMILIES = (Petroleum1980, Compressibility1984, LightEnds2007, Compressibility1986, SuppliedLiquid)
NAMES = frozenset(name for family in FAMILIES for name in vars(family) if name[0] != "_" and name.islower())


def _family(name: str) -> type:
    return next(family for family in FAMILIES if name in vars(family))


def _evaluate(arithmetic: Arithmetic, name: str, inputs: Inputs) -> Any:
    numbers = {key: x if isinstance(x, str) else [arithmetic.number(v) for v in x] if isinstance(x, list)
               else arithmetic.number(x) for key, x in inputs.items()}
    return getattr(_family(name)(arithmetic), name)(**numbers)


def value(name: str, **inputs: Any) -> mpf:
    """The quantity to 40 digits; inputs are doubles, lists of doubles, or words."""
    return _evaluate(EXACT, name, inputs)


def _offset(name: str, key: str) -> float:
    if key == "api":
        return 131.5
    absolute = name.endswith(("light_ends_2007", "compressibility_1986"))
    return {"degc": 273.15, "degf": 459.67}.get(key.rpartition("_")[2], 0.0) if absolute else 0.0


def condition(name: str, **inputs: Any) -> float:
    """Sum over the inputs of |x df/dx / f|, by differences in binary64 that stay inside the domain."""
    if name == "ctl15_difference_1980_2004":
        return 2.0 / max(abs(float(value(name, **inputs))), 1e-300)
    centre, total = _evaluate(FAST, name, inputs), 0.0
    if centre == 0.0:
        return 0.0
    for key, x in inputs.items():
        if isinstance(x, str) or key in ("t_table_degc", "p_table_kpag"):
            continue
        for place, number in enumerate(x) if isinstance(x, list) else [(None, x)]:
            total += abs((number + _offset(name, key)) * _slope(name, inputs, key, place) / centre)
    return total


def _slope(name: str, inputs: Inputs, key: str, place: int | None) -> float:
    number = inputs[key] if place is None else inputs[key][place]
    # of small temperatures and pressures the step is taken of 1; a coefficient's own size says nothing of its power
    step = 1e-6 * max(abs(number), 1.0 if key.startswith(("t", "p")) else 1e-3 if place is None else 0.0)
    values = {}
    for by in (-step, 0.0, step):
        moved = number + by if place is None else [*inputs[key][:place], number + by, *inputs[key][place + 1:]]
        try:
            values[by] = _evaluate(FAST, name, {**inputs, key: moved})
        except NoValue:
            continue
    ends = sorted(values)
    return (values[ends[-1]] - values[ends[0]]) / (ends[-1] - ends[0]) if len(ends) > 1 and step else 0.0


# --- points of the domain ---------------------------------------------------------------------------------------------

T = {"degf": (-58.0, 302.0), "degc": (-50.0, 150.0)}


def _density(rng: random.Random, group: str, low: float, high: float) -> float:
    """Not within 0.05 kg/m3 of a border of the refined groups, where the quantity steps; not within 0.1 of the limits,
    whose rounding has its own tests."""
    while True:
        rho = rng.uniform(low + 0.1, high - 0.1)
        if group != "refined" or all(abs(rho - border) > 0.05 for border in BORDERS):
            return rho


def _draw_1980(name: str, rng: random.Random) -> Inputs:
    unit = "degf" if "degf" in name or "table6" in name or "table5_" in name or "table2" in name else "degc"
    unit = "degc" if "table60" in name else unit
    base, t = {"degf": "60", "degc": "15"}[unit], rng.uniform(*T[unit])
    inputs: Inputs = {f"t_{unit}": t}
    glass = {f"glass_base_{unit}": rng.choice({"degf": (59.0, 60.0, 68.0), "degc": (15.0, 20.0)}[unit])}
    if name.startswith("hydrometer"):
        return {**inputs, **glass}
    if "c_petroleum" in name:
        key, bounds = (("alpha60_per_degf", (230e-6, 930e-6)) if base == "60"
                       else ("alpha15_per_degc", (414e-6, 1674e-6)))
        return {key: rng.uniform(*bounds), **inputs}
    fast, group = Petroleum1980(FAST), rng.choice(GROUPS)
    low, high = fast._limits(base, group)
    if "difference" in name:
        low_2004, high_2004 = LIMITS_2004[group][15]
        low, high = max(low, low_2004), min(high, high_2004)
    rho = _density(rng, group, low, high)
    t_base = {"t_base_degc": rng.uniform(*T["degc"])} if name in ("ctl_petroleum_1980",) or "rho_base" in name else {}
    at = t if "table5" in name or "table23" in name or "table59" in name or "observed" in name else None
    if name in ("ctl_petroleum_1980", "ctl_table60_petroleum_1980"):
        at = t_base.get("t_base_degc", 20.0)
    if "table54" in name:
        at = None
    seen = rho if at is None else rho * fast._smooth(base, group, rho, at)
    key = {"ctl_table54": "rho15_kgm3", "ctl15_diffe": "rho15_kgm3", "ctl_table24": "rd60", "ctl_table6_": "api60",
           "ctl_table60": "rho20_kgm3", "ctl_petrole": "rho_base_kgm3", "api60_table": "api",
           "rd60_table2": "rd"}.get(name[:11], "rho_kgm3")
    reading = seen
    if "_table5_" in name or "_table23" in name or "_table53" in name or "_table59" in name:
        inputs.update(glass)
        factor = getattr(fast, f"hydrometer_glass_factor_1980_{unit}")
        reading = seen / factor(t, glass[f"glass_base_{unit}"])
    if key.startswith("rd"):
        reading = reading / 999.012
    elif key.startswith("api"):
        reading = 141.5 * 999.012 / reading - 131.5
    return {key: reading, **inputs, **t_base, "group": group}


def _draw_1984(name: str, rng: random.Random) -> Inputs:
    base, unit, p_unit, ends, p_high, pe_low = (
        ("60", "degf", "psig", (-20.0, 200.0), 1500.0, -16.7) if name.endswith("customary")
        else ("15", "degc", "kpag", (-30.0, 90.0), 10300.0, -115.0))
    group, fast = rng.choice(GROUPS), Compressibility1984(FAST)
    low, high = fast._thermal._limits(base, group)
    if name.startswith(("f_from", "rho_at")):
        rho = _density(rng, group, low, high if group == "transition" else 1164.0)
        t = rng.uniform(*T["degc"])
        inputs: Inputs = {"rho_kgm3": rho * fast._thermal._smooth("15", group, rho, t), "t_degc": t, "group": group}
        return {**inputs, "p_kpag": rng.uniform(0, p_high)} if name.startswith("rho_at") else inputs
    t, p = rng.uniform(*ends), rng.uniform(0.0, p_high)
    pe = rng.uniform(pe_low, p)
    pressures = {f"p_{p_unit}": p, f"pe_{p_unit}": pe}
    if "_from_observed" in name:
        rho = _density(rng, group, max(low, 638.0), min(high, 1074.0))
        seen = rho * fast._thermal._smooth(base, group, rho, t) * fast._cpl(base, rho, t, p, pe)
        return {"rho_kgm3": seen, f"t_{unit}": t, **pressures, "group": group}
    inputs = {f"rho{base}_kgm3": rng.uniform(638.0, 1074.0), f"t_{unit}": t}
    return {**inputs, **pressures} if name.startswith("cpl") else inputs


def _draw_light_ends(name: str, rng: random.Random) -> Inputs:
    rd60, fast = rng.uniform(0.3501, 0.6879), LightEnds2007(FAST)
    if "rd60" in name or "ctl60" in name:
        t = rng.uniform(-50.8, 199.4)
        return {"rd60": rd60, "t_degf": t} if "ctl60" in name else {
            "rd": rd60 * fast._ctl60(rd60, fast._degf(t)), "t_degf": t}
    t, t_base = rng.uniform(-46, 93), rng.uniform(-46, 93)
    base = {"1": 15.0, "2": 20.0}.get(name.removeprefix("ctl").removeprefix("rho")[0], t_base)
    at = base if name.startswith("ctl") else t
    rho = rd60 * 999.016 * fast._ctl60(rd60, fast._degc(at))
    key = "rho_kgm3" if name.startswith("rho") else f"rho{int(base)}_kgm3" if name[3] != "_" else "rho_base_kgm3"
    any_base = {"t_base_degc": t_base} if base == t_base else {}
    return {key: rho, "t_degc": t, **any_base}


def _draw_1986(name: str, rng: random.Random) -> Inputs:
    rd60, t, dp = rng.uniform(0.35, 0.637), rng.uniform(-50, 140), rng.uniform(0, 2200)
    inputs = {"t_degf": t, "dp_psi": dp}
    if name.startswith("rd60"):
        return {"rd": Compressibility1986(FAST)._observed(rng.uniform(0.3501, 0.6369), t, dp), **inputs}
    return {"rd60": rd60, **inputs}


def _draw_supplied(name: str, rng: random.Random) -> Inputs:
    if name == "cpl_supplied_compressibility":
        p = rng.uniform(0, 2e4)
        return {"f_per_kpa": 10 ** rng.uniform(-7, -5), "p_kpag": p, "pe_kpag": rng.uniform(-115, p)}
    if name == "equilibrium_pressure_gauge":
        return {"pe_kpa": rng.uniform(116, 5000), "p_atmospheric_kpa": rng.uniform(50, 115)}
    if name == "rho_table_bilinear":
        ts = sorted(rng.sample(range(-50, 150), rng.randint(2, 5)))
        ps = sorted(rng.sample(range(0, 10000), rng.randint(2, 4)))
        return {"t_degc": rng.uniform(ts[0], ts[-1]), "p_kpag": rng.uniform(ps[0], ps[-1]),
                "t_table_degc": [float(t) for t in ts for _ in ps], "p_table_kpag": [float(p) for _ in ts for p in ps],
                "rho_table_kgm3": [rng.uniform(500, 1000) for _ in ts for _ in ps]}
    low, high = sorted((rng.uniform(-60, 200), rng.uniform(-60, 200)))
    inputs: Inputs = {"t": rng.uniform(low, high), "t_base": rng.uniform(low, high), "t_low": low, "t_high": high,
                      "c": [rng.uniform(700, 900), *(rng.uniform(-1, 1) * 10.0 ** (-3 * i + 2) for i in range(1, 5))]}
    if name.startswith("rho_base"):
        inputs["rho_kgm3"] = rng.uniform(500, 1000)
    if name == "rho_polynomial":
        del inputs["t_base"]
    return inputs


DRAWS = {Petroleum1980: _draw_1980, Compressibility1984: _draw_1984, LightEnds2007: _draw_light_ends,
         Compressibility1986: _draw_1986, SuppliedLiquid: _draw_supplied}


def draw(name: str, rng: random.Random) -> Inputs:
    """A point of the domain of a quantity, with every optional argument given."""
    while True:
        try:
            return DRAWS[_family(name)](name, rng)
        except NoValue:
            continue
