/* SPDX-License-Identifier: Apache-2.0 */
/* Kinematic viscosity of a blend from that of its components: Refutas, and the two methods of ASTM D7152, which work in
 * the coordinates of ASTM D341 (viscosity_d341.h).
 *
 * Fractions must sum to 1 within 1e-6, else FLC_E_DOMAIN: the library does not normalise, because a sum that is off may
 * mean a component forgotten. FLC_E_BELOW where a component is thinner than its form takes, FLC_E_NO_ROOT where the
 * blend leaves the viscosities of the form. Liquids that do not mix, or react, and oils with a viscosity improver are
 * no case for any blending rule. */
#ifndef FLOWCOMP_VISCOSITY_BLENDING_H
#define FLOWCOMP_VISCOSITY_BLENDING_H

#include "flowcomp/viscosity_d341.h"

FLC_BEGIN_DECLS

/** Viscosity blending number, Refutas
 *  vbn = 14.534 ln(ln(nu + 0.8)) + 10.975
 *
 *  @param nu_mm2s  kinematic viscosity, made for 1 mm2/s and above {mm2/s} [0.3, 2e7]
 *  @return VBN {1}
 *  @source Maples, Petroleum Refinery Process Economics, 2nd ed. (2000)
 *  @status published; read as quoted on a public page, not in the print
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_vbn_refutas(double nu_mm2s, double *result);

/** Viscosity from the blending number, Refutas
 *  nu = exp(exp((vbn - 10.975) / 14.534)) - 0.8
 *
 *  @param vbn  VBN of a viscosity from 0.3 to 2e7 mm2/s {1} [-24, 52]
 *  @return nu {mm2/s}; FLC_E_BELOW or FLC_E_ABOVE beyond those viscosities
 *  @source Maples, Petroleum Refinery Process Economics, 2nd ed. (2000)
 *  @status published; read as quoted on a public page, not in the print
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_from_vbn_refutas(double vbn, double *result);

/** Viscosity of a blend, Refutas, by mass fraction
 *  vbn = sum(x_i vbn_i), nu from vbn
 *
 *  @param mass_fraction  mass fractions of the components {1} [0, 1]
 *  @param nu_mm2s        their viscosities at one temperature, made for 1 mm2/s and above {mm2/s} [0.3, 2e7]
 *  @return nu of the blend at that temperature {mm2/s}
 *  @source Maples, Petroleum Refinery Process Economics, 2nd ed. (2000)
 *  @status published; read as quoted on a public page (calculators that take volume fractions are about);
 *  measured blends of jet fuel and HEFA at -20 degC (Vozka 2018, 18 points) within 1.2 %
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_blend_refutas(const double *mass_fraction, const double *nu_mm2s, size_t n, double *result);

/** Viscosity of a blend at the temperature of its components, ASTM D7152
 *  w = sum(x_i w_i), w = log10(log10(z)), nu from w by the exact inverse
 *
 *  @param fraction  volume fractions of the components, by mass for fuels {1} [0, 1]
 *  @param nu_mm2s   their viscosities at one temperature {mm2/s} [0.21, 2e7]
 *  @param form      form of Z (body in D7152); simple takes nu from 2 mm2/s
 *  @return nu of the blend at that temperature {mm2/s}
 *  @source ASTM D7152, procedure at one temperature
 *  @status published; measured blends of jet fuel and HEFA at -20 degC (Vozka 2018, 18 points) within 1.2 %; no
 *  worked example of the standard could be read. Volume or mass: D7152, 5.4
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_blend_astm(const double *fraction, const double *nu_mm2s, size_t n, flc_d341_form form,
                                     double *result);

/** Viscosity of a blend at any temperature, two points for each component, Wright's method of ASTM D7152
 *  w = (log10 T + sum(x_i (m_i w_i1 - log10 T_i1))) / sum(x_i m_i), m_i = log10(T_i2 / T_i1) / (w_i2 - w_i1), nu from
 *  w by the exact inverse
 *
 *  @param t_degc    temperature of the blend {degC} [-100, 400]
 *  @param fraction  volume fractions of the components, by mass for fuels {1} [0, 1]
 *  @param t1_degc   temperatures of the first points {degC} [-100, 400]
 *  @param nu1_mm2s  viscosities of the first points {mm2/s} [0.21, 2e7]
 *  @param t2_degc   temperatures of the second points {degC} [-100, 400]
 *  @param nu2_mm2s  viscosities of the second points {mm2/s} [0.21, 2e7]
 *  @param form      form of Z (body in D7152); simple takes nu from 2 mm2/s
 *  @return nu of the blend {mm2/s}; FLC_E_DUPLICATE where a component's temperatures are equal, FLC_E_NOT_MONOTONIC
 *  where its viscosity does not fall
 *  @source ASTM D7152, Wright's method
 *  @status from memory; of one component it is the line of D341; no worked example of the standard could be read
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_blend_wright(double t_degc, const double *fraction, const double *t1_degc,
                                       const double *nu1_mm2s, const double *t2_degc, const double *nu2_mm2s, size_t n,
                                       flc_d341_form form, double *result);

FLC_END_DECLS

#endif
