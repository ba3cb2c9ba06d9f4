/* SPDX-License-Identifier: Apache-2.0 */
/* Volume corrections of petroleum, light ends, aromatics and biodiesel as programs. */
#include "volume_program.h"
#include "error.h"
#include "light_ends_2007_core.h"
#include "petroleum_1980_core.h"

FLC_USES(rho60_from_observed_petroleum_2004);
FLC_USES(ctl60_petroleum_2004);
FLC_USES(cpl60_petroleum_2004);
FLC_USES(ctl_table6c_petroleum_1980);
FLC_USES(ctl_table24_petroleum_1980);
FLC_USES(ctl_table54_petroleum_1980);
FLC_USES(ctl_table54c_petroleum_1980);
FLC_USES(ctl_table60_petroleum_1980);
FLC_USES(ctl_petroleum_1980);
FLC_USES(rd60_table23_petroleum_1980);
FLC_USES(rho15_table53_petroleum_1980);
FLC_USES(rho20_table59_petroleum_1980);
FLC_USES(rho_base_from_observed_petroleum_1980);
FLC_USES(cpl_compressibility_1984_customary);
FLC_USES(cpl_compressibility_1984_metric);
FLC_USES(rho60_from_observed_compressibility_1984_customary);
FLC_USES(rho15_from_observed_compressibility_1984_metric);
FLC_USES(ctl60_light_ends_2007);
FLC_USES(ctl15_light_ends_2007);
FLC_USES(ctl20_light_ends_2007);
FLC_USES(ctl_light_ends_2007);
FLC_USES(rd60_from_observed_light_ends_2007);
FLC_USES(rho15_from_observed_light_ends_2007);
FLC_USES(rho20_from_observed_light_ends_2007);
FLC_USES(rho_base_from_observed_light_ends_2007);
FLC_USES(rd60_from_observed_compressibility_1986);
FLC_USES(ctl60_aromatics_d1555);
FLC_USES(ctl15_aromatics_d1555);
FLC_USES(ctl20_aromatics_d1555);
FLC_USES(ctl_aromatics_d1555);
FLC_USES(rho60_from_observed_aromatics_d1555);
FLC_USES(rho15_from_observed_aromatics_d1555);
FLC_USES(rho20_from_observed_aromatics_d1555);
FLC_USES(rho_base_from_observed_aromatics_d1555);
FLC_USES(ctl15_fame_en14214);
FLC_USES(rho15_fame_en14214);
FLC_USES(rho_fame_en14214);

#define ALLOW(choice) (1u << FLC_COMPRESSIBILITY_##choice)
#define SIMPLE (ALLOW(NONE) | ALLOW(SUPPLIED))

/* ---- API MPMS 11.1 (2004) at any base ---- */

#define PRODUCT SLOT_GROUP, SLOT_ALPHA60

static flc_status rho_base_2004(const double *slot, double *value)
{
    *value = slot[SLOT_RHO60] * slot[SLOT_CTL_B];
    return FLC_OK;
}

static const flc_volume_step from_base_2004[] = {
    FLC_BY(SLOT_RHO60, rho60_from_observed_petroleum_2004, SLOT_RHO_BASE, SLOT_T_DEGF, SLOT_ZERO, PRODUCT),
    FLC_PROGRAM_END,
};
static const flc_volume_step under_pressure_2004[] = {
    FLC_BY(SLOT_RHO60, rho60_from_observed_petroleum_2004, SLOT_RHO_OBS, SLOT_T_DEGF, SLOT_P_PSI_2004, PRODUCT),
    FLC_BY(SLOT_CTL_B, ctl60_petroleum_2004, SLOT_RHO60, SLOT_TB_DEGF, PRODUCT),
    FLC_AS(SLOT_RHO_BASE, rho_base_2004, "rho60 CTL_tb", SLOT_RHO60, SLOT_CTL_B),
    FLC_PROGRAM_END,
};
static const flc_volume_step ctl_2004[] = {
    FLC_BY(SLOT_CTL_T, ctl60_petroleum_2004, SLOT_RHO60, SLOT_T_DEGF, PRODUCT),
    FLC_BY(SLOT_CTL_B, ctl60_petroleum_2004, SLOT_RHO60, SLOT_TB_DEGF, PRODUCT),
    FLC_AS(SLOT_CTL, flc_ctl_quotient, "CTL_t / CTL_tb", SLOT_CTL_T, SLOT_CTL_B),
    FLC_PROGRAM_END,
};
static const flc_volume_step cpl_2004[] = {
    FLC_BY(SLOT_CPL, cpl60_petroleum_2004, SLOT_RHO60, SLOT_T_DEGF, SLOT_P_PSI_2004, PRODUCT),
    FLC_PROGRAM_END,
};

/* Its own bases at no pressure are evaluated directly (liquid_volume.c), with every step inside the standard. */
void flc_plan_petroleum_2004(const flc_liquid_options *options, flc_volume_plan *plan)
{
    plan->allows = ALLOW(OF_METHOD);
    if (flc_is_nan(options->t_base_degc) && options->p_base_kpag == 0.0) {
        return;
    }
    plan->from_base = from_base_2004;
    plan->under_pressure = under_pressure_2004;
    plan->ctl = ctl_2004;
    plan->cpl = cpl_2004;
    plan->cpl_needs_density = 1;
}

/* ---- API Standard 2540 (1980), base 60 degF ---- */

static flc_status rd_of_base_1980(const double *slot, double *value)
{
    *value = slot[SLOT_RHO_BASE] / FLC_PETROLEUM_1980_WATER_KGM3;
    return FLC_OK;
}

static flc_status rd_observed_1980(const double *slot, double *value)
{
    *value = slot[SLOT_RHO0] / FLC_PETROLEUM_1980_WATER_KGM3;
    return FLC_OK;
}

static flc_status rho_of_rd60_1980(const double *slot, double *value)
{
    *value = slot[SLOT_RD60] * FLC_PETROLEUM_1980_WATER_KGM3;
    return FLC_OK;
}

static const flc_volume_step from_base_1980_60f[] = {
    FLC_AS(SLOT_RD60, rd_of_base_1980, "rho_b / 999.012", SLOT_RHO_BASE),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_1980_60f[] = {
    FLC_AS(SLOT_RD, rd_observed_1980, "rho_0 / 999.012", SLOT_RHO0),
    FLC_BY(SLOT_RD60, rd60_table23_petroleum_1980, SLOT_RD, SLOT_T_DEGF, SLOT_GROUP, SLOT_ABSENT),
    FLC_AS(SLOT_RHO_BASE, rho_of_rd60_1980, "rd60 999.012", SLOT_RD60),
    FLC_PROGRAM_END,
};
static const flc_volume_step under_pressure_1980_60f[] = {
    FLC_BY(SLOT_RHO_BASE, rho60_from_observed_compressibility_1984_customary, SLOT_RHO_OBS, SLOT_T_DEGF, SLOT_P_PSI,
           SLOT_GROUP, SLOT_PE_PSI),
    FLC_PROGRAM_END,
};
static const flc_volume_step ctl_1980_60f[] = {
    FLC_BY(SLOT_CTL, ctl_table24_petroleum_1980, SLOT_RD60, SLOT_T_DEGF, SLOT_GROUP),
    FLC_PROGRAM_END,
};
static const flc_volume_step cpl_1984_60f[] = {
    FLC_BY(SLOT_CPL, cpl_compressibility_1984_customary, SLOT_RHO_BASE, SLOT_T_DEGF, SLOT_P_PSI, SLOT_PE_PSI),
    FLC_PROGRAM_END,
};

/* ---- API Standard 2540 (1980), metric bases ---- */

#define RHO15_OF_BASE FLC_AS(SLOT_RHO15, flc_rho15_is_rho_base, "rho_b", SLOT_RHO_BASE)
#define RHO15_OF_PRESSED                                                                                        \
    FLC_BY(SLOT_RHO15, rho15_from_observed_compressibility_1984_metric, SLOT_RHO_OBS, SLOT_T_DEGC, SLOT_P_KPAG, \
           SLOT_GROUP, SLOT_PE_KPAG)

static const flc_volume_step from_base_1980[3][2] = {
    {RHO15_OF_BASE, FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO15, rho15_table53_petroleum_1980, SLOT_RHO_BASE, SLOT_T_DEGC, SLOT_GROUP, SLOT_ABSENT),
     FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO15, rho15_table53_petroleum_1980, SLOT_RHO_BASE, SLOT_T_DEGC, SLOT_GROUP, SLOT_ABSENT),
     FLC_PROGRAM_END},
};
static const flc_volume_step from_observed_1980[3][2] = {
    {FLC_BY(SLOT_RHO_BASE, rho15_table53_petroleum_1980, SLOT_RHO0, SLOT_T_DEGC, SLOT_GROUP, SLOT_ABSENT),
     FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO_BASE, rho20_table59_petroleum_1980, SLOT_RHO0, SLOT_T_DEGC, SLOT_GROUP, SLOT_ABSENT),
     FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_petroleum_1980, SLOT_RHO0, SLOT_T_DEGC, SLOT_TB_DEGC, SLOT_GROUP),
     FLC_PROGRAM_END},
};
static const flc_volume_step ctl_1980[3][2] = {
    {FLC_BY(SLOT_CTL, ctl_table54_petroleum_1980, SLOT_RHO_BASE, SLOT_T_DEGC, SLOT_GROUP), FLC_PROGRAM_END},
    {FLC_BY(SLOT_CTL, ctl_table60_petroleum_1980, SLOT_RHO_BASE, SLOT_T_DEGC, SLOT_GROUP), FLC_PROGRAM_END},
    {FLC_BY(SLOT_CTL, ctl_petroleum_1980, SLOT_RHO_BASE, SLOT_T_DEGC, SLOT_TB_DEGC, SLOT_GROUP), FLC_PROGRAM_END},
};
static const flc_volume_step under_pressure_1980_15c[] = {
    RHO15_OF_PRESSED,
    FLC_AS(SLOT_RHO_BASE, flc_rho_base_is_rho15, "rho15", SLOT_RHO15),
    FLC_PROGRAM_END,
};
static const flc_volume_step under_pressure_1980_any[] = {
    RHO15_OF_PRESSED,
    FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_petroleum_1980, SLOT_RHO15, SLOT_FIFTEEN, SLOT_TB_DEGC, SLOT_GROUP),
    FLC_PROGRAM_END,
};
static const flc_volume_step cpl_1984_metric[] = {
    FLC_BY(SLOT_CPL, cpl_compressibility_1984_metric, SLOT_RHO15, SLOT_T_DEGC, SLOT_P_KPAG, SLOT_PE_KPAG),
    FLC_PROGRAM_END,
};

static size_t metric_place(flc_base_kind kind)
{
    return kind == FLC_KIND_15C ? 0 : kind == FLC_KIND_20C ? 1 : 2;
}

static void group_1980(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const flc_base_kind kind = flc_base_kind_of(options);
    const int pressed = options->compressibility == FLC_COMPRESSIBILITY_1984;
    if (kind == FLC_KIND_60F) {
        plan->from_base = from_base_1980_60f;
        plan->from_observed = from_observed_1980_60f;
        plan->under_pressure = under_pressure_1980_60f;
        plan->ctl = ctl_1980_60f;
        return;
    }
    const size_t place = metric_place(kind);
    plan->from_base = pressed ? from_base_1980[place] : NULL;
    plan->from_observed = from_observed_1980[place];
    plan->under_pressure = place == 0 ? under_pressure_1980_15c : under_pressure_1980_any;
    plan->ctl = ctl_1980[place];
}

/* ---- thermal expansion given (C tables): the density does not enter but for the pressure ---- */

static flc_status rho15_by_ctl_b(const double *slot, double *value)
{
    *value = slot[SLOT_RHO_BASE] / slot[SLOT_CTL_B];
    return FLC_OK;
}

#define CTL_B_54C FLC_BY(SLOT_CTL_B, ctl_table54c_petroleum_1980, SLOT_ALPHA15, SLOT_TB_DEGC)
#define CTL_54C_ANY                                                                        \
    FLC_BY(SLOT_CTL_T, ctl_table54c_petroleum_1980, SLOT_ALPHA15, SLOT_T_DEGC), CTL_B_54C, \
        FLC_AS(SLOT_CTL, flc_ctl_quotient, "CTL_t / CTL_tb", SLOT_CTL_T, SLOT_CTL_B)
#define BACK_TO_BASE FLC_AS(SLOT_RHO_BASE, flc_rho_base_by_ctl, "rho_0 / CTL", SLOT_RHO0, SLOT_CTL), FLC_PROGRAM_END

static const flc_volume_step ctl_c[3][4] = {
    {FLC_BY(SLOT_CTL, ctl_table6c_petroleum_1980, SLOT_ALPHA60, SLOT_T_DEGF), FLC_PROGRAM_END},
    {FLC_BY(SLOT_CTL, ctl_table54c_petroleum_1980, SLOT_ALPHA15, SLOT_T_DEGC), FLC_PROGRAM_END},
    {CTL_54C_ANY, FLC_PROGRAM_END},
};
static const flc_volume_step from_observed_c[3][5] = {
    {FLC_BY(SLOT_CTL, ctl_table6c_petroleum_1980, SLOT_ALPHA60, SLOT_T_DEGF), BACK_TO_BASE},
    {FLC_BY(SLOT_CTL, ctl_table54c_petroleum_1980, SLOT_ALPHA15, SLOT_T_DEGC), BACK_TO_BASE},
    {CTL_54C_ANY, BACK_TO_BASE},
};
static const flc_volume_step from_base_c[3][3] = {
    {FLC_PROGRAM_END},
    {RHO15_OF_BASE, FLC_PROGRAM_END},
    {CTL_B_54C, FLC_AS(SLOT_RHO15, rho15_by_ctl_b, "rho_b / CTL_tb", SLOT_RHO_BASE, SLOT_CTL_B), FLC_PROGRAM_END},
};

static void alpha_1980(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const flc_base_kind kind = flc_base_kind_of(options);
    const size_t place = kind == FLC_KIND_60F ? 0 : kind == FLC_KIND_15C ? 1 : 2;
    const int pressed = options->compressibility == FLC_COMPRESSIBILITY_1984;
    plan->density = pressed ? FLC_DENSITY_NEEDED : FLC_DENSITY_OPTIONAL;
    plan->ctl = ctl_c[place];
    plan->from_observed = from_observed_c[place];
    plan->from_base = pressed ? from_base_c[place] : NULL;
}

void flc_plan_petroleum_1980(const flc_liquid_options *options, flc_volume_plan *plan)
{
    plan->allows = SIMPLE | ALLOW(1984);
    if (options->product.group == FLC_PETROLEUM_GROUP_NONE) {
        alpha_1980(options, plan);
    } else {
        group_1980(options, plan);
    }
    if (options->compressibility == FLC_COMPRESSIBILITY_1984) {
        plan->cpl = flc_base_kind_of(options) == FLC_KIND_60F ? cpl_1984_60f : cpl_1984_metric;
        plan->cpl_needs_density = 1;
    }
}

/* ---- light ends, GPA TP-27 (2007) ---- */

static flc_status rd_of_base_light(const double *slot, double *value)
{
    *value = slot[SLOT_RHO_BASE] / FLC_LIGHT_ENDS_2007_WATER_KGM3;
    return FLC_OK;
}

static flc_status rd_observed_light(const double *slot, double *value)
{
    *value = slot[SLOT_RHO0] / FLC_LIGHT_ENDS_2007_WATER_KGM3;
    return FLC_OK;
}

static flc_status rd_pressed_light(const double *slot, double *value)
{
    *value = slot[SLOT_RHO_OBS] / FLC_LIGHT_ENDS_2007_WATER_KGM3;
    return FLC_OK;
}

static flc_status rho_of_rd60_light(const double *slot, double *value)
{
    *value = slot[SLOT_RD60] * FLC_LIGHT_ENDS_2007_WATER_KGM3;
    return FLC_OK;
}

static flc_status rho_of_rd60_light_base(const double *slot, double *value)
{
    *value = slot[SLOT_RD60] * FLC_LIGHT_ENDS_2007_WATER_KGM3 * slot[SLOT_CTL_B];
    return FLC_OK;
}

#define RD60_PRESSED                                                                        \
    FLC_AS(SLOT_RD, rd_pressed_light, "rho_d / 999.016", SLOT_RHO_OBS),                     \
        FLC_AS(SLOT_DP_PSI, flc_dp_psi, "P_psi - max(pe_psi, 0)", SLOT_P_PSI, SLOT_PE_PSI), \
        FLC_BY(SLOT_RD60, rd60_from_observed_compressibility_1986, SLOT_RD, SLOT_T_DEGF, SLOT_DP_PSI)

static const flc_volume_step from_base_light_60f[] = {
    FLC_AS(SLOT_RD60, rd_of_base_light, "rho_b / 999.016", SLOT_RHO_BASE),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_light_60f[] = {
    FLC_AS(SLOT_RD, rd_observed_light, "rho_0 / 999.016", SLOT_RHO0),
    FLC_BY(SLOT_RD60, rd60_from_observed_light_ends_2007, SLOT_RD, SLOT_T_DEGF),
    FLC_AS(SLOT_RHO_BASE, rho_of_rd60_light, "rd60 999.016", SLOT_RD60),
    FLC_PROGRAM_END,
};
static const flc_volume_step under_pressure_light_60f[] = {
    RD60_PRESSED,
    FLC_AS(SLOT_RHO_BASE, rho_of_rd60_light, "rd60 999.016", SLOT_RD60),
    FLC_PROGRAM_END,
};
static const flc_volume_step ctl_light_60f[] = {
    FLC_BY(SLOT_CTL, ctl60_light_ends_2007, SLOT_RD60, SLOT_T_DEGF),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_base_light[] = {
    FLC_AS(SLOT_RD, rd_of_base_light, "rho_b / 999.016", SLOT_RHO_BASE),
    FLC_BY(SLOT_RD60, rd60_from_observed_light_ends_2007, SLOT_RD, SLOT_T_DEGF),
    FLC_PROGRAM_END,
};
static const flc_volume_step under_pressure_light[] = {
    RD60_PRESSED,
    FLC_BY(SLOT_CTL_B, ctl60_light_ends_2007, SLOT_RD60, SLOT_TB_DEGF),
    FLC_AS(SLOT_RHO_BASE, rho_of_rd60_light_base, "rd60 999.016 CTL_tb", SLOT_RD60, SLOT_CTL_B),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_light[3][2] = {
    {FLC_BY(SLOT_RHO_BASE, rho15_from_observed_light_ends_2007, SLOT_RHO0, SLOT_T_DEGC), FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO_BASE, rho20_from_observed_light_ends_2007, SLOT_RHO0, SLOT_T_DEGC), FLC_PROGRAM_END},
    {FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_light_ends_2007, SLOT_RHO0, SLOT_T_DEGC, SLOT_TB_DEGC),
     FLC_PROGRAM_END},
};
static const flc_volume_step ctl_light[3][2] = {
    {FLC_BY(SLOT_CTL, ctl15_light_ends_2007, SLOT_RHO_BASE, SLOT_T_DEGC), FLC_PROGRAM_END},
    {FLC_BY(SLOT_CTL, ctl20_light_ends_2007, SLOT_RHO_BASE, SLOT_T_DEGC), FLC_PROGRAM_END},
    {FLC_BY(SLOT_CTL, ctl_light_ends_2007, SLOT_RHO_BASE, SLOT_T_DEGC, SLOT_TB_DEGC), FLC_PROGRAM_END},
};

void flc_plan_light_ends(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const flc_base_kind kind = flc_base_kind_of(options);
    const size_t place = metric_place(kind);
    const int is_60f = kind == FLC_KIND_60F;
    const int pressed = options->compressibility == FLC_COMPRESSIBILITY_1986;
    plan->allows = SIMPLE | ALLOW(1986);
    plan->cpl_needs_density = pressed;
    plan->from_base = is_60f ? from_base_light_60f : pressed ? from_base_light : NULL;
    plan->from_observed = is_60f ? from_observed_light_60f : from_observed_light[place];
    plan->under_pressure = is_60f ? under_pressure_light_60f : under_pressure_light;
    plan->ctl = is_60f ? ctl_light_60f : ctl_light[place];
}

/* ---- aromatics, ASTM D1555 ---- */

static const flc_volume_step ctl_aromatics[4][2] = {
    [FLC_KIND_60F] = {FLC_BY(SLOT_CTL, ctl60_aromatics_d1555, SLOT_AROMATIC, SLOT_T_DEGF), FLC_PROGRAM_END},
    [FLC_KIND_15C] = {FLC_BY(SLOT_CTL, ctl15_aromatics_d1555, SLOT_AROMATIC, SLOT_T_DEGC), FLC_PROGRAM_END},
    [FLC_KIND_20C] = {FLC_BY(SLOT_CTL, ctl20_aromatics_d1555, SLOT_AROMATIC, SLOT_T_DEGC), FLC_PROGRAM_END},
    [FLC_KIND_ANY] = {FLC_BY(SLOT_CTL, ctl_aromatics_d1555, SLOT_AROMATIC, SLOT_T_DEGC, SLOT_TB_DEGC), FLC_PROGRAM_END},
};
static const flc_volume_step from_observed_aromatics[4][2] = {
    [FLC_KIND_60F] = {FLC_BY(SLOT_RHO_BASE, rho60_from_observed_aromatics_d1555, SLOT_AROMATIC, SLOT_RHO0, SLOT_T_DEGF),
                      FLC_PROGRAM_END},
    [FLC_KIND_15C] = {FLC_BY(SLOT_RHO_BASE, rho15_from_observed_aromatics_d1555, SLOT_AROMATIC, SLOT_RHO0, SLOT_T_DEGC),
                      FLC_PROGRAM_END},
    [FLC_KIND_20C] = {FLC_BY(SLOT_RHO_BASE, rho20_from_observed_aromatics_d1555, SLOT_AROMATIC, SLOT_RHO0, SLOT_T_DEGC),
                      FLC_PROGRAM_END},
    [FLC_KIND_ANY] = {FLC_BY(SLOT_RHO_BASE, rho_base_from_observed_aromatics_d1555, SLOT_AROMATIC, SLOT_RHO0,
                             SLOT_T_DEGC, SLOT_TB_DEGC),
                      FLC_PROGRAM_END},
};

void flc_plan_aromatics(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const flc_base_kind kind = flc_base_kind_of(options);
    plan->allows = SIMPLE;
    plan->density = FLC_DENSITY_OPTIONAL;
    plan->ctl = ctl_aromatics[kind];
    plan->from_observed = from_observed_aromatics[kind];
}

/* ---- biodiesel, EN 14214 ---- */

static const flc_volume_step ctl_fame_15c[] = {
    FLC_BY(SLOT_CTL, ctl15_fame_en14214, SLOT_RHO_BASE, SLOT_T_DEGC),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_fame_15c[] = {
    FLC_BY(SLOT_RHO_BASE, rho15_fame_en14214, SLOT_RHO0, SLOT_T_DEGC),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_base_fame[] = {
    FLC_BY(SLOT_RHO15, rho15_fame_en14214, SLOT_RHO_BASE, SLOT_T_DEGC),
    FLC_PROGRAM_END,
};
static const flc_volume_step from_observed_fame[] = {
    FLC_BY(SLOT_RHO15, rho15_fame_en14214, SLOT_RHO0, SLOT_T_DEGC),
    FLC_BY(SLOT_RHO_BASE, rho_fame_en14214, SLOT_RHO15, SLOT_TB_DEGC),
    FLC_PROGRAM_END,
};
static const flc_volume_step ctl_fame[] = {
    FLC_BY(SLOT_CTL_T, ctl15_fame_en14214, SLOT_RHO15, SLOT_T_DEGC),
    FLC_BY(SLOT_CTL_B, ctl15_fame_en14214, SLOT_RHO15, SLOT_TB_DEGC),
    FLC_AS(SLOT_CTL, flc_ctl_quotient, "CTL_t / CTL_tb", SLOT_CTL_T, SLOT_CTL_B),
    FLC_PROGRAM_END,
};

void flc_plan_fame(const flc_liquid_options *options, flc_volume_plan *plan)
{
    const int is_15c = flc_base_kind_of(options) == FLC_KIND_15C;
    plan->allows = SIMPLE;
    plan->from_base = is_15c ? NULL : from_base_fame;
    plan->from_observed = is_15c ? from_observed_fame_15c : from_observed_fame;
    plan->ctl = is_15c ? ctl_fame_15c : ctl_fame;
}
