# SPDX-License-Identifier: Apache-2.0
"""The factor in force for a ticket, from the record that ``flowcomp prove`` wrote, or by hand."""

from __future__ import annotations

import itertools
import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from .errors import FlowcompError
from .input_error import InputError
from .meter_factor import VOID_TRIGGERS, MeterFactor

Conditions = Mapping[str, float]  # of an interval: CONDITIONS and its indicated volume, iv_m3
CONDITIONS = ("flow", "temperature", "viscosity", "roshko", "density")
NAMES = {"flow": "flow (m3/s)", "roshko": "Roshko number"}
OF_A_TICKET = tuple(word for word in VOID_TRIGGERS if word not in ("factor_last", "factor_first"))


@dataclass(frozen=True)
class Factor:
    """A meter factor with what it was proved at. way is empty where it was given by hand."""

    mf: float
    proving: str = ""
    meter: str = ""
    way: str = ""
    day: date | None = None
    k_per_m3: float = math.nan
    then: Mapping[str, float] = field(default_factory=dict)  # numbers of the triggers at the proving
    p_kpag: float = math.nan  # at the meter, at the proving
    limits: Mapping[str, float] = field(default_factory=dict)
    liquid: str = ""


@dataclass(frozen=True)
class FactorsInForce:
    """One factor, or several that are read off between their provings, linearly over flow or Roshko number.

    :param points: one, or several rising on the axis
    :param axis: "flow" (m3/s) or "roshko"
    :param beyond: past the first or last proving: "refuse", or "hold" its factor
    """

    points: Sequence[Factor]
    axis: str = "flow"
    beyond: str = "refuse"

    @classmethod
    def of(cls, factors: Sequence[Factor], axis: str, beyond: str) -> FactorsInForce:
        """Put them in order.

        :raises InputError: where a proving does not know its place on the axis, or two have the same
        """
        if len(factors) == 1:
            return cls(factors)
        points = sorted(factors, key=lambda one: one.then.get(axis, math.nan))
        for one in points:
            if math.isnan(one.then.get(axis, math.nan)):
                raise InputError(f"the proving {one.proving} does not know its {NAMES[axis]}: several factors cannot be "
                                 f"read off over it")
        for first, second in itertools.pairwise(points):
            if not first.then[axis] < second.then[axis]:
                raise InputError(f"the provings {first.proving} and {second.proving} are at the same {NAMES[axis]}")
        return cls(points, axis, beyond)

    @property
    def names(self) -> str:
        """Of the provings."""
        return ", ".join(one.proving for one in self.points if one.proving)

    @property
    def limits(self) -> dict[str, float]:
        """Largest changes: of several provings the smallest."""
        words = [word for one in self.points for word in one.limits]
        return {word: min(one.limits[word] for one in self.points if word in one.limits) for word in words}

    def at(self, conditions: Conditions | None) -> tuple[float, Factor]:
        """The factor at conditions (None: nothing flows), and the proving nearest to them on the axis."""
        if len(self.points) == 1 or conditions is None:
            return self.points[0].mf, self.points[0]
        x = conditions[self.axis]
        places = [one.then[self.axis] for one in self.points]
        try:
            value = MeterFactor.interpolated(places, [one.mf for one in self.points], axis=self.axis,
                                             beyond=self.beyond).at(x)
        except FlowcompError as error:
            raise InputError(f"no factor at a {NAMES[self.axis]} of {x:.6g}: the provings are from {places[0]:.6g} to "
                             f"{places[-1]:.6g}; prove there, or pass --factor-beyond hold where the contract says so "
                             f"({error})") from None
        return float(value.mf), min(self.points, key=lambda one: abs(one.then[self.axis] - x))


def read_factor(path: Path) -> Factor:
    """The factor of a proving's JSON record.

    :raises InputError: where it is no record of a proving, or its factor was not put in force
    """
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise InputError("there is no such file", file=path) from None
    except ValueError:
        raise InputError("no JSON; give the .json file of a proving that flowcomp prove wrote", file=path) from None
    if not isinstance(record, dict) or record.get("format") != "flowcomp-proving" or record.get("version") != 1:
        raise InputError("this is not the record of a proving (flowcomp-proving, version 1)", file=path)
    try:
        return factor_of(record, path)
    except (KeyError, TypeError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise InputError(f"the record of the proving is damaged: {error!r}", file=path) from None


def factor_of(record: Mapping[str, Any], path: Path) -> Factor:
    if record["in_force"] is not True:
        why = "it was not accepted" if not record["accepted"] else "its change was beyond a limit"
        raise InputError(f"the factor of the proving {record['proving']} was not put in force: {why}", file=path)
    at = {name: math.nan if value is None else float(value) for name, value in record["conditions"].items()}
    then = {"flow": at["q_m3s"], "temperature": at["t_meter_degc"], "viscosity": at["nu_mm2s"], "roshko": at["ro"],
            "density": at["rho_base_kgm3"], "liquid": 0.0, "days": 0.0, "volume": 0.0}
    limits = {word: float(value) for word, value in record["void_limits"].items() if word in OF_A_TICKET}
    return Factor(float(record["mf"]), str(record["proving"]), str(record["meter"]), str(record["way"]),
                  date.fromisoformat(record["date"]), float(record["k_per_m3"]), then, at["p_meter_kpag"], limits,
                  str(record["liquid"]))


def limits_of(texts: list[str]) -> dict[str, float]:
    """Limits of triggers from the command line: ``temperature=10``."""
    found: dict[str, float] = {}
    for text in texts:
        word, equals, value = text.partition("=")
        try:
            number = float(value)
        except ValueError:
            number = math.nan
        if not equals or word not in OF_A_TICKET or not number >= 0:
            raise InputError(f"--void-limit {text}: write a trigger and its largest change, such as temperature=10; "
                             f"the triggers are {', '.join(OF_A_TICKET)}")
        found[word] = number
    return found
