# SPDX-License-Identifier: Apache-2.0
"""Ticket files: a ticket as JSON that holds whatever its figures rest on, so that anybody can work them out again.

A recomputed figure is a claim until the parties agree; their contract and local code come first.
"""

from __future__ import annotations

import json
import math
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple

from . import _flowcomp as _raw
from . import _records, errors
from ._times import text_of
from .liquid import Liquid
from .meter import Meter
from .rounding import Rounding
from .trail import TrailHead

_DIFFERENCES = 1000
_KINDS = {_raw.FLC_ROUNDING_NONE: "none", _raw.FLC_ROUNDING_DECIMALS: "decimals",
          _raw.FLC_ROUNDING_INCREMENT: "increment"}


class TicketDifference(NamedTuple):
    """A figure that is not what its inputs give; NaN where it is no number."""

    figure: str
    stored: float
    recomputed: float


@dataclass(frozen=True)
class TicketVerdict:
    """What verifying a ticket file found; ``good`` is the sum of it, ``sentence`` says it for people."""

    good: bool
    hash_good: bool
    same_contract: bool
    seal: str
    figures: int
    differences: list[TicketDifference]
    differences_total: int
    id: str
    sha256: str
    public_key: bytes | None
    head: TrailHead | None

    @property
    def sentence(self) -> str:
        """The verdict in words, with what it does not say."""
        parts = ["every figure was worked out again and has the same bits" if not self.differences_total else
                 f"{self.differences_total} of {self.figures} figures differ from what their inputs give, first "
                 f"{self.differences[0].figure}",
                 "the content matches its hash" if self.hash_good else "the content was changed: it does not match its "
                 "hash",
                 {"none": "it is not signed, so the hash tells accidents only",
                  "good": "it is signed by the key given",
                  "own": "it is signed by the key that it names itself; whose that is, only you can know",
                  "bad": "its signature does not match",
                  "other_key": "it is signed by another key than the one given",
                  "missing": "it is not signed, though a key was given"}[self.seal]]
        if not self.same_contract:
            parts.append("it was made under another contract of bits than this library's")
        return f"Ticket {self.id}: {'; '.join(parts)}. A recomputed figure is a claim until the parties agree."


def verify_ticket(source: str | bytes | os.PathLike[str], *, public_key: bytes | None = None) -> TicketVerdict:
    """Verify a ticket file: its one byte form, hash, signature, and every figure, compared bit by bit.

    :param source: a path, or the text itself (bytes, or a str that begins with "{")
    :param public_key: that you trust, 32 bytes
    """
    if isinstance(source, str) and source.lstrip()[:1] == "{":
        source = source.encode()
    text = source if isinstance(source, bytes) else Path(source).read_bytes()
    verdict = _records.flc_ticket_verdict()
    _records.flc_ticket_verdict_init(verdict)
    found = _records.flc_ticket_verify(text, public_key, verdict, _DIFFERENCES)
    listed = [TicketDifference(one.figure, one.stored, one.recomputed) for one in found[:verdict.differences]]
    return TicketVerdict(
        good=bool(verdict.good), hash_good=bool(verdict.hash_good), same_contract=bool(verdict.same_contract),
        seal=_records.flc_seal_word(verdict.seal), figures=verdict.figures, differences=listed,
        differences_total=verdict.differences, id=verdict.id, sha256=verdict.sha256,
        public_key=verdict.public_key if any(verdict.public_key) else None,
        head=TrailHead(verdict.trail.number, verdict.trail.hash) if verdict.trail.number else None)


class TicketFile:
    """A ticket file in its one canonical byte form. Make it with ``new``, ``load`` or ``from_text``."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.document: dict[str, Any] = json.loads(text)

    @classmethod
    def new(cls, inputs: Mapping[str, Any], *, liquid: Liquid | None = None, meter: Meter | None = None,
            head: TrailHead | None = None, key: bytes | None = None) -> TicketFile:
        """Work out every figure of a ticket and sign it.

        :param inputs: the keys under "inputs" in schema/flowcomp-ticket-1.schema.json; those left out stand at their
            defaults. Times may be datetimes with their offset, rounding policies Rounding objects or decimals
        :param liquid, meter: kept in the file as a whole
        :param head: of the trail, now
        :param key: secret seed, 32 bytes; None: not signed, and the hash tells accidents only

        >>> ticket = TicketFile.new({"id": "T-1", "start": "2025-01-01T00:00:00.000Z", "end":
        ...     "2025-01-02T00:00:00.000Z", "iv_source": "readings", "opening": 10, "closing": 1010,
        ...     "ticket": {"mf": 1.001, "ctl": 0.99, "cpl": 1.0001}})
        >>> ticket.verify().good
        True
        """
        given = {name: _plain(value, name) for name, value in inputs.items()}
        if liquid is not None:
            given["liquid"] = json.loads(liquid.to_json())
        if meter is not None:
            given["meter"] = json.loads(meter.to_json())
        if head is not None:
            given["trail"] = {"number": head.number, "hash": head.hash}
        text = json.dumps(given, ensure_ascii=False)
        return cls(_records.flc_ticket_file_from_inputs(text.encode(), key))

    @classmethod
    def from_text(cls, text: str | bytes) -> TicketFile:
        """A ticket from its text; any but the one byte form is refused. Whether it is good, ``verify`` says."""
        raw = text.encode() if isinstance(text, str) else text
        verify_ticket(raw)
        return cls(raw.decode())

    @classmethod
    def load(cls, path: str | os.PathLike[str]) -> TicketFile:
        """A ticket from a file."""
        return cls.from_text(Path(path).read_bytes())

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write the file; an existing one is replaced as a whole or not at all."""
        path = Path(path)
        beside = path.with_name(path.name + ".new")
        with open(beside, "wb") as file:
            file.write(self.text.encode())
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, path)
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)

    @property
    def inputs(self) -> dict[str, Any]:
        """What was given."""
        return self.document["inputs"]

    @property
    def figures(self) -> dict[str, Any]:
        """What follows from it."""
        return self.document["figures"]

    @property
    def methods(self) -> list[dict[str, str]]:
        """The published methods it rests on: method, source with edition, status."""
        return self.document["methods"]

    @property
    def id(self) -> str:
        """Identifier."""
        return self.inputs["id"]

    @property
    def sha256(self) -> str:
        """SHA-256 of the text with hash and signature left empty."""
        return self.document["sha256"]

    @property
    def signed(self) -> bool:
        """Whether it carries a signature; whether that is good, ``verify`` says."""
        return bool(self.document["signature"])

    @property
    def head(self) -> TrailHead | None:
        """Head of the trail when the ticket was made."""
        trail = self.inputs["trail"]
        return TrailHead(int(trail["number"]), trail["hash"]) if trail["number"] else None

    @cached_property
    def liquid(self) -> Liquid | None:
        """The liquid that it holds."""
        return Liquid.from_json(json.dumps(self.inputs["liquid"])) if self.inputs["liquid"] else None

    @cached_property
    def meter(self) -> Meter | None:
        """The meter that it holds."""
        return Meter.from_json(json.dumps(self.inputs["meter"])) if self.inputs["meter"] else None

    def verify(self, *, public_key: bytes | None = None) -> TicketVerdict:
        """Every figure worked out again, hash and signature judged."""
        return verify_ticket(self.text.encode(), public_key=public_key)

    def __repr__(self) -> str:
        return f"TicketFile(id={self.id!r}, sha256={self.sha256[:12]}..., {'signed' if self.signed else 'unsigned'})"


def _plain(value: Any, name: str) -> Any:
    """A value of the inputs as JSON has it."""
    if isinstance(value, datetime):
        return text_of(value, name)
    if isinstance(value, Rounding):
        policy = value._raw
        return {"kind": _KINDS[policy.kind], "decimals": policy.decimals, "step": policy.step}
    if isinstance(value, Mapping):
        rounding = name == "rounding"
        return {key: _plain(Rounding.decimals(one) if rounding and isinstance(one, int) else one, key)
                for key, one in value.items() if not (rounding and one is None)}
    if isinstance(value, (str, bool, int)) or value is None:
        return value
    if isinstance(value, Sequence):
        return [_plain(one, name) for one in value]
    if hasattr(value, "to_dict"):
        return [_plain(row, name) for row in value.to_dict("records")]
    number = float(value)
    if math.isinf(number):
        raise errors.E_INFINITE(f"inputs.{name}", value=number)
    return None if math.isnan(number) else number
