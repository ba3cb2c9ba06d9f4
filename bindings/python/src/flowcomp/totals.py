# SPDX-License-Identifier: Apache-2.0
"""Totals that grouping cannot change."""

from __future__ import annotations

import os
from typing import Any

from . import _flowcomp as _raw
from . import errors
from ._words import flag_words
from .rounding import Rounding, policy_of

_FIELDS = tuple(name for name, kind in vars(_raw.flc_totals).items()
                if isinstance(kind, property) and name not in ("size", "thisown"))


class Totals:
    """Totals of evaluated records, in whole accumulation units (1 µL by default): any order and any grouping of the
    records gives the same. Raw pulses stand beside the volumes.

    The counts are attributes: records, unreadable, refused, pulses_in, pulses_forward, pulses_reverse, pulses_below,
    pulses_cutoff, pulses_refused, gross_forward, gross_reverse, base_forward, base_reverse, mass_forward, mass_reverse.
    Every pulse that goes in comes out in exactly one place; ``balance()`` says by how many that fails.

    :param unit_m3: accumulation unit, m3, 1e-12 to 1e-3

    >>> Totals().gross_m3()
    0.0
    """

    __slots__ = ("_raw",)

    def __init__(self, unit_m3: float = 1e-9) -> None:
        self._raw = _raw.flc_totals()
        _raw.flc_totals_start(self._raw, float(unit_m3))

    def __getattr__(self, name: str) -> Any:
        if name in _FIELDS:
            return getattr(self._raw, name)
        raise AttributeError(f"totals have no field {name!r}")

    def __dir__(self) -> list[str]:
        return [*super().__dir__(), *_FIELDS]

    def merge(self, other: Totals) -> Totals:
        """Add other totals of the same unit; returns self."""
        _raw.flc_totals_merge(self._raw, other._raw)
        return self

    def copy(self) -> Totals:
        """The same totals, apart."""
        return Totals(self.unit_m3).merge(self)

    __copy__ = copy

    def __deepcopy__(self, memo: dict[int, Any]) -> Totals:
        return self.copy()

    def __reduce__(self) -> tuple[Any, ...]:
        return Totals.from_bytes, (self.to_bytes(),)

    def __setattr__(self, name: str, value: Any) -> None:
        if name != "_raw":
            raise AttributeError(f"{name!r} cannot be set: totals are added to by evaluate(totals=...) and merge()")
        super().__setattr__(name, value)

    def to_bytes(self) -> bytes:
        """Canonical bytes, to be kept over a restart or hashed."""
        _, _, needed = _raw.flc_totals_canonical(self._raw, 0)
        return _raw.flc_totals_canonical(self._raw, needed)[1]

    @classmethod
    def from_bytes(cls, data: bytes) -> Totals:
        """The very same totals from their canonical bytes."""
        totals = cls()
        _raw.flc_totals_restore(data, totals._raw)
        return totals

    def save(self, path: str | os.PathLike[str]) -> None:
        """Save to a file, which is replaced as a whole or not at all; it is on the disk when this returns."""
        from . import _records
        _records.flc_totals_save(os.fspath(path), self._raw)

    @classmethod
    def load(cls, path: str | os.PathLike[str]) -> Totals:
        """Totals that ``save`` saved, the very same; a damaged file is refused."""
        from . import _records
        totals = cls()
        _records.flc_totals_load(os.fspath(path), totals._raw)
        return totals

    def balance(self) -> int:
        """Pulses in less the sum of the places they went to: 0 when balanced."""
        return _raw.flc_totals_balance(self._raw)

    def flag_words(self) -> list[str]:
        """Flags that any record carried, as words."""
        return flag_words(self.flags)

    def _quantity(self, name: str, unit: float, direction: str, rounding: Rounding | int | None) -> float:
        if direction == "net":
            units = getattr(self, name + "_forward") - getattr(self, name + "_reverse")
        elif direction in ("forward", "reverse"):
            units = getattr(self, f"{name}_{direction}")
        else:
            raise errors.E_UNKNOWN_NAME("direction", message="direction is 'forward', 'reverse' or 'net', "
                                                             f"not {direction!r}")
        return _raw.flc_totals_quantity(units, unit, policy_of(rounding))

    def gross_m3(self, rounding: Rounding | int | None = None, direction: str = "forward") -> float:
        """Gross volume, m3, rounded once where a policy (or a number of decimals) is given.

        :param direction: "forward", "reverse" (a positive volume), or "net"
        """
        return self._quantity("gross", self.unit_m3, direction, rounding)

    def base_m3(self, rounding: Rounding | int | None = None, direction: str = "forward") -> float:
        """Volume at base conditions, m3; as gross_m3."""
        return self._quantity("base", self.unit_m3, direction, rounding)

    def mass_kg(self, rounding: Rounding | int | None = None, direction: str = "forward") -> float:
        """Base volume times base density, kg; as gross_m3."""
        return self._quantity("mass", self.mass_unit_kg, direction, rounding)

    def to_dict(self) -> dict[str, Any]:
        """All fields by name."""
        return {name: getattr(self, name) for name in _FIELDS}

    def __repr__(self) -> str:
        return (f"Totals({self.records} records, {self.refused} refused; gross {self.gross_m3():.10g} m3 forward, "
                f"{self.gross_m3(direction='reverse'):.10g} m3 reverse; base {self.base_m3():.10g} m3 forward; "
                f"{self.pulses_in} pulses)")
