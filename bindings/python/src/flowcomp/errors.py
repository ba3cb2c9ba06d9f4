# SPDX-License-Identifier: Apache-2.0
"""Exceptions: one class per status of the library, named as in status.h, under a few families.

Catch a family where the reason does not matter (``except fc.errors.RangeError``), a class where it does
(``except fc.errors.E_BELOW_CURVE``). Every family is also one of Python's own exceptions.
"""

from __future__ import annotations

import math
from typing import Any

from . import _flowcomp as _raw


class FlowcompError(Exception):
    """A refusal of the library.

    Attributes: ``status`` (its number), ``status_name`` (``"E_BELOW"``), ``argument`` (name of the input, "" where
    none), ``index`` (place in an array or None), ``value`` (what was given), ``limit`` (the bound it broke; NaN where
    none applies), ``message``, and ``counts`` ({status name: how many}) where an array was refused in part.
    """

    status = 0

    def __init_subclass__(cls) -> None:
        cls.status = getattr(_raw, "FLC_" + cls.__name__, cls.status)
        if cls.status and not cls.__doc__:
            cls.__doc__ = _raw.flc_status_text(cls.status).capitalize() + "."

    def __init__(self, argument: str = "", index: int | None = None, value: float = math.nan, limit: float = math.nan,
                 message: str = "", counts: dict[str, int] | None = None) -> None:
        self.argument = argument
        self.index = index
        self.value = value
        self.limit = limit
        self.message = message or self._default_message()
        self.counts = counts or {}
        super().__init__(self.message)

    def _default_message(self) -> str:
        text = _raw.flc_status_text(self.status)
        return f"{self.argument}: {text}" if self.argument else text

    @property
    def status_name(self) -> str:
        """Name of the status, as in ``flowcomp.errors``."""
        return _raw.flc_status_name(self.status)

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.argument, self.index, self.value, self.limit, self.message, self.counts)


# --- families ---------------------------------------------------------------------------------------------------------

class ArgumentError(FlowcompError, ValueError):
    """An input is missing, not a number, or not what it must be."""


class RangeError(ArgumentError):
    """An input lies outside the range in which the method holds."""


class CalculationError(FlowcompError, ArithmeticError):
    """The inputs are allowed, but the calculation has no answer for them."""


class CurveError(RangeError):
    """Outside the calibration curve."""


class NamingError(ArgumentError, LookupError):
    """A name is not known, or means more than one thing."""


class RecordError(FlowcompError, ValueError):
    """A file or text cannot be read as what it claims to be."""


class RoomError(FlowcompError, MemoryError):
    """Not enough memory or room."""


class InternalError(FlowcompError, RuntimeError):
    """A fault of the library itself."""


# --- one class per status ---------------------------------------------------------------------------------------------

class E_NULL(ArgumentError): ...
class E_NAN(ArgumentError): ...
class E_INFINITE(ArgumentError): ...
class E_BELOW(RangeError): ...
class E_ABOVE(RangeError): ...
class E_CHOICE(ArgumentError): ...
class E_MISSING(ArgumentError): ...
class E_CONFLICT(ArgumentError): ...
class E_COUNT(ArgumentError): ...
class E_ORDER(ArgumentError): ...
class E_DUPLICATE(ArgumentError): ...
class E_SIZE(ArgumentError): ...
class E_NOT_WHOLE(ArgumentError): ...

class E_NO_ROOT(CalculationError): ...
class E_DOMAIN(CalculationError): ...
class E_OVERFLOW(CalculationError, OverflowError): ...
class E_SINGULAR(CalculationError): ...
class E_NOT_MONOTONIC(CalculationError): ...

class E_BELOW_CURVE(CurveError): ...
class E_ABOVE_CURVE(CurveError): ...
class E_NEGATIVE_PRESSURE(RangeError): ...
class E_BELOW_VISCOSITY_RANGE(RangeError): ...
class E_ABOVE_VISCOSITY_RANGE(RangeError): ...

class E_MEMORY(RoomError): ...
class E_BUFFER(RoomError): ...

class E_UNKNOWN_NAME(NamingError): ...
class E_AMBIGUOUS_UNIT(NamingError): ...
class E_UNIT_KIND(NamingError): ...

class E_SYNTAX(RecordError): ...
class E_SCHEMA(RecordError): ...
class E_HASH(RecordError): ...
class E_VERSION(RecordError): ...
class E_NUMBER(RecordError): ...
class E_LIBRARY(RecordError): ...
class E_FILE(RecordError): ...
class E_BUSY(RecordError): ...
class E_SIGNATURE(RecordError): ...

class E_INTERNAL(InternalError): ...


CLASSES: dict[int, type[FlowcompError]] = {
    cls.status: cls for name, cls in list(globals().items()) if name.startswith("E_")}


def status_name(status: int) -> str:
    """Name of a status number: ``"OK"``, ``"E_BELOW"`` ..."""
    return _raw.flc_status_name(int(status))


def of_status(status: int, argument: str = "", index: int = -1, value: float = math.nan, limit: float = math.nan,
              message: str = "") -> FlowcompError:
    """The exception of a status, with its detail."""
    return CLASSES.get(status, InternalError)(argument, None if index < 0 else index, value, limit, message)


def of_array(counts: dict[int, int], size: int, first: FlowcompError, index: int) -> FlowcompError:
    """One exception for an array call: how many records of which status, and the first of them in detail.

    ``counts`` is {status number: how many}, ``index`` the place of the first refused record among ``size``.
    """
    named = {status_name(status): count for status, count in sorted(counts.items())}
    listed = ", ".join(f"{count} {name}" for name, count in named.items())
    message = f"{sum(counts.values())} of {size} records refused ({listed}); the first, at {index}: {first.message}"
    return type(first)(first.argument, index, first.value, first.limit, message, named)
