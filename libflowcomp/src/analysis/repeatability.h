/* SPDX-License-Identifier: Apache-2.0 */
/* Range and Student statistics of normal samples, unchecked. Only functions of GSL that cannot fail on checked input.
 */
#ifndef FLC_REPEATABILITY_H
#define FLC_REPEATABILITY_H

/** Two-sided Student factor. */
double flc_t_two_sided(double probability, double nu);

/** Mean range of n standard normal values. */
double flc_range_mean(unsigned n);

/** Standard deviation of that range. */
double flc_range_deviation(unsigned n);

/** c with P(|mean|/range <= c) = probability for n standard normal values. */
double flc_range_factor(unsigned n, double probability);

#endif
