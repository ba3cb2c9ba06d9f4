# SPDX-License-Identifier: Apache-2.0
"""What goes into a ticket file: readings, factor, liquid and rules brought together."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .errors import FlowcompError
from .input_error import InputError
from .meter_factor import VOID_TRIGGERS
from .ticket import rounding_1995
from .units import unit_info

if TYPE_CHECKING:
    from .factor_file import Factor
    from .liquid import Liquid
    from .meter import Meter
    from .ticket_file import TicketVerdict
    from .ticket_readings import Period, TicketReadings

ITEMS = {"m3": "cubic_metres", "bbl": "barrels"}


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
                  nkf: float | None, factor: Factor, density: Mapping[str, float | None], ticket: Mapping[str, Any],
                  unit: str, rounding: str, settle: str, remark: str) -> dict[str, Any]:
    """The object under "inputs" of a ticket file."""
    way = "curve" if meter else "nominal_k"
    if factor.way and factor.way != way:
        raise InputError(f"the factor was proved by {factor.way}, the ticket is by {way}: two ways of using a "
                         "calibration, never mixed")
    of_unit = unit_info(unit)
    if nkf is not None and not math.isnan(factor.k_per_m3):
        proved = factor.k_per_m3 * of_unit.numerator / of_unit.denominator
        if abs(proved / nkf - 1) > 1e-9:
            raise InputError(f"--nkf is {nkf:.10g}, but the factor was proved with a nominal K of {proved:.10g} pulses "
                             f"per {unit}")
    unit_m3 = of_unit.numerator / of_unit.denominator
    rounded = rounding_1995(ITEMS[unit]) if rounding == "1995" else {}
    intervals = [{**one, "mf": factor.mf} for one in readings.intervals]
    return {
        "id": id, "place": place, "volume_unit": unit, "proving": factor.proving, "remark": remark,
        "start": period.start, "end": period.end, "iv_source": "intervals", "factors": settle, "nkf": nkf,
        "ticket": {**{name: value for name, value in ticket.items() if value is not None}, "way": way,
                   "unit_m3": unit_m3, "mf": factor.mf, "rounding": rounded},
        "density": {name: value for name, value in density.items() if value is not None}, "intervals": intervals,
        "validity": void_numbers(period, readings, meter, liquid, factor, density, nkf, unit_m3)}


def void_numbers(period: Period, readings: TicketReadings, meter: Meter | None, liquid: Liquid, factor: Factor,
                 density: Mapping[str, float | None], nkf: float | None, unit_m3: float) -> dict[str, dict[str, float]]:
    """The triggers at the proving and over the ticket. Flow, temperature, viscosity and Roshko number of the ticket are
    those of the flowing interval that is furthest from the proving: a factor must hold for all of it."""
    if not factor.limits:
        return {"proving": {}, "now": {}, "limits": {}}
    now = {"liquid": float(bool(factor.liquid) and factor.liquid != liquid.name), "volume": 0.0}
    if factor.day:
        now["days"] = float((period.end.date() - factor.day).days)
    found = conditions_of(readings, meter, liquid, density, nkf, unit_m3)
    for name, values in found.items():
        then = factor.then.get(name, math.nan)
        usable = [value for value in values if not math.isnan(value)]
        if usable:
            now[name] = max(usable, key=lambda value: abs(value - then)) if not math.isnan(then) else usable[0]

    def known(numbers: Mapping[str, float]) -> dict[str, float]:
        return {word: numbers[word] for word in VOID_TRIGGERS if word in numbers and not math.isnan(numbers[word])}

    limits = known(factor.limits)
    limits.pop("volume", None)  # the volume since the proving is not the ticket's to know
    return {"proving": known(factor.then), "now": known(now), "limits": limits}


def conditions_of(readings: TicketReadings, meter: Meter | None, liquid: Liquid, density: Mapping[str, float | None],
                  nkf: float | None, unit_m3: float) -> dict[str, list[float]]:
    """Flow (m3/s), temperature, viscosity, Roshko number and base density of each interval that flowed."""
    found: dict[str, list[float]] = {name: [] for name in ("flow", "temperature", "viscosity", "roshko", "density")}
    given = {name: value for name, value in density.items() if value is not None}
    for one in readings.intervals:
        if not one["pulses"]:
            continue
        seconds = one.get("flowing_s") or (one["end"] - one["start"]).total_seconds()
        rate = one["pulses"] / seconds
        found["temperature"].append(one["t_degc"])
        try:
            factors = liquid.volume(t_degc=one["t_degc"], p_kpag=one["p_kpag"], **given)
            rho = float(factors.rho_base_kgm3)
            found["density"].append(rho)
            if meter:
                reading = {"nu_mm2s": one["nu_mm2s"]} if "nu_mm2s" in one else {}
                result = meter.evaluate(liquid, f_hz=rate, t_degc=one["t_degc"], p_kpag=one["p_kpag"],
                                        rho_base_kgm3=rho, **reading)
                found["flow"].append(rate / result.k_per_m3)
                found["viscosity"].append(result.nu_mm2s)
                found["roshko"].append(result.ro)
            else:
                found["flow"].append(rate / float(nkf or math.nan) * unit_m3)
                nu = one.get("nu_mm2s", math.nan)
                if liquid.viscosity_source != "measured":
                    nu = float(liquid.viscosity(one["t_degc"], rho_base_kgm3=rho).nu_mm2s)
                found["viscosity"].append(nu)
        except FlowcompError as error:
            raise InputError(f"the interval from {one['start'].isoformat()} cannot be evaluated: {error}") from None
    return found


def read_line_fill(path: Path) -> dict[str, Any]:
    """Opening and closing of a line fill; what stands in them the library judges."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise InputError("there is no such file", file=path) from None
    except ValueError as error:
        raise InputError(f"no JSON: {error}", file=path) from None
    if not isinstance(found, dict) or found.keys() != {"opening", "closing"}:
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
