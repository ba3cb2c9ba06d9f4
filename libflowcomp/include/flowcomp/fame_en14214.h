/* SPDX-License-Identifier: Apache-2.0 */
/* Biodiesel (fatty acid methyl esters, FAME): density and temperature by EN 14214, Annex B, a straight line,
 *
 *   rho15 = rho + 0.723 (t - 15), from 20 to 60 degC, kg/m3
 *
 * Equations of state of methyl oleate and methyl linoleate have slopes of 0.727 and 0.735 from 15 to 40 degC. For B100
 * and its blends the tables of crude and products (petroleum_2004.h) are accurate too (Tat and Van Gerpen, 2000). */
#ifndef FLOWCOMP_FAME_EN14214_H
#define FLOWCOMP_FAME_EN14214_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Density at 15 degC of FAME, from an observed density
 *  rho15 = rho + 0.723 (t - 15)
 *
 *  @param rho_kgm3  density at t {kg/m3} [750, 1000]
 *  @param t_degc    temperature {degC} [20, 60]
 *  @return rho15 {kg/m3}
 *  @source EN 14214:2012, Annex B
 *  @status from memory; annex and range published, the coefficient from memory, within 2 % of two equations of state
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho15_fame_en14214(double rho_kgm3, double t_degc, double *result);

/** Density of FAME from its density at 15 degC
 *  rho = rho15 - 0.723 (t - 15)
 *
 *  @param rho15_kgm3  density at 15 degC {kg/m3} [750, 1000]
 *  @param t_degc      temperature {degC} [20, 60]
 *  @return rho at t {kg/m3}
 *  @source EN 14214:2012, Annex B, solved for the density at t
 *  @status from memory; see rho15_fame_en14214
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_fame_en14214(double rho15_kgm3, double t_degc, double *result);

/** CTL of FAME, base 15 degC
 *  ctl = rho / rho15 = 1 - 0.723 (t - 15) / rho15
 *
 *  @param rho15_kgm3  density at 15 degC {kg/m3} [750, 1000]
 *  @param t_degc      temperature {degC} [20, 60]
 *  @return CTL {1}
 *  @source EN 14214:2012, Annex B, as a ratio of densities
 *  @status from memory; see rho15_fame_en14214
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl15_fame_en14214(double rho15_kgm3, double t_degc, double *result);

FLC_END_DECLS

#endif
