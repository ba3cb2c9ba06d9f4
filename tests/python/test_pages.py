# SPDX-License-Identifier: Apache-2.0
"""The pages of a proving and of a ticket in a real browser: nothing runs over the edge, a ticket is one printed page,
and the pictures stand in the build folder for people to look at. Without Chromium these tests are skipped, and say so."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from test_depot_custody import depot, proved, tickets

BROWSER = next((found for name in ("chromium", "chromium-browser") if (found := shutil.which(name))), None)
pytestmark = pytest.mark.skipif(BROWSER is None, reason="no Chromium here (apt-get install chromium): pages not rendered")
WIDTH, NARROW = 1060, 600


def pictures() -> Path:
    """Where the pictures go: the build folder, where the test script names it."""
    folder = Path(os.environ.get("FLOWCOMP_BUILD") or tempfile.mkdtemp(prefix="flowcomp_pages_")) / "pages"
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def browse(page: Path, *options: str) -> str:
    """What the browser prints."""
    assert BROWSER
    return subprocess.run([BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
                           "--virtual-time-budget=2000", *options, page.as_uri()], check=True, capture_output=True,
                          text=True, timeout=120).stdout


def measured(page: Path, folder: Path, width: int) -> tuple[int, int, int]:
    """Width of the window, width and height of what is in it; of cells, a text that is cut counts as width."""
    script = ("<script>addEventListener('load', () => { const root = document.documentElement; let most = 0; "
              "for (const one of document.querySelectorAll('td, th, dd, dt, h1, h2, p, svg')) "
              "most = Math.max(most, one.getBoundingClientRect().right); document.title = "
              "`MEASURED ${innerWidth} ${Math.max(most, root.scrollWidth)} ${root.scrollHeight}`; });</script>")
    copy = folder / "measured.html"
    copy.write_text(page.read_text(encoding="utf-8").replace("</head>", script + "</head>"), encoding="utf-8")
    found = re.search(r"<title>MEASURED (\d+) ([\d.]+) (\d+)</title>",
                      browse(copy, "--dump-dom", f"--window-size={width},1400"))
    assert found, "the page did not measure itself"
    return int(found[1]), round(float(found[2])), int(found[3])


def proving_page() -> Path:
    return proved("F")[0] / "F-17.html"


def drift_page() -> Path:
    return proved("E")[0] / "E-26.html"


def ticket_page() -> Path:
    tickets()
    return depot() / "tickets" / "E-2025-11.html"


@pytest.mark.parametrize("page", [proving_page, drift_page, ticket_page])
def test_nothing_runs_over_the_edge(page: Callable[[], Path], tmp_path: Path) -> None:
    window, width, height = measured(page(), tmp_path, WIDTH)
    assert window == WIDTH and width <= WIDTH and height > 500
    picture = pictures() / f"{page().stem}.png"
    browse(page(), f"--screenshot={picture}", f"--window-size={WIDTH},{height + 20}")
    assert picture.read_bytes().startswith(b"\x89PNG") and picture.stat().st_size > 20_000


def test_the_measure_sees_what_runs_over(tmp_path: Path) -> None:
    """Positive control: a page with a word that is too wide is seen."""
    wide = tmp_path / "wide.html"
    wide.write_text("<html><head></head><body><p style='width:3000px'>wide</p></body></html>", encoding="utf-8")
    window, width, _ = measured(wide, tmp_path, WIDTH)
    assert width > window


def test_a_ticket_prints_on_one_page(tmp_path: Path) -> None:
    assert printed_pages(ticket_page(), tmp_path) == 1
    assert printed_pages(drift_page(), tmp_path) > 1  # the count counts


def printed_pages(page: Path, folder: Path) -> int:
    paper = folder / "paper.pdf"
    browse(page, f"--print-to-pdf={paper}", "--no-pdf-header-footer")
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", paper.read_bytes()))
