# SPDX-License-Identifier: Apache-2.0
"""Output files that appear under their names only when all of them are complete.

Each is written as ``<name>.part`` beside its place, flushed to disk and renamed at the end. When anything goes wrong,
the parts are removed, and what stood under the names before stays.
"""

from __future__ import annotations

import os
from contextlib import AbstractContextManager, suppress
from pathlib import Path
from types import TracebackType

from .input_error import InputError


class OutputFiles(AbstractContextManager["OutputFiles"]):
    """The files of one run; as a context manager, it renames them at the end or removes them."""

    def __init__(self, overwrite: bool = False) -> None:
        self.overwrite = overwrite
        self.parts: dict[Path, Path] = {}  # by the final name
        self.folders: list[Path] = []  # made here, outermost first

    def part(self, final: Path) -> Path:
        """Where to write the file that will have this name.

        :raises InputError: where the name is taken and overwriting was not asked for
        """
        if final.is_dir():
            raise InputError("there is a folder of this name", file=final)
        if final.exists() and not self.overwrite:
            raise InputError("the file is there already; pass --overwrite to replace it, or give another name",
                             file=final)
        self.make_folder(final.parent)
        part = final.with_name(final.name + ".part")
        part.unlink(missing_ok=True)  # of a run that was killed, or a link to somebody's file
        os.close(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666))
        self.parts[final] = part
        return part

    def make_folder(self, folder: Path) -> None:
        if folder.is_dir():
            return
        if folder.exists():
            raise InputError("this is a file; a folder is needed", file=folder)
        self.make_folder(folder.parent)
        folder.mkdir()
        self.folders.append(folder)

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        if error is not None:
            self.give_up(error, [])
            return
        done: list[Path] = []
        try:
            for part in self.parts.values():
                flush_to_disk(part)
            for final, part in self.parts.items():
                os.replace(part, final)
                done.append(final)
        except BaseException as late:
            self.give_up(late, done)
            raise

    def give_up(self, error: BaseException, done: list[Path]) -> None:
        """Remove the parts, and let the error say what stands where."""
        self.remove()
        if done:
            error.add_note(f"Only these files are complete: {', '.join(map(str, done))}.")
        elif self.parts:
            error.add_note("Nothing was written: no file stands under its final name unless it stood there before.")

    def remove(self) -> None:
        """Remove what was begun, and the folders made for it."""
        for part in self.parts.values():
            with suppress(OSError):
                part.unlink()
        for folder in reversed(self.folders):
            with suppress(OSError):
                folder.rmdir()


def flush_to_disk(path: Path) -> None:
    """Wait until the file's bytes are on disk."""
    with path.open("rb") as file:
        os.fsync(file.fileno())
