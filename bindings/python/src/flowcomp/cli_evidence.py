# SPDX-License-Identifier: Apache-2.0
"""The commands ``flowcomp evidence``: list, check and export a trail."""

from __future__ import annotations

import csv
import enum
import io
import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from .cli_support import EPILOG, FINDINGS, FINE, guarded, say, table
from .input_error import InputError, one_of

if TYPE_CHECKING:
    from .trail import TrailHead

Format = enum.StrEnum("Format", {"CSV": "csv", "JSON": "json"})
SHORT = 60  # characters of an entry's data on the terminal
evidence = typer.Typer(no_args_is_help=True, epilog=EPILOG, help="The trail of configurations, provings, tickets and "
                       "corrections: list it, check it, export it.")
Path_ = Annotated[Path, typer.Argument(help="Trail file.", metavar="TRAIL")]
KINDS = ("opened", "configuration", "proving", "ticket", "correction", "head", "set_aside")
Kind = Annotated[str, typer.Option(help=f"Entries of one type only: {', '.join(KINDS)}.")]


@evidence.command("list", epilog=EPILOG)
@guarded
def list_(trail: Path_, type: Kind = "",
          last: Annotated[int, typer.Option(help="The last so many; 0: all.", min=0)] = 0) -> None:
    """List the entries of a trail. This does not check it: see evidence check."""
    rows = [[str(entry["entry"]), entry["at"], entry["type"], entry["id"], entry["by"],
             shortened(entry["data"]), entry["hash"][:12], "yes" if entry["signature"] else "no"]
            for entry in entries_of(trail, type)]
    table(f"{len(rows)} entries", ["entry", "at", "type", "id", "by", "data", "hash", "signed"],
          rows[-last:] if last else rows, texts=(1, 2, 3, 4, 5, 6, 7))
    say("Listed, not checked: flowcomp evidence check.")


@evidence.command(epilog=EPILOG)
@guarded
def check(
    trail: Path_,
    public_key: Annotated[str, typer.Option(help="Key that must have signed: 64 hexadecimal digits, or a file.")] = "",
    head: Annotated[str, typer.Option(help="A head held elsewhere, NUMBER:HASH: the trail must reach it.")] = "",
    ticket: Annotated[Path | None, typer.Option(help="Or the last ticket, which holds the head before it.")] = None,
) -> int:
    """Check chain, order, signatures and, against a head held elsewhere, that nothing was cut off; exit code 1 if not.
    """
    from .key_file import public_key_of
    from .trail import check_trail

    must_exist(trail)
    key = public_key_of(public_key) if public_key else None
    report = check_trail(trail, public_key=key, head=known_head(head, ticket, key))
    if report.findings:
        table(f"{report.findings_total} finding(s)", ["reason", "entry", "line", "byte", "meaning"],
              [[finding.reason, str(finding.entry), str(finding.line), str(finding.byte), finding.text]
               for finding in report.findings], texts=(0, 4))
        say()
    say(f"{trail}: {'intact' if report.intact else 'NOT INTACT'}, {report.lines} lines, {report.signatures} "
        f"signatures, head {report.head}")
    if report.clock_backwards:
        say(f"The clock ran backwards {report.clock_backwards} time(s): the order is that of the entries, not of their "
            "times.")
    say(report.protects)
    if not report.head_given:
        say("No head was given: whole entries cut off at the end cannot be seen. Give --head or --ticket.")
    return FINE if report.intact else FINDINGS


@evidence.command(epilog=EPILOG)
@guarded
def export(
    trail: Path_,
    out: Annotated[Path, typer.Option(help="File to write.")],
    type: Kind = "",
    format: Annotated[Format, typer.Option(help="CSV, a line an entry, its data as JSON; or a JSON list.")
                      ] = Format.CSV,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace a file that is there already.")] = False,
) -> None:
    """Write the entries for other programs. The copy is no evidence: the trail is."""
    from .safe_output import OutputFiles

    entries = list(entries_of(trail, type))
    with OutputFiles(overwrite) as files:
        text = json.dumps(entries, indent=2, ensure_ascii=False) + "\n" if format is Format.JSON else as_csv(entries)
        files.part(out).write_text(text, encoding="utf-8")
    say(f"Written: {out}, {len(entries)} entries. The copy is no evidence: keep the trail itself.")


def entries_of(trail: Path, kind: str) -> Iterator[dict[str, Any]]:
    from .trail import trail_entries

    must_exist(trail)
    if kind:
        one_of(kind, KINDS, "--type")
    return (entry for entry in trail_entries(trail) if not kind or entry["type"] == kind)


def must_exist(trail: Path) -> None:
    if not trail.is_file():
        raise InputError("there is no such trail", file=trail)


def known_head(head: str, ticket: Path | None, key: bytes | None = None) -> TrailHead | None:
    """The head held elsewhere: as text, or of a ticket that verifies, by the key where one is given."""
    from .ticket_file import TicketFile
    from .trail import TrailHead

    if head and ticket:
        raise InputError("give --head or --ticket, not both")
    if head:
        try:
            return TrailHead.parse(head)
        except ValueError as error:
            raise InputError(f"--head {head}: {error}") from None
    if ticket is None:
        return None
    if not ticket.is_file():
        raise InputError("there is no such file", file=ticket)
    loaded = TicketFile.load(ticket)
    verdict = loaded.verify(public_key=key)
    if not verdict.good:
        raise InputError(f"the ticket does not verify, and its head tells nothing. {verdict.sentence}", file=ticket)
    found = loaded.head
    if found is None:
        raise InputError("the ticket was made without a trail", file=ticket)
    return found


def shortened(data: dict[str, Any]) -> str:
    text = ", ".join(f"{name} {value}" for name, value in data.items())
    return text if len(text) <= SHORT else text[: SHORT - 1] + "…"


def as_csv(entries: list[dict[str, Any]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    columns = ("entry", "at", "type", "id", "by", "data", "previous", "hash", "signature")
    writer.writerow(columns)
    for entry in entries:
        cells = entry | {"data": json.dumps(entry["data"], ensure_ascii=False, sort_keys=True)}
        writer.writerow([cells[name] if cells[name] is not None else "" for name in columns])
    return text.getvalue()
