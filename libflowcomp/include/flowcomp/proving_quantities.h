/* SPDX-License-Identifier: Apache-2.0 */
/* Quantities of a proving, one formula each, in the form of API MPMS 12.2.3, and the chart of a history of meter
 * factors. The formulas are from memory unless they say otherwise. A whole proving, with its runs, limits and verdict,
 * is in proving.h; the steel of the prover in prover_steel.h; pulse interpolation in performance.h. Volumes are in any
 * one unit used throughout; ranges are ours. */
#ifndef FLOWCOMP_PROVING_QUANTITIES_H
#define FLOWCOMP_PROVING_QUANTITIES_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Combined correction factor of a prover
 *  CTSp CPSp CTLp CPLp
 *
 *  @param cts  steel, temperature {1} [0.9, 1.1]
 *  @param cps  steel, pressure {1} [0.9, 1.1]
 *  @param ctl  liquid, temperature {1} [0.1, 2]
 *  @param cpl  liquid, pressure {1} [0.5, 2]
 *  @return combined factor {1}
 *  @source API MPMS 12.2.3
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ccf_prover(double cts, double cps, double ctl, double cpl, double *result);

/** Gross standard volume of a prover
 *  BPV CTSp CPSp CTLp CPLp
 *
 *  @param base_volume  base prover volume {any volume} [1e-9, 1e9]
 *  @param cts          steel, temperature {1} [0.9, 1.1]
 *  @param cps          steel, pressure {1} [0.9, 1.1]
 *  @param ctl          liquid, temperature {1} [0.1, 2]
 *  @param cpl          liquid, pressure {1} [0.5, 2]
 *  @return GSVp {any volume}
 *  @source API MPMS 12.2.3
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_gsv_prover(double base_volume, double cts, double cps, double ctl, double cpl, double *result);

/** Indicated standard volume of the meter
 *  mean N/NKF CTLm CPLm
 *
 *  @param pulses     N of each run {pulses} [1e-9, 1e15]
 *  @param nominal_k  NKF {pulses per volume} [1e-9, 1e15]
 *  @param ctl        liquid at the meter, temperature {1} [0.1, 2]
 *  @param cpl        liquid at the meter, pressure {1} [0.5, 2]
 *  @param n          number of runs
 *  @return ISVm {any volume}
 *  @source API MPMS 12.2.3, average data method
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_isv_meter(const double *pulses, double nominal_k, double ctl, double cpl, size_t n,
                                 double *result);

/** Meter factor from a pipe or small volume prover, average data method
 *  MF = BPV CTSp CPSp CTLp CPLp/(mean N/NKF CTLm CPLm)
 *
 *  @param base_volume  BPV {any volume} [1e-9, 1e9]
 *  @param nominal_k    NKF {pulses per volume} [1e-9, 1e15]
 *  @param pulses       N of each run {pulses} [1e-9, 1e15]
 *  @param cts          steel of the prover, temperature {1} [0.9, 1.1]
 *  @param cps          steel of the prover, pressure {1} [0.9, 1.1]
 *  @param ctl_prover   liquid in the prover, temperature {1} [0.1, 2]
 *  @param cpl_prover   liquid in the prover, pressure {1} [0.5, 2]
 *  @param ctl_meter    liquid at the meter, temperature {1} [0.1, 2]
 *  @param cpl_meter    liquid at the meter, pressure {1} [0.5, 2]
 *  @param decimals     round to so many; left out: not rounded {1} [0, 12] optional
 *  @param n            number of runs
 *  @return MF {1}; FLC_E_NOT_WHOLE (decimals), FLC_E_OVERFLOW (rounding)
 *  @source API MPMS 12.2.3
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_pipe_prover(double base_volume, double nominal_k, const double *pulses, double cts,
                                      double cps, double ctl_prover, double cpl_prover, double ctl_meter,
                                      double cpl_meter, double decimals, size_t n, double *result);

/** Meter factor from a pipe or small volume prover, average meter factor method
 *  mean of the runs' MF, the same prover factors for each
 *
 *  @param base_volume  BPV {any volume} [1e-9, 1e9]
 *  @param nominal_k    NKF {pulses per volume} [1e-9, 1e15]
 *  @param pulses       N of each run {pulses} [1e-9, 1e15]
 *  @param cts          steel of the prover, temperature {1} [0.9, 1.1]
 *  @param cps          steel of the prover, pressure {1} [0.9, 1.1]
 *  @param ctl_prover   liquid in the prover, temperature {1} [0.1, 2]
 *  @param cpl_prover   liquid in the prover, pressure {1} [0.5, 2]
 *  @param ctl_meter    liquid at the meter, temperature {1} [0.1, 2]
 *  @param cpl_meter    liquid at the meter, pressure {1} [0.5, 2]
 *  @param n            number of runs
 *  @return MF {1}
 *  @source API MPMS 12.2.3
 *  @status from memory; larger than by average data by the square of the relative scatter
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_pipe_prover_average_mf(double base_volume, double nominal_k, const double *pulses, double cts,
                                                 double cps, double ctl_prover, double cpl_prover, double ctl_meter,
                                                 double cpl_meter, size_t n, double *result);

/** Average meter factor method against average data method
 *  1e6 (mean N mean(1/N) - 1)
 *
 *  @param pulses  N of each run {pulses} [1e-9, 1e15]
 *  @param n       number of runs
 *  @return difference {ppm}
 *  @source identity of the two methods with the same prover factors for each run
 *  @status computed; summed as products of small differences, so that it keeps its digits
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_method_difference_ppm(const double *pulses, size_t n, double *result);

/** Pulses of a round trip in a bidirectional prover
 *  out + back
 *
 *  @param pulses_out   pulses of the pass out {pulses} [1e-9, 1e15]
 *  @param pulses_back  pulses of the pass back {pulses} [1e-9, 1e15]
 *  @return pulses of the run {pulses}
 *  @source OIML D 36:2020, 4.2.2; ISO 7278-2
 *  @status published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_bidirectional_pulses(double pulses_out, double pulses_back, double *result);

/** Meter factor from an open tank prover
 *  MF = (upper - lower) CTSp CTLp/(IVm CTLm CPLm), CTSp = 1 + Gc (t - tb)
 *
 *  @param upper        upper reading {any volume} [0, 1e9]
 *  @param lower        lower reading {any volume} [-1e9, 1e9]
 *  @param gc_per_degc  cubical expansion of the tank {1/degC} [0, 1.8e-4]
 *  @param t_degc       temperature in the tank {degC} [-75, 205]
 *  @param tb_degc      base temperature {degC} [-75, 205]
 *  @param ctl_prover   liquid in the tank, temperature {1} [0.1, 2]
 *  @param iv           indicated volume of the meter, same unit {any volume} [1e-9, 1e9]
 *  @param ctl_meter    liquid at the meter, temperature {1} [0.1, 2]
 *  @param cpl_meter    liquid at the meter, pressure {1} [0.5, 2]
 *  @return MF {1}; FLC_E_ORDER where the upper reading is not above the lower
 *  @source API MPMS 12.2.3
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_tank_prover(double upper, double lower, double gc_per_degc, double t_degc, double tb_degc,
                                      double ctl_prover, double iv, double ctl_meter, double cpl_meter, double *result);

/** Meter factor from a master meter
 *  MF = IVmm MMF CTLmm CPLmm/(IVm CTLm CPLm)
 *
 *  @param iv_master   indicated volume of the master meter {any volume} [1e-9, 1e9]
 *  @param mf_master   MMF, its meter factor {1} [0.8, 1.2]
 *  @param ctl_master  liquid at the master meter, temperature {1} [0.1, 2]
 *  @param cpl_master  liquid at the master meter, pressure {1} [0.5, 2]
 *  @param iv          indicated volume of the meter, same unit {any volume} [1e-9, 1e9]
 *  @param ctl_meter   liquid at the meter, temperature {1} [0.1, 2]
 *  @param cpl_meter   liquid at the meter, pressure {1} [0.5, 2]
 *  @return MF {1}
 *  @source API MPMS 12.2.3
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_master_meter(double iv_master, double mf_master, double ctl_master, double cpl_master,
                                       double iv, double ctl_meter, double cpl_meter, double *result);

/** Pulses a pass must have where they are not interpolated
 *  1/resolution
 *
 *  @param resolution  wanted, 0.0001 for one part in ten thousand {1} [1e-9, 1]
 *  @return least whole pulses {pulses}
 *  @source D. M. Comstock, ISHM 1993, abstract: 10 000 pulses for one part in 10 000
 *  @status published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_minimum_pulses_without_interpolation(double resolution, double *result);

/** Largest range of n runs, the table
 *  table entry
 *
 *  @param n  number of runs {1} [3, 20]
 *  @return range, (max - min)/min {%}; FLC_E_NOT_WHOLE
 *  @source API MPMS 4.8 (1995, 2013), Table A-1
 *  @status from memory; a forum post confirms 5 runs 0.05, 10 runs 0.12, 15 runs 0.17. Six runs have 0.06 where the
 *  formula (repeatability_limit_pct) gives 0.0652
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_repeatability_limit_api_4_8_pct(double n, double *result);

/** Central line of a chart of meter factors
 *  mean
 *
 *  @param mf  meter factors of the history {1} [0.8, 1.2]
 *  @param n   number of them
 *  @return mean {1}
 *  @source definition, individuals chart
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_chart_mean(const double *mf, size_t n, double *result);

/** Standard deviation of the meter factors
 *  sqrt(sum (MF - mean)^2/(n - 1))
 *
 *  @param mf  meter factors of the history, two or more {1} [0.8, 1.2]
 *  @param n   number of them
 *  @return standard deviation {1}; FLC_E_COUNT below two
 *  @source definition
 *  @status computed; definition. It holds drift as well as scatter: the chart's limits rest on the moving range
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_chart_stdev(const double *mf, size_t n, double *result);

/** Standard deviation from the moving range of two
 *  mean |MF_i - MF_(i-1)|/d2
 *
 *  @param mf  meter factors in the order of the provings, two or more {1} [0.8, 1.2]
 *  @param d2  mean range of two normal values: 2/sqrt(pi) = 1.1283791671, or 1.128 as tables print it {1} [1, 1.3]
 *  @param n   number of them
 *  @return sigma {1}; FLC_E_COUNT below two
 *  @source individuals chart; API Standard 2560 names warning, action and tolerance limits
 *  @status common practice
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_chart_sigma_moving_range(const double *mf, double d2, size_t n, double *result);

/** Upper limit of a chart of meter factors
 *  mean + sigmas sigma
 *
 *  @param mf      meter factors in the order of the provings, two or more {1} [0.8, 1.2]
 *  @param d2      as for mf_chart_sigma_moving_range {1} [1, 1.3]
 *  @param sigmas  2 for warning, 3 for action {1} [0, 10]
 *  @param n       number of them
 *  @return limit {1}; FLC_E_COUNT below two
 *  @source individuals chart; API Standard 2560 names warning, action and tolerance limits
 *  @status common practice
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_chart_upper_limit(const double *mf, double d2, double sigmas, size_t n, double *result);

/** Lower limit of a chart of meter factors
 *  mean - sigmas sigma
 *
 *  @param mf      meter factors in the order of the provings, two or more {1} [0.8, 1.2]
 *  @param d2      as for mf_chart_sigma_moving_range {1} [1, 1.3]
 *  @param sigmas  2 for warning, 3 for action {1} [0, 10]
 *  @param n       number of them
 *  @return limit {1}; FLC_E_COUNT below two
 *  @source individuals chart; API Standard 2560 names warning, action and tolerance limits
 *  @status common practice
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mf_chart_lower_limit(const double *mf, double d2, double sigmas, size_t n, double *result);

FLC_END_DECLS

#endif
