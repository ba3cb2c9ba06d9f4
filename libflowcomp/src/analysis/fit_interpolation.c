/* SPDX-License-Identifier: Apache-2.0 */
/* Curves through the points, by their derivatives at the knots: value and derivative at both ends of a segment
 * determine its cubic. Own arithmetic, judged against GSL's interpolations in the tests: GSL's tridiagonal solver leaks
 * where memory runs out, and its bits depend on how GSL was built; so a curve through points is the same everywhere. */
#include "fit_core.h"
#include "fpmath.h"

/* The cubic over a width h from st0 to st1 with end derivatives d0 and d1. */
static void hermite(double h, double st0, double st1, double d0, double d1, double *c)
{
    const double chord = (st1 - st0) / h;
    c[0] = st0;
    c[1] = d0;
    c[2] = (3.0 * chord - 2.0 * d0 - d1) / h;
    c[3] = (d0 + d1 - 2.0 * chord) / (h * h);
}

static double chord(const double *x, const double *st, size_t i)
{
    return (st[i + 1] - st[i]) / (x[i + 1] - x[i]);
}

static double smaller(double a, double b)
{
    return a < b ? a : b;
}

/* Derivative at an inner knot after Steffen (1990), equations 8 to 11: that of the parabola through the three knots,
 * held to twice the smaller chord beside it, and zero at a turning point. */
static double steffen_derivative(double h0, double h1, double s0, double s1)
{
    const double parabola = (s0 * h1 + s1 * h0) / (h0 + h1);
    const double least = smaller(smaller(flc_fabs(s0), flc_fabs(s1)), 0.5 * flc_fabs(parabola));
    return s0 > 0.0 && s1 > 0.0 ? 2.0 * least : s0 < 0.0 && s1 < 0.0 ? -2.0 * least : 0.0;
}

static void steffen_derivatives(const double *x, const double *st, size_t knots, double *d)
{
    d[0] = chord(x, st, 0);
    d[knots - 1] = chord(x, st, knots - 2);
    for (size_t i = 1; i + 1 < knots; i++) {
        d[i] = steffen_derivative(x[i] - x[i - 1], x[i + 1] - x[i], chord(x, st, i - 1), chord(x, st, i));
    }
}

/* Derivatives of the natural cubic spline: equal second derivatives on both sides of each knot, none at the ends. The
 * equations are tridiagonal and dominated by their diagonal: elimination downwards, substitution upwards. */
static void natural_derivatives(const double *x, const double *st, size_t knots, double *d, double *upper)
{
    upper[0] = 0.5;
    d[0] = 1.5 * chord(x, st, 0);
    for (size_t i = 1; i < knots; i++) {
        const int last = i + 1 == knots;
        const double left = 1.0 / (x[i] - x[i - 1]), right = last ? 0.0 : 1.0 / (x[i + 1] - x[i]);
        const double after = last ? 0.0 : right * chord(x, st, i);
        const double pivot = 2.0 * (left + right) - left * upper[i - 1];
        upper[i] = right / pivot;
        d[i] = (3.0 * (left * chord(x, st, i - 1) + after) - left * d[i - 1]) / pivot;
    }
    for (size_t i = knots - 1; i-- > 0;) {
        d[i] -= upper[i] * d[i + 1];
    }
}

void flc_interpolate(flc_fit_method method, const double *x, const double *st, size_t knots, double *room,
                     double *coefficients)
{
    double *derivative = room;
    if (method == FLC_FIT_STEFFEN) {
        steffen_derivatives(x, st, knots, derivative);
    } else {
        natural_derivatives(x, st, knots, derivative, room + knots);
    }
    for (size_t i = 0; i + 1 < knots; i++) {
        hermite(x[i + 1] - x[i], st[i], st[i + 1], derivative[i], derivative[i + 1], coefficients + 4 * i);
    }
}
