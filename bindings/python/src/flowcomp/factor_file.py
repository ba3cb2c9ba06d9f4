# SPDX-License-Identifier: Apache-2.0
"""The factor in force for a ticket, from the record that ``flowcomp prove`` wrote, or by hand."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from .input_error import InputError
from .meter_factor import VOID_TRIGGERS

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
    limits: Mapping[str, float] = field(default_factory=dict)
    liquid: str = ""


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
                  date.fromisoformat(record["date"]), float(record["k_per_m3"]), then, limits, str(record["liquid"]))


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
            raise InputError(f"--void-limit {text}: write a trigger and its largest change, such as temperature=10; the "
                             f"triggers are {', '.join(OF_A_TICKET)}")
        found[word] = number
    return found
