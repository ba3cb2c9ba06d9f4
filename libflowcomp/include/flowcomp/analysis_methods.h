/* SPDX-License-Identifier: Apache-2.0 */
/* Statistics of proving runs: Student's factor, the mean range of a normal sample, and what a range of runs says about
 * the uncertainty of their mean. Part of libflowcomp-analysis, which rests on GSL. */
#ifndef FLOWCOMP_ANALYSIS_METHODS_H
#define FLOWCOMP_ANALYSIS_METHODS_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Student's two-sided factor
 *  t with probability P that |t| is not exceeded, nu degrees of freedom
 *
 *  @param probability P, 0.95 for 95 % {1} [0.01, 0.9999]
 *  @param nu          degrees of freedom, need not be whole {1} [1, 1e6]
 *  @return t {1}
 *  @source Student's distribution; JCGM 100:2008, Table G.2, has its values
 *  @status computed; 1e-12 from a recomputation in 30 digits
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_student_t(double probability, double nu, double *result);

/** d2, mean range of n standard normal values
 *  d2(n) = integral over x of 1 - (1 - Phi)^n - Phi^n
 *
 *  @param n number of values {1} [2, 1000]
 *  @return d2 {1}; FLC_E_NOT_WHOLE
 *  @source Tippett's integral for the mean range; control chart tables print its values for n to 25
 *  @status computed; 1e-14 from a recomputation in 30 digits
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_control_chart_d2(double n, double *result);

/** d3, standard deviation of the range of n standard normal values
 *  d3(n) = sqrt(mean of range^2 - d2^2)
 *
 *  @param n number of values {1} [2, 100]
 *  @return d3 {1}; FLC_E_NOT_WHOLE
 *  @source factors for control charts; printed in tables for n to 25
 *  @status computed; 1e-12 from a recomputation apart from the library
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_control_chart_d3(double n, double *result);

/** c4, mean of the standard deviation of n standard normal values
 *  c4(n) = sqrt(2/(n - 1)) Gamma(n/2)/Gamma((n - 1)/2)
 *
 *  @param n number of values {1} [2, 100]
 *  @return c4 {1}; FLC_E_NOT_WHOLE
 *  @source factors for control charts; printed in tables for n to 25
 *  @status computed; 1e-12 from a recomputation apart from the library
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_control_chart_c4(double n, double *result);

/** A2, limit of a chart of means from the mean range
 *  A2 = 3/(d2 sqrt n)
 *
 *  @param n number of values {1} [2, 100]
 *  @return A2 {1}; FLC_E_NOT_WHOLE
 *  @source factors for control charts; printed in tables for n to 25
 *  @status computed; 1e-12 from a recomputation apart from the library
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_control_chart_a2(double n, double *result);

/** D3, lower limit of a chart of ranges
 *  D3 = max(0, 1 - 3 d3/d2)
 *
 *  @param n number of values {1} [2, 100]
 *  @return D3 {1}; FLC_E_NOT_WHOLE
 *  @source factors for control charts; printed in tables for n to 25
 *  @status computed; 1e-12 from a recomputation apart from the library
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_control_chart_range_lower_d3(double n, double *result);

/** D4, upper limit of a chart of ranges
 *  D4 = 1 + 3 d3/d2
 *
 *  @param n number of values {1} [2, 100]
 *  @return D4 {1}; FLC_E_NOT_WHOLE
 *  @source factors for control charts; printed in tables for n to 25
 *  @status computed; 1e-12 from a recomputation apart from the library
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_control_chart_range_upper_d4(double n, double *result);

/** Uncertainty of the mean of n runs from their range
 *  u = t(P, n - 1) R/(d2(n) sqrt n)
 *
 *  @param n           number of runs {1} [2, 1000]
 *  @param range_pct   R, largest less smallest run {%} [0, 1000]
 *  @param probability P {1} [0.01, 0.9999]
 *  @return half width of the interval of the mean {%}; FLC_E_NOT_WHOLE
 *  @source API MPMS 4.8, 13.2: five runs within 0.05 % give 0.027 %
 *  @status from memory; t with d2 is an approximation, 5 % wide for five runs, right near 14, 1 %
 *  narrow for 30: range_factor_lord is exact
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mean_uncertainty_from_range_pct(double n, double range_pct, double probability, double *result);

/** Largest range of n runs that keeps the uncertainty of their mean
 *  R = u sqrt(n) d2(n)/t(P, n - 1)
 *
 *  @param n           number of runs {1} [2, 1000]
 *  @param target_pct  u, half width of the interval of the mean; 0.027 in the practice of the trade {%} [0, 1000]
 *  @param probability P {1} [0.01, 0.9999]
 *  @return range {%}; FLC_E_NOT_WHOLE
 *  @source API MPMS 4.8, 13.2: the formula behind the table of allowed ranges
 *  @status from memory; rounds to that table for 3 to 20 runs except 6 (0.0652 against 0.06)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_repeatability_limit_pct(double n, double target_pct, double probability, double *result);

/** Exact factor between the range of n normal values and the interval of their mean
 *  c with P(|mean error|/range <= c) = probability
 *
 *  @param n           number of values {1} [2, 100]
 *  @param probability P {1} [0.01, 0.9999]
 *  @return factor {1}; FLC_E_NOT_WHOLE
 *  @source E. Lord, Biometrika 34 (1947) 41
 *  @status computed; the paper's 0.507 for five values and 0.230 for ten, from memory; for two values Student's t/2
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_range_factor_lord(double n, double probability, double *result);

FLC_END_DECLS

#endif
