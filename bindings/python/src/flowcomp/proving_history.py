# SPDX-License-Identifier: Apache-2.0
"""The provings of a meter over time: a row for each, and what their charts say.

Two quantities are charted: the meter factor, and the temperature of prover less meter. A factor that stands apart while
that difference does too points at a thermometer rather than at the meter.
"""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Sequence
from dataclasses import asdict, dataclass, fields
from datetime import date
from pathlib import Path

from .control_chart import BASELINE, Chart, chart_of
from .input_error import InputError, one_of
from .proving import Proving
from .text_table import Row, read_table

LEAST_SIGMA_MF = 1e-4 / math.sqrt(12)  # a factor is reported to four decimals
LEAST_SIGMA_K = 0.05 / math.sqrt(12)  # a temperature is read to 0.05 K


@dataclass(frozen=True)
class Entry:
    """One proving in the history. Numbers are NaN where they are not known."""

    proving: str
    date: date
    meter: str
    way: str
    accepted: bool
    mf: float
    range_pct: float
    u_mean_pct: float
    k_per_m3: float
    ro: float
    st: float
    q_m3s: float
    t_meter_degc: float
    t_prover_degc: float
    p_meter_kpag: float
    nu_mm2s: float
    rho_base_kgm3: float
    liquid: str

    @property
    def t_difference_k(self) -> float:
        """Prover less meter, K."""
        return self.t_prover_degc - self.t_meter_degc


COLUMNS = tuple(field.name for field in fields(Entry))
NUMBERS = tuple(name for name in COLUMNS if name not in ("proving", "date", "meter", "way", "accepted", "liquid"))


def entry_of(proving: str, day: date, meter: str, liquid: str, outcome: Proving, accepted: bool, nu_mm2s: float,
             rho_base_kgm3: float, ro: float, st: float) -> Entry:
    """The row of a proving that was just worked out; ro and st as proved."""
    mean = outcome.average
    return Entry(proving, day, meter, outcome.way, accepted, outcome.mf, outcome.range_pct, outcome.u_mean_pct,
                 mean.k_per_m3, ro, st, mean.q_m3s, mean.t_meter_degc, mean.t_prover_degc, mean.p_meter_kpag,
                 nu_mm2s, rho_base_kgm3, liquid)


def read_history(path: Path, decimal_comma: bool = False) -> list[Entry]:
    """Earlier provings, in the order of their days.

    :raises InputError: also where a proving stands twice, or the days run backwards
    """
    table = read_table(path, decimal_comma)
    table.require(*COLUMNS)
    found: list[Entry] = []
    for row in table.rows:
        entry = entry_of_row(row)
        if any(entry.proving == earlier.proving for earlier in found):
            raise row.error(f"the proving '{entry.proving}' stands twice", "proving")
        if found and entry.date < found[-1].date:
            raise row.error(f"{entry.date} is before the day of the row above: the clock ran backwards, or rows were "
                            "changed about", "date")
        found.append(entry)
    return found


def entry_of_row(row: Row) -> Entry:
    try:
        day = date.fromisoformat(row.text("date"))
    except ValueError:
        raise row.error(f"'{row.text('date')}' is no day; write 2025-03-12", "date") from None
    one_of(row.text("way"), ("nominal_k", "curve"), "way", file=row.file, line=row.line)
    accepted = one_of(row.text("accepted"), ("yes", "no"), "accepted", file=row.file, line=row.line) == "yes"
    if math.isnan(row.number("mf")):
        raise row.error("the meter factor is missing", "mf")
    return Entry(row.text("proving"), day, row.text("meter"), row.text("way"), accepted,
                 *(row.number(name) for name in NUMBERS), row.text("liquid"))


def history_text(entries: Sequence[Entry]) -> str:
    """The history as CSV; its numbers read back to the same bits."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for entry in entries:
        cells = asdict(entry) | {"accepted": "yes" if entry.accepted else "no"}
        writer.writerow(["" if value != value else repr(value) if isinstance(value, float) else value
                         for value in cells.values()])
    return text.getvalue()


def check_identifiers(entries: Sequence[Entry]) -> None:
    """Refuse a proving that stands in the history and among the new ones, and two ways in one history."""
    seen: dict[str, Entry] = {}
    for entry in entries:
        if entry.proving in seen:
            raise InputError(f"the proving '{entry.proving}' is there twice; each needs an identifier of its own")
        seen[entry.proving] = entry
        if entry.way != entries[0].way:
            raise InputError(f"the proving '{entry.proving}' is by {entry.way}, '{entries[0].proving}' by "
                             f"{entries[0].way}: factors of the two ways are not of one history")
        if entry.meter != entries[0].meter:
            raise InputError(f"the proving '{entry.proving}' is of {entry.meter}, '{entries[0].proving}' of "
                             f"{entries[0].meter}: one history is of one meter")


@dataclass(frozen=True)
class History:
    """Entries in the order of time with the charts over them (None while there are too few)."""

    entries: Sequence[Entry]
    factors: Chart | None
    differences: Chart | None

    def in_force(self, before: int | None = None) -> Entry | None:
        """The last accepted proving, of all or of those before a place."""
        accepted = [entry for entry in self.entries[:before] if entry.accepted]
        return accepted[-1] if accepted else None

    def apart(self) -> list[int]:
        """Places whose factor lies beyond the action limits and whose neighbours do not: single provings."""
        if self.factors is None:
            return []
        beyond = set(self.factors.beyond_action)
        order = self.factors.used
        return [place for number, place in enumerate(order) if place in beyond
                and not (number > 0 and order[number - 1] in beyond)
                and not (number + 1 < len(order) and order[number + 1] in beyond)]

    def thermometer(self, place: int) -> bool:
        """Whether the temperature difference of that proving stands apart as well."""
        return self.differences is not None and place in self.differences.beyond_action


def chart_history(entries: Sequence[Entry], baseline: int = BASELINE) -> History:
    """The charts of a history."""
    used, days = [entry.accepted for entry in entries], [float(entry.date.toordinal()) for entry in entries]
    return History(entries, chart_of([entry.mf for entry in entries], used, days, LEAST_SIGMA_MF, baseline),
                   chart_of([entry.t_difference_k for entry in entries], used, days, LEAST_SIGMA_K, baseline))


def sentences(history: History, mended: dict[int, float] | None = None) -> list[str]:
    """What the charts found, in words; empty where nothing.

    :param mended: factor of a proving with the prover at the usual temperature difference, by its place
    """
    chart, found = history.factors, []
    if chart is None:
        return []
    single = history.apart()
    low, high = chart.limits(3.0)
    for place in single:
        entry = history.entries[place]
        text = (f"{entry.proving} ({entry.date}): the meter factor {entry.mf:.5f} stands apart, outside the action "
                f"limits {low:.5f} to {high:.5f}.")
        if history.thermometer(place) and history.differences:
            text += (f" Its prover was {entry.t_difference_k:+.2f} K from the meter where {history.differences.centre:+.2f} "
                     f"K is usual: look at the prover's thermometer first.")
            if mended and place in mended:
                text += (f" With the usual difference the factor would have been {mended[place]:.5f}, "
                         f"{'inside' if low <= mended[place] <= high else 'still outside'} the limits.")
        found.append(text)
    if chart.drift:
        since, seen = history.entries[chart.drift.since], history.entries[chart.drift.seen_at]
        last = history.entries[chart.used[-1]]
        found.append(f"The meter factor drifts {'up' if chart.drift.upwards else 'down'} since about "
                     f"{since.proving} ({since.date}); the weighted mean left its limits at {seen.proving} ({seen.date}). By "
                     f"{last.proving} it has gone {100 * (last.mf / chart.centre - 1):+.3f} % from the baseline.")
    rest = [place for place in chart.beyond_action if place not in single]
    if rest and not chart.drift:
        names = ", ".join(history.entries[place].proving for place in rest)
        found.append(f"Outside the action limits one after another: {names}.")
    return found
