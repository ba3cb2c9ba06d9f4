# SPDX-License-Identifier: Apache-2.0
"""Every method of the list as a Python function: signature, docstring, the same bits as C, refusals as documented."""

from __future__ import annotations

import inspect
import math
import random
import struct
from pathlib import Path
from typing import Any

import flowcomp as fc
import numpy as np
import pytest
from drawn_inputs import NAMES, draw, good_inputs, row_inputs
from flowcomp import _flowcomp as raw
from library_call import Library

LIBRARY = Library(Path(fc.__file__).parent / "libflowcomp.so.0")
RUN_TIME = LIBRARY.names()
# a two-dimensional table wants a full grid, which no draw makes: the C tests give it one
DRAWN = [name for name in NAMES if name != "rho_table_bilinear"]
WITH_LISTS = [name for name in DRAWN if any(argument.kind == "list" for argument in fc.method_info(name).arguments)]


def bits(value: float) -> bytes:
    return struct.pack("<d", value)


def outcome(call: Any) -> tuple[str, bytes]:
    """Status name and bits of a call."""
    try:
        return "OK", bits(call())
    except fc.FlowcompError as error:
        return error.status_name, b""


def test_there_are_methods() -> None:
    assert len(NAMES) == len(set(NAMES)) > 100
    assert NAMES[: len(RUN_TIME)] == RUN_TIME
    assert "student_t" in NAMES and dir(fc.methods) == sorted(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_function_tells_what_it_takes_and_gives(name: str) -> None:
    method, info = getattr(fc.methods, name), fc.method_info(name)
    assert method.__name__ == name and getattr(fc.methods, name) is method
    parameters = inspect.signature(method).parameters
    assert list(parameters) == [*(argument.name for argument in info.arguments), "on_refused"]
    for argument in info.arguments:
        assert parameters[argument.name].kind is inspect.Parameter.KEYWORD_ONLY
        assert (parameters[argument.name].default is None) == argument.optional
        assert argument.name in method.__doc__ and argument.meaning in method.__doc__
        assert argument.choices or argument.unit == "1" or argument.unit in method.__doc__
    for fact in (info.summary, info.formula, info.source, info.status, f"unit {info.unit}"):
        assert fact and fact in method.__doc__
    assert info.status in ("published", "from memory", "common practice, no source", "computed")


@pytest.mark.parametrize("name", RUN_TIME)
def test_same_bits_and_statuses_as_c(name: str) -> None:
    """The wrapper against the C library called through ctypes, on rows and draws."""
    info, method, random_ = fc.method_info(name), getattr(fc.methods, name), random.Random(name)
    words = {argument.name: argument.choices for argument in info.arguments if argument.choices}
    required = {argument.name for argument in info.arguments if not argument.optional}
    compared = 0
    for inputs in row_inputs()[name][:50] + [draw(info, random_) for _ in range(50)]:
        if not required <= inputs.keys() or any(inputs.get(key) not in (None, *choices)
                                                for key, choices in words.items()):
            continue  # refused by Python itself
        status, value = LIBRARY.call(name, **inputs)
        expected = (status, bits(value) if status == "OK" else b"")
        assert outcome(lambda: method(**inputs)) == expected, inputs
        if status != "OK":
            assert bits(value) == bits(method(**inputs, on_refused="nan")) == struct.pack("<Q", 0x7FF8 << 48), inputs
        compared += 1
    assert compared >= 50


@pytest.mark.parametrize("name", [name for name in DRAWN if name not in WITH_LISTS])
def test_array_call_gives_the_bits_of_single_calls(name: str) -> None:
    info, method, random_ = fc.method_info(name), getattr(fc.methods, name), random.Random(name)
    good = good_inputs(name)
    assert good is not None
    records = [good] * 3 + [{key: draw(info, random_).get(key, value) for key, value in good.items()}
                            for _ in range(40)]
    columns = {key: np.array([record[key] for record in records]).reshape(43, 1) for key in good}
    one_by_one = [method(**record, on_refused="nan") for record in records]
    together = method(**columns, on_refused="nan")
    assert together.shape == (43, 1)
    assert together.tobytes() == np.array(one_by_one).tobytes()


@pytest.mark.parametrize("name", WITH_LISTS)
def test_a_list_goes_with_single_numbers(name: str) -> None:
    info, method, good = fc.method_info(name), getattr(fc.methods, name), good_inputs(name)
    assert good is not None
    for argument in info.arguments:
        if argument.kind == "list":
            with pytest.raises(fc.errors.E_COUNT, match="a sequence of numbers"):
                method(**{**good, argument.name: [good[argument.name]] * 2})
        elif argument.name in good:
            with pytest.raises(TypeError, match="its other arguments must be single numbers"):
                method(**{**good, argument.name: [good[argument.name]] * 2})


def bad_values(argument: fc.ArgumentInfo) -> list[tuple[Any, str]]:
    """Each kind of bad value of an argument, with the status that the contract states."""
    if argument.choices is not None:
        return [("no such word", "E_UNKNOWN_NAME"), *([] if argument.optional else [(None, "E_MISSING")])]
    bad: list[tuple[Any, str]] = [(math.inf, "E_INFINITE"), (-math.inf, "E_INFINITE")]
    if not argument.optional:
        bad.append((math.nan, "E_NAN"))
    if math.isfinite(argument.low):
        bad.append((math.nextafter(argument.low, -math.inf), "E_BELOW"))
    if math.isfinite(argument.high):
        bad.append((math.nextafter(argument.high, math.inf), "E_ABOVE"))
    if argument.kind == "list":
        return [([], "E_COUNT"), *(([value], status) for value, status in bad)]
    return bad + ([] if argument.optional else [(None, "E_MISSING")])


@pytest.mark.parametrize("name", DRAWN)
def test_bad_input_matrix(name: str) -> None:
    """Each argument not a number, infinite, below, above, unknown, missing: status, name, value, limit, NaN."""
    info, method = fc.method_info(name), getattr(fc.methods, name)
    good = good_inputs(name)
    assert good is not None, "no inputs were found that the method takes: add a check row"
    for argument in info.arguments:
        for value, status in bad_values(argument):
            if argument.kind == "list" and value:
                value = [*good[argument.name][:-1], *value]
            inputs = {**good, argument.name: value}
            with pytest.raises(getattr(fc.errors, status)) as caught:
                method(**inputs)
            error = caught.value
            assert error.argument == argument.name and error.status_name == status
            assert isinstance(error, fc.errors.ArgumentError) and isinstance(error, ValueError)
            if argument.kind == "list" and value:
                assert error.index == len(value) - 1
            if status in ("E_BELOW", "E_ABOVE"):
                assert error.limit == (argument.low if status == "E_BELOW" else argument.high)
                assert isinstance(error, fc.errors.RangeError)
            if value is not None and argument.choices is None:
                assert math.isnan(method(**inputs, on_refused="nan"))


@pytest.mark.parametrize("name", [name for name in RUN_TIME
                                  if any(argument.choices for argument in fc.method_info(name).arguments)])
def test_choice_numbers_that_are_none(name: str) -> None:
    info, good = fc.method_info(name), good_inputs(name)
    assert good is not None
    row = raw.flc_method_find(name)
    for place, argument in enumerate(info.arguments):
        if argument.choices is None:
            continue
        for number in (len(argument.choices), 0.5, -2.0, math.nan, math.inf):
            values = [_raw_value(other, good) for other in info.arguments]
            values[place] = number
            with pytest.raises(fc.errors.E_CHOICE) as caught:
                raw.flc_method_call(row, tuple(values))
            assert caught.value.argument == argument.name


def _raw_value(argument: fc.ArgumentInfo, good: dict[str, Any]) -> Any:
    value = good.get(argument.name)
    if argument.choices is not None:
        return -1.0 if value is None else float(argument.choices.index(value))
    if argument.kind == "list":
        return np.array(value, dtype=float)
    return math.nan if value is None else float(value)


def test_wrong_calls() -> None:
    with pytest.raises(TypeError, match="takes value, decimals; not digits"):
        fc.methods.round_half_away(value=1.0, decimals=2, digits=3)
    with pytest.raises(TypeError):
        fc.methods.round_half_away(1.0, 2)
    with pytest.raises(AttributeError, match="no method 'ctl61'"):
        fc.methods.ctl61
    with pytest.raises(fc.errors.E_UNKNOWN_NAME):
        fc.method_info("ctl61")
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="on_refused"):
        fc.methods.round_half_away(value=1.0, decimals=2, on_refused="ignore")
    with pytest.raises(TypeError, match="numbers are needed"):
        fc.methods.round_half_away(value=["one", "two"], decimals=2)
    with pytest.raises(ValueError):
        fc.methods.round_half_away(value=np.ones(3), decimals=np.ones(2))


def test_words_in_arrays() -> None:
    ctl = fc.methods.ctl60_petroleum_2004
    groups = np.array(["crude", "refined", "lube"])
    together = ctl(rho60_kgm3=850.0, t_degf=80.0, group=groups)
    assert together.tolist() == [ctl(rho60_kgm3=850.0, t_degf=80.0, group=str(group)) for group in groups]
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="kerosine"):
        ctl(rho60_kgm3=850.0, t_degf=80.0, group=["crude", "kerosine"])


def test_array_refusals_say_how_many_of_which() -> None:
    with pytest.raises(fc.errors.E_ABOVE) as caught:
        fc.methods.ctl60_petroleum_2004(rho60_kgm3=850.0, t_degf=[60.0, 400.0, -100.0, math.nan, 500.0], group="crude")
    error = caught.value
    assert error.counts == {"E_NAN": 1, "E_BELOW": 1, "E_ABOVE": 2}
    assert (error.index, error.argument, error.value, error.limit) == (1, "t_degf", 400.0, 302.0)
    assert str(error).startswith("4 of 5 records refused (1 E_NAN, 1 E_BELOW, 2 E_ABOVE); the first, at 1:")
