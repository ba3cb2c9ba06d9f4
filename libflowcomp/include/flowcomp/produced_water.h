/* SPDX-License-Identifier: Apache-2.0 */
/* Volume correction of produced water (brine from a well), in the style of API MPMS chapter 20.1, unrounded.
 *
 *   CTL = 1 - (1.0312e-4 + 7.1568e-6 B) D - (1.2701e-6 - 4.4641e-8 B) D^2 + (1.2333e-9 - 2.2436e-11 B) D^3
 *
 * B = (rho60 - 999.0) / 7.2, the salinity in mass per cent; D = t - 60 degF. From memory: confirm against the print.
 *
 * Compared with sodium chloride solutions (Rogers and Pitzer 1982) from 10 to 70 degC: within 3e-4 up to 1076 kg/m3 at
 * 60 degF, but 1.7e-3 off at 1141: so rho60 ends at 1100 kg/m3 (B = 14), above which it is refused. At the fresh end,
 * against IAPWS-95: within 2.2e-4 from 50 to 200 degF, 6e-4 high at 40 degF. The range in temperature is ours. A
 * density of which none between 999 and 1100 kg/m3 at 60 degF is the source: FLC_E_NO_ROOT. */
#ifndef FLOWCOMP_PRODUCED_WATER_H
#define FLOWCOMP_PRODUCED_WATER_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** CTL of produced water, base 60 degF, unrounded
 *  ctl = 1 - (1.0312e-4 + 7.1568e-6 B) D - (1.2701e-6 - 4.4641e-8 B) D^2 + (1.2333e-9 - 2.2436e-11 B) D^3, B = (rho60 -
 *  999.0) / 7.2, D = t - 60
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [999, 1100]
 *  @param t_degf      temperature {degF} [40, 200]
 *  @return CTL {1}
 *  @source style of API MPMS chapter 20.1, closed form
 *  @status from memory; see the head of this header for what it was compared with
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl60_produced_water_api20(double rho60_kgm3, double t_degf, double *result);

/** Density at 60 degF from an observed density, unrounded
 *  rho60 CTL(rho60, t) / (1 - 3.2e-6 p) = rho, solved for rho60; FLC_E_NO_ROOT outside 999 to 1100 kg/m3
 *
 *  @param rho_kgm3  observed density at t and p {kg/m3} [950, 1110]
 *  @param t_degf    temperature {degF} [40, 200]
 *  @param p_psig    gauge pressure {psi} [0, 1500] optional, 0
 *  @return rho60 {kg/m3}
 *  @source style of API MPMS chapter 20.1, solved inside a bracket; compressibility of common practice
 *  @status from memory; the compressibility is common practice
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho60_from_observed_produced_water_api20(double rho_kgm3, double t_degf, double p_psig,
                                                                double *result);

/** CTL of produced water, any base temperature, unrounded
 *  ctl = CTL60(rho60, t) / CTL60(rho60, t_base), where rho60 CTL60(rho60, t_base) = rho_base
 *
 *  @param rho_base_kgm3  density at the base temperature and 0 gauge {kg/m3} [950, 1110]
 *  @param t_base_degc    base temperature {degC} [5, 93]
 *  @param t_degc         temperature {degC} [5, 93]
 *  @return CTL {1}
 *  @source style of API MPMS chapter 20.1, by way of 60 degF
 *  @status from memory; see the head of this header for what it was compared with
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_produced_water_api20(double rho_base_kgm3, double t_base_degc, double t_degc,
                                                double *result);

/** Density at any base temperature from an observed density, unrounded
 *  rho_base = rho60 CTL60(rho60, t_base), rho60 from the observed density
 *
 *  @param rho_kgm3     observed density at t and p {kg/m3} [950, 1110]
 *  @param t_degc       temperature {degC} [5, 93]
 *  @param t_base_degc  base temperature {degC} [5, 93]
 *  @param p_kpag       gauge pressure {kPa} [0, 10340] optional, 0
 *  @return rho_base {kg/m3}
 *  @source style of API MPMS chapter 20.1, by way of 60 degF; compressibility of common practice
 *  @status from memory; the compressibility is common practice
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_produced_water_api20(double rho_kgm3, double t_degc, double t_base_degc,
                                                                   double p_kpag, double *result);

FLC_END_DECLS

#endif
