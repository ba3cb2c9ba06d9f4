/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/seawater_eos80.h"
#include "bracketed_newton.h"
#include "method.h"
#include "seawater_eos80_core.h"

#define SALINITY_HIGH 42.0

static double cpl_at(flc_salinity_terms modulus, double s, double p)
{
    return 1.0 / (1.0 - p / flc_salinity_sum(modulus, s));
}

static double density(double s, double t, double p)
{
    return flc_seawater_surface_density(s, t) * cpl_at(flc_seawater_modulus(t, p), s, p);
}

/* --- the inverse -------------------------------------------------------------------------------------------------- */

typedef struct observation {
    flc_salinity_terms surface, modulus;
    double p_bar, rho_kgm3;
} observation;

/* rho(S) - rho: rises with S, at most 10 % less steeply under pressure, because K rises too. */
static double density_excess(const void *problem, double s, double *slope)
{
    const observation *o = problem;
    const double rho0 = flc_salinity_sum(o->surface, s), k = flc_salinity_sum(o->modulus, s);
    const double cpl = cpl_at(o->modulus, s, o->p_bar);
    const double cpl_fall = cpl * cpl * (o->p_bar / (k * k)) * flc_salinity_slope(o->modulus, s);
    *slope = cpl * flc_salinity_slope(o->surface, s) - rho0 * cpl_fall;
    return rho0 * cpl - o->rho_kgm3;
}

static flc_status salinity_from_density(double rho_kgm3, double t, double p, double *s)
{
    const observation o = {flc_seawater_surface(t), flc_seawater_modulus(t, p), p, rho_kgm3};
    double slope;
    if (density_excess(&o, 0.0, &slope) > 0.0 || density_excess(&o, SALINITY_HIGH, &slope) < 0.0) {
        return FLC_E_NO_ROOT;
    }
    const double root = flc_bracketed_newton(density_excess, &o, 0.0, SALINITY_HIGH, 0.5 * SALINITY_HIGH);
    *s = root < 0.0 ? 0.0 : root > SALINITY_HIGH ? SALINITY_HIGH : root;
    return FLC_OK;
}

/* --- the methods -------------------------------------------------------------------------------------------------- */

static flc_status rho_seawater_eos80(double s_psu, double t_degc, double p_bar, double *result)
{
    *result = density(s_psu, t_degc, p_bar);
    return FLC_OK;
}

static flc_status ctl_seawater_eos80(double s_psu, double t_degc, double t_base_degc, double *result)
{
    *result = flc_seawater_surface_density(s_psu, t_degc) / flc_seawater_surface_density(s_psu, t_base_degc);
    return FLC_OK;
}

static flc_status cpl_seawater_eos80(double s_psu, double t_degc, double p_bar, double *result)
{
    *result = cpl_at(flc_seawater_modulus(t_degc, p_bar), s_psu, p_bar);
    return FLC_OK;
}

static flc_status s_psu_from_observed_seawater_eos80(double rho_kgm3, double t_degc, double p_bar, double *result)
{
    return salinity_from_density(rho_kgm3, t_degc, p_bar, result);
}

static flc_status rho_base_from_observed_seawater_eos80(double rho_kgm3, double t_degc, double t_base_degc,
                                                        double p_bar, double *result)
{
    double s = 0.0;
    flc_status status = salinity_from_density(rho_kgm3, t_degc, p_bar, &s);
    *result = flc_seawater_surface_density(s, t_base_degc);
    return status;
}

#include "methods/seawater_eos80.inc"
