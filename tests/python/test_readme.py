# SPDX-License-Identifier: Apache-2.0
"""The README's snippets print what the README says they print."""

from __future__ import annotations

import contextlib
import io
import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def snippets(language: str) -> list[tuple[str, str]]:
    """Each code block of that language with the output block behind it."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    pattern = rf"```{language}\n(.*?)```\s*(?:\n[^`]*?)?```output\n(.*?)```"
    return [(code, output) for code, output in re.findall(pattern, text, re.S)]


def test_there_is_a_python_and_a_c_snippet() -> None:
    assert snippets("python") and snippets("c")


def test_python_snippets() -> None:
    for code, expected in snippets("python"):
        printed = io.StringIO()
        with contextlib.redirect_stdout(printed):
            exec(compile(code, "README.md", "exec"), {})
        assert printed.getvalue() == expected


def test_count_of_stages() -> None:
    """tests/run.sh ends with as many passed stages as it lists."""
    listed = subprocess.run([ROOT / "tests" / "run.sh", "--list"], capture_output=True, text=True, check=True).stdout
    assert f"    {len(listed.splitlines())} passed, 0 failed\n" in (ROOT / "README.md").read_text(encoding="utf-8")


def library_folder() -> Path:
    """Where the shared run-time library of the installed package lies."""
    import flowcomp

    found = sorted(Path(flowcomp.__file__).parent.rglob("libflowcomp.so*"))
    if not found:
        pytest.skip("the installed package carries no libflowcomp.so: the C snippet is tried by tests/consumer")
    return found[0].parent


def test_c_snippets(tmp_path: Path) -> None:
    compiler = shutil.which("cc") or pytest.skip("no C compiler")
    folder = library_folder()
    library = sorted(folder.glob("libflowcomp.so*"))[0]
    for number, (code, expected) in enumerate(snippets("c")):
        source, program = tmp_path / f"snippet_{number}.c", tmp_path / f"snippet_{number}"
        source.write_text(code, encoding="utf-8")
        include = ROOT / "libflowcomp" / "include"
        subprocess.run([compiler, "-std=c11", "-Wall", "-Wextra", "-Werror", f"-I{include}", str(source), str(library),
                        f"-Wl,-rpath,{folder}", "-o", str(program)], check=True)
        assert subprocess.run([str(program)], check=True, capture_output=True, text=True).stdout == expected
