# SPDX-License-Identifier: Apache-2.0
"""Units at the border: a value comes in as the site writes it and is converted once, by exact factors.

>>> import flowcomp as fc
>>> fc.convert(1, "USgal", "L")
3.785411784
>>> fc.convert([32, 212], "degF", "degC")
array([  0., 100.])
>>> fc.convert(1, "gal", "L")
Traceback (most recent call last):
    ...
flowcomp.errors.E_AMBIGUOUS_UNIT: 'gal': the unit name has more than one meaning; write USgal or impgal
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from . import _flowcomp as _raw
from . import errors
from ._arrays import as_doubles, check_policy, chunks, column, index_of, is_scalar, like_input, raise_refused


@lru_cache(maxsize=1024)
def unit_number(name: str, kind: str | None = None) -> int:
    """The library's number of a unit; it may move between versions."""
    try:
        if kind is None:
            return _raw.flc_unit_from_name(name)
        return _raw.flc_unit_of_kind_from_name(_raw.flc_unit_kind_from_name(kind), name)
    except errors.NamingError as error:
        raise type(error)(error.argument, message=f"{name!r}{error.message.removeprefix(error.argument)}") from None


def convert(value: Any, from_unit: str, to_unit: str, *, on_refused: str = "raise") -> Any:
    """Convert a number, array or Series from one unit to another of the same kind.

    In arrays a missing value (NaN) stays missing.

    :param value: any shape, in from_unit
    :param on_refused: "raise", or "nan" to get NaN for values without meaning in their unit
    :return: the same shape, in to_unit
    """
    units = unit_number(from_unit), unit_number(to_unit)
    return _convert(value, check_policy(on_refused),
                    lambda v: _raw.flc_convert(v, *units),
                    lambda v, out, status: _raw.flc_convert_n(v, *units, out, status))


def convert_pressure(value: Any, from_unit: str, to_unit: str, p_atmospheric_kpaa: float | None = None, *,
                     on_refused: str = "raise") -> Any:
    """Convert pressures, gauge to absolute and back included.

    :param value: any shape, in from_unit
    :param p_atmospheric_kpaa: the site's atmospheric pressure, kPa absolute, 30 to 120; needed between gauge and
        absolute
    :return: the same shape, in to_unit
    """
    units = unit_number(from_unit), unit_number(to_unit)
    atmosphere = np.nan if p_atmospheric_kpaa is None else float(p_atmospheric_kpaa)
    return _convert(value, check_policy(on_refused),
                    lambda v: _raw.flc_convert_pressure(v, *units, atmosphere),
                    lambda v, out, status: _raw.flc_convert_pressure_n(v, *units, atmosphere, out, status))


def convert_viscosity(value: Any, from_unit: str, to_unit: str, rho_kgm3: Any = None, *,
                      on_refused: str = "raise") -> Any:
    """Convert viscosities, dynamic to kinematic and back included.

    :param value: any shape, in from_unit
    :param rho_kgm3: density of the liquid at the temperature and pressure of the viscosity, kg/m3; one or one per value
    :return: the same shape, in to_unit
    """
    units = unit_number(from_unit), unit_number(to_unit)
    raising = check_policy(on_refused)
    if is_scalar(value) and is_scalar(rho_kgm3):
        rho = np.nan if rho_kgm3 is None else float(rho_kgm3)
        return _convert(value, raising, lambda v: _raw.flc_convert_viscosity(v, *units, rho), None)
    index = index_of([value, rho_kgm3])
    values, rhos = as_doubles(value, "value"), as_doubles(np.nan if rho_kgm3 is None else rho_kgm3, "rho_kgm3")
    shape = np.broadcast_shapes(values.shape, rhos.shape)
    flat = np.ascontiguousarray(np.broadcast_to(values, shape)).reshape(-1)
    rho = np.ascontiguousarray(np.broadcast_to(rhos, shape)).reshape(-1)
    result, status = np.empty(flat.size), np.zeros(flat.size, dtype=np.uint8)
    for part in chunks(flat.size):
        _raw.flc_convert_viscosity_n(flat[part], rho[part], part.stop - part.start, *units, result[part], status[part])
    if raising:
        raise_refused(status, lambda place: _one_refusal(
            lambda: _raw.flc_convert_viscosity(float(flat[place]), *units, float(rho[place]))))
    return like_input(result, shape, index)


def _convert(value: Any, raising: bool, one: Callable[..., float], many: Callable[..., int] | None) -> Any:
    if is_scalar(value):
        try:
            return one(float(value))
        except errors.FlowcompError:
            if raising:
                raise
            return np.nan
    assert many is not None
    index = index_of([value])
    array = as_doubles(value, "value")
    flat = np.ascontiguousarray(column(array, array.shape))
    result, status = np.empty(flat.size), np.zeros(flat.size, dtype=np.uint8)
    for part in chunks(flat.size):
        many(flat[part], result[part], status[part])
    if raising:
        raise_refused(status, lambda place: _one_refusal(lambda: one(float(flat[place]))))
    return like_input(result, array.shape, index, getattr(value, "name", None))


def _one_refusal(call: Callable[[], float]) -> errors.FlowcompError:
    try:
        call()
    except errors.FlowcompError as error:
        return error
    raise errors.E_INTERNAL("value", message="a value refused in a batch passes alone")


# --- what there is ----------------------------------------------------------------------------------------------------

@dataclass(frozen=True)
class UnitInfo:
    """A unit: the spelling this library writes, the symbol for reports, what it measures, and its exact factor.

    In the base unit of its kind (m3, m3/s, K, Pa, ...) a value is value x numerator / denominator, where ``law`` is
    "factor".
    """

    name: str
    symbol: str
    kind: str
    law: str
    numerator: float
    denominator: float
    base_temperature: str
    source: str


_LAWS = {_raw.FLC_UNIT_LAW_FACTOR: "factor", _raw.FLC_UNIT_LAW_TEMPERATURE: "temperature",
         _raw.FLC_UNIT_LAW_API_GRAVITY: "api_gravity"}


def unit_info(name: str) -> UnitInfo:
    """The row of a unit.

    >>> unit_info("bbl").numerator / unit_info("bbl").denominator
    0.158987294928
    """
    row = _raw.flc_unit_info_of(unit_number(name))
    return UnitInfo(row.name, row.symbol, _raw.flc_unit_kind_name(row.kind), _LAWS[row.law], row.numerator,
                    row.denominator, row.base_temperature, row.source)


def unit_kinds() -> list[str]:
    """What units measure: "volume", "volume_flow" ..."""
    return [_raw.flc_unit_kind_name(kind) for kind in range(_raw.flc_unit_kind_count())]


def unit_names(kind: str | None = None) -> list[str]:
    """Names of all units, or of those of one kind.

    >>> unit_names("frequency")
    ['Hz', 'kHz', 'pulses/min', 'pulses/h']
    """
    wanted = None if kind is None else _raw.flc_unit_kind_from_name(kind)
    units = [_raw.flc_unit_at(place) for place in range(_raw.flc_unit_count())]
    return [_raw.flc_unit_name(unit) for unit in units if wanted is None or _raw.flc_unit_kind_of(unit) == wanted]
