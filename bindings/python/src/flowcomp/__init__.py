# SPDX-License-Identifier: Apache-2.0
"""flowcomp: calculations for liquid turbine meters.

Carries a calibration across viscosities, corrects the meter body for temperature and pressure, takes volumes to base
conditions by published methods, says how sure it is and explains every step. Units stand in the names: ``t_degc``,
``p_kpag``, ``rho_kgm3``, ``nu_mm2s``, ``f_hz``. Inputs are numbers, arrays, pandas columns
or Arrow tables.

Results are calculations, not permission: local codes, type approvals, contracts and a licensed engineer's judgement
come first, and a method whose status is "from memory" is to be confirmed against the print.
"""

from __future__ import annotations

from importlib import import_module as _import_module
from typing import TYPE_CHECKING, Any

from . import errors, methods
from ._version import versions
from ._words import FLAG_BITS as FLAGS
from ._words import flag_words
from .arrow_tables import ResultBatch, ResultTable
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
    from . import bits_contract, selfcheck
    from .fit import Fit, FitPoint, FitSummary, fit_certificate
    from .identity import Identity, identify
    from .meter_factor import BodyChange, FactorValue, MeterFactor, VoidCheck, body_difference, factor_void
    from .proving import (Finding, LimitCheck, Prover, Proving, ProvingRun, acceptance_rule_provenance, judge_limit,
                          prove, proving_rounding_1995)
    from .pulse_trains import PulsePair, counter_advance
    from .ticket import (TicketResult, cut_records, evaluate_ticket, line_fill, line_fill_change, rounding_1995,
                         ticket_two_ways)
    from .ticket_file import TicketDifference, TicketFile, TicketVerdict, verify_ticket
    from .trail import Trail, TrailFinding, TrailHead, TrailReport, check_trail, public_key, trail_entries

__version__ = versions()["flowcomp"]

# Loaded on first use: what fits brings the analysis library with it, and few need the rest.
_LAZY = {"bits_contract": "bits_contract", "selfcheck": "selfcheck"}
for _module, _names in {
    "fit": "Fit FitPoint FitSummary fit_certificate",
    "identity": "Identity identify",
    "meter_factor": "BodyChange FactorValue MeterFactor VoidCheck body_difference factor_void",
    "proving": "Finding LimitCheck Prover Proving ProvingRun acceptance_rule_provenance judge_limit prove "
               "proving_rounding_1995",
    "pulse_trains": "PulsePair counter_advance",
    "ticket": "TicketResult cut_records evaluate_ticket line_fill line_fill_change rounding_1995 ticket_two_ways",
    "ticket_file": "TicketDifference TicketFile TicketVerdict verify_ticket",
    "trail": "Trail TrailFinding TrailHead TrailReport check_trail public_key trail_entries",
}.items():
    _LAZY |= dict.fromkeys(_names.split(), _module)


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
    "ArgumentInfo", "Body", "BodyChange", "BodyState", "COLUMNS", "Curve", "CurveValue", "Explanation", "FLAGS",
    "FactorValue", "Finding", "Fit", "FitPoint", "FitSummary", "FlowcompError", "Identity", "LimitCheck", "Liquid",
    "Metal", "Meter", "MeterFactor", "MethodInfo", "Prover", "Proving", "ProvingRun", "PulsePair", "READING_NAMES",
    "ResultBatch", "ResultTable", "Results", "Rounding", "Step", "TicketDifference", "TicketFile", "TicketResult",
    "TicketVerdict", "Totals", "Trail", "TrailFinding", "TrailHead", "TrailReport", "UnitInfo", "Viscosity",
    "ViscosityPoints", "VoidCheck", "VolumeFactors", "acceptance_rule_provenance", "bits_contract", "body_difference",
    "check_trail", "convert", "convert_pressure", "convert_viscosity", "counter_advance", "cut_records", "errors",
    "evaluate_ticket", "factor_void", "family_slope", "fit_certificate", "flag_words", "identify", "judge_limit",
    "line_fill", "line_fill_change", "method_info", "method_names", "methods", "prove", "proving_rounding_1995",
    "public_key", "round_half_away", "rounding_1995", "selfcheck", "ticket_two_ways", "trail_entries", "unit_info",
    "unit_kinds", "unit_names", "verify_ticket", "versions",
]
