# SPDX-License-Identifier: Apache-2.0
"""The tables of the custody layer as C: limits of named rules, decimals to be recorded, legal classes, ranges of runs."""

from __future__ import annotations

RULES = ("rule", "value", "unit", "status", "source", "note")
DECIMALS = ("item", "decimals_min", "decimals_max", "increment", "status", "note")
CLASSES = ("accuracy_class", "line_a_pct", "line_b_pct", "temperature_degc", "density_kgm3", "status", "note")
RANGES = ("n", "range_pct", "status", "note")
RANGE_FACTORS = ("n", "student_t", "d2", "lord", "status", "note")
KINDS = (RULES, DECIMALS, CLASSES, RANGES, RANGE_FACTORS)

# Folder of a table of decimals -> word of flc_reporting_policy.
POLICIES = {"inspection_handbook": "inspection_handbook", "api_12_2_1_1995": "api_12_2_1995",
            "comstock_1993": "comstock_1993"}


def _rows(tables, kind):
    return [(t, row) for t in tables if t.columns == kind for row in t.rows]


def _consecutive(rows, first: int) -> None:
    """A table that is looked up by place must have every whole number from the first on."""
    for place, (t, row) in enumerate(rows, start=first):
        if row["n"] != str(place):
            raise ValueError(f"{t.name}: n = {row['n']} stands where {place} belongs")


def render(tables, words, helpers) -> dict[str, str]:
    """File name -> text. words resolves enum words, helpers has number, numbers, status and array of generate.py."""
    number, numbers, status, array = helpers
    rules = [f"[{words.name('flc_acceptance_rule', row['rule'], t.name)}] = {{{number(row['value'], t.name)}, "
             f"{status(row)}}}" for t, row in _rows(tables, RULES)]
    if len(rules) != len(words.constants["flc_acceptance_rule"]):
        raise ValueError("acceptance_limits.csv: not one row for every word of flc_acceptance_rule")
    decimals = [f"{{{words.name('flc_reporting_policy', POLICIES[t.set], t.name)}, "
                f"{words.name('flc_reporting_item', row['item'], t.name)}, "
                f"{numbers(row, ['decimals_min', 'decimals_max', 'increment'], t.name)}}}"
                for t, row in _rows(tables, DECIMALS)]
    classes = [f"[{words.name('flc_accuracy_class', row['accuracy_class'], t.name)}] = "
               f"{{{numbers(row, list(CLASSES[1:5]), t.name)}}}" for t, row in _rows(tables, CLASSES)]
    ranges, factors = _rows(tables, RANGES), _rows(tables, RANGE_FACTORS)
    _consecutive(ranges, 3)
    _consecutive(factors, 2)
    return {
        "quantities_table": "\n".join([
            array("static const acceptance_row acceptance_limits", "value, status", rules),
            array("static const reporting_row reporting_rows", "policy, item, fewest and most decimals, increment",
                  decimals)]),
        "legal_limits_table": array("static const class_row accuracy_classes",
                                    "lines A and B of Table 2 in %, Table 4: temperature degC, density kg/m3", classes),
        "run_ranges_table": "\n".join([
            array("static const double api_4_8_ranges", "from three runs on, %",
                  [number(row["range_pct"], t.name) for t, row in ranges]),
            array("static const range_factors factors_95", "from two runs on: Student's t, d2, Lord's factor",
                  [f"{{{numbers(row, ['student_t', 'd2', 'lord'], t.name)}}}" for t, row in factors])]),
    }
