/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/ethanol_oiml_r22.h"
#include "bracketed_newton.h"
#include "double_double.h"
#include "method.h"

#include "tables/ethanol_oiml_r22_table.inc"

#define T0_DEGC 20.0
#define AIR_KGM3 1.2
#define BRASS_KGM3 8393.0
#define KG_PER_LB 0.45359237
#define M3_PER_GAL 0.003785411784
#define T_60F_DEGC (140.0 / 9.0)

/* Highest power of p beside each power of (t - 20). */
static const int p_degree[] = {11, 11, 10, 9, 4, 2, 0};

static flc_dd plus_times(flc_dd sum, flc_dd factor, flc_dd term)
{
    return flc_dd_add(flc_dd_multiply(sum, factor), term);
}

/* rho as a polynomial in p at one temperature: coefficients of p^0 to p^11. */
typedef struct isotherm {
    flc_dd term[12];
} isotherm;

static isotherm isotherm_at(double t_degc)
{
    const flc_dd dt = flc_dd_sum(t_degc, -T0_DEGC);
    isotherm at = {{{0.0, 0.0}}};
    for (size_t i = FLC_COUNT_OF(p_degree); i-- > 0;) {
        for (int k = 0; k <= p_degree[i]; k++) {
            at.term[k] = plus_times(at.term[k], dt, density_terms[i][k]);
        }
    }
    return at;
}

/* rho(p), and d rho / dp in plain double: it only steers Newton's steps. */
static double density_on(const isotherm *at, double p, double *slope)
{
    flc_dd rho = at->term[11];
    double rise = 0.0;
    for (int k = 10; k >= 0; k--) {
        rise = rise * p + rho.hi;
        rho = plus_times(rho, flc_dd_of(p), at->term[k]);
    }
    *slope = rise;
    return rho.hi;
}

static double density(double p, double t_degc)
{
    const isotherm at = isotherm_at(t_degc);
    double slope;
    return density_on(&at, p, &slope);
}

/* --- the inverses ------------------------------------------------------------------------------------------------- */

typedef struct observation {
    isotherm at;
    double target; /* what the excess function reaches at the mass fraction sought */
} observation;

/* p rho(p) - q rho(1): rises with p. */
static double volume_excess(const void *problem, double p, double *slope)
{
    const observation *o = problem;
    double rise;
    const double rho = density_on(&o->at, p, &rise);
    *slope = rho + p * rise;
    return p * rho - o->target;
}

/* rho - rho(p): rises with p. */
static double density_excess(const void *problem, double p, double *slope)
{
    const observation *o = problem;
    double rise;
    const double rho = density_on(&o->at, p, &rise);
    *slope = -rise;
    return o->target - rho;
}

static double inside(double fraction)
{
    return fraction < 0.0 ? 0.0 : fraction > 1.0 ? 1.0 : fraction;
}

static double mass_fraction_from_volume(double q, double t_ref_degc)
{
    observation o = {isotherm_at(t_ref_degc), 0.0};
    double slope;
    o.target = q * density_on(&o.at, 1.0, &slope);
    return inside(flc_bracketed_newton(volume_excess, &o, 0.0, 1.0, q));
}

static flc_status mass_fraction_from_density(double rho_kgm3, double t_degc, double *p)
{
    const observation o = {isotherm_at(t_degc), rho_kgm3};
    double slope;
    const double water = density_on(&o.at, 0.0, &slope), ethanol = density_on(&o.at, 1.0, &slope);
    if (rho_kgm3 > water || rho_kgm3 < ethanol) {
        return FLC_E_NO_ROOT;
    }
    *p = inside(flc_bracketed_newton(density_excess, &o, 0.0, 1.0, (water - rho_kgm3) / (water - ethanol)));
    return FLC_OK;
}

/* --- the methods -------------------------------------------------------------------------------------------------- */

static flc_status rho_ethanol_water_oiml_r22(double mass_fraction, double t_degc, double *result)
{
    *result = density(mass_fraction, t_degc);
    return FLC_OK;
}

static flc_status volume_percent_from_mass_fraction_ethanol_oiml_r22(double mass_fraction, double t_ref_degc,
                                                                     double *result)
{
    *result = 100.0 * (mass_fraction * density(mass_fraction, t_ref_degc) / density(1.0, t_ref_degc));
    return FLC_OK;
}

static flc_status mass_percent_from_volume_fraction_ethanol_oiml_r22(double volume_fraction, double t_ref_degc,
                                                                     double *result)
{
    *result = 100.0 * mass_fraction_from_volume(volume_fraction, t_ref_degc);
    return FLC_OK;
}

static flc_status mass_percent_from_density_ethanol_oiml_r22(double rho_kgm3, double t_degc, double *result)
{
    double p = 0.0;
    flc_status status = mass_fraction_from_density(rho_kgm3, t_degc, &p);
    *result = 100.0 * p;
    return status;
}

static flc_status sg_in_air_ethanol_oiml_r22(double volume_fraction, double t_ref_degc, double t_degc, double *result)
{
    const double p = mass_fraction_from_volume(volume_fraction, t_ref_degc);
    *result = (density(p, t_degc) - AIR_KGM3) / (density(0.0, t_degc) - AIR_KGM3);
    return FLC_OK;
}

static flc_status gal_per_lb_in_air_ethanol_oiml_r22(double proof, double *result)
{
    const double rho = density(mass_fraction_from_volume(proof / 200.0, T_60F_DEGC), T_60F_DEGC);
    *result = KG_PER_LB * (1.0 - AIR_KGM3 / BRASS_KGM3) / ((rho - AIR_KGM3) * M3_PER_GAL);
    return FLC_OK;
}

static flc_status ctl_ethanol_water_oiml_r22(double mass_fraction, double t_degc, double t_base_degc, double *result)
{
    *result = density(mass_fraction, t_degc) / density(mass_fraction, t_base_degc);
    return FLC_OK;
}

static flc_status ctl15_ethanol_water_oiml_r22(double mass_fraction, double t_degc, double *result)
{
    return ctl_ethanol_water_oiml_r22(mass_fraction, t_degc, 15.0, result);
}

static flc_status ctl20_ethanol_water_oiml_r22(double mass_fraction, double t_degc, double *result)
{
    return ctl_ethanol_water_oiml_r22(mass_fraction, t_degc, 20.0, result);
}

static flc_status rho_base_from_observed_ethanol_water_oiml_r22(double rho_kgm3, double t_degc, double t_base_degc,
                                                                double *result)
{
    double p = 0.0;
    flc_status status = mass_fraction_from_density(rho_kgm3, t_degc, &p);
    *result = density(p, t_base_degc);
    return status;
}

static flc_status rho15_from_observed_ethanol_water_oiml_r22(double rho_kgm3, double t_degc, double *result)
{
    return rho_base_from_observed_ethanol_water_oiml_r22(rho_kgm3, t_degc, 15.0, result);
}

static flc_status rho20_from_observed_ethanol_water_oiml_r22(double rho_kgm3, double t_degc, double *result)
{
    return rho_base_from_observed_ethanol_water_oiml_r22(rho_kgm3, t_degc, 20.0, result);
}

#include "methods/ethanol_oiml_r22.inc"
