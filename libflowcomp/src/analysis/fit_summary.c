/* SPDX-License-Identifier: Apache-2.0 */
/* What a fit says of itself: points, figures, and how sure the curve is. */
#include "error.h"
#include "fit_core.h"
#include "fp_guard.h"
#include "fpmath.h"
#include "memory.h"
#include "similarity_core.h"
#include "struct_size.h"
#include "flowcomp/performance.h"
#include <stdlib.h>

void flc_fit_point_init_sized(flc_fit_point *point, size_t own_size)
{
    const double nothing = flc_nan();
    const flc_fit_point fresh = {sizeof fresh, 0, 0, nothing, nothing, nothing, nothing, nothing, nothing, nothing};
    flc_give_sized(point, own_size, &fresh, sizeof fresh);
}

void flc_fit_summary_init_sized(flc_fit_summary *summary, size_t own_size)
{
    const double nothing = flc_nan();
    const flc_fit_summary fresh = {sizeof fresh, FLC_FIT_STEFFEN, 0,       0,       0,       0,       0,       0,
                                   nothing,      nothing,         nothing, nothing, nothing, nothing, nothing, nothing,
                                   nothing,      nothing,         0,       nothing, 0};
    flc_give_sized(summary, own_size, &fresh, sizeof fresh);
}

/* ---- points ---- */

/* Two near points that differ by more than three standard uncertainties of the difference; a has the lower Ro. */
static void flag_pair(flc_fit_row *a, flc_fit_row *b, double merge_ro, uint32_t flag)
{
    const double u = flc_sqrt(a->u * a->u + b->u * b->u);
    if (b->ro <= a->ro * (1.0 + merge_ro) && flc_fabs(b->st - a->st) > 3.0 * u * (0.5 * (a->st + b->st))) {
        a->flags |= flag;
        b->flags |= flag;
    }
}

/* Each row against the last row before it, and the first after it, that has another liquid. */
static void flag_disagreements(const flc_fit_data *data, double merge_ro)
{
    flc_fit_row *rows = data->rows, *other = NULL;
    for (size_t i = 1; i < data->count; i++) {
        other = rows[i].liquid != rows[i - 1].liquid ? &rows[i - 1] : other;
        if (other != NULL) {
            flag_pair(other, &rows[i], merge_ro, FLC_FIT_POINT_DISAGREES);
        }
    }
    other = NULL;
    for (size_t i = data->count - 1; i-- > 0;) {
        other = rows[i].liquid != rows[i + 1].liquid ? &rows[i + 1] : other;
        if (other != NULL) {
            flag_pair(&rows[i], other, merge_ro, FLC_FIT_POINT_DISAGREES);
        }
    }
}

#define LOOK_BACK 16 /* rows of other liquids between two repeats */

/* Each row against the last one before it with the same liquid. */
static void flag_repeats(const flc_fit_data *data, double merge_ro)
{
    flc_fit_row *rows = data->rows;
    for (size_t i = 1; i < data->count; i++) {
        size_t back = 1;
        while (back < i && back < LOOK_BACK && rows[i - back].liquid != rows[i].liquid) {
            back++;
        }
        if (rows[i - back].liquid == rows[i].liquid) {
            flag_pair(&rows[i - back], &rows[i], merge_ro, FLC_FIT_POINT_DIFFERS);
        }
    }
}

/* An averaged end knot lies a little inside its outermost point: the end is held for its residual. */
static double residual_pct(const flc_curve *curve, const flc_fit_row *row)
{
    flc_curve_value value;
    const flc_status status = flc_curve_at(curve, row->ro, FLC_BEYOND_HOLD_END, FLC_BEYOND_HOLD_END, &value);
    return status == FLC_OK ? 100.0 * (row->st / value.st - 1.0) : flc_nan();
}

static void fill_point(const flc_curve *curve, const flc_fit_row *row, flc_fit_point *point)
{
    flc_fit_point_init(point);
    point->flags = row->flags;
    point->liquid = row->liquid;
    point->k_per_m3 = row->k_per_m3;
    point->ro = row->ro;
    point->st = row->st;
    point->re = row->ro / row->st;
    point->residual_pct = residual_pct(curve, row);
    point->weight = row->weight;
    point->u_relative = row->u;
}

/* ---- figures ---- */

static int compare_liquids(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* How many liquids; room holds a number per row. */
static size_t count_liquids(const flc_fit_data *data, double *room)
{
    for (size_t i = 0; i < data->count; i++) {
        room[i] = data->rows[i].liquid;
    }
    qsort(room, data->count, sizeof *room, compare_liquids);
    size_t liquids = 1;
    for (size_t i = 1; i < data->count; i++) {
        liquids += room[i] > room[i - 1];
    }
    return liquids;
}

static void count_flags(const flc_fit_data *data, flc_fit_summary *summary)
{
    for (size_t i = 0; i < data->count; i++) {
        const uint32_t flags = data->rows[i].flags;
        summary->averaged += (flags & FLC_FIT_POINT_AVERAGED) != 0;
        summary->disagreeing += (flags & FLC_FIT_POINT_DISAGREES) != 0;
        summary->differing += (flags & FLC_FIT_POINT_DIFFERS) != 0;
        summary->weighted_down += (flags & FLC_FIT_POINT_DOWN) != 0;
    }
}

/* Residuals and K-factors of the points not weighted down; room holds a number per row. */
static void figures_of_points(const flc_fit_data *data, const flc_fit *fit, double d0_m, double *room,
                              flc_fit_summary *summary)
{
    double squares = 0.0, largest = 0.0, sum = 0.0;
    size_t kept = 0;
    for (size_t i = 0; i < data->count; i++) {
        const flc_fit_row *row = &data->rows[i];
        if ((row->flags & FLC_FIT_POINT_DOWN) == 0) {
            const double residual = fit->points[row->place].residual_pct, size = flc_fabs(residual);
            squares += residual * residual;
            largest = size > largest ? size : largest;
            room[kept] = flc_k(row->st, d0_m);
            sum += room[kept++];
        }
    }
    if (kept > 0) {
        summary->residual_rms_pct = flc_sqrt(squares / (double)kept);
        summary->residual_max_pct = largest;
        summary->k_mean_per_m3 = sum / (double)kept;
    }
    if (flc_linearity_mid_pct(room, kept, &summary->linearity_mid_pct) != FLC_OK ||
        flc_linearity_mean_pct(room, kept, &summary->linearity_mean_pct) != FLC_OK) {
        summary->linearity_mid_pct = summary->linearity_mean_pct = flc_nan();
    }
}

static void widen_slope(const flc_curve *curve, double x, flc_fit_summary *summary)
{
    flc_curve_value value;
    if (flc_curve_at(curve, flc_exp(x), FLC_BEYOND_EXTEND_SLOPE, FLC_BEYOND_EXTEND_SLOPE, &value) == FLC_OK) {
        summary->slope_min = value.slope > summary->slope_min ? summary->slope_min : value.slope;
        summary->slope_max = value.slope < summary->slope_max ? summary->slope_max : value.slope;
    }
}

/* Slopes at the knots and midway between them; room holds six numbers per knot. */
static flc_status figures_of_curve(const flc_curve *curve, flc_fit_summary *summary)
{
    const size_t knots = flc_curve_knots(curve);
    double *x = flc_allocate_array(6 * knots, sizeof *x);
    if (x == NULL) {
        return FLC_E_MEMORY;
    }
    const flc_status status = flc_curve_copy(curve, x, x + knots, x + 2 * knots);
    for (size_t i = 0; i < knots && status == FLC_OK; i++) {
        widen_slope(curve, x[i], summary);
        if (i + 1 < knots) {
            widen_slope(curve, 0.5 * (x[i] + x[i + 1]), summary);
        }
    }
    flc_release(x);
    summary->knots = knots;
    summary->ro_low = flc_curve_ro_low(curve);
    summary->ro_high = flc_curve_ro_high(curve);
    return status;
}

flc_status flc_fit_describe(const flc_fit_options *options, const flc_body_options *body, const flc_fit_data *data,
                            flc_fit *fit)
{
    flc_fit_summary *summary = &fit->summary;
    flc_fit_summary_init(summary);
    fit->points = flc_allocate_array(data->count, sizeof *fit->points);
    double *room = flc_allocate_array(data->count, sizeof *room);
    flc_status status = FLC_E_MEMORY;
    if (fit->points != NULL && room != NULL) {
        flag_disagreements(data, options->merge_ro);
        flag_repeats(data, options->merge_ro);
        for (size_t i = 0; i < data->count; i++) {
            fill_point(fit->curve, &data->rows[i], &fit->points[data->rows[i].place]);
        }
        summary->method = options->method;
        summary->points = data->count;
        summary->liquids = count_liquids(data, room);
        count_flags(data, summary);
        figures_of_points(data, fit, body->bore_m, room, summary);
        summary->condition = fit->chosen != NULL ? fit->chosen->condition : 1.0;
        summary->coefficients = fit->chosen != NULL ? fit->chosen->coefficients : 0;
        summary->scatter = fit->chosen != NULL ? fit->chosen->scatter : flc_nan();
        status = figures_of_curve(fit->curve, summary);
    }
    flc_release(room);
    return status;
}

/* ---- reading a fit ---- */

const flc_curve *flc_fit_curve(const flc_fit *fit)
{
    return fit != NULL ? fit->curve : NULL;
}

size_t flc_fit_count(const flc_fit *fit)
{
    return fit != NULL ? fit->summary.points : 0;
}

flc_status flc_fit_point_at(const flc_fit *fit, size_t index, flc_fit_point *point)
{
    if (point == NULL) {
        return FLC_E_NULL;
    }
    if (point->size != sizeof *point) {
        return FLC_E_SIZE;
    }
    flc_fit_point_init(point);
    if (fit == NULL) {
        return FLC_E_NULL;
    }
    if (index >= fit->summary.points) {
        return FLC_E_ABOVE;
    }
    *point = fit->points[index];
    return FLC_OK;
}

flc_status flc_fit_summarise(const flc_fit *fit, flc_fit_summary *summary)
{
    if (summary == NULL) {
        return FLC_E_NULL;
    }
    if (summary->size != sizeof *summary) {
        return FLC_E_SIZE;
    }
    flc_fit_summary_init(summary);
    if (fit == NULL) {
        return FLC_E_NULL;
    }
    *summary = fit->summary;
    return FLC_OK;
}

/* ---- how sure the curve is ---- */

static double between_knots(const flc_fit *fit, const flc_curve_value *value)
{
    const double *x = fit->knot_x + value->segment, *u = fit->knot_u + value->segment;
    return u[0] + (u[1] - u[0]) * ((value->ln_ro - x[0]) / (x[1] - x[0]));
}

/* Root of (1 u u^2 u^3) C (1 u u^2 u^3)'. */
static double by_covariance(const flc_spline *spline, double x)
{
    const size_t piece = flc_spline_piece(spline, x);
    const double u = x - spline->x[piece];
    const double powers[4] = {1.0, u, u * u, u * u * u};
    double variance = 0.0;
    for (size_t j = 0; j < 4; j++) {
        for (size_t k = 0; k < 4; k++) {
            variance += powers[j] * spline->covariance[piece][j][k] * powers[k];
        }
    }
    return flc_sqrt(variance > 0.0 ? variance : 0.0);
}

static double band(const flc_fit *fit, const flc_curve_value *value)
{
    if (fit->chosen == NULL) {
        return between_knots(fit, value);
    }
    const double own = by_covariance(fit->chosen, value->ln_ro) / value->st;
    const double apart = fit->richer == NULL ? 0.0 : flc_spline_at(fit->richer, value->ln_ro) / value->st - 1.0;
    return flc_sqrt(own * own + apart * apart);
}

flc_status flc_fit_band(const flc_fit *fit, double ro, double *u_relative)
{
    if (u_relative == NULL) {
        return FLC_E_NULL;
    }
    *u_relative = flc_nan();
    if (fit == NULL) {
        return FLC_E_NULL;
    }
    const flc_fp_state fp = flc_fp_enter();
    flc_curve_value value;
    const flc_status status = flc_curve_at(fit->curve, ro, FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE, &value);
    if (status == FLC_OK) {
        *u_relative = band(fit, &value);
    }
    flc_fp_leave(fp);
    return status;
}
