/* SPDX-License-Identifier: Apache-2.0 */
#include "compressibility_1984_core.h"
#include "piecewise_root.h"
#include "method.h"
#include "error.h"
#include "fpmath.h"

#define SET_60F FLC_PETROLEUM_1980_60F
#define SET_15C FLC_PETROLEUM_1980_15C
#define RHO_LOW 638.0 /* kg/m3, of both standards */
#define RHO_HIGH 1074.0

/* To here the national standards read the metric formula. */
#define RHO_NATIONAL_HIGH 1164.0

static double factor(flc_petroleum_1980_set set, double rho_kgm3, double t)
{
    double fall;
    return flc_compressibility_1984_f(set, rho_kgm3, t, &fall);
}

static flc_status f_compressibility_1984_metric(double rho15_kgm3, double t_degc, double *result)
{
    *result = factor(SET_15C, rho15_kgm3, t_degc);
    return FLC_OK;
}

static flc_status f_compressibility_1984_customary(double rho60_kgm3, double t_degf, double *result)
{
    *result = factor(SET_60F, rho60_kgm3, t_degf);
    return FLC_OK;
}

static flc_status f_from_observed_compressibility_1984_metric(double rho_kgm3, double t_degc, flc_petroleum_group group,
                                                              double *result)
{
    double rho15;
    flc_petroleum_1980_limits limits = flc_petroleum_1980_limits_of(SET_15C, group);
    limits.high = group == FLC_PETROLEUM_TRANSITION ? limits.high : RHO_NATIONAL_HIGH;
    flc_status status = flc_petroleum_1980_base_from_observed(SET_15C, group, rho_kgm3, t_degc, limits, &rho15);
    if (status == FLC_OK) {
        *result = factor(SET_15C, rho15, t_degc);
    }
    return status;
}

static flc_status cpl_compressibility_1984_metric(double rho15_kgm3, double t_degc, double p_kpag, double pe_kpag,
                                                  double *result)
{
    return flc_cpl_above_equilibrium(1e-6 * factor(SET_15C, rho15_kgm3, t_degc), p_kpag, pe_kpag, result);
}

static flc_status cpl_compressibility_1984_customary(double rho60_kgm3, double t_degf, double p_psig, double pe_psig,
                                                     double *result)
{
    return flc_cpl_above_equilibrium(1e-5 * factor(SET_60F, rho60_kgm3, t_degf), p_psig, pe_psig, result);
}

static flc_status rho_at_zero_gauge_compressibility_1984_metric(double rho_kgm3, double t_degc, double p_kpag,
                                                                flc_petroleum_group group, double *result)
{
    double f;
    flc_status status = f_from_observed_compressibility_1984_metric(rho_kgm3, t_degc, group, &f);
    if (status == FLC_OK) {
        status = flc_round_to_step(f, flc_step_of_decimals(3), &f);
    }
    if (status == FLC_OK) {
        *result = rho_kgm3 * (1.0 - 1e-6 * f * p_kpag);
    }
    return status;
}

/* --- from an observed density under pressure ---------------------------------------------------------------------- */

/* The constants of one group at t and dp, for the density observed there. */
typedef struct observation {
    flc_petroleum_1980_observation thermal;
    flc_petroleum_1980_set set;
    double t, dp; /* dp in the unit of the set */
} observation;

/* rho VCF CPL less the observed density. */
static double observed_excess(const void *problem, double rho_base, double *slope)
{
    const observation *o = problem;
    double rise, fall;
    double vcf = flc_petroleum_1980_smooth_vcf(&o->thermal, rho_base, &rise);
    double f = flc_compressibility_1984_row_of(o->set).unit * flc_compressibility_1984_f(o->set, rho_base, o->t, &fall);
    double cpl = 1.0 / (1.0 - f * o->dp);
    *slope = vcf * cpl * (1.0 + rise - cpl * f * o->dp * fall);
    return rho_base * vcf * cpl - o->thermal.rho_kgm3;
}

/* The stricter of the limits of both standards. */
static flc_petroleum_1980_limits common_limits(flc_petroleum_1980_set set, flc_petroleum_group group)
{
    flc_petroleum_1980_limits limits = flc_petroleum_1980_limits_of(set, group);
    limits.low = limits.low < RHO_LOW ? RHO_LOW : limits.low;
    limits.high = limits.high > RHO_HIGH ? RHO_HIGH : limits.high;
    return limits;
}

static flc_status base_from_observed(flc_petroleum_1980_set set, flc_petroleum_group group, double rho_kgm3, double t,
                                     double dp, double *result)
{
    if (dp < 0.0) {
        return FLC_E_DOMAIN;
    }
    observation observations[FLC_PIECES_MAX];
    flc_petroleum_group groups[FLC_PIECES_MAX];
    flc_pieces pieces = flc_petroleum_pieces(observed_excess, group, groups);
    for (size_t i = 0; i < pieces.count; i++) {
        flc_petroleum_1980_observation thermal = {flc_petroleum_1980_row_of(set, groups[i]), rho_kgm3,
                                                  flc_petroleum_1980_dt(set, t)};
        observations[i] = (observation){thermal, set, t, dp};
        pieces.problems[i] = &observations[i];
    }
    flc_petroleum_1980_limits limits = common_limits(set, group);
    return flc_piecewise_root(&pieces, limits.low - FLC_PETROLEUM_1980_LIMIT_ROUNDING,
                              limits.high + FLC_PETROLEUM_1980_LIMIT_ROUNDING, rho_kgm3, result);
}

static flc_status rho15_from_observed_compressibility_1984_metric(double rho_kgm3, double t_degc, double p_kpag,
                                                                  flc_petroleum_group group, double pe_kpag,
                                                                  double *result)
{
    return base_from_observed(SET_15C, group, rho_kgm3, t_degc, p_kpag - flc_equilibrium_base(pe_kpag), result);
}

static flc_status rho60_from_observed_compressibility_1984_customary(double rho_kgm3, double t_degf, double p_psig,
                                                                     flc_petroleum_group group, double pe_psig,
                                                                     double *result)
{
    return base_from_observed(SET_60F, group, rho_kgm3, t_degf, p_psig - flc_equilibrium_base(pe_psig), result);
}

#include "methods/compressibility_1984.inc"
