#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Check a ticket file without the library, from schema/ticket.md alone (a trail: verify_trail.py).

    verify_ticket.py TICKET.json

Form, hash and arithmetic are compared bit by bit, CTL and CPL of API MPMS 11.1 (2004) to 1e-13, K of a meter's curve to
1e-12 (ticket_formulas.py). Prints what it did; ends with 1 where something is wrong.
"""

import hashlib
import json
import math
import sys

from record_form import canonical, conclude, expect, signed
from ticket_formulas import NOTES, k_of_curve, petroleum_2004


def rounded(x: float, policy: dict) -> float:
    if policy["kind"] == "none":
        return x
    scale = 10.0 ** policy["decimals"]
    return math.copysign(math.floor(abs(x) * scale * (1 + 4 * sys.float_info.epsilon) + 0.5) / scale, x)


def check_liquid(ticket: dict, t_degc: float, p_kpag: float, ctl: float, cpl: float, where: str) -> None:
    liquid, rho60 = ticket["inputs"]["liquid"], ticket["figures"]["density"]["rho60_kgm3"]
    group = liquid["product"]["group"]
    ctl60, fp = petroleum_2004(rho60, group, 1.8 * t_degc + 32)
    base = {"60F": 60.0, "15C": 59.0, "20C": 68.0}[liquid["base"]]
    at_base = petroleum_2004(rho60, group, base)[0] if base != 60 else 1.0
    expect(abs(ctl60 / at_base / ctl - 1) < 1e-13, f"{where}: CTL")
    expect(abs(1 / (1 - 1e-5 * fp * p_kpag / 6.894757) / cpl - 1) < 1e-13, f"{where}: CPL")


def check_figures(ticket: dict) -> None:
    given, made = ticket["inputs"], ticket["figures"]
    chain, policy, r, two = given["ticket"], given["ticket"]["rounding"], made["result"], made["two_ways"]
    sums = dict.fromkeys(("iv", "gv", "gsv_intervals", "t_degc", "p_kpag"), 0.0)
    for i, (row, out) in enumerate(zip(given["intervals"], made["intervals"], strict=True)):
        iv = row["iv"] if row["iv"] is not None else row["pulses"] / (given["nkf"] or out["k"] or 1.0)
        gv = iv * row["mf"]
        curve = chain["way"] == "curve" and row["iv"] is None
        expect(abs(out["iv"] - iv) <= 4e-16 * iv if curve else out["iv"] == iv, f"intervals[{i}]: iv")
        expect(curve or out["gv"] == gv, f"intervals[{i}]: gv")
        if out["k"] is not None and chain["way"] == "curve":
            k = k_of_curve(given, row)
            expect(k is None or abs(k * chain["unit_m3"] / out["k"] - 1) < 1e-12, f"intervals[{i}]: k")
        if out["ctl"] is not None:
            expect(out["gsv"] == out["gv"] * out["ctl"] * out["cpl"], f"intervals[{i}]: gsv")
            check_liquid(ticket, row["t_degc"], row["p_kpag"], out["ctl"], out["cpl"], f"intervals[{i}]")
            for name, value in {"iv": out["iv"], "gv": out["gv"], "gsv_intervals": out["gsv"],
                                "t_degc": row["t_degc"] * out["gv"], "p_kpag": row["p_kpag"] * out["gv"]}.items():
                sums[name] += value
    if two["ctl"] is not None:
        sums |= {name: sums[name] / sums["gv"] for name in ("t_degc", "p_kpag")}
        sums["gsv_averages"] = sums["gv"] * two["ctl"] * two["cpl"]
        sums["difference_ppm"] = 1e6 * ((sums["gsv_averages"] - sums["gsv_intervals"]) / sums["gsv_intervals"])
        for name, value in sums.items():
            expect(two[name] == value, f"two_ways: {name}")
        check_liquid(ticket, two["t_degc"], two["p_kpag"], two["ctl"], two["cpl"], "two_ways")
    iv = {"given": lambda: chain["iv"], "readings": lambda: given["closing"] - given["opening"],
          "pulses": lambda: made["pulses"] / given["nkf"], "intervals": lambda: two["iv"]}[given["iv_source"]]()
    factors = {"given": (chain["ctl"], chain["cpl"], chain["ctpl"]), "averages": (two["ctl"], two["cpl"], None),
               "intervals": (None, None, two["gsv_intervals"] and two["gsv_intervals"] / two["gv"])}[given["factors"]]
    expect(r["iv"] == rounded(iv, policy["volume"]), "iv")
    mf = rounded(r["mf"] / chain["body_ratio"], policy["factors"]) if chain["body_ratio"] else r["mf"]
    expect(chain["mf"] is None or r["mf"] == rounded(chain["mf"], policy["factors"]), "mf")
    expect(r["mf_used"] == mf and r["gv"] == rounded(r["iv"] * mf, policy["volume"]), "gv")
    ctl, cpl, ctpl = (rounded(x, policy["factors"]) if x is not None else None for x in factors)
    expect((r["ctl"], r["cpl"], r["ctpl"]) == (ctl, cpl, ctl * cpl if ctpl is None else ctpl), "ctl, cpl, ctpl")
    if r["apart"] == 0 and chain["sw_basis"] != "mass":
        ccf = rounded(mf * ctl * cpl if ctpl is None else mf * ctpl, policy["ccf"])
        gsv = rounded(r["iv"] * ccf, policy["volume"])
        csw = rounded(1 - chain["sw_pct"] / 100, policy["csw"])
        nsv = rounded(gsv * csw, policy["volume"])
        expect((r["ccf"], r["gsv"], r["csw"], r["nsv"]) == (ccf, gsv, csw, nsv), "ccf, gsv, csw, nsv")
        expect(r["swv"] == rounded(gsv - nsv, policy["volume"]), "swv")
    if r["mass_kg"] is not None:
        rho = chain["rho_base_kgm3"] or given["density"]["rho_base_kgm3"] or made["density"]["rho_base_kgm3"]
        expect(r["mass_kg"] == rounded(r["nsv"] * chain["unit_m3"] * rho, policy["mass"]), "mass")
        expect(r["weight_kg"] == rounded(r["mass_kg"] * r["air_factor"], policy["mass"]), "weight")


def check_ticket(text: str) -> dict:
    ticket = json.loads(text, parse_int=float)
    expect(canonical(ticket) + "\n" == text, "not the one byte form")
    bare = canonical({**ticket, "sha256": "", "signature": ""}) + "\n"
    expect(hashlib.sha256(bare.encode()).hexdigest() == ticket["sha256"], "the content does not match its hash")
    if ticket["public_key"]:
        expect(signed(ticket["public_key"], "flowcomp-ticket-1", ticket["sha256"], ticket["signature"]), "signature")
    check_figures(ticket)
    return ticket


def main(argv: list[str]) -> int:
    with open(argv[0], encoding="utf-8", newline="") as file:
        ticket = check_ticket(file.read())
    print(f"ticket {ticket['inputs']['id']}: {len(ticket['figures']['intervals'])} intervals")
    for note in sorted(NOTES):
        print(note)
    return conclude()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
