# SPDX-License-Identifier: Apache-2.0
"""Published methods as functions: ``flowcomp.methods.<name>(argument=..., ...)``.

Every function is made from the library's own row of the method on first use: its arguments, units, ranges, source and
status are those that the library enforces. Arguments are given by keyword; numbers, arrays and Series broadcast; a
choice is a word (or an array of words); a list is a sequence of numbers and goes with scalars only.

>>> import flowcomp as fc
>>> round(fc.methods.ctl60_petroleum_2004(rho60_kgm3=823.7, t_degf=27.7, group="crude"), 10)
1.0161603865
>>> fc.methods.ctl60_petroleum_2004(rho60_kgm3=823.7, t_degf=1000, group="crude")
Traceback (most recent call last):
    ...
flowcomp.errors.E_ABOVE: t_degf = 1000: an argument is above the valid range, limit 302
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np

from . import _flowcomp as _raw
from . import errors
from ._arrays import as_doubles, check_policy, chunks, column, index_of, is_scalar, like_input, piece, raise_refused

_NUMBER, _CHOICE, _LIST = _raw.FLC_ARGUMENT_NUMBER, _raw.FLC_ARGUMENT_CHOICE, _raw.FLC_ARGUMENT_LIST
_KINDS = {_NUMBER: "number", _CHOICE: "choice", _LIST: "list"}


@dataclass(frozen=True)
class ArgumentInfo:
    """One argument of a method: ``low`` and ``high`` are the valid range, ends included, in ``unit``."""

    name: str
    meaning: str
    unit: str
    kind: str
    optional: bool
    low: float
    high: float
    fallback: float
    choices: tuple[str, ...] | None

    def describe(self) -> str:
        """Unit, range or words, and what being left out means, as docstrings show it."""
        if self.choices is not None:
            text = " | ".join(repr(word) for word in self.choices)
        else:
            unit = "" if self.unit == "1" else f" {self.unit}"
            limits = math.isfinite(self.low) or math.isfinite(self.high)
            text = f"{self.low:.10g} to {self.high:.10g}{unit}" if limits else f"any number{unit}"
            text = f"sequence, each {text}" if self.kind == "list" else text
        if not self.optional:
            return text
        return f"{text}; optional" + ("" if math.isnan(self.fallback) else f", {self.fallback:.10g} where left out")


@dataclass(frozen=True)
class MethodInfo:
    """What a method takes, gives and rests on. ``status`` is "published", "from memory", "common practice" ..."""

    name: str
    summary: str
    formula: str
    unit: str
    source: str
    status: str
    confidence: str
    since: str
    arguments: tuple[ArgumentInfo, ...]

    def describe(self) -> str:
        """The docstring of the method's function."""
        lines = [f"{self.summary}.", "", f"    {self.formula}", "", "Arguments (numbers or arrays, by keyword):"]
        lines += [f"    {a.name}: {a.meaning} ({a.describe()})" for a in self.arguments]
        lines += ["    on_refused: 'raise', or 'nan' to get NaN where an input is refused", "",
                  f"Returns: float or array of the broadcast shape, unit {self.unit}", "",
                  f"Source: {self.source}", f"Status: {self.status}; {self.confidence}", f"Since: {self.since}"]
        return "\n".join(lines)


def _argument_info(argument: Any) -> ArgumentInfo:
    return ArgumentInfo(argument.name, argument.meaning, argument.unit, _KINDS[argument.kind], bool(argument.optional),
                        argument.low, argument.high, argument.fallback, argument.choices)


def _method_info(row: Any) -> MethodInfo:
    return MethodInfo(row.name, row.summary, row.formula, row.unit, row.source, _raw.flc_provenance_text(row.status),
                      row.confidence, row.since,
                      tuple(_argument_info(row.argument(place)) for place in range(row.argument_count)))


_NO_WORD = -1.0

# --- the call ---------------------------------------------------------------------------------------------------------

def _word_number(argument: ArgumentInfo, word: Any) -> float:
    choices = argument.choices or ()
    try:
        return float(choices.index(word))
    except ValueError:
        words = ", ".join(choices)
        raise errors.E_UNKNOWN_NAME(argument.name, message=f"{argument.name}: {word!r} is none of {words}") from None


def _words(argument: ArgumentInfo, value: Any) -> np.ndarray:
    """Choices as numbers: a word or an array of words."""
    words, places = np.unique(np.asarray(value, dtype=object).astype(str), return_inverse=True)
    numbers = np.array([_word_number(argument, str(word)) for word in words])
    return numbers[places].reshape(np.shape(value))


def _list(argument: ArgumentInfo, value: Any) -> np.ndarray:
    array = np.ascontiguousarray(as_doubles(value, argument.name))
    if array.ndim != 1:
        raise errors.E_COUNT(argument.name, message=f"{argument.name}: a sequence of numbers is needed")
    return array


def _absent(argument: ArgumentInfo) -> float:
    return _NO_WORD if argument.choices is not None else math.nan


def _call_arrays(row: Any, arguments: tuple[ArgumentInfo, ...], given: list[Any], raising: bool) -> Any:
    """The call over arrays: columns of one shape, in chunks."""
    if any(argument.kind == "list" for argument in arguments):
        raise TypeError(f"{row.name}() takes a list: its other arguments must be single numbers")
    index = index_of(given)
    arrays = []
    for argument, value in zip(arguments, given):
        if value is None:
            arrays.append(np.array(_absent(argument)))
        elif argument.choices is not None and type(value) is not float:
            arrays.append(_words(argument, value))
        else:
            arrays.append(as_doubles(value, argument.name))
    shape = np.broadcast_shapes(*(array.shape for array in arrays))
    columns = [column(array, shape) for array in arrays]
    size = math.prod(shape)
    result, status = np.empty(size), np.empty(size, dtype=np.uint8)
    refused = 0
    for part in chunks(size):
        pieces = tuple(piece(array, part) for array in columns)
        refused += _raw.flc_method_call_n(row, pieces, part.stop - part.start, result[part], status[part])
    if refused and raising:
        raise_refused(status, lambda place: _refusal(row, tuple(
            float(piece(array, slice(place, place + 1))[0]) for array in columns)))
    return like_input(result, shape, index, row.name)


def _refusal(row: Any, values: tuple[float, ...]) -> errors.FlowcompError:
    """The exception of one refused record."""
    try:
        _raw.flc_method_call(row, values)
    except errors.FlowcompError as error:
        return error
    raise errors.E_INTERNAL(row.name, message="a record refused in a batch passes alone")


def _with_names(names: tuple[str, ...], absent: dict[str, Any], places: dict[str, dict[str, float]],
                call: Callable[..., Any], otherwise: Callable[..., Any]) -> Callable[..., Any]:
    """The function of a row with its arguments by name. It is written out for the row, because then a call with plain
    numbers and words costs half: they go straight to the library, anything else goes to otherwise(on_refused, inputs)."""
    head = ", ".join(f"{name}=absent[{name!r}]" for name in names)
    words = "".join(f"    if type({name}) is str:\n        {name} = places[{name!r}].get({name}, {name})\n"
                    for name in places)
    plain = " and ".join(f"type({name}) is float" for name in names) or "True"
    given = ", ".join(f"{name!r}: {name}" for name in names)
    code = (f"def method(*, {head}, on_refused='raise', **unknown):\n{words}"
            f"    if {plain} and on_refused == 'raise' and not unknown:\n"
            f"        return call(({', '.join(names)},))\n"
            f"    return otherwise(on_refused, {{{given}, **unknown}})\n")
    scope = {"absent": absent, "places": places, "call": call, "otherwise": otherwise}
    exec(code, scope)  # of the library's own names alone
    return scope["method"]


def _make(row: Any) -> Callable[..., Any]:
    """The Python function of a method's row."""
    info = _method_info(row)
    arguments = info.arguments
    names = tuple(argument.name for argument in arguments)
    places = {argument.name: {word: float(i) for i, word in enumerate(argument.choices)}
              for argument in arguments if argument.choices is not None}
    absent = {argument.name: _absent(argument) if argument.optional else None for argument in arguments}
    call = partial(_raw.flc_method_call, row)

    def number_of(argument: ArgumentInfo, value: Any) -> Any:
        """One input as the library takes it; None where it is an array."""
        if value is None:
            if not argument.optional:
                raise errors.E_MISSING(argument.name)
            return _absent(argument)
        if type(value) is float:
            return value
        if argument.choices is not None and type(value) is str:
            return _word_number(argument, value)
        if argument.kind == "list":
            return _list(argument, value)
        return float(value) if argument.choices is None and is_scalar(value) and type(value) is not str else None

    def otherwise(on_refused: str, inputs: dict[str, Any]) -> Any:
        if not absent.keys() >= inputs.keys():
            unknown = ", ".join(sorted(inputs.keys() - absent.keys()))
            raise TypeError(f"{info.name}() takes {', '.join(names)}; not {unknown}")
        values = tuple(number_of(argument, inputs[argument.name]) for argument in arguments)
        raising = check_policy(on_refused)
        if any(value is None for value in values):
            given = [None if inputs[name] is absent[name] else inputs[name] for name in names]
            return _call_arrays(row, arguments, given, raising)
        try:
            return call(values)
        except errors.FlowcompError:
            if raising:
                raise
            return math.nan

    method = _with_names(names, absent, places, call, otherwise)
    method.__name__ = method.__qualname__ = info.name
    method.__module__ = __name__
    method.__doc__ = info.describe()
    method.__signature__ = _signature(arguments)  # type: ignore[attr-defined]
    return method


def _signature(arguments: tuple[ArgumentInfo, ...]) -> inspect.Signature:
    keyword = inspect.Parameter.KEYWORD_ONLY
    parameters = [inspect.Parameter(argument.name, keyword, default=None if argument.optional else keyword.empty)
                  if argument.optional else inspect.Parameter(argument.name, keyword) for argument in arguments]
    return inspect.Signature([*parameters, inspect.Parameter("on_refused", keyword, default="raise")])


# --- the list ---------------------------------------------------------------------------------------------------------

_rows: dict[str, Any] = {}
_analysis_loaded = False


def _load_analysis_rows() -> None:
    """Methods that rest on GSL; their library is loaded when one of them is asked for."""
    global _analysis_loaded
    if not _analysis_loaded:
        from . import _analysis
        for place in range(_analysis.flc_analysis_method_count()):
            row = _analysis.flc_analysis_method_at(place)
            _rows[row.name] = row
        _analysis_loaded = True


def _row(name: str) -> Any:
    row = _rows.get(name) or _raw.flc_method_find(name)
    if row is None and not name.startswith("_"):
        _load_analysis_rows()
        row = _rows.get(name)
    return row


def method_names() -> list[str]:
    """Names of all methods, in the order of a calculation; those of the analysis library last."""
    _load_analysis_rows()
    names = [_raw.flc_method_at(place).name for place in range(_raw.flc_method_count())]
    return names + [name for name in _rows if name not in names]


def method_info(name: str) -> MethodInfo:
    """What a method takes, gives and rests on.

    >>> import flowcomp as fc
    >>> info = fc.method_info("student_t")
    >>> info.summary, info.unit, [argument.name for argument in info.arguments]
    ("Student's two-sided factor", '1', ['probability', 'nu'])
    """
    row = _row(name)
    if row is None:
        raise errors.E_UNKNOWN_NAME("name", message=f"there is no method {name!r}; see flowcomp.method_names()")
    return _method_info(row)


def __getattr__(name: str) -> Callable[..., Any]:
    row = None if name.startswith("__") else _row(name)
    if row is None:
        raise AttributeError(f"module {__name__!r} has no method {name!r}; see flowcomp.method_names()")
    globals()[name] = _make(row)
    return globals()[name]


def __dir__() -> list[str]:
    return method_names()
