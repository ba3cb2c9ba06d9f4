# SPDX-License-Identifier: Apache-2.0
"""Print the polynomial coefficients and split constants of libflowcomp/src/base/fpmath.h.

Each polynomial is a minimax fit (Remez exchange at 60 digits, mpmath) of the remainder of a series
over the reduced interval. The three lowest coefficients are rounded to double one at a time and the
rest is fitted again, so that their rounding is made good by the next ones; the others are rounded
together, since their last bits no longer show in the result.
Run: python3 fpmath_coefficients.py
"""

from collections.abc import Callable

from mpmath import mp, mpf

mp.dps = 60
Function = Callable[[mpf], mpf]


def remez(target: Function, weight: Function, low: mpf, high: mpf, powers: list[int]) -> tuple[list[mpf], mpf]:
    """Fit sum c_i x**powers[i] to target so that max |weight * error| is least; coefficients and that maximum."""
    count = len(powers) + 1
    middle, half = (low + high) / 2, (high - low) / 2
    # 0.3 and not 0.5: no first node falls on the middle, where the weight of the exp fit is zero
    nodes = [middle - half * mp.cos(mp.pi * (i + mpf("0.3")) / count) for i in range(count)]
    grid = [middle - half * mp.cos(mp.pi * i / 1500) for i in range(1501)]
    grid = [x for x in grid if weight(x) != 0]
    for _ in range(12):
        matrix = mp.matrix(count, count)
        right = mp.matrix(count, 1)
        for row, x in enumerate(nodes):
            for column, power in enumerate(powers):
                matrix[row, column] = x**power
            matrix[row, count - 1] = (-1) ** row / weight(x)
            right[row] = target(x)
        solution = mp.lu_solve(matrix, right)
        coefficients = [solution[i] for i in range(count - 1)]
        errors = [weight(x) * (target(x) - sum(c * x**p for c, p in zip(coefficients, powers))) for x in grid]
        extrema: list[tuple[mpf, mpf]] = []
        for x, error in zip(grid, errors):
            if extrema and (extrema[-1][1] > 0) == (error > 0):
                if abs(error) > abs(extrema[-1][1]):
                    extrema[-1] = (x, error)
            else:
                extrema.append((x, error))
        while len(extrema) > count:
            extrema.pop(0 if abs(extrema[0][1]) < abs(extrema[-1][1]) else -1)
        worst = max(abs(error) for error in errors)
        if len(extrema) < count or worst / min(abs(e) for _, e in extrema) < 1.001:
            break
        nodes = [x for x, _ in extrema]
    return coefficients, worst


def rounded_fit(target: Function, weight: Function, low: mpf, high: mpf, count: int) -> tuple[list[float], mpf]:
    """Coefficients as doubles of a fit with `count` powers from 0, and log2 of the largest weighted error."""
    fixed: list[float] = []
    coefficients: list[mpf] = []
    for _ in range(3):
        rest = list(range(len(fixed), count))
        remainder = lambda x, known=tuple(fixed): target(x) - sum(mpf(c) * x**i for i, c in enumerate(known))
        coefficients, _ = remez(remainder, weight, low, high, rest)
        fixed.append(float(coefficients[0]))
    fixed += [float(c) for c in coefficients[1:]]
    points = [low + (high - low) * i / 3001 for i in range(3002)]
    worst = max(abs(weight(x) * (target(x) - sum(mpf(c) * x**i for i, c in enumerate(fixed)))) for x in points)
    return fixed, mp.log(worst, 2)


def series(first: int, scale: int) -> Function:
    """sum over n >= first of z**(n - first) * 2 / ((2n + 1) * scale**n), the tail of 2*atanh."""
    return lambda z: mp.fsum(z ** (n - first) * mpf(2) / ((2 * n + 1) * mpf(scale) ** n) for n in range(first, first + 45))


def split(name: str, value: mpf, bits: int) -> None:
    """Print value as the sum of a double with `bits` leading bits and a full double."""
    shift = mpf(2) ** (bits - 1 - int(mp.floor(mp.log(value, 2))))
    high = mp.floor(value * shift) / shift
    print(f"{name}: {float(high).hex()} + {float(value - high).hex()}  (whole: {float(value).hex()})")


def show(name: str, fit: tuple[list[float], mpf]) -> None:
    """Print a fit: one coefficient a line, after its error."""
    print(f"{name}: largest error 2^{mp.nstr(fit[1], 4)}")
    for coefficient in fit[0]:
        print(f"    {coefficient.hex()}")


def main() -> None:
    """Print every constant of fpmath.h."""
    reduced = mp.log(2) / 2 * mpf("1.0001")
    square = ((mp.sqrt(2) - 1) / (mp.sqrt(2) + 1)) ** 2 * mpf("1.0001")
    half_exp = lambda r: (mp.exp(r) - 1 - r - r * r / 2) / r**3 if abs(r) > mpf("1e-9") else mpf(1) / 6 + r / 24
    show("exp (r^3 on)", rounded_fit(half_exp, lambda r: abs(r) ** 3 / mp.exp(r), -reduced, reduced, 9))
    show("log, z = s^2", rounded_fit(series(1, 1), lambda z: z / 2, mpf(0), square, 7))
    # pow: log m = S + S^3 (1/12 + z P(z)), z = S^2 = 4 s^2
    tail = lambda z: series(2, 4)(z) / 2
    show("pow, z = S^2", rounded_fit(tail, lambda z: z * z, mpf(0), 4 * square, 8))
    show("cbrt on [1,2]", rounded_fit(mp.cbrt, lambda m: 1 / mp.cbrt(m), mpf(1), mpf(2), 5))
    split("ln 2", mp.log(2), 42)
    split("log10 2", mp.log10(2), 42)
    split("ln 10", mp.log(10), 26)
    split("1/ln 10", 1 / mp.log(10), 26)
    split("1/12", mpf(1) / 12, 53)
    split("log2 e", 1 / mp.log(2), 53)
    split("log2 10", mp.log(10, 2), 53)
    split("1024 ln 2", 1024 * mp.log(2), 53)
    split("1022 ln 2", 1022 * mp.log(2), 53)
    split("1024 log10 2", 1024 * mp.log10(2), 53)
    split("1022 log10 2", 1022 * mp.log10(2), 53)
    split("2^(1/3)", mp.cbrt(2), 53)
    split("4^(1/3)", mp.cbrt(4), 53)


if __name__ == "__main__":
    main()
