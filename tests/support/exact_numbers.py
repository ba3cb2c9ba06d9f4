# SPDX-License-Identifier: Apache-2.0
"""The numbers of 40 digits that the recomputations are written in.

mpmath (pure Python, easy to install) unless the environment variable FLOWCOMP_EXACT says mpfr: then MPFR through gmpy2,
which is an order of magnitude faster and serves long runs. Both round to 136 bits, which is 40 decimal digits.

    mpf                     a number of 40 digits, from a double, an integer or a decimal text
    exp, log, log10, floor  its functions
    digits(x, count)        its decimal text
"""

from __future__ import annotations

import os
from typing import Any

BITS = 136

if os.environ.get("FLOWCOMP_EXACT") == "mpfr":
    import gmpy2
    from gmpy2 import exp, floor, log, log10, mpfr as mpf

    gmpy2.get_context().precision = BITS
    ENGINE = f"MPFR {gmpy2.mpfr_version().split()[-1]} (gmpy2 {gmpy2.version()})"

    def digits(x: Any, count: int) -> str:
        """Decimal text of this many significant digits."""
        return f"{mpf(x):.{count}g}"
else:
    import mpmath
    from mpmath import mp, mpf

    mp.prec = BITS
    exp, log, log10, floor = mp.exp, mp.log, mp.log10, mp.floor
    ENGINE = f"mpmath {mpmath.__version__}"

    def digits(x: Any, count: int) -> str:
        """Decimal text of this many significant digits."""
        return mp.nstr(mpf(x), count)
