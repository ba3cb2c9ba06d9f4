# SPDX-License-Identifier: Apache-2.0
"""From a certificate to a curve, by libflowcomp-analysis (GSL inside)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, fields
from typing import Any, NoReturn

from . import _analysis as _fits
from . import _flowcomp as _raw
from . import errors
from ._arrays import map_records
from ._immutable import Immutable
from ._structs import Record, fields_of, values_of
from ._words import choice
from .body import Body
from .curve import Curve

POINT_FIELDS = fields_of(_fits.flc_certificate_point)
_POINT_FLAGS = {_fits.FLC_FIT_POINT_AVERAGED: "averaged", _fits.FLC_FIT_POINT_DISAGREES: "disagrees",
                _fits.FLC_FIT_POINT_DOWN: "weighted_down", _fits.FLC_FIT_POINT_END_DOWN: "end_weighted_down",
                _fits.FLC_FIT_POINT_DIFFERS: "differs"}


@dataclass(frozen=True)
class FitPoint:
    """What became of one certificate point."""

    liquid: int  #: tag of the liquid
    k_per_m3: float  #: K as understood, pulses/m3 at the meter, the body as the certificate states it
    ro: float  #: Roshko number, the body at T0 and P0
    st: float  #: Strouhal number, likewise
    re: float  #: Reynolds number
    residual_pct: float  #: 100 (St/St of the curve - 1), %
    weight: float  #: robust weight 0 to 1; 1 elsewhere
    u_relative: float  #: relative standard uncertainty as used
    flags: tuple[str, ...]  #: "averaged", "disagrees", "weighted_down", "end_weighted_down", "differs"


class FitSummary(Record):
    """Figures of a fit; the fields are those of flc_fit_summary, as attributes and items."""


def words_of_fit_method() -> dict[int, str]:
    """Words of the fit methods by number."""
    words = ("steffen", "cubic", "bspline", "robust")
    return {_fits.flc_fit_method_from_name(word): word for word in words}


class Fit(Immutable):
    """A fitted curve, and what became of the points.

    ``curve`` is the curve, ``points`` a list of FitPoint in the order given, ``summary`` the figures of the fit.
    """

    def __init__(self, raw: Any) -> None:
        summary = _fits.flc_fit_summary()
        _fits.flc_fit_summary_init(summary)
        _fits.flc_fit_summarise(raw, summary)
        self._fix(_raw=raw, curve=Curve(_fits.flc_fit_curve(raw), owner=raw),
                  points=[_fit_point(raw, place) for place in range(_fits.flc_fit_count(raw))],
                  summary=FitSummary(values_of(summary) | {"method": words_of_fit_method()[summary.method]}))

    def __reduce__(self) -> NoReturn:
        raise TypeError("a Fit cannot be pickled: pickle its curve, points and summary, or fit the certificate again")

    def band(self, ro: Any) -> Any:
        """Relative standard uncertainty of St on the curve at Roshko numbers: a number, array or Series."""
        return map_records(lambda x: (_fits.flc_fit_band(self._raw, x),), {"ro": ro}, ("band",))["band"]

    def to_frame(self) -> Any:
        """The points as a pandas DataFrame, a row per point."""
        import pandas
        return pandas.DataFrame([asdict(point) for point in self.points])

    def __repr__(self) -> str:
        return f"Fit({self.summary.method}, {len(self.points)} points, {self.curve!r})"


def _fit_point(raw: Any, place: int) -> FitPoint:
    point = _fits.flc_fit_point()
    _fits.flc_fit_point_init(point)
    _fits.flc_fit_point_at(raw, place, point)
    flags = tuple(word for bit, word in _POINT_FLAGS.items() if point.flags & bit)
    return FitPoint(flags=flags, **{field.name: getattr(point, field.name) for field in fields(FitPoint)
                                    if field.name != "flags"})


def _certificate_point(row: Mapping[str, Any], place: int) -> Any:
    point = _fits.flc_certificate_point()
    _fits.flc_certificate_point_init(point)
    for name, value in row.items():
        if name not in POINT_FIELDS:
            raise errors.E_UNKNOWN_NAME(name, place, message=f"points[{place}]: no field {name!r}; there are "
                                                             f"{', '.join(POINT_FIELDS)}")
        if value is not None:
            setattr(point, name, int(value) if name == "liquid" else float(value))
    return point


def fit_certificate(points: Sequence[Mapping[str, Any]] | Any, *, body: Body, convention: str, treatment: str,
                    reference: str, method: str = "steffen", k_nominal_per_m3: float | None = None,
                    u_relative: float | None = None, merge_ro: float | None = None,
                    break_points: int | None = None) -> Fit:
    """Fit a curve to the points of a certificate.

    :param points: a list of dicts, or a DataFrame, with the fields f_hz, q_m3s, k_per_m3, error_pct, meter_factor,
        pulses, volume_m3, time_s, x, t_degc, p_kpag, nu_mm2s, ctpl, u_relative, liquid; None or NaN: not given
    :param body: the meter body
    :param convention: what the numbers mean: "dimensionless", "normalised" or "raw"
    :param treatment: "as_run", or "already_corrected" where the laboratory has taken the body to T0 and P0
    :param reference: the laboratory's volumes are "at_meter" or "at_base" conditions
    :param method: "steffen" (monotone interpolation), "cubic", "bspline" or "robust"
    :param k_nominal_per_m3: nominal K, pulses/m3, for error_pct and meter_factor
    :param u_relative: relative standard uncertainty of each K that does not have its own
    :param merge_ro: points nearer than this in Ro, relative, count as one
    :param break_points: pieces of the B-spline; left out: chosen

    >>> from flowcomp import Body, Metal
    >>> steel = Metal.mean(16e-6, 20, 100, source="mill certificate")
    >>> body = Body(bore_m=0.0779, t0_degc=20, housing=steel, end="none")
    >>> fit = fit_certificate([{"f_hz": f, "k_per_m3": k, "nu_mm2s": 2.0, "t_degc": 20, "p_kpag": 0}
    ...                        for f, k in [(50, 11950), (200, 12010), (800, 12000)]],
    ...                       body=body, convention="raw", treatment="as_run", reference="at_meter")
    >>> fit.curve.knots, f"{fit.curve.ro_low:.1f}"
    (3, '151710.2')
    """
    options = _fits.flc_fit_options()
    _fits.flc_fit_options_init(options)
    options.convention = choice("convention", convention, _raw.flc_curve_convention_from_name)
    options.treatment = choice("treatment", treatment, _raw.flc_body_treatment_from_name)
    options.reference = choice("reference", reference, _fits.flc_reference_volume_from_name)
    options.method = choice("method", method, _fits.flc_fit_method_from_name)
    for name, value in (("k_nominal_per_m3", k_nominal_per_m3), ("u_relative", u_relative), ("merge_ro", merge_ro)):
        if value is not None:
            setattr(options, name, float(value))
    if break_points is not None:
        options.break_points = int(break_points)
    rows = points.to_dict("records") if hasattr(points, "to_dict") else points
    given = tuple(_certificate_point(row, place) for place, row in enumerate(rows))
    return Fit(_fits.flc_fit_certificate(options, body._raw, given))
