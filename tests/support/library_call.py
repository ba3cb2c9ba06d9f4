# SPDX-License-Identifier: Apache-2.0
"""Methods of the shared library called by name through ctypes, for tests that run before any binding is built."""

from __future__ import annotations

import ctypes
import math
from pathlib import Path
from typing import Any

NUMBER, CHOICE, LIST = 1, 2, 3


class _Argument(ctypes.Structure):
    _fields_ = [("name", ctypes.c_char_p), ("meaning", ctypes.c_char_p), ("unit", ctypes.c_char_p),
                ("kind", ctypes.c_int), ("optional", ctypes.c_int), ("low", ctypes.c_double),
                ("high", ctypes.c_double), ("fallback", ctypes.c_double), ("choices", ctypes.POINTER(ctypes.c_char_p))]


class _Info(ctypes.Structure):
    _fields_ = [("name", ctypes.c_char_p), ("summary", ctypes.c_char_p), ("formula", ctypes.c_char_p),
                ("unit", ctypes.c_char_p), ("source", ctypes.c_char_p), ("status", ctypes.c_int),
                ("confidence", ctypes.c_char_p), ("since", ctypes.c_char_p), ("arguments", ctypes.POINTER(_Argument)),
                ("argument_count", ctypes.c_size_t)]


class _Value(ctypes.Structure):
    _fields_ = [("number", ctypes.c_double), ("list", ctypes.POINTER(ctypes.c_double)), ("count", ctypes.c_size_t)]


class Library:
    """The shared library at a path, with the analysis library if its path is given; call(name, **inputs) -> (status
    name, result)."""

    def __init__(self, path: str | Path, analysis: str | Path | None = None) -> None:
        self._c = ctypes.CDLL(str(path), mode=ctypes.RTLD_GLOBAL)  # the analysis library rests on it
        self._rows = self._listed(self._c, "flc_method")
        if analysis is not None:
            self._rows |= self._listed(ctypes.CDLL(str(analysis)), "flc_analysis_method")
        self._c.flc_method_call.argtypes = [ctypes.POINTER(_Info), ctypes.POINTER(_Value), ctypes.c_size_t,
                                            ctypes.POINTER(ctypes.c_double), ctypes.c_void_p]
        self._c.flc_status_name.restype = ctypes.c_char_p

    @staticmethod
    def _listed(library: ctypes.CDLL, prefix: str) -> dict[str, Any]:
        """Rows of a library by name, in its order."""
        count, at = getattr(library, f"{prefix}_count"), getattr(library, f"{prefix}_at")
        count.restype, at.restype, at.argtypes = ctypes.c_size_t, ctypes.POINTER(_Info), [ctypes.c_size_t]
        rows = [at(i) for i in range(count())]
        return {row.contents.name.decode(): row for row in rows}

    def names(self) -> list[str]:
        """Names of all methods."""
        return list(self._rows)

    def call(self, name: str, **inputs: float | str | list[float]) -> tuple[str, float]:
        """Status ("OK", "E_BELOW", ...) and result; numbers, words for choices, lists of numbers."""
        found = self._rows[name]
        method = found.contents
        values = (_Value * method.argument_count)()
        for place in range(method.argument_count):
            argument = method.arguments[place]
            self._fill(values[place], argument, inputs.pop(argument.name.decode(), None))
        if inputs:
            raise TypeError(f"{name}: no argument {', '.join(inputs)}")
        result = ctypes.c_double()
        status = self._c.flc_method_call(found, values, method.argument_count, ctypes.byref(result), None)
        return self._c.flc_status_name(status).decode(), result.value

    @staticmethod
    def _fill(value: _Value, argument: _Argument, given: float | str | list[float] | None) -> None:
        if argument.kind == LIST:
            numbers = (ctypes.c_double * len(given))(*given)
            value.list, value.count = ctypes.cast(numbers, ctypes.POINTER(ctypes.c_double)), len(given)
        elif argument.kind == CHOICE and given is not None:
            words = []
            while argument.choices[len(words)]:
                words.append(argument.choices[len(words)].decode())
            value.number = words.index(given)
        elif argument.kind == CHOICE:
            value.number = -1.0
        else:
            value.number = math.nan if given is None else given
