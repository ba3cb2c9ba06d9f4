# SPDX-License-Identifier: Apache-2.0
"""A proving of a file worked out: with its liquid, the factor that was in force, and the triggers that speak against it."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from .errors import FlowcompError
from .input_error import InputError, close_names
from .meter_factor import VoidCheck, factor_void
from .proving import Proving, prove
from .proving_file import ProvingFile
from .proving_history import Entry, History, entry_of
from .proving_report import Case

if TYPE_CHECKING:
    from .liquid import Liquid
    from .meter import Meter

_DENSITY = ("rho_base_kgm3", "rho_observed_kgm3", "t_observed_degc", "p_observed_kpag", "densitometer_factor")


@dataclass(frozen=True)
class Means:
    """What a proving is worked out with beside its file."""

    meter: Meter | None
    liquids: Mapping[str, Liquid]
    refuse_when_void: bool


def outcome_of(file: ProvingFile, means: Means, t_prover_shift_k: float = 0.0) -> Proving:
    """The proving, refused with the line of the pass that is wrong.

    :param t_prover_shift_k: added to every prover temperature, for trying what an error of it would do
    """
    if means.meter is not None and "nominal_k_per_m3" in file.options:
        raise InputError("a nominal K in the head and a meter with its curve are two ways of using a calibration, never "
                         "mixed: leave out one", file=file.path)
    if means.meter is None and "nominal_k_per_m3" not in file.options:
        raise InputError("say which K: a head line k_nominal_per_m3, or the option --meter for the curve of a meter",
                         file=file.path)
    if means.meter is not None and means.meter.name != file.meter:
        raise InputError(f"the runs are of the meter {file.meter}, the meter file is of {means.meter.name}",
                         file=file.path)
    passes = [one | {"t_prover_degc": one["t_prover_degc"] + t_prover_shift_k} if t_prover_shift_k else one
              for one in file.passes]
    try:
        return prove(passes, file.prover, meter=means.meter, liquid=liquid_of(file, means), day=file.day,
                     **file.options)
    except FlowcompError as error:
        raise refusal(file, error) from None


def liquid_of(file: ProvingFile, means: Means) -> Liquid | None:
    """The liquid the file names; the only one where it names none."""
    if not means.liquids:
        return None
    if file.liquid in means.liquids:
        return means.liquids[file.liquid]
    if not file.liquid and len(means.liquids) == 1:
        return next(iter(means.liquids.values()))
    known = ", ".join(means.liquids)
    raise InputError(f"the liquid '{file.liquid}' is none of {known}{close_names(file.liquid, means.liquids)}",
                     file=file.path)


def refusal(file: ProvingFile, error: FlowcompError) -> InputError:
    """The refusal of the library with the line of the pass it speaks of."""
    if error.index is None or not 0 <= error.index < len(file.passes):
        return InputError(f"{error}", file=file.path)
    line = file.lines[error.index]
    place: dict[str, Any] = {"line": line} if line else {"row": error.index + 1}
    run = file.passes[error.index]["run"]
    if error.argument == "passes" and error.value < error.limit:
        back = ", out and back" if file.prover.kind == "pipe_bidirectional" else ""
        return InputError(f"run {run} has {error.value:.0f} pass, not {error.limit:.0f}{back}: one is missing",
                          file=file.path, **place)
    return InputError(f"run {run}: {error}", file=file.path, **place)


def case_of(file: ProvingFile, means: Means, earlier: Sequence[Entry]) -> Case:
    """The proving with what was known before it."""
    outcome = outcome_of(file, means)
    liquid = liquid_of(file, means)
    nu, rho = conditions_of(file, outcome, liquid)
    before = next((entry for entry in reversed(earlier) if entry.accepted), None)
    first = next((entry for entry in earlier if entry.accepted), None)
    similar = similarity_of(file, outcome, nu)
    fresh = entry_of(file.proving, file.day, file.meter, file.liquid, outcome, outcome.accepted, nu, rho, *similar)
    void, conditions = void_of(file, fresh, before, first)
    held = outcome.accepted and means.refuse_when_void and void is not None and bool(
        {"factor_last", "factor_first"} & set(void.exceeded))
    entry = dataclasses.replace(fresh, accepted=outcome.accepted and not held)
    return Case(file, outcome, entry, before, void, conditions, held)


def conditions_of(file: ProvingFile, outcome: Proving, liquid: Liquid | None) -> tuple[float, float]:
    """Viscosity (mm2/s) and base density (kg/m3) of the proving; NaN where nothing tells them."""
    given = [one["nu_mm2s"] for one in file.passes if "nu_mm2s" in one]
    nu = sum(given) / len(given) if given else math.nan
    rho = float(file.options.get("rho_base_kgm3", math.nan))
    if liquid is None:
        return nu, rho
    mean = outcome.average
    density = {name: file.options[name] for name in _DENSITY if name in file.options}
    if math.isnan(rho) and density:
        rho = float(liquid.volume(t_degc=mean.t_meter_degc, p_kpag=mean.p_meter_kpag, **density).rho_base_kgm3)
    if math.isnan(nu) and liquid.viscosity_source != "measured":
        nu = float(liquid.viscosity(mean.t_meter_degc, rho_base_kgm3=None if math.isnan(rho) else rho).nu_mm2s)
    return nu, rho


def similarity_of(file: ProvingFile, outcome: Proving, nu_mm2s: float) -> tuple[float, float]:
    """Roshko and Strouhal number of the proving, so that its factor can be carried to another liquid: those of the
    curve, or with a nominal K those of K/MF and the bore given, as it is at the proving."""
    from . import methods

    mean = outcome.average
    if outcome.way == "curve":
        return mean.ro, outcome.st_proved
    if math.isnan(file.bore_m) or math.isnan(mean.f_hz):
        return math.nan, math.nan
    bore_mm = 1000.0 * file.bore_m
    try:
        ro = math.nan if math.isnan(nu_mm2s) else methods.roshko(f_hz=mean.f_hz, d_mm=bore_mm, nu_mm2s=nu_mm2s)
        return ro, methods.strouhal(k_per_m3=outcome.kf_per_m3, d_mm=bore_mm)
    except FlowcompError as error:
        raise InputError(f"no Roshko or Strouhal number: {error}", file=file.path) from None


def void_of(file: ProvingFile, now: Entry, before: Entry | None, first: Entry | None
            ) -> tuple[VoidCheck | None, tuple[Mapping[str, float], Mapping[str, float]]]:
    """The triggers of the factor in force before, at the conditions of this proving."""
    if before is None or first is None or not file.void_limits:
        return None, ({}, {})
    then = {"flow": before.q_m3s, "temperature": before.t_meter_degc, "viscosity": before.nu_mm2s, "roshko": before.ro,
            "density": before.rho_base_kgm3, "liquid": 0.0, "days": 0.0, "factor_last": before.mf,
            "factor_first": first.mf}
    present = {"flow": now.q_m3s, "temperature": now.t_meter_degc, "viscosity": now.nu_mm2s, "roshko": now.ro,
               "density": now.rho_base_kgm3, "liquid": float(now.liquid != before.liquid),
               "days": float((now.date - before.date).days), "factor_last": now.mf, "factor_first": now.mf}
    try:
        return factor_void(then, present, file.void_limits), (then, present)
    except FlowcompError as error:
        raise InputError(f"the limits of the factor in force cannot be judged: {error}", file=file.path) from None


def mended_factors(history: History, cases: Mapping[str, tuple[ProvingFile, Means]]) -> dict[int, float]:
    """Factor of each proving that stands apart with its temperature difference, with the prover at the usual one."""
    found = {}
    for place in history.apart():
        entry = history.entries[place]
        if history.thermometer(place) and history.differences and entry.proving in cases:
            file, means = cases[entry.proving]
            found[place] = outcome_of(file, means, history.differences.centre - entry.t_difference_k).mf
    return found
