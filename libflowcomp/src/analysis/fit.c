/* SPDX-License-Identifier: Apache-2.0 */
/* A certificate into a curve: understand the points, sort them, gather near neighbours into knots, draw the curve. */
#include "certificate.h"
#include "error.h"
#include "fit_core.h"
#include "fp_guard.h"
#include "fpmath.h"
#include "memory.h"
#include "method.h"
#include "struct_size.h"
#include <errno.h>
#include <stdlib.h>

#define COUNT_MAX 100000
#define KNOTS_MAX 4096 /* of a curve */
#define SAME_RO 2e-9   /* nearer than this are one point whatever merge_ro says: knots of a curve lie 1e-9 apart */

static const char *const method_words[] = {"steffen", "cubic", "bspline", "robust", NULL};

flc_status flc_fit_method_from_name(const char *name, flc_fit_method *choice)
{
    return flc_choice_from_name(method_words, name, (int *)choice);
}

void flc_fit_options_init_sized(flc_fit_options *options, size_t own_size)
{
    const flc_fit_options fresh = {sizeof fresh,
                                   (flc_curve_convention)-1,
                                   (flc_body_treatment)-1,
                                   (flc_reference_volume)-1,
                                   FLC_FIT_STEFFEN,
                                   flc_nan(),
                                   5e-4,
                                   5e-3,
                                   0};
    flc_give_sized(options, own_size, &fresh, sizeof fresh);
}

/* ---- checks ---- */

static flc_status check_choice(flc_error *error, const char *name, int choice, int last, const char *words)
{
    if (choice >= 0 && choice <= last) {
        return FLC_OK;
    }
    return flc_fail(error, choice == -1 ? FLC_E_MISSING : FLC_E_CHOICE, name, -1, choice == -1 ? flc_nan() : choice,
                    flc_nan(), words);
}

static flc_status check_numbers(const flc_fit_options *options, flc_error *error)
{
    flc_status status = FLC_OK;
    if (!flc_is_nan(options->k_nominal_per_m3)) {
        status = flc_check_range(error, "k_nominal_per_m3", -1, options->k_nominal_per_m3, 1e-6, 1e12);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "u_relative", -1, options->u_relative, 1e-7, 0.5);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "merge_ro", -1, options->merge_ro, 0.0, 0.1);
    }
    if (status == FLC_OK && options->break_points > FLC_PIECES_MAX) {
        status = flc_fail(error, FLC_E_ABOVE, "break_points", -1, (double)options->break_points, FLC_PIECES_MAX, NULL);
    }
    return status;
}

static flc_status check_options(const flc_fit_options *options, flc_error *error)
{
    if (options == NULL) {
        return flc_fail(error, FLC_E_NULL, "options", -1, flc_nan(), flc_nan(), NULL);
    }
    if (options->size != sizeof *options) {
        return flc_fail(error, FLC_E_SIZE, "options", -1, (double)options->size, (double)sizeof *options, NULL);
    }
    flc_status status = check_choice(error, "convention", (int)options->convention, FLC_CONVENTION_RAW,
                                     "dimensionless, normalised or raw");
    if (status == FLC_OK) {
        status = check_choice(error, "treatment", (int)options->treatment, FLC_BODY_ALREADY_CORRECTED,
                              "as_run or already_corrected");
    }
    if (status == FLC_OK) {
        status =
            check_choice(error, "reference", (int)options->reference, FLC_REFERENCE_AT_BASE, "at_meter or at_base");
    }
    if (status == FLC_OK) {
        status =
            check_choice(error, "method", (int)options->method, FLC_FIT_ROBUST, "steffen, cubic, bspline or robust");
    }
    return status == FLC_OK ? check_numbers(options, error) : status;
}

static flc_status check_given(const flc_fit_options *options, const flc_body_options *body,
                              const flc_certificate_point *points, size_t count, flc_error *error)
{
    flc_status status = check_options(options, error);
    if (status == FLC_OK) {
        status = flc_body_check(body, error);
    }
    if (status == FLC_OK && points == NULL) {
        status = flc_fail(error, FLC_E_NULL, "points", -1, flc_nan(), flc_nan(), NULL);
    }
    if (status == FLC_OK && (count < 2 || count > COUNT_MAX)) {
        status = flc_fail(error, FLC_E_COUNT, "points", -1, (double)count, count < 2 ? 2.0 : COUNT_MAX, NULL);
    }
    return status;
}

/* ---- rows and knots ---- */

static int order_of(double a, double b)
{
    return (a > b) - (a < b);
}

/* By Ro, and further down to the last field, so that the order in which a certificate lists its rows changes no bit. */
static int compare_rows(const void *first, const void *second)
{
    const flc_fit_row *a = first, *b = second;
    int order = order_of(a->ro, b->ro);
    order = order != 0 ? order : order_of(a->st, b->st);
    order = order != 0 ? order : order_of(a->u, b->u);
    order = order != 0 ? order : (a->liquid > b->liquid) - (a->liquid < b->liquid);
    return order != 0 ? order : (a->place > b->place) - (a->place < b->place);
}

static flc_status read_rows(const flc_fit_options *options, const flc_body_options *body,
                            const flc_certificate_point *points, flc_fit_data *data, flc_error *error)
{
    for (size_t i = 0; i < data->count; i++) {
        flc_understood found;
        const flc_status status = flc_certificate_understand(options, body, &points[i], i, &found, error);
        if (status != FLC_OK) {
            return status;
        }
        const flc_fit_row row = {i,        points[i].liquid, 0,  found.k_per_m3, found.ro, flc_log(found.ro),
                                 found.st, found.u,          1.0};
        data->rows[i] = row;
    }
    qsort(data->rows, data->count, sizeof *data->rows, compare_rows);
    return FLC_OK;
}

/* Weighted mean of the rows of a knot, weights 1/u^2, and its uncertainty: as u says, or as the rows scatter. */
static void average(const flc_fit_row *rows, flc_fit_knot *knot)
{
    const flc_fit_row *row = rows + knot->first;
    double weights = 0.0, x = 0.0, st = 0.0, chi2 = 0.0;
    for (size_t i = 0; i < knot->count; i++) {
        const double w = 1.0 / (row[i].u * row[i].u);
        weights += w;
        x += w * (row[i].x - row[0].x);
        st += w * (row[i].st - row[0].st);
    }
    knot->x = row[0].x + x / weights;
    knot->st = row[0].st + st / weights;
    for (size_t i = 0; i < knot->count; i++) {
        const double z = (row[i].st / knot->st - 1.0) / row[i].u;
        chi2 += z * z;
    }
    const double ratio = knot->count > 1 ? chi2 / (double)(knot->count - 1) : 1.0;
    knot->u = flc_sqrt((ratio > 1.0 ? ratio : 1.0) / weights);
}

/* Rows, in rising Ro, join a knot as long as they lie within merge_ro of its mean. So the knots come out at least that
 * far apart. */
static void gather(const flc_fit_options *options, flc_fit_data *data)
{
    const double reach = flc_log(1.0 + (options->merge_ro > SAME_RO ? options->merge_ro : SAME_RO));
    const flc_fit_row *rows = data->rows;
    size_t first = 0;
    double weights = 0.0, x = 0.0; /* of the knot so far, x from its first row */
    for (size_t i = 0; i <= data->count; i++) {
        if (i == data->count || (i > first && rows[i].x - rows[first].x > x / weights + reach)) {
            flc_fit_knot *knot = &data->knots[data->knot_count++];
            knot->first = first;
            knot->count = i - first;
            average(rows, knot);
            first = i;
            weights = x = 0.0;
        }
        if (i < data->count) {
            const double w = 1.0 / (rows[i].u * rows[i].u);
            weights += w;
            x += w * (rows[i].x - rows[first].x);
        }
    }
}

static flc_status check_distinct(const flc_fit_options *options, const flc_fit_data *data, flc_error *error)
{
    const int least_squares = options->method == FLC_FIT_BSPLINE || options->method == FLC_FIT_ROBUST;
    const int robust = options->method == FLC_FIT_ROBUST;
    const size_t asked = options->break_points;
    const size_t least = !least_squares ? 2 : asked == 0 ? (robust ? 6 : 4) : asked + (robust ? 5 : 3);
    if (data->knot_count < least) {
        return flc_fail(error, FLC_E_COUNT, "points", -1, (double)data->knot_count, (double)least,
                        "this many are distinct in Ro; the method needs more");
    }
    if (!least_squares && data->knot_count > KNOTS_MAX) {
        return flc_fail(error, FLC_E_COUNT, "points", -1, (double)data->knot_count, KNOTS_MAX,
                        "too many for an interpolation: use bspline or robust");
    }
    return FLC_OK;
}

/* ---- the curve ---- */

static void flag_averaged(flc_fit_data *data)
{
    for (size_t i = 0; i < data->knot_count; i++) {
        const flc_fit_knot *knot = &data->knots[i];
        for (size_t k = 0; k < knot->count && knot->count > 1; k++) {
            data->rows[knot->first + k].flags |= FLC_FIT_POINT_AVERAGED;
        }
    }
}

static flc_status draw_interpolation(const flc_fit_options *options, const flc_body_options *body, flc_fit_data *data,
                                     flc_fit *fit, flc_error *error)
{
    const size_t knots = data->knot_count;
    double *st = flc_allocate_array(7 * knots, sizeof *st); /* then 4 coefficients and 2 numbers of room per knot */
    fit->knot_x = flc_allocate_array(2 * knots, sizeof *fit->knot_x);
    if (st == NULL || fit->knot_x == NULL) {
        flc_release(st);
        return flc_fail(error, FLC_E_MEMORY, "points", -1, flc_nan(), flc_nan(), NULL);
    }
    fit->knot_u = fit->knot_x + knots;
    for (size_t i = 0; i < knots; i++) {
        fit->knot_x[i] = data->knots[i].x;
        fit->knot_u[i] = data->knots[i].u;
        st[i] = data->knots[i].st;
    }
    flag_averaged(data);
    flc_interpolate(options->method, fit->knot_x, st, knots, st + 5 * knots, st + knots);
    const flc_curve_reference reference = flc_curve_reference_for(options->convention, options->treatment, body);
    const flc_status status = flc_curve_new(reference, knots, fit->knot_x, st, st + knots, &fit->curve, error);
    flc_release(st);
    return status;
}

static void flag_down(flc_fit_data *data)
{
    for (size_t i = 0; i < data->count; i++) {
        if (data->rows[i].weight < 0.5) {
            const int is_end = i == 0 || i + 1 == data->count;
            data->rows[i].flags |= FLC_FIT_POINT_DOWN | (is_end ? FLC_FIT_POINT_END_DOWN : 0u);
        }
    }
}

static flc_status draw_spline(const flc_fit_options *options, const flc_body_options *body, flc_fit_data *data,
                              flc_fit *fit, flc_error *error)
{
    flc_status status = flc_fit_spline(options, data, &fit->chosen, &fit->richer, error);
    if (status == FLC_OK) {
        const flc_spline *s = fit->chosen;
        const flc_curve_reference reference = flc_curve_reference_for(options->convention, options->treatment, body);
        flag_down(data);
        status = flc_curve_new(reference, s->pieces + 1, s->x, s->st, s->c[0], &fit->curve, error);
    }
    return status;
}

static flc_status draw(const flc_fit_options *options, const flc_body_options *body,
                       const flc_certificate_point *points, flc_fit_data *data, flc_fit *fit, flc_error *error)
{
    const int interpolates = options->method == FLC_FIT_STEFFEN || options->method == FLC_FIT_CUBIC;
    flc_status status = read_rows(options, body, points, data, error);
    if (status == FLC_OK) {
        gather(options, data);
        status = check_distinct(options, data, error);
    }
    if (status == FLC_OK) {
        status = interpolates ? draw_interpolation(options, body, data, fit, error)
                              : draw_spline(options, body, data, fit, error);
    }
    if (status == FLC_OK) {
        status = flc_fit_describe(options, body, data, fit);
        if (status != FLC_OK) {
            flc_fail(error, status, "points", -1, flc_nan(), flc_nan(), NULL);
        }
    }
    return status;
}

static flc_status make(const flc_fit_options *options, const flc_body_options *body,
                       const flc_certificate_point *points, size_t count, flc_fit **fit, flc_error *error)
{
    flc_fit_data data = {flc_allocate_array(count, sizeof *data.rows), count,
                         flc_allocate_array(count, sizeof *data.knots), 0};
    flc_fit *made = flc_allocate_array(1, sizeof *made);
    flc_status status = FLC_E_MEMORY;
    if (data.rows == NULL || data.knots == NULL || made == NULL) {
        flc_fail(error, status, "points", -1, flc_nan(), flc_nan(), NULL);
    } else {
        status = draw(options, body, points, &data, made, error);
    }
    flc_release(data.rows);
    flc_release(data.knots);
    if (status == FLC_OK) {
        *fit = made;
    } else {
        flc_fit_free(made);
    }
    return status;
}

flc_status flc_fit_certificate(const flc_fit_options *options, const flc_body_options *body,
                               const flc_certificate_point *points, size_t count, flc_fit **fit, flc_error *error)
{
    flc_error_clear(error);
    if (fit == NULL) {
        return flc_fail(error, FLC_E_NULL, "fit", -1, flc_nan(), flc_nan(), NULL);
    }
    *fit = NULL;
    const int host_errno = errno;
    const flc_fp_state fp = flc_fp_enter();
    flc_status status = check_given(options, body, points, count, error);
    if (status == FLC_OK) {
        status = make(options, body, points, count, fit, error);
    }
    flc_fp_leave(fp);
    errno = host_errno;
    return status;
}

void flc_fit_free(flc_fit *fit)
{
    if (fit != NULL) {
        flc_curve_free(fit->curve);
        flc_release(fit->points);
        flc_release(fit->knot_x);
        flc_release(fit->chosen);
        flc_release(fit->richer);
        flc_release(fit);
    }
}
