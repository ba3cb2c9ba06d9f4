# SPDX-License-Identifier: Apache-2.0
"""IAPWS-95 recomputed with mpmath at 40 digits, apart from the library: the derivative by density of the residual
Helmholtz energy, written out term by term. See aqueous_oracle.py."""

from __future__ import annotations

import math
import random
from typing import Any

from petroleum_oracle import EXACT, FAST, Arithmetic, NoValue, mpf

# IAPWS R6-95 Table 2: c d t n; d t n alpha beta gamma epsilon; a b B n C D A beta. From memory.
POWERS = """
0 1 -0.5 0.12533547935523e-1; 0 1 0.875 0.78957634722828e1; 0 1 1 -0.87803203303561e1; 0 2 0.5 0.31802509345418;
0 2 0.75 -0.26145533859358; 0 3 0.375 -0.78199751687981e-2; 0 4 1 0.88089493102134e-2; 1 1 4 -0.66856572307965;
1 1 6 0.20433810950965; 1 1 12 -0.66212605039687e-4; 1 2 1 -0.19232721156002; 1 2 5 -0.25709043003438;
1 3 4 0.16074868486251; 1 4 2 -0.40092828925807e-1; 1 4 13 0.39343422603254e-6; 1 5 9 -0.75941377088144e-5;
1 7 3 0.56250979351888e-3; 1 9 4 -0.15608652257135e-4; 1 10 11 0.11537996422951e-8; 1 11 4 0.36582165144204e-6;
1 13 13 -0.13251180074668e-11; 1 15 1 -0.62639586912454e-9; 2 1 7 -0.10793600908932; 2 2 1 0.17611491008752e-1;
2 2 9 0.22132295167546; 2 2 10 -0.40247669763528; 2 3 10 0.58083399985759; 2 4 3 0.49969146990806e-2;
2 4 7 -0.31358700712549e-1; 2 4 10 -0.74315929710341; 2 5 10 0.47807329915480; 2 6 6 0.20527940895948e-1;
2 6 10 -0.13636435110343; 2 7 10 0.14180634400617e-1; 2 9 1 0.83326504880713e-2; 2 9 2 -0.29052336009585e-1;
2 9 3 0.38615085574206e-1; 2 9 4 -0.20393486513704e-1; 2 9 8 -0.16554050063734e-2; 2 10 6 0.19955571979541e-2;
2 10 9 0.15870308324157e-3; 2 12 8 -0.16388568342530e-4; 3 3 16 0.43613615723811e-1; 3 4 22 0.34994005463765e-1;
3 4 23 -0.76788197844621e-1; 3 5 23 0.22446277332006e-1; 4 14 10 -0.62689710414685e-4; 6 3 50 -0.55711118565645e-9;
6 6 44 -0.19905718354408; 6 6 46 0.31777497330738; 6 6 50 -0.11841182425981"""
GAUSSIANS = """3 0 -0.31306260323435e2 20 150 1.21 1; 3 1 0.31546140237781e2 20 150 1.21 1;
3 4 -0.25213154341695e4 20 250 1.25 1"""
NONANALYTIC = "3.5 0.85 0.2 -0.14874640856724 28 700 0.32 0.3; 3.5 0.95 0.2 0.31806110878444 32 800 0.32 0.3"


def _rows(text: str) -> list[list[str]]:
    return [row.split() for row in text.split(";")]


class Iapws95:
    """Pressure, saturation pressure (SR1-86) and density of the liquid, in one arithmetic."""

    def __init__(self, arithmetic: Arithmetic) -> None:
        self.a, self.n = arithmetic, arithmetic.number

    def _phi_delta(self, delta: Any, tau: Any) -> Any:
        n, exp, total = self.n, self.a.exp, self.n(0)
        for row in _rows(POWERS):
            c, d, t, k = (n(x) for x in row)
            decay, bend = (exp(-delta ** c), c * delta ** c) if row[0] != "0" else (n(1), n(0))
            total += k * delta ** (d - 1) * tau ** t * decay * (d - bend)
        for row in _rows(GAUSSIANS):
            d, t, k, alpha, beta, gamma, epsilon = (n(x) for x in row)
            bell = exp(-alpha * (delta - epsilon) ** 2 - beta * (tau - gamma) ** 2)
            slope = d * delta ** (d - 1) - delta ** d * 2 * alpha * (delta - epsilon)
            total += k * tau ** t * bell * slope
        for row in _rows(NONANALYTIC):
            total += self._nonanalytic(delta, tau, *(n(x) for x in row))
        return total

    def _nonanalytic(self, delta: Any, tau: Any, a: Any, b: Any, big_b: Any, k: Any, c: Any, d: Any, big_a: Any,
                     beta: Any) -> Any:
        x = (delta - 1) ** 2
        theta = 1 - tau + big_a * x ** (1 / (2 * beta))
        big = theta ** 2 + big_b * x ** a
        if big == 0:
            return self.n(0)
        psi = self.a.exp(-c * x - d * (tau - 1) ** 2)
        by_e = big_a * theta * 2 / beta * x ** (1 / (2 * beta) - 1) + 2 * big_b * a * x ** (a - 1)
        slope = (delta - 1) * by_e
        return k * (big ** b * (psi - delta * 2 * c * (delta - 1) * psi) + b * big ** (b - 1) * slope * delta * psi)

    def p_water_iapws95(self, t_k: Any, rho_kgm3: Any) -> Any:
        delta, tau = rho_kgm3 / self.n(322), self.n("647.096") / t_k
        rt = self.n("0.46151805") * t_k / self.n(1000)
        return rho_kgm3 * rt * (1 + delta * self._phi_delta(delta, tau))

    def p_saturation_water_sr1_86(self, t_k: Any) -> Any:
        n, th = self.n, 1 - t_k / self.n("647.096")
        terms = (("-7.85951783", "1"), ("1.84408259", "1.5"), ("-11.7866497", "3"), ("22.6807411", "3.5"),
                 ("-15.9618719", "4"), ("1.80122502", "7.5"))
        return n("22.064") * self.a.exp(n("647.096") / t_k * sum(n(k) * th ** n(e) for k, e in terms))

    def rho_water_iapws95(self, t_k: Any, p_mpa: Any) -> Any:
        """Newton's steps from above, where the isotherm of the liquid bends upwards; the slope in binary64."""
        if p_mpa < self.p_saturation_water_sr1_86(t_k):
            raise NoValue
        fast, t, rho = Iapws95(FAST), float(t_k), 1250.0
        for _ in range(40):
            step = 1e-5 * rho
            slope = (fast.p_water_iapws95(t, rho + step) - fast.p_water_iapws95(t, rho - step)) / (2 * step)
            rho -= (fast.p_water_iapws95(t, rho) - float(p_mpa)) / slope
        if self.a is FAST:
            return rho
        exact = mpf(rho)
        for _ in range(8):
            exact -= (Iapws95(EXACT).p_water_iapws95(t_k, exact) - p_mpa) / slope
        return exact


def draw(name: str, rng: random.Random) -> dict[str, Any]:
    """A point of the domain; of the liquid one above saturation, of the viscosity one outside the region of mu2."""
    if name == "mu_water_r12_08":
        rho = rng.choice([rng.uniform(0, 245), rng.uniform(406, 1250)])
        return {"t_k": rng.uniform(253.15, 1173.15), "rho_kgm3": rho}
    if name == "rho_water_iapws95":
        t = rng.uniform(273.15, 643.0)
        low = Iapws95(FAST).p_saturation_water_sr1_86(t) * 1.001
        return {"t_k": t, "p_mpa": math.exp(rng.uniform(math.log(low), math.log(600.0)))}
    return {"t_k": rng.uniform(251.2, 1273.0), "rho_kgm3": rng.uniform(0.0, 1250.0)}
