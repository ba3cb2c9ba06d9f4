# SPDX-License-Identifier: Apache-2.0
"""The intervals of a ticket from a history of readings: whole windows between opening and closing, nothing guessed.

A row that cannot be used, a reading that is missing and a window that crosses opening or closing are refused, unless a
rule says what to do; what the rule did stands on the ticket, interval by interval.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo
from pathlib import Path
from typing import Any

import numpy as np

from .calendar import local_time, microseconds
from .counter import CounterRule
from .history import REASONS, MeterHistory, WindowRule, join
from .input_error import InputError
from .readings import Columns, ReadingFormat, open_history, stream
from .table_stream import Spelling

T_RANGE, P_RANGE = (-100.0, 200.0), (-101.325, 1e5)  # outside it is no reading but a failed sensor or another unit
SENSORS = {"t_degc": T_RANGE, "p_kpag": P_RANGE}


@dataclass(frozen=True)
class Period:
    """Opening and closing, with their offsets."""

    start: datetime
    end: datetime


@dataclass(frozen=True)
class Rules:
    """How the readings are understood.

    :param substitute: "refuse", or "last": a missing or failed temperature or pressure is the last good one of the
        ticket
    :param bad_rows: "refuse", or "gap": a row that cannot be used is left out, and counted
    """

    zone: tzinfo
    interval_s: float | None
    stamp_at_end: bool
    modulus: float | None
    f_limit_hz: float
    substitute: str
    bad_rows: str
    atmospheric_kpaa: float | None = None
    decimal_comma: bool = False
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class TicketReadings:
    """Intervals as the ticket file takes them, and sentences about what was left out."""

    intervals: list[dict[str, Any]]
    notes: list[str]
    opening_state: float | None  # of a counter
    closing_state: float | None


def intervals_of(files: Sequence[Path], meter: str, period: Period, rules: Rules, measured: bool) -> TicketReadings:
    """The windows of the period.

    :param measured: the liquid's viscosity comes with each reading
    :raises InputError: with file and line
    """
    windows, place_of = windows_of(files, meter, rules)
    start, end = microseconds(period.start), microseconds(period.end)
    inside = (windows["end"] > start) & (windows["begin"] < end)
    if not inside.any():
        raise InputError(f"no reading between {period.start.isoformat()} and {period.end.isoformat()}", file=files[0])
    found, notes = [], []
    last: dict[str, float] = {}
    chosen = np.flatnonzero(inside)
    used = []
    for place in chosen:
        row = {name: values[place] for name, values in windows.items()}
        where = place_of(windows, int(place))
        if reason := int(row["reason"]):
            word, sentence = REASONS[reason]
            if word == "counter_start" or (word == "counter_missing"):
                continue
            if rules.bad_rows == "refuse":
                raise InputError(f"{sentence}; mend the readings, or pass --bad-rows gap to leave such rows out and have "
                                 "it said on the ticket", **where)
            notes.append(f"Left out, {sentence}: {where_text(where)}.")
            continue
        if row["begin"] < start or row["end"] > end:
            raise InputError(f"the window from {local_time(row['begin'], rules.zone).isoformat()} to "
                             f"{local_time(row['end'], rules.zone).isoformat()} crosses opening or closing; let the "
                             "period begin and end with windows", **where)
        found.append(interval_of(row, where, rules, last, measured))
        used.append(place)
    if not found:
        raise InputError("every row of the period is unusable", file=files[0])
    states = windows["counter"][used] if "counter" in windows else np.array([np.nan])
    before = windows["state_before"][used]
    return TicketReadings(found, notes, None if np.isnan(before[0]) else float(before[0]),
                          None if np.isnan(before[0]) else float(states[-1]))


def windows_of(files: Sequence[Path], meter: str, rules: Rules) -> tuple[Columns, Any]:
    """All windows of the meter, in the order of time."""
    history = open_history(list(files), ReadingFormat(rules.zone, Spelling(rules.decimal_comma, rules.missing),
                                                      rules.atmospheric_kpaa))

    def place_of(columns: Columns, place: int) -> dict[str, Any]:
        file = history.files[int(columns["file"][place])]
        return {"file": file, ("row" if file in history.rows_not_lines else "line"): int(columns["line"][place])}

    made = MeterHistory(WindowRule(rules.interval_s, rules.stamp_at_end, None), place_of)
    windows: Columns | None = None
    for _, columns in stream(history, [meter]):
        if history.by_counter and made.rule.counter is None:
            made.rule = WindowRule(rules.interval_s, rules.stamp_at_end, CounterRule(rules.modulus, rules.f_limit_hz))
        if (ready := made.feed(columns)) is not None:
            windows = join(windows, ready)
    if (ready := made.finish()) is not None:
        windows = join(windows, ready)
    if windows is None:
        others = ", ".join(tag or "(empty)" for tag in history.other_meters) or "none"
        raise InputError(f"no reading of the meter {meter}; other tags in the readings: {others}", file=files[0])
    return windows, place_of


def interval_of(row: dict[str, Any], where: dict[str, Any], rules: Rules, last: dict[str, float], measured: bool
                ) -> dict[str, Any]:
    """One window as an interval; what was put in for a reading stands in it."""
    pulses = float(row["pulses"])
    if not np.isfinite(pulses) or pulses % 1 or not np.isfinite(row["duration_s"]):
        raise InputError("pulses (whole) and the length of the window are needed", **where)
    if pulses < 0:
        raise InputError("reverse flow: it has a ticket of its own, and is not netted here", **where)
    interval: dict[str, Any] = {"start": instant(row["begin"]), "end": instant(row["end"]), "pulses": pulses}
    if np.isfinite(row["flowing_s"]):
        interval["flowing_s"] = float(row["flowing_s"])
    substituted = []
    for name, (low, high) in SENSORS.items():
        value = float(row[name])
        if low <= value <= high:
            last[name] = value
        elif pulses == 0:
            value = last.get(name, 0.0)  # nothing flowed: it counts for nothing
        elif rules.substitute == "refuse" or name not in last:
            said = "is missing" if np.isnan(value) else f"is {value:g}: a failed sensor, or another unit"
            raise InputError(f"{name} {said}; mend the reading, or pass --substitute last where an earlier one of the "
                             "ticket may stand in for it", **where)
        else:
            substituted.append(f"{name} {'missing' if np.isnan(value) else f'{value:g} failed'}: last good {last[name]:g}")
            value = last[name]
        interval[name] = value
    if measured:
        interval["nu_mm2s"] = float(row["nu_mm2s"])
    interval["substituted"] = "; ".join(substituted)
    return interval


def instant(microsecond: int) -> datetime:
    return local_time(int(microsecond), UTC)


def where_text(where: dict[str, Any]) -> str:
    return ", ".join(f"{key} {value}" if key != "file" else str(value) for key, value in where.items())
