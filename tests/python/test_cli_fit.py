# SPDX-License-Identifier: Apache-2.0
"""``flowcomp fit``: every layout gives one curve; the curve gives back the certificate's K; mistakes are named."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import flowcomp as fc
import numpy as np
import pytest
from small_site import CERTIFICATE, CERTIFICATES, run

LAYOUTS = sorted(CERTIFICATES.glob("layout_*.csv"))
TEXT = CERTIFICATE.read_text(encoding="utf-8")
FIRST_K = next(line for line in TEXT.splitlines() if line[:1].isdigit()).split(",")[3]


def fit(certificate: Path, out: Path, *options: object) -> fc.Meter:
    result = run("fit", certificate, "--out", out, *options)
    assert result.exit_code == 0, result.output
    return fc.Meter.load(out)


def points() -> list[list[float]]:
    """Flow (m3/h), frequency (Hz), K (1/m3), temperature (degC), pressure (kPa), viscosity (mm2/s) as printed."""
    return [[float(cell) for cell in line.split(",")[1:7]] for line in TEXT.splitlines() if line[:1].isdigit()]


def refused(tmp_path: Path, text: str, *words: str, options: tuple[str, ...] = ()) -> None:
    """The fit ends with 2, says all of the words, shows no traceback and writes nothing."""
    (tmp_path / "certificate.csv").write_text(text, encoding="utf-8")
    result = run("fit", tmp_path / "certificate.csv", "--out", tmp_path / "out" / "meter.json", *options)
    assert result.exit_code == 2, result.output
    for word in words:
        assert word in result.output, (word, result.output)
    assert "Traceback" not in result.output
    assert not (tmp_path / "out").exists()


def test_layouts_are_all_there() -> None:
    assert {path.name[7] for path in LAYOUTS} == set("abcdef") and len(LAYOUTS) == 8


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda path: path.stem)
def test_every_layout_gives_the_same_curve(layout: Path, tmp_path: Path) -> None:
    """The files print the same points to 12 digits or more."""
    first, other = fit(CERTIFICATE, tmp_path / "a.json"), fit(layout, tmp_path / "other.json")
    assert other.curve.knots == first.curve.knots == 14
    np.testing.assert_allclose(other.curve.ln_ro, first.curve.ln_ro, rtol=0, atol=1e-9)
    np.testing.assert_allclose(other.curve.st, first.curve.st, rtol=1e-9)
    np.testing.assert_allclose(other.curve.coefficients, first.curve.coefficients, rtol=1e-6, atol=1e-9)


def test_examples_are_what_their_script_writes(tmp_path: Path) -> None:
    subprocess.run([sys.executable, str(CERTIFICATES / "make_certificates.py"), str(tmp_path)], check=True)
    for layout in LAYOUTS:
        assert (tmp_path / layout.name).read_bytes() == layout.read_bytes(), layout.name


def test_the_meter_gives_back_the_printed_k(tmp_path: Path) -> None:
    """An interpolation goes through its points: at a point's own conditions the meter's K is the K printed."""
    meter = fit(CERTIFICATE, tmp_path / "meter.json")
    liquid = fc.Liquid("any", volume="none", viscosity="measured", u_nu_relative=0.01)
    for _, f, k, t, p, nu in points()[1:-1]:
        found = meter.evaluate(liquid, f_hz=f, t_degc=t, p_kpag=p, nu_mm2s=nu)
        assert found.k_per_m3 == pytest.approx(k, rel=1e-12)


def test_strouhal_and_roshko_of_a_point(tmp_path: Path) -> None:
    """St = (pi/4) K D0^3/B and Ro = f D^2/nu, B and D from the strains as in examples/depot/invented_meter.py."""
    sys.path.insert(0, str(CERTIFICATES))
    import make_certificates

    meter, body = fit(CERTIFICATE, tmp_path / "meter.json"), make_certificates.BODY
    knots = {round(x, 9): st for x, st in zip(meter.curve.ln_ro, meter.curve.st, strict=True)}
    for _, f, k, t, p, nu in points():
        ro = f * float(body.bore(t, p)) ** 2 / (nu * 1e-6)
        st = np.pi / 4 * k * body.bore_m**3 / float(body.k_ratio(t, p))
        assert knots[round(float(np.log(ro)), 9)] == pytest.approx(st, rel=1e-9)


@pytest.mark.parametrize("method", ["steffen", "cubic", "bspline", "robust"])
def test_methods_and_files(method: str, tmp_path: Path) -> None:
    result = run("fit", CERTIFICATE, "--out", tmp_path / "m.json", "--method", method, "--picture", tmp_path / "pic")
    assert result.exit_code == 0, result.output
    assert f"Curve: {method}" in result.output
    assert "Linearity" in result.output and "about the mid value" in result.output and "mean K" in result.output
    assert "contract's method decides" in result.output
    assert (tmp_path / "pic.svg").read_text(encoding="utf-8").startswith("<?xml")
    assert (tmp_path / "pic.png").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    assert not list(tmp_path.glob("*.part"))


def test_linearity_by_both_conventions(tmp_path: Path) -> None:
    """From the K of the points at T0 and P0, which the table shows: (max - min)/(max + min), and off the mean."""
    result = run("fit", CERTIFICATES / "layout_f_normalised.csv", "--out", tmp_path / "m.json")
    k = np.array([float(line.split(",")[2]) for line in
                  (CERTIFICATES / "layout_f_normalised.csv").read_text(encoding="utf-8").splitlines()
                  if line[:1].isdigit()])
    mid = 100 * (k.max() - k.min()) / (k.max() + k.min())
    mean = 100 * np.abs(k / k.mean() - 1).max()
    assert f"{mid:.4f} % about the mid value" in result.output
    assert f"{mean:.4f} % largest deviation from the mean K of {k.mean():.3f}" in result.output


def test_same_file_again_gives_the_same_bytes(tmp_path: Path) -> None:
    for name in ("one", "two"):
        fit(CERTIFICATE, tmp_path / name / "meter.json")
    for name in ("meter.json", "meter.svg", "meter.png"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes(), name


def test_nothing_is_overwritten_unasked(tmp_path: Path) -> None:
    fit(CERTIFICATE, tmp_path / "meter.json")
    result = run("fit", CERTIFICATE, "--out", tmp_path / "meter.json")
    assert result.exit_code == 2 and "--overwrite" in result.output
    fit(CERTIFICATE, tmp_path / "meter.json", "--overwrite")


def test_policies_stand_in_the_meter_file(tmp_path: Path) -> None:
    meter = fit(CERTIFICATE, tmp_path / "m.json", "--below", "hold_end", "--above", "extend_slope", "--cutoff-hz", 5)
    assert (meter.below, meter.above, meter.cutoff_hz) == ("hold_end", "extend_slope", 5)


def test_disagreeing_liquids_are_named(tmp_path: Path) -> None:
    """Two liquids at one Ro with K 1 % apart: one curve does not hold for both."""
    lines = TEXT.splitlines()
    last = next(line for line in reversed(lines) if line[:1].isdigit()).split(",")
    odd = [*last[:3], f"{1.01 * float(last[3]):.6f}", *last[4:7], "odd oil"]
    odd[1] = f"{3600 * float(odd[2]) / float(odd[3]):.9f}"
    (tmp_path / "c.csv").write_text("\n".join([*lines, ",".join(odd)]) + "\n", encoding="utf-8")
    result = run("fit", tmp_path / "c.csv", "--out", tmp_path / "m.json", "--method", "bspline")
    assert result.exit_code == 0, result.output
    assert "one curve does not hold for both liquids" in result.output


@pytest.mark.parametrize("key", ["meter", "convention", "body", "reference_volume", "bore_mm", "t0_degc", "housing",
                                 "rotor", "end", "wall_mm"])
def test_required_head_lines_have_no_default(key: str, tmp_path: Path) -> None:
    text = "\n".join(line for line in TEXT.splitlines() if not line.startswith(f"#! {key}:")) + "\n"
    assert text != TEXT
    refused(tmp_path, text, f"'{key}' is missing", "There is no default", f"#! {key}:")


@pytest.mark.parametrize(("before", "after", "words"), [
    ("convention: raw", "convention: rough", ["convention is 'rough'", "line 4", "dimensionless, normalised, raw"]),
    ("316 (set api_12_2_1_1995)", "316", ["names no table", "line 10", "alpha_per_k"]),
    ("316 (set api_12_2_1_1995)", "316 (set api_12)", ["no such metal", "line 10"]),
    ("316 (set api_12_2_1_1995)", "unobtainium (set api_12_2_1_1995)", ["no such metal", "line 10"]),
    ("bore_mm: 52.50", "bore_mm: wide", ["'wide' is no number", "line 8", "bore_mm"]),
    ("bore_mm: 52.50", "bore_mm: 52,50", ["'52,50' is no number", "--decimal-comma"]),
    ("hub_mm: 22", "hub_mm: 60", ["hub is as wide as the bore", "line 12"]),
    ("#! t0_degc: 20", "#! t0: 20", ["head line 't0' is not known", "line 7", "t0_degc"]),
    ("#! t0_degc: 20", "#! t0_degc 20", ["write '#! key: value'", "line 7"]),
    ("#! t0_degc: 20", "#! t0_degc: 20\n#! t0_degc: 15", ["stands twice", "line 8"]),
    ("f_hz,k_per_m3,", "f,k,", ["no column says how many pulses"]),
    ("convention: raw", "convention: dimensionless", ["needs the columns roshko and strouhal"]),
    (FIRST_K, "abc", ["line 16", "column k_per_m3", "'abc' is no number"]),
    (FIRST_K, "39608.1", ["line 16", "cannot be fitted"]),
    (f"{FIRST_K},22.00", FIRST_K, ["line 16", "7 values, but the header names 8"]),
    ("nu_mm2s,liquid", "visc,liquid", ["cannot be fitted", "nu_mm2s"]),
    ("t_degc,p_kpag", "t_degc,p_bara", ["gauge pressures", "p_bara"]),
    ("t_degc,p_kpag", "t_degc,t_degf", ["hold the same quantity"]),
])
def test_mistakes_in_a_certificate(before: str, after: str, words: list[str], tmp_path: Path) -> None:
    assert before in TEXT
    refused(tmp_path, TEXT.replace(before, after, 1), *words)


@pytest.mark.parametrize(("name", "before", "after", "words"), [
    ("layout_b_error.csv", "#! k_nominal_per_l: 38.0\n", "", ["error_pct needs the K it refers to"]),
    ("layout_e_blocks.csv", "nu_mm2s: 1.52; ", "", ["cannot be fitted", "nu_mm2s"]),
    ("layout_e_blocks.csv", "#! block: kerosene; nu", "#! block: nu", ["opens with the liquid's name"]),
    ("layout_e_blocks.csv", "rho_kgm3: 798.6", "density: 798.6", ["'density' is no column"]),
    ("layout_f_dimensionless.csv", "convention: dimensionless", "convention: raw", ["belongs to convention"]),
    ("layout_c_meter_factor.csv", ",798.6,", ",,", ["needs the density", "mu_mpas"]),
])
def test_mistakes_in_other_layouts(name: str, before: str, after: str, words: list[str], tmp_path: Path) -> None:
    text = (CERTIFICATES / name).read_text(encoding="utf-8")
    assert before in text
    refused(tmp_path, text.replace(before, after, 1), *words)


def test_viscosity_of_a_block_is_not_used_at_another_temperature(tmp_path: Path) -> None:
    text = (CERTIFICATES / "layout_e_blocks.csv").read_text(encoding="utf-8")
    lines = [line + ",t_degc" if line.startswith("point") else line + ",25" if line[:1].isdigit() else line
             for line in text.splitlines()]
    refused(tmp_path, "\n".join(lines), "the point ran at 25 °C", "block at 22 °C", "line 17")


def test_empty_and_missing_certificates(tmp_path: Path) -> None:
    refused(tmp_path, "", "empty")
    refused(tmp_path, "\n".join(TEXT.splitlines()[:15]), "has no points")
    refused(tmp_path, "\n".join(TEXT.splitlines()[:16]), "cannot be fitted")
    result = run("fit", tmp_path / "none.csv", "--out", tmp_path / "m.json")
    assert result.exit_code == 2 and "there is no such file" in result.output


def test_decimal_commas(tmp_path: Path) -> None:
    """The same certificate as a spreadsheet with decimal commas saves it."""
    lines = []
    for line in TEXT.splitlines():
        if line.startswith("#!"):
            lines.append(line if "set" in line else line.replace(".", ","))
        else:
            lines.append(line.replace(",", ";").replace(".", ",") if line[:1].isdigit() else line.replace(",", ";"))
    (tmp_path / "c.csv").write_bytes(("\ufeff" + "\r\n".join(lines)).encode())
    meter = fit(tmp_path / "c.csv", tmp_path / "m.json", "--decimal-comma")
    assert meter.curve == fit(CERTIFICATE, tmp_path / "a.json").curve


def test_metal_with_numbers_of_its_own(tmp_path: Path) -> None:
    """The same numbers by hand give the same bore and K ratio."""
    given = ("alpha_per_k: 1.5894e-05; t_low_degc: 0; t_high_degc: 100; modulus_gpa: 193.053204208704; poisson: 0.283; "
             "source: mill certificate")
    (tmp_path / "c.csv").write_text(TEXT.replace("housing: 316 (set api_12_2_1_1995)", f"housing: {given}"),
                                    encoding="utf-8")
    own, named = fit(tmp_path / "c.csv", tmp_path / "m.json").body, fit(CERTIFICATE, tmp_path / "a.json").body
    assert own.at(60, 1000).d_m == pytest.approx(named.at(60, 1000).d_m, rel=1e-12)


def test_balanced_cartridge_needs_no_wall(tmp_path: Path) -> None:
    text = TEXT.replace("end: lame_closed", "end: none").replace("#! wall_mm: 3.9\n", "")
    (tmp_path / "c.csv").write_text(text.replace("rotor: 17-4PH (set api_12_2_1_1995)", "rotor: same as housing"),
                                    encoding="utf-8")
    meter = fit(tmp_path / "c.csv", tmp_path / "m.json")
    assert meter.body.at(20, 5000).d_m == meter.body.bore_m
    assert meter.body.rotor is None or meter.body.rotor.alpha_per_k == meter.body.housing.alpha_per_k
