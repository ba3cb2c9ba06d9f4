/* SPDX-License-Identifier: Apache-2.0 */
/* A liquid known by figures of its own: a polynomial in temperature, a density table, a compressibility, a vapour
 * pressure. Whoever supplies them holds the evidence; the range they hold for is stated with them and kept to.
 *
 * Equilibrium vapour pressure pe: measured, from a laboratory, or otherwise supplied, at the temperature of the meter.
 * No correlation from a laboratory value at 37.8 degC to another temperature is here: none was at hand that could be
 * checked. */
#ifndef FLOWCOMP_SUPPLIED_LIQUID_H
#define FLOWCOMP_SUPPLIED_LIQUID_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Density from a polynomial in temperature
 *  rho = c0 + c1 t + c2 t^2 + ...; outside t_low to t_high FLC_E_BELOW or FLC_E_ABOVE; not positive: FLC_E_DOMAIN
 *
 *  @param t       temperature, in the degree of the polynomial {degC or degF} [-460, 1000]
 *  @param t_low   lowest temperature the polynomial holds for {degC or degF} [-460, 1000]
 *  @param t_high  highest temperature the polynomial holds for {degC or degF} [-460, 1000]
 *  @param c       coefficients c0, c1, c2, ... of t^0, t^1, t^2, ... in kg/m3 {kg/m3 per degree^i} [-1e6, 1e6]
 *  @return rho {kg/m3}
 *  @source polynomial of the caller
 *  @status common practice; the caller holds the evidence
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_polynomial(double t, double t_low, double t_high, const double *c, size_t n, double *result);

/** CTL from a polynomial in temperature, of density or of a volume correction factor
 *  ctl = P(t) / P(t_base), P(t) = c0 + c1 t + c2 t^2 + ...; t or t_base outside t_low to t_high: FLC_E_BELOW or
 *  FLC_E_ABOVE; P not positive: FLC_E_DOMAIN
 *
 *  @param t       temperature, in the degree of the polynomial {degC or degF} [-460, 1000]
 *  @param t_base  base temperature, in the same degree {degC or degF} [-460, 1000]
 *  @param t_low   lowest temperature the polynomial holds for {degC or degF} [-460, 1000]
 *  @param t_high  highest temperature the polynomial holds for {degC or degF} [-460, 1000]
 *  @param c       coefficients c0, c1, c2, ... of t^0, t^1, t^2, ... {of P per degree^i} [-1e6, 1e6]
 *  @return CTL {1}
 *  @source polynomial of the caller; CTL as the quotient of densities at t and at the base
 *  @status common practice; the caller holds the evidence
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_polynomial(double t, double t_base, double t_low, double t_high, const double *c, size_t n,
                                      double *result);

/** Density at the base from an observed density, by a polynomial in temperature
 *  rho_base = rho / ctl_polynomial
 *
 *  @param rho_kgm3  observed density at t {kg/m3} [1, 25000]
 *  @param t         temperature, in the degree of the polynomial {degC or degF} [-460, 1000]
 *  @param t_base    base temperature, in the same degree {degC or degF} [-460, 1000]
 *  @param t_low     lowest temperature the polynomial holds for {degC or degF} [-460, 1000]
 *  @param t_high    highest temperature the polynomial holds for {degC or degF} [-460, 1000]
 *  @param c         coefficients c0, c1, c2, ... of t^0, t^1, t^2, ... {of P per degree^i} [-1e6, 1e6]
 *  @return density at the base {kg/m3}
 *  @source polynomial of the caller; CTL as the quotient of densities at t and at the base
 *  @status common practice; the caller holds the evidence
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_polynomial(double rho_kgm3, double t, double t_base, double t_low,
                                                         double t_high, const double *c, size_t n, double *result);

/** Density from a table over temperature and pressure, interpolated linearly in both
 *  along pressure at the two neighbouring temperatures, then along temperature; outside the table FLC_E_BELOW or
 *  FLC_E_ABOVE
 *
 *  The three lists are the columns of a full grid: for each temperature, rising, every pressure, rising, the same
 *  pressures each time; at least two of each. Not a full grid, or fewer: FLC_E_COUNT; not in this order: FLC_E_ORDER.
 *
 *  @param t_degc          temperature {degC} [-200, 400]
 *  @param p_kpag          gauge pressure {kPa} [0, 1e5]
 *  @param t_table_degc    temperature of each entry {degC} [-200, 400]
 *  @param p_table_kpag    gauge pressure of each entry {kPa} [0, 1e5]
 *  @param rho_table_kgm3  density of each entry {kg/m3} [1, 25000]
 *  @return rho {kg/m3}
 *  @source bilinear interpolation
 *  @status common practice; between entries the error is that of the curvature: choose the steps of the table for it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_table_bilinear(double t_degc, double p_kpag, const double *t_table_degc,
                                          const double *p_table_kpag, const double *rho_table_kgm3, size_t n,
                                          double *result);

/** CPL from a supplied compressibility
 *  cpl = 1 / (1 - f (p - pe)); p below pe, or f (p - pe) not below 1: FLC_E_DOMAIN
 *
 *  @param f_per_kpa  compressibility, mean over p - pe {1/kPa} [0, 1e-4]
 *  @param p_kpag     gauge pressure {kPa} [0, 1e5]
 *  @param pe_kpag    equilibrium vapour pressure at t, gauge; negative counts as 0 {kPa} [-115, 1e5] optional, 0
 *  @return CPL {1}
 *  @source definition of CPL, API MPMS 12.2; the compressibility is the caller's
 *  @status common practice; typical of oils is 5e-7 to 7e-7 per kPa, which is no figure for custody
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl_supplied_compressibility(double f_per_kpa, double p_kpag, double pe_kpag, double *result);

/** Equilibrium vapour pressure as CPL takes it: gauge, 0 where it is below atmospheric
 *  pe = max(0, pe_absolute - p_atmospheric)
 *
 *  @param pe_kpa           equilibrium vapour pressure at the temperature of the meter, absolute {kPa} [0, 1e5]
 *  @param p_atmospheric_kpa  atmospheric pressure of the site, absolute {kPa} [50, 115]
 *  @return pe {kPa gauge}
 *  @source definition; base pressure is 0 gauge or pe, whichever is higher (API MPMS 12.2, from memory)
 *  @status common practice; pe is measured or supplied, its temperature dependence is the caller's
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_equilibrium_pressure_gauge(double pe_kpa, double p_atmospheric_kpa, double *result);

FLC_END_DECLS

#endif
