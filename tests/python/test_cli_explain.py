# SPDX-License-Identifier: Apache-2.0
"""``flowcomp explain``, ``liquid``, ``methods`` and the help: values redone by hand, words that must stand there."""

from __future__ import annotations

import json
import math
from pathlib import Path

import flowcomp as fc
import pytest
from small_site import SmallSite, run

STATE = ("--t-degc", 20, "--p-kpag", 250, "--rho-base-kgm3", 840)


@pytest.fixture
def site(tmp_path: Path) -> SmallSite:
    site = SmallSite(tmp_path)
    assert run("liquid", site.folder / "liquids.csv", "--out", site.folder / "liquids").exit_code == 0
    return site


def explain(site: SmallSite, *options: object) -> object:
    return run("explain", site.folder / "meter.json", site.folder / "liquids" / "gas_oil.json", *options)


def test_steps_can_be_redone(site: SmallSite) -> None:
    """Ro = f D^2/nu, K = 4 St B/(pi D0^3), V = N/K from the values of the steps before, by the definitions."""
    result = explain(site, *STATE, "--pulses", 400000, "--duration-s", 3600, "--json")
    assert result.exit_code == 0, result.output
    shown = json.loads(result.stdout)
    values = {step["symbol"]: step["value"] for step in shown["steps"]}
    f = 400000 / 3600
    assert values["f"] == pytest.approx(f, rel=1e-15)
    assert values["Ro"] == pytest.approx(f * values["D"] ** 2 / (values["nu"] * 1e-6), rel=1e-14)
    k = 4 * values["St"] / (math.pi * 0.0525**3) * values["B"]
    assert values["K"] == pytest.approx(k, rel=1e-14)
    assert values["V"] == pytest.approx(400000 / k, rel=1e-14)


def test_text_shows_sources_and_cautions(site: SmallSite) -> None:
    result = explain(site, *STATE, "--f-hz", 250)
    assert result.exit_code == 0
    for words in ("Roshko", "API MPMS 11.1", "ASTM D341", "from memory", "contract's method decides"):
        assert words in result.output, words


def test_refused_evaluation_shows_its_steps(site: SmallSite) -> None:
    result = explain(site, "--t-degc", 80, "--p-kpag", 250, "--rho-base-kgm3", 840, "--f-hz", 250)
    assert result.exit_code == 2
    assert "t_degc" in result.output and "60" in result.output
    shown = json.loads(explain(site, "--t-degc", 80, "--p-kpag", 250, "--rho-base-kgm3", 840, "--f-hz", 250,
                               "--json").stdout)
    assert shown["status"] == "E_ABOVE_VISCOSITY_RANGE"


@pytest.mark.parametrize(("options", "words"), [
    ((*STATE,), ["pulses"]),
    ((*STATE, "--f-hz", 250, "--pulses", 10), ["f_hz"]),
    ((*STATE, "--f-hz", "fast"), ["--f-hz"]),
    (("--f-hz", 250), ["--t-degc"]),
])
def test_mistakes(site: SmallSite, options: tuple[object, ...], words: list[str]) -> None:
    result = explain(site, *options)
    assert result.exit_code == 2
    assert all(word in result.output for word in words) and "Traceback" not in result.output


def test_files_that_are_none(site: SmallSite) -> None:
    liquid = site.folder / "liquids" / "gas_oil.json"
    result = run("explain", liquid, liquid, *STATE, "--f-hz", 250)
    assert result.exit_code == 2 and "no meter file" in result.output
    result = run("explain", site.folder / "meter.json", site.folder / "none.json", *STATE, "--f-hz", 250)
    assert result.exit_code == 2 and "there is no such file" in result.output


# --- liquids ----------------------------------------------------------------------------------------------------------

def test_liquid_files_hold_the_table(site: SmallSite) -> None:
    liquid = fc.Liquid.load(site.folder / "liquids" / "gas_oil.json")
    assert (liquid.points.t_degc, liquid.points.nu_mm2s) == ((0.0, 60.0), (6.0, 1.7))
    assert (liquid.group, liquid.base, liquid.u_nu_relative) == ("refined", "15C", 0.005)


def test_folder_and_table_of_liquids_give_the_same(site: SmallSite) -> None:
    site.pulses(400000, 500000)
    assert site.restate().exit_code == 0
    rows = site.rows()
    assert site.restate(liquids=site.folder / "liquids", overwrite=True).exit_code == 0
    assert site.rows() == rows
    assert site.restate(liquids=site.folder / "liquids" / "gas_oil.json", overwrite=True).exit_code == 0
    assert site.rows() == rows


def test_kinds_of_liquids(site: SmallSite) -> None:
    site.write("kinds.csv", "liquid,volume,alpha60_per_degf,group,base,viscosity,family,t_degc,nu_mm2s,u_nu_pct,source",
               "jet,,,jet,15C,one_point,jet_a,40,1.3,4,invented report", "water,none,,,,typical,,20,1.0,10,",
               "special,,0.0005,,60F,measured,,,,1,")
    result = run("liquid", site.folder / "kinds.csv", "--out", site.folder / "kinds")
    assert result.exit_code == 0, result.output
    jet, water, special = (fc.Liquid.load(site.folder / "kinds" / f"{name}.json")
                           for name in ("jet", "water", "special"))
    assert (jet.viscosity_source, jet.nu_source, jet.group) == ("one_point", "invented report", "jet")
    assert (water.volume_method, water.viscosity(80).nu_mm2s) == ("none", 1.0)
    assert (special.viscosity_source, special.alpha60_per_degf, special.base) == ("measured", 0.0005, "60F")


def test_liquids_are_not_overwritten_unasked(site: SmallSite) -> None:
    result = run("liquid", site.folder / "liquids.csv", "--out", site.folder / "liquids")
    assert result.exit_code == 2 and "--overwrite" in result.output


# --- selfcheck, methods and help --------------------------------------------------------------------------------------

def test_methods_as_table_text_and_json() -> None:
    names = list(fc.method_names())
    listed = run("methods")
    assert listed.exit_code == 0 and f"{len(names)} methods" in listed.output
    assert [row["name"] for row in json.loads(run("methods", "--json").stdout)] == names
    one = run("methods", "ctl60_petroleum_2004")
    assert "rho60_kgm3" in one.output and "API MPMS 11.1" in one.output
    assert run("methods", "no_such_method").exit_code == 2


def test_selfcheck_passes_and_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    result = run("selfcheck")
    assert result.exit_code == 0 and "rows passed, 0 failed" in result.output
    from flowcomp import selfcheck
    rows = [selfcheck.Row(row.file, row.line, {**row.cells, "expected": "12345"}) for row in selfcheck.carried_rows()
            if row["role"] == "conformance" and not row["expected"].startswith("E_")][:1]
    monkeypatch.setattr(selfcheck, "carried_rows", lambda: iter(rows))
    assert run("selfcheck").exit_code == 1
    monkeypatch.setattr(selfcheck, "carried_rows", lambda: iter(()))
    assert run("selfcheck").exit_code == 1


@pytest.mark.parametrize("command", ["fit", "liquid", "explain", "restate", "selfcheck", "methods"])
def test_help_carries_the_cautions(command: str) -> None:
    text = " ".join(run(command, "--help").output.split())
    for words in ("claim until both parties agree", "contract's method decides", "licensed practice come first",
                  "Exit codes:"):
        assert words in text, words
