/* SPDX-License-Identifier: Apache-2.0 */
/* Thermal strain of a body for the other layers. No checks: the caller has judged the temperature. */
#ifndef FLC_METALS_CORE_H
#define FLC_METALS_CORE_H

#include "flowcomp/metals.h"
#include "nist_cryogenic_core.h"

#define FLC_METALS_KELVIN 273.15

/** L(T) / L(T0) - 1. The NIST law gives L against L(293 K): (1 + e(T)) / (1 + e(T0)) - 1, written as a difference over
 *  1 + e(T0). */
static inline double flc_metal_nist_strain(const flc_metal *metal, double t_degc, double t0_degc)
{
    double difference = t_degc - t0_degc;
    const flc_nist_expansion_row *row = &flc_nist_expansions[metal->nist];
    double t_k = t_degc + FLC_METALS_KELVIN;
    double t0_k = t0_degc + FLC_METALS_KELVIN;
    double change = 1e-5 * flc_nist_strain_difference(row, t_k, t0_k, difference);
    return change / (1.0 + 1e-5 * flc_nist_strain(row, t0_k));
}

static inline double flc_metal_strain(const flc_metal *metal, double t_degc, double t0_degc)
{
    return metal->law == FLC_EXPANSION_MEAN ? metal->alpha_per_k * (t_degc - t0_degc)
                                            : flc_metal_nist_strain(metal, t_degc, t0_degc);
}

#endif
