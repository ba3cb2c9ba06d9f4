/* SPDX-License-Identifier: Apache-2.0 */
#include "meter_core.h"
#include "fp_guard.h"
#include "memory.h"
#include "similarity_core.h"
#include "struct_size.h"
#include <string.h>

void flc_meter_options_init_sized(flc_meter_options *options, size_t own_size)
{
    flc_meter_options fresh = {0};
    fresh.size = sizeof fresh;
    flc_give_sized(options, own_size, &fresh, sizeof fresh);
}

static flc_status check_options(const flc_meter_options *options, flc_error *error)
{
    if (options->size != sizeof *options) {
        return flc_fail(error, FLC_E_SIZE, "options", -1, (double)options->size, (double)sizeof *options, NULL);
    }
    if (options->name == NULL || options->name[0] == '\0') {
        return flc_fail(error, FLC_E_MISSING, "name", -1, flc_nan(), flc_nan(), "give the meter its tag");
    }
    if (strlen(options->name) >= FLC_METER_NAME) {
        return flc_fail(error, FLC_E_BUFFER, "name", -1, (double)strlen(options->name), FLC_METER_NAME - 1.0, NULL);
    }
    if ((int)options->below < FLC_BEYOND_REFUSE || options->below > FLC_BEYOND_EXTEND_SLOPE) {
        return flc_fail(error, FLC_E_CHOICE, "below", -1, (double)options->below, flc_nan(), NULL);
    }
    if ((int)options->above < FLC_BEYOND_REFUSE || options->above > FLC_BEYOND_EXTEND_SLOPE) {
        return flc_fail(error, FLC_E_CHOICE, "above", -1, (double)options->above, flc_nan(), NULL);
    }
    return flc_check_range(error, "cutoff_hz", -1, options->cutoff_hz, 0.0, 1e6);
}

/* St and Ro of the curve were formed with D0 at T0 and P0: another body would read it wrong without a sign of it. */
static flc_status check_same_body(const flc_curve_reference *curve, const flc_body_options *body, flc_error *error)
{
    static const char *const hint =
        "the curve was made for another body: fit it again, or give the body of its certificate";
    const struct {
        const char *name;
        double of_body, of_curve;
    } same[] = {{"body.bore_m", body->bore_m, curve->d0_m},
                {"body.t0_degc", body->t0_degc, curve->t0_degc},
                {"body.p0_kpag", body->p0_kpag, curve->p0_kpag}};
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        if (same[i].of_body != same[i].of_curve) {
            return flc_fail(error, FLC_E_CONFLICT, same[i].name, -1, same[i].of_body, same[i].of_curve, hint);
        }
    }
    return FLC_OK;
}

static flc_curve *copy_curve(const flc_curve *curve)
{
    flc_curve *copy = flc_allocate(flc_curve_size(curve->segments));
    if (copy != NULL) {
        memcpy(copy, curve, flc_curve_size(curve->segments));
    }
    return copy;
}

static flc_meter *build(const flc_meter_options *options, const flc_body_options *body, const flc_curve *curve)
{
    flc_meter *meter = flc_allocate(sizeof *meter);
    flc_curve *copy = copy_curve(curve);
    if (meter == NULL || copy == NULL) {
        flc_release(meter);
        flc_release(copy);
        return NULL;
    }
    memset(meter, 0, sizeof *meter);
    memcpy(meter->name, options->name, strlen(options->name) + 1);
    meter->options = *options;
    meter->options.name = meter->name;
    meter->body_options = *body;
    meter->body = flc_body_model_of(body);
    meter->k_per_st = flc_k(1.0, body->bore_m);
    meter->curve = copy;
    flc_meter_find_plain(meter);
    return meter;
}

flc_status flc_meter_new(const flc_meter_options *options, const flc_body_options *body, const flc_curve *curve,
                         flc_meter **meter, flc_error *error)
{
    flc_error_clear(error);
    if (meter != NULL) {
        *meter = NULL;
    }
    if (options == NULL || body == NULL || curve == NULL || meter == NULL) {
        const char *missing = options == NULL ? "options" : body == NULL ? "body" : curve == NULL ? "curve" : "meter";
        return flc_fail(error, FLC_E_NULL, missing, -1, flc_nan(), flc_nan(), NULL);
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = check_options(options, error);
    if (status == FLC_OK) {
        status = flc_body_check(body, error);
    }
    if (status == FLC_OK) {
        status = check_same_body(&curve->reference, body, error);
    }
    if (status == FLC_OK) {
        *meter = build(options, body, curve);
        if (*meter == NULL) {
            status = flc_fail(error, FLC_E_MEMORY, "meter", -1, flc_nan(), flc_nan(), NULL);
        }
    }
    flc_fp_leave(fp);
    return status;
}

void flc_meter_free(flc_meter *meter)
{
    if (meter != NULL) {
        flc_release(meter->curve);
        flc_release(meter);
    }
}

flc_status flc_meter_describe(const flc_meter *meter, flc_meter_options *options, flc_body_options *body,
                              const flc_curve **curve)
{
    if (meter == NULL || options == NULL || body == NULL || curve == NULL) {
        return FLC_E_NULL;
    }
    *options = meter->options;
    *body = meter->body_options;
    *curve = meter->curve;
    return FLC_OK;
}

flc_status flc_meter_canonical(const flc_meter *meter, uint8_t *bytes, size_t size, size_t *needed)
{
    if (meter == NULL || needed == NULL || (bytes == NULL && size > 0)) {
        return FLC_E_NULL;
    }
    flc_canonical out = {bytes, size, 0};
    flc_put_text(&out, "flowcomp-meter-1");
    flc_put_text(&out, meter->name);
    flc_put_i64(&out, meter->options.below);
    flc_put_i64(&out, meter->options.above);
    flc_put_double(&out, meter->options.cutoff_hz);
    flc_body_put(&out, &meter->body_options);
    flc_curve_put(&out, meter->curve);
    return flc_canonical_end(&out, needed);
}
