# SPDX-License-Identifier: Apache-2.0
"""An invented turbine meter and invented fuels: the physics behind the example files.

Nothing here is a real instrument or a real product, and nothing is taken from the library: the examples need a truth
that was made apart from what is tested against it.

Meter. Momentum balance of a rotor in steady flow (rotor inertia, swirl and tip clearance are left out):

    St = [S0 - S1 C_D(Re) - S3/(rho Q^2)] / (1 + S2/Re),    pulses per volume K = 4 St B/(pi D0^3),    never below 0

C_D is the textbook drag of a flat plate: 1.328/sqrt(Re_b) laminar, 0.074/Re_b^(1/5) turbulent, with the blade's
Reynolds number Re_b a fixed part of that of the pipe, Re = 4Q/(pi D nu). Between the two it is blended by the weight
w = 1/(1 + (Re_t/Re)^n).

Body. Housing and rotor of two metals, thick-walled housing with closed ends. D0 belongs to 20 °C and 0 gauge.

    D = D0 (1 + a_h dT)(1 + e_p),    B = (1 - k)/{(1 + a_r dT)[(1 + a_h dT)^2 (1 + e_p)^2 - k (1 + a_r dT)^2]}

k = (hub/D0)^2 is the part of the bore that the hub blocks, e_p the hoop strain of a thick cylinder at its bore. The
true metals of the depot differ a little from handbook values, as real metals do.

Fuel. ln ln(nu + 0.80) = a - b ln T + 0.35 (ln T - ln 293.15)^2, T in K, through the viscosities at 0 and 40 °C. A line
of ASTM D341 through the same two points is up to 0.26 % away, lines through 0, 20 and 40 °C up to 0.12 %. Viscosity
does not depend on pressure.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

KELVIN = 273.15
T0_DEGC = 20.0


@dataclass(frozen=True)
class Body:
    """Bore, wall and hub diameter in m, linear expansions per K, modulus in kPa."""

    bore_m: float
    wall_m: float
    hub_m: float
    alpha_housing: float
    alpha_rotor: float
    modulus_kpa: float
    poisson: float

    def bore_strain(self, p_kpag: Array | float) -> Array:
        """Hoop strain of the bore under gauge pressure, kPa (any shape)."""
        a, b = 0.5 * self.bore_m, 0.5 * self.bore_m + self.wall_m
        per_kpa = ((1 - 2 * self.poisson) * a * a + (1 + self.poisson) * b * b) / (self.modulus_kpa * (b * b - a * a))
        return per_kpa * np.asarray(p_kpag, dtype=np.float64)

    def bore(self, t_degc: Array | float, p_kpag: Array | float) -> Array:
        """Bore in m at temperature, °C, and gauge pressure, kPa (one shape)."""
        dt = np.asarray(t_degc, dtype=np.float64) - T0_DEGC
        return self.bore_m * (1 + self.alpha_housing * dt) * (1 + self.bore_strain(p_kpag))

    def k_ratio(self, t_degc: Array | float, p_kpag: Array | float) -> Array:
        """K/K0 at constant St at temperature, °C, and gauge pressure, kPa (one shape)."""
        dt = np.asarray(t_degc, dtype=np.float64) - T0_DEGC
        rotor = 1 + self.alpha_rotor * dt
        bore = (1 + self.alpha_housing * dt) * (1 + self.bore_strain(p_kpag))
        blocked = (self.hub_m / self.bore_m) ** 2
        return (1 - blocked) / (rotor * (bore**2 - blocked * rotor**2))


@dataclass(frozen=True)
class Meter:
    """Body and the constants of the balance; s3 in N m^2, the others pure numbers."""

    body: Body
    s0: float
    s1: float
    s2: float
    s3: float
    blade_share: float
    transition_re: float
    transition_power: float

    def drag(self, re: Array) -> Array:
        """Drag coefficient of the blades at the pipe's Reynolds number."""
        blade = self.blade_share * re
        turbulent = 1.0 / (1.0 + (self.transition_re / re) ** self.transition_power)
        return (1.0 - turbulent) * 1.328 / np.sqrt(blade) + turbulent * 0.074 * blade**-0.2

    def strouhal(self, q_m3s: Array, nu_mm2s: Array | float, rho_kgm3: Array | float, bore_m: Array | float) -> Array:
        """Strouhal number at a flow above zero, m3/s, viscosity, mm2/s, density, kg/m3, and bore, m (one shape)."""
        re = 4e6 * q_m3s / (np.pi * bore_m * nu_mm2s)
        st = (self.s0 - self.s1 * self.drag(re) - self.s3 / (rho_kgm3 * q_m3s * q_m3s)) / (1.0 + self.s2 / re)
        return np.maximum(st, 0.0)

    def k_per_m3(self, q_m3s: Array, nu_mm2s: Array | float, rho_kgm3: Array | float, bore_m: Array | float,
                 k_ratio: Array | float) -> Array:
        """Pulses per cubic metre; the body's bore, m, and K ratio are those at temperature and pressure (one shape)."""
        return 4.0 * self.strouhal(q_m3s, nu_mm2s, rho_kgm3, bore_m) * k_ratio / (np.pi * self.body.bore_m**3)


@dataclass(frozen=True)
class Fuel:
    """A quality of fuel: true viscosities in mm2/s at 0 and 40 °C, typical density at 15 °C in kg/m3."""

    name: str
    nu0_mm2s: float
    nu40_mm2s: float
    rho15_kgm3: float
    curvature: float = 0.35

    def nu(self, t_degc: Array | float) -> Array:
        """True viscosity in mm2/s at temperatures in °C (any shape)."""
        ends = np.log(np.array([0.0, 40.0]) + KELVIN)
        bend = self.curvature * (ends - np.log(293.15)) ** 2
        w = np.log(np.log(np.array([self.nu0_mm2s, self.nu40_mm2s]) + 0.80)) - bend
        slope = (w[1] - w[0]) / (ends[1] - ends[0])
        x = np.log(np.asarray(t_degc, dtype=np.float64) + KELVIN)
        return np.exp(np.exp(w[0] + slope * (x - ends[0]) + self.curvature * (x - np.log(293.15)) ** 2)) - 0.80
