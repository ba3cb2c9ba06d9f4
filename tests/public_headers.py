# SPDX-License-Identifier: Apache-2.0
"""Reading the public headers: their prototypes with the contract comment over each. Used by contracts.py and abi.py."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

HEADERS = Path(__file__).resolve().parents[1] / "libflowcomp" / "include" / "flowcomp"


@dataclass(frozen=True)
class Prototype:
    header: str
    name: str
    result: str  # "flc_status", with "FLC_STATUS" spelled so, or another type
    parameters: tuple[tuple[str, str], ...]  # (type, name)
    comment: str  # the /** ... */ over it, or over the unbroken run of prototypes it stands in; "" where there is none

    def declaration(self) -> str:
        arguments = ", ".join(f"{ctype}{'' if ctype.endswith('*') else ' '}{name}" for ctype, name in self.parameters)
        result = self.result.replace("FLC_STATUS", "flc_status")
        return f"{result}{'' if result.endswith('*') else ' '}{self.name}({arguments or 'void'});"


def prototypes(headers: Path = HEADERS) -> list[Prototype]:
    """Every FLC_API function of the headers, in their order."""
    found = []
    for path in sorted(headers.glob("*.h")):
        found += prototypes_of(path.name, path.read_text(encoding="utf-8"))
    return found


def prototypes_of(header: str, text: str) -> list[Prototype]:
    text = re.sub(r"^[ \t]*#(?:.*\\\n)*.*$", "", text, flags=re.M)  # directives, FLC_API's own definition among them
    found, comment, end = [], "", 0
    for match in re.finditer(r"/\*.*?\*/|\bFLC_API\b([^;]*);", text, re.S):
        between = text[end : match.start()]
        if between.strip() or between.count("\n") > 1:
            comment = ""
        end = match.end()
        if match[1] is None:
            comment = match[0] if match[0].startswith("/**") else ""
        else:
            found.append(_prototype(header, " ".join(match[1].split()), comment))
    return found


def _prototype(header: str, text: str, comment: str) -> Prototype:
    match = re.fullmatch(r"(.*?[\s*])(flc_\w+) ?\((.*)\)", text)
    if not match:
        raise ValueError(f"{header}: cannot read the prototype '{text}'")
    parameters = []
    for piece in match[3].split(", ") if match[3] != "void" else []:
        part = re.fullmatch(r"(.*?[\s*])(\w+)((?:\[\w*\])*)", piece)
        if not part:
            raise ValueError(f"{header}: cannot read the parameter '{piece}' of {match[2]}")
        parameters.append((part[1].strip(), part[2] + part[3]))
    return Prototype(header, match[2], match[1].strip(), tuple(parameters), comment)
