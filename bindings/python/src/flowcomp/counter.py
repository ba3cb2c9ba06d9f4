# SPDX-License-Identifier: Apache-2.0
"""Pulses from the states of a cumulative counter.

Between two good states the counter rises by the pulses of the time between them. Where it falls:
    roll-over  if the pulses up to the modulus and on from 0 are few enough for the time between;
    reset      else, if the new state itself is few enough: it is the pulses since the reset, those before are lost;
    unclear    else: no pulses are taken from it.
Few enough means a mean frequency of at most f_limit_hz; a rise above it is a jump, and refused.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

COUNTER_LIMIT = 2.0**53
ASK_MODULUS = ("say --counter-modulus, the number of states of the counter: 4294967296 for 32 bits, 100000000 for "
               "eight decimal digits; or --counter-modulus 0 if it never rolls over, so that every fall is a reset")


@dataclass(frozen=True)
class CounterRule:
    """How a fall of the counter is read.

    :param modulus: number of states; 0: never rolls over; None: not known, and a fall is a question to the user
    :param f_limit_hz: highest mean frequency that is taken for flow
    """

    modulus: float | None
    f_limit_hz: float


@dataclass(frozen=True)
class Steps:
    """What happened from each state to the next; arrays of shape (n,)."""

    pulses: Array
    rollover: npt.NDArray[np.bool_]
    reset: npt.NDArray[np.bool_]
    unclear: npt.NDArray[np.bool_]
    jump: npt.NDArray[np.bool_]


def is_state(counter: Array, rule: CounterRule) -> npt.NDArray[np.bool_]:
    """Whether the numbers can be states of the counter: whole, not negative, below its modulus."""
    limit = rule.modulus or COUNTER_LIMIT
    with np.errstate(invalid="ignore"):
        return (counter >= 0) & (counter < limit) & (np.floor(counter) == counter)


def steps(before: Array, after: Array, seconds: Array, rule: CounterRule) -> Steps:
    """Pulses between pairs of good states.

    :param before, after: states, shape (n,); they may fall only where the rule knows the modulus
    :param seconds: time between, above 0
    """
    rise = after - before
    fall = rise < 0
    most = rule.f_limit_hz * seconds
    around = rise + (rule.modulus or 0)
    rollover = fall & (around >= 0) & (around <= most) & bool(rule.modulus)
    reset = fall & ~rollover & (after <= most)
    unclear = fall & ~rollover & ~reset
    pulses = np.where(rollover, around, np.where(reset, after, np.where(unclear, 0.0, rise)))
    return Steps(pulses, rollover, reset, unclear, ~fall & (rise > most))
