/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/produced_water.h"
#include "bracketed_newton.h"
#include "method.h"
#include "water_core.h"

#define RHO60_LOW 999.0 /* kg/m3: salinity 0 */
#define RHO60_HIGH 1100.0
#define KGM3_PER_PERCENT 7.2
#define KPA_PER_PSI 6.894757

/* CTL = fresh + B per_percent at one temperature. */
typedef struct ctl_line {
    double fresh, per_percent;
} ctl_line;

static ctl_line ctl_line_at(double t_degf)
{
    double d = t_degf - 60.0;
    ctl_line line = {1.0 - d * (1.0312e-4 + d * (1.2701e-6 - d * 1.2333e-9)),
                     -(d * (7.1568e-6 - d * (4.4641e-8 - d * 2.2436e-11)))};
    return line;
}

static double ctl60_on(ctl_line line, double rho60)
{
    return line.fresh + (rho60 - RHO60_LOW) / KGM3_PER_PERCENT * line.per_percent;
}

static double degf(double t_degc)
{
    return 1.8 * t_degc + 32.0;
}

/* --- the inverse -------------------------------------------------------------------------------------------------- */

typedef struct observation {
    ctl_line line;
    double rho_kgm3; /* at t and 0 gauge */
} observation;

/* rho60 CTL(rho60) - rho: rises with rho60, since salinity changes CTL by 2e-4 per per cent at most. */
static double observed_excess(const void *problem, double rho60, double *slope)
{
    const observation *o = problem;
    const double ctl = ctl60_on(o->line, rho60);
    *slope = ctl + rho60 / KGM3_PER_PERCENT * o->line.per_percent;
    return rho60 * ctl - o->rho_kgm3;
}

static flc_status rho60_from_observed(double rho_kgm3, double t_degf, double p_psig, double *rho60)
{
    const observation o = {ctl_line_at(t_degf), rho_kgm3 / flc_water_cpl(p_psig)};
    double slope;
    if (observed_excess(&o, RHO60_LOW, &slope) > 0.0 || observed_excess(&o, RHO60_HIGH, &slope) < 0.0) {
        return FLC_E_NO_ROOT;
    }
    const double root =
        flc_bracketed_newton(observed_excess, &o, RHO60_LOW, RHO60_HIGH, 0.5 * (RHO60_LOW + RHO60_HIGH));
    *rho60 = root < RHO60_LOW ? RHO60_LOW : root > RHO60_HIGH ? RHO60_HIGH : root;
    return FLC_OK;
}

/* --- the methods -------------------------------------------------------------------------------------------------- */

static flc_status ctl60_produced_water_api20(double rho60_kgm3, double t_degf, double *result)
{
    *result = ctl60_on(ctl_line_at(t_degf), rho60_kgm3);
    return FLC_OK;
}

static flc_status rho60_from_observed_produced_water_api20(double rho_kgm3, double t_degf, double p_psig,
                                                           double *result)
{
    return rho60_from_observed(rho_kgm3, t_degf, p_psig, result);
}

static flc_status ctl_produced_water_api20(double rho_base_kgm3, double t_base_degc, double t_degc, double *result)
{
    double rho60 = 0.0;
    flc_status status = rho60_from_observed(rho_base_kgm3, degf(t_base_degc), 0.0, &rho60);
    *result = ctl60_on(ctl_line_at(degf(t_degc)), rho60) / ctl60_on(ctl_line_at(degf(t_base_degc)), rho60);
    return status;
}

static flc_status rho_base_from_observed_produced_water_api20(double rho_kgm3, double t_degc, double t_base_degc,
                                                              double p_kpag, double *result)
{
    double rho60 = 0.0;
    flc_status status = rho60_from_observed(rho_kgm3, degf(t_degc), p_kpag / KPA_PER_PSI, &rho60);
    *result = rho60 * ctl60_on(ctl_line_at(degf(t_base_degc)), rho60);
    return status;
}

#include "methods/produced_water.inc"
