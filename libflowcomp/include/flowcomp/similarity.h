/* SPDX-License-Identifier: Apache-2.0 */
/* The dimensionless numbers of a turbine meter, and what follows from them.
 *
 *   St = f D/V = (pi/4) K D^3      Re = V D/nu = 4 Q/(pi D nu)      Ro = f D^2/nu = St Re
 *
 * Q volume flow, f pulse frequency, K = f/Q, D the bore, nu the kinematic viscosity, V the mean velocity in the pipe.
 * St against Ro collapses the calibrations in several liquids where the meter does not feel viscosity; below that range
 * it does not. These formulas follow from the definitions; no standard states ranges for them, and those given are wide
 * enough for any meter. The body here is of one metal without pressure; flowcomp/meter_body.h has the rest. */
#ifndef FLOWCOMP_SIMILARITY_H
#define FLOWCOMP_SIMILARITY_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Pulse frequency from the K-factor and the flow: give q_lpm or q_usgpm
 *  f = K Q, 1 US gallon = 3.785411784 L
 *
 *  @param k_per_usgal K-factor, pulses per US gallon {1/USgal} [1e-9, 1e12]
 *  @param q_lpm       flow {L/min} [0, 1e9] optional
 *  @param q_usgpm     flow {USgal/min} [0, 1e9] optional
 *  @return pulse frequency {Hz}; FLC_E_MISSING, FLC_E_CONFLICT
 *  @source definition of the K-factor
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_pulse_frequency_hz(double k_per_usgal, double q_lpm, double q_usgpm, double *result);

/** Mean velocity in the pipe
 *  V = 4 Q/(pi D^2)
 *
 *  @param q_lpm flow {L/min} [0, 1e9]
 *  @param d_mm  bore {mm} [0.1, 5000]
 *  @return velocity {m/s}
 *  @source definition of the mean velocity
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_pipe_velocity_m_per_s(double q_lpm, double d_mm, double *result);

/** Strouhal number: give k_per_usgal or k_per_m3
 *  St = (pi/4) K D^3: no 2 pi, the bore, the mean velocity in the pipe
 *
 *  @param k_per_usgal K-factor, pulses per US gallon {1/USgal} [1e-9, 1e12] optional
 *  @param d_mm        bore {mm} [0.1, 5000]
 *  @param k_per_m3    K-factor, pulses per cubic metre {1/m3} [1e-9, 1e15] optional
 *  @return Strouhal number {1}; FLC_E_MISSING, FLC_E_CONFLICT
 *  @source definition, St = f D/V
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_strouhal(double k_per_usgal, double d_mm, double k_per_m3, double *result);

/** Reynolds number of the pipe
 *  Re = 4 Q/(pi D nu)
 *
 *  @param q_lpm   flow {L/min} [0, 1e9]
 *  @param d_mm    bore {mm} [0.1, 5000]
 *  @param nu_mm2s kinematic viscosity {mm2/s} [1e-4, 1e8]
 *  @return Reynolds number {1}
 *  @source definition, Re = V D/nu
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_reynolds(double q_lpm, double d_mm, double nu_mm2s, double *result);

/** Roshko number
 *  Ro = f D^2/nu = St Re
 *
 *  @param f_hz    pulse frequency {Hz} [0, 1e9]
 *  @param d_mm    bore {mm} [0.1, 5000]
 *  @param nu_mm2s kinematic viscosity {mm2/s} [1e-4, 1e8]
 *  @return Roshko number {1}
 *  @source definition, Ro = f D^2/nu
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_roshko(double f_hz, double d_mm, double nu_mm2s, double *result);

/** Frequency over viscosity, the abscissa of the "universal viscosity curve"
 *  f/nu
 *
 *  @param f_hz    pulse frequency {Hz} [0, 1e9]
 *  @param nu_mm2s kinematic viscosity {mm2/s} [1e-4, 1e8]
 *  @return frequency over viscosity {Hz/cSt}
 *  @source definition
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_frequency_over_viscosity(double f_hz, double nu_mm2s, double *result);

/** Roshko number from frequency over viscosity
 *  Ro = (f/nu) D^2
 *
 *  @param f_over_nu frequency over viscosity {Hz/cSt} [0, 1e12]
 *  @param d_mm      bore {mm} [0.1, 5000]
 *  @return Roshko number {1}
 *  @source definition, Ro = f D^2/nu
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_roshko_from_frequency_over_viscosity(double f_over_nu, double d_mm, double *result);

/** Reynolds number from Roshko and Strouhal number
 *  Re = Ro/St
 *
 *  @param roshko   Roshko number {1} [0, 1e15]
 *  @param strouhal Strouhal number {1} [1e-9, 1e9]
 *  @return Reynolds number {1}
 *  @source definition, Ro = St Re
 *  @status computed; identity
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_reynolds_from_roshko(double roshko, double strouhal, double *result);

/** Growth of the bore with temperature, one metal
 *  D/D0 = 1 + alpha (T - T0)
 *
 *  @param alpha_per_k linear expansion {1/K} [-1e-5, 3e-4]
 *  @param t_degc      body temperature {degC} [-273.15, 600]
 *  @param t0_degc     reference temperature of D0 {degC} [-273.15, 600]
 *  @return diameter ratio {1}
 *  @source definition of the mean linear expansion
 *  @status computed; over a cryogenic range use the integrated strain instead
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_diameter_ratio(double alpha_per_k, double t_degc, double t0_degc, double *result);

/** Roshko number with the bore at its temperature, one metal
 *  Ro = f D^2/nu, D = D0 [1 + alpha (T - T0)]
 *
 *  @param f_hz        pulse frequency {Hz} [0, 1e9]
 *  @param d0_mm       bore at t0 {mm} [0.1, 5000]
 *  @param nu_mm2s     kinematic viscosity at the flowing temperature {mm2/s} [1e-4, 1e8]
 *  @param alpha_per_k linear expansion {1/K} [-1e-5, 3e-4]
 *  @param t_degc      body temperature {degC} [-273.15, 600]
 *  @param t0_degc     reference temperature of d0 {degC} [-273.15, 600]
 *  @return Roshko number {1}
 *  @source definition, Ro = f D^2/nu
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_roshko_compensated(double f_hz, double d0_mm, double nu_mm2s, double alpha_per_k, double t_degc,
                                          double t0_degc, double *result);

/** Flow from frequency and Strouhal number with the bore at its temperature, one metal
 *  Q = pi f D^3/(4 St), D = D0 [1 + alpha (T - T0)]
 *
 *  @param f_hz        pulse frequency {Hz} [0, 1e9]
 *  @param strouhal    Strouhal number {1} [1e-9, 1e9]
 *  @param d0_mm       bore at t0 {mm} [0.1, 5000]
 *  @param alpha_per_k linear expansion {1/K} [-1e-5, 3e-4]
 *  @param t_degc      body temperature {degC} [-273.15, 600]
 *  @param t0_degc     reference temperature of d0 {degC} [-273.15, 600]
 *  @return flow {L/min}
 *  @source definition, St = f D/V
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_flow_from_strouhal_lpm(double f_hz, double strouhal, double d0_mm, double alpha_per_k,
                                              double t_degc, double t0_degc, double *result);

/** K-factor from the Strouhal number
 *  K = 4 St/(pi D^3)
 *
 *  @param strouhal Strouhal number {1} [1e-9, 1e9]
 *  @param d_mm     bore {mm} [0.1, 5000]
 *  @return K-factor {1/m3}
 *  @source definition, St = f D/V
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k_from_strouhal_per_m3(double strouhal, double d_mm, double *result);

/** "Strouhal number" in the normalised convention of many certificates
 *  K (D/D0)^3
 *
 *  @param k              K-factor, pulses per any volume {1/volume} [1e-9, 1e15]
 *  @param diameter_ratio D/D0 {1} [0.5, 2]
 *  @return normalised Strouhal number, pulses per the volume of k {1/volume}
 *  @source convention of calibration certificates
 *  @status common practice; never mix it with the dimensionless number
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_strouhal_normalised(double k, double diameter_ratio, double *result);

/** "Roshko number" in the normalised convention of many certificates
 *  (f/nu) (D/D0)^2
 *
 *  @param f_hz           pulse frequency {Hz} [0, 1e9]
 *  @param nu_mm2s        kinematic viscosity {mm2/s} [1e-4, 1e8]
 *  @param diameter_ratio D/D0 {1} [0.5, 2]
 *  @return normalised Roshko number {Hz/cSt}
 *  @source convention of calibration certificates
 *  @status common practice; never mix it with the dimensionless number
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_roshko_normalised(double f_hz, double nu_mm2s, double diameter_ratio, double *result);

/** Change of the flow from small changes of what it is computed from, one metal
 *  dQ = (1 - s) df + s dnu + (3 - 2 s) dD, all relative, s = d ln St/d ln Ro
 *
 *  @param s       slope of the curve, d ln St/d ln Ro {1} [-10, 10]
 *  @param dnu_pct change of the viscosity {%} [-1000, 1000]
 *  @param df_pct  change of the frequency {%} [-1000, 1000] optional, 0
 *  @param dd_pct  change of the bore {%} [-1000, 1000] optional, 0
 *  @return change of the flow {%}
 *  @source derived: Q = pi f D^3/(4 St(Ro))
 *  @status computed; first order
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_flow_sensitivity_pct(double s, double dnu_pct, double df_pct, double dd_pct, double *result);

/** A new proving against the curve
 *  100 (St_new/St_curve - 1)
 *
 *  @param strouhal_new   Strouhal number of the proving {1} [1e-9, 1e9]
 *  @param strouhal_curve Strouhal number of the curve at the same Roshko number {1} [1e-9, 1e9]
 *  @return departure from the curve {%}
 *  @source definition
 *  @status computed; chart this, not raw meter factors at different Roshko numbers
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_curve_error_pct(double strouhal_new, double strouhal_curve, double *result);

/** Coordinate of static bearing friction in the balance of torques
 *  1/(rho Q^2)
 *
 *  @param rho_kgm3 density {kg/m3} [0.01, 30000]
 *  @param q_m3s    flow {m3/s} [1e-12, 1e6]
 *  @return coordinate {1/(N m2)}
 *  @source derived: steady balance of driving and retarding torque on the rotor, static friction over rho Q^2
 *  @status computed; same structure as the published balance of Lee and Karlby (1960), from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_bearing_term_per_n_m2(double rho_kgm3, double q_m3s, double *result);

FLC_END_DECLS

#endif
