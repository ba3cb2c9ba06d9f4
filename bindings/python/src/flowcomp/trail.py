# SPDX-License-Identifier: Apache-2.0
"""The trail: an append-only file of configurations, provings, tickets and corrections, chained by SHA-256 and signed.

An unsigned trail protects against accidents only; that last entries were cut off is found only against a head that is
held elsewhere. Keys are 32 bytes (an Ed25519 seed, RFC 8032); keeping them is the caller's part.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from . import _records, errors
from ._times import ms_of
from ._words import choice

if TYPE_CHECKING:
    from .ticket_file import TicketFile

_FINDINGS = 1000


def public_key(seed: bytes) -> bytes:
    """Public key (32 bytes) of a secret seed (32 bytes).

    >>> public_key(bytes.fromhex("9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60")).hex()
    'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a'
    """
    return _records.flc_public_key(seed)


class TrailHead(NamedTuple):
    """An entry's number and hash; that of the last entry is the head of the trail."""

    number: int
    hash: str

    def __str__(self) -> str:
        return f"{self.number}:{self.hash}"

    @classmethod
    def parse(cls, text: str) -> TrailHead:
        """Head of "17:<64 digits>"."""
        number, _, digits = text.partition(":")
        if not number.isdecimal() or len(digits) != 64 or set(digits) - set("0123456789abcdef"):
            raise ValueError("a head is written NUMBER:HASH, with 64 hexadecimal digits")
        return cls(int(number), digits)

    @classmethod
    def _of(cls, raw: Any) -> TrailHead:
        return cls(raw.number, raw.hash)

    def _raw(self) -> Any:
        raw = _records.flc_trail_head()
        raw.number, raw.hash = self
        return raw


class Trail:
    """A trail opened for appending by one writer. A new one is signed unless ``unsigned`` says otherwise.

    :param path: of the file; made where there is none and ``create`` is true
    :param at: time of the entries that the opening itself makes
    :param key: secret seed, 32 bytes; a signed trail takes entries only with its own
    :param wait: wait for another writer instead of raising ``errors.E_BUSY``
    :param sign_every: of a new trail: a signature on every n-th entry
    :param name: of a new trail: site or purpose, up to 63 bytes

    A torn end that a crash left behind is moved into a file beside the trail: ``set_aside_bytes``, ``set_aside_path``.
    """

    def __init__(self, path: str | os.PathLike[str], *, at: datetime, key: bytes | None = None, create: bool = True,
                 unsigned: bool = False, wait: bool = False, sign_every: int = 1, name: str = "") -> None:
        opening = _records.flc_trail_opening()
        self._raw = _records.open_trail(os.fspath(path), key, int(unsigned), int(create), int(wait), sign_every, name,
                                        ms_of(at, "at"), opening)
        self.path = Path(path)
        self.created = bool(opening.created)
        self.signed = bool(opening.is_signed)
        self.set_aside_bytes: int = opening.set_aside_bytes
        self.set_aside_path = Path(opening.set_aside_path) if opening.set_aside_bytes else None

    def __enter__(self) -> Trail:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let other writers in. Nothing acknowledged depends on it."""
        self._raw = None

    @property
    def head(self) -> TrailHead:
        """The last entry that is on the disk."""
        raw = _records.flc_trail_head()
        _records.flc_trail_head_of(self._open(), raw)
        return TrailHead._of(raw)

    def _open(self) -> Any:
        if self._raw is None:
            raise ValueError("the trail is closed")
        return self._raw

    def append(self, kind: str, *, at: datetime, id: str = "", by: str = "",
               data: Mapping[str, Any] | None = None) -> TrailHead:
        """Append one entry; it is on the disk when this returns.

        :param kind: "configuration" (data: before, after), "proving" (accepted), "ticket" (sha256), "correction" (old,
            new, reason), "head" (nothing but a signature)
        :param id: of the ticket or proving (once in a trail), configuration item or corrected value
        """
        head = _records.flc_trail_head()
        number = choice("kind", kind, _records.flc_trail_event_kind_from_name)
        text = json.dumps(data or {}, ensure_ascii=False, allow_nan=False)
        _records.append_trail(self._open(), number, ms_of(at, "at"), id, by, text, head)
        return TrailHead._of(head)

    def configuration(self, item: str, before: Any, after: Any, *, at: datetime, by: str = "") -> TrailHead:
        """A configuration item was set."""
        return self.append("configuration", at=at, id=item, by=by, data={"before": before, "after": after})

    def proving(self, id: str, accepted: bool, *, at: datetime, by: str = "", **data: Any) -> TrailHead:
        """A proving was accepted or refused; data is what the report should keep of it."""
        return self.append("proving", at=at, id=id, by=by, data={**data, "accepted": bool(accepted)})

    def ticket(self, ticket: TicketFile, *, at: datetime, by: str = "") -> TrailHead:
        """A ticket was made: its hash, period and volumes."""
        result = ticket.figures["result"]
        return self.append("ticket", at=at, id=ticket.id, by=by, data={
            "sha256": ticket.sha256, "start": ticket.inputs["start"], "end": ticket.inputs["end"],
            "volume_unit": ticket.inputs["volume_unit"], "gsv": result["gsv"], "nsv": result["nsv"]})

    def correction(self, item: str, old: Any, new: Any, reason: str, *, at: datetime, by: str) -> TrailHead:
        """A value was corrected: the old one stays."""
        return self.append("correction", at=at, id=item, by=by, data={"old": old, "new": new, "reason": reason})

    def sign(self, *, at: datetime) -> TrailHead:
        """Sign all that stands before, where not every entry is signed."""
        return self.append("head", at=at)


@dataclass(frozen=True)
class TrailFinding:
    """One thing a check found: ``reason`` in a word, ``text`` in a sentence, and where."""

    reason: str
    text: str
    entry: int
    line: int
    byte: int


@dataclass(frozen=True)
class TrailReport:
    """What a check found. ``protects`` is the sentence that belongs into every report made from this one."""

    intact: bool
    is_signed: bool
    key_given: bool
    head_given: bool
    lines: int
    signatures: int
    unsigned_last: int
    clock_backwards: int
    head: TrailHead
    public_key: bytes | None
    name: str
    findings: list[TrailFinding]
    findings_total: int
    protects: str


def check_trail(path: str | os.PathLike[str], *, public_key: bytes | None = None, head: TrailHead | None = None,
                signatures: bool = True) -> TrailReport:
    """Check a whole trail: every hash, number and signature.

    :param public_key: that you trust, 32 bytes; None: the one that the trail itself names
    :param head: held elsewhere, for instance in the last ticket; without it a cut end is not found
    :param signatures: False: hashes and numbers only
    """
    report = _records.flc_trail_report()
    _records.flc_trail_report_init(report)
    found = _records.flc_trail_check(os.fspath(path), public_key, head._raw() if head is not None else None,
                                     int(signatures), report, _FINDINGS)
    listed = [TrailFinding(_records.flc_trail_reason_word(one.reason), _records.flc_trail_reason_text(one.reason),
                           one.entry, one.line, one.byte) for one in found[:report.findings]]
    return TrailReport(
        intact=bool(report.intact), is_signed=bool(report.is_signed), key_given=bool(report.key_given),
        head_given=bool(report.head_given), lines=report.lines, signatures=report.signatures,
        unsigned_last=report.unsigned_last, clock_backwards=report.clock_backwards, head=TrailHead._of(report.head),
        public_key=report.public_key if report.is_signed else None, name=report.name, findings=listed,
        findings_total=report.findings, protects=_records.flc_trail_report_text(report))


def trail_entries(path: str | os.PathLike[str]) -> Iterator[dict[str, Any]]:
    """The entries of a trail in their order: entry, previous, at, type, id, by, data, hash, signature (None: unsigned).

    They are read, not judged: check_trail does that. A torn end is left out.
    """
    with open(path, "rb") as file:
        for number, line in enumerate(file, 1):
            if not line.endswith(b"\n"):
                return
            try:
                entry = json.loads(line)
                yield {**entry["body"], "hash": entry["hash"], "signature": entry.get("signature")}
            except (ValueError, KeyError, TypeError) as reason:
                raise errors.E_SCHEMA("line", number, message=f"line {number} is no entry of a trail") from reason
