/* SPDX-License-Identifier: Apache-2.0 */
/* From the meter's conditions to the liquid's base. */
#include "liquid_core.h"
#include "error.h"
#include "fp_guard.h"

static double in_degf(double t_degc)
{
    return flc_petroleum_2004_degf(t_degc);
}

/* A range of the method judged in its own °F or psi, reported in the unit of the record. */
static flc_status check_conditions(double t_degc, const char *t_name, double p_kpag, const char *p_name,
                                   flc_error *error)
{
    flc_status status =
        flc_check_range(error, t_name, -1, t_degc, FLC_VOLUME_T_LOW_DEGC, FLC_VOLUME_T_HIGH_DEGC);
    if (status == FLC_OK) {
        status = flc_check_range(error, p_name, -1, p_kpag, 0.0, FLC_VOLUME_P_HIGH_KPAG);
    }
    return status;
}

flc_status flc_liquid_pressure(const flc_liquid *liquid, double p_kpag, const char *argument, double *p_used_kpag,
                               uint32_t *flags, flc_error *error)
{
    *p_used_kpag = p_kpag;
    flc_status status = flc_check_range(error, argument, -1, p_kpag, FLC_RECORD_P_LOW_KPAG, FLC_RECORD_P_HIGH_KPAG);
    if (status != FLC_OK || p_kpag >= 0.0) {
        return status;
    }
    if (liquid->options.negative_pressure == FLC_NEGATIVE_REFUSE) {
        return flc_fail(error, FLC_E_NEGATIVE_PRESSURE, argument, -1, p_kpag, 0.0,
                        "the policy \"clamp\" of the liquid would take it as zero, flagged");
    }
    *p_used_kpag = 0.0;
    *flags |= FLC_FLAG_PRESSURE_CLAMPED;
    return FLC_OK;
}

static flc_status one_density(const flc_density *density, flc_error *error)
{
    const int base = !flc_is_nan(density->rho_base_kgm3), observed = !flc_is_nan(density->rho_observed_kgm3);
    if (base && observed) {
        return flc_fail(error, FLC_E_CONFLICT, "rho_observed_kgm3", -1, density->rho_observed_kgm3, flc_nan(),
                        "give the base density or an observed density, not both");
    }
    if (!base && !observed) {
        return flc_fail(error, FLC_E_MISSING, "rho_base_kgm3", -1, flc_nan(), flc_nan(),
                        "give the base density, or an observed density with its own temperature and pressure");
    }
    return FLC_OK;
}

static flc_status from_base(const flc_liquid *liquid, double rho_base_kgm3, flc_volume_trace *trace, flc_error *error)
{
    const flc_liquid_options *options = &liquid->options;
    flc_status status = flc_petroleum_2004_check_density(options->product, options->base, rho_base_kgm3, error);
    if (status != FLC_OK && error != NULL) { /* in the words of the record, not of the method */
        return flc_fail(error, status, "rho_base_kgm3", -1, rho_base_kgm3, error->limit, NULL);
    }
    if (status == FLC_OK) {
        trace->factors.rho_base_kgm3 = rho_base_kgm3;
        status = flc_petroleum_2004_rho60_from_base(options->product, options->base, rho_base_kgm3,
                                                    &trace->factors.rho60_kgm3);
        if (status != FLC_OK) {
            flc_fail(error, status, "rho_base_kgm3", -1, rho_base_kgm3, flc_nan(), NULL);
        }
    }
    return status;
}

flc_status flc_liquid_check_observed(const flc_liquid *liquid, const flc_density *density, double *p_used_kpag,
                                     uint32_t *flags, flc_error *error)
{
    const int direct = liquid->volume.ctl == NULL;
    flc_status status =
        flc_liquid_pressure(liquid, density->p_observed_kpag, "p_observed_kpag", p_used_kpag, flags, error);
    if (status == FLC_OK && direct) {
        status = check_conditions(density->t_observed_degc, "t_observed_degc", *p_used_kpag, "p_observed_kpag", error);
    } else if (status == FLC_OK) {
        status = flc_check_range(error, "t_observed_degc", -1, density->t_observed_degc, FLC_RECORD_T_LOW_DEGC,
                                 FLC_RECORD_T_HIGH_DEGC);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "densitometer_factor", -1, density->densitometer_factor,
                                 FLC_FACTOR_LOW, FLC_FACTOR_HIGH);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "rho_observed_kgm3", -1, density->rho_observed_kgm3,
                                 FLC_OBSERVED_LOW_KGM3, FLC_OBSERVED_HIGH_KGM3);
    }
    return status;
}

static flc_status from_observed(const flc_liquid *liquid, const flc_density *density, flc_volume_trace *trace,
                                flc_error *error)
{
    double p_kpag = flc_nan();
    flc_status status = flc_liquid_check_observed(liquid, density, &p_kpag, &trace->factors.flags, error);
    if (status != FLC_OK) {
        return status;
    }
    const flc_petroleum_product product = liquid->options.product;
    trace->factors.flags |= FLC_FLAG_OBSERVED_DENSITY;
    trace->rho_observed_kgm3 = density->rho_observed_kgm3 * density->densitometer_factor;
    status =
        flc_petroleum_2004_rho60_from_observed(product, trace->rho_observed_kgm3, in_degf(density->t_observed_degc),
                                               flc_petroleum_2004_psi(p_kpag), &trace->factors.rho60_kgm3);
    if (status != FLC_OK) {
        return flc_fail(error, status, "rho_observed_kgm3", -1, density->rho_observed_kgm3, flc_nan(),
                        "no base density of this product group gives it");
    }
    return flc_petroleum_2004_check_density(product, FLC_PETROLEUM_BASE_60F, trace->factors.rho60_kgm3, error);
}

static void take_factors(const flc_liquid *liquid, const flc_density *density, double t_degc, double p_kpag,
                         flc_volume_trace *trace)
{
    flc_volume_factors *factors = &trace->factors;
    const flc_petroleum_product product = liquid->options.product;
    const double at_base = flc_petroleum_2004_ctl60_at_base(product, liquid->options.base, factors->rho60_kgm3);
    flc_petroleum_2004_forward(product, factors->rho60_kgm3, in_degf(t_degc), flc_petroleum_2004_psi(p_kpag),
                               &trace->at_meter);
    flc_petroleum_2004_rebase(&trace->at_meter, at_base);
    if (flc_is_nan(density->rho_base_kgm3)) {
        factors->rho_base_kgm3 = factors->rho60_kgm3 * at_base;
    }
    factors->ctl = trace->at_meter.ctl;
    factors->cpl = trace->at_meter.cpl;
    factors->ctpl = trace->at_meter.ctpl;
    factors->flags |= FLC_FLAG_FROM_MEMORY; /* the constants of 11.1-2004: see the head of petroleum_2004.h */
}

static void factors_to_nan(flc_volume_factors *factors)
{
    const double nothing = flc_nan();
    const flc_volume_factors blank = {nothing, nothing, nothing, nothing, nothing, nothing, factors->flags};
    *factors = blank;
}

static flc_status direct_volume(const flc_liquid *liquid, const flc_volume_input *in, flc_volume_trace *trace,
                                flc_error *error)
{
    const flc_density *density = in->density;
    flc_status status = check_conditions(in->t_degc, "t_degc", in->p_kpag, "p_kpag", error);
    if (status == FLC_OK) {
        status = one_density(density, error);
    }
    if (status == FLC_OK) {
        status = flc_is_nan(density->rho_base_kgm3) ? from_observed(liquid, density, trace, error)
                                                    : from_base(liquid, density->rho_base_kgm3, trace, error);
    }
    if (status == FLC_OK) {
        take_factors(liquid, density, in->t_degc, in->p_kpag, trace);
    }
    return status;
}

static flc_status check_vapour(const flc_liquid *liquid, double pe_kpa, flc_error *error)
{
    if (liquid->options.vapour != FLC_VAPOUR_MEASURED && !flc_is_nan(pe_kpa)) {
        return flc_fail(error, FLC_E_CONFLICT, "pe_kpa", -1, pe_kpa, flc_nan(),
                        "this liquid does not take its vapour pressure from the record");
    }
    if (liquid->options.vapour == FLC_VAPOUR_MEASURED && flc_is_nan(pe_kpa)) {
        return flc_fail(error, FLC_E_MISSING, "pe_kpa", -1, flc_nan(), flc_nan(),
                        "this liquid takes its vapour pressure from every record");
    }
    return FLC_OK;
}

flc_status flc_liquid_volume_trace(const flc_liquid *liquid, const flc_volume_input *in, flc_volume_trace *trace,
                                   flc_error *error)
{
    trace->factors.flags = 0;
    factors_to_nan(&trace->factors);
    trace->rho_observed_kgm3 = flc_nan();
    trace->factors.p_used_kpag = in->p_kpag;
    flc_status status = check_vapour(liquid, in->pe_kpa, error);
    if (status == FLC_OK && liquid->options.volume == FLC_VOLUME_NONE) {
        trace->factors.flags = FLC_FLAG_NO_VOLUME_CORRECTION;
        return FLC_OK;
    }
    if (status == FLC_OK) {
        status = liquid->volume.ctl == NULL ? direct_volume(liquid, in, trace, error)
                                            : flc_liquid_planned_volume(liquid, in, trace, error);
    }
    if (status != FLC_OK) {
        factors_to_nan(&trace->factors);
    }
    return status;
}

flc_status flc_liquid_volume_above_vapour(const flc_liquid *liquid, const flc_density *density, double t_degc,
                                          double p_kpag, double pe_kpa, flc_volume_factors *factors)
{
    if (factors == NULL) {
        return FLC_E_NULL;
    }
    factors->flags = 0;
    factors_to_nan(factors);
    if (liquid == NULL || density == NULL) {
        return FLC_E_NULL;
    }
    flc_fp_state fp = flc_fp_enter();
    flc_volume_trace trace;
    uint32_t flags = 0;
    flc_volume_input in = {density, t_degc, p_kpag, pe_kpa};
    flc_status status = flc_liquid_pressure(liquid, p_kpag, "p_kpag", &in.p_kpag, &flags, NULL);
    if (status == FLC_OK) {
        status = flc_liquid_volume_trace(liquid, &in, &trace, NULL);
        *factors = trace.factors;
        factors->flags |= flags;
    }
    flc_fp_leave(fp);
    return status;
}

flc_status flc_liquid_volume(const flc_liquid *liquid, const flc_density *density, double t_degc, double p_kpag,
                             flc_volume_factors *factors)
{
    return flc_liquid_volume_above_vapour(liquid, density, t_degc, p_kpag, flc_nan(), factors);
}
