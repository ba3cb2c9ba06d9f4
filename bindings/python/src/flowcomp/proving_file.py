# SPDX-License-Identifier: Apache-2.0
"""Files of provings: head lines ``#! key: value`` and a row for each pass (CSV), or the same keys as JSON.

In JSON the head lines are the object ``head`` and the rows the list ``passes``. A prover that serves many provings may
stand in a file of its own, with head lines alone. Keys and columns carry their unit in their name; nothing that decides
the factor has a default that is not stated.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import numpy as np

from .certificate_head import key_value
from .input_error import InputError, close_names, one_of
from .meter_factor import VOID_TRIGGERS
from .proving import Prover
from .text_table import MISSING_WORDS, number_of, read_table, text_lines
from .unit_columns import K_NOMINAL, P_OBSERVED, T_OBSERVED, VISCOSITY, Quantity, pressure, temperature, to_library_unit

VOLUMES = {"m3": "m3", "l": "L", "usgal": "USgal", "bbl": "bbl"}
EXPANSIONS = {"per_degc": "1/degC", "per_degf": "1/degF"}


def volume(stem: str) -> Quantity:
    """A volume in m3, also from other units."""
    return Quantity(f"{stem}_m3", "m3", {f"{stem}_{name}": unit for name, unit in VOLUMES.items()})


def expansion(stem: str) -> Quantity:
    """An expansion coefficient per degree Celsius, also per degree Fahrenheit."""
    return Quantity(f"{stem}_per_degc", "1/degC", {f"{stem}_{name}": unit for name, unit in EXPANSIONS.items()})


# What the prover's certificate says.
PROVER_QUANTITIES = (
    volume("base_volume"), temperature("base_t_degc", "base_t"), expansion("gc"), expansion("ga"), expansion("gl_rod"),
    Quantity("e_kpa", "modulus_kPa", {"e_kpa": "modulus_kPa", "e_gpa": "modulus_GPa", "e_psi": "modulus_psi"}),
    Quantity("id_m", "m", {"id_mm": "mm", "id_in": "in"}), Quantity("wall_m", "m", {"wall_mm": "mm", "wall_in": "in"}),
    Quantity("master_k_per_m3", "pulses/m3", {f"master_{name}": unit for name, unit in (
        ("k_per_m3", "pulses/m3"), ("k_per_l", "pulses/L"), ("k_per_usgal", "pulses/USgal"),
        ("k_per_bbl", "pulses/bbl"))}),
    Quantity("master_mf", "1", {"master_mf": "1"}),
)
PROVER_WORDS = ("prover", "prover_id", "prover_metal", "rod_metal", "double_wall", "water_draw", "expiry")

# How the proving is done and judged.
OPTION_WORDS = ("method", "range", "range_of", "rejection", "rounding", "units")
OPTION_COUNTS = ("passes_per_run", "runs_min", "reject_max")
OPTION_NUMBERS = ("target_pct", "range_limit_pct", "pulses_min", "clock_hz", "clock_ticks_min",
                  "temperature_difference_k", "temperature_drift_k", "flow_spread_pct", "waiting_s", "mf_low",
                  "mf_high", "rho_base_kgm3", "rho_observed_kgm3", "densitometer_factor")
OPTION_QUANTITIES = (K_NOMINAL, T_OBSERVED, P_OBSERVED)
BORE = Quantity("bore_m", "m", {"bore_mm": "mm", "bore_in": "in"})
VOID_LIMITS = tuple(f"void_{word}" for word in VOID_TRIGGERS)
TITLES = ("proving", "meter", "date", "liquid", "flow_started", "note")

# What a pass says.
PASS_QUANTITIES = (
    temperature("t_meter_degc", "t_meter"), pressure("p_meter_kpag", "p_meter"),
    temperature("t_prover_degc", "t_prover"), pressure("p_prover_kpag", "p_prover"),
    temperature("t_rod_degc", "t_rod"), VISCOSITY, volume("upper"), volume("lower"))
PASS_NUMBERS = ("pulses", "pulses_whole", "t_pulses_s", "t_detectors_s", "f_hz", "ctl_prover", "cpl_prover",
                "ctl_meter", "cpl_meter", "pulses_master")
PASS_TIMES = {"start": "start_ms", "end": "end_ms"}
PASS_COLUMNS = ("run", "direction", *PASS_NUMBERS, *PASS_TIMES, *(c for q in PASS_QUANTITIES for c in q.columns))

HEAD_KEYS = {*TITLES, *PROVER_WORDS, *OPTION_WORDS, *OPTION_COUNTS, *OPTION_NUMBERS, *VOID_LIMITS,
             *(key for quantity in (*PROVER_QUANTITIES, *OPTION_QUANTITIES, BORE) for key in quantity.columns)}
EXAMPLES = {
    "proving": ("#! proving: P-014", "the identifier of the proving"),
    "meter": ("#! meter: DN80-A", "the tag of the meter"),
    "date": ("#! date: 2025-03-12", "the day of the proving"),
    "prover": ("#! prover: pipe_bidirectional", "its kind: pipe, pipe_bidirectional, small_volume, tank or "
               "master_meter"),
}


@dataclass
class Keys:
    """Head lines by key, each with the file and line it stands in (line None in JSON)."""

    file: Path
    decimal_comma: bool = False
    values: dict[str, tuple[str, Path, int | None]] = field(default_factory=dict)

    def add(self, key: str, value: str, file: Path, line: int | None, known: set[str]) -> None:
        if key not in known:
            raise InputError(f"the head line '{key}' is not known here{close_names(key, known)}", file=file, line=line)
        if key in self.values:
            raise InputError(f"the head line '{key}' stands twice", file=file, line=line)
        if value:
            self.values[key] = (value, file, line)

    def place(self, key: str) -> dict[str, Any]:
        _, file, line = self.values.get(key, ("", self.file, None))
        return {"file": file, "line": line}

    def text(self, key: str) -> str:
        return self.values[key][0] if key in self.values else ""

    def required(self, key: str) -> str:
        if value := self.text(key):
            return value
        shown, meaning = EXAMPLES[key]
        raise InputError(f"the head line '{key}' is missing: {meaning}. Example:\n    {shown}", file=self.file)

    def number(self, key: str) -> float:
        """NaN where the line is absent."""
        place = self.place(key)
        return number_of(self.text(key), self.decimal_comma, file=place["file"], line=place["line"], column=key)

    def quantity(self, quantity: Quantity) -> float:
        """The one line that holds the quantity, in the library's unit; NaN where there is none."""
        found = [key for key in quantity.columns if key in self.values]
        if len(found) > 1:
            raise InputError(f"{' and '.join(found)} say the same; keep one of them", **self.place(found[1]))
        if not found:
            return math.nan
        value, unit = self.number(found[0]), quantity.columns[found[0]]
        if unit == "mm":  # rounded once: 77.93 gives the double next to 0.07793
            return float(Decimal(repr(value)).scaleb(-3))
        return float(to_library_unit(quantity, found[0], np.array([value]), file=self.file)[0])

    def day(self, key: str) -> date | None:
        try:
            return date.fromisoformat(self.text(key)) if key in self.values else None
        except ValueError:
            raise InputError(f"'{self.text(key)}' is no day; write 2025-03-12", column=key, **self.place(key)) from None

    def moment(self, key: str) -> datetime | None:
        return moment_of(self.text(key), key, **self.place(key)) if key in self.values else None


def moment_of(text: str, column: str, *, file: Path, line: int | None) -> datetime:
    """A time with its offset."""
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        raise InputError(f"'{text}' is no ISO 8601 time; write 2025-03-12T09:30:00+01:00", file=file, line=line,
                         column=column) from None
    if found.tzinfo is None:
        raise InputError(f"'{text}' needs its offset from UTC: 2025-03-12T09:30:00+01:00", file=file, line=line,
                         column=column)
    return found


@dataclass(frozen=True)
class ProvingFile:
    """A proving as its file has it, in the library's units. bore_m: of the meter, for Ro and St where a nominal K is
    used, NaN where not given. lines: the line of each pass, None in JSON."""

    path: Path
    proving: str
    meter: str
    day: date
    liquid: str
    note: str
    prover_id: str
    prover: Prover
    prover_given: dict[str, Any]
    options: dict[str, Any]
    void_limits: dict[str, float]
    bore_m: float
    passes: list[dict[str, Any]]
    lines: list[int | None]


# --- reading ----------------------------------------------------------------------------------------------------------

def read_proving(path: Path, prover_file: Path | None = None, decimal_comma: bool = False) -> ProvingFile:
    """A proving from a CSV or JSON file; the prover from its own file, where one is given.

    :raises InputError: that names file, line and key
    """
    keys = Keys(path, decimal_comma)
    if path.suffix.lower() == ".json":
        head, rows = read_json(path)
        for key, value in head.items():
            keys.add(key, value, path, None, HEAD_KEYS)
        lines: list[int | None] = [None] * len(rows)
    else:
        table = read_table(path, decimal_comma)
        for place, line in table.special:
            if place > 0:
                raise InputError("a head line stands among the passes; move it above the table", file=path,
                                 line=line.number)
            keys.add(*key_value(line, path), path, line.number, HEAD_KEYS)
        rows, lines = [row.cells for row in table.rows], [row.line for row in table.rows]
    if prover_file is not None:
        add_prover_file(keys, prover_file)
    if not rows:
        raise InputError("the proving has no pass", file=path)
    passes = [pass_of(row, keys, line, number) for number, (row, line) in enumerate(zip(rows, lines, strict=True), 1)]
    return proving_of(keys, passes, lines)


def add_prover_file(keys: Keys, path: Path) -> None:
    """Head lines of a prover's own file."""
    known = {*PROVER_WORDS, *(key for quantity in PROVER_QUANTITIES for key in quantity.columns), "note"}
    if path.suffix.lower() == ".json":
        head, rows = read_json(path, has_passes=False)
        pairs: list[tuple[str, str, int | None]] = [(key, value, None) for key, value in head.items()]
    else:
        lines = [line for line in text_lines(path) if line.text.strip()]
        pairs = [(*key_value(line, path), line.number) for line in lines if line.text.startswith("#!")]
        rows = [line for line in lines if not line.text.startswith("#")]
    if rows:
        raise InputError("a file of a prover has head lines alone", file=path)
    for key, value, number in pairs:
        if key != "note":
            keys.add(key, value, path, number, known)


def read_json(path: Path, has_passes: bool = True) -> tuple[dict[str, str], list[Any]]:
    """Head and passes of a JSON file, their numbers as text."""
    text = "\n".join(line.text for line in text_lines(path))
    try:
        whole = json.loads(text, object_pairs_hook=lambda pairs: each_once(pairs, path), parse_float=str,
                           parse_int=str, parse_constant=str)
    except json.JSONDecodeError as error:
        raise InputError(f"no JSON: {error.msg}", file=path, line=error.lineno) from None
    allowed = {"head", "passes"} if has_passes else {"head"}
    if not isinstance(whole, dict) or not allowed >= whole.keys() or not isinstance(whole.get("head"), dict):
        raise InputError(f"a JSON object with {' and '.join(sorted(allowed))} is needed", file=path)
    rows = whole.get("passes", [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise InputError("passes is a list of objects", file=path)
    return {key: word_of(value, key, path) for key, value in whole["head"].items()}, [
        {key: word_of(value, key, path) for key, value in row.items()} for row in rows]


def each_once(pairs: list[tuple[str, Any]], path: Path) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        raise InputError(f"the key '{next(n for n in names if names.count(n) > 1)}' stands twice", file=path)
    return found


def word_of(value: Any, key: str, path: Path) -> str:
    if value is None:
        return ""
    if not isinstance(value, str):
        raise InputError("a number or a text is needed here", file=path, column=key)
    return value


def pass_of(cells: dict[str, str], keys: Keys, line: int | None, number: int) -> dict[str, Any]:
    """One pass in the library's units."""
    place: dict[str, Any] = {"file": keys.file, "line": line} if line else {"file": keys.file, "row": number}
    for name in cells:
        if name not in PASS_COLUMNS:
            raise InputError(f"the column is not known{close_names(name, PASS_COLUMNS)}; known are: "
                             f"{', '.join(PASS_COLUMNS)}", column=name, **place)

    def number_in(name: str) -> float:
        return number_of(cells.get(name, ""), keys.decimal_comma, file=keys.file, line=line or number, column=name)

    run = number_in("run")
    if not (run >= 1 and run % 1 == 0):
        raise InputError("the number of the run is missing; runs are 1, 2, 3 ...", column="run", **place)
    found: dict[str, Any] = {"run": int(run), "direction": cells.get("direction", "").strip() or "single"}
    one_of(found["direction"], ("single", "out", "back"), "direction", file=keys.file, line=line)
    for name in PASS_NUMBERS:
        found[name] = number_in(name)
    for quantity in PASS_QUANTITIES:
        names = [name for name in quantity.columns if cells.get(name, "").strip().lower() not in MISSING_WORDS]
        if len(names) > 1:
            raise InputError(f"{' and '.join(names)} hold the same quantity; keep one of them", **place)
        if names:
            if names[0] in quantity.absolute:
                raise InputError("give a gauge pressure here", column=names[0], **place)
            found[quantity.name] = float(to_library_unit(quantity, names[0], np.array([number_in(names[0])]),
                                                         file=keys.file)[0])
    for column, name in PASS_TIMES.items():
        if cells.get(column, "").strip():
            found[name] = moment_of(cells[column].strip(), column, file=keys.file, line=line or number)
    return {name: value for name, value in found.items() if value == value}


# --- what the head says -----------------------------------------------------------------------------------------------

def proving_of(keys: Keys, passes: list[dict[str, Any]], lines: list[int | None]) -> ProvingFile:
    keys.required("date")
    day = keys.day("date")
    assert day is not None
    given, prover = prover_of(keys)
    options = options_of(keys, str(given["kind"]))
    limits = {word: keys.number(f"void_{word}") for word in VOID_TRIGGERS if f"void_{word}" in keys.values}
    return ProvingFile(keys.file, keys.required("proving"), keys.required("meter"), day, keys.text("liquid"),
                       keys.text("note"), keys.text("prover_id"), prover, given, options, limits,
                       keys.quantity(BORE), passes, lines)


def prover_of(keys: Keys) -> tuple[dict[str, Any], Prover]:
    """What the certificate says, and the prover made of it."""
    from .errors import FlowcompError

    kind = one_of(keys.required("prover"), ("pipe", "pipe_bidirectional", "small_volume", "tank", "master_meter"),
                  "prover", **keys.place("prover"))
    given: dict[str, Any] = {"kind": kind}
    given |= {quantity.name: value for quantity in PROVER_QUANTITIES
              if not math.isnan(value := keys.quantity(quantity))}
    for name, value in metal_of(keys, kind).items():
        if name in given:
            raise InputError(f"the metal gives {name} already; keep one of the two", **keys.place("prover_metal"))
        given[name] = value
    if "double_wall" in keys.values:
        given["double_wall"] = int(one_of(keys.text("double_wall"), ("yes", "no"), "double_wall",
                                          **keys.place("double_wall")) == "yes")
    given |= {"water_draw_day": keys.day("water_draw"), "expiry_day": keys.day("expiry")}
    try:
        return given, Prover(**given)
    except FlowcompError as error:
        raise InputError(f"no prover that can be used: {error}", file=keys.file) from None


def metal_of(keys: Keys, kind: str) -> dict[str, float]:
    """Expansions and modulus of a metal named from the prover set of API MPMS 12.2.1."""
    from . import methods
    from .errors import FlowcompError

    found: dict[str, float] = {}
    wanted = {"gc_per_degc": "cubical_expansion_per_degc"} if kind != "small_volume" else {
        "ga_per_degc": "area_expansion_per_degc"}
    for key, names in (("prover_metal", wanted | {"e_kpa": "modulus_kpa"} if kind != "tank" else wanted),
                       ("rod_metal", {"gl_rod_per_degc": "linear_expansion_per_degc"})):
        if not (metal := keys.text(key)):
            continue
        try:
            found |= {name: getattr(methods, f"prover_{method}")(material=metal) for name, method in names.items()}
        except FlowcompError as error:
            raise InputError(f"{key} '{metal}' has no entry in the prover set: {error}", **keys.place(key)) from None
    return found


def options_of(keys: Keys, kind: str) -> dict[str, Any]:
    """Options of the proving by the library's names."""
    from .proving import proving_rounding_1995

    options: dict[str, Any] = {"passes_per_run": 2 if kind == "pipe_bidirectional" else None}
    options |= {name: keys.text(name) for name in ("method", "range", "range_of", "rejection") if name in keys.values}
    for name in OPTION_COUNTS:
        if name in keys.values:
            value = keys.number(name)
            if not (0 <= value <= 1000 and value % 1 == 0):
                raise InputError(f"{name} is a whole number", **keys.place(name))
            options[name] = int(value)
    options |= {name: keys.number(name) for name in OPTION_NUMBERS if name in keys.values}
    options |= {quantity.name: value for quantity in OPTION_QUANTITIES if not math.isnan(value := keys.quantity(quantity))}
    units = one_of(keys.text("units") or "si", ("si", "customary"), "units", **keys.place("units"))
    if one_of(keys.text("rounding") or "none", ("none", "1995"), "rounding", **keys.place("rounding")) == "1995":
        options["rounding"] = proving_rounding_1995(units)
    options["flow_started_ms"] = keys.moment("flow_started")
    if "k_nominal_per_m3" in options:
        options["nominal_k_per_m3"] = options.pop("k_nominal_per_m3")
    return {name: value for name, value in options.items() if value is not None}
