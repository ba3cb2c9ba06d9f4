# SPDX-License-Identifier: Apache-2.0
"""The commands ticket, verify and evidence: a ticket worked through by hand, what a user may get wrong, and what
changes of a ticket or a trail are seen."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.csv
import pyarrow.parquet
import pytest
from small_site import run
from test_cli_prove import HEAD, rows, write

OIL = """liquid,group,base,t_degc,nu_mm2s,u_nu_pct
gas_oil,refined,15C,0,6.0,1.0
gas_oil,refined,15C,60,1.7,1.0
"""
HEADER = "time,meter,pulses,flowing_s,t_degc,p_kpag"
READINGS = ["2025-03-01T01:00:00+00:00,A,400000,3600,20.0,250", "2025-03-01T02:00:00+00:00,A,410000,3600,21.0,255",
            "2025-03-01T03:00:00+00:00,A,0,0,25.0,100", "2025-03-01T04:00:00+00:00,A,390000,1800,19.0,245"]
SEED = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60"  # RFC 8032, 7.1, test 1
PUBLIC = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a"  # the same


class Site:
    """A folder with readings, liquid and key, and the ticket made of them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.key = folder / "key.txt"
        self.key.write_text(SEED + "\n", encoding="ascii")
        self.key.chmod(0o600)
        (folder / "oil.csv").write_text(OIL, encoding="utf-8")
        self.readings(READINGS)

    def readings(self, lines: list[str], header: str = HEADER) -> None:
        (self.folder / "readings.csv").write_text("\n".join([header, *lines]) + "\n", encoding="utf-8")

    def ticket(self, *more: object, **changed: object) -> Any:
        """Make it; options by name, None leaves one out, True passes it without a value."""
        options: dict[str, object] = {
            "id": "T-1", "start": "2025-03-01T00:00:00+00:00", "end": "2025-03-01T04:00:00+00:00", "tag": "A",
            "nkf": 12000, "mf": 1.001, "liquid": self.folder / "oil.csv", "rho-base-kgm3": 840, "interval": 3600,
            "unsigned": True, "out": self.folder / "out"} | {name.replace("_", "-"): v for name, v in changed.items()}
        words: list[object] = []
        for name, value in options.items():
            words += [] if value is None else [f"--{name}"] if value is True else [f"--{name}", value]
        result = run("ticket", self.folder / "readings.csv", *words, *more)
        assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
        return result

    def document(self, name: str = "T-1") -> dict[str, Any]:
        return json.loads((self.folder / "out" / f"{name}.json").read_text(encoding="utf-8"))


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path)


def test_a_ticket_by_hand(site: Site) -> None:
    """IV = N/NKF, GV = IV MF, GSV = sum of GV CTL CPL by the independent 11.1 of the depot's generator (to 3e-7: two
    writings of one method), NSV = GSV (1 - S&W), mass = NSV rho; the interval without flow counts for nothing."""
    import sys

    from depot_truth import DEPOT
    sys.path.insert(0, str(DEPOT))
    from petroleum_independent import ctpl15

    result = site.ticket(sw_pct=0.5)
    assert result.exit_code == 0, result.output
    found = site.document()["figures"]["result"]
    volumes = [(400000 / 12000, 20.0, 250.0), (410000 / 12000, 21.0, 255.0), (390000 / 12000, 19.0, 245.0)]
    gsv = sum(iv * 1.001 * float(ctpl15(840.0, t, p)) for iv, t, p in volumes)
    assert found["iv"] == pytest.approx(100.0, rel=1e-14) and found["gv"] == pytest.approx(100.1, rel=1e-14)
    assert found["gsv"] == pytest.approx(gsv, rel=3e-7)
    assert found["nsv"] == pytest.approx(found["gsv"] * 0.995, rel=1e-14)
    assert found["mass_kg"] == pytest.approx(found["nsv"] * 840, rel=1e-14)
    ways = site.document()["figures"]["two_ways"]
    t_mean = sum(iv * t for iv, t, _ in volumes) / 100
    assert ways["t_degc"] == pytest.approx(t_mean, rel=1e-14)  # flow-weighted, the standstill left out
    assert ways["gsv_intervals"] == pytest.approx(found["gsv"], rel=1e-14) and ways["difference_ppm"] != 0
    for kind in ("txt", "html"):
        text = (site.folder / "out" / f"T-1.{kind}").read_text(encoding="utf-8")
        assert "claim until the parties agree" in text and "Two ways over the ticket" in text
        quantities = [f">{word}<" if kind == "html" else f"  {word}  " for word in (
            "indicated volume", "gross volume", "gross standard volume", "net standard volume")]
        order = [text.index(word) for word in quantities]
        assert order == sorted(order)
    averages = site.ticket(settle="averages", overwrite=True)
    assert averages.exit_code == 0 and "at T and P" in averages.output


def test_parquet_gives_the_same_ticket(site: Site) -> None:
    assert site.ticket().exit_code == 0
    first = site.document()
    frame = pyarrow.csv.read_csv(site.folder / "readings.csv")
    times = pa.array([str(value).replace(" ", "T") + "+00:00" if "+" not in str(value) else str(value)
                      for value in frame["time"].to_pylist()])
    frame = frame.set_column(0, "time", times)
    pyarrow.parquet.write_table(frame, site.folder / "readings.parquet")
    os.replace(site.folder / "readings.parquet", site.folder / "readings.csv.parquet")
    result = run("ticket", site.folder / "readings.csv.parquet", "--id", "T-1", "--start", "2025-03-01T00:00:00+00:00",
                 "--end", "2025-03-01T04:00:00+00:00", "--tag", "A", "--nkf", 12000, "--mf", 1.001, "--liquid",
                 site.folder / "oil.csv", "--rho-base-kgm3", 840, "--interval", 3600, "--unsigned", "--out",
                 site.folder / "out2")
    assert result.exit_code == 0, result.output
    second = json.loads((site.folder / "out2" / "T-1.json").read_text(encoding="utf-8"))
    assert second["sha256"] == first["sha256"]


def test_a_factor_of_a_proving(site: Site) -> None:
    """Way, meter and nominal K of proving and ticket must agree; triggers are judged, a policy says what they do."""
    head = HEAD | {"meter": "A", "k_nominal_per_bbl": "", "k_nominal_per_m3": "6289.8107704", "date": "2025-02-20",
                   "expiry": "2026-01-10", "void_days": "5", "void_temperature": "3", "void_viscosity": "0.5"}
    proved = run("prove", write(site.folder / "runs.csv", head, rows(nu_mm2s="3")), "--out", site.folder / "proved")
    assert proved.exit_code == 0, proved.output
    record = site.folder / "proved" / "P-1.json"
    flagged = site.ticket(mf=None, factor=record, nkf=6289.8107704)
    assert flagged.exit_code == 1 and "triggers of the factor exceeded: temperature, days" in flagged.output.replace(
        "\n", " ")
    document = site.document()
    assert document["inputs"]["proving"] == "P-1" and set(document["figures"]["validity"]["exceeded"]) == {
        "temperature", "days"}
    refused = site.ticket(mf=None, factor=record, nkf=6289.8107704, on_void="refuse", id="T-2")
    assert refused.exit_code == 2 and "no ticket" in refused.output and not (site.folder / "out/T-2.json").exists()
    wider = site.ticket("--void-limit", "temperature=10", "--void-limit", "days=31", mf=None, factor=record,
                        nkf=6289.8107704, id="T-3")
    assert wider.exit_code == 0, wider.output
    for changed, said in (({"nkf": 6000}, "nominal K"), ({"tag": "B"}, "of the meter A"),
                          ({"end": "2025-02-01T04:00:00+00:00", "start": "2025-02-01T00:00:00+00:00"},
                           "after the ticket"),
                          ({"mf": 1.0}, "--factor")):
        result = site.ticket(**({"mf": None, "factor": record, "nkf": 6289.8107704, "overwrite": True} | changed))
        assert result.exit_code == 2 and said in result.output.replace("\n", " "), result.output
    content = json.loads(record.read_text(encoding="utf-8"))
    record.write_text(json.dumps(content | {"in_force": False}), encoding="utf-8")
    assert "not put in force" in site.ticket(mf=None, factor=record, nkf=6289.8107704).output


# --- what a user may get wrong ----------------------------------------------------------------------------------------

@pytest.mark.parametrize("changed, said", [
    ({"sw_pct": 101}, "sw_pct"), ({"sw_pct": -1}, "sw_pct"), ({"sw_pct": 20}, "ctl_water"),
    ({"mf": 0.5}, "mf"), ({"mf": None}, "--factor"), ({"nkf": None}, "--nkf"), ({"nkf": 0}, "nkf"),
    ({"end": "2025-02-01T00:00:00+00:00"}, "clock run backwards"), ({"start": "yesterday"}, "write a time"),
    ({"start": "2025-03-01T00:30:00+00:00"}, "crosses opening or closing"),
    ({"unsigned": None}, "--key"), ({"rho_base_kgm3": None}, "density"), ({"rho_base_kgm3": 0.84}, "density"),
    ({"tag": "B"}, "other tags"), ({"id": "x" * 70}, "id"), ({"interval": None}, "--interval"),
    ({"void_limit": "colour=3"}, "triggers are"), ({"liquid_name": "beer"}, "gas_oil"),
])
def test_wrong_options(site: Site, changed: dict[str, object], said: str) -> None:
    result = site.ticket(**changed)
    assert result.exit_code == 2, result.output
    assert said in result.output.replace("\n", " ") and "Traceback" not in result.output
    assert not (site.folder / "out" / "T-1.json").exists()


@pytest.mark.parametrize("row, said", [
    ("2025-03-01T02:00:00+00:00,A,410000,3600,294.15,255", "another unit"),  # kelvin
    ("2025-03-01T02:00:00+00:00,A,410000,3600,,255", "is missing"),
    ("2025-03-01T02:00:00+00:00,A,-410000,3600,21.0,255", "reverse flow"),
    ("2025-03-01T02:00:00+00:00,A,410000.5,3600,21.0,255", "whole"),
    ("2025-03-01T00:30:00+00:00,A,410000,3600,21.0,255", "before that of earlier rows"),  # the clock ran backwards
    ("2025-03-01T01:00:00+00:00,A,410000,3600,21.0,255", "once more"),
])
def test_wrong_readings(site: Site, row: str, said: str) -> None:
    site.readings([READINGS[0], row, *READINGS[2:]])
    result = site.ticket()
    assert result.exit_code == 2, result.output
    assert said in result.output.replace("\n", " ")


def test_what_is_put_in_stands_on_the_ticket(site: Site) -> None:
    site.readings([READINGS[0], "2025-03-01T02:00:00+00:00,A,410000,3600,850,255", *READINGS[2:]])
    assert "--substitute last" in site.ticket().output
    result = site.ticket(substitute="last")
    assert result.exit_code == 0 and "1 interval(s) with a reading put in" in result.output.replace("\n", " ")
    interval = site.document()["inputs"]["intervals"][1]
    assert interval["t_degc"] == 20.0 and interval["substituted"] == "t_degc 850 failed: last good 20"
    site.readings([READINGS[0], "2025-03-01T01:00:00+00:00,A,9,3600,20,255", *READINGS[1:]])
    assert "--bad-rows gap" in site.ticket(id="T-2").output
    gap = site.ticket(id="T-2", bad_rows="gap")
    assert gap.exit_code == 0 and "Left out" in gap.output
    assert site.document("T-2")["figures"]["pulses"] == 1_200_000


def test_a_counter_with_a_gap(site: Site) -> None:
    site.readings(["2025-03-01T00:00:00+00:00,A,4294900000,20,250", "2025-03-01T01:00:00+00:00,A,332704,20,250",
                   "2025-03-01T04:00:00+00:00,A,1132704,20,250"], header="time,meter,counter,t_degc,p_kpag")
    result = site.ticket(counter_modulus=4294967296, counter_max_hz=500)
    assert result.exit_code == 0, result.output
    assert site.document()["figures"]["pulses"] == 400000 + 800000
    assert "counter" in site.ticket(id="T-2").output  # falls, and the modulus is not known


def test_water_apart_and_line_fill(site: Site) -> None:
    """NSV = GV (1 - X) CTPL at the meter's conditions; the fill of the line stands apart."""
    fill = {"base_volume_m3": 50.0, "base_t_degc": 15.0, "gc_per_degc": 33.5e-6, "e_kpa": 2.068e8, "id_m": 0.3,
            "wall_m": 0.01, "t_degc": 20.0, "p_kpag": 250.0, "ctl": 0.9958, "cpl": 1.0002}
    path = site.folder / "fill.json"
    path.write_text(json.dumps({"opening": fill, "closing": fill | {"ctl": 0.9968}}), encoding="utf-8")
    result = site.ticket(sw_pct=20, sw_basis="volume_at_meter", ctl_water=0.999, cpl_water=1.0001, line_fill=path)
    assert result.exit_code == 0, result.output
    figures = site.document()["figures"]
    found = figures["result"]
    assert found["apart"] == 1 and found["nsv"] == pytest.approx(found["gv"] * 0.8 * found["ctpl"], rel=1e-13)
    volume = 50.0 * (1 + 33.5e-6 * 5) * (1 + 250.0 * 0.3 / (2.068e8 * 0.01)) * 1.0002
    assert figures["line_fill_change_m3"] == pytest.approx(volume * 0.0010, rel=1e-9)
    assert "in no total above" in result.output.replace("\n", " ")
    path.write_text('{"opening": {}}', encoding="utf-8")
    assert site.ticket(id="T-2", line_fill=path).exit_code == 2


# --- verify and evidence ----------------------------------------------------------------------------------------------

def test_verify_sees_every_changed_figure(site: Site) -> None:
    assert site.ticket(unsigned=None, key=site.key).exit_code == 0
    path = site.folder / "out" / "T-1.json"
    good = run("verify", path, "--public-key", PUBLIC)
    assert good.exit_code == 0 and "signed by the key given" in good.output, good.output
    assert run("verify", path, "--public-key", "00" * 32).exit_code == 1
    text = path.read_text(encoding="utf-8")
    gsv = site.document()["figures"]["result"]["gsv"]
    line = next(line for line in text.splitlines() if '"gsv": ' in line and repr(gsv)[:12] in line)
    digit = line.rstrip(",")[-1]
    path.write_text(text.replace(line.rstrip(","), line.rstrip(",")[:-1] + ("1" if digit != "1" else "2"), 1),
                    encoding="utf-8")
    bad = run("verify", path)
    assert bad.exit_code in (1, 2) and "Traceback" not in bad.output
    path.write_text(text.replace('"A"', '"B"', 1), encoding="utf-8")
    assert run("verify", path).exit_code == 1
    path.write_text("{}", encoding="utf-8")
    assert run("verify", path).exit_code == 2
    assert run("verify", site.folder / "none.json").exit_code == 2


def test_trail_of_provings_and_tickets(site: Site) -> None:
    trail = site.folder / "trail.jsonl"
    head = HEAD | {"meter": "A"}
    assert "--key" in run("prove", write(site.folder / "runs.csv", head, rows()), "--out", site.folder / "p", "--trail",
                          trail).output
    proved = run("prove", site.folder / "runs.csv", "--out", site.folder / "p", "--trail", trail, "--key", site.key,
                 "--at", "2025-03-01T05:00:00+00:00", "--by", "day shift")
    assert proved.exit_code == 0, proved.output
    for number in (1, 2):
        made = site.ticket(id=f"T-{number}", unsigned=None, key=site.key, trail=trail, by="day shift",
                           at=f"2025-03-01T06:0{number}:00+00:00")
        assert made.exit_code == 0, made.output
    again = site.ticket(id="T-2", unsigned=None, key=site.key, trail=trail, out=site.folder / "other")
    assert again.exit_code == 2 and not (site.folder / "other").exists()  # a duplicate identifier leaves nothing
    twice = run("prove", site.folder / "runs.csv", "--out", site.folder / "p2", "--trail", trail, "--key", site.key)
    assert twice.exit_code == 2 and "already" in twice.output and not (site.folder / "p2").exists()
    listed = run("evidence", "list", trail)
    assert listed.exit_code == 0 and "P-1" in listed.output and "T-2" in listed.output
    tickets = [site.folder / "out" / f"T-{number}.json" for number in (1, 2)]
    assert run("verify", *tickets, "--trail", trail).exit_code == 0
    checked = run("evidence", "check", trail, "--public-key", PUBLIC, "--ticket", tickets[1])
    assert checked.exit_code == 0 and "intact" in checked.output, checked.output
    entries = trail.read_bytes().splitlines(keepends=True)
    last = json.loads(entries[-1])
    trail.write_bytes(b"".join(entries[:-1]))
    assert run("evidence", "check", trail).exit_code == 0  # whole entries cut off: not seen without a head
    cut = run("evidence", "check", trail, "--head", f"{last['body']['entry']}:{last['hash']}")
    assert cut.exit_code == 1 and "NOT INTACT" in cut.output
    assert run("verify", tickets[1], "--trail", trail).exit_code == 1
    trail.write_bytes(b"".join(entries).replace(b"day shift", b"day shaft", 1))
    edited = run("evidence", "check", trail)
    assert edited.exit_code == 1 and "NOT INTACT" in edited.output
    assert run("evidence", "check", trail, "--head", "17:xyz").exit_code == 2
    assert run("evidence", "check", site.folder / "none").exit_code == 2


def test_export(site: Site) -> None:
    trail = site.folder / "trail.jsonl"
    assert site.ticket(trail=trail).exit_code == 0
    for kind in ("csv", "json"):
        result = run("evidence", "export", trail, "--out", site.folder / f"copy.{kind}", "--format", kind)
        assert result.exit_code == 0 and "no evidence" in result.output
    entries = json.loads((site.folder / "copy.json").read_text(encoding="utf-8"))
    assert [entry["type"] for entry in entries] == ["opened", "ticket"]
    assert (site.folder / "copy.csv").read_text(encoding="utf-8").count("T-1") == 1
    assert "accidents only" in run("evidence", "check", trail).output.replace("\n", " ")
    assert run("evidence", "export", trail, "--out", site.folder / "copy.csv").exit_code == 2


def test_key_files(site: Site) -> None:
    site.key.chmod(0o644)
    assert "chmod 600" in site.ticket(unsigned=None, key=site.key).output
    site.key.chmod(0o600)
    site.key.write_text("secret\n", encoding="ascii")
    assert "64 hexadecimal digits" in site.ticket(unsigned=None, key=site.key).output
    assert "no such key file" in site.ticket(unsigned=None, key=site.folder / "none").output
