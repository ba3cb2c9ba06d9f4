#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Make the table of methods for readers: libflowcomp/METHODS.md, a row per method, and the table of families in README.md.

Everything but the titles of the families and the list of what is left out comes from the contract comments of the public
headers (as generate_methods.py reads them), from the check rows in tests/checks, and from the tests that compare with a
second implementation, tests/python/test_agreement_*.py.

    generate_methods_page.py           write the files that changed
    generate_methods_page.py --check   fail if a committed file differs
"""

from __future__ import annotations

import argparse
import ast
import csv
import re
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from generate_methods import ANALYSIS, LAYERS, Argument, ContractError, Method, methods_of

ROOT = Path(__file__).resolve().parents[1]
PAGE = ROOT / "libflowcomp" / "METHODS.md"
README = ROOT / "README.md"
BEGIN, END = "<!-- made by tables/generate_methods_page.py -->\n", "<!-- end of what is made -->\n"

TITLES = {  # header -> what a reader calls the family, and the edition where there is one
    "rounding": "Rounding",
    "nist_cryogenic": "Metals below 300 K, NIST polynomials",
    "metals": "Metals: expansion, modulus, Poisson's ratio",
    "viscosity_d341": "Viscosity against temperature, ASTM D341",
    "viscosity_water": "Viscosity of water and sea water",
    "viscosity_models": "Viscosity models: Andrade, Vogel, handbook forms",
    "viscosity_pressure": "Viscosity under pressure: Barus, Roelands, Kouzel",
    "viscosity_blending": "Viscosity of blends: Refutas, ASTM D7152, Wright",
    "viscosity_index_d2270": "Viscosity index, ASTM D2270",
    "viscosity_units": "Saybolt seconds, ASTM D2161, and units",
    "petroleum_2004": "Petroleum liquids, edition 2004",
    "petroleum_1980": "Petroleum liquids, edition 1980",
    "compressibility_1984": "Compressibility, edition 1984",
    "light_ends_2007": "Light ends, edition 2007",
    "compressibility_1986": "Compressibility of light ends, edition 1986",
    "aromatics_d1555": "Aromatics, ASTM D1555",
    "ethanol_oiml_r22": "Ethanol and water, OIML R 22 (1975)",
    "water": "Water at 1 atm",
    "water_iapws95": "Water and steam, IAPWS-95",
    "seawater_eos80": "Sea water, EOS-80",
    "produced_water": "Produced water",
    "glycol_water_melinder_2010": "Glycol and water, Melinder (2010)",
    "fame_en14214": "Biodiesel, EN 14214",
    "saturated_liquids": "Saturated liquids",
    "costald": "Light liquids under pressure, COSTALD (1979, 1982)",
    "lng_iso6578": "LNG, ISO 6578",
    "supplied_liquid": "Polynomials, tables and compressibility of the user",
    "body_strain": "Body under pressure and temperature",
    "prover_steel": "Prover steel",
    "similarity": "Strouhal, Roshko, Reynolds",
    "performance": "Performance figures",
    "quantities": "Quantities of a ticket",
    "proving_quantities": "Proving",
    "legal_limits": "Legal limits of error",
    "pulses": "Pulses and frequency",
    "analysis_methods": "Statistics (libflowcomp-analysis)",
}

LEFT_OUT = (  # what the material marks as missing: no formula or constant could be read, and none is invented
    "Ethylene and propylene of polymer grade by API MPMS 11.3.2.1 and 11.3.3.2, denatured fuel ethanol by 11.3.3 and "
    "11.3.4: texts not read. Saturated and compressed liquids by reference equations are there instead.",
    "Vapour pressure of light ends by GPA TP-15 = API MPMS 11.2.5: not read. The equilibrium pressure is an input: "
    "measured, from the laboratory, or from a correlation that the user supplies.",
    "The critical enhancement mu2 of the viscosity of water (IAPWS R12-08): left out; the region where it counts, around "
    "the critical point, is refused.",
    "The viscosity of water by Swindells below 20 degC and by Kestin: the formula above 20 degC is all that could be read.",
    "Petroleum tables of 1952: other data than those of 1980 under the same numbers; no formula exists.",
    "Freezing curves of glycol-water: not given; the user states the lowest temperature.",
    "Viscosities of squalane, DIDP, aviation fuels and military hydraulic fluids: no coefficients could be read; measured "
    "points of the liquid itself go into a table or a fit.",
    "Worked examples printed in API MPMS 11.1 (2004), GPA TP-27, ASTM D341 and D7152, and for Kouzel and Roelands, and "
    "the table of ASTM D2161: not read. Those methods are checked by recomputation, by closures, and by published values "
    "of other sources.",
    "The print of ISO 6578: its tables are a public copy, with one doubtful cell (k1, molar mass 20, -145 degC).",
    "Texts of API MPMS 4.8, 12.2, 13.2 and 21.2 and of ISO 4267-2, 7278 and 4124: not read; formulas from memory say so. "
    "Certificates of the expansion standards SRM 731, 736 and 738: values from memory.",
)

STATUS_WORDS = {"FLC_PUBLISHED": "published", "FLC_FROM_MEMORY": "from memory", "FLC_COMMON_PRACTICE": "common practice",
                "FLC_COMPUTED": "computed"}


# --- evidence ---------------------------------------------------------------------------------------------------------

def check_rows() -> dict[str, Counter[str]]:
    """Judged rows of each quantity, counted by the status of their expected value; refusals apart."""
    found: dict[str, Counter[str]] = {}
    for file in sorted((ROOT / "tests" / "checks").glob("*.csv")):
        lines = [line for line in file.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
        for row in csv.DictReader(lines):
            if row.get("role") in ("conformance", "agreement"):
                kind = "refusal" if row["expected"].startswith("E_") else row["status"]
                found.setdefault(row["quantity"], Counter())[kind] += 1
    return found


def second_implementations(names: set[str]) -> dict[str, set[str]]:
    """The packages that each method is compared with: what the test functions that name it load, or their fixtures."""
    found: dict[str, set[str]] = {}
    for file in sorted((ROOT / "tests" / "python").glob("test_agreement_*.py")):
        functions = [node for node in ast.parse(file.read_text(encoding="utf-8")).body if isinstance(node, ast.FunctionDef)]
        loads = {node.name: _loaded(node) for node in functions}
        for test in functions:
            if test.name.startswith("test_"):
                nodes = list(ast.walk(test))
                words = {node.attr for node in nodes if isinstance(node, ast.Attribute)}
                words |= {node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str)}
                packages = loads[test.name].union(*(loads.get(a.arg, set()) for a in test.args.args))
                for name in words & names:
                    found.setdefault(name, set()).update(packages)
    return found


def _loaded(function: ast.FunctionDef) -> set[str]:
    """Distributions that a fixture or a test loads: the last text of peers.load(request, module, distribution), or of
    peer(module, distribution)."""
    calls = [node for node in ast.walk(function) if isinstance(node, ast.Call)]
    calls = [call for call in calls if ast.unparse(call.func) in ("peers.load", "peer") and len(call.args) >= 2]
    return {call.args[-1].value for call in calls if isinstance(call.args[-1], ast.Constant)}


# --- words ------------------------------------------------------------------------------------------------------------

def bounds(argument: Argument) -> str:
    """The range of a number, or "" where there is none."""
    if argument.kind == "choice" or "INFINITY" in argument.low + argument.high:
        return ""
    return f"{_short(argument.low)} to {_short(argument.high)} {'' if argument.unit == '1' else argument.unit}".strip()


def _short(number: str) -> str:
    return f"{float(number):.12g}".replace("e-0", "e-").replace("e+0", "e").replace("e+", "e")


def cell(text: str) -> str:
    """Text that neither ends a cell nor begins a tag."""
    return " ".join(text.split()).replace("|", "\\|").replace("<", "&lt;")


def evidence(name: str, rows: dict[str, Counter[str]], peers: dict[str, set[str]]) -> str:
    """What a method is checked against."""
    count = rows.get(name, Counter())
    parts = [f"{count[kind]} {kind}" for kind in ("published", "from memory", "common practice", "computed", "derived")
             if count[kind]]
    parts += [f"{n} {kind}" for kind, n in sorted(count.items())
              if kind not in ("published", "from memory", "common practice", "computed", "derived", "refusal")]
    parts += [f"{count['refusal']} refused"] if count["refusal"] else []
    return ", ".join(parts) + (f"; {', '.join(sorted(peers[name]))}" if peers.get(name) else "")


def family_range(methods: list[Method]) -> str:
    """The widest stated range of temperature, pressure, density and viscosity among the arguments, by unit."""
    wanted: dict[str, tuple[float, float]] = {}
    for method in methods:
        for argument in method.arguments:
            stem, _, unit = argument.name.rpartition("_")
            symbol = re.sub(r"(_base|_ref|_table|_fit|60|15|20|\d)*$", "", stem)
            if symbol in ("t", "p", "rho", "nu", "rd", "dp", "s") and bounds(argument):
                low, high = float(argument.low), float(argument.high)
                key = f"{symbol} {argument.unit}"
                before = wanted.get(key, (low, high))
                wanted[key] = (min(low, before[0]), max(high, before[1]))
    shown: dict[str, str] = {}
    for key, (low, high) in wanted.items():
        symbol, unit = key.split(" ", 1)
        if unit != "any":
            shown.setdefault(symbol, f"{symbol} {low:.6g} to {high:.6g} {'' if unit == '1' else unit}".strip())
    return ", ".join(list(shown.values())[:3]) or "see the contracts"


def family_sources(methods: list[Method]) -> str:
    """The sources, each by its beginning; the most frequent first."""
    count = Counter(re.split(r"[,;:]| \(text", method.source)[0].strip() for method in methods)
    names = [name for name, _ in count.most_common(3)]
    return "; ".join(names) + ("; ..." if len(count) > 3 else "")


def family_status(methods: list[Method]) -> str:
    """Status words with their counts."""
    count = Counter(STATUS_WORDS[method.status] for method in methods)
    return ", ".join(word if len(count) == 1 else f"{number} {word}" for word, number in count.most_common())


# --- the two texts ----------------------------------------------------------------------------------------------------

def anchor(title: str) -> str:
    """Anchor of a heading."""
    return re.sub(r"[^\w\- ]", "", title.lower()).replace(" ", "-")


def families() -> list[tuple[str, list[Method]]]:
    """Headers with their methods, in the order of a calculation."""
    return [(header, methods_of(header)[0]) for header in (*LAYERS, *ANALYSIS)]


def page(found: list[tuple[str, list[Method]]], rows: dict, peers: dict) -> str:
    """METHODS.md."""
    total = sum(len(methods) for _, methods in found)
    out = ["# The methods", "",
           f"Made by tables/generate_methods_page.py from the contract comments, the check rows and the tests. {total} "
           "methods. Evidence counts the check rows of a method by the status of their expected value (published, from "
           "memory, computed in 40 digits apart from the library, derived from a definition; refused: inputs that must be "
           "refused), then the packages that a test compares it with. Evaluation errors are in "
           "[tests/accuracy/methods_table.md](../tests/accuracy/methods_table.md).", ""]
    for header, methods in found:
        out += [f"## {TITLES[header]}", "",
                f"Contracts: [flowcomp/{header}.h](include/flowcomp/{header}.h)", "",
                "| method | gives | range | status | source | evidence |", "|---|---|---|---|---|---|"]
        for m in methods:
            limits = "; ".join(f"{a.name} {bounds(a)}" for a in m.arguments if bounds(a)) or "none stated"
            status = STATUS_WORDS[m.status] + (f"; {m.confidence}" if m.confidence else "")
            unit = "" if m.unit == "1" else f", {m.unit}"
            out.append("| " + " | ".join(cell(text) for text in (
                f"`{m.name}`", m.summary + unit, limits, status, m.source, evidence(m.name, rows, peers))) + " |")
        out.append("")
    return "\n".join([*out, "## Left out", "", *(f"- {line}" for line in LEFT_OUT)]) + "\n"


def readme_table(found: list[tuple[str, list[Method]]], rows: dict, peers: dict) -> Iterator[str]:
    """The table of families, and what is left out."""
    yield "| family and edition | methods | range | status | source | checked by |"
    yield "|---|---:|---|---|---|---|"
    for header, methods in found:
        judged = sum((rows.get(m.name, Counter()) for m in methods), Counter())
        outside = judged["published"]
        packages = sorted(set().union(*(peers.get(m.name, set()) for m in methods)))
        checked = f"{sum(judged.values())} rows" + (f", {outside} published" if outside else "")
        checked += "".join(f", {package}" for package in packages)
        title = f"[{TITLES[header]}](libflowcomp/METHODS.md#{anchor(TITLES[header])})"
        yield "| " + " | ".join(cell(text) for text in (
            title, str(len(methods)), family_range(methods), family_status(methods), family_sources(methods), checked)) + " |"
    yield ""
    yield "Left out, because no text or constant could be read and none is invented:"
    yield ""
    for line in LEFT_OUT:
        yield f"- {line}"


def outputs() -> dict[Path, str]:
    """The texts that must stand in the files."""
    found = families()
    names = {method.name for _, methods in found for method in methods}
    rows, peers = check_rows(), second_implementations(names)
    text = README.read_text(encoding="utf-8")
    head, begin, rest = text.partition(BEGIN)
    _, end, tail = rest.partition(END)
    if not begin or not end:
        raise ContractError("README.md: the marks of what is made are missing")
    table = "\n".join(readme_table(found, rows, peers)) + "\n"
    return {PAGE: page(found, rows, peers), README: head + BEGIN + table + END + tail}


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="fail if a committed file differs")
    check = parser.parse_args().check
    try:
        files = outputs()
    except (ContractError, KeyError) as problem:
        print(f"table of methods: {problem}", file=sys.stderr)
        return 1
    stale = [path for path, text in files.items() if not path.exists() or path.read_text(encoding="utf-8") != text]
    for path in stale:
        print(f"{'differs' if check else 'wrote'}: {path.relative_to(ROOT)}")
        if not check:
            path.write_text(files[path], encoding="utf-8")
    if check and stale:
        print("run tables/generate_methods_page.py and commit what it writes", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
