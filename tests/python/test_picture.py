# SPDX-License-Identifier: Apache-2.0
"""The picture of the README: drawn by its script from the certificate beside it, nothing beyond the curve."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).resolve().parents[2]
SCRIPT = ROOT / "examples" / "picture" / "k_against_viscosity.py"


def test_readme_shows_it() -> None:
    assert f"({SCRIPT.with_suffix('.svg').relative_to(ROOT)})" in (ROOT / "README.md").read_text(encoding="utf-8")
    assert SCRIPT.with_suffix(".svg").stat().st_size < 100_000


def test_it_is_drawn(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    pictures = [tmp_path / "one.svg", tmp_path / "two.svg"]
    for picture in pictures:
        subprocess.run([sys.executable, str(SCRIPT), str(picture)], check=True)
    assert b"<svg" in pictures[0].read_bytes() and pictures[0].read_bytes() == pictures[1].read_bytes()


def test_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    """Five liquids; K falls where the same liquid at the same frequency thickens well beyond 5 mm2/s; a line ends where
    Ro = f D2/nu leaves what the certificate covers."""
    pytest.importorskip("matplotlib")
    monkeypatch.syspath_prepend(str(SCRIPT.parent))
    import k_against_viscosity as picture
    lines = picture.lines_of(picture.invented_meter())
    assert len({liquid for liquid, _ in lines}) == 5
    for (_, f_hz), (nu, k) in lines.items():
        ro = f_hz * 52.5**2 / nu
        inside = (ro > 42.36 * 52.5**2 / 4.1 * 1.01) & (ro < 653.6 * 52.5**2 / 1.52 * 0.99)
        assert np.isfinite(k[inside]).all()
        assert np.isnan(k[(ro < 42.35 * 52.5**2 / 4.1 * 0.99) | (ro > 653.6 * 52.5**2 / 1.52 * 1.01)]).all()
        thick = k[(nu > 6.0) & np.isfinite(k)]
        assert (np.diff(thick) > 0).all()  # the liquids warm along the line
