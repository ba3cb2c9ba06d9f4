# SPDX-License-Identifier: Apache-2.0
"""Objects that do not change: the library has its own copy of what they were made from, so an attribute set afterwards
would say one thing and every result another."""

from __future__ import annotations

from typing import Any, NoReturn, Self

from ._structs import fields_of


class Immutable:
    """Attributes cannot be set or deleted; a copy is the object itself."""

    __slots__ = ()

    def _fix(self, **fields: Any) -> None:
        """Set fields for good, while the object is made."""
        for name, value in fields.items():
            object.__setattr__(self, name, value)

    def __setattr__(self, name: str, value: Any) -> NoReturn:
        kind = type(self).__name__
        raise AttributeError(f"{name!r} cannot be set: a {kind} does not change; make another {kind}")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"{name!r} cannot be deleted: a {type(self).__name__} does not change")

    def __copy__(self) -> Self:
        return self

    def __deepcopy__(self, memo: dict[int, Any]) -> Self:
        return self


def state_of(raw: Any) -> dict[str, Any]:
    """The fields of a raw struct, with those of the structs in it, for pickle."""
    values = {name: getattr(raw, name) for name in fields_of(type(raw))}
    return {name: state_of(value) if hasattr(value, "thisown") else value for name, value in values.items()}


def set_state(raw: Any, state: dict[str, Any]) -> Any:
    """Set the fields of a raw struct that its initialiser has set up, to the last bit; returns it."""
    for name, value in state.items():
        if isinstance(value, dict):
            set_state(getattr(raw, name), value)
        else:
            setattr(raw, name, value)
    return raw
