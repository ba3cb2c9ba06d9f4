# SPDX-License-Identifier: Apache-2.0
"""The meter factor in force: one, several over flow or Roshko number, or composite; and what makes it void."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from . import _flowcomp as _raw
from . import errors
from ._arrays import map_records
from ._immutable import Immutable
from ._structs import Record, fill, values_of
from ._words import flag_words
from .body import Body

_WORDS = {"form": _raw.flc_factor_form_from_name, "axis": _raw.flc_factor_axis_from_name,
          "beyond": _raw.flc_factor_beyond_from_name}


@dataclass(frozen=True)
class FactorValue:
    """A meter factor: numbers, or arrays of the shape of what was asked for."""

    mf: Any  #: meter factor
    flags: Any  #: see flag_words
    outside_contract: Any  #: -1 below, 1 above the contract's limits, 0 inside or not judged


class MeterFactor(Immutable):
    """A factor as it is in force. Make it with one of the class methods; each takes the contract's limits
    (contract_low, contract_high) too, outside which a factor is marked.

    >>> factor = MeterFactor.interpolated([0.01, 0.03], [1.001, 1.003])
    >>> round(factor.at(0.02).mf, 12)
    1.002
    """

    __slots__ = ("_raw", "_given", "form")

    def __init__(self, form: str, *, x: Sequence[float] = (), mf: Sequence[float] = (),
                 coefficients: Sequence[float] = (), **given: Any) -> None:
        if len(x) != len(mf) or len(x) > _raw.FLC_FACTOR_POINTS:
            raise errors.E_COUNT("mf", message=f"as many factors as places, and at most {_raw.FLC_FACTOR_POINTS}")
        if len(coefficients) > _raw.FLC_FACTOR_POINTS:
            raise errors.E_COUNT("coefficients", message=f"at most {_raw.FLC_FACTOR_POINTS} coefficients")
        raw = _raw.flc_factor()
        _raw.flc_factor_init(raw)
        fill(raw, {"form": form, **given}, _WORDS, "MeterFactor")
        x, mf, coefficients = (tuple(map(float, values)) for values in (x, mf, coefficients))
        for place, (at, factor) in enumerate(zip(x, mf)):
            raw.set_point(place, at, factor)
        for place, coefficient in enumerate(coefficients):
            raw.set_coefficient(place, coefficient)
        #: form: "single", "interpolated", "polynomial" or "composite"
        self._fix(_raw=raw, form=form, _given={"x": x, "mf": mf, "coefficients": coefficients, **given})

    def __reduce__(self) -> tuple[Any, ...]:
        return _factor, (self.form, self._given)

    @classmethod
    def single(cls, mf: float, **contract: Any) -> MeterFactor:
        """One factor."""
        return cls("single", x=[math.nan], mf=[mf], **contract)

    @classmethod
    def composite(cls, mf: float, cpl_meter: float, **contract: Any) -> MeterFactor:
        """One factor times CPL at the normal operating pressure."""
        return cls("composite", x=[math.nan], mf=[mf], cpl_meter=cpl_meter, **contract)

    @classmethod
    def interpolated(cls, x: Sequence[float], mf: Sequence[float], *, axis: str = "flow", beyond: str = "refuse",
                     **contract: Any) -> MeterFactor:
        """Linear between points of rising flow (m3/s) or Roshko number; beyond them "refuse" or "hold"."""
        return cls("interpolated", x=x, mf=mf, axis=axis, beyond=beyond, count=len(x), **contract)

    @classmethod
    def polynomial(cls, coefficients: Sequence[float], low: float, high: float, *, axis: str = "flow",
                   scale: float = 1.0, beyond: str = "refuse", **contract: Any) -> MeterFactor:
        """c0 + c1 u + c2 u^2 ..., u = flow (m3/s) or Roshko number over scale, between low and high."""
        return cls("polynomial", coefficients=coefficients, axis=axis, beyond=beyond, count=len(coefficients),
                   scale=scale, low=low, high=high, **contract)

    def at(self, x: Any = None) -> FactorValue:
        """The factor at a flow (m3/s) or Roshko number: number, array or Series; not needed for single, composite."""
        def one(place: float) -> tuple[Any, ...]:
            value = _raw.flc_factor_value()
            _raw.flc_factor_at(self._raw, place, value)
            return value.mf, value.flags, value.outside_contract

        return FactorValue(**map_records(one, {"x": x}, ("mf", "flags", "outside_contract")))

    def __repr__(self) -> str:
        return f"MeterFactor.{self.form}(...)"


def _factor(form: str, given: dict[str, Any]) -> MeterFactor:
    return MeterFactor(form, **given)


def _triggers() -> tuple[str, ...]:
    words: list[str] = []
    while (word := _raw.flc_void_word(len(words))) is not None:
        words.append(word)
    return tuple(words)


VOID_TRIGGERS = _triggers()


def _void_numbers(given: Mapping[str, float]) -> Any:
    if unknown := given.keys() - set(VOID_TRIGGERS):
        raise errors.E_UNKNOWN_NAME("trigger", message=f"no trigger {', '.join(sorted(unknown))}; there are "
                                                       f"{', '.join(VOID_TRIGGERS)}")
    raw = _raw.flc_void_numbers()
    for place, word in enumerate(VOID_TRIGGERS):
        value = given.get(word)
        raw.set_number(place, math.nan if value is None else float(value))
    return raw


@dataclass(frozen=True)
class VoidCheck:
    """What speaks against a factor: triggers that are exceeded, and those that have a limit but not both numbers."""

    exceeded: tuple[str, ...]
    unknown: tuple[str, ...]


def factor_void(proving: Mapping[str, float], now: Mapping[str, float], limits: Mapping[str, float]) -> VoidCheck:
    """Which triggers make a factor void: conditions at the proving and now, and the largest change of each.

    The triggers are flow (m3/s), temperature (degC), viscosity (mm2/s), roshko, density (kg/m3), liquid, days, volume
    (m3), factor_last and factor_first; flow, viscosity and Roshko number are judged relative to the proving.

    >>> factor_void({"temperature": 20.0}, {"temperature": 32.0}, {"temperature": 10.0, "flow": 0.1})
    VoidCheck(exceeded=('temperature',), unknown=('flow',))
    """
    exceeded, unknown = _raw.flc_factor_void_check(*map(_void_numbers, (proving, now, limits)))
    return VoidCheck(*(tuple(word for place, word in enumerate(VOID_TRIGGERS) if bits >> place & 1)
                       for bits in (exceeded, unknown)))


class BodyChange(Record):
    """What the body does to K between two conditions: b_proving, b_metering, their ratio (multiplies K, divides MF),
    and the same in per cent."""

    @property
    def flag_words(self) -> list[str]:
        """Flags of the two states of the body, as words."""
        return flag_words(self["flags"])


def body_difference(body: Body, *, t_proving_degc: float, p_proving_kpag: float, t_metering_degc: float,
                    p_metering_kpag: float) -> BodyChange:
    """The body term of a nominal K with MF, for a contract that asks for it. Never with a curve."""
    change = _raw.flc_body_change()
    _raw.flc_body_difference(body._raw, float(t_proving_degc), float(p_proving_kpag), float(t_metering_degc),
                             float(p_metering_kpag), change)
    return BodyChange(values_of(change))
