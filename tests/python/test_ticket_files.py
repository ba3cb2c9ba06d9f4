# SPDX-License-Identifier: Apache-2.0
"""Ticket files: their figures against evaluate_ticket and ticket_two_ways, against a script that knows nothing of the
library, their schema, and what is refused."""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import flowcomp as fc
import pytest
import ticket_examples as examples

ROOT = Path(__file__).resolve().parents[2]
SCRIPT = ROOT / "tests" / "support" / "verify_ticket.py"
TRAIL_SCRIPT = SCRIPT.with_name("verify_trail.py")
SCHEMA = ROOT / "libflowcomp" / "schema"


def tickets() -> dict[str, fc.TicketFile]:
    diesel = examples.diesel()
    return {
        "readings": fc.TicketFile.new(examples.by_readings(), key=examples.KEY),
        "averages": fc.TicketFile.new(examples.by_pulses(), liquid=diesel, key=examples.KEY),
        "intervals": fc.TicketFile.new(examples.by_pulses(factors="intervals"), liquid=examples.diesel("60F")),
        "base20": fc.TicketFile.new(examples.by_pulses(31), liquid=examples.diesel("20C"), key=examples.KEY),
        "curve": fc.TicketFile.new(examples.by_curve(), liquid=diesel, meter=examples.meter(), key=examples.KEY),
    }


TICKETS = tickets()


def run_script(*arguments: object, script: Path = SCRIPT) -> subprocess.CompletedProcess[str]:
    """The script in isolated mode and without site packages' flowcomp: it must not import the package."""
    return subprocess.run([sys.executable, str(script), *map(str, arguments)], capture_output=True, text=True)


@pytest.mark.parametrize("name", TICKETS)
def test_a_ticket_verifies(name: str, tmp_path: Path) -> None:
    ticket = TICKETS[name]
    verdict = ticket.verify(public_key=fc.public_key(examples.KEY) if ticket.signed else None)
    assert verdict.good and verdict.same_contract and not verdict.differences
    assert verdict.seal == ("good" if ticket.signed else "none") and verdict.figures > 30
    ticket.save(tmp_path / "ticket.json")
    assert fc.TicketFile.load(tmp_path / "ticket.json").text == ticket.text


def test_the_script_does_not_know_the_library() -> None:
    for name in ("verify_ticket", "verify_trail", "record_form", "ticket_formulas"):
        text = SCRIPT.with_name(f"{name}.py").read_text()
        assert "flowcomp\n" not in text and "import flowcomp" not in text and "from flowcomp" not in text


@pytest.mark.parametrize("name", TICKETS)
def test_an_independent_script_recomputes_it(name: str, tmp_path: Path) -> None:
    path = tmp_path / "ticket.json"
    TICKETS[name].save(path)
    done = run_script(path)
    assert done.returncode == 0 and done.stdout.endswith("good\n"), done.stdout + done.stderr
    assert "not worked out" not in done.stdout
    changes = [('"gsv": ', '"gsv": 1'), ('"sw_pct": 0', '"sw_pct": 1')]
    if name == "curve":
        k = f'"k": {TICKETS[name].figures["intervals"][0]["k"]:.17g}'[:14]
        assert k in TICKETS[name].text
        changes.append((k, k[:-1] + ("1" if k[-1] != "1" else "2")))
    for changed, to in changes:  # it can fail
        path.write_text(TICKETS[name].text.replace(changed, to, 1))
        failed = run_script(path)
        assert failed.returncode == 1 and (not to.startswith('"k"') or "intervals[0]: k" in failed.stdout), failed.stdout


def test_an_independent_script_checks_a_trail(tmp_path: Path) -> None:
    path, key = tmp_path / "depot.trail", fc.public_key(examples.KEY).hex()
    with fc.Trail(path, at=examples.START, key=examples.KEY, sign_every=3, name="invented") as trail:
        for i in range(20):
            trail.configuration("nkf", 1000 + i / 3, "é\t\"", at=examples.START + timedelta(seconds=i), by="a person")
        head = trail.ticket(TICKETS["readings"], at=examples.START)
    fc.TicketFile.new(examples.by_readings() | {"id": "R-2"}, head=head, key=examples.KEY).save(tmp_path / "t.json")
    def check(key: str) -> subprocess.CompletedProcess[str]:
        return run_script(path, "--key", key, "--ticket", tmp_path / "t.json", script=TRAIL_SCRIPT)

    done = check(key)
    assert done.returncode == 0 and "trail: 22 entries" in done.stdout, done.stdout + done.stderr
    whole = path.read_bytes()
    for broken in (whole.replace(b"1000", b"1001", 1), whole[:-600], b"\n".join(whole.split(b"\n")[:-2]) + b"\n",
                   whole.replace(b"opened", b"closed")):
        path.write_bytes(broken)
        assert check(key).returncode == 1
    path.write_bytes(whole)
    assert check(fc.public_key(examples.OTHER).hex()).returncode == 1


def test_figures_are_those_of_the_functions() -> None:
    """The same functions called one by one give the same bits."""
    ticket, diesel = TICKETS["averages"], examples.diesel()
    rows = [{"iv": row["pulses"] / 38950.0, "mf": row["mf"], "t_degc": row["t_degc"], "p_kpag": row["p_kpag"]}
            for row in examples.intervals(24)]
    ways = fc.ticket_two_ways(diesel, rows, rho_base_kgm3=835.0)
    assert {name: ways[name] for name in ways.keys()} == ticket.figures["two_ways"]
    chain = fc.evaluate_ticket(iv=ways.iv, mf=1.0012, ctl=ways.ctl, cpl=ways.cpl, sw_pct=0.05, rho_base_kgm3=835.0)
    for name in ("iv", "gv", "gsv", "nsv", "swv", "mass_kg", "weight_kg"):
        assert chain[name] == ticket.figures["result"][name]
    settled = TICKETS["intervals"].figures
    assert settled["result"]["gsv"] == pytest.approx(settled["two_ways"]["gsv_intervals"], rel=1e-15)
    assert ticket.figures["substituted"] == 1 and ticket.figures["gap_s"] == 0
    assert ticket.figures["liquid_sha256"] == diesel.hash == ticket.liquid.hash


def test_the_curve_gives_each_interval_its_k() -> None:
    ticket, diesel, meter = TICKETS["curve"], examples.diesel(), examples.meter()
    for row, figures in zip(examples.intervals(12), ticket.figures["intervals"], strict=True):
        if row["pulses"] == 0:
            assert figures["k"] is None and figures["iv"] == 0 and "no_flow" in figures["flags"]
            continue
        result = meter.evaluate(diesel, pulses=row["pulses"], duration_s=3600, t_degc=row["t_degc"], p_kpag=row["p_kpag"],
                                rho_base_kgm3=835.0)
        assert figures["k"] == result.k_per_m3 and figures["iv"] == result.v_m3 and figures["ctl"] == result.ctl
    assert ticket.meter.hash == meter.hash == ticket.figures["meter_sha256"]


def test_the_schema_accepts_it_and_no_more() -> None:
    jsonschema = pytest.importorskip("jsonschema")
    referencing = pytest.importorskip("referencing")
    schemas = [json.loads(path.read_text()) for path in SCHEMA.glob("*.schema.json")]
    registry = referencing.Registry().with_resources(
        (one["$id"], referencing.Resource.from_contents(one)) for one in schemas)
    schema = next(one for one in schemas if one["$id"].endswith("ticket-1"))
    judge = jsonschema.Draft202012Validator(schema, registry=registry)
    for ticket in TICKETS.values():
        assert not list(judge.iter_errors(ticket.document))
    document = json.loads(TICKETS["averages"].text)
    document["inputs"]["intervals"][2]["extra"] = 1
    assert list(judge.iter_errors(document))


def test_validity_and_line_fill_stand_on_the_ticket() -> None:
    fill = {"base_volume_m3": 50.0, "base_t_degc": 15.0, "gc_per_degc": 33.5e-6, "e_kpa": 2.068e8, "id_m": 0.2,
            "wall_m": 0.008, "t_degc": 20.0, "p_kpag": 300.0, "ctl": 0.996, "cpl": 1.0002}
    later = fill | {"t_degc": 22.0, "ctl": 0.9945}
    ticket = fc.TicketFile.new(examples.by_readings() | {
        "validity": {"proving": {"temperature": 20.0, "flow": 0.02}, "now": {"temperature": 27.0, "flow": 0.0201},
                     "limits": {"temperature": 5.0, "flow": 0.1, "days": 30}},
        "line_fill": {"opening": fill, "closing": later}})
    assert ticket.figures["validity"] == {"exceeded": ["temperature"], "unknown": ["days"]}
    assert ticket.figures["line_fill_change_m3"] == fc.line_fill_change(fill, later)


REFUSED = [
    ({"id": ""}, fc.errors.E_MISSING, "inputs.id"),
    ({"id": "x" * 64}, fc.errors.E_BUFFER, "inputs.id"),
    ({"end": examples.START}, fc.errors.E_ORDER, "inputs.end"),
    ({"end": None}, fc.errors.E_MISSING, "inputs.end"),
    ({"closing": 1.0}, fc.errors.E_ORDER, "inputs.closing"),
    ({"ticket": {"iv": 3.0, "mf": 1.0, "ctl": 1.0, "cpl": 1.0}}, fc.errors.E_CONFLICT, "inputs.ticket.iv"),
    ({"ticket": {"mf": 1.3, "ctl": 1.0, "cpl": 1.0}}, fc.errors.E_ABOVE, "inputs.ticket.mf"),
    ({"ticket": {"mf": 1.0, "ctl": 1.0}}, fc.errors.E_NAN, "inputs.ticket.cpl"),
    ({"ticket": {"mf": 1.0, "ctl": 1.0, "cpl": 1.0, "sw_pct": 100.5}}, fc.errors.E_ABOVE, "inputs.ticket.sw_pct"),
    ({"ticket": {"mf": 1.0, "ctl": 1.0, "cpl": 1.0, "sw_pct": 7.0}}, fc.errors.E_MISSING, "inputs.ticket.ctl_water"),
    ({"iv_source": "guess"}, fc.errors.E_CHOICE, "inputs.iv_source"),
    ({"iv_source": "intervals"}, fc.errors.E_MISSING, "inputs.intervals"),
    ({"factors": "averages"}, fc.errors.E_MISSING, "inputs.intervals"),
    ({"factors": "averages", "intervals": [{}]}, fc.errors.E_MISSING, "inputs.liquid"),
    ({"colour": "red"}, fc.errors.E_SCHEMA, "inputs.colour"),
    ({"trail": {"number": 3, "hash": "abc"}}, fc.errors.E_CHOICE, "inputs.trail"),
]


@pytest.mark.parametrize(("changes", "error", "argument"), REFUSED)
def test_refusals_name_the_field(changes: dict, error: type, argument: str) -> None:
    with pytest.raises(error) as caught:
        fc.TicketFile.new(examples.by_readings() | ({"volume_unit": "m3"} if "ticket" in changes else {}) | changes)
    assert caught.value.argument == argument


@pytest.mark.parametrize(("row", "changes", "error", "argument"), [
    (3, {"start": examples.START}, fc.errors.E_ORDER, "inputs.intervals[3].start"),
    (3, {"pulses": 10.5}, fc.errors.E_NOT_WHOLE, "inputs.intervals[3].pulses"),
    (3, {"pulses": -1}, fc.errors.E_BELOW, "inputs.intervals[3].pulses"),
    (3, {"iv": 2.0}, fc.errors.E_CONFLICT, "inputs.intervals[3].iv"),
    (3, {"pulses": None}, fc.errors.E_MISSING, "inputs.intervals[3].iv"),
    (3, {"mf": 0.7}, fc.errors.E_BELOW, "inputs.intervals[3].mf"),
    (3, {"t_degc": 830.0}, fc.errors.E_ABOVE, "inputs.intervals[3].t_degc, p_kpag or density"),
    (23, {"end": examples.START + timedelta(hours=25)}, fc.errors.E_ORDER, "inputs.intervals[23].end"),
])
def test_refusals_name_the_interval(row: int, changes: dict, error: type, argument: str) -> None:
    given = examples.by_pulses()
    given["intervals"][row] |= changes
    with pytest.raises(error) as caught:
        fc.TicketFile.new(given, liquid=examples.diesel())
    assert caught.value.argument == argument


def test_any_other_byte_form_is_refused() -> None:
    text = TICKETS["averages"].text
    for other in (text[:-1], text + "\n", text.replace("  ", "\t", 1), text.replace(": 1.0012000000000001", ": 1.0012", 1),
                  json.dumps(json.loads(text)), text.replace("\n", "\r\n", 1), text.replace("850", "850.0", 1)
                  if "850" in text else text.replace('"version": 1', '"version": 1.0')):
        with pytest.raises(fc.errors.RecordError):
            fc.TicketFile.from_text(other)


def test_an_edited_figure_is_named() -> None:
    ticket = TICKETS["averages"]
    nsv = ticket.text.index('"nsv": ') + 7
    edited = ticket.text[:nsv] + "9" + ticket.text[nsv + 1:]
    verdict = fc.verify_ticket(edited)
    assert not verdict.good and not verdict.hash_good
    assert [one.figure for one in verdict.differences] == ["figures.result.nsv"] and "figures.result.nsv" in verdict.sentence
    assert fc.verify_ticket(ticket.text, public_key=fc.public_key(examples.OTHER)).seal == "other_key"
    assert fc.verify_ticket(TICKETS["intervals"].text, public_key=fc.public_key(examples.KEY)).seal == "missing"


def test_the_methods_of_an_unsigned_ticket_are_judged() -> None:
    """Whoever edits an unsigned ticket and its hash cannot raise the standing of a method; a changed input with all that
    follows from it stays possible, and the verdict says that the hash tells accidents only."""
    import hashlib
    sys.path.insert(0, str(SCRIPT.parent))
    from record_form import canonical

    def hashed(document: dict) -> bytes:
        bare = {**document, "sha256": "", "signature": ""}
        digest = hashlib.sha256((canonical(bare) + "\n").encode()).hexdigest()
        return (canonical({**bare, "sha256": digest}) + "\n").encode()

    document = json.loads(TICKETS["intervals"].text, parse_int=float)
    assert hashed(document) == TICKETS["intervals"].text.encode()
    raised = {**document, "methods": [{**one, "status": "published"} for one in document["methods"]]}
    for changed in (raised, {**document, "methods": []}):
        verdict = fc.verify_ticket(hashed(changed))
        assert verdict.hash_good and not verdict.good and verdict.differences[0].figure.startswith("methods")
    forged = fc.TicketFile.new({**document["inputs"], "nkf": 38000.0}).text
    verdict = fc.verify_ticket(forged)
    assert verdict.good and verdict.seal == "none" and "accidents only" in verdict.sentence
    stripped = json.loads(TICKETS["averages"].text, parse_int=float) | {"public_key": ""}
    assert fc.verify_ticket(hashed(stripped)).good
    assert fc.verify_ticket(hashed(stripped), public_key=fc.public_key(examples.KEY)).seal == "missing"
