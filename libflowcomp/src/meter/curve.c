/* SPDX-License-Identifier: Apache-2.0 */
#include "curve_core.h"
#include "fp_guard.h"
#include "memory.h"
#include "method.h"
#include <string.h>

static const char *const convention_words[] = {"dimensionless", "normalised", "raw", NULL};
static const char *const treatment_words[] = {"as_run", "already_corrected", NULL};
static const char *const beyond_words[] = {"refuse", "hold_end", "extend_slope", NULL};

flc_status flc_curve_convention_from_name(const char *name, flc_curve_convention *choice)
{
    return flc_choice_from_name(convention_words, name, (int *)choice);
}

flc_status flc_body_treatment_from_name(const char *name, flc_body_treatment *choice)
{
    return flc_choice_from_name(treatment_words, name, (int *)choice);
}

flc_status flc_curve_beyond_from_name(const char *name, flc_curve_beyond *choice)
{
    return flc_choice_from_name(beyond_words, name, (int *)choice);
}

/* ---- making a curve ---- */

#define KNOTS_MAX 4096
#define KNOT_GAP 1e-9
#define COEFFICIENT_MAX 1e100 /* so that no square overflows */
#define JOIN 1e-9             /* segments must meet the next knot this closely, relative */

static flc_status check_reference(const flc_curve_reference *reference, flc_error *error)
{
    const flc_curve_convention convention = reference->convention;
    const flc_body_treatment treatment = reference->treatment;
    if ((int)convention < FLC_CONVENTION_DIMENSIONLESS || convention > FLC_CONVENTION_RAW) {
        return flc_fail(error, FLC_E_CHOICE, "convention", -1, (double)convention, flc_nan(),
                        "dimensionless, normalised or raw");
    }
    if ((int)treatment < FLC_BODY_AS_RUN || treatment > FLC_BODY_ALREADY_CORRECTED) {
        return flc_fail(error, FLC_E_CHOICE, "treatment", -1, (double)treatment, flc_nan(),
                        "as_run or already_corrected");
    }
    flc_status status = flc_check_range(error, "d0_m", -1, reference->d0_m, 0.001, 2.0);
    if (status == FLC_OK) {
        status = flc_check_range(error, "t0_degc", -1, reference->t0_degc, -273.15, 600.0);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "p0_kpag", -1, reference->p0_kpag, 0.0, 100000.0);
    }
    return status;
}

static flc_status check_knots(size_t knots, const double *ln_ro, const double *st, flc_error *error)
{
    for (size_t i = 0; i < knots; i++) {
        flc_status status = flc_check_range(error, "ln_ro", (int64_t)i, ln_ro[i], -50.0, 50.0);
        if (status == FLC_OK) {
            status = flc_check_range(error, "st", (int64_t)i, st[i], 1e-12, 1e12);
        }
        if (status != FLC_OK) {
            return status;
        }
        if (i > 0 && ln_ro[i] - ln_ro[i - 1] < KNOT_GAP) {
            return flc_fail(error, FLC_E_ORDER, "ln_ro", (int64_t)i, ln_ro[i], ln_ro[i - 1],
                            "knots must rise by at least 1e-9");
        }
    }
    return FLC_OK;
}

static flc_status check_segment(const double *c, double st, double next_st, double width, size_t i, flc_error *error)
{
    for (size_t j = 0; j < 4; j++) {
        const flc_status status =
            flc_check_range(error, "coefficients", (int64_t)(4 * i + j), c[j], -COEFFICIENT_MAX, COEFFICIENT_MAX);
        if (status != FLC_OK) {
            return status;
        }
    }
    if (flc_bits_of(c[0]) != flc_bits_of(st)) {
        return flc_fail(error, FLC_E_DOMAIN, "coefficients", (int64_t)(4 * i), c[0], st,
                        "the first coefficient of a segment is St of its left knot");
    }
    const double end = c[0] + width * (c[1] + width * (c[2] + width * c[3]));
    if (!(flc_fabs(end - next_st) <= JOIN * next_st)) {
        return flc_fail(error, FLC_E_DOMAIN, "coefficients", (int64_t)(4 * i), end, next_st,
                        "the segment does not meet the next knot");
    }
    return FLC_OK;
}

/* Places where a cubic may be lowest or highest from 0 to width: both ends and its turning points, the roots of its
 * derivative. Returns how many. */
static int extreme_places(const double *c, double width, double *u)
{
    const double a = 3.0 * c[3], b = 2.0 * c[2];
    const double discriminant = b * b - 4.0 * a * c[1];
    int count = 0;
    u[count++] = 0.0;
    u[count++] = width;
    if (!(discriminant >= 0.0)) {
        return count;
    }
    /* q keeps the larger of the two sums, so that neither root is lost to cancellation */
    const double root = flc_sqrt(discriminant);
    const double q = b < 0.0 ? -0.5 * (b - root) : -0.5 * (b + root);
    const double roots[2] = {a != 0.0 ? q / a : 0.0, q != 0.0 ? c[1] / q : 0.0};
    for (int i = 0; i < 2; i++) {
        if (roots[i] > 0.0 && roots[i] < width) {
            u[count++] = roots[i];
        }
    }
    return count;
}

/* St is positive and flow rises with frequency everywhere, that is dSt/dx < St: both are judged where St and where
 * St - dSt/dx, a cubic too, may be lowest. */
static flc_status check_shape(const flc_curve *curve, flc_error *error)
{
    for (size_t i = 0; i < curve->segments; i++) {
        const flc_curve_segment *s = &curve->segment[i];
        const double width = (i + 1 < curve->segments ? curve->segment[i + 1].x : curve->x_high) - s->x;
        const double *c = s->c;
        const double rise[4] = {c[0] - c[1], c[1] - 2.0 * c[2], c[2] - 3.0 * c[3], c[3]};
        double u[8];
        int places = extreme_places(c, width, u);
        places += extreme_places(rise, width, u + places);
        for (int k = 0; k < places; k++) {
            const double st = flc_segment_value(s, u[k]);
            if (!(st > 0.0)) {
                return flc_fail(error, FLC_E_DOMAIN, "st", (int64_t)i, st, 0.0, "St must stay positive");
            }
            if (!(flc_segment_derivative(s, u[k]) < st)) {
                return flc_fail(error, FLC_E_NOT_MONOTONIC, "ln_ro", (int64_t)i, s->x + u[k], flc_nan(),
                                "d ln St/d ln Ro reaches 1: flow would not rise with frequency");
            }
        }
    }
    return FLC_OK;
}

static flc_status check_curve(size_t knots, const double *ln_ro, const double *st, const double *coefficients,
                              flc_error *error)
{
    if (ln_ro == NULL || st == NULL || coefficients == NULL) {
        return flc_fail(error, FLC_E_NULL,
                        ln_ro == NULL ? "ln_ro"
                        : st == NULL  ? "st"
                                      : "coefficients",
                        -1, flc_nan(), flc_nan(), NULL);
    }
    if (knots < 2 || knots > KNOTS_MAX) {
        return flc_fail(error, FLC_E_COUNT, "knots", -1, (double)knots, knots < 2 ? 2.0 : KNOTS_MAX, NULL);
    }
    flc_status status = check_knots(knots, ln_ro, st, error);
    for (size_t i = 0; i + 1 < knots && status == FLC_OK; i++) {
        status = check_segment(coefficients + 4 * i, st[i], st[i + 1], ln_ro[i + 1] - ln_ro[i], i, error);
    }
    return status;
}

/* Where a search starts in each part. */
static void fill_parts(flc_curve *curve)
{
    curve->parts_per_x = FLC_CURVE_PARTS / (curve->x_high - curve->x_low);
    size_t knot = 0;
    for (size_t part = 0; part <= FLC_CURVE_PARTS; part++) {
        curve->first[part] = (uint16_t)knot;
        while (knot + 1 < curve->segments && flc_curve_part_of(curve, curve->segment[knot + 1].x) <= part) {
            knot++;
        }
    }
    curve->first[FLC_CURVE_PARTS + 1] = (uint16_t)(curve->segments - 1);
}

static void fill(flc_curve *curve, size_t knots, const double *ln_ro, const double *st, const double *coefficients)
{
    curve->segments = knots - 1;
    curve->x_low = ln_ro[0];
    curve->x_high = ln_ro[knots - 1];
    curve->st_high = st[knots - 1];
    curve->ro_low = flc_exp(curve->x_low);
    curve->ro_high = flc_exp(curve->x_high);
    for (size_t i = 0; i < curve->segments; i++) {
        curve->segment[i].x = ln_ro[i];
        memcpy(curve->segment[i].c, coefficients + 4 * i, sizeof curve->segment[i].c);
    }
    const flc_curve_segment *last = &curve->segment[curve->segments - 1];
    curve->slope_low = curve->segment[0].c[1];
    curve->slope_high = flc_segment_derivative(last, curve->x_high - last->x);
    fill_parts(curve);
}

flc_curve_reference flc_curve_reference_for(flc_curve_convention convention, flc_body_treatment treatment,
                                            const flc_body_options *body)
{
    flc_curve_reference reference = {convention, treatment, flc_nan(), flc_nan(), flc_nan()};
    if (body != NULL) {
        reference.d0_m = body->bore_m;
        reference.t0_degc = body->t0_degc;
        reference.p0_kpag = body->p0_kpag;
    }
    return reference;
}

flc_status flc_curve_new(flc_curve_reference reference, size_t knots, const double *ln_ro, const double *st,
                         const double *coefficients, flc_curve **curve, flc_error *error)
{
    flc_error_clear(error);
    if (curve == NULL) {
        return flc_fail(error, FLC_E_NULL, "curve", -1, flc_nan(), flc_nan(), NULL);
    }
    *curve = NULL;
    flc_fp_state fp = flc_fp_enter();
    flc_status status = check_reference(&reference, error);
    if (status == FLC_OK) {
        status = check_curve(knots, ln_ro, st, coefficients, error);
    }
    if (status == FLC_OK) {
        flc_curve *made = flc_allocate(flc_curve_size(knots - 1));
        if (made == NULL) {
            status = flc_fail(error, FLC_E_MEMORY, "curve", -1, flc_nan(), flc_nan(), NULL);
        } else {
            made->reference = reference;
            fill(made, knots, ln_ro, st, coefficients);
            status = check_shape(made, error);
            if (status == FLC_OK) {
                *curve = made;
            } else {
                flc_release(made);
            }
        }
    }
    flc_fp_leave(fp);
    return status;
}

void flc_curve_free(flc_curve *curve)
{
    flc_release(curve);
}

/* ---- evaluating it ---- */

static flc_status beyond(const flc_curve *curve, double x, int is_below, flc_curve_beyond policy,
                         flc_curve_value *value)
{
    const double end = is_below ? curve->x_low : curve->x_high;
    const double st_end = is_below ? curve->segment[0].c[0] : curve->st_high;
    const double slope_end = is_below ? curve->slope_low : curve->slope_high;
    value->flags = is_below ? FLC_FLAG_BELOW_CURVE : FLC_FLAG_ABOVE_CURVE;
    value->segment = is_below ? 0 : curve->segments - 1;
    /* held or extended, the slope of the end is what is known of the sensitivity there */
    double st = st_end, slope = slope_end / st_end;
    int usable = policy == FLC_BEYOND_HOLD_END;
    if (policy == FLC_BEYOND_EXTEND_SLOPE) {
        st = st_end + slope_end * (x - end);
        slope = slope_end / st;
        usable = flc_fabs(x - end) <= FLC_CURVE_REACH && st > 0.1 * st_end && slope < 1.0;
    }
    if (!usable) {
        return is_below ? FLC_E_BELOW_CURVE : FLC_E_ABOVE_CURVE;
    }
    value->st = st;
    value->slope = slope;
    value->flags |= FLC_FLAG_EXTRAPOLATED;
    return FLC_OK;
}

flc_status flc_curve_evaluate_beyond(const flc_curve *curve, double ln_ro, flc_curve_beyond below,
                                     flc_curve_beyond above, flc_curve_value *value)
{
    const flc_curve_value blank = {flc_nan(), flc_nan(), ln_ro, 0, 0};
    *value = blank;
    const int is_below = ln_ro < curve->x_low;
    return beyond(curve, ln_ro, is_below, is_below ? below : above, value);
}

flc_status flc_curve_evaluate(const flc_curve *curve, double ln_ro, flc_curve_beyond below, flc_curve_beyond above,
                              flc_curve_value *value)
{
    value->ln_ro = ln_ro;
    value->flags = 0;
    ln_ro = flc_curve_at_end(curve, ln_ro);
    if (ln_ro < curve->x_low || ln_ro > curve->x_high) {
        return flc_curve_evaluate_beyond(curve, ln_ro, below, above, value);
    }
    value->segment = flc_curve_segment_of(curve, ln_ro);
    const flc_curve_segment *s = &curve->segment[value->segment];
    const double u = ln_ro - s->x;
    value->st = flc_segment_value(s, u);
    value->slope = flc_segment_derivative(s, u) / value->st;
    return FLC_OK;
}

flc_status flc_curve_at(const flc_curve *curve, double ro, flc_curve_beyond below, flc_curve_beyond above,
                        flc_curve_value *value)
{
    if (value == NULL) {
        return FLC_E_NULL;
    }
    const flc_curve_value blank = {flc_nan(), flc_nan(), flc_nan(), 0, 0};
    *value = blank;
    if (curve == NULL) {
        return FLC_E_NULL;
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = flc_check_range(NULL, "ro", -1, ro, 1e-300, 1e300);
    if (status == FLC_OK && ((int)below < FLC_BEYOND_REFUSE || below > FLC_BEYOND_EXTEND_SLOPE ||
                             (int)above < FLC_BEYOND_REFUSE || above > FLC_BEYOND_EXTEND_SLOPE)) {
        status = FLC_E_CHOICE;
    }
    if (status == FLC_OK) {
        status = flc_curve_evaluate(curve, flc_log(ro), below, above, value);
    }
    flc_fp_leave(fp);
    return status;
}

static void widen(double st, double *low, double *high)
{
    *low = st < *low ? st : *low;
    *high = st > *high ? st : *high;
}

/* Turning points of one cubic between two places in it. */
static void turning_points(const flc_curve_segment *s, double u_from, double u_to, double *low, double *high)
{
    double u[4];
    const int count = extreme_places(s->c, u_to, u);
    for (int i = 2; i < count; i++) { /* after the two ends */
        if (u[i] > u_from) {
            widen(flc_segment_value(s, u[i]), low, high);
        }
    }
}

void flc_curve_extremes(const flc_curve *curve, double x_from, double x_to, double *st_low, double *st_high)
{
    const size_t first = flc_curve_segment_of(curve, x_from), last = flc_curve_segment_of(curve, x_to);
    *st_low = *st_high = flc_segment_value(&curve->segment[first], x_from - curve->segment[first].x);
    for (size_t i = first; i <= last; i++) {
        const flc_curve_segment *s = &curve->segment[i];
        const double from = i == first ? x_from : s->x;
        const double to = i == last ? x_to : curve->segment[i + 1].x;
        widen(flc_segment_value(s, from - s->x), st_low, st_high);
        widen(flc_segment_value(s, to - s->x), st_low, st_high);
        turning_points(s, from - s->x, to - s->x, st_low, st_high);
    }
}

/* ---- reading it ---- */

size_t flc_curve_knots(const flc_curve *curve)
{
    return curve != NULL ? curve->segments + 1 : 0;
}

flc_curve_reference flc_curve_reference_of(const flc_curve *curve)
{
    const flc_curve_reference nothing = {FLC_CONVENTION_DIMENSIONLESS, FLC_BODY_AS_RUN, flc_nan(), flc_nan(),
                                         flc_nan()};
    return curve != NULL ? curve->reference : nothing;
}

double flc_curve_ro_low(const flc_curve *curve)
{
    return curve != NULL ? curve->ro_low : flc_nan();
}

double flc_curve_ro_high(const flc_curve *curve)
{
    return curve != NULL ? curve->ro_high : flc_nan();
}

flc_status flc_curve_copy(const flc_curve *curve, double *ln_ro, double *st, double *coefficients)
{
    if (curve == NULL || ln_ro == NULL || st == NULL || coefficients == NULL) {
        return FLC_E_NULL;
    }
    for (size_t i = 0; i < curve->segments; i++) {
        ln_ro[i] = curve->segment[i].x;
        st[i] = curve->segment[i].c[0];
        memcpy(coefficients + 4 * i, curve->segment[i].c, sizeof curve->segment[i].c);
    }
    ln_ro[curve->segments] = curve->x_high;
    st[curve->segments] = curve->st_high;
    return FLC_OK;
}

void flc_curve_put(flc_canonical *out, const flc_curve *curve)
{
    flc_put_text(out, "flowcomp-curve-1");
    flc_put_i64(out, curve->reference.convention);
    flc_put_i64(out, curve->reference.treatment);
    flc_put_double(out, curve->reference.d0_m);
    flc_put_double(out, curve->reference.t0_degc);
    flc_put_double(out, curve->reference.p0_kpag);
    flc_put_u64(out, curve->segments + 1);
    for (size_t i = 0; i < curve->segments; i++) {
        flc_put_double(out, curve->segment[i].x);
        for (size_t j = 0; j < 4; j++) {
            flc_put_double(out, curve->segment[i].c[j]);
        }
    }
    flc_put_double(out, curve->x_high);
    flc_put_double(out, curve->st_high);
}

flc_status flc_curve_canonical(const flc_curve *curve, uint8_t *bytes, size_t size, size_t *needed)
{
    if (needed == NULL || curve == NULL || (bytes == NULL && size > 0)) {
        return FLC_E_NULL;
    }
    flc_canonical out = {bytes, size, 0};
    flc_curve_put(&out, curve);
    return flc_canonical_end(&out, needed);
}
