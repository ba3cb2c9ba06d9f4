# SPDX-License-Identifier: Apache-2.0
"""The commands ``flowcomp ticket`` and ``flowcomp verify``."""

from __future__ import annotations

import enum
import math
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from .cli_prove import OnVoid, file_name
from .cli_restate import Stamp, check_lengths, checked_interval, checked_modulus
from .cli_support import FINDINGS, FINE, guarded, say, table
from .cli_trail import moment, open_trail
from .input_error import InputError

if TYPE_CHECKING:
    from .cli_trail import Kept
    from .factor_file import FactorsInForce
    from .liquid import Liquid
    from .meter import Meter

Basis = enum.StrEnum("Basis", {"AT_BASE": "volume_at_base", "AT_METER": "volume_at_meter", "MASS": "mass"})
Settle = enum.StrEnum("Settle", {"INTERVALS": "intervals", "AVERAGES": "averages"})
Substitute = enum.StrEnum("Substitute", {"REFUSE": "refuse", "LAST": "last"})
BadRows = enum.StrEnum("BadRows", {"REFUSE": "refuse", "GAP": "gap"})
Axis = enum.StrEnum("Axis", {"FLOW": "flow", "ROSHKO": "roshko"})
BeyondFactors = enum.StrEnum("BeyondFactors", {"REFUSE": "refuse", "HOLD": "hold"})
Unit = enum.StrEnum("Unit", {"M3": "m3", "BBL": "bbl"})
READINGS, FACTOR, LIQUID, RULES, TRAIL, OUTPUT = "Readings", "Factor", "Liquid", "Rules", "Trail", "Output"
BESIDE = "Beside the ticket, in none of its totals"
Number = float | None


@guarded
def ticket(
    readings: Annotated[list[Path], typer.Argument(help="Readings: CSV or Parquet.", metavar="READINGS...")],
    id: Annotated[str, typer.Option(help="Identifier of the ticket.")],
    start: Annotated[str, typer.Option(help="Opening, ISO 8601.")],
    end: Annotated[str, typer.Option(help="Closing, ISO 8601.")],
    liquid: Annotated[Path, typer.Option(help="Liquid file, or table or folder of liquids.", rich_help_panel=LIQUID)],
    out: Annotated[Path, typer.Option(help="Folder for the ticket.", rich_help_panel=OUTPUT)],
    liquid_name: Annotated[str, typer.Option(help="Which of several liquids.", rich_help_panel=LIQUID)] = "",
    meter: Annotated[Path | None, typer.Option(help="Meter file: the way of the curve, with a factor on top.",
                                               rich_help_panel=FACTOR)] = None,
    nkf: Annotated[Number, typer.Option(help="Or a nominal K, pulses per unit of the ticket.", rich_help_panel=FACTOR)
                   ] = None,
    tag: Annotated[str, typer.Option(help="Tag of the meter in the readings; default: that of the meter file.",
                                     rich_help_panel=READINGS)] = "",
    factor: Annotated[list[Path] | None, typer.Option(
        help="JSON record of the proving whose factor is in force. Repeated: several factors, linear between their "
        "provings.", rich_help_panel=FACTOR)] = None,
    factor_over: Annotated[Axis, typer.Option(help="What several factors are read off over; the Roshko number needs "
                                              "--meter.", rich_help_panel=FACTOR)] = Axis.FLOW,
    factor_beyond: Annotated[BeyondFactors, typer.Option(
        help="Past the first or last of several provings: no ticket, or the factor of that proving.",
        rich_help_panel=FACTOR)] = BeyondFactors.REFUSE,
    mf: Annotated[Number, typer.Option(help="Or the meter factor by hand.", rich_help_panel=FACTOR)] = None,
    void_limit: Annotated[list[str] | None, typer.Option(
        help="Largest change of a trigger since the proving, such as temperature=10; may be repeated, and replaces "
        "that of the proving.", rich_help_panel=FACTOR)] = None,
    on_void: Annotated[OnVoid, typer.Option(help="What an exceeded trigger does: it is flagged, or there is no ticket.",
                                            rich_help_panel=FACTOR)] = OnVoid.FLAG,
    volume_since_m3: Annotated[Number, typer.Option(
        help="Gross volume metered from the proving to the opening, m3; with the ticket's own it is what the trigger "
        "volume judges.", min=0, rich_help_panel=FACTOR)] = None,
    body: Annotated[Path | None, typer.Option(
        help="With a nominal K, where the contract asks for it: meter file whose body, from proving to metering, changes "
        "K. The standard has no such term.", rich_help_panel=FACTOR)] = None,
    rho_base_kgm3: Annotated[Number, typer.Option(help="Density at base.", rich_help_panel=LIQUID)] = None,
    rho_observed_kgm3: Annotated[Number, typer.Option(help="Or as observed,", rich_help_panel=LIQUID)] = None,
    t_observed_degc: Annotated[Number, typer.Option(help="at this temperature,", rich_help_panel=LIQUID)] = None,
    p_observed_kpag: Annotated[Number, typer.Option(help="and pressure.", rich_help_panel=LIQUID)] = None,
    sw_pct: Annotated[float, typer.Option(help="Sediment and water, per cent.", rich_help_panel=LIQUID)] = 0.0,
    sw_basis: Annotated[Basis, typer.Option(help="What the per cent are of.", rich_help_panel=LIQUID)] = Basis.AT_BASE,
    ctl_water: Annotated[Number, typer.Option(help="Factors of the water, to correct it apart.", rich_help_panel=LIQUID)
                         ] = None,
    cpl_water: Annotated[Number, typer.Option(help="The same for pressure.", rich_help_panel=LIQUID)] = None,
    rho_water_base_kgm3: Annotated[Number, typer.Option(help="Density of the water.", rich_help_panel=LIQUID)] = None,
    unit: Annotated[Unit, typer.Option(help="Unit of the ticket's volumes.", rich_help_panel=RULES)] = Unit.M3,
    rounding: Annotated[str, typer.Option(
        help="Between the steps: none; 1995, the edition's; or a JSON file with the decimals of factors, ccf, csw, volume, "
        "mass.", rich_help_panel=RULES)] = "none",
    settle: Annotated[Settle, typer.Option(help="Which of the two ways settles; both are worked out.",
                                           rich_help_panel=RULES)] = Settle.INTERVALS,
    substitute: Annotated[Substitute, typer.Option(help="For a missing or failed temperature or pressure.",
                                                   rich_help_panel=RULES)] = Substitute.REFUSE,
    bad_rows: Annotated[BadRows, typer.Option(help="For rows that cannot be used.", rich_help_panel=RULES)
                        ] = BadRows.REFUSE,
    stamp: Annotated[Stamp, typer.Option(help="Whether a row's time is the end of its window or its start.",
                                         rich_help_panel=READINGS)] = Stamp.END,
    interval: Annotated[Number, typer.Option(help="Length of a window, s, where the readings have no duration_s.",
                                             rich_help_panel=READINGS)] = None,
    timezone: Annotated[str, typer.Option(help="Zone of local times.", rich_help_panel=READINGS)] = "UTC",
    counter_modulus: Annotated[Number, typer.Option(help="Number of states of a counter; 0: never rolls over.",
                                                    rich_help_panel=READINGS)] = None,
    counter_max_hz: Annotated[Number, typer.Option(help="Frequency above which a step of a counter is no flow.",
                                                   rich_help_panel=READINGS)] = None,
    atmospheric_kpaa: Annotated[Number, typer.Option(help="For absolute pressures.", rich_help_panel=READINGS)] = None,
    decimal_comma: Annotated[bool, typer.Option("--decimal-comma", rich_help_panel=READINGS,
                                                help="Numbers are written with a comma.")] = False,
    line_fill: Annotated[Path | None, typer.Option(
        help="JSON with opening and closing of what fills the line between meter and custody point: base_volume_m3, "
        "base_t_degc, gc_per_degc, e_kpa, id_m, wall_m, t_degc, p_kpag, ctl, cpl. A line of its own.",
        rich_help_panel=RULES)] = None,
    reverse: Annotated[Number, typer.Option(help="Gross volume that flowed back, in the ticket's unit, as its register "
                                            "has it.", min=0, rich_help_panel=BESIDE)] = None,
    below_range: Annotated[Number, typer.Option(help="The same below the range of meter or curve.", min=0,
                                                rich_help_panel=BESIDE)] = None,
    maintenance: Annotated[Number, typer.Option(help="The same while the meter was out of custody.", min=0,
                                                rich_help_panel=BESIDE)] = None,
    interface: Annotated[Number, typer.Option(help="Volume of the interface between this batch and another.", min=0,
                                              rich_help_panel=BESIDE)] = None,
    interface_share: Annotated[Number, typer.Option(help="What of it the rule gives to this batch.", min=0,
                                                    rich_help_panel=BESIDE)] = None,
    interface_rule: Annotated[str, typer.Option(help="Name of the rule: head, tail, half, density, or the contract's "
                                                "own.", rich_help_panel=BESIDE)] = "",
    place: Annotated[str, typer.Option(help="Where: site and meter. Default: the tag.")] = "",
    remark: Annotated[str, typer.Option(help="A sentence for the ticket.")] = "",
    trail: Annotated[Path | None, typer.Option(help="Trail to which the ticket is added.", rich_help_panel=TRAIL)
                     ] = None,
    key: Annotated[Path | None, typer.Option(help="Key file: signs ticket and trail.", rich_help_panel=TRAIL)] = None,
    unsigned: Annotated[bool, typer.Option("--unsigned", rich_help_panel=TRAIL,
                                           help="Make do without a key: against accidents only.")] = False,
    by: Annotated[str, typer.Option(help="Who, for the trail.", rich_help_panel=TRAIL)] = "",
    at: Annotated[str, typer.Option(help="When, for the trail, ISO 8601; default: now.", rich_help_panel=TRAIL)] = "",
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace a ticket of the same name.",
                                            rich_help_panel=OUTPUT)] = False,
) -> int:
    """Make a ticket of a period: quantity, every factor with its source, and the file that anybody can work out again.

    Writes ID.json (the ticket), ID.html and ID.txt (the same for people). Exit code 1 where a trigger of the factor is
    exceeded. A signed ticket needs --key; without one, say --unsigned.
    """
    from .calendar import zone_of
    from .key_file import read_seed
    from .liquid_files import load_liquids
    from .table_stream import Spelling
    from .ticket_case import body_term, loaded_meter, read_line_fill, rounding_of, ticket_inputs
    from .ticket_readings import Period, Rules, intervals_of

    if key is None and not unsigned:
        raise InputError("a ticket is signed: pass --key, or --unsigned if its hash shall tell of accidents only")
    if key is not None and unsigned:
        raise InputError("--key signs and --unsigned does not: pass one of the two")
    zone = zone_of(timezone)
    period = Period(moment(start, "--start", zone), moment(end, "--end", zone))
    if period.end <= period.start:
        raise InputError("--end is not after --start: did the clock run backwards?")
    loaded = loaded_meter(meter, nkf)
    one = chosen_liquid(load_liquids(liquid, decimal_comma), liquid_name, liquid)
    name = tag or (loaded.name if loaded else "")
    if not name:
        raise InputError("say --tag, the meter in the readings")
    rules = Rules(zone, checked_interval(interval), stamp is Stamp.END, checked_modulus(counter_modulus),
                  fastest(counter_max_hz, loaded), substitute.value, bad_rows.value, atmospheric_kpaa, decimal_comma)
    proved = factors_of(factor or [], mf, void_limit or [], name, period.end, factor_over.value, factor_beyond.value)
    if body and meter:
        raise InputError("--body is for a nominal K: a curve has the body on both sides already")
    check_lengths(readings, Spelling(decimal_comma, ()), rules.interval_s)
    found = intervals_of(readings, name, period, rules, one.viscosity_source == "measured")
    given = {"rho_base_kgm3": rho_base_kgm3, "rho_observed_kgm3": rho_observed_kgm3, "t_observed_degc": t_observed_degc,
             "p_observed_kpag": p_observed_kpag}
    ticket_part = {"sw_pct": sw_pct, "sw_basis": sw_basis.value, "ctl_water": ctl_water, "cpl_water": cpl_water,
                   "rho_water_base_kgm3": rho_water_base_kgm3}
    shown = loaded
    if body:
        shown, ticket_part["body_ratio"] = body_term(body, proved, found)
    inputs = ticket_inputs(id=id, place=place or name, period=period, readings=found, meter=loaded, liquid=one, nkf=nkf,
                           factors=proved, density=given, ticket=ticket_part, unit=unit.value,
                           rounding=rounding_of(rounding, unit.value), settle=settle.value, remark=remark,
                           volume_before_m3=volume_since_m3)
    if line_fill:
        inputs["line_fill"] = read_line_fill(line_fill)
    inputs["beside"] = {"reverse": reverse, "below_range": below_range, "maintenance": maintenance, "interface": interface,
                        "interface_share": interface_share, "interface_rule": interface_rule}
    with open_trail(trail, key, unsigned, at) as kept:
        exceeded = write_ticket(inputs, one, shown, read_seed(key) if key else None, kept, by, out, overwrite,
                                on_void is OnVoid.REFUSE)
    for note in found.notes:
        say(note)
    return FINDINGS if exceeded else FINE


def chosen_liquid(liquids: dict[str, Liquid], name: str, path: Path) -> Liquid:
    if not name and len(liquids) == 1:
        return next(iter(liquids.values()))
    if name not in liquids:
        raise InputError(f"say --liquid-name, one of {', '.join(liquids)}", file=path)
    return liquids[name]


def fastest(counter_max_hz: float | None, meter: Meter | None) -> float:
    from .restate import fastest_hz

    return counter_max_hz or (fastest_hz(meter) if meter else math.inf)


def factors_of(paths: list[Path], mf: float | None, limits: list[str], tag: str, end: datetime, axis: str, beyond: str
               ) -> FactorsInForce:
    """The factors in force, with their limits."""
    import dataclasses

    from .factor_file import Factor, FactorsInForce, limits_of, read_factor

    if bool(paths) == (mf is not None):
        raise InputError("say --factor, the record of a proving, or --mf, a factor by hand (1 where the contract has "
                         "none)")
    found = [read_factor(path) for path in paths] or [Factor(float(mf or 0.0))]
    for path, one in zip(paths, found):
        if one.meter and one.meter != tag:
            raise InputError(f"the factor is of the meter {one.meter}, the readings are of {tag}", file=path)
        if one.day and one.day > end.date():
            raise InputError(f"the proving is of {one.day}, after the ticket", file=path)
    given = limits_of(limits)
    return FactorsInForce.of([dataclasses.replace(one, limits={**one.limits, **given}) for one in found], axis, beyond)


def write_ticket(inputs: dict[str, Any], liquid: Liquid, meter: Meter | None, seed: bytes | None, kept: Kept | None,
                 by: str, out: Path, overwrite: bool, refuse: bool) -> list[str]:
    """The ticket and its pages, then its entry in the trail; the triggers that are exceeded."""
    from .safe_output import OutputFiles
    from .ticket_file import TicketFile
    from .ticket_report import ticket_document

    name = file_name(inputs["id"])
    paths = [out / f"{name}.{kind}" for kind in ("json", "html", "txt")]
    made = TicketFile.new(inputs, liquid=liquid, meter=meter, head=kept.trail.head if kept else None, key=seed)
    exceeded = made.figures["validity"]["exceeded"]
    if exceeded and refuse:
        raise InputError(f"no ticket: the factor of {inputs['proving'] or 'the ticket'} does not hold, beyond its "
                         f"limit are {', '.join(exceeded)}; prove the meter, or settle by what the contract says")
    document = ticket_document(made, "own" if seed else "none")
    with OutputFiles(overwrite) as files:
        for path, text in zip(paths, (made.text, document.html(), document.text()), strict=True):
            files.part(path).write_text(text, encoding="utf-8")
        if kept is not None:  # refuses an identifier that the trail has already, and then nothing is written
            kept.trail.ticket(made, at=kept.at, by=by)
    say(document.text().rstrip("\n"))
    say(f"Written: {', '.join(map(str, paths))}" + (f"; trail: {kept.trail.head}" if kept else ""))
    return exceeded


@guarded
def verify(
    tickets: Annotated[list[Path], typer.Argument(help="Ticket files.", metavar="TICKET...")],
    public_key: Annotated[str, typer.Option(help="Key that must have signed: 64 hexadecimal digits, or a file.")] = "",
    trail: Annotated[Path | None, typer.Option(help="Trail in which each ticket must stand.")] = None,
) -> int:
    """Work out every figure of tickets again and compare the bits; exit code 1 where one is not as it was.

    A good ticket agrees with itself. Whether its inputs are true, and whether the parties agree to it, it cannot say.
    """
    from .errors import FlowcompError
    from .key_file import public_key_of
    from .ticket_case import in_trail
    from .ticket_file import verify_ticket
    from .ticket_report import CLAIM, SEALS

    key = public_key_of(public_key) if public_key else None
    rows, bad, unread = [], [], []
    intact = trail_is_intact(trail, key) if trail else True
    for path in tickets:
        if not path.is_file():
            raise InputError("there is no such file", file=path)
        try:
            verdict = verify_ticket(path, public_key=key)
        except FlowcompError as error:  # the others are verified all the same
            rows.append([str(path), "-", "NOT READ", "-", "-", "-", "-", "-"])
            unread.append(f"{path}: {error}")
            continue
        said = in_trail(trail, verdict) if trail else ""
        good = verdict.good and said in ("", "in the trail")
        rows.append([str(path), verdict.id or "-", "good" if good else "NOT GOOD", str(verdict.figures),
                     str(verdict.differences_total), "yes" if verdict.hash_good else "no",
                     SEALS[verdict.seal].partition(":")[0], said or "-"])
        if not good:
            bad.append((path, verdict))
    table(f"{len(rows)} ticket(s)", ["file", "ticket", "verdict", "figures", "different", "hash", "signature", "trail"],
          rows, texts=(0, 1, 2, 5, 6, 7))
    for sentence in unread:
        say(sentence)
    for path, verdict in bad:
        say(f"{path}: {verdict.sentence}")
        for figure, stored, recomputed in verdict.differences[:20]:
            say(f"    {figure}: {stored!r} in the file, {recomputed!r} worked out again")
    say(CLAIM)
    if unread and len(unread) == len(rows):
        raise InputError("no ticket could be read")
    return FINE if intact and not bad and not unread else FINDINGS


def trail_is_intact(path: Path, key: bytes | None) -> bool:
    """Whether a trail is what its writers left; what it is not, and what it rests on, is said."""
    from .trail import check_trail

    if not path.is_file():
        raise InputError("there is no such trail", file=path)
    report = check_trail(path, public_key=key)
    if not report.intact:
        first = report.findings[0]
        say(f"{path}: NOT INTACT, {first.text} (entry {first.entry}); see flowcomp evidence check. Whatever is read "
            "from it below may have been edited.")
    say(report.protects)
    return report.intact
