# SPDX-License-Identifier: Apache-2.0
"""The picture of a proving: its runs with the limit of their range, and the history of the factor with its limits."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING, Any

import matplotlib
import matplotlib.dates
import matplotlib.ticker
import numpy as np

from .control_chart import ACTION, WARNING, Chart
from .pictures import COLOURS, GREY, STYLE
from .proving import Proving
from .proving_history import History

matplotlib.use("Agg")

from matplotlib import pyplot  # noqa: E402

if TYPE_CHECKING:
    from matplotlib.axes import Axes

BLUE, ORANGE, GREEN = COLOURS[0], COLOURS[1], COLOURS[2]


def draw_proving(outcome: Proving, range_of: str, history: History, contract: tuple[float, float]) -> str:
    """An SVG document without a fixed size.

    :param range_of: "pulses" or "factors", what the range is taken of
    :param contract: limits of the meter factor, NaN where there are none
    """
    with_charts = history.factors is not None
    rows = 3 if with_charts else 1
    with matplotlib.rc_context(STYLE | {"font.size": 9}):
        figure, axes = pyplot.subplots(rows, 1, figsize=(8.6, 1.0 + 2.15 * rows), squeeze=False,
                                       height_ratios=[1.0, 1.25, 0.75][:rows])
        try:
            draw_runs(axes[0, 0], outcome, range_of)
            if with_charts:
                assert history.factors
                draw_history(axes[1, 0], history, history.factors, "meter factor", contract)
                if history.differences:
                    draw_history(axes[2, 0], history, history.differences, "prover less\nmeter, K", (np.nan, np.nan))
            text = io.StringIO()
            figure.savefig(text, format="svg", metadata={"Date": None})
        finally:
            pyplot.close(figure)
    return inline(text.getvalue())


def inline(svg: str) -> str:
    """The svg element alone, sized by its view box."""
    element = svg[svg.index("<svg"):]
    return re.sub(r'(<svg[^>]*?) width="[^"]*"', r"\1", re.sub(r'(<svg[^>]*?) height="[^"]*"', r"\1", element, count=1),
                  count=1)


def draw_runs(axes: Axes, outcome: Proving, range_of: str) -> None:
    """Each run from the middle of those used, in per cent, and the band the range may fill."""
    values = np.array([run.pulses if range_of == "pulses" else run.mf for run in outcome.runs])
    used = np.array([run.rejected == "none" for run in outcome.runs])
    numbers = np.array([run.run for run in outcome.runs])
    low, high = values[used].min(), values[used].max()
    middle = 0.5 * (low + high)
    away = 100 * (values / middle - 1)
    limit = outcome.range_limit_pct
    if np.isfinite(limit):
        axes.axhspan(-limit / 2, limit / 2, color=GREEN, alpha=0.13, linewidth=0, label=f"range allowed, {limit:.4f} %")
    named = [finding.run for finding in outcome.findings if finding.run]
    axes.plot(numbers[used], away[used], "o", color=BLUE, label="runs used")
    if (~used).any():
        axes.plot(numbers[~used], away[~used], "o", markerfacecolor="none", color=GREY, label="left out")
    faulty = np.isin(numbers, named)
    if faulty.any():
        axes.plot(numbers[faulty], away[faulty], "s", markersize=11, markerfacecolor="none", markeredgewidth=1.6,
                  color=ORANGE, label="named in a finding")
    axes.axhline(0, color=GREY, linewidth=0.8)
    axes.set_xticks(numbers)
    axes.set_xlabel("run")
    axes.set_ylabel(f"{'pulses' if range_of == 'pulses' else 'meter factor'},\n% from the middle")
    axes.set_title(f"Runs: range {outcome.range_pct:.4f} %", loc="left", fontsize=10)
    axes.margins(y=0.25)
    beside(axes)


def draw_history(axes: Axes, history: History, chart: Chart, label: str, contract: tuple[float, float]) -> None:
    """Values over the days of the provings, centre, warning and action limits, weighted mean."""
    days: Any = np.array([entry.date for entry in history.entries], dtype="datetime64[D]")
    used = np.zeros(len(days), dtype=bool)
    used[list(chart.used)] = True
    low, high = chart.limits(ACTION)
    axes.axhspan(low, high, color=GREY, alpha=0.12, linewidth=0, label="action limits, 3 sigma")
    for number, limit in enumerate(chart.limits(WARNING)):
        axes.axhline(limit, color=GREY, linewidth=0.9, linestyle=":", label="" if number else "warning limits, 2 sigma")
    axes.axhline(chart.centre, color=GREY, linewidth=0.9, label=f"centre of the first {chart.baseline}")
    axes.plot(days[used], chart.mean[used], color=GREEN, linewidth=1.3, label="weighted mean")
    axes.plot(days[used], chart.values[used], "o", markersize=4, color=BLUE, label="accepted provings")
    if (~used).any():
        axes.plot(days[~used], chart.values[~used], "o", markersize=4, markerfacecolor="none", color=GREY,
                  label="refused")
    beyond = list(chart.beyond_action)
    if beyond:
        axes.plot(days[beyond], chart.values[beyond], "s", markersize=9, markerfacecolor="none", markeredgewidth=1.5,
                  color=ORANGE, label="outside action limits")
    axes.plot(days[-1:], chart.values[-1:], "D", markersize=8, markerfacecolor="none", color="black",
              label="this proving")
    for limit in contract:
        if np.isfinite(limit) and abs(limit - chart.centre) < 12 * chart.sigma:
            axes.axhline(limit, color=ORANGE, linewidth=1.0, linestyle="--")
    axes.set_ylabel(label)
    if "factor" in label:
        axes.set_title("History of the meter factor", loc="left", fontsize=10)
        axes.yaxis.set_major_formatter(matplotlib.ticker.FormatStrFormatter("%.4f"))
        beside(axes)
    axes.xaxis.set_major_formatter(matplotlib.dates.ConciseDateFormatter(axes.xaxis.get_major_locator()))
    axes.margins(y=0.15)


def beside(axes: Axes) -> None:
    """The legend to the right of the picture, where no point is hidden."""
    axes.legend(fontsize=8, loc="upper left", bbox_to_anchor=(1.0, 1.0), borderaxespad=0.2)
