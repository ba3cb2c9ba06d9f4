# SPDX-License-Identifier: Apache-2.0
"""Check rows: a quantity, its inputs, and a value from outside the library; and the installed package proving itself.

A row's quantity is a function of ``flowcomp.methods``, or one of CALLS. Its expected value is a number as printed, with
an absolute tolerance in the unit of the row, or the name of a status: then the inputs must be refused with it. Rows of
the roles conformance and agreement are judged; contrast rows (other editions, misprints) never are.

>>> report = run()
>>> report.passed
True
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from importlib import resources
from typing import Any

from . import bits_contract, methods
from .errors import FlowcompError
from .methods import ArgumentInfo, method_info
from .units import convert, convert_pressure, convert_viscosity

COLUMNS = ("id", "quantity", "inputs", "expected", "tolerance", "unit", "role", "status", "source", "url", "note")
JUDGED = ("conformance", "agreement")
_STATUS = re.compile(r"E_[A-Z0-9_]+$")


def unit_convert(value: float, p_atm_kpaa: float | None = None, rho_kgm3: float | None = None, **units: str) -> float:
    """A value in the unit ``from`` in the unit ``to``."""
    names = units["from"], units["to"]
    if p_atm_kpaa is not None:
        return convert_pressure(value, *names, p_atm_kpaa)
    if rho_kgm3 is not None:
        return convert_viscosity(value, *names, rho_kgm3)
    return convert(value, *names)


def unit_factor(from_unit: str, to_unit: str) -> float:
    """What one unit is in another."""
    return convert(1.0, from_unit, to_unit)


CALLS: dict[str, Callable[..., float]] = {"unit_convert": unit_convert, "unit_factor": unit_factor}


@dataclass(frozen=True)
class Row:
    """A check row as written, and the line it stands on."""

    file: str
    line: int
    cells: Mapping[str, str]

    def __getitem__(self, name: str) -> str:
        return self.cells[name]

    @property
    def place(self) -> str:
        """File, line and id, for messages."""
        return f"{self.file}:{self.line} {self['id']}"

    def inputs(self) -> dict[str, str]:
        """Inputs by name, as written."""
        pairs = (pair.partition("=") for pair in self["inputs"].split(";") if pair)
        return {name.strip(): value.strip() for name, _, value in pairs}


@dataclass(frozen=True)
class Outcome:
    """What a row came to. ``ratio`` is error over limit; ``reason`` says why a row failed without a number."""

    row: Row
    passed: bool
    value: float | str
    error: float = math.nan
    relative: float = math.nan
    ratio: float = math.nan
    reason: str = ""

    def describe(self) -> str:
        """One line: value, expected, both errors and the limit."""
        head = f"{self.row.place} {self.row['quantity']}({self.row['inputs']})"
        value = f"{self.value:.17g}" if isinstance(self.value, float) else self.value
        if self.reason:
            return f"{head}: {value}, expected {self.row['expected']}: {self.reason}"
        return (f"{head}: {value}, expected {self.row['expected']} {self.row['unit']}, error {self.error:.3g}, "
                f"relative {self.relative:.3g}, limit {self.row['tolerance']}")


def read_rows(lines: Iterable[str], file: str) -> Iterator[Row]:
    """Rows of a check file; lines that begin with # are comments."""
    numbered = [(number, line) for number, line in enumerate(lines, 1) if not line.startswith("#")]
    reader = csv.DictReader((line for _, line in numbered), strict=True)
    if reader.fieldnames is None or tuple(reader.fieldnames) != COLUMNS:
        raise ValueError(f"{file}: not a check file; its columns must be {', '.join(COLUMNS)}")
    for cells in reader:
        line = numbered[reader.line_num - 1][0]
        if None in cells or None in cells.values():
            raise ValueError(f"{file}:{line}: another number of cells than columns")
        yield Row(file, line, cells)


def value_of(text: str, argument: ArgumentInfo | None) -> Any:
    """An input as the function takes it: by its argument's kind, else a number, a list of numbers, or a text."""
    if argument is not None:
        if argument.kind == "choice":
            return text
        return [float(word) for word in text.split()] if argument.kind == "list" else float(text)
    try:
        numbers = [float(word) for word in text.split()]
    except ValueError:
        return text
    return numbers[0] if len(numbers) == 1 else numbers


def evaluate(row: Row, calls: Mapping[str, Callable[..., float]]) -> float | str:
    """Value of a row's quantity, or the name of the status it is refused with. The quantity must be known."""
    name = row["quantity"]
    call = calls.get(name) or getattr(methods, name)
    arguments = {} if name in calls else {argument.name: argument for argument in method_info(name).arguments}
    values = {key: value_of(text, arguments.get(key)) for key, text in row.inputs().items()}
    try:
        return float(call(**values))
    except FlowcompError as error:
        return error.status_name


def known(name: str, calls: Mapping[str, Callable[..., float]]) -> bool:
    """Is the quantity a method or one of the calls?"""
    try:
        return name in calls or bool(method_info(name))
    except FlowcompError:
        return False


def judge(row: Row, calls: Mapping[str, Callable[..., float]] = CALLS) -> Outcome:
    """Evaluate a row and compare."""
    value = evaluate(row, calls)
    expected = row["expected"]
    if isinstance(value, str) or _STATUS.match(expected):
        same = value == expected
        return Outcome(row, same, value, ratio=0.0 if same else math.inf,
                       reason="" if same else "a refusal that was not expected" if isinstance(value, str)
                       else "the refusal did not come")
    if not math.isfinite(value):
        return Outcome(row, False, value, reason="not a finite number")
    limit = Fraction(row["tolerance"])
    error = Fraction(value) - Fraction(expected)
    relative = float(error / Fraction(expected)) if Fraction(expected) else math.inf
    ratio = float(abs(error) / limit) if limit else (math.inf if error else 0.0)
    return Outcome(row, abs(error) <= limit, value, float(error), relative, ratio)


# --- the installed package proves itself ------------------------------------------------------------------------------

@dataclass
class Check:
    """What the carried rows say of one quantity."""

    name: str
    rows: int = 0
    failed: list[Outcome] = field(default_factory=list)
    worst: float = 0.0  #: largest error over limit
    statuses: set[str] = field(default_factory=set)  #: of the expected values: "published", "computed" ...

    @property
    def passed(self) -> bool:
        """No row failed."""
        return not self.failed

    def describe(self) -> str:
        """One line."""
        verdict = "ok" if self.passed else f"{len(self.failed)} FAILED"
        return (f"{self.name:<45} {self.rows:>4} rows, worst error {self.worst:>6.1%} of its limit, {verdict}  "
                f"({', '.join(sorted(self.statuses))})")


@dataclass(frozen=True)
class Bits:
    """The contract of bits: the hash of its set of results as evaluated here, and as published."""

    identifier: str
    found: str
    published: str

    @property
    def kept(self) -> bool:
        """The results here are those of every other installation that keeps the contract."""
        return self.found == self.published

    def describe(self) -> str:
        """One line."""
        verdict = "as published" if self.kept else f"DIFFERENT from the published {self.published}"
        return f"contract of bits {self.identifier}: {self.found}, {verdict}"


@dataclass
class Report:
    """A line per quantity, the contract of bits, a verdict, an exit status."""

    checks: list[Check]
    without_rows: list[str]  #: methods for which no row is carried
    passed_over: dict[str, int] = field(default_factory=dict)  #: rows of quantities that only the tests know
    bits: Bits | None = None  #: None: not evaluated

    @property
    def passed(self) -> bool:
        """Something was compared, nothing failed, and the contract of bits is kept."""
        return bool(self.checks) and all(check.passed for check in self.checks) and (self.bits is None or self.bits.kept)

    @property
    def exit_status(self) -> int:
        """0 where passed, else 1."""
        return 0 if self.passed else 1

    def lines(self) -> list[str]:
        """The report for reading, the verdict last."""
        lines = [check.describe() for check in self.checks]
        lines += ["  " + outcome.describe() for check in self.checks for outcome in check.failed]
        if self.bits is not None:
            lines.append(self.bits.describe())
        if self.without_rows:
            lines.append(f"{len(self.without_rows)} methods without a row here: {', '.join(self.without_rows)}")
        if self.passed_over:
            listed = ", ".join(f"{name} ({count})" for name, count in sorted(self.passed_over.items()))
            lines.append(f"{sum(self.passed_over.values())} rows need the calls of the tests: {listed}")
        rows = sum(check.rows for check in self.checks)
        failed = sum(len(check.failed) for check in self.checks)
        lines.append(f"{len(self.checks)} quantities, {rows - failed} rows passed, {failed} failed"
                     if rows else "nothing was compared: the installation carries no check rows")
        return lines


def carried_rows() -> Iterator[Row]:
    """The check rows inside the package."""
    for file in sorted(resources.files("flowcomp").joinpath("checks").iterdir(), key=lambda file: file.name):
        if file.name.endswith(".csv"):
            yield from read_rows(file.read_text(encoding="utf-8").splitlines(keepends=True), file.name)


def run() -> Report:
    """Evaluate every judged row that the package carries."""
    checks: dict[str, Check] = {}
    passed_over: dict[str, int] = {}
    for row in carried_rows():
        if row["role"] not in JUDGED:
            continue
        if not known(row["quantity"], CALLS):
            passed_over[row["quantity"]] = passed_over.get(row["quantity"], 0) + 1
            continue
        check = checks.setdefault(row["quantity"], Check(row["quantity"]))
        check.rows += 1
        check.statuses.add(row["status"])
        outcome = judge(row)
        check.worst = max(check.worst, outcome.ratio)
        if not outcome.passed:
            check.failed.append(outcome)
    names = methods.method_names()
    order = {name: place for place, name in enumerate(names)}
    return Report(sorted(checks.values(), key=lambda check: order.get(check.name, len(order))),
                  [name for name in names if name not in checks], passed_over,
                  Bits(bits_contract.identifier(), bits_contract.contract_hash(), bits_contract.published_hash()))


def main() -> int:
    """Print the report; the exit status."""
    report = run()
    print("\n".join(report.lines()))
    return report.exit_status


if __name__ == "__main__":
    raise SystemExit(main())
