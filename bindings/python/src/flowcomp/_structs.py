# SPDX-License-Identifier: Apache-2.0
"""The library's plain structs: filled from keywords, and shown as records of attributes and items."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime
from functools import cache
from typing import Any, NoReturn

from ._words import choice

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@cache
def fields_of(struct: type) -> tuple[str, ...]:
    """Names of the fields of a raw struct, in their order."""
    return tuple(name for name, kind in vars(struct).items()
                 if isinstance(kind, property) and name not in ("size", "thisown"))


def fill(raw: Any, given: Mapping[str, Any], words: Mapping[str, Callable[[str], int]], where: str) -> None:
    """Set the fields given; None leaves a field as its initialiser set it. words: from_name of the choices.

    A field ``_day`` takes a date, a field ``_ms`` a datetime with its offset.
    """
    known = fields_of(type(raw))
    for name, value in given.items():
        if name not in known:
            raise TypeError(f"{where}: no field {name!r}; there are {', '.join(known)}")
        if value is None:
            continue
        if name in words:
            value = choice(name, value, words[name])
        elif isinstance(value, datetime):
            if value.tzinfo is None:
                raise ValueError(f"{where}: {name} needs a time with its offset from UTC")
            elapsed = value - _EPOCH
            value = (elapsed.days * 86_400 + elapsed.seconds) * 1000 + elapsed.microseconds // 1000
        elif isinstance(value, date):
            value = value.toordinal() - _EPOCH.toordinal()
        held = getattr(raw, name)
        setattr(raw, name, float(value) if isinstance(held, float) else int(value))


class Record:
    """A struct of the library as attributes and items: ``record.mf``, ``record["mf"]``, ``dict(record)``."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        self.__dict__.update(values)

    def __setattr__(self, name: str, value: Any) -> NoReturn:
        raise AttributeError(f"{name!r} cannot be set: a {type(self).__name__} is what the library answered")

    def __getitem__(self, name: str) -> Any:
        return self.__dict__[name]

    def keys(self) -> list[str]:
        """Names of the fields."""
        return [name for name in self.__dict__ if not name.startswith("_")]

    def __repr__(self) -> str:
        listed = (f"{name}={value:.10g}" if isinstance(value, float) else f"{name}={value!r}"
                  for name, value in self.__dict__.items() if not name.startswith("_"))
        return f"{type(self).__name__}({', '.join(listed)})"


def values_of(raw: Any) -> dict[str, Any]:
    """The fields of a raw struct by name."""
    return {name: getattr(raw, name) for name in fields_of(type(raw))}
