/* SPDX-License-Identifier: Apache-2.0 */
#include "petroleum_1980_core.h"
#include "piecewise_root.h"
#include "method.h"
#include "error.h"
#include "fpmath.h"

#define SET_60F FLC_PETROLEUM_1980_60F
#define SET_15C FLC_PETROLEUM_1980_15C

/* --- limits ------------------------------------------------------------------------------------------------------- */

flc_petroleum_1980_limits flc_petroleum_1980_limits_of(flc_petroleum_1980_set set, flc_petroleum_group group)
{
    static const flc_petroleum_1980_limits crude[2] = {{610.6, 1075.0}, {610.5, 1075.0}};
    static const flc_petroleum_1980_limits refined[2] = {{652.9, 1075.0}, {653.0, 1075.0}};
    static const flc_petroleum_1980_limits transition[2] = {{729.5, 842.3}, {729.5, 842.3}};
    static const flc_petroleum_1980_limits lube[2] = {{800.8, 1163.5}, {800.0, 1164.0}};
    return group == FLC_PETROLEUM_CRUDE        ? crude[set]
           : group == FLC_PETROLEUM_TRANSITION ? transition[set]
           : group == FLC_PETROLEUM_LUBE       ? lube[set]
                                               : refined[set];
}

flc_status flc_petroleum_1980_check_density(flc_petroleum_1980_set set, flc_petroleum_group group, double rho_kgm3)
{
    flc_petroleum_1980_limits limits = flc_petroleum_1980_limits_of(set, group);
    return rho_kgm3 < limits.low ? FLC_E_BELOW : rho_kgm3 > limits.high ? FLC_E_ABOVE : FLC_OK;
}

/* --- from an observed density ------------------------------------------------------------------------------------- */

static double observed_excess(const void *problem, double rho_base, double *slope)
{
    const flc_petroleum_1980_observation *o = problem;
    double rise;
    double vcf = flc_petroleum_1980_smooth_vcf(o, rho_base, &rise);
    *slope = vcf * (1.0 + rise);
    return rho_base * vcf - o->rho_kgm3;
}

flc_status flc_petroleum_1980_base_from_observed(flc_petroleum_1980_set set, flc_petroleum_group group, double rho_kgm3,
                                                 double t, flc_petroleum_1980_limits limits, double *rho_base_kgm3)
{
    flc_petroleum_1980_observation observations[FLC_PIECES_MAX];
    flc_petroleum_group groups[FLC_PIECES_MAX];
    flc_pieces pieces = flc_petroleum_pieces(observed_excess, group, groups);
    for (size_t i = 0; i < pieces.count; i++) {
        observations[i].row = flc_petroleum_1980_row_of(set, groups[i]);
        observations[i].rho_kgm3 = rho_kgm3;
        observations[i].dt = flc_petroleum_1980_dt(set, t);
        pieces.problems[i] = &observations[i];
    }
    *rho_base_kgm3 = flc_nan();
    return flc_piecewise_root(&pieces, limits.low - FLC_PETROLEUM_1980_LIMIT_ROUNDING,
                              limits.high + FLC_PETROLEUM_1980_LIMIT_ROUNDING, rho_kgm3, rho_base_kgm3);
}

/* Inside the limits of the group. */
static flc_status base_from(flc_petroleum_1980_set set, flc_petroleum_group group, double rho_kgm3, double t,
                            double *rho_base_kgm3)
{
    return flc_petroleum_1980_base_from_observed(set, group, rho_kgm3, t, flc_petroleum_1980_limits_of(set, group),
                                                 rho_base_kgm3);
}

/* --- hydrometer glass --------------------------------------------------------------------------------------------- */

static double glass_factor_degf(double t_degf, double glass_base_degf)
{
    double dt = t_degf - glass_base_degf;
    return 1.0 - 0.00001278 * dt - 0.0000000062 * dt * dt;
}

static double glass_factor_degc(double t_degc, double glass_base_degc)
{
    double dt = t_degc - glass_base_degc;
    return 1.0 - 0.000023 * dt - 0.00000002 * dt * dt;
}

/* True density at t of what was read, in the degree of the set; no base of the glass is NaN. */
static double true_density(flc_petroleum_1980_set set, double reading_kgm3, double t, double glass_base)
{
    if (flc_is_nan(glass_base)) {
        return reading_kgm3;
    }
    return reading_kgm3 * (set == SET_60F ? glass_factor_degf(t, glass_base) : glass_factor_degc(t, glass_base));
}

static flc_status hydrometer_glass_factor_1980_degf(double t_degf, double glass_base_degf, double *result)
{
    *result = glass_factor_degf(t_degf, glass_base_degf);
    return FLC_OK;
}

static flc_status hydrometer_glass_factor_1980_degc(double t_degc, double glass_base_degc, double *result)
{
    *result = glass_factor_degc(t_degc, glass_base_degc);
    return FLC_OK;
}

/* --- forward tables ----------------------------------------------------------------------------------------------- */

static double rho_from_api(double api)
{
    return 141.5 * FLC_PETROLEUM_1980_WATER_KGM3 / (api + 131.5);
}

static flc_status forward(flc_petroleum_1980_set set, flc_petroleum_group group, double rho_base_kgm3, double t,
                          double *vcf)
{
    flc_petroleum_1980_steps s;
    flc_status status = flc_petroleum_1980_check_density(set, group, rho_base_kgm3);
    if (status == FLC_OK) {
        flc_petroleum_1980_forward(set, group, rho_base_kgm3, t, &s);
        *vcf = s.vcf;
    }
    return status;
}

static flc_status ctl_table6_petroleum_1980(double api60, double t_degf, flc_petroleum_group group, double *result)
{
    return forward(SET_60F, group, rho_from_api(api60), t_degf, result);
}

static flc_status ctl_table24_petroleum_1980(double rd60, double t_degf, flc_petroleum_group group, double *result)
{
    return forward(SET_60F, group, rd60 * FLC_PETROLEUM_1980_WATER_KGM3, t_degf, result);
}

static flc_status ctl_table6c_petroleum_1980(double alpha60_per_degf, double t_degf, double *result)
{
    *result = flc_petroleum_1980_vcf(alpha60_per_degf, flc_petroleum_1980_dt(SET_60F, t_degf));
    return FLC_OK;
}

static flc_status ctl_table54_petroleum_1980(double rho15_kgm3, double t_degc, flc_petroleum_group group,
                                             double *result)
{
    return forward(SET_15C, group, rho15_kgm3, t_degc, result);
}

static flc_status ctl_table54c_petroleum_1980(double alpha15_per_degc, double t_degc, double *result)
{
    *result = flc_petroleum_1980_vcf(alpha15_per_degc, flc_petroleum_1980_dt(SET_15C, t_degc));
    return FLC_OK;
}

static flc_status ctl_petroleum_1980(double rho_base_kgm3, double t_degc, double t_base_degc, flc_petroleum_group group,
                                     double *result)
{
    double rho15;
    flc_status status = base_from(SET_15C, group, rho_base_kgm3, t_base_degc, &rho15);
    if (status == FLC_OK) {
        flc_petroleum_1980_steps at_t, at_base;
        flc_petroleum_1980_forward(SET_15C, group, rho15, t_degc, &at_t);
        flc_petroleum_1980_forward(SET_15C, group, rho15, t_base_degc, &at_base);
        *result = at_t.vcf / at_base.vcf;
    }
    return status;
}

static flc_status ctl_table60_petroleum_1980(double rho20_kgm3, double t_degc, flc_petroleum_group group,
                                             double *result)
{
    return ctl_petroleum_1980(rho20_kgm3, t_degc, 20.0, group, result);
}

/* --- inverse tables ----------------------------------------------------------------------------------------------- */

static flc_status api60_table5_petroleum_1980(double api, double t_degf, flc_petroleum_group group,
                                              double glass_base_degf, double *result)
{
    double rho60;
    double rho = true_density(SET_60F, rho_from_api(api), t_degf, glass_base_degf);
    flc_status status = base_from(SET_60F, group, rho, t_degf, &rho60);
    *result = 141.5 * FLC_PETROLEUM_1980_WATER_KGM3 / rho60 - 131.5;
    return status;
}

static flc_status rd60_table23_petroleum_1980(double rd, double t_degf, flc_petroleum_group group,
                                              double glass_base_degf, double *result)
{
    double rho60;
    double rho = true_density(SET_60F, rd * FLC_PETROLEUM_1980_WATER_KGM3, t_degf, glass_base_degf);
    flc_status status = base_from(SET_60F, group, rho, t_degf, &rho60);
    *result = rho60 / FLC_PETROLEUM_1980_WATER_KGM3;
    return status;
}

static flc_status rho15_table53_petroleum_1980(double rho_kgm3, double t_degc, flc_petroleum_group group,
                                               double glass_base_degc, double *result)
{
    return base_from(SET_15C, group, true_density(SET_15C, rho_kgm3, t_degc, glass_base_degc), t_degc, result);
}

/* Through the density at 15 degC to another base, alpha not rounded. */
static flc_status other_base_from_observed(double rho_kgm3, double t_degc, double t_base_degc,
                                           flc_petroleum_group group, double *result)
{
    double rho15;
    flc_status status = base_from(SET_15C, group, rho_kgm3, t_degc, &rho15);
    if (status == FLC_OK) {
        flc_petroleum_1980_steps at_base;
        flc_petroleum_1980_forward(SET_15C, group, rho15, t_base_degc, &at_base);
        *result = rho15 * flc_petroleum_1980_vcf(at_base.alpha_unrounded, at_base.dt);
    }
    return status;
}

static flc_status rho20_table59_petroleum_1980(double rho_kgm3, double t_degc, flc_petroleum_group group,
                                               double glass_base_degc, double *result)
{
    double rho = true_density(SET_15C, rho_kgm3, t_degc, glass_base_degc);
    return other_base_from_observed(rho, t_degc, 20.0, group, result);
}

static flc_status rho_base_from_observed_petroleum_1980(double rho_kgm3, double t_degc, double t_base_degc,
                                                        flc_petroleum_group group, double *result)
{
    return other_base_from_observed(rho_kgm3, t_degc, t_base_degc, group, result);
}

/* --- between the editions ----------------------------------------------------------------------------------------- */

static flc_status ctl15_difference_1980_2004(double rho15_kgm3, double t_degc, flc_petroleum_group group,
                                             double *result)
{
    double of_1980;
    double rho60 = flc_nan();
    flc_petroleum_product product = flc_petroleum_product_of_group(group);
    flc_status status = forward(SET_15C, group, rho15_kgm3, t_degc, &of_1980);
    if (status == FLC_OK) {
        status = flc_petroleum_2004_check_density(product, FLC_PETROLEUM_BASE_15C, rho15_kgm3, NULL);
    }
    if (status == FLC_OK) {
        status = flc_petroleum_2004_rho60_from_base(product, FLC_PETROLEUM_BASE_15C, rho15_kgm3, &rho60);
    }
    if (status == FLC_OK) {
        flc_petroleum_2004_steps s;
        flc_petroleum_2004_forward(product, rho60, flc_petroleum_2004_degf(t_degc), 0.0, &s);
        *result = of_1980 - s.ctl60 / flc_petroleum_2004_ctl60_at_base(product, FLC_PETROLEUM_BASE_15C, rho60);
    }
    return status;
}

#include "methods/petroleum_1980.inc"
