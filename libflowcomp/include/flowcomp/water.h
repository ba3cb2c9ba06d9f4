/* SPDX-License-Identifier: Apache-2.0 */
/* Density of pure water at about 1 atm, by four published formulas, CTL from each, and the CPL of common practice.
 * Which one counts is the contract's choice: API MPMS 11.1 (2004) rests on Patterson and Morris, metrology on
 * CIPM-2001.
 *
 * Against IAPWS-95 at 101.325 kPa: CIPM-2001 within 0.0012 kg/m3 from 0 to 40 degC, Patterson-Morris within 0.0017 from
 * 1 to 40, Jones-Harris within 0.0053 from 5 to 40, Kell within 0.004 from 0 to 40, 0.015 to 99 and 0.18 at 150 degC.
 * Kell holds at 1 atm also where water would boil. Kell takes t on IPTS-68, as given. Sea water is in seawater_eos80.h,
 * produced water in produced_water.h, water under pressure in water_iapws95.h. */
#ifndef FLOWCOMP_WATER_H
#define FLOWCOMP_WATER_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Density of air-free water, CIPM-2001
 *  rho = a5 (1 - (t + a1)^2 (t + a2) / (a3 (t + a4))) (1 + (50.74 - 0.326 t + 0.00416 t^2) 1e-11 (p - 101325 Pa))
 *
 *  @param t_degc  temperature, ITS-90 {degC} [0, 40]
 *  @param p_kpa   absolute pressure {kPa} [10, 2000] optional, 101.325
 *  @return rho {kg/m3}
 *  @source Tanaka et al., Metrologia 38 (2001) 301-309, recommended by the CIPM; isotopic composition of SMOW
 *  @status from memory; measured 998.9468(6) kg/m3 at 16 degC against 998.9459. Range of pressure ours: the change with
 *  pressure agrees with IAPWS-95 within 2e-6 to 1 MPa and 4e-6 to 2 MPa
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_water_cipm_2001(double t_degc, double p_kpa, double *result);

/** Change of the density of water by saturation with air
 *  -4.612e-3 + 0.106e-3 t; add it to the density of air-free water
 *
 *  @param t_degc  temperature {degC} [0, 25]
 *  @return change of density {kg/m3}
 *  @source Tanaka et al., Metrologia 38 (2001) 301-309, after Bignell (1983)
 *  @status from memory; the range too
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_air_saturation_shift_water_cipm_2001(double t_degc, double *result);

/** CTL of water, CIPM-2001
 *  ctl = rho(t) / rho(t_base), both at 101.325 kPa
 *
 *  @param t_degc       temperature, ITS-90 {degC} [0, 40]
 *  @param t_base_degc  base temperature, ITS-90 {degC} [0, 40]
 *  @return CTL {1}
 *  @source Tanaka et al., Metrologia 38 (2001) 301-309, quotient of two densities
 *  @status from memory; see rho_water_cipm_2001
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_water_cipm_2001(double t_degc, double t_base_degc, double *result);

/** Density of water, Patterson and Morris
 *  rho = 999.97358 (1 - (7.0134e-8 d + 7.926504e-6 d^2 - 7.575677e-8 d^3 + 7.314894e-10 d^4 - 3.596458e-12 d^5)), d = t
 *  - 3.9818
 *
 *  @param t_degc  temperature, ITS-90 {degC} [1, 40]
 *  @return rho {kg/m3}
 *  @source Patterson and Morris, Metrologia 31 (1994) 277-288, 1 to 40 degC; the water of API MPMS 11.1 (2004)
 *  @status from memory; reproduces 100 of 100 published cells of GOST 3900-2022 Table V.1 and the 999.016 kg/m3 of API
 *  MPMS 11.1 at 60 degF
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_water_patterson_morris_1994(double t_degc, double *result);

/** CTL of water, Patterson and Morris
 *  ctl = rho(t) / rho(t_base)
 *
 *  @param t_degc       temperature, ITS-90 {degC} [1, 40]
 *  @param t_base_degc  base temperature, ITS-90 {degC} [1, 40]
 *  @return CTL {1}
 *  @source Patterson and Morris, Metrologia 31 (1994) 277-288, quotient of two densities
 *  @status from memory; see rho_water_patterson_morris_1994
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_water_patterson_morris_1994(double t_degc, double t_base_degc, double *result);

/** Density of air-free water, Jones and Harris
 *  rho = 999.85308 + 6.32693e-2 t - 8.523829e-3 t^2 + 6.943248e-5 t^3 - 3.821216e-7 t^4
 *
 *  @param t_degc  temperature, ITS-90 {degC} [5, 40]
 *  @return rho {kg/m3}
 *  @source Jones and Harris, J. Res. NIST 97 (1992) 335-340, air-free
 *  @status published; 0.0037 to 0.0040 kg/m3 below CIPM-2001 at 10, 25 and 40 degC
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_water_jones_harris_1992(double t_degc, double *result);

/** CTL of water, Jones and Harris
 *  ctl = rho(t) / rho(t_base)
 *
 *  @param t_degc       temperature, ITS-90 {degC} [5, 40]
 *  @param t_base_degc  base temperature, ITS-90 {degC} [5, 40]
 *  @return CTL {1}
 *  @source Jones and Harris, J. Res. NIST 97 (1992) 335-340, quotient of two densities
 *  @status published; see rho_water_jones_harris_1992
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_water_jones_harris_1992(double t_degc, double t_base_degc, double *result);

/** Density of water at 1 atm, Kell
 *  rho = (999.83952 + 16.945176 t - 7.9870401e-3 t^2 - 46.170461e-6 t^3 + 105.56302e-9 t^4 - 280.54253e-12 t^5) / (1 +
 *  16.879850e-3 t)
 *
 *  @param t_degc  temperature, IPTS-68 {degC} [0, 150]
 *  @return rho {kg/m3}
 *  @source Kell, J. Chem. Eng. Data 20 (1975) 97-105, 1 atm
 *  @status published; within 0.0035 kg/m3 of CIPM-2001 from 10 to 40 degC with t as given. A web text of J. Res. NIST
 *  97 (1992) prints the denominator as 16.897850e-3, a misprint: 999.90 instead of 999.97 at 4 degC
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_water_kell_1975(double t_degc, double *result);

/** CTL of water at 1 atm, Kell
 *  ctl = rho(t) / rho(t_base)
 *
 *  @param t_degc       temperature, IPTS-68 {degC} [0, 150]
 *  @param t_base_degc  base temperature, IPTS-68 {degC} [0, 150]
 *  @return CTL {1}
 *  @source Kell, J. Chem. Eng. Data 20 (1975) 97-105, quotient of two densities
 *  @status published; see rho_water_kell_1975
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_water_kell_1975(double t_degc, double t_base_degc, double *result);

/** Isothermal compressibility of water at 1 atm, Kell
 *  kappa = (50.88496 + 0.6163813 t + 1.459187e-3 t^2 + 20.08438e-6 t^3 - 58.47727e-9 t^4 + 410.4110e-12 t^5) / (1 +
 *  19.67348e-3 t)
 *
 *  @param t_degc  temperature, IPTS-68 {degC} [0, 150]
 *  @return kappa {1e-6/bar}
 *  @source Kell, J. Chem. Eng. Data 20 (1975) 97-105
 *  @status from memory; within 1.5e-4 (relative) of IAPWS-95 from 0 to 99 degC, 1.6e-3 at 150 degC
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_kappa_water_kell_1975(double t_degc, double *result);

/** CPL of water or produced water by common practice
 *  cpl = 1 / (1 - 3.2e-6 p)
 *
 *  @param p_psig  gauge pressure {psi} [0, 1500]
 *  @return CPL {1}
 *  @source common practice: water compressibility 3.2e-6/psi (4.64e-7/kPa)
 *  @status common practice; against IAPWS-95 within 3.5e-4 at 1500 psig from 1 to 90 degC, 6e-5 at 60 degF; range ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl_water_common_practice(double p_psig, double *result);

FLC_END_DECLS

#endif
