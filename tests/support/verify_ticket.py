#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Check a ticket file and a trail without the library, from schema/ticket.md and schema/trail.md alone.

    verify_ticket.py TICKET.json [TRAIL [PUBLIC_KEY_HEX]]

Form, hashes, chain and arithmetic are compared bit by bit, CTL and CPL of API MPMS 11.1 (2004) to 1e-13, a curve's K not
at all. Signatures are judged where the package PyNaCl is there. Prints what it did; ends with 1 where something is wrong.
"""

import hashlib
import json
import math
import sys

try:
    from nacl.signing import VerifyKey
except ImportError:
    VerifyKey = None

PROBLEMS: list[str] = []
GROUPS = {"crude": (341.0957, 0, 0), "fuel_oil": (103.872, 0.2701, 0), "jet": (330.301, 0, 0), "lube": (0, 0.34878, 0),
          "transition": (1489.067, 0, -0.0018684), "gasoline": (192.4571, 0.2438, 0)}
SHIFT = (-0.148759, -0.267408, 1.080760, 1.269056, -4.089591, -1.871251, 7.438081, -3.536296)


def expect(good: bool, what: str) -> None:
    if not good:
        PROBLEMS.append(what)


def number(x: float) -> str:
    if x == 0:
        return "-0" if math.copysign(1, x) < 0 else "0"
    digits, power = f"{abs(x):.16e}".split("e")
    digits, power = digits.replace(".", "").rstrip("0"), int(power)
    if -5 <= power < 0:
        digits = "0." + "0" * (-power - 1) + digits
    elif 0 <= power < 15:
        whole = digits.ljust(power + 1, "0")
        digits = whole[:power + 1] + ("." + whole[power + 1:] if whole[power + 1:] else "")
    else:
        digits = digits[0] + ("." + digits[1:] if digits[1:] else "") + f"e{power:+03d}"
    return ("-" if x < 0 else "") + digits


def canonical(value: object, indent: str = "\n") -> str:
    deeper = indent + "  "
    if isinstance(value, dict) and value:
        rows = (f"{json.dumps(k, ensure_ascii=False)}: {canonical(value[k], deeper)}" for k in sorted(value))
        return "{" + ",".join(deeper + row for row in rows) + indent + "}"
    if isinstance(value, list) and value:
        return "[" + ",".join(deeper + canonical(one, deeper) for one in value) + indent + "]"
    if isinstance(value, float):
        return number(value)
    return json.dumps(value, ensure_ascii=False)


def signed(key: str, domain: str, digest: str, signature: str) -> bool:
    if VerifyKey is None:
        return True
    try:
        return bool(VerifyKey(bytes.fromhex(key)).verify(f"{domain}\n{digest}".encode(), bytes.fromhex(signature)))
    except Exception:
        return False


def rounded(x: float, policy: dict) -> float:
    if policy["kind"] == "none":
        return x
    scale = 10.0 ** policy["decimals"]
    return math.copysign(math.floor(abs(x) * scale * (1 + 4 * sys.float_info.epsilon) + 0.5) / scale, x)


def petroleum_2004(rho60: float, group: str, t_degf: float) -> tuple[float, float]:
    if group == "refined":
        group = ("fuel_oil" if rho60 >= 838.3127 else "jet" if rho60 >= 787.5195 else
                 "transition" if rho60 >= 770.352 else "gasoline")
    k0, k1, k2 = GROUPS[group]
    tau = (t_degf - 32) / 1.8 / 630
    t = t_degf - 1.8 * sum(c * tau ** (i + 1) for i, c in enumerate(SHIFT))
    a = 0.01374979547 / 2 * ((k0 / rho60 + k1) / rho60 + k2)
    b = (2 * k0 + k1 * rho60) / (k0 + (k1 + k2 * rho60) * rho60)
    star = rho60 * (1 + math.expm1(a * (1 + 0.8 * a)) / (1 + a * (1 + 1.6 * a) * b))
    alpha, dt = (k0 / star + k1) / star + k2, t - 60.0068749
    fp = math.exp(-1.9947 + 0.00013427 * t + (793920 + 2326 * t) / star ** 2)
    return math.exp(-alpha * dt * (1 + 0.8 * alpha * (dt + 0.01374979547))), fp


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


def check_trail(data: bytes, key: str | None, head: dict) -> int:
    lines, previous, every = data.split(b"\n"), "0" * 64, 1
    expect(lines.pop() == b"", "trail: a torn end")
    for n, line in enumerate(lines, 1):
        entry = json.loads(line)
        tail = b',"hash":"' + entry["hash"].encode() + b'"'
        tail += b',"signature":"' + entry["signature"].encode() + b'"}' if "signature" in entry else b"}"
        raw, body = line.removeprefix(b'{"body":').removesuffix(tail), entry["body"]
        expect(len(raw) == len(line) - 8 - len(tail), f"entry {n}: form")
        expect(hashlib.sha256(raw).hexdigest() == entry["hash"], f"entry {n}: edited")
        expect((body["entry"], body["previous"]) == (n, previous), f"entry {n}: chain")
        if n == 1:
            expect(key is None or body["data"]["public_key"] == key, "trail: another key")
            key, every = body["data"]["public_key"], body["data"]["sign_every"]
        if key and (n % every == 0 or body["type"] in ("opened", "head", "set_aside")):
            expect("signature" in entry and signed(key, "flowcomp-trail-1", entry["hash"], entry["signature"]),
                   f"entry {n}: signature")
        expect(head["number"] != n or head["hash"] == entry["hash"], f"entry {n}: not the ticket's head")
        previous = entry["hash"]
    expect(len(lines) >= head["number"], "trail: entries were cut off")
    return len(lines)


def main(argv: list[str]) -> int:
    with open(argv[0], encoding="utf-8", newline="") as file:
        ticket = check_ticket(file.read())
    print(f"ticket {ticket['inputs']['id']}: {len(ticket['figures']['intervals'])} intervals")
    if len(argv) > 1:
        with open(argv[1], "rb") as file:
            count = check_trail(file.read(), argv[2] if len(argv) > 2 else None, ticket["inputs"]["trail"])
        print(f"trail: {count} entries")
    if VerifyKey is None:
        print("signatures were not judged: PyNaCl is not there")
    print("\n".join(PROBLEMS) or "good")
    return 1 if PROBLEMS else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
