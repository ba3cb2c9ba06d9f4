# SPDX-License-Identifier: Apache-2.0
"""Long tables (CSV, Parquet) in blocks of bounded size, with the line number of every row.

CSV: UTF-8 with or without a mark, any line ends (also mixed), comments with ``#`` anywhere, separators comma, semicolon
or tab; a quoted cell must not hold a line end. Cells come as text and are turned into numbers or times column by
column, so that a cell that is none can be named with its line and column.
"""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import BinaryIO

import numpy as np
import numpy.typing as npt
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv
import pyarrow.parquet

from .input_error import InputError
from .text_table import COMMA_HINT, DECIMAL_COMMA, check_header, decode, separator_of

BLOCK_BYTES = 4 * 1024 * 1024
PARQUET_ROWS = 65536
LONGEST_LINE = 1024 * 1024
NULLS = ("", "nan", "NaN", "NAN", "null")
NOT_DATA = re.compile(rb"[ \t]*(#[^\n]*)?\n")

Array = npt.NDArray[np.float64]
Lines = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Spelling:
    """How a file spells what it holds."""

    decimal_comma: bool = False
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class Block:
    """Some rows of a table: Arrow columns by name, and the number of each row's line (CSV) or row (Parquet)."""

    file: Path
    is_csv: bool
    lines: Lines
    columns: dict[str, pa.Array]
    spelling: Spelling

    def error(self, message: str, place: int, column: str | None = None) -> InputError:
        """A mistake in the row at this place of the block."""
        number = int(self.lines[place])
        if self.is_csv:
            return InputError(message, file=self.file, line=number, column=column)
        return InputError(message, file=self.file, row=number, column=column)


@dataclass
class Progress:
    """What has been read of a file: bytes, and their SHA-256."""

    size: int = 0
    read: int = 0
    digest: hashlib._Hash = field(default_factory=hashlib.sha256)


def read_blocks(path: Path, spelling: Spelling, progress: Progress, block_bytes: int = BLOCK_BYTES) -> Iterator[Block]:
    """Blocks of a CSV or Parquet file, in order."""
    try:
        progress.size = path.stat().st_size
        if path.is_dir():
            raise InputError("this is a folder; name the files in it", file=path)
        with path.open("rb") as file:
            magic = file.read(4)
        if path.suffix.lower() == ".parquet" or magic == b"PAR1":
            yield from parquet_blocks(path, spelling, progress, max(1, block_bytes // 64))
            return
        with path.open("rb") as file:
            yield from CsvBlocks(path, file, spelling, progress, block_bytes).blocks()
    except FileNotFoundError:
        raise InputError("there is no such file", file=path) from None


def parquet_blocks(path: Path, spelling: Spelling, progress: Progress, rows: int) -> Iterator[Block]:
    """Blocks of a Parquet file."""
    with path.open("rb") as file:
        while part := file.read(BLOCK_BYTES):
            progress.digest.update(part)
    try:
        with pa.parquet.ParquetFile(path, pre_buffer=False) as file:
            total, done = file.metadata.num_rows, 0
            if total == 0:
                raise InputError("the file has no rows", file=path)
            for batch in file.iter_batches(batch_size=min(rows, PARQUET_ROWS)):
                lines = np.arange(done + 1, done + 1 + batch.num_rows)
                done += batch.num_rows
                progress.read = progress.size * done // total
                names = check_header(batch.schema.names, path, 1)
                yield Block(path, False, lines, dict(zip(names, batch.columns, strict=True)), spelling)
    except pa.ArrowInvalid as error:
        raise InputError(f"not a Parquet file that can be read: {str(error).splitlines()[0]}", file=path) from None


class CsvBlocks:
    """Blocks of a CSV file, cut at line ends."""

    def __init__(self, path: Path, file: BinaryIO, spelling: Spelling, progress: Progress, block_bytes: int) -> None:
        self.path, self.file, self.spelling = path, file, spelling
        self.progress, self.block_bytes = progress, block_bytes
        self.line = 1  # number of the next line
        self.header: list[str] = []
        self.separator = ","
        self.rows = 0

    def blocks(self) -> Iterator[Block]:
        """All blocks; a file without rows is a mistake."""
        for body in self.whole_lines():
            if not self.header:
                body = self.take_header(body)
            if body:
                block = self.parse(body)
                if len(block.lines):
                    self.rows += len(block.lines)
                    yield block
        if not self.header:
            raise InputError("the file is empty: no header row", file=self.path)
        if not self.rows:
            raise InputError("there is a header, but no row under it", file=self.path)

    def whole_lines(self) -> Iterator[bytes]:
        """The file in parts that end with a line end, all line ends made alike."""
        rest, first = b"", True
        while part := self.file.read(self.block_bytes):
            self.progress.read += len(part)
            self.progress.digest.update(part)
            if first:
                first = False
                decode(part[:2], self.path) if part[:2] in (b"\xff\xfe", b"\xfe\xff") else None
                part = part.removeprefix(b"\xef\xbb\xbf")
            text = rest + part
            held = text.endswith(b"\r")  # its other half may come with the next part
            text = unify(text[:-1] if held else text)
            cut = text.rfind(b"\n") + 1
            rest = text[cut:] + (b"\r" if held else b"")
            if len(rest) > LONGEST_LINE:
                raise InputError("a line of more than 1 MiB; this is no table", file=self.path,
                                 line=self.line + text.count(b"\n", 0, cut))
            if cut:
                yield text[:cut]
        if rest:
            yield unify(rest).rstrip(b"\n") + b"\n"

    def take_header(self, body: bytes) -> bytes:
        """Find the header row; what comes after it."""
        while body:
            end = body.index(b"\n") + 1
            line, body = body[:end], body[end:]
            number, self.line = self.line, self.line + 1
            if NOT_DATA.fullmatch(line):
                continue
            text = decode(line, self.path).rstrip("\n")
            self.separator = separator_of(text)
            self.header = check_header(text.split(self.separator), self.path, number)
            return body
        return b""

    def parse(self, body: bytes) -> Block:
        """Rows of whole lines; comments and empty lines left out."""
        count = body.count(b"\n")
        lines = np.arange(self.line, self.line + count)
        self.line += count
        if body[:1] in (b"#", b"\n") or b"\n#" in body or b"\n\n" in body or b"\n " in body or b"\n\t" in body:
            parts = body.splitlines(keepends=True)
            chosen = [place for place, part in enumerate(parts) if not NOT_DATA.fullmatch(part)]
            lines, body = lines[chosen], b"".join(parts[place] for place in chosen)
        if not body:
            return Block(self.path, True, lines, {}, self.spelling)
        return Block(self.path, True, lines, self.columns(body, lines), self.spelling)

    def columns(self, body: bytes, lines: Lines) -> dict[str, pa.Array]:
        """Text columns by name."""
        wrong: list[pyarrow.csv.InvalidRow] = []

        def note(row: pyarrow.csv.InvalidRow) -> str:
            wrong.append(row)
            return "error"

        nulls = [*NULLS, *self.spelling.missing]
        try:
            table = pyarrow.csv.read_csv(
                io.BytesIO(body),
                read_options=pyarrow.csv.ReadOptions(column_names=self.header, use_threads=False,
                                                     block_size=len(body) + 1),
                parse_options=pyarrow.csv.ParseOptions(delimiter=self.separator, invalid_row_handler=note),
                convert_options=pyarrow.csv.ConvertOptions(
                    column_types={name: pa.string() for name in self.header}, null_values=nulls,
                    strings_can_be_null=True, quoted_strings_can_be_null=True))
        except pa.ArrowInvalid as error:
            if wrong:
                raise self.ragged(wrong[0], lines) from None
            decode(body, self.path)
            raise InputError(f"no table that can be read: {str(error).splitlines()[0]}", file=self.path,
                             line=int(lines[0])) from None
        if table.num_rows != len(lines):
            raise InputError("a quoted cell holds a line end, or a quotation mark is left open", file=self.path,
                             line=int(lines[0]))
        return {name: table.column(name).combine_chunks() for name in self.header}

    def ragged(self, row: pyarrow.csv.InvalidRow, lines: Lines) -> InputError:
        """A row with more or fewer cells than the header."""
        hint = f"; {COMMA_HINT}, with semicolons between the columns" if (
            self.separator == "," and row.actual_columns > row.expected_columns) else ""
        return InputError(f"{row.actual_columns} values, but the header names {row.expected_columns} columns{hint}",
                          file=self.path, line=int(lines[row.number - 1]))


def unify(text: bytes) -> bytes:
    """All line ends as one character."""
    return text.replace(b"\r\n", b"\n").replace(b"\r", b"\n") if b"\r" in text else text


def numbers(block: Block, column: str) -> Array:
    """A column as numbers of shape (rows,), NaN where the cell is empty."""
    array = plain(block.columns[column])
    if pa.types.is_string(array.type):
        array = spelled(block, column, array)
    elif not (pa.types.is_integer(array.type) or pa.types.is_floating(array.type) or pa.types.is_decimal(array.type)
              or pa.types.is_null(array.type)):
        raise block.error(f"the column holds {array.type}; numbers are needed", 0, column)
    return np.asarray(array.cast(pa.float64(), safe=False).to_numpy(zero_copy_only=False), dtype=np.float64)


def plain(array: pa.Array) -> pa.Array:
    """Without dictionary, long text as text."""
    if isinstance(array, pa.ChunkedArray):
        array = array.combine_chunks()
    if pa.types.is_dictionary(array.type):
        array = array.dictionary_decode()
    return array.cast(pa.string()) if pa.types.is_large_string(array.type) else array


def spelled(block: Block, column: str, array: pa.Array) -> pa.Array:
    """Text as numbers, by the spelling of the file."""
    if block.spelling.decimal_comma:
        if pc.any(pc.match_substring(array, ".")).as_py():
            place = pc.index(pc.match_substring(array, "."), True).as_py()
            raise block.error(f"'{array[place].as_py()}' has a point although --decimal-comma was given", place, column)
        array = pc.replace_substring(array, ",", ".")
    try:
        return array.cast(pa.float64())
    except pa.ArrowInvalid:
        pass
    missing = pa.array([*NULLS, *block.spelling.missing])
    array = pc.utf8_trim_whitespace(array)
    array = pc.if_else(pc.is_in(array, missing), pa.scalar(None, pa.string()), array)
    try:
        return array.cast(pa.float64())
    except pa.ArrowInvalid:
        place = first_failing(array, pa.float64())
    word = str(array[place].as_py())
    hint = COMMA_HINT if DECIMAL_COMMA.fullmatch(word) else (
        f"write a number, or leave the cell empty; if '{word}' stands for a missing value throughout, pass --missing "
        f"'{word}'")
    raise block.error(f"'{word}' is no number; {hint}", place, column)


def first_failing(array: pa.Array, wanted: pa.DataType) -> int:
    """Place of the first value that cannot be cast, by halving."""
    low, high = 0, len(array)
    while high - low > 1:
        middle = (low + high) // 2
        try:
            array.slice(low, middle - low).cast(wanted)
            low = middle
        except pa.ArrowInvalid:
            high = middle
    return low
