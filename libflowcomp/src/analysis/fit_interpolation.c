/* SPDX-License-Identifier: Apache-2.0 */
/* Curves through the points. GSL gives the derivative at each knot; value and derivative at both ends of a segment
 * determine its cubic. */
#include "fit_core.h"
#include "error.h"
#include <gsl/gsl_errno.h>
#include <gsl/gsl_interp.h>

/* The cubic over a width h from st0 to st1 with end derivatives d0 and d1. */
static void hermite(double h, double st0, double st1, double d0, double d1, double *c)
{
    const double chord = (st1 - st0) / h;
    c[0] = st0;
    c[1] = d0;
    c[2] = (3.0 * chord - 2.0 * d0 - d1) / h;
    c[3] = (d0 + d1 - 2.0 * chord) / (h * h);
}

static flc_status derivative(const gsl_interp *curve, const double *x, const double *st, size_t i, double *d)
{
    const int code = gsl_interp_eval_deriv_e(curve, x, st, x[i], NULL, d);
    return code == GSL_SUCCESS && flc_is_finite(*d) ? FLC_OK : FLC_E_DOMAIN;
}

static flc_status fill(const gsl_interp *curve, const double *x, const double *st, size_t knots, double *coefficients)
{
    double left, right;
    flc_status status = derivative(curve, x, st, 0, &left);
    for (size_t i = 0; i + 1 < knots && status == FLC_OK; i++) {
        status = derivative(curve, x, st, i + 1, &right);
        if (status == FLC_OK) {
            hermite(x[i + 1] - x[i], st[i], st[i + 1], left, right, coefficients + 4 * i);
            left = right;
        }
    }
    return status;
}

flc_status flc_interpolate(flc_fit_method method, const double *x, const double *st, size_t knots, double *coefficients,
                           flc_error *error)
{
    if (knots == 2) { /* GSL asks for three; through two points both curves are the straight line */
        const double chord = (st[1] - st[0]) / (x[1] - x[0]);
        hermite(x[1] - x[0], st[0], st[1], chord, chord, coefficients);
        return FLC_OK;
    }
    gsl_interp *curve = gsl_interp_alloc(method == FLC_FIT_STEFFEN ? gsl_interp_steffen : gsl_interp_cspline, knots);
    flc_status status = FLC_E_MEMORY;
    if (curve != NULL) {
        const int code = gsl_interp_init(curve, x, st, knots);
        status = code == GSL_SUCCESS  ? fill(curve, x, st, knots, coefficients)
                 : code == GSL_ENOMEM ? FLC_E_MEMORY
                                      : FLC_E_DOMAIN;
        gsl_interp_free(curve);
    }
    return status == FLC_OK ? FLC_OK : flc_fail(error, status, "points", -1, flc_nan(), flc_nan(), NULL);
}
