/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/saturated_liquids.h"
#include "fpmath.h"
#include "method.h"

#define TERMS_MAX 6

/* Is the sum the logarithm of rho / rho_c, or rho / rho_c - 1? */
typedef enum ancillary_form { ANCILLARY_LN, ANCILLARY_LIN } ancillary_form;

typedef struct ancillary_term {
    double n, e;
} ancillary_term;

typedef struct ancillary_row {
    ancillary_form form;
    double t_triple, t_critical, rho_critical;
    ancillary_term terms[TERMS_MAX]; /* the first with n = 0 ends them */
} ancillary_row;

#include "tables/saturated_liquids_table.inc"

static double ancillary_density(const ancillary_row *row, double t_k)
{
    const double th = (row->t_critical - t_k) / row->t_critical;
    double sum = 0.0;
    for (size_t i = 0; i < TERMS_MAX && row->terms[i].n != 0.0; i++) {
        sum += row->terms[i].n * flc_pow(th, row->terms[i].e);
    }
    return row->rho_critical * (row->form == ANCILLARY_LN ? flc_exp(sum) : 1.0 + sum);
}

static flc_status check_liquid(const ancillary_row *row, double t_k)
{
    return t_k < row->t_triple ? FLC_E_BELOW : t_k > row->t_critical ? FLC_E_ABOVE : FLC_OK;
}

static flc_status rho_saturated_liquid_ancillary(flc_saturated_liquid fluid, double t_k, double *result)
{
    const ancillary_row *row = &ancillary_rows[fluid];
    *result = ancillary_density(row, t_k);
    return check_liquid(row, t_k);
}

static flc_status ctl_saturated_liquid_ancillary(flc_saturated_liquid fluid, double t_k, double t_base_k,
                                                 double *result)
{
    const ancillary_row *row = &ancillary_rows[fluid];
    const flc_status status = check_liquid(row, t_k);
    *result = ancillary_density(row, t_k) / ancillary_density(row, t_base_k);
    return status != FLC_OK ? status : check_liquid(row, t_base_k);
}

static flc_status rho_base_from_observed_saturated_liquid_ancillary(flc_saturated_liquid fluid, double rho_kgm3,
                                                                    double t_k, double t_base_k, double *result)
{
    double ctl = 1.0;
    const flc_status status = ctl_saturated_liquid_ancillary(fluid, t_k, t_base_k, &ctl);
    *result = rho_kgm3 / ctl;
    return status;
}

static flc_status ctl_from_density_ratio(double rho_kgm3, double rho_base_kgm3, double *result)
{
    *result = rho_kgm3 / rho_base_kgm3;
    return FLC_OK;
}

#include "methods/saturated_liquids.inc"
