# SPDX-License-Identifier: Apache-2.0
"""flowcomp: calculations for liquid turbine meters.

Carries a calibration across viscosities, corrects the meter body for temperature and pressure, takes volumes to base
conditions by published methods, says how sure it is and explains every step. Units stand in the names: ``t_degc``,
``p_kpag``, ``rho_kgm3``, ``nu_mm2s``, ``f_hz``. Inputs are numbers, arrays or pandas columns.

Results are calculations, not permission: local codes, type approvals, contracts and a licensed engineer's judgement come
first, and a method whose status is "from memory" is to be confirmed against the print.
"""

from __future__ import annotations

from importlib import import_module as _import_module
from typing import TYPE_CHECKING, Any

from . import errors, methods
from ._version import versions
from ._words import FLAG_BITS as FLAGS
from ._words import flag_words
from .body import Body, BodyState, Metal
from .curve import Curve, CurveValue
from .errors import FlowcompError
from .explanation import Explanation, Step
from .liquid import Liquid, Viscosity, ViscosityPoints, VolumeFactors, family_slope
from .meter import READING_NAMES, Meter
from .methods import ArgumentInfo, MethodInfo, method_info, method_names
from .results import COLUMNS, Results
from .rounding import Rounding, round_half_away
from .totals import Totals
from .units import UnitInfo, convert, convert_pressure, convert_viscosity, unit_info, unit_kinds, unit_names

if TYPE_CHECKING:
    from . import selfcheck
    from .fit import Fit, FitPoint, FitSummary, fit_certificate
    from .proving import (Finding, LimitCheck, Prover, Proving, ProvingRun, acceptance_rule_provenance, judge_limit,
                          prove)

__version__ = versions()["flowcomp"]

# Loaded on first use: what fits brings the analysis library with it, and few need the rest.
_LAZY = {"Fit": "fit", "FitPoint": "fit", "FitSummary": "fit", "fit_certificate": "fit", "selfcheck": "selfcheck",
         **dict.fromkeys(("Prover", "Proving", "ProvingRun", "Finding", "LimitCheck", "acceptance_rule_provenance",
                          "judge_limit", "prove"), "proving")}


def __getattr__(name: str) -> Any:
    if name not in _LAZY:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module = _import_module("." + _LAZY[name], __name__)
    value = module if name == _LAZY[name] else getattr(module, name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *_LAZY})


__all__ = [
    "ArgumentInfo", "Body", "BodyState", "COLUMNS", "Curve", "CurveValue", "Explanation", "FLAGS", "Finding", "Fit",
    "FitPoint", "FitSummary", "FlowcompError", "LimitCheck", "Liquid", "Metal", "Meter", "MethodInfo", "Prover",
    "Proving", "ProvingRun", "READING_NAMES", "Results", "Rounding", "Step", "Totals", "UnitInfo", "Viscosity",
    "ViscosityPoints", "VolumeFactors", "acceptance_rule_provenance", "convert", "convert_pressure",
    "convert_viscosity", "errors", "family_slope", "fit_certificate", "flag_words", "judge_limit", "method_info",
    "method_names", "methods", "prove", "round_half_away", "selfcheck", "unit_info", "unit_kinds", "unit_names",
    "versions",
]
