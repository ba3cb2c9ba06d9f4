# SPDX-License-Identifier: Apache-2.0
"""The meter: body and curve together; records evaluated."""

from __future__ import annotations

import math
import os
from collections.abc import Iterable
from typing import Any

import numpy as np

from . import _flowcomp as _raw
from . import _records_files as _files
from . import errors
from ._arrays import as_doubles, check_policy, chunks, column, index_of, is_scalar, piece, raise_refused
from ._immutable import Immutable
from ._words import choice, words_of_enum
from .arrow_tables import evaluate_table, is_arrow
from .body import Body
from .curve import Curve
from .explanation import Explanation
from .liquid import Liquid
from .results import NAMES, Results
from .totals import Totals


def _reading_names() -> tuple[str, ...]:
    names: list[str] = []
    while (name := _raw.reading_name(len(names))) is not None:
        names.append(name)
    return tuple(names)


READING_NAMES = _reading_names()
_NO_OUTPUT = (None,) * len(NAMES)


class Meter(Immutable):
    """A meter; immutable: name, body, curve, below, above and cutoff_hz are read only.

    :param name: tag of the meter, up to 47 bytes
    :param body: its body
    :param curve: its calibration
    :param below, above: policy outside the curve: "refuse", "hold_end" or "extend_slope"; the last two are flagged
    :param cutoff_hz: windows under this mean frequency count pulses only; 0 is off
    """

    __slots__ = ("_raw", "body", "curve", "_options")

    def __init__(self, name: str, body: Body, curve: Curve, *, below: str = "refuse", above: str = "refuse",
                 cutoff_hz: float = 0.0) -> None:
        options = _raw.flc_meter_options()
        _raw.flc_meter_options_init(options)
        options.below = choice("below", below, _raw.flc_curve_beyond_from_name)
        options.above = choice("above", above, _raw.flc_curve_beyond_from_name)
        options.cutoff_hz = float(cutoff_hz)
        self._set(_raw.make_meter(options, name, body._raw, curve._raw))

    def _set(self, raw: Any) -> None:
        options, body = _raw.flc_meter_options(), _raw.flc_body_options()
        curve = _raw.flc_meter_describe(raw, options, body)
        self._fix(_raw=raw, _options=options, body=Body._of_raw(body), curve=Curve(curve, owner=raw))

    def __reduce__(self) -> tuple[Any, ...]:
        return Meter.from_json, (self.to_json(),)

    @property
    def name(self) -> str:
        """Tag of the meter."""
        return self._options.name

    @property
    def below(self) -> str:
        """Policy under the curve."""
        return words_of_enum("FLC_BEYOND_", _raw.flc_curve_beyond_from_name)[self._options.below]

    @property
    def above(self) -> str:
        """Policy over the curve."""
        return words_of_enum("FLC_BEYOND_", _raw.flc_curve_beyond_from_name)[self._options.above]

    @property
    def cutoff_hz(self) -> float:
        """Low-flow cut-off, Hz; 0 is off."""
        return self._options.cutoff_hz

    # --- evaluating ---------------------------------------------------------------------------------------------------

    def evaluate(self, liquid: Liquid, frame: Any = None, *, on_refused: str = "raise",
                 outputs: Iterable[str] | None = None, totals: Totals | None = None, **reading: Any) -> Any:
        """Evaluate one record (numbers) or many (arrays or pandas columns, broadcast; or an Arrow table).

        A reading is a window (pulses with duration_s) or a frequency (f_hz alone), with t_degc, p_kpag and a density:

        :param pulses: pulses in the window, whole; negative for reverse flow
        :param duration_s: length of the window, s
        :param flowing_s: seconds of it with flow, where known
        :param f_flowing_hz: or the mean frequency while flowing, where known, Hz
        :param f_hz: a frequency instead of a window, Hz
        :param t_degc, p_kpag: temperature (degC) and gauge pressure (kPa) at the meter
        :param rho_base_kgm3: density at the liquid's base, kg/m3; or observed:
        :param rho_observed_kgm3, t_observed_degc, p_observed_kpag, densitometer_factor: density as read, its
            temperature and pressure, and the factor that multiplies it
        :param nu_mm2s: measured viscosity at t_degc, for a liquid declared so, mm2/s
        :param f_before_hz, f_after_hz: mean frequency of the windows before and after, where known (0: no flow), Hz
        :param f_highest_hz: highest frequency the meter runs at here, where declared; it ends the bound for partial flow
        :param frame: a pandas DataFrame whose columns have these names; other columns of it are not looked at. Or an
            Arrow table (pyarrow, polars, DuckDB: anything with ``__arrow_c_array__`` or ``__arrow_c_stream__``) of
            float64 columns with these names and no others, a null being an absent value; further readings are then
            numbers for all rows. It is read where it lies, batch by batch
        :param on_refused: "raise" one exception that says how many records were refused and why, or "nan"
        :param outputs: names of the columns wanted; all where left out
        :param totals: every record is added to it; nothing is where an exception is raised
        :return: Results of numbers or of arrays of the broadcast shape; a DataFrame with the same index where the
            inputs are pandas columns; a ResultTable where they are an Arrow table
        """
        raising = check_policy(on_refused)
        if frame is not None and is_arrow(frame):
            if unknown := reading.keys() - set(READING_NAMES):
                raise TypeError(f"evaluate() takes {', '.join(READING_NAMES)}; not {', '.join(sorted(unknown))}")
            return evaluate_table(self, liquid, frame, reading, READING_NAMES, _named(outputs), totals, raising)
        if frame is not None:
            reading = {**{name: frame[name] for name in READING_NAMES if name in frame.columns}, **reading}
        values = tuple(reading.pop(name, None) for name in READING_NAMES)
        if reading:
            raise TypeError(f"evaluate() takes {', '.join(READING_NAMES)}; not {', '.join(sorted(reading))}")
        names = _named(outputs)
        wanted = _NO_OUTPUT if names is None else tuple(name in names for name in NAMES)
        if totals is None and all(map(is_scalar, values)):
            return self._evaluate_one(liquid, values, wanted, raising)
        return self._evaluate_many(liquid, values, wanted, raising, totals)

    def _evaluate_one(self, liquid: Liquid, values: tuple[Any, ...], wanted: tuple[Any, ...], raising: bool) -> Results:
        status, fields, detail = _raw.flc_meter_evaluate(self._raw, liquid._raw, values)
        if status and raising:
            raise errors.of_status(status, *(detail or ()))
        if wanted is not _NO_OUTPUT:
            fields = (fields[0], *(field if want else None for field, want in zip(fields[1:], wanted)))
        return Results(fields[1:], fields[0], status)

    def _evaluate_many(self, liquid: Liquid, values: tuple[Any, ...], wanted: tuple[Any, ...], raising: bool,
                       totals: Totals | None) -> Any:
        index = index_of(values)
        arrays = [None if value is None else as_doubles(value, name) for name, value in zip(READING_NAMES, values)]
        shape = np.broadcast_shapes(*(array.shape for array in arrays if array is not None))
        columns = [None if array is None else column(array, shape) for array in arrays]
        size = math.prod(shape)
        status, flags = np.empty(size, dtype=np.uint8), np.empty(size, dtype=np.uint32)
        out = [np.empty(size) if want or wanted is _NO_OUTPUT else None for want in wanted]
        sums = None if totals is None else Totals(totals.unit_m3)
        refused = 0
        for part in chunks(size):
            inputs = tuple(None if array is None else piece(array, part) for array in columns)
            results = (status[part], flags[part], *(None if array is None else array[part] for array in out))
            refused += _raw.flc_meter_evaluate_n(self._raw, liquid._raw, inputs, part.stop - part.start, results,
                                                 None if sums is None else sums._raw)
        if refused and raising:
            raise_refused(status, lambda place: self._refusal(liquid, columns, place))
        if totals is not None:
            totals.merge(sums)
        if index is not None:
            return Results(tuple(out), flags, status).to_frame(index)
        if shape == ():
            return Results(tuple(None if array is None else float(array[0]) for array in out), int(flags[0]),
                           int(status[0]))
        return Results(tuple(None if array is None else array.reshape(shape) for array in out),
                       flags.reshape(shape), status.reshape(shape))

    def _refusal(self, liquid: Liquid, columns: list[np.ndarray | None], place: int) -> errors.FlowcompError:
        """The exception of one refused record of many."""
        record = tuple(None if array is None else float(piece(array, slice(place, place + 1))[0]) for array in columns)
        status, _, detail = _raw.flc_meter_evaluate(self._raw, liquid._raw, record)
        return errors.of_status(status, *(detail or ()))

    def explain(self, liquid: Liquid, **reading: Any) -> Explanation:
        """The steps of one evaluation; a reading as for evaluate, numbers only. A refused record does not raise: its
        explanation ends at the step that failed and holds the error."""
        values = tuple(reading.pop(name, None) for name in READING_NAMES)
        if reading:
            raise TypeError(f"explain() takes {', '.join(READING_NAMES)}; not {', '.join(sorted(reading))}")
        return Explanation(self._raw, liquid._raw, values)

    # --- files --------------------------------------------------------------------------------------------------------

    @property
    def hash(self) -> str:
        """SHA-256 of the meter's canonical bytes, 64 hexadecimal digits."""
        return _files.hash_of("meter", self._raw)

    def to_json(self) -> str:
        """The meter file as text."""
        return _files.to_json("meter", self._raw)

    @classmethod
    def from_json(cls, text: str | bytes) -> Meter:
        """A meter from the text of a meter file."""
        meter = cls.__new__(cls)
        meter._set(_files.from_json("meter", text))
        return meter

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write a meter file."""
        _files.save("meter", self._raw, path)

    @classmethod
    def load(cls, path: str | os.PathLike[str]) -> Meter:
        """Read a meter file; one that was damaged or edited is refused."""
        meter = cls.__new__(cls)
        meter._set(_files.load("meter", path))
        return meter

    def __repr__(self) -> str:
        cutoff = f", cut-off {self.cutoff_hz:.6g} Hz" if self.cutoff_hz else ""
        return f"Meter({self.name!r}, below {self.below}, above {self.above}{cutoff}, {self.curve!r}, {self.body!r})"


def _named(outputs: Iterable[str] | None) -> tuple[str, ...] | None:
    """Names of the columns wanted, each once; None for all."""
    if outputs is None:
        return None
    names = tuple(dict.fromkeys([outputs] if isinstance(outputs, str) else outputs))
    if unknown := set(names).difference(NAMES):
        raise errors.E_UNKNOWN_NAME("outputs", message=f"outputs: no column {', '.join(sorted(unknown))}; there are "
                                                       f"{', '.join(NAMES)}")
    return names
