/* SPDX-License-Identifier: Apache-2.0 */
/* A ticket by intervals and by averages, and what fills a line. */
#include "flowcomp/quantity.h"
#include "error.h"
#include "fp_guard.h"
#include "method.h"
#include "proving_core.h"

static void blank_ways(flc_two_ways *ways)
{
    const double none = flc_nan();
    *ways = (flc_two_ways){none, none, none, none, none, none, none, none, none};
}

static flc_status factors_at(const flc_liquid *liquid, const flc_density *density, double t_degc, double p_kpag,
                             int64_t index, flc_volume_factors *factors, flc_error *error)
{
    flc_status status = flc_liquid_volume(liquid, density, t_degc, p_kpag, factors);
    if (status == FLC_OK && flc_is_nan(factors->ctl)) {
        status = FLC_E_MISSING;
    }
    return status == FLC_OK ? FLC_OK : flc_fail(error, status, "liquid", index, flc_nan(), flc_nan(), NULL);
}

static flc_status add_interval(const flc_liquid *liquid, const flc_density *density, const flc_ticket_interval *in,
                               int64_t index, flc_two_ways *sum, flc_error *error)
{
    const int flows = in->iv > 0.0;
    const flc_named_range ranges[] = {{"iv", in->iv, 0.0, 1e15},
                                      {"mf", in->mf, FLC_MF_LOW, FLC_MF_HIGH},
                                      {"t_degc", flows ? in->t_degc : 0.0, -200.0, 200.0},
                                      {"p_kpag", flows ? in->p_kpag : 0.0, -101.325, 1e5}};
    flc_volume_factors factors;
    flc_status status = flc_check_ranges(ranges, FLC_COUNT_OF(ranges), index, error);
    if (status != FLC_OK || !flows) {
        return status;
    }
    status = factors_at(liquid, density, in->t_degc, in->p_kpag, index, &factors, error);
    if (status == FLC_OK) {
        const double gv = in->iv * in->mf;
        sum->iv += in->iv;
        sum->gv += gv;
        sum->t_degc += in->t_degc * gv;
        sum->p_kpag += in->p_kpag * gv;
        sum->gsv_intervals += gv * factors.ctl * factors.cpl;
    }
    return status;
}

static flc_status two_ways(const flc_liquid *liquid, const flc_density *density, const flc_ticket_interval *intervals,
                           size_t n, flc_two_ways *ways, flc_error *error)
{
    const flc_two_ways zero = {0};
    flc_two_ways sum = zero;
    flc_volume_factors factors;
    flc_status status = FLC_OK;
    for (size_t i = 0; i < n && status == FLC_OK; i++) {
        status = add_interval(liquid, density, &intervals[i], (int64_t)i, &sum, error);
    }
    if (status == FLC_OK && !(sum.gv > 0.0)) {
        status = flc_fail(error, FLC_E_DOMAIN, "intervals", -1, sum.gv, flc_nan(), "nothing flowed");
    }
    if (status != FLC_OK) {
        return status;
    }
    sum.t_degc /= sum.gv;
    sum.p_kpag /= sum.gv;
    status = factors_at(liquid, density, sum.t_degc, sum.p_kpag, -1, &factors, error);
    if (status == FLC_OK) {
        sum.ctl = factors.ctl;
        sum.cpl = factors.cpl;
        sum.gsv_averages = sum.gv * sum.ctl * sum.cpl;
        sum.difference_ppm = 1e6 * ((sum.gsv_averages - sum.gsv_intervals) / sum.gsv_intervals);
        *ways = sum;
    }
    return status;
}

flc_status flc_ticket_two_ways(const flc_liquid *liquid, const flc_density *density,
                               const flc_ticket_interval *intervals, size_t n, flc_two_ways *ways, flc_error *error)
{
    const double none = flc_nan();
    flc_error_clear(error);
    if (ways != NULL) {
        blank_ways(ways);
    }
    if (liquid == NULL || density == NULL || intervals == NULL || ways == NULL) {
        return flc_fail(error, FLC_E_NULL,
                        liquid == NULL      ? "liquid"
                        : density == NULL   ? "density"
                        : intervals == NULL ? "intervals"
                                            : "ways",
                        -1, none, none, NULL);
    }
    if (n == 0) {
        return flc_fail(error, FLC_E_COUNT, "n", -1, 0.0, 1.0, NULL);
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = two_ways(liquid, density, intervals, n, ways, error);
    flc_fp_leave(fp);
    return status;
}

/* --- line fill ---------------------------------------------------------------------------------------------------- */

flc_status flc_line_fill_at(const flc_line_fill *fill, flc_line_fill_volume *volume, flc_error *error)
{
    const double none = flc_nan();
    flc_error_clear(error);
    if (volume != NULL) {
        *volume = (flc_line_fill_volume){none, none, none, none};
    }
    if (fill == NULL || volume == NULL) {
        return flc_fail(error, FLC_E_NULL, fill == NULL ? "fill" : "volume", -1, none, none, NULL);
    }
    const flc_named_range ranges[] = {
        {"base_volume_m3", fill->base_volume_m3, 1e-6, 1e9},
        {"base_t_degc", fill->base_t_degc, -100.0, 100.0},
        {"gc_per_degc", fill->gc_per_degc, 0.0, 1.8e-4},
        {"e_kpa", fill->e_kpa, 1e5, 7e8},
        {"id_m", fill->id_m, 0.001, 10.0},
        {"wall_m", fill->wall_m, 1e-4, 1.0},
        {"t_degc", fill->t_degc, -200.0, 200.0},
        {"p_kpag", fill->p_kpag, -101.325, 1e5},
        {"ctl", fill->ctl, 0.1, 2.0},
        {"cpl", fill->cpl, 0.5, 2.0},
    };
    flc_fp_state fp = flc_fp_enter();
    flc_status status = flc_check_ranges(ranges, FLC_COUNT_OF(ranges), -1, error);
    if (status == FLC_OK) {
        volume->cts = 1.0 + fill->gc_per_degc * (fill->t_degc - fill->base_t_degc);
        volume->cps = 1.0 + fill->p_kpag * fill->id_m / (fill->e_kpa * fill->wall_m);
        volume->gross_m3 = fill->base_volume_m3 * volume->cts * volume->cps;
        volume->gsv_m3 = flc_gsv_prover_of(fill->base_volume_m3, volume->cts, volume->cps, fill->ctl, fill->cpl);
    }
    flc_fp_leave(fp);
    return status;
}

flc_status flc_line_fill_change(const flc_line_fill *before, const flc_line_fill *after, double *change_m3,
                                flc_error *error)
{
    flc_line_fill_volume first, second;
    if (change_m3 != NULL) {
        *change_m3 = flc_nan();
    }
    if (change_m3 == NULL) {
        return flc_fail(error, FLC_E_NULL, "change_m3", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = flc_line_fill_at(before, &first, error);
    if (status == FLC_OK) {
        status = flc_line_fill_at(after, &second, error);
    }
    if (status == FLC_OK &&
        (before->base_volume_m3 != after->base_volume_m3 || before->base_t_degc != after->base_t_degc ||
         before->gc_per_degc != after->gc_per_degc || before->e_kpa != after->e_kpa || before->id_m != after->id_m ||
         before->wall_m != after->wall_m)) {
        status = flc_fail(error, FLC_E_CONFLICT, "after", -1, flc_nan(), flc_nan(), "both moments are of one pipe");
    }
    if (status == FLC_OK) {
        *change_m3 = second.gsv_m3 - first.gsv_m3;
    }
    flc_fp_leave(fp);
    return status;
}
