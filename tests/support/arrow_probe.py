# SPDX-License-Identifier: Apache-2.0
"""The structs of the Arrow C data interface seen with ctypes, and a producer that counts what is released. The layout
is that of the standard (Apache Arrow: The Arrow C data interface, The Arrow PyCapsule interface)."""

from __future__ import annotations

import ctypes
from ctypes import CFUNCTYPE, POINTER, Structure, c_char_p, c_int, c_int64, c_void_p, py_object
from typing import Any

import numpy as np


class Schema(Structure):
    pass


class Array(Structure):
    pass


class Stream(Structure):
    pass


SchemaRelease, ArrayRelease = CFUNCTYPE(None, POINTER(Schema)), CFUNCTYPE(None, POINTER(Array))
Schema._fields_ = [("format", c_char_p), ("name", c_char_p), ("metadata", c_void_p), ("flags", c_int64),
                   ("n_children", c_int64), ("children", POINTER(POINTER(Schema))), ("dictionary", c_void_p),
                   ("release", c_void_p), ("private_data", c_void_p)]
Array._fields_ = [("length", c_int64), ("null_count", c_int64), ("offset", c_int64), ("n_buffers", c_int64),
                  ("n_children", c_int64), ("buffers", POINTER(c_void_p)), ("children", POINTER(POINTER(Array))),
                  ("dictionary", c_void_p), ("release", c_void_p), ("private_data", c_void_p)]
Stream._fields_ = [("get_schema", CFUNCTYPE(c_int, POINTER(Stream), POINTER(Schema))),
                   ("get_next", CFUNCTYPE(c_int, POINTER(Stream), POINTER(Array))), ("get_last_error", c_void_p),
                   ("release", CFUNCTYPE(None, POINTER(Stream))), ("private_data", c_void_p)]

_new = ctypes.pythonapi.PyCapsule_New
_new.restype, _new.argtypes = py_object, [c_void_p, c_char_p, c_void_p]
_pointer = ctypes.pythonapi.PyCapsule_GetPointer
_pointer.restype, _pointer.argtypes = c_void_p, [py_object, c_char_p]


def array_of(capsule: Any) -> Array:
    """The struct in a capsule; the capsule must be kept."""
    return Array.from_address(_pointer(capsule, b"arrow_array"))


def stream_of(capsule: Any) -> Stream:
    """The struct in a capsule; the capsule must be kept."""
    return Stream.from_address(_pointer(capsule, b"arrow_array_stream"))


def addresses(capsule: Any) -> list[int]:
    """Where the values of each child lie."""
    array = array_of(capsule)
    return [array.children[i].contents.buffers[1] for i in range(array.n_children)]


class Counted:
    """A struct array over NumPy columns that counts how often it is exported and how often anything is released."""

    def __init__(self, **columns: np.ndarray) -> None:
        self.columns = columns
        self.exported = self.released = 0
        self._kept: list[Any] = []
        self._release_schema = SchemaRelease(self._schema_released)
        self._release_array = ArrayRelease(self._array_released)

    def _schema_released(self, schema: Any) -> None:
        self.released += 1
        schema.contents.release = None

    def _array_released(self, array: Any) -> None:
        self.released += 1
        array.contents.release = None

    def __arrow_c_array__(self, requested_schema: Any = None) -> tuple[Any, Any]:
        n = len(self.columns)
        release_schema = ctypes.cast(self._release_schema, c_void_p)
        release_array = ctypes.cast(self._release_array, c_void_p)
        types = [Schema(b"g", name.encode(), None, 2, 0, None, None, release_schema) for name in self.columns]
        arrays, buffers = [], []
        for column in self.columns.values():
            buffers.append((c_void_p * 2)(None, column.ctypes.data))
            arrays.append(Array(column.size, 0, 0, 2, 0, buffers[-1], None, None, release_array))
        type_places = (POINTER(Schema) * n)(*map(ctypes.pointer, types))
        places = (POINTER(Array) * n)(*map(ctypes.pointer, arrays))
        none = (c_void_p * 1)(None)
        schema = Schema(b"+s", b"", None, 0, n, type_places, None, release_schema)
        length = next(iter(self.columns.values())).size
        array = Array(length, 0, 0, 1, n, none, places, None, release_array)
        self._kept.append((types, arrays, buffers, type_places, places, none, schema, array))
        self.exported += 1
        return _capsule(schema, b"arrow_schema"), _capsule(array, b"arrow_array")


_NAMES: dict[bytes, Any] = {}
_DESTRUCTORS: dict[bytes, Any] = {}


def _capsule(struct: Any, name: bytes) -> Any:
    """A capsule that releases its struct, unless somebody has, when Python lets go of it."""
    if name not in _NAMES:
        kind, release = (Schema, SchemaRelease) if name == b"arrow_schema" else (Array, ArrayRelease)

        def destroy(capsule: int) -> None:
            held = kind.from_address(_address(capsule, _NAMES[name]))
            if held.release:
                release(held.release)(ctypes.pointer(held))

        _NAMES[name] = ctypes.create_string_buffer(name)
        _DESTRUCTORS[name] = ctypes.PYFUNCTYPE(None, c_void_p)(destroy)
    return _new(ctypes.addressof(struct), ctypes.cast(_NAMES[name], c_char_p),
                ctypes.cast(_DESTRUCTORS[name], c_void_p))


_address = ctypes.PYFUNCTYPE(c_void_p, c_void_p, c_char_p)(("PyCapsule_GetPointer", ctypes.pythonapi))
