# SPDX-License-Identifier: Apache-2.0
"""From a certificate read to a meter: metals, body, fit, and what the report shows."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from .certificate import Certificate
from .certificate_head import NIST_SET, Head, MetalLine
from .errors import FlowcompError
from .input_error import InputError

if TYPE_CHECKING:
    from .body import Body, Metal
    from .fit import Fit
    from .pictures import CurvePicture

M2_PER_MM2 = 1e-6
CURVE_POINTS = 400


def metal_of(line: MetalLine, head: Head) -> Metal:
    """The metal that a head line names."""
    from .body import Metal

    try:
        if line.numbers:
            optional: dict[str, Any] = {key: line.numbers[key] for key in ("modulus_gpa", "poisson")
                        if not math.isnan(line.numbers[key])}
            return Metal.mean(line.numbers["alpha_per_k"], line.numbers["t_low_degc"], line.numbers["t_high_degc"],
                              source=line.source, **optional)
        return Metal.nist(line.name) if line.table == NIST_SET else Metal.from_table(line.name, line.table)
    except FlowcompError as error:
        raise InputError(f"no such metal in that table: {error}", file=head.file, line=line.line) from None


def body_of(head: Head) -> Body:
    """The meter body of the head."""
    from .body import Body

    try:
        return Body(bore_m=head.bore_m, t0_degc=head.t0_degc, p0_kpag=head.p0_kpag,
                    housing=metal_of(head.housing, head),
                    rotor=metal_of(head.rotor, head) if head.rotor else None, area_blocked=head.area_blocked,
                    end=head.end, wall_m=None if math.isnan(head.wall_m) else head.wall_m, beyond=head.beyond_metal)
    except FlowcompError as error:
        raise InputError(f"the body in the head cannot be made: {error}", file=head.file) from None


def fit_of(certificate: Certificate, body: Body, method: str, merge_ro: float | None, break_points: int | None) -> Fit:
    """The fitted curve.

    :raises InputError: that names the line of the point refused
    """
    from .fit import fit_certificate

    head = certificate.head
    try:
        return fit_certificate(
            certificate.points, body=body, convention=head.convention, treatment=head.body,
            reference=head.reference_volume, method=method,
            k_nominal_per_m3=None if math.isnan(head.k_nominal_per_m3) else head.k_nominal_per_m3,
            u_relative=None if math.isnan(head.u_k_pct) else head.u_k_pct / 200, merge_ro=merge_ro,
            break_points=break_points)
    except FlowcompError as error:
        place = error.index
        line = certificate.lines[place] if place is not None and 0 <= place < len(certificate.lines) else None
        raise InputError(f"the points cannot be fitted: {error}", file=head.file, line=line) from None


def k_at_reference(st: np.ndarray | float, bore_m: float) -> np.ndarray:
    """K in pulses/m3 of a Strouhal number with the body at T0 and P0: K = 4 St/(pi D0^3)."""
    return np.asarray(4.0 * np.asarray(st) / (math.pi * bore_m**3))


def picture_of(certificate: Certificate, fit: Fit, body: Body, title: str) -> CurvePicture:
    """Points and curve as they are drawn."""
    from .pictures import CurvePicture

    low, high = np.log(fit.curve.ro_low), np.log(fit.curve.ro_high)
    ro = np.exp(np.linspace(low, high, CURVE_POINTS))
    ro[0], ro[-1] = fit.curve.ro_low, fit.curve.ro_high
    return CurvePicture(
        title=title, liquids=certificate.liquids, liquid=np.array([point.liquid for point in fit.points]),
        ro=np.array([point.ro for point in fit.points]),
        k_per_m3=k_at_reference(np.array([point.st for point in fit.points]), body.bore_m),
        u_pct=np.array([200 * point.u_relative for point in fit.points]),
        residual_pct=np.array([point.residual_pct for point in fit.points]),
        curve_ro=ro, curve_k_per_m3=k_at_reference(fit.curve.at(ro).st, body.bore_m),
        curve_u_pct=200 * np.asarray(fit.band(ro)), bore_m=body.bore_m)


def lines_of(certificate: Certificate, fit: Fit, flag: str) -> str:
    """Lines of the certificate file whose points carry a flag."""
    return ", ".join(str(certificate.lines[place]) for place, point in enumerate(fit.points) if flag in point.flags)


def warnings_of(certificate: Certificate, fit: Fit) -> list[str]:
    """What a person should look at before the curve is used."""
    found = []
    summary = fit.summary
    if summary.averaged:
        found.append(f"{summary.averaged} points share a knot with near neighbours in Ro and were averaged.")
    if summary.disagreeing:
        found.append(f"{summary.disagreeing} points (lines {lines_of(certificate, fit, 'disagrees')}) differ from a neighbour of another liquid by more "
                     "than three standard uncertainties: one curve does not hold for both liquids there.")
    if summary.differing:
        found.append(f"{summary.differing} points (lines {lines_of(certificate, fit, 'differs')}) differ from a repeat with "
                     "the same liquid by more than three standard uncertainties of the difference: one of the two is wrong, "
                     "or the stated uncertainty is too small.")
    if summary.weighted_down:
        found.append(f"{summary.weighted_down} points (lines {lines_of(certificate, fit, 'weighted_down')}) were weighted down as outliers.")
    if any("end_weighted_down" in point.flags for point in fit.points):
        found.append("One of them is the lowest or highest: the range of the curve rests on a doubtful point.")
    if not math.isnan(summary.scatter) and summary.scatter > 2:
        found.append(f"The points scatter by {summary.scatter:.1f} times their stated uncertainty: it is too small, or "
                     "the curve does not fit.")
    if math.isnan(certificate.head.u_k_pct) and not any("u_relative" in point for point in certificate.points):
        found.append("The certificate states no uncertainty of K (u_k_pct): 0.1 % (k=2) was taken.")
    if certificate.unused:
        found.append(f"Columns not used: {', '.join(certificate.unused)}.")
    if certificate.head.area_blocked == 0.0 and certificate.head.rotor is not None:
        found.append("No hub_mm is given: the hub is taken to block none of the bore.")
    return found
