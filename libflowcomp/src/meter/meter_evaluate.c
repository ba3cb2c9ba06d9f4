/* SPDX-License-Identifier: Apache-2.0 */
/* One record through the meter, stage by stage. */
#include "meter_core.h"
#include "fp_guard.h"
#include "similarity_core.h"
#include "struct_size.h"
#include <float.h>
#include <stddef.h>
#include <string.h>

void flc_reading_init_sized(flc_reading *reading, size_t own_size)
{
    const double nothing = flc_nan();
    const flc_reading fresh = {sizeof fresh, nothing, nothing, nothing, nothing,
                               nothing,      nothing, nothing, nothing, {nothing, nothing, nothing, nothing, 1.0},
                               nothing,      nothing, nothing, nothing};
    flc_give_sized(reading, own_size, &fresh, sizeof fresh);
}

static void clear(flc_result *result)
{
    result->size = sizeof *result;
    result->flags = 0;
    result->status = FLC_OK;
#define CLEAR(name, unit, meaning) result->name = flc_nan();
    FLC_RESULT_LIST(CLEAR)
#undef CLEAR
}

void flc_result_init_sized(flc_result *result, size_t own_size)
{
    flc_result fresh;
    clear(&fresh);
    flc_give_sized(result, own_size, &fresh, sizeof fresh);
}

/* ---- pulses and frequency ---- */

static flc_status check_whole(double pulses, flc_error *error)
{
    flc_status status = flc_check_range(error, "pulses", -1, pulses, -FLC_PULSES_MAX, FLC_PULSES_MAX);
    if (status == FLC_OK && (double)(int64_t)pulses != pulses) {
        status = flc_fail(error, FLC_E_NOT_WHOLE, "pulses", -1, pulses, flc_nan(),
                          "give counted pulses, or a frequency in f_hz");
    }
    return status;
}

/* The frequency while flowing, where the window says more than its pulses and its length. */
static flc_status flowing_frequency(const flc_reading *in, double count, flc_trace *trace, flc_error *error)
{
    const int seconds = !flc_is_nan(in->flowing_s), mean = !flc_is_nan(in->f_flowing_hz);
    if (seconds && mean) {
        return flc_fail(error, FLC_E_CONFLICT, "f_flowing_hz", -1, in->f_flowing_hz, flc_nan(),
                        "give flowing_s or f_flowing_hz, not both");
    }
    if (!seconds && !mean) {
        trace->result->f_hz = trace->f_mean_hz;
        return FLC_OK;
    }
    /* Logged seconds and means carry the error of their own clock: a pulse and a thousandth beside the window's mean
     * count as flow all the time. */
    const double slack = 1.001 + 1.0 / count;
    const flc_status status =
        seconds ? flc_check_range(error, "flowing_s", -1, in->flowing_s, count / FLC_F_MAX, in->duration_s * slack)
                : flc_check_range(error, "f_flowing_hz", -1, in->f_flowing_hz, trace->f_mean_hz / slack, FLC_F_MAX);
    if (status == FLC_OK) {
        const double f = seconds ? count / in->flowing_s : in->f_flowing_hz;
        trace->result->f_hz = f > trace->f_mean_hz ? f : trace->f_mean_hz;
        trace->result->flags |= FLC_FLAG_FLOWING_KNOWN;
    }
    return status;
}

static flc_status window(const flc_reading *in, flc_trace *trace, flc_error *error)
{
    flc_status status = check_whole(in->pulses, error);
    if (status == FLC_OK && flc_is_nan(in->duration_s)) {
        status = flc_fail(error, FLC_E_MISSING, "duration_s", -1, flc_nan(), flc_nan(), "a window needs its length");
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "duration_s", -1, in->duration_s, FLC_DURATION_LOW_S, FLC_DURATION_HIGH_S);
    }
    if (status != FLC_OK) {
        return status;
    }
    const double count = flc_fabs(in->pulses);
    if (count == 0.0) {
        trace->result->flags |= FLC_FLAG_NO_FLOW;
        return FLC_OK;
    }
    if (in->pulses < 0.0) {
        trace->result->flags |= FLC_FLAG_REVERSE;
    }
    trace->f_mean_hz = count / in->duration_s;
    status = flc_check_range(error, "pulses / duration_s", -1, trace->f_mean_hz, 0.0, FLC_F_MAX);
    return status == FLC_OK ? flowing_frequency(in, count, trace, error) : status;
}

static flc_status frequency(const flc_reading *in, flc_trace *trace, flc_error *error)
{
    const flc_status status = flc_check_range(error, "f_hz", -1, in->f_hz, 0.0, FLC_F_MAX);
    if (status == FLC_OK && in->f_hz == 0.0) {
        trace->result->flags |= FLC_FLAG_NO_FLOW;
    } else if (status == FLC_OK) {
        trace->f_mean_hz = trace->result->f_hz = in->f_hz;
    }
    return status;
}

static flc_status take_flow(const flc_reading *in, flc_trace *trace, flc_error *error)
{
    const int has_window = !flc_is_nan(in->pulses), has_frequency = !flc_is_nan(in->f_hz);
    if (has_window && has_frequency) {
        return flc_fail(error, FLC_E_CONFLICT, "f_hz", -1, in->f_hz, flc_nan(), "give pulses or f_hz, not both");
    }
    if (!has_window && !has_frequency) {
        return flc_fail(error, FLC_E_MISSING, "pulses", -1, flc_nan(), flc_nan(),
                        "give pulses with duration_s, or f_hz");
    }
    return has_window ? window(in, trace, error) : frequency(in, trace, error);
}

/* ---- nothing to evaluate ---- */

/* No pulses, or too few to trust: the volume is exactly 0 and there is no K. */
static void no_volume(flc_trace *trace)
{
    flc_result *result = trace->result;
    result->q_m3s = 0.0;
    result->q_base_m3s = 0.0;
    if (flc_is_nan(trace->reading->f_hz)) {
        result->v_m3 = 0.0;
        result->v_base_m3 = 0.0;
    }
    if (result->flags & FLC_FLAG_NO_FLOW) {
        result->f_hz = 0.0;
    }
}

/* ---- partial flow ---- */

static flc_status check_neighbour(const char *name, double f_hz, flc_error *error)
{
    return flc_is_nan(f_hz) ? FLC_OK : flc_check_range(error, name, -1, f_hz, 0.0, DBL_MAX);
}

/* A neighbour's frequency may be unknown, or too high to believe (the bound then ends at the top of the curve), but it
 * is a number and not negative. Beside a frequency in place of a window it is not looked at. */
static flc_status check_neighbours(const flc_reading *in, flc_error *error)
{
    if (!flc_is_nan(in->f_hz)) {
        return FLC_OK;
    }
    flc_status status = check_neighbour("f_before_hz", in->f_before_hz, error);
    if (status == FLC_OK) {
        status = check_neighbour("f_after_hz", in->f_after_hz, error);
    }
    return status == FLC_OK ? check_neighbour("f_highest_hz", in->f_highest_hz, error) : status;
}

static int stands_out(double neighbour, double f)
{
    return !flc_is_nan(neighbour) && (neighbour == 0.0 || f < 0.5 * neighbour);
}

/* A window next to standstill, or at under half of its neighbour's frequency, may have flowed for part of the time. */
static void suspect_partial_flow(flc_trace *trace)
{
    const flc_reading *in = trace->reading;
    const double f = trace->f_mean_hz;
    if (flc_is_nan(in->f_hz) && !(trace->result->flags & FLC_FLAG_FLOWING_KNOWN) &&
        (stands_out(in->f_before_hz, f) || stands_out(in->f_after_hz, f))) {
        trace->result->flags |= FLC_FLAG_PARTIAL_FLOW;
    }
}

/* The bound is the largest relative difference of K between the mean frequency and the highest the flow may have had:
 * the declared one, or the top of the curve. Above the curve nothing is known. */
static void bound_partial_flow(const flc_meter *meter, flc_trace *trace)
{
    flc_result *result = trace->result;
    const double f = trace->f_mean_hz, x = trace->curve.ln_ro, x_top = meter->curve->x_high;
    result->k_bound = 0.0;
    if (!(result->flags & FLC_FLAG_PARTIAL_FLOW)) {
        return;
    }
    const double f_top = flc_exp(x_top) / result->ro * f;
    trace->f_bound_hz = trace->reading->f_highest_hz < f_top ? trace->reading->f_highest_hz : f_top;
    if (trace->f_bound_hz <= f && trace->reading->f_highest_hz <= f) {
        return; /* it ran at its highest all the time */
    }
    if (x >= x_top) {
        result->k_bound = flc_nan();
        return;
    }
    double x_bound = x + flc_log(trace->f_bound_hz / f);
    x_bound = x_bound < x_top ? x_bound : x_top;
    const double x_from = x > meter->curve->x_low ? x : meter->curve->x_low;
    if (x_from >= x_bound) {
        return;
    }
    double low, high;
    flc_curve_extremes(meter->curve, x_from, x_bound, &low, &high);
    const double up = high / result->st - 1.0, down = 1.0 - low / result->st;
    result->k_bound = up > down ? up : down;
}

/* ---- the evaluation ---- */

static flc_status take_liquid(const flc_liquid *liquid, flc_trace *trace, flc_error *error)
{
    const flc_reading *in = trace->reading;
    flc_result *result = trace->result;
    flc_status status = flc_liquid_pressure(liquid, in->p_kpag, "p_kpag", &trace->p_used_kpag, &result->flags, error);
    if (status == FLC_OK) {
        const flc_volume_input input = {&in->density, in->t_degc, trace->p_used_kpag, in->pe_kpa};
        status = flc_liquid_volume_trace(liquid, &input, &trace->volume, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    trace->reached = FLC_STAGE_VOLUME_FACTORS;
    result->flags |= trace->volume.factors.flags;
    result->rho_base_kgm3 = trace->volume.factors.rho_base_kgm3;
    result->ctl = trace->volume.factors.ctl;
    result->cpl = trace->volume.factors.cpl;
    const flc_viscosity_input viscosity = {in->t_degc, trace->p_used_kpag, in->nu_mm2s, &trace->volume};
    status = flc_liquid_viscosity_trace(liquid, &viscosity, &trace->viscosity, error);
    result->flags |= trace->viscosity.flags;
    if (status == FLC_OK) {
        trace->reached = FLC_STAGE_VISCOSITY;
        result->nu_mm2s = trace->viscosity.nu_mm2s;
    }
    return status;
}

static flc_status take_body_and_curve(const flc_meter *meter, flc_trace *trace, flc_error *error)
{
    flc_result *result = trace->result;
    flc_status status = flc_body_check_temperature(&meter->body, "t_degc", trace->reading->t_degc, error);
    if (status != FLC_OK) {
        return status;
    }
    trace->body = flc_body_evaluate(&meter->body, trace->reading->t_degc, trace->p_used_kpag);
    trace->reached = FLC_STAGE_BODY;
    result->flags |= trace->body.flags;
    result->d_m = trace->body.d_m;
    result->b_ratio = trace->body.b_ratio;
    result->ro = flc_ro(result->f_hz, result->d_m, result->nu_mm2s);
    status = flc_curve_evaluate(meter->curve, flc_log_inside(result->ro), meter->options.below, meter->options.above,
                                &trace->curve);
    result->flags |= trace->curve.flags;
    if (status != FLC_OK) {
        return flc_fail(error, status, "ro", -1, result->ro,
                        status == FLC_E_BELOW_CURVE ? meter->curve->ro_low : meter->curve->ro_high, NULL);
    }
    trace->reached = FLC_STAGE_CURVE;
    return FLC_OK;
}

static flc_status run(const flc_meter *meter, const flc_liquid *liquid, flc_trace *trace, flc_error *error)
{
    flc_result *result = trace->result;
    flc_status status = take_flow(trace->reading, trace, error);
    if (status != FLC_OK) {
        return status;
    }
    trace->reached = FLC_STAGE_FREQUENCY;
    if (!(result->flags & FLC_FLAG_NO_FLOW)) {
        suspect_partial_flow(trace);
        const int may_be_low = !(result->flags & FLC_FLAG_PARTIAL_FLOW);
        result->flags |= may_be_low && result->f_hz < meter->options.cutoff_hz ? FLC_FLAG_BELOW_CUTOFF : 0u;
    }
    if (result->flags & (FLC_FLAG_NO_FLOW | FLC_FLAG_BELOW_CUTOFF)) {
        trace->has_flow = 0;
        no_volume(trace);
        trace->reached = FLC_STAGE_RESULT;
        return FLC_OK;
    }
    status = check_neighbours(trace->reading, error);
    if (status == FLC_OK) {
        status =
            flc_check_range(error, "t_degc", -1, trace->reading->t_degc, FLC_RECORD_T_LOW_DEGC, FLC_RECORD_T_HIGH_DEGC);
    }
    if (status == FLC_OK) {
        status = take_liquid(liquid, trace, error);
    }
    if (status == FLC_OK) {
        status = take_body_and_curve(meter, trace, error);
    }
    if (status == FLC_OK) {
        flc_meter_results(meter, liquid, &trace->body, trace->curve.st, trace->curve.slope, trace->volume.factors.ctpl,
                          trace->reading->pulses, result);
        bound_partial_flow(meter, trace);
        trace->reached = FLC_STAGE_RESULT;
    }
    return status;
}

/* A NaN of the caller's, with whatever sign and payload, does not pass through. Field by field and without a copy: a
 * vector read over numbers just written one by one would wait for all of them. */
static void one_nan(flc_result *result)
{
#define ONE(name, unit, meaning)    \
    if (flc_is_nan(result->name)) { \
        result->name = flc_nan();   \
    }
    FLC_RESULT_LIST(ONE)
#undef ONE
}

flc_status flc_meter_trace(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                           flc_result *result, flc_trace *trace, flc_error *error)
{
    /* what a stage has not reached stays unset: reached says how far the trace may be read */
    trace->reading = reading;
    trace->result = result;
    trace->reached = FLC_STAGE_INPUT;
    trace->has_flow = 1;
    trace->f_mean_hz = trace->p_used_kpag = trace->f_bound_hz = flc_nan();
    clear(result);
    result->status = run(meter, liquid, trace, error);
    one_nan(result);
    return result->status;
}

flc_status flc_meter_record(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                            flc_result *result, flc_error *error)
{
    flc_trace trace;
    return flc_meter_plain(meter, liquid, reading, result)
               ? FLC_OK
               : flc_meter_trace(meter, liquid, reading, result, &trace, error);
}

flc_status flc_meter_evaluate(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                              flc_result *result, flc_error *error)
{
    flc_error_clear(error);
    if (result == NULL) {
        return flc_fail(error, FLC_E_NULL, "result", -1, flc_nan(), flc_nan(), NULL);
    }
    if (result->size != sizeof *result) {
        return flc_fail(error, FLC_E_SIZE, "result", -1, (double)result->size, (double)sizeof *result, NULL);
    }
    if (meter == NULL || liquid == NULL || reading == NULL) {
        clear(result);
        result->status = FLC_E_NULL;
        return flc_fail(error, FLC_E_NULL,
                        meter == NULL    ? "meter"
                        : liquid == NULL ? "liquid"
                                         : "reading",
                        -1, flc_nan(), flc_nan(), NULL);
    }
    if (reading->size != sizeof *reading) {
        clear(result);
        result->status = FLC_E_SIZE;
        return flc_fail(error, FLC_E_SIZE, "reading", -1, (double)reading->size, (double)sizeof *reading, NULL);
    }
    flc_fp_state fp = flc_fp_enter();
    const flc_status status = flc_meter_record(meter, liquid, reading, result, error);
    flc_fp_leave(fp);
    return status;
}
