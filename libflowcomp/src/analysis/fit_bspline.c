/* SPDX-License-Identifier: Apache-2.0 */
/* Weighted least squares on a B-spline, with GSL's basis and QR, and the same made robust by reweighting.
 *
 * Not by gsl_multifit_wlinear: the singular values beneath it allocate without looking at the answer, and a fit that
 * runs out of memory would take the host down. The QR allocates nothing. Nor by gsl_multifit_robust, whose scale has no
 * floor and whose start is plain least squares. The tests compare with gsl_multifit_wlinear. */
#include "fit_core.h"
#include "error.h"
#include "fpmath.h"
#include "memory.h"
#include <gsl/gsl_blas.h>
#include <gsl/gsl_bspline.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics.h>

#define RANK_TOLERANCE \
    1e-12 /* a singular value smaller than this part of the largest: no point holds that coefficient */

typedef struct problem {
    const flc_fit_data *data;
    size_t p; /* coefficients */
    gsl_bspline_workspace *basis;
    double *memory;                      /* of all that follows */
    gsl_matrix_view design, qr;          /* rows by coefficients; qr: weighted, then factored */
    gsl_matrix_view covariance, r, room; /* coefficients by coefficients; r: the triangular factor */
    gsl_matrix_view slopes;              /* basis functions and their derivatives at one place */
    gsl_vector_view st, left;            /* rows: weighted St, what the fit leaves of it */
    gsl_vector_view c, tau, singular;    /* coefficients */
} problem;

static void close_problem(problem *q)
{
    flc_release(q->memory);
    if (q->basis != NULL) {
        gsl_bspline_free(q->basis);
    }
}

static gsl_matrix_view next_matrix(double **memory, size_t rows, size_t columns)
{
    double *start = *memory;
    *memory += rows * columns;
    return gsl_matrix_view_array(start, rows, columns);
}

static gsl_vector_view next_vector(double **memory, size_t count)
{
    double *start = *memory;
    *memory += count;
    return gsl_vector_view_array(start, count);
}

static flc_status open_problem(const flc_fit_data *data, size_t order, size_t pieces, problem *q)
{
    const size_t n = data->count, p = pieces + order - 1;
    q->data = data;
    q->p = p;
    q->basis = NULL;
    q->memory = NULL;
    if (p > n) {
        return FLC_E_SINGULAR;
    }
    q->basis = gsl_bspline_alloc(order, pieces + 1);
    q->memory = flc_allocate_array(2 * n * p + 2 * n + p * (3 * p + 4 + 3), sizeof *q->memory);
    if (q->basis == NULL || q->memory == NULL) {
        return FLC_E_MEMORY;
    }
    double *memory = q->memory;
    q->design = next_matrix(&memory, n, p);
    q->qr = next_matrix(&memory, n, p);
    q->covariance = next_matrix(&memory, p, p);
    q->r = next_matrix(&memory, p, p);
    q->room = next_matrix(&memory, p, p);
    q->slopes = next_matrix(&memory, p, 4);
    q->st = next_vector(&memory, n);
    q->left = next_vector(&memory, n);
    q->c = next_vector(&memory, p);
    q->tau = next_vector(&memory, p);
    q->singular = next_vector(&memory, p);
    return FLC_OK;
}

/* Breaks with equally many knots in each piece, between the first and the last point. */
static void place_breaks(const flc_fit_data *data, size_t pieces, double *breaks)
{
    const size_t last = data->knot_count - 1;
    for (size_t i = 1; i < pieces; i++) {
        const size_t left = i * last / pieces;
        const double part = (double)(i * last % pieces) / (double)pieces;
        breaks[i] = data->knots[left].x + part * (data->knots[left + 1].x - data->knots[left].x);
    }
    breaks[0] = data->rows[0].x;
    breaks[pieces] = data->rows[data->count - 1].x;
}

static flc_status fill_problem(problem *q, const double *breaks, size_t pieces)
{
    const gsl_vector_const_view places = gsl_vector_const_view_array(breaks, pieces + 1);
    int code = gsl_bspline_knots(&places.vector, q->basis);
    for (size_t i = 0; i < q->data->count && code == GSL_SUCCESS; i++) {
        gsl_vector_view row = gsl_matrix_row(&q->design.matrix, i);
        code = gsl_bspline_eval(q->data->rows[i].x, &row.vector, q->basis);
    }
    return code == GSL_SUCCESS ? FLC_OK : FLC_E_DOMAIN;
}

static double sigma(const flc_fit_row *row)
{
    return row->u * row->st;
}

static double residual_of(const problem *q, size_t i)
{
    double fitted = 0.0;
    for (size_t k = 0; k < q->p; k++) {
        fitted += gsl_matrix_get(&q->design.matrix, i, k) * gsl_vector_get(&q->c.vector, k);
    }
    return (q->data->rows[i].st - fitted) / sigma(&q->data->rows[i]);
}

static int triangle_holds(const gsl_matrix *r, size_t p)
{
    double least = flc_infinity(), most = 0.0;
    for (size_t k = 0; k < p; k++) {
        const double size = flc_fabs(gsl_matrix_get(r, k, k));
        least = size < least ? size : least;
        most = size > most ? size : most;
    }
    return least > RANK_TOLERANCE * most; /* false for a NaN */
}

/* Weighted least squares with the points' own weights times those of the robust loss; then the residuals. */
static flc_status solve(problem *q, const double *loss_weight, double *residual)
{
    const size_t n = q->data->count;
    for (size_t i = 0; i < n; i++) {
        const double root = flc_sqrt(loss_weight[i]) / sigma(&q->data->rows[i]);
        gsl_vector_set(&q->st.vector, i, root * q->data->rows[i].st);
        for (size_t k = 0; k < q->p; k++) {
            gsl_matrix_set(&q->qr.matrix, i, k, root * gsl_matrix_get(&q->design.matrix, i, k));
        }
    }
    int code = gsl_linalg_QR_decomp(&q->qr.matrix, &q->tau.vector);
    if (code != GSL_SUCCESS || !triangle_holds(&q->qr.matrix, q->p)) {
        return FLC_E_SINGULAR;
    }
    code = gsl_linalg_QR_lssolve(&q->qr.matrix, &q->tau.vector, &q->st.vector, &q->c.vector, &q->left.vector);
    for (size_t i = 0; i < n && code == GSL_SUCCESS; i++) {
        residual[i] = residual_of(q, i);
        code = flc_is_finite(residual[i]) ? GSL_SUCCESS : GSL_EFAILED;
    }
    return code == GSL_SUCCESS ? FLC_OK : FLC_E_SINGULAR;
}

/* Condition number: of the triangular factor, its columns scaled to one length. */
static flc_status find_condition(problem *q, double *condition)
{
    for (size_t k = 0; k < q->p; k++) {
        gsl_vector_view column = gsl_matrix_column(&q->room.matrix, k);
        gsl_matrix_get_col(&column.vector, &q->r.matrix, k);
        gsl_vector_scale(&column.vector, 1.0 / gsl_blas_dnrm2(&column.vector));
    }
    if (gsl_linalg_SV_decomp_jacobi(&q->room.matrix, &q->covariance.matrix, &q->singular.vector) != GSL_SUCCESS) {
        return FLC_E_SINGULAR;
    }
    *condition = gsl_vector_get(&q->singular.vector, 0) / gsl_vector_get(&q->singular.vector, q->p - 1);
    return *condition < 1.0 / RANK_TOLERANCE ? FLC_OK : FLC_E_SINGULAR;
}

/* Condition and covariance (R'R)^-1 = R^-1 R^-1' from the last factors. */
static flc_status find_covariance(problem *q, double *condition)
{
    for (size_t i = 0; i < q->p; i++) {
        for (size_t k = 0; k < q->p; k++) {
            gsl_matrix_set(&q->r.matrix, i, k, k >= i ? gsl_matrix_get(&q->qr.matrix, i, k) : 0.0);
        }
    }
    flc_status status = find_condition(q, condition);
    gsl_matrix_set_identity(&q->room.matrix);
    if (status == FLC_OK && (gsl_blas_dtrsm(CblasLeft, CblasUpper, CblasNoTrans, CblasNonUnit, 1.0, &q->r.matrix,
                                            &q->room.matrix) != GSL_SUCCESS ||
                             gsl_blas_dgemm(CblasNoTrans, CblasTrans, 1.0, &q->room.matrix, &q->room.matrix, 0.0,
                                            &q->covariance.matrix) != GSL_SUCCESS)) {
        status = FLC_E_SINGULAR;
    }
    return status;
}

static double root_mean_square(const double *residual, size_t n, size_t p)
{
    double chi2 = 0.0;
    for (size_t i = 0; i < n; i++) {
        chi2 += residual[i] * residual[i];
    }
    return n > p ? flc_sqrt(chi2 / (double)(n - p)) : flc_nan();
}

/* ---- the robust loss ---- */

#define NORMAL_MAD 0.6745 /* median of |z| for a standard normal z */
#define START_STEPS 25    /* least absolute deviations, as a start that gross errors cannot lead away */
#define START_FLOOR 1e-3  /* deviations below this part of u weigh alike */
#define STEPS_MAX 200     /* with a fixed scale each step lowers the loss; it settles in some tens */
#define SETTLED 1e-10
#define ROUNDS_MAX 10 /* of a falling scale */
#define FALLS 0.99

static void deviation_weights(const double *residual, size_t n, double *weight)
{
    for (size_t i = 0; i < n; i++) {
        const double size = flc_fabs(residual[i]);
        weight[i] = START_FLOOR / (size > START_FLOOR ? size : START_FLOOR);
    }
}

/* Returns the largest change of a weight. */
static double bisquare_weights(const double *residual, size_t n, double scale, double *weight)
{
    double change = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double z = residual[i] / (FLC_BISQUARE * scale);
        const double left = 1.0 - z * z;
        const double now = left > 0.0 ? left * left : 0.0;
        const double moved = flc_fabs(now - weight[i]);
        change = moved > change ? moved : change;
        weight[i] = now;
    }
    return change;
}

/* Median absolute residual as a standard deviation; a fit of p coefficients leaves about p residuals near zero, of
 * which p - 1 are left out. */
static flc_status robust_scatter(const double *residual, size_t n, size_t p, double *scatter)
{
    double *size = flc_allocate_array(n, sizeof *size);
    if (size == NULL) {
        return FLC_E_MEMORY;
    }
    for (size_t i = 0; i < n; i++) {
        size[i] = flc_fabs(residual[i]);
    }
    gsl_sort(size, 1, n);
    *scatter = gsl_stats_median_from_sorted_data(size + (p - 1), 1, n - p + 1) / NORMAL_MAD;
    flc_release(size);
    return FLC_OK;
}

static flc_status start_robustly(problem *q, flc_trial *trial)
{
    flc_status status = solve(q, trial->weight, trial->residual);
    for (int step = 0; step < START_STEPS && status == FLC_OK; step++) {
        deviation_weights(trial->residual, q->data->count, trial->weight);
        status = solve(q, trial->weight, trial->residual);
    }
    return status;
}

static flc_status settle(problem *q, flc_trial *trial, double scale)
{
    const size_t n = q->data->count;
    flc_status status = FLC_OK;
    bisquare_weights(trial->residual, n, scale, trial->weight);
    for (int step = 0; step < STEPS_MAX && status == FLC_OK; step++) {
        status = solve(q, trial->weight, trial->residual);
        if (bisquare_weights(trial->residual, n, scale, trial->weight) <= SETTLED) {
            break;
        }
    }
    return status;
}

/* The scatter about the start may still hold gross errors that drew the start along; once settled, the scale is taken
 * anew, as long as it falls. */
static flc_status solve_robustly(problem *q, flc_trial *trial, double *scatter)
{
    const size_t n = q->data->count;
    flc_status status = start_robustly(q, trial);
    if (status == FLC_OK) {
        status = robust_scatter(trial->residual, n, q->p, scatter);
    }
    double scale = flc_infinity();
    for (int round = 0; round < ROUNDS_MAX && status == FLC_OK; round++) {
        const double now = *scatter > FLC_U_BELIEVED ? *scatter : FLC_U_BELIEVED;
        if (now > FALLS * scale) {
            break;
        }
        scale = now;
        status = settle(q, trial, scale);
        if (status == FLC_OK) {
            status = robust_scatter(trial->residual, n, q->p, scatter);
        }
    }
    return status;
}

/* ---- handing the curve over ---- */

/* Value and derivatives of each basis function at a break, right of it, divided by 0! 1! 2! 3!: from the coefficients
 * of the B-spline to those of the powers of u = x - break. */
static flc_status powers_at(problem *q, double x)
{
    gsl_matrix_set_zero(&q->slopes.matrix); /* derivatives from the order up are zero; asked for them, GSL refuses */
    if (gsl_bspline_deriv_eval(x, gsl_bspline_order(q->basis) - 1, &q->slopes.matrix, q->basis) != GSL_SUCCESS) {
        return FLC_E_DOMAIN;
    }
    for (size_t k = 0; k < q->p; k++) {
        gsl_matrix_set(&q->slopes.matrix, k, 2, gsl_matrix_get(&q->slopes.matrix, k, 2) / 2.0);
        gsl_matrix_set(&q->slopes.matrix, k, 3, gsl_matrix_get(&q->slopes.matrix, k, 3) / 6.0);
    }
    return FLC_OK;
}

static double power(const problem *q, size_t j)
{
    double sum = 0.0;
    for (size_t k = 0; k < q->p; k++) {
        sum += gsl_matrix_get(&q->slopes.matrix, k, j) * gsl_vector_get(&q->c.vector, k);
    }
    return sum;
}

static double power_covariance(const problem *q, size_t i, size_t j)
{
    double sum = 0.0;
    for (size_t k = 0; k < q->p; k++) {
        for (size_t m = 0; m < q->p; m++) {
            sum += gsl_matrix_get(&q->slopes.matrix, k, i) * gsl_matrix_get(&q->covariance.matrix, k, m) *
                   gsl_matrix_get(&q->slopes.matrix, m, j);
        }
    }
    return sum;
}

static flc_status hand_over(problem *q, flc_spline *spline)
{
    flc_status status = FLC_OK;
    const double widen = spline->scatter > 1.0 ? spline->scatter * spline->scatter : 1.0; /* NaN: not */
    for (size_t i = 0; i < spline->pieces && status == FLC_OK; i++) {
        status = powers_at(q, spline->x[i]);
        for (size_t j = 0; j < 4 && status == FLC_OK; j++) {
            spline->c[i][j] = power(q, j);
            for (size_t k = 0; k < 4; k++) {
                spline->covariance[i][j][k] = widen * power_covariance(q, j, k);
            }
        }
        spline->st[i] = spline->c[i][0];
    }
    if (status == FLC_OK) {
        status = powers_at(q, spline->x[spline->pieces]);
        spline->st[spline->pieces] = power(q, 0);
    }
    return status;
}

flc_status flc_trial_fit(const flc_fit_data *data, int robust, flc_trial *trial)
{
    const size_t n = data->count;
    flc_spline *spline = &trial->spline;
    spline->pieces = trial->pieces;
    place_breaks(data, trial->pieces, spline->x);
    for (size_t i = 0; i < n; i++) {
        trial->weight[i] = 1.0;
    }
    problem q;
    flc_status status = open_problem(data, trial->order, trial->pieces, &q);
    if (status == FLC_OK) {
        status = fill_problem(&q, spline->x, trial->pieces);
    }
    if (status == FLC_OK) {
        status = robust ? solve_robustly(&q, trial, &spline->scatter) : solve(&q, trial->weight, trial->residual);
    }
    if (status == FLC_OK) {
        spline->coefficients = q.p;
        if (!robust) {
            spline->scatter = root_mean_square(trial->residual, n, q.p);
        }
        status = find_covariance(&q, &spline->condition);
    }
    if (status == FLC_OK) {
        status = hand_over(&q, spline);
    }
    close_problem(&q);
    return status;
}

size_t flc_spline_piece(const flc_spline *spline, double x)
{
    size_t piece = 0;
    while (piece + 1 < spline->pieces && spline->x[piece + 1] <= x) {
        piece++;
    }
    return piece;
}

double flc_spline_at(const flc_spline *spline, double x)
{
    const size_t piece = flc_spline_piece(spline, x);
    const double *c = spline->c[piece], u = x - spline->x[piece];
    return c[0] + u * (c[1] + u * (c[2] + u * c[3]));
}
