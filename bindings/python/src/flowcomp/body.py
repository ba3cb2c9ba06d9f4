# SPDX-License-Identifier: Apache-2.0
"""The metal of a meter body, and the body: how bore and K-factor move with temperature and pressure."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from . import _flowcomp as _raw
from ._arrays import map_records
from ._immutable import Immutable, set_state, state_of
from ._words import choice, flag_words, number_or_nan, provenance, words_of_enum


class Metal(Immutable):
    """Expansion and stiffness of a metal, with where the numbers rest. Make it with one of the three class methods.

    >>> Metal.mean(16e-6, 20, 100, modulus_gpa=193, poisson=0.3, source="mill certificate")
    Metal(alpha 1.6e-05 /K from 20 to 100 degC, modulus 193 GPa, Poisson 0.3; given by the user: mill certificate)
    """

    __slots__ = ("_raw", "_owner")

    def __init__(self, raw: Any, owner: Any = None) -> None:
        self._fix(_raw=raw, _owner=owner)  # the owner keeps alive the struct that raw is part of

    @classmethod
    def mean(cls, alpha_per_k: float, t_low_degc: float, t_high_degc: float, *, source: str,
             modulus_gpa: float | None = None, poisson: float | None = None,
             provenance: str = "user_given") -> Metal:
        """From your own numbers: mean linear expansion (1/K) between two temperatures, the data sheet or certificate
        they were read from, Young's modulus, Poisson's ratio."""
        raw = _raw.flc_metal()
        _raw.flc_metal_mean(float(alpha_per_k), float(t_low_degc), float(t_high_degc), number_or_nan(modulus_gpa),
                            number_or_nan(poisson), _provenance(provenance), source, raw)
        return cls(raw)

    @classmethod
    def from_table(cls, material: str, table: str) -> Metal:
        """From one of the tables carried: ``Metal.from_table("316", "api_12_2_1_1995")``."""
        raw = _raw.flc_metal()
        _raw.flc_metal_from_table(material, table, raw)
        return cls(raw)

    @classmethod
    def nist(cls, material: str) -> Metal:
        """With the NIST cryogenic polynomial of an alloy; it ends at 300 K."""
        raw = _raw.flc_metal()
        _raw.flc_metal_nist(material, raw)
        return cls(raw)

    @property
    def law(self) -> str:
        """"mean" or "nist_cryogenic"."""
        return words_of_enum("FLC_EXPANSION_", _raw.flc_expansion_law_from_name)[self._raw.law]

    @property
    def alpha_per_k(self) -> float:
        """Mean linear expansion, 1/K."""
        return self._raw.alpha_per_k

    @property
    def range_degc(self) -> tuple[float, float]:
        """Temperatures between which the expansion holds, degC."""
        return self._raw.t_low_degc, self._raw.t_high_degc

    @property
    def modulus_gpa(self) -> float:
        """Young's modulus, GPa; NaN where not known."""
        return self._raw.modulus_gpa

    @property
    def poisson(self) -> float:
        """Poisson's ratio; NaN where not known."""
        return self._raw.poisson

    @property
    def provenance(self) -> str:
        """Where the numbers rest: "published", "from memory", "given by the user" ..."""
        return _raw.flc_provenance_text(self._raw.provenance)

    @property
    def source(self) -> str:
        """Which tables, or what the caller gave."""
        return self._raw.source

    def _fields(self) -> tuple[str, ...]:
        """Its fields as texts that tell doubles apart to the last bit, and take not-a-number for equal."""
        raw = self._raw
        return tuple(map(repr, (raw.law, raw.alpha_per_k, raw.nist, raw.t_low_degc, raw.t_high_degc, raw.modulus_gpa,
                                raw.poisson, raw.provenance, raw.source)))

    def __reduce__(self) -> tuple[Any, ...]:
        return _metal_of_state, (state_of(self._raw),)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Metal) and self._fields() == other._fields()

    def __hash__(self) -> int:
        return hash(self._fields())

    def __repr__(self) -> str:
        low, high = self.range_degc
        stiff = "" if math.isnan(self.modulus_gpa) else f", modulus {self.modulus_gpa:.6g} GPa"
        stiff += "" if math.isnan(self.poisson) else f", Poisson {self.poisson:.6g}"
        law = "" if self.law == "mean" else f" ({self.law})"
        return (f"Metal(alpha {self.alpha_per_k:.6g} /K{law} from {low:.6g} to {high:.6g} degC{stiff}; "
                f"{self.provenance}: {self.source})")


_provenance = provenance  # the name of a keyword above


def _metal_of_state(state: dict[str, Any]) -> Metal:
    return Metal(set_state(_raw.flc_metal(), state))


@dataclass(frozen=True)
class BodyState:
    """What the body does: numbers, or arrays of the broadcast shape of temperature and pressure."""

    d_m: Any  #: bore, m
    b_ratio: Any  #: K over K at reference conditions, at constant Strouhal number
    strain_housing: Any  #: of the housing, from temperature
    strain_rotor: Any  #: of the rotor, from temperature
    strain_bore: Any  #: of the bore, from pressure
    flags: Any  #: see flag_words

    @property
    def flag_words(self) -> list[str]:
        """Flags that any of the states carries, as words."""
        flags = 0
        for number in [self.flags] if isinstance(self.flags, int) else list(self.flags):
            flags |= int(number)
        return flag_words(flags)


class Body(Immutable):
    """The meter body; immutable.

    :param bore_m: bore at t0 and p0, m
    :param t0_degc: reference temperature, degC
    :param housing: its metal; modulus and Poisson's ratio are needed unless end is "none"
    :param rotor: metal of the rotor; left out: the same as the housing
    :param area_blocked: part of the bore's area that hub and blade roots block, (hub radius/bore radius)^2
    :param end: how the bore answers to pressure: "none" for a pressure-balanced cartridge, "lame_closed" for the usual
        body between flanges, "lame_open", "lame_held", "thin_wall", "thin_wall_closed"
    :param wall_m: wall of the housing, m; needed unless end is "none"
    :param p0_kpag: reference pressure, kPa gauge
    :param beyond: at a temperature outside the range of a metal's expansion: "refuse", or "extend", flagged

    >>> steel = Metal.mean(16e-6, 20, 100, modulus_gpa=193, poisson=0.3, source="mill certificate")
    >>> body = Body(bore_m=0.0779, t0_degc=20, housing=steel, end="lame_closed", wall_m=0.0055)
    >>> f"{body.at(60, 1000).d_m:.9f} m"
    '0.077952652 m'
    """

    __slots__ = ("_raw", "housing", "rotor")

    def __init__(self, *, bore_m: float, t0_degc: float, housing: Metal, end: str, rotor: Metal | None = None,
                 area_blocked: float = 0.0, wall_m: float | None = None, p0_kpag: float = 0.0, beyond: str = "refuse") -> None:
        raw = _raw.flc_body_options()
        _raw.flc_body_options_init(raw)
        raw.bore_m, raw.t0_degc, raw.p0_kpag = float(bore_m), float(t0_degc), float(p0_kpag)
        raw.housing = housing._raw
        if rotor is not None:
            raw.rotor = rotor._raw
        raw.area_blocked = float(area_blocked)
        raw.end = choice("end", end, _raw.flc_body_end_from_name)
        raw.wall_m = number_or_nan(wall_m)
        raw.beyond = choice("beyond", beyond, _raw.flc_body_beyond_from_name)
        _raw.flc_body_check(raw)
        self._fix(_raw=raw, housing=housing, rotor=rotor)

    @classmethod
    def _of_raw(cls, raw: Any) -> Body:
        """A body from the library's own struct, which must not change any more."""
        body = cls.__new__(cls)
        housing, rotor = Metal(raw.housing, owner=raw), Metal(raw.rotor, owner=raw)
        unset = raw.rotor.law == _raw.FLC_EXPANSION_MEAN and math.isnan(raw.rotor.alpha_per_k)
        body._fix(_raw=raw, housing=housing, rotor=None if unset or rotor == housing else rotor)
        return body

    def __reduce__(self) -> tuple[Any, ...]:
        return _body_of_state, (state_of(self._raw),)

    @property
    def bore_m(self) -> float:
        """Bore at t0 and p0, m."""
        return self._raw.bore_m

    @property
    def t0_degc(self) -> float:
        """Reference temperature, degC."""
        return self._raw.t0_degc

    @property
    def p0_kpag(self) -> float:
        """Reference pressure, kPa gauge."""
        return self._raw.p0_kpag

    @property
    def area_blocked(self) -> float:
        """Part of the bore's area that is blocked."""
        return self._raw.area_blocked

    @property
    def end(self) -> str:
        """End condition of the pressure stretch."""
        return words_of_enum("FLC_END_", _raw.flc_body_end_from_name)[self._raw.end]

    @property
    def wall_m(self) -> float:
        """Wall of the housing, m; NaN where none is needed."""
        return self._raw.wall_m

    @property
    def beyond(self) -> str:
        """Outside the range of a metal's expansion: "refuse" or "extend"."""
        return words_of_enum("FLC_BODY_", _raw.flc_body_beyond_from_name)[self._raw.beyond]

    def at(self, t_degc: Any, p_kpag: Any = 0.0) -> BodyState:
        """Bore and K ratio at temperatures (degC) and pressures (kPa gauge): numbers, arrays or Series, broadcast."""
        def one(t: float, p: float) -> tuple[float, ...]:
            state = _raw.flc_body_state()
            _raw.flc_body_at(self._raw, t, p, state)
            return tuple(getattr(state, field) for field in fields)

        fields = tuple(BodyState.__dataclass_fields__)
        return BodyState(**map_records(one, {"t_degc": t_degc, "p_kpag": p_kpag}, fields))

    def __repr__(self) -> str:
        wall = "" if math.isnan(self.wall_m) else f", wall {self.wall_m:.6g} m"
        rotor = "" if self.rotor is None else f", rotor {self.rotor!r}"
        return (f"Body(bore {self.bore_m:.10g} m at {self.t0_degc:.6g} degC and {self.p0_kpag:.6g} kPa gauge, "
                f"end {self.end}{wall}, outside a metal's range {self.beyond}, area blocked {self.area_blocked:.6g}, housing {self.housing!r}{rotor})")


def _body_of_state(state: dict[str, Any]) -> Body:
    raw = _raw.flc_body_options()
    _raw.flc_body_options_init(raw)
    _raw.flc_body_check(set_state(raw, state))
    return Body._of_raw(raw)
