/* SPDX-License-Identifier: Apache-2.0 */
/* What the numbers of a volume correction are called, in steps and in errors. */
#include "volume_program.h"
#include "petroleum_2004_core.h"

#define KPA_PER_PSI 6.894757293168361 /* exact to the double; API MPMS 11.1 (2004) has its own, as has produced_water.h */

static double from_degf(double value, double atm)
{
    (void)atm;
    return (value - 32.0) / 1.8;
}

static double from_k(double value, double atm)
{
    (void)atm;
    return value - 273.15;
}

static double from_psi(double value, double atm)
{
    (void)atm;
    return value * KPA_PER_PSI;
}

static double from_bar(double value, double atm)
{
    (void)atm;
    return value * 100.0;
}

static double from_kpaa(double value, double atm)
{
    return value - atm;
}

static double from_mpaa(double value, double atm)
{
    return value * 1000.0 - atm;
}

double flc_slot_converted(flc_slot slot, double t_degc, double p_kpag, double atm_kpaa)
{
    switch (slot) {
    case SLOT_T_DEGC:
        return t_degc;
    case SLOT_T_DEGF:
        return flc_petroleum_2004_degf(t_degc);
    case SLOT_T_K:
        return t_degc + 273.15;
    case SLOT_P_KPAG:
        return p_kpag;
    case SLOT_P_PSI:
        return p_kpag / KPA_PER_PSI;
    case SLOT_P_PSI_2004:
        return flc_petroleum_2004_psi(p_kpag);
    case SLOT_P_BAR:
        return p_kpag / 100.0;
    case SLOT_P_KPAA:
        return p_kpag + atm_kpaa;
    default: /* SLOT_P_MPAA */
        return (p_kpag + atm_kpaa) / 1000.0;
    }
}

#define T_NAMES                                    \
    {                                              \
        "t_degc", "t_base_degc", "t_observed_degc" \
    }
#define P_NAMES                                    \
    {                                              \
        "p_kpag", "p_base_kpag", "p_observed_kpag" \
    }
#define ALL(text)        \
    {                    \
        text, text, text \
    }
#define THREE(symbol)                    \
    {                                    \
        symbol, symbol "_b", symbol "_o" \
    }
#define STEP(symbol, quantity, unit)                                               \
    {                                                                              \
        THREE(symbol), quantity, unit, "", FLC_SLOT_STEP, {NULL, NULL, NULL}, NULL \
    }
#define FILE_(symbol, quantity, unit, argument)                                               \
    {                                                                                         \
        ALL(symbol), quantity, unit, "of the liquid file", FLC_SLOT_FILE, ALL(argument), NULL \
    }

const flc_slot_info flc_slot_infos[FLC_SLOTS] = {
    [SLOT_T_DEGC] = {THREE("t"), "temperature", "degC", "", FLC_SLOT_RECORD, T_NAMES, NULL},
    [SLOT_T_DEGF] = {THREE("t_F"), "temperature", "degF", "1.8 t + 32", FLC_SLOT_CONVERTED, T_NAMES, from_degf},
    [SLOT_T_K] = {THREE("T"), "temperature", "K", "t + 273.15", FLC_SLOT_CONVERTED, T_NAMES, from_k},
    [SLOT_TB_DEGC] = FILE_("t_b", "base temperature", "degC", "t_base_degc"),
    [SLOT_TB_DEGF] = {ALL("t_Fb"), "base temperature", "degF", "of the liquid file", FLC_SLOT_FILE, ALL("t_base_degc"),
                      from_degf},
    [SLOT_TB_K] = {ALL("T_b"), "base temperature", "K", "of the liquid file", FLC_SLOT_FILE, ALL("t_base_degc"),
                   from_k},
    [SLOT_P_KPAG] = {THREE("P"), "pressure, gauge", "kPa", "", FLC_SLOT_RECORD, P_NAMES, NULL},
    [SLOT_P_PSI] = {THREE("P_psi"), "pressure, gauge", "psi", "P / 6.894757293168361", FLC_SLOT_CONVERTED, P_NAMES,
                    from_psi},
    [SLOT_P_PSI_2004] = {THREE("P_psi"), "pressure, gauge", "psi", "P / 6.894757", FLC_SLOT_CONVERTED, P_NAMES,
                         from_psi},
    [SLOT_P_BAR] = {THREE("P_bar"), "pressure, gauge", "bar", "P / 100", FLC_SLOT_CONVERTED, P_NAMES, from_bar},
    [SLOT_P_KPAA] = {THREE("P_a"), "pressure, absolute", "kPa", "P + P_atm", FLC_SLOT_CONVERTED, P_NAMES, from_kpaa},
    [SLOT_P_MPAA] = {THREE("P_a"), "pressure, absolute", "MPa", "(P + P_atm) / 1000", FLC_SLOT_CONVERTED, P_NAMES,
                     from_mpaa},
    [SLOT_PB_KPAG] = FILE_("P_b", "base pressure, gauge", "kPa", "p_base_kpag"),
    [SLOT_ATM_KPAA] = FILE_("P_atm", "atmospheric pressure", "kPa", "p_atmospheric_kpa"),
    [SLOT_ATM_MPAA] = FILE_("P_atm", "atmospheric pressure", "MPa", "p_atmospheric_kpa"),
    [SLOT_PE_KPAA] = {THREE("pe"), "vapour pressure, absolute", "kPa", "", FLC_SLOT_STEP, ALL("pe_kpa"), NULL},
    [SLOT_PE_KPAG] = {THREE("pe_g"), "vapour pressure, gauge", "kPa", "", FLC_SLOT_STEP, ALL("pe_kpa"), NULL},
    [SLOT_PE_PSI] = {THREE("pe_psi"), "vapour pressure, gauge", "psi", "", FLC_SLOT_STEP, ALL("pe_kpa"), NULL},
    [SLOT_DP_PSI] = {THREE("dp"), "pressure above the vapour pressure", "psi", "", FLC_SLOT_STEP, P_NAMES, NULL},
    [SLOT_PE378] = FILE_("pe378", "vapour pressure at 37.8 degC, absolute", "kPa", "pe378_kpa"),
    [SLOT_PE_SLOPE] = FILE_("b", "slope of the vapour pressure", "K", "vapour_slope_k"),
    [SLOT_PE_A] = FILE_("a", "coefficient of the vapour pressure", "1", "vapour_a"),
    [SLOT_PE_B] = FILE_("b", "coefficient of the vapour pressure", "degC", "vapour_b"),
    [SLOT_PE_C] = FILE_("c", "coefficient of the vapour pressure", "degC", "vapour_c"),
    [SLOT_RHO_OBS] = {ALL("rho_d"),
                      "density at the densitometer",
                      "kg/m3",
                      "rho_o DF",
                      FLC_SLOT_CONVERTED,
                      {NULL, NULL, NULL},
                      NULL},
    [SLOT_RHO0] = STEP("rho_0", "density without the pressure", "kg/m3"),
    [SLOT_RHO_BASE] = {ALL("rho_b"), "density at base", "kg/m3", "", FLC_SLOT_STEP, {NULL, NULL, NULL}, NULL},
    [SLOT_RHO15] = {ALL("rho15"), "density at 15 degC", "kg/m3", "", FLC_SLOT_STEP, {NULL, NULL, NULL}, NULL},
    [SLOT_RHO60] = {ALL("rho60"), "density at 60 degF", "kg/m3", "", FLC_SLOT_STEP, {NULL, NULL, NULL}, NULL},
    [SLOT_RD] = STEP("rd", "relative density, to water at 60 degF", "1"),
    [SLOT_RD60] = {ALL("rd60"), "relative density at 60 degF", "1", "", FLC_SLOT_STEP, {NULL, NULL, NULL}, NULL},
    [SLOT_RHO_T] = STEP("rho_t", "density of the liquid at t, base pressure", "kg/m3"),
    [SLOT_RHO_TB] = STEP("rho_tb", "density of the liquid at base", "kg/m3"),
    [SLOT_RHO_TP] = STEP("rho_tp", "density of the liquid at t and P", "kg/m3"),
    [SLOT_GROUP] = FILE_("group", "product group, by number", "1", "group"),
    [SLOT_ALPHA60] = FILE_("alpha60", "thermal expansion at 60 degF", "1/degF", "alpha60_per_degf"),
    [SLOT_ALPHA15] = FILE_("alpha15", "thermal expansion at 15 degC", "1/degC", "alpha15_per_degc"),
    [SLOT_AROMATIC] = FILE_("fluid", "fluid, by number", "1", "aromatic"),
    [SLOT_SATURATED] = FILE_("fluid", "fluid, by number", "1", "saturated"),
    [SLOT_COSTALD] = FILE_("fluid", "fluid, by number", "1", "costald"),
    [SLOT_PC] = FILE_("pc", "critical pressure, absolute", "kPa", "pc_kpa"),
    [SLOT_PERCENT] = STEP("w_pct", "mass per cent", "1"),
    [SLOT_W] = {ALL("w"), "mass fraction", "1", "of the liquid file", FLC_SLOT_FILE, ALL("mass_fraction"), NULL},
    [SLOT_S_PSU] = {ALL("S"), "practical salinity", "1", "of the liquid file", FLC_SLOT_FILE, ALL("salinity_psu"),
                    NULL},
    [SLOT_X_C1] = FILE_("x_c1", "mole fraction of methane", "1", "lng.x_c1"),
    [SLOT_X_C2] = FILE_("x_c2", "mole fraction of ethane", "1", "lng.x_c2"),
    [SLOT_X_C3] = FILE_("x_c3", "mole fraction of propane", "1", "lng.x_c3"),
    [SLOT_X_NC4] = FILE_("x_nc4", "mole fraction of n-butane", "1", "lng.x_nc4"),
    [SLOT_X_IC4] = FILE_("x_ic4", "mole fraction of isobutane", "1", "lng.x_ic4"),
    [SLOT_X_NC5] = FILE_("x_nc5", "mole fraction of n-pentane", "1", "lng.x_nc5"),
    [SLOT_X_IC5] = FILE_("x_ic5", "mole fraction of isopentane", "1", "lng.x_ic5"),
    [SLOT_X_NC6] = FILE_("x_nc6", "mole fraction of n-hexane", "1", "lng.x_nc6"),
    [SLOT_X_N2] = FILE_("x_n2", "mole fraction of nitrogen", "1", "lng.x_n2"),
    [SLOT_POLY_LOW] = FILE_("t_low", "lowest temperature of the polynomial", "1", "polynomial.t_low"),
    [SLOT_POLY_HIGH] = FILE_("t_high", "highest temperature of the polynomial", "1", "polynomial.t_high"),
    [SLOT_F_PER_KPA] = FILE_("F", "compressibility", "1/kPa", "f_per_kpa"),
    [SLOT_KAPPA] = STEP("kappa", "compressibility", "1e-6/bar"),
    [SLOT_CTL_T] = STEP("CTL_t", "temperature correction of t to the table's base", "1"),
    [SLOT_CTL_B] = STEP("CTL_tb", "the same of the base temperature", "1"),
    [SLOT_CTL] = STEP("CTL", "temperature correction to base", "1"),
    [SLOT_CPL] = STEP("CPL", "pressure correction", "1"),
    [SLOT_ABSENT] = {ALL(""), "", "", "", FLC_SLOT_CONSTANT, {NULL, NULL, NULL}, NULL},
    [SLOT_ZERO] = {ALL(""), "", "", "", FLC_SLOT_CONSTANT, {NULL, NULL, NULL}, NULL},
    [SLOT_FIFTEEN] = {ALL(""), "", "", "", FLC_SLOT_CONSTANT, {NULL, NULL, NULL}, NULL},
    [SLOT_LIST_C] = FILE_("c", "coefficients", "1", "polynomial.c"),
    [SLOT_LIST_T] = FILE_("t_i", "temperatures of the table", "degC", "table.t_degc"),
    [SLOT_LIST_P] = FILE_("P_i", "pressures of the table", "kPa", "table.p_kpag"),
    [SLOT_LIST_RHO] = FILE_("rho_i", "densities of the table", "kg/m3", "table.rho_kgm3"),
};
