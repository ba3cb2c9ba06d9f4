# SPDX-License-Identifier: Apache-2.0
"""The gate of the check rows: it fails when it should, and the installed package proves itself."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import flowcomp as fc
import pytest
from flowcomp import selfcheck

TESTS = Path(__file__).resolve().parents[1]
HEAD = ",".join(selfcheck.COLUMNS)
GOOD = 'good,round_half_away,value=2.5;decimals=0,3,1e-9,1,conformance,computed,"by hand",,'


def gate(*arguments: str | Path) -> tuple[int, list[str]]:
    done = subprocess.run([sys.executable, str(TESTS / "check_rows.py"), *map(str, arguments)], capture_output=True,
                          text=True)
    assert not done.stderr, done.stderr
    return done.returncode, done.stdout.splitlines()


def run_rows(folder: Path, *rows: str, options: tuple[str, ...] = ()) -> tuple[int, list[str]]:
    file = folder / "rows.csv"
    file.write_text("\n".join([HEAD, *rows]) + "\n", encoding="utf-8")
    return gate(*options, file)


def test_rows_of_the_project_pass_and_none_passes_spoilt() -> None:
    files = sorted((TESTS / "checks").glob("*.csv"))
    status, lines = gate(*files)
    assert (status, lines[-1].split(", ")[1]) == (0, "0 failed"), "\n".join(lines)
    judged = int(lines[-1].split()[0])
    assert judged > 1000
    status, lines = gate("--self-test", *files)
    assert (status, lines[-1]) == (0, f"{judged} passed, 0 failed"), "\n".join(lines)


@pytest.mark.parametrize("row, said", [
    (GOOD.replace(",3,", ",3.1,"), "3, expected 3.1 1, error -0.1, relative -0.0323, limit 1e-9"),
    (GOOD.replace(",3,", ",3.000000003,"), "expected 3.000000003"),
    (GOOD.replace(",3,1e-9,", ",E_BELOW,,"), "the refusal did not come"),
    (GOOD.replace("value=2.5", "value=nan"), "E_NAN, expected 3: a refusal that was not expected"),
    (GOOD.replace("value=2.5", "value=nan").replace(",3,1e-9,", ",E_BELOW,,"), "E_NAN, expected E_BELOW"),
    (GOOD.replace("round_half_away", "round_half_up"), "quantity round_half_up is not known"),
    (GOOD.replace(",1e-9,", ",,"), "ValueError"),
    (GOOD.replace("value=2.5", "value=two"), "ValueError"),
    (GOOD.replace("value=2.5", "number=2.5"), "TypeError"),
    (GOOD.replace("conformance", "conforming"), "role 'conforming' is none of"),
])
def test_what_fails(tmp_path: Path, row: str, said: str) -> None:
    status, lines = run_rows(tmp_path, GOOD, row)
    assert (status, lines[-1]) == (1, "1 passed, 1 failed")
    assert any(line.startswith("FAILED") and said in line for line in lines), lines


def test_what_passes(tmp_path: Path) -> None:
    assert run_rows(tmp_path, GOOD) == (0, ["1 passed, 0 failed"])
    assert run_rows(tmp_path, "# a comment", GOOD, GOOD.replace("value=2.5", "value=nan").replace(
        ",3,1e-9,", ",E_NAN,,")) == (0, ["2 passed, 0 failed"])
    assert run_rows(tmp_path, GOOD, GOOD.replace("value=2.5", "value=3.5").replace("conformance", "contrast")) == \
        (0, ["1 contrast rows not judged", "1 passed, 0 failed"])
    assert run_rows(tmp_path, GOOD.replace(",3,", ",3.0000000009,"))[0] == 0
    lists = GOOD.replace("round_half_away,value=2.5;decimals=0,3", "repeatability_pct,runs=100 101 100.5,1")
    assert run_rows(tmp_path, lists)[1] == ["1 passed, 0 failed"]


def test_nothing_compared_is_a_failure(tmp_path: Path) -> None:
    for rows in ((), (GOOD.replace("conformance", "contrast"),)):
        status, lines = run_rows(tmp_path, *rows)
        assert (status, lines[-2:]) == (1, ["nothing was compared", "0 passed, 0 failed"])
    unknown = GOOD.replace("round_half_away", "round_half_up")
    status, lines = run_rows(tmp_path, unknown, options=("--skip-unknown",))
    assert status == 1 and lines[0] == "1 rows of unknown quantities skipped: round_half_up (1)"
    assert run_rows(tmp_path, unknown, GOOD, options=("--skip-unknown",))[0] == 0


def test_files_that_are_none(tmp_path: Path) -> None:
    (tmp_path / "other.csv").write_text("a,b\n1,2\n", encoding="utf-8")
    (tmp_path / "short.csv").write_text(HEAD + "\n" + GOOD.rsplit(",", 3)[0] + "\n", encoding="utf-8")
    for name, said in (("other.csv", "not a check file"), ("short.csv", "another number of cells"),
                       ("absent.csv", "No such file")):
        status, lines = gate(tmp_path / name)
        assert status == 1 and said in lines[0] and lines[-1] == "0 passed, 1 failed"


def test_spoilt_rows_fail() -> None:
    import check_rows
    row = next(selfcheck.read_rows([HEAD + "\n", GOOD], "rows.csv"))
    spoilt = check_rows.spoilt(row)
    assert spoilt["expected"] == "3000000003/1000000000" and not check_rows.outcome_of(spoilt).passed
    refusal = next(selfcheck.read_rows([HEAD + "\n", GOOD.replace(",3,1e-9,", ",E_NAN,,")], "rows.csv"))
    assert check_rows.spoilt(refusal)["expected"] == "E_BELOW"
    exact = next(selfcheck.read_rows([HEAD + "\n", GOOD.replace(",1e-9,", ",0,")], "rows.csv"))
    assert check_rows.outcome_of(exact).passed and not check_rows.outcome_of(check_rows.spoilt(exact)).passed


def test_carried_rows_are_those_of_the_tests() -> None:
    carried = Path(fc.__file__).parent / "checks"
    import quantities
    names = {file.name for file in (TESTS / "checks").glob("*.csv")} - quantities.OTHER_FILES.keys()
    assert {file.name for file in carried.iterdir()} == names
    for name in names:
        assert (carried / name).read_bytes() == (TESTS / "checks" / name).read_bytes()


def test_every_row_states_source_and_status() -> None:
    statuses = {"published", "from memory", "common practice", "computed", "derived"}
    count = refusals = 0
    for row in selfcheck.carried_rows():
        assert row["id"] and row["source"] and row["status"] in statuses, row.place
        assert row["role"] in (*selfcheck.JUDGED, "contrast"), row.place
        count += 1
        refusals += row["expected"].startswith("E_")
    assert count > 1000 and refusals > 200


def test_every_method_has_a_row_with_a_value() -> None:
    """A refusal alone does not show that a method computes what it says."""
    shown = {row["quantity"] for row in selfcheck.carried_rows()
             if row["role"] in selfcheck.JUDGED and not row["expected"].startswith("E_")}
    without = [name for name in fc.method_names() if name not in shown]
    assert not without, "methods without a check row that has a value: " + ", ".join(without)


def test_selfcheck_reports() -> None:
    report = selfcheck.run()
    assert report.passed and report.exit_status == 0
    lines = report.lines()
    assert lines[-1].endswith(", 0 failed") and len(report.checks) > 80
    assert lines[0].startswith("round_half_away") and "ok" in lines[0]
    assert report.without_rows == []
    done = subprocess.run([sys.executable, "-m", "flowcomp.selfcheck"], capture_output=True, text=True)
    assert done.returncode == 0 and done.stdout.splitlines()[-1] == lines[-1]


def test_selfcheck_fails_when_it_should(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = list(selfcheck.read_rows([HEAD + "\n", GOOD.replace(",3,", ",4,") + "\n"], "rows.csv"))
    monkeypatch.setattr(selfcheck, "carried_rows", lambda: iter(rows))
    report = selfcheck.run()
    assert not report.passed and report.exit_status == 1
    assert report.lines()[-1] == "1 quantities, 0 rows passed, 1 failed" and "1 FAILED" in report.lines()[0]
    monkeypatch.setattr(selfcheck, "carried_rows", lambda: iter(()))
    assert selfcheck.run().exit_status == 1 and "nothing was compared" in selfcheck.run().lines()[-1]
