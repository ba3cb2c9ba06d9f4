# SPDX-License-Identifier: Apache-2.0
"""Which software this is, as OIML D 31 asks a legally relevant module to show on demand and at start."""

from __future__ import annotations

from . import _records
from ._structs import Record, values_of


class Identity(Record):
    """version, bits_contract, code_sha256 (of the library as loaded), methods_sha256, tables_sha256, methods and tables
    (how many)."""


def identify() -> Identity:
    """Identify the library that is loaded: show it, keep it, compare it at each start.

    >>> identify().bits_contract
    'FLC-BITS-1'
    """
    raw = _records.flc_identity()
    _records.flc_identity_init(raw)
    _records.flc_identify(raw)
    return Identity(values_of(raw))
