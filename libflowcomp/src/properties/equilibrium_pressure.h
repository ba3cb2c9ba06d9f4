/* SPDX-License-Identifier: Apache-2.0 */
/* The pressure that compresses a liquid: what lies above its equilibrium vapour pressure. */
#ifndef FLC_EQUILIBRIUM_PRESSURE_H
#define FLC_EQUILIBRIUM_PRESSURE_H

#include "flowcomp/status.h"

/** Gauge equilibrium pressure as a base: below atmospheric the base is 0 gauge. */
static inline double flc_equilibrium_base(double pe_gauge)
{
    return pe_gauge > 0.0 ? pe_gauge : 0.0;
}

/** 1 / (1 - f (p - pe)) with p, pe gauge and 1/f in one unit; FLC_E_DOMAIN where p lies below pe, or f (p - pe)
 * reaches 1. */
static inline flc_status flc_cpl_above_equilibrium(double f, double p, double pe, double *cpl)
{
    double dp = p - flc_equilibrium_base(pe);
    double compressed = 1.0 - f * dp;
    if (dp < 0.0 || compressed <= 0.0) {
        return FLC_E_DOMAIN;
    }
    *cpl = 1.0 / compressed;
    return FLC_OK;
}

#endif
