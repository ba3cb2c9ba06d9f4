/* SPDX-License-Identifier: Apache-2.0 */
/* Least squares of a viscosity model: QR for what is linear, Brent's method for the one coefficient that is not. The QR
 * works in memory of ours (see fit_bspline.c). */
#include "fit_viscosity_core.h"
#include "error.h"
#include "fpmath.h"
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_min.h>

#define SMALLEST_PIVOT 1e-13 /* of the largest: less is lost in the rounding of the points */
#define GRID 200
#define SEARCH_STEPS 200

/* Columns are scaled to the same size first, so that pivots can be compared. */
static void scale_columns(gsl_matrix *design, double *scale)
{
    for (size_t k = 0; k < design->size2; k++) {
        double sum = 0.0;
        for (size_t i = 0; i < design->size1; i++) {
            const double value = gsl_matrix_get(design, i, k);
            sum += value * value;
        }
        scale[k] = flc_sqrt(sum);
        for (size_t i = 0; i < design->size1; i++) {
            gsl_matrix_set(design, i, k, gsl_matrix_get(design, i, k) / scale[k]);
        }
    }
}

static int has_small_pivot(const gsl_matrix *qr)
{
    for (size_t k = 0; k < qr->size2; k++) {
        if (!(flc_fabs(gsl_matrix_get(qr, k, k)) > SMALLEST_PIVOT)) {
            return 1;
        }
    }
    return 0;
}

flc_status flc_viscosity_solve(const flc_viscosity_data *data, double q, double *c, double *squares)
{
    const size_t n = data->count, p = data->form->coefficients;
    double scale[FLC_BASIS_MAX], tau_room[FLC_BASIS_MAX];
    gsl_matrix_view design = gsl_matrix_view_array(data->room, n, p);
    gsl_vector_view left = gsl_vector_view_array(data->room + n * p, n);
    gsl_vector_view tau = gsl_vector_view_array(tau_room, p), solution = gsl_vector_view_array(c, p);
    gsl_vector_const_view y = gsl_vector_const_view_array(data->y, n);
    for (size_t i = 0; i < n; i++) {
        data->form->basis(data->t_k[i], q, data->room + i * p);
    }
    scale_columns(&design.matrix, scale);
    if (gsl_linalg_QR_decomp(&design.matrix, &tau.vector) != GSL_SUCCESS || has_small_pivot(&design.matrix) ||
        gsl_linalg_QR_lssolve(&design.matrix, &tau.vector, &y.vector, &solution.vector, &left.vector) != GSL_SUCCESS) {
        return FLC_E_SINGULAR;
    }
    *squares = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double residual = gsl_vector_get(&left.vector, i);
        *squares += residual * residual;
    }
    for (size_t k = 0; k < p; k++) {
        c[k] /= scale[k];
    }
    return flc_is_finite(*squares) ? FLC_OK : FLC_E_SINGULAR;
}

/* Logarithm of the sum of squares, so that a curve through exact points has a minimum that can be found. */
static double depth(double q, void *data)
{
    double c[FLC_BASIS_MAX], squares = 0.0;
    const flc_status status = flc_viscosity_solve(data, q, c, &squares);
    return status == FLC_OK ? flc_log(squares + 1e-300) : 1e3;
}

static flc_status narrow(gsl_function *f, double low, double middle, double high, double *q)
{
    gsl_min_fminimizer *search = gsl_min_fminimizer_alloc(gsl_min_fminimizer_brent);
    if (search == NULL) {
        return FLC_E_MEMORY;
    }
    int code = gsl_min_fminimizer_set(search, f, middle, low, high);
    for (int step = 0; step < SEARCH_STEPS && code == GSL_SUCCESS; step++) {
        code = gsl_min_fminimizer_iterate(search);
        const double a = gsl_min_fminimizer_x_lower(search), b = gsl_min_fminimizer_x_upper(search);
        if (code == GSL_SUCCESS && gsl_min_test_interval(a, b, 0.0, 1e-13) == GSL_SUCCESS) {
            break;
        }
    }
    *q = gsl_min_fminimizer_x_minimum(search);
    gsl_min_fminimizer_free(search);
    return code == GSL_SUCCESS || code == GSL_FAILURE ? FLC_OK : FLC_E_SINGULAR; /* no progress: it stands there */
}

flc_status flc_viscosity_search(const flc_viscosity_data *data, double *q)
{
    flc_viscosity_data own = *data;
    gsl_function f = {depth, &own};
    const double low = data->form->q_low, high = data->form->q_high;
    double at[GRID + 1], value[GRID + 1];
    size_t best = 0;
    for (size_t i = 0; i <= GRID; i++) {
        at[i] = low + (high - low) * ((double)i + 0.37) / (GRID + 1.0); /* off the whole numbers, some are singular */
        value[i] = depth(at[i], &own);
        best = value[i] < value[best] ? i : best;
    }
    if (best == 0 || best == GRID || value[best] >= value[best - 1] || value[best] >= value[best + 1]) {
        return FLC_E_SINGULAR;
    }
    return narrow(&f, at[best - 1], at[best], at[best + 1], q);
}
