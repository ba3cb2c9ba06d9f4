# SPDX-License-Identifier: Apache-2.0
"""Read a certificate: CSV with a head (certificate_head.py) and one row for each point.

Layouts, by their columns:
    (a) flow, frequency and K              q_m3h f_hz k_per_m3
    (b) flow and error at a nominal K      q_m3h error_pct
    (c) flow and meter factor              q_usgpm meter_factor
    (d) pulses, reference volume and time  pulses volume_l time_s
    (e) two or more blocks of points, the liquid of each in a ``#! block:`` line
    (f) f/nu against K: raw, normalised; or Roshko against Strouhal

Any column may stand in any of its units, and columns may be more than a layout needs: what is given twice must agree.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from .certificate_head import Block, Head, HeadLines, read_head
from .input_error import InputError, close_names
from .text_table import Row, Table, read_table
from .unit_columns import (
    FLOW,
    K_FACTOR,
    PRESSURE,
    TEMPERATURE,
    VISCOSITY,
    VOLUME,
    Array,
    Quantity,
    column_of,
    to_library_unit,
)

CONVERTED = (FLOW, K_FACTOR, VOLUME, TEMPERATURE, PRESSURE, VISCOSITY)
PLAIN = ("f_hz", "error_pct", "meter_factor", "pulses", "time_s", "ctpl", "rho_kgm3")
DYNAMIC, X_COLUMNS = "mu_mpas", ("f_over_nu_hz_per_cst", "roshko")
TEXTS = ("point", "liquid")
POINT_COLUMNS = (*TEXTS, *PLAIN, DYNAMIC, *X_COLUMNS, "strouhal", "u_k_pct",
                 *(name for quantity in CONVERTED for name in quantity.columns))
BLOCK_LIMIT_K = 0.5  # a viscosity stated for the block holds for points this near its temperature


@dataclass(frozen=True)
class Certificate:
    """Head and points. A point has the fields of flc_certificate_point, in their units; lines are those of the file."""

    head: Head
    points: list[dict[str, float | int]]
    liquids: list[str]
    lines: list[int]
    layout: str
    unused: list[str]


def read_certificate(path: Path, decimal_comma: bool = False) -> Certificate:
    """A certificate file.

    :raises InputError: with file, line and column of the first mistake
    """
    table = read_table(path, decimal_comma)
    lines = HeadLines(table, decimal_comma)
    head = read_head(lines)
    if not table.rows:
        raise InputError("the certificate has no points", file=path)
    unused = [name for name in table.columns if name not in POINT_COLUMNS]
    check_columns(head, table)
    rows, liquids = fill_from_blocks(table, lines.blocks)
    columns = numbers_of(table, rows)
    tags = {name: number for number, name in enumerate(dict.fromkeys(liquids))}
    points: list[dict[str, float | int]] = []
    for place in range(len(rows)):
        point: dict[str, float | int] = {name: float(values[place]) for name, values in columns.items()
                                         if not math.isnan(values[place])}
        point["liquid"] = tags[liquids[place]]
        points.append(point)
    return Certificate(head, points, list(tags), [row.line for row in rows], layout_of(table, lines.blocks), unused)


def check_columns(head: Head, table: Table) -> None:
    """Refuse columns that contradict the convention, and a table without any that a layout needs."""
    has = set(table.columns)
    pure = {"roshko", "strouhal"} & has
    if head.convention == "dimensionless" and pure != {"roshko", "strouhal"}:
        raise InputError("convention: dimensionless needs the columns roshko and strouhal; the header has: "
                         f"{', '.join(table.columns)}", file=table.file, line=table.header_line)
    if head.convention != "dimensionless" and pure:
        raise InputError(f"the column {min(pure)} belongs to convention: dimensionless, but the head says "
                         f"{head.convention}", file=table.file, line=table.header_line)
    if head.convention == "dimensionless" and has & {"f_over_nu_hz_per_cst", *K_FACTOR.columns}:
        raise InputError("K and f/nu belong to convention: normalised or raw, but the head says dimensionless",
                         file=table.file, line=table.header_line)
    ordinate = has & {*K_FACTOR.columns, "error_pct", "meter_factor", "strouhal"}
    if not ordinate and not (has & {"pulses"} and has & set(VOLUME.columns)) and not (
            "f_hz" in has and has & set(FLOW.columns)):
        wanted = ("k_per_m3", "error_pct", "meter_factor", "pulses", "strouhal")
        near = next((close_names(name, wanted) for name in table.columns if close_names(name, wanted)), "")
        raise InputError("no column says how many pulses a volume makes: one of k_per_m3 (k_per_l, k_per_usgal, "
                         "k_per_bbl), error_pct, meter_factor, pulses with volume_m3, f_hz with q_m3h, or strouhal is "
                         f"needed; the header has: {', '.join(table.columns)}{near}", file=table.file,
                         line=table.header_line)
    if ordinate & {"error_pct", "meter_factor"} and math.isnan(head.k_nominal_per_m3):
        raise InputError(f"{min(ordinate & {'error_pct', 'meter_factor'})} needs the K it refers to. Example:\n"
                         "    #! k_nominal_per_m3: 12000", file=table.file)


def fill_from_blocks(table: Table, blocks: list[Block]) -> tuple[list[Row], list[str]]:
    """Rows with the cells they leave empty taken from their block, and the liquid of each."""
    rows, liquids = [], []
    for place, row in enumerate(table.rows):
        block = next((block for block in reversed(blocks) if block.first_row <= place), None)
        if block:
            row = filled(row, block)
        rows.append(row)
        liquids.append(row.text("liquid") or (block.liquid if block else "liquid"))
    for block in blocks:
        for name in block.cells:
            if name not in POINT_COLUMNS:
                raise InputError(f"'{name}' is no column of a certificate{close_names(name, POINT_COLUMNS)}",
                                 file=table.file, line=block.line)
    return rows, liquids


def filled(row: Row, block: Block) -> Row:
    """One row with its block's cells where it has none of the quantity itself."""
    present = {name for name, cell in row.cells.items() if cell.strip()}
    taken: dict[str, str] = {}
    for name, cell in block.cells.items():
        rivals = next((set(quantity.columns) for quantity in CONVERTED if name in quantity.columns), {name})
        if name in ("nu_mm2s", DYNAMIC):
            rivals = {"nu_mm2s", DYNAMIC}
        if not present & rivals:
            taken[name] = cell
    merged = Row(row.file, row.line, row.cells | taken, row.decimal_comma)
    check_block_temperature(merged, row, block, taken)
    return merged


def check_block_temperature(merged: Row, row: Row, block: Block, taken: dict[str, str]) -> None:
    """A viscosity that the block states for its own temperature must not serve a point that ran at another."""
    stated, own = block.cells.get("t_degc"), row.text("t_degc")
    if not stated or not own or not {"nu_mm2s", DYNAMIC} & set(taken):
        return
    at = Row(row.file, block.line, block.cells, row.decimal_comma).number("t_degc")
    if abs(merged.number("t_degc") - at) > BLOCK_LIMIT_K:
        raise row.error(f"the point ran at {own} °C, but its viscosity is that of the block at {stated} °C; give the "
                        "viscosity of this point in a column nu_mm2s", "t_degc")


def numbers_of(table: Table, rows: list[Row]) -> dict[str, Array]:
    """Fields of flc_certificate_point as arrays of shape (points,), NaN where not given."""
    names = list(dict.fromkeys(name for row in rows for name in row.cells))

    def column(name: str) -> Array:
        return np.array([row.number(name) for row in rows])

    found: dict[str, Array] = {}
    for quantity in CONVERTED:
        name = column_of(quantity, names, file=table.file, line=table.header_line)
        if name:
            found[quantity.name] = in_library_unit(quantity, name, column(name), rows)
    found |= {name: column(name) for name in PLAIN if name in names and name != "rho_kgm3"}
    if "strouhal" in names:
        found["k_per_m3"] = column("strouhal")
    for name in X_COLUMNS:
        if name in names:
            found["x"] = column(name)
    if "u_k_pct" in names:
        found["u_relative"] = column("u_k_pct") / 200  # expanded (k=2), per cent
    if DYNAMIC in names:
        found["nu_mm2s"] = kinematic(column(DYNAMIC), column("rho_kgm3"), found.get("nu_mm2s"), rows)
    return found


def in_library_unit(quantity: Quantity, name: str, values: Array, rows: list[Row]) -> Array:
    """Converted values; a value without meaning in its unit is a mistake."""
    if name in quantity.absolute:
        raise rows[0].error("a certificate gives gauge pressures: p_kpag, p_barg or p_psig", name)
    converted = to_library_unit(quantity, name, values, file=rows[0].file)
    for row, before, after in zip(rows, values, converted, strict=True):
        if math.isnan(after) and not math.isnan(before):
            raise row.error(f"{before:g} has no meaning in this unit", name)
    return converted


def kinematic(mu: Array, rho: Array, nu: Array | None, rows: list[Row]) -> Array:
    """Kinematic viscosity in mm2/s from mPa.s and kg/m3, where it is not given itself."""
    from .units import convert_viscosity

    found = np.full(len(rows), np.nan) if nu is None else nu.copy()
    for place, row in enumerate(rows):
        if math.isnan(found[place]) and not math.isnan(mu[place]):
            if math.isnan(rho[place]):
                raise row.error("a dynamic viscosity needs the density at its temperature, in a column rho_kgm3",
                                DYNAMIC)
            found[place] = convert_viscosity(float(mu[place]), "mPa.s", "mm2/s", float(rho[place]))
    return found


def layout_of(table: Table, blocks: list[Block]) -> str:
    """The layout in words, for the report."""
    has = set(table.columns)
    if len(blocks) > 1:
        return f"(e) {len(blocks)} blocks"
    if has & set(X_COLUMNS):
        return "(f) Roshko and Strouhal" if "roshko" in has else "(f) f/nu and K"
    if "pulses" in has and has & set(VOLUME.columns):
        return "(d) pulses, volume and time"
    if "meter_factor" in has:
        return "(c) flow and meter factor"
    if "error_pct" in has:
        return "(b) flow and error"
    return "(a) flow, frequency and K"
