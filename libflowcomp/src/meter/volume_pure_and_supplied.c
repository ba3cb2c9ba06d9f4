/* SPDX-License-Identifier: Apache-2.0 */
/* Volume corrections of LNG, pure liquids and liquids by the user's own figures as programs. */
#include "volume_program.h"
#include "error.h"

FLC_USES(rho_lng_iso6578);
FLC_USES(ctl_lng_iso6578);
FLC_USES(rho_saturated_liquid_ancillary);
FLC_USES(ctl_saturated_liquid_ancillary);
FLC_USES(rho_base_from_observed_saturated_liquid_ancillary);
FLC_USES(rho_saturated_liquid_costald_1979);
FLC_USES(ctl_saturated_liquid_costald_1979);
FLC_USES(cpl_costald_1982);
FLC_USES(rho_base_from_observed_costald_1982);
FLC_USES(ctl_polynomial);
FLC_USES(rho_base_from_observed_polynomial);
FLC_USES(rho_table_linear);
FLC_USES(rho_table_bilinear);

#define ALLOW(choice) (1u << FLC_COMPRESSIBILITY_##choice)
#define SIMPLE (ALLOW(NONE) | ALLOW(SUPPLIED))
#define CTL_OF_DENSITIES FLC_AS(SLOT_CTL, flc_ctl_of_densities, "rho_t / rho_tb", SLOT_RHO_T, SLOT_RHO_TB)

/* ---- LNG by its composition ---- */

#define COMPOSITION \
    SLOT_X_C1, SLOT_X_C2, SLOT_X_C3, SLOT_X_NC4, SLOT_X_IC4, SLOT_X_NC5, SLOT_X_IC5, SLOT_X_NC6, SLOT_X_N2

static const flc_volume_step own_lng[] = {
    FLC_BY(SLOT_RHO_BASE, rho_lng_iso6578, SLOT_T_K, COMPOSITION),
    FLC_PROGRAM_END,
};
static const flc_volume_step ctl_lng[] = {
    FLC_BY(SLOT_CTL, ctl_lng_iso6578, SLOT_T_K, SLOT_TB_K, COMPOSITION),
    FLC_PROGRAM_END,
};

void flc_plan_lng(const flc_liquid_options *options, flc_volume_plan *plan)
{
    (void)options;
    plan->allows = SIMPLE;
    plan->density = FLC_DENSITY_OWN;
    plan->own = own_lng;
    plan->ctl = ctl_lng;
}

/* ---- pure liquids; a measured density takes the place of the pure fluid's ---- */

static const flc_volume_step own_saturated[] = {
    FLC_BY(SLOT_RHO_BASE, rho_saturated_liquid_ancillary, SLOT_SATURATED, SLOT_T_K),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_saturated[] = {
    FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_saturated_liquid_ancillary, SLOT_SATURATED, SLOT_RHO0, SLOT_T_K,
           SLOT_TB_K),
    FLC_PROGRAM_END,
};
static const flc_volume_step ctl_saturated[] = {
    FLC_BY(SLOT_CTL, ctl_saturated_liquid_ancillary, SLOT_SATURATED, SLOT_T_K, SLOT_TB_K),
    FLC_PROGRAM_END,
};

void flc_plan_saturated(const flc_liquid_options *options, flc_volume_plan *plan)
{
    (void)options;
    plan->allows = SIMPLE;
    plan->density = FLC_DENSITY_OPTIONAL;
    plan->own = own_saturated;
    plan->from_observed = from_observed_saturated;
    plan->ctl = ctl_saturated;
}

static const flc_volume_step own_costald[] = {
    FLC_BY(SLOT_RHO_BASE, rho_saturated_liquid_costald_1979, SLOT_COSTALD, SLOT_T_K),
    FLC_PROGRAM_END,
};
static const flc_volume_step ctl_costald[] = {
    FLC_BY(SLOT_CTL, ctl_saturated_liquid_costald_1979, SLOT_COSTALD, SLOT_T_K, SLOT_TB_K),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_costald[] = {
    FLC_BY(SLOT_CTL, ctl_saturated_liquid_costald_1979, SLOT_COSTALD, SLOT_T_K, SLOT_TB_K),
    FLC_AS(SLOT_RHO_BASE, flc_rho_base_by_ctl, "rho_0 / CTL", SLOT_RHO0, SLOT_CTL),
    FLC_PROGRAM_END,
};
static const flc_volume_step under_pressure_costald[] = {
    FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_costald_1982, SLOT_COSTALD, SLOT_RHO_OBS, SLOT_T_K, SLOT_P_KPAA,
           SLOT_PE_KPAA, SLOT_PC, SLOT_TB_K),
    FLC_PROGRAM_END,
};
static const flc_volume_step cpl_costald[] = {
    FLC_BY(SLOT_CPL, cpl_costald_1982, SLOT_COSTALD, SLOT_T_K, SLOT_P_KPAA, SLOT_PE_KPAA, SLOT_PC),
    FLC_PROGRAM_END,
};

void flc_plan_costald(const flc_liquid_options *options, flc_volume_plan *plan)
{
    (void)options;
    plan->allows = SIMPLE | ALLOW(OF_METHOD);
    plan->density = FLC_DENSITY_OPTIONAL;
    plan->own = own_costald;
    plan->from_observed = from_observed_costald;
    plan->under_pressure = under_pressure_costald;
    plan->ctl = ctl_costald;
    plan->cpl = cpl_costald;
}

/* ---- the user's polynomial ---- */

#define POLYNOMIAL SLOT_POLY_LOW, SLOT_POLY_HIGH, SLOT_LIST_C

static const flc_volume_step ctl_of_polynomial[2][2] = {
    [FLC_POLYNOMIAL_DEGC] = {FLC_BY(SLOT_CTL, ctl_polynomial, SLOT_T_DEGC, SLOT_TB_DEGC, POLYNOMIAL), FLC_PROGRAM_END},
    [FLC_POLYNOMIAL_DEGF] = {FLC_BY(SLOT_CTL, ctl_polynomial, SLOT_T_DEGF, SLOT_TB_DEGF, POLYNOMIAL), FLC_PROGRAM_END},
};
static const flc_volume_step from_observed_polynomial[2][2] = {
    [FLC_POLYNOMIAL_DEGC] = {FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_polynomial, SLOT_RHO0, SLOT_T_DEGC,
                                    SLOT_TB_DEGC, POLYNOMIAL),
                             FLC_PROGRAM_END},
    [FLC_POLYNOMIAL_DEGF] = {FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_polynomial, SLOT_RHO0, SLOT_T_DEGF,
                                    SLOT_TB_DEGF, POLYNOMIAL),
                             FLC_PROGRAM_END},
};

void flc_plan_polynomial(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const size_t place = options->polynomial.degree == FLC_POLYNOMIAL_DEGF;
    plan->allows = SIMPLE;
    plan->density = FLC_DENSITY_OPTIONAL;
    plan->from_observed = from_observed_polynomial[place];
    plan->ctl = ctl_of_polynomial[place];
}

/* ---- the user's densities ---- */

#define OVER_T SLOT_LIST_T, SLOT_LIST_RHO
#define OVER_T_AND_P SLOT_LIST_T, SLOT_LIST_P, SLOT_LIST_RHO

static const flc_volume_step own_table[2][2] = {
    {FLC_BY(SLOT_RHO_BASE, rho_table_linear, SLOT_T_DEGC, OVER_T), FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO_BASE, rho_table_bilinear, SLOT_T_DEGC, SLOT_PB_KPAG, OVER_T_AND_P), FLC_PROGRAM_END},
};
static const flc_volume_step ctl_table[2][4] = {
    {FLC_BY(SLOT_RHO_T, rho_table_linear, SLOT_T_DEGC, OVER_T),
     FLC_BY(SLOT_RHO_TB, rho_table_linear, SLOT_TB_DEGC, OVER_T), CTL_OF_DENSITIES, FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO_T, rho_table_bilinear, SLOT_T_DEGC, SLOT_PB_KPAG, OVER_T_AND_P),
     FLC_BY(SLOT_RHO_TB, rho_table_bilinear, SLOT_TB_DEGC, SLOT_PB_KPAG, OVER_T_AND_P), CTL_OF_DENSITIES,
     FLC_PROGRAM_END},
};
static const flc_volume_step from_observed_table[2][5] = {
    {FLC_BY(SLOT_RHO_T, rho_table_linear, SLOT_T_DEGC, OVER_T),
     FLC_BY(SLOT_RHO_TB, rho_table_linear, SLOT_TB_DEGC, OVER_T), CTL_OF_DENSITIES,
     FLC_AS(SLOT_RHO_BASE, flc_rho_base_by_ctl, "rho_0 / CTL", SLOT_RHO0, SLOT_CTL), FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO_T, rho_table_bilinear, SLOT_T_DEGC, SLOT_PB_KPAG, OVER_T_AND_P),
     FLC_BY(SLOT_RHO_TB, rho_table_bilinear, SLOT_TB_DEGC, SLOT_PB_KPAG, OVER_T_AND_P), CTL_OF_DENSITIES,
     FLC_AS(SLOT_RHO_BASE, flc_rho_base_by_ctl, "rho_0 / CTL", SLOT_RHO0, SLOT_CTL), FLC_PROGRAM_END},
};
/* The pressure counts from that of the base. */
static const flc_volume_step cpl_table[] = {
    FLC_BY(SLOT_RHO_T, rho_table_bilinear, SLOT_T_DEGC, SLOT_PB_KPAG, OVER_T_AND_P),
    FLC_BY(SLOT_RHO_TP, rho_table_bilinear, SLOT_T_DEGC, SLOT_P_KPAG, OVER_T_AND_P),
    FLC_AS(SLOT_CPL, flc_cpl_of_densities, "rho_tp / rho_t", SLOT_RHO_TP, SLOT_RHO_T),
    FLC_PROGRAM_END,
};

static int has_pressures(const flc_density_table *table)
{
    for (size_t i = 0; table->p_kpag != NULL && i < table->count; i++) {
        if (table->p_kpag[i] != 0.0) {
            return 1;
        }
    }
    return 0;
}

void flc_plan_density_table(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const int place = has_pressures(&options->table);
    plan->allows = place ? ALLOW(OF_METHOD) : SIMPLE;
    plan->density = FLC_DENSITY_OPTIONAL;
    plan->own = own_table[place];
    plan->from_observed = from_observed_table[place];
    plan->ctl = ctl_table[place];
    plan->cpl = place ? cpl_table : NULL;
}
