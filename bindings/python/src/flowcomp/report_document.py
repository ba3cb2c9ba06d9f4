# SPDX-License-Identifier: Apache-2.0
"""A report as sections of facts, tables and pictures, written as text or as one HTML page that needs nothing else."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Template

TEXT_WIDTH = 118
GOOD, BAD, NOTE = "good", "bad", "note"
# Names come out of files of others: neither a terminal nor a reader must take them for more than names.
CONTROLS = {code: "\ufffd" for code in (*range(0x20), *range(0x7F, 0xA0)) if chr(code) not in "\n\t"}


@dataclass(frozen=True)
class Grid:
    """A table: its columns, cells as text, the places of columns that are text, and rows to be pointed at."""

    columns: Sequence[str]
    rows: Sequence[Sequence[str]]
    texts: Sequence[int] = (0,)
    marked: Sequence[int] = ()


@dataclass
class Section:
    """A part of a report. svg: a picture as an SVG document, shown in HTML alone."""

    title: str
    paragraphs: list[str] = field(default_factory=list)
    facts: list[tuple[str, str]] = field(default_factory=list)
    grid: Grid | None = None
    svg: str = ""
    wide: bool = False  # needs the whole width of a page


@dataclass
class Document:
    """A whole report."""

    title: str
    subtitle: str
    verdict: str
    tone: str  # of the verdict: GOOD, BAD or NOTE
    sections: list[Section]
    cautions: Sequence[str]
    footer: str

    def text(self) -> str:
        """For terminals, mail and paper."""
        lines = [self.title, self.subtitle, "", *wrapped(self.verdict)]
        for section in self.sections:
            body = section_lines(section)
            if body:
                lines += ["", section.title, "-" * len(section.title), *body]
        lines += ["", *(line for sentence in self.cautions for line in wrapped(sentence)), "", *wrapped(self.footer)]
        return "\n".join(" ".join(line.splitlines()).rstrip().translate(CONTROLS) for line in lines) + "\n"

    def html(self) -> str:
        """One page; its pictures are inside."""
        return page().render(document=self)


def section_lines(section: Section) -> list[str]:
    lines: list[str] = []
    for paragraph in section.paragraphs:
        lines += wrapped(paragraph)
    if section.facts:
        width = max(len(name) for name, _ in section.facts)
        for name, value in section.facts:
            first, *more = wrapped(value, TEXT_WIDTH - width - 2) or [""]
            lines += [f"{name:<{width}}  {first}", *(" " * (width + 2) + line for line in more)]
    if section.grid and section.grid.rows:
        lines += ([""] if lines else []) + grid_lines(section.grid)
    return lines


def wrapped(text: str, width: int = TEXT_WIDTH) -> list[str]:
    return textwrap.wrap(text, width, break_long_words=False, break_on_hyphens=False)


def grid_lines(grid: Grid) -> list[str]:
    """Columns side by side; the last one, where it is text, is wrapped to the width that is left."""
    widths = [max(len(name), *(len(row[place]) for row in grid.rows)) for place, name in enumerate(grid.columns)]
    last = len(widths) - 1
    if last in grid.texts:
        widths[last] = max(24, min(widths[last], TEXT_WIDTH - sum(widths[:last]) - 2 * last))
    lines = []
    for number, row in enumerate([grid.columns, *grid.rows]):
        parts = wrapped(row[last], widths[last]) if last in grid.texts else [row[last]]
        cells = [*row[:last], parts[0] if parts else ""]
        pieces = [cell.ljust(width) if place in grid.texts else cell.rjust(width)
                  for place, (cell, width) in enumerate(zip(cells, widths, strict=True))]
        mark = " <" if number - 1 in grid.marked and number else ""
        lines.append("  ".join(pieces).rstrip() + mark)
        indent = " " * (sum(widths[:last]) + 2 * last)
        lines += [indent + part for part in parts[1:]]
    return lines


@cache
def page() -> Template:
    """The template of every report."""
    import jinja2

    source = Path(__file__).with_name("templates") / "report.html"
    environment = jinja2.Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True,
                                     undefined=jinja2.StrictUndefined)
    return environment.from_string(source.read_text(encoding="utf-8"))


def number(value: float | None, decimals: int | None = None, significant: int = 7) -> str:
    """A number for people: so many decimals, or significant digits; a dash where there is none."""
    if value is None or math.isnan(value):
        return "-"
    if decimals is not None:
        return f"{value:.{decimals}f}"
    return f"{value:.{significant}g}"


def aligned(values: Sequence[float], most: int = 9) -> list[str]:
    """Numbers of one column, all with the decimals that the finest of them has."""
    texts = [f"{value:.{most}f}".rstrip("0") for value in values if not math.isnan(value)]
    decimals = max((len(text.partition(".")[2]) for text in texts), default=0)
    return [number(value, decimals) for value in values]


def exact(value: float | None) -> str:
    """A number with the digits that give its bits back."""
    return "-" if value is None or math.isnan(value) else repr(float(value))
