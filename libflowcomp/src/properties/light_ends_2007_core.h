/* SPDX-License-Identifier: Apache-2.0 */
/* The arithmetic of GPA TP-27 (2007) for other files. No checks but those said below. */
#ifndef FLC_LIGHT_ENDS_2007_CORE_H
#define FLC_LIGHT_ENDS_2007_CORE_H

#include "flowcomp/light_ends_2007.h"

#define FLC_LIGHT_ENDS_2007_WATER_KGM3 999.016 /* density of water at 60 degF */

/** Kelvin as the standard takes them from degF and degC. */
static inline double flc_light_ends_2007_k_of_degf(double t_degf)
{
    return (t_degf + 459.67) / 1.8;
}
static inline double flc_light_ends_2007_k_of_degc(double t_degc)
{
    return t_degc + 273.15;
}

/* A reference fluid, as printed. */
typedef struct flc_light_ends_2007_fluid {
    double rd60, tc_k, zc, rho_c; /* relative density at 60 degF, critical point (rho_c in mol/L) */
    double k1, k2, k3, k4;        /* of the saturated density */
} flc_light_ends_2007_fluid;

/** The reference fluids, lightest first, and their number. */
const flc_light_ends_2007_fluid *flc_light_ends_2007_fluids(size_t *count);

/* A saturated density and how it falls: d ln rho / d ln Tr. */
typedef struct flc_light_ends_2007_saturated {
    double rho, slope; /* mol/L; 1 */
} flc_light_ends_2007_saturated;

/** Saturated density of a reference fluid at a reduced temperature; above 1 that of the critical point. */
flc_light_ends_2007_saturated flc_light_ends_2007_density(const flc_light_ends_2007_fluid *fluid, double tr);

/** CTL60 and, into slope, its d ln CTL60 / d rd60. above_critical is set where T lies above the critical temperature;
 *  CTL60 is then that of the critical point. rd60 between those of the first and last fluid. */
double flc_light_ends_2007_ctl60(double rd60, double t_k, double *slope, int *above_critical);

/** Relative density at 60 degF from that at T, as the head of flowcomp/light_ends_2007.h says. FLC_E_NO_ROOT. */
flc_status flc_light_ends_2007_rd60_from_observed(double rd, double t_k, double *rd60);

#endif
