# SPDX-License-Identifier: Apache-2.0
"""Which windows may hide a standstill.

A window that flowed for part of its time has a mean frequency below the one it flowed at, and a K too low for it. The
library suspects it where a neighbour stands still or runs at twice its frequency. Where loadings follow each other all
day, every hour is such a window and its neighbours are no better. So here a long window counts as flowing all the time
only if its flowing time is known, or its mean frequency is that of an adjoining window to STEADY: two windows with
stops hardly ever agree so well. Every other long window goes to the library as one next to a standstill and next to
the highest frequency of the site, and is flagged partial_flow with a bound up to it.

Two equal means prove nothing where a pump cycles by a timer or a level: such a site has no window that is known to be
full, and says so (cycling), or logs its flowing time.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from .readings import Columns

Array = npt.NDArray[np.float64]

STEADY = 0.02  # relative difference of mean frequencies of neighbours
LONG_S = 300.0  # stops shorter than a window of this length are taken to be seen in its neighbours


def neighbours(columns: Columns, cycling: bool) -> tuple[Array, Array]:
    """Frequencies before and after as given to the library, shape (rows,), Hz.

    :param cycling: no long window counts as steady: the meter's pump starts and stops by a timer or a level
    """
    before, after = columns["f_before_hz"], columns["f_after_hz"]
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.abs(columns["pulses"]) / columns["duration_s"]
        steady = (np.abs(mean - before) <= STEADY * before) | (np.abs(mean - after) <= STEADY * after)
        long = columns["duration_s"] >= LONG_S
    known = np.isfinite(columns["flowing_s"]) | np.isfinite(columns["f_flowing_hz"])
    suspect = long & ~known & (cycling | ~steady)
    return np.where(suspect, 0.0, before), after
