/* SPDX-License-Identifier: Apache-2.0 */
/* Performance figures of a turbine meter, and the rules of thumb for installing and proving one.
 *
 * The rules of thumb (straight pipe, back pressure) are what is asked for where nothing better is known: the contract,
 * the local code and the maker's instructions come first. No standard states ranges for these formulas; those given are
 * the ones that make sense. */
#ifndef FLOWCOMP_PERFORMANCE_H
#define FLOWCOMP_PERFORMANCE_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/* What disturbs the flow upstream of the meter. */
typedef enum flc_fitting {
    FLC_FITTING_REDUCER = 0,                /* concentric reducer */
    FLC_FITTING_ELBOW = 1,                  /* one elbow */
    FLC_FITTING_TWO_ELBOWS_IN_PLANE = 2,    /* */
    FLC_FITTING_TWO_ELBOWS_OUT_OF_PLANE = 3 /* the swirl of these takes longest to die out */
} flc_fitting;

/** Fitting from its word ("reducer", "elbow", "two_elbows_in_plane", "two_elbows_out_of_plane").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_fitting_from_name(const char *name, flc_fitting *choice);

typedef enum flc_side {
    FLC_SIDE_UPSTREAM = 0,  /* before the meter */
    FLC_SIDE_DOWNSTREAM = 1 /* after it */
} flc_side;

/** Side from its word ("upstream", "downstream").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_side_from_name(const char *name, flc_side *choice);

/* Is there a flow conditioner (a tube bundle) upstream of the meter. */
typedef enum flc_conditioner {
    FLC_CONDITIONER_UNSTATED = 0, /* nothing is said */
    FLC_CONDITIONER_YES = 1,      /* there is one */
    FLC_CONDITIONER_NO = 2        /* there is none */
} flc_conditioner;

/** Conditioner from its word ("unstated", "yes", "no").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_conditioner_from_name(const char *name, flc_conditioner *choice);

/** Linearity about the mid value
 *  +-100 (max - min)/(max + min)
 *
 *  @param k K-factors over the stated range, two or more {any} [1e-9, 1e15]
 *  @param n number of values
 *  @return linearity, to be read as plus or minus {%}; FLC_E_COUNT below two values
 *  @source ISA RP31.1 style
 *  @status from memory; some laboratories use the mean instead: name the choice
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_linearity_mid_pct(const double *k, size_t n, double *result);

/** Linearity about the mean
 *  100 max|K - mean|/mean
 *
 *  @param k K-factors over the stated range, two or more {any} [1e-9, 1e15]
 *  @param n number of values
 *  @return largest departure from the mean, to be read as plus or minus {%}; FLC_E_COUNT below two values
 *  @source definition used by some laboratories
 *  @status common practice
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_linearity_mean_pct(const double *k, size_t n, double *result);

/** Repeatability of a set of runs
 *  100 (max - min)/min
 *
 *  @param runs pulses, K-factors or meter factors, two or more {any} [1e-9, 1e15]
 *  @param n    number of runs
 *  @return repeatability {%}; FLC_E_COUNT below two runs
 *  @source API MPMS 4.8, 12.2.3
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_repeatability_pct(const double *runs, size_t n, double *result);

/** Turndown
 *  Qmax/Qmin
 *
 *  @param q_max highest flow at which the linearity holds {any flow} [1e-12, 1e12]
 *  @param q_min lowest such flow, in the same unit {any flow} [1e-12, 1e12]
 *  @return turndown {1}; FLC_E_ORDER where q_min is above q_max
 *  @source definition
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_turndown(double q_max, double q_min, double *result);

/** Meter factor
 *  MF = true volume/indicated volume, indicated = N/K nominal
 *
 *  @param true_volume      volume from the prover {any volume} [1e-12, 1e15]
 *  @param indicated_volume volume from the meter, in the same unit {any volume} [1e-12, 1e15]
 *  @return meter factor {1}
 *  @source definition
 *  @status computed; definition; rises when K falls
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_meter_factor(double true_volume, double indicated_volume, double *result);

/** Least back pressure against cavitation
 *  Pb = 2 dP + 1.25 Pe
 *
 *  @param dp pressure drop over the meter at the highest flow {psi} [0, 10000]
 *  @param pe equilibrium vapour pressure at the flowing temperature, absolute {psi} [0, 10000]
 *  @return back pressure, gauge; any one pressure unit may stand for psi {psig}
 *  @source form printed in a liquid turbine meter manual; API MPMS 5.3 from memory
 *  @status from memory; mixes gauge and absolute as printed, apply it unchanged
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_back_pressure_min(double dp, double pe, double *result);

/** Estimate of the bare straight pipe that a fitting asks for
 *  L/D = 0.35 Ks/f, Ks = 0.75 reducer, 1.0 elbow, 1.25 two elbows in plane, 2.5 two elbows out of plane
 *
 *  @param fitting         what disturbs the flow
 *  @param friction_factor Darcy friction factor of the pipe, about 0.0175 {1} [0.005, 0.1]
 *  @return length {pipe diameters}
 *  @source API MPMS 5.3
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_straight_run_estimate_diameters(flc_fitting fitting, double friction_factor, double *result);

/** Straight pipe usually asked for
 *  upstream 10 D, 20 D where there is no conditioner; downstream 5 D
 *
 *  @param side        before or after the meter
 *  @param conditioner is there a flow conditioner
 *  @return length {pipe diameters}
 *  @source quick rule of the trade, no source; with or without a conditioner: API MPMS 5.3 from memory
 *  @status common practice
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_straight_run_rule_diameters(flc_side side, flc_conditioner conditioner, double *result);

/** Lowest flow in one fluid against another, where static friction sets it
 *  1/sqrt(rho/rho_ref)
 *
 *  @param density           density of the fluid {any density} [1e-6, 1e6]
 *  @param density_reference density of the fluid it is known in, in the same unit {any density} [1e-6, 1e6]
 *  @return ratio of the lowest flows {1}
 *  @source derived: static friction over rho Q^2
 *  @status computed; the static-friction end only
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_minimum_flow_ratio(double density, double density_reference, double *result);

/** Change of K from a coating on the bore alone
 *  100 x 4 d/D
 *
 *  @param thickness_um thickness of the coating; negative for a bore worn open {um} [-10000, 10000]
 *  @param d_mm         bore {mm} [0.1, 5000]
 *  @return change of K {%}
 *  @source derived: the area changes by -4 d/D
 *  @status computed; first order; a coated rotor is not covered
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_coating_k_change_pct(double thickness_um, double d_mm, double *result);

/** Time for a rotor in air to spin down
 *  t = (I/B1) ln(1 + B1 w0/B0), from I dw/dt = -(B0 + B1 w); I w0/B0 for B1 = 0
 *
 *  @param inertia moment of inertia of the rotor {kg m2} [1e-15, 1e6]
 *  @param b0      static friction torque {N m} [1e-15, 1e6]
 *  @param b1      viscous friction {N m s} [0, 1e6]
 *  @param omega0  starting speed {rad/s} [0, 1e6]
 *  @return time to stop {s}
 *  @source derived: equation of motion with dry and viscous friction
 *  @status computed; a shorter time than when new means more drag
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_spin_down_time_s(double inertia, double b0, double b1, double omega0, double *result);

/** Clock that resolves a time into enough ticks
 *  ticks/time
 *
 *  @param time_s shortest time to be measured {s} [1e-9, 1e9]
 *  @param ticks  clock periods it must hold, 20 000 in double chronometry {1} [1, 1e15]
 *  @return clock frequency {Hz}
 *  @source definition; 20 000 periods: API MPMS 4.6 from memory
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_clock_frequency_min_hz(double time_s, double ticks, double *result);

/** Pulses with their fraction by double chronometry
 *  N' = N T_detectors/T_pulses
 *
 *  @param n             whole pulses between the first after each detector {pulses} [1, 1e12]
 *  @param t_pulses_s    time of those pulses {s} [1e-9, 1e9]
 *  @param t_detectors_s time between the detectors {s} [1e-9, 1e9]
 *  @return interpolated pulses {pulses}; FLC_E_NOT_WHOLE
 *  @source ISO 7278-3, API MPMS 4.6
 *  @status from memory; needs evenly spaced pulses
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_pulses_interpolated(double n, double t_pulses_s, double t_detectors_s, double *result);

FLC_END_DECLS

#endif
