/* SPDX-License-Identifier: Apache-2.0 */
/* Volume correction of natural gas liquids and liquefied petroleum gas for temperature, at equilibrium (saturation)
 * pressure: API MPMS 11.2.4 = GPA TP-27 (2007), tables 23E and 24E (60 degF), 53E and 54E (15 degC), 59E and 60E
 * (20 degC). Relative density at 60 degF 0.3500 to 0.6880, -50.8 to 199.4 degF (-46 to 93 degC).
 *
 * The liquid lies between two of twelve reference fluids, from ethane with ethylene to n-heptane, by its relative
 * density at 60 degF; d is its place between them. Their critical temperatures are interpolated in d, their saturated
 * densities at the same reduced temperature by the rule X = rho1 / (1 + d (rho1 / (h rho2) - 1)), h = Zc1 rho_c1 / (Zc2
 * rho_c2); CTL = X(T / Tc) / X(519.67 / (1.8 Tc)). Above its critical temperature a liquid has no CTL: FLC_E_DOMAIN.
 *
 * Base 15 and 20 degC, and any other: the relative density at 60 degF is found from the base density, and CTL is
 * CTL60(t) / CTL60(t_base).
 *
 * From an observed density the one at 60 degF is found inside its limits, to the last bits; relative density times CTL
 * rises with relative density everywhere in the range. It may pass a limit by 2e-5, for which the printed limits of the
 * metric tables are rounded. Liquids that are above their critical temperature at t count as too light. No such
 * density: FLC_E_NO_ROOT.
 *
 * The table of reference fluids is from memory (tables/gpa_tp27_2007); the range is the published one. Each pure fluid
 * returns its own relative density from its molar mass within 0.003 %; CTL of pure fluids agrees with their reference
 * equations of state within 0.0005 from propane to n-heptane between 32 and 100 degF, 0.0017 over the whole range,
 * 0.0023 for ethane up to 85 degF. Tables of 1952 and 1986 (54 without a letter) differ by up to 9e-4.
 *
 * Unrounded: the printed tables take relative density to 0.0001, t to 0.1 degF or 0.05 degC, CTL to 5 decimals.
 * Pressure above equilibrium: flowcomp/compressibility_1986.h. */
#ifndef FLOWCOMP_LIGHT_ENDS_2007_H
#define FLOWCOMP_LIGHT_ENDS_2007_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** CTL of light hydrocarbons, table 24E, base 60 degF, unrounded
 *  ctl = X(T / Tc) / X(T60 / Tc), between two reference fluids (see the head of this header)
 *
 *  @param rd60    relative density at 60 degF and equilibrium pressure, to water at 60 degF {1} [0.35, 0.688]
 *  @param t_degf  temperature {degF} [-50.8, 199.4]
 *  @return CTL {1}
 *  @source API MPMS 11.2.4 = GPA TP-27 (2007), table 24E
 *  @status from memory; pure fluids close on their molar masses within 0.003 % and agree with reference equations of
 * state within 0.0005 from propane to n-heptane between 32 and 100 degF, 0.0017 over the whole range
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl60_light_ends_2007(double rd60, double t_degf, double *result);

/** Relative density at 60 degF from an observed one, table 23E, unrounded
 *  rd60 ctl60(rd60, t) = rd, solved for rd60
 *
 *  @param rd      density at t and equilibrium pressure, over that of water at 60 degF (999.016 kg/m3) {1} [0.2, 0.74]
 *  @param t_degf  temperature {degF} [-50.8, 199.4]
 *  @return relative density at 60 degF {1}
 *  @source API MPMS 11.2.4 = GPA TP-27 (2007), table 23E, solved inside a bracket
 *  @status from memory; rests on table 24E; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rd60_from_observed_light_ends_2007(double rd, double t_degf, double *result);

/** CTL of light hydrocarbons, table 54E, base 15 degC, unrounded
 *  ctl = ctl60(rd60, t) / ctl60(rd60, 15 degC), rd60 from rho15
 *
 *  @param rho15_kgm3  density at 15 degC and equilibrium pressure {kg/m3} [351.7, 687.8]
 *  @param t_degc      temperature {degC} [-46, 93]
 *  @return CTL {1}
 *  @source API MPMS 11.2.4 = GPA TP-27 (2007), table 54E
 *  @status from memory; rests on table 24E; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl15_light_ends_2007(double rho15_kgm3, double t_degc, double *result);

/** Density at 15 degC from an observed density, table 53E, unrounded
 *  rho15 = rd60 999.016 kg/m3 ctl60(rd60, 15 degC), rd60 as table 23E
 *
 *  @param rho_kgm3  density at t and equilibrium pressure {kg/m3} [200, 740]
 *  @param t_degc    temperature {degC} [-46, 93]
 *  @return density at 15 degC {kg/m3}
 *  @source API MPMS 11.2.4 = GPA TP-27 (2007), table 53E, solved inside a bracket
 *  @status from memory; rests on table 24E; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho15_from_observed_light_ends_2007(double rho_kgm3, double t_degc, double *result);

/** CTL of light hydrocarbons, table 60E, base 20 degC, unrounded
 *  ctl = ctl60(rd60, t) / ctl60(rd60, 20 degC), rd60 from rho20
 *
 *  @param rho20_kgm3  density at 20 degC and equilibrium pressure {kg/m3} [331.7, 683.6]
 *  @param t_degc      temperature {degC} [-46, 93]
 *  @return CTL {1}
 *  @source API MPMS 11.2.4 = GPA TP-27 (2007), table 60E
 *  @status from memory; rests on table 24E; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl20_light_ends_2007(double rho20_kgm3, double t_degc, double *result);

/** Density at 20 degC from an observed density, table 59E, unrounded
 *  rho20 = rd60 999.016 kg/m3 ctl60(rd60, 20 degC), rd60 as table 23E
 *
 *  @param rho_kgm3  density at t and equilibrium pressure {kg/m3} [200, 740]
 *  @param t_degc    temperature {degC} [-46, 93]
 *  @return density at 20 degC {kg/m3}
 *  @source API MPMS 11.2.4 = GPA TP-27 (2007), table 59E, solved inside a bracket
 *  @status from memory; rests on table 24E; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho20_from_observed_light_ends_2007(double rho_kgm3, double t_degc, double *result);

/** CTL of light hydrocarbons to any metric base temperature, unrounded
 *  ctl = ctl60(rd60, t) / ctl60(rd60, t_base), rd60 from rho_base
 *
 *  @param rho_base_kgm3  density at the base temperature and equilibrium pressure {kg/m3} [200, 740]
 *  @param t_degc         temperature {degC} [-46, 93]
 *  @param t_base_degc    base temperature {degC} [-46, 93]
 *  @return CTL {1}
 *  @source API MPMS 11.2.4 = GPA TP-27 (2007), as its tables 54E and 60E do it for 15 and 20 degC
 *  @status common practice; rests on table 24E; 15 and 20 degC are tables 54E and 60E
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_light_ends_2007(double rho_base_kgm3, double t_degc, double t_base_degc, double *result);

/** Density at any metric base temperature from an observed density, unrounded
 *  rho_base = rd60 999.016 kg/m3 ctl60(rd60, t_base), rd60 as table 23E
 *
 *  @param rho_kgm3     density at t and equilibrium pressure {kg/m3} [200, 740]
 *  @param t_degc       temperature {degC} [-46, 93]
 *  @param t_base_degc  base temperature {degC} [-46, 93]
 *  @return density at the base temperature {kg/m3}
 *  @source API MPMS 11.2.4 = GPA TP-27 (2007), as its tables 53E and 59E do it for 15 and 20 degC
 *  @status common practice; rests on table 23E; 15 and 20 degC are tables 53E and 59E
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_light_ends_2007(double rho_kgm3, double t_degc, double t_base_degc,
                                                              double *result);

FLC_END_DECLS

#endif
