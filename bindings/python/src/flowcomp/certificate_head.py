# SPDX-License-Identifier: Apache-2.0
"""The head of a certificate file: lines ``#! key: value`` before the table, and ``#! block:`` lines between its rows.

What the numbers mean cannot be guessed from them, so the lines listed in REQUIRED have no default.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import numpy as np

from .input_error import InputError, close_names, one_of
from .text_table import Line, Table, number_of
from .unit_columns import K_NOMINAL, P0, T0, Quantity, to_library_unit

CONVENTIONS = ("dimensionless", "normalised", "raw")
TREATMENTS = ("as_run", "already_corrected")
REFERENCES = ("at_meter", "at_base")
BEYOND_METAL = ("refuse", "extend")
ENDS = ("none", "thin_wall", "thin_wall_closed", "lame_open", "lame_closed", "lame_held")

# What a message shows when the line is missing.
REQUIRED = {
    "meter": ("#! meter: DN80-A", "the tag of the meter"),
    "convention": ("#! convention: raw", "what the numbers are: dimensionless (St and Ro), normalised (K and f/nu with "
                   "the body taken to D0) or raw (K and f/nu)"),
    "body": ("#! body: as_run", "whether the body's growth at the run is still in the numbers (as_run) or the "
             "laboratory has taken the body to T0 (already_corrected)"),
    "reference_volume": ("#! reference_volume: at_meter", "whether the reference volumes hold at the meter's "
                         "temperature and pressure (at_meter) or at base conditions (at_base)"),
    "bore_mm": ("#! bore_mm: 77.93", "the bore D0 in millimetres"),
    "t0_degc": ("#! t0_degc: 20", "the temperature at which the bore is D0"),
    "housing": ("#! housing: 316 (set api_12_2_1_1995)", "the metal of the housing and the table of its expansion"),
    "rotor": ("#! rotor: 17-4PH (set api_12_2_1_1995)", "the metal of the rotor and its table, or 'same as housing'"),
    "end": ("#! end: lame_closed", f"the end condition of the pressure stretch, one of {', '.join(ENDS)}"),
}
WALL = ("#! wall_mm: 5.5", "the wall of the housing in millimetres, as the end condition is not none")
OPTIONAL = {"wall_mm", "hub_mm", "beyond_metal", "u_k_pct", "laboratory", "certificate", "date", "note"}
METAL_NUMBERS = ("alpha_per_k", "t_low_degc", "t_high_degc", "modulus_gpa", "poisson")
NIST_SET = "nist_cryogenic"


@dataclass(frozen=True)
class MetalLine:
    """A metal as the head names it: an entry of a table, or numbers of its own."""

    name: str
    table: str
    numbers: dict[str, float]
    source: str
    line: int


@dataclass(frozen=True)
class Head:
    """What stands over the table. Lengths in m, temperature in °C, pressure in kPa gauge; k_nominal NaN if none."""

    file: Path
    meter: str
    convention: str
    body: str
    reference_volume: str
    bore_m: float
    t0_degc: float
    p0_kpag: float
    housing: MetalLine
    rotor: MetalLine | None
    end: str
    wall_m: float
    beyond_metal: str
    area_blocked: float
    k_nominal_per_m3: float
    u_k_pct: float
    notes: dict[str, str]


@dataclass(frozen=True)
class Block:
    """A line that opens the points of one liquid: its name, and cells for the columns the points leave empty."""

    first_row: int
    line: int
    liquid: str
    cells: dict[str, str]


def key_value(line: Line, file: Path) -> tuple[str, str]:
    key, colon, value = line.text[2:].strip().partition(":")
    if not colon or not key.strip():
        raise InputError(f"'{line.text}' is no head line; write '#! key: value'", file=file, line=line.number)
    return key.strip(), value.strip()


def pairs(text: str, file: Path, line: int) -> dict[str, str]:
    """``key: value; key: value`` as a dictionary."""
    found: dict[str, str] = {}
    for part in filter(None, (part.strip() for part in text.split(";"))):
        key, colon, value = part.partition(":")
        if not colon:
            raise InputError(f"'{part}' is not written as 'key: value'", file=file, line=line)
        found[key.strip()] = value.strip()
    return found


class HeadLines:
    """The head lines of a table by key, each once, with their line numbers."""

    def __init__(self, table: Table, decimal_comma: bool) -> None:
        self.file, self.decimal_comma = table.file, decimal_comma
        self.values: dict[str, tuple[str, int]] = {}
        self.blocks: list[Block] = []
        known = set(REQUIRED) | OPTIONAL | set(K_NOMINAL.columns) | set(T0.columns) | set(P0.columns) | {"block"}
        for place, line in table.special:
            key, value = key_value(line, self.file)
            if key not in known:
                raise InputError(f"the head line '{key}' is not known{close_names(key, known)}", file=self.file,
                                 line=line.number)
            if key == "block":
                self.blocks.append(self.block(place, line.number, value))
                continue
            if place > 0:
                raise InputError(f"the head line '{key}' stands among the points; move it above the table",
                                 file=self.file, line=line.number)
            if key in self.values:
                raise InputError(f"the head line '{key}' stands twice", file=self.file, line=line.number)
            self.values[key] = (value, line.number)

    def block(self, place: int, line: int, value: str) -> Block:
        name, _, rest = value.partition(";")
        if not name.strip() or ":" in name:
            raise InputError("a block opens with the liquid's name: '#! block: kerosene; nu_mm2s: 1.6; t_degc: 20'",
                             file=self.file, line=line)
        return Block(place, line, name.strip(), pairs(rest, self.file, line))

    def line(self, key: str) -> int | None:
        return self.values[key][1] if key in self.values else None

    def text(self, key: str, example: tuple[str, str] | None = None) -> str:
        """Value of a line that must be there."""
        value = self.values.get(key, ("", 0))[0]
        if value:
            return value
        shown, meaning = example or REQUIRED[key]
        raise InputError(f"the head line '{key}' is missing: {meaning}. There is no default. Example:\n    {shown}",
                         file=self.file)

    def word(self, key: str, choices: Iterable[str]) -> str:
        return one_of(self.text(key), choices, key, file=self.file, line=self.line(key))

    def number(self, key: str) -> float:
        """Value of a line as a number; NaN where the line is absent."""
        value, line = self.values.get(key, ("", 0))
        return number_of(value, self.decimal_comma, file=self.file, line=line, column=key)

    def metres(self, key: str) -> float:
        """Value of a line in millimetres as metres, rounded once: 77.93 gives the double next to 0.07793."""
        value = self.number(key)
        return math.nan if math.isnan(value) else float(Decimal(repr(value)).scaleb(-3))

    def quantity(self, quantity: Quantity) -> float:
        """Value of the one line that holds the quantity, in the library's unit; NaN where there is none."""
        found = [key for key in quantity.columns if key in self.values]
        if len(found) > 1:
            raise InputError(f"{' and '.join(found)} say the same; keep one of them", file=self.file,
                             line=self.line(found[1]))
        if not found:
            return math.nan
        if found[0] in quantity.absolute:
            raise InputError("give a gauge pressure here", file=self.file, line=self.line(found[0]))
        return float(to_library_unit(quantity, found[0], np.array([self.number(found[0])]), file=self.file)[0])

    def metal(self, key: str) -> MetalLine:
        """``316 (set api_12_2_1_1995)``, or ``alpha_per_k: 16e-6; t_low_degc: -20; ...``."""
        text, line = self.text(key), self.line(key) or 0
        named = re.fullmatch(r"(\S+)\s*\(\s*set\s+(\S+)\s*\)", text)
        if named:
            return MetalLine(named[1], named[2], {}, "", line)
        if "alpha_per_k" in text:
            return self.own_metal(pairs(text, self.file, line), line)
        raise InputError(f"'{text}' names no table of expansions: tables differ by up to 10 % for one metal. Example:\n"
                         f"    {REQUIRED[key][0]}\nor with numbers of your own:\n    #! {key}: alpha_per_k: 16.0e-6; "
                         "t_low_degc: -20; t_high_degc: 100; modulus_gpa: 193; poisson: 0.3; source: mill certificate",
                         file=self.file, line=line)

    def own_metal(self, given: dict[str, str], line: int) -> MetalLine:
        known = {*METAL_NUMBERS, "source"}
        for key in given:
            if key not in known:
                raise InputError(f"'{key}' is not known here{close_names(key, known)}", file=self.file, line=line)
        for key in (*METAL_NUMBERS[:3], "source"):
            if not given.get(key):
                raise InputError(f"a metal with numbers of its own needs {key}", file=self.file, line=line)
        numbers = {key: number_of(given.get(key, ""), self.decimal_comma, file=self.file, line=line, column=key)
                   for key in METAL_NUMBERS}
        return MetalLine("", "", numbers, given["source"], line)

    def rotor(self) -> MetalLine | None:
        """The rotor's metal; None where it is that of the housing."""
        return None if self.text("rotor") == "same as housing" else self.metal("rotor")


def read_head(lines: HeadLines) -> Head:
    """The head, complete and in the library's units.

    :raises InputError: that names the first missing or wrong line, with an example
    """
    end = lines.word("end", ENDS)
    lines.text("bore_mm")
    bore = lines.metres("bore_mm")
    if math.isnan(t0 := lines.quantity(T0)):
        lines.text("t0_degc")
    if end != "none":
        lines.text("wall_mm", WALL)
    hub, p0 = lines.metres("hub_mm"), lines.quantity(P0)
    if hub >= bore:
        raise InputError("the hub is as wide as the bore; hub_mm is a diameter", file=lines.file,
                         line=lines.line("hub_mm"))
    return Head(
        file=lines.file,
        meter=lines.text("meter"),
        convention=lines.word("convention", CONVENTIONS),
        body=lines.word("body", TREATMENTS),
        reference_volume=lines.word("reference_volume", REFERENCES),
        bore_m=bore,
        t0_degc=t0,
        p0_kpag=0.0 if math.isnan(p0) else p0,
        housing=lines.metal("housing"),
        rotor=lines.rotor(),
        end=end,
        wall_m=lines.metres("wall_mm") if end != "none" else math.nan,
        beyond_metal=lines.word("beyond_metal", BEYOND_METAL) if "beyond_metal" in lines.values else "refuse",
        area_blocked=0.0 if math.isnan(hub) else (hub / bore) ** 2,
        k_nominal_per_m3=lines.quantity(K_NOMINAL),
        u_k_pct=lines.number("u_k_pct"),
        notes={key: lines.values[key][0] for key in ("laboratory", "certificate", "date", "note")
               if key in lines.values},
    )
