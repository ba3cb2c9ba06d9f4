/* SPDX-License-Identifier: Apache-2.0 */
/* The stages of the liquid: temperature and pressure, density, volume factors, viscosity. Part of tile_stages.h. */
#ifndef FLC_TILE_LIQUID_H
#define FLC_TILE_LIQUID_H

#include "tile_input.h"

/* ---- temperature, pressure, density ---- */

static void take_conditions(const flc_tile_plan *plan, flc_tile *t)
{
    const uint64_t clamps = mask_of(plan->liquid->options.negative_pressure == FLC_NEGATIVE_CLAMP);
    const int is_petroleum = plan->liquid->options.volume == FLC_VOLUME_PETROLEUM_2004;
    const double t_low = is_petroleum ? FLC_VOLUME_T_LOW_DEGC : FLC_RECORD_T_LOW_DEGC;
    const double t_high = is_petroleum ? FLC_VOLUME_T_HIGH_DEGC : FLC_RECORD_T_HIGH_DEGC;
    const double p_high = is_petroleum ? FLC_VOLUME_P_HIGH_KPAG : FLC_RECORD_P_HIGH_KPAG;
    EACH_LANE {
        const double p = t->p_kpag[i];
        const uint64_t negative = mask_of(p < 0.0);
        require(t, i,
                within(t->t_degc[i], t_low, t_high) & within(p, FLC_RECORD_P_LOW_KPAG, p_high) & (~negative | clamps));
        t->p_used[i] = pick(negative, 0.0, p);
        t->flags[i] |= negative & ~t->idle[i] & FLC_FLAG_PRESSURE_CLAMPED;
    }
}

/* Base density given: the same number at 60 degF, or the one that gives it. */
static void take_base_density(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_petroleum_2004_liquid *petroleum = &plan->petroleum;
    if (plan->liquid->options.base == FLC_PETROLEUM_BASE_60F) {
        EACH_LANE {
            t->rho60[i] = t->rho_base_given[i];
        }
    } else if (petroleum->is_refined) {
        EACH_LANE {
            t->rho60[i] = flc_petroleum_2004_rho60_direct(petroleum, 1, 0, t->rho_base_given[i], plan->base_degf, 0.0);
        }
    } else {
        EACH_LANE {
            t->rho60[i] = flc_petroleum_2004_rho60_direct(petroleum, 0, 0, t->rho_base_given[i], plan->base_degf, 0.0);
        }
    }
    EACH_LANE {
        t->rho_base_kgm3[i] = t->rho_base_given[i];
        require(t, i,
                within(t->rho_base_given[i], petroleum->base_low, petroleum->base_high) &
                    mask_of(t->rho60[i] == t->rho60[i]) & mask_of(t->rho_observed[i] != t->rho_observed[i]));
    }
}

static inline double rho60_observed(const flc_petroleum_2004_liquid *petroleum, int is_refined, const flc_tile *t,
                                    size_t i, double p_kpag)
{
    return flc_petroleum_2004_rho60_direct(petroleum, is_refined, 1, t->rho_observed[i] * t->densitometer_factor[i],
                                           flc_petroleum_2004_degf(t->t_observed[i]), flc_petroleum_2004_psi(p_kpag));
}

/* Observed density given: takes the place of the base density in its lanes. */
static void take_observed_density(const flc_tile_plan *plan, flc_tile *t)
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
        t->flags[i] |= observed & ~t->idle[i] &
                       (FLC_FLAG_OBSERVED_DENSITY | (negative & FLC_FLAG_PRESSURE_CLAMPED));
    }
}

/* ---- volume factors ---- */

static inline void factors(const flc_tile_plan *plan, int is_refined, int is_60f, flc_tile *t, size_t i)
{
    flc_petroleum_2004_steps s;
    const flc_petroleum_2004_row row =
        is_refined ? flc_petroleum_2004_refined_row(t->rho60[i]) : plan->petroleum.row;
    s.rho60_kgm3 = t->rho60[i];
    s.k0 = row.k0;
    s.k1 = row.k1;
    s.k2 = row.k2;
    flc_petroleum_2004_density(&s);
    s.t_degf = flc_petroleum_2004_degf(t->t_degc[i]);
    s.p_psig = flc_petroleum_2004_psi(t->p_used[i]);
    flc_petroleum_2004_temperature(&s);
    flc_petroleum_2004_factors(&s);
    double ctl = s.ctl60;
    if (!is_60f) {
        flc_petroleum_2004_steps base = s;
        base.t_degf = plan->base_degf;
        flc_petroleum_2004_temperature(&base);
        const double at_base = flc_petroleum_2004_ctl60(s.alpha60_per_degf, base.dt_degf);
        ctl = s.ctl60 / at_base;
        t->ctl60_at_base[i] = at_base;
    }
    t->ctl[i] = ctl;
    t->cpl[i] = s.cpl;
    t->ctpl[i] = ctl * s.cpl;
}

static void take_factors(const flc_tile_plan *plan, flc_tile *t)
{
    const int is_60f = plan->liquid->options.base == FLC_PETROLEUM_BASE_60F;
    if (plan->petroleum.is_refined && is_60f) {
        EACH_LANE {
            factors(plan, 1, 1, t, i);
        }
    } else if (plan->petroleum.is_refined) {
        EACH_LANE {
            factors(plan, 1, 0, t, i);
        }
    } else if (is_60f) {
        EACH_LANE {
            factors(plan, 0, 1, t, i);
        }
    } else {
        EACH_LANE {
            factors(plan, 0, 0, t, i);
        }
    }
    if (plan->in->rho_observed_kgm3.start != NULL) {
        EACH_LANE {
            const double rho = t->rho_base_kgm3[i];
            const double from_rho60 = is_60f ? t->rho60[i] : t->rho60[i] * t->ctl60_at_base[i];
            t->rho_base_kgm3[i] = rho == rho ? rho : from_rho60;
        }
    }
}

static void take_volume(const flc_tile_plan *plan, flc_tile *t)
{
    uint64_t always = FLC_FLAG_NO_VOLUME_CORRECTION;
    if (plan->liquid->options.volume == FLC_VOLUME_PETROLEUM_2004) {
        always = FLC_FLAG_FROM_MEMORY;
        if (plan->in->rho_observed_kgm3.start != NULL) {
            take_observed_density(plan, t);
        } else {
            take_base_density(plan, t);
        }
        if (plan->wants_factors) {
            take_factors(plan, t);
        }
    }
    EACH_LANE {
        t->flags[i] |= ~t->idle[i] & always;
    }
}

/* ---- viscosity ---- */

/* W of a table at the temperature of each lane: the last line whose first point is not above it. */
static void w_of_table(const flc_viscosity_table *table, flc_tile *t, double *w)
{
    const size_t lines = table->count > 1 ? table->count - 1 : 1;
    const flc_d341_line *first = &table->line[0];
    if (lines == 1) {
        EACH_LANE {
            w[i] = flc_d341_w_at(first->t1_k, first->w1, first->b, t->t_degc[i]);
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
        w[i] = flc_d341_w_at(t->line_t1[i], t->line_w1[i], t->line_b[i], t->t_degc[i]);
    }
}

static void check_table(const flc_tile_plan *plan, const flc_viscosity_table *table, flc_tile *t)
{
    const double reach = plan->liquid->options.beyond == FLC_VISCOSITY_EXTEND ? FLC_VISCOSITY_REACH_K : 0.0;
    const double low = table->t_low_degc, high = table->t_high_degc;
    EACH_LANE {
        const double at = t->t_degc[i];
        require(t, i, within(at, low - reach, high + reach));
        t->flags[i] |= ~within(at, low, high) & ~t->idle[i] & FLC_FLAG_VISCOSITY_EXTRAPOLATED;
    }
}

static void nu_of_w(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_d341_form form = plan->liquid->options.form;
    const double low = flc_d341_nu_low(form) * (1.0 - 1e-9), high = FLC_D341_NU_HIGH * (1.0 + 1e-9);
    EACH_LANE {
        t->nu_mm2s[i] = flc_d341_z_of_w(t->w[i]) - 0.7;
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

static void take_between(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_liquid *liquid = plan->liquid;
    const double rho1 = liquid->first.rho_base_kgm3, rho2 = liquid->second.rho_base_kgm3;
    check_table(plan, &liquid->first, t);
    check_table(plan, &liquid->second, t);
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

static void take_viscosity(const flc_tile_plan *plan, flc_tile *t)
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
            check_table(plan, &liquid->first, t);
            w_of_table(&liquid->first, t, t->w);
            nu_of_w(plan, t);
        }
    }
    EACH_LANE {
        t->flags[i] |= ~t->idle[i] & liquid->viscosity_flags;
    }
}

#endif
