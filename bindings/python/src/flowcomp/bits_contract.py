# SPDX-License-Identifier: Apache-2.0
"""The contract of bits: the same inputs give the same 64 bits everywhere. Its identifier, its published hash, and the
hash of the set of results that this installation gives, evaluated inside the library, or by array calls from here.

>>> from flowcomp import bits_contract
>>> bits_contract.contract_hash() == bits_contract.published_hash()
True
"""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np

from . import _flowcomp as _raw
from .errors import FlowcompError
from .results import NAMES

INSTRUCTIONS = {"best": _raw.FLC_INSTRUCTIONS_BEST, "scalar": _raw.FLC_INSTRUCTIONS_SCALAR,
                "base": _raw.FLC_INSTRUCTIONS_BASE, "avx2": _raw.FLC_INSTRUCTIONS_AVX2,
                "avx512": _raw.FLC_INSTRUCTIONS_AVX512}


def identifier() -> str:
    """Identifier of the contract that this library keeps."""
    return _raw.flc_bits_contract()


def published_hash() -> str:
    """SHA-256 that the set of results has wherever this contract is kept, 64 hexadecimal digits."""
    return _raw.flc_bits_published()


def contract_hash(instructions: str = "best", chunk: int = 0) -> str:
    """SHA-256 of the set as this installation evaluates it, about a second.

    :param instructions: "best", "scalar", "base", "avx2" or "avx512", for whole records in batches
    :param chunk: 0 for one call per point or record; else batches of so many
    """
    from . import _records
    return _records.flc_bits_hash(INSTRUCTIONS[instructions], chunk)


def contract_hash_by_arrays(chunk: int = 65_536, threads: int = 1) -> str:
    """The same, each method and each configuration of whole records called from Python with arrays (methods that take
    lists with numbers and lists).

    :param chunk: points or records of a call
    :param threads: parts evaluated side by side
    """
    sha = hashlib.sha256()
    with ThreadPoolExecutor(threads) as pool:
        for part in pool.map(lambda place: part_bytes(place, chunk), range(_raw.flc_bits_part_count())):
            sha.update(part)
    return sha.hexdigest()


def part_bytes(place: int, chunk: int) -> bytes:
    """Canonical bytes of one part, evaluated by array calls."""
    part = part_at(place)
    arguments = part_arguments(place)
    if part.method is None:
        rows = _records_by_arrays(place, arguments[:, 0], chunk)
    elif part.places > 1:
        rows = _points_one_by_one(part.method, arguments)
    else:
        rows = _points_by_arrays(part.method, arguments[:, 0], chunk)
    name = part.name.encode()
    return struct.pack(">Q", len(name)) + name + rows.tobytes()


def part_at(place: int) -> Any:
    """Name, method, points, arguments, places of a part of the set."""
    part = _raw.flc_bits_part()
    _raw.flc_bits_part_at(place, part)
    return part


def part_arguments(place: int) -> np.ndarray:
    """Arguments of a part: (argument, place in a list, point); NaN for a place that a list has not."""
    part = part_at(place)
    values = np.empty((part.arguments, part.places, part.points))
    _raw.flc_bits_arguments(place, values.reshape(-1))
    return values


def _slices(size: int, chunk: int) -> Iterator[slice]:
    for start in range(0, size, chunk):
        yield slice(start, min(start + chunk, size))


def _points_by_arrays(row: Any, columns: np.ndarray, chunk: int) -> np.ndarray:
    points = _raw.FLC_BITS_POINTS
    result, status = np.empty(points), np.empty(points, dtype=np.uint8)
    for part in _slices(points, chunk):
        _raw.flc_method_call_n(row, tuple(column[part] for column in columns), part.stop - part.start, result[part],
                               status[part])
    rows = np.empty(points, dtype=[("status", "u1"), ("result", ">f8")])
    rows["status"], rows["result"] = status, result
    return rows


def _points_one_by_one(row: Any, arguments: np.ndarray) -> np.ndarray:
    rows = np.empty(arguments.shape[2], dtype=[("status", "u1"), ("result", ">f8")])
    is_list = [row.argument(place).kind == _raw.FLC_ARGUMENT_LIST for place in range(row.argument_count)]
    for point in range(arguments.shape[2]):
        values = tuple(np.ascontiguousarray(column[~np.isnan(column)]) if lists else float(column[0])
                       for column, lists in zip(arguments[:, :, point], is_list))
        try:
            rows[point] = 0, _raw.flc_method_call(row, values)
        except FlowcompError as error:
            rows[point] = int(error.status), np.nan
    return rows


def _records_by_arrays(place: int, columns: np.ndarray, chunk: int) -> np.ndarray:
    meter, liquid = _raw.flc_bits_objects(place)
    size = columns.shape[1]
    given = [None if np.isnan(column).all() else column for column in columns]
    fields = [np.empty(size) for _ in NAMES]
    status, flags = np.empty(size, dtype=np.uint8), np.empty(size, dtype=np.uint32)
    for part in _slices(size, chunk):
        readings = tuple(None if column is None else column[part] for column in given)
        _raw.flc_meter_evaluate_n(meter, liquid, readings, part.stop - part.start,
                                  (status[part], flags[part], *(field[part] for field in fields)), None)
    rows = np.empty(size, dtype=[("status", "u1"), ("flags", ">u8"), *((name, ">f8") for name in NAMES)])
    rows["status"], rows["flags"] = status, flags
    for name, field in zip(NAMES, fields):
        rows[name] = field
    return rows
