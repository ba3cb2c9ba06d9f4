/* SPDX-License-Identifier: Apache-2.0 */
/* The arithmetic of API MPMS 11.2.1 and 11.2.1M (1984) for other files. No checks. */
#ifndef FLC_COMPRESSIBILITY_1984_CORE_H
#define FLC_COMPRESSIBILITY_1984_CORE_H

#include "flowcomp/compressibility_1984.h"
#include "petroleum_1980_core.h"
#include "equilibrium_pressure.h"
#include "fpmath.h"

/* F = exp(a + b t + (c + d t) / rho^2), rho in g/cm3; unit is that of F in 1/psi or 1/kPa. The set names base and
 * degree. */
typedef struct flc_compressibility_1984_row {
    double a, b, c, d, unit;
} flc_compressibility_1984_row;

static inline flc_compressibility_1984_row flc_compressibility_1984_row_of(flc_petroleum_1980_set set)
{
    static const flc_compressibility_1984_row rows[] = {
        [FLC_PETROLEUM_1980_60F] = {-1.99470, 0.00013427, 0.79392, 0.0023260, 1e-5},
        [FLC_PETROLEUM_1980_15C] = {-1.62080, 0.00021592, 0.87096, 0.0042092, 1e-6},
    };
    return rows[set];
}

/** F in its printed unit; its logarithmic fall, - d ln F / d ln rho, goes into fall. */
static inline double flc_compressibility_1984_f(flc_petroleum_1980_set set, double rho_kgm3, double t, double *fall)
{
    flc_compressibility_1984_row row = flc_compressibility_1984_row_of(set);
    double rho = rho_kgm3 / 1000.0;
    double by_density = (row.c + row.d * t) / (rho * rho);
    *fall = 2.0 * by_density;
    return flc_exp(row.a + row.b * t + by_density);
}

#endif
