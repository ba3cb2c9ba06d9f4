# SPDX-License-Identifier: Apache-2.0
"""The command ``flowcomp liquid``: liquid files from a table of laboratory reports."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Annotated

import typer

from .cli_support import guarded, say, show_cautions, table
from .input_error import InputError


@guarded
def liquid(
    source: Annotated[Path, typer.Argument(help="Table with a row for each laboratory point.", metavar="LIQUIDS.csv")],
    out: Annotated[Path, typer.Option(help="Folder for the liquid files, one for each liquid.")],
    decimal_comma: Annotated[bool, typer.Option("--decimal-comma", help="Numbers are written with a comma.")] = False,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace files that are there already.")] = False,
) -> None:
    """Make one liquid file (JSON) of each liquid in a table.

    Columns: liquid, group (or alpha60_per_degf) and base, t_degc and nu_mm2s of each laboratory point, u_nu_pct
    (expanded uncertainty of the viscosity, k=2, per cent). Optional: viscosity (points, measured, one_point, typical),
    family, source, form, beyond, volume (none: no volume correction).
    """
    from .liquid_files import from_table
    from .safe_output import OutputFiles
    from .text_table import read_table

    liquids = from_table(read_table(source, decimal_comma))
    names = {name: re.sub(r"[^\w.-]", "_", name) + ".json" for name in liquids}
    if len(set(names.values())) < len(names):
        raise InputError("two liquids would have the same file name; rename one", file=source)
    rows = []
    with OutputFiles(overwrite) as files:
        for name, found in liquids.items():
            files.part(out / names[name]).write_text(found.to_json(), encoding="utf-8")
            points = found.points
            shown = "; ".join(f"{nu:g} at {t:g}" for t, nu in zip(points.t_degc, points.nu_mm2s, strict=True)) or "-"
            volume = found.volume_method if found.base is None else (
                f"{found.volume_method}, {found.group or f'alpha60 {found.alpha60_per_degf:g}'}, {found.base}")
            rows.append([name, volume, found.viscosity_source, shown, f"{200 * found.u_nu_relative:g}", names[name],
                         found.hash[:12]])
    table(f"{len(rows)} liquids in {out}", ["liquid", "volume correction", "viscosity", "points (mm2/s at degC)",
                                           "u %, k=2", "file", "hash"], rows, texts=(0, 1, 2, 3, 5, 6))
    say("The viscosity is as good as the laboratory's sample is like the liquid in the line.")
    show_cautions()
