/* SPDX-License-Identifier: Apache-2.0 */
/* Compressibility of liquid hydrocarbons of 638 to 1074 kg/m3 (0 to 90 degAPI), edition 1984: API MPMS 11.2.1M (metric,
 * base 15 degC) and 11.2.1 (customary, base 60 degF); ISO 9770. The pressure part of a correction whose temperature
 * part is the tables of 1980.
 *
 *   F = exp(A + B t + (C + D t) / rho^2), CPL = 1 / (1 - F (p - pe))
 *
 * The base pressure is 0 gauge, or the equilibrium vapour pressure pe of the liquid at t where that is higher. pe is
 * gauge pressure; below atmospheric (negative) it counts as 0. A pressure below pe is refused (FLC_E_DOMAIN): there the
 * liquid boils. Where the density at 15 degC is found from another one, outside its limits: FLC_E_NO_ROOT.
 *
 * The constants are from memory; 146 of 146 published values of three national standards are reproduced, of which the
 * tests carry 75. F is printed with 3 decimals, but CPL takes it unrounded here. The metric and the customary form
 * differ by up to 0.17 % of F: a contract names one. */
#ifndef FLOWCOMP_COMPRESSIBILITY_1984_H
#define FLOWCOMP_COMPRESSIBILITY_1984_H

#include "flowcomp/petroleum_2004.h"

FLC_BEGIN_DECLS

/** Compressibility factor, metric, edition 1984, unrounded
 *  f = exp(-1.62080 + 0.00021592 t + (0.87096 + 0.0042092 t) / rho15^2), rho15 in g/cm3
 *
 *  @param rho15_kgm3  density at 15 degC and 0 gauge {kg/m3} [638, 1074]
 *  @param t_degc      temperature {degC} [-30, 90]
 *  @return F {1e-6/kPa}
 *  @source API MPMS 11.2.1M (1984); ISO 9770
 *  @status from memory; 75 published cells of two national standards are reproduced in the tests
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_f_compressibility_1984_metric(double rho15_kgm3, double t_degc, double *result);

/** Compressibility factor, metric, edition 1984, from the density at t
 *  f of rho15, rho15 from rho at t by table 53 of 1980, alpha not rounded, no glass correction
 *
 *  Follows national standards that read the formula beyond its own limits: rho15 from 610.5 kg/m3 (refined 653, lube
 * 800) to 1164 kg/m3, t from -50 to 150 degC.
 *
 *  @param rho_kgm3  density at t and 0 gauge {kg/m3} [460, 1230]
 *  @param t_degc    temperature {degC} [-50, 150]
 *  @param group     product group
 *  @return F {1e-6/kPa}
 *  @source R 50.2.076-2010, table V.1, and GOST R 8.1008-2022, after API MPMS 11.2.1M (1984) and API Standard 2540
 * (1980)
 *  @status from memory; their printed cells (-50 to 100 degC, 3 decimals) are reproduced
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_f_from_observed_compressibility_1984_metric(double rho_kgm3, double t_degc,
                                                                   flc_petroleum_group group, double *result);

/** Compressibility factor, customary, edition 1984, unrounded
 *  f = exp(-1.99470 + 0.00013427 t + (0.79392 + 0.0023260 t) / rho60^2), rho60 in g/cm3
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [638, 1074]
 *  @param t_degf      temperature {degF} [-20, 200]
 *  @return F {1e-5/psi}
 *  @source API MPMS 11.2.1 (1984)
 *  @status from memory; within 0.17 % of the metric form, whose published cells are reproduced
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_f_compressibility_1984_customary(double rho60_kgm3, double t_degf, double *result);

/** CPL, metric, edition 1984, F unrounded
 *  cpl = 1 / (1 - 1e-6 f (p - pe))
 *
 *  @param rho15_kgm3  density at 15 degC and 0 gauge {kg/m3} [638, 1074]
 *  @param t_degc      temperature {degC} [-30, 90]
 *  @param p_kpag      gauge pressure {kPa} [0, 10300]
 *  @param pe_kpag     equilibrium vapour pressure at t, gauge; negative counts as 0 {kPa} [-115, 10300] optional, 0
 *  @return CPL {1}
 *  @source API MPMS 11.2.1M (1984); ISO 9770
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl_compressibility_1984_metric(double rho15_kgm3, double t_degc, double p_kpag, double pe_kpag,
                                                       double *result);

/** CPL, customary, edition 1984, F unrounded
 *  cpl = 1 / (1 - 1e-5 f (p - pe))
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [638, 1074]
 *  @param t_degf      temperature {degF} [-20, 200]
 *  @param p_psig      gauge pressure {psi} [0, 1500]
 *  @param pe_psig     equilibrium vapour pressure at t, gauge; negative counts as 0 {psi} [-16.7, 1500] optional, 0
 *  @return CPL {1}
 *  @source API MPMS 11.2.1 (1984)
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl_compressibility_1984_customary(double rho60_kgm3, double t_degf, double p_psig,
                                                          double pe_psig, double *result);

/** Density at t and 0 gauge from the density at t and p, metric, edition 1984
 *  rho0 = rho (1 - 1e-6 f p), f as f_from_observed of the density at t and p, rounded to 3 decimals
 *
 *  One pass, as the national standard has it: f is taken at the density under pressure.
 *
 *  @param rho_kgm3  density at t and p {kg/m3} [460, 1230]
 *  @param t_degc    temperature {degC} [-50, 150]
 *  @param p_kpag    gauge pressure {kPa} [0, 10300]
 *  @param group     product group
 *  @return density at t and 0 gauge {kg/m3}
 *  @source GOST 8.599-2010, after API MPMS 11.2.1M (1984) and API Standard 2540 (1980)
 *  @status from memory; F of its printed example (1.082) is reproduced, its last line is a misprint (748.2 for 748.13)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_at_zero_gauge_compressibility_1984_metric(double rho_kgm3, double t_degc, double p_kpag,
                                                                     flc_petroleum_group group, double *result);

/** Density at 15 degC and 0 gauge from the density at t and p: tables of 1980 and compressibility of 1984 together
 *  rho15 VCF54(rho15, t) CPL(rho15, t, p) = rho, solved for rho15; alpha and f not rounded
 *
 *  @param rho_kgm3  density at t and p, true {kg/m3} [500, 1160]
 *  @param t_degc    temperature {degC} [-30, 90]
 *  @param p_kpag    gauge pressure {kPa} [0, 10300]
 *  @param group     product group
 *  @param pe_kpag   equilibrium vapour pressure at t, gauge; negative counts as 0 {kPa} [-115, 10300] optional, 0
 *  @return density at 15 degC {kg/m3}
 *  @source API Standard 2540 (1980), table 53, and API MPMS 11.2.1M (1984), solved together inside a bracket
 *  @status common practice; where the density lies outside 638 to 1074 kg/m3 or the group's limits, FLC_E_NO_ROOT
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho15_from_observed_compressibility_1984_metric(double rho_kgm3, double t_degc, double p_kpag,
                                                                       flc_petroleum_group group, double pe_kpag,
                                                                       double *result);

/** Density at 60 degF and 0 psig from the density at t and p: tables of 1980 and compressibility of 1984 together
 *  rho60 VCF24(rho60, t) CPL(rho60, t, p) = rho, solved for rho60; alpha and f not rounded
 *
 *  @param rho_kgm3  density at t and p, true {kg/m3} [500, 1160]
 *  @param t_degf    temperature {degF} [-20, 200]
 *  @param p_psig    gauge pressure {psi} [0, 1500]
 *  @param group     product group
 *  @param pe_psig   equilibrium vapour pressure at t, gauge; negative counts as 0 {psi} [-16.7, 1500] optional, 0
 *  @return density at 60 degF {kg/m3}
 *  @source API Standard 2540 (1980), table 23, and API MPMS 11.2.1 (1984), solved together inside a bracket
 *  @status common practice; where the density lies outside 638 to 1074 kg/m3 or the group's limits, FLC_E_NO_ROOT
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho60_from_observed_compressibility_1984_customary(double rho_kgm3, double t_degf, double p_psig,
                                                                          flc_petroleum_group group, double pe_psig,
                                                                          double *result);

FLC_END_DECLS

#endif
