# SPDX-License-Identifier: Apache-2.0
"""Each table under tables/ satisfies an identity: it closes at a base or a joint, agrees with itself in another unit, or
runs one way. The tables are read as printed; the library has no part in it. A table without an identity fails."""

from __future__ import annotations

import csv
import math
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest

TABLES = Path(__file__).resolve().parents[2] / "tables"
FILES = {file.stem: file for file in sorted(TABLES.glob("*/*.csv"))}
Rows = list[dict[str, str]]


def rows_of(name: str) -> Rows:
    """Rows of a table, cells as printed."""
    lines = [line for line in FILES[name].read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def half_a_digit(cell: str) -> float:
    """Half of the last printed digit."""
    mantissa, _, exponent = cell.lower().partition("e")
    return 0.5 * 10.0 ** (int(exponent or 0) - len(mantissa.partition(".")[2]))


def rising(values: list[float]) -> bool:
    """Strictly."""
    return all(a < b for a, b in pairwise(values))


def columns(rows: Rows, *names: str) -> list[list[float]]:
    """Numbers of columns; an empty cell is 0."""
    return [[float(row[name] or 0) for row in rows] for name in names]


# --- metals -----------------------------------------------------------------------------------------------------------

def both_units_agree(rows: Rows, quantity: str) -> None:
    """1e-6/K is 1.8 times 1e-6/degF, as far as both are printed; an expansion of a solid is a few 1e-6."""
    for row in rows:
        kelvin, fahrenheit = row[f"{quantity}_1e6_per_k"], row[f"{quantity}_1e6_per_degf"]
        assert kelvin or fahrenheit
        assert 0.2 < float(kelvin or 1.8 * float(fahrenheit)) < 30, row
        if kelvin and fahrenheit:
            room = half_a_digit(kelvin) + 1.8 * half_a_digit(fahrenheit)
            assert abs(float(kelvin) - 1.8 * float(fahrenheit)) <= 1.001 * room, row


def means_rise(rows: Rows) -> None:
    """From one lower temperature the mean does not fall with the upper one, but by the last printed digit."""
    both_units_agree(rows, "mean_expansion")
    groups: dict[tuple[str, str, str], list[tuple[float, float, float]]] = {}
    for row in rows:
        unit = "degc" if row["t_hi_degc"] else "degf"
        cell = row["mean_expansion_1e6_per_k"] if unit == "degc" else row["mean_expansion_1e6_per_degf"]
        if row[f"t_hi_{unit}"] and cell:
            assert float(row[f"t_lo_{unit}"]) <= float(row[f"t_hi_{unit}"]), row
            key = (row["material"], unit, row[f"t_lo_{unit}"])
            groups.setdefault(key, []).append((float(row[f"t_hi_{unit}"]), float(cell), half_a_digit(cell)))
    for key, entries in groups.items():
        for (_, low, digit), (_, high, _) in pairwise(sorted(entries)):
            assert high >= low - 2.001 * digit, key


def local_expansions(rows: Rows) -> None:
    both_units_agree(rows, "local_expansion")


def elastic(rows: Rows) -> None:
    """E of one metal falls with temperature; Poisson's ratio keeps the shear and the bulk modulus positive."""
    moduli: dict[str, list[tuple[float, float]]] = {}
    for row in rows:
        if row["poisson_ratio"]:
            assert 0.1 < float(row["poisson_ratio"]) < 0.5, row
        if row["youngs_modulus_gpa"]:
            assert 30 < float(row["youngs_modulus_gpa"]) < 800, row
            moduli.setdefault(row["material"], []).append((float(row["t_degc"] or 20), float(row["youngs_modulus_gpa"])))
    for material, points in moduli.items():
        assert rising([-e for _, e in sorted(points)]), material


def prover_metals(rows: Rows) -> None:
    """Area and cubical expansion are two and three times the linear one, as far as printed."""
    for row in rows:
        for column, times in (("area_per_degf", 2), ("cubical_per_degf", 3)):
            if row[column]:
                room = half_a_digit(row[column]) + times * half_a_digit(row["linear_per_degf"])
                assert abs(float(row[column]) - times * float(row["linear_per_degf"])) <= room, row


def defaults_exist(rows: Rows) -> None:
    """Each entry that is named stands in the table that is named."""
    for row in rows:
        for column, kind in (("youngs_modulus_gpa", "modulus"), ("poisson_ratio", "poisson")):
            if row[f"{kind}_set"]:
                entries = rows_of(f"{row[f'{kind}_set']}_elastic")
                assert any(entry["material"] == row[f"{kind}_material"] and entry[column] for entry in entries), row


def zero_strain_at_293_k(rows: Rows) -> None:
    """And the polynomial meets the plateau where it begins. Each within what the printed digits allow, and a 200th of the
    whole strain."""
    for row in rows:
        c = [float(row[letter]) for letter in "abcde"]
        whole, low = abs(c[0]), float(row["t_low_k"])
        def strain(t: float) -> float:
            return sum(k * t ** n for n, k in enumerate(c))
        if float(row["range_hi_k"]) >= 293:
            assert abs(strain(293.0)) < whole / 200, row
        room = half_a_digit(row["f"]) if row["materials"] == "K93600" else whole / 200
        assert abs(strain(low) - float(row["f"])) < 1.5 * room, row


def joints_of_the_modulus(rows: Rows) -> None:
    """Where one segment ends the next begins, within 0.1 %; E falls with temperature from 60 K up."""
    def e(row: dict[str, str], t: float) -> float:
        return sum(float(row[f"c{n}"]) * t ** n for n in range(5))
    joints = 0
    for one, two in pairwise(rows):
        if one["material"] == two["material"]:
            assert one["t_hi_k"] == two["t_lo_k"]
            assert abs(e(one, float(one["t_hi_k"])) / e(two, float(two["t_lo_k"])) - 1) < 1e-3, one
            joints += 1
    assert joints
    for row in rows:
        if float(row["t_hi_k"]) > 200:
            assert rising([-e(row, t) for t in range(max(120, int(row["t_lo_k"])), int(row["t_hi_k"]), 10)]), row


# --- volume correction and density ------------------------------------------------------------------------------------

def one_at_60_degf(rows: Rows) -> None:
    """VCF is 1 at its base and falls with temperature."""
    for row in rows:
        def vcf(t: float) -> float:
            return sum(float(row[letter]) * t ** n for n, letter in enumerate("abcde"))
        assert abs(vcf(60.0) - 1) < 5e-6, row
        assert rising([-vcf(t) for t in range(-4, 141, 4)]), row


def fluids_close(rows: Rows) -> None:
    """Relative density, critical temperature and molar mass rise together; a pure fluid's saturated density at 60 degF
    times its molar mass is its relative density times that of water, 999.016 kg/m3."""
    masses = {"ethane": 30.0696, "propane": 44.0956, "isobutane": 58.1222, "n_butane": 58.1222, "isopentane": 72.1488,
              "n_pentane": 72.1488, "isohexane": 86.1754, "n_hexane": 86.1754, "n_heptane": 100.2019}
    rd, tc = columns(rows, "rd60", "tc")
    assert rising(rd) and rising(tc)
    closed = 0
    for row in rows:
        mass = masses.get(row["fluid"])
        k1, k2, k3, k4, rho_c, t_critical = (float(row[name]) for name in ("k1", "k2", "k3", "k4", "rho_c", "tc"))
        s = 1 - 519.67 / 1.8 / t_critical
        rho = rho_c * (1 + (k1 * s ** 0.35 + k3 * s ** 2 + k4 * s ** 3) / (1 + k2 * s ** 0.65))
        if mass:
            assert abs(rho * mass / (float(row["rd60"]) * 999.016) - 1) < 4e-5, row
            closed += 1
    assert closed == len(masses)


def compressibility_1986(_: Rows) -> None:
    """Both tables together: F at the vapour pressure is positive, falls with density, rises with temperature."""
    a, b = rows_of("compressibility_1986_a"), rows_of("compressibility_1986_b")
    assert len(a) == 11 and len(b) == 4

    def total(rows: Rows, g: float, t_degf: float) -> float:
        return sum(float(row["value"]) * (t_degf + 459.67) ** int(row["t_power"]) * g ** int(row["g_power"])
                   for row in rows)
    for t in range(-50, 141, 10):
        assert rising([total(a, 0.5 + 0.005 * i, t) for i in range(28)]), t
    for g in (0.45, 0.5, 0.55, 0.6, 0.637):
        inverse = [total(a, g, t) for t in range(-50, 141, 10)]
        assert rising([-x for x in inverse]) and inverse[-1] > 0
        assert all(total(b, g, t) > 0 for t in range(0, 141, 10)), g


def ethanol_closes(rows: Rows) -> None:
    """At 20 degC: 998.20 kg/m3 for water and 789.24 for ethanol, the figures of the recommendation."""
    at_20 = {int(row["p_power"]): float(row["value"]) for row in rows if row["t_power"] == "0"}
    assert abs(at_20[0] - 998.20) < 0.005
    assert abs(sum(at_20.values()) - 789.24) < 0.01
    assert len(rows) == 54


def melinder_centres(rows: Rows) -> None:
    """The first coefficient is the value at the centre; 18 terms of the printed order; there the density falls and the
    viscosity falls with temperature, and both rise with the glycol."""
    assert [(int(row["i"]), int(row["j"])) for row in rows] == [
        (i, j) for i, count in enumerate((4, 4, 4, 3, 2, 1)) for j in range(count)]
    by = {(int(row["i"]), int(row["j"])): row for row in rows}
    for glycol in ("meg", "mpg"):
        assert 1000 < float(by[0, 0][f"rho_{glycol}"]) < 1050 and 0 < float(by[0, 0][f"lnmu_{glycol}"]) < 1
        for quantity in ("rho", "lnmu"):
            assert float(by[0, 1][f"{quantity}_{glycol}"]) < 0 < float(by[1, 0][f"{quantity}_{glycol}"])


LNG_T = ("-180", "-175", "-170", "-165", "-160", "-155", "-150", "-145", "-140")


def molar_volumes_rise(rows: Rows) -> None:
    """With temperature for each component; with the length of the chain at each temperature."""
    by = {row["component"]: [float(row[t]) for t in LNG_T] for row in rows}
    assert all(rising(values) for values in by.values())
    for at in zip(*(by[c] for c in ("c1", "c2", "c3", "nc4", "nc5", "nc6")), strict=True):
        assert rising(list(at))


def corrections_vanish_for_methane(rows: Rows) -> None:
    """At the molar mass of methane (16) the correction is nearly 0; from there it rises with molar mass and temperature,
    but for one cell of k1 (molar mass 20, -145 degC), which is a doubtful digit of the copy."""
    assert all(abs(float(rows[0][t])) <= 0.07 for t in LNG_T)
    for row in rows[1:]:
        values = [float(row[t]) for t in LNG_T if not (row["molar_mass"] == "20" and t == "-145")]
        assert all(b >= a - 0.011 for a, b in pairwise(values)), row
    for t in LNG_T:
        values = [float(row[t]) for row in rows if not (row["molar_mass"] == "20" and t == "-145")]
        assert all(b >= a - 0.011 for a, b in pairwise(values)), t


def saturation_ends_at_the_critical_point(rows: Rows) -> None:
    """theta = 0 gives the critical density; from the triple point the density falls all the way to it."""
    for row in rows:
        def number(cell: str) -> float:
            top, _, bottom = cell.partition("/")
            return float(top) / float(bottom or 1)
        tc, rho_c = float(row["t_critical"]), float(row["rho_critical"])
        terms = [(number(row[f"n{i}"]), number(row[f"e{i}"])) for i in range(1, 7) if row[f"n{i}"]]
        def rho(t: float) -> float:
            total = sum(n * (1 - t / tc) ** e for n, e in terms)
            return rho_c * (math.exp(total) if row["form"] == "ln" else 1 + total)
        assert rho(tc) == rho_c, row
        low = float(row["t_triple"]) if row["fluid"] != "water" else 280.0  # water is densest at 277 K
        assert rising([-rho(low + (tc - low) * i / 100) for i in range(101)]), row


def costald_volumes(rows: Rows) -> None:
    """The characteristic volume lies within 3 % of the critical volume and rises, as Tc and the acentric factor do, with
    the chain of the n-alkanes. Critical volumes, m3/kmol: reference equations of state, from memory."""
    by = {row["fluid"]: row for row in rows}
    critical = {"methane": 0.0986, "ethane": 0.1458, "propane": 0.2000, "n_butane": 0.2549, "n_pentane": 0.3110}
    for fluid, volume in critical.items():
        assert abs(float(by[fluid]["v_star"]) / volume - 1) < 0.03, fluid
    chain = ("methane", "ethane", "propane", "n_butane", "n_pentane", "n_hexane")
    for column in ("t_critical", "v_star", "omega", "molar_mass"):
        assert rising([float(by[fluid][column]) for fluid in chain]), column


def critical_point_of_water(_: Rows) -> None:
    """The three tables of IAPWS-95 together: 22.064 MPa at 647.096 K and 322 kg/m3 (the critical point of the release),
    where the isotherm is level. There the nonanalytic terms vanish."""
    power, bells, nonanalytic = (rows_of(f"iapws_95_{part}") for part in ("power", "gaussian", "nonanalytic"))
    assert [len(power), len(bells), len(nonanalytic)] == [51, 3, 2]

    def pressure(delta: float) -> float:
        slope = 0.0
        for row in power:
            c, d, n = (float(row[key]) for key in ("c", "d", "n"))
            slope += n * delta ** (d - 1) * ((d - c * delta ** c) * math.exp(-delta ** c) if c else d)
        for row in bells:
            d, n, alpha, beta, gamma = (float(row[key]) for key in ("d", "n", "alpha", "beta", "gamma"))
            bell = math.exp(-alpha * (delta - 1) ** 2 - beta * (1 - gamma) ** 2)
            slope += n * delta ** d * bell * (d / delta - 2 * alpha * (delta - 1))
        return 322 * delta * 0.46151805 * 647.096 * (1 + delta * slope) / 1000
    assert abs(pressure(1.0) - 22.064) < 1e-4
    assert abs(pressure(1.001) - pressure(0.999)) < 1e-5


def viscosity_of_water(rows: Rows) -> None:
    """The first two rows of table 4 of IAPWS R12-08 (mu2 = 1): 889.735100 and 1437.649467 uPa s at 298.15 K and 998 and
    1200 kg/m3."""
    def mu(t_k: float, rho: float) -> float:
        t, d = t_k / 647.096, rho / 322
        zero = 100 * math.sqrt(t) / sum(h / t ** i for i, h in enumerate((1.67752, 2.20462, 0.6366564, -0.241605)))
        return zero * math.exp(d * sum(float(row["h"]) * (1 / t - 1) ** int(row["i"]) * (d - 1) ** int(row["j"])
                                       for row in rows))
    assert abs(mu(298.15, 998.0) - 889.735100) < 1e-6
    assert abs(mu(298.15, 1200.0) - 1437.649467) < 1e-6


# --- viscosity index --------------------------------------------------------------------------------------------------

def index_values_rise(rows: Rows) -> None:
    """L and H rise with the viscosity at 100 degC, L above H; at 70 the table meets the formulas that continue it,
    L = 0.8353 Y^2 + 14.67 Y - 216 and H = 0.1684 Y^2 + 11.85 Y - 97, within 0.1 %."""
    y, l, h = columns(rows, "nu100_mm2s", "l_mm2s", "h_mm2s")
    assert rising(y) and rising(l) and rising(h)
    assert all(a > b > c for a, b, c in zip(l, h, y, strict=True))
    assert (y[0], y[-1]) == (2.0, 70.0)
    assert abs(l[-1] / (0.8353 * 70**2 + 14.67 * 70 - 216) - 1) < 1e-3
    assert abs(h[-1] / (0.1684 * 70**2 + 11.85 * 70 - 97) - 1) < 1e-3


def pieces_meet(rows: Rows) -> None:
    """Each parabola of L and H meets the next at the border within 0.2 %, and the table of entries within as much."""
    def value(row: dict[str, str], letters: str, y: float) -> float:
        p, q, r = (float(row[letter]) for letter in letters)
        return p * y * y + q * y + r
    printed = {row["nu100_mm2s"]: row for row in rows_of("astm_d2270_lh")}
    for one, two in pairwise(rows):
        assert one["hi"] == two["lo"]
        for letters, column in (("abc", "l_mm2s"), ("def", "h_mm2s")):
            left, right = (value(row, letters, float(one["hi"])) for row in (one, two))
            assert abs(left / right - 1) < 2e-3, one
            if one["hi"] in printed:
                assert abs(left / float(printed[one["hi"]][column]) - 1) < 2e-3, one


# --- custody ----------------------------------------------------------------------------------------------------------

def rules_are_named_once(rows: Rows) -> None:
    """Each rule once, with its own source; limits of meter factors lie about 1, those of a new meter inside the others."""
    by = {row["rule"]: float(row["value"]) for row in rows}
    assert len(by) == len(rows) and all(row["source"] for row in rows)
    low, high = by["cfr43_3174_11_mf_low"], by["cfr43_3174_11_mf_high"]
    new_low, new_high = by["cfr43_3174_11_new_meter_mf_low"], by["cfr43_3174_11_new_meter_mf_high"]
    assert low < new_low < 1 < new_high < high
    assert math.isclose(low + high, 2) and math.isclose(new_low + new_high, 2)
    assert by["cfr43_3174_uncertainty_pct_ge_30000_bbl_month"] < by["cfr43_3174_uncertainty_pct_lt_30000_bbl_month"]


def decimals_are_whole(rows: Rows) -> None:
    """Each item once; whole numbers of decimals, the fewest not above the most; an increment is no power of ten."""
    assert len({row["item"] for row in rows}) == len(rows)
    for row in rows:
        if row["increment"]:
            assert not math.log10(float(row["increment"])).is_integer()
        else:
            assert 0 <= int(row["decimals_min"]) <= int(row["decimals_max"]) <= 6, row


def ranges_follow_their_formula(rows: Rows) -> None:
    """R = u sqrt(n) d2 / t with u = 0.027 % gives the printed range, but for six runs, which print one digit less."""
    factors = {row["n"]: row for row in rows_of("range_factors_95")}
    for row in rows:
        n, of = int(row["n"]), factors[row["n"]]
        exact = 0.027 * math.sqrt(n) * float(of["d2"]) / float(of["student_t"])
        printed = float(row["range_pct"]) + (0.01 if n == 6 else 0.0)
        assert math.floor(100 * exact + 0.5) == round(100 * printed), row
    assert rising(columns(rows, "range_pct")[0])


def factors_close(rows: Rows) -> None:
    """d2(2) = 2/sqrt(pi), d2(3) = 3/sqrt(pi); t(1) = tan(0.475 pi), t(2) = 0.95 sqrt(2/(1 - 0.95^2)); Lord's factor of two
    is t/2; t and Lord's factor fall, d2 rises; from five values up the exact factor is that of t/(d2 sqrt n) within 6 %."""
    t, d2, lord = columns(rows, "student_t", "d2", "lord")
    assert math.isclose(d2[0], 2 / math.sqrt(math.pi), rel_tol=1e-15)
    assert math.isclose(d2[1], 3 / math.sqrt(math.pi), rel_tol=1e-15)
    assert math.isclose(t[0], math.tan(0.475 * math.pi), rel_tol=1e-13)
    assert math.isclose(t[1], 0.95 * math.sqrt(2 / (1 - 0.95**2)), rel_tol=1e-14)
    assert math.isclose(lord[0], t[0] / 2, rel_tol=1e-12)
    assert rising(d2) and rising([-x for x in t]) and rising([-x for x in lord])
    near = [a / (b * math.sqrt(n)) / c for n, (a, b, c) in enumerate(zip(t, d2, lord, strict=True), 2)]
    assert all(abs(ratio - 1) < 0.06 for ratio in near[3:])


def classes_rise(rows: Rows) -> None:
    """A class is named by its limit, line A; line B is 0.6 to 2/3 of it; no limit falls with the class."""
    for row in rows:
        assert float(row["accuracy_class"]) == float(row["line_a_pct"])
        assert 0.599 < float(row["line_b_pct"]) / float(row["line_a_pct"]) < 0.667, row
    for values in columns(rows, "line_a_pct", "line_b_pct", "temperature_degc", "density_kgm3"):
        assert all(a <= b for a, b in pairwise(values))


IDENTITIES: dict[str, Callable[[Rows], None]] = {
    "acceptance_limits": rules_are_named_once, "api_12_2_discrimination": decimals_are_whole,
    "comstock_1993_decimals": decimals_are_whole, "inspection_handbook_decimals": decimals_are_whole,
    "api_4_8_ranges": ranges_follow_their_formula, "range_factors_95": factors_close,
    "mid_2014_annex7_classes": classes_rise, "prover_metals": prover_metals, "elastic_defaults": defaults_exist,
    "expansion": zero_strain_at_293_k, "modulus": joints_of_the_modulus, "astm_d1555_vcf": one_at_60_degf,
    "light_ends_reference_fluids": fluids_close, "compressibility_1986_a": compressibility_1986,
    "compressibility_1986_b": compressibility_1986, "oiml_r_22_density": ethanol_closes,
    "melinder_2010_coefficients": melinder_centres, "iso_6578_molar_volume": molar_volumes_rise,
    "iso_6578_k1": corrections_vanish_for_methane, "iso_6578_k2": corrections_vanish_for_methane,
    "eos_ancillary_liquid": saturation_ends_at_the_critical_point, "costald_1979_fluids": costald_volumes,
    "iapws_95_power": critical_point_of_water, "iapws_95_gaussian": critical_point_of_water,
    "iapws_95_nonanalytic": critical_point_of_water, "iapws_r12_08_h": viscosity_of_water,
    "astm_d2270_lh": index_values_rise, "astm_d2270_quadratic": pieces_meet,
}
BY_KIND = {"_mean_expansion": means_rise, "_local_expansion": local_expansions, "_elastic": elastic}


def identity_of(name: str) -> Callable[[Rows], None] | None:
    """What a table must satisfy."""
    return IDENTITIES.get(name) or next((test for kind, test in BY_KIND.items() if name.endswith(kind)), None)


@pytest.mark.parametrize("name", FILES)
def test_identity(name: str) -> None:
    identity, rows = identity_of(name), rows_of(name)
    assert identity is not None, f"{FILES[name]} has no identity test: add one to IDENTITIES"
    assert rows and all(row["status"] in ("published", "from memory", "common practice", "computed") for row in rows)
    identity(rows)


def test_every_identity_has_its_table() -> None:
    assert len(FILES) > 40 and set(IDENTITIES) <= set(FILES)


@pytest.mark.parametrize(("name", "place", "column", "spoilt"), [
    ("astm_d1555_vcf", 0, "a", "1.038482492"), ("prover_metals", 0, "cubical_per_degf", "1.96e-5"),
    ("expansion", 0, "c", "0.0093683"), ("astm_d2270_lh", 100, "l_mm2s", "1"), ("iapws_r12_08_h", 2, "h", "-1.08375"),
    ("oiml_r_22_density", 1, "value", "-1.939769495e2"), ("light_ends_reference_fluids", 4, "k1", "1.96668366933"),
    ("range_factors_95", 0, "d2", "1.128"), ("melinder_2010_coefficients", 1, "rho_meg", "0.4781")])
def test_a_spoilt_digit_is_seen(name: str, place: int, column: str, spoilt: str) -> None:
    """The positive control."""
    rows = rows_of(name)
    rows[place] = {**rows[place], column: spoilt}
    identity = identity_of(name)
    assert identity is not None
    with pytest.raises(AssertionError):
        identity(rows)
