/* SPDX-License-Identifier: Apache-2.0 */
/* The arithmetic of API MPMS 11.1-2004 for the other layers: one forward evaluation with every intermediate value, so
 * that what is explained is what was evaluated, bit for bit. No checks: the caller has judged product, density,
 * temperature and pressure. */
#ifndef FLC_PETROLEUM_2004_CORE_H
#define FLC_PETROLEUM_2004_CORE_H

#include "flowcomp/petroleum_2004.h"
#include "fpmath.h"

#define FLC_PETROLEUM_2004_KPA_PER_PSI 6.894757  /* as printed in the standard */
#define FLC_PETROLEUM_2004_WATER_KGM3 999.016    /* density of water at 60 degF */
#define FLC_PETROLEUM_2004_T_STAR_60F 60.0068749 /* 60 degF of ITS-90 on IPTS-68, degF */
#define FLC_PETROLEUM_2004_DELTA60 0.01374979547 /* degF, twice the shift there */

/* Lowest density at 60 degF, kg/m3, of the refined groups above gasoline. */
#define FLC_PETROLEUM_2004_TRANSITION_FROM 770.3520
#define FLC_PETROLEUM_2004_JET_FROM 787.5195
#define FLC_PETROLEUM_2004_FUEL_OIL_FROM 838.3127

/* One forward evaluation, in the order of the calculation. */
typedef struct flc_petroleum_2004_steps {
    double rho60_kgm3, t_degf, p_psig; /* evaluated at */
    flc_petroleum_group group;         /* whose row was used: refined resolved by rho60; none where alpha60 is given */
    double k0, k1, k2;                 /* alpha60 = (k0 / rho* + k1) / rho* + k2 */
    double scale_shift_k;              /* t90 - t68 */
    double t_star_degf;                /* t on IPTS-68 */
    double rho_shift;                  /* rho* over rho60, less 1 */
    double rho_star_kgm3;
    double per_rho_star; /* 1/rho* */
    double alpha60_per_degf;
    double dt_degf; /* t* - 60.0068749 */
    double ctl60;
    double ctl60_at_base; /* by which ctl60 is divided: 1 for base 60 degF */
    double ctl;           /* to the base */
    double fp;            /* 1e-5/psi */
    double cpl;
    double ctpl;
} flc_petroleum_2004_steps;

/* The coefficients of a group: alpha60 = (k0 / rho* + k1) / rho* + k2, rho* in kg/m3, alpha60 in 1/degF. A given
 * alpha60 is the row {0, 0, alpha60}, for which the formula of rho* becomes the one the standard gives for it. */
typedef struct flc_petroleum_2004_row {
    double k0, k1, k2;
} flc_petroleum_2004_row;

/** The group itself; for refined products the one that rho60 lies in. */
static inline flc_petroleum_group flc_petroleum_2004_group_at(flc_petroleum_group group, double rho60_kgm3)
{
    if (group != FLC_PETROLEUM_REFINED) {
        return group;
    }
    return rho60_kgm3 >= FLC_PETROLEUM_2004_FUEL_OIL_FROM     ? FLC_PETROLEUM_FUEL_OIL
           : rho60_kgm3 >= FLC_PETROLEUM_2004_JET_FROM        ? FLC_PETROLEUM_JET
           : rho60_kgm3 >= FLC_PETROLEUM_2004_TRANSITION_FROM ? FLC_PETROLEUM_TRANSITION
                                                              : FLC_PETROLEUM_GASOLINE;
}

/** Row of a group that is not refined, or of a given alpha60 (group none). */
static inline flc_petroleum_2004_row flc_petroleum_2004_row_of(flc_petroleum_group group, double alpha60_per_degf)
{
    static const flc_petroleum_2004_row rows[] = {
        [FLC_PETROLEUM_CRUDE] = {341.0957, 0.0, 0.0},       [FLC_PETROLEUM_FUEL_OIL] = {103.8720, 0.2701, 0.0},
        [FLC_PETROLEUM_JET] = {330.3010, 0.0, 0.0},         [FLC_PETROLEUM_TRANSITION] = {1489.0670, 0.0, -0.00186840},
        [FLC_PETROLEUM_GASOLINE] = {192.4571, 0.2438, 0.0}, [FLC_PETROLEUM_LUBE] = {0.0, 0.34878, 0.0},
    };
    flc_petroleum_2004_row given = {0.0, 0.0, alpha60_per_degf};
    return group == FLC_PETROLEUM_GROUP_NONE ? given : rows[group];
}

/** Row of refined products: from which borders upwards? Selects, no branch. */
static inline flc_petroleum_2004_row flc_petroleum_2004_refined_row_by(int is_transition, int is_jet, int is_fuel_oil)
{
    double k0 = is_transition ? 1489.0670 : 192.4571;
    double k1 = is_transition ? 0.0 : 0.2438;
    double k2 = is_transition ? -0.00186840 : 0.0;
    k0 = is_jet ? 330.3010 : k0;
    k2 = is_jet ? 0.0 : k2;
    k0 = is_fuel_oil ? 103.8720 : k0;
    k1 = is_fuel_oil ? 0.2701 : k1;
    flc_petroleum_2004_row row = {k0, k1, k2};
    return row;
}

/** Row of refined products at a density. */
static inline flc_petroleum_2004_row flc_petroleum_2004_refined_row(double rho60_kgm3)
{
    return flc_petroleum_2004_refined_row_by(rho60_kgm3 >= FLC_PETROLEUM_2004_TRANSITION_FROM,
                                             rho60_kgm3 >= FLC_PETROLEUM_2004_JET_FROM,
                                             rho60_kgm3 >= FLC_PETROLEUM_2004_FUEL_OIL_FROM);
}

/** t90 - t68 in K at t90 in degC: polynomial in tau = t90 / 630 (Preston-Thomas and Quinn 1997). */
static inline double flc_t90_minus_t68(double t_degc)
{
    double tau = t_degc * (1.0 / 630.0);
    double sum = -3.536296;
    sum = sum * tau + 7.438081;
    sum = sum * tau - 1.871251;
    sum = sum * tau - 4.089591;
    sum = sum * tau + 1.269056;
    sum = sum * tau + 1.080760;
    sum = sum * tau - 0.267408;
    sum = sum * tau - 0.148759;
    return sum * tau;
}

/** t* in degF: the standard's 1.8 (t_C - shift) + 32, without its detour through the zero of degC. */
static inline double flc_petroleum_2004_t_star(double t_degf, double scale_shift_k)
{
    return t_degf - 1.8 * scale_shift_k;
}

/**
 * rho* / rho60 - 1 = [exp(A (1 + 0.8 A)) - 1] / [1 + A (1 + 1.6 A) B] at 1 / rho60. A is below 1e-5, so the exponential
 * and the quotient are short series whose first term left out is below 1e-16 of the result. A B needs no division:
 * A = (delta/2) alpha60 and B = (2 k0 + k1 rho60) / (alpha60 rho60^2).
 */
static inline double flc_petroleum_2004_rho_shift(double k0, double k1, double k2, double per_rho60)
{
    const double half_delta = 0.5 * FLC_PETROLEUM_2004_DELTA60;
    double a = half_delta * ((k0 * per_rho60 + k1) * per_rho60 + k2);
    double ab = half_delta * ((2.0 * k0 * per_rho60 + k1) * per_rho60);
    double x = a * (1.0 + 0.8 * a);
    double y = ab * (1.0 + 1.6 * a);
    double exp_minus_one = x + x * x * (0.5 + x * (1.0 / 6.0));
    return exp_minus_one * (1.0 - y * (1.0 - y * (1.0 - y)));
}

/** A and B of that shift as the standard writes them, for explain; A is the very number above. */
static inline double flc_petroleum_2004_a(const flc_petroleum_2004_steps *s)
{
    double per_rho60 = 1.0 / s->rho60_kgm3;
    return 0.5 * FLC_PETROLEUM_2004_DELTA60 * ((s->k0 * per_rho60 + s->k1) * per_rho60 + s->k2);
}
static inline double flc_petroleum_2004_b(const flc_petroleum_2004_steps *s)
{
    double rho60 = s->rho60_kgm3;
    return (2.0 * s->k0 + s->k1 * rho60) / (s->k0 + (s->k1 + s->k2 * rho60) * rho60);
}

/** 1 / rho* from 1 / rho60 and the shift. */
static inline double flc_petroleum_2004_per_rho_star(double per_rho60, double shift)
{
    return per_rho60 - per_rho60 * (shift * (1.0 - shift * (1.0 - shift)));
}

/** alpha60 at 1 / rho*. */
static inline double flc_petroleum_2004_alpha60(double k0, double k1, double k2, double per_rho_star)
{
    return (k0 * per_rho_star + k1) * per_rho_star + k2;
}

/** The density part of the steps: from rho60 and the coefficients to alpha60. */
static inline void flc_petroleum_2004_density(flc_petroleum_2004_steps *s)
{
    double per_rho60 = 1.0 / s->rho60_kgm3;
    double shift = flc_petroleum_2004_rho_shift(s->k0, s->k1, s->k2, per_rho60);
    s->rho_shift = shift;
    s->rho_star_kgm3 = s->rho60_kgm3 + s->rho60_kgm3 * shift;
    s->per_rho_star = flc_petroleum_2004_per_rho_star(per_rho60, shift);
    s->alpha60_per_degf = flc_petroleum_2004_alpha60(s->k0, s->k1, s->k2, s->per_rho_star);
}

/** The temperature part: t* and its distance from 60 degF. */
static inline void flc_petroleum_2004_temperature(flc_petroleum_2004_steps *s)
{
    s->scale_shift_k = flc_t90_minus_t68((s->t_degf - 32.0) * (1.0 / 1.8));
    s->t_star_degf = flc_petroleum_2004_t_star(s->t_degf, s->scale_shift_k);
    s->dt_degf = s->t_star_degf - FLC_PETROLEUM_2004_T_STAR_60F;
}

/** ln CTL60 from alpha60 and the distance from 60 degF: at most 0.27 in the range of the method. */
static inline double flc_petroleum_2004_ln_ctl60(double alpha60_per_degf, double dt_degf)
{
    double alpha_dt = alpha60_per_degf * dt_degf;
    double alpha_dt_delta = alpha60_per_degf * (dt_degf + FLC_PETROLEUM_2004_DELTA60);
    return -alpha_dt * (1.0 + 0.8 * alpha_dt_delta);
}

static inline double flc_petroleum_2004_ctl60(double alpha60_per_degf, double dt_degf)
{
    return flc_exp_small(flc_petroleum_2004_ln_ctl60(alpha60_per_degf, dt_degf));
}

/** ln Fp, Fp in 1e-5/psi, from t* and 1 / rho*. */
static inline double flc_petroleum_2004_ln_fp(double t_star_degf, double per_rho_star)
{
    double per_square = per_rho_star * per_rho_star;
    return -1.9947 + 0.00013427 * t_star_degf + (793920.0 + 2326.0 * t_star_degf) * per_square;
}

static inline double flc_petroleum_2004_fp(double t_star_degf, double per_rho_star)
{
    return flc_exp_inside(flc_petroleum_2004_ln_fp(t_star_degf, per_rho_star));
}

/** CPL from Fp in 1e-5/psi. */
static inline double flc_petroleum_2004_cpl(double fp, double p_psig)
{
    return 1.0 / (1.0 - 1e-5 * fp * p_psig);
}

/** The factors, once temperature and density parts are there. */
static inline void flc_petroleum_2004_factors(flc_petroleum_2004_steps *s)
{
    s->ctl60 = flc_petroleum_2004_ctl60(s->alpha60_per_degf, s->dt_degf);
    s->fp = flc_petroleum_2004_fp(s->t_star_degf, s->per_rho_star);
    s->cpl = flc_petroleum_2004_cpl(s->fp, s->p_psig);
}

/** Set the base: ctl60_at_base is CTL60 at the base temperature (1 for 60 degF); ctl and ctpl follow. */
static inline void flc_petroleum_2004_rebase(flc_petroleum_2004_steps *s, double ctl60_at_base)
{
    s->ctl60_at_base = ctl60_at_base;
    s->ctl = ctl60_at_base == 1.0 ? s->ctl60 : s->ctl60 / ctl60_at_base;
    s->ctpl = s->ctl * s->cpl;
}

/** The density and the row of its coefficients. */
static inline void flc_petroleum_2004_start(flc_petroleum_product product, double rho60_kgm3,
                                            flc_petroleum_2004_steps *s)
{
    s->rho60_kgm3 = rho60_kgm3;
    s->group = flc_petroleum_2004_group_at(product.group, rho60_kgm3);
    flc_petroleum_2004_row row = flc_petroleum_2004_row_of(s->group, product.alpha60_per_degf);
    s->k0 = row.k0;
    s->k1 = row.k1;
    s->k2 = row.k2;
}

/** One forward evaluation to base 60 degF. For another base, flc_petroleum_2004_rebase afterwards. */
static inline void flc_petroleum_2004_forward(flc_petroleum_product product, double rho60_kgm3, double t_degf,
                                              double p_psig, flc_petroleum_2004_steps *s)
{
    flc_petroleum_2004_start(product, rho60_kgm3, s);
    s->t_degf = t_degf;
    s->p_psig = p_psig;
    flc_petroleum_2004_temperature(s);
    flc_petroleum_2004_density(s);
    flc_petroleum_2004_factors(s);
    flc_petroleum_2004_rebase(s, 1.0);
}

/** degF and psi of the metric procedures. */
static inline double flc_petroleum_2004_degf(double t_degc)
{
    return 1.8 * t_degc + 32.0;
}
static inline double flc_petroleum_2004_psi(double p_kpa)
{
    return p_kpa * (1.0 / FLC_PETROLEUM_2004_KPA_PER_PSI);
}

/** Temperature of a base. */
static inline double flc_petroleum_2004_base_degf(flc_petroleum_base base)
{
    return base == FLC_PETROLEUM_BASE_60F ? 60.0 : base == FLC_PETROLEUM_BASE_15C ? 59.0 : 68.0;
}

/** CTL60 at the temperature of a base; 1 for 60 degF. It depends on the liquid only, so it is found once. */
static inline double flc_petroleum_2004_ctl60_at_base(flc_petroleum_product product, flc_petroleum_base base,
                                                      double rho60_kgm3)
{
    if (base == FLC_PETROLEUM_BASE_60F) {
        return 1.0;
    }
    flc_petroleum_2004_steps s;
    flc_petroleum_2004_start(product, rho60_kgm3, &s);
    s.t_degf = flc_petroleum_2004_base_degf(base);
    flc_petroleum_2004_temperature(&s);
    flc_petroleum_2004_density(&s);
    return flc_petroleum_2004_ctl60(s.alpha60_per_degf, s.dt_degf);
}

/** Both or neither of group and alpha60 (FLC_E_CONFLICT, FLC_E_MISSING), a group that is none (FLC_E_CHOICE), alpha60
 *  outside 230e-6 to 930e-6/degF. error may be NULL. */
flc_status flc_petroleum_check_product(flc_petroleum_product product, flc_error *error);

/** Density at the base against the limits of the product, which has been checked. error may be NULL. */
flc_status flc_petroleum_2004_check_density(flc_petroleum_product product, flc_petroleum_base base, double rho_kgm3,
                                            flc_error *error);

/** Density at 60 degF from an observed density, as the head of flowcomp/petroleum_2004.h says.
 *  FLC_E_NO_ROOT or FLC_E_NOT_MONOTONIC where there is none, rho60 then NaN. */
flc_status flc_petroleum_2004_rho60_from_observed(flc_petroleum_product product, double rho_kgm3, double t_degf,
                                                  double p_psig, double *rho60_kgm3);

/** Density at 60 degF from the density at a base and 0 gauge; for base 60 degF the same number. */
flc_status flc_petroleum_2004_rho60_from_base(flc_petroleum_product product, flc_petroleum_base base, double rho_kgm3,
                                              double *rho60_kgm3);

#endif
