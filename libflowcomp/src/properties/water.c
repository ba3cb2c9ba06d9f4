/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/water.h"
#include "method.h"
#include "water_core.h"

#define ATM_KPA 101.325

/* --- CIPM-2001 ---------------------------------------------------------------------------------------------------- */

static double cipm_density(double t)
{
    static const double a[] = {-3.983035, 301.797, 522528.9, 69.34881, 999.974950};
    double from_maximum = t + a[0];
    return a[4] - a[4] * (from_maximum * from_maximum * (t + a[1]) / (a[2] * (t + a[3])));
}

static flc_status rho_water_cipm_2001(double t_degc, double p_kpa, double *result)
{
    double compressibility = (50.74 + t_degc * (-0.326 + t_degc * 0.00416)) * 1e-11; /* 1/Pa */
    *result = cipm_density(t_degc) * (1.0 + compressibility * (1000.0 * (p_kpa - ATM_KPA)));
    return FLC_OK;
}

static flc_status air_saturation_shift_water_cipm_2001(double t_degc, double *result)
{
    *result = -4.612e-3 + 0.106e-3 * t_degc;
    return FLC_OK;
}

static flc_status ctl_water_cipm_2001(double t_degc, double t_base_degc, double *result)
{
    *result = cipm_density(t_degc) / cipm_density(t_base_degc);
    return FLC_OK;
}

/* --- Patterson and Morris ----------------------------------------------------------------------------------------- */

static double patterson_morris_density(double t)
{
    double d = t - 3.9818;
    double fall = -3.596458e-12;
    fall = fall * d + 7.314894e-10;
    fall = fall * d - 7.575677e-8;
    fall = fall * d + 7.926504e-6;
    fall = fall * d + 7.0134e-8;
    return 999.97358 - 999.97358 * (fall * d);
}

static flc_status rho_water_patterson_morris_1994(double t_degc, double *result)
{
    *result = patterson_morris_density(t_degc);
    return FLC_OK;
}

static flc_status ctl_water_patterson_morris_1994(double t_degc, double t_base_degc, double *result)
{
    *result = patterson_morris_density(t_degc) / patterson_morris_density(t_base_degc);
    return FLC_OK;
}

/* --- Jones and Harris --------------------------------------------------------------------------------------------- */

static double jones_harris_density(double t)
{
    return 999.85308 + t * (6.32693e-2 + t * (-8.523829e-3 + t * (6.943248e-5 + t * -3.821216e-7)));
}

static flc_status rho_water_jones_harris_1992(double t_degc, double *result)
{
    *result = jones_harris_density(t_degc);
    return FLC_OK;
}

static flc_status ctl_water_jones_harris_1992(double t_degc, double t_base_degc, double *result)
{
    *result = jones_harris_density(t_degc) / jones_harris_density(t_base_degc);
    return FLC_OK;
}

/* --- Kell --------------------------------------------------------------------------------------------------------- */

static flc_status rho_water_kell_1975(double t_degc, double *result)
{
    *result = flc_water_kell_density(t_degc);
    return FLC_OK;
}

static flc_status ctl_water_kell_1975(double t_degc, double t_base_degc, double *result)
{
    *result = flc_water_kell_density(t_degc) / flc_water_kell_density(t_base_degc);
    return FLC_OK;
}

static flc_status kappa_water_kell_1975(double t_degc, double *result)
{
    double top = 410.4110e-12;
    top = top * t_degc - 58.47727e-9;
    top = top * t_degc + 20.08438e-6;
    top = top * t_degc + 1.459187e-3;
    top = top * t_degc + 0.6163813;
    top = top * t_degc + 50.88496;
    *result = top / (1.0 + 19.67348e-3 * t_degc);
    return FLC_OK;
}

/* --- common practice ---------------------------------------------------------------------------------------------- */

static flc_status cpl_water_common_practice(double p_psig, double *result)
{
    *result = flc_water_cpl(p_psig);
    return FLC_OK;
}

#include "methods/water.inc"
