# SPDX-License-Identifier: Apache-2.0
"""What goes into a ticket file: readings, factor, liquid and rules brought together."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .errors import FlowcompError
from .factor_file import CONDITIONS, Conditions
from .input_error import InputError, one_of
from .meter_factor import VOID_TRIGGERS, body_difference
from .rounding import Rounding
from .ticket import rounding_1995
from .trigger_table import RELATIVE
from .units import unit_info

if TYPE_CHECKING:
    from .factor_file import Factor, FactorsInForce
    from .liquid import Liquid
    from .meter import Meter
    from .ticket_file import TicketVerdict
    from .ticket_readings import Period, TicketReadings

ITEMS = {"m3": "cubic_metres", "bbl": "barrels"}
ROUNDED = ("factors", "ccf", "csw", "volume", "mass")


def loaded_meter(path: Path | None, nkf: float | None) -> Meter | None:
    """The meter of the curve's way; None where there is a nominal K. Exactly one of the two is given."""
    from .meter import Meter

    if (path is None) == (nkf is None):
        raise InputError("say --meter for the curve of a meter, or --nkf for a nominal K: two ways, never mixed")
    if path is None:
        return None
    try:
        return Meter.load(path)
    except (FileNotFoundError, IsADirectoryError):
        raise InputError("there is no such file", file=path) from None
    except FlowcompError as error:
        raise InputError(f"no meter file that can be used: {error}", file=path) from None


def ticket_inputs(*, id: str, place: str, period: Period, readings: TicketReadings, meter: Meter | None, liquid: Liquid,
                  nkf: float | None, factors: FactorsInForce, density: Mapping[str, float | None],
                  ticket: Mapping[str, Any], unit: str, rounding: Mapping[str, Any], settle: str, remark: str,
                  volume_before_m3: float | None = None) -> dict[str, Any]:
    """The object under "inputs" of a ticket file."""
    way = "curve" if meter else "nominal_k"
    of_unit = unit_info(unit)
    for factor in factors.points:
        check_way(factor, way, nkf, unit, of_unit.numerator / of_unit.denominator)
    unit_m3 = of_unit.numerator / of_unit.denominator
    several = len(factors.points) > 1
    conditions: Sequence[Conditions | None] = [None] * len(readings.intervals)
    if several or factors.limits:
        conditions = conditions_of(readings, meter, liquid, density, nkf, unit_m3)
    used = [factors.at(found) for found in conditions]
    intervals = [{**one, "mf": mf} for one, (mf, _) in zip(readings.intervals, used, strict=True)]
    return {
        "id": id, "place": place, "volume_unit": unit, "proving": factors.names, "remark": remark,
        "start": period.start, "end": period.end, "iv_source": "intervals", "factors": settle, "nkf": nkf,
        "ticket": {**{name: value for name, value in ticket.items() if value is not None}, "way": way,
                   "unit_m3": unit_m3, "mf": None if several else factors.points[0].mf, "rounding": rounding},
        "density": {name: value for name, value in density.items() if value is not None}, "intervals": intervals,
        "validity": void_numbers(period, liquid, factors, conditions, used, volume_before_m3)}


def check_way(factor: Factor, way: str, nkf: float | None, unit: str, unit_m3: float) -> None:
    """The factor was proved with the K that the ticket uses."""
    if factor.way and factor.way != way:
        raise InputError(f"the factor was proved by {factor.way}, the ticket is by {way}: two ways of using a "
                         "calibration, never mixed")
    if nkf is not None and not math.isnan(factor.k_per_m3):
        proved = factor.k_per_m3 * unit_m3
        if abs(proved / nkf - 1) > 1e-9:
            raise InputError(f"--nkf is {nkf:.10g}, but the factor was proved with a nominal K of {proved:.10g} pulses "
                             f"per {unit}")


def rounding_of(policy: str, unit: str) -> dict[str, Any]:
    """Rounding between the steps: none, that of the edition of 1995, or the table of a JSON file, such as
    {"factors": 5, "ccf": 5, "csw": 5, "volume": {"step": 0.05}, "mass": 0}: decimals, or multiples of a step."""
    if policy == "none":
        return {}
    if policy == "1995":
        return rounding_1995(ITEMS[unit])
    table = read_object(Path(policy), "none, 1995, or a JSON file with decimals of factors, ccf, csw, volume, mass")
    found: dict[str, Any] = {}
    for name, value in table.items():
        one_of(name, ROUNDED, "the step to be rounded", file=policy)
        step = value.get("step") if isinstance(value, dict) and value.keys() == {"step"} else None
        try:
            if isinstance(step, (int, float)) and not isinstance(step, bool):
                found[name] = Rounding.increment(step)
            elif isinstance(value, int) and not isinstance(value, bool) and -9 <= value <= 12:
                found[name] = Rounding.decimals(value)
            else:
                raise InputError(f"{name}: write a number of decimals, -9 to 12, or {{\"step\": 0.05}}", file=policy)
        except FlowcompError as error:
            raise InputError(f"{name}: {error}", file=policy) from None
    return found


def body_term(path: Path, factors: FactorsInForce, readings: TicketReadings) -> tuple[Meter, float]:
    """The meter whose body changes between proving and metering, and B(metering)/B(proving), metering at the
    temperature and pressure weighted by the pulses. The standard has no such term: the contract asks for it."""
    loaded = loaded_meter(path, None)
    assert loaded is not None
    factor = factors.points[0]
    if len(factors.points) > 1 or math.isnan(factor.then.get("temperature", math.nan)) or math.isnan(factor.p_kpag):
        raise InputError("the body term needs temperature and pressure of the proving: pass one --factor")
    pulses = math.fsum(one["pulses"] for one in readings.intervals)
    if not pulses:
        raise InputError("nothing flowed: there is no temperature for the body term")
    t, p = (math.fsum(one[name] * one["pulses"] for one in readings.intervals) / pulses for name in ("t_degc", "p_kpag"))
    try:
        change = body_difference(loaded.body, t_proving_degc=factor.then["temperature"], p_proving_kpag=factor.p_kpag,
                                 t_metering_degc=t, p_metering_kpag=p)
    except FlowcompError as error:
        raise InputError(f"no body term: {error}", file=path) from None
    return loaded, change.ratio


def void_numbers(period: Period, liquid: Liquid, factors: FactorsInForce, conditions: Sequence[Conditions | None],
                 used: Sequence[tuple[float, Factor]], volume_before_m3: float | None) -> dict[str, dict[str, float]]:
    """The triggers at the proving and over the ticket. Those of a condition are judged where an interval is furthest
    from the proving nearest to it: a factor must hold for all of the ticket. The volume is that before the ticket, since
    the oldest proving, and the ticket's own gross volume; where the one before is not told it stays unknown."""
    limits = factors.limits
    if not limits:
        return {"proving": {}, "now": {}, "limits": {}}
    flowing = [(found, mf, factor) for found, (mf, factor) in zip(conditions, used, strict=True) if found]
    proving: dict[str, float] = {"liquid": 0.0, "days": 0.0, "volume": 0.0}
    now = {"liquid": float(any(one.liquid not in ("", liquid.name) for one in factors.points))}
    if days := [(period.end.date() - one.day).days for one in factors.points if one.day]:
        now["days"] = float(max(days))
    if volume_before_m3 is not None:
        now["volume"] = volume_before_m3 + math.fsum(found["iv_m3"] * mf for found, mf, _ in flowing)
    for name in CONDITIONS:
        pairs = [(found[name], factor.then.get(name, math.nan)) for found, _, factor in flowing]
        if usable := [(value, then) for value, then in pairs if not math.isnan(value)]:
            now[name], proving[name] = max(usable, key=lambda pair: change(name, *pair))

    def known(numbers: Mapping[str, float]) -> dict[str, float]:
        return {word: numbers[word] for word in VOID_TRIGGERS if word in numbers and not math.isnan(numbers[word])}

    return {"proving": known(proving), "now": known(now), "limits": known(limits)}


def change(name: str, value: float, then: float) -> float:
    """How far a condition has gone, in the way its trigger judges it; the least where the proving has none."""
    if math.isnan(then):
        return -1.0
    return abs(value - then) / (then if name in RELATIVE and then > 0 else 1.0)


def conditions_of(readings: TicketReadings, meter: Meter | None, liquid: Liquid, density: Mapping[str, float | None],
                  nkf: float | None, unit_m3: float) -> list[Conditions | None]:
    """Of each interval that flowed: flow (m3/s), temperature, viscosity, Roshko number, base density, and the indicated
    volume (m3); None where nothing flowed, NaN for what is not known."""
    found: list[Conditions | None] = []
    given = {name: value for name, value in density.items() if value is not None}
    for one in readings.intervals:
        if not one["pulses"]:
            found.append(None)
            continue
        seconds = one.get("flowing_s") or (one["end"] - one["start"]).total_seconds()
        rate = one["pulses"] / seconds
        try:
            factors = liquid.volume(t_degc=one["t_degc"], p_kpag=one["p_kpag"], **given)
            rho = float(factors.rho_base_kgm3)
            if meter:
                reading = {"nu_mm2s": one["nu_mm2s"]} if "nu_mm2s" in one else {}
                result = meter.evaluate(liquid, f_hz=rate, t_degc=one["t_degc"], p_kpag=one["p_kpag"],
                                        rho_base_kgm3=rho, **reading)
                k, nu, ro = result.k_per_m3, result.nu_mm2s, result.ro
            else:
                k, nu, ro = float(nkf or math.nan) / unit_m3, one.get("nu_mm2s", math.nan), math.nan
                if liquid.viscosity_source != "measured":
                    nu = float(liquid.viscosity(one["t_degc"], rho_base_kgm3=rho).nu_mm2s)
        except FlowcompError as error:
            hint = "" if given else "; is it the density, --rho-base-kgm3?"
            raise InputError(f"the interval from {one['start'].isoformat()} cannot be evaluated: {error}{hint}") from None
        found.append({"flow": rate / k, "temperature": one["t_degc"], "viscosity": nu, "roshko": ro, "density": rho,
                      "iv_m3": one["pulses"] / k})
    return found


def read_object(path: Path, needed: str) -> dict[str, Any]:
    """A JSON object of a file."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (FileNotFoundError, IsADirectoryError):
        raise InputError(f"there is no such file; give {needed}", file=path) from None
    except ValueError as error:
        raise InputError(f"no JSON: {error}", file=path) from None
    if not isinstance(found, dict):
        raise InputError(f"a JSON object is needed: {needed}", file=path)
    return found


def read_line_fill(path: Path) -> dict[str, Any]:
    """Opening and closing of a line fill; what stands in them the library judges."""
    found = read_object(path, "opening and closing of the line fill")
    if found.keys() != {"opening", "closing"}:
        raise InputError("an object with opening and closing is needed", file=path)
    return found


def in_trail(path: Path, verdict: TicketVerdict) -> str:
    """Whether a trail has the ticket, by its hash, as it reads; whether the trail is intact, check_trail says."""
    from .trail import trail_entries

    named = False
    for entry in trail_entries(path):
        if entry["type"] == "ticket" and entry["id"] == verdict.id:
            if entry["data"].get("sha256") == verdict.sha256:
                return "in the trail"
            named = True
    return "in the trail with another hash" if named else "not in the trail"
