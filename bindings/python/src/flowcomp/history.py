# SPDX-License-Identifier: Apache-2.0
"""From readings of one meter in the order of the file to windows: begin, end, pulses, neighbours, and what is wrong.

Rules, each with its word in REASONS or MARKS:
- Times must rise from row to row. An equal time is a duplicate, an earlier one out of order; so is a row that runs
  ahead of the next row while that one still follows the rows before. Such rows are refused, their pulses with them.
- A local time in a repeated hour means the first of its two instants, unless the row before is already there: then the
  second. A local time in a skipped hour does not exist and is refused.
- A window of pulses is duration_s, or the interval, long. A window of a counter reaches from the last good state to
  this one. A window that begins more than the slack before the last one ended is refused. The slack is 1 s or 1 % of
  the interval, whichever is more, but at most half the interval; beyond it, a late beginning is a gap.
- The frequency before and after is that of the next row in the file on either side, where it is good and adjoins within
  the slack. One row of look-ahead is enough for both this and the order of times.

So the outcome for a row depends on its neighbours in the history alone, not on how the history is cut into blocks or
files. Instants are microseconds since 1970 (int64), durations seconds.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from .counter import ASK_MODULUS, CounterRule, is_state, steps
from .input_error import InputError
from .readings import TIME_MISSING, TIME_SKIPPED, Columns

Array = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]

SECOND = 1_000_000

# Why a row was refused before it came to the library. Numbers stand above those of flc_status.
REASONS = {
    201: ("no_time", "the row has no time"),
    202: ("skipped_hour", "a local time that does not exist: the clock was put forward over it"),
    203: ("duplicate_time", "the time of the row before once more"),
    204: ("out_of_order", "a time before that of earlier rows, or ahead of later ones"),
    205: ("overlap", "the window begins before the last one ended"),
    206: ("before_first_batch", "no batch had begun yet"),
    207: ("counter_start", "first state of the counter: nothing to count from"),
    208: ("counter_missing", "no state of the counter; its pulses are in the next window"),
    209: ("counter_unclear", "the counter fell by neither a roll-over nor a reset"),
    210: ("counter_jump", "the counter rose faster than any flow"),
    211: ("bad_counter", "no whole number below the modulus of the counter"),
    212: ("no_month", "outside the years of the calendar"),
}
REASON_OF = {word: number for number, (word, _) in REASONS.items()}

# What else is to be known about a window, as bits.
MARKS = {
    1: ("counter_rollover", "the counter rolled over"),
    2: ("counter_reset", "the counter was reset: the pulses since are counted, those before it are lost"),
    4: ("spans_gap", "the window is longer than the interval: rows are missing, the counter went on"),
    8: ("crosses_month", "the window ends in the next contract month"),
    16: ("crosses_batch", "another batch began within the window"),
}
MARK_OF = {word: bit for bit, (word, _) in MARKS.items()}


@dataclass(frozen=True)
class WindowRule:
    """How rows become windows.

    :param interval_s: length of a window, s; None where every row has its duration_s
    :param stamp_at_end: whether the time of a row is the end of its window, or its beginning
    :param counter: None where rows hold the pulses of their window
    """

    interval_s: float | None
    stamp_at_end: bool
    counter: CounterRule | None

    def slack_us(self, duration_s: Array) -> Array:
        """How far windows may stand apart or overlap and still adjoin, microseconds."""
        base = np.nan_to_num(duration_s if self.interval_s is None else np.full_like(duration_s, self.interval_s))
        return np.minimum(np.maximum(1.0, 0.01 * base), 0.5 * base) * SECOND


def join(first: Columns | None, second: Columns) -> Columns:
    """Rows of both."""
    return second if first is None else {name: np.concatenate([first[name], values])
                                         for name, values in second.items()}


def rows_of(columns: Columns, part: slice | npt.NDArray[np.generic]) -> Columns:
    return {name: values[part] for name, values in columns.items()}


def last_of(columns: Columns) -> Columns:
    """The last row, without holding the memory of the others."""
    return {name: values[-1:].copy() for name, values in columns.items()}


def count(columns: Columns) -> int:
    return len(columns["line"])


class MeterHistory:
    """State of one meter between blocks. Feed blocks in order, then finish; both give windows that are complete."""

    def __init__(self, rule: WindowRule, place_of: Callable[[Columns, int], dict[str, Any]]) -> None:
        self.rule = rule
        self.place_of = place_of  # file and line of a row, for messages
        self.last_instant: int | None = None  # of the row before, good or not
        self.latest: int | None = None  # of the last row in order
        self.last_end: int | None = None  # of the last window
        self.last_state: float | None = None
        self.last_frequency = (np.nan, 0)  # of the row before and the end of its window
        self.raw: Columns | None = None  # rows whose next row is not known yet: at most one
        self.windows: Columns | None = None  # windows whose next is not known yet: at most one

    def feed(self, columns: Columns) -> Columns | None:
        """Windows that the block completes, or None."""
        self.resolve(columns)
        rows = join(self.raw, columns)
        self.raw = last_of(rows)
        return self.next_windows(rows, count(rows) - 1)

    def finish(self) -> Columns | None:
        """The windows still held back."""
        found = None
        if self.raw is not None:
            found = self.next_windows(self.raw, 1)
            self.raw = None
        if self.windows is not None:
            last = self.with_neighbours(self.windows, count(self.windows))
            self.windows = None
            found = last if found is None else join(found, last)
        return found

    def next_windows(self, rows: Columns, ready: int) -> Columns | None:
        """Windows of the first rows, of which the last one is held back for its neighbour."""
        if ready == 0:
            return None
        reason = self.judge_order(rows, ready)
        windows = join(self.windows, self.make_windows(rows_of(rows, slice(0, ready)), reason))
        self.windows = last_of(windows)
        done = count(windows) - 1
        return self.with_neighbours(windows, done) if done else None

    # --- times ---

    def resolve(self, columns: Columns) -> None:
        """Choose an instant for each row; repeated hours by the row before."""
        early, late, state = columns["earliest"], columns["latest"], columns["time_state"]
        instant = early.copy()
        known = np.flatnonzero(state != TIME_MISSING)
        for place in np.flatnonzero(early != late):
            nearest = int(np.searchsorted(known, place)) - 1
            before = self.last_instant if nearest < 0 else int(instant[known[nearest]])
            if before is not None and early[place] <= before <= late[place]:
                instant[place] = late[place]
        columns["instant"] = instant
        if len(known):
            self.last_instant = int(instant[known[-1]])

    def judge_order(self, rows: Columns, ready: int) -> npt.NDArray[np.uint8]:
        """Reason against each of the first rows because of its time, 0 for none."""
        state, instant = rows["time_state"], rows["instant"]
        reason = np.zeros(ready, dtype=np.uint8)
        reason[state[:ready] == TIME_MISSING] = REASON_OF["no_time"]
        reason[state[:ready] == TIME_SKIPPED] = REASON_OF["skipped_hour"]
        usable = state == 0
        run = instant[usable]
        start = [] if self.latest is None else [self.latest]
        if np.all(np.diff(np.concatenate([np.array(start, dtype=np.int64), run])) > 0):
            inside = instant[:ready][usable[:ready]]
            if len(inside):
                self.latest = int(inside[-1])
            return reason
        for place in np.flatnonzero(usable[:ready]):
            following = int(instant[place + 1]) if place + 1 < len(instant) and usable[place + 1] else None
            reason[place] = self.judge_time(int(instant[place]), following)
        return reason

    def judge_time(self, time: int, following: int | None) -> int:
        if self.latest is not None and time == self.latest:
            return REASON_OF["duplicate_time"]
        if self.latest is not None and time < self.latest:
            return REASON_OF["out_of_order"]
        if following is not None and following < time and (self.latest is None or following > self.latest):
            return REASON_OF["out_of_order"]
        self.latest = time
        return 0

    # --- windows ---

    def make_windows(self, rows: Columns, reason: npt.NDArray[np.uint8]) -> Columns:
        """Begin, end, duration, pulses, marks and gap of each row."""
        length = rows["duration_s"] if self.rule.counter is None else np.full(count(rows), np.nan)
        if self.rule.interval_s is not None:
            length = np.where(np.isnan(length), self.rule.interval_s, length)
        # A length that the library will refuse must not spoil the place of the window.
        placed = np.where(np.isfinite(length) & (length > 0) & (length < 1e9), length, self.rule.interval_s or 0.0)
        size = np.rint(placed * SECOND).astype(np.int64)
        end = rows["instant"] + (0 if self.rule.stamp_at_end else size)
        windows = rows | {"reason": reason, "begin": end - size, "end": end, "duration_s": length.copy(),
                          "marks": np.zeros(count(rows), dtype=np.uint8), "gap_s": np.zeros(count(rows)),
                          "state_before": np.full(count(rows), np.nan)}
        good = np.flatnonzero(reason == 0)
        if len(good):
            if self.rule.counter is None:
                self.pulse_windows(windows, good)
            else:
                self.counter_windows(windows, good, self.rule.counter)
        return windows

    def pulse_windows(self, windows: Columns, good: npt.NDArray[np.intp]) -> None:
        """Gaps and overlaps of windows that carry their own pulses."""
        begin, end = windows["begin"][good], windows["end"][good]
        slack = self.rule.slack_us(windows["duration_s"][good]).astype(np.int64)
        last = begin[0] if self.last_end is None else self.last_end
        before = np.concatenate([[last], end[:-1]])
        if np.any(begin < before - slack):
            self.refuse_overlaps(windows, good, slack)
            return
        gap = begin - before
        windows["gap_s"][good] = np.where(gap > slack, gap / SECOND, 0.0)
        self.last_end = int(end[-1])

    def refuse_overlaps(self, windows: Columns, good: npt.NDArray[np.intp], slack: npt.NDArray[np.int64]) -> None:
        """The same one by one: a refused window does not count as the one before."""
        for place, allowed in zip(good, slack, strict=True):
            begin = int(windows["begin"][place])
            if self.last_end is not None and begin < self.last_end - allowed:
                windows["reason"][place] = REASON_OF["overlap"]
                continue
            if self.last_end is not None and begin - self.last_end > allowed:
                windows["gap_s"][place] = (begin - self.last_end) / SECOND
            self.last_end = int(windows["end"][place])

    def counter_windows(self, windows: Columns, good: npt.NDArray[np.intp], rule: CounterRule) -> None:
        """Pulses and windows between good states of the counter."""
        counter = windows["counter"]
        windows["pulses"] = np.zeros(len(counter))  # a refused row counts none: the next window has its pulses
        usable = is_state(counter[good], rule)
        missing = np.isnan(counter[good])
        windows["reason"][good[missing]] = REASON_OF["counter_missing"]
        windows["reason"][good[~usable & ~missing]] = REASON_OF["bad_counter"]
        good = good[usable]
        if not len(good):
            return
        if self.last_state is None:
            windows["reason"][good[0]] = REASON_OF["counter_start"]
            self.last_state, self.last_end = float(counter[good[0]]), int(windows["end"][good[0]])
            good = good[1:]
        if len(good):
            self.count_steps(windows, good, rule)

    def count_steps(self, windows: Columns, good: npt.NDArray[np.intp], rule: CounterRule) -> None:
        end, after = windows["end"][good], windows["counter"][good]
        begin = np.concatenate([[self.last_end], end[:-1]])
        before = np.concatenate([[self.last_state], after[:-1]])
        seconds = (end - begin) / SECOND
        if rule.modulus is None and np.any(after < before):
            first = int(np.argmax(after < before))
            raise InputError(f"the counter falls from {before[first]:.0f} to {after[first]:.0f}; {ASK_MODULUS}",
                             **self.place_of(windows, int(good[first])))
        step = steps(before, after, seconds, rule)
        nominal = self.rule.interval_s or 0.0
        late = seconds - nominal > self.rule.slack_us(seconds) / SECOND
        windows["begin"][good], windows["duration_s"][good] = begin, seconds
        windows["pulses"][good], windows["state_before"][good] = step.pulses, before
        windows["gap_s"][good] = np.where(late, seconds - nominal, 0.0)
        windows["reason"][good[step.unclear]] = REASON_OF["counter_unclear"]
        windows["reason"][good[step.jump]] = REASON_OF["counter_jump"]
        for word, where in (("counter_rollover", step.rollover), ("counter_reset", step.reset), ("spans_gap", late)):
            windows["marks"][good[where]] |= MARK_OF[word]
        for name in ("flowing_s", "f_flowing_hz"):  # what the row says of its own interval is not of the longer window
            windows[name][good[late]] = np.nan
        self.last_state, self.last_end = float(after[-1]), int(end[-1])

    # --- neighbours ---

    def with_neighbours(self, windows: Columns, done: int) -> Columns:
        """The first windows with the mean frequency of the rows before and after, NaN where unknown."""
        with np.errstate(invalid="ignore", divide="ignore"):
            mean = np.abs(windows["pulses"]) / windows["duration_s"]
        mean = np.where((windows["reason"] == 0) & np.isfinite(mean), mean, np.nan)
        slack = self.rule.slack_us(windows["duration_s"])
        mean_before = np.concatenate([[self.last_frequency[0]], mean[:-1]])
        end_before = np.concatenate([[self.last_frequency[1]], windows["end"][:-1]])
        before = np.where(np.abs(windows["begin"] - end_before) <= slack, mean_before, np.nan)
        mean_after = np.append(mean[1:], np.nan)
        begin_after = np.append(windows["begin"][1:], windows["end"][-1:])
        after = np.where(np.abs(begin_after - windows["end"]) <= slack, mean_after, np.nan)
        self.last_frequency = (float(mean[done - 1]), int(windows["end"][done - 1]))
        found = rows_of(windows, slice(0, done))
        return found | {"f_before_hz": before[:done], "f_after_hz": after[:done]}
