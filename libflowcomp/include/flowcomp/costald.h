/* SPDX-License-Identifier: Apache-2.0 */
/* Density of light hydrocarbon liquids by corresponding states (COSTALD): Hankinson and Thomson (1979) at the vapour
 * pressure, Thomson, Brobst and Hankinson (1982) above it. With Tr = T / Tc, x = 1 - Tr,
 *
 *   V0 = 1 - 1.52816 x^(1/3) + 1.43907 x^(2/3) - 0.81446 x + 0.190454 x^(4/3)
 *   Vd = (-0.296123 + 0.386914 Tr - 0.0427258 Tr^2 - 0.0480645 Tr^3) / (Tr - 1.00001)
 *   rho_sat = M / (V* V0 (1 - w Vd))
 *   rho     = rho_sat / (1 - C ln((B + p) / (B + psat))),  C = 0.0861488 + 0.0344483 w
 *   B       = pc (-1 - 9.070217 x^(1/3) + 62.45326 x^(2/3) - 135.1102 x + e x^(4/3))
 *   e       = exp(4.79594 + 0.250047 w + 1.14188 w^2)
 *
 * Tc, V*, w (of Soave's equation) and M by fluid: tables/costald_1979. Reduced temperatures from 0.25 (FLC_E_BELOW) to
 * 0.95 (FLC_E_ABOVE); from 0.5 to 0.85 reference equations of state lie within 0.15 % (propane, butanes) or 0.4 %.
 * Where a fluid freezes is not judged. All pressures are absolute; critical and vapour pressure are the caller's, in
 * the same unit: FLC_E_BELOW below the vapour pressure, FLC_E_CONFLICT unless the vapour pressure is below the critical
 * one, FLC_E_DOMAIN where the two leave the formula without a value. */
#ifndef FLOWCOMP_COSTALD_H
#define FLOWCOMP_COSTALD_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

typedef enum flc_costald_fluid {
    FLC_COSTALD_ETHANE = 0,
    FLC_COSTALD_ETHYLENE = 1,
    FLC_COSTALD_ISOBUTANE = 2,
    FLC_COSTALD_METHANE = 3,
    FLC_COSTALD_N_BUTANE = 4,
    FLC_COSTALD_N_HEXANE = 5,
    FLC_COSTALD_N_PENTANE = 6,
    FLC_COSTALD_PROPANE = 7,
    FLC_COSTALD_PROPYLENE = 8
} flc_costald_fluid;

/** Fluid from its word ("ethane", "n_butane", ...).
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the fluid is then -1)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_costald_fluid_from_name(const char *name, flc_costald_fluid *choice);

/** Density of the saturated liquid, COSTALD
 *  rho = M / (V* V0 (1 - w Vd))
 *
 *  @param fluid  pure fluid
 *  @param t_k    temperature, from 0.25 to 0.95 Tc {K} [47, 483]
 *  @return rho {kg/m3}
 *  @source Hankinson and Thomson, AIChE Journal 25 (1979) 653-663
 *  @status from memory; from 0.5 to 0.85 Tc reference equations of state within 0.15 % for propane and the butanes,
 *  within 0.4 % for the others
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_saturated_liquid_costald_1979(flc_costald_fluid fluid, double t_k, double *result);

/** CTL of the saturated liquid, COSTALD, any base temperature
 *  ctl = rho(t) / rho(t_base), each at its vapour pressure
 *
 *  @param fluid     pure fluid
 *  @param t_k       temperature, from 0.25 to 0.95 Tc {K} [47, 483]
 *  @param t_base_k  base temperature, from 0.25 to 0.95 Tc {K} [47, 483]
 *  @return CTL {1}
 *  @source quotient of two densities of Hankinson and Thomson (1979)
 *  @status from memory; see the density
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_saturated_liquid_costald_1979(flc_costald_fluid fluid, double t_k, double t_base_k,
                                                         double *result);

/** CPL from the vapour pressure to p, COSTALD
 *  cpl = rho / rho_sat = 1 / (1 - C ln((B + p) / (B + psat)))
 *
 *  @param fluid     pure fluid
 *  @param t_k       temperature, from 0.25 to 0.95 Tc {K} [47, 483]
 *  @param p_kpa     pressure, absolute, at least psat_kpa {kPa} [0.001, 70000]
 *  @param psat_kpa  vapour pressure at t, absolute, below pc_kpa {kPa} [0.001, 10000]
 *  @param pc_kpa    critical pressure, absolute {kPa} [1000, 10000]
 *  @return CPL {1}
 *  @source Thomson, Brobst and Hankinson, AIChE Journal 28 (1982) 671-676
 *  @status from memory; 1 at the vapour pressure; at 10 MPa reference equations of state within 0.0043
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl_costald_1982(flc_costald_fluid fluid, double t_k, double p_kpa, double psat_kpa,
                                        double pc_kpa, double *result);

/** Density of the compressed liquid, COSTALD
 *  rho = rho_sat / (1 - C ln((B + p) / (B + psat)))
 *
 *  @param fluid     pure fluid
 *  @param t_k       temperature, from 0.25 to 0.95 Tc {K} [47, 483]
 *  @param p_kpa     pressure, absolute, at least psat_kpa {kPa} [0.001, 70000]
 *  @param psat_kpa  vapour pressure at t, absolute, below pc_kpa {kPa} [0.001, 10000]
 *  @param pc_kpa    critical pressure, absolute {kPa} [1000, 10000]
 *  @return rho {kg/m3}
 *  @source Thomson, Brobst and Hankinson, AIChE Journal 28 (1982) 671-676
 *  @status from memory; rho_saturated_liquid_costald_1979 at the vapour pressure
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_compressed_liquid_costald_1982(flc_costald_fluid fluid, double t_k, double p_kpa,
                                                          double psat_kpa, double pc_kpa, double *result);

/** Density of the saturated liquid at base temperature, from an observed density under pressure, COSTALD
 *  rho / (ctl cpl)
 *
 *  @param fluid     pure fluid whose expansion and compression are taken
 *  @param rho_kgm3  density at t and p {kg/m3} [1, 2000]
 *  @param t_k       temperature, from 0.25 to 0.95 Tc {K} [47, 483]
 *  @param p_kpa     pressure, absolute, at least psat_kpa {kPa} [0.001, 70000]
 *  @param psat_kpa  vapour pressure at t, absolute, below pc_kpa {kPa} [0.001, 10000]
 *  @param pc_kpa    critical pressure, absolute {kPa} [1000, 10000]
 *  @param t_base_k  base temperature, from 0.25 to 0.95 Tc {K} [47, 483]
 *  @return rho at the base and its vapour pressure {kg/m3}
 *  @source Hankinson and Thomson (1979); Thomson, Brobst and Hankinson (1982)
 *  @status from memory; returns the density that rho_compressed_liquid_costald_1982 starts from
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_costald_1982(flc_costald_fluid fluid, double rho_kgm3, double t_k,
                                                           double p_kpa, double psat_kpa, double pc_kpa,
                                                           double t_base_k, double *result);

FLC_END_DECLS

#endif
