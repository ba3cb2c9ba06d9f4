/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/costald.h"
#include "fpmath.h"
#include "method.h"

#define TR_LOW 0.25
#define TR_HIGH 0.95

/* Critical temperature K, characteristic volume L/mol, acentric factor of Soave's equation, molar mass g/mol. */
typedef struct costald_row {
    double t_critical, v_star, omega, molar_mass;
} costald_row;

#include "tables/costald_table.inc"

static flc_status check_reduced(const costald_row *row, double t_k)
{
    return t_k < TR_LOW * row->t_critical ? FLC_E_BELOW : t_k > TR_HIGH * row->t_critical ? FLC_E_ABOVE : FLC_OK;
}

/* V0, a sum of powers of the cube root of 1 - Tr */
static double spherical_volume(double x)
{
    const double root = flc_cbrt(x);
    return 1.0 + root * (-1.52816 + root * (1.43907 + root * (-0.81446 + root * 0.190454)));
}

/* Vd */
static double deviation_volume(double tr)
{
    const double top = -0.296123 + tr * (0.386914 + tr * (-0.0427258 + tr * -0.0480645));
    return top / (tr - 1.00001);
}

static double saturated_density(const costald_row *row, double t_k)
{
    const double x = (row->t_critical - t_k) / row->t_critical;
    const double molar_volume =
        row->v_star * (spherical_volume(x) * (1.0 - row->omega * deviation_volume(t_k / row->t_critical)));
    return row->molar_mass / molar_volume;
}

static flc_status rho_saturated_liquid_costald_1979(flc_costald_fluid fluid, double t_k, double *result)
{
    const costald_row *row = &costald_rows[fluid];
    *result = saturated_density(row, t_k);
    return check_reduced(row, t_k);
}

static flc_status ctl_saturated_liquid_costald_1979(flc_costald_fluid fluid, double t_k, double t_base_k,
                                                    double *result)
{
    const costald_row *row = &costald_rows[fluid];
    const flc_status status = check_reduced(row, t_k);
    *result = saturated_density(row, t_k) / saturated_density(row, t_base_k);
    return status != FLC_OK ? status : check_reduced(row, t_base_k);
}

/* B over the critical pressure */
static double pressure_scale(const costald_row *row, double t_k)
{
    const double omega = row->omega;
    const double e = flc_exp(4.79594 + omega * (0.250047 + omega * 1.14188));
    const double root = flc_cbrt((row->t_critical - t_k) / row->t_critical);
    return -1.0 + root * (-9.070217 + root * (62.45326 + root * (-135.1102 + root * e)));
}

/* The logarithm is that of 1 + (p - psat) / (B + psat), so that it is 0 at the vapour pressure. */
static flc_status cpl_costald_1982(flc_costald_fluid fluid, double t_k, double p_kpa, double psat_kpa, double pc_kpa,
                                   double *result)
{
    const costald_row *row = &costald_rows[fluid];
    const flc_status status = check_reduced(row, t_k);
    if (status != FLC_OK) {
        return status;
    }
    if (!(psat_kpa < pc_kpa)) {
        return FLC_E_CONFLICT;
    }
    const double base = pc_kpa * pressure_scale(row, t_k) + psat_kpa;
    if (!(base > 0.0)) {
        return FLC_E_DOMAIN;
    }
    const double fall = (0.0861488 + 0.0344483 * row->omega) * flc_log(1.0 + (p_kpa - psat_kpa) / base);
    *result = 1.0 / (1.0 - fall);
    return p_kpa < psat_kpa ? FLC_E_BELOW : fall < 1.0 ? FLC_OK : FLC_E_DOMAIN;
}

static flc_status rho_compressed_liquid_costald_1982(flc_costald_fluid fluid, double t_k, double p_kpa, double psat_kpa,
                                                     double pc_kpa, double *result)
{
    double cpl = 1.0;
    const flc_status status = cpl_costald_1982(fluid, t_k, p_kpa, psat_kpa, pc_kpa, &cpl);
    *result = saturated_density(&costald_rows[fluid], t_k) * cpl;
    return status;
}

static flc_status rho_base_from_observed_costald_1982(flc_costald_fluid fluid, double rho_kgm3, double t_k,
                                                      double p_kpa, double psat_kpa, double pc_kpa, double t_base_k,
                                                      double *result)
{
    double cpl = 1.0, ctl = 1.0;
    flc_status status = cpl_costald_1982(fluid, t_k, p_kpa, psat_kpa, pc_kpa, &cpl);
    if (status == FLC_OK) {
        status = ctl_saturated_liquid_costald_1979(fluid, t_k, t_base_k, &ctl);
    }
    *result = rho_kgm3 / (ctl * cpl);
    return status;
}

#include "methods/costald.inc"
