/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity under pressure. p of Barus and Roelands is the pressure above that of mu0; Kouzel takes gauge pressure, its
 * variant in the API data book absolute pressure. At 10 MPa the effect on mineral oils is about +15 to +35 % (alpha 14
 * to 30 1/GPa): not negligible where hydraulic oil is metered.
 *
 *   Barus     mu = mu0 exp(alpha p)
 *   Roelands  mu = mu0 exp{(ln mu0 + 9.67) [(1 + 5.1e-9 p)^Z ((T - 138) / (T0 - 138))^(-S0) - 1]}, mu0 in Pa s, p in Pa
 *
 * Both start with the same slope; above some 50 MPa Barus runs away and Roelands is the one to believe. Ranges are
 * ours: they hold the oils of the engineering tables with room on both sides; FLC_E_DOMAIN where a viscosity in them
 * would be too large for a double. */
#ifndef FLOWCOMP_VISCOSITY_PRESSURE_H
#define FLOWCOMP_VISCOSITY_PRESSURE_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Viscosity under pressure, Barus
 *  mu = mu0 exp(alpha p)
 *
 *  @param mu0_mpas       viscosity at the reference pressure {mPa s} [0.1, 1e7]
 *  @param alpha_per_gpa  pressure-viscosity coefficient {1/GPa} [0, 200]
 *  @param p_mpa          pressure above that of mu0 {MPa} [0, 1000]
 *  @return mu {mPa s}
 *  @source Barus (1893); alpha for instance Stachowiak and Batchelor, Engineering Tribology, Table 2.3
 *  @status published; a first approximation, for some tens of MPa
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_barus(double mu0_mpas, double alpha_per_gpa, double p_mpa, double *result);

/** Pressure index Z of Roelands, from alpha
 *  z = alpha / (5.1e-9 (ln mu0 + 9.67)), mu0 in Pa s, alpha in 1/Pa
 *
 *  @param mu0_mpas       viscosity at the reference pressure {mPa s} [0.1, 1e7]
 *  @param alpha_per_gpa  pressure-viscosity coefficient {1/GPa} [0, 200]
 *  @return Z {1}
 *  @source Roelands (1966), as in Stachowiak and Batchelor, Engineering Tribology
 *  @status published; constants 9.67, 5.1e-9 and 138 in one source; no worked number was found
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_z_roelands(double mu0_mpas, double alpha_per_gpa, double *result);

/** Pressure-viscosity coefficient of Roelands, from Z
 *  alpha = 5.1e-9 z (ln mu0 + 9.67), mu0 in Pa s
 *
 *  @param mu0_mpas  viscosity at the reference pressure {mPa s} [0.1, 1e7]
 *  @param z         Z {1} [0, 100]
 *  @return alpha {1/GPa}
 *  @source Roelands (1966), as in Stachowiak and Batchelor, Engineering Tribology
 *  @status published; constants 9.67, 5.1e-9 and 138 in one source; no worked number was found
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_alpha_roelands(double mu0_mpas, double z, double *result);

/** Temperature index S0 of Roelands, from the temperature coefficient
 *  s0 = beta (T0 - 138) / (ln mu0 + 9.67), mu0 in Pa s
 *
 *  @param mu0_mpas    viscosity at T0 and the reference pressure {mPa s} [0.1, 1e7]
 *  @param beta_per_k  temperature coefficient of ln mu at T0, positive where mu falls {1/K} [0, 1]
 *  @param t0_k        T0 {K} [150, 700]
 *  @return S0 {1}
 *  @source Roelands (1966), as in Stachowiak and Batchelor, Engineering Tribology
 *  @status published; constants 9.67, 5.1e-9 and 138 in one source; no worked number was found
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_s0_roelands(double mu0_mpas, double beta_per_k, double t0_k, double *result);

/** Viscosity under pressure, Roelands
 *  mu = mu0 exp{(ln mu0 + 9.67) [(1 + 5.1e-9 p)^z ((T - 138) / (T0 - 138))^(-s0) - 1]}, mu0 in Pa s, p in Pa, z of
 *  alpha; without t_k, t0_k and s0 the temperature factor is 1, with some of them only FLC_E_MISSING
 *
 *  @param mu0_mpas       viscosity at T0 and the reference pressure {mPa s} [0.1, 1e7]
 *  @param alpha_per_gpa  pressure-viscosity coefficient at T0 {1/GPa} [0, 200]
 *  @param p_mpa          pressure above that of mu0 {MPa} [0, 1000]
 *  @param t_k            temperature {K} [150, 700] optional
 *  @param t0_k           T0, the temperature of mu0 {K} [150, 700] optional
 *  @param s0             S0 {1} [0, 10] optional
 *  @return mu {mPa s}; FLC_E_DOMAIN where it passes the range of doubles
 *  @source Roelands (1966), as in Stachowiak and Batchelor, Engineering Tribology
 *  @status published; constants 9.67, 5.1e-9 and 138 in one source; no worked number was found
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_roelands(double mu0_mpas, double alpha_per_gpa, double p_mpa, double t_k, double t0_k,
                                   double s0, double *result);

/** Slope of ln mu in pressure at constant temperature, Roelands
 *  d ln mu / dp = alpha (1 + 5.1e-9 p)^(z - 1), p in Pa, z of alpha
 *
 *  @param mu0_mpas       viscosity at the reference pressure {mPa s} [0.1, 1e7]
 *  @param alpha_per_gpa  pressure-viscosity coefficient {1/GPa} [0, 200]
 *  @param p_mpa          pressure above that of mu0 {MPa} [0, 1000]
 *  @return d ln mu / dp {1/GPa}
 *  @source derivative of Roelands (1966)
 *  @status computed; alpha at p = 0
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_dlnmu_dp_roelands(double mu0_mpas, double alpha_per_gpa, double p_mpa, double *result);

/** Viscosity of mineral oil under pressure, Kouzel
 *  log10(mu / mu0) = p / 1000 (0.0239 + 0.01638 mu0^0.278), p in psi gauge, 1 psi = 6894.757293168 Pa
 *
 *  @param mu0_mpas  viscosity at atmospheric pressure {mPa s} [0.01, 1e5]
 *  @param p_mpag    pressure, gauge {MPa} [0, 100]
 *  @return mu {mPa s}
 *  @source Kouzel, Hydrocarbon Processing 44 (1965) no. 3, 120
 *  @status from memory; no published example was found; range ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_kouzel_1965(double mu0_mpas, double p_mpag, double *result);

/** Viscosity of hydrocarbons under pressure, API data book variant of Kouzel
 *  log10(mu / mu0) = (p - 1.0133) / 1e4 (-1.48 + 5.86 mu0^0.181), p in bar absolute
 *
 *  @param mu0_mpas  viscosity at atmospheric pressure {mPa s} [0.01, 1e5]
 *  @param p_mpaa    pressure, absolute {MPa} [0, 100]
 *  @return mu {mPa s}
 *  @source API Technical Data Book, high-pressure liquid viscosity
 *  @status from memory; no published example was found; range ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_kouzel_api(double mu0_mpas, double p_mpaa, double *result);

FLC_END_DECLS

#endif
