# SPDX-License-Identifier: Apache-2.0
"""Metal, body, curve, liquid and fit. Expected values are identities or formulas written out here."""

from __future__ import annotations

import math
from fractions import Fraction

import flowcomp as fc
import numpy as np
import pandas as pd
import pytest


def close(value: float, expected: float, relative: float = 4e-15) -> bool:
    return abs(value - expected) <= relative * abs(expected)


# --- metal and body ---------------------------------------------------------------------------------------------------

def test_metal_says_what_it_rests_on() -> None:
    metal = fc.Metal.mean(16e-6, 20, 100, modulus_gpa=193, poisson=0.3, provenance="published", source="handbook X")
    assert (metal.law, metal.alpha_per_k, metal.range_degc) == ("mean", 16e-6, (20.0, 100.0))
    assert (metal.modulus_gpa, metal.poisson, metal.provenance, metal.source) == (193.0, 0.3, "published", "handbook X")
    assert repr(metal) == ("Metal(alpha 1.6e-05 /K from 20 to 100 degC, modulus 193 GPa, Poisson 0.3; "
                           "published: handbook X)")
    bare = fc.Metal.mean(16e-6, 20, 100, source="s")
    assert math.isnan(bare.modulus_gpa) and math.isnan(bare.poisson)
    table = fc.Metal.from_table("316", "api_12_2_1_1995")
    gl = fc.methods.prover_linear_expansion_per_degf(material="316")
    assert close(table.alpha_per_k, 1.8 * gl) and table.provenance == "from memory"
    assert fc.Metal.nist("304").law == "nist_cryogenic"
    assert bare == fc.Metal.mean(16e-6, 20, 100, source="s") and hash(bare) == hash(
        fc.Metal.mean(16e-6, 20, 100, source="s"))
    assert bare != metal and bare != "steel"


@pytest.mark.parametrize("make, error", [
    (lambda: fc.Metal.mean(-1e-6, 20, 100, source="s"), "E_BELOW"),
    (lambda: fc.Metal.mean(math.nan, 20, 100, source="s"), "E_NAN"),
    (lambda: fc.Metal.mean(16e-6, 100, 20, source="s"), "E_ORDER"),
    (lambda: fc.Metal.mean(16e-6, 20, 100, source="s", poisson=0.6), "E_ABOVE"),
    (lambda: fc.Metal.mean(16e-6, 20, 100, source=""), "E_MISSING"),
    (lambda: fc.Metal.mean(16e-6, 20, 100, source="s", provenance="rumour"), "E_UNKNOWN_NAME"),
    (lambda: fc.Metal.mean(16e-6, 20, 100, source="x" * 96), "E_BUFFER"),
    (lambda: fc.Metal.from_table("unobtainium", "api_12_2_1_1995"), "E_UNKNOWN_NAME"),
    (lambda: fc.Metal.nist("unobtainium"), "E_UNKNOWN_NAME"),
])
def test_metals_that_are_none(make: object, error: str) -> None:
    with pytest.raises(getattr(fc.errors, error)):
        make()  # type: ignore[operator]


def test_body_follows_its_formulas(body: fc.Body) -> None:
    """D = D0 (1 + eH)(1 + eP), eH = alpha (T - T0); eP of a closed thick wall: P [(1 - 2 nu) Ri^2 + (1 + nu) Ro^2] /
    (E (Ro^2 - Ri^2)); B = 1/[(1 + eH)^3 (1 + eP)^2] for one metal without hub."""
    t, p = np.array([20.0, 60.0, -20.0]), np.array([0.0, 1000.0, 500.0])
    state = body.at(t, p)
    ri, ro, nu, e_kpa = 0.0779 / 2, 0.0779 / 2 + 0.0055, 0.3, 193e6
    heat = 16e-6 * (t - 20)
    stretch = p / e_kpa * ((1 - 2 * nu) * ri**2 + (1 + nu) * ro**2) / (ro**2 - ri**2)
    np.testing.assert_allclose(state.strain_housing, heat, rtol=1e-15)
    np.testing.assert_allclose(state.strain_bore, stretch, rtol=2e-14)
    np.testing.assert_allclose(state.d_m, 0.0779 * (1 + heat) * (1 + stretch), rtol=4e-16)
    np.testing.assert_allclose(state.b_ratio, 1 / ((1 + heat) ** 3 * (1 + stretch) ** 2), rtol=1e-15)
    assert state.flag_words == []


def test_body_at_takes_every_form(body: fc.Body) -> None:
    one = body.at(60, 100)
    assert type(one.d_m) is float and type(one.flags) is int
    assert body.at([60.0], 100).d_m.tolist() == [one.d_m]
    assert body.at(np.full((2, 3), 60.0), 100).d_m.shape == (2, 3)
    series = body.at(pd.Series([60.0, 61.0], index=["a", "b"]), 100)
    assert series.d_m.index.tolist() == ["a", "b"] and series.d_m["a"] == one.d_m
    assert body.at([], 100).d_m.shape == (0,)
    with pytest.raises(fc.errors.E_ABOVE):
        body.at(200.0, 0)
    wider = fc.Body(bore_m=0.0779, t0_degc=20, housing=body.housing, end="none", beyond="extend")
    assert wider.beyond == "extend" and wider.at([200.0, 20.0], 0).flag_words == ["body_extrapolated"]
    with pytest.raises(fc.errors.E_NEGATIVE_PRESSURE):
        body.at(20, -1)
    with pytest.raises(fc.errors.E_ABOVE):
        body.at(700, 0)


def test_body_shows_its_units(body: fc.Body) -> None:
    assert repr(body).startswith("Body(bore 0.0779 m at 20 degC and 0 kPa gauge, end lame_closed, wall 0.0055 m, ")
    assert (body.bore_m, body.t0_degc, body.p0_kpag, body.area_blocked, body.end, body.wall_m) == \
        (0.0779, 20.0, 0.0, 0.0, "lame_closed", 0.0055)
    steel = fc.Metal.mean(16e-6, 20, 100, source="s")
    two = fc.Body(bore_m=0.1, t0_degc=15, housing=steel, rotor=fc.Metal.mean(11e-6, 0, 100, source="rotor sheet"),
                  area_blocked=0.2, end="none", beyond="extend")
    assert two.rotor is not None and "rotor sheet" in repr(two) and math.isnan(two.wall_m)


@pytest.mark.parametrize("changed, error, argument", [
    ({"bore_m": 0.0}, "E_BELOW", "bore_m"), ({"bore_m": math.nan}, "E_MISSING", "bore_m"),
    ({"t0_degc": math.nan}, "E_MISSING", "t0_degc"), ({"end": "welded"}, "E_UNKNOWN_NAME", "end"),
    ({"end": "lame_closed"}, "E_MISSING", "wall_m"), ({"area_blocked": 1.0}, "E_ABOVE", "area_blocked"),
    ({"t0_degc": 15}, "E_BELOW", "t0_degc"), ({"beyond": "guess"}, "E_UNKNOWN_NAME", "beyond"),
])
def test_bodies_that_are_none(changed: dict[str, object], error: str, argument: str) -> None:
    steel = fc.Metal.mean(16e-6, 20, 100, source="s", modulus_gpa=193, poisson=0.3)
    good = {"bore_m": 0.1, "t0_degc": 20, "housing": steel, "end": "none"}
    fc.Body(**good)  # type: ignore[arg-type]
    with pytest.raises(getattr(fc.errors, error)) as caught:
        fc.Body(**(good | changed))  # type: ignore[arg-type]
    assert argument in caught.value.argument


# --- curve ------------------------------------------------------------------------------------------------------------

CURVE = {"convention": "dimensionless", "treatment": "already_corrected", "d0_m": 0.05, "t0_degc": 20.0, "ln_ro": [9.0, 10.5, 12.0],
         "st": [2.5, 2.53, 2.56], "coefficients": [[2.5, 0.02, 0.0, 0.0], [2.53, 0.02, 0.0, 0.0]]}


def test_curve_gives_back_what_it_was_made_from() -> None:
    curve = fc.Curve.from_knots(**CURVE)
    assert (curve.knots, curve.convention, curve.treatment) == (3, "dimensionless", "already_corrected")
    assert curve.ln_ro.tolist() == CURVE["ln_ro"] and curve.st.tolist() == CURVE["st"]
    assert curve.coefficients.tolist() == CURVE["coefficients"]
    assert close(curve.ro_low, math.exp(9.0)) and close(curve.ro_high, math.exp(12.0))
    again = fc.Curve.from_knots(convention=curve.convention, treatment=curve.treatment, d0_m=curve.d0_m, t0_degc=curve.t0_degc,
                                p0_kpag=curve.p0_kpag, ln_ro=curve.ln_ro, st=curve.st, coefficients=curve.coefficients)
    assert again == curve and hash(again) == hash(curve) and again != 1
    assert repr(curve).startswith("Curve(3 knots, Ro 8103.08 to 162755, St 2.5 to 2.56; certificate dimensionless")


def test_curve_is_its_polynomial(fit: fc.Fit) -> None:
    curve = fit.curve
    ro = np.exp(np.linspace(math.log(curve.ro_low) + 1e-9, math.log(curve.ro_high) - 1e-9, 101))
    value = curve.at(ro)
    for place in range(ro.size):
        u = Fraction(value.ln_ro[place]) - Fraction(curve.ln_ro[value.segment[place]])
        c = [Fraction(c) for c in curve.coefficients[value.segment[place]]]
        exact = c[0] + u * (c[1] + u * (c[2] + u * c[3]))
        slope = (c[1] + u * (2 * c[2] + 3 * u * c[3])) / exact
        assert close(value.st[place], float(exact))
        assert abs(value.slope[place] - float(slope)) <= 1e-14
        assert close(value.ln_ro[place], math.log(ro[place]))
    assert not value.flags.any()


def test_beyond_the_curve() -> None:
    curve = fc.Curve.from_knots(**CURVE)
    with pytest.raises(fc.errors.E_BELOW_CURVE):
        curve.at(5000.0)
    with pytest.raises(fc.errors.E_ABOVE_CURVE):
        curve.at(2e5)
    assert curve.at(5000.0, below="hold_end").st == 2.5
    extended = curve.at(2e5, above="extend_slope")
    assert close(extended.st, 2.56 + 0.02 * (math.log(2e5) - 12.0))
    assert fc.flag_words(extended.flags) == ["above_curve", "extrapolated"]
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="below"):
        curve.at(5000.0, below="guess")


@pytest.mark.parametrize("changed, error", [
    ({"convention": "american"}, "E_UNKNOWN_NAME"), ({"treatment": "unknown"}, "E_UNKNOWN_NAME"),
    ({"ln_ro": [9.0, 9.0, 12.0]}, "E_ORDER"), ({"ln_ro": [9.0, math.nan, 12.0]}, "E_NAN"),
    ({"st": [2.5, -2.53, 2.56]}, "E_BELOW"), ({"coefficients": [[2.5, 0.02, 0, 0], [2.6, 0.02, 0, 0]]}, "E_DOMAIN"),
    ({"ln_ro": [9.0], "st": [2.5], "coefficients": np.empty((0, 4))}, "E_COUNT"),
])
def test_curves_that_are_none(changed: dict[str, object], error: str) -> None:
    with pytest.raises(getattr(fc.errors, error)):
        fc.Curve.from_knots(**(CURVE | changed))  # type: ignore[arg-type]


def test_curve_counts_its_numbers() -> None:
    with pytest.raises(ValueError, match="3 knots need as many values of st"):
        fc.Curve.from_knots(**(CURVE | {"coefficients": [[2.5, 0.02, 0.0, 0.0]]}))


# --- liquid -----------------------------------------------------------------------------------------------------------

def test_liquid_uses_the_published_methods(liquid: fc.Liquid) -> None:
    t = np.array([-10.0, 5.0, 25.0, 39.0])
    expected = fc.methods.nu_d341_two_point(t_degc=t, t1_degc=-20.0, nu1_mm2s=4.6, t2_degc=40.0, nu2_mm2s=1.3,
                                            form="body")
    np.testing.assert_allclose(liquid.viscosity(t).nu_mm2s, expected, rtol=4e-15)
    volume = liquid.volume(rho_base_kgm3=800.0, t_degc=t, p_kpag=300.0)
    rho = {"rho15_kgm3": 800.0, "group": "jet"}
    np.testing.assert_allclose(volume.ctl, fc.methods.ctl15_petroleum_2004(t_degc=t, **rho), rtol=1e-15)
    np.testing.assert_allclose(volume.cpl, fc.methods.cpl15_petroleum_2004(t_degc=t, p_kpag=300.0, **rho), rtol=1e-15)
    np.testing.assert_allclose(volume.ctpl, volume.ctl * volume.cpl, rtol=4e-16)
    observed = liquid.volume(rho_observed_kgm3=795.0, t_observed_degc=22.0, p_observed_kpag=200.0, t_degc=25.0)
    assert close(observed.rho_base_kgm3, fc.methods.rho15_from_observed_petroleum_2004(
        rho_kgm3=795.0, t_degc=22.0, p_kpag=200.0, group="jet"))
    assert "observed_density" in fc.flag_words(observed.flags)


def test_sources_of_viscosity() -> None:
    petroleum = {"volume": "petroleum_2004", "group": "jet", "base": "15C", "u_nu_relative": 0.02}
    measured = fc.Liquid.measured("m", **petroleum)
    assert measured.viscosity(15.0, nu_mm2s=2.0).nu_mm2s == 2.0
    with pytest.raises(fc.errors.E_MISSING):
        measured.viscosity(15.0)
    one = fc.Liquid.one_point("o", t_degc=20.0, nu_mm2s=1.7, family="jet_a", **petroleum)
    value = one.viscosity([20.0, 25.0])
    assert close(value.nu_mm2s[0], 1.7) and fc.flag_words(value.flags[1]) == ["viscosity_one_point"]
    assert one.viscosity_source == "one_point" and fc.family_slope("jet_a")[0] > 0
    light = fc.ViscosityPoints((0.0, 40.0), (2.0, 1.0), 780.0)
    heavy = fc.ViscosityPoints((0.0, 40.0), (4.0, 2.0), 820.0)
    between = fc.Liquid.between("b", first=light, second=heavy, **petroleum)
    ends = between.viscosity(40.0, rho_base_kgm3=np.array([780.0, 800.0, 820.0]))
    assert close(ends.nu_mm2s[0], 1.0) and close(ends.nu_mm2s[2], 2.0) and 1.0 < ends.nu_mm2s[1] < 2.0
    typical = fc.Liquid.typical("t", t_degc=20.0, nu_mm2s=5.0, **petroleum)
    assert typical.viscosity(20.0).nu_mm2s == 5.0
    assert fc.flag_words(typical.viscosity(20.0).flags) == ["viscosity_typical"]


@pytest.mark.parametrize(("field", "word", "known"), [
    ("group", "diesel", "crude, refined, fuel_oil, jet, transition, gasoline, lube"), ("base", "25C", "60F, 15C, 20C"),
    ("volume", "astm", "density_table"), ("viscosity", "laboratory", "measured, points, one_point, between")])
def test_unknown_word_is_answered_with_those_there_are(field: str, word: str, known: str) -> None:
    words = {"volume": "petroleum_2004", "group": "refined", "base": "15C", "viscosity": "typical", field: word}
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match=f"{field}: '{word}' is none of .*{known}"):
        fc.Liquid("x", t_degc=20, nu_mm2s=2.0, u_nu_relative=0.1, **words)


def test_slope_from_memory_is_said_through_file_and_explain(meter: fc.Meter) -> None:
    slope_b, where = fc.liquid.family_slope("oil_s20")
    assert where == "from_memory"
    own = fc.Liquid("own slope", volume="none", viscosity="one_point", t_degc=[20.0], nu_mm2s=[5.0], slope_b=slope_b,
                    u_nu_relative=0.05)
    family = fc.Liquid.one_point("family", t_degc=20.0, nu_mm2s=5.0, family="oil_s20", volume="none",
                                 u_nu_relative=0.05, nu_provenance="published")
    for made in (own, family):
        for liquid in (made, fc.Liquid.from_json(made.to_json())):
            assert "from_memory" in fc.flag_words(liquid.viscosity(25.0).flags)
            steps = {step.symbol: step for step in meter.explain(liquid, f_hz=300.0, t_degc=25.0, p_kpag=300.0).steps}
            assert steps["B1"].status == steps["W"].status == "from memory" != steps["W1"].status


def test_liquid_says_what_it_was_made_from(liquid: fc.Liquid) -> None:
    assert (liquid.name, liquid.volume_method, liquid.group, liquid.base) == \
        ("invented jet fuel", "petroleum_2004", "jet", "15C")
    assert (liquid.viscosity_source, liquid.u_nu_relative, liquid.nu_source) == ("points", 0.01, "invented report")
    assert (liquid.points.t_degc, liquid.points.nu_mm2s) == ((-20.0, 40.0), (4.6, 1.3))
    assert math.isnan(liquid.points.rho_base_kgm3)
    assert math.isnan(liquid.alpha60_per_degf)
    assert repr(liquid) == ("Liquid('invented jet fuel', petroleum_2004, jet, base 15C; viscosity points: "
                            "4.6 mm2/s at -20 degC; 1.3 mm2/s at 40 degC, u 1 %)")
    special = fc.Liquid.measured("s", volume="petroleum_2004", alpha60_per_degf=500e-6, base="60F", u_nu_relative=0.0)
    assert special.group is None and "alpha60 0.0005 /degF, base 60F" in repr(special)
    bare = fc.Liquid.measured("w", volume="none", u_nu_relative=0.0)
    assert bare.base is None and "no volume correction" in repr(bare)


@pytest.mark.parametrize("changed, error", [
    ({"group": None}, "E_MISSING"), ({"alpha60_per_degf": 5e-4}, "E_CONFLICT"), ({"base": None}, "E_MISSING"),
    ({"base": "16C"}, "E_UNKNOWN_NAME"), ({"group": "kerosine"}, "E_UNKNOWN_NAME"), ({"t_degc": [40, -20]}, "E_ORDER"),
    ({"nu_mm2s": [4.6]}, "E_COUNT"), ({"t_degc": [], "nu_mm2s": []}, "E_COUNT"), ({"u_nu_relative": -0.1}, "E_BELOW"),
    ({"u_nu_relative": math.nan}, "E_MISSING"), ({"viscosity": "guessed"}, "E_UNKNOWN_NAME"),
    ({"name": ""}, "E_MISSING"), ({"name": "x" * 48}, "E_BUFFER"), ({"nu_mm2s": [4.6, math.inf]}, "E_INFINITE"),
    ({"form": "long"}, "E_UNKNOWN_NAME"),
])
def test_liquids_that_are_none(changed: dict[str, object], error: str) -> None:
    good = {"name": "x", "volume": "petroleum_2004", "group": "jet", "base": "15C", "viscosity": "points",
            "t_degc": [-20, 40], "nu_mm2s": [4.6, 1.3], "u_nu_relative": 0.01}
    fc.Liquid(**good)  # type: ignore[arg-type]
    with pytest.raises(getattr(fc.errors, error)):
        fc.Liquid(**(good | changed))  # type: ignore[arg-type]


# --- fit --------------------------------------------------------------------------------------------------------------

def test_fit_goes_through_its_points(fit: fc.Fit, body: fc.Body) -> None:
    """Ro = f D^2/nu and St = (pi/4) K D0^3/B at the run's temperature and pressure."""
    state = body.at(20.0, 100.0)
    assert len(fit.points) == 6 and fit.summary.points == fit.summary["knots"] == 6
    for point, f, k in zip(fit.points, [20, 50, 100, 200, 400, 800], [11_800, 11_950, 12_020, 12_030, 12_010, 12_000]):
        assert close(point.ro, f * state.d_m**2 / 2e-6)
        assert close(point.st, math.pi / 4 * k * 0.0779**3 / state.b_ratio)
        assert close(fit.curve.at(point.ro, below="hold_end", above="hold_end").st, point.st)
        assert point.flags == () and point.weight == 1.0
    assert fit.summary.method == "steffen" and "k_mean_per_m3" in fit.summary.keys()
    assert fit.to_frame().shape == (6, 9) and repr(fit).startswith("Fit(steffen, 6 points, Curve(6 knots")
    band = fit.band(np.array([1e5, 5e5]))
    assert band.shape == (2,) and (band > 0).all() and fit.band(1e5) == band[0]
    assert "linearity_mid_pct=" in repr(fit.summary)


def test_fit_from_a_frame(fit: fc.Fit, body: fc.Body) -> None:
    frame = pd.DataFrame({"f_hz": [20, 50, 100, 200, 400, 800], "liquid": 0, "nu_mm2s": 2.0, "t_degc": 20.0,
                          "p_kpag": 100, "k_per_m3": [11_800, 11_950, 12_020, 12_030, 12_010, 12_000], "x": math.nan})
    again = fc.fit_certificate(frame, body=body, convention="raw", treatment="as_run", reference="at_meter")
    assert again.curve == fit.curve


def test_fit_refuses_with_the_place(body: fc.Body) -> None:
    options = {"body": body, "convention": "raw", "treatment": "as_run", "reference": "at_meter"}
    good = {"f_hz": 100.0, "k_per_m3": 12_000.0, "nu_mm2s": 2.0, "t_degc": 20.0, "p_kpag": 0.0}
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match=r"points\[1\]: no field 'k_per_litre'"):
        fc.fit_certificate([good, {**good, "k_per_litre": 12.0}], **options)
    with pytest.raises(fc.errors.E_BELOW) as caught:
        fc.fit_certificate([good, {**good, "f_hz": -1.0}], **options)
    assert caught.value.index == 1 and "f_hz" in caught.value.argument
    with pytest.raises(fc.errors.E_COUNT):
        fc.fit_certificate([good], **options)
    with pytest.raises(fc.errors.E_UNKNOWN_NAME, match="reference"):
        fc.fit_certificate([good, good], **(options | {"reference": "somewhere"}))


def test_parts_outlive_what_they_came_from(body: fc.Body) -> None:
    import gc
    curve = fc.fit_certificate([{"f_hz": f, "k_per_m3": 12_000.0, "nu_mm2s": 2.0, "t_degc": 20.0, "p_kpag": 0.0}
                                for f in (10.0, 100.0)], body=body, convention="raw", treatment="as_run",
                               reference="at_meter").curve
    meter = fc.Meter("x", body, curve)
    inner, metal, expected = meter.curve, meter.body.housing, body.housing
    del meter
    gc.collect()
    assert curve.knots == inner.knots == 2 and curve == inner
    assert metal == expected
