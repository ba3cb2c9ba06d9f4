# SPDX-License-Identifier: Apache-2.0
"""Which liquid was in the line, from when on: the batch table."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from .calendar import Instants, iso, microseconds
from .input_error import InputError
from .text_table import Row, read_table

if TYPE_CHECKING:
    from .liquid import Liquid


@dataclass(frozen=True)
class Batch:
    """A batch: its beginning (instant), its liquid by name, density at the liquid's base (kg/m3) and viscosity (mm2/s)
    where the table gives them, else NaN."""

    start: int
    liquid: str
    rho_base_kgm3: float
    nu_mm2s: float
    line: int


@dataclass(frozen=True)
class BatchList:
    """Batches of one meter in rising order."""

    file: Path
    batches: list[Batch]
    starts: Instants

    def place(self, instants: Instants) -> npt.NDArray[np.intp]:
        """Place of the batch in which each instant lies; -1 before the first."""
        return np.searchsorted(self.starts, instants, side="right") - 1


def moment(text: str, zone: tzinfo, row: Row, column: str) -> int:
    """Instant of an ISO 8601 time, local or with its offset."""
    try:
        time = datetime.fromisoformat(text)
    except ValueError:
        raise row.error(f"'{text}' is no ISO 8601 time; write 2025-02-01T13:00:00, or 2025-02-01T13:00:00+01:00 with "
                        "its offset", column) from None
    if time.tzinfo is not None:
        return microseconds(time)
    instants = {microseconds(time.replace(tzinfo=zone, fold=fold)) for fold in (0, 1)}
    back = {datetime.fromisoformat(iso(instant, zone)).replace(tzinfo=None) for instant in instants}
    if len(instants) > 1 or back != {time}:
        kind = "does not exist" if time not in back else "comes twice"
        raise row.error(f"the local time {text} {kind}, as the clock is changed then; write it with its offset", column)
    return instants.pop()


def read_batches(path: Path, zone: tzinfo, meters: list[str], decimal_comma: bool = False) -> dict[str, BatchList]:
    """The batches of each meter.

    :raises InputError: where a column, a name or a time is missing or wrong, or the times do not rise
    """
    table = read_table(path, decimal_comma)
    table.require("start", "liquid")
    if not table.rows:
        raise InputError("the table has no batches", file=path)
    if "meter" not in table.columns and len(meters) > 1:
        raise InputError("the table has no column meter, but several meters are given", file=path,
                         line=table.header_line)
    found: dict[str, list[Batch]] = {meter: [] for meter in meters}
    for row in table.rows:
        meter = row.text("meter") if "meter" in table.columns else meters[0]
        for column in ("meter", "start", "liquid"):
            if column in table.columns and not row.text(column):
                raise row.error("the cell is empty", column)
        if meter in found:
            found[meter].append(Batch(moment(row.text("start"), zone, row, "start"), row.text("liquid"),
                                      row.number("rho_base_kgm3"), row.number("nu_mm2s"), row.line))
    return {meter: in_order(path, meter, batches) for meter, batches in found.items()}


def in_order(path: Path, meter: str, batches: list[Batch]) -> BatchList:
    if not batches:
        raise InputError(f"no batch of meter {meter}", file=path)
    for before, batch in zip(batches, batches[1:], strict=False):
        if batch.start <= before.start:
            raise InputError(f"the batch begins no later than the one of line {before.line}; sort the table by start",
                             file=path, line=batch.line, column="start")
    return BatchList(path, batches, np.array([batch.start for batch in batches], dtype=np.int64))


def check_liquids(batches: BatchList, known: dict[str, Liquid]) -> None:
    """Refuse batches of unknown liquids, and a viscosity or a density for a liquid that has its own."""
    for batch in batches.batches:
        place: dict[str, Any] = {"file": batches.file, "line": batch.line}
        if batch.liquid not in known:
            raise InputError(f"there is no liquid '{batch.liquid}' among those given: {', '.join(sorted(known))}",
                             column="liquid", **place)
        liquid = known[batch.liquid]
        if not math.isnan(batch.rho_base_kgm3) and liquid.has_own_density:
            raise InputError(f"the liquid '{batch.liquid}' has a density of its own; leave the cell empty",
                             column="rho_base_kgm3", **place)
        if not math.isnan(batch.nu_mm2s) and liquid.viscosity_source != "measured":
            raise InputError(f"the liquid '{batch.liquid}' has a viscosity of its own; leave the cell empty, or make "
                             "it a liquid with measured viscosity", column="nu_mm2s", **place)
