/* SPDX-License-Identifier: Apache-2.0 */
/* The stages of the liquid: temperature and pressure, density, volume factors, viscosity. Part of tile_stages.h. */
#ifndef FLC_TILE_LIQUID_H
#define FLC_TILE_LIQUID_H

#include "tile_input.h"

/* ---- temperature, pressure, density ---- */

FLC_STAGE static void take_conditions(const flc_tile_plan *plan, flc_tile *t)
{
    const double t_low = plan->t_low, t_high = plan->t_high, p_low = plan->p_low, p_high = plan->p_high;
    EACH_LANE {
        const double p = t->p_kpag[i];
        require(t, i, within(t->t_degc[i], t_low, t_high) & within(p, p_low, p_high));
        t->p_used[i] = p < 0.0 ? 0.0 : p;
    }
    if (plan->wants_flags && p_low < 0.0) {
        EACH_LANE {
            t->flags[i] |= mask_of(t->p_kpag[i] < 0.0) & ~t->idle[i] & FLC_FLAG_PRESSURE_CLAMPED;
        }
    }
}

/* Base density given: the same number at 60 degF, or the one that gives it. */
FLC_STAGE static void take_base_density(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_petroleum_2004_liquid *petroleum = &plan->petroleum;
    const double low = petroleum->base_low, high = petroleum->base_high;
    if (plan->liquid->options.base == FLC_PETROLEUM_BASE_60F) {
        EACH_LANE {
            const double rho = t->rho_base_given[i];
            t->rho60[i] = t->rho_base_kgm3[i] = rho;
            require(t, i, within(rho, low, high) & mask_of(t->rho_observed[i] != t->rho_observed[i]));
        }
        return;
    }
    if (petroleum->is_refined) {
        EACH_LANE {
            t->rho60[i] = flc_petroleum_2004_rho60_direct(petroleum, 1, 0, t->rho_base_given[i], plan->base_degf, 0.0);
        }
    } else {
        EACH_LANE {
            t->rho60[i] = flc_petroleum_2004_rho60_direct(petroleum, 0, 0, t->rho_base_given[i], plan->base_degf, 0.0);
        }
    }
    EACH_LANE {
        const double rho = t->rho_base_given[i];
        t->rho_base_kgm3[i] = rho;
        require(t, i,
                within(rho, low, high) & mask_of(t->rho60[i] == t->rho60[i]) &
                    mask_of(t->rho_observed[i] != t->rho_observed[i]));
    }
}

static inline double rho60_observed(const flc_petroleum_2004_liquid *petroleum, int is_refined, const flc_tile *t,
                                    size_t i, double p_kpag)
{
    return flc_petroleum_2004_rho60_direct(petroleum, is_refined, 1, t->rho_observed[i] * t->densitometer_factor[i],
                                           flc_petroleum_2004_degf(t->t_observed[i]), flc_petroleum_2004_psi(p_kpag));
}

/* Observed density given: takes the place of the base density in its lanes. */
FLC_STAGE static void take_observed_density(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_petroleum_2004_liquid *petroleum = &plan->petroleum;
    const uint64_t clamps = mask_of(plan->liquid->options.negative_pressure == FLC_NEGATIVE_CLAMP);
    flc_lane found;
    flc_mask before;
    memcpy(before, t->good, sizeof before);
    take_base_density(plan, t);
    if (petroleum->is_refined) {
        EACH_LANE {
            const double p = t->p_observed[i];
            found[i] = rho60_observed(petroleum, 1, t, i, pick(mask_of(p < 0.0), 0.0, p));
        }
    } else {
        EACH_LANE {
            const double p = t->p_observed[i];
            found[i] = rho60_observed(petroleum, 0, t, i, pick(mask_of(p < 0.0), 0.0, p));
        }
    }
    EACH_LANE {
        const double p = t->p_observed[i], rho = t->rho_observed[i];
        const uint64_t observed = mask_of(rho == rho) & mask_of(t->rho_base_given[i] != t->rho_base_given[i]);
        const uint64_t negative = mask_of(p < 0.0);
        const uint64_t valid = within(p, FLC_RECORD_P_LOW_KPAG, FLC_VOLUME_P_HIGH_KPAG) & (~negative | clamps) &
                               within(t->t_observed[i], FLC_VOLUME_T_LOW_DEGC, FLC_VOLUME_T_HIGH_DEGC) &
                               within(t->densitometer_factor[i], FLC_FACTOR_LOW, FLC_FACTOR_HIGH) &
                               within(rho, FLC_OBSERVED_LOW_KGM3, FLC_OBSERVED_HIGH_KGM3) &
                               within(found[i], petroleum->low60, petroleum->high60);
        t->good[i] = (observed & before[i] & (valid | t->idle[i])) | (~observed & t->good[i]);
        t->rho60[i] = pick(observed, found[i], t->rho60[i]);
        t->rho_base_kgm3[i] = pick(observed, FLC_QUIET_NAN, t->rho_base_kgm3[i]); /* follows from rho60 */
        t->flags[i] |= observed & ~t->idle[i] & (FLC_FLAG_OBSERVED_DENSITY | (negative & FLC_FLAG_PRESSURE_CLAMPED));
    }
}

/* ---- volume factors ---- */

static inline flc_petroleum_2004_row row_of(const flc_tile_plan *plan, int is_refined, double rho60_kgm3)
{
    return is_refined ? flc_petroleum_2004_refined_row(rho60_kgm3) : plan->petroleum.row;
}

static inline void take_alpha60_of(const flc_tile_plan *plan, int is_refined, flc_tile *t)
{
    EACH_LANE {
        const flc_petroleum_2004_row row = row_of(plan, is_refined, t->rho60[i]);
        const double per_rho60 = 1.0 / t->rho60[i];
        t->step[0][i] = per_rho60;
        t->step[1][i] = flc_petroleum_2004_rho_shift(row.k0, row.k1, row.k2, per_rho60);
    }
    EACH_LANE {
        const flc_petroleum_2004_row row = row_of(plan, is_refined, t->rho60[i]);
        const double per_rho = flc_petroleum_2004_per_rho_star(t->step[0][i], t->step[1][i]);
        t->per_rho_star[i] = per_rho;
        t->alpha60[i] = flc_petroleum_2004_alpha60(row.k0, row.k1, row.k2, per_rho);
    }
}

FLC_STAGE static void take_alpha60(const flc_tile_plan *plan, flc_tile *t)
{
    if (plan->petroleum.is_refined) {
        take_alpha60_of(plan, 1, t);
    } else {
        take_alpha60_of(plan, 0, t);
    }
}

/* CTL to the base from CTL60. */
FLC_STAGE static void take_base(const flc_tile_plan *plan, flc_tile *t)
{
    flc_petroleum_2004_steps base;
    base.t_degf = plan->base_degf;
    flc_petroleum_2004_temperature(&base);
    EACH_LANE {
        t->ctl60_at_base[i] = flc_petroleum_2004_ctl60(t->alpha60[i], base.dt_degf);
    }
    EACH_LANE {
        t->ctl[i] = t->ctl[i] / t->ctl60_at_base[i];
    }
    if (plan->in->rho_observed_kgm3.start != NULL) {
        EACH_LANE {
            const double rho = t->rho_base_kgm3[i];
            t->rho_base_kgm3[i] = rho == rho ? rho : t->rho60[i] * t->ctl60_at_base[i];
        }
    }
}

FLC_STAGE static void take_factors(const flc_tile_plan *plan, flc_tile *t)
{
    EACH_LANE {
        flc_petroleum_2004_steps s;
        s.t_degf = flc_petroleum_2004_degf(t->t_degc[i]);
        flc_petroleum_2004_temperature(&s);
        t->t_star[i] = s.t_star_degf;
        t->dt[i] = s.dt_degf;
    }
    EACH_LANE {
        t->ctl[i] = flc_petroleum_2004_ln_ctl60(t->alpha60[i], t->dt[i]);
        keep_reduced(t, i, flc_exp_reduction(flc_petroleum_2004_ln_fp(t->t_star[i], t->per_rho_star[i])));
    }
    EACH_LANE {
        t->ctl[i] = flc_exp_small(t->ctl[i]);
    }
    EACH_LANE {
        t->cpl[i] = exp_of_kept(t, i); /* Fp */
    }
    if (plan->liquid->options.base != FLC_PETROLEUM_BASE_60F) {
        take_base(plan, t);
    } else if (plan->in->rho_observed_kgm3.start != NULL) {
        EACH_LANE {
            const double rho = t->rho_base_kgm3[i];
            t->rho_base_kgm3[i] = rho == rho ? rho : t->rho60[i];
        }
    }
    EACH_LANE {
        t->cpl[i] = flc_petroleum_2004_cpl(t->cpl[i], flc_petroleum_2004_psi(t->p_used[i]));
        t->ctpl[i] = t->ctl[i] * t->cpl[i];
    }
}

FLC_STAGE static void take_volume(const flc_tile_plan *plan, flc_tile *t)
{
    if (plan->liquid->options.volume == FLC_VOLUME_PETROLEUM_2004) {
        if (plan->in->rho_observed_kgm3.start != NULL) {
            take_observed_density(plan, t);
        } else {
            take_base_density(plan, t);
        }
        if (plan->wants_factors) {
            take_alpha60(plan, t);
            take_factors(plan, t);
        }
    }
}

/* ---- viscosity ---- */

/* W of a table at the temperature of each lane: the last line whose first point is not above it. */
FLC_STAGE static void w_of_table(const flc_viscosity_table *table, flc_tile *t, double *w)
{
    const size_t lines = table->count > 1 ? table->count - 1 : 1;
    const flc_d341_line *first = &table->line[0];
    if (lines == 1) {
        EACH_LANE {
            keep_parts(t, i, flc_log_take_apart(flc_d341_t_ratio(first->t1_k, t->t_degc[i])));
        }
        EACH_LANE {
            const double log10_t = flc_log10_of_parts(t->step[0][i], t->step[1][i], t->step[2][i]);
            w[i] = flc_d341_w_of_log(first->w1, first->b, log10_t);
        }
        return;
    }
    EACH_LANE {
        t->line_t1[i] = first->t1_k;
        t->line_w1[i] = first->w1;
        t->line_b[i] = first->b;
    }
    for (size_t line = 1; line < lines; line++) {
        const flc_d341_line at = table->line[line];
        const double from = table->t_degc[line];
        EACH_LANE {
            const uint64_t here = mask_of(t->t_degc[i] >= from);
            t->line_t1[i] = pick(here, at.t1_k, t->line_t1[i]);
            t->line_w1[i] = pick(here, at.w1, t->line_w1[i]);
            t->line_b[i] = pick(here, at.b, t->line_b[i]);
        }
    }
    EACH_LANE {
        keep_parts(t, i, flc_log_take_apart(flc_d341_t_ratio(t->line_t1[i], t->t_degc[i])));
    }
    EACH_LANE {
        const double log10_t = flc_log10_of_parts(t->step[0][i], t->step[1][i], t->step[2][i]);
        w[i] = flc_d341_w_of_log(t->line_w1[i], t->line_b[i], log10_t);
    }
}

FLC_STAGE static void flag_table(const flc_viscosity_table *table, flc_tile *t)
{
    const double low = table->t_low_degc, high = table->t_high_degc;
    EACH_LANE {
        t->flags[i] |= ~within(t->t_degc[i], low, high) & ~t->idle[i] & FLC_FLAG_VISCOSITY_EXTRAPOLATED;
    }
}

FLC_STAGE static void nu_of_w(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_d341_form form = plan->liquid->options.form;
    const double low = flc_d341_nu_low(form) * (1.0 - 1e-9), high = FLC_D341_NU_HIGH * (1.0 + 1e-9);
    EACH_LANE {
        keep_reduced(t, i, flc_exp10_reduction(flc_d341_w_held(t->w[i])));
    }
    EACH_LANE {
        t->w[i] = exp_of_kept(t, i); /* log10 Z */
    }
    EACH_LANE {
        keep_reduced(t, i, flc_exp10_reduction(t->w[i]));
    }
    EACH_LANE {
        t->nu_mm2s[i] = exp_of_kept(t, i) - 0.7;
    }
    if (form != FLC_D341_SIMPLE) {
        uint64_t any_thin = 0;
        EACH_LANE {
            any_thin |= mask_of(t->nu_mm2s[i] <= FLC_D341_NU_THICK);
        }
        if (any_thin && form == FLC_D341_BODY) {
            EACH_LANE {
                t->nu_mm2s[i] = flc_d341_nu_body(t->nu_mm2s[i]);
            }
        } else if (any_thin) {
            EACH_LANE {
                t->nu_mm2s[i] = flc_d341_nu_full(t->nu_mm2s[i]);
            }
        }
    }
    EACH_LANE {
        require(t, i, within(t->nu_mm2s[i], low, high));
    }
}

FLC_STAGE static void take_between(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_liquid *liquid = plan->liquid;
    const double rho1 = liquid->first.rho_base_kgm3, rho2 = liquid->second.rho_base_kgm3;
    if (plan->wants_flags) {
        flag_table(&liquid->first, t);
        flag_table(&liquid->second, t);
    }
    w_of_table(&liquid->first, t, t->w);
    w_of_table(&liquid->second, t, t->second_w);
    EACH_LANE {
        const double rho = t->rho_base_kgm3[i];
        const double share = (rho - rho1) / (rho2 - rho1);
        require(t, i, within(rho, rho1, rho2));
        t->w[i] = t->w[i] + share * (t->second_w[i] - t->w[i]);
    }
    nu_of_w(plan, t);
}

FLC_STAGE static void take_viscosity(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_liquid *liquid = plan->liquid;
    const flc_viscosity_source source = liquid->options.viscosity;
    if (source == FLC_VISCOSITY_MEASURED) {
        EACH_LANE {
            t->nu_mm2s[i] = t->nu_given[i];
            require(t, i, within(t->nu_given[i], FLC_NU_LOW_MM2S, FLC_NU_HIGH_MM2S));
        }
    } else {
        if (plan->in->nu_mm2s.start != NULL) {
            EACH_LANE {
                require(t, i, mask_of(t->nu_given[i] != t->nu_given[i]));
            }
        }
        if (source == FLC_VISCOSITY_TYPICAL && liquid->first.count == 1) {
            EACH_LANE {
                t->nu_mm2s[i] = liquid->first.nu_mm2s[0];
            }
        } else if (source == FLC_VISCOSITY_BETWEEN) {
            take_between(plan, t);
        } else {
            if (plan->wants_flags) {
                flag_table(&liquid->first, t);
            }
            w_of_table(&liquid->first, t, t->w);
            nu_of_w(plan, t);
        }
    }
}

#endif
