# SPDX-License-Identifier: Apache-2.0
"""Words of the library's choices and flags."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache
from typing import Any

from . import _flowcomp as _raw
from . import errors

PROVENANCES = {name.lower(): getattr(_raw, "FLC_" + name)
               for name in ("PUBLISHED", "FROM_MEMORY", "COMMON_PRACTICE", "COMPUTED", "USER_GIVEN")}


def choice(argument: str, word: str, from_name: Callable[[str], int]) -> int:
    """Number of a word; the refusal names the argument."""
    try:
        return from_name(word)
    except (errors.FlowcompError, KeyError):
        known = ", ".join(all_words(from_name))
        raise errors.E_UNKNOWN_NAME(argument, message=f"{argument}: {word!r} is none of {known}") from None


def all_words(from_name: Callable[[str], int]) -> list[str]:
    """Every word of a choice, in the order of its numbers: the ends of the library's constants that it takes."""
    ends = {name.split("_", count)[-1] for name in dir(_raw) if name.startswith("FLC_")
            for count in range(1, name.count("_") + 1)}
    found: dict[int, str] = {}
    for end in sorted(ends):
        for word in (end.lower(), end, end.replace("_", "-")):
            try:
                found.setdefault(from_name(word), word)
            except (errors.FlowcompError, KeyError):
                pass  # the end of another constant, or in another spelling
    return [found[number] for number in sorted(found)]


def provenance(word: str) -> int:
    """Number of "published", "from_memory", "common_practice", "computed" or "user_given"."""
    if word not in PROVENANCES:
        raise errors.E_UNKNOWN_NAME("provenance",
                                    message=f"provenance: {word!r} is none of {', '.join(PROVENANCES)}")
    return PROVENANCES[word]


@cache
def words_of_enum(prefix: str, from_name: Callable[[str], int]) -> dict[int, str]:
    """Words of an enum by number, from its constants: FLC_END_LAME_CLOSED is "lame_closed"."""
    words = {}
    for name in dir(_raw):
        if name.startswith(prefix):
            for word in (name[len(prefix):].lower(), name[len(prefix):]):
                try:
                    words.setdefault(from_name(word), word)
                except errors.FlowcompError:
                    pass  # a constant of another enum, or in the other spelling
    return words


FLAGS: dict[int, tuple[str, str]] = {}  # bit value: (word, sentence)
for _bit in range(32):
    _word = _raw.flc_flag_word(_bit)
    if _word is not None:
        FLAGS[1 << _bit] = (_word, _raw.flc_flag_text(_bit))


def flag_words(flags: int) -> list[str]:
    """Words of the flags set in a number, in the order of their bits.

    >>> import flowcomp as fc
    >>> fc.flag_words(fc.FLAGS["below_curve"] | fc.FLAGS["extrapolated"])
    ['below_curve', 'extrapolated']
    """
    return [word for bit, (word, _) in FLAGS.items() if int(flags) & bit]


FLAG_BITS = {word: bit for bit, (word, _) in FLAGS.items()}


def number_or_nan(value: Any) -> float:
    """A float; NaN for None."""
    return math.nan if value is None else float(value)
