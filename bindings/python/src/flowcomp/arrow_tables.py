# SPDX-License-Identifier: Apache-2.0
"""Tables of other programs through the Arrow PyCapsule protocol: pyarrow, polars, DuckDB and whoever else speaks it.

None of them is imported here: a table that offers the capsules is read where it lies, and the results offer them.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from typing import Any, NoReturn

import numpy as np

from . import _flowcomp as _raw
from . import errors
from ._arrays import is_scalar
from ._immutable import Immutable
from .totals import Totals


class ResultTable(Immutable):
    """Results of an Arrow table, in its batches: hand it to ``pyarrow.table``, ``polars.DataFrame``, DuckDB or
    ``pandas.DataFrame.from_arrow``, as often as you like; none of them copies.

    The columns are those asked for (float64), then ``flags`` (uint32, see ``flag_words``) and ``status`` (uint8, 0
    where the record was evaluated). There are no nulls: a refused record has NaN, so that a sum over it is NaN too and
    does not leave it out in silence.
    """

    __slots__ = ("_batches", "_outputs", "_records", "_refused")

    def __init__(self, batches: tuple[Any, ...], outputs: tuple[str, ...] | None, refused: int) -> None:
        self._fix(_batches=batches, _outputs=outputs, _refused=refused,
                  _records=sum(map(_raw.arrow_length, batches)))

    def __reduce__(self) -> NoReturn:
        raise TypeError(f"a {type(self).__name__} cannot be pickled: make a table of pyarrow or polars of it first")

    @property
    def refused(self) -> int:
        """Number of records refused."""
        return self._refused

    def __len__(self) -> int:
        return self._records

    def __arrow_c_schema__(self) -> Any:
        return _raw.flc_arrow_schema(self._outputs)

    def __arrow_c_stream__(self, requested_schema: Any = None) -> Any:
        return _raw.flc_arrow_stream(self._batches, self._outputs)

    def __repr__(self) -> str:
        columns = "all columns" if self._outputs is None else ", ".join((*self._outputs, "flags", "status"))
        return f"{type(self).__name__}({self._records} records, {self._refused} refused: {columns})"


class ResultBatch(ResultTable):
    """Results of one Arrow record batch or struct array; also for ``pyarrow.record_batch``. See ResultTable."""

    __slots__ = ()

    def __arrow_c_array__(self, requested_schema: Any = None) -> tuple[Any, Any]:
        return self.__arrow_c_schema__(), _raw.flc_arrow_share(self._batches[0])


def is_arrow(frame: Any) -> bool:
    """Whether a table comes through Arrow; pandas columns are read as arrays, so that their index is kept."""
    pandas = sys.modules.get("pandas")
    if pandas is not None and isinstance(frame, pandas.DataFrame):
        return False
    return hasattr(frame, "__arrow_c_array__") or hasattr(frame, "__arrow_c_stream__")


def _of_stream(words: str | None) -> None:
    if words is not None:
        raise errors.E_SCHEMA("frame", message=f"frame: the stream failed: {words}")


def _batches(frame: Any) -> Iterator[tuple[Any, Any]]:
    """Capsules of the type and of each array of a table."""
    if hasattr(frame, "__arrow_c_array__"):
        yield frame.__arrow_c_array__()
        return
    stream = frame.__arrow_c_stream__()
    words, schema = _raw.arrow_stream_schema(stream)
    _of_stream(words)
    while True:
        words, array = _raw.arrow_stream_next(stream)
        _of_stream(words)
        if array is None:
            return
        yield schema, array


def _constants(reading: Mapping[str, Any], names: tuple[str, ...]) -> tuple[float | None, ...]:
    for name, value in reading.items():
        if not is_scalar(value) or isinstance(value, str):
            raise TypeError(f"{name}: beside an Arrow table a reading is one number for all its rows; put the values "
                            "into the table as a float64 column")
    return tuple(None if (value := reading.get(name)) is None else float(value) for name in names)


class _Refusals:
    """How many records were refused and why, and the first of them."""

    def __init__(self) -> None:
        self.counts: dict[int, int] = {}
        self.first: tuple[int, tuple[float, ...]] | None = None  # its place in the table, its reading

    def add(self, start: int, results: Any, batch: tuple[Any, Any], constants: tuple[float | None, ...]) -> None:
        status = np.empty(_raw.arrow_length(results), dtype=np.uint8)
        _raw.arrow_statuses(results, status)
        numbers, how_many = np.unique(status[status != 0], return_counts=True)
        for number, count in zip(numbers.tolist(), how_many.tolist()):
            self.counts[number] = self.counts.get(number, 0) + count
        if self.first is None:
            place = int(np.flatnonzero(status)[0])
            self.first = start + place, _raw.flc_arrow_reading(*batch, constants, place)


def evaluate_table(meter: Any, liquid: Any, frame: Any, reading: Mapping[str, Any], names: tuple[str, ...],
                   outputs: tuple[str, ...] | None, totals: Totals | None, raising: bool) -> ResultTable:
    """The records of an Arrow table; see Meter.evaluate."""
    constants = _constants(reading, names)
    sums = None if totals is None else Totals(totals.unit_m3)
    evaluated: list[Any] = []
    refusals, records, refused = _Refusals(), 0, 0
    for batch in _batches(frame):
        results, here = _raw.flc_meter_evaluate_arrow(meter._raw, liquid._raw, *batch, constants, outputs,
                                                      None if sums is None else sums._raw)
        if here and raising:
            refusals.add(records, results, batch, constants)
        evaluated.append(results)
        records += _raw.arrow_length(results)
        refused += here
    if refusals.first is not None:
        place, record = refusals.first
        status, _, detail = _raw.flc_meter_evaluate(meter._raw, liquid._raw, record)
        raise errors.of_array(refusals.counts, records, errors.of_status(status, *(detail or ())), place)
    if totals is not None:
        totals.merge(sums)
    kind = ResultBatch if hasattr(frame, "__arrow_c_array__") else ResultTable
    return kind(tuple(evaluated), outputs, refused)
