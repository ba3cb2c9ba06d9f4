# SPDX-License-Identifier: Apache-2.0
"""The command ``flowcomp restate``."""

from __future__ import annotations

import enum
import sys
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console
from rich.progress import BarColumn, Progress, TaskProgressColumn, TextColumn, TimeRemainingColumn

from .cli_support import FINDINGS, FINE, Beyond, guarded
from .input_error import InputError

if TYPE_CHECKING:
    from .meter import Meter
    from .restate import Restatement

Stamp = enum.StrEnum("Stamp", {"END": "end", "START": "start"})
Format = enum.StrEnum("Format", {"CSV": "csv", "PARQUET": "parquet"})
Booked = enum.StrEnum("Booked", {"GROSS": "gross", "BASE": "base"})

INPUT, TIMES, RULES, OUTPUT = "Input", "Times and windows", "Rules", "Output"


@guarded
def restate(
    readings: Annotated[list[Path], typer.Argument(help="History: CSV or Parquet, in any order.",
                                                     metavar="READINGS...")],
    meter: Annotated[list[Path], typer.Option(
        help="Meter file; repeat it for several meters, told apart by the column meter.", rich_help_panel=INPUT)],
    liquids: Annotated[Path, typer.Option(help="Table of liquids, folder of liquid files, or one liquid file.",
                                          rich_help_panel=INPUT)],
    batches: Annotated[Path, typer.Option(help="Batch table: start, meter, liquid, rho_base_kgm3, nu_mm2s.",
                                          rich_help_panel=INPUT)],
    stamp: Annotated[Stamp, typer.Option(help="Whether a row's time is the end of its window or its start.",
                                         rich_help_panel=TIMES)],
    timezone: Annotated[str, typer.Option(help="Zone of local times and of the contract, such as Europe/Berlin.",
                                          rich_help_panel=TIMES)],
    out: Annotated[Path, typer.Option(help="Folder for the results.", rich_help_panel=OUTPUT)],
    interval: Annotated[float | None, typer.Option(
        help="Length of a window in seconds; not needed where the readings have duration_s.", rich_help_panel=TIMES)
        ] = None,
    contract_hour: Annotated[int, typer.Option(help="Local hour at which a contract day begins.",
                                               rich_help_panel=TIMES)] = 0,
    contract_month_day: Annotated[int, typer.Option(help="Day on which a contract month begins.",
                                                    rich_help_panel=TIMES)] = 1,
    booked: Annotated[Booked, typer.Option(help="What booked_m3 holds.", rich_help_panel=RULES)] = Booked.GROSS,
    below: Annotated[Beyond | None, typer.Option(help="Policy under the curve; default: that of the meter file.",
                                                 rich_help_panel=RULES)] = None,
    above: Annotated[Beyond | None, typer.Option(help="Policy over the curve; default: that of the meter file.",
                                                 rich_help_panel=RULES)] = None,
    counter_modulus: Annotated[float | None, typer.Option(
        help="Number of states of a cumulative counter (4294967296 for 32 bits); 0: it never rolls over.",
        rich_help_panel=RULES)] = None,
    counter_max_hz: Annotated[float | None, typer.Option(
        help="Mean frequency above which a step of the counter is no flow; default: 20 m/s in the bore.",
        rich_help_panel=RULES)] = None,
    highest_hz: Annotated[float | None, typer.Option(
        help="Highest frequency the meter runs at here: how far windows that may hide a stop are bounded; default: the "
        "top of the curve.", rich_help_panel=RULES)] = None,
    cycling: Annotated[bool, typer.Option(
        "--cycling", help="The pump starts and stops by a timer or a level: no window without its flowing time is known "
        "to be full.", rich_help_panel=RULES)] = False,
    atmospheric_kpaa: Annotated[float | None, typer.Option(
        help="The site's atmospheric pressure, for absolute readings.", rich_help_panel=INPUT)] = None,
    decimal_comma: Annotated[bool, typer.Option("--decimal-comma", help="Numbers are written with a comma.",
                                                rich_help_panel=INPUT)] = False,
    missing: Annotated[list[str] | None, typer.Option(
        help="A word that stands for a missing value, such as Bad; may be repeated.", rich_help_panel=INPUT)] = None,
    format: Annotated[Format, typer.Option(help="Of the rows.", rich_help_panel=OUTPUT)] = Format.CSV,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace results that are there already.",
                                            rich_help_panel=OUTPUT)] = False,
    strict: Annotated[bool, typer.Option("--strict", help="Exit with 1 if a row was refused or a gap found.",
                                         rich_help_panel=OUTPUT)] = False,
    block_kib: Annotated[int, typer.Option(hidden=True)] = 4096,
) -> int:
    """Restate a history of readings: corrected rows, totals by contract month, booked against restated.

    Columns of the readings, units in the names: time (ISO 8601), meter, pulses (of the window) or counter, t_degc or
    t_degf, p_kpag, p_barg, p_psig or p_bara; where known: duration_s, flowing_s or f_flowing_hz, rho_base_kgm3 or
    rho_observed_kgm3 with t_observed_degc and p_observed_kpag, nu_mm2s, pe_kpa (vapour pressure, absolute), booked_m3.

    Writes rows_METER, events_METER.csv, months.csv, months.svg/png, k.svg/png and restatement.json into the folder, all
    or none. Every pulse that comes in is accounted for in the balance that is printed.
    """
    from .batch_table import check_liquids, read_batches
    from .calendar import ContractMonths, zone_of
    from .liquid_files import load_liquids
    from .readings import ReadingFormat, open_history
    from .restate import Restatement, Settings
    from .table_stream import Spelling

    zone = zone_of(timezone)
    settings = Settings(zone, ContractMonths(zone, contract_hour, contract_month_day), checked_interval(interval),
                        stamp is Stamp.END, booked.value, checked_modulus(counter_modulus),
                        checked_hz(counter_max_hz, "--counter-max-hz"), checked_hz(highest_hz, "--highest-hz"), cycling)
    meters = load_meters(meter, below, above)
    known = load_liquids(liquids, decimal_comma)
    table = read_batches(batches, zone, list(meters), decimal_comma)
    for batch_list in table.values():
        check_liquids(batch_list, known)
    spelling = Spelling(decimal_comma, tuple(missing or ()))
    history = open_history(readings, ReadingFormat(zone, spelling, atmospheric_kpaa))
    check_lengths(readings, history.format.spelling, settings.interval_s)
    run = Restatement(settings, history, meters, table, known)
    write_all(run, out, format, overwrite, block_kib * 1024)
    return report(run, out, strict)


def checked_interval(interval: float | None) -> float | None:
    if interval is not None and not 1e-3 <= interval <= 1e8:
        raise InputError(f"--interval is {interval:g} s; it must be from 0.001 to 100000000 s")
    return interval


def checked_modulus(modulus: float | None) -> float | None:
    if modulus is not None and (not 0 <= modulus <= 2.0**53 or modulus % 1):
        raise InputError(f"--counter-modulus is {modulus:g}; it must be a whole number from 0 to 2^53")
    return modulus


def checked_hz(frequency: float | None, option: str) -> float | None:
    if frequency is not None and not 0 < frequency <= 1e6:
        raise InputError(f"{option} is {frequency:g} Hz; it must be above 0 and at most 1000000 Hz")
    return frequency


def load_meters(files: list[Path], below: Beyond | None, above: Beyond | None) -> dict[str, Meter]:
    """Meters by name, with the policies of the command line in place of their own."""
    from .errors import FlowcompError
    from .meter import Meter

    found: dict[str, Meter] = {}
    for path in files:
        try:
            meter = Meter.load(path)
        except (FileNotFoundError, IsADirectoryError):
            raise InputError("there is no such file", file=path) from None
        except FlowcompError as error:
            raise InputError(f"no meter file that can be used: {error}", file=path) from None
        if meter.name in found:
            raise InputError(f"a second file for the meter {meter.name}", file=path)
        if below or above:
            meter = Meter(meter.name, meter.body, meter.curve, below=(below or meter.below),
                          above=(above or meter.above), cutoff_hz=meter.cutoff_hz)
        found[meter.name] = meter
    return found


def check_lengths(files: list[Path], spelling: object, interval_s: float | None) -> None:
    """Without --interval every file needs duration_s, and a counter always needs --interval."""
    from .table_stream import Progress as Read
    from .table_stream import read_blocks

    if interval_s is not None:
        return
    for path in files:
        names = next(read_blocks(path, spelling, Read(), 65536)).columns  # type: ignore[arg-type]
        if "counter" in names or "duration_s" not in names:
            what = "a cumulative counter needs it to tell a gap" if "counter" in names else "the file has no duration_s"
            raise InputError(f"say --interval, the seconds from row to row (3600 for hourly readings): {what}",
                             file=path)


def write_all(run: Restatement, out: Path, format: Format, overwrite: bool, block_bytes: int) -> None:
    """Run it and write every file, all or none."""
    from .restate_files import Outputs
    from .rows_file import MeterFiles
    from .safe_output import OutputFiles

    with OutputFiles(overwrite) as files, ExitStack() as stack:
        outputs = Outputs.begin(files, out, list(run.meters), format.value)
        writers = {name: MeterFiles(name, run.settings.zone, run.history.files, outputs.rows[name],
                                    outputs.events[name], format is Format.PARQUET) for name in run.meters}
        for writer in writers.values():
            stack.callback(writer.close)
        with progress_display() as display:
            total = sum(path.stat().st_size for path in run.history.files)
            task = display.add_task("reading", total=total)
            run.run(writers, block_bytes, lambda: display.update(task, completed=sum(
                progress.read for progress in run.history.progress.values())))
        for writer in writers.values():
            writer.close()
        outputs.write_summaries(run)


def progress_display() -> Progress:
    """A bar on standard error, shown only to a person."""
    return Progress(TextColumn("{task.description}"), BarColumn(), TaskProgressColumn(), TimeRemainingColumn(),
                    console=Console(stderr=True), disable=not sys.stderr.isatty(), transient=True)


def report(run: Restatement, out: Path, strict: bool) -> int:
    """Print what was found; the exit code."""
    from .restate_report import findings, show

    show(run, out)
    return FINDINGS if strict and findings(run) else FINE
