/* SPDX-License-Identifier: Apache-2.0 */
/* Mixtures of ethylene glycol (MEG) or propylene glycol (MPG) and water, by mass fraction (not volume fraction): the
 * polynomials of Melinder (2010),
 *
 *   f = sum C_ij (x - xm)^i (t - tm)^j, x in mass per cent, t in degC, f = rho in kg/m3 or ln mu, mu in mPa s
 *
 *   MEG  xm 30.8462, tm 31.728 degC     MPG  xm 30.7031, tm 32.7083 degC
 *
 * Density is good to about 0.1 % (its constant has four digits): not for 0.05 % work, where a measured table belongs.
 * Viscosity of MEG lies up to 4.1 % below an older table of the same author: take 4 % as its uncertainty. From 5 to 60
 * mass per cent (at 0 the fits miss water by 0.02 to 0.1 %), and from -50 to 100 degC, liquid only: no freezing curve
 * is given here, so a mixture that would be ice is not refused; the caller states the lowest temperature. Density rises
 * with mass fraction, strictly, over that whole range, so the mass fraction of a density is unique; for MPG above 80
 * degC the density hardly depends on it (0.1 kg/m3 for each per cent). */
#ifndef FLOWCOMP_GLYCOL_WATER_MELINDER_2010_H
#define FLOWCOMP_GLYCOL_WATER_MELINDER_2010_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Density of ethylene glycol and water
 *  rho = sum C_ij (x - xm)^i (t - tm)^j, x = 100 mass_fraction
 *
 *  @param mass_fraction  mass fraction of ethylene glycol {1} [0.05, 0.6]
 *  @param t_degc         temperature {degC} [-50, 100]
 *  @return rho {kg/m3}
 *  @source Melinder, Properties of Secondary Working Fluids for Indirect Systems (2010), MEG, density
 *  @status published; coefficients as an open-source library holds them; no published check value; an older table
 *  of the author lies 0 to 0.13 % higher
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_meg_water_melinder_2010(double mass_fraction, double t_degc, double *result);

/** Logarithm of the viscosity of ethylene glycol and water
 *  ln mu = sum C_ij (x - xm)^i (t - tm)^j, mu in mPa s, x = 100 mass_fraction
 *
 *  @param mass_fraction  mass fraction of ethylene glycol {1} [0.05, 0.6]
 *  @param t_degc         temperature {degC} [-50, 100]
 *  @return ln mu {1}
 *  @source Melinder, Properties of Secondary Working Fluids for Indirect Systems (2010), MEG, viscosity
 *  @status published; coefficients as an open-source library holds them; no published check value; an older table
 *  of the author lies up to 4.1 % higher (20 to 40 degC, above 30 %)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_lnmu_meg_water_melinder_2010(double mass_fraction, double t_degc, double *result);

/** Dynamic viscosity of ethylene glycol and water
 *  mu = exp(sum C_ij (x - xm)^i (t - tm)^j), x = 100 mass_fraction
 *
 *  @param mass_fraction  mass fraction of ethylene glycol {1} [0.05, 0.6]
 *  @param t_degc         temperature {degC} [-50, 100]
 *  @return mu {mPa s}
 *  @source Melinder, Properties of Secondary Working Fluids for Indirect Systems (2010), MEG, viscosity
 *  @status published; coefficients as an open-source library holds them; no published check value; an older table
 *  of the author lies up to 4.1 % higher (20 to 40 degC, above 30 %)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_meg_water_melinder_2010(double mass_fraction, double t_degc, double *result);

/** CTL of ethylene glycol and water, any base temperature
 *  ctl = rho(t) / rho(t_base) at the same mass fraction
 *
 *  @param mass_fraction  mass fraction of ethylene glycol {1} [0.05, 0.6]
 *  @param t_degc         temperature {degC} [-50, 100]
 *  @param t_base_degc    base temperature {degC} [-50, 100]
 *  @return CTL {1}
 *  @source quotient of two densities of Melinder (2010)
 *  @status computed; see the density
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_meg_water_melinder_2010(double mass_fraction, double t_degc, double t_base_degc,
                                                   double *result);

/** Mass fraction of ethylene glycol from an observed density
 *  x such that rho(x, t) = rho
 *
 *  @param rho_kgm3  density at t {kg/m3} [950, 1120]
 *  @param t_degc    temperature {degC} [-50, 100]
 *  @return mass fraction {1}; FLC_E_NO_ROOT outside 0.05 to 0.6
 *  @source Melinder (2010), density, solved inside a bracket
 *  @status computed; returns the mass fraction of the density; 1 kg/m3 of density is 0.7 to 1.3 mass per cent
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mass_fraction_from_density_meg_water_melinder_2010(double rho_kgm3, double t_degc,
                                                                          double *result);

/** Density at base temperature of ethylene glycol and water, from an observed density
 *  rho(x, t_base), where rho(x, t) = rho
 *
 *  @param rho_kgm3     density at t {kg/m3} [950, 1120]
 *  @param t_degc       temperature {degC} [-50, 100]
 *  @param t_base_degc  base temperature {degC} [-50, 100]
 *  @return rho at the base {kg/m3}; FLC_E_NO_ROOT outside 0.05 to 0.6
 *  @source Melinder (2010), density, solved inside a bracket
 *  @status computed; see the density
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_meg_water_melinder_2010(double rho_kgm3, double t_degc,
                                                                      double t_base_degc, double *result);

/** Density of propylene glycol and water
 *  rho = sum C_ij (x - xm)^i (t - tm)^j, x = 100 mass_fraction
 *
 *  @param mass_fraction  mass fraction of propylene glycol {1} [0.05, 0.6]
 *  @param t_degc         temperature {degC} [-50, 100]
 *  @return rho {kg/m3}
 *  @source Melinder, Properties of Secondary Working Fluids for Indirect Systems (2010), MPG, density
 *  @status published; coefficients as an open-source library holds them; no published check value; good to about
 *  0.1 %
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_mpg_water_melinder_2010(double mass_fraction, double t_degc, double *result);

/** Logarithm of the viscosity of propylene glycol and water
 *  ln mu = sum C_ij (x - xm)^i (t - tm)^j, mu in mPa s, x = 100 mass_fraction
 *
 *  @param mass_fraction  mass fraction of propylene glycol {1} [0.05, 0.6]
 *  @param t_degc         temperature {degC} [-50, 100]
 *  @return ln mu {1}
 *  @source Melinder, Properties of Secondary Working Fluids for Indirect Systems (2010), MPG, viscosity
 *  @status published; coefficients as an open-source library holds them; no published check value; uncertainty as
 *  of ethylene glycol, 4 %
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_lnmu_mpg_water_melinder_2010(double mass_fraction, double t_degc, double *result);

/** Dynamic viscosity of propylene glycol and water
 *  mu = exp(sum C_ij (x - xm)^i (t - tm)^j), x = 100 mass_fraction
 *
 *  @param mass_fraction  mass fraction of propylene glycol {1} [0.05, 0.6]
 *  @param t_degc         temperature {degC} [-50, 100]
 *  @return mu {mPa s}
 *  @source Melinder, Properties of Secondary Working Fluids for Indirect Systems (2010), MPG, viscosity
 *  @status published; coefficients as an open-source library holds them; no published check value; uncertainty as
 *  of ethylene glycol, 4 %
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_mpg_water_melinder_2010(double mass_fraction, double t_degc, double *result);

/** CTL of propylene glycol and water, any base temperature
 *  ctl = rho(t) / rho(t_base) at the same mass fraction
 *
 *  @param mass_fraction  mass fraction of propylene glycol {1} [0.05, 0.6]
 *  @param t_degc         temperature {degC} [-50, 100]
 *  @param t_base_degc    base temperature {degC} [-50, 100]
 *  @return CTL {1}
 *  @source quotient of two densities of Melinder (2010)
 *  @status computed; see the density
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_mpg_water_melinder_2010(double mass_fraction, double t_degc, double t_base_degc,
                                                   double *result);

/** Mass fraction of propylene glycol from an observed density
 *  x such that rho(x, t) = rho
 *
 *  @param rho_kgm3  density at t {kg/m3} [950, 1120]
 *  @param t_degc    temperature {degC} [-50, 100]
 *  @return mass fraction {1}; FLC_E_NO_ROOT outside 0.05 to 0.6
 *  @source Melinder (2010), density, solved inside a bracket
 *  @status computed; returns the mass fraction of the density; 1 kg/m3 of density is 1 to 13 mass per cent
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mass_fraction_from_density_mpg_water_melinder_2010(double rho_kgm3, double t_degc,
                                                                          double *result);

/** Density at base temperature of propylene glycol and water, from an observed density
 *  rho(x, t_base), where rho(x, t) = rho
 *
 *  @param rho_kgm3     density at t {kg/m3} [950, 1120]
 *  @param t_degc       temperature {degC} [-50, 100]
 *  @param t_base_degc  base temperature {degC} [-50, 100]
 *  @return rho at the base {kg/m3}; FLC_E_NO_ROOT outside 0.05 to 0.6
 *  @source Melinder (2010), density, solved inside a bracket
 *  @status computed; see the density
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_mpg_water_melinder_2010(double rho_kgm3, double t_degc,
                                                                      double t_base_degc, double *result);

FLC_END_DECLS

#endif
