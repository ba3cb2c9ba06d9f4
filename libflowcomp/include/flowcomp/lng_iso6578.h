/* SPDX-License-Identifier: Apache-2.0 */
/* Density of liquefied natural gas: ISO 6578, the revised Klosek and McKinley method, from temperature and composition.
 *
 *   rho = M / V,  V = sum x_i V_i - (k1 + (k2 - k1) x_N2 / 0.0425) x_CH4
 *
 * V_i is linear in temperature between the columns of the table, k1 and k2 linear in temperature, then in the molar
 * mass M = sum x_i M_i of the mixture. Molar masses kg/kmol: methane 16.043, ethane 30.070, propane 44.097,
 * butanes 58.123, pentanes 72.150, hexane 86.177, nitrogen 28.0134. The tables start at -180 degC, the range 0.1 mK
 * below, because -180 + 273.15 is less than 93.15 in doubles.
 *
 * Limits (from memory): methane at least 60 %, nitrogen at most 4 %, the butanes together at most 4 %, pentanes and
 * hexane together at most 2 % (FLC_E_ABOVE), below 115 K; there +-0.1 %. Mole fractions that are not given are 0; they
 * must sum to 1 within 1e-6 (FLC_E_DOMAIN). The tables are a public copy, not read from the print; pure molar volumes
 * are 0.08 to 0.14 % below modern ones and belong to the method as they are. A contract asks for the standard itself.
 */
#ifndef FLOWCOMP_LNG_ISO6578_H
#define FLOWCOMP_LNG_ISO6578_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

typedef enum flc_lng_component {
    FLC_LNG_C1 = 0,  /* methane */
    FLC_LNG_C2 = 1,  /* ethane */
    FLC_LNG_C3 = 2,  /* propane */
    FLC_LNG_NC4 = 3, /* n-butane */
    FLC_LNG_IC4 = 4, /* isobutane */
    FLC_LNG_NC5 = 5, /* n-pentane */
    FLC_LNG_IC5 = 6, /* isopentane */
    FLC_LNG_NC6 = 7, /* n-hexane */
    FLC_LNG_N2 = 8   /* nitrogen */
} flc_lng_component;

/** Component from its word ("c1", "nc4", "n2", ...).
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the component is then -1)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_lng_component_from_name(const char *name, flc_lng_component *choice);

/** Molar volume of a component
 *  V_i, linear in temperature between the columns of the table
 *
 *  @param component  component of the mixture
 *  @param t_k        temperature, T = t + 273.15 {K} [93.1499, 133.15]
 *  @return V_i {m3/kmol}
 *  @source ISO 6578, table of molar volumes
 *  @status published; a public copy of the table, not read from the print
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_molar_volume_lng_iso6578(flc_lng_component component, double t_k, double *result);

/** Molar mass of the mixture
 *  M = sum x_i M_i
 *
 *  @param x_c1   mole fraction of methane {1} [0, 1] optional, 0
 *  @param x_c2   mole fraction of ethane {1} [0, 1] optional, 0
 *  @param x_c3   mole fraction of propane {1} [0, 1] optional, 0
 *  @param x_nc4  mole fraction of n-butane {1} [0, 1] optional, 0
 *  @param x_ic4  mole fraction of isobutane {1} [0, 1] optional, 0
 *  @param x_nc5  mole fraction of n-pentane {1} [0, 1] optional, 0
 *  @param x_ic5  mole fraction of isopentane {1} [0, 1] optional, 0
 *  @param x_nc6  mole fraction of n-hexane {1} [0, 1] optional, 0
 *  @param x_n2   mole fraction of nitrogen {1} [0, 1] optional, 0
 *  @return M {kg/kmol}
 *  @source molar masses of the components as above
 *  @status published; molar masses of the components within 0.001 kg/kmol of the atomic weights of today
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_molar_mass_lng_iso6578(double x_c1, double x_c2, double x_c3, double x_nc4, double x_ic4,
                                              double x_nc5, double x_ic5, double x_nc6, double x_n2, double *result);

/** Correction k1
 *  k1 of the table, linear in temperature, then in molar mass
 *
 *  @param t_k               temperature, T = t + 273.15 {K} [93.1499, 115]
 *  @param molar_mass_kgkmol molar mass of the mixture {kg/kmol} [16, 30]
 *  @return k1 {m3/kmol}
 *  @source ISO 6578, table of k1
 *  @status published; a public copy of the table, not read from the print; one of its entries (20 kg/kmol, -145 degC,
 *  above the range here) looks like a slip
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k1_lng_iso6578(double t_k, double molar_mass_kgkmol, double *result);

/** Correction k2
 *  k2 of the table, linear in temperature, then in molar mass
 *
 *  @param t_k               temperature, T = t + 273.15 {K} [93.1499, 115]
 *  @param molar_mass_kgkmol molar mass of the mixture {kg/kmol} [16, 30]
 *  @return k2 {m3/kmol}
 *  @source ISO 6578, table of k2
 *  @status published; a public copy of the table, not read from the print
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k2_lng_iso6578(double t_k, double molar_mass_kgkmol, double *result);

/** Density of LNG
 *  rho = M / (sum x_i V_i - (k1 + (k2 - k1) x_n2 / 0.0425) x_c1)
 *
 *  @param t_k    temperature, T = t + 273.15 {K} [93.1499, 115]
 *  @param x_c1   mole fraction of methane {1} [0.6, 1]
 *  @param x_c2   mole fraction of ethane {1} [0, 0.4] optional, 0
 *  @param x_c3   mole fraction of propane {1} [0, 0.4] optional, 0
 *  @param x_nc4  mole fraction of n-butane {1} [0, 0.04] optional, 0
 *  @param x_ic4  mole fraction of isobutane {1} [0, 0.04] optional, 0
 *  @param x_nc5  mole fraction of n-pentane {1} [0, 0.02] optional, 0
 *  @param x_ic5  mole fraction of isopentane {1} [0, 0.02] optional, 0
 *  @param x_nc6  mole fraction of n-hexane {1} [0, 0.02] optional, 0
 *  @param x_n2   mole fraction of nitrogen {1} [0, 0.04] optional, 0
 *  @return rho {kg/m3}
 *  @source ISO 6578, revised Klosek and McKinley method; limits from memory
 *  @status published; a public copy of the tables, not read from the print; no published worked example was found; a
 *  mixture of reference equations of state within 0.09 % from 100 to 114 K
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_lng_iso6578(double t_k, double x_c1, double x_c2, double x_c3, double x_nc4, double x_ic4,
                                       double x_nc5, double x_ic5, double x_nc6, double x_n2, double *result);

/** CTL of LNG, any base temperature
 *  ctl = rho(t) / rho(t_base) of the same composition
 *
 *  @param t_k       temperature, T = t + 273.15 {K} [93.1499, 115]
 *  @param t_base_k  base temperature, T = t + 273.15 {K} [93.1499, 115]
 *  @param x_c1   mole fraction of methane {1} [0.6, 1]
 *  @param x_c2   mole fraction of ethane {1} [0, 0.4] optional, 0
 *  @param x_c3   mole fraction of propane {1} [0, 0.4] optional, 0
 *  @param x_nc4  mole fraction of n-butane {1} [0, 0.04] optional, 0
 *  @param x_ic4  mole fraction of isobutane {1} [0, 0.04] optional, 0
 *  @param x_nc5  mole fraction of n-pentane {1} [0, 0.02] optional, 0
 *  @param x_ic5  mole fraction of isopentane {1} [0, 0.02] optional, 0
 *  @param x_nc6  mole fraction of n-hexane {1} [0, 0.02] optional, 0
 *  @param x_n2   mole fraction of nitrogen {1} [0, 0.04] optional, 0
 *  @return CTL {1}
 *  @source quotient of two densities of ISO 6578
 *  @status computed; see the density
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_lng_iso6578(double t_k, double t_base_k, double x_c1, double x_c2, double x_c3, double x_nc4,
                                       double x_ic4, double x_nc5, double x_ic5, double x_nc6, double x_n2,
                                       double *result);

FLC_END_DECLS

#endif
