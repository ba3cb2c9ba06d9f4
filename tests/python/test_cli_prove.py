# SPDX-License-Identifier: Apache-2.0
"""The command prove: the worked chain of tests/checks/quantities_proving.csv (Q-PRV) through files of runs, every kind
of prover, and what a user may get wrong."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest
from flowcomp.control_chart import chart_of
from flowcomp.proving_history import chart_history, read_history
from small_site import LIQUIDS, meter_text, run

HEAD = {"proving": "P-1", "meter": "DN250-A", "date": "2024-05-01", "prover": "pipe", "base_volume_bbl": "16.80425",
        "base_t_degf": "60", "gc_per_degf": "1.86e-5", "e_psi": "30e6", "id_in": "10.020", "wall_in": "0.365",
        "k_nominal_per_bbl": "1000", "water_draw": "2024-01-10", "expiry": "2025-01-10"}
PULSES = (16793, 16795, 16792, 16796, 16794)
CONDITIONS = {"t_meter_degf": "78.38", "t_prover_degf": "78.38", "p_meter_psig": "150", "p_prover_psig": "150",
              "ctl_prover": "0.9908", "cpl_prover": "1.0010", "ctl_meter": "0.9909", "cpl_meter": "1.0010",
              "f_hz": "1000"}
CTS, CPS = 1 + 1.86e-5 * 18.38, 1 + 150 * 10.020 / (30e6 * 0.365)
MF = 16.80425 * CTS * CPS * 0.9908 / (16.794 * 0.9909)


def rows(**changed: str) -> list[dict[str, str]]:
    return [{"run": str(number), "pulses": str(pulses)} | CONDITIONS | changed
            for number, pulses in enumerate(PULSES, 1)]


def write(path: Path, head: dict[str, str], passes: list[dict[str, str]]) -> Path:
    """A file of runs."""
    columns = list(dict.fromkeys(name for one in passes for name in one))
    lines = [f"#! {key}: {value}" for key, value in head.items()] + [",".join(columns)]
    lines += [",".join(one.get(name, "") for name in columns) for one in passes]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def prove(folder: Path, head: dict[str, str], passes: list[dict[str, str]], *options: object) -> Any:
    """Exit code and output; the record in ``record``."""
    result = run("prove", write(folder / "runs.csv", head, passes), "--out", folder / "out", "--overwrite", *options)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert "Traceback" not in result.output
    record = folder / "out" / f"{head.get('proving')}.json"
    result.record = json.loads(record.read_text(encoding="utf-8")) if record.exists() else None
    return result


def test_the_worked_chain(tmp_path: Path) -> None:
    result = prove(tmp_path, HEAD, rows())
    assert result.exit_code == 0, result.output
    record = result.record
    assert record["mf"] == pytest.approx(MF, rel=1e-12)
    assert record["range_pct"] == pytest.approx(0.02382, abs=5e-6)  # Q-PRV-1
    assert record["average"]["cts_prover"] == pytest.approx(CTS, rel=1e-12)
    assert record["accepted"] and record["in_force"] and record["way"] == "nominal_k"
    assert record["conditions"]["ro"] is None
    text = (tmp_path / "out" / "P-1.txt").read_text(encoding="utf-8")
    page = (tmp_path / "out" / "P-1.html").read_text(encoding="utf-8")
    for symbol in ("CTSp", "CPSp", "CTLp", "CPLp", "CTLm", "CPLm", "IVm", "ISVm", "MF", "GSVp"):
        assert symbol in text and symbol in page
    assert "<svg" in page and "claim until the parties agree" in text and max(map(len, text.splitlines())) <= 160
    assert "http://" not in page.replace("http://www.w3.org", "").replace("http://creativecommons.org", "").replace(
        "http://purl.org", "")  # nothing is fetched


def test_a_nominal_proving_keeps_its_roshko_and_strouhal_number(tmp_path: Path) -> None:
    """Ro = f D^2/nu and St = pi/4 (K/MF) D^3, worked out by hand here; without a bore there are none."""
    record = prove(tmp_path, HEAD | {"bore_in": "10.020"}, rows(nu_mm2s="5")).record
    bore, k = 10.020 * 0.0254, 1000 / 0.158987294928 / record["mf"]
    assert record["conditions"]["ro"] == pytest.approx(1000 * bore**2 / 5e-6, rel=1e-12)
    assert record["conditions"]["st"] == pytest.approx(3.141592653589793 / 4 * k * bore**3, rel=1e-12)


def test_json_says_the_same(tmp_path: Path) -> None:
    """The same keys as JSON, numbers as numbers."""
    def plain(text: str) -> Any:
        try:
            return float(text)
        except ValueError:
            return text

    document = {"head": {key: plain(value) for key, value in HEAD.items()},
                "passes": [{key: plain(value) for key, value in one.items()} for one in rows()]}
    document["head"]["proving"] = "P-2"
    (tmp_path / "runs.json").write_text(json.dumps(document), encoding="utf-8")
    result = run("prove", tmp_path / "runs.json", "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    found = json.loads((tmp_path / "out" / "P-2.json").read_text(encoding="utf-8"))
    assert found["mf"] == prove(tmp_path, HEAD, rows()).record["mf"]


def test_rounded_as_in_1995(tmp_path: Path) -> None:
    """Q-PRV-2, -3 and -7: four decimals from step to step."""
    record = prove(tmp_path, HEAD | {"rounding": "1995", "units": "customary"}, rows()).record
    assert (record["mf"], record["average"]["cts_prover"], record["average"]["cps_prover"]) == (1.0009, 1.0003, 1.0001)


def test_which_run_failed_and_why(tmp_path: Path) -> None:
    passes = rows()
    passes[3]["pulses"] = "16830"
    result = prove(tmp_path, HEAD, passes)
    assert result.exit_code == 1 and "Not accepted (run 4)" in result.output
    assert not result.record["in_force"] and result.record["findings"][0]["fault"] == "range"
    kept = prove(tmp_path, HEAD | {"rejection": "furthest", "reject_max": "1", "runs_min": "4"}, passes)
    assert kept.exit_code == 0 and [one["rejected"] for one in kept.record["runs"]].index("furthest") == 3
    assert "left out: furthest" in kept.output
    late = prove(tmp_path, HEAD | {"date": "2025-02-01"}, rows())
    assert late.exit_code == 1 and "certificate had expired" in late.output
    far = prove(tmp_path, HEAD | {"temperature_difference_k": "1"}, rows(t_prover_degf="85"))
    assert far.exit_code == 1 and {found["run"] for found in far.record["findings"]} == {1, 2, 3, 4, 5}


# --- kinds of provers -------------------------------------------------------------------------------------------------

def test_bidirectional(tmp_path: Path) -> None:
    """Q-SVP-2: out 8397.2, back 8396.1 are 16793.3 pulses of the round trip."""
    passes = [one | {"direction": way, "pulses": pulses} for one in rows()[:2]
              for way, pulses in (("out", "8397.2"), ("back", "8396.1"))]
    head = HEAD | {"prover": "pipe_bidirectional", "pulses_min": "1000", "runs_min": "2"}
    record = prove(tmp_path, head, passes).record
    assert record["runs"][0]["pulses"] == pytest.approx(16793.3, rel=1e-12)
    missing = prove(tmp_path, head, passes[:3])
    assert missing.exit_code == 2 and "line 19: run 2 has 1 pass, not 2" in missing.output
    twice = prove(tmp_path, head, [passes[0], passes[0], *passes[2:]])
    assert twice.exit_code == 2 and "out, then back" in twice.output


def test_small_volume(tmp_path: Path) -> None:
    """Q-SVP-1: 1253 pulses in 0.5012345 s, 0.5014210 s between the detectors: 1253.46622."""
    one = {name: value for name, value in rows()[0].items() if name not in ("pulses", "f_hz")} | {
        "pulses_whole": "1253", "t_pulses_s": "0.5012345", "t_detectors_s": "0.5014210", "t_rod_degc": "20"}
    passes = [one | {"run": str(number)} for number in (1, 1, 2, 2)]
    head = {name: value for name, value in HEAD.items() if name not in ("gc_per_degf", "base_volume_bbl")} | {
        "prover": "small_volume", "base_volume_bbl": "1.2534", "ga_per_degf": "1.2e-5", "rod_metal": "K93600",
        "passes_per_run": "2", "runs_min": "2", "clock_hz": "1e5"}
    result = prove(tmp_path, head, passes)
    assert result.exit_code == 0, result.output
    assert result.record["runs"][0]["pulses"] == pytest.approx(1253.46622, abs=5e-6)
    cts = (1 + 1.2e-5 * 18.38) * (1 + 0.80e-6 * (68 - 60))
    assert result.record["runs"][0]["cts_prover"] == pytest.approx(cts, rel=1e-12)
    slow = prove(tmp_path, head | {"clock_hz": "3e4"}, passes)
    assert slow.exit_code == 1 and "clock is too slow" in slow.output
    text = (tmp_path / "out" / "P-1.txt").read_text(encoding="utf-8")
    assert "Passes as given" in text and "0.5012345" in text


def test_tank_and_master_meter(tmp_path: Path) -> None:
    """MF = (upper - lower) CTSp CTLp/(IVm CTLm CPLm), and IVmm MMF CTLmm CPLmm/(IVm CTLm CPLm): custody chain B4."""
    steel = ("gc_per_degf", "e_psi", "id_in", "wall_in", "base_volume_bbl")
    tank = {name: value for name, value in HEAD.items() if name not in steel[1:]} | {"prover": "tank"}
    passes = [one | {"upper_bbl": "16.81", "lower_bbl": "0.01"} for one in rows(p_prover_psig="", cpl_prover="")]
    record = prove(tmp_path, tank, passes).record
    expected = 16.8 * CTS * 0.9908 / (16.794 * 0.9909 * 1.0010)
    assert record["mf"] == pytest.approx(expected, rel=1e-12)
    master = {name: value for name, value in HEAD.items() if name not in (*steel, "base_t_degf")} | {
        "prover": "master_meter", "master_k_per_bbl": "2000", "master_mf": "1.0010"}
    record = prove(tmp_path, master, [one | {"pulses_master": "33600"} for one in rows()]).record
    assert record["mf"] == pytest.approx(16.8 * 1.0010 * 0.9908 / (16.794 * 0.9909), rel=1e-12)


def test_a_curve_and_a_nominal_k_are_never_mixed(tmp_path: Path) -> None:
    (tmp_path / "meter.json").write_text(meter_text(), encoding="utf-8")
    (tmp_path / "liquids.csv").write_text(LIQUIDS, encoding="utf-8")
    mixed = prove(tmp_path, HEAD, rows(), "--meter", tmp_path / "meter.json")
    assert mixed.exit_code == 2 and "never mixed" in mixed.output
    neither = prove(tmp_path, {key: value for key, value in HEAD.items() if "nominal" not in key}, rows())
    assert neither.exit_code == 2 and "say which K" in neither.output
    head = {key: value for key, value in HEAD.items() if "nominal" not in key} | {
        "meter": "EX-50", "rho_base_kgm3": "840", "base_volume_bbl": "2.5"}
    drop = ("ctl_prover", "cpl_prover", "ctl_meter", "cpl_meter")
    passes = [{name: value for name, value in one.items() if name not in drop} | {"f_hz": "250", "pulses": "15480"}
              for one in rows()]
    result = prove(tmp_path, head, passes, "--meter", tmp_path / "meter.json", "--liquids", tmp_path / "liquids.csv")
    assert result.exit_code == 0, result.output
    record = result.record
    assert record["way"] == "curve" and record["conditions"]["ro"] > 0
    assert record["st_proved"] == pytest.approx(record["average"]["st"] / record["mf"], rel=1e-14)


# --- what a user may get wrong ----------------------------------------------------------------------------------------

@pytest.mark.parametrize("head, passes, said", [
    ({"base_volume_bbl": "0"}, {}, "base_volume_m3"),
    ({"base_volume_bbl": ""}, {}, "base_volume_m3"),
    ({"date": "01.05.2024"}, {}, "is no day"),
    ({"date": ""}, {}, "'date' is missing"),
    ({"prover": "bucket"}, {}, "must be one of"),
    ({"k_nominal_per_m3": "6289"}, {}, "say the same"),
    ({"runs_mim": "5"}, {}, "did you mean runs_min"),
    ({"expiry": "2023-01-10"}, {}, "expires"),
    ({"mf_low": "0.5"}, {}, "mf_low"),
    ({}, {"t_prover_degf": "", "t_prover_degc": "298.92"}, "t_prover_degc"),  # kelvin
    ({}, {"t_meter_degc": "25.8"}, "hold the same quantity"),
    ({}, {"pulses": "0"}, "pulses"),
    ({}, {"pulses": ""}, "pulses"),
    ({}, {"p_meter_psig": "", "p_meter_psia": "164.7"}, "gauge pressure"),
    ({}, {"ctl_prover": "0,9908"}, "values"),
    ({}, {"colour": "red"}, "not known"),
    ({}, {"start": "2024-05-01T08:00:00"}, "offset"),
])
def test_wrong_input(tmp_path: Path, head: dict[str, str], passes: dict[str, str], said: str) -> None:
    result = prove(tmp_path, HEAD | head, rows(**passes))
    assert result.exit_code == 2, result.output
    assert said in result.output.replace("\n", " ")
    assert not (tmp_path / "out").exists()


def test_order_of_runs_and_clock(tmp_path: Path) -> None:
    out_of_order = rows()
    out_of_order[1], out_of_order[2] = out_of_order[2], out_of_order[1]
    result = prove(tmp_path, HEAD, out_of_order)
    assert result.exit_code == 2 and "line 16" in result.output
    times = [one | {"start": f"2024-05-01T08:0{9 - number}:00+00:00", "end": f"2024-05-01T08:0{9 - number}:20+00:00"}
             for number, one in enumerate(rows())]
    backwards = prove(tmp_path, HEAD, times)
    assert backwards.exit_code == 2 and "start_ms" in backwards.output


def test_a_temperature_of_another_unit(tmp_path: Path) -> None:
    """25.8 degC written under degF: plausible in itself, told by the difference between meter and prover."""
    result = prove(tmp_path, HEAD | {"temperature_difference_k": "5"}, rows(t_prover_degf="25.8"))
    assert result.exit_code == 1 and "differ too much in temperature" in result.output


def test_identifiers_and_history(tmp_path: Path) -> None:
    files = [write(tmp_path / f"r{day}.csv", HEAD | {"proving": f"P-{day}", "date": f"2024-05-0{day}"}, rows())
             for day in range(1, 6)]
    assert run("prove", *reversed(files), "--out", tmp_path / "a").exit_code == 0
    entries = read_history(tmp_path / "a" / "history.csv")
    assert [entry.proving for entry in entries] == ["P-1", "P-2", "P-3", "P-4", "P-5"]
    assert entries[0].mf == pytest.approx(MF, rel=1e-12)
    again = run("prove", files[4], "--history", tmp_path / "a" / "history.csv", "--out", tmp_path / "b")
    assert again.exit_code == 2 and "there twice" in again.output
    earlier = write(tmp_path / "early.csv", HEAD | {"proving": "P-0", "date": "2024-04-01"}, rows())
    result = run("prove", earlier, "--history", tmp_path / "a" / "history.csv", "--out", tmp_path / "b")
    assert result.exit_code == 2 and "ran backwards" in result.output
    lines = (tmp_path / "a" / "history.csv").read_text(encoding="utf-8").splitlines()
    (tmp_path / "mixed.csv").write_text("\n".join([lines[0], lines[2], lines[1]]) + "\n", encoding="utf-8")
    later = write(tmp_path / "late.csv", HEAD | {"proving": "P-9", "date": "2024-06-01"}, rows())
    assert "ran backwards" in run("prove", later, "--history", tmp_path / "mixed.csv", "--out", tmp_path / "b").output
    other = write(tmp_path / "other.csv", HEAD | {"proving": "P-9", "date": "2024-06-01", "meter": "B"}, rows())
    assert "one history is of one meter" in run("prove", other, "--history", tmp_path / "a" / "history.csv", "--out",
                                                tmp_path / "b").output


def test_factor_in_force_and_its_triggers(tmp_path: Path) -> None:
    limits = {"void_factor_last": "0.0010", "void_days": "31", "void_temperature": "5", "void_viscosity": "0.2"}
    first = write(tmp_path / "one.csv", HEAD | limits, rows())
    shifted = [one | {"pulses": str(int(one["pulses"]) - 40)} for one in rows(t_meter_degf="90", t_prover_degf="90")]
    second = write(tmp_path / "two.csv", HEAD | limits | {"proving": "P-2", "date": "2024-07-01"}, shifted)
    flagged = run("prove", first, second, "--out", tmp_path / "a")
    assert flagged.exit_code == 0 and "temperature days factor_last" in flagged.output
    text = (tmp_path / "a" / "P-2.txt").read_text(encoding="utf-8")
    assert "Before: 1.0009" in text and "not known" in text  # the viscosity
    refused = run("prove", first, second, "--on-void", "refuse", "--out", tmp_path / "b")
    assert refused.exit_code == 1
    assert json.loads((tmp_path / "b" / "P-2.json").read_text(encoding="utf-8"))["in_force"] is False
    assert "Still 1.0009" in (tmp_path / "b" / "P-2.txt").read_text(encoding="utf-8")


# --- charts -----------------------------------------------------------------------------------------------------------

def test_limits_of_the_chart() -> None:
    """S-MFC-4 and -5 of tests/checks/repeatability_control.csv: ten factors, 3 and 2 sigma of the moving range."""
    values = [0.9987, 0.9989, 0.9986, 0.9990, 0.9988, 0.9985, 0.9989, 0.9991, 0.9987, 0.9988]
    chart = chart_of(values, [True] * 10, range(10), 1e-9)
    assert chart is not None
    assert chart.limits(3)[1] == pytest.approx(0.9995385, abs=5e-8)
    assert chart.limits(2)[1] == pytest.approx(0.9992923, abs=5e-8)
    assert chart.drift is None and not chart.beyond_action
    assert chart_of(values[:3], [True] * 3, range(3), 1e-9) is None


def test_weighted_mean_by_hand() -> None:
    """z = 0.2 x + 0.8 z from the centre; half width 3 sigma sqrt(0.2/1.8 (1 - 0.8^2i)): the formulas of the docstring,
    worked through here step by step."""
    values = [1.0, 1.0002, 0.9998, 1.0, 1.0001, 1.0004]
    chart = chart_of(values, [True] * 6, range(6), 1e-9, baseline=5)
    assert chart is not None
    ranges = [abs(b - a) for a, b in zip(values[:4], values[1:5])]
    sigma, z = sum(ranges) / 4 / 1.1283791670955126, sum(values[:5]) / 5
    centre = z
    for number, value in enumerate(values, 1):
        z = 0.2 * min(value, centre + 3 * sigma) + 0.8 * z
        assert chart.mean[number - 1] == pytest.approx(z, abs=1e-12)
        assert chart.width[number - 1] == pytest.approx(3 * sigma * (0.2 / 1.8 * (1 - 0.8 ** (2 * number))) ** 0.5,
                                                        rel=1e-9)


def test_history_has_the_columns_it_reads(tmp_path: Path) -> None:
    prove(tmp_path, HEAD, rows())
    with (tmp_path / "out" / "history.csv").open(encoding="utf-8") as file:
        row = next(csv.DictReader(file))
    assert row["proving"] == "P-1" and row["accepted"] == "yes" and row["ro"] == ""
    assert chart_history(read_history(tmp_path / "out" / "history.csv")).factors is None
