/* SPDX-License-Identifier: Apache-2.0 */
/* The stages of a tile, compiled once per instruction set: a file defines FLC_TILE_CODE, the name of its flc_tile_code,
 * and includes this. Every loop runs over a whole tile; lanes without a record repeat the first. A lane that is idle or
 * set aside is computed too, from whatever it holds, and left out when the columns are written. */
#include "similarity_core.h"
#include "tile_input.h"
#include "tile_liquid.h"

/* ---- body ---- */

static void strains(const flc_body_model *body, const flc_metal *metal, flc_tile *t, double *strain)
{
    EACH_LANE {
        const double at = t->t_degc[i];
        t->flags[i] |= (mask_of(at < metal->t_low_degc) | mask_of(at > metal->t_high_degc)) & ~t->idle[i] &
                       FLC_FLAG_BODY_EXTRAPOLATED;
    }
    if (metal->law == FLC_EXPANSION_MEAN) {
        const double alpha = metal->alpha_per_k, t0 = body->t0_degc;
        EACH_LANE {
            strain[i] = alpha * (t->t_degc[i] - t0);
        }
    } else {
        EACH_LANE {
            strain[i] = flc_metal_nist_strain(metal, t->t_degc[i], body->t0_degc);
        }
    }
}

static void take_body(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_body_model *body = &plan->meter->body;
    strains(body, &body->housing, t, t->strain_housing);
    strains(body, &body->rotor, t, t->strain_rotor);
    EACH_LANE {
        require(t, i, within(t->t_degc[i], body->t_low_degc, body->t_high_degc));
        const double bore = body->strain_per_kpa * (t->p_used[i] - body->p0_kpag);
        t->d_m[i] = flc_body_bore(body, t->strain_housing[i], bore);
        t->k_fall[i] = flc_body_k_fall(t->strain_housing[i], t->strain_rotor[i], bore, body->per_open);
        t->ro[i] = flc_ro(t->f_hz[i], t->d_m[i], t->nu_mm2s[i]);
        t->flags[i] |= ~t->idle[i] & body->flags;
    }
    if (plan->wants_body_ratio) {
        EACH_LANE {
            t->b_ratio[i] = 1.0 / t->k_fall[i];
        }
    }
}

/* ---- curve ---- */

static void beyond_curve(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_meter *meter = plan->meter;
    EACH_LANE {
        const int is_inside = t->ln_ro[i] >= meter->curve->x_low && t->ln_ro[i] <= meter->curve->x_high;
        if (is_inside || t->idle[i] || !t->good[i]) {
            continue;
        }
        flc_curve_value value;
        t->status[i] = (uint8_t)flc_curve_evaluate_beyond(meter->curve, t->ln_ro[i], meter->options.below,
                                                          meter->options.above, &value);
        t->inside[i] = mask_of(t->status[i] == FLC_OK);
        t->st[i] = value.st;
        t->slope[i] = value.slope;
        t->flags[i] |= value.flags;
    }
}

static void take_segments(const flc_curve *curve, flc_tile *t)
{
    EACH_LANE {
        const double x = t->ln_ro[i];
        const double up = x > curve->x_low ? x : curve->x_low;
        const double held = up < curve->x_high ? up : curve->x_high;
        t->cubic[0][i] = held;
        t->part[i] = flc_curve_part_of(curve, held);
    }
    EACH_LANE {
        const flc_curve_segment *s = &curve->segment[flc_curve_segment_in(curve, t->part[i], t->cubic[0][i])];
        t->cubic[0][i] -= s->x;
        t->cubic[1][i] = s->c[0];
        t->cubic[2][i] = s->c[1];
        t->cubic[3][i] = s->c[2];
        t->cubic[4][i] = s->c[3];
    }
}

static void take_curve(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_curve *curve = plan->meter->curve;
    uint64_t outside = 0;
    EACH_LANE {
        t->ln_ro[i] = flc_curve_at_end(curve, flc_log_inside(t->ro[i]));
    }
    take_segments(curve, t);
    EACH_LANE {
        const flc_curve_segment s = {0.0, {t->cubic[1][i], t->cubic[2][i], t->cubic[3][i], t->cubic[4][i]}};
        t->st[i] = flc_segment_value(&s, t->cubic[0][i]);
        t->inside[i] = t->good[i] & ~t->idle[i];
        outside |= t->inside[i] & ~within(t->ln_ro[i], curve->x_low, curve->x_high);
    }
    if (plan->wants_slope) {
        EACH_LANE {
            const flc_curve_segment s = {0.0, {t->cubic[1][i], t->cubic[2][i], t->cubic[3][i], t->cubic[4][i]}};
            t->slope[i] = flc_segment_derivative(&s, t->cubic[0][i]) / t->st[i];
        }
    }
    memset(t->status, FLC_OK, sizeof t->status);
    if (outside) {
        beyond_curve(plan, t);
    }
}

/* ---- results ---- */

static void take_results(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_meter *meter = plan->meter;
    const flc_results *out = plan->out;
    EACH_LANE {
        const double per_pulse = flc_meter_volume_per_pulse(meter, t->st[i], t->k_fall[i]);
        const double q = t->f_hz[i] * per_pulse;
        t->m3_per_pulse[i] = per_pulse;
        t->q_m3s[i] = flc_from_bits(flc_to_bits(q) ^ (t->reverse[i] & FLC_SIGN));
        t->q_base_m3s[i] = t->q_m3s[i] * t->ctpl[i];
    }
    if (plan->in->pulses.start != NULL && (plan->keeps_pulses || out->v_m3 != NULL || out->v_base_m3 != NULL)) {
        EACH_LANE {
            t->v_m3[i] = t->pulses[i] * t->m3_per_pulse[i];
            t->v_base_m3[i] = t->v_m3[i] * t->ctpl[i];
        }
    }
    if (out->k_per_m3 != NULL) {
        EACH_LANE {
            t->k_per_m3[i] = t->st[i] * meter->k_per_st * t->b_ratio[i];
        }
    }
    if (out->re != NULL) {
        EACH_LANE {
            t->re[i] = flc_re(t->f_hz[i] * t->m3_per_pulse[i], t->d_m[i], t->nu_mm2s[i]);
        }
    }
    if (plan->wants_slope) {
        const double u_nu = plan->liquid->options.u_nu_relative;
        EACH_LANE {
            const double s = t->slope[i];
            t->dlnq_dlnf[i] = 1.0 - s;
            t->dlnq_dlnnu[i] = s;
            t->dlnq_dlnd[i] = -2.0 * s;
            t->u_v_nu[i] = flc_fabs(s) * u_nu;
        }
    }
}

static void evaluate(const flc_tile_plan *plan, size_t from, size_t count, flc_tile *tile)
{
    load_all(plan->in, from, count, tile);
    take_flow(plan, tile);
    take_conditions(plan, tile);
    take_volume(plan, tile);
    take_viscosity(plan, tile);
    take_body(plan, tile);
    take_curve(plan, tile);
    take_results(plan, tile);
}

/* ---- columns out ---- */

/* Where mask says so the lane's number, elsewhere NaN; zero says where it is 0 instead. */
static void put(double *column, size_t from, size_t count, const double *lane, const uint64_t *mask,
                const uint64_t *zero)
{
    if (column == NULL) {
        return;
    }
    flc_lane out;
    if (zero == NULL) {
        EACH_LANE {
            out[i] = pick(mask[i], lane[i], FLC_QUIET_NAN);
        }
    } else {
        EACH_LANE {
            out[i] = pick(mask[i], lane[i], pick(zero[i], 0.0, FLC_QUIET_NAN));
        }
    }
    if (count == FLC_TILE) {
        memcpy(column + from, out, sizeof out);
    } else {
        memcpy(column + from, out, count * sizeof *out);
    }
}

static void write(const flc_tile_plan *plan, size_t from, const flc_tile *t)
{
    const flc_results *out = plan->out;
    const size_t n = t->count;
    flc_mask flowing, idle, window_inside, window_idle, corrected, base_inside, base_window;
    const uint64_t has_base = mask_of(plan->liquid->options.volume != FLC_VOLUME_NONE);
    EACH_LANE {
        flowing[i] = t->good[i] & ~t->idle[i];
        idle[i] = t->good[i] & t->idle[i];
        corrected[i] = flowing[i] & has_base;
        base_inside[i] = t->inside[i] & has_base;
        window_inside[i] = t->inside[i] & t->windowed[i];
        window_idle[i] = idle[i] & t->windowed[i];
        base_window[i] = window_inside[i] & has_base;
    }
    put(out->f_hz, from, n, t->f_hz, t->good, NULL);
    put(out->nu_mm2s, from, n, t->nu_mm2s, flowing, NULL);
    put(out->d_m, from, n, t->d_m, flowing, NULL);
    put(out->b_ratio, from, n, t->b_ratio, flowing, NULL);
    put(out->ro, from, n, t->ro, flowing, NULL);
    put(out->re, from, n, t->re, t->inside, NULL);
    put(out->st, from, n, t->st, t->inside, NULL);
    put(out->k_per_m3, from, n, t->k_per_m3, t->inside, NULL);
    put(out->q_m3s, from, n, t->q_m3s, t->inside, idle);
    put(out->v_m3, from, n, t->v_m3, window_inside, window_idle);
    put(out->rho_base_kgm3, from, n, t->rho_base_kgm3, corrected, NULL);
    put(out->ctl, from, n, t->ctl, corrected, NULL);
    put(out->cpl, from, n, t->cpl, corrected, NULL);
    put(out->q_base_m3s, from, n, t->q_base_m3s, base_inside, idle);
    put(out->v_base_m3, from, n, t->v_base_m3, base_window, window_idle);
    put(out->slope, from, n, t->slope, t->inside, NULL);
    put(out->dlnq_dlnf, from, n, t->dlnq_dlnf, t->inside, NULL);
    put(out->dlnq_dlnnu, from, n, t->dlnq_dlnnu, t->inside, NULL);
    put(out->dlnq_dlnd, from, n, t->dlnq_dlnd, t->inside, NULL);
    put(out->dlnq_dlnb, from, n, t->dlnq_dlnb, t->inside, NULL); /* -1 since the batch began */
    put(out->u_v_nu, from, n, t->u_v_nu, t->inside, NULL);
    put(out->k_bound, from, n, t->k_bound, t->inside, NULL); /* 0 since the batch began */
    if (out->status != NULL) {
        memcpy(out->status + from, t->status, n);
    }
    if (out->flags != NULL) {
        for (size_t i = 0; i < n; i++) {
            out->flags[from + i] = (uint32_t)t->flags[i];
        }
    }
}

const flc_tile_code FLC_TILE_CODE = {evaluate, write};
