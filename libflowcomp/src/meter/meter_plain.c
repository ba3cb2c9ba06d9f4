/* SPDX-License-Identifier: Apache-2.0 */
/* The usual record in one piece: forward flow, a base density, API MPMS 11.1 (2004) to 60 degF, a viscosity off a D341
 * line, every input inside every range, the curve not left. The stages of meter_evaluate.c wait for each other, because
 * a processor looks only some hundred instructions ahead; here the chain that everything waits for (viscosity, Ro, its
 * logarithm, St) and the volume factors take turns, so that both are under way at once. Each number is had by the same
 * function in the same order as there, so the bits are the same. Whatever is not plain is left to the stages, which
 * also know what to say about it. */
#include "meter_core.h"
#include "petroleum_2004_direct.h"
#include <float.h>

static int is_within(double value, double low, double high)
{
    return flc_is_finite(value) && value >= low && value <= high;
}

static void narrow(double low, double high, double *t_low, double *t_high)
{
    *t_low = low > *t_low ? low : *t_low;
    *t_high = high < *t_high ? high : *t_high;
}

void flc_liquid_find_plain(flc_liquid *liquid)
{
    const flc_liquid_options *options = &liquid->options;
    const int one_line = options->viscosity == FLC_VISCOSITY_POINTS || options->viscosity == FLC_VISCOSITY_ONE_POINT ||
                         (options->viscosity == FLC_VISCOSITY_TYPICAL && liquid->first.count > 1);
    const flc_plain_ranges none = {1.0, -1.0, 1.0, -1.0};
    liquid->plain = none;
    if (one_line && options->volume == FLC_VOLUME_PETROLEUM_2004 && options->base == FLC_PETROLEUM_BASE_60F &&
        liquid->volume.ctl == NULL && flc_liquid_nu_is_direct(liquid) && options->vapour != FLC_VAPOUR_MEASURED) {
        const flc_petroleum_2004_liquid limits = flc_petroleum_2004_liquid_of(options->product, options->base);
        const flc_plain_ranges ranges = {FLC_VOLUME_T_LOW_DEGC, FLC_VOLUME_T_HIGH_DEGC, limits.base_low,
                                         limits.base_high};
        liquid->plain = ranges;
        narrow(liquid->first.t_low_degc, liquid->first.t_high_degc, &liquid->plain.t_low_degc,
               &liquid->plain.t_high_degc);
    }
}

void flc_meter_find_plain(flc_meter *meter)
{
    const flc_body_model *body = &meter->body;
    double *const low = &meter->plain_t_low_degc, *const high = &meter->plain_t_high_degc;
    *low = body->t_low_degc;
    *high = body->t_high_degc;
    narrow(body->housing.t_low_degc, body->housing.t_high_degc, low, high);
    narrow(body->rotor.t_low_degc, body->rotor.t_high_degc, low, high);
}

/* Whole forward pulses of which nothing more is said than how long they took; or a frequency. */
static int plain_frequency(const flc_meter *meter, const flc_reading *in, double *f_hz)
{
    *f_hz = in->f_hz;
    if (!flc_is_nan(in->pulses)) {
        const int says_more = !flc_is_nan(in->f_hz) || !flc_is_nan(in->flowing_s) || !flc_is_nan(in->f_flowing_hz) ||
                              !flc_is_nan(in->f_before_hz) || !flc_is_nan(in->f_after_hz) ||
                              !flc_is_nan(in->f_highest_hz);
        if (says_more || !is_within(in->pulses, 1.0, FLC_PULSES_MAX) || (double)(int64_t)in->pulses != in->pulses ||
            !is_within(in->duration_s, FLC_DURATION_LOW_S, FLC_DURATION_HIGH_S)) {
            return 0;
        }
        *f_hz = in->pulses / in->duration_s;
    }
    return is_within(*f_hz, DBL_MIN, FLC_F_MAX) && *f_hz >= meter->options.cutoff_hz;
}

static int plain_conditions(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *in)
{
    const flc_plain_ranges *plain = &liquid->plain;
    return is_within(in->t_degc, plain->t_low_degc, plain->t_high_degc) && in->t_degc >= meter->plain_t_low_degc &&
           in->t_degc <= meter->plain_t_high_degc && is_within(in->p_kpag, 0.0, FLC_VOLUME_P_HIGH_KPAG) &&
           is_within(in->density.rho_base_kgm3, plain->rho_low_kgm3, plain->rho_high_kgm3) &&
           flc_is_nan(in->density.rho_observed_kgm3) && flc_is_nan(in->nu_mm2s) && flc_is_nan(in->pe_kpa);
}

/* What the two chains give. */
typedef struct plain_values {
    flc_petroleum_2004_steps volume;
    flc_body_state body;
    double w, nu_mm2s, ro, ln_ro;
} plain_values;

/* A viscosity that the line has, from a W that flc_d341_w_held leaves as it is, and a place on the curve, clear of its
 * ends. No branch between them: each would keep the compiler from mixing the two chains. */
static int has_answer(const flc_meter *meter, const flc_liquid *liquid, const plain_values *v)
{
    const double low = meter->curve->x_low + 2.0 * FLC_CURVE_END, high = meter->curve->x_high - 2.0 * FLC_CURVE_END;
    return (v->w >= -4.0) & (v->w <= 1.0) & flc_d341_nu_is_inside(liquid->options.form, v->nu_mm2s) & (v->ln_ro > low) &
           (v->ln_ro < high);
}

static void take_turns(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *in, double f_hz,
                       plain_values *v)
{
    const flc_d341_line *line = &liquid->first.line[flc_viscosity_line_of(&liquid->first, in->t_degc)];
    flc_petroleum_2004_steps *const s = &v->volume;
    const flc_log_parts ratio = flc_log_take_apart(flc_d341_t_ratio(line->t1_k, in->t_degc));
    flc_petroleum_2004_start(liquid->options.product, in->density.rho_base_kgm3, s);
    s->t_degf = flc_petroleum_2004_degf(in->t_degc);
    s->p_psig = flc_petroleum_2004_psi(in->p_kpag);
    flc_petroleum_2004_density(s);
    const double log10_ratio = flc_log10_of_parts(ratio.k, ratio.f, ratio.s);
    v->body = flc_body_evaluate(&meter->body, in->t_degc, in->p_kpag);
    flc_petroleum_2004_temperature(s);
    v->w = flc_d341_w_of_log(line->w1, line->b, log10_ratio);
    const double log10_z = flc_exp10_inside(v->w);
    s->ctl60 = flc_petroleum_2004_ctl60(s->alpha60_per_degf, s->dt_degf);
    v->nu_mm2s = flc_d341_nu_from_z(liquid->options.form, flc_exp10_inside(log10_z));
    v->ro = flc_ro(f_hz, v->body.d_m, v->nu_mm2s);
    const flc_log_parts ro = flc_log_take_apart(v->ro);
    s->fp = flc_petroleum_2004_fp(s->t_star_degf, s->per_rho_star);
    v->ln_ro = flc_log_of_parts(ro.k, ro.f, ro.s);
    s->cpl = flc_petroleum_2004_cpl(s->fp, s->p_psig);
    flc_petroleum_2004_rebase(s, 1.0);
}

int flc_meter_plain(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *in, flc_result *result)
{
    double f_hz;
    if (!plain_conditions(meter, liquid, in) || !plain_frequency(meter, in, &f_hz)) {
        return 0;
    }
    plain_values v;
    take_turns(meter, liquid, in, f_hz, &v);
    result->ctl = v.volume.ctl; /* before the branch, or the compiler puts all of the volume after it */
    result->cpl = v.volume.cpl;
    if (!has_answer(meter, liquid, &v)) {
        return 0;
    }
    const flc_curve_segment *segment = &meter->curve->segment[flc_curve_segment_of(meter->curve, v.ln_ro)];
    const double u = v.ln_ro - segment->x, st = flc_segment_value(segment, u);
    result->size = sizeof *result;
    result->flags = liquid->viscosity_flags | v.body.flags | FLC_FLAG_FROM_MEMORY; /* of 11.1-2004: liquid_volume.c */
    result->status = FLC_OK;
    result->f_hz = f_hz;
    result->nu_mm2s = v.nu_mm2s;
    result->d_m = v.body.d_m;
    result->b_ratio = v.body.b_ratio;
    result->ro = v.ro;
    result->rho_base_kgm3 = in->density.rho_base_kgm3;
    result->k_bound = 0.0;
    flc_meter_results(meter, liquid, &v.body, st, flc_segment_derivative(segment, u) / st, v.volume.ctpl, in->pulses,
                      result);
    return 1;
}
