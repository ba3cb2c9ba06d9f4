/* SPDX-License-Identifier: Apache-2.0 */
/* The arithmetic of the tables of 1980 for other files: the forward factor with its intermediate values, and the
 * inverse. No checks: the caller has judged group, density and temperature. */
#ifndef FLC_PETROLEUM_1980_CORE_H
#define FLC_PETROLEUM_1980_CORE_H

#include "flowcomp/petroleum_1980.h"
#include "petroleum_2004_core.h"
#include "rounding_core.h"
#include "fpmath.h"

#define FLC_PETROLEUM_1980_WATER_KGM3 999.012 /* density of water at 60 degF in the tables of 1980, from memory */

/* The two sets of tables: each has its base, its degree and its constants. */
typedef enum flc_petroleum_1980_set {
    FLC_PETROLEUM_1980_60F = 0, /* temperatures in degF */
    FLC_PETROLEUM_1980_15C = 1  /* temperatures in degC */
} flc_petroleum_1980_set;

/* alpha = (k0 / rho + k1) / rho + k2, rho in kg/m3 at the base, alpha in 1/degF or 1/degC. */
typedef struct flc_petroleum_1980_row {
    double k0, k1, k2;
} flc_petroleum_1980_row;

/** Row of a group that is not refined. */
static inline flc_petroleum_1980_row flc_petroleum_1980_row_of(flc_petroleum_1980_set set, flc_petroleum_group group)
{
    static const flc_petroleum_1980_row rows[2][7] = {
        {
            [FLC_PETROLEUM_CRUDE] = {341.0957, 0.0, 0.0},
            [FLC_PETROLEUM_FUEL_OIL] = {103.8720, 0.2701, 0.0},
            [FLC_PETROLEUM_JET] = {330.3010, 0.0, 0.0},
            [FLC_PETROLEUM_TRANSITION] = {1489.0670, 0.0, -0.0018684},
            [FLC_PETROLEUM_GASOLINE] = {192.4571, 0.2438, 0.0},
            [FLC_PETROLEUM_LUBE] = {0.0, 0.34878, 0.0},
        },
        {
            [FLC_PETROLEUM_CRUDE] = {613.9723, 0.0, 0.0},
            [FLC_PETROLEUM_FUEL_OIL] = {186.9696, 0.4862, 0.0},
            [FLC_PETROLEUM_JET] = {594.5418, 0.0, 0.0},
            [FLC_PETROLEUM_TRANSITION] = {2680.3206, 0.0, -0.00336312},
            [FLC_PETROLEUM_GASOLINE] = {346.4228, 0.4388, 0.0},
            [FLC_PETROLEUM_LUBE] = {0.0, 0.6278, 0.0},
        },
    };
    return rows[set][group];
}

/** Degrees above the base of the set. */
static inline double flc_petroleum_1980_dt(flc_petroleum_1980_set set, double t)
{
    return t - (set == FLC_PETROLEUM_1980_60F ? 60.0 : 15.0);
}

static inline double flc_petroleum_1980_alpha(flc_petroleum_1980_row row, double rho_kgm3)
{
    return (row.k0 / rho_kgm3 + row.k1) / rho_kgm3 + row.k2;
}

/** alpha to 1e-7, half away from zero. */
static inline double flc_petroleum_1980_rounded(double alpha)
{
    double rounded = alpha;
    (void)flc_round_to_step(alpha, flc_step_of_decimals(7), &rounded); /* no alpha is large enough to fail */
    return rounded;
}

static inline double flc_petroleum_1980_vcf(double alpha, double dt)
{
    return flc_exp(-alpha * dt * (1.0 + 0.8 * alpha * dt));
}

/* One forward evaluation, in the order of the calculation. */
typedef struct flc_petroleum_1980_steps {
    flc_petroleum_1980_set set;
    double rho_base_kgm3, t;   /* evaluated at; t in the degree of the set */
    flc_petroleum_group group; /* refined resolved by the density */
    flc_petroleum_1980_row row;
    double alpha_unrounded, alpha; /* in the degree of the set */
    double dt;
    double vcf;
} flc_petroleum_1980_steps;

/** Forward table 6, 24 or 54: from the density at the base of the set. */
static inline void flc_petroleum_1980_forward(flc_petroleum_1980_set set, flc_petroleum_group group,
                                              double rho_base_kgm3, double t, flc_petroleum_1980_steps *s)
{
    s->set = set;
    s->rho_base_kgm3 = rho_base_kgm3;
    s->t = t;
    s->group = flc_petroleum_2004_group_at(group, rho_base_kgm3);
    s->row = flc_petroleum_1980_row_of(set, s->group);
    s->alpha_unrounded = flc_petroleum_1980_alpha(s->row, rho_base_kgm3);
    s->alpha = flc_petroleum_1980_rounded(s->alpha_unrounded);
    s->dt = flc_petroleum_1980_dt(set, t);
    s->vcf = flc_petroleum_1980_vcf(s->alpha, s->dt);
}

/* A density at t, and the constants of one group: the problem of an inverse. */
typedef struct flc_petroleum_1980_observation {
    flc_petroleum_1980_row row;
    double rho_kgm3, dt;
} flc_petroleum_1980_observation;

/** VCF at a density with alpha not rounded; its logarithmic slope, d ln VCF / d ln rho, goes into rise. */
static inline double flc_petroleum_1980_smooth_vcf(const flc_petroleum_1980_observation *o, double rho_base,
                                                   double *rise)
{
    double alpha = flc_petroleum_1980_alpha(o->row, rho_base);
    double alpha_fall = (2.0 * o->row.k0 / rho_base + o->row.k1) / rho_base; /* - d alpha / d ln rho */
    *rise = alpha_fall * o->dt * (1.0 + 1.6 * alpha * o->dt);
    return flc_petroleum_1980_vcf(alpha, o->dt);
}

/* Densities at the base between which an inverse looks; the printed limits are rounded, so it may pass them by
 * FLC_PETROLEUM_1980_LIMIT_ROUNDING. */
typedef struct flc_petroleum_1980_limits {
    double low, high;
} flc_petroleum_1980_limits;

#define FLC_PETROLEUM_1980_LIMIT_ROUNDING 0.01 /* kg/m3 */

/** Limits of a group at the base of a set. */
flc_petroleum_1980_limits flc_petroleum_1980_limits_of(flc_petroleum_1980_set set, flc_petroleum_group group);

/** Below, above, or inside the limits of the group. */
flc_status flc_petroleum_1980_check_density(flc_petroleum_1980_set set, flc_petroleum_group group, double rho_kgm3);

/** Density at the base of the set from the density at t and 0 gauge, alpha not rounded. FLC_E_NO_ROOT outside limits.
 */
flc_status flc_petroleum_1980_base_from_observed(flc_petroleum_1980_set set, flc_petroleum_group group, double rho_kgm3,
                                                 double t, flc_petroleum_1980_limits limits, double *rho_base_kgm3);

#endif
