/* SPDX-License-Identifier: Apache-2.0 */
/* Density at 60 degF from a density at other conditions, for nearly every record: a fixed number of steps without a
 * branch, so that many records go side by side. What it declines (answer NaN) goes through the complete search of
 * petroleum_2004.c: densities at the ends of the range or at a border of refined products, and conditions under which
 * density might not rise with density at 60 degF. One call and a batch decide alike, so the bits are the same. */
#ifndef FLC_PETROLEUM_2004_DIRECT_H
#define FLC_PETROLEUM_2004_DIRECT_H

#include "petroleum_2004_core.h"

/* One liquid's part: its row (chosen by density where it is refined), and the ends of the range, kg/m3 at 60 degF. */
typedef struct flc_petroleum_2004_liquid {
    flc_petroleum_2004_row row;
    int is_refined;
    double low, high;           /* of the search */
    double low60, high60;       /* of a density at 60 degF */
    double base_low, base_high; /* of a density at the base */
} flc_petroleum_2004_liquid;

/** The same of a product that has been checked, and its base. */
flc_petroleum_2004_liquid flc_petroleum_2004_liquid_of(flc_petroleum_product product, flc_petroleum_base base);

/* Nearer than this to an end or a border, kg/m3, the search is left to the complete procedure. At a border the two rows
 * differ by at most 5e-8/degF in alpha60, that is by 0.01 kg/m3. */
#define FLC_PETROLEUM_2004_END_MARGIN 0.001
#define FLC_PETROLEUM_2004_BORDER_MARGIN 0.02

/* A last step of this size, relative, leaves an error below the last bit. */
#define FLC_PETROLEUM_2004_LAST_STEP 0x1p-33

/* The unknown is h = CTPL: 1 / rho60 = h / rho needs no division. */
typedef struct flc_petroleum_2004_seek {
    double per_rho;                /* of the density given */
    double dt_degf, t_star_degf, pressure; /* 1e-5 p */
    double h, move;                /* where the search is, and its last step */
    double slope;                  /* of the excess there */
} flc_petroleum_2004_seek;

/** e^x to 5e-7 for |x| <= 0.3. */
static inline double flc_exp_rough(double x)
{
    return 1.0 + x * (1.0 + x * (0.5 + x * ((1.0 / 6.0) + x * ((1.0 / 24.0) + x * (1.0 / 120.0)))));
}

/** One step of Newton on h (1 - c(h)) - CTL60(h), c = 1e-5 Fp p. Rough: factors to 1e-6, for the way to the root. */
static inline void flc_petroleum_2004_step(const flc_petroleum_2004_row *row, int with_pressure, int is_rough,
                                           flc_petroleum_2004_seek *at)
{
    double per_rho60 = at->h * at->per_rho;
    double shift = flc_petroleum_2004_rho_shift(row->k0, row->k1, row->k2, per_rho60);
    double per_star = per_rho60 - per_rho60 * (shift * (1.0 - shift * (1.0 - shift)));
    double alpha = (row->k0 * per_star + row->k1) * per_star + row->k2;
    double alpha_dt = alpha * at->dt_degf;
    double exponent = -alpha_dt * (1.0 + 0.8 * (alpha * (at->dt_degf + FLC_PETROLEUM_2004_DELTA60)));
    double ctl = is_rough ? flc_exp_rough(exponent) : flc_exp_small(exponent);
    double alpha_rise = (2.0 * row->k0 * per_star + row->k1) * per_star * (1.0 - 2.0 * shift);
    double rise = alpha_rise * at->dt_degf * (1.0 + 1.6 * alpha_dt);
    if (!with_pressure) { /* then the slope is near 1, and a short series is its reciprocal */
        at->slope = 1.0 + rise;
        at->move = (at->h - ctl) * (1.0 - rise * (1.0 - rise * (1.0 - rise)));
    } else {
        double by_density = (793920.0 + 2326.0 * at->t_star_degf) * (per_star * per_star);
        double fp_exponent = -1.9947 + 0.00013427 * at->t_star_degf + by_density;
        double fp = flc_exp_rough(0.125 * fp_exponent);
        fp = fp * fp;
        fp = fp * fp;
        fp = is_rough ? fp * fp : flc_exp_inside(fp_exponent);
        double c = at->pressure * fp;
        at->slope = (1.0 - c) * (1.0 + rise) - 2.0 * c * by_density;
        at->move = (at->h * (1.0 - c) - ctl) / at->slope;
    }
    at->h = at->h - at->move;
}

/** The row of a refined product by 1 / rho60: which side of a border does not matter near it (see the margin). */
static inline flc_petroleum_2004_row flc_petroleum_2004_row_near(const flc_petroleum_2004_liquid *liquid,
                                                                 int is_refined, double per_rho60)
{
    return is_refined ? flc_petroleum_2004_refined_row_by(
                                    per_rho60 <= 1.0 / FLC_PETROLEUM_2004_TRANSITION_FROM,
                                    per_rho60 <= 1.0 / FLC_PETROLEUM_2004_JET_FROM,
                                    per_rho60 <= 1.0 / FLC_PETROLEUM_2004_FUEL_OIL_FROM)
                              : liquid->row;
}

static inline int flc_petroleum_2004_is_clear(double rho60, double border)
{
    return (rho60 < border - FLC_PETROLEUM_2004_BORDER_MARGIN) | (rho60 > border + FLC_PETROLEUM_2004_BORDER_MARGIN);
}

/** rho60, or NaN where it is left to the complete procedure. with_pressure 0: p is 0 and the temperature within 9 degF
 *  of 60 (a base). is_refined and with_pressure are constants where many records are treated. */
static inline double flc_petroleum_2004_rho60_direct(const flc_petroleum_2004_liquid *liquid, int is_refined,
                                                     int with_pressure, double rho_kgm3, double t_degf, double p_psig)
{
    flc_petroleum_2004_steps t;
    t.t_degf = t_degf;
    flc_petroleum_2004_temperature(&t);
    flc_petroleum_2004_seek at = {1.0 / rho_kgm3, t.dt_degf, t.t_star_degf, 1e-5 * p_psig, 1.0, 0.0, 1.0};
    flc_petroleum_2004_row row = flc_petroleum_2004_row_near(liquid, is_refined, at.per_rho);
    flc_petroleum_2004_step(&row, with_pressure, 1, &at);
    row = flc_petroleum_2004_row_near(liquid, is_refined, at.h * at.per_rho);
    flc_petroleum_2004_step(&row, with_pressure, 1, &at);
    row = flc_petroleum_2004_row_near(liquid, is_refined, at.h * at.per_rho);
    if (with_pressure) {
        flc_petroleum_2004_step(&row, 1, 1, &at);
        row = flc_petroleum_2004_row_near(liquid, is_refined, at.h * at.per_rho);
        flc_petroleum_2004_step(&row, 1, 0, &at);
    }
    flc_petroleum_2004_step(&row, with_pressure, 0, &at);
    double rho60 = rho_kgm3 / at.h;
    /* at the low end the density lies below the one given: CTL60 is under 1 + 0.001 K^-1 cold, CPL under 1 + 1e-4 p */
    double cold = at.dt_degf < 0.0 ? -at.dt_degf : 0.0;
    double lowest = liquid->low * (1.0 + 1e-3 * cold) * (1.0 + 1e-4 * p_psig);
    int good = (rho_kgm3 > lowest) & (at.slope > 0.5) &
               (flc_fabs(at.move) <= FLC_PETROLEUM_2004_LAST_STEP * at.h) &
               (rho60 >= liquid->low + FLC_PETROLEUM_2004_END_MARGIN) &
               (rho60 <= liquid->high - FLC_PETROLEUM_2004_END_MARGIN);
    if (is_refined) {
        good &= flc_petroleum_2004_is_clear(rho60, FLC_PETROLEUM_2004_TRANSITION_FROM) &
                flc_petroleum_2004_is_clear(rho60, FLC_PETROLEUM_2004_JET_FROM) &
                flc_petroleum_2004_is_clear(rho60, FLC_PETROLEUM_2004_FUEL_OIL_FROM);
    }
    return good ? rho60 : FLC_QUIET_NAN;
}

#endif
