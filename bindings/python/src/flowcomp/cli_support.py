# SPDX-License-Identifier: Apache-2.0
"""What all commands share: exit codes, messages without tracebacks, tables, the cautions."""

from __future__ import annotations

import contextlib
import enum
import errno
import functools
import os
import signal
import sys
from collections.abc import Callable, Collection, Sequence
from typing import Any

import typer
from rich.console import Console
from rich.table import Table

from .errors import FlowcompError
from .input_error import InputError
from .report_document import CONTROLS

FINE, FINDINGS, WRONG_INPUT, NOT_WRITTEN, INTERRUPTED = 0, 1, 2, 3, 130
EXIT_CODES = ("Exit codes: 0 fine; 1 findings (restate --strict, prove, ticket, verify, evidence check, selfcheck); "
              "2 a mistake in the input or on the "
              "command line; 3 the results could not be written; 130 interrupted.")
CAUTIONS = (
    "A restated figure is a claim until both parties agree to it.",
    "The contract's method decides, even where this calculation is closer to the truth.",
    "Local codes, type approvals and licensed practice come first.",
)
EPILOG = " ".join(CAUTIONS) + "\n\n" + EXIT_CODES
PLAIN_WIDTH = 160  # of tables that go to a file or a pipe

Beyond = enum.StrEnum("Beyond", {"REFUSE": "refuse", "HOLD_END": "hold_end", "EXTEND_SLOPE": "extend_slope"})


def screen() -> Console:
    """Where tables go."""
    return Console(width=None if sys.stdout.isatty() else PLAIN_WIDTH, highlight=False)


def say(text: str = "") -> None:
    """A line of the report."""
    screen().print(text.translate(CONTROLS), markup=False, soft_wrap=True)


def complain(text: str) -> None:
    """A line to standard error."""
    Console(stderr=True, highlight=False).print(text.translate(CONTROLS), markup=False, soft_wrap=True)


def table(title: str, columns: Sequence[str], rows: Sequence[Sequence[str]], texts: Collection[int] = (0,)) -> None:
    """A table; the columns at these places are text, the others numbers."""
    shown = Table(title=title, title_justify="left", title_style="bold", header_style="bold", box=None, pad_edge=False)
    for number, column in enumerate(columns):
        shown.add_column(column, justify="left" if number in texts else "right", overflow="fold")
    for row in rows:
        shown.add_row(*(cell.translate(CONTROLS).replace("[", "\\[") for cell in row))
    screen().print(shown)


def show_cautions() -> None:
    """The last lines of every report."""
    say()
    for sentence in CAUTIONS:
        say(sentence)


def on_terminate(number: int, frame: Any) -> None:
    """SIGTERM as an ordinary way out, so that unfinished files are removed."""
    raise SystemExit(128 + number)


def guarded(command: Callable[..., int | None]) -> Callable[..., None]:
    """A command whose mistakes end in a sentence and an exit code, never in a traceback."""
    @functools.wraps(command)
    def run(*args: Any, **kwargs: Any) -> None:
        with contextlib.suppress(ValueError):  # only the main thread may
            signal.signal(signal.SIGTERM, on_terminate)
        try:
            code = command(*args, **kwargs) or FINE
        except (InputError, FlowcompError) as error:
            of_system = getattr(error, "status_name", "") == "E_FILE"  # a full disk, a file that must not be written
            code = failed(str(error), error, NOT_WRITTEN if of_system else WRONG_INPUT)
        except KeyboardInterrupt as error:
            code = failed("interrupted", error, INTERRUPTED)
        except BrokenPipeError:
            # Whoever read the report has gone; keep Python from complaining once more at its end.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            code = FINE
        except FileNotFoundError as error:
            code = failed(f"there is no file {error.filename}", error, WRONG_INPUT)
        except OSError as error:
            code = failed(os_sentence(error), error, NOT_WRITTEN)
        raise typer.Exit(code)

    return run


def failed(sentence: str, error: BaseException, code: int) -> int:
    complain(f"flowcomp: {sentence}")
    for note in getattr(error, "__notes__", []):
        complain(note)
    return code


def os_sentence(error: OSError) -> str:
    """What the operating system refused, in words."""
    where = f" ({error.filename})" if error.filename else ""
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return f"the disk is full{where}; make room and run again"
    if error.errno == errno.EFBIG:
        return f"a file grew beyond what the system allows{where}"
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return f"no permission{where}"
    return str(error)


def percent(value: float, digits: int = 4) -> str:
    """A number for a table, with its sign; a dash where there is none."""
    return "-" if value != value else f"{value:+.{digits}f}"
