# SPDX-License-Identifier: Apache-2.0
"""Rounding as a policy: half away from zero, once, never in steps; the default is none."""

from __future__ import annotations

from typing import Any

import numpy as np

from . import _flowcomp as _raw
from . import methods
from ._arrays import map_records
from ._immutable import Immutable


class Rounding(Immutable):
    """A rounding policy. Make it with one of ``none``, ``decimals``, ``increment``.

    >>> Rounding.decimals(4).round(1.00805)
    1.0081
    >>> Rounding.increment(0.05).round(15.526)
    15.55
    >>> Rounding.none().round(2.5)
    2.5
    """

    __slots__ = ("_raw", "_text")

    def __init__(self, raw: Any, text: str) -> None:
        self._fix(_raw=raw, _text=text)

    @classmethod
    def none(cls) -> Rounding:
        """No rounding."""
        return cls(_raw.flc_rounding_none(), "none()")

    @classmethod
    def decimals(cls, decimals: int) -> Rounding:
        """So many decimals, -9 to 12; -2 rounds to hundreds."""
        return cls(_raw.flc_rounding_to_decimals(decimals), f"decimals({decimals})")

    @classmethod
    def increment(cls, step: float) -> Rounding:
        """A multiple of a step, such as 0.05; a decimal number of at most 12 decimals."""
        return cls(_raw.flc_rounding_to_increment(step), f"increment({step!r})")

    @classmethod
    def of(cls, raw: Any) -> Rounding:
        """From the library's own struct, which is copied."""
        if raw.kind == _raw.FLC_ROUNDING_DECIMALS:
            return cls.decimals(raw.decimals)
        return cls.increment(raw.step) if raw.kind == _raw.FLC_ROUNDING_INCREMENT else cls.none()

    def __reduce__(self) -> tuple[Any, ...]:
        if self._raw.kind == _raw.FLC_ROUNDING_DECIMALS:
            return Rounding.decimals, (self._raw.decimals,)
        return (Rounding.increment, (self._raw.step,)) if self._raw.kind == _raw.FLC_ROUNDING_INCREMENT else \
            (Rounding.none, ())

    def round(self, value: Any) -> Any:
        """Rounded value, in the form of the input (number, array, Series)."""
        return map_records(lambda x: (_raw.flc_round(x, self._raw),), {"value": value}, ("value",))["value"]

    def __repr__(self) -> str:
        return f"Rounding.{self._text}"


def round_half_away(value: Any, decimals: Any = 0) -> Any:
    """Round half away from zero, once; a value within 4 epsilon of a tie counts as a tie.

    >>> round_half_away(2.5), round_half_away(-0.125, 2)
    (3.0, -0.13)
    """
    return methods.round_half_away(value=value, decimals=decimals)


def policy_of(rounding: Rounding | int | None) -> Any:
    """The library's policy: of a Rounding, of a number of decimals, or none."""
    if rounding is None:
        return _raw.flc_rounding_none()
    if isinstance(rounding, (int, np.integer)):
        return _raw.flc_rounding_to_decimals(int(rounding))
    return rounding._raw
