# SPDX-License-Identifier: Apache-2.0
"""A control chart over provings: limits from the first ones, then what stands apart and what drifts.

Individuals chart: centre and sigma from the baseline (mean, and mean moving range over d2); warning at 2 sigma, action
at 3 sigma. Drift: the exponentially weighted mean z = L x + (1 - L) z with L = 0.2 leaves 3 sigma sqrt(L/(2 - L)
[1 - (1 - L)^2i]) (Roberts, Technometrics 1 (1959) 239, from memory); a value counts in it with 3 sigma at most, so that
one value that stands apart makes no drift. Ten or more for the baseline, 0.2 and 3 are common practice, no source. Where
a drift began is estimated by least squares: level at the centre, then a straight line in time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

BASELINE = 10
WARNING, ACTION = 2.0, 3.0
WEIGHT, WIDTH = 0.2, 3.0
ENOUGH = 4  # values without which there is no chart


@dataclass(frozen=True)
class Drift:
    """The weighted mean left its limits at one place; the line that fits best leaves the centre at another."""

    seen_at: int
    since: int
    upwards: bool


@dataclass(frozen=True)
class Chart:
    """values: all of them; those at places used are judged, the first ``baseline`` of them made the limits."""

    values: Array
    used: tuple[int, ...]
    baseline: int
    centre: float
    sigma: float
    mean: Array  # the weighted mean, shape of values, NaN where not used
    width: Array  # its half width
    beyond_action: tuple[int, ...]
    beyond_warning: tuple[int, ...]
    drift: Drift | None

    def limits(self, sigmas: float) -> tuple[float, float]:
        """Lower and upper limit."""
        return self.centre - sigmas * self.sigma, self.centre + sigmas * self.sigma


def chart_of(values: Sequence[float], used: Sequence[bool], days: Sequence[float], least_sigma: float,
             baseline: int = BASELINE) -> Chart | None:
    """The chart, or None where there are too few values.

    :param used: whether a value is judged: a proving that was refused is drawn, not judged
    :param days: time of each value, rising
    :param least_sigma: what the discrimination of the values alone makes of sigma
    """
    found = np.asarray(values, dtype=np.float64)
    places = [place for place, good in enumerate(used) if good and math.isfinite(found[place])]
    if len(places) < ENOUGH:
        return None
    first = found[places[:baseline]]
    centre, sigma = limits_of(first, least_sigma)
    mean, width = weighted_mean(found, places, centre, sigma)
    away = np.abs(found - centre)
    action = tuple(place for place in places if away[place] > ACTION * sigma)
    warning = tuple(place for place in places if WARNING * sigma < away[place] <= ACTION * sigma)
    return Chart(found, tuple(places), len(first), centre, sigma, mean, width, action, warning,
                 drift_of(found, places, np.asarray(days, dtype=np.float64), centre, sigma, mean, width))


def limits_of(first: Array, least_sigma: float) -> tuple[float, float]:
    """Centre and sigma of the baseline. A value far off its own baseline (beyond 3 sigma of the others) is left out of
    both, or it would hide itself."""
    from . import methods

    kept = first
    while True:
        ranges = np.abs(np.diff(kept))
        sigma = max(float(np.mean(ranges)) / methods.control_chart_d2(n=2), least_sigma)
        if len(kept) <= ENOUGH:
            return float(np.mean(kept)), sigma
        worst = int(np.argmax(np.abs(kept - np.median(kept))))
        others = np.delete(kept, worst)
        of_others = max(float(np.mean(np.abs(np.diff(others)))) / methods.control_chart_d2(n=2), least_sigma)
        if abs(kept[worst] - np.mean(others)) <= ACTION * of_others * math.sqrt(1 + 1 / len(others)):
            return float(np.mean(kept)), sigma
        kept = others


def weighted_mean(values: Array, places: Sequence[int], centre: float, sigma: float) -> tuple[Array, Array]:
    mean, width = np.full(len(values), np.nan), np.full(len(values), np.nan)
    z = centre
    for number, place in enumerate(places, 1):
        held = min(max(values[place], centre - ACTION * sigma), centre + ACTION * sigma)
        z = WEIGHT * held + (1 - WEIGHT) * z
        mean[place] = z
        width[place] = WIDTH * sigma * math.sqrt(WEIGHT / (2 - WEIGHT) * (1 - (1 - WEIGHT) ** (2 * number)))
    return mean, width


def drift_of(values: Array, places: Sequence[int], days: Array, centre: float, sigma: float, mean: Array,
             width: Array) -> Drift | None:
    """The first place at which the weighted mean is outside, and where the drift began."""
    for place in places:
        if abs(mean[place] - centre) > width[place]:
            return Drift(place, onset_of(values[list(places)], places, days[list(places)], centre, sigma),
                         bool(mean[place] > centre))
    return None


def onset_of(values: Array, places: Sequence[int], days: Array, centre: float, sigma: float) -> int:
    """The last place before the best straight line leaves the centre; single values that stand apart count with 3
    sigma from the median of their neighbours at most."""
    around = np.array([np.median(values[max(0, n - 1): n + 2]) for n in range(len(values))])
    held = np.clip(values, around - ACTION * sigma, around + ACTION * sigma) - centre
    best, onset = math.inf, places[0]
    for number in range(len(places) - 1):
        since = np.maximum(days - days[number], 0.0)
        slope = float(since @ held) / float(since @ since)
        misfit = float(np.sum((held - slope * since) ** 2))
        if misfit < best:
            best, onset = misfit, places[number]
    return onset
