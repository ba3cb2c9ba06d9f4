# SPDX-License-Identifier: Apache-2.0
"""What ``flowcomp restate`` prints: months, booked against restated, what was refused or flagged, the pulse balance."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING

from ._words import FLAGS
from .cli_support import percent, say, show_cautions, table
from .history import MARKS, REASONS
from .month_totals import UNITS_PER_M3
from .restate_files import dated, file_name, is_refusal, pulses_read
from .rows_file import status_sentence, status_word

if TYPE_CHECKING:
    from .restate import MeterRun, Restatement
    from .totals import Totals

SENTENCES = {word: sentence for word, sentence in (*FLAGS.values(), *MARKS.values())}
BACKWARDS_SHARE = 0.1  # more rows out of order than this: the file is probably sorted the other way


def m3(units: int) -> str:
    """Units as m3 to the litre, for reading; the files hold every digit."""
    return f"{units / UNITS_PER_M3:,.3f}".replace(",", " ")


def whole(number: int) -> str:
    return f"{number:,}".replace(",", " ")


def share(value: float) -> str:
    """Per cent of a volume; a dash where there was none."""
    return "-" if math.isnan(value) else f"{value:.4f}"


def many(number: int, noun: str) -> str:
    return f"{whole(number)} {noun}{'' if number == 1 else 's'}"


def findings(run: Restatement) -> bool:
    """Whether anything was refused or is missing."""
    return bool(run.history.other_meters) or any(
        meter.findings.gaps or any(is_refusal(status) for status in meter.findings.statuses)
        or pulses_read(run, meter) != meter.closed().pulses_in for meter in run.meters.values())


def show(run: Restatement, out: Path) -> None:
    """The whole report."""
    for name, meter in run.meters.items():
        show_months(run, name, meter)
        show_rows(name, meter)
        show_balance(run, name, meter)
    show_notes(run)
    say()
    say(f"Written into {out}:")
    for name in run.meters:
        say(f"  rows_{file_name(name)}.*  events_{file_name(name)}.csv")
    say("  months.csv  months.svg  months.png  k.svg  k.png  restatement.json")
    show_cautions()


def show_months(run: Restatement, name: str, meter: MeterRun) -> None:
    """Monthly table; the difference is over rows that were booked and restated over the same window."""
    kind = run.settings.booked
    rows = []
    for label, month in dated(run, meter):
        base = m3(month.base) if month.has_base else "-"
        both = [m3(month.compared_booked), m3(month.compared_restated)] if month.compared_rows else ["-", "-"]
        rows.append([label, whole(month.rows), m3(month.gross), base, *both, percent(month.difference_pct()),
                     share(month.of_gross_pct(month.bound)), share(2 * month.of_gross_pct(month.viscosity)),
                     whole(month.rows_without)])
    say()
    table(f"{name}: contract months in m3 (restated less booked over rows that have both, {kind} volumes)",
          ["month", "rows", "gross", "base", f"booked {kind}", f"restated {kind}", "difference %", "partial flow %",
           "viscosity % (k=2)", "not restated"], rows)
    say(f"{run.settings.months.describe()}. Gross and base hold every restated row; 'partial flow' and 'viscosity' "
        "bound how far the gross volume may be off for these two reasons.")
    if any(month.lacks_base for month in meter.months.values()):
        say("Rows of liquids without a volume correction are not in the base volumes.")


def show_rows(name: str, meter: MeterRun) -> None:
    """Rows by status and by flag, with what each means."""
    found = meter.findings
    rows = [[status_word(status), whole(count), status_sentence(status) if status else "restated",
             first_of(meter, status)] for status, count in sorted(found.statuses.items())]
    say()
    table(f"{name}: {whole(meter.rows_read)} rows by status", ["status", "rows", "meaning", "the first of them"], rows,
          texts=(0, 2, 3))
    if found.flags:
        rows = [[word, whole(count), SENTENCES[word]] for word, count in sorted(found.flags.items())]
        table(f"{name}: rows by flag (a row may carry several)", ["flag", "rows", "meaning"], rows, texts=(0, 2))
    if found.gaps:
        say(f"{many(found.gaps, 'gap')}, {found.missing_s / 3600:.2f} h of windows missing; each is in "
            f"events_{file_name(name)}.csv.")
    backwards = next((number for number, (word, _) in REASONS.items() if word == "out_of_order"), 0)
    if found.statuses[backwards] > BACKWARDS_SHARE * meter.rows_read:
        say("Many rows are out of order: if the file runs from new to old, sort it by time and run again.")
    for column, reason in UNUSED.items():
        if found.unused[column]:
            say(f"{column} of {many(found.unused[column], 'row')} was not used: {reason}.")


UNUSED = {"nu_mm2s": "the liquids have their own viscosities", "rho_base_kgm3": "the liquids have their own densities",
          "rho_observed_kgm3": "the liquids have their own densities",
          "pe_kpa": "the liquids do not take their vapour pressure from the readings (vapour: measured)"}


def first_of(meter: MeterRun, status: int) -> str:
    """The first row that the library refused with this status, and what it said."""
    place, detail = meter.findings.first.get(status, ({}, ""))
    return " ".join(f"{kind} {number}:" for kind, number in place.items() if kind != "file") + f" {detail}"


def show_balance(run: Restatement, name: str, meter: MeterRun) -> None:
    """Every pulse in exactly one place."""
    closed: Totals = meter.closed()
    read = pulses_read(run, meter)
    source = "counted by the counter" if run.history.by_counter else "in the readings"
    rows = [[source, whole(read)], ["taken into the totals", whole(closed.pulses_in)],
            ["= with a forward volume", whole(closed.pulses_forward)],
            ["+ of reverse flow", whole(closed.pulses_reverse)],
            ["+ forward, below the curve, no volume", whole(closed.pulses_below)],
            ["+ forward, under the cut-off, no volume", whole(closed.pulses_cutoff)],
            ["+ of refused rows, no volume", whole(closed.pulses_refused)],
            ["left over", whole(closed.balance())]]
    say()
    table(f"{name}: pulse balance", ["pulses", ""], rows)
    if run.history.by_counter:
        show_counter(run, meter)
    if closed.unreadable:
        say(f"{many(closed.unreadable, 'row')} without a whole number of pulses: refused, none in the balance.")
    if closed.balance() or read != closed.pulses_in:
        say("THE BALANCE DOES NOT CLOSE: please report this.")


def show_counter(run: Restatement, meter: MeterRun) -> None:
    """From which state to which the counter went, and how it is read."""
    tally, flags = meter.tally, meter.findings.flags
    if tally.first is None or tally.last is None:
        say("The counter has no good state.")
        return
    limit = meter.history.rule.counter.f_limit_hz if meter.history.rule.counter else float("nan")
    say(f"Counter from {tally.first:.0f} to {tally.last:.0f} with {many(flags['counter_rollover'], 'roll-over')} and "
        f"{many(flags['counter_reset'], 'reset')}. A fall is a roll-over if the pulses it would mean stay under a mean "
        f"of {limit:.0f} Hz; else a reset if the new state does, counted from 0 (pulses before a reset are lost); else "
        "its pulses are not taken.")


def show_notes(run: Restatement) -> None:
    """What was read but not used."""
    history = run.history
    if history.unused:
        say()
        say(f"Columns not used: {', '.join(history.unused)}.")
    if history.other_meters:
        say()
        listed = ", ".join(f"{name or '(empty)'} ({whole(count)} rows)" for name, count in
                           sorted(history.other_meters.items()))
        say(f"Rows of meters that were not given are not restated: {listed}.")
    if not history.has_booked:
        say()
        say("The readings have no booked_m3: nothing to compare with.")

