# SPDX-License-Identifier: Apache-2.0
"""Times of files: milliseconds since 1970 and the text "2025-01-31T06:00:00.000Z"."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def ms_of(time: datetime, name: str) -> int:
    """Milliseconds since 1970 UTC of a time with its offset; parts of a millisecond are cut off."""
    if not isinstance(time, datetime):
        raise TypeError(f"{name}: a datetime is needed")
    if time.tzinfo is None:
        raise ValueError(f"{name} needs a time with its offset from UTC")
    return (time - _EPOCH) // timedelta(milliseconds=1)


def text_of(time: datetime, name: str) -> str:
    """The text of a time as files have it."""
    ms = ms_of(time, name)
    whole = _EPOCH + timedelta(milliseconds=ms)
    return f"{whole:%Y-%m-%dT%H:%M:%S}.{ms % 1000:03d}Z"
