# SPDX-License-Identifier: Apache-2.0
"""A viscosity model through measured points, by libflowcomp-analysis."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from . import _analysis as _fits
from . import _flowcomp as _raw
from . import errors
from ._arrays import as_doubles
from ._words import choice


@dataclass(frozen=True)
class ViscosityFit:
    """Coefficients of a model, the range they hold for, and how far the points lie from it."""

    model: str  #: "andrade", "vogel", "dutt_prasad", "dippr101", "power_law", "yaws", "polynomial" or "d341_ab"
    kind: str  #: of the points, and so of the coefficients: "dynamic" (mPa s) or "kinematic" (mm2/s)
    form: str  #: of ASTM D341
    coefficients: tuple[float, ...]  #: c1 and on, as the method of the model takes them
    t_low_degc: float  #: coldest point, degC
    t_high_degc: float  #: warmest point, degC
    residual_pct: tuple[float, ...]  #: 100 (model/measured - 1) of each point, %
    rms_pct: float  #: root mean square of the residuals, %
    worst_pct: float  #: the largest, with its sign, %
    worst: int  #: its place
    free: int  #: points less coefficients; 0: a curve through the points, that says nothing of its fit

    def options(self) -> dict[str, Any]:
        """Keywords for Liquid: outside the range of the points it refuses.

        >>> fit = fit_viscosity([0, 40, 80], nu_mm2s=[9.0, 2.7, 1.2], model="vogel")
        >>> from flowcomp import Liquid
        >>> oil = Liquid("invented oil", volume="none", u_nu_relative=0.02, **fit.options())
        >>> f"{oil.viscosity(40.0).nu_mm2s:.4f}"
        '2.7000'
        """
        return {"viscosity": "model", "model": self.model, "kind": self.kind, "form": self.form,
                "coefficients": self.coefficients, "model_t_low_degc": self.t_low_degc,
                "model_t_high_degc": self.t_high_degc}


def fit_viscosity(t_degc: Any, *, nu_mm2s: Any = None, mu_mpas: Any = None, model: str = "d341_ab",
                  form: str = "body") -> ViscosityFit:
    """Fit a model to measured points by least squares in the coordinates where it is linear.

    :param t_degc: temperatures, degC, rising
    :param nu_mm2s: kinematic viscosities, mm2/s; or
    :param mu_mpas: dynamic viscosities, mPa s
    :param model: "d341_ab" (kinematic), "andrade", "power_law", "vogel", "dutt_prasad", "dippr101", "yaws" or
        "polynomial"
    :param form: form of ASTM D341

    >>> jp_5 = fit_viscosity([-20, 40], nu_mm2s=[6.5, 1.57])  # AFRL POSF 10289
    >>> from flowcomp import methods
    >>> at_40_below = methods.nu_d341_ab(t_degc=-40, a=jp_5.coefficients[0], b=jp_5.coefficients[1], form="body")
    >>> f"{100 * (at_40_below / 14.1 - 1):.1f} % over what was measured: no model goes on outside its points"
    '8.4 % over what was measured: no model goes on outside its points'
    """
    if (nu_mm2s is None) == (mu_mpas is None):
        raise errors.E_CONFLICT("nu_mm2s", message="give nu_mm2s or mu_mpas")
    kind = "dynamic" if nu_mm2s is None else "kinematic"
    t = np.ascontiguousarray(np.atleast_1d(as_doubles(t_degc, "t_degc")))
    values = np.ascontiguousarray(np.atleast_1d(as_doubles(mu_mpas if nu_mm2s is None else nu_mm2s,
                                                           "mu_mpas" if nu_mm2s is None else "nu_mm2s")))
    if t.shape != values.shape:
        raise errors.E_COUNT("t_degc", message=f"{len(t)} temperatures, but {len(values)} viscosities")
    fit, residual = _fits.flc_viscosity_fit(), np.empty(len(t))
    _fits.flc_viscosity_fit_init(fit)
    _fits.flc_fit_viscosity(choice("model", model, _raw.flc_viscosity_model_from_name),
                            choice("kind", kind, _raw.flc_viscosity_kind_from_name),
                            choice("form", form, _raw.flc_d341_form_from_name), t, values, fit, residual)
    held = fit.coefficients
    return ViscosityFit(model, kind, form,
                        tuple(c for c in (held.c1, held.c2, held.c3, held.c4, held.c5) if not math.isnan(c)),
                        fit.t_low_degc, fit.t_high_degc, tuple(residual.tolist()), fit.rms_pct, fit.worst_pct,
                        fit.worst, fit.free)
