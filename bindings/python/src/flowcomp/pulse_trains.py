# SPDX-License-Identifier: Apache-2.0
"""Pulses as they come: counters that roll over, and two pulse trains that watch each other."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NoReturn

from . import _flowcomp as _raw
from ._structs import Record, values_of
from ._words import choice, number_or_nan

_EVENTS = {_raw.flc_counter_event_from_name(word): word for word in ("on", "rolled", "was_reset")}


def counter_advance(before: int, after: int, *, modulus: int, most: int, reset: str = "refuse") -> tuple[int, str]:
    """Advance of a register between two readings, and what was seen: "on", "rolled" or "was_reset".

    :param modulus: readings there are: 1_000_000 for six digits
    :param most: largest advance that is possible between the two
    :param reset: what a larger one means: "refuse", or "restart": the register was set to zero

    >>> counter_advance(999_990, 15, modulus=1_000_000, most=5000)
    (25, 'rolled')
    """
    number = choice("reset", reset, _raw.flc_counter_reset_from_name)
    advance, event = _raw.flc_counter_advance(before, after, modulus, most, number)
    return advance, _EVENTS[event]


class PulsePair:
    """Two pulse trains, A and B, about a quarter period apart, watched for missing and extra pulses.

    :param coincidence_ticks: edges of both trains this close are one coincidence

    >>> pair = PulsePair()
    >>> pair.add_all([("A", 0), ("B", 25), ("A", 100), ("A", 200), ("B", 225)])
    >>> pair.missing
    (0, 1)
    """

    __slots__ = ("_raw",)

    def __init__(self, coincidence_ticks: int = 0) -> None:
        self._raw = _raw.flc_pulse_pair()
        _raw.flc_pulse_pair_start(self._raw, coincidence_ticks)

    def __reduce__(self) -> NoReturn:
        raise TypeError("a PulsePair cannot be copied or pickled: it follows one pair of trains; keep its counts")

    def add(self, train: str, tick: int) -> None:
        """One edge of train "A" or "B" at a tick of any clock, never before the last one."""
        _raw.flc_pulse_pair_add(self._raw, choice("train", train, _raw.flc_pulse_train_from_name), int(tick))

    def add_all(self, edges: Iterable[tuple[str, int]]) -> None:
        """Edges in the order of time: pairs of train and tick."""
        for train, tick in edges:
            self.add(train, tick)

    @property
    def count(self) -> tuple[int, int]:
        """Pulses of A and of B."""
        return self._raw.count_of(_raw.FLC_TRAIN_A), self._raw.count_of(_raw.FLC_TRAIN_B)

    @property
    def missing(self) -> tuple[int, int]:
        """Pulses that A and B should have had."""
        return self._raw.missing_of(_raw.FLC_TRAIN_A), self._raw.missing_of(_raw.FLC_TRAIN_B)

    @property
    def extra(self) -> tuple[int, int]:
        """Pulses of A and B out of turn and too early."""
        return self._raw.extra_of(_raw.FLC_TRAIN_A), self._raw.extra_of(_raw.FLC_TRAIN_B)

    @property
    def coincident(self) -> int:
        """Pairs that came together."""
        return self._raw.coincident

    def judge(self, level: str, *, most_faults: int, most_ratio: float | None = None) -> Record:
        """What is made of the two at a level of pulse security, "A" (the highest) to "E": difference, faults, ratio,
        pulses to be totalled, and alarm (1 where there are more faults than allowed)."""
        verdict = _raw.flc_pulse_verdict()
        _raw.flc_pulse_pair_judge(self._raw, choice("level", level, _raw.flc_pulse_level_from_name), most_faults,
                                  number_or_nan(most_ratio), verdict)
        return Record(values_of(verdict))

    def __repr__(self) -> str:
        return (f"PulsePair(count {self.count}, missing {self.missing}, extra {self.extra}, "
                f"coincident {self.coincident})")
