/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/prover_steel.h"
#include "error.h"
#include "method.h"
#include "rounding_core.h"

/* Which of two sets of inputs of n numbers is given: complete alone, or why not. */
static flc_status one_set_complete(const double *first, const double *second, int n, const double **set)
{
    int in_first = 0, in_second = 0;
    for (int i = 0; i < n; i++) {
        in_first += !flc_is_nan(first[i]);
        in_second += !flc_is_nan(second[i]);
    }
    if (in_first > 0 && in_second > 0) {
        return FLC_E_CONFLICT;
    }
    *set = in_first > 0 ? first : second;
    return in_first + in_second == n ? FLC_OK : FLC_E_MISSING;
}

static flc_status rounded(double factor, double decimals, double *result)
{
    *result = factor;
    return flc_is_nan(decimals) ? FLC_OK : flc_round_to_decimals(factor, decimals, result);
}

static flc_status cts_prover_pipe(double gc_per_degf, double t_degf, double tb_degf, double decimals,
                                  double gc_per_degc, double t_degc, double tb_degc, double *result)
{
    const double customary[] = {gc_per_degf, t_degf, tb_degf}, metric[] = {gc_per_degc, t_degc, tb_degc};
    const double *set;
    flc_status status = one_set_complete(customary, metric, 3, &set);
    return status != FLC_OK ? status : rounded(1.0 + set[0] * (set[1] - set[2]), decimals, result);
}

static flc_status cts_prover_small_volume(double ga_per_degf, double gl_rod_per_degf, double t_degf, double t_rod_degf,
                                          double tb_degf, double *result)
{
    *result = (1.0 + ga_per_degf * (t_degf - tb_degf)) * (1.0 + gl_rod_per_degf * (t_rod_degf - tb_degf));
    return FLC_OK;
}

static flc_status cps_prover(double p_psig, double id_in, double wall_in, double e_psi, double decimals, double p_kpag,
                             double id_mm, double wall_mm, double e_kpa, double *result)
{
    const double customary[] = {p_psig, id_in, wall_in, e_psi}, metric[] = {p_kpag, id_mm, wall_mm, e_kpa};
    const double *set;
    flc_status status = one_set_complete(customary, metric, 4, &set);
    return status != FLC_OK ? status : rounded(1.0 + set[0] * set[1] / (set[3] * set[2]), decimals, result);
}

#include "methods/prover_steel.inc"
