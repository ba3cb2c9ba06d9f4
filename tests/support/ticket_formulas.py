# SPDX-License-Identifier: Apache-2.0
"""The published formulas that figures of a ticket rest on, written once more and without the library: CTL and CPL of
API MPMS 11.1 (2004), viscosity by ASTM D341, and K of a meter's curve with its body."""

import math
from datetime import datetime

NOTES: set[str] = set()  # what was not worked out, and why
GROUPS = {"crude": (341.0957, 0, 0), "fuel_oil": (103.872, 0.2701, 0), "jet": (330.301, 0, 0), "lube": (0, 0.34878, 0),
          "transition": (1489.067, 0, -0.0018684), "gasoline": (192.4571, 0.2438, 0)}
SHIFT = (-0.148759, -0.267408, 1.080760, 1.269056, -4.089591, -1.871251, 7.438081, -3.536296)


def petroleum_2004(rho60: float, group: str, t_degf: float) -> tuple[float, float]:
    if group == "refined":
        group = ("fuel_oil" if rho60 >= 838.3127 else "jet" if rho60 >= 787.5195 else
                 "transition" if rho60 >= 770.352 else "gasoline")
    k0, k1, k2 = GROUPS[group]
    tau = (t_degf - 32) / 1.8 / 630
    t = t_degf - 1.8 * sum(c * tau ** (i + 1) for i, c in enumerate(SHIFT))
    a = 0.01374979547 / 2 * ((k0 / rho60 + k1) / rho60 + k2)
    b = (2 * k0 + k1 * rho60) / (k0 + (k1 + k2 * rho60) * rho60)
    star = rho60 * (1 + math.expm1(a * (1 + 0.8 * a)) / (1 + a * (1 + 1.6 * a) * b))
    alpha, dt = (k0 / star + k1) / star + k2, t - 60.0068749
    fp = math.exp(-1.9947 + 0.00013427 * t + (793920 + 2326 * t) / star ** 2)
    return math.exp(-alpha * dt * (1 + 0.8 * alpha * (dt + 0.01374979547))), fp


def viscosity(liquid: dict, t_degc: float) -> float | None:
    """ASTM D341 between neighbouring points, Z = nu + 0.7 + exp(-1.47 - 1.84 nu - 0.51 nu^2); no other form."""
    if liquid["viscosity"] != "points" or liquid["form"] != "body":
        return None

    def more(nu: float) -> float:
        return 0.7 + math.exp(-1.47 - 1.84 * nu - 0.51 * nu * nu)

    t, nu = liquid["points"]["t_degc"], liquid["points"]["nu_mm2s"]
    i = max([0, *(j for j in range(len(t) - 1) if t[j] <= t_degc)])
    here, x0, x1 = (math.log(one + 273.15) for one in (t_degc, t[i], t[i + 1]))
    w0, w1 = (math.log(math.log(one + more(one))) for one in nu[i:i + 2])
    z = math.exp(math.exp(w0 + (w1 - w0) * (here - x0) / (x1 - x0)))
    found = z - 0.7
    for _ in range(100):  # converges: what is added changes little with nu
        found = z - more(found)
    return found


def hoop(body: dict, p_kpa: float) -> float:
    """Strain of the bore per its end condition: thin wall, or the thick cylinder of Lame."""
    if body["end"] == "none":
        return 0.0
    a, t, e, mu = body["bore_m"] / 2, body["wall_m"], body["housing"]["modulus_gpa"] * 1e6, body["housing"]["poisson"]
    b, ring = a + t, e * ((a + t) ** 2 - a * a)
    return p_kpa * {"thin_wall": a / (e * t), "thin_wall_closed": a * (1 - mu / 2) / (e * t),
                    "lame_open": ((1 - mu) * a * a + (1 + mu) * b * b) / ring,
                    "lame_closed": ((1 - 2 * mu) * a * a + (1 + mu) * b * b) / ring,
                    "lame_held": (1 + mu) * ((1 - 2 * mu) * a * a + b * b) / ring}[body["end"]]


def k_of_curve(given: dict, row: dict) -> float | None:
    """Pulses per m3: Ro = f D^2/nu, St of the curve, K = 4 St B/(pi D0^3). None where something is not written here."""
    body, curve, d0 = given["meter"]["body"], given["meter"]["curve"], given["meter"]["body"]["bore_m"]
    metals = [body["housing"], body["rotor"] if body["rotor"]["alpha_per_k"] is not None else body["housing"]]
    nu = row["nu_mm2s"] if row["nu_mm2s"] is not None else viscosity(given["liquid"], row["t_degc"])
    if nu is None or any(metal["law"] != "mean" for metal in metals):
        return NOTES.add("K was not worked out: its viscosity or metal is of a kind not written here")
    seconds = (datetime.fromisoformat(row["end"]) - datetime.fromisoformat(row["start"])).total_seconds()
    dt, share = row["t_degc"] - body["t0_degc"], body["area_blocked"]
    bore, rotor = (1 + metal["alpha_per_k"] * dt for metal in metals)
    bore *= 1 + hoop(body, row["p_kpag"] - body["p0_kpag"])
    ln_ro = math.log(row["pulses"] / (row["flowing_s"] or seconds) * (d0 * bore) ** 2 * 1e6 / nu)
    knots = curve["ln_ro"]
    if not knots[0] <= ln_ro <= knots[-1]:
        return NOTES.add("K was not worked out beyond the ends of the curve")
    i = max([0, *(j for j in range(len(knots) - 1) if knots[j] <= ln_ro)])
    st = sum(c * (ln_ro - knots[i]) ** n for n, c in enumerate(curve["coefficients"][4 * i:4 * i + 4]))
    return 4 * st / (math.pi * d0 ** 3) * (1 - share) / (rotor * (bore ** 2 - share * rotor ** 2))
