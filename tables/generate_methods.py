#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Make the rows of the method list from the contract comments of the public headers.

A contract is the comment over a prototype that carries an @source line and whose last argument is `double *result`:

    /** Summary, one sentence.
     *  formula = in symbols (any further lines before the first tag)
     *
     *  @param t_degf  meaning in words {degF} [-58, 302]
     *  @param pe_psig meaning {psi} [0, 1500] optional, 0
     *  @param form    which form of Z
     *  @return ctl {1}
     *  @source standard, edition, clause
     *  @status from memory; what closes on what, what was left out (the words after ; are the confidence)
     *  @since 0.1
     */

From it come, in libflowcomp/src/<layer>/methods/<header>.inc: the argument ranges, the row, the typed public function
(which goes through flc_method_call, so that there is one check and one guard), the thunk to the hand-written formula
`static flc_status <name>(..., double *result)`, and for each enum of the header its words and its _from_name.

    generate_methods.py           write the files that changed
    generate_methods.py --check   fail if any committed file differs
"""

from __future__ import annotations

import argparse
import re
import sys
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1] / "libflowcomp"
HEADERS = ROOT / "include" / "flowcomp"

# Header of methods -> the folder (layer) of its formulas, in the order of a calculation.
LAYERS = {
    "rounding": "base",
    "nist_cryogenic": "properties",
    "metals": "properties",
    "viscosity_d341": "properties",
    "viscosity_water": "properties",
    "viscosity_models": "properties",
    "viscosity_pressure": "properties",
    "viscosity_blending": "properties",
    "viscosity_index_d2270": "properties",
    "viscosity_units": "properties",
    "petroleum_2004": "properties",
    "petroleum_1980": "properties",
    "compressibility_1984": "properties",
    "light_ends_2007": "properties",
    "compressibility_1986": "properties",
    "aromatics_d1555": "properties",
    "ethanol_oiml_r22": "properties",
    "water": "properties",
    "water_iapws95": "properties",
    "seawater_eos80": "properties",
    "produced_water": "properties",
    "glycol_water_melinder_2010": "properties",
    "fame_en14214": "properties",
    "saturated_liquids": "properties",
    "costald": "properties",
    "lng_iso6578": "properties",
    "supplied_liquid": "properties",
    "body_strain": "meter",
    "prover_steel": "meter",
    "similarity": "meter",
    "performance": "meter",
    "quantities": "custody",
    "proving_quantities": "custody",
    "legal_limits": "custody",
    "pulses": "custody",
}
ANALYSIS = {"analysis_methods": "analysis"}

ARGUMENTS_MAX = 24  # FLC_ARGUMENTS_MAX of base/method.h

STATUSES = {
    "published": "FLC_PUBLISHED",
    "from memory": "FLC_FROM_MEMORY",
    "common practice": "FLC_COMMON_PRACTICE",
    "computed": "FLC_COMPUTED",
}

# A by-value struct of alternatives spreads over several arguments of a call by name.
STRUCTS = {
    "flc_petroleum_product": (
        "(flc_petroleum_product){(flc_petroleum_group)(int)%s.number, %s.number}",
        [
            ("group", "choice", "flc_petroleum_group", "product group", "", -1, True),
            ("alpha60_per_degf", "number", (230.0e-6, 930.0e-6), "given thermal expansion at 60 degF instead of a group",
             "1/degF", float("nan"), True),
        ],
        ["%s.group", "%s.alpha60_per_degf"],
    ),
}


class ContractError(Exception):
    """A contract comment that does not keep the form; the message names header and method."""


@dataclass
class Argument:
    name: str
    kind: str  # number, choice, list
    meaning: str
    unit: str = "1"
    low: str = "-INFINITY"
    high: str = "INFINITY"
    optional: bool = False
    fallback: str = "NAN"
    choices: str = "NULL"


@dataclass
class Method:
    name: str
    summary: str
    formula: str
    unit: str
    source: str
    status: str
    confidence: str
    since: str
    prototype: str
    arguments: list[Argument] = field(default_factory=list)
    to_values: list[str] = field(default_factory=list)  # typed argument -> flc_value initialisers
    from_values: list[str] = field(default_factory=list)  # flc_value array -> formula arguments


def enums_of(text: str) -> dict[str, list[tuple[str, str]]]:
    """Enums of a header: name -> [(constant, word)]; the word is quoted in the comment or the lower-case suffix."""
    found = {}
    for match in re.finditer(r"typedef enum (flc_\w+) \{(.*?)\} \1;", text, re.S):
        rows = []
        for line in match[2].splitlines():
            row = re.match(r"\s*(FLC_\w+) = (-?\d+),?\s*(?:/\*\s*(?:\"([^\"]+)\")?.*)?$", line)
            if row and int(row[2]) >= 0:
                rows.append((row[1], row[3] or ""))
        prefix = re.match(r".*_", _common_prefix([c for c, _ in rows]))[0] if len(rows) > 1 else ""
        found[match[1]] = [(c, w or c[len(prefix):].lower()) for c, w in rows]
    return found


def _common_prefix(names: list[str]) -> str:
    low, high = min(names), max(names)
    n = 0
    while n < min(len(low), len(high)) and low[n] == high[n]:
        n += 1
    return low[:n]


def _tags(comment: str) -> tuple[str, str, list[tuple[str, str]]]:
    lines = [re.sub(r"^\s*\*? ?", "", line).strip() for line in comment.strip().splitlines()]
    head, tags = [], []
    for line in lines:
        tag = re.match(r"@(param(?:\[out\])?|return|source|status|since|fitness|note)\s+(.*)", line)
        if tag:
            tags.append([tag[1], tag[2]])
        elif tags and line:
            tags[-1][1] += " " + line
        elif not tags:
            head.append(line)
    text = "\n".join(head).strip().split("\n", 1)
    formula = " ".join(text[1].split()) if len(text) > 1 else ""
    return text[0].strip().rstrip("."), formula, [(a, b.strip()) for a, b in tags]


def _number(text: str) -> str:
    text = text.strip()
    if text in ("inf", "-inf"):
        return text.replace("inf", "INFINITY")
    float(text)
    return text if re.search(r"[.e]", text) else text + ".0"


def _argument(where: str, name: str, kind: str, text: str) -> Argument:
    match = re.match(r"(?P<words>[^{\[]*?)\s*(?:\{(?P<unit>[^}]*)\})?\s*(?:\[(?P<low>[^,\]]+),(?P<high>[^\]]+)\])?"
                     r"\s*(?P<opt>optional)?(?:,\s*(?P<fallback>\S+))?\s*$", text)
    if not match:
        raise ContractError(f"{where}: @param {name}: cannot read '{text}'")
    argument = Argument(name, kind, match["words"].strip(), match["unit"] or "1")
    if match["low"]:
        argument.low, argument.high = _number(match["low"]), _number(match["high"])
    argument.optional = bool(match["opt"])
    if match["fallback"]:
        argument.fallback = _number(match["fallback"])
    return argument


def _parameters(where: str, method: Method, types: list[tuple[str, str]], params: dict[str, str], enums) -> None:
    """Fill arguments and the two conversions from the C parameter list."""
    count_names = {"n", "count"}
    for ctype, name in types:
        place = len(method.arguments)
        if ctype == "size_t" and name in count_names:
            method.from_values.append(f"v[{[a.kind for a in method.arguments].index('list')}].count"
                                      if any(a.kind == "list" for a in method.arguments) else "@LATER@")
            continue
        if name not in params:
            raise ContractError(f"{where}: no @param for '{name}'")
        if ctype == "double":
            method.arguments.append(_argument(where, name, "number", params[name]))
            method.to_values.append(f"{{{name}, NULL, 0}}")
            method.from_values.append(f"v[{place}].number")
        elif ctype == "const double *":
            method.arguments.append(_argument(where, name, "list", params[name]))
            count = next((n for c, n in types if c == "size_t" and n in count_names), None)
            if count is None:
                raise ContractError(f"{where}: list '{name}' needs a size_t n")
            method.to_values.append(f"{{NAN, {name}, {count}}}")
            method.from_values.append(f"v[{place}].list")
        elif ctype in STRUCTS:
            build, fields, access = STRUCTS[ctype]
            names = []
            for (fname, kind, extra, meaning, unit, _, optional), path in zip(fields, access):
                names.append(f"v[{len(method.arguments)}]")
                argument = Argument(fname, kind, meaning, unit or "1", optional=optional)
                if kind == "choice":
                    argument.choices = f"words_{extra}"
                else:
                    argument.low, argument.high = repr(extra[0]), repr(extra[1])
                method.arguments.append(argument)
                cast = f"(double){path % name}" if kind == "choice" else path % name
                method.to_values.append(f"{{{cast}, NULL, 0}}")
            method.from_values.append(build % tuple(names))
        elif ctype in enums:
            argument = _argument(where, name, "choice", params[name])
            argument.choices = f"words_{ctype}"
            method.arguments.append(argument)
            method.to_values.append(f"{{(double){name}, NULL, 0}}")
            method.from_values.append(f"({ctype})(int)v[{place}].number")
        else:
            raise ContractError(f"{where}: parameter '{name}' has type '{ctype}', which no rule covers")
    first_list = next((i for i, a in enumerate(method.arguments) if a.kind == "list"), 0)
    method.from_values = [f"v[{first_list}].count" if f == "@LATER@" else f for f in method.from_values]
    unknown = set(params) - {n for _, n in types}
    if unknown:
        raise ContractError(f"{where}: @param for unknown {sorted(unknown)}")


def methods_of(header: str) -> tuple[list[Method], dict]:
    text = (HEADERS / f"{header}.h").read_text(encoding="utf-8")
    enums = enums_of(text)
    for include in re.findall(r'#include "flowcomp/(\w+)\.h"', text):
        enums = {**enums_of((HEADERS / f"{include}.h").read_text(encoding="utf-8")), **enums}
    methods = []
    pattern = r"/\*\*((?:(?!\*/).)*?)\*/\s*FLC_API FLC_STATUS flc_(\w+)\(([^;]*?)\);"
    for match in re.finditer(pattern, text, re.S):
        comment, name, arguments = match[1], match[2], " ".join(match[3].split())
        if "@source" not in comment or not arguments.endswith("double *result"):
            continue
        where = f"{header}.h: {name}"
        summary, formula, tags = _tags(comment)
        by_tag = {tag: words for tag, words in tags if not tag.startswith("param")}
        for need in ("return", "source", "status", "since"):
            if need not in by_tag:
                raise ContractError(f"{where}: @{need} is missing")
        status, _, confidence = by_tag["status"].partition(";")
        if status.strip() not in STATUSES:
            raise ContractError(f"{where}: @status '{status}' is none of {', '.join(STATUSES)}")
        unit = re.search(r"\{([^}]*)\}", by_tag["return"])
        if not unit:
            raise ContractError(f"{where}: @return needs its unit in braces")
        method = Method(name, summary, formula, unit[1], by_tag["source"], STATUSES[status.strip()],
                        confidence.strip(), by_tag["since"], arguments)
        params = {}
        for tag, words in tags:
            if tag.startswith("param"):
                key, _, rest = words.partition(" ")
                params[key] = rest.strip()
        types = []
        for piece in arguments.split(", ")[:-1]:
            split = re.match(r"(.*?[\s*])(\w+)$", piece)
            types.append((split[1].strip(), split[2]))
        _parameters(where, method, types, params, enums)
        if len(method.arguments) > ARGUMENTS_MAX:
            raise ContractError(f"{where}: more than {ARGUMENTS_MAX} arguments")
        methods.append(method)
    return methods, enums_of(text)


def _quote(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def render(header: str) -> str:
    methods, enums = methods_of(header)
    out = ["/* SPDX-License-Identifier: Apache-2.0 */",
           f"/* Made by tables/generate_methods.py from flowcomp/{header}.h. Do not edit. */", "", "/* clang-format off */"]
    used_words = {a.choices for m in methods for a in m.arguments if a.choices != "NULL"}
    for enum, rows in enums.items():
        words = ", ".join(_quote(word) for _, word in rows)
        out += [f"static const char *const words_{enum}[] = {{{words}, NULL}};"]
        out += [f"flc_status {enum}_from_name(const char *name, {enum} *choice)", "{",
                f"    return flc_choice_from_name(words_{enum}, name, (int *)choice);", "}", ""]
    for words in sorted(used_words - {f"words_{e}" for e in enums}):
        rows = methods_enums(header)[words[len("words_"):]]
        out += [f"static const char *const {words}[] = {{{', '.join(_quote(w) for _, w in rows)}, NULL}};", ""]
    for m in methods:
        out += _render_method(m)
    return "\n".join(out) + "\n"


def methods_enums(header: str) -> dict:
    text = (HEADERS / f"{header}.h").read_text(encoding="utf-8")
    enums = {}
    for include in re.findall(r'#include "flowcomp/(\w+)\.h"', text):
        enums.update(enums_of((HEADERS / f"{include}.h").read_text(encoding="utf-8")))
    return enums


def _render_method(m: Method) -> list[str]:
    out = []
    if m.arguments:
        out.append(f"static const flc_method_argument arguments_{m.name}[] = {{")
        for a in m.arguments:
            kind = f"FLC_ARGUMENT_{a.kind.upper()}"
            out.append(f"    {{{_quote(a.name)}, {_quote(a.meaning)}, {_quote(a.unit)}, {kind}, {int(a.optional)}, "
                       f"{a.low}, {a.high}, {a.fallback}, {a.choices}}},")
        out.append("};")
    formula_arguments = ", ".join([*m.from_values, "result"])
    local = "call_values" if any(a.name == "values" for a in m.arguments) else "values"
    out += [f"static flc_status call_{m.name}(const flc_value *v, double *result)", "{",
            f"    return {m.name}({formula_arguments});", "}",
            f"const flc_method_row flc_row_{m.name} = {{{{",
            f"    {_quote(m.name)}, {_quote(m.summary)},", f"    {_quote(m.formula)},",
            f"    {_quote(m.unit)}, {_quote(m.source)},", f"    {m.status}, {_quote(m.confidence)}, {_quote(m.since)},",
            f"    {'arguments_' + m.name if m.arguments else 'NULL'}, {len(m.arguments)}}},", f"    call_{m.name}}};",
            f"flc_status flc_{m.name}({m.prototype})", "{",
            f"    const flc_value {local}[] = {{{', '.join(m.to_values)}}};",
            f"    return flc_method_call(&flc_row_{m.name}.info, {local}, {len(m.arguments)}, result, NULL);", "}", ""]
    return out


def render_list(headers: dict, guard: str) -> str:
    names = [m.name for header in headers if (HEADERS / f"{header}.h").exists() for m in methods_of(header)[0]]
    lines = ["/* SPDX-License-Identifier: Apache-2.0 */",
             "/* Made by tables/generate_methods.py: every method, in the order of a calculation. Do not edit. */",
             f"#define {guard}(ROW) \\"]
    return "\n".join(lines + [f"    ROW({name}) \\" for name in names]) + "\n\n"


def outputs() -> dict[Path, str]:
    files = {}
    for header, layer in {**LAYERS, **ANALYSIS}.items():
        if (HEADERS / f"{header}.h").exists():
            files[ROOT / "src" / layer / "methods" / f"{header}.inc"] = render(header)
    files[ROOT / "src" / "batch" / "methods" / "method_list.inc"] = render_list(LAYERS, "FLC_METHOD_LIST")
    if any((HEADERS / f"{h}.h").exists() for h in ANALYSIS):
        files[ROOT / "src" / "analysis" / "methods" / "analysis_method_list.inc"] = render_list(
            ANALYSIS, "FLC_ANALYSIS_METHOD_LIST")
    return files


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="fail if any committed file differs")
    check = parser.parse_args().check
    try:
        files = outputs()
    except ContractError as problem:
        print(f"contract: {problem}", file=sys.stderr)
        return 1
    stale = [path for path, text in files.items() if not path.exists() or path.read_text(encoding="utf-8") != text]
    if not files:
        print("no method headers found", file=sys.stderr)
        return 1
    for path in stale:
        print(f"{'differs' if check else 'wrote'}: {path.relative_to(ROOT.parent)}")
        if not check:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(files[path], encoding="utf-8")
    if check and stale:
        print("run tables/generate_methods.py and commit what it writes", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
