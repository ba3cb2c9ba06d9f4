# SPDX-License-Identifier: Apache-2.0
"""A user's mistakes in the readings, batches, liquids and options: no traceback, exit code 2, and a message that says
file, line, column and what to change."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from small_site import BATCHES, HEADER, LIQUIDS, SmallSite, hours

ROW = "2025-01-01T01:00:00+01:00,400000,20,250"


@pytest.fixture
def site(tmp_path: Path) -> SmallSite:
    return SmallSite(tmp_path)


def refused(site: SmallSite, *words: str, **options: object) -> None:
    """The restatement ends with 2, says all of the words, shows no traceback and writes nothing."""
    result = site.restate(**options)
    assert result.exit_code == 2, result.output
    for word in words:
        assert word in result.output, (word, result.output)
    assert "Traceback" not in result.output
    assert not site.out.exists()


# --- readings ---------------------------------------------------------------------------------------------------------

def test_no_such_file(site: SmallSite) -> None:
    refused(site, "readings.csv", "there is no such file")


@pytest.mark.parametrize("content", ["", "\n\n", "# only a comment\n", "\ufeff"])
def test_empty_file(site: SmallSite, content: str) -> None:
    (site.folder / "readings.csv").write_text(content, encoding="utf-8")
    refused(site, "readings.csv", "the file is empty")


def test_header_without_rows(site: SmallSite) -> None:
    site.readings()
    refused(site, "no row under it")


def test_one_row(site: SmallSite) -> None:
    site.readings(ROW)
    assert site.restate().exit_code == 0
    assert site.statuses() == ["ok"]


@pytest.mark.parametrize(("header", "words"), [
    ("when,pulses,t_degc,p_kpag", ["column time is missing"]),
    ("time,puls,t_degc,p_kpag", ["neither pulses", "is it puls? rename it", "time, puls, t_degc, p_kpag"]),
    ("time,pulses,temp,p_kpag", ["t_degc, t_degf", "the header has"]),
    ("time,pulses,t_degc,pressure", ["p_kpag, p_mpag, p_barg"]),
    ("time,pulses,t_degc,t_degc", ["stands twice", "line 1"]),
    ("time,pulses,t_degc,", ["has no name"]),
])
def test_missing_and_wrong_columns(site: SmallSite, header: str, words: list[str]) -> None:
    site.readings(ROW, header=header)
    refused(site, "readings.csv", *words)


def test_two_columns_for_one_quantity(site: SmallSite) -> None:
    site.readings(f"{ROW},68", header=f"{HEADER},t_degf")
    refused(site, "t_degc and t_degf hold the same quantity")


def test_pulses_and_counter(site: SmallSite) -> None:
    site.readings(f"{ROW},12", header=f"{HEADER},counter")
    refused(site, "both pulses and counter")


def test_no_header(site: SmallSite) -> None:
    site.write("readings.csv", "1,2,3", "4,5,6")
    refused(site, "a header row with the columns' names is needed", "line 1")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends(site: SmallSite, end: str) -> None:
    stamps = hours(3)
    site.write("readings.csv", HEADER, *(f"{stamp},400000,20,250" for stamp in stamps), end=end)
    assert site.restate().exit_code == 0
    assert [row["line"] for row in site.rows()] == ["2", "3", "4"]


def test_mixed_line_ends_mark_comments_and_blanks(site: SmallSite) -> None:
    stamps = hours(3)
    text = (f"\ufeff# a comment\r\n{HEADER}\n{stamps[0]},400000,20,250\r\n\n# another\n  \n{stamps[1]},400000,20,250\r"
            f"{stamps[2]},400000,20,250")
    (site.folder / "readings.csv").write_bytes(text.encode())
    assert site.restate().exit_code == 0
    assert [row["line"] for row in site.rows()] == ["3", "7", "8"]


def test_utf16(site: SmallSite) -> None:
    (site.folder / "readings.csv").write_text(f"{HEADER}\n{ROW}\n", encoding="utf-16")
    refused(site, "UTF-16", "UTF-8")


def test_not_utf8(site: SmallSite) -> None:
    (site.folder / "readings.csv").write_bytes(f"{HEADER},note\n{ROW},".encode() + b"\xe4\xf6\n")
    refused(site, "not UTF-8")


def test_binary(site: SmallSite) -> None:
    (site.folder / "readings.csv").write_bytes(bytes(range(256)) * 8192)
    refused(site, "readings.csv")


def test_ragged_row(site: SmallSite) -> None:
    site.readings(ROW, f"{hours(1)[0]},400000,20")
    refused(site, "line 3", "3 values, but the header names 4 columns")


def test_decimal_commas_between_commas(site: SmallSite) -> None:
    site.readings("2025-01-01T01:00:00+01:00,400000,20,5,250")
    refused(site, "line 2", "5 values", "--decimal-comma", "semicolons")


def test_decimal_commas_with_semicolons(site: SmallSite) -> None:
    site.readings("2025-01-01T01:00:00+01:00;400000;20,5;250,25", header=HEADER.replace(",", ";"))
    refused(site, "line 2", "t_degc", "'20,5'", "--decimal-comma")
    (site.folder / "batches.csv").write_text(BATCHES.replace(",", ";"), encoding="utf-8")
    (site.folder / "liquids.csv").write_text(LIQUIDS.replace(",", ";").replace(".", ","), encoding="utf-8")
    assert site.restate(decimal_comma=True).exit_code == 0
    assert (site.rows()[0]["t_degc"], site.rows()[0]["p_kpag"]) == ("20.5", "250.25")


def test_a_point_among_decimal_commas(site: SmallSite) -> None:
    site.readings("2025-01-01T01:00:00+01:00;400.000;20,5;250", header=HEADER.replace(",", ";"))
    (site.folder / "batches.csv").write_text(BATCHES.replace(",", ";"), encoding="utf-8")
    (site.folder / "liquids.csv").write_text(LIQUIDS.replace(",", ";").replace(".", ","), encoding="utf-8")
    refused(site, "line 2", "pulses", "'400.000'", "has a point", decimal_comma=True)


def test_semicolons_with_points_need_no_option(site: SmallSite) -> None:
    site.readings("2025-01-01T01:00:00+01:00;400000;20.5;250", header=HEADER.replace(",", ";"))
    assert site.restate().exit_code == 0


@pytest.mark.parametrize(("cell", "column"), [("Bad", "t_degc"), ("1.2.3", "p_kpag"), ("12 kPa", "p_kpag"),
                                              ("4e5x", "pulses")])
def test_text_where_a_number_belongs(site: SmallSite, cell: str, column: str) -> None:
    cells = dict(zip(HEADER.split(","), ROW.split(","), strict=True)) | {column: cell}
    site.readings(ROW, ",".join(cells.values()))
    refused(site, "readings.csv, line 3", f"column {column}", f"'{cell}' is no number", "--missing")


def test_word_for_missing_values(site: SmallSite) -> None:
    stamps = hours(2)
    site.readings(f"{stamps[0]},400000,Bad,250", f"{stamps[1]},400000,20,250")
    assert site.restate(missing="Bad").exit_code == 0
    assert site.statuses() == ["nan", "ok"]


@pytest.mark.parametrize(("row", "status"), [
    (",20,250", "missing"), ("NaN,20,250", "missing"), ("400000,,250", "nan"), ("400000,NaN,250", "nan"),
    ("400000,20,", "nan"), ("400000,850,250", "above"), ("400000,-300,250", "below"),
    ("400000,20,-5", "negative_pressure"), ("400000,20,1e9", "above"), ("12.5,20,250", "not_whole"),
    ("1e300,20,250", "above"), ("inf,20,250", "infinite"),
    ("-400000,20,250", "ok"), ("0,850,-5", "ok"), ("10,20,250", "below_curve"), ("8000000,20,250", "above_curve"),
])
def test_absurd_values_are_refused_row_by_row(site: SmallSite, row: str, status: str) -> None:
    stamps = hours(3)
    site.readings(f"{stamps[0]},400000,20,250", f"{stamps[1]},{row}", f"{stamps[2]},400000,20,250")
    result = site.restate()
    assert result.exit_code == 0, result.output
    assert site.statuses() == ["ok", status, "ok"]
    assert site.record()["meters"]["EX-50"]["balance_difference"] == 0
    strict = site.restate(overwrite=True, strict=True)
    assert strict.exit_code == (0 if status == "ok" else 1)


@pytest.mark.parametrize("time", ["01.02.2025 13:00", "2025-13-01T00:00", "13:00", "2025-02-30T01:00:00Z", "45000.5"])
def test_time_that_is_none(site: SmallSite, time: str) -> None:
    site.readings(ROW, f"{time},400000,20,250")
    refused(site, "line 3", "column time", f"'{time}' is no ISO 8601 time", "2025-02-01T13:00:00")


def test_absolute_pressure_needs_the_atmosphere(site: SmallSite) -> None:
    site.readings("2025-01-01T01:00:00+01:00,400000,20,3.51325", header="time,pulses,t_degc,p_bara")
    refused(site, "--atmospheric-kpaa", "p_bara")
    assert site.restate(atmospheric_kpaa=101.325).exit_code == 0
    assert float(site.rows()[0]["p_kpag"]) == pytest.approx(250, rel=1e-12)


def test_units_of_the_columns(site: SmallSite) -> None:
    """68 degF are 20 degC; 2.5 bar are 250 kPa; 36.2594 psi are 250.00 kPa."""
    site.readings("2025-01-01T01:00:00+01:00,400000,68,2.5", header="time,pulses,t_degf,p_barg")
    assert site.restate().exit_code == 0
    row = site.rows()[0]
    assert (float(row["t_degc"]), float(row["p_kpag"])) == (20, 250)
    site.readings("2025-01-01T01:00:00+01:00,400000,68,36.2594", header="time,pulses,t_degf,p_psig")
    assert site.restate(overwrite=True).exit_code == 0
    assert float(site.rows()[0]["p_kpag"]) == pytest.approx(250, abs=1e-3)


@pytest.mark.parametrize("kind", ["instants", "local", "text"])
def test_parquet_types(site: SmallSite, kind: str) -> None:
    """Timestamps with and without a zone, whole numbers, decimals, nulls and repeated texts as Parquet has them."""
    whens = [datetime(2025, 1, 1, hour) for hour in (1, 2, 3)]
    times = {"instants": pa.array(whens, pa.timestamp("ms")).cast(pa.timestamp("ms", tz="UTC")),
             "local": pa.array(whens, pa.timestamp("ns")),
             "text": pa.array([when.isoformat() for when in whens]).dictionary_encode()}
    path = site.folder / "readings.parquet"
    pq.write_table(pa.table({
        "time": times[kind], "pulses": pa.array([400000, None, 400001], pa.int32()),
        "t_degc": pa.array([Decimal("20.25"), Decimal("21.00"), Decimal("20.50")]),
        "p_kpag": pa.array([250.0, float("nan"), 250.0], pa.float32()),
        "meter": pa.array(["EX-50"] * 3).dictionary_encode()}), path)
    assert site.restate(path).exit_code == 0
    assert site.statuses() == ["ok", "missing", "ok"]
    assert [row["t_degc"] for row in site.rows()] == ["20.25", "21", "20.5"]
    first = {"instants": "2025-01-01T02:00:00+01:00"}.get(kind, "2025-01-01T01:00:00+01:00")
    assert site.rows()[0]["end"] == first


def test_parquet_of_the_wrong_type(site: SmallSite) -> None:
    path = site.folder / "readings.parquet"
    pq.write_table(pa.table({"time": ["2025-01-01T01:00Z"], "pulses": [True], "t_degc": [20.0], "p_kpag": [1.0]}), path)
    result = site.restate(path)
    assert result.exit_code == 2 and "row 1, column pulses" in result.output and "numbers are needed" in result.output


def test_offsets_and_local_times_in_one_file(site: SmallSite) -> None:
    site.readings("2025-01-01T01:00:00+01:00,400000,20,250", "2025-01-01 02:00,400000,20,250",
                  "2025-01-01T02:00:00Z,400000,20,250")
    assert site.restate().exit_code == 0
    assert [row["end"][11:16] for row in site.rows()] == ["01:00", "02:00", "03:00"]


def test_file_named_twice(site: SmallSite) -> None:
    path = site.readings(ROW)
    result = site.restate(path, path)
    assert result.exit_code == 2 and "named twice" in result.output


def test_folder_instead_of_a_file(site: SmallSite) -> None:
    result = site.restate(site.folder)
    assert result.exit_code == 2 and "this is a folder" in result.output


def test_not_parquet(site: SmallSite) -> None:
    path = site.write("readings.parquet", "PAR1 and nothing else")
    result = site.restate(path)
    assert result.exit_code == 2 and "not a Parquet file" in result.output


# --- meters, batches, liquids, options --------------------------------------------------------------------------------

def test_rows_of_another_meter_are_counted(site: SmallSite) -> None:
    stamps = hours(2)
    site.readings(f"{stamps[0]},400000,20,250,EX-50", f"{stamps[0]},99,20,250,EX-51", header=f"{HEADER},meter")
    result = site.restate()
    assert result.exit_code == 0 and "EX-51 (1 rows)" in result.output
    assert site.record()["rows_of_other_meters"] == {"EX-51": 1}


def test_no_row_of_the_meter(site: SmallSite) -> None:
    site.readings(f"{ROW},EX-51", header=f"{HEADER},meter")
    refused(site, "no reading of the meter EX-50", "EX-51")


def test_damaged_meter_file(site: SmallSite) -> None:
    site.readings(ROW)
    path = site.folder / "meter.json"
    path.write_text(path.read_text(encoding="utf-8").replace("EX-50", "EX-99"), encoding="utf-8")
    refused(site, "meter.json", "no meter file that can be used", "hash")


def test_liquid_file_as_meter_file(site: SmallSite) -> None:
    site.readings(ROW)
    refused(site, "no meter file that can be used", meter=site.folder / "liquids.csv")


@pytest.mark.parametrize(("text", "words"), [
    ("", ["batches.csv", "empty"]),
    ("start,liquid,rho_base_kgm3\n", ["no batches"]),
    ("start,rho_base_kgm3\n2025-01-01,840\n", ["column liquid is missing"]),
    (BATCHES.replace("gas_oil", "gasoil"), ["there is no liquid 'gasoil'", "gas_oil", "line 2", "column liquid"]),
    (BATCHES.replace("2025-01-01T00:00:00+01:00", "1.1.2025"), ["line 2, column start", "ISO 8601"]),
    (BATCHES.replace("2025-01-01T00:00:00+01:00", "2025-10-26T02:30"), ["comes twice", "offset"]),
    (BATCHES.replace("2025-01-01T00:00:00+01:00", "2025-03-30T02:30"), ["does not exist", "offset"]),
    (BATCHES + "2024-12-01T00:00:00+01:00,gas_oil,840\n", ["line 3", "sort the table"]),
    (BATCHES.replace(",840", ",heavy"), ["line 2, column rho_base_kgm3", "'heavy' is no number"]),
    ("start,liquid,rho_base_kgm3,nu_mm2s\n2025-01-01T00:00:00Z,gas_oil,840,3.1\n", ["viscosity of its own"]),
])
def test_batch_tables(site: SmallSite, text: str, words: list[str]) -> None:
    site.readings(ROW)
    (site.folder / "batches.csv").write_text(text, encoding="utf-8")
    refused(site, *words)


@pytest.mark.parametrize(("text", "words"), [
    ("liquid,group,base,t_degc,nu_mm2s\ngas_oil,refined,15C,0,6\n", ["column u_nu_pct is missing"]),
    (LIQUIDS.replace("gas_oil,refined,15C,60,1.7,1.0\n", ""), ["one laboratory point", "one_point", "line 2"]),
    (LIQUIDS.replace("refined", "petrol"), ["cannot be made", "petrol"]),
    (LIQUIDS.replace("15C,60", "60F,60"), ["'60F'", "says '15C'", "line 3", "column base"]),
    (LIQUIDS.replace(",1.7,", ",17,"), ["cannot be made"]),
    (LIQUIDS.replace("nu_mm2s", "nu_cst"), ["column nu_cst", "not known", "nu_mm2s"]),
    (LIQUIDS.replace("6.0", ""), ["needs its temperature (t_degc) and its viscosity (nu_mm2s)", "line 2"]),
])
def test_liquid_tables(site: SmallSite, text: str, words: list[str]) -> None:
    site.readings(ROW)
    (site.folder / "liquids.csv").write_text(text, encoding="utf-8")
    refused(site, "liquids.csv", *words)


@pytest.mark.parametrize(("options", "words"), [
    ({"stamp": None}, ["--stamp"]),
    ({"timezone": None}, ["--timezone"]),
    ({"stamp": "middle"}, ["middle"]),
    ({"timezone": "Europe/Berln"}, ["Europe/Berlin"]),
    ({"interval": None}, ["--interval", "duration_s"]),
    ({"interval": 0}, ["--interval"]),
    ({"contract_hour": 24}, ["--contract-hour", "0 to 23"]),
    ({"contract_month_day": 31}, ["--contract-month-day", "1 to 28"]),
    ({"below": "guess"}, ["guess"]),
    ({"counter_modulus": 1.5}, ["--counter-modulus"]),
    ({"highest_hz": -1}, ["--highest-hz"]),
])
def test_options(site: SmallSite, options: dict[str, object], words: list[str]) -> None:
    site.readings(ROW)
    refused(site, *words, **options)


def test_density_of_the_reading_goes_before_that_of_the_batch(site: SmallSite) -> None:
    stamps = hours(2)
    site.readings(f"{stamps[0]},400000,20,250,820", f"{stamps[1]},400000,20,250,", header=f"{HEADER},rho_base_kgm3")
    assert site.restate().exit_code == 0
    assert [float(row["rho_base_kgm3"]) for row in site.rows()] == [820, 840]


def test_measured_viscosity(site: SmallSite) -> None:
    """A liquid with measured viscosity takes it from the reading, else from the batch, else is refused."""
    (site.folder / "liquids.csv").write_text("liquid,group,base,u_nu_pct\ngas_oil,refined,15C,1\n", encoding="utf-8")
    site.write("batches.csv", "start,liquid,rho_base_kgm3,nu_mm2s", "2025-01-01T00:00:00+01:00,gas_oil,840,3.3",
               "2025-01-02T00:00:00+01:00,gas_oil,840,")
    site.readings("2025-01-01T01:00:00+01:00,400000,20,250,3.1", "2025-01-01T02:00:00+01:00,400000,20,250,",
                  "2025-01-02T02:00:00+01:00,400000,20,250,", header=f"{HEADER},nu_mm2s")
    assert site.restate().exit_code == 0
    assert [row["nu_mm2s"] for row in site.rows()] == ["3.1", "3.3", ""]
    assert site.statuses() == ["ok", "ok", "missing"]
