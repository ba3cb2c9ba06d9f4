/* SPDX-License-Identifier: Apache-2.0 */
/* Mixtures of ethanol and water: OIML R 22 (1975), the formula of the EU directive 76/766/EEC, unrounded.
 *
 *   rho(p, t) = A1 + sum A_k p^(k-1) + sum B_k (t - 20)^k + sum C_ik p^k (t - 20)^i
 *
 * in kg/m3, p mass fraction of ethanol, t in degC of IPTS-68 taken as given (the scales differ by at most 0.010 K here,
 * 1e-5 in density). 54 coefficients as printed; in strong mixtures they cancel 3000-fold, so they are carried with 106
 * bits. At constant t, density falls and volume fraction rises with p, strictly: each inverse is unique.
 *
 * Range of the formula: -20 to 40 degC. Where a weak mixture is ice below 0 degC is not judged. Older national tables
 * (ITS-27 and before) lie up to 0.12 kg/m3 higher. Air: 1.2 kg/m3, by weights of brass, 8393 kg/m3.
 *
 * Denatured fuel ethanol and gasohol have standards of their own (API MPMS 11.3.3, 11.3.4), which are not here. */
#ifndef FLOWCOMP_ETHANOL_OIML_R22_H
#define FLOWCOMP_ETHANOL_OIML_R22_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Density of ethanol-water
 *  rho = A1 + sum A_k p^(k-1) + sum B_k (t - 20)^k + sum C_ik p^k (t - 20)^i
 *
 *  @param mass_fraction  mass fraction of ethanol {1} [0, 1]
 *  @param t_degc         temperature, IPTS-68 {degC} [-20, 40]
 *  @return rho {kg/m3}
 *  @source OIML R 22 (1975), general formula; Council Directive 76/766/EEC, annex
 *  @status published; A1 to A5 and B1 to B4 read in the annex of the directive, the others in several public copies
 *  that agree; 998.20 and 789.24 kg/m3 at 20 degC
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_ethanol_water_oiml_r22(double mass_fraction, double t_degc, double *result);

/** Volume of ethanol per cent, from mass fraction
 *  100 p rho(p, t_ref) / rho(1, t_ref)
 *
 *  @param mass_fraction  mass fraction of ethanol {1} [0, 1]
 *  @param t_ref_degc     reference temperature of the volume fraction, 20 degC in R 22 {degC} [-20, 40]
 *  @return volume per cent {%}
 *  @source OIML R 22 (1975), alcoholic strength by volume
 *  @status published; see rho_ethanol_water_oiml_r22
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_volume_percent_from_mass_fraction_ethanol_oiml_r22(double mass_fraction, double t_ref_degc,
                                                                          double *result);

/** Mass of ethanol per cent, from volume fraction
 *  100 p, where p rho(p, t_ref) = q rho(1, t_ref)
 *
 *  @param volume_fraction  volume fraction of ethanol at the reference temperature {1} [0, 1]
 *  @param t_ref_degc       reference temperature of the volume fraction, 20 degC in R 22 {degC} [-20, 40]
 *  @return mass per cent {%}
 *  @source OIML R 22 (1975), alcoholic strength by volume, solved inside a bracket
 *  @status published; USP 29 alcoholometric table (60 degF, older data) within 0.005
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mass_percent_from_volume_fraction_ethanol_oiml_r22(double volume_fraction, double t_ref_degc,
                                                                          double *result);

/** Mass of ethanol per cent, from an observed density
 *  100 p, where rho(p, t) = rho; FLC_E_NO_ROOT if no mixture has that density
 *
 *  @param rho_kgm3  observed density, true (in vacuo), at t {kg/m3} [770, 1000]
 *  @param t_degc    temperature, IPTS-68 {degC} [-20, 40]
 *  @return mass per cent {%}
 *  @source OIML R 22 (1975), general formula, solved inside a bracket
 *  @status published; see rho_ethanol_water_oiml_r22
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mass_percent_from_density_ethanol_oiml_r22(double rho_kgm3, double t_degc, double *result);

/** Specific gravity in air, t/t
 *  (rho(p, t) - 1.2) / (rho(0, t) - 1.2), p from the volume fraction at the reference temperature
 *
 *  @param volume_fraction  volume fraction of ethanol at the reference temperature {1} [0, 1]
 *  @param t_ref_degc       reference temperature of the volume fraction {degC} [-20, 40]
 *  @param t_degc           temperature of mixture and water, IPTS-68 {degC} [-20, 40]
 *  @return specific gravity {1}
 *  @source OIML R 22 (1975) density; air 1.2 kg/m3
 *  @status published; USP 29 alcoholometric table (older data) within 1e-4
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_sg_in_air_ethanol_oiml_r22(double volume_fraction, double t_ref_degc, double t_degc,
                                                  double *result);

/** US gallons at 60 degF per pound weighed in air
 *  0.45359237 (1 - 1.2 / 8393) / ((rho - 1.2) 0.003785411784), rho at 60 degF; proof = 200 q at 60 degF
 *
 *  @param proof  US proof {1} [0, 200]
 *  @return gallons per pound {gal/lb}
 *  @source OIML R 22 (1975) density; air 1.2 kg/m3, weights of 8393 kg/m3
 *  @status published; 27 CFR 30.64 (older data) within 2e-5 at 190 and 200 proof
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_gal_per_lb_in_air_ethanol_oiml_r22(double proof, double *result);

/** CTL to 15 degC, at constant mass fraction
 *  ctl = rho(p, t) / rho(p, 15)
 *
 *  @param mass_fraction  mass fraction of ethanol {1} [0, 1]
 *  @param t_degc         temperature, IPTS-68 {degC} [-20, 40]
 *  @return CTL {1}
 *  @source OIML R 22 (1975), quotient of two densities
 *  @status published; see rho_ethanol_water_oiml_r22
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl15_ethanol_water_oiml_r22(double mass_fraction, double t_degc, double *result);

/** CTL to 20 degC, at constant mass fraction
 *  ctl = rho(p, t) / rho(p, 20)
 *
 *  @param mass_fraction  mass fraction of ethanol {1} [0, 1]
 *  @param t_degc         temperature, IPTS-68 {degC} [-20, 40]
 *  @return CTL {1}
 *  @source OIML R 22 (1975), quotient of two densities
 *  @status published; see rho_ethanol_water_oiml_r22
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl20_ethanol_water_oiml_r22(double mass_fraction, double t_degc, double *result);

/** CTL to any base temperature, at constant mass fraction
 *  ctl = rho(p, t) / rho(p, t_base)
 *
 *  @param mass_fraction  mass fraction of ethanol {1} [0, 1]
 *  @param t_degc         temperature, IPTS-68 {degC} [-20, 40]
 *  @param t_base_degc    base temperature, IPTS-68 {degC} [-20, 40]
 *  @return CTL {1}
 *  @source OIML R 22 (1975), quotient of two densities
 *  @status published; see rho_ethanol_water_oiml_r22
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_ethanol_water_oiml_r22(double mass_fraction, double t_degc, double t_base_degc,
                                                  double *result);

/** Density at 15 degC from an observed density
 *  rho15 = rho(p, 15), where rho(p, t) = rho; FLC_E_NO_ROOT if no mixture has that density
 *
 *  @param rho_kgm3  observed density, true (in vacuo), at t {kg/m3} [770, 1000]
 *  @param t_degc    temperature, IPTS-68 {degC} [-20, 40]
 *  @return rho15 {kg/m3}
 *  @source OIML R 22 (1975), general formula, solved inside a bracket
 *  @status published; see rho_ethanol_water_oiml_r22
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho15_from_observed_ethanol_water_oiml_r22(double rho_kgm3, double t_degc, double *result);

/** Density at 20 degC from an observed density
 *  rho20 = rho(p, 20), where rho(p, t) = rho; FLC_E_NO_ROOT if no mixture has that density
 *
 *  @param rho_kgm3  observed density, true (in vacuo), at t {kg/m3} [770, 1000]
 *  @param t_degc    temperature, IPTS-68 {degC} [-20, 40]
 *  @return rho20 {kg/m3}
 *  @source OIML R 22 (1975), general formula, solved inside a bracket
 *  @status published; see rho_ethanol_water_oiml_r22
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho20_from_observed_ethanol_water_oiml_r22(double rho_kgm3, double t_degc, double *result);

/** Density at any base temperature from an observed density
 *  rho_base = rho(p, t_base), where rho(p, t) = rho; FLC_E_NO_ROOT if no mixture has that density
 *
 *  @param rho_kgm3     observed density, true (in vacuo), at t {kg/m3} [770, 1000]
 *  @param t_degc       temperature, IPTS-68 {degC} [-20, 40]
 *  @param t_base_degc  base temperature, IPTS-68 {degC} [-20, 40]
 *  @return rho_base {kg/m3}
 *  @source OIML R 22 (1975), general formula, solved inside a bracket
 *  @status published; see rho_ethanol_water_oiml_r22
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_ethanol_water_oiml_r22(double rho_kgm3, double t_degc, double t_base_degc,
                                                                     double *result);

FLC_END_DECLS

#endif
