# SPDX-License-Identifier: Apache-2.0
"""Show the work: one evaluation as steps that a person can redo on paper."""

from __future__ import annotations

import json
import math
from dataclasses import asdict, dataclass, fields
from typing import Any

from . import _flowcomp as _raw
from . import errors
from ._words import flag_words


@dataclass(frozen=True)
class Step:
    """One step. Its fields can also be read as items: ``step["value"]``, ``dict(step)``."""

    symbol: str  #: "Ro"
    quantity: str  #: "Roshko number"
    value: float  #: as used; NaN where the step gave none
    unit: str  #: "1" for pure numbers
    equation: str  #: "f D^2 / nu"
    method: str  #: "API MPMS 11.1"
    edition: str  #: "2004"; "" where none applies
    clause: str  #: "" where none applies
    status: str  #: where its constants rest: "published", "from memory" ...
    flags: tuple[str, ...]  #: limits met in this step, as words

    def keys(self) -> list[str]:
        """Names of the fields."""
        return [field.name for field in fields(self)]

    def __getitem__(self, name: str) -> Any:
        return getattr(self, name)


class Explanation:
    """The steps of one evaluation, with the very numbers of ``Meter.evaluate``.

    ``steps`` is a list of Step, ``text`` the same for reading, ``to_json()`` the same as JSON. Where the record is
    refused, ``error`` is the exception that says why, and the steps end at the one that failed.
    """

    def __init__(self, meter: Any, liquid: Any, reading: tuple[Any, ...]) -> None:
        capacity = 64
        while True:
            status, listed, count, detail = _raw.flc_explain(meter, liquid, reading, capacity)
            if status != _raw.FLC_E_BUFFER:
                break
            capacity = count
        self.steps = [Step(*row[:8], _raw.flc_provenance_text(row[8]), tuple(flag_words(row[9]))) for row in listed]
        self.status = status
        self.error = None if status == _raw.FLC_OK else errors.of_status(status, *(detail or ()))
        size = 4096
        while True:
            status, text, needed = _raw.flc_explain_text(meter, liquid, reading, size)
            if status != _raw.FLC_E_BUFFER:
                break
            size = needed + 1  # with the final NUL
        self.text: str = text

    @property
    def status_name(self) -> str:
        """"OK", or the name of the refusal."""
        return errors.status_name(self.status)

    def to_json(self, indent: int | None = 2) -> str:
        """The steps as JSON; a value that there is none of is null. Numbers read back to the same bits."""
        steps = [{**asdict(step), "value": None if math.isnan(step.value) else step.value} for step in self.steps]
        return json.dumps({"status": self.status_name, "error": None if self.error is None else str(self.error),
                           "steps": steps}, indent=indent, ensure_ascii=False)

    def __str__(self) -> str:
        return self.text

    def __repr__(self) -> str:
        return f"Explanation({len(self.steps)} steps, {self.status_name})"
