# SPDX-License-Identifier: Apache-2.0
"""Numbers in and out: scalars, NumPy arrays and pandas columns; broadcasting; calls in chunks."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from . import errors

CHUNK = 65_536  # records a call; between calls Python looks at signals, so that Ctrl-C is honoured


def is_scalar(value: Any) -> bool:
    """A plain number, a word, or None: what takes the fast path."""
    kind = type(value)
    return (kind is float or kind is int or kind is str or value is None
            or isinstance(value, (float, int, np.number)) and not isinstance(value, (bool, np.timedelta64)))


def index_of(values: Sequence[Any]) -> Any:
    """The pandas index that the Series among values share, or None where there is none.

    pandas is not imported: where a caller has a Series, it is loaded already.
    """
    pandas = sys.modules.get("pandas")
    if pandas is None:
        return None
    index = None
    for value in values:
        if isinstance(value, pandas.Series):
            if index is None:
                index = value.index
            elif not index.equals(value.index):
                raise errors.E_CONFLICT("index", message="the Series have different indexes: align them first")
    return index


def as_doubles(value: Any, name: str) -> np.ndarray:
    """An array of float64 with the memory of value where it has that form already; missing values become NaN."""
    if type(value) is np.ndarray and value.dtype == np.float64:
        return value
    mask = getattr(value, "mask", None) if isinstance(value, np.ndarray) else None
    if mask is not None and np.any(mask):
        raise TypeError(f"{name}: {np.count_nonzero(mask)} values are masked; fill them (with NaN where a value is "
                        "absent) or drop them")
    if hasattr(value, "to_numpy") and hasattr(value, "iloc"):  # of pandas, whose conversion makes numbers of anything
        _refuse_what_is_no_number(value, name)
        return value.to_numpy(dtype=np.float64, na_value=np.nan)
    array = value if isinstance(value, np.ndarray) else np.asarray(value)
    _refuse_what_is_no_number(array, name)
    try:
        return np.asarray(array, dtype=np.float64)
    except (TypeError, ValueError) as error:
        raise TypeError(f"{name}: numbers are needed ({error})") from None


_KINDS = {"b": "truth values", "m": "time differences", "M": "dates or times", "U": "texts", "S": "texts",
          "c": "complex numbers"}


def _refuse_what_is_no_number(array: Any, name: str) -> None:
    """Truth values, times and texts, which NumPy would take for numbers without a word."""
    kind = getattr(array.dtype, "kind", "")
    if kind == "O" and any(isinstance(item, (bool, np.bool_)) for item in np.ravel(array)):
        kind = "b"
    if kind in _KINDS:
        raise TypeError(f"{name}: numbers are needed, not {_KINDS[kind]}; convert them to float64 in the unit of the "
                        "name")


def column(array: np.ndarray, shape: tuple[int, ...]) -> np.ndarray:
    """The array broadcast to shape, as one dimension for the library: its own memory where a stride can say it."""
    if array.size == 1 and array.ndim <= len(shape):
        return array.reshape(1)
    if array.shape != shape:
        array = np.broadcast_to(array, shape)
    if array.ndim == 1:
        whole = array.dtype.isnative and array.strides[0] % 8 == 0 and array.flags.aligned
        return array if whole else array.astype(np.float64)
    return np.ascontiguousarray(array).reshape(-1)


def chunks(size: int) -> Iterator[slice]:
    """Slices of at most CHUNK records that cover size records."""
    for start in range(0, size, CHUNK):
        yield slice(start, min(start + CHUNK, size))


def piece(array: np.ndarray, part: slice) -> np.ndarray:
    """The part of a column; one of a single element stands for every record."""
    return array if array.size == 1 else array[part]


def raise_refused(status: np.ndarray, first_error: Any) -> None:
    """Raise one exception for the refused records of an array; ``first_error(index)`` gives that of a single record."""
    refused = np.flatnonzero(status)
    if refused.size:
        numbers, how_many = np.unique(status[refused], return_counts=True)
        counts = {int(number): int(count) for number, count in zip(numbers, how_many)}
        place = int(refused[0])
        raise errors.of_array(counts, status.size, first_error(place), place)


def like_input(array: np.ndarray, shape: tuple[int, ...], index: Any, name: str | None = None) -> Any:
    """A result column in the form of the inputs: a Series where they have an index, else an array of their shape."""
    if index is not None:
        return sys.modules["pandas"].Series(array, index=index, name=name)
    return array.reshape(shape)


def check_policy(on_refused: str) -> bool:
    """True where a refusal raises; False where it leaves NaN."""
    if on_refused == "raise":
        return True
    if on_refused == "nan":
        return False
    raise errors.E_UNKNOWN_NAME("on_refused", message=f"on_refused is 'raise' or 'nan', not {on_refused!r}")


def map_records(function: Any, inputs: Mapping[str, Any], fields: Sequence[str]) -> dict[str, Any]:
    """Call function(*scalars) -> tuple of numbers record by record; a dict of scalars, arrays or Series by field."""
    values = list(inputs.values())
    if all(is_scalar(value) for value in values):
        return dict(zip(fields, function(*(np.nan if value is None else float(value) for value in values))))
    index = index_of(values)
    arrays = np.broadcast_arrays(*(as_doubles(np.nan if value is None else value, name)
                                   for name, value in inputs.items()))
    shape = arrays[0].shape
    rows = zip(*(array.ravel().tolist() for array in arrays))
    results = list(zip(*(function(*row) for row in rows))) or [() for _ in fields]
    return {name: like_input(np.asarray(result), shape, index, name) for name, result in zip(fields, results)}
