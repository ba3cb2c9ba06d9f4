# SPDX-License-Identifier: Apache-2.0
"""Volume correction of refined products to 15 °C, written a second time and apart from the library.

API MPMS 11.1 (2004 edition, base 60 °F) with its metric procedure for a base of 15 °C and 0 gauge. The invented depot
takes its true base volumes from here, and tests may use it as an independent opinion. It shares nothing with the
library: plain NumPy float64, one density at a time, arrays of temperature and pressure.

The constants are from memory of the standard and must be confirmed against the print before a claim of conformity. No
rounding anywhere. Range meant here: product group found from the density at 60 °F (refined products), 610 to
1164 kg/m3, -50 to 150 °C, 0 to 10340 kPa gauge; nothing is checked, since the depot is invented inside that range.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

KPA_PER_PSI = 6.894757
BASE_FAHRENHEIT_68 = 60.0068749  # 60 °F of ITS-90 on the scale of 1968
DELTA60_F = 0.01374979547  # twice the shift of 60 °F between the two scales

# Difference of the temperature scales as a polynomial in t/630 °C, from the first power up.
SCALE_DIFFERENCE = (-0.148759, -0.267408, 1.080760, 1.269056, -4.089591, -1.871251, 7.438081, -3.536296)

# Lowest density at 60 °F of each refined group, heaviest first, with K0, K1, K2 of its expansion factor.
REFINED_GROUPS = (
    (838.3127, 103.8720, 0.2701, 0.0),
    (787.5195, 330.3010, 0.0, 0.0),
    (770.3520, 1489.0670, 0.0, -0.00186840),
    (0.0, 192.4571, 0.2438, 0.0),
)


def fahrenheit_68(t_degf: Array | float) -> Array:
    """Temperature on the scale of 1968, °F, from one on ITS-90, °F (same shape)."""
    celsius = (np.asarray(t_degf, dtype=np.float64) - 32.0) / 1.8
    x = celsius / 630.0
    difference = np.zeros_like(x)
    for coefficient in reversed(SCALE_DIFFERENCE):
        difference = (difference + coefficient) * x
    return 1.8 * (celsius - difference) + 32.0


def group_coefficients(rho60_kgm3: float) -> tuple[float, float, float]:
    """K0, K1, K2 of the refined group that a density at 60 °F, kg/m3, belongs to."""
    for lowest, k0, k1, k2 in REFINED_GROUPS:
        if rho60_kgm3 >= lowest:
            return k0, k1, k2
    raise ValueError("density must not be negative")


def density_on_1968_scale(rho60_kgm3: float) -> float:
    """Density at 60 °F of the 1968 scale, kg/m3, from that at 60 °F of ITS-90 (a few g/m3 apart)."""
    k0, k1, k2 = group_coefficients(rho60_kgm3)
    r = rho60_kgm3
    a = 0.5 * DELTA60_F * ((k0 / r + k1) / r + k2)
    b = (2.0 * k0 + k1 * r) / (k0 + (k1 + k2 * r) * r)
    return r * (1.0 + float(np.expm1(a * (1.0 + 0.8 * a))) / (1.0 + a * (1.0 + 1.6 * a) * b))


def ctl60(rho60_kgm3: float, t_degf: Array | float) -> Array:
    """CTL to 60 °F for one density at 60 °F, kg/m3, at temperatures in °F (any shape)."""
    k0, k1, k2 = group_coefficients(rho60_kgm3)
    r = density_on_1968_scale(rho60_kgm3)
    alpha = (k0 / r + k1) / r + k2
    dt = fahrenheit_68(t_degf) - BASE_FAHRENHEIT_68
    return np.exp(-alpha * dt * (1.0 + 0.8 * alpha * (dt + DELTA60_F)))


def cpl60(rho60_kgm3: float, t_degf: Array | float, p_psig: Array | float) -> Array:
    """CPL for one density at 60 °F, kg/m3, at temperatures in °F and pressures in psi gauge (one shape)."""
    r = density_on_1968_scale(rho60_kgm3)
    t = fahrenheit_68(t_degf)
    factor = np.exp(-1.9947 + 0.00013427 * t + (793920.0 + 2326.0 * t) / (r * r))
    return 1.0 / (1.0 - 1e-5 * factor * np.asarray(p_psig, dtype=np.float64))


def rho60_from_rho15(rho15_kgm3: float) -> float:
    """Density at 60 °F, kg/m3, from that at 15 °C, by bisection: density times CTL rises with density."""
    low, high = 0.98 * rho15_kgm3, 1.02 * rho15_kgm3
    for _ in range(80):
        middle = 0.5 * (low + high)
        if middle * float(ctl60(middle, 59.0)) < rho15_kgm3:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def ctpl15(rho15_kgm3: float, t_degc: Array | float, p_kpag: Array | float) -> Array:
    """CTL times CPL to 15 °C and 0 gauge.

    :param rho15_kgm3: density at 15 °C, kg/m3, one number
    :param t_degc: temperatures, °C, any shape
    :param p_kpag: pressures, kPa gauge, the same shape
    :return: base volume per volume at t and p, the same shape
    """
    rho60 = rho60_from_rho15(rho15_kgm3)
    t_degf = 1.8 * np.asarray(t_degc, dtype=np.float64) + 32.0
    ctl = ctl60(rho60, t_degf) / ctl60(rho60, 59.0)
    return ctl * cpl60(rho60, t_degf, np.asarray(p_kpag, dtype=np.float64) / KPA_PER_PSI)
