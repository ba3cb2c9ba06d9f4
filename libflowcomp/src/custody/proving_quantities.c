/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/proving_quantities.h"
#include "error.h"
#include "fpmath.h"
#include "method.h"
#include "proving_core.h"
#include "rounding_core.h"

static double mean_of(const double *values, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        sum += values[i];
    }
    return sum / (double)n;
}

static flc_status ccf_prover(double cts, double cps, double ctl, double cpl, double *result)
{
    *result = cts * cps * ctl * cpl;
    return FLC_OK;
}

static flc_status gsv_prover(double base_volume, double cts, double cps, double ctl, double cpl, double *result)
{
    *result = flc_gsv_prover_of(base_volume, cts, cps, ctl, cpl);
    return FLC_OK;
}

static flc_status isv_meter(const double *pulses, double nominal_k, double ctl, double cpl, size_t n, double *result)
{
    *result = mean_of(pulses, n) / nominal_k * ctl * cpl;
    return FLC_OK;
}

static flc_status mf_pipe_prover(double base_volume, double nominal_k, const double *pulses, double cts, double cps,
                                 double ctl_prover, double cpl_prover, double ctl_meter, double cpl_meter,
                                 double decimals, size_t n, double *result)
{
    const double prover = flc_gsv_prover_of(base_volume, cts, cps, ctl_prover, cpl_prover);
    const double meter = mean_of(pulses, n) / nominal_k * ctl_meter * cpl_meter;
    *result = prover / meter;
    return flc_is_nan(decimals) ? FLC_OK : flc_round_to_decimals(prover / meter, decimals, result);
}

static flc_status mf_pipe_prover_average_mf(double base_volume, double nominal_k, const double *pulses, double cts,
                                            double cps, double ctl_prover, double cpl_prover, double ctl_meter,
                                            double cpl_meter, size_t n, double *result)
{
    const double prover = flc_gsv_prover_of(base_volume, cts, cps, ctl_prover, cpl_prover);
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        sum += prover / (pulses[i] / nominal_k * ctl_meter * cpl_meter);
    }
    *result = sum / (double)n;
    return FLC_OK;
}

/* mean N mean(1/N) - 1 = mean of d^2/(mean N), d = N - mean: the terms of first order cancel exactly. */
static flc_status mf_method_difference_ppm(const double *pulses, size_t n, double *result)
{
    const double mean = mean_of(pulses, n);
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double d = pulses[i] - mean;
        sum += d / mean * (d / pulses[i]);
    }
    *result = 1e6 * (sum / (double)n);
    return FLC_OK;
}

static flc_status bidirectional_pulses(double pulses_out, double pulses_back, double *result)
{
    *result = pulses_out + pulses_back;
    return FLC_OK;
}

static flc_status mf_tank_prover(double upper, double lower, double gc_per_degc, double t_degc, double tb_degc,
                                 double ctl_prover, double iv, double ctl_meter, double cpl_meter, double *result)
{
    const double cts = 1.0 + gc_per_degc * (t_degc - tb_degc);
    *result = flc_gsv_prover_of(upper - lower, cts, 1.0, ctl_prover, 1.0) / (iv * ctl_meter * cpl_meter);
    return lower < upper ? FLC_OK : FLC_E_ORDER;
}

static flc_status mf_master_meter(double iv_master, double mf_master, double ctl_master, double cpl_master, double iv,
                                  double ctl_meter, double cpl_meter, double *result)
{
    *result = iv_master * mf_master * ctl_master * cpl_master / (iv * ctl_meter * cpl_meter);
    return FLC_OK;
}

static flc_status minimum_pulses_without_interpolation(double resolution, double *result)
{
    *result = 1.0 / resolution;
    return FLC_OK;
}

static flc_status repeatability_limit_api_4_8_pct(double n, double *result)
{
    const size_t runs = (size_t)n;
    if ((double)runs != n) {
        return FLC_E_NOT_WHOLE;
    }
    *result = flc_run_range_api_4_8(runs);
    return FLC_OK;
}

static flc_status mf_chart_mean(const double *mf, size_t n, double *result)
{
    *result = mean_of(mf, n);
    return FLC_OK;
}

static flc_status mf_chart_stdev(const double *mf, size_t n, double *result)
{
    if (n < 2) {
        return FLC_E_COUNT;
    }
    const double mean = mean_of(mf, n);
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        sum += (mf[i] - mean) * (mf[i] - mean);
    }
    *result = flc_sqrt(sum / (double)(n - 1));
    return FLC_OK;
}

static flc_status mf_chart_sigma_moving_range(const double *mf, double d2, size_t n, double *result)
{
    if (n < 2) {
        return FLC_E_COUNT;
    }
    double sum = 0.0;
    for (size_t i = 1; i < n; i++) {
        sum += flc_fabs(mf[i] - mf[i - 1]);
    }
    *result = sum / (double)(n - 1) / d2;
    return FLC_OK;
}

static flc_status mf_chart_limit(const double *mf, double d2, double sigmas, size_t n, double *result)
{
    double sigma;
    flc_status status = mf_chart_sigma_moving_range(mf, d2, n, &sigma);
    if (status == FLC_OK) {
        *result = mean_of(mf, n) + sigmas * sigma;
    }
    return status;
}

static flc_status mf_chart_upper_limit(const double *mf, double d2, double sigmas, size_t n, double *result)
{
    return mf_chart_limit(mf, d2, sigmas, n, result);
}

static flc_status mf_chart_lower_limit(const double *mf, double d2, double sigmas, size_t n, double *result)
{
    return mf_chart_limit(mf, d2, -sigmas, n, result);
}

#include "methods/proving_quantities.inc"
