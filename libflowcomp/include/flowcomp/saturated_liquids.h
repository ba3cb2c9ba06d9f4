/* SPDX-License-Identifier: Apache-2.0 */
/* Density of pure liquids at their vapour pressure: the short ancillary equations of the reference equations of state,
 * and CTL as a ratio of densities. With th = 1 - T / Tc,
 *
 *   rho = rho_c exp(sum n_i th^e_i)  or  rho = rho_c (1 + sum n_i th^e_i)
 *
 * by fluid: tables/eos_ancillary_memory. From the triple point (FLC_E_BELOW) to the critical point (FLC_E_ABOVE). A CTL
 * here goes along the saturation line: each volume at its own vapour pressure, as in the tables of light hydrocarbons.
 * Polymer-grade ethylene and propylene at other pressures have standards of their own (API MPMS 11.3.2.1 and 11.3.3.2),
 * which are not here; for compressed liquids see costald.h. */
#ifndef FLOWCOMP_SATURATED_LIQUIDS_H
#define FLOWCOMP_SATURATED_LIQUIDS_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

typedef enum flc_saturated_liquid {
    FLC_SATURATED_CARBON_DIOXIDE = 0,
    FLC_SATURATED_ETHANE = 1,
    FLC_SATURATED_ETHYLENE = 2,
    FLC_SATURATED_ISOBUTANE = 3,
    FLC_SATURATED_METHANE = 4,
    FLC_SATURATED_N_BUTANE = 5,
    FLC_SATURATED_NITROGEN = 6,
    FLC_SATURATED_PROPANE = 7,
    FLC_SATURATED_PROPYLENE = 8,
    FLC_SATURATED_WATER = 9
} flc_saturated_liquid;

/** Fluid from its word ("carbon_dioxide", "n_butane", ...).
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the fluid is then -1)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_saturated_liquid_from_name(const char *name, flc_saturated_liquid *choice);

/** Density of the saturated liquid, ancillary equation
 *  rho_c exp(sum n th^e) or rho_c (1 + sum n th^e), th = 1 - T / Tc
 *
 *  @param fluid  pure fluid
 *  @param t_k    temperature, from its triple point to its critical point {K} [63.151, 647.096]
 *  @return rho {kg/m3}
 *  @source ancillary equation published with the reference equation of state of the fluid
 *  @status from memory; the full equations of state within 0.011 % up to 0.85 Tc (propylene 0.05 % below 0.5 Tc, water
 *  0.03 % above 0.8), within 0.09 % up to 0.95 Tc
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_saturated_liquid_ancillary(flc_saturated_liquid fluid, double t_k, double *result);

/** CTL of the saturated liquid, any base temperature
 *  ctl = rho(t) / rho(t_base), each at its vapour pressure
 *
 *  @param fluid     pure fluid
 *  @param t_k       temperature {K} [63.151, 647.096]
 *  @param t_base_k  base temperature {K} [63.151, 647.096]
 *  @return CTL {1}
 *  @source quotient of two densities of the ancillary equation
 *  @status from memory; see the density
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_saturated_liquid_ancillary(flc_saturated_liquid fluid, double t_k, double t_base_k,
                                                      double *result);

/** Density at base temperature of a nearly pure saturated liquid, from an observed density
 *  rho / ctl
 *
 *  @param fluid     pure fluid whose expansion is taken
 *  @param rho_kgm3  density at t {kg/m3} [1, 2000]
 *  @param t_k       temperature {K} [63.151, 647.096]
 *  @param t_base_k  base temperature {K} [63.151, 647.096]
 *  @return rho at the base {kg/m3}
 *  @source quotient of two densities of the ancillary equation
 *  @status from memory; see the density
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_saturated_liquid_ancillary(flc_saturated_liquid fluid, double rho_kgm3,
                                                                         double t_k, double t_base_k, double *result);

/** CTL from two densities
 *  ctl = rho / rho_base
 *
 *  @param rho_kgm3       density at t {kg/m3} [1, 25000]
 *  @param rho_base_kgm3  density at the base temperature and the same pressure {kg/m3} [1, 25000]
 *  @return CTL {1}
 *  @source definition: the mass is the same
 *  @status common practice; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_from_density_ratio(double rho_kgm3, double rho_base_kgm3, double *result);

FLC_END_DECLS

#endif
