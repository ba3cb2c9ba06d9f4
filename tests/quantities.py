# SPDX-License-Identifier: Apache-2.0
"""Quantities of check rows that are no method of their own: each is a public call of the package, never arithmetic.

QUANTITIES is {name: callable(**inputs)}; inputs are numbers, lists of numbers, or texts. A quantity that is not here is
looked up in flowcomp.methods by its own name.
"""

from __future__ import annotations

from collections.abc import Callable

from flowcomp.selfcheck import CALLS

# Files of tests/checks that are not check rows: their name, and what reads them.
OTHER_FILES = {"fpmath.csv": "exact arguments of functions inside the C library, read by tests/test_fpmath.c",
               "whole_records.csv": "whole evaluations, read by the tests of the meter",
               "whole_record_curves.csv": "the curves of whole_records.csv"}

QUANTITIES: dict[str, Callable[..., float]] = {
    **CALLS,  # unit_convert, unit_factor
}
