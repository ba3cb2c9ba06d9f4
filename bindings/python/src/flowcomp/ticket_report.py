# SPDX-License-Identifier: Apache-2.0
"""A ticket file as text and as one HTML page, laid out in the order of the calculation.

Everything shown stands in the ticket file: the page adds nothing and works nothing out but the grouping of intervals.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import cache
from typing import TYPE_CHECKING, Any

from .report_document import BAD, GOOD, NOTE, Document, Grid, Section, number
from .trigger_table import trigger_grid

if TYPE_CHECKING:
    from .ticket_file import TicketFile

CLAIM = "A restated or recomputed figure is a claim until the parties agree to it."
CAUTIONS = (
    CLAIM,
    "The contract's method decides, even where this calculation is closer to the truth; local codes, type approvals "
    "and licensed practice come first. The library is no approved instrument.",
)
SHOWN_INTERVALS = 12
TICKET, AVERAGES = "API MPMS 12.2, from memory", "API MPMS 21.2, from memory"
SEALS = {"none": "not signed: its hash tells of accidents only", "good": "signed by the key given",
         "own": "signed by the key that it names itself: whose key that is, the reader must know",
         "bad": "the signature does not match", "other_key": "signed by another key than the one given",
         "missing": "not signed, although a key was given"}
WAYS = {"nominal_k": "nominal K with a meter factor", "curve": "St(Ro) curve with a factor on top"}

# Figures of the result: name, symbol of its step.
RESULT = (("iv", "IV"), ("mf", "MF"), ("body_ratio", "BR"), ("mf_used", "MF'"), ("gv", "GV"), ("ctl", "CTL"),
          ("cpl", "CPL"), ("ctpl", "CTPL"), ("ccf", "CCF"), ("water_share", "X"), ("ctpl_water", "CTPLw"),
          ("gsv", "GSV"), ("csw", "CSW"), ("nsv", "NSV"), ("swv", "SWV"), ("mass_kg", "m"), ("air_factor", "WF"),
          ("weight_kg", "W"))


@cache
def formulas() -> dict[str, tuple[str, str, str]]:
    """Quantity, unit and equation of each symbol, as the library words them."""
    from .ticket import evaluate_ticket

    dry: dict[str, Any] = {"iv": 1.0, "ctl": 1.0, "cpl": 1.0, "rho_base_kgm3": 800.0}
    steps = [*evaluate_ticket(**dry, body_ratio=1.0).steps(),
             *evaluate_ticket(**dry, ctl_water=1.0, cpl_water=1.0).steps()]
    return {step.symbol: (step.quantity, step.unit, step.equation) for step in steps}


def equation_of(symbol: str, inputs: Mapping[str, Any], result: Mapping[str, Any]) -> str:
    """The equation; where it names several, the one that was used."""
    first, _, second = formulas()[symbol][2].partition("; apart: ")
    found = second if result["apart"] and second else first
    if symbol == "WF":
        usual, _, petroleum = found.partition(", or ")
        found = petroleum if given(inputs, "ticket", "air_form") == "petroleum" else usual
    if symbol == "NSV" and result["apart"]:
        at_meter, _, at_base = found.partition(", or ")
        found = at_meter if given(inputs, "ticket", "sw_basis") == "volume_at_meter" else at_base
    if symbol == "CCF" and result["ctl"] is None:
        found = found.replace("CTL CPL", "CTPL")
    return found if result["body_ratio"] is not None else found.replace("MF'", "MF")


def ticket_document(ticket: TicketFile, seal: str) -> Document:
    """The whole ticket.

    :param seal: word of the verdict's seal
    """
    inputs, figures, whole = ticket.inputs, ticket.figures, ticket.document
    unit, result = shown_unit(inputs), figures["result"]
    exceeded = figures["validity"]["exceeded"]
    sentence = (f"Net standard volume {number(result['nsv'], 3)} {unit}, gross standard volume "
                f"{number(result['gsv'], 3)} {unit}")
    if result["mass_kg"] is not None:
        sentence += f", net mass {number(result['mass_kg'], 1)} kg"
    flags = []
    if exceeded:
        flags.append(f"triggers of the factor exceeded: {', '.join(exceeded)}")
    if unknown := figures["validity"]["unknown"]:
        flags.append(f"triggers of the factor that could not be judged: {', '.join(unknown)}")
    if figures["substituted"]:
        flags.append(f"{figures['substituted']} interval(s) with a reading put in")
    if figures["gap_s"]:
        flags.append(f"{number(figures['gap_s'])} s without an interval")
    tone = BAD if seal in ("bad", "other_key", "missing") else NOTE if flags else GOOD
    sections = [section for section in (
        facts_section(inputs, figures), marks_section(ticket, whole, seal), calculation_section(inputs, figures),
        ways_section(inputs, figures), void_section(inputs, figures), line_fill_section(inputs, figures),
        beside_section(inputs),
        intervals_section(inputs, figures)) if section]
    subtitle = f"{inputs['place'] or 'place not stated'}; {when(inputs['start'])} to {when(inputs['end'])}"
    footer = ("Values are shown to ten digits; the ticket file holds every bit and is what counts. Worked out by "
              f"libflowcomp {whole['library']}, contract of bits {whole['bits_contract']}. Anybody can work it out again "
              "from what it holds: flowcomp verify.")
    return Document(f"Ticket {ticket.id}", subtitle, "; ".join([sentence, *flags]) + ".", tone, sections, CAUTIONS,
                    footer)


def when(text: str) -> str:
    """A time of the file for people: UTC to the second."""
    moment = datetime.fromisoformat(text)
    return moment.strftime("%Y-%m-%d %H:%M:%S UTC")


def shown_unit(inputs: Mapping[str, Any]) -> str:
    """The ticket's unit of volume as people write it."""
    return str(inputs["volume_unit"]).replace("m3", "m³")


def given(inputs: Mapping[str, Any], *path: str) -> Any:
    """A value deep in the inputs; None where any step of the way is absent."""
    value: Any = inputs
    for name in path:
        value = value.get(name) if isinstance(value, Mapping) else None
    return value


def facts_section(inputs: Mapping[str, Any], figures: Mapping[str, Any]) -> Section:
    ticket = inputs["ticket"]
    rounding = {name: policy for name, policy in (ticket.get("rounding") or {}).items() if policy_text(policy)}
    facts = [("way", WAYS[ticket["way"]])]
    facts += [("meter", name_of(inputs["meter"], figures["meter_sha256"]))] if inputs.get("meter") else []
    facts += [("liquid", name_of(inputs["liquid"], figures["liquid_sha256"]))] if inputs.get("liquid") else []
    facts += [("factor from", inputs["proving"] or "given by hand"),
              ("settled by", {"given": "the factors given", "averages": "flow-weighted averages",
                              "intervals": "the sum of the intervals"}[inputs["factors"]]),
              ("rounding", ", ".join(f"{name} {policy_text(policy)}" for name, policy in rounding.items()) or "none")]
    if inputs.get("remark"):
        facts.append(("remark", inputs["remark"]))
    return Section("Basis", facts=facts)


def policy_text(policy: Mapping[str, Any] | None) -> str:
    if not policy or policy.get("kind") in (None, "none"):
        return ""
    return f"{policy['decimals']} decimals" if policy["kind"] == "decimals" else f"steps of {policy['step']:g}"


def name_of(record: Mapping[str, Any], sha256: str) -> str:
    return f"{record.get('name', '')} (hash {sha256[:16]}…)"


def marks_section(ticket: TicketFile, whole: Mapping[str, Any], seal: str) -> Section:
    head = ticket.head
    facts = [("hash", ticket.sha256), ("signature", SEALS[seal])]
    if whole["public_key"]:
        facts.append(("public key", whole["public_key"]))
    facts.append(("trail before it", f"entry {head.number}, {head.hash}" if head else "none was kept"))
    return Section("Marks", facts=facts)


# --- the calculation --------------------------------------------------------------------------------------------------

Line = tuple[str, str, str, float | None, str, str]  # symbol, quantity, formula, value, unit, source


def calculation_section(inputs: Mapping[str, Any], figures: Mapping[str, Any]) -> Section:
    """Every line with its formula, its value and its source, in the order in which it is worked out."""
    lines = [*volume_lines(inputs, figures), *condition_lines(inputs, figures), *result_lines(inputs, figures)]
    rows = [[str(place), symbol, quantity, formula, number(value, significant=10), unit, source]
            for place, (symbol, quantity, formula, value, unit, source) in enumerate(lines, 1)]
    return Section("Calculation", grid=Grid(("", "symbol", "quantity", "formula", "value", "unit", "source"), rows,
                                            (0, 1, 2, 3, 5, 6)), wide=True)


def volume_lines(inputs: Mapping[str, Any], figures: Mapping[str, Any]) -> list[Line]:
    """From readings or pulses to the indicated volume."""
    unit, lines = shown_unit(inputs), []
    for name, quantity in (("opening", "register at opening"), ("closing", "register at closing")):
        if inputs.get(name) is not None:
            lines.append((name, quantity, "read", inputs[name], unit, "readings"))
    if figures["pulses"] is not None:
        lines.append(("N", "pulses", "counted" if inputs["iv_source"] == "pulses" else "sum of the intervals",
                      figures["pulses"], "1", "readings"))
    if inputs.get("nkf") is not None:
        lines.append(("NKF", "nominal K-factor", "given", inputs["nkf"], f"1/{unit}", "contract"))
    elif inputs.get("meter") and figures["pulses"] and figures["result"]["iv"]:
        lines.append(("N/IV", "mean K of the intervals", "K = [4 St/(pi D0^3)] B, each interval its own",
                      figures["pulses"] / figures["result"]["iv"], f"1/{unit}", "curve of the meter"))
    return lines


def condition_lines(inputs: Mapping[str, Any], figures: Mapping[str, Any]) -> list[Line]:
    """Temperature, pressure and density that the factors rest on."""
    ways, lines = figures["two_ways"], []
    for name, symbol, quantity, unit in (("t_degc", "T", "temperature, flow-weighted", "°C"),
                                         ("p_kpag", "P", "pressure, gauge, flow-weighted", "kPa")):
        if ways[name] is not None:
            lines.append((symbol, quantity, f"sum({symbol} GV)/sum(GV)", ways[name], unit, AVERAGES))
    for name, symbol, quantity, unit in (
            ("rho_observed_kgm3", "rho_obs", "density observed", "kg/m³"), ("t_observed_degc", "T_obs", "at", "°C"),
            ("p_observed_kpag", "P_obs", "at, gauge", "kPa")):
        if (value := given(inputs, "density", name)) is not None:
            lines.append((symbol, quantity, "measured", value, unit, "readings"))
    if (value := figures["density"]["rho_base_kgm3"]) is not None:
        measured = given(inputs, "density", "rho_observed_kgm3") is not None
        lines.append(("rho", "base density", "from the density observed" if measured else "given", value, "kg/m³",
                      liquid_source(inputs) if measured else "laboratory or contract"))
    return lines


def liquid_source(inputs: Mapping[str, Any], symbol: str = "ctl") -> str:
    """Method of the liquid's volume correction, with its edition and status, as the liquid file names them."""
    for method in (inputs.get("liquid") or {}).get("methods", []):
        if method["method"].startswith(symbol):
            return f"{method['source']}, {method['status']}"
    return "given"


def result_lines(inputs: Mapping[str, Any], figures: Mapping[str, Any]) -> list[Line]:
    """The chain from IV to the weight."""
    result, unit = figures["result"], shown_unit(inputs)
    lines: list[Line] = []
    for name, symbol in RESULT:
        if result[name] is None or (name == "mf_used" and result["body_ratio"] is None):
            continue
        if name in ("water_share", "csw", "swv") and not result["water_share"]:
            continue
        quantity, its_unit, equation = formulas()[symbol]
        formula, source = equation_of(symbol, inputs, result), TICKET
        if name == "iv":
            formula = {"given": "given", "readings": "closing - opening", "pulses": "N/NKF",
                       "intervals": "sum of N/K over the intervals"}[inputs["iv_source"]]
        elif name == "mf":
            formula = "in force" if given(inputs, "ticket", "mf") is not None else "sum(GV)/sum(IV), each interval its own"
            source = f"proving {inputs['proving']}" if inputs["proving"] else "given by hand"
        elif name == "body_ratio":
            source = "contract option, not of the standard; two-metal body, derived"
        elif name in ("ctl", "cpl", "ctpl") and inputs["factors"] != "given":
            formula = {"averages": "at T and P", "intervals": "sum(GSV)/sum(GV) of the intervals"}[inputs["factors"]]
            formula = "CTL CPL" if name == "ctpl" and result["ctl"] is not None else formula
            source = liquid_source(inputs, "cpl" if name == "cpl" else "ctl")
        elif name == "water_share":
            formula = f"S&W/100, {number(given(inputs, 'ticket', 'sw_pct'))} %"
            source = "laboratory or analyser"
        lines.append((symbol, quantity, formula, result[name], unit if its_unit == "volume" else its_unit, source))
    return lines


# --- the rest ---------------------------------------------------------------------------------------------------------

def ways_section(inputs: Mapping[str, Any], figures: Mapping[str, Any]) -> Section | None:
    ways, unit = figures["two_ways"], shown_unit(inputs)
    if ways["gsv_intervals"] is None:
        return None
    return Section("Two ways over the ticket", facts=[
        ("sum of the intervals", f"{number(ways['gsv_intervals'], significant=10)} {unit}, each interval by its own "
                                 "CTL and CPL"),
        ("averages", f"{number(ways['gsv_averages'], significant=10)} {unit}, one CTL and CPL at the flow-weighted "
                     "averages"),
        ("difference", f"{number(ways['difference_ppm'], 3)} ppm, averages over intervals"),
        *([("without", "the body term, which stands in the calculation above")] if figures["result"]["body_ratio"]
          is not None else [])])


def void_section(inputs: Mapping[str, Any], figures: Mapping[str, Any]) -> Section | None:
    limits = {name: value for name, value in (given(inputs, "validity", "limits") or {}).items() if value is not None}
    if not limits:
        return Section("Factor in force", ["No trigger was to be judged."])
    check = figures["validity"]
    states = {name: "exceeded" if name in check["exceeded"] else "not known" if name in check["unknown"] else "holds"
              for name in limits}
    numbers = [{name: float("nan") if (value := given(inputs, "validity", when, name)) is None else value
                for name in limits} for when in ("proving", "now")]
    return Section("Factor in force", grid=trigger_grid(numbers[0], numbers[1], limits, states))


def line_fill_section(inputs: Mapping[str, Any], figures: Mapping[str, Any]) -> Section | None:
    """The change of what fills the line between meter and custody point: a line of its own, in no total."""
    if figures["line_fill_change_m3"] is None:
        return None
    facts = [(f"at {when}", ", ".join(f"{name} {number(value)}" for name, value in fill.items() if value is not None))
             for when in ("opening", "closing") if (fill := given(inputs, "line_fill", when))]
    return Section("Line fill", ["Change of the standard volume between meter and custody point, closing less opening: "
                                 f"{number(figures['line_fill_change_m3'], 4)} m³. It is in no total above."], facts,
                   wide=True)


def beside_section(inputs: Mapping[str, Any]) -> Section | None:
    """What was metered beside the quantity: reverse, below range, maintenance, the interface of two batches."""
    unit, beside = shown_unit(inputs), inputs.get("beside") or {}
    facts = [(word, f"{number(beside[name], significant=10)} {unit}") for name, word in (
        ("reverse", "reverse"), ("below_range", "below range"), ("maintenance", "maintenance"),
        ("interface", "interface of the batches"), ("interface_share", "of it to this batch"))
        if beside.get(name) is not None]
    if not facts:
        return None
    if beside["interface_rule"]:
        facts.append(("rule", beside["interface_rule"]))
    return Section("Beside the ticket", ["Gross volumes as their registers or the cut of the batches have them. They are "
                                         "in no total above."], facts)


def intervals_section(inputs: Mapping[str, Any], figures: Mapping[str, Any]) -> Section | None:
    """The intervals, gathered into at most SHOWN_INTERVALS lines."""
    intervals, worked = inputs.get("intervals") or [], figures["intervals"]
    if not intervals:
        return None
    size = math.ceil(len(intervals) / SHOWN_INTERVALS)
    rows = []
    for first in range(0, len(intervals), size):
        rows.append(group_row(intervals[first: first + size], worked[first: first + size], first))
    unit = shown_unit(inputs)
    marked = [place for place, row in enumerate(rows) if row[-1]]
    return Section(f"Intervals, {len(intervals)} in all" + (f", {size} to a line" if size > 1 else ""), grid=Grid(
        ("", "from", "to", "pulses", f"IV {unit}", "T °C", "P kPa", f"K 1/{unit}", f"GSV {unit}", "put in"), rows,
        (0, 1, 2, 9), marked), wide=True)


def group_row(given_rows: Sequence[Mapping[str, Any]], worked: Sequence[Mapping[str, Any]], first: int) -> list[str]:
    volumes = [row["iv"] or 0.0 for row in worked]
    total = math.fsum(volumes)

    def mean(name: str) -> float | None:
        pairs = [(row[name], volume) for row, volume in zip(given_rows, volumes, strict=True) if volume]
        return math.fsum(value * volume for value, volume in pairs) / total if pairs else None

    pulses = [row.get("pulses") for row in given_rows]
    counted = math.fsum(pulse for pulse in pulses if pulse is not None) if any(p is not None for p in pulses) else None
    name = str(first + 1) if len(given_rows) == 1 else f"{first + 1}–{first + len(given_rows)}"
    standard = [row["gsv"] for row in worked if row["gsv"] is not None]
    put_in = [row["substituted"] for row in given_rows if row.get("substituted")]
    start, end = (datetime.fromisoformat(text).strftime("%m-%d %H:%M") for text in (
        given_rows[0]["start"], given_rows[-1]["end"]))
    return [name, start, end, number(counted, 0), number(total, 3), number(mean("t_degc"), 2),
            number(mean("p_kpag"), 1), number(counted / total if counted and total else None, 2),
            number(math.fsum(standard) if standard else None, 3),
            "; ".join(dict.fromkeys(put_in))]
