# SPDX-License-Identifier: Apache-2.0
"""A ticket's quantity from the indicated volume to mass and weight; line fill; where one batch ends.

A ticket is an account between two parties: their contract and local code come first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from . import _flowcomp as _raw
from . import errors
from ._structs import Record, fill, values_of
from ._words import choice, flag_words
from .explanation import Step
from .liquid import Liquid
from .rounding import Rounding, policy_of

_TICKET_WORDS = {"way": _raw.flc_proving_way_from_name, "sw_basis": _raw.flc_sw_basis_from_name,
                 "air_form": _raw.flc_air_form_from_name}
_CUT_WORDS = {"by": _raw.flc_cut_by_from_name, "allocation": _raw.flc_allocation_from_name}


class TicketResult(Record):
    """The values of a ticket: iv, mf, gv, ctl, cpl, ctpl, ccf, gsv, csw, nsv, swv in the ticket's own unit of volume,
    mass_kg and weight_kg; ``apart`` is True where oil and water were corrected apart."""

    def flag_words(self) -> list[str]:
        """Flags as words."""
        return flag_words(self["flags"])

    def steps(self) -> list[Step]:
        """The ticket in the order of the calculation."""
        capacity = 32
        while True:
            status, listed, count = _raw.flc_ticket_steps(self._raw, capacity)
            if status != _raw.FLC_E_BUFFER:
                return [Step(*row[:8], _raw.flc_provenance_text(row[8]), tuple(flag_words(row[9]))) for row in listed]
            capacity = count


def rounding_1995(volume: str) -> dict[str, Rounding]:
    """Rounding between the steps as in the editions of 1995 to 1998, for volumes in "barrels" or "cubic_metres".

    >>> rounding_1995("barrels")["ccf"]
    Rounding.decimals(4)
    """
    raw = _raw.flc_ticket_rounding()
    _raw.flc_ticket_rounding_1995(choice("volume", volume, _raw.flc_reporting_item_from_name), raw)
    return {name: Rounding.of(policy) for name, policy in values_of(raw).items()}


def evaluate_ticket(*, rounding: Mapping[str, Rounding | int | None] | None = None, **given: Any) -> TicketResult:
    """Work out a ticket.

    :param given: iv (indicated volume, in units of unit_m3), unit_m3 (1), mf, body_ratio, ctl and cpl, or ctpl, sw_pct,
        sw_basis ("volume_at_base", "volume_at_meter", "mass"), sw_limit_pct, ctl_water, cpl_water, rho_base_kgm3,
        rho_water_base_kgm3, air_form ("conventional", "petroleum"), rho_air_kgm3, rho_weights_kgm3, way ("nominal_k",
        "curve")
    :param rounding: policies of factors, ccf, csw, volume, mass; left out: none. rounding_1995 gives those of 1995

    >>> result = evaluate_ticket(iv=1000.0, mf=1.001, ctl=0.99, cpl=1.0002)
    >>> round(result.gsv, 9) == round(1000 * 1.001 * 0.99 * 1.0002, 9)
    True
    """
    raw, result = _raw.flc_ticket(), _raw.flc_ticket_result()
    _raw.flc_ticket_init(raw)
    _raw.flc_ticket_result_init(result)
    fill(raw, given, _TICKET_WORDS, "evaluate_ticket()")
    for name, policy in (rounding or {}).items():
        if name not in ("factors", "ccf", "csw", "volume", "mass"):
            raise errors.E_UNKNOWN_NAME("rounding", message=f"rounding: no step {name!r}; there are factors, ccf, csw, "
                                                            "volume, mass")
        setattr(raw.rounding, name, policy_of(policy))
    _raw.flc_ticket_evaluate(raw, result)
    return TicketResult({**values_of(result), "apart": bool(result.apart), "_raw": result})


def ticket_two_ways(liquid: Liquid, intervals: Sequence[Mapping[str, float]] | Any, **density: float) -> Record:
    """GSV as the sum of its intervals, and by flow-weighted averages, side by side.

    :param intervals: a list of dicts, or a DataFrame: iv, mf, t_degc, p_kpag (kPa gauge)
    :param density: rho_base_kgm3, or rho_observed_kgm3 with t_observed_degc and p_observed_kpag
    """
    raw = _raw.flc_density()
    fill(raw, {"rho_base_kgm3": float("nan"), "rho_observed_kgm3": float("nan"), "t_observed_degc": float("nan"),
               "p_observed_kpag": float("nan"), "densitometer_factor": 1.0, **density}, {}, "ticket_two_ways()")
    ways = _raw.flc_two_ways()
    _raw.flc_ticket_two_ways(liquid._raw, raw, _structs(_raw.flc_ticket_interval, intervals, "intervals"), ways)
    return Record(values_of(ways))


def line_fill(**given: float) -> Record:
    """Standard volume of what fills a line: cts, cps, gross_m3, gsv_m3.

    :param given: base_volume_m3, base_t_degc, gc_per_degc, e_kpa, id_m, wall_m, t_degc, p_kpag, ctl, cpl
    """
    volume = _raw.flc_line_fill_volume()
    _raw.flc_line_fill_at(_line_fill(given), volume)
    return Record(values_of(volume))


def line_fill_change(before: Mapping[str, float], after: Mapping[str, float]) -> float:
    """Change of the line fill between two moments, m3 at base; each with the fields of line_fill."""
    return _raw.flc_line_fill_change(_line_fill(before), _line_fill(after))


def _line_fill(given: Mapping[str, float]) -> Any:
    raw = _raw.flc_line_fill()
    fill(raw, dict.fromkeys(values_of(raw), float("nan")) | dict(given), {}, "line_fill()")
    return raw


def cut_records(records: Sequence[Mapping[str, Any]] | Any, **given: Any) -> Record:
    """Cut records of flow into two batches and their interface: head, interface, tail, batch_head, batch_tail ...

    :param records: a list of dicts, or a DataFrame, in the order of time: start_ms, end_ms (datetimes or ms), pulses,
        volume, rho_kgm3
    :param given: by ("time", "pulses", "density"), first and last of the interface (ms or pulses), allocation ("none",
        "head", "tail", "half", "density"), rho_head_kgm3, rho_tail_kgm3, rho_tolerance_kgm3
    """
    cut, parts = _raw.flc_cut(), _raw.flc_cut_parts()
    _raw.flc_cut_init(cut)
    fill(cut, given, _CUT_WORDS, "cut_records()")
    _raw.flc_cut_records(cut, _structs(_raw.flc_cut_record, records, "records"), parts)
    return Record(values_of(parts))


def _structs(struct: type, rows: Any, where: str) -> tuple[Any, ...]:
    """Raw structs of rows; a field that a row does not have is absent."""
    made = []
    for place, row in enumerate(rows.to_dict("records") if hasattr(rows, "to_dict") else rows):
        raw = struct()
        numbers = {name: float("nan") for name, value in values_of(raw).items() if isinstance(value, float)}
        fill(raw, {**numbers, **row}, {}, f"{where}[{place}]")
        made.append(raw)
    return tuple(made)
