# SPDX-License-Identifier: Apache-2.0
"""Completeness: every public function is reachable from Python or stands here with its reason; every status has an
exception; every flag a word; every field of a reading and a result a name."""

from __future__ import annotations

import inspect
import pickle
import re
import subprocess
from pathlib import Path

import flowcomp as fc
import pytest
from flowcomp import _analysis, _flowcomp, _records, errors
from flowcomp.meter import READING_NAMES
from public_headers import HEADERS, prototypes

PROTOTYPES = prototypes()
LIBRARIES = sorted(Path(fc.__file__).parent.glob("libflowcomp*.so.0"))

# Not wrapped, and why.
IGNORED = {
    "flc_curve_free": "called when Python lets go of the object",
    "flc_liquid_free": "called when Python lets go of the object",
    "flc_meter_free": "called when Python lets go of the object",
    "flc_fit_free": "called when Python lets go of the object",
    "flc_trail_free": "called when Python lets go of the object",
    "flc_text_free": "called once the text is a Python string",
    "flc_liquid_new": "make_liquid, which takes the texts and points that the options point to",
    "flc_meter_new": "make_meter, which takes the name that the options point to",
    "flc_reading_init_sized": "a reading is a tuple of numbers",
    "flc_readings_init_sized": "readings are a tuple of columns",
    "flc_result_init_sized": "a result is a tuple of numbers",
    "flc_results_init_sized": "results are a tuple of columns",
    "flc_parallel_init_sized": "threads are Python's own",
    "flc_meter_evaluate_parallel_n": "evaluate hands parts of the arrays to Python's own threads",
    "flc_totals_add": "evaluate adds the records of a batch to totals",
    "flc_total_set_start": "custody and maintenance are two Totals",
    "flc_total_set_add": "custody and maintenance are two Totals",
    "flc_trail_options_init_sized": "open_trail, which takes the key and texts that the options point to",
    "flc_trail_open": "open_trail, which takes the key and texts that the options point to",
    "flc_trail_event_init_sized": "append_trail, which takes the texts that an event points to",
    "flc_trail_append": "append_trail, which takes the texts that an event points to",
    "flc_interval_init": "the inputs of a ticket file come as JSON",
    "flc_ticket_content_init_sized": "the inputs of a ticket file come as JSON",
    "flc_ticket_file_new": "flc_ticket_file_from_inputs: the inputs of a ticket file come as JSON",
    "flc_unit_names": "flc_unit_at and flc_unit_kind_of tell the same",
}


def words_of_methods() -> set[tuple[str, ...]]:
    return {argument.choices for name in fc.method_names() for argument in fc.method_info(name).arguments
            if argument.choices}


def why(name: str) -> str:
    """How a function is reached, or why it is not; "" where nobody has thought of it."""
    if any(hasattr(module, name.removesuffix("_sized")) for module in (_flowcomp, _analysis, _records)):
        return "wrapped"
    if name.removeprefix("flc_") in fc.method_names():
        return "a method, called by its row"
    if name.endswith("_from_name") and name in CHOICES_OF_METHODS:
        return "words of a choice that only methods take: in their rows"
    return IGNORED.get(name, "")


def choices_of_methods() -> set[str]:
    """from_name functions of headers whose other functions are all methods: their words stand in the rows."""
    headers: dict[str, list[str]] = {}
    for prototype in PROTOTYPES:
        headers.setdefault(prototype.header, []).append(prototype.name)
    methods = {"flc_" + name for name in fc.method_names()}
    return {name for names in headers.values() if methods.intersection(names)
            for name in names if name.endswith("_from_name")}


CHOICES_OF_METHODS = choices_of_methods()


@pytest.mark.parametrize("name", sorted({prototype.name for prototype in PROTOTYPES}))
def test_every_public_function_is_reachable(name: str) -> None:
    assert why(name), f"{name} is neither wrapped nor on the list of those that are not, with its reason"


def test_the_list_has_no_leftovers() -> None:
    names = {prototype.name for prototype in PROTOTYPES}
    assert len(names) > 150
    assert IGNORED.keys() <= names
    for name in IGNORED:
        assert not any(hasattr(module, name.removesuffix("_sized")) for module in (_flowcomp, _analysis, _records)), name


def test_exported_symbols_are_the_prototypes() -> None:
    assert [file.name for file in LIBRARIES] == ["libflowcomp-analysis.so.0", "libflowcomp-records.so.0",
                                                 "libflowcomp.so.0"]
    exported: set[str] = set()
    for file in LIBRARIES:
        listed = subprocess.run(["nm", "-D", "--defined-only", str(file)], capture_output=True, text=True, check=True)
        exported |= {line.split()[-1].split("@")[0] for line in listed.stdout.splitlines() if " A " not in line}
    assert exported == {prototype.name for prototype in PROTOTYPES}


def test_every_status_has_its_exception() -> None:
    count = _flowcomp.flc_status_count()
    numbers = [_flowcomp.flc_status_at(place) for place in range(count)]
    assert count > 30 and numbers[0] == 0
    for number in numbers[1:]:
        name = _flowcomp.flc_status_name(number)
        cls = getattr(errors, name)
        assert cls is errors.CLASSES[number] and cls.status == number
        assert issubclass(cls, fc.FlowcompError) and cls.__mro__[1] is not fc.FlowcompError
        raised = errors.of_status(number)
        assert type(raised) is cls and raised.status_name == name
        assert _flowcomp.flc_status_text(number) in str(raised)
        assert inspect.getdoc(cls).lower().startswith(_flowcomp.flc_status_text(number).lower())
    assert set(errors.CLASSES) == set(numbers[1:])


def test_families_are_pythons_own_exceptions() -> None:
    families = {errors.ArgumentError: ValueError, errors.RangeError: ValueError, errors.CurveError: ValueError,
                errors.CalculationError: ArithmeticError, errors.NamingError: LookupError,
                errors.RecordError: ValueError, errors.RoomError: MemoryError, errors.InternalError: RuntimeError}
    for family, python in families.items():
        assert issubclass(family, python) and inspect.getdoc(family)
    for cls in errors.CLASSES.values():
        assert any(issubclass(cls, family) for family in families)
    assert issubclass(errors.E_OVERFLOW, OverflowError)
    assert issubclass(errors.E_BELOW_CURVE, errors.CurveError)


def test_exceptions_travel() -> None:
    with pytest.raises(fc.errors.E_ABOVE) as caught:
        fc.methods.t90_minus_t68_its90(t_degc=[20.0, 151.0])
    copy = pickle.loads(pickle.dumps(caught.value))
    assert type(copy) is fc.errors.E_ABOVE and str(copy) == str(caught.value)
    assert (copy.argument, copy.index, copy.value, copy.limit) == ("t_degc", 1, 151.0, 150.0)
    assert copy.counts == {"E_ABOVE": 1}


def test_flags_are_words() -> None:
    text = (HEADERS / "status.h").read_text(encoding="utf-8")
    listed = re.findall(r'ROW\(([A-Z_]+), (\d+), "([a-z_]+)", "', text)
    assert {word: 1 << int(bit) for _, bit, word in listed} == fc.FLAGS and len(listed) > 15
    assert fc.flag_words(sum(fc.FLAGS.values())) == list(fc.FLAGS)
    assert fc.flag_words(0) == []


def test_columns_are_those_of_the_header() -> None:
    text = (HEADERS / "meter.h").read_text(encoding="utf-8")
    listed = re.findall(r'^    ROW\((\w+), "([^"]+)", "([^"]+)"\)', text, re.M)
    assert [(column.name, column.unit, column.meaning) for column in fc.COLUMNS] == listed
    batch = (HEADERS / "batch.h").read_text(encoding="utf-8")
    struct = re.search(r"typedef struct flc_readings \{(.*?)\}", batch, re.S)[1]
    fields = re.findall(r"\b\w+\b", " ".join(re.findall(r"flc_column ([^;]+);", struct)))
    assert list(READING_NAMES) == fields


def test_point_fields_are_those_of_the_header() -> None:
    from flowcomp.fit import POINT_FIELDS
    text = (HEADERS / "analysis.h").read_text(encoding="utf-8")
    struct = re.search(r"typedef struct flc_certificate_point \{(.*?)\} flc_certificate_point", text, re.S)[1]
    fields = re.findall(r"\b(?:double|int32_t) (\w+);", struct)
    assert list(POINT_FIELDS) == fields
