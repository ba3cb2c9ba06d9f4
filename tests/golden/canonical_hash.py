#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Print the SHA-256 of the canonical bytes of meter and liquid files, worked out from the JSON apart from the library.

    python3 tests/golden/canonical_hash.py FILE...

Canonical bytes: whole numbers as 64-bit and numbers as IEEE doubles, big-endian; a text as its length and its UTF-8
bytes; null as the NaN 7FF8000000000000, or -1 for a choice. Exit status 1 where a file says otherwise.
"""
import hashlib
import json
import struct
import sys

BEYOND = ("refuse", "hold_end", "extend_slope")
CONVENTION = ("dimensionless", "normalised", "raw")
TREATMENT = ("as_run", "already_corrected")
END = ("none", "thin_wall", "thin_wall_closed", "lame_open", "lame_closed", "lame_held")
LAW = ("mean", "nist_cryogenic")
NIST = ("304", "304L", "310", "316", "6061-T6", "3003", "5083", "Ti-6Al-4V", "K93600", "nickel_steel", "N07718", "C17200")
PROVENANCE = (None, "published", "from memory", "common practice, no source", "computed", "given by the user")
VOLUME = ("none", "petroleum_2004", "petroleum_1980", "light_ends_2007", "aromatics_d1555", "ethanol_oiml_r22", "water",
          "seawater_eos80", "produced_water_api20", "glycol_water_melinder_2010", "fame_en14214", "lng_iso6578",
          "saturated_liquid", "costald", "polynomial", "density_table")
COMPRESSIBILITY = ("of_method", "none", "1984", "1986", "supplied")
VAPOUR = ("none", "measured", "laboratory", "supplied")
AROMATIC = ("benzene", "cumene", "cyclohexane", "ethylbenzene", "styrene", "toluene", "m_xylene", "mixed_xylenes",
            "o_xylene", "p_xylene", "aromatics_300_350f", "aromatics_350_400f")
WATER = ("cipm_2001", "patterson_morris_1994", "jones_harris_1992", "kell_1975", "iapws95")
GLYCOL = ("meg", "mpg")
SATURATED = ("carbon_dioxide", "ethane", "ethylene", "isobutane", "methane", "n_butane", "nitrogen", "propane",
             "propylene", "water")
COSTALD = ("ethane", "ethylene", "isobutane", "methane", "n_butane", "n_hexane", "n_pentane", "propane", "propylene")
DEGREE = ("degc", "degf")
MODEL = ("andrade", "vogel", "dutt_prasad", "dippr101", "power_law", "yaws", "polynomial", "d341_ab", "water_r12_08",
         "water_sr6_08", "seawater_sharqawy", "seawater_millero", "glycol_melinder")
KIND = ("dynamic", "kinematic")
VISCOSITY_PRESSURE = ("none", "barus", "roelands", "kouzel_1965", "kouzel_api")
BLEND = ("refutas", "astm_d7152")
GROUP = ("crude", "refined", "fuel_oil", "jet", "transition", "gasoline", "lube")
BASE = ("60F", "15C", "20C")
NEGATIVE_PRESSURE = ("refuse", "clamp")
VISCOSITY = ("measured", "points", "one_point", "between", "typical", "model", "blend")
FORM = ("simple", "body", "full")
EXTEND = ("refuse", "extend")


def whole(value: int) -> bytes:
    return struct.pack(">q", value)


def word(value: str | None, words: tuple) -> bytes:
    return whole(-1 if value is None else words.index(value))


def number(value: float | None) -> bytes:
    return bytes.fromhex("7ff8000000000000") if value is None else struct.pack(">d", value)


def text(value: str) -> bytes:
    data = value.encode()
    return whole(len(data)) + data


def metal(m: dict) -> bytes:
    return (word(m["law"], LAW) + number(m["alpha_per_k"]) + word(m["nist"], NIST) + number(m["t_low_degc"])
            + number(m["t_high_degc"]) + number(m["modulus_gpa"]) + number(m["poisson"])
            + word(m["provenance"], PROVENANCE) + text(m["source"]))


def body(b: dict) -> bytes:
    return (text("flowcomp-body-1") + number(b["bore_m"]) + number(b["t0_degc"]) + number(b["p0_kpag"])
            + metal(b["housing"]) + metal(b["rotor"]) + number(b["area_blocked"]) + word(b["end"], END)
            + number(b["wall_m"]) + word(b["beyond"], EXTEND))


def curve(c: dict) -> bytes:
    x, st, coefficients = c["ln_ro"], c["st"], c["coefficients"]
    out = text("flowcomp-curve-1") + word(c["convention"], CONVENTION) + word(c["treatment"], TREATMENT)
    out += number(c["d0_m"]) + number(c["t0_degc"]) + number(c["p0_kpag"]) + whole(len(x))
    for i in range(len(x) - 1):
        out += number(x[i]) + b"".join(number(v) for v in coefficients[4 * i:4 * i + 4])
    return out + number(x[-1]) + number(st[-1])


def meter(m: dict) -> bytes:
    return (text("flowcomp-meter-1") + text(m["name"]) + word(m["below"], BEYOND) + word(m["above"], BEYOND)
            + number(m["cutoff_hz"]) + body(m["body"]) + curve(m["curve"]))


def head(h: dict) -> bytes:
    out = text(h["format"]) + whole(h["version"]) + text(h["library"]) + text(h["bits_contract"]) + text(h["sha256"])
    out += whole(len(h["methods"]))
    return out + b"".join(text(m["method"]) + text(m["source"]) + text(m["status"]) for m in h["methods"])


def points(p: dict) -> bytes:
    out = whole(len(p["t_degc"]))
    for t, nu in zip(p["t_degc"], p["nu_mm2s"], strict=True):
        out += number(t) + number(nu)
    return out + number(p["rho_base_kgm3"])


def liquid(q: dict) -> bytes:
    first = (text(f"flowcomp-liquid-{q['version']:.0f}") + text(q["name"]) + word(q["volume"], VOLUME) + word(q["product"]["group"], GROUP)
            + number(q["product"]["alpha60_per_degf"]) + word(q["base"], BASE)
            + word(q["negative_pressure"], NEGATIVE_PRESSURE) + word(q["viscosity"], VISCOSITY) + word(q["form"], FORM)
            + points(q["points"]) + points(q["second"]) + number(q["slope_b"]) + word(q["beyond"], EXTEND)
            + number(q["u_nu_relative"]) + word(q["nu_provenance"], PROVENANCE) + text(q["nu_source"]))
    return first + (second_edition(q) if q["version"] == 2 else b"")


def numbers(q: dict, *names: str) -> bytes:
    return b"".join(number(q[name]) for name in names)


def second_edition(q: dict) -> bytes:
    out = numbers(q, "t_base_degc", "p_base_kpag", "p_atmospheric_kpa") + word(q["compressibility"], COMPRESSIBILITY)
    out += number(q["f_per_kpa"]) + word(q["vapour"], VAPOUR)
    out += numbers(q, "pe378_kpa", "vapour_slope_k", "vapour_a", "vapour_b", "vapour_c", "alpha15_per_degc")
    out += word(q["aromatic"], AROMATIC) + word(q["water"], WATER) + word(q["glycol"], GLYCOL)
    out += word(q["saturated"], SATURATED) + word(q["costald"], COSTALD)
    out += numbers(q, "pc_kpa", "mass_fraction", "salinity_psu")
    out += numbers(q["lng"], "x_c1", "x_c2", "x_c3", "x_nc4", "x_ic4", "x_nc5", "x_ic5", "x_nc6", "x_n2")
    polynomial, table = q["polynomial"], q["table"]
    out += whole(len(polynomial["c"])) + b"".join(number(c) for c in polynomial["c"])
    out += numbers(polynomial, "t_low", "t_high") + word(polynomial["degree"], DEGREE)
    out += whole(len(table["t_degc"]))
    for row in zip(table["t_degc"], table["p_kpag"], table["rho_kgm3"], strict=True):
        out += b"".join(number(value) for value in row)
    out += word(q["model"], MODEL) + word(q["kind"], KIND) + numbers(q["coefficients"], "c1", "c2", "c3", "c4", "c5")
    out += numbers(q, "model_t_low_degc", "model_t_high_degc") + word(q["viscosity_pressure"], VISCOSITY_PRESSURE)
    return out + number(q["alpha_per_gpa"]) + word(q["blend"], BLEND) + number(q["share_second"])


def main(paths: list[str]) -> int:
    if not paths:
        print(__doc__)
        return 2
    wrong = 0
    for path in paths:
        with open(path, encoding="utf-8") as file:
            content = json.load(file)
        canonical = {"flowcomp-meter": meter, "flowcomp-liquid": liquid}[content["format"]](content)
        digest = hashlib.sha256(canonical).hexdigest()
        head_digest = hashlib.sha256(head(content)).hexdigest()
        for name, found in (("sha256", digest), ("head_sha256", head_digest)):
            same = found == content[name]
            wrong += not same
            print(found, path, name, "" if same else f"the file says {content[name]}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
