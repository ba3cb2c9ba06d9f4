# SPDX-License-Identifier: Apache-2.0
"""The command ticket by contract: several factors, the body term, a rounding table, the volume since the proving,
and what was metered beside it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from small_site import run
from test_cli_prove import HEAD, rows, write
from test_cli_ticket import Site, site  # noqa: F401


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


def test_what_was_metered_beside_the_ticket(site: Site) -> None:
    """Reverse flow and the interface have lines of their own and change no total."""
    assert site.ticket().exit_code == 0
    without = site.document()["figures"]
    result = site.ticket(id="T-2", reverse=0.125, below_range=0, interface=2.5, interface_share=1.25,
                         interface_rule="half")
    assert result.exit_code == 0 and "Beside the ticket" in result.output and "2.5 m³" in result.output, result.output
    assert site.document("T-2")["figures"] == without
    assert site.document("T-2")["inputs"]["beside"]["maintenance"] is None
    assert run("verify", site.folder / "out" / "T-2.json").exit_code == 0
    for options, said in (({"interface_share": 1}, "interface"), ({"interface": 1, "interface_share": 2,
                          "interface_rule": "half"}, "interface_share"), ({"reverse": -1}, "--reverse"),
                          ({"interface": 2, "interface_share": 1}, "interface_rule")):
        wrong = site.ticket(id="T-3", **options)
        assert wrong.exit_code == 2 and said in wrong.output, wrong.output
