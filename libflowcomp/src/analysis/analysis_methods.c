/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/analysis_methods.h"
#include "method.h"
#include "repeatability.h"
#include <errno.h>
#include <math.h>

/* The C library's functions beneath GSL set errno where a tail underflows: the host's is put back. */

static int is_whole(double n)
{
    return (double)(unsigned)n == n;
}

static flc_status student_t(double probability, double nu, double *result)
{
    const int host_errno = errno;
    *result = flc_t_two_sided(probability, nu);
    errno = host_errno;
    return FLC_OK;
}

static flc_status control_chart_d2(double n, double *result)
{
    if (!is_whole(n)) {
        return FLC_E_NOT_WHOLE;
    }
    const int host_errno = errno;
    *result = flc_range_mean((unsigned)n);
    errno = host_errno;
    return FLC_OK;
}

static flc_status control_chart_d3(double n, double *result)
{
    if (!is_whole(n)) {
        return FLC_E_NOT_WHOLE;
    }
    const int host_errno = errno;
    *result = flc_range_deviation((unsigned)n);
    errno = host_errno;
    return FLC_OK;
}

/* g(n) = Gamma(n/2)/Gamma((n - 1)/2): g(2) = 1/sqrt(pi), g(n + 1) g(n) = (n - 1)/2. */
static flc_status control_chart_c4(double n, double *result)
{
    if (!is_whole(n)) {
        return FLC_E_NOT_WHOLE;
    }
    double ratio = 0.56418958354775629 /* 1/sqrt(pi) */;
    for (double i = 2.0; i < n; i += 1.0) {
        ratio = 0.5 * (i - 1.0) / ratio;
    }
    *result = sqrt(2.0 / (n - 1.0)) * ratio;
    return FLC_OK;
}

static flc_status control_chart_a2(double n, double *result)
{
    double d2;
    flc_status status = control_chart_d2(n, &d2);
    if (status == FLC_OK) {
        *result = 3.0 / (d2 * sqrt(n));
    }
    return status;
}

/* 1 + sigmas d3/d2, a limit of a chart of ranges. */
static flc_status range_limit(double n, double sigmas, double *result)
{
    double d2, d3;
    flc_status status = control_chart_d2(n, &d2);
    if (status == FLC_OK) {
        status = control_chart_d3(n, &d3);
    }
    if (status == FLC_OK) {
        *result = 1.0 + sigmas * d3 / d2;
    }
    return status;
}

static flc_status control_chart_range_lower_d3(double n, double *result)
{
    flc_status status = range_limit(n, -3.0, result);
    *result = *result > 0.0 ? *result : 0.0;
    return status;
}

static flc_status control_chart_range_upper_d4(double n, double *result)
{
    return range_limit(n, 3.0, result);
}

static flc_status range_factor_lord(double n, double probability, double *result)
{
    if (!is_whole(n)) {
        return FLC_E_NOT_WHOLE;
    }
    const int host_errno = errno;
    *result = flc_range_factor((unsigned)n, probability);
    errno = host_errno;
    return FLC_OK;
}

/* t/(d2 sqrt n), the uncertainty of the mean per unit of range. */
static flc_status uncertainty_per_range(double n, double probability, double *result)
{
    double t, d2;
    student_t(probability, n - 1.0, &t);
    flc_status status = control_chart_d2(n, &d2);
    if (status == FLC_OK) {
        *result = t / (d2 * sqrt(n));
    }
    return status;
}

static flc_status mean_uncertainty_from_range_pct(double n, double range_pct, double probability, double *result)
{
    double factor;
    flc_status status = uncertainty_per_range(n, probability, &factor);
    if (status == FLC_OK) {
        *result = factor * range_pct;
    }
    return status;
}

static flc_status repeatability_limit_pct(double n, double target_pct, double probability, double *result)
{
    double factor;
    flc_status status = uncertainty_per_range(n, probability, &factor);
    if (status == FLC_OK) {
        *result = target_pct / factor;
    }
    return status;
}

#include "methods/analysis_methods.inc"
