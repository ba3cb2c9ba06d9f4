# SPDX-License-Identifier: Apache-2.0
"""The trail, software identity and saved totals from Python."""

from __future__ import annotations

import hashlib
import struct
from datetime import datetime, timedelta
from pathlib import Path

import flowcomp as fc
import pytest
import ticket_examples as examples

PUBLIC = fc.public_key(examples.KEY)


def make(path: Path, entries: int = 9, **options: object) -> fc.TrailHead:
    with fc.Trail(path, **{"at": examples.START, "key": examples.KEY, "name": "invented depot", **options}) as trail:
        for i in range(entries):
            trail.configuration("nkf", i, i + 1 / 3, at=examples.START + timedelta(minutes=i), by="a person")
        return trail.head


def test_a_trail_is_kept_and_checked(tmp_path: Path) -> None:
    path = tmp_path / "depot.trail"
    head = make(path)
    report = fc.check_trail(path, public_key=PUBLIC, head=head)
    assert report.intact and report.is_signed and report.lines == report.signatures == 10
    assert report.head == head == fc.TrailHead.parse(str(head)) and report.public_key == PUBLIC
    assert "whoever does not hold the key" in report.protects
    entries = list(fc.trail_entries(path))
    assert [entry["entry"] for entry in entries] == list(range(1, 11)) and entries[-1]["hash"] == head.hash
    assert entries[4]["data"] == {"before": 3, "after": 3 + 1 / 3} and entries[4]["at"] == "2025-01-31T06:03:00.000Z"
    assert make(path, 2).number == 12


def test_it_is_signed_unless_told_otherwise(tmp_path: Path) -> None:
    with pytest.raises(fc.errors.E_MISSING) as caught:
        fc.Trail(tmp_path / "a", at=examples.START)
    assert caught.value.argument == "seed" and "accidents only" in str(caught.value)
    make(tmp_path / "b", key=None, unsigned=True)
    report = fc.check_trail(tmp_path / "b")
    assert report.intact and not report.is_signed and "accidents only" in report.protects
    with pytest.raises(fc.errors.E_CONFLICT):
        make(tmp_path / "b")
    with pytest.raises(ValueError, match="32 bytes"):
        fc.public_key(b"short")


def test_findings_are_located(tmp_path: Path) -> None:
    path = tmp_path / "depot.trail"
    head = make(path)
    lines = path.read_bytes().splitlines(keepends=True)
    for changed, expected in (
            (lines[:4] + lines[5:], [("gap", 5)]), (lines[:4] + [lines[5], lines[4]] + lines[6:], [("gap", 5), ("order", 5)]),
            (lines[:-1], [("cut", 10)]), (lines[:3] + [lines[3].replace(b'"before":2', b'"before":9')] + lines[4:],
                                          [("edited", 4)]), (lines[:-1] + [lines[-1][:-9]], [("torn", 10), ("cut", 10)])):
        path.write_bytes(b"".join(changed))
        report = fc.check_trail(path, public_key=PUBLIC, head=head)
        assert not report.intact and [(one.reason, one.entry) for one in report.findings] == expected
        assert all(one.text for one in report.findings) and report.findings_total == len(expected)


def test_a_torn_end_is_set_aside(tmp_path: Path) -> None:
    path = tmp_path / "depot.trail"
    make(path)
    with open(path, "ab") as file:
        file.write(b'{"body":{"entry":11,')
    with fc.Trail(path, at=examples.START, key=examples.KEY) as trail:
        assert trail.set_aside_bytes == 20 and trail.set_aside_path.read_bytes() == b'{"body":{"entry":11,'
        assert not trail.created and trail.head.number == 11
    assert fc.check_trail(path, public_key=PUBLIC).intact
    assert list(fc.trail_entries(path))[-1]["data"]["sha256"] == hashlib.sha256(b'{"body":{"entry":11,').hexdigest()


def test_bad_input(tmp_path: Path) -> None:
    path = tmp_path / "depot.trail"
    with fc.Trail(path, at=examples.START, key=examples.KEY) as trail:
        trail.proving("P-1", False, at=examples.START, reason="repeatability")
        with pytest.raises(fc.errors.E_BUSY):
            fc.Trail(path, at=examples.START, key=examples.KEY)
        with pytest.raises(fc.errors.E_DUPLICATE):
            trail.proving("P-1", True, at=examples.START)
        with pytest.raises(ValueError, match="offset"):
            trail.configuration("a", 1, 2, at=datetime(2025, 1, 1))
        with pytest.raises(ValueError):
            trail.configuration("a", 1, float("nan"), at=examples.START)
        with pytest.raises(fc.errors.E_MISSING):
            trail.correction("a", 1, 2, "why", at=examples.START, by="")
        with pytest.raises(LookupError):
            trail.append("party", at=examples.START)
        assert trail.head.number == 2
    with pytest.raises(ValueError, match="closed"):
        trail.head  # noqa: B018
    with pytest.raises(fc.errors.E_FILE):
        fc.check_trail(tmp_path / "none")
    (tmp_path / "letter").write_text("Dear sir,\n")
    with pytest.raises(fc.errors.E_SCHEMA):
        fc.check_trail(tmp_path / "letter")
    with pytest.raises(fc.errors.E_SCHEMA):
        list(fc.trail_entries(tmp_path / "letter"))
    with pytest.raises(ValueError):
        fc.TrailHead.parse("7:xyz")


def test_tickets_stand_in_the_trail(tmp_path: Path) -> None:
    path = tmp_path / "depot.trail"
    with fc.Trail(path, at=examples.START, key=examples.KEY) as trail:
        first = fc.TicketFile.new(examples.by_readings(), key=examples.KEY, head=trail.head)
        head = trail.ticket(first, at=examples.START, by="a person")
        second = fc.TicketFile.new(examples.by_readings() | {"id": "R-2"}, key=examples.KEY, head=trail.head)
    assert second.head == head and second.verify().head == head
    entry = list(fc.trail_entries(path))[-1]
    assert entry["data"]["sha256"] == first.sha256 and entry["id"] == "R-1"
    assert fc.check_trail(path, head=second.head).intact


def read_only_segments(path: str) -> bytes:
    """Bytes of the ELF segments that are loaded and not writable, read from the file (System V ABI)."""
    data = Path(path).read_bytes()
    offset, size, count = struct.unpack_from("<Q", data, 32)[0], *struct.unpack_from("<HH", data, 54)
    segments = [struct.unpack_from("<IIQQQQQQ", data, offset + i * size) for i in range(count)]
    return b"".join(data[at:at + length] for kind, flags, at, _, _, length, _, _ in segments
                    if kind == 1 and flags & 4 and not flags & 2)


def test_identity_is_that_of_the_file_on_disk() -> None:
    identity = fc.identify()
    path = Path(fc.__file__).parent / "libflowcomp.so.0"
    assert identity.code_sha256 == hashlib.sha256(read_only_segments(str(path))).hexdigest()
    assert identity.version == fc.versions()["libflowcomp"] and identity.bits_contract == fc.versions()["bits_contract"]
    assert len({identity.code_sha256, identity.methods_sha256, identity.tables_sha256}) == 3
    assert dict(fc.identify()) == dict(identity)


def test_totals_are_saved_whole(tmp_path: Path) -> None:
    totals = fc.Totals(1e-8)
    totals.save(tmp_path / "totals")
    assert fc.Totals.load(tmp_path / "totals").to_bytes() == totals.to_bytes()
    whole = (tmp_path / "totals").read_bytes()
    (tmp_path / "totals").write_bytes(whole[:-1] + bytes([whole[-1] ^ 1]))
    with pytest.raises(fc.errors.E_HASH):
        fc.Totals.load(tmp_path / "totals")
    with pytest.raises(fc.errors.E_FILE):
        totals.save(tmp_path / "none" / "totals")
