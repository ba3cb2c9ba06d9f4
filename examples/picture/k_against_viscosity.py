#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Draw the K-factor of one meter against the viscosity of five liquids: the picture in the README.

    pip install './bindings/python[cli]'
    python3 examples/picture/k_against_viscosity.py            write k_against_viscosity.svg beside this file
    python3 examples/picture/k_against_viscosity.py FILE.svg   write it there

The meter is the invented one of examples/certificates. Water is pure water at 1 atm (IAPWS R12-08, Kell), Jet A the
measured fuel POSF 10325 (Edwards, AFRL 2020: 9.2, 4.5, 1.31, 0.68 mm2/s at -40, -20, 40, 100 degC); petrol, gas oil and
oil are invented. Each line is one frequency while the liquid warms from cold to hot; it ends where the curve of the meter
does, because nothing is extrapolated.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import flowcomp as fc
import numpy as np
from flowcomp import methods
from flowcomp.pictures import COLOURS, GREY, STYLE
from matplotlib import pyplot, rc_context
from matplotlib.lines import Line2D

HERE = Path(__file__).resolve().parent
CERTIFICATE = HERE.parent / "certificates" / "layout_a_flow_frequency_k.csv"
FREQUENCIES = {100.0: ":", 300.0: "--", 600.0: "-"}  # Hz


def through(t_degc: list[float], nu_mm2s: list[float]) -> Callable[[Any], Any]:
    """Viscosity by ASTM D341 between points (degC rising, mm2/s falling)."""
    return np.vectorize(lambda t: methods.nu_d341_table(t_degc=t, t_table_degc=t_degc, nu_table_mm2s=nu_mm2s,
                                                        form="body"))


LIQUIDS: dict[str, tuple[float, float, Callable[[Any], Any]]] = {  # lowest and highest temperature, degC; mm2/s of degC
    "petrol (invented)": (-20, 40, through([-20, 40], [0.93, 0.55])),
    "water": (1, 60, lambda t: methods.nu_water_1atm(t_degc=t)),
    "Jet A, POSF 10325": (-40, 60, through([-40, -20, 40, 100], [9.2, 4.5, 1.31, 0.68])),
    "gas oil (invented)": (-10, 60, through([-10, 15, 60], [13.0, 5.1, 2.0])),
    "hydraulic oil (invented)": (10, 90, through([10, 40, 90], [58.0, 15.0, 4.1])),
}


def invented_meter() -> fc.Meter:
    """The meter of the certificate, as the README of the project makes it."""
    metal = fc.Metal.mean(15.9e-6, -100, 150, modulus_gpa=193, poisson=0.29, source="data sheet")
    body = fc.Body(bore_m=0.0525, t0_degc=20, area_blocked=(22 / 52.5) ** 2, end="lame_closed", wall_m=0.0039,
                   housing=metal)
    lines = [line for line in CERTIFICATE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    points = [{key: float(row[key]) for key in ("f_hz", "k_per_m3", "nu_mm2s", "t_degc", "p_kpag")}
              for row in csv.DictReader(lines)]
    fit = fc.fit_certificate(points, body=body, convention="raw", treatment="as_run", reference="at_meter")
    return fc.Meter("EX-50", body, fit.curve)


def lines_of(meter: fc.Meter, count: int = 60) -> dict[tuple[str, float], tuple[np.ndarray, np.ndarray]]:
    """Viscosity (mm2/s) and K (1/m3), arrays of shape (count,), by liquid and frequency; NaN beyond the curve."""
    found = {}
    for name, (low, high, viscosity) in LIQUIDS.items():
        liquid = fc.Liquid.measured(name, volume="none", u_nu_relative=0.01)
        t = np.linspace(low, high, count)
        nu = np.asarray(viscosity(t), dtype=float)
        for f_hz in FREQUENCIES:
            seen = meter.evaluate(liquid, f_hz=f_hz, t_degc=t, p_kpag=250.0, nu_mm2s=nu, on_refused="nan")
            found[name, f_hz] = (nu, np.asarray(seen.k_per_m3))
    return found


def draw(file: Path) -> None:
    """Write the picture."""
    lines = lines_of(invented_meter())
    with rc_context(STYLE):
        figure, axes = pyplot.subplots(figsize=(8.0, 4.6))
        for (name, f_hz), (nu, k) in lines.items():
            axes.semilogx(nu, k, FREQUENCIES[f_hz], color=COLOURS[list(LIQUIDS).index(name)], linewidth=1.8)
        axes.set_xlabel("kinematic viscosity, mm2/s")
        axes.set_ylabel("K, pulses/m3")
        axes.set_title("One invented DN50 meter, five liquids, three frequencies", fontsize=10)
        handles = [Line2D([], [], color=COLOURS[i], linewidth=2, label=name) for i, name in enumerate(LIQUIDS)]
        handles += [Line2D([], [], color=GREY, linestyle=style, label=f"{f_hz:.0f} Hz") for f_hz, style in
                    FREQUENCIES.items()]
        axes.legend(handles=handles, fontsize=8, ncols=2, loc="lower left")
        figure.savefig(file, format="svg", metadata={"Date": None})
        pyplot.close(figure)


if __name__ == "__main__":
    draw(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "k_against_viscosity.svg")
