/* SPDX-License-Identifier: Apache-2.0 */
/* Compressibility of light hydrocarbons, relative density 0.350 to 0.637: API MPMS 11.2.2 (1986).
 *
 *   F = 1 / (A + B dp), CPL = 1 / (1 - F dp), dp = p - pe; A and B polynomials in T and relative density at 60 degF
 *
 * dp is the pressure above the equilibrium (vapour) pressure pe of the liquid at t, which is measured or supplied: the
 * correlations for pe of a mixture (GPA TP-15) are not here. The temperature part, at equilibrium pressure, is
 * flowcomp/light_ends_2007.h.
 *
 * The constants are from memory and no printed table was found; a wrong digit would show as a gross error, because the
 * terms of A cancel. Against the isothermal compressibility of reference equations of state at saturation, -20 to 120
 * degF: propane -4 to +5 %, n-butane -2 to +5 %, isobutane -6 to -1 %, n-pentane -6 to -3 %, which is its class of
 * accuracy. It fails close to the critical point: ethane above 85 degF. Where A is not positive there is no F:
 * FLC_E_DOMAIN. The range of dp is from memory. */
#ifndef FLOWCOMP_COMPRESSIBILITY_1986_H
#define FLOWCOMP_COMPRESSIBILITY_1986_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Compressibility factor of light hydrocarbons, edition 1986
 *  f = 1e5 / (A + B dp): A / 1e5 = A5 + A11 G + T (A10 + A9 G + A8 G^2) + T^2 (A1 + A2 G^2 + A3 G^4) + T^3 (A6 G^2 + A7
 * G^4
 *  + A4 G^6), B / 1e5 = B1 T^2 + B2 T G^2 + B3 G + B4 G^2, T = t + 459.67, G = rd60
 *
 *  @param rd60    relative density at 60 degF and equilibrium pressure {1} [0.35, 0.637]
 *  @param t_degf  temperature {degF} [-50, 140]
 *  @param dp_psi  pressure above equilibrium pressure {psi} [0, 2200]
 *  @return F {1e-5/psi}
 *  @source API MPMS 11.2.2 (1986)
 *  @status from memory; within 6 % of reference equations of state at saturation, propane to n-pentane, -20 to 120
 * degF; a wrong digit in memory cannot be excluded; fails close to the critical point
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_f_compressibility_1986(double rd60, double t_degf, double dp_psi, double *result);

/** CPL of light hydrocarbons, edition 1986
 *  cpl = 1 / (1 - 1e-5 f dp)
 *
 *  @param rd60    relative density at 60 degF and equilibrium pressure {1} [0.35, 0.637]
 *  @param t_degf  temperature {degF} [-50, 140]
 *  @param dp_psi  pressure above equilibrium pressure {psi} [0, 2200]
 *  @return CPL {1}
 *  @source API MPMS 11.2.2 (1986)
 *  @status from memory; as f_compressibility_1986: CPL within 6 % of its distance from 1
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl_compressibility_1986(double rd60, double t_degf, double dp_psi, double *result);

/** Relative density at 60 degF from an observed one under pressure: light ends of 2007 and compressibility of 1986
 * together rd60 ctl60(rd60, t) cpl(rd60, t, dp) = rd, solved for rd60
 *
 *  Above 90 degF the product turns back towards the critical point, where the formula no longer holds: only the branch
 *  that rises up to 0.637 is searched, and a lighter liquid is FLC_E_NO_ROOT.
 *
 *  @param rd      density at t and p, over that of water at 60 degF (999.016 kg/m3) {1} [0.2, 0.8]
 *  @param t_degf  temperature {degF} [-50, 140]
 *  @param dp_psi  pressure above equilibrium pressure {psi} [0, 2200]
 *  @return relative density at 60 degF {1}
 *  @source API MPMS 11.2.4 = GPA TP-27 (2007), table 24E, and API MPMS 11.2.2 (1986), solved together inside a bracket
 *  @status common practice; rests on both methods
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rd60_from_observed_compressibility_1986(double rd, double t_degf, double dp_psi, double *result);

FLC_END_DECLS

#endif
