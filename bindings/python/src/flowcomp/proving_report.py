# SPDX-License-Identifier: Apache-2.0
"""The report of a proving: verdict, findings, runs, every factor, the factor in force and what may end it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ._version import versions
from .meter_factor import VOID_TRIGGERS, VoidCheck
from .proving import Finding, Proving, ProvingRun
from .proving_file import ProvingFile
from .proving_history import Entry, History
from .report_document import BAD, GOOD, NOTE, Document, Grid, Section, aligned, number

CAUTIONS = (
    "A proving decides about money: contract, local code and the witnesses come first; the library is no approved "
    "instrument.",
    "A restated or recomputed figure is a claim until the parties agree to it.",
    "Opening a line, changing a controller or passing over an alarm is for licensed people on the site, by its rules.",
)
KINDS = {"pipe": "pipe prover", "pipe_bidirectional": "bidirectional pipe prover", "small_volume": "small volume prover",
         "tank": "tank prover", "master_meter": "master meter"}
METHODS = {"average_data": "average data: one factor from the averages of the runs",
           "average_factor": "average factor: mean of the factors of the runs"}
WAYS = {"nominal_k": "nominal K with a meter factor; the factor holds the body at proving conditions",
        "curve": "St(Ro) curve with a factor on top; the body is in K on both sides, no further body term"}
POLICIES = {"target": "the range that keeps the mean within the target uncertainty (Student's t over d2)",
            "lord": "the same by Lord's exact range factor", "api_4_8": "API MPMS 4.8 Table A-1, from memory",
            "fixed": "a fixed limit"}
UNITS = {"temperature": "degC", "flow": "m3/s", "viscosity": "mm2/s", "density": "kg/m3", "days": "d", "volume": "m3"}
RELATIVE = ("flow", "viscosity", "roshko")

# Columns of the runs: field, heading, decimals (None: significant digits).
RUN_COLUMNS = (("pulses", "N", 3), ("f_hz", "f Hz", 2), ("t_meter_degc", "Tm °C", 3), ("p_meter_kpag", "Pm kPa", 1),
               ("t_prover_degc", "Tp °C", 3), ("p_prover_kpag", "Pp kPa", 1), ("t_rod_degc", "Td °C", 3),
               ("volume_m3", "Vp m³", 6), ("cts_prover", "CTSp", 6), ("cps_prover", "CPSp", 6),
               ("ctl_prover", "CTLp", 6), ("cpl_prover", "CPLp", 6), ("ctl_meter", "CTLm", 6), ("cpl_meter", "CPLm", 6),
               ("k_per_m3", "K 1/m³", 2), ("ro", "Ro", 0), ("st", "St", 5), ("iv_meter_m3", "IVm m³", 6),
               ("mf", "MF", 6))


@dataclass(frozen=True)
class Case:
    """A proving with its outcome. held: accepted by its runs, but not put in force, because a trigger refuses it."""

    file: ProvingFile
    outcome: Proving
    entry: Entry
    before: Entry | None  # whose factor was in force
    void: VoidCheck | None
    conditions: tuple[Mapping[str, float], Mapping[str, float]]  # then and now
    held: bool


def verdict_of(case: Case) -> tuple[str, str]:
    """Sentence and tone."""
    outcome = case.outcome
    if not outcome.accepted:
        runs = sorted({finding.run for finding in outcome.findings if finding.run})
        named = f" (run {', '.join(map(str, runs))})" if runs else ""
        why = dict.fromkeys(finding.text for finding in outcome.findings)
        return f"Not accepted{named}: {'; '.join(why)}.", BAD
    if case.held:
        assert case.void
        return (f"Runs accepted, factor {outcome.mf:.6f} not put in force: {', '.join(case.void.exceeded)} beyond the "
                "limit of change."), BAD
    sentence = f"Accepted: meter factor {outcome.mf:.6f}, range {outcome.range_pct:.4f} %"
    return (f"{sentence} of {outcome.range_limit_pct:.4f} % allowed, the mean within {outcome.u_mean_pct:.4f} % (95 %).",
            NOTE if case.void and case.void.exceeded else GOOD)


def document_of(case: Case, history: History, svg: str, charted: Sequence[str]) -> Document:
    """The whole report."""
    file = case.file
    sentence, tone = verdict_of(case)
    if charted and tone != BAD:
        sentence, tone = f"{sentence} The history of the meter asks for a look: see below.", NOTE
    sections = [section for section in (
        findings_section(case), *facts_sections(case), *runs_sections(case), passes_section(file),
        result_section(case.outcome, case.entry), force_section(case), picture_section(svg, charted, history),
        steps_section(case.outcome)) if section]
    return Document(f"Proving {file.proving}", f"Meter {file.meter}, {file.day}" + (
        f", {file.liquid}" if file.liquid else ""), sentence, tone, sections, CAUTIONS, footer())


def footer() -> str:
    found = versions()
    return (f"Worked out by libflowcomp {found['libflowcomp']}, contract of bits {found['bits_contract']}. Methods and "
            "their status stand with each step; 'from memory' is to be confirmed against the print.")


def findings_section(case: Case) -> Section | None:
    rows = [finding_row(finding) for finding in case.outcome.findings]
    if not rows:
        return None
    return Section("Why it is not accepted", grid=Grid(("finding", "run", "pass", "found", "limit", "meaning"), rows,
                                                       texts=(0, 5)), wide=True)


def finding_row(finding: Finding) -> list[str]:
    return [finding.fault, str(finding.run or "all"), "-" if finding.place is None else str(finding.place + 1),
            number(finding.value), number(finding.limit), finding.text]


def facts_sections(case: Case) -> list[Section]:
    file, outcome, options = case.file, case.outcome, case.file.options
    given = file.prover_given
    prover = [("prover", f"{KINDS[str(given['kind'])]}{f' {file.prover_id}' if file.prover_id else ''}")]
    prover += [(label, f"{number(float(given[name]), significant=10)} {unit}".strip()) for name, label, unit in (
        ("base_volume_m3", "base volume", "m³"), ("base_t_degc", "base temperature", "°C"),
        ("gc_per_degc", "cubical expansion", "1/°C"), ("ga_per_degc", "area expansion", "1/°C"),
        ("gl_rod_per_degc", "linear expansion of the rod", "1/°C"), ("e_kpa", "modulus", "kPa"),
        ("id_m", "inner diameter", "m"), ("wall_m", "wall", "m"), ("master_k_per_m3", "K of the master", "1/m³"),
        ("master_mf", "factor of the master", "")) if given.get(name) is not None]
    prover += [(label, str(given[name])) for name, label in (("water_draw_day", "water draw"), ("expiry_day", "valid to"))
               if given.get(name)]
    rounding = options.get("rounding")
    done = [("way", WAYS[outcome.way]), ("method", METHODS[outcome.method]),
            ("range of", "the pulses of the runs" if options.get("range_of", "pulses") == "pulses" else
             "the factors of the runs"), ("limit", POLICIES[options.get("range", "target")]),
            ("runs", f"{outcome.used_count} used of {outcome.run_count}, {options.get('runs_min', 5)} needed, "
                     f"{options.get('passes_per_run', 1)} pass(es) a run; left out: {options.get('rejection', 'none')}"),
            ("rounding", "none" if not rounding else "between the steps, editions 1995 to 1998 (from memory)")]
    done += [("note", file.note)] if file.note else []
    return [Section("Prover", facts=prover), Section("How it was done", facts=done)]


def runs_sections(case: Case) -> list[Section]:
    runs: list[ProvingRun] = [*case.outcome.runs, case.outcome.average]
    columns = [column for column in RUN_COLUMNS if any(not math.isnan(run[column[0]]) for run in runs)]
    named = {finding.run for finding in case.outcome.findings if finding.run}
    rows = [["mean" if run.run == 0 else str(run.run), *(number(run[name], decimals) for name, _, decimals in columns),
             "" if run.run == 0 else "used" if run.rejected == "none" else f"left out: {run.rejected}"] for run in runs]
    marked = [place for place, run in enumerate(runs) if run.run in named]
    half = 1 + len(columns) // 2
    heads = ["run", *(heading for _, heading, _ in columns), "use"]
    first = Grid(heads[:half], [row[:half] for row in rows], (0,), marked)
    second = Grid([heads[0], *heads[half:]], [[row[0], *row[half:]] for row in rows], (0, len(heads) - half), marked)
    return [Section("Runs: readings", grid=first, wide=True), Section("Runs: factors", grid=second, wide=True)]


# Columns of the passes: field, heading.
PASS_COLUMNS = (("pulses", "N"), ("pulses_whole", "N whole"), ("t_pulses_s", "T of N, s"),
                ("t_detectors_s", "T detectors, s"), ("f_hz", "f Hz"), ("pulses_master", "N master"),
                ("upper_m3", "upper m³"), ("lower_m3", "lower m³"), ("t_meter_degc", "Tm °C"),
                ("p_meter_kpag", "Pm kPa"), ("t_prover_degc", "Tp °C"), ("p_prover_kpag", "Pp kPa"),
                ("t_rod_degc", "Td °C"))


def passes_section(file: ProvingFile) -> Section | None:
    """The passes as they were given, where a run has several or they were interpolated."""
    if len({one["run"] for one in file.passes}) == len(file.passes) and "pulses_whole" not in file.passes[0]:
        return None
    columns = [(name, heading) for name, heading in PASS_COLUMNS if any(name in one for one in file.passes)]
    cells = [aligned([one.get(name, math.nan) for one in file.passes]) for name, _ in columns]
    rows = [[str(one["run"]), one["direction"], *row]
            for one, row in zip(file.passes, zip(*cells, strict=True), strict=True)]
    return Section("Passes as given", grid=Grid(("run", "direction", *(heading for _, heading in columns)), rows,
                                                (0, 1)), wide=True)


def result_section(outcome: Proving, entry: Entry) -> Section:
    facts = [("meter factor MF", f"{outcome.mf:.6f}  (average data {outcome.mf_average_data:.8f}, average factor "
                                 f"{outcome.mf_average_factor:.8f})"),
             ("meter accuracy 1/MF", f"{outcome.ma:.6f}"), ("K-factor K/MF", f"{outcome.kf_per_m3:.3f} pulses/m³"),
             ("range of the runs", f"{outcome.range_pct:.4f} %, allowed {number(outcome.range_limit_pct, 4)} %"),
             ("uncertainty of the mean", f"{number(outcome.u_mean_pct, 4)} %, half width at 95 %, from the range")]
    if not math.isnan(entry.st):
        facts += [("Strouhal number proved", f"{entry.st:.6f} at Ro {number(entry.ro, 0)}")]
    return Section("Result", facts=facts)


def force_section(case: Case) -> Section:
    """Which factor is in force now, and the triggers that may end it."""
    if case.outcome.accepted and not case.held:
        said = f"From {case.entry.date}: {case.entry.mf:.6f} of this proving."
    elif case.before:
        said = f"Still {case.before.mf:.6f} of {case.before.proving} ({case.before.date})."
    else:
        said = "None: no accepted proving is known."
    section = Section("Factor in force", paragraphs=[said])
    if case.before:
        section.paragraphs.append(
            f"Before: {case.before.mf:.6f} of {case.before.proving} ({case.before.date}); change "
            f"{100 * (case.entry.mf / case.before.mf - 1):+.4f} %.")
    limits = case.file.void_limits
    if limits:
        then, now = case.conditions
        rows = [[word, number(then.get(word)), number(now.get(word)),
                 f"{100 * limits[word]:g} %" if word in RELATIVE else f"{limits[word]:g} {UNITS.get(word, '')}".strip(),
                 state_of(word, case.void)] for word in VOID_TRIGGERS if word in limits]
        section.paragraphs.append("What ends the life of a factor is for contract and local code; these limits were "
                                  "given with the runs.")
        section.grid = Grid(("trigger", "last proving", "now", "largest change", "state"), rows, (0, 4),
                            [place for place, row in enumerate(rows) if row[4] == "exceeded"])
    return section


def state_of(word: str, void: VoidCheck | None) -> str:
    if void is None or word in void.unknown:
        return "not known"
    return "exceeded" if word in void.exceeded else "holds"


def picture_section(svg: str, charted: Sequence[str], history: History) -> Section:
    paragraphs = list(charted)
    if history.factors is None:
        paragraphs.append("No chart yet: it takes four accepted provings.")
    elif not charted:
        paragraphs.append("The charts find nothing: no factor outside the action limits, no drift.")
    return Section("Runs, limits and history", paragraphs, svg=svg)


def steps_section(outcome: Proving) -> Section:
    steps = outcome.average.steps()
    sources = dict.fromkeys(f"{step.method}, {step.status}" for step in steps)
    rows = [[step.symbol, step.quantity, number(step.value, significant=10), step.unit, step.equation]
            for step in steps]
    return Section("Every factor, at the averages", [f"Source of the steps: {'; '.join(sources)}. The liquid's factors "
                                                     "come from its own method, where no pass gives them."],
                   grid=Grid(("", "quantity", "value", "unit", "equation"), rows, (0, 1, 3, 4)), wide=True)


def record_of(case: Case) -> dict[str, Any]:
    """The proving for a file: everything given, everything found; None for what there is not."""
    file, outcome = case.file, case.outcome

    def plain(value: Any) -> Any:
        if isinstance(value, Mapping):
            return {key: plain(item) for key, item in value.items()}
        if isinstance(value, (list, tuple)):
            return [plain(item) for item in value]
        if isinstance(value, float):
            return value if math.isfinite(value) else None
        return value if value is None or isinstance(value, (str, int)) else str(value)

    conditions = {"q_m3s": case.entry.q_m3s, "t_meter_degc": case.entry.t_meter_degc,
                  "p_meter_kpag": case.entry.p_meter_kpag, "nu_mm2s": case.entry.nu_mm2s, "ro": case.entry.ro,
                  "st": case.entry.st, "rho_base_kgm3": case.entry.rho_base_kgm3}
    return plain({
        "format": "flowcomp-proving", "version": 1, "proving": file.proving, "meter": file.meter, "date": file.day,
        "liquid": file.liquid, "accepted": outcome.accepted, "in_force": outcome.accepted and not case.held,
        "way": outcome.way, "method": outcome.method, "mf": outcome.mf, "k_per_m3": outcome.average.k_per_m3,
        "mf_average_data": outcome.mf_average_data, "mf_average_factor": outcome.mf_average_factor,
        "range_pct": outcome.range_pct, "range_limit_pct": outcome.range_limit_pct, "u_mean_pct": outcome.u_mean_pct,
        "st_proved": outcome.st_proved, "conditions": conditions, "void_limits": file.void_limits,
        "first_mf": case.conditions[0].get("factor_first"), "prover_id": file.prover_id, "prover": file.prover_given,
        "options": file.options, "passes": file.passes,
        "runs": [{name: one[name] for name in one.keys()} for one in outcome.runs],
        "average": {name: outcome.average[name] for name in outcome.average.keys()},
        "findings": [vars(finding) for finding in outcome.findings], "library": versions()})
