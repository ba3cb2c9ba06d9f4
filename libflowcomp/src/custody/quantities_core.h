/* SPDX-License-Identifier: Apache-2.0 */
/* The products behind the quantities of a ticket, unchecked: one place for the order of their factors. */
#ifndef FLC_QUANTITIES_CORE_H
#define FLC_QUANTITIES_CORE_H

#include "flowcomp/status.h"

/** MF CTL CPL, in this order. */
static inline double flc_ccf_of(double mf, double ctl, double cpl)
{
    return mf * ctl * cpl;
}

/** 1 - S&W/100. */
static inline double flc_csw_of(double sw_pct)
{
    return 1.0 - sw_pct / 100.0;
}

/** 1/[1 - (P - Pe) F]; an equilibrium pressure below atmospheric counts as atmospheric. */
static inline flc_status flc_cpl_of(double p, double pe, double f, double *cpl)
{
    const double rest = 1.0 - (p - (pe > 0.0 ? pe : 0.0)) * f;
    *cpl = 1.0 / rest;
    return rest > 0.0 ? FLC_OK : FLC_E_DOMAIN;
}

/** (1 - ra/rho)/(1 - ra/rw): weight in air over mass. */
static inline double flc_weight_in_air_of(double rho_kgm3, double rho_air_kgm3, double rho_weights_kgm3)
{
    return (1.0 - rho_air_kgm3 / rho_kgm3) / (1.0 - rho_air_kgm3 / rho_weights_kgm3);
}

/** (rho - 1.1)/rho, the short form of petroleum tables. */
static inline double flc_weight_in_air_petroleum_of(double rho_kgm3)
{
    return (rho_kgm3 - 1.1) / rho_kgm3;
}

#endif
