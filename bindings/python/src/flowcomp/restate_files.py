# SPDX-License-Identifier: Apache-2.0
"""The files of a restatement: names, monthly table, pictures, and the record of how it was made."""

from __future__ import annotations

import csv
import json
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from .cli_support import CAUTIONS
from .history import REASONS
from .input_error import InputError
from .month_totals import MonthTotals, units_text
from .restate import UNDATED, bound_pct
from .rows_file import status_word

if TYPE_CHECKING:
    from .restate import MeterRun, Restatement
    from .safe_output import OutputFiles

PULSES = ("pulses_in", "pulses_forward", "pulses_reverse", "pulses_below", "pulses_cutoff", "pulses_refused")
VOLUMES = ("gross_forward", "gross_reverse", "base_forward", "base_reverse", "mass_forward", "mass_reverse")
HEADER = ("meter", "month", "rows", "rows_without_volume", "refused_rows", "unreadable_rows", *PULSES,
          *(f"{name}_units" for name in VOLUMES), "gross_m3", "base_m3", "mass_t", "booked_m3", "booked_rows",
          "compared_rows", "compared_booked_m3",
          "compared_restated_m3", "difference_pct", "partial_flow_rows", "partial_flow_bound_pct", "viscosity_u_k2_pct")


def file_name(meter: str) -> str:
    """A meter's tag as part of a file name."""
    return re.sub(r"[^\w.-]", "_", meter)


@dataclass(frozen=True)
class Outputs:
    """Where to write each file (the parts of OutputFiles)."""

    rows: dict[str, Path]
    events: dict[str, Path]
    months: Path
    pictures: dict[str, tuple[Path, Path]]
    record: Path

    @classmethod
    def begin(cls, files: OutputFiles, folder: Path, meters: list[str], kind: str) -> Outputs:
        """Name the files; the record comes last, so that it stands only beside complete results."""
        if len({file_name(meter) for meter in meters}) < len(meters):
            raise InputError(f"the tags {', '.join(meters)} give the same file names; restate the meters apart")
        return cls(
            rows={meter: files.part(folder / f"rows_{file_name(meter)}.{kind}") for meter in meters},
            events={meter: files.part(folder / f"events_{file_name(meter)}.csv") for meter in meters},
            months=files.part(folder / "months.csv"),
            pictures={name: (files.part(folder / f"{name}.svg"), files.part(folder / f"{name}.png"))
                      for name in ("months", "k")},
            record=files.part(folder / "restatement.json"),
        )

    def write_summaries(self, run: Restatement) -> None:
        """Monthly table, pictures and record, after the rows."""
        from .pictures import MonthBars, draw_k, draw_months

        with self.months.open("w", encoding="utf-8", newline="") as file:
            file.write("# volumes in m3, units are 1e-9 m3 and 1e-6 kg; restated figures are a claim until both "
                       "parties agree\n")
            writer = csv.writer(file, lineterminator="\n")
            writer.writerow(HEADER)
            writer.writerows(month_row(name, label, month) for name, label, month in months_of(run))
        bars = []
        for name, meter in run.meters.items():
            months = [(label, month) for label, month in dated(run, meter) if not math.isnan(month.difference_pct())]
            bars.append(MonthBars(name, [label for label, _ in months],
                                  np.array([month.difference_pct() for _, month in months]),
                                  np.nan_to_num([bound_pct(month) for _, month in months])))
        draw_months(bars, run.settings.booked, *self.pictures["months"])
        draw_k({name: meter.findings.days for name, meter in run.meters.items()}, run.settings.booked == "gross",
               *self.pictures["k"])
        self.record.write_text(json.dumps(record_of(run), indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def dated(run: Restatement, meter: MeterRun) -> list[tuple[str, MonthTotals]]:
    """Months in order, with their names."""
    return [(run.settings.months.names[number], meter.months[number]) for number in sorted(meter.months)
            if number != UNDATED]


def months_of(run: Restatement) -> Iterator[tuple[str, str, MonthTotals]]:
    """Meter, name of the month and its sums, rows without a place in the calendar last."""
    for name, meter in run.meters.items():
        for label, month in dated(run, meter):
            yield name, label, month
        if UNDATED in meter.months:
            yield name, "undated", meter.months[UNDATED]


def plain(value: float) -> str:
    return "" if math.isnan(value) else f"{value:.6f}"


def month_row(meter: str, label: str, month: MonthTotals) -> list[Any]:
    """One row of months.csv."""
    totals = month.totals
    mass = totals.mass_forward - totals.mass_reverse  # in mg
    base = [units_text(month.base), units_text(mass)] if month.has_base else ["", ""]
    return [meter, label, month.rows, month.rows_without, totals.refused, totals.unreadable,
            *(getattr(totals, name) for name in (*PULSES, *VOLUMES)), units_text(month.gross), *base,
            units_text(month.booked) if month.booked_rows else "", month.booked_rows, month.compared_rows,
            *([units_text(month.compared_booked), units_text(month.compared_restated)] if month.compared_rows else
              ["", ""]), plain(month.difference_pct()),
            month.partial_rows, plain(month.of_gross_pct(month.bound)), plain(2 * month.of_gross_pct(month.viscosity))]


def record_of(run: Restatement) -> dict[str, Any]:
    """How the restatement was made: enough to make it again and to tell whether the inputs are the same."""
    from . import versions

    settings = run.settings
    return {
        "format": "flowcomp-restatement", "version": 1, "versions": versions(), "cautions": list(CAUTIONS),
        "settings": {"timezone": str(settings.zone), "contract_hour": settings.months.hour,
                     "contract_month_day": settings.months.first_day, "interval_s": settings.interval_s,
                     "stamp": "end" if settings.stamp_at_end else "start", "booked": settings.booked,
                     "highest_hz": settings.highest_hz, "cycling": settings.cycling, "counter_modulus": settings.modulus,
                     "rule_of_months": settings.months.describe()},
        "readings": [{"file": str(path), "bytes": run.history.progress[path].size,
                      "sha256": run.history.progress[path].digest.hexdigest()} for path in run.history.files],
        "columns_not_used": list(run.history.unused),
        "rows_of_other_meters": run.history.other_meters,
        "liquids": {name: {"sha256": liquid.hash, "rows": sum(meter.liquids_used.get(name, 0)
                                                              for meter in run.meters.values())}
                    for name, liquid in run.liquids.items()},
        "meters": {name: meter_record(run, meter) for name, meter in run.meters.items()},
    }


def meter_record(run: Restatement, meter: MeterRun) -> dict[str, Any]:
    closed = meter.closed()
    found = meter.findings
    return {
        "sha256": meter.meter.hash, "below": meter.meter.below, "above": meter.meter.above,
        "cutoff_hz": meter.meter.cutoff_hz, "rows_read": meter.rows_read,
        "counter_max_hz": meter.history.rule.counter.f_limit_hz if meter.history.rule.counter else None,
        "totals": {name: getattr(closed, name) for name in ("records", "refused", "unreadable", *PULSES, *VOLUMES)},
        "balance_difference": closed.balance(), "pulses_read": pulses_read(run, meter),
        "rows_by_status": {status_word(status): count for status, count in sorted(found.statuses.items())},
        "rows_by_flag": dict(sorted(found.flags.items())),
        "gaps": found.gaps, "missing_s": found.missing_s,
    }


def pulses_read(run: Restatement, meter: MeterRun) -> int:
    """Pulses that came in, counted apart from the totals: as read, or from the states of the counter."""
    return meter.tally.expected if run.history.by_counter else meter.pulses_read


def is_refusal(status: int) -> bool:
    """Whether rows of this status were refused; the first state of a counter is none."""
    return status != 0 and REASONS.get(status, ("",))[0] != "counter_start"

