# SPDX-License-Identifier: Apache-2.0
"""A proving: runs of a meter against a prover, every factor a named result, and a verdict that says which run and why.

A proving decides about money: contract, local code and the witnesses come first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from . import _flowcomp as _raw
from . import errors
from ._immutable import Immutable
from ._structs import Record, fill, values_of
from ._words import PROVENANCES, choice, flag_words, words_of_enum
from .explanation import Step
from .liquid import Liquid
from .meter import Meter
from .rounding import Rounding, policy_of

_DIRECTIONS = {"single": _raw.FLC_PASS_SINGLE, "out": _raw.FLC_PASS_OUT, "back": _raw.FLC_PASS_BACK}
_PROVER_WORDS = {"kind": _raw.flc_prover_kind_from_name}
_PASS_WORDS = {"direction": _DIRECTIONS.__getitem__}
_OPTION_WORDS = {"way": _raw.flc_proving_way_from_name, "method": _raw.flc_proving_method_from_name,
                 "range": _raw.flc_range_policy_from_name, "range_of": _raw.flc_range_of_from_name,
                 "rejection": _raw.flc_rejection_from_name}
_ROUNDED = ("temperature", "pressure", "factors", "range", "mf")
_DENSITY = ("rho_base_kgm3", "rho_observed_kgm3", "t_observed_degc", "p_observed_kpag", "densitometer_factor")


class Prover(Immutable):
    """A prover as its certificate has it.

    :param kind: "pipe", "pipe_bidirectional", "small_volume", "tank" or "master_meter"
    :param given: base_volume_m3, base_t_degc, gc_per_degc, ga_per_degc, gl_rod_per_degc, e_kpa, id_m, wall_m,
        double_wall, master_k_per_m3, master_mf, water_draw_day, expiry_day (dates): those that the kind needs

    >>> Prover("tank", base_t_degc=15, gc_per_degc=51.8e-6).kind
    'tank'
    """

    __slots__ = ("_raw", "_given", "kind")

    def __init__(self, kind: str, **given: Any) -> None:
        raw = _raw.flc_prover()
        _raw.flc_prover_init(raw)
        fill(raw, {"kind": kind, **given}, _PROVER_WORDS, "Prover")
        _raw.flc_prover_check(raw)
        self._fix(_raw=raw, _given=given, kind=kind)

    def __reduce__(self) -> tuple[Any, ...]:
        return _prover, (self.kind, self._given)

    def __repr__(self) -> str:
        raw = self._raw
        return f"Prover({self.kind!r}, base volume {raw.base_volume_m3:.10g} m3 at {raw.base_t_degc:.6g} degC)"


def _prover(kind: str, given: dict[str, Any]) -> Prover:
    return Prover(kind, **given)


@dataclass(frozen=True)
class Finding:
    """Why a proving is not accepted: what, which run (0: all of it) and pass (None: none in particular)."""

    fault: str  #: "range", "few_pulses" ...
    text: str  #: the same as a sentence
    run: int
    place: int | None  #: place of the pass in the order given
    value: float  #: what was found
    limit: float  #: the limit it broke


class ProvingRun(Record):
    """The factors of a run; ``rejected`` is the rule that left it out, or "none"."""

    def steps(self) -> list[Step]:
        """The run in the order of the calculation."""
        capacity = 32
        while True:
            status, listed, count = _raw.flc_proving_steps(self._raw, capacity)
            if status != _raw.FLC_E_BUFFER:
                return [Step(*row[:8], _raw.flc_provenance_text(row[8]), tuple(flag_words(row[9]))) for row in listed]
            capacity = count


class Proving(Record):
    """Outcome of a proving: ``accepted``, ``mf``, ``ma``, ``kf_per_m3``, ``range_pct``, ``u_mean_pct`` ..., the
    ``runs``, their ``average``, and the ``findings``, of which there is none where it is accepted."""


def proving_rounding_1995(units: str) -> dict[str, Any]:
    """Rounding between the steps of a proving as in the editions of 1995 to 1998, for readings in "si" or "customary"
    units: 0.05 degC and 0.1 bar, or 0.1 degF and 1 psi; factors and meter factor to four decimals.

    >>> proving_rounding_1995("si")["temperature"]
    Rounding.increment(0.05)
    """
    raw = _raw.flc_proving_rounding()
    _raw.flc_proving_rounding_1995(choice("units", units, _raw.flc_reading_units_from_name), raw)
    return {"units": units, **{name: Rounding.of(getattr(raw, name)) for name in _ROUNDED}}


def prove(passes: Sequence[Mapping[str, Any]] | Any, prover: Prover, *, nominal_k_per_m3: float | None = None,
          meter: Meter | None = None, liquid: Liquid | None = None, rounding: Mapping[str, Any] | None = None,
          **options: Any) -> Proving:
    """Work out a proving, with a nominal K or with the curve of a meter.

    A wrong input is refused; a proving that was done but fails its limits comes back with findings.

    :param passes: a list of dicts, or a DataFrame, in the order made: run, direction ("single", "out", "back"), pulses
        or pulses_whole with t_pulses_s and t_detectors_s, f_hz, t_meter_degc, p_meter_kpag, t_prover_degc,
        p_prover_kpag, t_rod_degc, nu_mm2s, ctl_prover, cpl_prover, ctl_meter, cpl_meter (without a liquid), upper_m3,
        lower_m3, pulses_master, start_ms, end_ms (datetimes)
    :param nominal_k_per_m3: nominal K, 1/m3; or a meter with its curve
    :param liquid: gives CTL and CPL, with a density among the options (rho_base_kgm3, or an observed one)
    :param rounding: policies of temperature, pressure (in the units "si" or "customary"), factors, range, mf; left
        out: none. proving_rounding_1995 gives those of 1995
    :param options: method ("average_data", "average_factor"), passes_per_run, runs_min, range ("target", "lord",
        "api_4_8", "fixed"), range_of ("pulses", "factors"), target_pct, range_limit_pct, rejection ("none", "first",
        "furthest", "all_but_last"), reject_max, pulses_min, clock_hz, clock_ticks_min, temperature_difference_k,
        temperature_drift_k, flow_spread_pct, waiting_s, flow_started_ms, mf_low, mf_high, day
    """
    raw = _raw.flc_proving_options()
    _raw.flc_proving_options_init(raw)
    for name in _DENSITY:
        if options.get(name) is not None:
            setattr(raw.density, name, float(options[name]))
    fill(raw, {"way": "nominal_k" if meter is None else "curve", "nominal_k_per_m3": nominal_k_per_m3,
               **{name: value for name, value in options.items() if name not in _DENSITY}}, _OPTION_WORDS, "prove()")
    for name, policy in (rounding or {}).items():
        if name == "units":
            raw.rounding.units = choice("units", policy, _raw.flc_reading_units_from_name)
        elif name in _ROUNDED:
            setattr(raw.rounding, name, policy_of(policy))
        else:
            raise errors.E_UNKNOWN_NAME("rounding", message=f"rounding: no step {name!r}; there are units, "
                                                            f"{', '.join(_ROUNDED)}")
    if meter is not None:
        raw.meter = meter._raw
    if liquid is not None:
        raw.liquid = liquid._raw
    rows = passes.to_dict("records") if hasattr(passes, "to_dict") else list(passes)
    given = tuple(_pass(row, place) for place, row in enumerate(rows))
    outcome = _raw.flc_proving()
    _raw.flc_proving_init(outcome)
    runs, findings = _raw.flc_prove(prover._raw, raw, given, len(given), 16 + 8 * len(given), outcome)
    return _proving(outcome, runs, findings)


def _pass(row: Mapping[str, Any], place: int) -> Any:
    raw = _raw.flc_pass()
    _raw.flc_pass_init(raw)
    fill(raw, row, _PASS_WORDS, f"passes[{place}]")
    return raw


def _proving(outcome: Any, runs: tuple[Any, ...], findings: tuple[Any, ...]) -> Proving:
    values = values_of(outcome)
    values["accepted"] = bool(outcome.accepted)
    values["way"] = words_of_enum("FLC_WAY_", _raw.flc_proving_way_from_name)[outcome.way]
    values["method"] = words_of_enum("FLC_PROVING_", _raw.flc_proving_method_from_name)[outcome.method]
    values["average"] = _run(outcome.average, outcome)
    values["runs"] = [_run(run) for run in runs[: outcome.run_count]]
    values["findings"] = [Finding(_raw.flc_proving_fault_word(found.fault), _raw.flc_proving_fault_text(found.fault),
                                  found.run, None if found.place < 0 else found.place, found.value, found.limit)
                          for found in findings[: outcome.finding_count]]
    return Proving(values)


def _run(raw: Any, owner: Any = None) -> ProvingRun:
    rejected = words_of_enum("FLC_REJECT_", _raw.flc_rejection_from_name)[raw.rejected]
    return ProvingRun({**values_of(raw), "rejected": rejected, "_raw": raw, "_owner": owner})


# --- limits -----------------------------------------------------------------------------------------------------------

@dataclass(frozen=True)
class LimitCheck:
    """An error against its limit, in the unit asked about."""

    error: float  #: found less true
    limit: float  #: magnitude
    margin: float  #: limit less the size of the error: negative by as much as the error is outside
    inside: bool  #: on the limit is inside


def judge_limit(found: float, truth: float, limit: float) -> LimitCheck:
    """Is an error inside a limit, and by how much?

    >>> judge_limit(100.25, 100.0, 0.5)
    LimitCheck(error=0.25, limit=0.5, margin=0.25, inside=True)
    """
    check = _raw.flc_limit_check()
    _raw.flc_limit_judge(float(found), float(truth), float(limit), check)
    return LimitCheck(check.error, check.limit, check.margin, bool(check.inside))


def acceptance_rule_provenance(rule: str) -> str:
    """Where the limit of a rule of ``methods.acceptance_limit`` rests: "published", "from_memory" ..."""
    number = _raw.flc_acceptance_rule_provenance(choice("rule", rule, _raw.flc_acceptance_rule_from_name))
    return next(word for word, held in PROVENANCES.items() if held == number)
