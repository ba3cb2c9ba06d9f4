# SPDX-License-Identifier: Apache-2.0
"""Histories of readings, in blocks: columns in the library's units and instants, for each meter apart.

A reading has a time, pulses of its window or the state of a counter, temperature and pressure, and what else the site
logs. Times are ISO 8601, with an offset or as local time of a named zone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import tzinfo
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pyarrow as pa
import pyarrow.compute as pc

from .calendar import Candidates, candidates, instants_of
from .input_error import InputError, near_columns
from .table_stream import BLOCK_BYTES, Block, Progress, Spelling, first_failing, numbers, plain, read_blocks
from .unit_columns import (
    BOOKED,
    P_OBSERVED,
    PRESSURE,
    T_OBSERVED,
    TEMPERATURE,
    VAPOUR_PRESSURE,
    VISCOSITY,
    Quantity,
    column_of,
    to_library_unit,
)

Columns = dict[str, npt.NDArray[Any]]

CONVERTED = (TEMPERATURE, PRESSURE, T_OBSERVED, P_OBSERVED, VISCOSITY, VAPOUR_PRESSURE, BOOKED)
PLAIN = ("pulses", "counter", "duration_s", "flowing_s", "f_flowing_hz", "rho_base_kgm3", "rho_observed_kgm3",
         "densitometer_factor")
KNOWN = ("time", "meter", *PLAIN, *(name for quantity in CONVERTED for name in quantity.columns))

TIME_GIVEN, TIME_SKIPPED, TIME_MISSING = 0, 1, 2
OFFSET = r"([zZ]|[+-]\d\d:?\d\d)$"


@dataclass(frozen=True)
class ReadingFormat:
    """What the files cannot say themselves."""

    zone: tzinfo
    spelling: Spelling
    atmospheric_kpaa: float | None = None


@dataclass
class History:
    """Files of one history, in the order of their first readings, and what was found on reading them."""

    format: ReadingFormat
    files: list[Path]
    progress: dict[Path, Progress] = field(default_factory=dict)
    unused: dict[str, None] = field(default_factory=dict)
    other_meters: dict[str, int] = field(default_factory=dict)
    rows_not_lines: set[Path] = field(default_factory=set)  # Parquet files: their readings have rows, not lines
    by_counter: bool | None = None
    has_booked: bool = False


def open_history(files: list[Path], reading_format: ReadingFormat) -> History:
    """Files put in the order of their first readings, so that the order on the command line does not matter.

    :raises InputError: where a file is given twice, is empty or lacks columns
    """
    if len({path.resolve() for path in files}) < len(files):
        raise InputError("a file is named twice; its readings would count double")
    first: dict[Path, int] = {}
    for path in files:
        block = next(read_blocks(path, reading_format.spelling, Progress(), 65536))
        check_columns(block)
        when, state = times(block, reading_format.zone)
        good = np.flatnonzero(state == TIME_GIVEN)
        first[path] = int(when.earliest[good[0]]) if len(good) else 0
    return History(reading_format, sorted(files, key=lambda path: first[path]))


def check_columns(block: Block) -> None:
    """Refuse a file without the columns that a reading needs."""
    names = list(block.columns)
    place: dict[str, Any] = {"file": block.file}
    if "time" not in names:
        raise InputError(f"the column time is missing{near_columns('time', names)}; the header has: {', '.join(names)}",
                         **place)
    if ("pulses" in names) == ("counter" in names):
        what = "has both pulses and counter; keep one" if "pulses" in names else (
            f"has neither pulses (of the window) nor counter (cumulative){near_columns('pulses', names)}")
        raise InputError(f"the file {what}; the header has: {', '.join(names)}", **place)
    for quantity in (TEMPERATURE, PRESSURE):
        if not column_of(quantity, names, file=block.file):
            wanted = ", ".join(quantity.columns)
            raise InputError(f"a column with its unit in the name is missing, one of: {wanted}"
                             f"{near_columns(quantity.name, names)}; the header has: {', '.join(names)}", **place)


def times(block: Block, zone: tzinfo) -> tuple[Candidates, npt.NDArray[np.uint8]]:
    """What the times of a block mean: candidates and state of each row; a missing time is instant 0.

    :raises InputError: for a text that is no ISO 8601 time
    """
    array = plain(block.columns["time"])
    if pa.types.is_timestamp(array.type):
        return typed_times(array, zone)
    if not pa.types.is_string(array.type):
        if pa.types.is_null(array.type):
            array = array.cast(pa.string())
        else:
            raise block.error(f"the column holds {array.type}; times as ISO 8601 text or timestamps are needed", 0,
                              "time")
    with_offset = pc.fill_null(pc.match_substring_regex(array, OFFSET), False)
    local = cast_times(block, array, pc.invert(with_offset), pa.timestamp("us"))
    fixed = cast_times(block, array, with_offset, pa.timestamp("us", tz="UTC"))
    return merge_times(local, fixed, zone)


def cast_times(block: Block, array: pa.Array, chosen: pa.Array, wanted: pa.DataType) -> pa.Array:
    """The chosen texts as times, the others null."""
    part = pc.if_else(chosen, array, pa.scalar(None, pa.string()))
    for text in (part, pc.utf8_trim_whitespace(part)):
        try:
            return text.cast(wanted)
        except pa.ArrowInvalid:
            continue
    place = first_failing(pc.utf8_trim_whitespace(part), wanted)
    raise block.error(f"'{part[place].as_py()}' is no ISO 8601 time; write 2025-02-01T13:00:00, or "
                      "2025-02-01T13:00:00+01:00 with its offset", place, "time")


def typed_times(array: pa.Array, zone: tzinfo) -> tuple[Candidates, npt.NDArray[np.uint8]]:
    """Times of a Parquet file that come as timestamps."""
    none = pa.nulls(len(array))
    if array.type.tz is None:
        return merge_times(array.cast(pa.timestamp("us")), none.cast(pa.timestamp("us", tz="UTC")), zone)
    return merge_times(none.cast(pa.timestamp("us")), array.cast(pa.timestamp("us", tz="UTC")), zone)


def merge_times(local: pa.Array, fixed: pa.Array, zone: tzinfo) -> tuple[Candidates, npt.NDArray[np.uint8]]:
    """Candidates of a mixture of local times and instants, each null where the other is given."""
    has_local = np.asarray(local.is_valid().to_numpy(zero_copy_only=False))
    has_fixed = np.asarray(fixed.is_valid().to_numpy(zero_copy_only=False))
    instants = instants_of(pc.fill_null(fixed, pa.scalar(0, fixed.type)))
    state = np.where(has_local | has_fixed, TIME_GIVEN, TIME_MISSING).astype(np.uint8)
    if not has_local.any():
        return Candidates(instants, instants, np.zeros(len(instants), dtype=bool)), state
    found = candidates(pc.fill_null(local, pa.scalar(0, local.type)), zone)
    earliest = np.where(has_local, found.earliest, instants)
    latest = np.where(has_local, found.latest, instants)
    skipped = has_local & found.skipped
    return Candidates(earliest, latest, skipped), np.where(skipped, TIME_SKIPPED, state).astype(np.uint8)


def read_columns(block: Block, reading_format: ReadingFormat) -> Columns:
    """The columns of a block by the library's names and in its units; absent ones are NaN. Shape (rows,) each."""
    names = list(block.columns)
    when, state = times(block, reading_format.zone)
    rows = len(block.lines)
    found: Columns = {"line": block.lines, "earliest": when.earliest, "latest": when.latest, "time_state": state}
    for name in PLAIN:
        found[name] = numbers(block, name) if name in names else np.full(rows, np.nan)
    if "densitometer_factor" not in names:
        found["densitometer_factor"] = np.ones(rows)
    for quantity in CONVERTED:
        found[quantity.name] = converted(block, quantity, names, reading_format)
    return found


def converted(block: Block, quantity: Quantity, names: list[str], reading_format: ReadingFormat
              ) -> npt.NDArray[np.float64]:
    name = column_of(quantity, names, file=block.file)
    if name is None:
        return np.full(len(block.lines), np.nan)
    return to_library_unit(quantity, name, numbers(block, name), reading_format.atmospheric_kpaa, file=block.file)


def stream(history: History, meters: list[str], block_bytes: int = BLOCK_BYTES) -> Iterator[tuple[str, Columns]]:
    """Blocks of readings by meter, in the order of the files. Each carries the place of its file in history.files.

    :param meters: tags of the meters wanted; a history without the column meter belongs to the only one
    """
    for place, path in enumerate(history.files):
        progress = history.progress.setdefault(path, Progress())
        for number, block in enumerate(read_blocks(path, history.format.spelling, progress, block_bytes)):
            if number == 0:
                note_file(history, block, meters)
            columns = read_columns(block, history.format)
            columns["file"] = np.full(len(block.lines), place, dtype=np.int32)
            yield from by_meter(history, block, columns, meters)


def note_file(history: History, block: Block, meters: list[str]) -> None:
    """What the first block of a file says about the whole file."""
    check_columns(block)
    if not block.is_csv:
        history.rows_not_lines.add(block.file)
    by_counter = "counter" in block.columns
    if history.by_counter not in (None, by_counter):
        raise InputError("this file has another kind of reading (pulses or counter) than the files before it; restate "
                         "the two kinds apart", file=block.file)
    history.by_counter = by_counter
    history.has_booked |= column_of(BOOKED, block.columns, file=block.file) is not None
    history.unused |= dict.fromkeys(name for name in block.columns if name not in KNOWN)
    if "meter" not in block.columns and len(meters) > 1:
        raise InputError(f"the file has no column meter, but {len(meters)} meters are given; restate them apart",
                         file=block.file)


def by_meter(history: History, block: Block, columns: Columns, meters: list[str]) -> Iterator[tuple[str, Columns]]:
    """The rows of each meter wanted; the others are counted."""
    if "meter" not in block.columns:
        yield meters[0], columns
        return
    tags = pc.fill_null(plain(block.columns["meter"]).cast(pa.string()), "").dictionary_encode()
    codes = np.asarray(tags.indices.to_numpy(zero_copy_only=False))
    words = [word.strip() for word in tags.dictionary.to_pylist()]
    for code, word in enumerate(words):
        if word not in meters:
            count = int(np.count_nonzero(codes == code))
            history.other_meters[word] = history.other_meters.get(word, 0) + count
    for meter in meters:
        chosen = np.isin(codes, [code for code, word in enumerate(words) if word == meter])
        if chosen.all():
            yield meter, columns
        elif chosen.any():
            yield meter, {name: values[chosen] for name, values in columns.items()}
