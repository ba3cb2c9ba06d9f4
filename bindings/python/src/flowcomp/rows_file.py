# SPDX-License-Identifier: Apache-2.0
"""Restated rows and events of one meter as CSV or Parquet, written block by block."""

from __future__ import annotations

from collections.abc import Callable
from datetime import tzinfo
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv
import pyarrow.parquet

from ._words import FLAGS
from .calendar import arrow_zone
from .errors import CLASSES, status_name
from .history import MARKS, REASONS
from .readings import Columns

Numbers = npt.NDArray[np.generic]

# Columns of the rows file that are numbers, in their order, by their names in the evaluated block.
NUMBERS = ("duration_s", "pulses", "f_hz", "t_degc", "p_kpag", "nu_mm2s_used", "ro", "k_per_m3", "v_m3",
           "rho_base_kgm3_used", "ctl", "cpl", "v_base_m3", "booked_m3", "k_bound", "u_v_nu")
NAMES = {"nu_mm2s_used": "nu_mm2s", "rho_base_kgm3_used": "rho_base_kgm3", "f_hz_used": "f_hz"}


def status_word(status: int) -> str:
    """Word of a status of the library, or of a reason against the row."""
    if status in REASONS:
        return REASONS[status][0]
    return "ok" if status == 0 else status_name(status).removeprefix("E_").lower()


def status_sentence(status: int) -> str:
    """The same as a sentence."""
    return REASONS[status][1] if status in REASONS else CLASSES[status].__doc__ or status_name(status)


def words_of(values: Numbers, spell: Callable[[int], str]) -> pa.Array:
    """Texts of small whole numbers, each spelled once."""
    distinct, place = np.unique(values, return_inverse=True)
    return pa.array([spell(int(value)) for value in distinct], pa.string()).take(pa.array(place))


def flag_text(bits: int) -> str:
    """Words of flags (lower 32 bits) and marks (above them)."""
    words = [word for bit, (word, _) in FLAGS.items() if bits & bit]
    return " ".join(words + [word for bit, (word, _) in MARKS.items() if (bits >> 32) & bit])


def all_flags(columns: Columns) -> npt.NDArray[np.int64]:
    """Flags and marks of a row in one number."""
    return columns["flags"].astype(np.int64) | (columns["marks"].astype(np.int64) << 32)


def time_text(instants: npt.NDArray[np.int64], zone: tzinfo) -> pa.Array:
    """Local times with their offset; a fraction of a second only where there is one."""
    stamps = pa.array(instants, pa.timestamp("us", tz="UTC")).cast(pa.timestamp("us", tz=arrow_zone(zone)))
    local = pc.local_timestamp(stamps)
    offset = (np.asarray(local.cast(pa.int64())) - instants) // 60_000_000
    offsets = words_of(offset, lambda m: f"{'-' if m < 0 else '+'}{abs(m) // 60:02d}:{abs(m) % 60:02d}")
    text = local.cast(pa.string())  # 2025-01-01 00:00:00.000000
    whole = pa.array(instants % 1_000_000 == 0)
    text = pc.if_else(whole, pc.utf8_slice_codeunits(text, 0, 19), text)
    return pc.binary_join_element_wise(pc.utf8_replace_slice(text, 10, 11, "T"), offsets, "")


def number_column(values: Numbers) -> pa.Array:
    """Numbers, empty where there is none."""
    return pa.array(values, pa.float64(), from_pandas=True)


class TableWriter:
    """A CSV or Parquet file that grows by record batches."""

    def __init__(self, path: Path, parquet: bool) -> None:
        self.path, self.parquet = path, parquet
        self.sink: pa.NativeFile | None = None
        self.writer: pa.parquet.ParquetWriter | pyarrow.csv.CSVWriter | None = None

    def write(self, batch: pa.RecordBatch) -> None:
        if self.writer is None:
            self.sink = pa.OSFile(str(self.path), "wb")
            if self.parquet:
                self.writer = pa.parquet.ParquetWriter(self.sink, batch.schema, compression="zstd")
            else:
                options = pyarrow.csv.WriteOptions(quoting_style="needed")
                self.writer = pyarrow.csv.CSVWriter(self.sink, batch.schema, write_options=options)
        self.writer.write_batch(batch)

    def close(self) -> None:
        """Finish the file; safe to call twice."""
        writer, sink, self.writer, self.sink = self.writer, self.sink, None, None
        try:
            if writer is not None:
                writer.close()
        finally:
            if sink is not None:
                sink.close()


class MeterFiles:
    """Rows file and events file of one meter."""

    def __init__(self, meter: str, zone: tzinfo, files: list[Path], rows: Path, events: Path, parquet: bool) -> None:
        self.meter, self.zone, self.parquet = meter, zone, parquet
        self.files = pa.array([str(path) for path in files], pa.string())
        self.rows, self.events = TableWriter(rows, parquet), TableWriter(events, False)

    def write(self, columns: Columns, liquids: pa.Array, details: dict[int, str]) -> None:
        """One block of evaluated rows.

        :param liquids: name of each row's liquid
        :param details: what the library said of some of the refused rows, by place in the block
        """
        self.rows.write(self.row_batch(columns, liquids))
        notable = (columns["status"] != 0) | ((columns["marks"] & 7) != 0) | (columns["gap_s"] > 0)
        if notable.any() or self.events.writer is None:
            chosen = {name: values[notable] for name, values in columns.items()}
            said = [details.get(int(place)) for place in np.flatnonzero(notable)]
            self.events.write(self.event_batch(chosen, pa.array(said, pa.string())))

    def close(self) -> None:
        try:
            self.rows.close()
        finally:
            self.events.close()

    def stamps(self, instants: npt.NDArray[np.int64]) -> pa.Array:
        if self.parquet:
            return pa.array(instants, pa.timestamp("us", tz="UTC")).cast(pa.timestamp("us", tz=arrow_zone(self.zone)))
        return time_text(instants, self.zone)

    def row_batch(self, columns: Columns, liquids: pa.Array) -> pa.RecordBatch:
        fields = {"begin": self.stamps(columns["begin"]), "end": self.stamps(columns["end"]),
                  "line": pa.array(columns["line"], pa.int64()), "liquid": liquids}
        fields |= {NAMES.get(name, name): number_column(columns[name]) for name in NUMBERS}
        fields["status"] = words_of(columns["status"], status_word)
        fields["flags"] = words_of(all_flags(columns), flag_text)
        return pa.RecordBatch.from_pydict(fields)

    def event_batch(self, columns: Columns, said: pa.Array) -> pa.RecordBatch:
        """Rows that were refused, stand after a gap, or at which the counter did more than count."""
        gap = (columns["gap_s"] > 0).astype(np.int64)
        what = columns["status"].astype(np.int64) | (columns["marks"].astype(np.int64) & 7) << 8 | gap << 16
        return pa.RecordBatch.from_pydict({
            "time": time_text(columns["instant"], self.zone),
            "meter": pa.array([self.meter], pa.string()).take(pa.array(np.zeros(len(what), dtype=np.int64))),
            "file": self.files.take(pa.array(columns["file"])),
            "line": pa.array(columns["line"], pa.int64()),
            "event": words_of(what, event_words),
            "missing_s": number_column(np.where(gap == 1, columns["gap_s"], np.nan)),
            "counter_before": number_column(columns["state_before"]),
            "counter": number_column(columns["counter"]),
            "pulses": number_column(columns["pulses"]),
            "meaning": pc.coalesce(said, words_of(what, event_sentence)),
        })


def event_parts(what: int) -> list[tuple[str, str]]:
    """Word and sentence of everything that a row's event number says."""
    status, marks = what & 255, what >> 8 & 7
    parts = [(status_word(status), status_sentence(status))] if status else []
    parts += [MARKS[bit] for bit in MARKS if marks & bit]
    if what >> 16 and not marks & 4:
        parts.append(("gap", "rows are missing before this one"))
    return parts


def event_words(what: int) -> str:
    return " ".join(word for word, _ in event_parts(what))


def event_sentence(what: int) -> str:
    return "; ".join(sentence.rstrip(".") for _, sentence in event_parts(what))
