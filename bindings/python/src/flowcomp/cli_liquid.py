# SPDX-License-Identifier: Apache-2.0
"""The command ``flowcomp liquid``: liquid files from a table of laboratory reports."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .cli_support import guarded, say, show_cautions, table
from .input_error import InputError

if TYPE_CHECKING:
    from .liquid import Liquid
    from .viscosity_fit import ViscosityFit


def volume_of(found: Liquid) -> str:
    """Volume correction of a liquid in a cell."""
    if found.volume_method == "none":
        return found.volume_method
    product = found.group or ("" if math.isnan(found.alpha60_per_degf) else f"alpha60 {found.alpha60_per_degf:g}")
    return ", ".join(part for part in (found.volume_method, product, found.base or f"{found.t_base_degc:g} degC") if part)


def viscosity_of(found: Liquid) -> str:
    """Viscosity source of a liquid in a cell; of a model its range too."""
    details = found.details
    if found.viscosity_source != "model":
        return found.viscosity_source
    low, high = (details.get(f"model_t_{end}_degc") for end in ("low", "high"))
    return str(details["model"]) if low is None else f"{details['model']}, {low:g} to {high:g} degC"


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
    family, source, form, beyond, volume (none: no volume correction). With viscosity fit a model (column model; d341_ab
    where it is missing) is fitted to the points and the residuals are shown; volume may name any method of the library,
    and a column may have the name of any of its options (compressibility, vapour, water, t_base_degc ...).
    """
    from .liquid_files import from_table
    from .safe_output import OutputFiles
    from .text_table import read_table

    fits: dict[str, ViscosityFit] = {}
    liquids = from_table(read_table(source, decimal_comma), fits)
    names = {name: re.sub(r"[^\w.-]", "_", name) + ".json" for name in liquids}
    if len(set(names.values())) < len(names):
        raise InputError("two liquids would have the same file name; rename one", file=source)
    rows = []
    with OutputFiles(overwrite) as files:
        for name, found in liquids.items():
            files.part(out / names[name]).write_text(found.to_json(), encoding="utf-8")
            points = found.points
            shown = "; ".join(f"{nu:g} at {t:g}" for t, nu in zip(points.t_degc, points.nu_mm2s, strict=True)) or "-"
            rows.append([name, volume_of(found), viscosity_of(found), shown, f"{200 * found.u_nu_relative:g}", names[name],
                         found.hash[:12]])
    table(f"{len(rows)} liquids in {out}", ["liquid", "volume correction", "viscosity", "points (mm2/s at degC)",
                                           "u %, k=2", "file", "hash"], rows, texts=(0, 1, 2, 3, 5, 6))
    for name, fit in fits.items():
        residuals = ", ".join(f"{value:+.2f}" for value in fit.residual_pct)
        say(f"{name}: {fit.model}, residuals {residuals} %; "
            + ("a curve through its points, which say nothing of how well it fits" if fit.free == 0 else
               f"root mean square {fit.rms_pct:.2f} %"))
    say("The viscosity is as good as the laboratory's sample is like the liquid in the line.")
    show_cautions()
