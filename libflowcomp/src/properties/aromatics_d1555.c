/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/aromatics_d1555.h"
#include "method.h"

#include "tables/aromatics_d1555_table.inc"

#define AIR_SCALE 1.000149926
#define AIR_SHIFT 0.001199407795 /* g/cm3 */
#define LB_PER_GAL 8.345404452   /* of 1 g/cm3 */

static double vcf(flc_aromatic fluid, double t_degf)
{
    const double *k = aromatics_vcf[fluid];
    return k[0] + t_degf * (k[1] + t_degf * (k[2] + t_degf * (k[3] + t_degf * k[4])));
}

static double ctl(flc_aromatic fluid, double t_degc, double t_base_degc)
{
    return vcf(fluid, 1.8 * t_degc + 32.0) / vcf(fluid, 1.8 * t_base_degc + 32.0);
}

static flc_status ctl60_aromatics_d1555(flc_aromatic fluid, double t_degf, double *result)
{
    *result = vcf(fluid, t_degf);
    return FLC_OK;
}

static flc_status ctl15_aromatics_d1555(flc_aromatic fluid, double t_degc, double *result)
{
    *result = ctl(fluid, t_degc, 15.0);
    return FLC_OK;
}

static flc_status ctl20_aromatics_d1555(flc_aromatic fluid, double t_degc, double *result)
{
    *result = ctl(fluid, t_degc, 20.0);
    return FLC_OK;
}

static flc_status ctl_aromatics_d1555(flc_aromatic fluid, double t_degc, double t_base_degc, double *result)
{
    *result = ctl(fluid, t_degc, t_base_degc);
    return FLC_OK;
}

static flc_status rho60_from_observed_aromatics_d1555(flc_aromatic fluid, double rho_kgm3, double t_degf,
                                                      double *result)
{
    *result = rho_kgm3 / vcf(fluid, t_degf);
    return FLC_OK;
}

static flc_status rho15_from_observed_aromatics_d1555(flc_aromatic fluid, double rho_kgm3, double t_degc,
                                                      double *result)
{
    *result = rho_kgm3 / ctl(fluid, t_degc, 15.0);
    return FLC_OK;
}

static flc_status rho20_from_observed_aromatics_d1555(flc_aromatic fluid, double rho_kgm3, double t_degc,
                                                      double *result)
{
    *result = rho_kgm3 / ctl(fluid, t_degc, 20.0);
    return FLC_OK;
}

static flc_status rho_base_from_observed_aromatics_d1555(flc_aromatic fluid, double rho_kgm3, double t_degc,
                                                         double t_base_degc, double *result)
{
    *result = rho_kgm3 / ctl(fluid, t_degc, t_base_degc);
    return FLC_OK;
}

static flc_status rho_air_from_rho_vacuum_d1555(double rho_gcm3, double *result)
{
    *result = AIR_SCALE * rho_gcm3 - AIR_SHIFT;
    return FLC_OK;
}

static flc_status rho_vacuum_from_rho_air_d1555(double rho_air_gcm3, double *result)
{
    *result = (rho_air_gcm3 + AIR_SHIFT) / AIR_SCALE;
    return FLC_OK;
}

static flc_status lb_per_gal_from_gcm3_d1555(double rho_gcm3, double *result)
{
    *result = LB_PER_GAL * rho_gcm3;
    return FLC_OK;
}

static flc_status gcm3_from_lb_per_gal_d1555(double rho_lb_per_gal, double *result)
{
    *result = rho_lb_per_gal / LB_PER_GAL;
    return FLC_OK;
}

#include "methods/aromatics_d1555.inc"
