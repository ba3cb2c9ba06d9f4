# SPDX-License-Identifier: Apache-2.0
"""Whole records recomputed with mpmath at 40 digits, apart from the library: the check rows of test_whole_records.c.

    record_oracle.py FOLDER          write whole_records.csv and whole_record_curves.csv there (tests/checks)
    record_oracle.py FOLDER --check  recompute them and compare with what stands there

Written from the formulas, not from the C: Ro = f D^2/nu, St from the cubic of the curve, K = 4 St/(pi D0^3) B with the K
ratio B of a body of two metals, q = f/K, V = N/K, V_base = V CTL CPL. Volume correction and D341 come from
petroleum_oracle.py, which is likewise written apart. All meters, curves and liquids are invented; the draws are seeded.

A row holds the inputs (a number is the double that it reads as, an empty cell is an absent input), the status, the
expected results to 17 digits and the condition number of each: the sum over the inputs x of |x df/dx / f|, a temperature
counted from absolute zero, because that is the number which is rounded, and W of a viscosity line as one more input (see
petroleum_oracle.py). A refused record has the results that come before its refusal.
"""

from __future__ import annotations

import csv
import io
import math
import random
import sys
from pathlib import Path
from typing import Any

from mpmath import mp, mpf

sys.path.insert(0, str(Path(__file__).resolve().parent))

import petroleum_oracle as oracle  # noqa: E402

SEED = "20250301 whole records"
ROWS, REFUSED = 220, 60
RESULTS = ("nu_mm2s", "d_m", "b_ratio", "ro", "st", "k_per_m3", "q_m3s", "ctl", "cpl", "rho_base_kgm3", "v_m3",
           "v_base_m3")
BODY = ("bore_m", "t0_degc", "p0_kpag", "housing", "rotor", "modulus_gpa", "poisson", "area_blocked", "end", "wall_m")
LIQUID = ("volume", "group", "alpha60_per_degf", "base", "negative_pressure", "viscosity", "form", "t_points", "nu_points",
          "rho_points", "t_second", "nu_second", "rho_second", "slope_b", "nu_beyond")
READING = ("pulses", "duration_s", "flowing_s", "f_flowing_hz", "f_hz", "t_degc", "p_kpag", "nu_given", "rho_base",
           "rho_observed", "t_observed_degc", "p_observed_kpag", "densitometer_factor")
INPUTS = ("curve", "below", "above", *BODY, *LIQUID, *READING)
Row = dict[str, Any]

# a, b, c, d, e of 1e5 (L - L293)/L293 = a + bT + cT^2 + dT^3 + eT^4, T in K: NIST cryogenic, above their lowest range
NIST = {"nist 304": ("-2.9554e2", "-3.9811e-1", "9.2683e-3", "-2.0261e-5", "1.7127e-8"),
        "nist 6061-T6": ("-4.1277e2", "-3.0389e-1", "8.7696e-3", "-9.9821e-6", "0")}


def _cubics(x: list[float], st: list[float], slope: list[float]) -> list[list[float]]:
    """Coefficients, as doubles, of the cubics through two knots with the slopes at both."""
    rows = []
    for i in range(len(x) - 1):
        h, rise = x[i + 1] - x[i], (st[i + 1] - st[i]) / (x[i + 1] - x[i])
        rows.append([st[i], slope[i], (3 * rise - 2 * slope[i] - slope[i + 1]) / h,
                     (slope[i] + slope[i + 1] - 2 * rise) / (h * h)])
    return rows


def _curve(x: list[float], st: list[float], slope: list[float]) -> dict[str, list]:
    return {"x": x, "st": st, "c": _cubics(x, st, slope)}


CURVES = {  # invented
    "hump": _curve([8.0, 9.25, 10.5, 11.75, 13.5], [3.10, 3.37, 3.42, 3.405, 3.40], [0.36, 0.11, -0.005, -0.006, 0.001]),
    "steep": _curve([6.0, 6.7, 7.9, 9.1, 10.2, 12.3], [0.81, 1.02, 1.19, 1.247, 1.2552, 1.251],
                    [0.37, 0.24, 0.083, 0.019, -0.002, -0.0021]),
    "flat": _curve([9.0, 14.0], [2.0 / 3.0, 0.6669], [0.00004, 0.00005]),
}


# --- the chain ------------------------------------------------------------------------------------------------------


class Refused(Exception):
    """The record is refused; results reached so far are in the dictionary that was being filled."""


def strain(metal: Any, t: mpf, t0: mpf) -> mpf:
    if metal not in NIST:
        return metal * (t - t0)

    def length(t_degc: mpf) -> mpf:
        t_k = t_degc + mpf("273.15")
        return 1 + mpf("1e-5") * sum(mpf(c) * t_k ** n for n, c in enumerate(NIST[metal]))

    return length(t) / length(t0) - 1


def hoop_strain(row: Row, p: mpf) -> mpf:
    """Closed or open cylinder, inner radius a, outer b, gauge pressure from p0 on; E in kPa."""
    end, nu = row["end"], row["poisson"]
    if end == "none":
        return mpf(0)
    a, wall, e, dp = row["bore_m"] / 2, row["wall_m"], row["modulus_gpa"] * 1000000, p - row["p0_kpag"]
    b = a + wall
    if end == "thin_wall":
        return dp * 2 * a / (2 * e * wall)
    if end == "thin_wall_closed":
        return dp * 2 * a / (2 * e * wall) * (1 - nu / 2)
    part = {"lame_open": (1 - nu) * a ** 2 + (1 + nu) * b ** 2,
            "lame_closed": (1 - 2 * nu) * a ** 2 + (1 + nu) * b ** 2,
            "lame_held": (1 + nu) * ((1 - 2 * nu) * a ** 2 + b ** 2)}[end]
    return dp * part / (e * (b ** 2 - a ** 2))


def body(row: Row, p: mpf) -> tuple[mpf, mpf]:
    """Bore and K ratio."""
    housing = 1 + strain(row["housing"], row["t_degc"], row["t0_degc"])
    rotor = 1 + strain(row["rotor"] if row["rotor"] is not None else row["housing"], row["t_degc"], row["t0_degc"])
    stretch, k = 1 + hoop_strain(row, p), row["area_blocked"]
    area = ((housing * stretch) ** 2 - k * rotor ** 2) / (1 - k)
    return row["bore_m"] * housing * stretch, 1 / (rotor * area)


def line_w(t: mpf, points: tuple[list, list], row: Row) -> mpf:
    """W at t: between the points, or along the last line up to 40 K out where the policy says so."""
    d341 = oracle.ViscosityD341(oracle.EXACT)
    times, nus = points
    if row["viscosity"] == "one_point":
        return (d341.w_d341(nus[0], row["form"])
                - row["slope_b"] * mp.log10((t + mpf("273.15")) / (times[0] + mpf("273.15"))))
    reach = 40 if row["nu_beyond"] == "extend" else 0
    if t < times[0] - reach:
        raise Refused("E_BELOW_VISCOSITY_RANGE")
    if t > times[-1] + reach:
        raise Refused("E_ABOVE_VISCOSITY_RANGE")
    i = max((j for j in range(len(times) - 1) if times[j] <= t), default=0)
    a, b = d341._line(times[i], nus[i], times[i + 1], nus[i + 1], row["form"])
    return a - b * mp.log10(t + mpf("273.15"))


def viscosity(row: Row, rho_base: mpf | None) -> mpf:
    source, t = row["viscosity"], row["t_degc"]
    if source == "measured":
        return row["nu_given"]
    w = line_w(t, (row["t_points"], row["nu_points"]), row)
    if source == "between":
        share = (rho_base - row["rho_points"]) / (row["rho_second"] - row["rho_points"])
        w = (1 - share) * w + share * line_w(t, (row["t_second"], row["nu_second"]), row)
    return oracle.ViscosityD341(oracle.EXACT)._nu_from_w(w * row["w_scale"], row["form"])


def volume_factors(row: Row, p: mpf) -> tuple[mpf, mpf, mpf]:
    """CTL, CPL and base density."""
    product = {"group": row["group"]} if row["group"] else {"alpha60_per_degf": row["alpha60_per_degf"]}
    degf, psi = (lambda t: mpf("1.8") * t + 32), (lambda kpa: kpa / mpf("6.894757"))
    base = {"60F": "60", "15C": "15", "20C": "20"}[row["base"]]
    t, rho = row["t_degc"], row["rho_base"]
    if rho is None:
        observed = row["rho_observed"] * row["densitometer_factor"]
        at = ({"t_degf": degf(row["t_observed_degc"]), "p_psig": psi(row["p_observed_kpag"])} if base == "60" else
              {"t_degc": row["t_observed_degc"], "p_kpag": row["p_observed_kpag"]})
        rho = oracle.value(f"rho{base}_from_observed_petroleum_2004", rho_kgm3=observed, **at, **product)
    if base == "60":
        return (oracle.value("ctl60_petroleum_2004", rho60_kgm3=rho, t_degf=degf(t), **product),
                oracle.value("cpl60_petroleum_2004", rho60_kgm3=rho, t_degf=degf(t), p_psig=psi(p), **product), rho)
    density = {f"rho{base}_kgm3": rho, "t_degc": t, **product}
    return (oracle.value(f"ctl{base}_petroleum_2004", **density),
            oracle.value(f"cpl{base}_petroleum_2004", p_kpag=p, **density), rho)


def strouhal(row: Row, ro: mpf) -> mpf:
    curve, x = CURVES[row["curve"]], mp.log(ro)
    knots, st, c = ([mpf(v) for v in curve["x"]], [mpf(v) for v in curve["st"]], [[mpf(v) for v in r] for r in curve["c"]])
    if knots[0] <= x <= knots[-1]:
        i = max(j for j in range(len(c)) if knots[j] <= x)
        u = x - knots[i]
        return c[i][0] + c[i][1] * u + c[i][2] * u ** 2 + c[i][3] * u ** 3
    low = x < knots[0]
    policy, end, st_end = (row["below"], knots[0], st[0]) if low else (row["above"], knots[-1], st[-1])
    if policy == "hold_end":
        return st_end
    if policy == "extend_slope" and abs(x - end) <= mp.log(10):
        width = knots[-1] - knots[-2]
        slope = c[0][1] if low else c[-1][1] + 2 * c[-1][2] * width + 3 * c[-1][3] * width ** 2
        return st_end + slope * (x - end)
    raise Refused("E_BELOW_CURVE" if low else "E_ABOVE_CURVE")


def frequency(row: Row) -> mpf:
    if row["f_hz"] is not None:
        return row["f_hz"]
    if row["f_flowing_hz"] is not None:
        return row["f_flowing_hz"]
    return abs(row["pulses"]) / (row["flowing_s"] if row["flowing_s"] is not None else row["duration_s"])


def evaluate(row: Row, found: dict[str, mpf]) -> None:
    """Fill found in the order of the calculation; Refused where it ends."""
    p = max(row["p_kpag"], mpf(0)) if row["negative_pressure"] == "clamp" else row["p_kpag"]
    ctl = cpl = rho_base = None
    if row["volume"] == "petroleum_2004":
        ctl, cpl, rho_base = volume_factors(row, p)
        found.update(ctl=ctl, cpl=cpl, rho_base_kgm3=rho_base)
    nu = found["nu_mm2s"] = viscosity(row, rho_base)
    d, b = found["d_m"], found["b_ratio"] = body(row, p)
    f = frequency(row)
    ro = found["ro"] = f * d ** 2 / (nu / 1000000)
    st = found["st"] = strouhal(row, ro)
    k = found["k_per_m3"] = 4 * st / (mp.pi * row["bore_m"] ** 3) * b
    sign = -1 if row["pulses"] is not None and row["pulses"] < 0 else 1
    found["q_m3s"] = sign * f / k
    if row["pulses"] is not None:
        found["v_m3"] = row["pulses"] / k
        if ctl is not None:
            found["v_base_m3"] = found["v_m3"] * ctl * cpl


def exact(row: Row) -> Row:
    """Every number as the exact value of its double."""
    def number(x: Any) -> Any:
        return [mpf(v) for v in x] if isinstance(x, list) else mpf(x) if isinstance(x, (float, int)) else x
    return {key: number(row.get(key)) for key in INPUTS} | {"w_scale": mpf(1)}


def conditions(row: Row, found: dict[str, mpf]) -> dict[str, float]:
    """Sum over the inputs of |x df/dx / f| of every result, by one-sided differences at 40 digits."""
    total = dict.fromkeys(found, mpf(0))
    step = mpf("1e-18")
    for key, x in row.items():
        for place in range(len(x)) if isinstance(x, list) else (None,):
            number = x[place] if place is not None else x
            if not isinstance(number, mpf) or number == 0:
                continue
            size = abs(number + mpf("273.15")) if "degc" in key or key.startswith("t_") else abs(number)
            moved = list(x) if place is not None else number + size * step
            if place is not None:
                moved[place] = number + size * step
            there: dict[str, mpf] = {}
            try:
                evaluate(row | {key: moved}, there)
            except Refused:
                pass
            for name in total:
                total[name] += abs((there[name] - found[name]) / (step * found[name]))
    return {name: float(value) for name, value in total.items()}


# --- draws ----------------------------------------------------------------------------------------------------------


def draw_body(rng: random.Random) -> Row:
    metals = [rng.uniform(0.8e-6, 25e-6), rng.uniform(0.8e-6, 25e-6)]
    row: Row = {"bore_m": rng.choice((0.0254, 0.0508, rng.uniform(0.01, 0.3))), "t0_degc": rng.choice((15.0, 20.0, 21.1)),
                "p0_kpag": rng.choice((0.0, 300.0, rng.uniform(0, 2000))), "housing": metals[0], "rotor": metals[1],
                "modulus_gpa": rng.uniform(70, 215), "poisson": rng.uniform(0.2, 0.36),
                "area_blocked": rng.choice((0.0, rng.uniform(0, 0.9))),
                "end": rng.choice(("none", "thin_wall", "thin_wall_closed", "lame_open", "lame_closed", "lame_held"))}
    row["wall_m"] = rng.uniform(0.03, 0.4) * row["bore_m"]
    if rng.random() < 0.15:
        row["housing"] = rng.choice(list(NIST))
    if rng.random() < 0.2:
        row["rotor"] = None
    return row


def draw_points(rng: random.Random, form: str, t_degc: float) -> tuple[list[float], list[float]]:
    """Two to six points about a temperature, on no line: each interval has its own slope."""
    count = rng.randint(2, 6)
    times = sorted({round(t_degc + rng.uniform(-45, -2), 1), round(t_degc + rng.uniform(2, 45), 1),
                    *(round(t_degc + rng.uniform(-60, 60), 1) for _ in range(count - 2))})
    low = 2.5 if form == "simple" else 0.4
    nus = sorted((round(math.exp(rng.uniform(math.log(low), math.log(150 * low))), 3) for _ in times), reverse=True)
    for i in range(1, len(nus)):
        nus[i] = round(min(nus[i], 0.93 * nus[i - 1]), 4)
    return times, nus


def draw_liquid(rng: random.Random, t_degc: float) -> Row:
    row: Row = {"volume": "petroleum_2004" if rng.random() < 0.85 else "none",
                "base": rng.choice(("60F", "15C", "20C")), "negative_pressure": rng.choice(("refuse", "clamp")),
                "viscosity": rng.choice(("measured", "points", "points", "one_point", "between")),
                "form": rng.choice(("simple", "body", "body", "full")), "nu_beyond": rng.choice(("refuse", "extend"))}
    if rng.random() < 0.2:
        row["alpha60_per_degf"] = round(rng.uniform(300e-6, 800e-6), 8)
    else:
        row["group"] = rng.choice(("crude", "refined", "fuel_oil", "jet", "lube"))
    if row["viscosity"] == "between":
        row["volume"] = "petroleum_2004"
    row["t_points"], row["nu_points"] = draw_points(rng, row["form"], t_degc)
    row["t_second"], row["nu_second"] = draw_points(rng, row["form"], t_degc)
    row["rho_points"], row["rho_second"] = 800.5, 931.25
    if row["viscosity"] == "one_point":
        row["t_points"], row["nu_points"] = [round(t_degc + rng.uniform(-35, 35), 1)], row["nu_points"][:1]
        row["slope_b"] = round(rng.uniform(2.8, 4.4), 3)
    for key, used in (("t_points", "measured"), ("nu_points", "measured")):
        if row["viscosity"] == used:
            del row[key]
    if row["viscosity"] != "between":
        for key in ("t_second", "nu_second", "rho_points", "rho_second"):
            del row[key]
    return row


def draw_density(rng: random.Random, row: Row) -> Row:
    rho = rng.uniform(805, 925)
    while any(abs(rho - border) < 1.0 for border in (787.5195, 838.3127)):
        rho = rng.uniform(805, 925)
    if row["volume"] == "none":
        return {}
    if rng.random() < 0.6:
        return {"rho_base": rho}
    t, p = rng.uniform(-10, 60), rng.uniform(0, 1500)
    return {"rho_observed": round(rho * (1 - 0.0008 * (t - 15)), 2), "t_observed_degc": t, "p_observed_kpag": p,
            "densitometer_factor": rng.choice((1.0, round(rng.uniform(0.995, 1.005), 4)))}


def draw_flow(rng: random.Random, row: Row, beyond: float) -> Row | None:
    """Pulses and times that put Ro at a drawn place of the curve, or beyond an end; None where no meter would turn so."""
    curve = CURVES[row["curve"]]
    low, high = curve["x"][0], curve["x"][-1]
    target = rng.uniform(low, high)
    if rng.random() < beyond:
        target = rng.choice((low - rng.uniform(0.01, 2.2), high + rng.uniform(0.01, 2.2)))
    found: dict[str, mpf] = {}
    try:
        evaluate(exact(row | {"f_hz": 100.0}), found)
    except Refused:
        pass
    if "ro" not in found:
        return None
    f = 100 * math.exp(target) / float(found["ro"])
    duration = rng.choice((1.0, 60.0, 3600.0, 86400.0, rng.uniform(10, 1e5)))
    pulses = float(round(f * duration))
    if not 0.6 < f < 8e5 or pulses < 20:
        return None
    kind = rng.random()
    if kind < 0.1:
        return {"f_hz": f}
    flow: Row = {"pulses": pulses if rng.random() < 0.9 else -pulses, "duration_s": duration}
    if kind < 0.25:
        flow["flowing_s"], flow["duration_s"] = duration, duration * rng.uniform(1, 4)
    elif kind < 0.35:
        flow["f_flowing_hz"], flow["duration_s"] = pulses / duration, duration * rng.uniform(1.01, 4)
    return flow


def draw(rng: random.Random, beyond: float = 0.15) -> Row:
    while True:
        t = rng.uniform(-15, 70)
        row = {"curve": rng.choice(list(CURVES)), "below": rng.choice(("refuse", "hold_end", "extend_slope")),
               "above": rng.choice(("refuse", "hold_end", "extend_slope")), **draw_body(rng), **draw_liquid(rng, t),
               "t_degc": t, "p_kpag": rng.choice((0.0, rng.uniform(0, 9000)))}
        if row["negative_pressure"] == "clamp" and rng.random() < 0.2:
            row["p_kpag"] = -rng.uniform(0, 90)
        row.update(draw_density(rng, row))
        if row["viscosity"] == "measured":
            row["nu_given"] = math.exp(rng.uniform(math.log(0.3), math.log(300)))
        try:
            flow = draw_flow(rng, row, beyond)
        except oracle.NoValue:
            continue
        if flow is not None:
            return row | flow


# One mistake each, and the status that names it.
MISTAKES = (
    ("E_NOT_WHOLE", lambda r: r.update(pulses=12345.5)), ("E_MISSING", lambda r: r.update(duration_s=None)),
    ("E_BELOW", lambda r: r.update(duration_s=-60.0)), ("E_ABOVE", lambda r: r.update(t_degc=150.5)),
    ("E_BELOW", lambda r: r.update(t_degc=-50.5)), ("E_ABOVE", lambda r: r.update(p_kpag=10400.0)),
    ("E_MISSING", lambda r: r.update(rho_base=None)), ("E_CONFLICT", lambda r: r.update(rho_observed=850.0)),
    ("E_BELOW", lambda r: r.update(rho_base=500.0)), ("E_ABOVE", lambda r: r.update(rho_base=1200.0)),
    ("E_NEGATIVE_PRESSURE", lambda r: r.update(p_kpag=-5.0, negative_pressure="refuse")),
    ("E_CONFLICT", lambda r: r.update(f_hz=50.0)),
)


def refused_row(rng: random.Random, number: int) -> Row:
    """A row that must be refused: by one of the mistakes, by the range of the viscosity, or by the curve."""
    kind = number % (len(MISTAKES) + 4)
    while True:
        row = draw(rng, beyond=1.0 if kind >= len(MISTAKES) + 2 else 0.0)
        if kind < len(MISTAKES):
            if row.get("rho_base") is not None and row.get("pulses") is not None and row.get("flowing_s") is None \
                    and row.get("f_flowing_hz") is None and row["viscosity"] != "between":
                status, spoil = MISTAKES[kind]
                spoil(row)
                return row | {"status": status}
            continue
        if kind < len(MISTAKES) + 2 and row["viscosity"] == "points":
            row["nu_beyond"] = "refuse"
            row["t_points"] = [t + (60.0 if kind % 2 else -60.0) for t in row["t_points"]]
            if row["t_points"][0] >= -100 and not row["t_points"][0] <= row["t_degc"] <= row["t_points"][-1]:
                return row
        elif kind >= len(MISTAKES) + 2:
            row["below"] = row["above"] = "refuse"
            return row


def finish(row: Row) -> Row:
    found: dict[str, mpf] = {}
    if "status" not in row:
        try:
            evaluate(exact(row), found)
            row["status"] = "OK"
        except Refused as why:
            row["status"] = str(why)
        row["results"], row["conditions"] = found, conditions(exact(row), found)
    return row


# --- files ----------------------------------------------------------------------------------------------------------


def cell(x: Any) -> str:
    if x is None:
        return ""
    return " ".join(repr(v) for v in x) if isinstance(x, list) else repr(x) if isinstance(x, float) else str(x)


def records_text() -> str:
    rng, out = random.Random(SEED), io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["id", *INPUTS, "status", *RESULTS, *(f"condition_{name}" for name in RESULTS), "source"])
    rows = [draw(rng) for _ in range(ROWS)] + [refused_row(rng, i) for i in range(REFUSED)]
    for number, row in enumerate(map(finish, rows)):
        results, condition = row.get("results", {}), row.get("conditions", {})
        writer.writerow([f"R-{number:03d}", *(cell(row.get(key)) for key in INPUTS), row["status"],
                         *(mp.nstr(results[name], 17) if name in results else "" for name in RESULTS),
                         *(f"{condition[name]:.3g}" if name in condition else "" for name in RESULTS),
                         "computed: mpmath 40 digits"])
    return out.getvalue()


def curves_text() -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["curve", "ln_ro", "st", "c0", "c1", "c2", "c3"])
    for name, curve in CURVES.items():
        for i, (x, st) in enumerate(zip(curve["x"], curve["st"])):
            row = curve["c"][i] if i < len(curve["c"]) else [None] * 4
            writer.writerow([name, cell(float(x)), cell(float(st)), *(cell(c) for c in row)])
    return out.getvalue()


def main() -> int:
    folder, check = Path(sys.argv[1]), "--check" in sys.argv[2:]
    different = 0
    for name, text in (("whole_records.csv", records_text()), ("whole_record_curves.csv", curves_text())):
        path = folder / name
        if not check:
            path.write_text(text, encoding="utf-8")
        elif path.read_text(encoding="utf-8") != text:
            print(f"{path}: differs from what is computed")
            different = 1
    return different


if __name__ == "__main__":
    sys.exit(main())
