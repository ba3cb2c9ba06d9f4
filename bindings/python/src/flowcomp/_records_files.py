# SPDX-License-Identifier: Apache-2.0
"""Meter files and liquid files: JSON with its own hash, by libflowcomp-records, which is loaded on first use."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any


def to_json(noun: str, raw: Any) -> str:
    """JSON text of a raw meter or liquid."""
    from . import _records
    return getattr(_records, f"flc_{noun}_to_json")(raw)


def from_json(noun: str, text: str | bytes) -> Any:
    """Raw meter or liquid from JSON text."""
    from . import _records
    return getattr(_records, f"flc_{noun}_from_json")(text.encode() if isinstance(text, str) else text)


def hash_of(noun: str, raw: Any) -> str:
    """SHA-256 of the canonical bytes, as 64 hexadecimal digits."""
    from . import _records
    return getattr(_records, f"flc_{noun}_hash")(raw)


def save(noun: str, raw: Any, path: str | os.PathLike[str]) -> None:
    """Write the file."""
    Path(path).write_bytes(to_json(noun, raw).encode())


def load(noun: str, path: str | os.PathLike[str]) -> Any:
    """Read a file; one that was damaged or edited is refused with the place and the reason."""
    return from_json(noun, Path(path).read_bytes())
