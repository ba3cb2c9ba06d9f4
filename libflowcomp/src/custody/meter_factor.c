/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/meter_factor.h"
#include "error.h"
#include "fp_guard.h"
#include "fpmath.h"
#include "method.h"
#include "proving_core.h"
#include "struct_size.h"

static const char *const form_words[] = {"single", "interpolated", "polynomial", "composite", NULL};
static const char *const axis_words[] = {"flow", "roshko", NULL};
static const char *const beyond_words[] = {"refuse", "hold", NULL};

flc_status flc_factor_form_from_name(const char *name, flc_factor_form *choice)
{
    return flc_choice_from_name(form_words, name, (int *)choice);
}

flc_status flc_factor_axis_from_name(const char *name, flc_factor_axis *choice)
{
    return flc_choice_from_name(axis_words, name, (int *)choice);
}

flc_status flc_factor_beyond_from_name(const char *name, flc_factor_beyond *choice)
{
    return flc_choice_from_name(beyond_words, name, (int *)choice);
}

void flc_factor_init_sized(flc_factor *factor, size_t own_size)
{
    flc_factor fresh = {0};
    const double none = flc_nan();
    fresh.size = sizeof fresh;
    for (size_t i = 0; i < FLC_FACTOR_POINTS; i++) {
        fresh.x[i] = fresh.mf[i] = fresh.c[i] = none;
    }
    fresh.scale = 1.0;
    fresh.low = fresh.high = fresh.cpl_meter = fresh.contract_low = fresh.contract_high = none;
    flc_give_sized(factor, own_size, &fresh, sizeof fresh);
}

static int has_axis(const flc_factor *f)
{
    return f->form == FLC_FACTOR_INTERPOLATED || f->form == FLC_FACTOR_POLYNOMIAL;
}

static flc_status check_points(const flc_factor *f, flc_error *error)
{
    flc_status status = FLC_OK;
    for (size_t i = 0; i < f->count && status == FLC_OK; i++) {
        const flc_named_range point[] = {{"x", f->x[i], 1e-12, 1e15}, {"mf", f->mf[i], FLC_MF_LOW, FLC_MF_HIGH}};
        status = flc_check_ranges(point, 2, (int64_t)i, error);
        if (status == FLC_OK && i > 0 && !(f->x[i] > f->x[i - 1])) {
            status = flc_fail(error, FLC_E_ORDER, "x", (int64_t)i, f->x[i], f->x[i - 1], NULL);
        }
    }
    return status;
}

static flc_status check_polynomial(const flc_factor *f, flc_error *error)
{
    flc_status status = FLC_OK;
    for (size_t i = 0; i < f->count && status == FLC_OK; i++) {
        status = flc_check_range(error, "c", (int64_t)i, f->c[i], -1e6, 1e6);
    }
    const flc_named_range ends[] = {
        {"scale", f->scale, 1e-12, 1e15}, {"low", f->low, 1e-12, 1e15}, {"high", f->high, f->low, 1e15}};
    return status != FLC_OK ? status : flc_check_ranges(ends, FLC_COUNT_OF(ends), -1, error);
}

static flc_status check_factor(const flc_factor *f, flc_error *error)
{
    if (f->size != sizeof *f) {
        return flc_fail(error, FLC_E_SIZE, "factor", -1, (double)f->size, (double)sizeof *f, NULL);
    }
    const struct {
        const char *name;
        int value, last;
    } choices[] = {{"form", (int)f->form, FLC_FACTOR_COMPOSITE},
                   {"axis", (int)f->axis, FLC_FACTOR_OF_ROSHKO},
                   {"beyond", (int)f->beyond, FLC_FACTOR_HOLD}};
    for (size_t i = 0; i < FLC_COUNT_OF(choices); i++) {
        if (choices[i].value < 0 || choices[i].value > choices[i].last) {
            return flc_fail(error, FLC_E_CHOICE, choices[i].name, -1, choices[i].value, choices[i].last, NULL);
        }
    }
    const uint32_t least = f->form == FLC_FACTOR_INTERPOLATED ? 2 : 1;
    if (has_axis(f) && (f->count < least || f->count > FLC_FACTOR_POINTS)) {
        return flc_fail(error, FLC_E_COUNT, "count", -1, f->count, f->count < least ? least : FLC_FACTOR_POINTS, NULL);
    }
    if (f->form == FLC_FACTOR_INTERPOLATED) {
        return check_points(f, error);
    }
    if (f->form == FLC_FACTOR_POLYNOMIAL) {
        return check_polynomial(f, error);
    }
    const flc_named_range single[] = {{"mf", f->mf[0], FLC_MF_LOW, FLC_MF_HIGH},
                                      {"cpl_meter", f->form == FLC_FACTOR_COMPOSITE ? f->cpl_meter : 1.0, 0.5, 2.0}};
    return flc_check_ranges(single, 2, -1, error);
}

static double interpolated(const flc_factor *f, double x)
{
    size_t right = 1;
    while (right < f->count - 1 && x > f->x[right]) {
        right++;
    }
    const double share = (x - f->x[right - 1]) / (f->x[right] - f->x[right - 1]);
    return f->mf[right - 1] + share * (f->mf[right] - f->mf[right - 1]);
}

static double polynomial(const flc_factor *f, double x)
{
    double sum = 0.0;
    for (size_t i = f->count; i-- > 0;) {
        sum = sum * (x / f->scale) + f->c[i];
    }
    return sum;
}

/* x inside the range of the factor, or the nearest end by the policy. */
static flc_status inside(const flc_factor *f, double *x, flc_factor_value *value, flc_error *error)
{
    const int by_points = f->form == FLC_FACTOR_INTERPOLATED;
    const double low = by_points ? f->x[0] : f->low, high = by_points ? f->x[f->count - 1] : f->high;
    flc_status status = flc_check_range(error, "x", -1, *x, 0.0, 1e15);
    if (status != FLC_OK || (*x >= low && *x <= high)) {
        return status;
    }
    if (f->beyond == FLC_FACTOR_REFUSE) {
        return flc_fail(error, *x < low ? FLC_E_BELOW_CURVE : FLC_E_ABOVE_CURVE, "x", -1, *x, *x < low ? low : high,
                        NULL);
    }
    *x = *x < low ? low : high;
    value->flags |= FLC_FLAG_EXTRAPOLATED;
    return FLC_OK;
}

static flc_status factor_at(const flc_factor *f, double x, flc_factor_value *value, flc_error *error)
{
    flc_factor_value found = {flc_nan(), 0, 0};
    flc_status status = check_factor(f, error);
    if (status == FLC_OK && has_axis(f)) {
        status = inside(f, &x, &found, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    found.mf = f->form == FLC_FACTOR_INTERPOLATED ? interpolated(f, x)
               : f->form == FLC_FACTOR_POLYNOMIAL ? polynomial(f, x)
               : f->form == FLC_FACTOR_COMPOSITE  ? f->mf[0] * f->cpl_meter
                                                  : f->mf[0];
    status = flc_check_range(error, "mf", -1, found.mf, FLC_MF_LOW, FLC_MF_HIGH);
    if (status == FLC_OK) {
        found.outside_contract = found.mf < f->contract_low ? -1 : found.mf > f->contract_high ? 1 : 0;
        *value = found;
    }
    return status;
}

flc_status flc_factor_at(const flc_factor *factor, double x, flc_factor_value *value, flc_error *error)
{
    flc_error_clear(error);
    if (value != NULL) {
        *value = (flc_factor_value){flc_nan(), 0, 0};
    }
    if (factor == NULL || value == NULL) {
        return flc_fail(error, FLC_E_NULL, factor == NULL ? "factor" : "value", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = factor_at(factor, x, value, error);
    flc_fp_leave(fp);
    return status;
}

/* --- void? -------------------------------------------------------------------------------------------------------- */

static const char *const void_words[] = {
#define WORD(name, word, unit, meaning) word,
    FLC_VOID_LIST(WORD)
#undef WORD
};

const char *flc_void_word(flc_void_trigger trigger)
{
    return (int)trigger >= 0 && trigger < FLC_VOID_COUNT ? void_words[trigger] : NULL;
}

static int is_relative(size_t trigger)
{
    return trigger == FLC_VOID_FLOW || trigger == FLC_VOID_VISCOSITY || trigger == FLC_VOID_ROSHKO;
}

/* How far a quantity has gone since the proving; days and volume are counted from it. */
static double change_of(size_t trigger, double proving, double now)
{
    if (trigger == FLC_VOID_DAYS || trigger == FLC_VOID_VOLUME) {
        return now;
    }
    const double change = flc_fabs(now - proving);
    return is_relative(trigger) ? change / proving : change;
}

static flc_status judge_trigger(size_t trigger, double proving, double now, double limit, uint32_t *exceeded,
                                uint32_t *unknown)
{
    const int needs_proving = trigger != FLC_VOID_DAYS && trigger != FLC_VOID_VOLUME;
    flc_status status = flc_check_range(NULL, "limits", (int64_t)trigger, limit, 0.0, 1e18);
    if (status != FLC_OK) {
        return status;
    }
    if (flc_is_nan(now) || (needs_proving && flc_is_nan(proving))) {
        *unknown |= UINT32_C(1) << trigger;
        return FLC_OK;
    }
    status = flc_check_range(NULL, "now", (int64_t)trigger, now, -1e18, 1e18);
    if (status == FLC_OK && needs_proving) {
        status =
            flc_check_range(NULL, "proving", (int64_t)trigger, proving, is_relative(trigger) ? 1e-300 : -1e18, 1e18);
    }
    if (status == FLC_OK && change_of(trigger, proving, now) > limit) {
        *exceeded |= UINT32_C(1) << trigger;
    }
    return status;
}

flc_status flc_factor_void_check(const flc_void_numbers *proving, const flc_void_numbers *now,
                                 const flc_void_numbers *limits, uint32_t *exceeded, uint32_t *unknown)
{
    uint32_t over = 0, missing = 0;
    if (exceeded != NULL) {
        *exceeded = 0;
    }
    if (unknown != NULL) {
        *unknown = 0;
    }
    if (proving == NULL || now == NULL || limits == NULL || exceeded == NULL) {
        return FLC_E_NULL;
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = FLC_OK;
    for (size_t i = 0; i < FLC_VOID_COUNT && status == FLC_OK; i++) {
        if (!flc_is_nan(limits->number[i])) {
            status = judge_trigger(i, proving->number[i], now->number[i], limits->number[i], &over, &missing);
        }
    }
    if (status == FLC_OK) {
        *exceeded = over;
        if (unknown != NULL) {
            *unknown = missing;
        }
    }
    flc_fp_leave(fp);
    return status;
}

flc_status flc_body_difference(const flc_body_options *body, double t_proving_degc, double p_proving_kpag,
                               double t_metering_degc, double p_metering_kpag, flc_body_change *change)
{
    const double none = flc_nan();
    flc_body_state proving, metering;
    if (change == NULL) {
        return FLC_E_NULL;
    }
    *change = (flc_body_change){none, none, none, none, 0};
    flc_fp_state fp = flc_fp_enter();
    flc_status status = flc_body_at(body, t_proving_degc, p_proving_kpag, &proving);
    if (status == FLC_OK) {
        status = flc_body_at(body, t_metering_degc, p_metering_kpag, &metering);
    }
    if (status == FLC_OK) {
        const double ratio = metering.b_ratio / proving.b_ratio;
        *change = (flc_body_change){proving.b_ratio, metering.b_ratio, ratio, 100.0 * (ratio - 1.0),
                                    proving.flags | metering.flags};
    }
    flc_fp_leave(fp);
    return status;
}
