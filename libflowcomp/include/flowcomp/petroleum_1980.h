/* SPDX-License-Identifier: Apache-2.0 */
/* Volume correction of crude oil, refined products and lubricating oil, edition 1980: API Standard 2540 (ASTM D1250-80,
 * IP 200/80, ISO 91-1 and 91-2), tables 5 and 6 (degAPI), 23 and 24 (relative density), 53 and 54 (15 degC), 59 and 60
 * (20 degC). A contract that names these tables asks for this edition and not for that of 2004: to 94 degC they differ
 * by up to 4.1e-4 (see flc_ctl15_difference_1980_2004). Tables of 1952 (the same numbers without a letter) are other
 * data.
 *
 *   VCF = exp(-alpha dt (1 + 0.8 alpha dt)), alpha = K0 / rho^2 + K1 / rho + K2, rho the density at the base
 *
 * The 60 degF and the 15 degC tables have constants of their own. Table 60 goes through table 54: base 20 degC is the
 * quotient VCF54(t) / VCF54(20 degC), and any other metric base likewise.
 *
 * Rounding: forward tables take alpha rounded to 1e-7, half away from zero (of the tables in degF this is assumed);
 * inverse tables do not round it, because a rounded alpha makes the density at t a staircase. Nothing else is rounded.
 *
 * The constants are from memory. Of 392 published cells of tables 54B for 710 and 800 kg/m3 all are reproduced, and 388
 * without that rounding; the tests carry 201 of them. No published cell of fuel oil or lubricating oil was found. Where
 * one refined group passes into the next between the printed steps of 0.5 kg/m3 is uncertain: taken at 770.352,
 * 787.5195 and 838.3127 kg/m3, where alpha steps by less than 1e-7/degC.
 *
 * Density limits at the base, from memory: crude 610.5 to 1075, refined 653 to 1075, lube 800 to 1164 kg/m3 (at 60 degF
 * 0 to 100, 0 to 85, -10 to 45 degAPI). fuel_oil, jet and gasoline, named by the user, take those of refined;
 * transition, computed, 729.5 to 842.3, where its alpha60 is inside 230e-6 to 930e-6/degF. They are judged after the
 * arguments (FLC_E_BELOW, FLC_E_ABOVE). The temperature limits of the printed tables depend on the density and were not
 * at hand: -50 to 150 degC.
 *
 * From an observed density the density at the base is found inside the limits, to the last bits; outside them
 * FLC_E_NO_ROOT. It may pass a limit by 0.01 kg/m3. At the three borders of the refined groups it is chosen as in
 * flowcomp/petroleum_2004.h.
 *
 * Hydrometer readings: where the base of its glass is given (60 degF, 15 or 20 degC: it stands on the stem), the
 * reading is taken to true density first, reading times the glass factor. A density meter's density needs no base. */
#ifndef FLOWCOMP_PETROLEUM_1980_H
#define FLOWCOMP_PETROLEUM_1980_H

#include "flowcomp/petroleum_2004.h"

FLC_BEGIN_DECLS

/** VCF of tables 6A, 6B, 6D, edition 1980
 *  vcf = exp(-alpha dt (1 + 0.8 alpha dt)), dt = t - 60 degF, alpha from rho60 = 141.5 / (api60 + 131.5) * 999.012
 *  kg/m3, rounded to 1e-7/degF
 *
 *  @param api60   API gravity at 60 degF {degAPI} [-10, 100]
 *  @param t_degf  temperature {degF} [-58, 302]
 *  @param group   product group
 *  @return VCF {1}
 *  @source API Standard 2540 (1980), volumes I, II, XIII: tables 6A, 6B, 6D; ASTM D1250-80
 *  @status from memory; one published cell of table 6B; the rounding of alpha is assumed as in the tables of 15 degC
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_table6_petroleum_1980(double api60, double t_degf, flc_petroleum_group group,
                                                 double *result);

/** VCF of tables 24A, 24B, 24D, edition 1980
 *  as table 6, with rho60 = rd60 * 999.012 kg/m3
 *
 *  @param rd60    relative density at 60 degF, to water at 60 degF {1} [0.611, 1.165]
 *  @param t_degf  temperature {degF} [-58, 302]
 *  @param group   product group
 *  @return VCF {1}
 *  @source API Standard 2540 (1980): tables 24A, 24B, 24D; ASTM D1250-80
 *  @status from memory; the rounding of alpha is assumed as in the tables of 15 degC
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_table24_petroleum_1980(double rd60, double t_degf, flc_petroleum_group group,
                                                  double *result);

/** VCF of table 6C, edition 1980: alpha60 given and used as given
 *  vcf = exp(-alpha60 dt (1 + 0.8 alpha60 dt)), dt = t - 60 degF
 *
 *  @param alpha60_per_degf  thermal expansion at 60 degF {1/degF} [230e-6, 930e-6]
 *  @param t_degf            temperature {degF} [-58, 302]
 *  @return VCF {1}
 *  @source API Standard 2540 (1980), volume III: table 6C
 *  @status from memory; the range of alpha60 is that of the edition of 2004
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_table6c_petroleum_1980(double alpha60_per_degf, double t_degf, double *result);

/** VCF of tables 54A, 54B, 54D, edition 1980
 *  vcf = exp(-alpha dt (1 + 0.8 alpha dt)), dt = t - 15 degC, alpha from rho15, rounded to 1e-7/degC
 *
 *  @param rho15_kgm3  density at 15 degC {kg/m3} [610.5, 1164]
 *  @param t_degc      temperature {degC} [-50, 150]
 *  @param group       product group
 *  @return VCF {1}
 *  @source API Standard 2540 (1980), volumes VII, VIII, XIV: tables 54A, 54B, 54D; ISO 91-1
 *  @status from memory; 201 published cells of table 54B, 710 kg/m3, are reproduced in the tests
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_table54_petroleum_1980(double rho15_kgm3, double t_degc, flc_petroleum_group group,
                                                  double *result);

/** VCF of table 54C, edition 1980: alpha15 given and used as given
 *  vcf = exp(-alpha15 dt (1 + 0.8 alpha15 dt)), dt = t - 15 degC
 *
 *  @param alpha15_per_degc  thermal expansion at 15 degC {1/degC} [414e-6, 1674e-6]
 *  @param t_degc            temperature {degC} [-50, 150]
 *  @return VCF {1}
 *  @source API Standard 2540 (1980), volume IX: table 54C; ISO 91-1
 *  @status from memory; the range of alpha15 is that of the edition of 2004
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_table54c_petroleum_1980(double alpha15_per_degc, double t_degc, double *result);

/** VCF of tables 60A, 60B, 60D, edition 1980, through table 54
 *  vcf = VCF54(rho15, t) / VCF54(rho15, 20 degC), rho15 from rho20
 *
 *  @param rho20_kgm3  density at 20 degC {kg/m3} [605, 1162]
 *  @param t_degc      temperature {degC} [-50, 150]
 *  @param group       product group
 *  @return VCF {1}
 *  @source ISO 91-2 (1980 edition of the tables): tables 60A, 60B, 60D
 *  @status from memory; rests on table 54; alpha is rounded in both factors and not for rho15
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_table60_petroleum_1980(double rho20_kgm3, double t_degc, flc_petroleum_group group,
                                                  double *result);

/** VCF to any metric base temperature through table 54, edition 1980
 *  vcf = VCF54(rho15, t) / VCF54(rho15, t_base), rho15 from rho_base
 *
 *  @param rho_base_kgm3  density at the base temperature {kg/m3} [460, 1230]
 *  @param t_degc         temperature {degC} [-50, 150]
 *  @param t_base_degc    base temperature {degC} [-50, 150]
 *  @param group          product group
 *  @return VCF {1}
 *  @source API Standard 2540 (1980), tables 53 and 54, as table 60 uses them for 20 degC
 *  @status common practice; rests on table 54; 20 degC is table 60
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_petroleum_1980(double rho_base_kgm3, double t_degc, double t_base_degc,
                                          flc_petroleum_group group, double *result);

/** API gravity at 60 degF from an observed API gravity, tables 5A, 5B, 5D, edition 1980
 *  rho60 VCF(rho60, t) = rho, alpha not rounded; rho = 141.5 / (api + 131.5) * 999.012 kg/m3, times the glass factor
 *  where the base of the glass is given
 *
 *  @param api              observed API gravity {degAPI} [-16, 175]
 *  @param t_degf           temperature {degF} [-58, 302]
 *  @param group            product group
 *  @param glass_base_degf  base temperature of the hydrometer glass; absent: api is of the true density {degF} [50, 86]
 * optional
 *  @return API gravity at 60 degF {degAPI}
 *  @source API Standard 2540 (1980): tables 5A, 5B, 5D, solved inside a bracket
 *  @status from memory; the printed tables hold the glass correction of 60 degF
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_api60_table5_petroleum_1980(double api, double t_degf, flc_petroleum_group group,
                                                   double glass_base_degf, double *result);

/** Relative density at 60 degF from an observed one, tables 23A, 23B, 23D, edition 1980
 *  rho60 VCF(rho60, t) = rho, alpha not rounded; rho = rd * 999.012 kg/m3, times the glass factor where the base of the
 *  glass is given
 *
 *  @param rd               observed relative density, to water at 60 degF {1} [0.46, 1.23]
 *  @param t_degf           temperature {degF} [-58, 302]
 *  @param group            product group
 *  @param glass_base_degf  base temperature of the hydrometer glass; absent: rd is of the true density {degF} [50, 86]
 * optional
 *  @return relative density at 60 degF {1}
 *  @source API Standard 2540 (1980): tables 23A, 23B, 23D, solved inside a bracket
 *  @status from memory; the printed tables hold the glass correction of 60 degF
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rd60_table23_petroleum_1980(double rd, double t_degf, flc_petroleum_group group,
                                                   double glass_base_degf, double *result);

/** Density at 15 degC from an observed density, tables 53A, 53B, 53D, edition 1980
 *  rho15 VCF54(rho15, t) = rho, alpha not rounded; rho times the glass factor where the base of the glass is given
 *
 *  @param rho_kgm3         observed density {kg/m3} [460, 1230]
 *  @param t_degc           temperature {degC} [-50, 150]
 *  @param group            product group
 *  @param glass_base_degc  base temperature of the hydrometer glass; absent: rho is the true density {degC} [10, 30]
 * optional
 *  @return density at 15 degC {kg/m3}
 *  @source API Standard 2540 (1980): tables 53A, 53B, 53D, solved inside a bracket; ISO 91-1
 *  @status from memory; the printed tables hold the glass correction of 15 degC
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho15_table53_petroleum_1980(double rho_kgm3, double t_degc, flc_petroleum_group group,
                                                    double glass_base_degc, double *result);

/** Density at 20 degC from an observed density, tables 59A, 59B, 59D, edition 1980, through table 53
 *  rho20 = rho15 VCF54(rho15, 20 degC), alpha not rounded, rho15 as table 53
 *
 *  @param rho_kgm3         observed density {kg/m3} [460, 1230]
 *  @param t_degc           temperature {degC} [-50, 150]
 *  @param group            product group
 *  @param glass_base_degc  base temperature of the hydrometer glass; absent: rho is the true density {degC} [10, 30]
 * optional
 *  @return density at 20 degC {kg/m3}
 *  @source ISO 91-2 (1980 edition of the tables): tables 59A, 59B, 59D, solved inside a bracket
 *  @status from memory; published cells of GOST 3900-2022 agree within 0.1 kg/m3: it rounds rho15 to 0.1 on the way
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho20_table59_petroleum_1980(double rho_kgm3, double t_degc, flc_petroleum_group group,
                                                    double glass_base_degc, double *result);

/** Density at any metric base temperature from an observed density, through table 53, edition 1980
 *  rho_base = rho15 VCF54(rho15, t_base), alpha not rounded, rho15 as table 53
 *
 *  @param rho_kgm3     observed density, true {kg/m3} [460, 1230]
 *  @param t_degc       temperature {degC} [-50, 150]
 *  @param t_base_degc  base temperature {degC} [-50, 150]
 *  @param group        product group
 *  @return density at the base temperature {kg/m3}
 *  @source API Standard 2540 (1980), tables 53 and 54, as table 59 uses them for 20 degC
 *  @status common practice; rests on table 53; 20 degC is table 59
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_petroleum_1980(double rho_kgm3, double t_degc, double t_base_degc,
                                                             flc_petroleum_group group, double *result);

/** Glass factor of a hydrometer, degF form: true density = reading * factor
 *  hyc = 1 - 0.00001278 dt - 0.0000000062 dt^2, dt = t - base of the glass
 *
 *  @param t_degf           temperature {degF} [-58, 302]
 *  @param glass_base_degf  base temperature of the glass {degF} [50, 86]
 *  @return factor {1}
 *  @source API Standard 2540 (1980), hydrometer correction of tables 5 and 23
 *  @status from memory; agrees with the degC form within 3e-7 from 0 to 130 degF
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_hydrometer_glass_factor_1980_degf(double t_degf, double glass_base_degf, double *result);

/** Glass factor of a hydrometer, degC form: true density = reading * factor
 *  hyc = 1 - 0.000023 dt - 0.00000002 dt^2, dt = t - base of the glass
 *
 *  @param t_degc           temperature {degC} [-50, 150]
 *  @param glass_base_degc  base temperature of the glass {degC} [10, 30]
 *  @return factor {1}
 *  @source API Standard 2540 (1980), hydrometer correction of tables 53 and 59
 *  @status from memory; one published example of table 59B (806.4 kg/m3) agrees with base 20 degC only
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_hydrometer_glass_factor_1980_degc(double t_degc, double glass_base_degc, double *result);

/** What the choice of edition does: CTL to 15 degC of 1980 less that of 2004
 *  difference = ctl_table54_petroleum_1980 - ctl15_petroleum_2004, at the same rho15, t and group
 *
 *  A quantity of our own, for people who compare tickets; no standard prints it. It is the difference of two numbers
 * near 1 and carries their rounding: about 1e-15.
 *
 *  @param rho15_kgm3  density at 15 degC {kg/m3} [611.16, 1163.86]
 *  @param t_degc      temperature {degC} [-50, 150]
 *  @param group       product group
 *  @return difference {1}
 *  @source own quantity: API Standard 2540 (1980), table 54, and API MPMS 11.1 (2004), base 15 degC
 *  @status computed; the table of tables/edition_difference_1980_2004.md comes from it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl15_difference_1980_2004(double rho15_kgm3, double t_degc, flc_petroleum_group group,
                                                  double *result);

FLC_END_DECLS

#endif
