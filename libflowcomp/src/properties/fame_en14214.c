/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/fame_en14214.h"
#include "method.h"

#define SLOPE 0.723 /* kg/m3 for each degC */

static double fall_from_15(double t_degc)
{
    return SLOPE * (t_degc - 15.0);
}

static flc_status rho15_fame_en14214(double rho_kgm3, double t_degc, double *result)
{
    *result = rho_kgm3 + fall_from_15(t_degc);
    return FLC_OK;
}

static flc_status rho_fame_en14214(double rho15_kgm3, double t_degc, double *result)
{
    *result = rho15_kgm3 - fall_from_15(t_degc);
    return FLC_OK;
}

static flc_status ctl15_fame_en14214(double rho15_kgm3, double t_degc, double *result)
{
    *result = 1.0 - fall_from_15(t_degc) / rho15_kgm3;
    return FLC_OK;
}

#include "methods/fame_en14214.inc"
