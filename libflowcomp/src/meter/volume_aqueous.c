/* SPDX-License-Identifier: Apache-2.0 */
/* Volume corrections of ethanol, water, sea water, brine and glycols as programs. */
#include "volume_program.h"
#include "error.h"

FLC_USES(ctl15_ethanol_water_oiml_r22);
FLC_USES(ctl20_ethanol_water_oiml_r22);
FLC_USES(ctl_ethanol_water_oiml_r22);
FLC_USES(rho_ethanol_water_oiml_r22);
FLC_USES(mass_percent_from_density_ethanol_oiml_r22);
FLC_USES(rho15_from_observed_ethanol_water_oiml_r22);
FLC_USES(rho20_from_observed_ethanol_water_oiml_r22);
FLC_USES(rho_base_from_observed_ethanol_water_oiml_r22);
FLC_USES(rho_water_cipm_2001);
FLC_USES(ctl_water_cipm_2001);
FLC_USES(rho_water_patterson_morris_1994);
FLC_USES(ctl_water_patterson_morris_1994);
FLC_USES(rho_water_jones_harris_1992);
FLC_USES(ctl_water_jones_harris_1992);
FLC_USES(rho_water_kell_1975);
FLC_USES(ctl_water_kell_1975);
FLC_USES(kappa_water_kell_1975);
FLC_USES(rho_water_iapws95);
FLC_USES(cpl_water_common_practice);
FLC_USES(cpl_supplied_compressibility);
FLC_USES(rho_seawater_eos80);
FLC_USES(ctl_seawater_eos80);
FLC_USES(cpl_seawater_eos80);
FLC_USES(s_psu_from_observed_seawater_eos80);
FLC_USES(rho_base_from_observed_seawater_eos80);
FLC_USES(ctl60_produced_water_api20);
FLC_USES(ctl_produced_water_api20);
FLC_USES(rho60_from_observed_produced_water_api20);
FLC_USES(rho_base_from_observed_produced_water_api20);
FLC_USES(rho_meg_water_melinder_2010);
FLC_USES(ctl_meg_water_melinder_2010);
FLC_USES(mass_fraction_from_density_meg_water_melinder_2010);
FLC_USES(rho_base_from_observed_meg_water_melinder_2010);
FLC_USES(rho_mpg_water_melinder_2010);
FLC_USES(ctl_mpg_water_melinder_2010);
FLC_USES(mass_fraction_from_density_mpg_water_melinder_2010);
FLC_USES(rho_base_from_observed_mpg_water_melinder_2010);

#define ALLOW(choice) (1u << FLC_COMPRESSIBILITY_##choice)
#define SIMPLE (ALLOW(NONE) | ALLOW(SUPPLIED))

/* ---- ethanol with water, OIML R 22, at constant mass fraction ---- */

static flc_status fraction_of_percent(const double *slot, double *value)
{
    *value = slot[SLOT_PERCENT] / 100.0;
    return FLC_OK;
}

static const flc_volume_step own_ethanol[] = {
    FLC_BY(SLOT_RHO_BASE, rho_ethanol_water_oiml_r22, SLOT_W, SLOT_T_DEGC),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_base_ethanol[] = {
    FLC_BY(SLOT_PERCENT, mass_percent_from_density_ethanol_oiml_r22, SLOT_RHO_BASE, SLOT_T_DEGC),
    FLC_AS(SLOT_W, fraction_of_percent, "w_pct / 100", SLOT_PERCENT),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_ethanol[3][2] = {
    {FLC_BY(SLOT_RHO_BASE, rho15_from_observed_ethanol_water_oiml_r22, SLOT_RHO0, SLOT_T_DEGC), FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO_BASE, rho20_from_observed_ethanol_water_oiml_r22, SLOT_RHO0, SLOT_T_DEGC), FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_ethanol_water_oiml_r22, SLOT_RHO0, SLOT_T_DEGC, SLOT_TB_DEGC),
     FLC_PROGRAM_END},
};
static const flc_volume_step ctl_ethanol[3][2] = {
    {FLC_BY(SLOT_CTL, ctl15_ethanol_water_oiml_r22, SLOT_W, SLOT_T_DEGC), FLC_PROGRAM_END},
    {FLC_BY(SLOT_CTL, ctl20_ethanol_water_oiml_r22, SLOT_W, SLOT_T_DEGC), FLC_PROGRAM_END},
    {FLC_BY(SLOT_CTL, ctl_ethanol_water_oiml_r22, SLOT_W, SLOT_T_DEGC, SLOT_TB_DEGC), FLC_PROGRAM_END},
};

void flc_plan_ethanol(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const flc_base_kind kind = flc_base_kind_of(options);
    const size_t place = kind == FLC_KIND_15C ? 0 : kind == FLC_KIND_20C ? 1 : 2;
    plan->allows = SIMPLE;
    plan->ctl = ctl_ethanol[place];
    if (flc_is_nan(options->mass_fraction)) {
        plan->from_base = from_base_ethanol;
        plan->from_observed = from_observed_ethanol[place];
    } else {
        plan->density = FLC_DENSITY_OWN;
        plan->own = own_ethanol;
    }
}

/* ---- water ---- */

#define OWN(method)                                                             \
    {                                                                           \
        FLC_BY(SLOT_RHO_BASE, rho_water_##method, SLOT_T_DEGC), FLC_PROGRAM_END \
    }
#define CTL(method)                                                                      \
    {                                                                                    \
        FLC_BY(SLOT_CTL, ctl_water_##method, SLOT_T_DEGC, SLOT_TB_DEGC), FLC_PROGRAM_END \
    }

static const flc_volume_step own_water[5][2] = {
    [FLC_WATER_CIPM_2001] = {FLC_BY(SLOT_RHO_BASE, rho_water_cipm_2001, SLOT_T_DEGC, SLOT_ABSENT), FLC_PROGRAM_END},
    [FLC_WATER_PATTERSON_MORRIS_1994] = OWN(patterson_morris_1994),
    [FLC_WATER_JONES_HARRIS_1992] = OWN(jones_harris_1992),
    [FLC_WATER_KELL_1975] = OWN(kell_1975),
    [FLC_WATER_IAPWS95] = {FLC_BY(SLOT_RHO_BASE, rho_water_iapws95, SLOT_T_K, SLOT_ATM_MPAA), FLC_PROGRAM_END},
};
static const flc_volume_step ctl_water[5][4] = {
    [FLC_WATER_CIPM_2001] = CTL(cipm_2001),
    [FLC_WATER_PATTERSON_MORRIS_1994] = CTL(patterson_morris_1994),
    [FLC_WATER_JONES_HARRIS_1992] = CTL(jones_harris_1992),
    [FLC_WATER_KELL_1975] = CTL(kell_1975),
    [FLC_WATER_IAPWS95] = {FLC_BY(SLOT_RHO_T, rho_water_iapws95, SLOT_T_K, SLOT_ATM_MPAA),
                           FLC_BY(SLOT_RHO_TB, rho_water_iapws95, SLOT_TB_K, SLOT_ATM_MPAA),
                           FLC_AS(SLOT_CTL, flc_ctl_of_densities, "rho_t / rho_tb", SLOT_RHO_T, SLOT_RHO_TB),
                           FLC_PROGRAM_END},
};

static flc_status kappa_per_kpa(const double *slot, double *value)
{
    *value = slot[SLOT_KAPPA] * 1e-8;
    return FLC_OK;
}

#define CPL_OF_DENSITIES FLC_AS(SLOT_CPL, flc_cpl_of_densities, "rho_tp / rho_t", SLOT_RHO_TP, SLOT_RHO_T)
#define CPL_COMMON                                                               \
    {                                                                            \
        FLC_BY(SLOT_CPL, cpl_water_common_practice, SLOT_P_PSI_2004), FLC_PROGRAM_END \
    }

static const flc_volume_step cpl_water[5][4] = {
    [FLC_WATER_CIPM_2001] = {FLC_BY(SLOT_RHO_T, rho_water_cipm_2001, SLOT_T_DEGC, SLOT_ATM_KPAA),
                             FLC_BY(SLOT_RHO_TP, rho_water_cipm_2001, SLOT_T_DEGC, SLOT_P_KPAA), CPL_OF_DENSITIES,
                             FLC_PROGRAM_END},
    [FLC_WATER_PATTERSON_MORRIS_1994] = CPL_COMMON,
    [FLC_WATER_JONES_HARRIS_1992] = CPL_COMMON,
    [FLC_WATER_KELL_1975] = {FLC_BY(SLOT_KAPPA, kappa_water_kell_1975, SLOT_T_DEGC),
                             FLC_AS(SLOT_F_PER_KPA, kappa_per_kpa, "1e-8 kappa", SLOT_KAPPA),
                             FLC_BY(SLOT_CPL, cpl_supplied_compressibility, SLOT_F_PER_KPA, SLOT_P_KPAG, SLOT_ABSENT),
                             FLC_PROGRAM_END},
    [FLC_WATER_IAPWS95] = {FLC_BY(SLOT_RHO_T, rho_water_iapws95, SLOT_T_K, SLOT_ATM_MPAA),
                           FLC_BY(SLOT_RHO_TP, rho_water_iapws95, SLOT_T_K, SLOT_P_MPAA), CPL_OF_DENSITIES,
                           FLC_PROGRAM_END},
};

void flc_plan_water(const flc_liquid_options *options, flc_volume_plan *plan)
{
    plan->allows = SIMPLE | ALLOW(OF_METHOD);
    plan->density = FLC_DENSITY_OWN;
    if ((int)options->water >= 0 && (size_t)options->water < FLC_COUNT_OF(own_water)) {
        plan->own = own_water[options->water];
        plan->ctl = ctl_water[options->water];
        plan->cpl = cpl_water[options->water];
    }
}

/* ---- sea water, EOS-80 ---- */

static const flc_volume_step own_seawater[] = {
    FLC_BY(SLOT_RHO_BASE, rho_seawater_eos80, SLOT_S_PSU, SLOT_T_DEGC, SLOT_ZERO),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_base_seawater[] = {
    FLC_BY(SLOT_S_PSU, s_psu_from_observed_seawater_eos80, SLOT_RHO_BASE, SLOT_T_DEGC, SLOT_ZERO),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_seawater[] = {
    FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_seawater_eos80, SLOT_RHO0, SLOT_T_DEGC, SLOT_TB_DEGC, SLOT_ZERO),
    FLC_PROGRAM_END,
};
static const flc_volume_step under_pressure_seawater[] = {
    FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_seawater_eos80, SLOT_RHO_OBS, SLOT_T_DEGC, SLOT_TB_DEGC, SLOT_P_BAR),
    FLC_PROGRAM_END,
};
static const flc_volume_step ctl_seawater[] = {
    FLC_BY(SLOT_CTL, ctl_seawater_eos80, SLOT_S_PSU, SLOT_T_DEGC, SLOT_TB_DEGC),
    FLC_PROGRAM_END,
};
static const flc_volume_step cpl_seawater[] = {
    FLC_BY(SLOT_CPL, cpl_seawater_eos80, SLOT_S_PSU, SLOT_T_DEGC, SLOT_P_BAR),
    FLC_PROGRAM_END,
};

void flc_plan_seawater(const flc_liquid_options *options, flc_volume_plan *plan)
{
    plan->allows = SIMPLE | ALLOW(OF_METHOD);
    plan->ctl = ctl_seawater;
    plan->cpl = cpl_seawater;
    if (flc_is_nan(options->salinity_psu)) {
        plan->from_base = from_base_seawater;
        plan->from_observed = from_observed_seawater;
        plan->under_pressure = under_pressure_seawater;
        plan->cpl_needs_density = 1;
    } else {
        plan->density = FLC_DENSITY_OWN;
        plan->own = own_seawater;
    }
}

/* ---- produced water, API MPMS 20.1 ---- */

static const flc_volume_step ctl_produced_60f[] = {
    FLC_BY(SLOT_CTL, ctl60_produced_water_api20, SLOT_RHO_BASE, SLOT_T_DEGF),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_produced_60f[] = {
    FLC_BY(SLOT_RHO_BASE, rho60_from_observed_produced_water_api20, SLOT_RHO0, SLOT_T_DEGF, SLOT_ZERO),
    FLC_PROGRAM_END,
};
static const flc_volume_step under_pressure_produced_60f[] = {
    FLC_BY(SLOT_RHO_BASE, rho60_from_observed_produced_water_api20, SLOT_RHO_OBS, SLOT_T_DEGF, SLOT_P_PSI_2004),
    FLC_PROGRAM_END,
};
static const flc_volume_step ctl_produced[] = {
    FLC_BY(SLOT_CTL, ctl_produced_water_api20, SLOT_RHO_BASE, SLOT_TB_DEGC, SLOT_T_DEGC),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_produced[] = {
    FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_produced_water_api20, SLOT_RHO0, SLOT_T_DEGC, SLOT_TB_DEGC, SLOT_ZERO),
    FLC_PROGRAM_END,
};
static const flc_volume_step under_pressure_produced[] = {
    FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_produced_water_api20, SLOT_RHO_OBS, SLOT_T_DEGC, SLOT_TB_DEGC,
           SLOT_P_KPAG),
    FLC_PROGRAM_END,
};
static const flc_volume_step cpl_produced[] = CPL_COMMON;

void flc_plan_produced_water(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const int is_60f = flc_base_kind_of(options) == FLC_KIND_60F;
    plan->allows = SIMPLE | ALLOW(OF_METHOD);
    plan->ctl = is_60f ? ctl_produced_60f : ctl_produced;
    plan->from_observed = is_60f ? from_observed_produced_60f : from_observed_produced;
    plan->under_pressure = is_60f ? under_pressure_produced_60f : under_pressure_produced;
    plan->cpl = cpl_produced;
}

/* ---- glycol with water, Melinder 2010 ---- */

#define GLYCOL(to, method, ...)                                                \
    {                                                                          \
        FLC_BY(to, method##_water_melinder_2010, __VA_ARGS__), FLC_PROGRAM_END \
    }

static const flc_volume_step own_glycol[2][2] = {
    GLYCOL(SLOT_RHO_BASE, rho_meg, SLOT_W, SLOT_T_DEGC),
    GLYCOL(SLOT_RHO_BASE, rho_mpg, SLOT_W, SLOT_T_DEGC),
};
static const flc_volume_step from_base_glycol[2][2] = {
    GLYCOL(SLOT_W, mass_fraction_from_density_meg, SLOT_RHO_BASE, SLOT_T_DEGC),
    GLYCOL(SLOT_W, mass_fraction_from_density_mpg, SLOT_RHO_BASE, SLOT_T_DEGC),
};
static const flc_volume_step from_observed_glycol[2][2] = {
    GLYCOL(SLOT_RHO_BASE, rho_base_from_observed_meg, SLOT_RHO0, SLOT_T_DEGC, SLOT_TB_DEGC),
    GLYCOL(SLOT_RHO_BASE, rho_base_from_observed_mpg, SLOT_RHO0, SLOT_T_DEGC, SLOT_TB_DEGC),
};
static const flc_volume_step ctl_glycol[2][2] = {
    GLYCOL(SLOT_CTL, ctl_meg, SLOT_W, SLOT_T_DEGC, SLOT_TB_DEGC),
    GLYCOL(SLOT_CTL, ctl_mpg, SLOT_W, SLOT_T_DEGC, SLOT_TB_DEGC),
};

void flc_plan_glycol(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const size_t place = options->glycol == FLC_GLYCOL_MPG;
    plan->allows = SIMPLE;
    plan->ctl = ctl_glycol[place];
    if (flc_is_nan(options->mass_fraction)) {
        plan->from_base = from_base_glycol[place];
        plan->from_observed = from_observed_glycol[place];
    } else {
        plan->density = FLC_DENSITY_OWN;
        plan->own = own_glycol[place];
    }
}
