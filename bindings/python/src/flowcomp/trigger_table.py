# SPDX-License-Identifier: Apache-2.0
"""The triggers that may end the life of a meter factor, as a table of a report."""

from __future__ import annotations

import math
from collections.abc import Mapping

from .meter_factor import VOID_TRIGGERS
from .report_document import Grid, number

UNITS = {"temperature": "°C", "flow": "m³/s", "viscosity": "mm²/s", "density": "kg/m³", "volume": "m³"}
CHANGES = {"temperature": "K", "density": "kg/m³", "days": "d", "volume": "m³"}
RELATIVE = ("flow", "viscosity", "roshko")
WORDS = {"roshko": "Roshko number", "factor_last": "factor, last", "factor_first": "factor, first"}


def trigger_grid(then: Mapping[str, float], now: Mapping[str, float], limits: Mapping[str, float],
                 states: Mapping[str, str]) -> Grid:
    """A row for each trigger that has a limit; those exceeded are marked."""
    chosen = [word for word in VOID_TRIGGERS if word in limits]
    rows = []
    for word in chosen:
        unit = f", {UNITS[word]}" if word in UNITS else ""
        limit = f"{100 * limits[word]:g} %" if word in RELATIVE else f"{limits[word]:g} {CHANGES.get(word, '')}".strip()
        rows.append([WORDS.get(word, word) + unit, number(then.get(word, math.nan), significant=6),
                     number(now.get(word, math.nan), significant=6), limit, states[word]])
    return Grid(("trigger", "proving", "now", "largest change", "state"), rows, (0, 4),
                [place for place, word in enumerate(chosen) if states[word] == "exceeded"])
