# SPDX-License-Identifier: Apache-2.0
"""Arrays: no copies, any split gives the same bits, Ctrl-C is honoured, threads run, pandas keeps its index."""

from __future__ import annotations

import os
import signal
import threading
from typing import Any

import flowcomp as fc
import numpy as np
import pandas as pd
import pytest
from flowcomp import _arrays
from flowcomp import _flowcomp as raw
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

N = 1000
CTL = fc.methods.ctl60_petroleum_2004


@pytest.fixture
def many() -> dict[str, Any]:
    """A thousand readings; some outside the curve, some not readable."""
    random = np.random.default_rng(20240501)
    pulses = np.floor(random.uniform(0, 4e6, N))
    pulses[::50] = 0.5
    pulses[7] = 0.0
    return {"pulses": pulses, "duration_s": 3600.0, "t_degc": random.uniform(-30, 50, N),
            "p_kpag": random.uniform(-10, 900, N), "rho_base_kgm3": random.uniform(780, 830, N)}


def all_bytes(results: fc.Results) -> bytes:
    return b"".join(np.ascontiguousarray(results[name]).tobytes() for name in results.keys()) + \
        np.asarray(results.status).tobytes() + np.asarray(results.flags).tobytes()


# --- the same bits ----------------------------------------------------------------------------------------------------

def test_many_records_have_the_bits_of_single_ones(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, Any]) -> None:
    together = meter.evaluate(liquid, **many, on_refused="nan")
    assert set(together.status_names) >= {"OK", "E_NOT_WHOLE", "E_BELOW_CURVE", "E_ABOVE_CURVE", "E_NEGATIVE_PRESSURE",
                                          "E_BELOW_VISCOSITY_RANGE", "E_ABOVE_VISCOSITY_RANGE"}
    for place in range(N):
        one = meter.evaluate(liquid, **{name: float(np.broadcast_to(values, N)[place])
                                        for name, values in many.items()}, on_refused="nan")
        assert (one.status, one.flags) == (together.status[place], together.flags[place])
        assert np.array([one[name] for name in one.keys()]).tobytes() == \
            np.array([together[name][place] for name in together.keys()]).tobytes()


@pytest.mark.parametrize("size", [1, 7, 333, 999, 1000, 65_536])
def test_any_split_gives_the_same_bits(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, Any], size: int,
                                       monkeypatch: pytest.MonkeyPatch) -> None:
    whole, whole_totals = None, fc.Totals()
    whole = all_bytes(meter.evaluate(liquid, **many, on_refused="nan", totals=whole_totals))
    monkeypatch.setattr(_arrays, "CHUNK", size)
    totals = fc.Totals()
    assert all_bytes(meter.evaluate(liquid, **many, on_refused="nan", totals=totals)) == whole
    assert totals.to_dict() == whole_totals.to_dict()
    t = many["t_degc"] + 40
    split = CTL(rho60_kgm3=800.0, t_degf=t, group="crude")
    monkeypatch.undo()
    assert split.tobytes() == CTL(rho60_kgm3=800.0, t_degf=t, group="crude").tobytes()


@settings(max_examples=60, deadline=None)
@given(hnp.mutually_broadcastable_shapes(num_shapes=3, max_dims=3, max_side=5), st.randoms(use_true_random=False))
def test_broadcasting_is_numpys(shapes: Any, random: Any) -> None:
    rho, t, p = (np.array([random.uniform(low, high) for _ in range(int(np.prod(shape)))]).reshape(shape)
                 for shape, (low, high) in zip(shapes.input_shapes, [(800, 900), (0, 200), (0, 1000)]))
    together = fc.methods.ctpl60_petroleum_2004(rho60_kgm3=rho, t_degf=t, p_psig=p, group="crude")
    expected = np.vectorize(lambda *x: fc.methods.ctpl60_petroleum_2004(
        rho60_kgm3=float(x[0]), t_degf=float(x[1]), p_psig=float(x[2]), group="crude"), otypes=[float])(rho, t, p)
    assert np.shape(together) == shapes.result_shape
    assert np.asarray(together).tobytes() == expected.tobytes()


@pytest.mark.parametrize("make", [
    lambda x: x[::-1], lambda x: x[::3], lambda x: np.asfortranarray(np.stack([x, x])), lambda x: x.tolist(),
    lambda x: np.stack([x, x + 1])[:, 5], lambda x: x.astype(">f8"), lambda x: x.astype(np.float32).astype(float),
    lambda x: np.broadcast_to(x[:1], (4, 3)), lambda x: x[:0], lambda x: x[:1], lambda x: pd.Series(x).array,
], ids=["reversed", "strided", "fortran", "list", "column", "big-endian", "float32", "broadcast", "empty", "one",
        "extension"])
def test_every_layout_of_memory(make: Any) -> None:
    x = make(np.linspace(-40, 300, 100))
    values = np.asarray(x, dtype=float)
    expected = np.array([CTL(rho60_kgm3=800.0, t_degf=v, group="crude") for v in values.ravel().tolist()])
    together = CTL(rho60_kgm3=800.0, t_degf=x, group="crude")
    assert together.shape == values.shape and together.tobytes() == expected.tobytes()


# --- no copies, no waiting --------------------------------------------------------------------------------------------

def address(array: np.ndarray) -> int:
    return array.__array_interface__["data"][0]


def test_columns_are_read_where_they_lie(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, Any],
                                         monkeypatch: pytest.MonkeyPatch) -> None:
    seen = []
    original = raw.flc_meter_evaluate_n
    monkeypatch.setattr(raw, "flc_meter_evaluate_n",
                        lambda *arguments: seen.append(arguments[2]) or original(*arguments))
    table = np.empty((N, 2))
    table[:, 0] = many["t_degc"]
    meter.evaluate(liquid, **(many | {"t_degc": table[:, 0]}), on_refused="nan")
    columns = dict(zip(fc.READING_NAMES, seen[0]))
    assert address(columns["pulses"]) == address(many["pulses"])
    assert address(columns["rho_base_kgm3"]) == address(many["rho_base_kgm3"])
    assert address(columns["t_degc"]) == address(table) and columns["t_degc"].strides == (16,)
    assert columns["duration_s"].size == 1 and columns["nu_mm2s"] is None


def test_methods_read_columns_where_they_lie(monkeypatch: pytest.MonkeyPatch) -> None:
    seen = []
    original = raw.flc_method_call_n
    monkeypatch.setattr(raw, "flc_method_call_n", lambda *arguments: seen.append(arguments[1]) or original(*arguments))
    t = np.linspace(0, 100, 50)
    CTL(rho60_kgm3=800.0, t_degf=t.reshape(5, 10), group="crude")
    assert address(seen[0][1]) == address(t)
    series = pd.Series(t, dtype=float)
    CTL(rho60_kgm3=800.0, t_degf=series, group="crude")
    assert address(seen[1][1]) == address(series.to_numpy())


def test_only_the_outputs_asked_for_are_made(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, Any]) -> None:
    results = meter.evaluate(liquid, **many, on_refused="nan", outputs=["v_m3", "ro"])
    assert results.keys() == ["ro", "v_m3"]
    whole = meter.evaluate(liquid, **many, on_refused="nan")
    assert results.v_m3.tobytes() == whole.v_m3.tobytes()
    with pytest.raises(AttributeError, match="not among the outputs"):
        results.st
    with pytest.raises(AttributeError, match="no column 'volume'"):
        results.volume
    with pytest.raises(KeyError):
        results["st"]
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="v_litres"):
        meter.evaluate(liquid, **many, outputs=["v_litres"])


def test_results_are_written_over(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, Any]) -> None:
    expected = meter.evaluate(liquid, **many, on_refused="nan")
    out = meter.evaluate(liquid, **many, on_refused="nan", outputs=["v_m3"])
    memory = out.v_m3.ctypes.data
    out.v_m3[:] = 0.0
    assert meter.evaluate(liquid, **many, on_refused="nan", out=out) is out
    assert out.v_m3.ctypes.data == memory and out.keys() == ["v_m3"]
    assert out.v_m3.tobytes() == expected.v_m3.tobytes() and out.flags.tobytes() == expected.flags.tobytes()
    fewer = {name: column[:5] if isinstance(column, np.ndarray) else column for name, column in many.items()}
    with pytest.raises(fc.errors.E_COUNT, match="out holds"):
        meter.evaluate(liquid, **fewer, on_refused="nan", out=out)
    with pytest.raises(fc.errors.E_CONFLICT, match="not both"):
        meter.evaluate(liquid, **many, out=out, outputs=["v_m3"])


@pytest.mark.parametrize("threads", [1, 2, 16])
def test_any_number_of_threads_gives_the_same_bits(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, Any],
                                                   threads: int, monkeypatch: pytest.MonkeyPatch) -> None:
    expected, totals, sums = meter.evaluate(liquid, **many, on_refused="nan"), fc.Totals(), fc.Totals()
    meter.evaluate(liquid, **many, on_refused="nan", totals=totals)
    monkeypatch.setattr("flowcomp.meter.THREAD_CHUNK", 7)
    got = meter.evaluate(liquid, **many, on_refused="nan", totals=sums, threads=threads)
    assert all_bytes(got) == all_bytes(expected)
    assert sums.to_bytes() == totals.to_bytes()
    with pytest.raises(fc.errors.E_BELOW, match="threads"):
        meter.evaluate(liquid, **many, threads=0)


def test_ctrl_c_ends_a_long_evaluation(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, Any],
                                       monkeypatch: pytest.MonkeyPatch) -> None:
    calls = []
    original = raw.flc_meter_evaluate_n

    def interrupted(*arguments: Any) -> Any:
        calls.append(1)
        os.kill(os.getpid(), signal.SIGINT)
        return original(*arguments)

    monkeypatch.setattr(_arrays, "CHUNK", 10)
    monkeypatch.setattr(raw, "flc_meter_evaluate_n", interrupted)
    totals = fc.Totals()
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # a job in the background starts without one
    try:
        with pytest.raises(KeyboardInterrupt):
            meter.evaluate(liquid, **many, on_refused="nan", totals=totals)
    finally:
        signal.signal(signal.SIGINT, before)
    assert len(calls) <= 2 and totals.records == 0


def test_other_threads_run_meanwhile() -> None:
    t = np.linspace(-40, 300, 2_000_000)
    result, status = np.empty_like(t), np.empty(t.size, dtype=np.uint8)
    row = raw.flc_method_find("ctl60_petroleum_2004")
    columns = (np.array([800.0]), t, np.array([0.0]), np.array([np.nan]))
    count, stop = [0], threading.Event()

    def counting() -> None:
        while not stop.is_set():
            count[0] += 1

    thread = threading.Thread(target=counting)
    thread.start()
    before = count[0]
    raw.flc_method_call_n(row, columns, t.size, result, status)  # one call of the library, without a pause for Python
    after = count[0]
    stop.set()
    thread.join()
    assert after - before > 1000


def test_threads_share_a_meter(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, Any]) -> None:
    expected = all_bytes(meter.evaluate(liquid, **many, on_refused="nan"))
    found: list[bytes] = []
    threads = [threading.Thread(target=lambda: found.append(all_bytes(
        meter.evaluate(liquid, **many, on_refused="nan")))) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == [expected] * 8


# --- pandas -----------------------------------------------------------------------------------------------------------

def test_series_keep_their_index() -> None:
    index = pd.date_range("2024-05-01", periods=3, freq="h", tz="Europe/Berlin")
    t = pd.Series([15.0, None, 25.0], index=index)
    result = fc.methods.t90_minus_t68_its90(t_degc=t, on_refused="nan")
    assert isinstance(result, pd.Series) and result.index.equals(index)
    assert result.isna().tolist() == [False, True, False]
    assert fc.convert(t, "degC", "degF").index.equals(index)
    assert np.isnan(fc.convert(t, "degC", "degF").iloc[1])
    with pytest.raises(fc.errors.E_CONFLICT, match="different indexes"):
        CTL(rho60_kgm3=pd.Series([800.0] * 3, index=index[::-1]), t_degf=t, group="crude")


@pytest.mark.parametrize("dtype", ["float64", "Float64", "float64[pyarrow]", "int64", "Int64", "float32"])
def test_columns_of_every_kind(dtype: str) -> None:
    series = pd.Series([60, 70, 80]).astype(dtype)
    expected = CTL(rho60_kgm3=800.0, t_degf=[60.0, 70.0, 80.0], group="crude")
    result = CTL(rho60_kgm3=800.0, t_degf=series, group="crude")
    assert result.to_numpy().tobytes() == expected.tobytes()
    if dtype in ("Float64", "Int64", "float64[pyarrow]"):
        missing = CTL(rho60_kgm3=800.0, t_degf=series.where(series != 70), group="crude", on_refused="nan")
        assert missing.isna().tolist() == [False, True, False]


def test_a_frame_gives_a_frame(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, Any]) -> None:
    frame = pd.DataFrame({name: values for name, values in many.items() if name != "duration_s"},
                         index=pd.RangeIndex(5000, 5000 + N)).assign(remark="not looked at")
    result = meter.evaluate(liquid, frame, duration_s=3600.0, on_refused="nan")
    plain = meter.evaluate(liquid, **many, on_refused="nan")
    assert result.index.equals(frame.index)
    assert list(result.columns) == [*plain.keys(), "flags", "status"]
    assert result["v_base_m3"].to_numpy().tobytes() == plain.v_base_m3.tobytes()
    assert result["status"].tolist() == plain.status_names.tolist()
    frame_of_results = plain.to_frame(frame.index)
    pd.testing.assert_frame_equal(result, frame_of_results)


def test_pandas_is_not_needed_for_arrays() -> None:
    import subprocess
    import sys
    code = ("import sys, numpy as np, flowcomp as fc\n"
            "fc.methods.t90_minus_t68_its90(t_degc=np.arange(3.0))\n"
            "print(sorted(m for m in ('pandas', 'pyarrow', 'matplotlib', 'typer', 'rich', 'flowcomp._analysis',"
            " 'flowcomp._records', 'flowcomp.selfcheck') if m in sys.modules))")
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"
