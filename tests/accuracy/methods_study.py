#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Evaluation error of every method of the list against 40 digits, over its whole domain.

    methods_study.py FOLDER [--draws N] [--seconds S] [--seed S] [--only TEXT] [--table FILE] [--keep FILE]

FOLDER holds libflowcomp.so and libflowcomp-analysis.so. Each method gets N seeded draws of its domain, or as many as S
seconds allow; the recomputations stand apart from the library, in tests/support/*_oracle.py. The error must be within
2e-15 relative x max(1, condition number): the sum over the inputs x of |x df/dx / f|. Printed per method: draws, largest
relative error, the condition number where error over max(1, condition number) is largest, and that quotient, also as a
part of the limit. A method without a recomputation must stand in LEFT_OUT with its reason.

With --keep, findings are kept in a file of JSON lines as they come, and what is in it is not studied again: a run of
hours may be stopped and taken up. Remove the file when the library has changed.

Exit 1 if an error is above the limit, if a drawn input is refused, if a method has neither recomputation nor reason, or
if there was none to look at. FLOWCOMP_EXACT=mpfr makes it an order of magnitude faster (support/exact_numbers.py).
"""

from __future__ import annotations

import argparse
import json
import math
import platform
import random
import sys
import time
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

import aqueous_oracle  # noqa: E402
import custody_oracle  # noqa: E402
import hydrocarbon_oracle  # noqa: E402
import meter_oracle  # noqa: E402
import other_liquids_oracle  # noqa: E402
import petroleum_draws  # noqa: E402
import viscosity_oracle  # noqa: E402
from exact_numbers import ENGINE, digits  # noqa: E402
from library_call import Library  # noqa: E402
from petroleum_oracle import NoValue  # noqa: E402

LIMIT = 2e-15
# Each has NAMES, draw(name, rng), value(name, **inputs), condition(name, **inputs).
FAMILIES = (petroleum_draws, aqueous_oracle, hydrocarbon_oracle, viscosity_oracle, other_liquids_oracle, meter_oracle,
            custody_oracle)
_TABLE = "an entry of a table, no formula; check rows and the tests of the tables compare it with the print"
_GSL = ("an integral or a distribution of the analysis library, computed with GSL and not on the evaluation path; check rows "
        "compare it with a recomputation in 30 digits, to 1e-12")
LEFT_OUT = {
    **dict.fromkeys(("nist_expansion_coefficient", "nist_modulus_coefficient", "prover_linear_expansion_per_degf",
                     "prover_area_expansion_per_degf", "prover_cubical_expansion_per_degf", "prover_modulus_psi",
                     "mean_expansion", "mean_expansion_per_degf", "local_expansion", "local_expansion_per_degf",
                     "youngs_modulus_gpa", "poisson_ratio", "straight_run_rule_diameters", "acceptance_limit",
                     "reporting_decimals", "reporting_increment", "repeatability_limit_api_4_8_pct", "mpe_system_pct",
                     "mpe_meter_pct", "mpe_temperature_sensor_degc", "mpe_density_sensor_kgm3"), _TABLE),
    **dict.fromkeys(("student_t", "control_chart_d2", "control_chart_d3", "control_chart_c4", "control_chart_a2",
                     "control_chart_range_lower_d3", "control_chart_range_upper_d4", "mean_uncertainty_from_range_pct",
                     "repeatability_limit_pct", "range_factor_lord"), _GSL),
}


@dataclass
class Finding:
    """What the draws of one method came to."""

    name: str
    draws: int = 0
    relative: float = 0.0  #: largest relative error
    over: float = -1.0  #: largest relative error over max(1, condition number)
    condition: float = 1.0  #: condition number there
    wrong: str = ""  #: what went wrong

    def cells(self) -> list[str]:
        """For the table."""
        return [self.name, f"{self.draws}", f"{self.relative:.1e}", f"{self.condition:.2g}", f"{self.over:.1e}",
                f"{self.over / LIMIT:.2f}"]


def oracle_of(name: str) -> Any:
    """The module that recomputes a method, or None."""
    return next((family for family in FAMILIES if name in family.NAMES), None)


def study(library: Library, name: str, count: int, seed: int, seconds: float) -> Finding:
    """Draw, recompute, compare. The condition number is only computed where it can matter: error / max(1, condition)
    is never above the error."""
    family, rng, found, end = oracle_of(name), random.Random(f"{seed} {name}"), Finding(name), time.monotonic() + seconds
    while found.draws < count and (found.draws < 100 or time.monotonic() < end):
        inputs = family.draw(name, rng)
        try:
            expected = family.value(name, **inputs)
        except NoValue:
            continue
        found.draws += 1
        status, result = library.call(name, **inputs)
        if status != "OK":
            found.wrong = f"{status} for {inputs}"
            break
        error = float(abs((result - expected) / expected)) if expected else abs(result)
        found.relative = max(found.relative, error)
        if error > found.over:
            condition = max(1.0, family.condition(name, **inputs))
            if error / condition > found.over:
                found.over, found.condition = error / condition, condition
                if found.over > LIMIT:
                    found.wrong = f"{inputs}: {result!r}, expected {digits(expected, 20)}"
    return found


def kept(file: Path | None) -> dict[str, Finding]:
    """Findings of an earlier run."""
    lines = file.read_text(encoding="utf-8").splitlines() if file and file.exists() else []
    return {found.name: found for found in (Finding(**json.loads(line)) for line in lines)}


def table(findings: list[Finding], names: list[str], seed: int) -> str:
    """The committed table."""
    head = ["method", "draws", "largest relative error", "condition number", "error over condition", "part of the limit"]
    lines = ["# Evaluation errors of the methods", "",
             "Written by `tests/accuracy/run.sh`: seeded draws over the whole domain of each method against its "
             f"recomputation in 40 digits ({ENGINE}, seed {seed}, {platform.machine()}). The limit is 2e-15 relative "
             "times max(1, condition number); the condition number is that of the draw where error over condition number "
             "is largest. A method with fewer draws than the others is slow to recompute.", "",
             "| " + " | ".join(head) + " |", "|---|" + "---:|" * (len(head) - 1)]
    lines += ["| " + " | ".join(found.cells()) + " |" for found in findings]
    lines += ["", "Not in the table:", ""]
    lines += [f"- {name}: {LEFT_OUT[name]}" for name in names if name in LEFT_OUT]
    return "\n".join(lines) + "\n"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path, help="where the shared libraries are")
    parser.add_argument("--draws", type=int, default=2000)
    parser.add_argument("--seconds", type=float, default=math.inf, help="most time for a method")
    parser.add_argument("--seed", type=int, default=20041101)
    parser.add_argument("--only", default="", help="methods whose name holds this text")
    parser.add_argument("--table", type=Path, help="write the table there")
    parser.add_argument("--keep", type=Path, help="keep findings there, and take up what is there")
    options = parser.parse_args()
    library = Library(options.folder / "libflowcomp.so", options.folder / "libflowcomp-analysis.so")
    names = [name for name in library.names() if options.only in name]
    unknown = [name for name in names if not oracle_of(name) and name not in LEFT_OUT]
    if unknown or not names:
        print(f"without a recomputation: {', '.join(unknown)}" if names else "no method to look at", file=sys.stderr)
    findings, before = [], kept(options.keep)
    print(f"{'method':52} {'draws':>7} {'relative':>9} {'condition':>9} {'over':>9} {'of limit':>8}")
    for name in names:
        if oracle_of(name):
            found = before.get(name) or study(library, name, options.draws, options.seed, options.seconds)
            findings.append(found)
            if options.keep and name not in before:
                with options.keep.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(asdict(found)) + "\n")
            print("{:52} {:>7} {:>9} {:>9} {:>9} {:>8}".format(*found.cells()), found.wrong and f"ABOVE {found.wrong}",
                  flush=True)
    failed = sum(bool(found.wrong) for found in findings)
    worst = max((found.over for found in findings), default=0.0)
    print(f"{len(findings)} methods, {sum(found.draws for found in findings)} draws, largest error over condition "
          f"{worst:.2e}, {failed} above the limit")
    if options.table:
        options.table.write_text(table(findings, names, options.seed), encoding="utf-8")
    return 1 if failed or unknown or not findings else 0


if __name__ == "__main__":
    sys.exit(main())
