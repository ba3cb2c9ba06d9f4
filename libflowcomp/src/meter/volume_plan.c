/* SPDX-License-Identifier: Apache-2.0 */
/* Which programs take a liquid to its base. */
#include "volume_program.h"
#include "error.h"
#include "fpmath.h"
#include "equilibrium_pressure.h"

FLC_USES(cpl_compressibility_1986);
FLC_USES(cpl_supplied_compressibility);
FLC_USES(equilibrium_pressure_gauge);

#define KPA_PER_PSI 6.894757293168361
#define T_378_K 310.928 /* 37.8 degC as 100 degF */

flc_base_kind flc_base_kind_of(const flc_liquid_options *options)
{
    static const flc_base_kind of_name[] = {
        [FLC_PETROLEUM_BASE_60F] = FLC_KIND_60F,
        [FLC_PETROLEUM_BASE_15C] = FLC_KIND_15C,
        [FLC_PETROLEUM_BASE_20C] = FLC_KIND_20C,
    };
    if (flc_is_nan(options->t_base_degc)) {
        return (int)options->base < 0 || options->base > FLC_PETROLEUM_BASE_20C ? FLC_KIND_ANY : of_name[options->base];
    }
    return options->t_base_degc == 15.0 ? FLC_KIND_15C : options->t_base_degc == 20.0 ? FLC_KIND_20C : FLC_KIND_ANY;
}

double flc_base_degc_of(const flc_liquid_options *options)
{
    static const double of_kind[] = {[FLC_KIND_60F] = 140.0 / 9.0, [FLC_KIND_15C] = 15.0, [FLC_KIND_20C] = 20.0};
    const flc_base_kind kind = flc_base_kind_of(options);
    return kind == FLC_KIND_ANY ? options->t_base_degc : of_kind[kind];
}

/* ---- shared arithmetic ---- */

flc_status flc_ctl_quotient(const double *slot, double *value)
{
    *value = slot[SLOT_CTL_T] / slot[SLOT_CTL_B];
    return FLC_OK;
}

flc_status flc_ctl_of_densities(const double *slot, double *value)
{
    *value = slot[SLOT_RHO_T] / slot[SLOT_RHO_TB];
    return FLC_OK;
}

flc_status flc_cpl_of_densities(const double *slot, double *value)
{
    *value = slot[SLOT_RHO_TP] / slot[SLOT_RHO_T];
    return FLC_OK;
}

flc_status flc_rho_base_by_ctl(const double *slot, double *value)
{
    *value = slot[SLOT_RHO0] / slot[SLOT_CTL];
    return FLC_OK;
}

flc_status flc_rho15_is_rho_base(const double *slot, double *value)
{
    *value = slot[SLOT_RHO_BASE];
    return FLC_OK;
}

flc_status flc_rho_base_is_rho15(const double *slot, double *value)
{
    *value = slot[SLOT_RHO15];
    return FLC_OK;
}

/* ---- vapour pressure ---- */

static flc_status pe_laboratory(const double *slot, double *value)
{
    *value = slot[SLOT_PE378] * flc_exp(-slot[SLOT_PE_SLOPE] * (1.0 / slot[SLOT_T_K] - 1.0 / T_378_K));
    return FLC_OK;
}

static flc_status pe_supplied(const double *slot, double *value)
{
    const double from_pole = slot[SLOT_PE_C] + slot[SLOT_T_DEGC];
    *value = flc_exp10(slot[SLOT_PE_A] - slot[SLOT_PE_B] / from_pole);
    return from_pole > 0.0 ? FLC_OK : FLC_E_DOMAIN;
}

static flc_status pe_psi(const double *slot, double *value)
{
    *value = slot[SLOT_PE_KPAG] / KPA_PER_PSI;
    return FLC_OK;
}

#define FROM_PE                                                                    \
    FLC_BY(SLOT_PE_KPAG, equilibrium_pressure_gauge, SLOT_PE_KPAA, SLOT_ATM_KPAA), \
        FLC_AS(SLOT_PE_PSI, pe_psi, "pe_g / 6.894757293168361", SLOT_PE_KPAG), FLC_PROGRAM_END

static const flc_volume_step vapour_measured[] = {FROM_PE};
static const flc_volume_step vapour_laboratory[] = {
    FLC_AS(SLOT_PE_KPAA, pe_laboratory, "pe378 exp(-b (1/T - 1/310.928))", SLOT_T_K, SLOT_PE378, SLOT_PE_SLOPE),
    FROM_PE,
};
static const flc_volume_step vapour_supplied[] = {
    FLC_AS(SLOT_PE_KPAA, pe_supplied, "10^(a - b/(c + t))", SLOT_T_DEGC, SLOT_PE_A, SLOT_PE_B, SLOT_PE_C),
    FROM_PE,
};

const flc_volume_step *flc_vapour_program(flc_vapour_pressure vapour)
{
    static const flc_volume_step *const programs[] = {NULL, vapour_measured, vapour_laboratory, vapour_supplied};
    return programs[vapour];
}

/* ---- compressibility of any method ---- */

static flc_status cpl_is_one(const double *slot, double *value)
{
    (void)slot;
    *value = 1.0;
    return FLC_OK;
}

flc_status flc_dp_psi(const double *slot, double *value)
{
    *value = slot[SLOT_P_PSI] - flc_equilibrium_base(slot[SLOT_PE_PSI]);
    return FLC_OK;
}

static const flc_volume_step cpl_none[] = {
    FLC_AS(SLOT_CPL, cpl_is_one, "1 (the liquid declares no compressibility)", SLOT_END),
    FLC_PROGRAM_END,
};
static const flc_volume_step cpl_supplied[] = {
    FLC_BY(SLOT_CPL, cpl_supplied_compressibility, SLOT_F_PER_KPA, SLOT_P_KPAG, SLOT_PE_KPAG),
    FLC_PROGRAM_END,
};
static const flc_volume_step cpl_1986[] = {
    FLC_AS(SLOT_DP_PSI, flc_dp_psi, "P_psi - max(pe_psi, 0)", SLOT_P_PSI, SLOT_PE_PSI),
    FLC_BY(SLOT_CPL, cpl_compressibility_1986, SLOT_RD60, SLOT_T_DEGF, SLOT_DP_PSI),
    FLC_PROGRAM_END,
};

static void take_compressibility(const flc_liquid_options *options, flc_volume_plan *plan)
{
    if (options->compressibility == FLC_COMPRESSIBILITY_NONE) {
        plan->cpl = cpl_none;
    } else if (options->compressibility == FLC_COMPRESSIBILITY_SUPPLIED) {
        plan->cpl = cpl_supplied;
    } else if (options->compressibility == FLC_COMPRESSIBILITY_1986) {
        plan->cpl = cpl_1986;
    }
    const int is_simple = plan->cpl == cpl_none || plan->cpl == cpl_supplied;
    if (is_simple) { /* what the family has for its own compressibility does not apply */
        plan->cpl_needs_density = 0;
        plan->under_pressure = NULL;
    }
}

void flc_volume_plan_of(const flc_liquid_options *options, flc_volume_plan *plan)
{
    static void (*const families[])(const flc_liquid_options *, flc_volume_plan *) = {
        [FLC_VOLUME_NONE] = NULL,
        [FLC_VOLUME_PETROLEUM_2004] = flc_plan_petroleum_2004,
        [FLC_VOLUME_PETROLEUM_1980] = flc_plan_petroleum_1980,
        [FLC_VOLUME_LIGHT_ENDS_2007] = flc_plan_light_ends,
        [FLC_VOLUME_AROMATICS_D1555] = flc_plan_aromatics,
        [FLC_VOLUME_ETHANOL_OIML_R22] = flc_plan_ethanol,
        [FLC_VOLUME_WATER] = flc_plan_water,
        [FLC_VOLUME_SEAWATER_EOS80] = flc_plan_seawater,
        [FLC_VOLUME_PRODUCED_WATER_API20] = flc_plan_produced_water,
        [FLC_VOLUME_GLYCOL_WATER_MELINDER_2010] = flc_plan_glycol,
        [FLC_VOLUME_FAME_EN14214] = flc_plan_fame,
        [FLC_VOLUME_LNG_ISO6578] = flc_plan_lng,
        [FLC_VOLUME_SATURATED_LIQUID] = flc_plan_saturated,
        [FLC_VOLUME_COSTALD] = flc_plan_costald,
        [FLC_VOLUME_POLYNOMIAL] = flc_plan_polynomial,
        [FLC_VOLUME_DENSITY_TABLE] = flc_plan_density_table,
    };
    const flc_volume_plan blank = {FLC_DENSITY_NEEDED, NULL, NULL, NULL, NULL, NULL, NULL, 0, 0};
    *plan = blank;
    if (families[options->volume] != NULL) {
        families[options->volume](options, plan);
        take_compressibility(options, plan);
    }
}
