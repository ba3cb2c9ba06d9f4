/* SPDX-License-Identifier: Apache-2.0 */
/* Ordinary water: IAPWS-95, pressure from temperature and density and the inverse for the liquid; saturation pressure
 * by the short equation of IAPWS SR1-86.
 *
 *   p = rho R T (1 + delta phi_delta), phi the residual Helmholtz energy of 56 terms
 *
 * R = 0.46151805 kJ/(kg K), delta = rho / 322 kg/m3, tau = 647.096 K / T, T on ITS-90. Between the densities of vapour
 * and liquid at saturation the formula goes on as a loop that is no state of equilibrium: it is evaluated there and not
 * refused. */
#ifndef FLOWCOMP_WATER_IAPWS95_H
#define FLOWCOMP_WATER_IAPWS95_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Pressure of water from temperature and density, IAPWS-95
 *  p = rho R T (1 + delta phi_delta)
 *
 *  @param t_k       temperature, ITS-90 {K} [251.2, 1273]
 *  @param rho_kgm3  density {kg/m3} [0, 1250]
 *  @return absolute pressure {MPa}
 *  @source IAPWS R6-95(2018), Table 2 and Table 3; Wagner and Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387-535
 *  @status from memory; the pressures of Table 7 reproduce to their 9 figures, and it agrees with two independent
 *  implementations. The release holds to 1000 MPa
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_p_water_iapws95(double t_k, double rho_kgm3, double *result);

/** Saturation pressure of water
 *  ln(p / pc) = tau (a1 th + a2 th^1.5 + a3 th^3 + a4 th^3.5 + a5 th^4 + a6 th^7.5), th = 1 - T / 647.096 K
 *
 *  @param t_k  temperature, ITS-90 {K} [273.15, 647.096]
 *  @return absolute pressure {MPa}
 *  @source IAPWS SR1-86(1992), equation 1; Wagner and Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783-787
 *  @status from memory; within 1e-4 (relative) of the saturation pressure of IAPWS-95
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_p_saturation_water_sr1_86(double t_k, double *result);

/** Density of liquid water from temperature and pressure, IAPWS-95
 *  rho solves p(T, rho) = p on the branch of the liquid; FLC_E_BELOW under the saturation pressure of SR1-86
 *
 *  @param t_k    temperature, ITS-90 {K} [273.15, 643]
 *  @param p_mpa  absolute pressure {MPa} [0.000611, 600]
 *  @return rho {kg/m3}
 *  @source IAPWS R6-95(2018), solved inside a bracket
 *  @status from memory; see p_water_iapws95. The ends are ours: below 600 MPa all of it is liquid, and above 643 K the
 *  density of the liquid near saturation runs away towards the critical point
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_water_iapws95(double t_k, double p_mpa, double *result);

FLC_END_DECLS

#endif
