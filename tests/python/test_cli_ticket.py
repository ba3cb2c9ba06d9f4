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


def test_a_trail_that_was_edited_vouches_for_nothing(site: Site) -> None:
    """The hash of a ticket in an edited trail is no evidence, even where it is the ticket's."""
    trail = site.folder / "trail.jsonl"
    assert site.ticket(unsigned=None, key=site.key, trail=trail, by="day shift").exit_code == 0
    path = site.folder / "out" / "T-1.json"
    assert run("verify", path, "--trail", trail).exit_code == 0
    assert run("verify", path, "--trail", trail, "--public-key", "00" * 32).exit_code == 1
    trail.write_bytes(trail.read_bytes().replace(b"day shift", b"day shaft", 1))
    edited = run("verify", path, "--trail", trail)
    assert edited.exit_code == 1 and "NOT INTACT" in edited.output
    assert run("verify", path, "--trail", site.folder / "none").exit_code == 2


def test_a_head_is_taken_from_a_good_ticket_only(site: Site) -> None:
    trail = site.folder / "trail.jsonl"
    assert site.ticket(unsigned=None, key=site.key, trail=trail).exit_code == 0
    path = site.folder / "out" / "T-1.json"
    assert run("evidence", "check", trail, "--ticket", path, "--public-key", PUBLIC).exit_code == 0
    path.write_text(path.read_text(encoding="utf-8").replace('"sw_pct": 0', '"sw_pct": 1', 1), encoding="utf-8")
    refused = run("evidence", "check", trail, "--ticket", path)
    assert refused.exit_code == 2 and "does not verify" in refused.output


def test_a_ticket_that_cannot_be_read_does_not_hide_the_others(site: Site) -> None:
    assert site.ticket().exit_code == 0 and site.ticket(id="T-2").exit_code == 0
    first, second = (site.folder / "out" / f"T-{number}.json" for number in (1, 2))
    first.write_text(first.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    result = run("verify", first, second)
    assert result.exit_code == 1 and "NOT READ" in result.output and "T-2" in result.output
    assert run("verify", first).exit_code == 2


def test_unknown_entries_of_a_trail_are_refused(site: Site) -> None:
    trail = site.folder / "trail.jsonl"
    assert site.ticket(trail=trail).exit_code == 0
    wrong = run("evidence", "list", trail, "--type", "tikcet")
    assert wrong.exit_code == 2 and "did you mean ticket" in wrong.output
    assert run("evidence", "list", trail, "--last", "-1").exit_code == 2


def test_names_are_no_commands(site: Site) -> None:
    """Of a terminal, of a page, of a folder."""
    result = site.ticket(id="T\x1b[31m\nred", place="<img src=x onerror=alert(1)>", remark="</dd><script>x")
    assert result.exit_code == 0 and "\x1b" not in result.output
    names = sorted(path.name for path in (site.folder / "out").iterdir())
    page, text = ((site.folder / "out" / names[place]).read_text(encoding="utf-8") for place in (0, 2))
    assert "\x1b" not in text and text.splitlines()[0].endswith("red")
    assert "<img src" not in page and "<script>x" not in page and "&lt;img src" in page
    assert site.ticket(id="../../T").exit_code == 0 and site.ticket(id=".").exit_code == 0
    assert {path.name for path in (site.folder / "out").glob("*.json")} == {names[1], "_._.._T.json", "_.json"}


# --- several factors, body term, rounding table, volume since the proving ---------------------------------------------

def proved(site: Site, name: str, pulses_shift: int = 0, f_hz: str = "1000", **head: str) -> Path:
    """Record of an accepted proving of the meter A with a nominal K of 6289.8107704 per m3 (1000 per bbl)."""
    passes = [one | {"pulses": str(int(one["pulses"]) + pulses_shift), "f_hz": f_hz} for one in rows(nu_mm2s="3")]
    whole = HEAD | {"meter": "A", "proving": name, "k_nominal_per_bbl": "", "k_nominal_per_m3": "6289.8107704",
                    "date": "2025-02-20", "expiry": "2026-01-10"} | head
    result = run("prove", write(site.folder / f"{name}.csv", whole, passes), "--out", site.folder / name)
    assert result.exit_code == 0, result.output
    return site.folder / name / f"{name}.json"


NKF = 6289.8107704


def test_several_factors(site: Site) -> None:
    """Linear between two provings at 50 and 250 Hz; the hours run at 400000/3600, 410000/3600 and 390000/1800 Hz."""
    records = [proved(site, "P-1", f_hz="50"), proved(site, "P-2", pulses_shift=40, f_hz="250", void_temperature="20")]
    low, high = (json.loads(path.read_text(encoding="utf-8"))["mf"] for path in records)
    assert low - high > 0.002
    result = site.ticket("--factor", records[1], "--factor", records[0], mf=None, nkf=NKF)
    assert result.exit_code == 0 and "each interval its own" in result.output, result.output
    document = site.document()
    f_hz = (400000 / 3600, 410000 / 3600, None, 390000 / 1800)
    for interval, rate in zip(document["inputs"]["intervals"], f_hz, strict=True):
        expected = low if rate is None else low + (high - low) * (rate - 50) / 200
        assert interval["mf"] == pytest.approx(expected, rel=1e-13)
    gv = sum(row["pulses"] / NKF * row["mf"] for row in document["inputs"]["intervals"])
    assert document["figures"]["result"]["gv"] == pytest.approx(gv, rel=1e-14)
    assert document["inputs"]["proving"] == "P-1, P-2" and run("verify", site.folder / "out" / "T-1.json").exit_code == 0
    narrow = proved(site, "P-3", pulses_shift=40, f_hz="120")
    refused = site.ticket("--factor", narrow, "--factor", records[0], mf=None, nkf=NKF, id="T-2")
    assert refused.exit_code == 2 and "--factor-beyond hold" in refused.output
    held = site.ticket("--factor", narrow, "--factor", records[0], mf=None, nkf=NKF, id="T-2", factor_beyond="hold")
    assert held.exit_code == 0 and site.document("T-2")["inputs"]["intervals"][3]["mf"] == pytest.approx(high, rel=1e-13)
    for options, said in (({"factor_over": "roshko"}, "Roshko number"), ({"mf": 1.0}, "--factor")):
        wrong = site.ticket("--factor", records[1], "--factor", records[0], **({"mf": None, "nkf": NKF} | options))
        assert wrong.exit_code == 2 and said in wrong.output
    twice = site.ticket("--factor", records[0], "--factor", records[0], mf=None, nkf=NKF, id="T-3")
    assert twice.exit_code == 2 and "at the same flow" in twice.output


def test_the_body_term_of_a_contract(site: Site) -> None:
    """B of one metal with a hub and Lame's stretch of the bore (DEVELOPERS.md), written once more here: from the proving
    (78.38 degF, 150 psig) to the mean of the hours weighted by their pulses; MF' = MF B(proving)/B(metering)."""
    from ticket_examples import meter

    record = proved(site, "P-1")
    path = site.folder / "meter.json"
    path.write_text(meter().to_json(), encoding="utf-8")
    result = site.ticket(mf=None, factor=record, nkf=NKF, body=path)
    assert result.exit_code == 0 and "contract option" in result.output, result.output
    found = site.document()["figures"]["result"]
    t = (400000 * 20.0 + 410000 * 21.0 + 390000 * 19.0) / 1.2e6
    p = (400000 * 250 + 410000 * 255 + 390000 * 245) / 1.2e6
    t_proved, p_proved = (78.38 - 32) / 1.8, 150 * 6.894757293168
    a, b, share = 0.0525 / 2, 0.0525 / 2 + 0.0039, 0.17
    per_kpa = ((1 - 2 * 0.29) * a * a + (1 + 0.29) * b * b) / (193e6 * (b * b - a * a))

    def ratio(t_degc: float, p_kpag: float) -> float:
        metal = 1 + 15.9e-6 * (t_degc - 20)
        return (1 - share) / (metal * ((metal * (1 + per_kpa * p_kpag)) ** 2 - share * metal**2))

    assert found["body_ratio"] == pytest.approx(ratio(t, p) / ratio(t_proved, p_proved), rel=1e-13)
    assert found["mf_used"] == pytest.approx(found["mf"] / found["body_ratio"], rel=1e-15)
    assert found["gsv"] == pytest.approx(found["iv"] * found["mf_used"] * found["ctpl"], rel=1e-15)
    assert run("verify", site.folder / "out" / "T-1.json").exit_code == 0
    by_hand = site.ticket(body=path, id="T-2")
    assert by_hand.exit_code == 2 and "pass one --factor" in by_hand.output


def test_a_rounding_table_of_the_user(site: Site) -> None:
    """100.1 m3 to multiples of 0.25, half away from zero: 100; factors to five decimals; mass to whole kilograms."""
    table = site.folder / "rounding.json"
    table.write_text('{"factors": 5, "ccf": 5, "volume": {"step": 0.25}, "mass": 0}', encoding="utf-8")
    result = site.ticket(rounding=table)
    assert result.exit_code == 0, result.output
    found = site.document()["figures"]["result"]
    assert found["gv"] == 100.0 and found["ctpl"] == round(found["ctpl"], 5) and found["mass_kg"] % 1 == 0
    assert found["gsv"] == pytest.approx(round(100.0 * found["ccf"] * 4) / 4, abs=1e-12)
    assert run("verify", site.folder / "out" / "T-1.json").exit_code == 0
    for text, said in (('{"volumes": 3}', "volume"), ('{"volume": "3"}', "number of decimals"), ("[1]", "object"),
                       ('{"volume": 40}', "volume"), ('{"volume": true}', "number of decimals"), ("{", "no JSON")):
        table.write_text(text, encoding="utf-8")
        wrong = site.ticket(rounding=table, id="T-2")
        assert wrong.exit_code == 2 and said in wrong.output, wrong.output
    assert "1995" in site.ticket(rounding="1996", id="T-2").output


def test_the_volume_since_the_proving(site: Site) -> None:
    """The ticket meters 1.2 million pulses over 6289.8 per m3, about 190.8 m3 times MF."""
    record = proved(site, "P-1", void_volume="1000")
    unknown = site.ticket(mf=None, factor=record, nkf=NKF)
    assert unknown.exit_code == 0 and "could not be judged: volume" in unknown.output.replace("\n", " ")
    holds = site.ticket(mf=None, factor=record, nkf=NKF, volume_since_m3=800, id="T-2")
    assert holds.exit_code == 0 and "could not be judged" not in holds.output.replace("\n", " "), holds.output
    now = site.document("T-2")["inputs"]["validity"]["now"]["volume"]
    assert now == pytest.approx(800 + 1.2e6 / NKF * site.document("T-2")["figures"]["result"]["mf"], rel=1e-13)
    over = site.ticket(mf=None, factor=record, nkf=NKF, volume_since_m3=820, id="T-3")
    assert over.exit_code == 1 and "exceeded: volume" in over.output.replace("\n", " ")


# --- files and other programs -----------------------------------------------------------------------------------------

def test_a_link_left_in_the_folder_is_not_followed(site: Site) -> None:
    victim = site.folder / "victim"
    victim.write_text("mine", encoding="utf-8")
    (site.folder / "out").mkdir()
    (site.folder / "out" / "T-1.json.part").symlink_to(victim)
    assert site.ticket().exit_code == 0
    assert victim.read_text(encoding="utf-8") == "mine" and not (site.folder / "out" / "T-1.json").is_symlink()


def test_what_to_change_where_a_trail_cannot_be_opened(site: Site) -> None:
    import flowcomp as fc
    from datetime import UTC, datetime

    trail = site.folder / "trail.jsonl"
    with fc.Trail(trail, at=datetime(2025, 3, 1, tzinfo=UTC), key=bytes.fromhex(SEED)):
        busy = site.ticket(unsigned=None, key=site.key, trail=trail)
        assert busy.exit_code == 2 and str(trail) in busy.output.replace("\n", "") and "run again" in busy.output
    site.key.write_text(PUBLIC + "\n", encoding="ascii")
    wrong = site.ticket(unsigned=None, key=site.key, trail=trail)
    assert wrong.exit_code == 2 and "--key" in wrong.output
    nowhere = site.ticket(trail=site.folder / "none" / "trail.jsonl")
    assert nowhere.exit_code == 3 and "No such file or directory" in nowhere.output


def test_provings_that_were_entered_in_part_can_be_entered(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that is full after the first of two entries: the same command again goes on; another proving of that
    identifier is refused."""
    import flowcomp as fc

    trail = site.folder / "trail.jsonl"
    files = [write(site.folder / f"{name}.csv", HEAD | {"meter": "A", "proving": name, "date": day}, rows())
             for name, day in (("P-1", "2024-05-01"), ("P-2", "2024-06-01"))]
    whole = fc.Trail.proving

    def full_after_one(self: fc.Trail, id: str, *more: Any, **given: Any) -> Any:
        if id == "P-2":
            raise fc.errors.E_FILE("path", value=28)
        return whole(self, id, *more, **given)

    monkeypatch.setattr(fc.Trail, "proving", full_after_one)
    given = ("--out", site.folder / "p", "--trail", trail, "--unsigned")
    assert run("prove", *files, *given).exit_code == 3 and not (site.folder / "p").exists()
    monkeypatch.undo()
    changed = write(site.folder / "other.csv", HEAD | {"meter": "A", "proving": "P-1"}, rows(t_meter_degf="78.5"))
    refused = run("prove", changed, files[1], *given)
    assert refused.exit_code == 2 and "it is another" in refused.output
    again = run("prove", *files, *given)
    assert again.exit_code == 0, again.output
    assert [entry["id"] for entry in fc.trail_entries(trail)] == ["", "P-1", "P-2"]
    assert run("prove", *files, *given, "--overwrite").exit_code == 2
