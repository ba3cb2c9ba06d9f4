# SPDX-License-Identifier: Apache-2.0
"""Exact unit conversions in fractions, apart from the library. Needs the package pint (its unit definitions, BSD licence).

    units_rows.py > ../checks/units.csv      write the check rows of tests/test_units.c
    units_rows.py --library libflowcomp.so   compare random conversions of every pair; print the largest errors per kind
"""

from __future__ import annotations

import argparse
import csv
import ctypes
import random
import sys
from fractions import Fraction
from math import isfinite, ulp

import pint

PINT = f"pint {pint.__version__} default_en.txt, evaluated in fractions"
PINT_URL = "https://github.com/hgrecco/pint"
SP811 = "NIST SP 811 (2008) appendix B.8"
SP811_URL = "https://www.nist.gov/pml/special-publication-811"
registry = pint.UnitRegistry(non_int_type=Fraction)

# Name in the library -> the same unit in pint's words, by kind; the first of a kind is its SI unit.
LINEAR = {
    "volume": {"m3": "m**3", "L": "liter", "dm3": "dm**3", "hL": "hectoliter", "mL": "milliliter", "cm3": "cm**3",
               "USgal": "gallon", "impgal": "imperial_gallon", "bbl": "oil_barrel", "ft3": "foot**3", "in3": "inch**3"},
    "volume_flow": {"m3/s": "m**3/s", "m3/min": "m**3/minute", "m3/h": "m**3/hour", "m3/d": "m**3/day", "L/s": "liter/s",
                    "L/min": "liter/minute", "L/h": "liter/hour", "mL/min": "milliliter/minute", "USgal/s": "gallon/s",
                    "USgal/min": "gallon/minute", "USgal/h": "gallon/hour", "impgal/min": "imperial_gallon/minute",
                    "impgal/h": "imperial_gallon/hour", "bbl/min": "oil_barrel/minute", "bbl/h": "oil_barrel/hour",
                    "bbl/d": "oil_barrel/day", "ft3/s": "foot**3/s", "ft3/min": "foot**3/minute",
                    "ft3/h": "foot**3/hour"},
    "mass": {"kg": "kg", "g": "gram", "t": "metric_ton", "lb": "pound", "short_ton": "short_ton", "long_ton": "long_ton"},
    "mass_flow": {"kg/s": "kg/s", "kg/min": "kg/minute", "kg/h": "kg/hour", "g/s": "gram/s", "t/h": "metric_ton/hour",
                  "t/d": "metric_ton/day", "lb/s": "pound/s", "lb/min": "pound/minute", "lb/h": "pound/hour",
                  "short_ton/h": "short_ton/hour", "long_ton/h": "long_ton/hour"},
    "temperature_difference": {"delta_K": "kelvin", "delta_degC": "delta_degC", "delta_degF": "delta_degF",
                               "delta_degR": "degR"},
    "pressure_gauge": {"Pag": "Pa", "kPag": "kPa", "MPag": "MPa", "barg": "bar", "mbarg": "mbar", "psig": "psi",
                       "kgf/cm2g": "kgf/cm**2"},
    "pressure_absolute": {"Paa": "Pa", "kPaa": "kPa", "MPaa": "MPa", "hPaa": "hPa", "bara": "bar", "mbara": "mbar",
                          "psia": "psi", "kgf/cm2a": "kgf/cm**2", "atm": "atm"},
    "pressure_difference": {"delta_Pa": "Pa", "delta_kPa": "kPa", "delta_MPa": "MPa", "delta_bar": "bar",
                            "delta_mbar": "mbar", "delta_psi": "psi", "delta_kgf/cm2": "kgf/cm**2"},
    "density": {"kg/m3": "kg/m**3", "kg/L": "kg/liter", "g/cm3": "gram/cm**3", "g/L": "gram/liter",
                "lb/ft3": "pound/foot**3", "lb/USgal": "pound/gallon", "lb/impgal": "pound/imperial_gallon"},
    "kinematic_viscosity": {"m2/s": "m**2/s", "mm2/s": "mm**2/s", "cSt": "centistokes", "St": "stokes",
                            "ft2/s": "foot**2/s", "in2/s": "inch**2/s"},
    "dynamic_viscosity": {"Pa.s": "Pa*s", "mPa.s": "mPa*s", "cP": "centipoise", "P": "poise", "reyn": "reyn"},
    "k_factor": {"pulses/m3": "1/m**3", "pulses/L": "1/liter", "pulses/USgal": "1/gallon",
                 "pulses/impgal": "1/imperial_gallon", "pulses/bbl": "1/oil_barrel", "pulses/ft3": "1/foot**3"},
    "frequency": {"Hz": "hertz", "kHz": "kilohertz", "pulses/min": "1/minute", "pulses/h": "1/hour"},
    "frequency_over_viscosity": {"Hz/(m2/s)": "1/m**2", "Hz/(mm2/s)": "1/mm**2", "Hz/cSt": "1/s/centistokes"},
    "length": {"m": "m", "cm": "cm", "mm": "mm", "um": "um", "in": "inch", "ft": "foot"},
    "modulus": {"modulus_Pa": "Pa", "modulus_kPa": "kPa", "modulus_MPa": "MPa", "modulus_GPa": "GPa",
                "modulus_psi": "psi"},
    "expansion": {"1/K": "1/kelvin", "1/degC": "1/delta_degC", "1/degF": "1/delta_degF"},
    "compressibility": {"1/Pa": "1/Pa", "1/kPa": "1/kPa", "1/MPa": "1/MPa", "1/GPa": "1/GPa", "1/bar": "1/bar",
                        "1/psi": "1/psi"},
    "time": {"s": "s", "ms": "ms", "min": "minute", "h": "hour", "d": "day"},
}
# Relative densities: water in kg/m3 and the base temperature; kg/m3 and the like have none.
WATER = {"degAPI": ("999.016", "60F"), "rd60_60": ("999.016", "60F"), "sg15_4": ("999.97495", "15C"),
         "sg20_4": ("999.97495", "20C")}
SCALES = ["K", "degC", "degF", "degR"]
# The offsets as the library has them: the doubles nearest to their decimals.
ZERO_C, ZERO_F = Fraction(273.15), Fraction(459.67)


def factor(name: str) -> tuple[str, Fraction]:
    """Kind and size in the SI unit of the kind, of a unit with a factor."""
    for kind, units in LINEAR.items():
        if name in units:
            si = next(iter(units.values()))
            return kind, Fraction(registry.Quantity(Fraction(1), units[name]).to(si).magnitude)
    return "density", Fraction(WATER[name][0])


FACTORS = {name: factor(name) for name in [n for u in LINEAR.values() for n in u] + [w for w in WATER if w != "degAPI"]}


def temperature(value: Fraction, source: str, target: str) -> Fraction:
    """By NIST SP 811 B.8, through the scale that both meet on."""
    if source == target:
        return value
    if (source, target) == ("degF", "degC"):
        return (value - 32) * 5 / 9
    if (source, target) == ("degC", "degF"):
        return value * 9 / 5 + 32
    kelvin = {"K": value, "degC": value + ZERO_C, "degF": (value + ZERO_F) * 5 / 9, "degR": value * 5 / 9}[source]
    return {"K": kelvin, "degC": kelvin - ZERO_C, "degF": kelvin * 9 / 5 - ZERO_F, "degR": kelvin * 9 / 5}[target]


def density(value: Fraction, source: str, target: str) -> Fraction:
    gravity = Fraction("141.5") * Fraction("999.016")
    rho = gravity / (value + Fraction("131.5")) if source == "degAPI" else value * FACTORS[source][1]
    return gravity / rho - Fraction("131.5") if target == "degAPI" else rho / FACTORS[target][1]


def exact(value: Fraction, source: str, target: str, p_atm_kpaa: Fraction | None = None,
          rho_kgm3: Fraction | None = None) -> Fraction:
    if source in SCALES:
        return temperature(value, source, target)
    if "degAPI" in (source, target):
        return density(value, source, target)
    (kind, size), (kind_wanted, size_wanted) = FACTORS[source], FACTORS[target]
    si = value * size
    if kind != kind_wanted and kind.startswith("pressure"):
        si += (1 if kind == "pressure_gauge" else -1) * p_atm_kpaa * 1000
    elif kind != kind_wanted:
        si = si * rho_kgm3 if kind == "kinematic_viscosity" else si / rho_kgm3
    return si / size_wanted


def offset_of(source: str, target: str, p_atm_kpaa: Fraction | None = None) -> float:
    """The offset that enters, in the unit target; there a rounding of its size is unavoidable."""
    if source in SCALES:
        return max(float(abs(exact(Fraction(zero), source, target))) for zero in (0.0, 32.0))
    if "degAPI" in (source, target):
        return 131.5 if target == "degAPI" else 0.0
    if p_atm_kpaa is not None:
        return float(p_atm_kpaa * 1000 / FACTORS[target][1])
    return 0.0


# --- rows -------------------------------------------------------------------------------------------------------------

Row = list[str]
rows: list[Row] = []


def add(identity: str, inputs: str, expected: str, tolerance: str, unit: str, status: str, source: str, url: str = "",
        note: str = "", role: str = "conformance") -> None:
    rows.append([identity, "unit_convert", inputs, expected, tolerance, unit, role, status, source, url, note])


def text_of(number: Fraction) -> str:
    return repr(float(number))


def add_exact(identity: str, value: str, source: str, target: str, p_atm_kpaa: str = "", rho_kgm3: str = "",
              note: str = "") -> None:
    """The exact conversion of the decimal; half a unit in the last place each for reading it and for the result."""
    others = [Fraction(x) if x else None for x in (p_atm_kpaa, rho_kgm3)]
    answer = exact(Fraction(value), source, target, *others)
    size = max(abs(float(answer)), offset_of(source, target, others[0]))
    inputs = f"value={value};from={source};to={target}"
    inputs += f";p_atm_kpaa={p_atm_kpaa}" if p_atm_kpaa else ""
    inputs += f";rho_kgm3={rho_kgm3}" if rho_kgm3 else ""
    own = any(name in WATER or name in SCALES for name in (source, target))
    add(identity, inputs, text_of(answer), f"{max(2.3e-16 * size, 1e-300):.3g}", target, "computed",
        "141.5/RD - 131.5 with water 999.016 kg/m3, evaluated in fractions" if "degAPI" in (source, target)
        else "offsets and factors by NIST SP 811 B.8, evaluated in fractions" if source in SCALES
        else "water density by its source, evaluated in fractions" if own else PINT, "" if own else PINT_URL, note)


def every_unit() -> None:
    """Each unit to and from the SI unit of its kind: no row of the table is left out."""
    values = ["1", "0.1", "123.456", "7.25", "98765.4321", "3e-05"]
    for kind, units in LINEAR.items():
        si = next(iter(units))
        for place, name in enumerate(list(units)[1:]):
            add_exact(f"U-{kind}-{name}-to", "1", name, si)
            add_exact(f"U-{kind}-{name}-from", values[place % len(values)], si, name)
    for name in WATER:
        add_exact(f"U-density-{name}-to", "10" if name == "degAPI" else "1", name, "kg/m3")
        add_exact(f"U-density-{name}-from", "843.21", "kg/m3", name)
    for source in SCALES:
        for target in SCALES:
            add_exact(f"U-temperature-{source}-{target}", "68.5", source, target)


def chosen() -> None:
    """Pairs that a site meets, not through the SI unit."""
    for number, (value, source, target) in enumerate([
            ("1", "bbl", "USgal"), ("1", "bbl", "impgal"), ("1000", "bbl/h", "m3/h"), ("250", "USgal/min", "L/min"),
            ("250", "USgal/min", "bbl/d"), ("1", "impgal/min", "USgal/min"), ("1234.5", "pulses/USgal", "pulses/L"),
            ("52000", "pulses/bbl", "pulses/m3"), ("18.5", "pulses/ft3", "pulses/USgal"), ("7.1", "lb/USgal", "kg/L"),
            ("62.4", "lb/ft3", "lb/USgal"), ("3.7", "cSt", "ft2/s"), ("1e-06", "reyn", "cP"), ("150", "psig", "barg"),
            ("14.7", "psia", "kPaa"), ("1", "atm", "psia"), ("25", "delta_psi", "delta_kPa"), ("1.25", "ft", "in"),
            ("0.0005", "in", "um"), ("28500000", "modulus_psi", "modulus_GPa"), ("6.2e-06", "1/degF", "1/degC"),
            ("4.3e-06", "1/psi", "1/GPa"), ("1.8", "delta_degF", "delta_K"), ("120", "Hz/cSt", "Hz/(m2/s)"),
            ("2.5", "short_ton/h", "long_ton/h"), ("90000", "pulses/h", "Hz"), ("1.5", "d", "min"),
            ("-3.25", "m3/h", "L/s"), ("0", "bbl", "m3"), ("1e+200", "USgal", "L"), ("1e-200", "L", "USgal")]):
        add_exact(f"C-{number + 1}", value, source, target)
    for number, (value, source, target) in enumerate([
            ("35", "degAPI", "kg/m3"), ("35", "degAPI", "rd60_60"), ("35", "degAPI", "lb/USgal"), ("0.85", "rd60_60", "degAPI"),
            ("999.016", "kg/m3", "rd60_60"), ("-5.5", "degAPI", "g/cm3"), ("0.8765", "sg15_4", "kg/m3"),
            ("54.2", "lb/ft3", "degAPI"), ("850", "kg/m3", "sg20_4"), ("100", "degAPI", "kg/L"), ("7.1", "lb/USgal", "sg15_4")]):
        add_exact(f"D-{number + 1}", value, source, target, note="density at the base temperature of the unit")
    for number, (value, source, target, p_atm) in enumerate([
            ("0", "psig", "kPaa", "101.325"), ("0", "kPaa", "kPag", "98.6"), ("100", "psig", "psia", "101.325"),
            ("1", "atm", "barg", "101.325"), ("1", "atm", "psig", "84.3"), ("-50", "kPag", "mbara", "101.325"),
            ("-101.325", "kPag", "kPaa", "101.325"), ("10", "barg", "kPaa", "30"), ("250.25", "psia", "kPag", "120"),
            ("3.5", "kgf/cm2g", "MPaa", "95.1"), ("1013.25", "hPaa", "mbarg", "100"), ("12", "barg", "psig", "95")]):
        add_exact(f"P-{number + 1}", value, source, target, p_atm_kpaa=p_atm)
    for number, (value, source, target, rho) in enumerate([
            ("2.5", "cSt", "cP", "820"), ("2.05", "mPa.s", "mm2/s", "820"), ("1", "reyn", "ft2/s", "998.2"),
            ("1", "in2/s", "P", "0.001"), ("1", "Pa.s", "m2/s", "100000"), ("0.35", "St", "Pa.s", "867.43"),
            ("4", "cSt", "m2/s", "700")]):
        add_exact(f"V-{number + 1}", value, source, target, rho_kgm3=rho)


def printed() -> None:
    """Values that a source prints; the tolerance is half its last digit, or a bit where it is exact."""
    for number, (source, target, expected) in enumerate([
            ("USgal", "in3", "231"), ("bbl", "USgal", "42"), ("impgal", "L", "4.54609"), ("ft", "m", "0.3048"),
            ("ft", "in", "12"), ("in", "mm", "25.4"), ("lb", "kg", "0.45359237"), ("long_ton", "lb", "2240"),
            ("short_ton", "lb", "2000"), ("P", "Pa.s", "0.1"), ("St", "m2/s", "0.0001"), ("atm", "Paa", "101325"),
            ("reyn", "Pa.s", "6894.757293168361"), ("kgf/cm2g", "kPag", "98.0665")]):
        derived = source in ("lb", "atm", "reyn", "kgf/cm2g")
        add(f"X-{number + 1}", f"value=1;from={source};to={target}", expected, f"{2.3e-16 * float(expected):.3g}", target,
            "computed" if derived else "published", PINT if derived else PINT.split(",")[0], PINT_URL, "exact by definition")
    for number, (source, target, expected, last) in enumerate([
            ("bbl", "m3", "0.1589873", 1e-7), ("USgal", "m3", "3.785412e-03", 1e-9), ("USgal", "L", "3.785412", 1e-6),
            ("USgal/min", "m3/s", "6.309020e-05", 1e-11), ("USgal/min", "L/s", "6.309020e-02", 1e-8),
            ("ft3", "m3", "2.831685e-02", 1e-8), ("ft3/min", "m3/s", "4.719474e-04", 1e-10),
            ("in3", "m3", "1.638706e-05", 1e-11), ("lb", "kg", "0.4535924", 1e-7), ("lb/ft3", "kg/m3", "16.01846", 1e-5),
            ("lb/USgal", "kg/m3", "119.8264", 1e-4), ("lb/impgal", "kg/m3", "99.77637", 1e-5),
            ("psia", "Paa", "6894.757", 1e-3), ("psig", "kPag", "6.894757", 1e-6), ("delta_psi", "delta_Pa", "6894.757", 1e-3),
            ("ft2/s", "m2/s", "9.290304e-02", 2e-17), ("reyn", "Pa.s", "6894.757", 1e-3), ("cP", "Pa.s", "0.001", 1e-18),
            ("cSt", "m2/s", "1e-06", 1e-21), ("long_ton", "kg", "1016.047", 1e-3), ("short_ton", "kg", "907.1847", 1e-4),
            ("short_ton/h", "kg/s", "0.2519958", 1e-7), ("lb/h", "kg/s", "1.259979e-04", 1e-10),
            ("lb/min", "kg/s", "7.559873e-03", 1e-9), ("delta_degF", "delta_K", "0.5555556", 1e-7),
            ("atm", "kPaa", "101.325", 1e-13), ("kgf/cm2a", "Paa", "98066.5", 1e-11)]):
        add(f"S-{number + 1}", f"value=1;from={source};to={target}", expected, f"{last / 2:.3g}", target, "from memory",
            SP811, SP811_URL, "seven printed digits")
    points = [("32", "degF", "degC", "0"), ("212", "degF", "degC", "100"), ("-40", "degF", "degC", "-40"),
              ("-40", "degC", "degF", "-40"), ("100", "degC", "degF", "212"), ("0", "degC", "K", "273.15"),
              ("0", "K", "degC", "-273.15"), ("-273.15", "degC", "K", "0"), ("-459.67", "degF", "K", "0"),
              ("-459.67", "degF", "degC", "-273.15"), ("0", "K", "degF", "-459.67"), ("0", "degR", "degC", "-273.15"),
              ("491.67", "degR", "degC", "0"), ("32", "degF", "K", "273.15"), ("59", "degF", "degC", "15"),
              ("68", "degF", "degC", "20"), ("15", "degC", "degF", "59"), ("98.6", "degF", "degC", "37")]
    for number, (value, source, target, expected) in enumerate(points):
        size = 2.3e-16 * max(abs(float(expected)), offset_of(source, target))
        add(f"T-{number + 1}", f"value={value};from={source};to={target}", expected, f"{size:.3g}", target, "computed",
            "fixed points of the scales by NIST SP 811 B.8", SP811_URL)
    add("A-1", "value=10;from=degAPI;to=rd60_60", "1", "1e-16", "rd60_60", "from memory",
        "API MPMS 11.1: 141.5/RD - 131.5, so that 10 is water", "", "exact")
    add("A-2", "value=10;from=degAPI;to=kg/m3", "999.016", "1.2e-13", "kg/m3", "published",
        "ASTM D1555-16: water at 60 degF 0.999016 g/cm3", "", "same figure in API MPMS 11.1-2004")
    add("A-3", "value=1;from=sg15_4;to=kg/m3", "999.974950", "5e-7", "kg/m3", "published",
        "Tanaka et al., Metrologia 38 (2001) 301: greatest density of water", "https://doi.org/10.1088/0026-1394/38/4/3")


def spellings() -> None:
    """Other spellings of a known pair: the same answer."""
    pairs = [("m³", "L", "1000"), ("m^3", "litres", "1000"), ("US gal", "in3", "231"), ("BBL", "USgal", "42"),
             ("°C", "degF", "33.8"), ("mm²/s", "cSt", "1"), ("Pa·s", "cP", "1000"), ("mPa s", "cP", "1"), ("µm", "mm", "0.001"),
             ("kPa (g)", "Pag", "1000"), ("bar(a)", "kPaa", "100"), ("gpm", "USgal/min", "1"), ("cc", "mL", "1"),
             ("pulses per litre", "pulses/m3", "1000"), ("1/m3", "pulses/m3", "1"), ("SG 60/60", "rd60_60", "1"),
             ("°API", "degAPI", "1"), ("Δ°F", "delta_degR", "1"), ("psid", "delta_psi", "1"), ("GPa", "modulus_MPa", "1000")]
    for number, (source, target, expected) in enumerate(pairs):
        add(f"N-{number + 1}", f"value=1;from={source};to={target}", expected, f"{4.6e-16 * float(expected):.2g}", target,
            "common practice", "spelling of the trade; SI Brochure symbols")


REFUSALS = {
    "E_AMBIGUOUS_UNIT": ("the word names two different quantities or sizes (NIST HB 44 appendix C lists the sizes)", [
        ("gal", "L"), ("Gallons", "L"), ("gal/min", "m3/h"), ("lb/gal", "kg/m3"), ("pulses/gal", "pulses/L"), ("ppg", "kg/m3"),
        ("barrel", "m3"), ("Mbbl", "m3"), ("psi", "kPag"), ("PSI", "kPag"), ("bar", "kPag"), ("kPa", "kPag"), ("kPag", "kPa"),
        ("MPa", "kPag"), ("mPa", "kPag"), ("Pa", "kPag"), ("hPa", "kPaa"), ("mbar", "kPaa"), ("kg/cm2", "kPag"),
        ("lbf/in2", "kPag"), ("ton", "kg"), ("tons/h", "kg/h"), ("SG", "kg/m3"), ("sg", "kg/m3"), ("RD", "kg/m3"),
        ("relative density", "kg/m3"), ("specific gravity", "kg/m3"), ("API", "kg/m3"), ("API gravity", "kg/m3"),
        ("API gravity observed", "kg/m3"), ("C", "K"), ("F", "K"),
        ("gallon", "m3"), ("gph", "L/h"), ("1/gal", "pulses/L"), ("barrels", "m3"), ("lb/in2", "kPag"), ("kgf/cm2", "kPag"),
        ("tph", "kg/s"), ("m3", "gals"), ("BAR", "psig"), ("S.G.", "kg/m3")]),
    "E_UNKNOWN_NAME": ("no such unit, or the case changes its meaning", [
        ("furlong", "m"), ("kpga", "kPaa"), ("MPa.s", "cP"), ("mPag", "kPag"), ("MM", "m"), ("SUS", "cSt"), ("m3/hh", "m3/s"),
        ("Mbarg", "kPag"), ("k", "degC"), ("inHg", "kPaa"), ("SSU", "cSt"), ("Hz", "rpm"), ("m3", "x" * 80)]),
    "E_UNIT_KIND": ("the dimensions, or what zero means, differ", [
        ("m3", "m3/h"), ("lb", "USgal"), ("mm", "mm2/s"), ("psig", "delta_psi"), ("modulus_psi", "delta_psi"),
        ("degC", "delta_degC"), ("K", "delta_K"), ("pulses/L", "Hz"), ("1/K", "K"), ("m3/h", "kg/h"),
        ("degAPI", "sg15_4"), ("rd60_60", "sg20_4"), ("sg15_4", "sg20_4"), ("sg15_4", "degAPI")]),
    "E_MISSING": ("p_abs = p_gauge + p_atm; mu = nu rho: one input is not given", [
        ("psig", "psia"), ("kPaa", "barg"), ("atm", "kPag"), ("cSt", "cP"), ("reyn", "m2/s")]),
}


def refusals() -> None:
    for status, (why, pairs) in REFUSALS.items():
        for number, (source, target) in enumerate(pairs):
            add(f"R-{status[2:].lower()}-{number + 1}", f"value=1;from={source};to={target}", status, "", target,
                "common practice", why)
    by_value = [
        ("nan", "m3", "L", "", "E_NAN"), ("inf", "m3", "L", "", "E_INFINITE"), ("-inf", "degC", "K", "", "E_INFINITE"),
        ("-273.16", "degC", "degF", "", "E_BELOW"), ("-459.7", "degF", "degC", "", "E_BELOW"), ("-1e-9", "K", "degC", "", "E_BELOW"),
        ("-0.1", "degR", "K", "", "E_BELOW"), ("-1", "kPaa", "psia", "", "E_BELOW"), ("-0.5", "kg/m3", "lb/ft3", "", "E_BELOW"),
        ("-132", "degAPI", "kg/m3", "", "E_BELOW"), ("-131.5", "degAPI", "kg/m3", "", "E_DOMAIN"),
        ("0", "kg/m3", "degAPI", "", "E_DOMAIN"), ("2e250", "m3", "L", "", "E_ABOVE"), ("-2e250", "m3", "L", "", "E_BELOW"),
        ("1e-308", "kg/m3", "degAPI", "", "E_OVERFLOW"),
        ("-101.4", "kPag", "kPaa", ";p_atm_kpaa=101.325", "E_BELOW"), ("0", "psig", "psia", ";p_atm_kpaa=14.696", "E_BELOW"),
        ("0", "psig", "psia", ";p_atm_kpaa=1013.25", "E_ABOVE"), ("0", "psig", "psia", ";p_atm_kpaa=nan", "E_MISSING"),
        ("0", "psig", "psia", ";p_atm_kpaa=inf", "E_INFINITE"), ("1", "cSt", "cP", ";rho_kgm3=0", "E_BELOW"),
        ("1", "cSt", "cP", ";rho_kgm3=2e5", "E_ABOVE"), ("1", "cSt", "cP", ";rho_kgm3=nan", "E_MISSING"),
        ("1", "cP", "cSt", ";rho_kgm3=inf", "E_INFINITE"), ("1", "cP", "kPag", ";rho_kgm3=800", "E_UNIT_KIND"),
    ]
    for number, (value, source, target, other, status) in enumerate(by_value):
        add(f"R-value-{number + 1}", f"value={value};from={source};to={target}{other}", status, "", target, "common practice",
            "absolute zero, density above zero, or the bound stated with the function")


# --- the library ------------------------------------------------------------------------------------------------------


class Unit(ctypes.Structure):
    _fields_ = [("id", ctypes.c_int32)]


def draw(source: str) -> float:
    if source in SCALES:
        return random.uniform(-200.0, 900.0) if source in ("degC", "degF") else random.uniform(0.0, 1500.0)
    if source == "degAPI":
        return random.uniform(-20.0, 120.0)
    if FACTORS[source][0] == "density":
        return random.uniform(400.0, 1300.0) / float(FACTORS[source][1])
    return random.choice((1.0, 1e-9, 1e9, 1e-100, 1e100)) * random.uniform(1.0, 2.0) * random.choice((1, 1, 3, 7, 0.1))


def compare(path: str, draws: int) -> int:
    """Largest error in units in the last place of the result, and there and back in units in the last place of the value
    and offset together."""
    library = ctypes.CDLL(path)
    library.flc_convert_pressure.argtypes = [ctypes.c_double, Unit, Unit, ctypes.c_double, ctypes.c_void_p, ctypes.c_void_p]
    library.flc_convert_viscosity.argtypes = library.flc_convert_pressure.argtypes
    random.seed(811)

    def unit(name: str) -> Unit:
        found = Unit()
        if library.flc_unit_from_name(name.encode(), ctypes.byref(found), None):
            raise SystemExit(f"the library does not know {name}")
        return found

    def run(value: float, source: str, target: str, p_atm: float, rho: float) -> float:
        result = ctypes.c_double()
        convert = library.flc_convert_pressure if p_atm == p_atm else library.flc_convert_viscosity
        status = convert(value, unit(source), unit(target), p_atm if p_atm == p_atm else rho, ctypes.byref(result), None)
        if status or not isfinite(result.value):
            raise SystemExit(f"{value} {source} -> {target}: status {status}")
        return result.value

    def key(name: str) -> str:
        return "temperature" if name in SCALES else "density" if name in WATER else FACTORS[name][0]

    names = [*FACTORS, *SCALES, "degAPI"]
    if library.flc_unit_count() != len(names):
        raise SystemExit(f"the library has {library.flc_unit_count()} units, {len(names)} are known here")
    worst: dict[str, list[float]] = {}
    for source in names:
        for target in names:
            pair = {key(source), key(target)}
            mixed = {source, target} <= set(WATER) and WATER[source][1] != WATER[target][1]
            pressures = pair == {"pressure_gauge", "pressure_absolute"}
            viscosities = pair == {"kinematic_viscosity", "dynamic_viscosity"}
            if mixed or not (len(pair) == 1 or pressures or viscosities):
                continue
            entry = worst.setdefault(" and ".join(sorted(pair)), [0, 0.0, 0.0])
            for _ in range(draws):
                p_atm = random.uniform(30.0, 120.0) if pressures else float("nan")
                rho = random.uniform(500.0, 1200.0) if viscosities else float("nan")
                value = random.uniform(1e5, 1e7) / float(FACTORS[source][1]) if pressures else draw(source)
                if source in SCALES and exact(Fraction(value), source, "K") < 0:
                    continue
                others = (Fraction(p_atm) if pressures else None, Fraction(rho) if viscosities else None)
                answer = exact(Fraction(value), source, target, *others)
                result = run(value, source, target, p_atm, rho)
                back = run(result, target, source, p_atm, rho)
                entry[0] += 1
                entry[1] = max(entry[1], float(abs(Fraction(result) - answer) / Fraction(ulp(float(answer)))))
                size = abs(value) + offset_of(target, source, others[0])
                entry[2] = max(entry[2], abs(back - value) / ulp(size))
    print(f"{'kind':45} conversions  error/ulp  there and back/ulp")
    for kind, (count, there, back) in worst.items():
        print(f"{kind:45} {count:11d} {there:10.4f} {back:10.1f}")
    return 1 if not worst or max(w[1] for w in worst.values()) > 0.5001 or max(w[2] for w in worst.values()) > 1 else 0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--library", help="path of libflowcomp.so")
    parser.add_argument("--draws", type=int, default=20, help="random values per pair of units")
    arguments = parser.parse_args()
    if arguments.library:
        return compare(arguments.library, arguments.draws)
    for part in (every_unit, chosen, printed, spellings, refusals):
        part()
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow("id,quantity,inputs,expected,tolerance,unit,role,status,source,url,note".split(","))
    writer.writerows(rows)
    return 0


if __name__ == "__main__":
    sys.exit(main())
