# SPDX-License-Identifier: Apache-2.0
"""Columns that carry their unit in their name, and their way to the library's units."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from .input_error import InputError

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Quantity:
    """A quantity by the library's own name, its unit there, and the columns it may stand in with their units."""

    name: str
    unit: str
    columns: dict[str, str]
    absolute: tuple[str, ...] = ()  # columns that hold absolute pressures


def pressure(name: str, stem: str) -> Quantity:
    """A gauge pressure in kPa, also from other units and from absolute pressures."""
    gauge = {f"{stem}_kpag": "kPag", f"{stem}_mpag": "MPag", f"{stem}_barg": "barg", f"{stem}_psig": "psig"}
    absolute = {f"{stem}_kpaa": "kPaa", f"{stem}_bara": "bara", f"{stem}_psia": "psia"}
    return Quantity(name, "kPag", gauge | absolute, tuple(absolute))


def temperature(name: str, stem: str) -> Quantity:
    """A temperature in degrees Celsius, also from Fahrenheit."""
    return Quantity(name, "degC", {f"{stem}_degc": "degC", f"{stem}_degf": "degF"})


FLOW = Quantity("q_m3s", "m3/s", {"q_m3h": "m3/h", "q_lpm": "L/min", "q_usgpm": "USgal/min", "q_bblh": "bbl/h"})
K_FACTOR = Quantity("k_per_m3", "pulses/m3", {"k_per_m3": "pulses/m3", "k_per_l": "pulses/L",
                                              "k_per_usgal": "pulses/USgal", "k_per_bbl": "pulses/bbl"})
K_NOMINAL = Quantity("k_nominal_per_m3", "pulses/m3",
                     {f"k_nominal{name[1:]}": unit for name, unit in K_FACTOR.columns.items()})
VOLUME = Quantity("volume_m3", "m3", {"volume_m3": "m3", "volume_l": "L", "volume_usgal": "USgal",
                                      "volume_bbl": "bbl"})
BOOKED = Quantity("booked_m3", "m3", {"booked_m3": "m3", "booked_l": "L", "booked_usgal": "USgal",
                                      "booked_bbl": "bbl"})
VISCOSITY = Quantity("nu_mm2s", "mm2/s", {"nu_mm2s": "mm2/s"})
TEMPERATURE = temperature("t_degc", "t")
T_OBSERVED = temperature("t_observed_degc", "t_observed")
T0 = temperature("t0_degc", "t0")
PRESSURE = pressure("p_kpag", "p")
P_OBSERVED = pressure("p_observed_kpag", "p_observed")
P0 = pressure("p0_kpag", "p0")
VAPOUR_PRESSURE = Quantity("pe_kpa", "kPaa", {"pe_kpa": "kPaa", "pe_kpaa": "kPaa", "pe_bara": "bara", "pe_psia": "psia"})


def column_of(quantity: Quantity, columns: Iterable[str], *, file: Path | str, line: int | None = None) -> str | None:
    """The one column that holds the quantity, or None.

    :raises InputError: where two hold it
    """
    found = [column for column in columns if column in quantity.columns]
    if len(found) > 1:
        raise InputError(f"{' and '.join(found)} hold the same quantity; keep one of them", file=file, line=line)
    return found[0] if found else None


def to_library_unit(quantity: Quantity, column: str, values: Array, atmospheric_kpaa: float | None = None, *,
                    file: Path | str | None = None) -> Array:
    """Values of a column in the library's unit; a missing value (NaN) stays missing, a meaningless one becomes NaN.

    :param values: shape (n,), unit as the column's name says
    :return: shape (n,), unit quantity.unit
    """
    from .units import convert, convert_pressure

    unit = quantity.columns[column]
    if unit == quantity.unit:
        return values
    if column in quantity.absolute:
        if atmospheric_kpaa is None:
            raise InputError(f"{column} is an absolute pressure: say --atmospheric-kpaa, the site's atmospheric "
                             "pressure in kPa (101.325 at sea level)", file=file, column=column)
        return np.asarray(convert_pressure(values, unit, quantity.unit, atmospheric_kpaa, on_refused="nan"))
    return np.asarray(convert(values, unit, quantity.unit, on_refused="nan"))
