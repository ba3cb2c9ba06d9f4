# SPDX-License-Identifier: Apache-2.0
"""Inputs for every method of the list: those of the carried check rows, and seeded draws inside the stated ranges."""

from __future__ import annotations

import functools
import math
import random
from typing import Any

import flowcomp as fc
from flowcomp import selfcheck

NAMES = fc.method_names()


def draw(info: fc.MethodInfo, random_: random.Random) -> dict[str, Any]:
    """One set of inputs; optional arguments are left out half of the time."""
    inputs: dict[str, Any] = {}
    length = random_.randint(2, 6)
    for argument in info.arguments:
        if argument.optional and random_.random() < 0.5:
            continue
        if argument.choices is not None:
            inputs[argument.name] = random_.choice(argument.choices)
        elif argument.kind == "list":
            inputs[argument.name] = sorted(_number(argument, random_) for _ in range(length))
        else:
            inputs[argument.name] = _number(argument, random_)
    return inputs


def _number(argument: fc.ArgumentInfo, random_: random.Random) -> float:
    low, high = max(argument.low, -1e6), min(argument.high, 1e6)
    if random_.random() < 0.1:
        return float(round(random_.uniform(low, min(high, low + 20))))  # whole numbers, for what is counted
    if low > 0 and high > 100 * low:
        return math.exp(random_.uniform(math.log(low), math.log(high)))
    return random_.uniform(low, high)


@functools.cache
def row_inputs() -> dict[str, list[dict[str, Any]]]:
    """Inputs of the carried check rows by method."""
    found: dict[str, list[dict[str, Any]]] = {name: [] for name in NAMES}
    for row in selfcheck.carried_rows():
        if row["quantity"] in found:
            arguments = {argument.name: argument for argument in fc.method_info(row["quantity"]).arguments}
            found[row["quantity"]].append({name: selfcheck.value_of(text, arguments.get(name))
                                           for name, text in row.inputs().items()})
    return found


@functools.cache
def good_inputs(name: str) -> dict[str, Any] | None:
    """Inputs that the method takes; None where none was found."""
    info, method, random_ = fc.method_info(name), getattr(fc.methods, name), random.Random(name)
    candidates = list(row_inputs()[name])
    candidates += [draw(info, random_) for _ in range(2000 if not candidates else 200)]
    for inputs in candidates:
        if not math.isnan(method(**inputs, on_refused="nan") if _spelled(info, inputs) else math.nan):
            return inputs
    return None


def _spelled(info: fc.MethodInfo, inputs: dict[str, Any]) -> bool:
    """Are the choices among the words of the method, and all required arguments there?"""
    return all(inputs.get(argument.name) in argument.choices if argument.choices and argument.name in inputs
               else argument.optional or argument.name in inputs for argument in info.arguments)
