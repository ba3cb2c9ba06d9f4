# SPDX-License-Identifier: Apache-2.0
"""The calibration curve: Strouhal number against the logarithm of the Roshko number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from . import _flowcomp as _raw
from ._arrays import as_doubles, map_records
from ._immutable import Immutable
from ._words import choice, words_of_enum


@dataclass(frozen=True)
class CurveValue:
    """Values of the curve: numbers, or arrays of the shape of Ro."""

    st: Any  #: Strouhal number
    slope: Any  #: d ln St/d ln Ro
    ln_ro: Any  #: as used
    segment: Any  #: place of the segment used
    flags: Any  #: see flag_words


class Curve(Immutable):
    """A calibration curve; immutable. Make it with ``from_knots``, or get it from ``fit_certificate``.

    >>> curve = Curve.from_knots(convention="dimensionless", treatment="already_corrected", d0_m=0.05, t0_degc=20,
    ...                          ln_ro=[9.0, 12.0], st=[2.5, 2.56], coefficients=[[2.5, 0.02, 0.0, 0.0]])
    >>> round(curve.at(59_874.0).st, 4)
    2.54
    """

    __slots__ = ("_raw", "_owner")

    def __init__(self, raw: Any, owner: Any = None) -> None:
        self._fix(_raw=raw, _owner=owner)  # the owner keeps alive what the curve is part of

    @classmethod
    def from_knots(cls, *, convention: str, treatment: str, d0_m: float, t0_degc: float, p0_kpag: float = 0.0,
                   ln_ro: Sequence[float], st: Sequence[float], coefficients: Any) -> Curve:
        """From n knots: ln Ro, St at each, and n - 1 rows c0 c1 c2 c3 of St(u) = c0 + c1 u + c2 u^2 + c3 u^3, u = ln Ro
        less the knot on the left.

        :param convention: what the certificate's numbers meant: "dimensionless", "normalised" or "raw"
        :param treatment: "as_run" or "already_corrected"
        :param d0_m, t0_degc, p0_kpag: bore, temperature and pressure that Ro and St were taken to: those of the body
        """
        x, y = (np.ascontiguousarray(as_doubles(values, name)).reshape(-1)
                for name, values in (("ln_ro", ln_ro), ("st", st)))
        c = np.ascontiguousarray(as_doubles(coefficients, "coefficients")).reshape(-1)
        if x.size != y.size or c.size != 4 * max(x.size - 1, 0):
            raise ValueError(f"{x.size} knots need as many values of st (not {y.size}) and "
                             f"{4 * max(x.size - 1, 0)} coefficients (not {c.size})")
        reference = _raw.flc_curve_reference()
        reference.convention = choice("convention", convention, _raw.flc_curve_convention_from_name)
        reference.treatment = choice("treatment", treatment, _raw.flc_body_treatment_from_name)
        reference.d0_m, reference.t0_degc, reference.p0_kpag = float(d0_m), float(t0_degc), float(p0_kpag)
        return cls(_raw.flc_curve_new(reference, x.size, x, y, c))

    @property
    def knots(self) -> int:
        """Number of knots."""
        return _raw.flc_curve_knots(self._raw)

    @property
    def convention(self) -> str:
        """What the certificate's numbers meant."""
        number = _raw.flc_curve_reference_of(self._raw).convention
        return words_of_enum("FLC_CONVENTION_", _raw.flc_curve_convention_from_name)[number]

    @property
    def treatment(self) -> str:
        """Whether the certificate's numbers held the body as it was on the day."""
        number = _raw.flc_curve_reference_of(self._raw).treatment
        return words_of_enum("FLC_BODY_", _raw.flc_body_treatment_from_name)[number]

    @property
    def d0_m(self) -> float:
        """Bore D0 that Ro and St were taken to, m."""
        return _raw.flc_curve_reference_of(self._raw).d0_m

    @property
    def t0_degc(self) -> float:
        """Reference temperature, degC."""
        return _raw.flc_curve_reference_of(self._raw).t0_degc

    @property
    def p0_kpag(self) -> float:
        """Reference pressure, kPa gauge."""
        return _raw.flc_curve_reference_of(self._raw).p0_kpag

    @property
    def ro_low(self) -> float:
        """Lowest Roshko number of the calibration."""
        return _raw.flc_curve_ro_low(self._raw)

    @property
    def ro_high(self) -> float:
        """Highest Roshko number of the calibration."""
        return _raw.flc_curve_ro_high(self._raw)

    def _arrays(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        knots = self.knots
        ln_ro, st, coefficients = np.empty(knots), np.empty(knots), np.empty((knots - 1, 4))
        _raw.flc_curve_copy(self._raw, ln_ro, st, coefficients)
        return ln_ro, st, coefficients

    @property
    def ln_ro(self) -> np.ndarray:
        """ln Ro of the knots, shape (knots,)."""
        return self._arrays()[0]

    @property
    def st(self) -> np.ndarray:
        """St at the knots, shape (knots,)."""
        return self._arrays()[1]

    @property
    def coefficients(self) -> np.ndarray:
        """c0 c1 c2 c3 of each segment, shape (knots - 1, 4)."""
        return self._arrays()[2]

    def at(self, ro: Any, *, below: str = "refuse", above: str = "refuse") -> CurveValue:
        """St and slope at Roshko numbers: a number, array or Series.

        :param below, above: what to do beyond the ends: "refuse", "hold_end" or "extend_slope"
        """
        policies = (choice("below", below, _raw.flc_curve_beyond_from_name),
                    choice("above", above, _raw.flc_curve_beyond_from_name))

        def one(x: float) -> tuple[float, ...]:
            value = _raw.flc_curve_value()
            _raw.flc_curve_at(self._raw, x, *policies, value)
            return tuple(getattr(value, field) for field in fields)

        fields = tuple(CurveValue.__dataclass_fields__)
        return CurveValue(**map_records(one, {"ro": ro}, fields))

    def __reduce__(self) -> tuple[Any, ...]:
        ln_ro, st, coefficients = self._arrays()
        return _curve_of_knots, ({
            "convention": self.convention, "treatment": self.treatment, "d0_m": self.d0_m, "t0_degc": self.t0_degc,
            "p0_kpag": self.p0_kpag, "ln_ro": ln_ro, "st": st, "coefficients": coefficients},)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Curve) and self._canonical() == other._canonical()

    def __hash__(self) -> int:
        return hash(self._canonical())

    def _canonical(self) -> bytes:
        _, _, needed = _raw.flc_curve_canonical(self._raw, 0)
        return _raw.flc_curve_canonical(self._raw, needed)[1]

    def __repr__(self) -> str:
        return (f"Curve({self.knots} knots, Ro {self.ro_low:.6g} to {self.ro_high:.6g}, St {self.st.min():.6g} to "
                f"{self.st.max():.6g}; certificate {self.convention}, body {self.treatment})")


def _curve_of_knots(arguments: dict[str, Any]) -> Curve:
    return Curve.from_knots(**arguments)
