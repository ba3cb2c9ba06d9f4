# SPDX-License-Identifier: Apache-2.0
"""The tables of methods in README.md and libflowcomp/METHODS.md say what the installed library says."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import flowcomp as fc
import pytest

ROOT = Path(__file__).resolve().parents[2]
GENERATOR = ROOT / "tables" / "generate_methods_page.py"
PAGE = (ROOT / "libflowcomp" / "METHODS.md").read_text(encoding="utf-8")
ROWS = {row[0].strip("`"): row for row in ([cell.strip() for cell in re.split(r"(?<!\\)\|", line)[1:-1]]
                                           for line in PAGE.splitlines() if line.startswith("| `"))}


def plain(text: str) -> str:
    """Text of a cell as the library has it."""
    return text.replace("\\|", "|").replace("&lt;", "<")


def test_every_method_once_in_order() -> None:
    assert list(ROWS) == list(fc.method_names())


@pytest.mark.parametrize("name", fc.method_names())
def test_row(name: str) -> None:
    info = fc.method_info(name)
    _, gives, limits, status, source, evidence = (plain(cell) for cell in ROWS[name])
    assert gives.startswith(info.summary) and (info.unit == "1" or gives.endswith(info.unit))
    assert source == info.source
    assert info.status.startswith(status.partition(";")[0]) and info.confidence in status
    assert re.match(r"\d+ (published|from memory|common practice|computed|derived)", evidence), "no row with a value"
    for argument in info.arguments:
        if argument.kind != "choice" and abs(argument.low) < 1e300 and abs(argument.high) < 1e300:
            assert f"{argument.name} " in limits


def test_readme_counts_them() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    made = text.partition("<!-- made by tables/generate_methods_page.py -->")[2].partition("<!-- end of what is made")[0]
    counts = [int(line.split("|")[2]) for line in made.splitlines() if line.startswith("| [")]
    assert sum(counts) == len(fc.method_names())
    assert "Left out" in made and "11.3.3.2" in made and "Kestin" in made


def test_they_are_up_to_date() -> None:
    done = subprocess.run([sys.executable, str(GENERATOR), "--check"], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
