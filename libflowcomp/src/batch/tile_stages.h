/* SPDX-License-Identifier: Apache-2.0 */
/* The stages of a tile, compiled once per instruction set: a file defines FLC_TILE_CODE, the name of its flc_tile_code,
 * and includes this. Every loop runs over a whole tile; lanes without a record repeat the first. A lane that is idle or
 * set aside is computed too, from whatever it holds, and left out when the columns are written. */
#define FLC_MANY /* records: see fpmath.h */
#include "similarity_core.h"
#include "tile_input.h"
#include "tile_liquid.h"
#include "tile_rows.h"

/* ---- body ---- */

FLC_STAGE static void strains(const flc_body_model *body, const flc_metal *metal, flc_tile *t, double *strain)
{
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

FLC_STAGE static void flag_metals(const flc_metal *housing, const flc_metal *rotor, flc_tile *t)
{
    const double low = housing->t_low_degc > rotor->t_low_degc ? housing->t_low_degc : rotor->t_low_degc;
    const double high = housing->t_high_degc < rotor->t_high_degc ? housing->t_high_degc : rotor->t_high_degc;
    EACH_LANE {
        const double at = t->t_degc[i];
        t->flags[i] |= (mask_of(at < low) | mask_of(at > high)) & ~t->idle[i] & FLC_FLAG_BODY_EXTRAPOLATED;
    }
}

FLC_STAGE static void take_body(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_body_model *body = &plan->meter->body;
    strains(body, &body->housing, t, t->strain_housing);
    strains(body, &body->rotor, t, t->strain_rotor);
    if (plan->wants_flags) {
        flag_metals(&body->housing, &body->rotor, t);
    }
    const double per_kpa = body->strain_per_kpa, p0 = body->p0_kpag, d0 = body->d0_m, per_open = body->per_open;
    EACH_LANE {
        const double bore = per_kpa * (t->p_used[i] - p0);
        const double d = flc_body_bore(d0, t->strain_housing[i], bore);
        t->d_m[i] = d;
        t->k_fall[i] = flc_body_k_fall(t->strain_housing[i], t->strain_rotor[i], bore, per_open);
        t->ro[i] = flc_ro(t->f_hz[i], d, t->nu_mm2s[i]);
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

/* Lanes at an end of the curve or outside it: held at the end, where they are evaluated. */
FLC_STAGE static void hold_ends(const flc_curve *curve, flc_tile *t)
{
    const double x_low = curve->x_low, x_high = curve->x_high;
    EACH_LANE {
        const double x = flc_curve_at_end(curve, t->ln_ro[i]);
        const double up = x > x_low ? x : x_low;
        const double held = up < x_high ? up : x_high;
        t->ln_ro[i] = x;
        t->held[i] = held;
        t->part[i] = flc_curve_part_of(curve, held);
    }
}

FLC_STAGE static void take_ln_ro(const flc_curve *curve, flc_tile *t)
{
    const double low = curve->x_low + 2.0 * FLC_CURVE_END, high = curve->x_high - 2.0 * FLC_CURVE_END;
    const flc_curve_scale scale = flc_curve_scale_of(curve);
    uint64_t all_between = ~UINT64_C(0);
    EACH_LANE {
        keep_parts(t, i, flc_log_take_apart(t->ro[i]));
    }
    EACH_LANE {
        const double x = flc_log_of_parts(t->step[0][i], t->step[1][i], t->step[2][i]);
        t->ln_ro[i] = x;
        t->part[i] = flc_curve_part_at(scale, x);
        t->between[i] = within(x, low, high);
    }
    EACH_LANE {
        all_between &= t->between[i];
    }
    t->is_between = all_between != 0;
    if (!t->is_between) {
        hold_ends(curve, t);
    }
}

FLC_STAGE static void take_segments(const flc_curve *curve, flc_tile *t)
{
    const double *x = t->is_between ? t->ln_ro : t->held;
    if (curve->is_sparse) {
        find_segments(curve, 1, t->part, x, t->cubic);
    } else {
        find_segments(curve, 0, t->part, x, t->cubic);
    }
}

/* The lanes that flow, and whether some were set aside or lie outside the curve. */
FLC_STAGE static void take_stock(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_curve *curve = plan->meter->curve;
    uint64_t outside = 0, all_good = ~UINT64_C(0);
    EACH_LANE {
        t->inside[i] = t->good[i] & ~t->idle[i];
        all_good &= t->good[i];
    }
    if (!t->is_between) {
        const double x_low = curve->x_low, x_high = curve->x_high;
        EACH_LANE {
            outside |= t->inside[i] & ~within(t->ln_ro[i], x_low, x_high);
        }
    }
    if (plan->wants_flags) {
        const uint64_t always = plan->flags;
        EACH_LANE {
            t->flags[i] |= ~t->idle[i] & always;
        }
    }
    t->is_all_good = all_good != 0;
    t->any_beyond = outside != 0;
    memset(t->status, FLC_OK, sizeof t->status);
    if (outside) {
        beyond_curve(plan, t);
    }
}

FLC_STAGE static void take_curve(const flc_tile_plan *plan, flc_tile *t)
{
    take_ln_ro(plan->meter->curve, t);
    take_segments(plan->meter->curve, t);
    EACH_LANE {
        const flc_curve_segment s = {0.0, {t->cubic[1][i], t->cubic[2][i], t->cubic[3][i], t->cubic[4][i]}};
        t->st[i] = flc_segment_value(&s, t->cubic[0][i]);
    }
    if (plan->wants_slope) {
        EACH_LANE {
            const flc_curve_segment s = {0.0, {t->cubic[1][i], t->cubic[2][i], t->cubic[3][i], t->cubic[4][i]}};
            t->slope[i] = flc_segment_derivative(&s, t->cubic[0][i]) / t->st[i];
        }
    }
    take_stock(plan, t);
}

/* ---- results ---- */

FLC_STAGE static void take_results(const flc_tile_plan *plan, flc_tile *t)
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

/* Where mask says so the lane's number, elsewhere NaN; zero says where it is 0 instead. No column overlaps the tile. */
static inline void put_lanes(double *restrict out, const double *restrict lane, const uint64_t *restrict mask,
                             const uint64_t *restrict zero)
{
    if (zero == NULL) {
        EACH_LANE {
            out[i] = pick(mask[i], lane[i], FLC_QUIET_NAN);
        }
    } else {
        EACH_LANE {
            out[i] = pick(mask[i], lane[i], pick(zero[i], 0.0, FLC_QUIET_NAN));
        }
    }
}

static void put(double *column, size_t from, size_t count, const double *lane, const uint64_t *mask,
                const uint64_t *zero)
{
    if (column == NULL) {
        return;
    }
    if (count == FLC_TILE) {
        put_lanes(column + from, lane, mask, zero);
    } else {
        flc_lane out;
        put_lanes(out, lane, mask, zero);
        memcpy(column + from, out, count * sizeof *out);
    }
}

/* Which lanes have what. */
typedef struct masks {
    flc_mask flowing, idle, window_inside, window_idle, nothing;
} masks;

static void put_flowing(const flc_tile_plan *plan, size_t from, const flc_tile *t, const masks *m)
{
    const flc_results *out = plan->out;
    const size_t n = t->count;
    const uint64_t *corrected = plan->liquid->options.volume == FLC_VOLUME_NONE ? m->nothing : m->flowing;
    put(out->f_hz, from, n, t->f_hz, t->good, NULL);
    put(out->nu_mm2s, from, n, t->nu_mm2s, m->flowing, NULL);
    put(out->d_m, from, n, t->d_m, m->flowing, NULL);
    put(out->b_ratio, from, n, t->b_ratio, m->flowing, NULL);
    put(out->ro, from, n, t->ro, m->flowing, NULL);
    put(out->rho_base_kgm3, from, n, t->rho_base_kgm3, corrected, NULL);
    put(out->ctl, from, n, t->ctl, corrected, NULL);
    put(out->cpl, from, n, t->cpl, corrected, NULL);
}

static void put_inside(const flc_tile_plan *plan, size_t from, const flc_tile *t, const masks *m)
{
    const flc_results *out = plan->out;
    const size_t n = t->count;
    const int has_base = plan->liquid->options.volume != FLC_VOLUME_NONE;
    const uint64_t *idle = t->any_idle ? m->idle : NULL;
    put(out->re, from, n, t->re, t->inside, NULL);
    put(out->st, from, n, t->st, t->inside, NULL);
    put(out->k_per_m3, from, n, t->k_per_m3, t->inside, NULL);
    put(out->q_m3s, from, n, t->q_m3s, t->inside, idle);
    put(out->q_base_m3s, from, n, t->q_base_m3s, has_base ? t->inside : m->nothing, idle);
    put(out->v_m3, from, n, t->v_m3, m->window_inside, m->window_idle);
    put(out->v_base_m3, from, n, t->v_base_m3, has_base ? m->window_inside : m->nothing, m->window_idle);
    put(out->slope, from, n, t->slope, t->inside, NULL);
    put(out->dlnq_dlnf, from, n, t->dlnq_dlnf, t->inside, NULL);
    put(out->dlnq_dlnnu, from, n, t->dlnq_dlnnu, t->inside, NULL);
    put(out->dlnq_dlnd, from, n, t->dlnq_dlnd, t->inside, NULL);
    put(out->dlnq_dlnb, from, n, t->dlnq_dlnb, t->inside, NULL); /* -1 since the batch began */
    put(out->u_v_nu, from, n, t->u_v_nu, t->inside, NULL);
    put(out->k_bound, from, n, t->k_bound, t->inside, NULL); /* 0 since the batch began */
}

static void put_status_and_flags(const flc_results *out, size_t from, const flc_tile *t)
{
    const size_t n = t->count;
    if (out->status != NULL) {
        memcpy(out->status + from, t->status, n);
    }
    if (out->flags != NULL) {
        uint32_t flags[FLC_TILE];
        EACH_LANE {
            flags[i] = (uint32_t)t->flags[i];
        }
        memcpy(out->flags + from, flags, n * sizeof *flags);
    }
}

static void write(const flc_tile_plan *plan, size_t from, const flc_tile *t)
{
    masks m;
    if (plan->wants_flowing || t->any_idle) {
        EACH_LANE {
            m.flowing[i] = t->good[i] & ~t->idle[i];
            m.idle[i] = t->good[i] & t->idle[i];
        }
    }
    if (plan->wants_windows) {
        EACH_LANE {
            m.window_inside[i] = t->inside[i] & t->windowed[i];
            m.window_idle[i] = t->good[i] & t->idle[i] & t->windowed[i];
        }
    }
    if (plan->liquid->options.volume == FLC_VOLUME_NONE) {
        memset(m.nothing, 0, sizeof m.nothing);
    }
    put_flowing(plan, from, t, &m);
    put_inside(plan, from, t, &m);
    put_status_and_flags(plan->out, from, t);
}

const flc_tile_code FLC_TILE_CODE = {evaluate, write};
