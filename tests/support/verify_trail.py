#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Check a trail without the library, from schema/trail.md alone.

    verify_trail.py TRAIL [--key PUBLIC_KEY_HEX] [--ticket TICKET.json]

Form, numbers, hashes, chain, signatures, and that the trail reaches the head that the ticket holds. Prints what it did;
ends with 1 where something is wrong.
"""

import argparse
import hashlib
import json
import sys

from record_form import conclude, expect, signed


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


def main() -> int:
    parser = argparse.ArgumentParser(description="Check a trail without the library.")
    parser.add_argument("trail")
    parser.add_argument("--key", help="public key that must have signed, 64 hexadecimal digits")
    parser.add_argument("--ticket", help="a ticket that holds a head of this trail")
    given = parser.parse_args()
    head = {"number": 0, "hash": ""}
    if given.ticket:
        with open(given.ticket, encoding="utf-8") as file:
            head = json.load(file)["inputs"]["trail"]
    with open(given.trail, "rb") as file:
        print(f"trail: {check_trail(file.read(), given.key, head)} entries")
    return conclude()


if __name__ == "__main__":
    sys.exit(main())
