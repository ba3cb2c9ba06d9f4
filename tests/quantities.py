# SPDX-License-Identifier: Apache-2.0
"""Quantities of check rows that are no method of their own: each is a public call of the package, never arithmetic.

QUANTITIES is {name: callable(**inputs)}; inputs are numbers, lists of numbers, or texts. A quantity that is not here is
looked up in flowcomp.methods by its own name.
"""

from __future__ import annotations

from collections.abc import Callable

import flowcomp as fc
from flowcomp.selfcheck import CALLS

# Files of tests/checks that are not check rows: their name, and what reads them.
OTHER_FILES = {"fpmath.csv": "exact arguments of functions inside the C library, read by tests/test_fpmath.c"}

QUANTITIES: dict[str, Callable[..., float]] = {
    **CALLS,  # unit_convert, unit_factor
    "nu_mm2s_from_ft2s": lambda nu_ft2s: fc.convert(nu_ft2s, "ft2/s", "mm2/s"),
    "nu_mm2s_from_in2s": lambda nu_in2s: fc.convert(nu_in2s, "in2/s", "mm2/s"),
    "mu_mpas_from_reyn": lambda mu_lbf_s_in2: fc.convert(mu_lbf_s_in2, "reyn", "mPa.s"),
    "mu_from_nu_rho": lambda nu_mm2s, rho_kgm3: fc.convert_viscosity(nu_mm2s, "mm2/s", "mPa.s", rho_kgm3),
    "nu_from_mu_rho": lambda mu_mpas, rho_kgm3: fc.convert_viscosity(mu_mpas, "mPa.s", "mm2/s", rho_kgm3),
}
