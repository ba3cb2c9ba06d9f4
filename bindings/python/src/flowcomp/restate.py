# SPDX-License-Identifier: Apache-2.0
"""Restate a history: readings, meter, liquids and batches in, corrected rows and monthly totals out.

    run = Restatement(settings, history, {"DN80-A": meter}, batches, liquids)
    run.run(files)
    run.meters["DN80-A"].months

Everything flows in blocks of bounded size. A row's outcome depends on its neighbours in the history alone, and every
sum is one of whole numbers: any cutting into blocks or files gives the same rows and the same totals.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import tzinfo
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt
import pyarrow as pa

from .batch_table import Batch, BatchList
from .calendar import ContractMonths
from .counter import CounterRule
from .errors import FlowcompError
from .history import MARK_OF, REASON_OF, MeterHistory, WindowRule
from .input_error import InputError
from .month_totals import UNIT_M3, Findings, MonthTotals
from .readings import Columns, History, stream
from .rows_file import MeterFiles
from .steadiness import neighbours
from .table_stream import BLOCK_BYTES
from .totals import Totals

if TYPE_CHECKING:
    from .liquid import Liquid
    from .meter import Meter

Array = npt.NDArray[np.float64]

UNDATED = -1  # key of the totals of rows that have no place in the calendar
FASTEST_M_PER_S = 20.0  # mean velocity in the bore that no liquid turbine meter is run at (common practice, no source)
OUTPUTS = ("f_hz", "nu_mm2s", "ro", "k_per_m3", "v_m3", "rho_base_kgm3", "ctl", "cpl", "v_base_m3", "u_v_nu", "k_bound")
RENAMED = {"nu_mm2s": "nu_mm2s_used", "rho_base_kgm3": "rho_base_kgm3_used"}
INPUTS = ("pulses", "flowing_s", "f_flowing_hz", "t_degc", "p_kpag", "rho_observed_kgm3", "t_observed_degc",
          "p_observed_kpag", "densitometer_factor")
DETAILED = 1000  # refused rows of a meter for which the events say what the library said


@dataclass(frozen=True)
class Settings:
    """How readings are understood. modulus as in CounterRule; f_limit_hz None: from the meter's bore; highest_hz as in
    steadiness.py."""

    zone: tzinfo
    months: ContractMonths
    interval_s: float | None
    stamp_at_end: bool
    booked: str = "gross"
    modulus: float | None = None
    f_limit_hz: float | None = None
    highest_hz: float | None = None
    cycling: bool = False

    @property
    def against(self) -> str:
        """The restated volume that the booked one is held against."""
        return "v_base_m3" if self.booked == "base" else "v_m3"


def fastest_hz(meter: Meter) -> float:
    """Frequency at FASTEST_M_PER_S in the bore: f = St V/D with the largest St of the curve."""
    return float(meter.curve.st.max()) * FASTEST_M_PER_S / meter.body.bore_m


@dataclass
class CounterTally:
    """First and last state of a counter, and what its steps should add up to."""

    first: float | None = None
    last: float | None = None
    expected: int = 0

    def add(self, columns: Columns, modulus: float) -> None:
        """Steps of one block: last less first, a modulus for each roll-over, and from 0 after each reset."""
        states = columns["counter"]
        counted = np.flatnonzero(~np.isnan(columns["state_before"]))
        start = np.flatnonzero(columns["status"] == REASON_OF["counter_start"])
        if self.first is None and len(start):
            self.first = self.last = float(states[start[0]])
        if not len(counted):
            return
        before, marks = columns["state_before"][counted], columns["marks"][counted]
        reset = (marks & MARK_OF["counter_reset"]) != 0
        unclear = columns["status"][counted] == REASON_OF["counter_unclear"]
        last = float(states[counted[-1]])
        self.expected += int(last) - int(self.last or 0)
        self.expected += int(modulus) * int(np.count_nonzero(marks & MARK_OF["counter_rollover"]))
        self.expected += int(before[reset].sum()) + int((before - states[counted])[unclear].sum())
        self.last = last


@dataclass
class MeterRun:
    """One meter under way."""

    meter: Meter
    batches: BatchList
    history: MeterHistory
    files: MeterFiles | None = None
    months: dict[int, MonthTotals] = field(default_factory=dict)
    findings: Findings = field(default_factory=Findings)
    tally: CounterTally = field(default_factory=CounterTally)
    rows_read: int = 0
    pulses_read: int = 0  # by magnitude, before any rule
    liquids_used: dict[str, int] = field(default_factory=dict)
    detailed: int = 0

    def closed(self) -> Totals:
        """All months together."""
        everything = Totals(UNIT_M3)
        for month in self.months.values():
            everything.merge(month.totals)
        return everything


def whole_pulses(pulses: Array) -> int:
    """Sum of the sizes of all that are whole numbers, exactly."""
    with np.errstate(invalid="ignore"):
        size = np.abs(pulses)
        good = size[(size <= 2.0**53) & (np.floor(size) == size)]
    return int(good.astype(np.int64).astype(object).sum()) if len(good) and good.max() > 2.0**40 else int(good.sum())


class Restatement:
    """A restatement of one or more meters."""

    def __init__(self, settings: Settings, history: History, meters: dict[str, Meter], batches: dict[str, BatchList],
                 liquids: dict[str, Liquid]) -> None:
        self.settings, self.history, self.liquids = settings, history, liquids
        self.liquid_names = list(liquids)
        self.meters = {name: self.begin(meter, batches[name]) for name, meter in meters.items()}

    def begin(self, meter: Meter, batches: BatchList) -> MeterRun:
        return MeterRun(meter, batches, MeterHistory(WindowRule(self.settings.interval_s, self.settings.stamp_at_end,
                                                                None), self.place_of))

    def place_of(self, columns: Columns, place: int) -> dict[str, Any]:
        """File and line (of a Parquet file: row) of a reading, as InputError takes them."""
        file = self.history.files[int(columns["file"][place])]
        kind = "row" if file in self.history.rows_not_lines else "line"
        return {"file": file, kind: int(columns["line"][place])}

    def run(self, files: dict[str, MeterFiles] | None = None, block_bytes: int = BLOCK_BYTES,
            at_block: Callable[[], None] = lambda: None) -> None:
        """Read everything, evaluate, sum and write.

        :param files: where the rows of each meter go; None: nowhere
        :param at_block: called after each block, for a progress display
        """
        for name, run in self.meters.items():
            run.files = (files or {}).get(name)
        for name, columns in stream(self.history, list(self.meters), block_bytes):
            run = self.meters[name]
            self.settle_rule(run)
            run.rows_read += len(columns["line"])
            if not self.history.by_counter:
                run.pulses_read += whole_pulses(columns["pulses"])
            self.take(run, run.history.feed(columns))
            at_block()
        for name, run in self.meters.items():
            self.take(run, run.history.finish())
            if not run.rows_read:
                others = ", ".join(tag or "(empty)" for tag in self.history.other_meters) or "none"
                raise InputError(f"no reading of the meter {name}; other tags in the readings: {others}")

    def settle_rule(self, run: MeterRun) -> None:
        """The first file says whether there is a counter."""
        if self.history.by_counter and run.history.rule.counter is None:
            limit = self.settings.f_limit_hz or fastest_hz(run.meter)
            run.history.rule = WindowRule(self.settings.interval_s, self.settings.stamp_at_end,
                                          CounterRule(self.settings.modulus, limit))

    def take(self, run: MeterRun, windows: Columns | None) -> None:
        """Evaluate, sum and write complete windows."""
        if windows is None:
            return
        columns, liquid = self.evaluate(run, windows)
        for month, part in runs_of(columns["month"]):
            self.month(run, month).add(columns, part, self.settings.against)
        run.findings.add(columns)
        run.tally.add(columns, self.settings.modulus or 0)
        if run.files:
            run.files.write(columns, liquid, self.details(run, columns))

    def month(self, run: MeterRun, number: int) -> MonthTotals:
        if number not in run.months:
            run.months[number] = MonthTotals(Totals(UNIT_M3))
        return run.months[number]

    def evaluate(self, run: MeterRun, windows: Columns) -> tuple[Columns, pa.Array]:
        """Windows with month, batch, status and results; and the liquid of each row."""
        month = self.settings.months.place(windows["begin"])
        batch = run.batches.place(windows["begin"])
        reason = windows["reason"]
        reason[(reason == 0) & (month < 0)] = REASON_OF["no_month"]
        reason[(reason == 0) & (batch < 0)] = REASON_OF["before_first_batch"]
        for word, place in (("crosses_month", self.settings.months.place), ("crosses_batch", run.batches.place)):
            ends = place(windows["end"] - 1) != (month if word == "crosses_month" else batch)
            windows["marks"][ends & (reason == 0)] |= MARK_OF[word]
        rows = len(reason)
        columns = windows | {"month": month, "status": np.zeros(rows, dtype=np.uint8),
                             "flags": np.zeros(rows, dtype=np.uint32)}
        columns |= {RENAMED.get(name, name): np.full(rows, np.nan) for name in OUTPUTS}
        for _, part in runs_of(month * (len(run.batches.batches) + 1) + batch):
            self.evaluate_part(run, columns, part, int(month[part.start]), int(batch[part.start]))
        columns["status"] = np.where(reason > 0, reason, columns["status"])
        return columns, self.liquid_column(run, batch)

    def evaluate_part(self, run: MeterRun, columns: Columns, part: slice, month: int, batch: int) -> None:
        """Rows of one month and one batch, through the library and into the month's totals.

        A row refused before it came here goes without the length of its window, so that the library refuses it too and
        its totals keep the pulses.
        """
        entry = run.batches.batches[max(batch, 0)]
        liquid = self.liquids[entry.liquid]
        given = self.given(columns, part, entry, liquid)
        found = run.meter.evaluate(liquid, **given, on_refused="nan", outputs=OUTPUTS,
                                   totals=self.month(run, month).totals)
        columns["status"][part], columns["flags"][part] = found.status, found.flags
        for name in OUTPUTS:
            columns[RENAMED.get(name, name)][part] = getattr(found, name)
        refused = columns["reason"][part] > 0
        run.liquids_used[entry.liquid] = run.liquids_used.get(entry.liquid, 0) + int(np.count_nonzero(~refused))
        for column in UNUSED_WHERE:
            if UNUSED_WHERE[column](liquid):
                run.findings.unused[column] += int(np.count_nonzero(~np.isnan(columns[column][part])))

    def given(self, columns: Columns, part: slice, entry: Batch, liquid: Liquid) -> dict[str, Array]:
        """A reading of the library for each row; density and viscosity from the batch where the row has none."""
        rows = {name: values[part] for name, values in columns.items()}
        given = {name: rows[name] for name in INPUTS}
        given["duration_s"] = np.where(rows["reason"] > 0, np.nan, rows["duration_s"])
        given["f_before_hz"], given["f_after_hz"] = neighbours(rows, self.settings.cycling)
        given["f_highest_hz"] = np.full(len(rows["reason"]), self.settings.highest_hz or np.nan)
        none = np.isnan(rows["rho_base_kgm3"]) & np.isnan(rows["rho_observed_kgm3"])
        given["rho_base_kgm3"] = np.where(none, entry.rho_base_kgm3, rows["rho_base_kgm3"])
        given["nu_mm2s"] = np.where(np.isnan(rows["nu_mm2s"]), entry.nu_mm2s, rows["nu_mm2s"])
        given["pe_kpa"] = rows["pe_kpa"]
        return {name: values for name, values in given.items()
                if name not in UNUSED_WHERE or not UNUSED_WHERE[name](liquid)}

    def details(self, run: MeterRun, columns: Columns) -> dict[int, str]:
        """What the library says of the first rows that it refused, by their place in the block."""
        found: dict[int, str] = {}
        refused = np.flatnonzero((columns["status"] > 0) & (columns["reason"] == 0))
        batch = run.batches.place(columns["begin"])
        for place in refused[: max(0, DETAILED - run.detailed)]:
            entry = run.batches.batches[max(int(batch[place]), 0)]
            given = self.given(columns, slice(place, place + 1), entry, self.liquids[entry.liquid])
            reading: dict[str, Any] = {name: float(values[0]) for name, values in given.items()}
            try:
                run.meter.evaluate(self.liquids[entry.liquid], **reading)
            except FlowcompError as error:
                found[int(place)] = str(error)
                first = (self.place_of(columns, int(place)), str(error))
                run.findings.first.setdefault(int(columns["status"][place]), first)
        run.detailed += len(found)
        return found

    def liquid_column(self, run: MeterRun, batch: npt.NDArray[np.intp]) -> pa.Array:
        names = pa.array([entry.liquid for entry in run.batches.batches], pa.string())
        return names.take(pa.array(np.maximum(batch, 0), mask=batch < 0))


# What a site may log for every liquid though some have their own: those rows go without it, and are counted.
UNUSED_WHERE: dict[str, Callable[[Liquid], bool]] = {
    "nu_mm2s": lambda liquid: liquid.viscosity_source != "measured",
    "rho_base_kgm3": lambda liquid: liquid.has_own_density,
    "rho_observed_kgm3": lambda liquid: liquid.has_own_density,
    "pe_kpa": lambda liquid: liquid.details.get("vapour") != "measured",
}


def runs_of(values: npt.NDArray[np.generic]) -> list[tuple[int, slice]]:
    """Stretches of equal values, each with its value."""
    edges = np.concatenate([[0], np.flatnonzero(np.diff(values)) + 1, [len(values)]])
    return [(int(values[start]), slice(int(start), int(stop))) for start, stop in zip(edges, edges[1:], strict=False)]


def bound_pct(month: MonthTotals) -> float:
    """How far the month's gross volume may be off from partial flow and viscosity (k=2), per cent."""
    return month.of_gross_pct(month.bound) + 2 * month.of_gross_pct(month.viscosity)

