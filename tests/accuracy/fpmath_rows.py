# SPDX-License-Identifier: Apache-2.0
"""Write the check rows of tests/test_fpmath.c: python3 fpmath_rows.py > ../checks/fpmath.csv

Every value is computed with mpmath at 40 digits from the exact binary arguments, apart from the library.
"""

import random
from collections.abc import Iterator

from mpmath import mp, mpf

mp.dps = 40

FUNCTIONS = {
    "exp": mp.exp,
    "exp10": lambda x: mp.power(10, x),
    "log": mp.log,
    "log10": lambda x: mp.log(x) / mp.log(10),
    "pow": mp.power,
    "cbrt": lambda x: mp.sign(x) * mp.cbrt(abs(x)),
    "sqrt": mp.sqrt,
}

# limit_ulp 0: the exact result is a double and must come out as such
EXACT: dict[str, list[tuple[float, ...]]] = {
    "exp": [(0.0,)],
    "exp10": [(float(k),) for k in range(23)],
    "log": [(1.0,)],
    "log10": [(10.0**k,) for k in range(23)],
    "pow": [(10.0, 22.0), (2.0, -1022.0), (2.0, 1023.0), (3.0, 33.0), (1.0, 1e300), (0.25, -1.5), (1e5, 1.0), (49.0, 0.5)],
    "cbrt": [(1.0,), (-8.0,), (27.0,), (1e15,), (-(99999.0**3),), (2.0**-1020,)],
    "sqrt": [(1.0,), (2.25,), (94906265.0**2,), (2.0**-1022,)],
}

CHOSEN: dict[str, list[tuple[float, ...]]] = {
    "exp": [(v,) for v in (1.0, -1.0, 0.5, 1e-3, -1e-9, 0.34657359, 0.34657360, -0.34657360, 20.0, -87.5, 709.78, -708.39)],
    "exp10": [(v,) for v in (-1.0, -22.0, 0.1, 0.30103, 1e-5, -0.15051, 0.15052, 2.5, 308.25, -307.65)],
    "log": [(v,) for v in (2.0, 10.0, 0.1, 0.5, 0.99, 1.01, 1.0000001, 1 + 2.0**-52, 1 - 2.0**-53, 1.41421356, 1.4142136, 0.7071, 1e300, 1e-300)],
    "log10": [(v,) for v in (2.0, 0.1, 0.001, 0.5, 0.99, 1.01, 1 + 2.0**-52, 1 - 2.0**-53, 1.41421356, 1.4142136, 1e22 * 7, 1e-300)],
    "pow": [(0.999, 1500.0), (1.0000001, -7e9), (850.0, 0.8), (20.0, -3.7), (1e300, 1.02), (1e-300, 1.02), (1.41421356, 2040.0), (1 - 2.0**-53, 6e18)],
    "cbrt": [(v,) for v in (2.0, 3.0, -4.0, 7.9999, 8.0001, 1e300, 1e-300, 0.001, -0.5)],
    "sqrt": [(v,) for v in (2.0, 3.0, 1e300, 1e-300, 0.001)],
}


def drawn(name: str, rng: random.Random) -> tuple[float, ...]:
    """One random argument of the useful region."""
    if name == "exp":
        return (rng.uniform(-20, 20),)
    if name == "exp10":
        return (rng.uniform(-10, 10),)
    if name == "pow":
        return 10 ** rng.uniform(-0.3, 7.3), rng.uniform(-10, 40)
    return (10 ** rng.uniform(-3, 8),)


def rows() -> Iterator[str]:
    """Comment, header and rows."""
    yield "# SPDX-License-Identifier: Apache-2.0"
    yield "# Elementary functions at exact binary arguments. Source: mpmath at 40 digits, computed apart from the library by"
    yield "# tests/accuracy/fpmath_rows.py (definitions: NIST DLMF chapter 4); status: computed."
    yield "# nearest is the double nearest to the value, rest = value - nearest, both exact binary; limit_ulp 0: must be exact."
    yield "function,x,y,value_40_digits,nearest,rest,limit_ulp"
    rng = random.Random(11)
    for name, function in FUNCTIONS.items():
        cases = [(a, "0") for a in EXACT[name]]
        limit = "0.5" if name == "sqrt" else "1.1"
        cases += [(a, limit) for a in CHOSEN[name]]
        cases += [(drawn(name, rng), limit) for _ in range(24)]
        for arguments, allowed in cases:
            value = function(*[mpf(a) for a in arguments])
            nearest = float(value)
            rest = 0.0 if allowed == "0" else float(value - mpf(nearest))
            assert allowed != "0" or abs(value - nearest) <= abs(value) * mpf(10) ** -38
            y = arguments[1].hex() if len(arguments) > 1 else ""
            yield f"{name},{arguments[0].hex()},{y},{mp.nstr(value, 40)},{nearest.hex()},{rest.hex()},{allowed}"


if __name__ == "__main__":
    print("\n".join(rows()))
