#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Evaluate check rows through the installed Python package.

    check_rows.py [--skip-unknown] FILE...    judge the rows of the files
    check_rows.py --self-test FILE...         the gate's positive control: every row must fail once it is spoilt

A row's quantity is a function of flowcomp.methods, or an entry of quantities.py. Rows of the roles conformance and
agreement are judged, contrast rows are not. Each failing row is printed with value, expected value, both errors and the
limit. An unknown quantity fails unless --skip-unknown is given. The last line is "N passed, N failed"; the exit status
is 0 only where something was compared and nothing failed.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from flowcomp.selfcheck import JUDGED, Outcome, Row, judge, known, read_rows
from quantities import OTHER_FILES, QUANTITIES


class Tally:
    """What was compared, and what was passed over."""

    def __init__(self) -> None:
        self.passed = self.failed = self.contrast = 0
        self.unknown: Counter[str] = Counter()

    def failure(self, text: str) -> None:
        print(f"FAILED {text}")
        self.failed += 1

    def close(self) -> int:
        """Print what was passed over and the verdict; the exit status."""
        if self.contrast:
            print(f"{self.contrast} contrast rows not judged")
        if self.unknown:
            names = ", ".join(f"{name} ({count})" for name, count in sorted(self.unknown.items()))
            print(f"{sum(self.unknown.values())} rows of unknown quantities skipped: {names}")
        if self.passed + self.failed == 0:
            print("nothing was compared")
        print(f"{self.passed} passed, {self.failed} failed")
        return 0 if self.passed and not self.failed else 1


def judged_rows(files: list[Path], tally: Tally, skip_unknown: bool) -> Iterator[Row]:
    """Rows to be judged; what cannot be is counted."""
    for file in files:
        if file.name in OTHER_FILES:
            print(f"{file.name}: {OTHER_FILES[file.name]}")
            continue
        try:
            rows = list(read_rows(file.read_text(encoding="utf-8").splitlines(keepends=True), str(file)))
        except (OSError, ValueError) as error:
            tally.failure(str(error))
            continue
        for row in rows:
            if row["role"] == "contrast":
                tally.contrast += 1
            elif row["role"] not in JUDGED:
                tally.failure(f"{row.place}: role '{row['role']}' is none of {', '.join(JUDGED)}, contrast")
            elif known(row["quantity"], QUANTITIES):
                yield row
            elif skip_unknown:
                tally.unknown[row["quantity"]] += 1
            else:
                tally.failure(f"{row.place}: quantity {row['quantity']} is not known")


def outcome_of(row: Row) -> Outcome:
    """Outcome of a row; one that cannot be read or called is a failure with its reason."""
    try:
        return judge(row, QUANTITIES)
    except (TypeError, ValueError, KeyError, ZeroDivisionError) as error:
        return Outcome(row, False, "no value", reason=f"{type(error).__name__}: {error}")


def spoilt(row: Row) -> Row:
    """The row with an expected value three tolerances (or one status) beside the right one."""
    expected = row["expected"]
    if expected.startswith("E_"):
        other = "E_BELOW" if expected != "E_BELOW" else "E_ABOVE"
    else:
        shift = 3 * Fraction(row["tolerance"]) or abs(Fraction(expected)) / 1000 or Fraction(1)
        other = str(Fraction(expected) + shift)
    return replace(row, cells={**row.cells, "expected": other})


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
    parser.add_argument("--skip-unknown", action="store_true", help="pass over quantities that the library has not")
    parser.add_argument("--self-test", action="store_true", help="spoil every row; each must fail")
    arguments = parser.parse_args()
    tally = Tally()
    for row in judged_rows(arguments.files, tally, arguments.skip_unknown):
        if arguments.self_test:
            if outcome_of(spoilt(row)).passed:
                tally.failure(f"{row.place}: passes with its expected value three tolerances off")
            else:
                tally.passed += 1
            continue
        outcome = outcome_of(row)
        if outcome.passed:
            tally.passed += 1
        else:
            tally.failure(outcome.describe())
    return tally.close()


if __name__ == "__main__":
    sys.exit(main())
