/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/performance.h"
#include "error.h"
#include "fpmath.h"
#include "method.h"

typedef struct span {
    double low, high;
} span;

/* Two values or more: one has no spread. */
static flc_status span_of(const double *values, size_t n, span *found)
{
    if (n < 2) {
        return FLC_E_COUNT;
    }
    *found = (span){values[0], values[0]};
    for (size_t i = 1; i < n; i++) {
        found->low = values[i] < found->low ? values[i] : found->low;
        found->high = values[i] > found->high ? values[i] : found->high;
    }
    return FLC_OK;
}

static flc_status linearity_mid_pct(const double *k, size_t n, double *result)
{
    span found;
    flc_status status = span_of(k, n, &found);
    if (status == FLC_OK) {
        *result = 100.0 * (found.high - found.low) / (found.high + found.low);
    }
    return status;
}

static flc_status linearity_mean_pct(const double *k, size_t n, double *result)
{
    span found;
    flc_status status = span_of(k, n, &found);
    if (status == FLC_OK) {
        double sum = 0.0;
        for (size_t i = 0; i < n; i++) {
            sum += k[i];
        }
        const double mean = sum / (double)n;
        const double above = found.high - mean, below = mean - found.low;
        *result = 100.0 * (above > below ? above : below) / mean;
    }
    return status;
}

static flc_status repeatability_pct(const double *runs, size_t n, double *result)
{
    span found;
    flc_status status = span_of(runs, n, &found);
    if (status == FLC_OK) {
        *result = 100.0 * (found.high - found.low) / found.low;
    }
    return status;
}

static flc_status turndown(double q_max, double q_min, double *result)
{
    *result = q_max / q_min;
    return q_min <= q_max ? FLC_OK : FLC_E_ORDER;
}

static flc_status meter_factor(double true_volume, double indicated_volume, double *result)
{
    *result = true_volume / indicated_volume;
    return FLC_OK;
}

static flc_status back_pressure_min(double dp, double pe, double *result)
{
    *result = 2.0 * dp + 1.25 * pe;
    return FLC_OK;
}

static flc_status straight_run_estimate_diameters(flc_fitting fitting, double friction_factor, double *result)
{
    static const double swirl[] = {0.75, 1.0, 1.25, 2.5}; /* Ks, in the order of flc_fitting */
    *result = 0.35 * swirl[fitting] / friction_factor;
    return FLC_OK;
}

static flc_status straight_run_rule_diameters(flc_side side, flc_conditioner conditioner, double *result)
{
    *result = side == FLC_SIDE_DOWNSTREAM ? 5.0 : conditioner == FLC_CONDITIONER_NO ? 20.0 : 10.0;
    return FLC_OK;
}

static flc_status minimum_flow_ratio(double density, double density_reference, double *result)
{
    *result = flc_sqrt(density_reference / density);
    return FLC_OK;
}

static flc_status coating_k_change_pct(double thickness_um, double d_mm, double *result)
{
    *result = 0.4 * thickness_um / d_mm;
    return FLC_OK;
}

/* ln(1 + x)/x without the loss of digits near x = 0: the rounding of 1 + x is in both logarithm and divisor. */
static double log1p_over_x(double x)
{
    const double grown = 1.0 + x;
    return grown == 1.0 ? 1.0 : flc_log(grown) / (grown - 1.0);
}

static flc_status spin_down_time_s(double inertia, double b0, double b1, double omega0, double *result)
{
    *result = inertia * omega0 / b0 * log1p_over_x(b1 * omega0 / b0);
    return FLC_OK;
}

static flc_status clock_frequency_min_hz(double time_s, double ticks, double *result)
{
    *result = ticks / time_s;
    return FLC_OK;
}

static flc_status pulses_interpolated(double n, double t_pulses_s, double t_detectors_s, double *result)
{
    *result = n * t_detectors_s / t_pulses_s;
    return (double)(int64_t)n == n ? FLC_OK : FLC_E_NOT_WHOLE;
}

#include "methods/performance.inc"
