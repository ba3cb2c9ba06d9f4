/* SPDX-License-Identifier: Apache-2.0 */
/* Sea water: UNESCO equation of state EOS-80.
 *
 *   rho(S, t, p) = rho(S, t, 0) / (1 - p / K), K = K0 + A p + B p^2, p in bar above 1 atm
 *
 * S practical salinity (PSS-78), t in degC of IPTS-68 taken as given. The international standard since 2010 is TEOS-10:
 * EOS-80 lies within 0.012 kg/m3 of it at 1 atm and 0.05 kg/m3 up to 1000 bar (absolute salinity 35.16504 / 35 S, as in
 * the open ocean; water of other composition differs more than that), its CTL within 1e-5. Range of EOS-80: S 0 to 42,
 * t -2 to 40 degC, p 0 to 1000 bar. */
#ifndef FLOWCOMP_SEAWATER_EOS80_H
#define FLOWCOMP_SEAWATER_EOS80_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Density of sea water
 *  rho = rho(S, t, 0) / (1 - p / K), K = K0 + A p + B p^2
 *
 *  @param s_psu   practical salinity {1} [0, 42]
 *  @param t_degc  temperature, IPTS-68 {degC} [-2, 40]
 *  @param p_bar   gauge pressure, 0 is 1 atm {bar} [0, 1000] optional, 0
 *  @return rho {kg/m3}
 *  @source UNESCO Technical Papers in Marine Science 44 (1983), EOS-80; 1 atm: 36 (1981)
 *  @status from memory; the 8 check values of the paper reproduce to their 5 decimals
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_seawater_eos80(double s_psu, double t_degc, double p_bar, double *result);

/** CTL of sea water at 1 atm
 *  ctl = rho(S, t, 0) / rho(S, t_base, 0)
 *
 *  @param s_psu        practical salinity {1} [0, 42]
 *  @param t_degc       temperature, IPTS-68 {degC} [-2, 40]
 *  @param t_base_degc  base temperature, IPTS-68 {degC} [-2, 40]
 *  @return CTL {1}
 *  @source UNESCO Technical Papers in Marine Science 44 (1983), EOS-80, quotient of two densities
 *  @status from memory; see rho_seawater_eos80
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_seawater_eos80(double s_psu, double t_degc, double t_base_degc, double *result);

/** CPL of sea water, base pressure 1 atm
 *  cpl = 1 / (1 - p / K)
 *
 *  @param s_psu   practical salinity {1} [0, 42]
 *  @param t_degc  temperature, IPTS-68 {degC} [-2, 40]
 *  @param p_bar   gauge pressure, 0 is 1 atm {bar} [0, 1000]
 *  @return CPL {1}
 *  @source UNESCO Technical Papers in Marine Science 44 (1983), EOS-80, secant bulk modulus
 *  @status from memory; see rho_seawater_eos80
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl_seawater_eos80(double s_psu, double t_degc, double p_bar, double *result);

/** Practical salinity from an observed density
 *  S solves rho(S, t, p) = rho; FLC_E_NO_ROOT if no salinity from 0 to 42 answers
 *
 *  @param rho_kgm3  observed density at t and p {kg/m3} [990, 1080]
 *  @param t_degc    temperature, IPTS-68 {degC} [-2, 40]
 *  @param p_bar     gauge pressure, 0 is 1 atm {bar} [0, 1000] optional, 0
 *  @return practical salinity {1}
 *  @source UNESCO Technical Papers in Marine Science 44 (1983), EOS-80, solved inside a bracket
 *  @status from memory; see rho_seawater_eos80
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_s_psu_from_observed_seawater_eos80(double rho_kgm3, double t_degc, double p_bar, double *result);

/** Density at any base temperature and 1 atm from an observed density
 *  rho_base = rho(S, t_base, 0), where rho(S, t, p) = rho; FLC_E_NO_ROOT if no salinity from 0 to 42 answers
 *
 *  @param rho_kgm3     observed density at t and p {kg/m3} [990, 1080]
 *  @param t_degc       temperature, IPTS-68 {degC} [-2, 40]
 *  @param t_base_degc  base temperature, IPTS-68 {degC} [-2, 40]
 *  @param p_bar        gauge pressure, 0 is 1 atm {bar} [0, 1000] optional, 0
 *  @return rho_base {kg/m3}
 *  @source UNESCO Technical Papers in Marine Science 44 (1983), EOS-80, solved inside a bracket
 *  @status from memory; see rho_seawater_eos80
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_seawater_eos80(double rho_kgm3, double t_degc, double t_base_degc,
                                                             double p_bar, double *result);

FLC_END_DECLS

#endif
