# SPDX-License-Identifier: Apache-2.0
"""Pictures as SVG and PNG: a certificate's points with the curve, restated months, K over time.

The same data give the same bytes: no dates and no random identifiers stand in the files.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import matplotlib
import numpy as np
import numpy.typing as npt

from .month_totals import UNITS_PER_M3, Day

matplotlib.use("Agg")

from matplotlib import pyplot  # noqa: E402

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Array = npt.NDArray[np.float64]

COLOURS = ("#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#e69f00")  # Okabe and Ito, for colour-blind eyes
MARKERS = ("o", "s", "^", "D", "v", "P")
GREY = "#555555"
STYLE: dict[Any, Any] = {
    "svg.hashsalt": "flowcomp", "svg.fonttype": "path", "font.size": 10, "axes.axisbelow": True,
    "axes.spines.top": False, "axes.spines.right": False, "axes.grid": True, "grid.color": "#dddddd",
    "grid.linewidth": 0.6, "legend.frameon": False, "figure.constrained_layout.use": True}
CAUTION = "A calculation, not a settlement: the contract's method, local codes and approvals decide."


@contextmanager
def picture(svg: Path, png: Path, size: tuple[float, float], **layout: Any) -> Iterator[tuple[Figure, Any]]:
    """A figure that is saved as both files at the end."""
    with matplotlib.rc_context(STYLE):
        figure, axes = pyplot.subplots(figsize=size, **layout)
        try:
            yield figure, axes
            figure.supxlabel(CAUTION, fontsize=7.5, color=GREY)
            figure.savefig(svg, format="svg", metadata={"Date": None})
            figure.savefig(png, format="png", dpi=150, metadata={"Software": None})
        finally:
            pyplot.close(figure)


# --- a certificate ----------------------------------------------------------------------------------------------------

@dataclass(frozen=True)
class CurvePicture:
    """What is drawn of a fit. Points: arrays of shape (points,); curve: arrays of shape (n,). K in pulses/m3 with the
    body at T0 and P0, u in per cent (k=2)."""

    title: str
    liquids: Sequence[str]
    liquid: npt.NDArray[np.int64]
    ro: Array
    k_per_m3: Array
    u_pct: Array
    residual_pct: Array
    curve_ro: Array
    curve_k_per_m3: Array
    curve_u_pct: Array
    bore_m: float


def draw_curve(data: CurvePicture, svg: Path, png: Path) -> None:
    """K against Ro by liquid with the curve and its band, and the residuals under it."""
    with picture(svg, png, (8.0, 6.4), nrows=2, sharex=True, height_ratios=(2.2, 1.0)) as (figure, (top, bottom)):
        band = data.curve_u_pct / 100
        top.fill_between(data.curve_ro, data.curve_k_per_m3 * (1 - band), data.curve_k_per_m3 * (1 + band),
                         color=GREY, alpha=0.22, linewidth=0, label="band of the curve (k=2)")
        top.plot(data.curve_ro, data.curve_k_per_m3, color=GREY, linewidth=1.2, label="curve")
        bottom.fill_between(data.curve_ro, -data.curve_u_pct, data.curve_u_pct, color=GREY, alpha=0.22, linewidth=0)
        bottom.axhline(0, color=GREY, linewidth=1.0)
        for number, name in enumerate(data.liquids):
            chosen = data.liquid == number
            style = {"color": COLOURS[number % len(COLOURS)], "linestyle": "none", "markersize": 5,
                     "marker": MARKERS[number % len(MARKERS)], "elinewidth": 0.9}
            top.errorbar(data.ro[chosen], data.k_per_m3[chosen], data.k_per_m3[chosen] * data.u_pct[chosen] / 100,
                         label=name, **style)
            bottom.errorbar(data.ro[chosen], data.residual_pct[chosen], data.u_pct[chosen], **style)
        top.set_xscale("log")
        top.set_title(data.title, loc="left", fontsize=11)
        top.set_ylabel("K at T0 and P0, pulses per m³")
        top.yaxis.set_major_formatter(matplotlib.ticker.FormatStrFormatter("%.0f"))
        bottom.set_ylabel("point less curve, %")
        bottom.set_xlabel("Roshko number f·D²/ν")
        per_viscosity = top.secondary_xaxis("top", functions=(lambda ro: ro * 1e-6 / data.bore_m**2,
                                                              lambda x: x * 1e6 * data.bore_m**2))
        per_viscosity.set_xlabel("f/ν, Hz per mm²/s")
        top.legend(loc="lower right", fontsize=9)


# --- restated months --------------------------------------------------------------------------------------------------

@dataclass(frozen=True)
class MonthBars:
    """One meter's months: names, restated less booked in per cent of booked, and its bound (k=2); shape (months,)."""

    meter: str
    months: Sequence[str]
    difference_pct: Array
    bound_pct: Array


def draw_months(meters: Sequence[MonthBars], booked: str, svg: Path, png: Path) -> None:
    """Restated against booked, month by month."""
    names = sorted({name for bars in meters for name in bars.months})
    width = 0.8 / max(len(meters), 1)
    with picture(svg, png, (max(6.0, 0.62 * len(names) + 2), 4.4)) as (figure, axes):
        for number, bars in enumerate(meters):
            place = np.array([names.index(name) for name in bars.months]) + (number - (len(meters) - 1) / 2) * width
            axes.bar(place, bars.difference_pct, 0.92 * width, color=COLOURS[number % len(COLOURS)], label=bars.meter)
            axes.errorbar(place, bars.difference_pct, bars.bound_pct, linestyle="none", color="black", elinewidth=0.9,
                          capsize=2.5, label="bound: partial flow and viscosity (k=2)" if bars is meters[-1] else None)
        axes.axhline(0, color="black", linewidth=0.9)
        axes.grid(axis="x", visible=False)
        axes.set_xticks(range(len(names)), names, rotation=45 if len(names) > 6 else 0, ha="right" if len(
            names) > 6 else "center")
        axes.set_ylabel("restated less booked, % of booked")
        axes.set_title(f"{booked.capitalize()} volume by contract month: restated against booked", loc="left",
                       fontsize=11)
        axes.margins(y=0.22)
        axes.legend(fontsize=9, loc="best", ncols=min(len(meters) + 1, 3))


# --- K over time ------------------------------------------------------------------------------------------------------

def draw_k(meters: dict[str, dict[int, Day]], with_booked: bool, svg: Path, png: Path) -> None:
    """Mean K of each day, and the K the site booked with."""
    with picture(svg, png, (8.6, 2.7 * len(meters) + 1.2), nrows=len(meters), squeeze=False, sharex=True
                 ) as (figure, axes):
        for number, (meter, days) in enumerate(meters.items()):
            draw_k_of(axes[number, 0], meter, days, with_booked, COLOURS[number % len(COLOURS)])
        figure.suptitle("K-factor in service, by day (UTC)", fontsize=11, x=0.01, ha="left")


def draw_k_of(axes: Axes, meter: str, days: dict[int, Day], with_booked: bool, colour: str) -> None:
    flowing = sorted(number for number, day in days.items() if day.units)
    when: Any = [datetime(1970, 1, 1, tzinfo=UTC) + timedelta(days=number) for number in flowing]
    chosen = [days[number] for number in flowing]
    mean = np.array([day.pulses * UNITS_PER_M3 / day.units for day in chosen])
    axes.plot(when, mean, color=colour, linewidth=1.2, marker="." if len(when) < 60 else None,
              label="restated: pulses over volume")
    booked = [day.booked_pulses * UNITS_PER_M3 / day.booked_units if day.booked_units else np.nan for day in chosen]
    if with_booked and np.isfinite(booked).any():
        axes.plot(when, booked, color="black", linewidth=1.0, linestyle="--", label="as booked")
    axes.set_ylabel("K, pulses per m³")
    axes.yaxis.set_major_formatter(matplotlib.ticker.FormatStrFormatter("%.0f"))
    axes.set_title(meter, loc="left", fontsize=10)
    axes.legend(fontsize=8, ncols=2, loc="lower right", bbox_to_anchor=(1.0, 0.98))
