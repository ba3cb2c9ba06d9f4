/* SPDX-License-Identifier: Apache-2.0 */
/* From the meter's conditions to the liquid's base by the plan of its volume method (volume_program.h). */
#include "liquid_core.h"
#include "error.h"

#define MARGIN 1.25 /* times the vapour pressure; API MPMS 5.3 asks for it beside the pressure drop; from memory */

/* The vapour pressure at the point, before anything that counts pressure from it. */
static flc_status take_vapour(flc_volume_run *run, double pe_kpa, flc_error *error)
{
    const flc_vapour_pressure vapour = run->liquid->vapour;
    if (vapour == FLC_VAPOUR_NONE) {
        return FLC_OK;
    }
    static const uint32_t says[] = {0, FLC_FLAG_VAPOUR_MEASURED, FLC_FLAG_VAPOUR_LABORATORY, FLC_FLAG_VAPOUR_SUPPLIED};
    run->flags |= says[vapour];
    if (vapour == FLC_VAPOUR_MEASURED) {
        run->slot[SLOT_PE_KPAA] = pe_kpa;
    }
    const flc_status status = flc_run_program(run, flc_vapour_program(vapour), error);
    if (status != FLC_OK || run->point == FLC_AT_BASE) {
        return status;
    }
    const double *slot = run->slot;
    if (slot[SLOT_P_KPAG] < slot[SLOT_PE_KPAG]) {
        return flc_fail(error, FLC_E_BELOW, flc_slot_infos[SLOT_P_KPAG].argument[run->point], -1, slot[SLOT_P_KPAG],
                        slot[SLOT_PE_KPAG], "under the vapour pressure the liquid is no liquid");
    }
    run->flags |= slot[SLOT_P_KPAA] < MARGIN * slot[SLOT_PE_KPAA] ? FLC_FLAG_VAPOUR_MARGIN : 0u;
    return FLC_OK;
}

/* RHO_BASE from a density at the point that is being worked on. */
static flc_status density_to_base(const flc_volume_plan *plan, flc_volume_run *run, double rho_kgm3, flc_error *error)
{
    run->slot[SLOT_RHO_OBS] = rho_kgm3;
    if (plan->under_pressure != NULL) {
        return flc_run_program(run, plan->under_pressure, error);
    }
    if (plan->cpl_needs_density) {
        return flc_fail(error, FLC_E_CONFLICT, run->given_name, -1, run->given_kgm3, flc_nan(),
                        "with a given expansion and the compressibility of 1984 give the base density at 0 gauge");
    }
    const flc_status status = flc_run_program(run, plan->cpl, error);
    if (status != FLC_OK) {
        return status;
    }
    run->slot[SLOT_RHO0] = rho_kgm3 / run->slot[SLOT_CPL];
    return flc_run_program(run, plan->from_observed, error);
}

static flc_status from_observed(const flc_liquid *liquid, const flc_volume_input *in, flc_volume_trace *trace,
                                flc_error *error)
{
    const flc_density *density = in->density;
    flc_volume_run *run = &trace->run;
    double p_kpag = flc_nan();
    flc_status status = flc_liquid_check_observed(liquid, density, &p_kpag, &run->flags, error);
    if (status != FLC_OK) {
        return status;
    }
    run->flags |= FLC_FLAG_OBSERVED_DENSITY;
    run->given_name = "rho_observed_kgm3";
    run->given_kgm3 = density->rho_observed_kgm3;
    trace->rho_observed_kgm3 = density->rho_observed_kgm3 * density->densitometer_factor;
    flc_run_at(run, FLC_AT_DENSITOMETER, density->t_observed_degc, p_kpag);
    status = take_vapour(run, in->pe_kpa, error);
    return status == FLC_OK ? density_to_base(&liquid->volume, run, trace->rho_observed_kgm3, error) : status;
}

static void go_to_base(flc_volume_run *run)
{
    flc_run_at(run, FLC_AT_BASE, run->slot[SLOT_TB_DEGC], run->slot[SLOT_PB_KPAG]);
}

static flc_status from_base(const flc_liquid *liquid, double rho_base_kgm3, flc_volume_run *run, flc_error *error)
{
    const flc_status status = flc_check_range(error, "rho_base_kgm3", -1, rho_base_kgm3, 1.0, 25000.0);
    if (status != FLC_OK) {
        return status;
    }
    run->given_kgm3 = rho_base_kgm3;
    if (run->slot[SLOT_PB_KPAG] == 0.0) {
        run->slot[SLOT_RHO_BASE] = rho_base_kgm3;
        return FLC_OK;
    }
    go_to_base(run);
    return density_to_base(&liquid->volume, run, rho_base_kgm3, error);
}

static flc_status check_density(const flc_liquid *liquid, const flc_density *density, flc_error *error)
{
    const int base = !flc_is_nan(density->rho_base_kgm3), observed = !flc_is_nan(density->rho_observed_kgm3);
    if (liquid->volume.density == FLC_DENSITY_OWN && (base || observed)) {
        return flc_fail(error, FLC_E_CONFLICT, base ? "rho_base_kgm3" : "rho_observed_kgm3", -1,
                        base ? density->rho_base_kgm3 : density->rho_observed_kgm3, flc_nan(),
                        "this liquid has its own density");
    }
    if (base && observed) {
        return flc_fail(error, FLC_E_CONFLICT, "rho_observed_kgm3", -1, density->rho_observed_kgm3, flc_nan(),
                        "give the base density or an observed density, not both");
    }
    if (liquid->volume.density == FLC_DENSITY_NEEDED && !base && !observed) {
        return flc_fail(error, FLC_E_MISSING, "rho_base_kgm3", -1, flc_nan(), flc_nan(),
                        "give the base density, or an observed density with its own temperature and pressure");
    }
    return FLC_OK;
}

/* RHO_BASE, and what follows from it at base; CPL there. */
static flc_status take_density(const flc_liquid *liquid, const flc_volume_input *in, flc_volume_trace *trace,
                               double *cpl_base, flc_error *error)
{
    const flc_volume_plan *plan = &liquid->volume;
    flc_volume_run *run = &trace->run;
    const int base = !flc_is_nan(in->density->rho_base_kgm3), observed = !flc_is_nan(in->density->rho_observed_kgm3);
    flc_status status = observed ? from_observed(liquid, in, trace, error)
                        : base   ? from_base(liquid, in->density->rho_base_kgm3, run, error)
                                 : FLC_OK;
    go_to_base(run);
    if (status == FLC_OK && !base && !observed) {
        status = flc_run_program(run, plan->own, error);
    }
    if (status == FLC_OK) {
        status = flc_run_program(run, plan->from_base, error);
    }
    *cpl_base = 1.0;
    if (status == FLC_OK && run->slot[SLOT_PB_KPAG] != 0.0) {
        status = take_vapour(run, flc_nan(), error);
        if (status == FLC_OK) {
            status = flc_run_program(run, plan->cpl, error);
            *cpl_base = run->slot[SLOT_CPL];
        }
    }
    return status;
}

flc_status flc_liquid_planned_volume(const flc_liquid *liquid, const flc_volume_input *in, flc_volume_trace *trace,
                                     flc_error *error)
{
    flc_volume_run *run = &trace->run;
    flc_volume_factors *factors = &trace->factors;
    flc_run_start(run, &liquid->options);
    double cpl_base = flc_nan();
    flc_status status = check_density(liquid, in->density, error);
    if (status == FLC_OK) {
        status = take_density(liquid, in, trace, &cpl_base, error);
    }
    if (status == FLC_OK) {
        flc_run_at(run, FLC_AT_METER, in->t_degc, in->p_kpag);
        status = flc_run_program(run, liquid->volume.ctl, error);
    }
    if (status == FLC_OK) {
        status = take_vapour(run, in->pe_kpa, error);
    }
    if (status == FLC_OK) {
        status = flc_run_program(run, liquid->volume.cpl, error);
    }
    factors->flags |= run->flags;
    if (status != FLC_OK) {
        return status;
    }
    const double given = in->density->rho_base_kgm3;
    factors->flags |=
        liquid->options.compressibility == FLC_COMPRESSIBILITY_NONE ? FLC_FLAG_NO_PRESSURE_CORRECTION : 0u;
    factors->rho60_kgm3 = run->slot[SLOT_RHO60];
    factors->rho_base_kgm3 = flc_is_nan(given) ? run->slot[SLOT_RHO_BASE] * cpl_base : given;
    factors->ctl = run->slot[SLOT_CTL];
    factors->cpl = run->slot[SLOT_CPL] / cpl_base;
    factors->ctpl = factors->ctl * factors->cpl;
    return FLC_OK;
}

/* A base pressure under the vapour pressure would refuse every record. */
static flc_status try_base_pressure(flc_volume_run *run, flc_error *error)
{
    if (run->slot[SLOT_PB_KPAG] == 0.0 || run->liquid->vapour == FLC_VAPOUR_NONE) {
        return FLC_OK;
    }
    const flc_status status = take_vapour(run, flc_nan(), error);
    return status == FLC_OK && run->slot[SLOT_PB_KPAG] < run->slot[SLOT_PE_KPAG]
               ? flc_fail(error, FLC_E_BELOW, "p_base_kpag", -1, run->slot[SLOT_PB_KPAG], run->slot[SLOT_PE_KPAG],
                          "under the vapour pressure at the base the liquid is no liquid; 0 counts from that pressure")
               : status;
}

static double sum_of(const flc_lng_composition *x)
{
    return x->x_c1 + x->x_c2 + x->x_c3 + x->x_nc4 + x->x_ic4 + x->x_nc5 + x->x_ic5 + x->x_nc6 + x->x_n2;
}

flc_status flc_liquid_try_base(const flc_liquid *liquid, flc_error *error)
{
    flc_volume_run run;
    flc_run_start(&run, &liquid->options);
    go_to_base(&run);
    flc_status status = try_base_pressure(&run, error);
    if (status == FLC_OK && liquid->volume.own != NULL) {
        status = flc_run_program(&run, liquid->volume.own, error);
    }
    return status == FLC_E_DOMAIN && liquid->options.volume == FLC_VOLUME_LNG_ISO6578
               ? flc_fail(error, status, "lng", -1, sum_of(&liquid->options.lng), 1.0,
                          "the mole fractions must sum to 1")
               : status;
}
