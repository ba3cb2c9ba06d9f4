# SPDX-License-Identifier: Apache-2.0
"""What is summed for a meter: totals by contract month, booked against restated, K by day, counts of what was found.

Every sum is one of whole numbers (accumulation units of 1 µL, pulses, rows), so that blocks and files may be cut
anywhere without changing a digit.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from ._words import FLAG_BITS, FLAGS
from .history import MARK_OF, MARKS
from .readings import Columns

if TYPE_CHECKING:
    from .totals import Totals

UNIT_M3 = 1e-9
UNITS_PER_M3 = 10**9
DAY_US = 86_400_000_000
UNITS_MAX = 2.0**62

Array = npt.NDArray[np.float64]


def to_units(volume_m3: Array) -> npt.NDArray[np.int64]:
    """Volumes in whole accumulation units, half away from zero, as the totals of the library do; NaN is 0."""
    scaled = np.abs(np.nan_to_num(volume_m3, nan=0.0, posinf=0.0, neginf=0.0)) / UNIT_M3
    scaled = np.where(scaled < UNITS_MAX, scaled, 0.0)
    whole = np.trunc(scaled)
    whole += scaled - whole >= 0.5
    return np.where(volume_m3 < 0, -whole, whole).astype(np.int64)


def total(units: npt.NDArray[np.int64]) -> int:
    """Exact sum."""
    return int(units.astype(object).sum()) if len(units) and np.abs(units).max() > 2**40 else int(units.sum())


def units_text(units: int) -> str:
    """Units as m3, all nine decimals, exactly."""
    sign = "-" if units < 0 else ""
    return f"{sign}{abs(units) // UNITS_PER_M3}.{abs(units) % UNITS_PER_M3:09d}"


@dataclass
class MonthTotals:
    """Sums of one contract month. Volumes in accumulation units.

    booked is over all rows; the compared pair over rows that were booked and restated over the same window.
    bound is the sum of |volume| times the bound on partial flow, viscosity that of |volume| times its u (k=1).
    """

    totals: Totals
    rows: int = 0
    rows_without: int = 0  # refused, or below the curve
    booked: int = 0
    booked_rows: int = 0
    compared_rows: int = 0
    compared_booked: int = 0
    compared_restated: int = 0
    partial_rows: int = 0
    bound: int = 0
    viscosity: int = 0

    def add(self, columns: Columns, part: slice, against: str) -> None:
        """Rows of an evaluated block. against is v_m3 or v_base_m3."""
        booked, restated = columns["booked_m3"][part], columns[against][part]
        marks = columns["marks"][part] & (MARK_OF["spans_gap"] | MARK_OF["counter_reset"])
        compared = (columns["status"][part] == 0) & (marks == 0) & np.isfinite(booked) & np.isfinite(restated)
        gross = np.abs(columns["v_m3"][part])
        self.rows += len(booked)
        self.rows_without += int(np.count_nonzero(columns["status"][part]))
        self.booked += total(to_units(booked))
        self.booked_rows += int(np.count_nonzero(np.isfinite(booked)))
        self.compared_rows += int(np.count_nonzero(compared))
        self.compared_booked += total(to_units(booked[compared]))
        self.compared_restated += total(to_units(restated[compared]))
        bound = columns["k_bound"][part]
        self.partial_rows += int(np.count_nonzero(bound > 0))
        self.bound += total(to_units(gross * bound))
        self.viscosity += total(to_units(gross * columns["u_v_nu"][part]))

    @property
    def gross(self) -> int:
        """Forward less reverse."""
        return self.totals.gross_forward - self.totals.gross_reverse

    @property
    def base(self) -> int:
        return self.totals.base_forward - self.totals.base_reverse

    @property
    def has_base(self) -> bool:
        """Whether any row had a volume correction."""
        return bool(self.totals.base_forward or self.totals.base_reverse) or not self.lacks_base

    @property
    def lacks_base(self) -> bool:
        """Whether any row had none."""
        return bool(self.totals.flags & FLAG_BITS["no_volume_correction"])

    def difference_pct(self) -> float:
        """Restated over booked less one, per cent, over the compared rows; NaN where there are none."""
        if self.compared_booked == 0:
            return float("nan")
        return 100 * (self.compared_restated - self.compared_booked) / self.compared_booked

    def of_gross_pct(self, units: int) -> float:
        """A sum as a part of the gross volume moved, per cent."""
        moved = self.totals.gross_forward + self.totals.gross_reverse
        return 100 * units / moved if moved else float("nan")


@dataclass
class Day:
    """Pulses and volume (units) moved on one day; the same of the booked, where compared."""

    pulses: int = 0
    units: int = 0
    booked_pulses: int = 0
    booked_units: int = 0


@dataclass
class Findings:
    """Counts over all rows of a meter, and its days."""

    statuses: Counter[int] = field(default_factory=Counter)
    flags: Counter[str] = field(default_factory=Counter)
    gaps: int = 0
    missing_s: int = 0  # whole seconds
    days: dict[int, Day] = field(default_factory=dict)
    unused: Counter[str] = field(default_factory=Counter)  # rows with a value that their liquid has of its own, by column
    first: dict[int, tuple[dict[str, Any], str]] = field(default_factory=dict)  # place, detail by status

    def add(self, columns: Columns) -> None:
        """One evaluated block."""
        statuses = np.bincount(columns["status"], minlength=256)
        self.statuses.update({int(status): int(statuses[status]) for status in np.flatnonzero(statuses)})
        for bits, words in ((columns["flags"], FLAGS), (columns["marks"], MARKS)):
            for bit, (word, _) in words.items():
                found = int(np.count_nonzero(bits & bit))
                if found:
                    self.flags[word] += found
        gap = columns["gap_s"]
        self.gaps += int(np.count_nonzero(gap > 0))
        self.missing_s += int(np.rint(gap[gap > 0]).sum())
        self.add_days(columns)

    def add_days(self, columns: Columns) -> None:
        flowing = np.flatnonzero((columns["status"] == 0) & (columns["k_per_m3"] > 0) & (columns["v_m3"] != 0))
        day_of = columns["begin"][flowing] // DAY_US
        for rows in np.split(flowing, np.flatnonzero(np.diff(day_of)) + 1):
            if not len(rows):
                continue
            day = self.days.setdefault(int(columns["begin"][rows[0]]) // DAY_US, Day())
            day.pulses += int(np.abs(columns["pulses"][rows]).sum())
            day.units += total(np.abs(to_units(columns["v_m3"][rows])))
            marks = columns["marks"][rows] & (MARK_OF["spans_gap"] | MARK_OF["counter_reset"])
            booked = columns["booked_m3"][rows]
            compared = (marks == 0) & np.isfinite(booked)
            day.booked_pulses += int(np.abs(columns["pulses"][rows][compared]).sum())
            day.booked_units += total(np.abs(to_units(booked[compared])))
