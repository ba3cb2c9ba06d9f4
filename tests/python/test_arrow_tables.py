# SPDX-License-Identifier: Apache-2.0
"""Arrow tables in and out by the PyCapsule protocol: the bits of the NumPy path, no copies, each release once. The
peers are optional: a test of one that is not installed says so and is skipped."""

from __future__ import annotations

import gc
import importlib
import subprocess
import sys
import threading
from typing import Any

import flowcomp as fc
import numpy as np
import pytest
from arrow_probe import Counted, addresses, stream_of
from flowcomp import _flowcomp as raw

N = 3000
COLUMNS = [column.name for column in fc.COLUMNS]


def peer(name: str) -> Any:
    return pytest.importorskip(name, reason=f"{name} is not installed")


@pytest.fixture
def many() -> dict[str, np.ndarray]:
    """Three thousand readings; some outside the curve, some not readable."""
    random = np.random.default_rng(20240511)
    pulses = np.floor(random.uniform(0, 4e6, N))
    pulses[::50] = 0.5
    pulses[7] = 0.0
    return {"pulses": pulses, "duration_s": np.full(N, 3600.0), "t_degc": random.uniform(-30, 50, N),
            "p_kpag": random.uniform(-10, 900, N), "rho_base_kgm3": random.uniform(780, 830, N)}


def some_missing(many: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    with_nan = {name: values.copy() for name, values in many.items()}
    for start, values in enumerate(with_nan.values()):
        values[start::13] = np.nan
    return with_nan


def all_bytes(results: fc.Results) -> list[bytes]:
    return [results[name].tobytes() for name in COLUMNS] + [results.flags.tobytes(), results.status.tobytes()]


def bytes_of(results: fc.ResultTable) -> list[bytes]:
    table = peer("pyarrow").table(results)
    assert table.column_names == [*COLUMNS, "flags", "status"] and len(results) == table.num_rows
    return [column.to_numpy().tobytes() for column in table.columns]


# --- the same bits ----------------------------------------------------------------------------------------------------

def from_numpy(columns: dict[str, np.ndarray]) -> Any:
    pa = peer("pyarrow")
    return pa.table({name: pa.array(values, from_pandas=True) for name, values in columns.items()})


def in_chunks(columns: dict[str, np.ndarray]) -> Any:
    """Each column in chunks of its own lengths, some empty."""
    pa = peer("pyarrow")
    cuts = {name: [0, 0, 100 * i + 1, 1000 + i, 1000 + i, N] for i, name in enumerate(columns)}
    return pa.table({name: pa.chunked_array([pa.array(values[a:b], from_pandas=True)
                                             for a, b in zip(cuts[name], cuts[name][1:])], type=pa.float64())
                     for name, values in columns.items()})


def sliced(columns: dict[str, np.ndarray]) -> Any:
    pa = peer("pyarrow")
    longer = {name: pa.array(np.concatenate([[1.0, np.nan] * 7, values, [np.nan]]), from_pandas=True)
              for name, values in columns.items()}
    return pa.table(longer).slice(14, N)


def struct_array(columns: dict[str, np.ndarray]) -> Any:
    return from_numpy(columns).to_struct_array().combine_chunks()


def sliced_struct(columns: dict[str, np.ndarray]) -> Any:
    """A struct array with an offset of its own over children with others."""
    pa = peer("pyarrow")
    table = from_numpy({name: np.concatenate([[np.nan] * 5, values]) for name, values in columns.items()})
    children = [column.combine_chunks().slice(2) for column in table.columns]
    return pa.StructArray.from_arrays(children, names=table.column_names).slice(3)


def reader(columns: dict[str, np.ndarray]) -> Any:
    table = from_numpy(columns)
    return peer("pyarrow").RecordBatchReader.from_batches(table.schema, iter(table.to_batches(max_chunksize=777)))


def polars_frame(columns: dict[str, np.ndarray]) -> Any:
    return peer("polars").from_numpy(np.stack(list(columns.values()), axis=1), schema=list(columns)).fill_nan(None)


def polars_pieces(columns: dict[str, np.ndarray]) -> Any:
    frame = polars_frame(columns)
    return peer("polars").concat([frame[:11], frame[11:1600], frame[1600:]], rechunk=False)


def polars_slice(columns: dict[str, np.ndarray]) -> Any:
    return polars_frame({name: np.concatenate([[1.0] * 9, values, [2.0]]) for name, values in columns.items()})[9:-1]


def duckdb_relation(columns: dict[str, np.ndarray]) -> Any:
    duckdb, table = peer("duckdb"), from_numpy(columns)
    return duckdb.connect().from_arrow(table)


def pandas_through_arrow(columns: dict[str, np.ndarray]) -> Any:
    return peer("pyarrow").table(peer("pandas").DataFrame(columns))


MAKERS = [from_numpy, in_chunks, sliced, struct_array, sliced_struct, reader, polars_frame, polars_pieces, polars_slice,
          duckdb_relation, pandas_through_arrow]


@pytest.mark.parametrize("missing", [False, True], ids=["whole", "nulls"])
@pytest.mark.parametrize("make", MAKERS, ids=lambda make: make.__name__)
def test_bits_of_the_numpy_path(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray], make: Any,
                                missing: bool) -> None:
    columns = some_missing(many) if missing else many
    expected, totals, arrow_totals = None, fc.Totals(), fc.Totals()
    expected = meter.evaluate(liquid, **columns, on_refused="nan", totals=totals)
    results = meter.evaluate(liquid, make(columns), on_refused="nan", totals=arrow_totals)
    assert bytes_of(results) == all_bytes(expected)
    assert results.refused == np.count_nonzero(expected.status) > N // 10
    assert arrow_totals.to_dict() == totals.to_dict()


def test_pandas_frames_keep_their_index(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    pandas = peer("pandas")
    frame = pandas.DataFrame(many, index=pandas.RangeIndex(5, 5 + N))
    results = meter.evaluate(liquid, frame, on_refused="nan")
    assert isinstance(results, pandas.DataFrame) and results.index.equals(frame.index)
    arrow = meter.evaluate(liquid, from_numpy(many), on_refused="nan")
    assert results["v_m3"].to_numpy().tobytes() == bytes_of(arrow)[COLUMNS.index("v_m3")]


def test_constants_stand_for_all_rows(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    expected = meter.evaluate(liquid, **many, on_refused="nan")
    rest = {name: values for name, values in many.items() if name != "duration_s"}
    results = meter.evaluate(liquid, from_numpy(rest), duration_s=3600, densitometer_factor=1.0, flowing_s=None,
                             on_refused="nan")
    assert bytes_of(results) == all_bytes(expected)


def test_outputs_are_those_asked_for(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    pa = peer("pyarrow")
    table = from_numpy(many)
    one = meter.evaluate(liquid, table, outputs=["v_base_m3", "st", "st"], on_refused="nan")
    schema = pa.table(one).schema
    assert schema.names == ["v_base_m3", "st", "flags", "status"]
    assert schema.types == [pa.float64(), pa.float64(), pa.uint32(), pa.uint8()]
    assert pa.schema(one) == schema and "v_base_m3, st, flags, status" in repr(one)
    assert pa.table(meter.evaluate(liquid, table, outputs=[], on_refused="nan")).column_names == ["flags", "status"]


def test_empty_tables(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    pa = peer("pyarrow")
    table = from_numpy(many)
    for empty in (table.slice(0, 0), table.schema.empty_table(), table.slice(0, 0).to_struct_array().combine_chunks(),
                  pa.RecordBatchReader.from_batches(table.schema, [])):
        results = meter.evaluate(liquid, empty)
        assert len(results) == results.refused == 0
        assert pa.table(results).column_names == [*COLUMNS, "flags", "status"]


# --- who takes the results --------------------------------------------------------------------------------------------

def test_peers_take_the_results(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    expected = meter.evaluate(liquid, **many, on_refused="nan")
    table, batch = (meter.evaluate(liquid, given, on_refused="nan") for given in (in_chunks(many), Counted(**many)))
    assert isinstance(batch, fc.ResultBatch) and not hasattr(table, "__arrow_c_array__")
    good = expected.status == 0
    for results in (table, batch):
        for _ in range(2):  # as often as one likes
            frame = peer("polars").DataFrame(results)
            assert frame["v_m3"].to_numpy().tobytes() == expected.v_m3.tobytes()
            assert frame["status"].to_numpy().tobytes() == expected.status.tobytes()
            assert frame["v_m3"].null_count() == 0
        counted, volume = peer("duckdb").sql(
            "select count(*), sum(v_base_m3) from results where status = 0").fetchall()[0]
        assert counted == np.count_nonzero(good)
        assert volume == pytest.approx(expected.v_base_m3[good].sum(), rel=1e-12)
        taken = peer("pandas").DataFrame.from_arrow(results) if hasattr(peer("pandas").DataFrame, "from_arrow") else \
            peer("pyarrow").table(results).to_pandas()
        assert taken["k_per_m3"].to_numpy().tobytes() == expected.k_per_m3.tobytes()
    assert peer("pyarrow").record_batch(batch).num_rows == N


def test_a_sum_over_refused_rows_is_not_a_number(meter: fc.Meter, liquid: fc.Liquid,
                                                 many: dict[str, np.ndarray]) -> None:
    frame = peer("polars").DataFrame(meter.evaluate(liquid, from_numpy(many), on_refused="nan"))
    assert np.isnan(frame["v_m3"].sum())


def test_no_peer_is_needed(tmp_path: Any) -> None:
    """A table of a program without pyarrow: here, of the C interface alone."""
    script = """
import sys
for name in ("pyarrow", "polars", "pandas", "duckdb"):
    sys.modules[name] = None
import numpy as np, flowcomp as fc
from arrow_probe import Counted, addresses
steel = fc.Metal.mean(16e-6, -50, 150, modulus_gpa=193, poisson=0.3, source="invented")
body = fc.Body(bore_m=0.05, t0_degc=20, housing=steel, end="lame_closed", wall_m=0.0055)
curve = fc.Curve.from_knots(convention="dimensionless", treatment="as_run", d0_m=0.05, t0_degc=20, ln_ro=[9.0, 14.0],
                            st=[2.5, 2.5], coefficients=[[2.5, 0.0, 0.0, 0.0]])
liquid = fc.Liquid.measured("oil", volume="none", u_nu_relative=0.01)
rows = Counted(f_hz=np.array([100.0, 200.0]), nu_mm2s=np.array([2.0, 2.0]))
results = fc.Meter("invented", body, curve).evaluate(liquid, rows, t_degc=20.0, p_kpag=0.0, outputs=["q_m3s"])
schema, array = results.__arrow_c_array__()
print(len(results), results.refused, len(addresses(array)))
"""
    support = str(tmp_path.__class__(__file__).resolve().parents[1] / "support")
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, env={"PYTHONPATH": support})
    assert ran.stdout == "2 0 3\n", ran.stderr


# --- no copies, no leaks ----------------------------------------------------------------------------------------------

def test_readings_are_read_where_they_lie(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray],
                                          monkeypatch: pytest.MonkeyPatch) -> None:
    """The call of the library gets the producer's own memory; that it reads there is shown by the C tests."""
    seen: list[list[int]] = []
    original = raw.flc_meter_evaluate_arrow

    def look(*arguments: Any) -> Any:
        seen.append(addresses(arguments[3]))
        return original(*arguments)

    monkeypatch.setattr(raw, "flc_meter_evaluate_arrow", look)
    meter.evaluate(liquid, Counted(**many), on_refused="nan")
    assert seen.pop() == [values.ctypes.data for values in many.values()]
    table = from_numpy(many)
    meter.evaluate(liquid, table, on_refused="nan")
    assert seen.pop() == [column.chunk(0).buffers()[1].address for column in table.columns]
    frame = polars_frame(many)
    meter.evaluate(liquid, frame, on_refused="nan")
    assert seen.pop() == [frame[name].to_numpy(allow_copy=False).ctypes.data for name in frame.columns]


def test_results_are_given_where_they_lie(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    results = meter.evaluate(liquid, Counted(**many), on_refused="nan")
    first, second = results.__arrow_c_array__()[1], results.__arrow_c_array__()[1]
    where = addresses(first)
    assert addresses(second) == where and len(where) == len(COLUMNS) + 2
    assert all(address % 64 == 0 for address in where)
    table = peer("pyarrow").table(results)
    assert [column.chunk(0).buffers()[1].address for column in table.columns] == where
    frame = peer("polars").DataFrame(results)
    assert [frame[name].to_numpy(allow_copy=False).ctypes.data for name in frame.columns] == where


def test_results_outlive_what_they_came_from(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    expected = meter.evaluate(liquid, **many, on_refused="nan").v_m3.tobytes()
    results = fc.Meter.from_json(meter.to_json()).evaluate(liquid, from_numpy(many), on_refused="nan")
    column = peer("pyarrow").table(results)["v_m3"]
    stream = results.__arrow_c_stream__()
    del results
    gc.collect()
    assert column.to_numpy().tobytes() == expected
    kept = peer("pyarrow").RecordBatchReader._import_from_c_capsule(stream).read_all()["v_m3"]
    assert kept.to_numpy().tobytes() == expected


def test_each_release_once(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    rows = Counted(**many)
    for _ in range(20):
        meter.evaluate(liquid, rows, on_refused="nan")
        with pytest.raises(fc.errors.FlowcompError):
            meter.evaluate(liquid, rows)
        with pytest.raises(fc.errors.E_CONFLICT):
            meter.evaluate(liquid, rows, t_degc=20.0)
    gc.collect()
    assert rows.exported == 60 and rows.released == 2 * 60


def resident_pages() -> int:
    with open("/proc/self/statm", encoding="ascii") as file:
        return int(file.read().split()[1])


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="reads /proc")
def test_nothing_is_leaked(meter: fc.Meter, liquid: fc.Liquid) -> None:
    pa = peer("pyarrow")
    size = 50_000  # results of 9.5 MB
    table = pa.table({"f_hz": np.full(size, 200.0), "rho_base_kgm3": np.full(size, 800.0)})
    wrong = table.append_column("time", pa.array(range(size)))
    held = sys.getrefcount(table), pa.total_allocated_bytes()

    def turn() -> None:
        results = meter.evaluate(liquid, table, t_degc=20.0, p_kpag=100.0)
        pa.table(results)
        results.__arrow_c_stream__()
        next(iter(pa.RecordBatchReader.from_stream(results)))
        with pytest.raises(fc.errors.E_UNKNOWN_NAME):
            meter.evaluate(liquid, wrong)
        with pytest.raises(fc.errors.E_NAN):
            meter.evaluate(liquid, table, t_degc=float("nan"), p_kpag=1.0)

    for _ in range(5):
        turn()
    before = resident_pages()
    for _ in range(40):
        turn()
    gc.collect()
    assert (sys.getrefcount(table), pa.total_allocated_bytes()) == held
    assert (resident_pages() - before) * 4096 < 40e6  # one leaked result a turn would be 380 MB


def test_other_threads_run_meanwhile(meter: fc.Meter, liquid: fc.Liquid) -> None:
    size = 1_000_000
    rows = Counted(f_hz=np.full(size, 200.0), rho_base_kgm3=np.full(size, 800.0))
    schema, array = rows.__arrow_c_array__()
    constants = tuple({"t_degc": 20.0, "p_kpag": 100.0}.get(name) for name in fc.READING_NAMES)
    count, stop = [0], threading.Event()

    def counting() -> None:
        while not stop.is_set():
            count[0] += 1

    thread = threading.Thread(target=counting)
    thread.start()
    before = count[0]
    raw.flc_meter_evaluate_arrow(meter._raw, liquid._raw, schema, array, constants, None, None)  # one call, no pause
    after = count[0]
    stop.set()
    thread.join()
    assert after - before > 1000


def test_threads_share_results(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    results = meter.evaluate(liquid, in_chunks(many), on_refused="nan")
    expected = bytes_of(results)
    found: list[bool] = []
    threads = [threading.Thread(target=lambda: found.append(all(bytes_of(results) == expected for _ in range(20))))
               for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == [True] * 8


# --- refusals ---------------------------------------------------------------------------------------------------------

def test_refused_rows_raise_as_arrays_do(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    totals = fc.Totals()
    with pytest.raises(fc.FlowcompError) as arrays:
        meter.evaluate(liquid, **many)
    for make in (from_numpy, in_chunks, struct_array):
        with pytest.raises(fc.FlowcompError) as arrow:
            meter.evaluate(liquid, make(many), totals=totals)
        assert str(arrow.value) == str(arrays.value) and type(arrow.value) is type(arrays.value)
        assert (arrow.value.index, arrow.value.counts) == (arrays.value.index, arrays.value.counts)
    assert totals.records == 0


def test_the_first_refused_row_of_a_later_batch(meter: fc.Meter, liquid: fc.Liquid) -> None:
    pa = peer("pyarrow")
    f = np.full(100, 200.0)
    f[77] = np.nan
    table = pa.table({"f_hz": pa.chunked_array([f[:50], f[50:]])})
    with pytest.raises(fc.FlowcompError) as caught:
        meter.evaluate(liquid, table, t_degc=20.0, p_kpag=100.0, rho_base_kgm3=800.0)
    assert caught.value.index == 77 and caught.value.counts == {"E_MISSING": 1}


def test_errors_name_the_column(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    pa = peer("pyarrow")
    table = from_numpy(many)
    whole = pa.array(many["pulses"].astype(np.int64))
    for wrong, error, words in (
            (table.append_column("time", whole), fc.errors.E_UNKNOWN_NAME, "time: .*rename it"),
            (table.set_column(0, "pulses", whole), fc.errors.E_SCHEMA, "pulses: .*cast it to float64"),
            (table.set_column(0, "pulses", table["pulses"].dictionary_encode()), fc.errors.E_SCHEMA, "pulses: .*cast"),
            (table.set_column(0, "pulses", table["pulses"].cast(pa.float32())), fc.errors.E_SCHEMA, "format is f"),
            (table.append_column("pulses", table["pulses"]), fc.errors.E_DUPLICATE, "pulses: .*leave one"),
            (pa.array([1.0, 2.0]), fc.errors.E_SCHEMA, "readings: .*give a struct")):
        with pytest.raises(error, match=words):
            meter.evaluate(liquid, wrong)
    with pytest.raises(fc.errors.E_CONFLICT, match="t_degc: .*child and a constant"):
        meter.evaluate(liquid, table, t_degc=20.0)
    with pytest.raises(TypeError, match="t_degc: beside an Arrow table"):
        meter.evaluate(liquid, table.drop_columns(["t_degc"]), t_degc=many["t_degc"])
    with pytest.raises(TypeError, match="not temperature"):
        meter.evaluate(liquid, table, temperature=20.0)
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="no column volume"):
        meter.evaluate(liquid, table, outputs=["volume"])
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="on_refused"):
        meter.evaluate(liquid, table, on_refused="null")


def test_streams_that_fail_or_are_used_up(meter: fc.Meter, liquid: fc.Liquid, many: dict[str, np.ndarray]) -> None:
    pa = peer("pyarrow")
    table = from_numpy(many)
    totals = fc.Totals()

    def batches() -> Any:
        yield table.to_batches()[0]
        raise OSError("the disk is gone")

    with pytest.raises(fc.errors.E_SCHEMA, match="the stream failed: .*the disk is gone"):
        meter.evaluate(liquid, pa.RecordBatchReader.from_batches(table.schema, batches()), on_refused="nan",
                       totals=totals)
    assert totals.records == 0

    class UsedUp:
        def __init__(self) -> None:
            self.capsule = table.__arrow_c_stream__()
            pa.RecordBatchReader._import_from_c_capsule(self.capsule).close()

        def __arrow_c_stream__(self, requested_schema: Any = None) -> Any:
            return self.capsule

    assert not stream_of(UsedUp().capsule).release
    with pytest.raises(fc.errors.E_SCHEMA, match="released or moved"):
        meter.evaluate(liquid, UsedUp())


@pytest.mark.parametrize("name", ["pyarrow", "polars", "duckdb", "pandas"])
def test_a_peer_is_there(name: str) -> None:
    """Says in the list of tests which peers were left out."""
    assert importlib.import_module(peer(name).__name__)
