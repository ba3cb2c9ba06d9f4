# SPDX-License-Identifier: Apache-2.0
"""The command ``flowcomp prove``: reports of provings, the factor in force, and the history with its charts."""

from __future__ import annotations

import enum
import hashlib
import json
import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .cli_support import FINDINGS, FINE, guarded, say, table
from .cli_trail import open_trail
from .input_error import InputError

if TYPE_CHECKING:
    from .cli_trail import Kept
    from .proving_case import Means
    from .proving_file import ProvingFile
    from .proving_history import History
    from .proving_report import Case
    from .safe_output import OutputFiles

OnVoid = enum.StrEnum("OnVoid", {"FLAG": "flag", "REFUSE": "refuse"})
INPUT, RULES, TRAIL, OUTPUT = "Input", "Rules", "Trail", "Output"


@guarded
def prove(
    runs: Annotated[list[Path], typer.Argument(help="A file for each proving: CSV or JSON, in any order.",
                                               metavar="RUNS...")],
    out: Annotated[Path, typer.Option(help="Folder for the reports.", rich_help_panel=OUTPUT)],
    prover: Annotated[Path | None, typer.Option(help="File of the prover's certificate, where the runs do not hold it.",
                                                rich_help_panel=INPUT)] = None,
    meter: Annotated[Path | None, typer.Option(
        help="Meter file: the factor stands on its curve. Without it the runs name a nominal K.",
        rich_help_panel=INPUT)] = None,
    liquids: Annotated[Path | None, typer.Option(
        help="Liquid file, folder or table: gives CTL and CPL. Without it each pass has its own.",
        rich_help_panel=INPUT)] = None,
    history: Annotated[Path | None, typer.Option(help="Earlier provings: a history.csv of this command.",
                                                 rich_help_panel=INPUT)] = None,
    baseline: Annotated[int, typer.Option(help="Accepted provings that make the limits of the charts.", min=4,
                                          rich_help_panel=RULES)] = 10,
    on_void: Annotated[OnVoid, typer.Option(
        help="A factor that changed by more than void_factor_last or void_factor_first: put in force and flagged, or "
        "not put in force.", rich_help_panel=RULES)] = OnVoid.FLAG,
    decimal_comma: Annotated[bool, typer.Option("--decimal-comma", help="Numbers are written with a comma.",
                                                rich_help_panel=INPUT)] = False,
    trail: Annotated[Path | None, typer.Option(help="Trail to which each proving is added.", rich_help_panel=TRAIL)
                     ] = None,
    key: Annotated[Path | None, typer.Option(help="Key file that signs the trail.", rich_help_panel=TRAIL)] = None,
    unsigned: Annotated[bool, typer.Option("--unsigned", rich_help_panel=TRAIL,
                                           help="A new trail without a key: against accidents only.")] = False,
    by: Annotated[str, typer.Option(help="Who, for the trail.", rich_help_panel=TRAIL)] = "",
    at: Annotated[str, typer.Option(help="When, for the trail, ISO 8601; default: now.", rich_help_panel=TRAIL)] = "",
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace reports that are there already.",
                                            rich_help_panel=OUTPUT)] = False,
) -> int:
    """Work out provings: meter factor, every factor of it, whether it is accepted, which run failed and why.

    Head lines (#! key: value): proving, meter, date, prover and its certificate, k_nominal_per_m3 (or --meter), how it
    is judged, density, void_... limits. Columns: run, direction, pulses or pulses_whole with t_pulses_s and
    t_detectors_s, t_meter_degc, p_meter_kpag, t_prover_degc, p_prover_kpag and what the prover's kind needs; units in
    the names.

    Writes PROVING.html, .txt and .json for each and history.csv. Exit code 1 where a proving is not accepted or the
    charts find something.
    """
    from .errors import FlowcompError
    from .liquid_files import load_liquids
    from .meter import Meter
    from .proving_case import Means, case_of, mended_factors
    from .proving_file import read_proving
    from .proving_history import chart_history, check_identifiers, read_history, sentences

    try:
        loaded = Meter.load(meter) if meter else None
    except FlowcompError as error:
        raise InputError(f"no meter file that can be used: {error}", file=meter) from None
    means = Means(loaded, load_liquids(liquids, decimal_comma) if liquids else {}, on_void is OnVoid.REFUSE)
    files = sorted((read_proving(path, prover, decimal_comma) for path in runs),
                   key=lambda file: (file.day, file.proving))
    entries = read_history(history, decimal_comma) if history else []
    if entries and files[0].day < entries[-1].date:
        raise InputError(f"the proving is of {files[0].day}, but the history goes to {entries[-1].date}: its clock ran "
                         "backwards, or the history is not the one before it", file=files[0].path)
    cases: list[Case] = []
    for file in files:
        cases.append(case_of(file, means, entries))
        entries.append(cases[-1].entry)
    check_identifiers(entries)
    whole = chart_history(entries, baseline)
    known = {case.file.proving: (case.file, means) for case in cases}
    charted = sentences(whole, mended_factors(whole, known))
    with open_trail(trail, key, unsigned, at) as kept:
        write(cases, whole, known, baseline, out, overwrite, kept, by)
    show(cases, whole, charted, out)
    return FINDINGS if charted or not all(case.entry.accepted for case in cases) else FINE


def enter(kept: Kept, cases: Sequence[Case], files: OutputFiles, out: Path, by: str) -> None:
    """An entry for each proving, with the hash of its record. A proving that the trail has already is refused, and
    nothing is written; a run that was stopped between its entries may be repeated, and goes on where it was."""
    from .trail import trail_entries

    there = {entry["id"]: entry["data"].get("sha256") for entry in trail_entries(kept.trail.path)
             if entry["type"] == "proving"}
    records = [files.parts[out / f"{file_name(case.file.proving)}.json"] for case in cases]
    digests = [hashlib.sha256(record.read_bytes()).hexdigest() for record in records]
    if all(case.file.proving in there for case in cases):
        raise InputError(f"the trail has a proving '{cases[0].file.proving}' already", file=cases[0].file.path)
    for case, digest in zip(cases, digests, strict=True):
        if there.get(case.file.proving, digest) != digest:
            raise InputError(f"the trail has a proving '{case.file.proving}' already, and it is another",
                             file=case.file.path)
    for case, digest in zip(cases, digests, strict=True):
        if case.file.proving in there:  # of a run that was stopped between two entries
            continue
        kept.trail.proving(case.file.proving, case.entry.accepted, at=kept.at, by=by, meter=case.file.meter,
                           date=str(case.file.day), mf=case.outcome.mf, sha256=digest)
    say(f"Trail: {kept.trail.head}")


def file_name(identifier: str) -> str:
    """A name for files of a proving or ticket."""
    return re.sub(r"^\.|[^\w.-]", "_", identifier)


def write(cases: Sequence[Case], whole: History, known: dict[str, tuple[ProvingFile, Means]], baseline: int, out: Path,
          overwrite: bool, kept: Kept | None, by: str) -> None:
    """Reports of every proving, each with the history as it was then, and the trail; all or none."""
    from .proving_case import mended_factors
    from .proving_history import chart_history, history_text, sentences
    from .proving_pictures import draw_proving
    from .proving_report import document_of, record_of
    from .safe_output import OutputFiles

    names = [file_name(case.file.proving) for case in cases]
    if len(set(names)) < len(names):
        raise InputError("two provings would have the same file name; rename one")
    with OutputFiles(overwrite) as files:
        for case, name in zip(cases, names, strict=True):
            place = whole.entries.index(case.entry)
            then = chart_history(whole.entries[: place + 1], baseline)
            limits = (case.file.options.get("mf_low", float("nan")), case.file.options.get("mf_high", float("nan")))
            svg = draw_proving(case.outcome, case.file.options.get("range_of", "pulses"), then, limits)
            document = document_of(case, then, svg, sentences(then, mended_factors(then, known)))
            files.part(out / f"{name}.html").write_text(document.html(), encoding="utf-8")
            files.part(out / f"{name}.txt").write_text(document.text(), encoding="utf-8")
            files.part(out / f"{name}.json").write_text(
                json.dumps(record_of(case), indent=2, ensure_ascii=False, allow_nan=False) + "\n", encoding="utf-8")
        files.part(out / "history.csv").write_text(history_text(whole.entries), encoding="utf-8")
        if kept is not None:
            enter(kept, cases, files, out, by)


def show(cases: Sequence[Case], whole: History, charted: Sequence[str], out: Path) -> None:
    """On the terminal: the text of a single proving, or a line for each of several, then what the charts found."""
    from .proving_report import CAUTIONS, verdict_of

    if len(cases) == 1:
        say((out / f"{file_name(cases[0].file.proving)}.txt").read_text(encoding="utf-8").rstrip("\n"))
        say(f"Written: {out}")
        return
    rows = [[case.file.proving, str(case.file.day), case.file.liquid or "-", f"{case.outcome.mf:.6f}",
             f"{case.outcome.range_pct:.4f}", f"{case.outcome.range_limit_pct:.4f}",
             f"{case.entry.t_difference_k:+.2f}", "yes" if case.entry.accepted else "no",
             " ".join(case.void.exceeded) if case.void else ""] for case in cases]
    table(f"{len(cases)} provings of {cases[0].file.meter}", ["proving", "date", "liquid", "MF", "range %", "allowed %",
                                                             "Tp-Tm K", "in force", "triggers exceeded"], rows,
          texts=(0, 1, 2, 7, 8))
    say()
    for case in cases:
        if not case.entry.accepted:
            say(f"{case.file.proving}: {verdict_of(case)[0]}")
    for sentence in charted or ["The charts find nothing: no factor outside the action limits, no drift."] * bool(
            whole.factors):
        say(sentence)
    say(f"Written: a report of each and history.csv, in {out}")
    say()
    for sentence in CAUTIONS:
        say(sentence)
