/* SPDX-License-Identifier: Apache-2.0 */
/* The NIST cryogenic strain for the other layers. No checks. */
#ifndef FLC_NIST_CRYOGENIC_CORE_H
#define FLC_NIST_CRYOGENIC_CORE_H

#include "flowcomp/nist_cryogenic.h"

/* e(T) = 1e5 (L(T) - L(293 K)) / L(293 K): a + b T + c T^2 + d T^3 + e T^4 from t_low_k up, f below. */
typedef struct flc_nist_expansion_row {
    double a, b, c, d, e, f;
    double t_low_k, range_lo_k, range_hi_k;
    flc_provenance status;
} flc_nist_expansion_row;

/* Generated table, by alloy. */
extern const flc_nist_expansion_row flc_nist_expansions[];

/** e(T) in 1e-5. */
static inline double flc_nist_strain(const flc_nist_expansion_row *row, double t_k)
{
    double polynomial = row->a + t_k * (row->b + t_k * (row->c + t_k * (row->d + t_k * row->e)));
    return t_k < row->t_low_k ? row->f : polynomial;
}

/** de/dT in 1e-5/K, from t_low_k up. */
static inline double flc_nist_strain_slope(const flc_nist_expansion_row *row, double t_k)
{
    return row->b + t_k * (2.0 * row->c + t_k * (3.0 * row->d + t_k * 4.0 * row->e));
}

/** e(T) - e(T0) in 1e-5. On the polynomial it is (T - T0) times the divided difference, so that neighbouring
 *  temperatures do not cancel; difference_k is T - T0. */
static inline double flc_nist_strain_difference(const flc_nist_expansion_row *row, double t_k, double t0_k,
                                                double difference_k)
{
    int is_cold = (t_k < row->t_low_k) | (t0_k < row->t_low_k);
    double plain = flc_nist_strain(row, t_k) - flc_nist_strain(row, t0_k);
    double t0_squared = t0_k * t0_k;
    double second = t_k + t0_k;
    double third = t_k * second + t0_squared;
    double fourth = t_k * third + t0_squared * t0_k;
    double divided = difference_k * (row->b + row->c * second + row->d * third + row->e * fourth);
    return is_cold ? plain : divided;
}

/** Young's modulus at 293 K in GPa, NaN where the alloy has no polynomial. */
double flc_nist_modulus_at_293_k(flc_nist_material material);

#endif
