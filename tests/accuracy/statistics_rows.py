# SPDX-License-Identifier: Apache-2.0
"""Write check rows of the statistics of libflowcomp-analysis:

    python3 statistics_rows.py > ../checks/statistics_computed.csv

Recomputed with mpmath in 30 digits from the definitions: Student's factor from the incomplete beta function; the range W
of n normal values from its distribution F(w) = n int phi(x) (Phi(x + w) - Phi(x))^(n - 1) dx, the mean of W as int (1 - F)
and that of W^2 as 2 int w (1 - F); Lord's factor of two values from Student's (of more: tests/test_control_chart.c). An
integral over the line by the trapezoidal rule, which converges faster than any power for such integrands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mpmath import mp, mpf

mp.dps = 30
STEP, REACH = mpf("0.15"), 14
LINE = [STEP * i for i in range(-int(REACH / STEP), int(REACH / STEP) + 1)]
DENSITY = [mp.npdf(x) for x in LINE]
BELOW = [mp.ncdf(x) for x in LINE]
SOURCE = "recomputed from the definition with mpmath in 30 digits (tests/accuracy/statistics_rows.py)"


def student_t(p: mpf, nu: mpf) -> mpf:
    """Two-sided: P(|t| > value) = I(nu/(nu + t^2); nu/2, 1/2)."""
    low, high = mpf("0.001"), mpf(10) ** 5
    while high / low - 1 > mpf(10) ** -25:
        t = mp.sqrt(low * high)
        beyond = mp.betainc(nu / 2, mpf(1) / 2, 0, nu / (nu + t * t), regularized=True)
        low, high = (t, high) if beyond > 1 - p else (low, t)
    return t


def outside(w: mpf, n: int) -> mpf:
    """P(range > w)."""
    return 1 - n * STEP * mp.fsum(d * (mp.ncdf(x + w) - b) ** (n - 1) for x, d, b in zip(LINE, DENSITY, BELOW, strict=True))


def d2(n: int) -> mpf:
    """Mean range."""
    return STEP * mp.fsum(1 - (1 - b) ** n - b ** n for b in BELOW)


def over_ranges(f: Callable[[mpf], mpf]) -> mpf:
    """Integral over w from 0, in pieces."""
    return mp.quad(f, [0, 1, 2, 3, 4, 5, 6, 8, 10, 13], maxdegree=5)


def d3(n: int) -> mpf:
    """Standard deviation of the range."""
    return mp.sqrt(2 * over_ranges(lambda w: w * outside(w, n)) - d2(n) ** 2)


def values() -> Iterator[tuple[str, str, mpf, str]]:
    """Quantity, inputs, value, relative tolerance."""
    for p, nu in (("0.95", "4"), ("0.5", "1"), ("0.99", "12.5"), ("0.9999", "3"), ("0.95", "100000")):
        yield "student_t", f"probability={p};nu={nu}", student_t(mpf(float(p)), mpf(float(nu))), "1e-12"
    for n in (2, 5, 10, 25):
        mean, spread = d2(n), d3(n)
        yield "control_chart_d2", f"n={n}", mean, "1e-13"
        yield "control_chart_d3", f"n={n}", spread, "1e-12"
        yield "control_chart_c4", f"n={n}", mp.sqrt(mpf(2) / (n - 1)) * mp.gamma(mpf(n) / 2) / mp.gamma(mpf(n - 1) / 2), "1e-13"
        yield "control_chart_a2", f"n={n}", 3 / (mean * mp.sqrt(n)), "1e-13"
        yield "control_chart_range_upper_d4", f"n={n}", 1 + 3 * spread / mean, "1e-12"
        if 3 * spread < mean:
            yield "control_chart_range_lower_d3", f"n={n}", 1 - 3 * spread / mean, "1e-11"
    for n, p in ((5, "0.95"), (10, "0.99")):
        factor = student_t(mpf(float(p)), mpf(n - 1)) / (d2(n) * mp.sqrt(n))
        yield ("mean_uncertainty_from_range_pct", f"n={n};range_pct=0.05;probability={p}", mpf(0.05) * factor, "1e-12")
        yield "repeatability_limit_pct", f"n={n};target_pct=0.027;probability={p}", mpf(0.027) / factor, "1e-12"
    for p in ("0.95", "0.99"):  # of two values the range is twice the distance from the mean
        yield "range_factor_lord", f"n=2;probability={p}", student_t(mpf(float(p)), mpf(1)) / 2, "1e-11"


if __name__ == "__main__":
    print("id,quantity,inputs,expected,tolerance,unit,role,status,source,url,note")
    for number, (name, inputs, value, tolerance) in enumerate(values(), 1):
        unit = "%" if name.endswith("pct") else "1"
        print(f"ST-{number},{name},{inputs},{mp.nstr(value, 20)},{mp.nstr(abs(value) * mpf(tolerance), 2)},{unit},conformance,"
              f"computed,{SOURCE},,")
