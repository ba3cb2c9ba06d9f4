# SPDX-License-Identifier: Apache-2.0
"""The command ``flowcomp fit``: a meter file from a certificate."""

from __future__ import annotations

import enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .cli_support import Beyond, guarded, say, show_cautions, table

if TYPE_CHECKING:
    from .body import Body
    from .certificate import Certificate
    from .fit import Fit

Method = enum.StrEnum("Method", {"STEFFEN": "steffen", "CUBIC": "cubic", "BSPLINE": "bspline", "ROBUST": "robust"})


@guarded
def fit(
    certificate: Annotated[Path, typer.Argument(help="Certificate, in any of the layouts.", metavar="CERTIFICATE.csv")],
    out: Annotated[Path, typer.Option(help="Meter file to write.")],
    method: Annotated[Method, typer.Option(
        help="steffen: monotone through the points; cubic: natural spline through them; bspline: weighted least "
        "squares; robust: the same, outliers weighted down.")] = Method.STEFFEN,
    picture: Annotated[Path | None, typer.Option(help="Name of the pictures without ending; default: that of the meter "
                                                 "file.")] = None,
    merge_ro: Annotated[float | None, typer.Option(help="Points nearer in Ro than this, relative, count as one; 0.005."
                                                   )] = None,
    break_points: Annotated[int | None, typer.Option(help="Pieces of the B-spline; default: chosen.")] = None,
    below: Annotated[Beyond, typer.Option(help="Policy of the meter under its curve.")] = Beyond.REFUSE,
    above: Annotated[Beyond, typer.Option(help="Policy of the meter over its curve.")] = Beyond.REFUSE,
    cutoff_hz: Annotated[float, typer.Option(help="Low-flow cut-off of the meter, Hz; 0: off.")] = 0.0,
    decimal_comma: Annotated[bool, typer.Option("--decimal-comma", help="Numbers are written with a comma.")] = False,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace files that are there already.")] = False,
) -> None:
    """Fit a curve to a certificate and write a meter file, with pictures of the points and the curve.

    Layouts, by their columns: (a) flow, frequency, K; (b) flow, error at a nominal K; (c) flow, meter factor;
    (d) pulses, volume, time; (e) blocks of points, one for each liquid; (f) f/nu and K, or Roshko and Strouhal. What
    the numbers mean stands in head lines (#! key: value) that have no default.
    """
    from .certificate import read_certificate
    from .certificate_fit import body_of, fit_of, picture_of
    from .meter import Meter
    from .pictures import draw_curve
    from .safe_output import OutputFiles

    read = read_certificate(certificate, decimal_comma)
    body = body_of(read.head)
    found = fit_of(read, body, method.value, merge_ro, break_points)
    meter = Meter(read.head.meter, body, found.curve, below=below.value, above=above.value, cutoff_hz=cutoff_hz)
    base = picture or out.with_suffix("")
    svg, png = base.with_name(base.name + ".svg"), base.with_name(base.name + ".png")
    with OutputFiles(overwrite) as files:
        files.part(out).write_text(meter.to_json(), encoding="utf-8")
        drawing = picture_of(read, found, body, f"{read.head.meter}: {found.summary.method} curve, "
                             f"{len(found.points)} points")
        draw_curve(drawing, files.part(svg), files.part(png))
    show_fit(read, body, found)
    say(f"Written: {out} (hash {meter.hash[:16]}...), {svg}, {png}")
    show_cautions()


def show_fit(read: Certificate, body: Body, found: Fit) -> None:
    """Head, points, figures and warnings."""
    from .certificate_fit import k_at_reference, warnings_of

    head, summary = read.head, found.summary
    say(f"{head.meter}: layout {read.layout}, convention {head.convention}, body {head.body}, reference volume "
        f"{head.reference_volume}")
    say(f"Housing {body.housing!r}")
    say(f"Rotor {body.rotor!r}" if body.rotor else "Rotor as the housing")
    rows = [[str(read.lines[place]), read.liquids[point.liquid], f"{point.ro:.1f}", f"{point.re:.0f}",
             f"{point.k_per_m3:.3f}" if head.convention != "dimensionless" else "-",
             f"{float(k_at_reference(point.st, body.bore_m)):.3f}", f"{point.st:.7f}", f"{point.residual_pct:+.4f}",
             f"{200 * point.u_relative:.4f}", f"{point.weight:.2f}", ", ".join(point.flags)]
            for place, point in enumerate(found.points)]
    say()
    table("Points (K in pulses/m3; K0, Ro and St with the body at T0 and P0)",
          ["line", "liquid", "Ro", "Re", "K", "K0", "St", "residual %", "U % (k=2)", "weight", "flags"], rows,
          texts=(0, 1, 10))
    say()
    say(f"Curve: {summary.method}, {summary.knots} knots, Ro {summary.ro_low:.1f} to {summary.ro_high:.1f}, slope "
        f"d ln St/d ln Ro {summary.slope_min:+.5f} to {summary.slope_max:+.5f}")
    say(f"Residuals: root mean square {summary.residual_rms_pct:.4f} %, largest {summary.residual_max_pct:.4f} %")
    say(f"Linearity: {summary.linearity_mid_pct:.4f} % about the mid value, 100 (Kmax - Kmin)/(Kmax + Kmin); "
        f"{summary.linearity_mean_pct:.4f} % largest deviation from the mean K of {summary.k_mean_per_m3:.3f} "
        "pulses/m3")
    say("What all points share (the reference standard) is not in the band of the curve; add it.")
    for warning in warnings_of(read, found):
        say(f"Note: {warning}")
