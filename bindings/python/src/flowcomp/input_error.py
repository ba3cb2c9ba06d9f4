# SPDX-License-Identifier: Apache-2.0
"""A user's mistake, said so that it can be mended: file, line, column, what is wrong, what to change."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from pathlib import Path


class InputError(ValueError):
    """Something in a file or on the command line that only the user can mend; shown without a traceback."""

    def __init__(self, message: str, *, file: Path | str | None = None, line: int | None = None,
                 column: str | None = None, row: int | None = None) -> None:
        place = [str(file)] if file is not None else []
        if line is not None:
            place.append(f"line {line}")
        if row is not None:
            place.append(f"row {row}")
        if column is not None:
            place.append(f"column {column}")
        super().__init__(f"{', '.join(place)}: {message}" if place else message)
        self.file, self.line, self.column, self.row = file, line, column, row


def close_names(name: str, known: Iterable[str]) -> str:
    """A sentence part that offers the nearest known names, or nothing."""
    names = sorted(known)
    near = [known_name for known_name in names if name and known_name.startswith(name)][:3]
    near = near or difflib.get_close_matches(name, names, n=3, cutoff=0.5)
    return f" (did you mean {' or '.join(near)}?)" if near else ""


def near_columns(name: str, columns: Iterable[str]) -> str:
    """A sentence part that points at columns whose names are near a missing one, or nothing."""
    near = difflib.get_close_matches(name, list(columns), n=2, cutoff=0.5)
    return f" (is it {' or '.join(near)}? rename it)" if near else ""


def one_of(word: str, choices: Iterable[str], what: str, *, file: Path | str | None = None,
           line: int | None = None) -> str:
    """The word if it is one of the choices."""
    known = list(choices)
    if word not in known:
        raise InputError(f"{what} is '{word}'; it must be one of {', '.join(known)}{close_names(word, known)}",
                         file=file, line=line)
    return word
