/* SPDX-License-Identifier: Apache-2.0 */
/* The integrals are summed by the trapezoidal rule: for a smooth function that dies out at both ends it converges
 * faster than any power of the step, so a fixed step gives the last digits, and there is nothing that could fail. */
#include "repeatability.h"
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <math.h>

double flc_t_two_sided(double probability, double nu)
{
    return gsl_cdf_tdist_Qinv(0.5 * (1.0 - probability), nu);
}

double flc_range_mean(unsigned n)
{
    const double step = 1.0 / 16.0;
    const int half = 16 * 9; /* beyond x = 9 the integrand is below n 1e-19 */
    double sum = 0.0;
    for (int i = -half; i <= half; i++) {
        const double x = i * step, below = gsl_cdf_ugaussian_P(x), above = gsl_cdf_ugaussian_Q(x);
        /* 1 - above^n - below^n, even in x: the larger power by way of its complement */
        const double small = below < above ? below : above;
        sum += -expm1(n * log1p(-small)) - gsl_pow_uint(small, n);
    }
    return sum * step;
}

/* Density of the range r of n standard normal values,
 * n (n - 1) integral of phi(x - r/2) phi(x + r/2) [Phi(x + r/2) - Phi(x - r/2)]^(n - 2). */
static double range_density(unsigned n, double r)
{
    const double step = 1.0 / 16.0;
    double sum = 0.0;
    for (int i = -16 * 9; i <= 0; i++) { /* even in x: the left half, and the middle once */
        const double x = i * step;
        const double inside = gsl_cdf_ugaussian_P(x + 0.5 * r) - gsl_cdf_ugaussian_P(x - 0.5 * r);
        const double term =
            gsl_ran_ugaussian_pdf(x - 0.5 * r) * gsl_ran_ugaussian_pdf(x + 0.5 * r) * gsl_pow_uint(inside, n - 2);
        sum += i < 0 ? 2.0 * term : term;
    }
    return n * (n - 1.0) * sum * step;
}

/* The range on a logarithmic scale, r = exp(i/16), from 1e-16 to 40: nodes, and density times dr. */
enum { RANGE_FIRST = -16 * 37, RANGE_LAST = 16 * 3 + 11, RANGE_NODES = RANGE_LAST - RANGE_FIRST + 1 };

typedef struct range_grid {
    double r[RANGE_NODES], weight[RANGE_NODES];
} range_grid;

static void range_grid_fill(range_grid *grid, unsigned n)
{
    for (int i = 0; i < RANGE_NODES; i++) {
        grid->r[i] = exp((RANGE_FIRST + i) / 16.0);
        grid->weight[i] = range_density(n, grid->r[i]) * grid->r[i] / 16.0;
    }
}

double flc_range_deviation(unsigned n)
{
    range_grid grid;
    range_grid_fill(&grid, n);
    double mean = 0.0, square = 0.0;
    for (int i = 0; i < RANGE_NODES; i++) {
        mean += grid.weight[i] * grid.r[i];
        square += grid.weight[i] * grid.r[i] * grid.r[i];
    }
    return sqrt(square - mean * mean);
}

/* P(|mean| > c range): mean and range of a normal sample are independent. */
static double range_exceeds(const range_grid *grid, unsigned n, double c)
{
    double sum = 0.0;
    for (int i = 0; i < RANGE_NODES; i++) {
        sum += grid->weight[i] * gsl_cdf_ugaussian_Q(c * sqrt(n) * grid->r[i]);
    }
    return 2.0 * sum;
}

double flc_range_factor(unsigned n, double probability)
{
    range_grid grid;
    range_grid_fill(&grid, n);
    double low = 0.0, high = 1e5; /* two values at P = 0.9999: 3183 */
    for (double c = 0.5 * (low + high); low < c && c < high; c = 0.5 * (low + high)) {
        if (range_exceeds(&grid, n, c) > 1.0 - probability) {
            low = c;
        } else {
            high = c;
        }
    }
    return low;
}
