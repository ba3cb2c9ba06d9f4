# SPDX-License-Identifier: Apache-2.0
"""The command ``flowcomp explain``: one evaluation, step by step."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .cli_support import WRONG_INPUT, guarded, say, show_cautions

FLOW, STATE, DENSITY = "Flow: pulses with a duration, or a frequency", "State", "Density and viscosity"
Number = float | None


@guarded
def explain(
    meter: Annotated[Path, typer.Argument(help="Meter file.", metavar="METER.json")],
    liquid: Annotated[Path, typer.Argument(help="Liquid file.", metavar="LIQUID.json")],
    t_degc: Annotated[float, typer.Option(help="Temperature at the meter, degC.", rich_help_panel=STATE)],
    p_kpag: Annotated[float, typer.Option(help="Pressure at the meter, kPa gauge.", rich_help_panel=STATE)],
    f_hz: Annotated[Number, typer.Option(help="Pulse frequency, Hz.", rich_help_panel=FLOW)] = None,
    pulses: Annotated[Number, typer.Option(help="Pulses of a window.", rich_help_panel=FLOW)] = None,
    duration_s: Annotated[Number, typer.Option(help="Its length, s.", rich_help_panel=FLOW)] = None,
    flowing_s: Annotated[Number, typer.Option(help="Seconds of it with flow.", rich_help_panel=FLOW)] = None,
    f_flowing_hz: Annotated[Number, typer.Option(help="Mean frequency while flowing.", rich_help_panel=FLOW)] = None,
    f_before_hz: Annotated[Number, typer.Option(help="Mean frequency of the window before.", rich_help_panel=FLOW)
                           ] = None,
    f_after_hz: Annotated[Number, typer.Option(help="Of the window after.", rich_help_panel=FLOW)] = None,
    f_highest_hz: Annotated[Number, typer.Option(help="Highest frequency the meter runs at here.",
                                                 rich_help_panel=FLOW)] = None,
    rho_base_kgm3: Annotated[Number, typer.Option(help="Density at base.", rich_help_panel=DENSITY)] = None,
    rho_observed_kgm3: Annotated[Number, typer.Option(help="Or as observed.", rich_help_panel=DENSITY)] = None,
    t_observed_degc: Annotated[Number, typer.Option(help="Temperature of it.", rich_help_panel=DENSITY)] = None,
    p_observed_kpag: Annotated[Number, typer.Option(help="Pressure of it.", rich_help_panel=DENSITY)] = None,
    densitometer_factor: Annotated[float, typer.Option(help="Factor of the densitometer.", rich_help_panel=DENSITY)
                                   ] = 1.0,
    nu_mm2s: Annotated[Number, typer.Option(help="Measured viscosity.", rich_help_panel=DENSITY)] = None,
    pe_kpa: Annotated[Number, typer.Option(help="Measured vapour pressure, kPa absolute.", rich_help_panel=DENSITY)
                      ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")] = False,
) -> int:
    """Show every step of one evaluation: symbol, value, unit, equation, source.

    Every value can be redone on paper. A refused evaluation shows the steps up to the one that failed, and the reason.
    """
    from .cli_restate import load_meters
    from .errors import FlowcompError
    from .liquid_files import load_liquid

    (loaded,) = load_meters([meter], None, None).values()
    reading = {"f_hz": f_hz, "pulses": pulses, "duration_s": duration_s, "flowing_s": flowing_s,
               "f_flowing_hz": f_flowing_hz, "t_degc": t_degc, "p_kpag": p_kpag, "rho_base_kgm3": rho_base_kgm3,
               "rho_observed_kgm3": rho_observed_kgm3, "t_observed_degc": t_observed_degc,
               "p_observed_kpag": p_observed_kpag, "nu_mm2s": nu_mm2s, "f_before_hz": f_before_hz,
               "f_after_hz": f_after_hz, "f_highest_hz": f_highest_hz, "pe_kpa": pe_kpa}
    given = {name: value for name, value in reading.items() if value is not None}
    if densitometer_factor != 1.0:
        given["densitometer_factor"] = densitometer_factor
    found = loaded.explain(load_liquid(liquid), **given)
    if as_json:
        print(found.to_json())
    else:
        say(found.text.rstrip("\n"))
        show_cautions()
    return WRONG_INPUT if isinstance(getattr(found, "error", None), FlowcompError) else 0
