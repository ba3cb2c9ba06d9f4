# SPDX-License-Identifier: Apache-2.0
"""The one byte form of ticket files and the signatures of tickets and trails, from schema/ticket.md and schema/trail.md
alone. Signatures are judged where the package PyNaCl is there."""

import json
import math

try:
    from nacl.signing import VerifyKey
except ImportError:
    VerifyKey = None

PROBLEMS: list[str] = []


def expect(good: bool, what: str) -> None:
    if not good:
        PROBLEMS.append(what)


def conclude() -> int:
    if VerifyKey is None:
        print("signatures were not judged: PyNaCl is not there")
    print("\n".join(PROBLEMS) or "good")
    return 1 if PROBLEMS else 0


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
