# SPDX-License-Identifier: Apache-2.0
"""Results of an evaluation: an attribute for each column of the library's result list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from . import _flowcomp as _raw
from . import errors
from ._words import flag_words


@dataclass(frozen=True)
class Column:
    """A column of the results: name, unit, meaning."""

    name: str
    unit: str
    meaning: str


def _columns() -> tuple[Column, ...]:
    columns = []
    while (name := _raw.result_name(len(columns))) is not None:
        columns.append(Column(name, _raw.result_unit(len(columns)), _raw.result_meaning(len(columns))))
    return tuple(columns)


COLUMNS = _columns()
NAMES = tuple(column.name for column in COLUMNS)
_PLACES = {name: place for place, name in enumerate(NAMES)}


class Results:
    """What came out of ``Meter.evaluate``: numbers for one record, arrays of the shape of the inputs for many.

    The columns are attributes: ``v_m3``, ``k_per_m3``, ``ro`` ...; ``flowcomp.COLUMNS`` lists them with their units. A
    refused record holds NaN (except for what was reached before it was refused), its status and its flags.
    """

    __slots__ = ("_values", "flags", "status")

    def __init__(self, values: tuple[Any, ...], flags: Any, status: Any) -> None:
        self._values = values
        #: flag bits: int, or array of uint32; see flag_words
        self.flags = flags
        #: status numbers, 0 where the record was evaluated: int, or array of uint8
        self.status = status

    def __getattr__(self, name: str) -> Any:
        if name in _PLACES:
            value = self._values[_PLACES[name]]
            if value is None:
                raise AttributeError(f"{name} was not among the outputs asked for")
            return value
        raise AttributeError(f"results have no column {name!r}; flowcomp.COLUMNS lists them")

    def __dir__(self) -> list[str]:
        return [*super().__dir__(), *NAMES]

    def __getitem__(self, name: str) -> Any:
        try:
            return getattr(self, name)
        except AttributeError as error:
            raise KeyError(str(error)) from None

    def _arrays(self, shape: tuple[int, ...]) -> tuple[np.ndarray, np.ndarray, list[np.ndarray | None]]:
        """Status, flags and columns as one dimension each, to be written over by records of a shape."""
        own = (self.status, self.flags, *self._values)
        if any(value is not None and (np.shape(value) != shape or not isinstance(value, np.ndarray)) for value in own):
            raise errors.E_COUNT("out", message=f"out holds results of shape {np.shape(self.status)}, and the readings "
                                                f"have the shape {shape}")
        status, flags, *columns = (None if value is None else value.reshape(-1) for value in own)
        return status, flags, columns

    def keys(self) -> list[str]:
        """Names of the columns that are there."""
        return [name for name, value in zip(NAMES, self._values) if value is not None]

    @property
    def status_names(self) -> Any:
        """Names of the statuses ("OK", "E_BELOW_CURVE" ...): a word, or an array of words."""
        if isinstance(self.status, int):
            return errors.status_name(self.status)
        known = np.unique(self.status)
        names = np.array([errors.status_name(number) for number in known], dtype=object)
        return names[np.searchsorted(known, self.status)]

    def flag_words(self, place: int | None = None) -> list[str]:
        """Flags as words: of the record at a place, or those that any record carries."""
        if place is not None and not isinstance(self.flags, int):
            return flag_words(int(np.asarray(self.flags).reshape(-1)[place]))
        return flag_words(self.flags if isinstance(self.flags, int)
                          else int(np.bitwise_or.reduce(np.asarray(self.flags), axis=None)))

    def to_frame(self, index: Any = None) -> Any:
        """A pandas DataFrame: a row per record, the columns with ``flags`` and ``status``."""
        import pandas
        columns = {name: np.reshape(self[name], -1) for name in self.keys()}
        columns["flags"] = np.reshape(self.flags, -1)
        columns["status"] = np.reshape(self.status_names, -1)
        return pandas.DataFrame(columns, index=index)

    def __repr__(self) -> str:
        if isinstance(self.status, int):
            listed = [f"  {name:<15} {self[name]:<24.17g} {COLUMNS[_PLACES[name]].unit}" for name in self.keys()]
            words = ", ".join(self.flag_words()) or "none"
            return "\n".join([f"Results({self.status_names}; flags: {words}", *listed]) + ")"
        refused = int(np.count_nonzero(self.status))
        units = ", ".join(f"{name} [{COLUMNS[_PLACES[name]].unit}]" for name in self.keys())
        return f"Results({np.size(self.status)} records, {refused} refused: {units})"
