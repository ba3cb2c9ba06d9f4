#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Make the C tables of the library from tables/<standard>_<edition>/<table>.csv (see README.md beside this file).

A C build needs no Python and the library reads no files: what this writes is committed.

    generate.py           write the files that changed
    generate.py --check   fail if any committed file differs
"""

from __future__ import annotations

import argparse
import csv
import hashlib
import re
import sys
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import custody_tables
from generate_methods import STATUSES, enums_of

TABLES = Path(__file__).resolve().parent
LIBRARY = TABLES.parent / "libflowcomp"
TARGET = LIBRARY / "src" / "properties" / "tables"
CUSTODY = LIBRARY / "src" / "custody" / "tables"
HEAD = ("source", "edition", "table", "units", "licence")  # "# key: value" lines every table must have
NUMBER = re.compile(r"[-+]?\d+(\.\d+)?(e[-+]?\d+)?$")


class TableError(Exception):
    """A table that does not keep the form; the message names file and line."""


@dataclass
class Table:
    path: Path
    head: dict[str, str]
    columns: tuple[str, ...]
    rows: list[dict[str, str]]

    @property
    def name(self) -> str:
        return f"{self.path.parent.name}/{self.path.stem}"

    @property
    def set(self) -> str:
        return self.path.parent.name


def read(path: Path) -> Table:
    """One table: its head, its columns, and the texts of its cells as printed."""
    lines = path.read_text(encoding="utf-8").splitlines()
    head = dict(line[2:].split(": ", 1) for line in lines if line.startswith("# "))
    missing = [key for key in HEAD if not head.get(key)]
    if missing:
        raise TableError(f"{path.name}: head lacks {', '.join(missing)}")
    body = [line for line in lines if not line.startswith("#")]
    reader = csv.DictReader(body, strict=True)
    rows = list(reader)
    if not rows:
        raise TableError(f"{path.name}: no rows")
    for place, row in enumerate(rows, start=len(lines) - len(body) + 2):
        if None in row or None in row.values():
            raise TableError(f"{path.name}:{place}: wrong number of cells")
        if row.get("status") not in STATUSES:
            raise TableError(f"{path.name}:{place}: status '{row.get('status')}' is none of {', '.join(STATUSES)}")
    return Table(path, head, tuple(reader.fieldnames), rows)


class Words:
    """Words of the enums of the public headers, turned into their C names."""

    def __init__(self, *headers: str) -> None:
        self.constants = {}
        for header in headers:
            text = (LIBRARY / "include" / "flowcomp" / f"{header}.h").read_text(encoding="utf-8")
            for enum, rows in enums_of(text).items():
                self.constants[enum] = {word: name for name, word in rows}

    def name(self, enum: str, word: str, where: str) -> str:
        try:
            return self.constants[enum][word]
        except KeyError:
            raise TableError(f"{where}: '{word}' is no word of {enum}") from None

    def metal(self, word: str, where: str) -> str:
        return self.name("flc_metal_name", word, where)

    def set(self, word: str, where: str) -> str:
        return self.name("flc_metal_set", word, where)


def number(text: str, where: str) -> str:
    """A cell as a C constant with the printed digits; empty is NAN."""
    if text == "":
        return "NAN"
    if "/" in text:  # a quotient as printed
        return " / ".join(number(part, where) for part in text.split("/"))
    if not NUMBER.match(text):
        raise TableError(f"{where}: '{text}' is no number")
    return text if re.search(r"[.e]", text) else text + ".0"


def numbers(row: dict[str, str], columns: list[str], where: str) -> str:
    return ", ".join(number(row[column], where) for column in columns)


def status(row: dict[str, str]) -> str:
    return STATUSES[row["status"]]


# --- the kinds of table, told apart by their columns ------------------------------------------------------------------

MEAN = ("material", "t_lo_degc", "t_hi_degc", "t_lo_degf", "t_hi_degf", "mean_expansion_1e6_per_k",
        "mean_expansion_1e6_per_degf", "status", "note")
LOCAL = ("material", "t_degc", "t_degf", "local_expansion_1e6_per_k", "local_expansion_1e6_per_degf", "status", "note")
ELASTIC = ("material", "t_degc", "youngs_modulus_gpa", "poisson_ratio", "status", "note")
PROVER = ("material", "linear_per_degf", "area_per_degf", "cubical_per_degf", "modulus_psi", "status", "note")
DEFAULTS = ("material", "modulus_material", "modulus_set", "poisson_material", "poisson_set", "status")
NIST_EXPANSION = ("materials", "a", "b", "c", "d", "e", "f", "t_low_k", "range_lo_k", "range_hi_k", "fit_error_pct",
                  "status", "note")
NIST_MODULUS = ("material", "t_lo_k", "t_hi_k", "c0", "c1", "c2", "c3", "c4", "fit_error_pct", "status", "note")
AROMATICS = ("fluids", "a", "b", "c", "d", "e", "status", "note")
POWERS = ("name", "t_power", "p_power", "value", "status", "note")
PAIRS = ("i", "j", "h", "status", "note")
ANCILLARY = ("fluid", "form", "t_triple", "t_critical", "rho_critical",
             *(f"{letter}{place}" for place in range(1, 7) for letter in "ne"), "status", "note")
COSTALD = ("fluid", "t_critical", "v_star", "omega", "molar_mass", "status", "note")
KINDS = (MEAN, LOCAL, ELASTIC, PROVER, DEFAULTS, NIST_EXPANSION, NIST_MODULUS, AROMATICS, POWERS, PAIRS,
         *custody_tables.KINDS,
         ANCILLARY, COSTALD)

LNG_COLUMNS = "-180 -175 -170 -165 -160 -155 -150 -145 -140"

# Tables whose rows go over as they are: table -> file, declaration, columns; + after a column: as an exact pair.
PLAIN = {
    "iapws_95/iapws_95_power": ("water_iapws95_table", "static const power_term power_terms", "c d t n+"),
    "iapws_95/iapws_95_gaussian": ("water_iapws95_table", "static const gaussian_term gaussian_terms",
                                   "d t n alpha beta gamma epsilon"),
    "iapws_95/iapws_95_nonanalytic": ("water_iapws95_table", "static const nonanalytic_term nonanalytic_terms",
                                      "a b B n C D A beta"),
    "api_11_2_2_1986/compressibility_1986_a": (
        "compressibility_1986_table", "static const term terms_of_a", "t_power g_power value+"),
    "api_11_2_2_1986/compressibility_1986_b": (
        "compressibility_1986_table", "static const term terms_of_b", "t_power g_power value+"),
    "gpa_tp27_2007/light_ends_reference_fluids": (
        "light_ends_2007_table", "static const flc_light_ends_2007_fluid reference_fluids",
        "rd60 tc zc rho_c k1 k2 k3 k4"),
    "astm_d2270/astm_d2270_lh": ("viscosity_index_d2270_table", "static const table_row lh_table",
                                 "nu100_mm2s l_mm2s h_mm2s"),
    "astm_d2270/astm_d2270_quadratic": ("viscosity_index_d2270_table", "static const quadratic_piece lh_quadratic",
                                        "lo hi a b c d e f"),
    "melinder_2010/melinder_2010_coefficients": (
        "glycol_water_melinder_2010_table", "static const melinder_term melinder_terms",
        "rho_meg lnmu_meg rho_mpg lnmu_mpg"),
    "iso_6578/iso_6578_molar_volume": ("lng_iso6578_table", "static const double lng_molar_volumes[][9]", LNG_COLUMNS),
    "iso_6578/iso_6578_k1": ("lng_iso6578_table", "static const double lng_k1[][9]", LNG_COLUMNS),
    "iso_6578/iso_6578_k2": ("lng_iso6578_table", "static const double lng_k2[][9]", LNG_COLUMNS),
}


def entry_rows(tables: list[Table], words: Words) -> list[str]:
    """One row {metal, set, quantity, temperatures, value, status} for every value printed in a set."""
    values = {"mean_expansion_1e6_per_k": "MEAN_PER_K", "mean_expansion_1e6_per_degf": "MEAN_PER_DEGF",
              "local_expansion_1e6_per_k": "LOCAL_PER_K", "local_expansion_1e6_per_degf": "LOCAL_PER_DEGF",
              "youngs_modulus_gpa": "MODULUS_GPA", "poisson_ratio": "POISSON"}
    rows = []
    for t in tables:
        if t.columns not in (MEAN, LOCAL, ELASTIC):
            continue
        for row in t.rows:
            lo_hi = [row.get("t_lo_degc", row.get("t_degc", "")), row.get("t_hi_degc", ""),
                     row.get("t_lo_degf", row.get("t_degf", "")), row.get("t_hi_degf", "")]
            start = f"{{{words.metal(row['material'], t.name)}, {words.set(t.set, t.name)}, "
            at = ", ".join(number(text, t.name) for text in lo_hi)
            rows += [f"{start}{quantity}, {{{at}}}, {number(row[column], t.name)}, {status(row)}}}"
                     for column, quantity in values.items() if row.get(column)]
    return rows


def prover_entry_rows(tables: list[Table], words: Words) -> list[str]:
    """The linear coefficient of a prover metal is a mean expansion too: the printed digits, in 1e-6."""
    rows = []
    for t in (t for t in tables if t.columns == PROVER):
        for row in t.rows:
            digits, exponent = row["linear_per_degf"].split("e")
            if exponent != "-6":
                raise TableError(f"{t.name}: linear_per_degf '{row['linear_per_degf']}' is not in e-6")
            rows.append(f"{{{words.metal(row['material'], t.name)}, {words.set(t.set, t.name)}, MEAN_PER_DEGF, "
                        f"{{NAN, NAN, NAN, NAN}}, {number(digits, t.name)}, {status(row)}}}")
    return rows


def prover_rows(tables: list[Table], words: Words) -> list[str]:
    columns = [c for c in PROVER if c not in ("material", "status", "note")]
    return [f"{{{words.metal(row['material'], t.name)}, {numbers(row, columns, t.name)}, {status(row)}}}"
            for t in tables if t.columns == PROVER for row in t.rows]


def default_rows(tables: list[Table], words: Words) -> list[str]:
    def pair(row: dict[str, str], what: str, where: str) -> str:
        if not row[f"{what}_material"]:
            return "-1, -1"
        return f"{words.metal(row[f'{what}_material'], where)}, {words.set(row[f'{what}_set'], where)}"

    return [f"{{{words.metal(row['material'], t.name)}, {pair(row, 'modulus', t.name)}, "
            f"{pair(row, 'poisson', t.name)}}}" for t in tables if t.columns == DEFAULTS for row in t.rows]


def nist_expansion_rows(tables: list[Table], words: Words) -> list[str]:
    """One row per alloy; a printed row serves all alloys it names."""
    columns = [c for c in NIST_EXPANSION if c not in ("materials", "fit_error_pct", "status", "note")]
    rows = [f"[{words.name('flc_nist_material', material, t.name)}] = {{{numbers(row, columns, t.name)}, {status(row)}}}"
            for t in tables if t.columns == NIST_EXPANSION for row in t.rows for material in row["materials"].split()]
    if len(rows) != len(words.constants["flc_nist_material"]):
        raise TableError("nist_cryogenic/expansion.csv: not one row for every word of flc_nist_material")
    return rows


def nist_modulus_rows(tables: list[Table], words: Words) -> list[str]:
    bounds, powers = ["t_lo_k", "t_hi_k"], [f"c{power}" for power in range(5)]
    return [f"{{{words.name('flc_nist_material', row['material'], t.name)}, {numbers(row, bounds, t.name)}, "
            f"{{{numbers(row, powers, t.name)}}}, {status(row)}}}"
            for t in tables if t.columns == NIST_MODULUS for row in t.rows]


def aromatic_rows(table: Table, words: Words) -> list[str]:
    """One row per fluid; a printed row serves all fluids it names."""
    rows = [f"[{words.name('flc_aromatic', fluid, table.name)}] = {{{numbers(row, list('abcde'), table.name)}}}"
            for row in table.rows for fluid in row["fluids"].split()]
    if len(rows) != len(words.constants["flc_aromatic"]):
        raise TableError(f"{table.name}: not one row for every word of flc_aromatic")
    return rows


def exact_pair(text: str, where: str) -> str:
    """A printed number as the sum of two doubles: where its terms cancel, its own rounding would be seen."""
    left_out = Fraction(text) - Fraction(float(text))
    return f"{{{number(text, where)}, {float(left_out)!r}}}"


def power_rows(table: Table) -> list[str]:
    """[power of t][power of p] = the coefficient as a pair."""
    return [f"[{row['t_power']}][{row['p_power']}] = {exact_pair(row['value'], table.name)}" for row in table.rows]


def pair_rows(table: Table) -> list[str]:
    """[j][i] = h as a pair, for a sum over powers j of one variable and i of the other."""
    return [f"[{row['j']}][{row['i']}] = {exact_pair(row['h'], table.name)}" for row in table.rows]


def plain_rows(table: Table, columns: list[str]) -> list[str]:
    def cell(row: dict[str, str], column: str) -> str:
        return exact_pair(row[column[:-1]], table.name) if column[-1] == "+" else number(row[column], table.name)

    return [f"{{{', '.join(cell(row, column) for column in columns)}}}" for row in table.rows]


def ancillary_rows(table: Table, words: Words) -> list[str]:
    """[fluid] = form, temperatures, density, and the terms that are printed."""
    def terms(row: dict[str, str]) -> str:
        pairs = [numbers(row, [f"n{place}", f"e{place}"], table.name) for place in range(1, 7) if row[f"n{place}"]]
        return ", ".join(f"{{{pair}}}" for pair in pairs)

    return [f"[{words.name('flc_saturated_liquid', row['fluid'], table.name)}] = {{ANCILLARY_{row['form'].upper()}, "
            f"{numbers(row, ['t_triple', 't_critical', 'rho_critical'], table.name)}, {{{terms(row)}}}}}"
            for row in table.rows]


def costald_rows(table: Table, words: Words) -> list[str]:
    columns = ["t_critical", "v_star", "omega", "molar_mass"]
    return [f"[{words.name('flc_costald_fluid', row['fluid'], table.name)}] = {{{numbers(row, columns, table.name)}}}"
            for row in table.rows]


def array(declaration: str, comment: str, rows: list[str]) -> str:
    if not rows:
        raise TableError(f"no rows for '{declaration}'")
    size = "" if declaration.endswith("]") else "[]"
    return f"/* {comment} */\n{declaration}{size} = {{\n" + "".join(f"    {row},\n" for row in rows) + "};\n"


def render_metals(tables: list[Table], words: Words) -> str:
    parts = [
        array("static const metal_entry metal_entries",
              "metal, set, quantity, temperatures as printed (low or only one, high; degC, then degF), value, status",
              prover_entry_rows(tables, words) + entry_rows(tables, words)),
        array("static const prover_row prover_metals",
              "metal, linear, area, cubical expansion 1/degF, modulus psi, status", prover_rows(tables, words)),
        array("static const elastic_default_row elastic_defaults",
              "metal, metal and set of its modulus, metal and set of its Poisson's ratio (-1: none)",
              default_rows(tables, words)),
    ]
    return "\n".join(parts)


def render_nist(tables: list[Table], words: Words) -> str:
    parts = [
        array("const flc_nist_expansion_row flc_nist_expansions",
              "a to f in 1e-5, T_low, lower and upper end of the equation in K, status",
              nist_expansion_rows(tables, words)),
        array("static const nist_modulus_row nist_moduli", "alloy, segment in K, c0 to c4 in GPa, status",
              nist_modulus_rows(tables, words)),
    ]
    return "\n".join(parts)


def render_aqueous(tables: list[Table], words: Words) -> dict[str, str]:
    """Files of the tables that stand alone: coefficients of one formula each."""
    named = {t.name: t for t in tables}
    aromatics, density = named["astm_d1555_2004/astm_d1555_vcf"], named["oiml_r_22_1975/oiml_r_22_density"]
    viscosity = named["iapws_r12_08/iapws_r12_08_h"]
    ancillary, costald = named["eos_ancillary_memory/eos_ancillary_liquid"], named["costald_1979/costald_1979_fluids"]
    files = {
        "aromatics_d1555_table": array("static const double aromatics_vcf[][5]", aromatics.head["table"],
                                       aromatic_rows(aromatics, words)),
        "ethanol_oiml_r22_table": array("static const flc_dd density_terms[7][12]", density.head["table"],
                                        power_rows(density)),
        "viscosity_water_table": array("static const flc_dd r12_08_h[7][6]", viscosity.head["table"],
                                       pair_rows(viscosity)),
        "saturated_liquids_table": array("static const ancillary_row ancillary_rows", ancillary.head["table"],
                                         ancillary_rows(ancillary, words)),
        "costald_table": array("static const costald_row costald_rows", costald.head["table"],
                               costald_rows(costald, words)),
    }
    plain: dict[str, list[str]] = {}
    for name, (file, declaration, columns) in PLAIN.items():
        rows = plain_rows(named[name], columns.split())
        comment = f"{columns.replace('+', '')}: {named[name].head['table']}"
        plain.setdefault(file, []).append(array(declaration, comment, rows))
    return files | {file: "\n".join(parts) for file, parts in plain.items()}


def render_list(tables: list[Table]) -> str:
    """Edition and hash of every table, for the version of the data beside that of the code."""
    def quote(text: str) -> str:
        return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'

    rows = [f"    ROW({quote(t.name)}, {quote(t.head['source'])}, {quote(t.head['edition'])}, \\\n"
            f"        {quote(hashlib.sha256(t.path.read_bytes()).hexdigest())}) \\\n" for t in tables]
    return ("/* name, source, edition, SHA-256 of the file */\n#define FLC_TABLE_LIST(ROW) \\\n" + "".join(rows) + "\n")


def outputs() -> dict[Path, str]:
    paths = sorted(TABLES.glob("*/*.csv"))
    if not paths:
        raise TableError("no tables found")
    tables = [read(path) for path in paths]
    for table in tables:
        if table.columns not in KINDS and table.name not in PLAIN:
            raise TableError(f"{table.path.name}: no kind of table has the columns {', '.join(table.columns)}")
    top = "/* SPDX-License-Identifier: Apache-2.0 */\n/* Made by tables/generate.py. Do not edit. */\n\n/* clang-format off */\n"
    words = Words("metals", "nist_cryogenic", "aromatics_d1555", "quantities", "legal_limits", "saturated_liquids",
                  "costald")
    aqueous = {TARGET / f"{file}.inc": top + text for file, text in render_aqueous(tables, words).items()}
    custody = {CUSTODY / f"{file}.inc": top + text for file, text in
               custody_tables.render(tables, words, (number, numbers, status, array)).items()}
    return {**aqueous, **custody,
            TARGET / "metals_table.inc": top + render_metals(tables, words),
            TARGET / "nist_cryogenic_table.inc": top + render_nist(tables, words),
            TARGET / "table_list.inc": top + render_list(tables)}


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="fail if any committed file differs")
    check = parser.parse_args().check
    try:
        files = outputs()
    except (TableError, ValueError) as problem:
        print(f"table: {problem}", file=sys.stderr)
        return 1
    stale = [path for path, text in files.items() if not path.exists() or path.read_text(encoding="utf-8") != text]
    for path in stale:
        print(f"{'differs' if check else 'wrote'}: {path.relative_to(LIBRARY.parent)}")
        if not check:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(files[path], encoding="utf-8")
    if check and stale:
        print("run tables/generate.py and commit what it writes", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
