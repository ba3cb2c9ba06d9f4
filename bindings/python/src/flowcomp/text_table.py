# SPDX-License-Identifier: Apache-2.0
"""Small CSV tables (certificates, batches, liquids), read whole, with the line number of everything.

UTF-8 with or without a mark, any line ends, comments with ``#``, separators comma, semicolon or tab. A number is
written with a point; with ``decimal_comma`` with a comma.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from .input_error import InputError, near_columns

LARGEST_BYTES = 64 * 1024 * 1024
MISSING_WORDS = frozenset({"", "nan"})
DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+")
COMMA_HINT = "numbers are written with a point; if the file has decimal commas throughout, pass --decimal-comma"


@dataclass(frozen=True)
class Line:
    """One line of text and its number, counted from 1."""

    number: int
    text: str


def text_lines(path: Path) -> list[Line]:
    """All lines of a small UTF-8 file."""
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise InputError(f"larger than {LARGEST_BYTES // 1024 // 1024} MiB; is this the right file?", file=path)
        raw = path.read_bytes()
    except FileNotFoundError:
        raise InputError("there is no such file", file=path) from None
    except IsADirectoryError:
        raise InputError("this is a folder; a file is needed", file=path) from None
    text = decode(raw, path)
    return [Line(number, line) for number, line in enumerate(re.split(r"\r\n|\r|\n", text), 1)]


def decode(raw: bytes, path: Path | str) -> str:
    """UTF-8 text without its mark."""
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise InputError("the file is UTF-16; save it as UTF-8", file=path)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise InputError("not UTF-8 text; save the file as UTF-8", file=path, line=line) from None


def separator_of(header: str) -> str:
    """The separator that a header row uses."""
    return max(",;\t", key=header.count)


def number_of(text: str, decimal_comma: bool, *, file: Path | str, line: int, column: str) -> float:
    """A finite number, or NaN for an empty cell.

    :raises InputError: for anything else
    """
    word = text.strip()
    if word.lower() in MISSING_WORDS:
        return math.nan
    spelled = word
    if decimal_comma:
        if "." in word:
            raise InputError(f"'{word}' has a point although --decimal-comma was given", file=file, line=line,
                             column=column)
        spelled = word.replace(",", ".")
    try:
        value = float(spelled) if "_" not in spelled else math.nan
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        hint = COMMA_HINT if DECIMAL_COMMA.fullmatch(word) else "write a number, or leave the cell empty"
        raise InputError(f"'{word}' is no number; {hint}", file=file, line=line, column=column)
    return value


@dataclass
class Row:
    """One data row: cells by column name."""

    file: Path
    line: int
    cells: dict[str, str]
    decimal_comma: bool

    def text(self, column: str) -> str:
        """The cell without blanks; empty where the column is absent."""
        return self.cells.get(column, "").strip()

    def number(self, column: str) -> float:
        """The cell as a number; NaN where it is empty or the column absent."""
        return number_of(self.text(column), self.decimal_comma, file=self.file, line=self.line, column=column)

    def error(self, message: str, column: str | None = None) -> InputError:
        return InputError(message, file=self.file, line=self.line, column=column)


@dataclass
class Table:
    """Header and rows of a file; special holds lines that open with ``#!`` and where they stand among the rows."""

    file: Path
    columns: list[str]
    header_line: int
    rows: list[Row]
    special: list[tuple[int, Line]] = field(default_factory=list)

    def require(self, *columns: str) -> None:
        """Refuse a table that lacks one of the columns."""
        for column in columns:
            if column not in self.columns:
                raise InputError(f"the column {column} is missing{near_columns(column, self.columns)}; the header has: "
                                 f"{', '.join(self.columns)}", file=self.file, line=self.header_line)


def check_header(names: list[str], file: Path | str, line: int) -> list[str]:
    """Column names without blanks, each once, none empty but trailing ones."""
    found = [name.strip().strip('"') for name in names]
    for place, name in enumerate(found):
        if not name:
            raise InputError(f"column {place + 1} of the header has no name", file=file, line=line)
        if name in found[:place]:
            raise InputError("this column stands twice in the header", file=file, line=line, column=name)
    if all(re.fullmatch(r"[+-]?[\d.]+", name) for name in found):
        raise InputError("the first row holds numbers; a header row with the columns' names is needed", file=file,
                         line=line)
    return found


def read_table(path: Path, decimal_comma: bool = False) -> Table:
    """A small CSV file with a header row."""
    table: Table | None = None
    special: list[tuple[int, Line]] = []
    separator = ","
    for line in text_lines(path):
        if line.text.startswith("#!"):
            special.append((len(table.rows) if table else 0, line))
        elif not line.text.strip() or line.text.startswith("#"):
            continue
        elif table is None:
            separator = separator_of(line.text)
            names = next(csv.reader([line.text], delimiter=separator))
            table = Table(path, check_header(names, path, line.number), line.number, [])
        else:
            table.rows.append(row_of(table, line, separator, decimal_comma))
    if table is None:
        raise InputError("the file is empty: no header row", file=path)
    table.special = special
    return table


def row_of(table: Table, line: Line, separator: str, decimal_comma: bool) -> Row:
    """One row whose cells are as many as the header has."""
    cells = next(csv.reader([line.text], delimiter=separator))
    if len(cells) != len(table.columns):
        hint = f"; {COMMA_HINT}, with semicolons between the columns" if separator == "," and len(
            cells) > len(table.columns) else ""
        raise InputError(f"{len(cells)} values, but the header names {len(table.columns)} columns{hint}",
                         file=table.file, line=line.number)
    return Row(table.file, line.number, dict(zip(table.columns, cells, strict=True)), decimal_comma)


def rows_by(table: Table, column: str) -> Iterator[tuple[str, list[Row]]]:
    """Rows grouped by a text column, in order of first appearance."""
    groups: dict[str, list[Row]] = {}
    for row in table.rows:
        name = row.text(column)
        if not name:
            raise row.error("the cell is empty", column)
        groups.setdefault(name, []).append(row)
    yield from groups.items()
