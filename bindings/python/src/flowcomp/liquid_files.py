# SPDX-License-Identifier: Apache-2.0
"""Liquids from a table, a folder of liquid files, or one liquid file.

The table has a row for each laboratory point. Columns: liquid, group (or alpha60_per_degf) and base for the volume
correction, or volume with the word none; t_degc or t_degf and nu_mm2s; u_nu_pct, the expanded uncertainty (k=2) of the
viscosity in per cent. Optional: viscosity (points, measured, one_point, typical, fit of a model to the points, model of a
named liquid), family (for one_point), source, form, beyond, and what another volume method or a model needs, by the names
of its options (compressibility, vapour, model ...). What holds for the whole liquid may stand in its first row only.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from .input_error import InputError, close_names, one_of
from .text_table import Row, Table, read_table, rows_by
from .unit_columns import TEMPERATURE, column_of, to_library_unit

if TYPE_CHECKING:
    from .liquid import Liquid
    from .viscosity_fit import ViscosityFit

WORDS = ("volume", "group", "base", "viscosity", "family", "source", "form", "beyond")
NUMBERS = ("alpha60_per_degf", "u_nu_pct")
# options of the other volume methods and viscosity models, as Liquid has them
METHOD_WORDS = ("compressibility", "vapour", "aromatic", "water", "glycol", "saturated", "costald", "model",
                "viscosity_pressure")
METHOD_NUMBERS = ("t_base_degc", "p_base_kpag", "p_atmospheric_kpa", "f_per_kpa", "pe378_kpa", "vapour_slope_k",
                  "vapour_a", "vapour_b", "vapour_c", "alpha15_per_degc", "pc_kpa", "mass_fraction", "salinity_psu",
                  "alpha_per_gpa")
COLUMNS = ("liquid", *WORDS, *NUMBERS, *METHOD_WORDS, *METHOD_NUMBERS, *TEMPERATURE.columns, "nu_mm2s")
SOURCES = ("points", "measured", "one_point", "typical", "fit", "model")


def load_liquids(path: Path, decimal_comma: bool = False) -> dict[str, Liquid]:
    """Liquids by name, from a table, a folder or one file.

    :raises InputError: with file, line and column
    """
    if path.is_dir():
        return from_folder(path)
    if path.suffix.lower() == ".json":
        liquid = load_liquid(path)
        return {liquid.name: liquid}
    return from_table(read_table(path, decimal_comma))


def load_liquid(path: Path) -> Liquid:
    """One liquid file."""
    from .errors import FlowcompError
    from .liquid import Liquid

    try:
        return Liquid.load(path)
    except FileNotFoundError:
        raise InputError("there is no such file", file=path) from None
    except FlowcompError as error:
        raise InputError(f"no liquid file that can be used: {error}", file=path) from None


def from_folder(folder: Path) -> dict[str, Liquid]:
    """All liquid files of a folder; files of another kind are not looked at."""
    found: dict[str, Liquid] = {}
    for path in sorted(folder.glob("*.json")):
        if not is_liquid_file(path):
            continue
        liquid = load_liquid(path)
        if liquid.name in found:
            raise InputError(f"a second file for the liquid '{liquid.name}'", file=path)
        found[liquid.name] = liquid
    if not found:
        raise InputError("no liquid file (*.json) in this folder", file=folder)
    return found


def is_liquid_file(path: Path) -> bool:
    """Whether the file says that it is one; a damaged one is taken for one, so that it is not passed over."""
    try:
        content = json.loads(path.read_bytes())
    except ValueError:
        return True
    return isinstance(content, dict) and content.get("format") == "flowcomp-liquid"


def from_table(table: Table, fits: dict[str, ViscosityFit] | None = None) -> dict[str, Liquid]:
    """Liquids of a table; fits takes the fits of models that were made on the way."""
    table.require("liquid", "u_nu_pct")
    for name in table.columns:
        if name not in COLUMNS:
            raise InputError(f"the column is not known{close_names(name, COLUMNS)}; known are: {', '.join(COLUMNS)}",
                             file=table.file, line=table.header_line, column=name)
    if not table.rows:
        raise InputError("the table has no liquids", file=table.file)
    fits = {} if fits is None else fits
    return {name: liquid_of(name, rows, table, fits) for name, rows in rows_by(table, "liquid")}


def common(rows: list[Row], column: str) -> str:
    """What the rows of a liquid say alike; empty where none says it."""
    said = ""
    for row in rows:
        cell = row.text(column)
        if cell and said and cell != said:
            raise row.error(f"'{cell}', but an earlier row of this liquid says '{said}'", column)
        said = said or cell
    return said


def points_of(rows: list[Row], table: Table) -> list[tuple[float, float]]:
    """Laboratory points (°C, mm2/s), by rising temperature."""
    column = column_of(TEMPERATURE, table.columns, file=table.file, line=table.header_line)
    found = []
    for row in rows:
        nu = row.number("nu_mm2s")
        t = row.number(column) if column else math.nan
        if math.isnan(nu) and math.isnan(t):
            continue
        if math.isnan(nu) or math.isnan(t):
            raise row.error("a laboratory point needs its temperature (t_degc) and its viscosity (nu_mm2s)")
        found.append((float(to_library_unit(TEMPERATURE, str(column), np.array([t]), file=table.file)[0]), nu))
    return sorted(found)


def liquid_of(name: str, rows: list[Row], table: Table, fits: dict[str, ViscosityFit]) -> Liquid:
    """One liquid of the table."""
    from .errors import FlowcompError
    from .liquid import Liquid

    words = {column: common(rows, column) for column in WORDS}
    numbers = {column: number_of_all(rows, column) for column in NUMBERS}
    points = points_of(rows, table)
    source = words["viscosity"] or ("measured" if not points else "points")
    one_of(source, SOURCES, "viscosity", file=table.file, line=rows[0].line)
    if source == "points" and len(points) < 2:
        raise rows[0].error(f"the liquid '{name}' has one laboratory point; give another, or say in a column "
                            "viscosity: one_point with its family, or typical")
    if math.isnan(numbers["u_nu_pct"]):
        raise rows[0].error("the expanded uncertainty (k=2) of the viscosity is missing", "u_nu_pct")
    volume = words["volume"] or ("petroleum_2004" if words["group"] or not math.isnan(numbers["alpha60_per_degf"])
                                 else "")
    if not volume:
        raise rows[0].error(f"the liquid '{name}' names neither group nor alpha60_per_degf; if it has no volume "
                            "correction, say so with the word none in a column volume")
    optional: dict[str, Any] = {key: words[key] for key in ("group", "base", "form", "beyond") if words[key]}
    optional |= {key: word for key in METHOD_WORDS if (word := common(rows, key))}
    optional |= {key: value for key in METHOD_NUMBERS if not math.isnan(value := number_of_all(rows, key))}
    if not math.isnan(numbers["alpha60_per_degf"]):
        optional["alpha60_per_degf"] = numbers["alpha60_per_degf"]
    try:
        if source == "fit":
            fits[name] = fit_of(points, optional)
            optional |= fits[name].options()
        else:
            optional |= viscosity_options(source, points, words)
        return Liquid(name, volume=volume, u_nu_relative=numbers["u_nu_pct"] / 200, nu_source=words["source"],
                      **optional)
    except FlowcompError as error:
        raise rows[0].error(f"the liquid '{name}' cannot be made: {error}") from None


def fit_of(points: list[tuple[float, float]], optional: dict[str, Any]) -> ViscosityFit:
    """The model that the table names, fitted to the points."""
    from .viscosity_fit import fit_viscosity

    return fit_viscosity([t for t, _ in points], nu_mm2s=[nu for _, nu in points],
                         model=optional.get("model", "d341_ab"), form=optional.get("form", "body"))


def viscosity_options(source: str, points: list[tuple[float, float]], words: dict[str, str]) -> dict[str, Any]:
    """Keywords of a viscosity that is not fitted."""
    from .liquid import family_slope

    found: dict[str, Any] = {"viscosity": source, "t_degc": [t for t, _ in points],
                             "nu_mm2s": [nu for _, nu in points]}
    if source == "one_point":
        found["slope_b"], _ = family_slope(words["family"])
    return found


def number_of_all(rows: list[Row], column: str) -> float:
    """A number that the rows of a liquid say alike; NaN where none says it."""
    common(rows, column)
    said = [value for row in rows if not math.isnan(value := row.number(column))]
    return said[0] if said else math.nan
