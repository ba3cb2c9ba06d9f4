# SPDX-License-Identifier: Apache-2.0
"""Keys on disk: 64 hexadecimal digits in a file that only its owner may read."""

from __future__ import annotations

import re
import stat
from pathlib import Path

from .input_error import InputError

HEX_32 = re.compile(r"[0-9a-fA-F]{64}")


def read_seed(path: Path) -> bytes:
    """The secret seed of a signing key (Ed25519, 32 bytes).

    :raises InputError: where the file is no key, or others may read it
    """
    try:
        text = path.read_text(encoding="ascii").strip()
        mode = path.stat().st_mode
    except (FileNotFoundError, IsADirectoryError):
        raise InputError("there is no such key file", file=path) from None
    except UnicodeDecodeError:
        text, mode = "", 0
    if not HEX_32.fullmatch(text):
        raise InputError("a key file holds 64 hexadecimal digits and nothing else; make one by\n    umask 077; openssl "
                         "rand -hex 32 > key.txt", file=path)
    if mode & (stat.S_IRGRP | stat.S_IROTH | stat.S_IWGRP | stat.S_IWOTH):
        raise InputError("others may read or change this key; chmod 600 it", file=path)
    return bytes.fromhex(text)


def public_key_of(text: str) -> bytes:
    """A public key written as 64 hexadecimal digits, or a file that holds them."""
    path = Path(text)
    if not HEX_32.fullmatch(text) and path.is_file():
        text = path.read_text(encoding="ascii", errors="replace").strip()
    if not HEX_32.fullmatch(text):
        raise InputError("a public key is 64 hexadecimal digits, or a file that holds them")
    return bytes.fromhex(text)
