# SPDX-License-Identifier: Apache-2.0
"""The trail that a command adds to."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING

from .cli_support import say
from .errors import FlowcompError
from .input_error import InputError
from .key_file import read_seed

if TYPE_CHECKING:
    from .trail import Trail


@dataclass(frozen=True)
class Kept:
    """An open trail and the time of the entries to be made."""

    trail: Trail
    at: datetime


def moment(text: str, option: str, zone: tzinfo = UTC) -> datetime:
    """A time; without an offset it is local time of the zone."""
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        raise InputError(f"{option} {text}: write a time as 2025-03-20T06:00:00+00:00") from None
    return found if found.tzinfo else found.replace(tzinfo=zone)


def advice(error: FlowcompError) -> str:
    """What to change where a trail cannot be opened."""
    if error.argument == "seed":
        return "pass as --key the key file that the trail was opened with, or --unsigned where it has none"
    if error.status_name == "E_BUSY":
        return "run again when the other program has done its entry"
    if error.status_name == "E_FILE":
        return f"the trail cannot be opened: {os.strerror(int(error.value)) if error.value == error.value else error}"
    return "this trail was not added to; see flowcomp evidence check"


@contextmanager
def open_trail(path: Path | None, key: Path | None, unsigned: bool, at: str) -> Iterator[Kept | None]:
    """The trail for adding, or None where none was named.

    :raises InputError: where it shall be signed and there is no key
    """
    from .trail import Trail

    if key is not None and unsigned:
        raise InputError("--key signs and --unsigned does not: pass one of the two")
    if path is None:
        yield None
        return
    if key is None and not unsigned:
        raise InputError("a trail is signed: pass --key, or --unsigned for one that tells of accidents only")
    when = moment(at, "--at") if at else datetime.now(UTC)
    try:
        opened = Trail(path, at=when, key=read_seed(key) if key else None, unsigned=key is None)
    except FlowcompError as error:
        error.add_note(f"{path}: {advice(error)}")
        raise
    with opened as trail:
        if trail.set_aside_bytes:
            say(f"The trail ended in a torn entry of {trail.set_aside_bytes} bytes; it was set aside in "
                f"{trail.set_aside_path}.")
        yield Kept(trail, when)
