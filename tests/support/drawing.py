# SPDX-License-Identifier: Apache-2.0
"""Points of the domain of simple formulas: each argument drawn from a range of its own."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from typing import Any

Range = tuple[float, float] | Sequence[str]


def number(rng: random.Random, low: float, high: float) -> float:
    """Evenly, or by its logarithm where the range spans more than two decades."""
    if low > 0 and high > 100 * low:
        return math.exp(rng.uniform(math.log(low), math.log(high)))
    return rng.uniform(low, high)


def arguments_of(family: type, name: str) -> list[str]:
    """Argument names of a formula."""
    code = vars(family)[name].__code__
    return list(code.co_varnames[1:code.co_argcount])


def point(rng: random.Random, names: list[str], ranges: dict[str, Range]) -> dict[str, Any]:
    """Every argument that has a range: a number, or a word where the range is a list of words."""
    found: dict[str, Any] = {}
    for name in names:
        if name in ranges:
            of = ranges[name]
            found[name] = rng.choice(of) if isinstance(of[0], str) else number(rng, *of)
    return found
