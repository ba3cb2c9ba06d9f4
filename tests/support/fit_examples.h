/* SPDX-License-Identifier: Apache-2.0 */
/* A made-up meter for the tests of fits: a one-metal body of 25.4 mm, and a smooth St(Ro) with a hump and a fall
 * towards low Ro. Numbers are invented; the arithmetic is that of the definitions St = (pi/4) K D^3, Ro = f D^2/nu, K =
 * K0 (1 + a dT)^-3, with the C library's functions. */
#ifndef FLC_FIT_EXAMPLES_H
#define FLC_FIT_EXAMPLES_H

#include "check.h"
#include "flowcomp/analysis.h"
#include <math.h>

#define EXAMPLE_PI 3.14159265358979323846
#define EXAMPLE_D0 0.0254
#define EXAMPLE_ALPHA 16e-6

static inline double example_st(double ro)
{
    const double x = log(ro);
    return 3.4 * (1.0 - 0.02 * exp(-(x - 9.0)) + 0.004 * exp(-(x - 10.5) * (x - 10.5)));
}

static inline double example_k0(double st)
{
    return 4.0 * st / (EXAMPLE_PI * EXAMPLE_D0 * EXAMPLE_D0 * EXAMPLE_D0);
}

static inline flc_body_options example_body(void)
{
    flc_body_options body;
    flc_body_options_init(&body);
    body.bore_m = EXAMPLE_D0;
    body.t0_degc = 20.0;
    body.end = FLC_END_NONE;
    assert_int_equal(flc_metal_mean(EXAMPLE_ALPHA, -50.0, 300.0, NAN, NAN, FLC_USER_GIVEN, "test", &body.housing, NULL),
                     FLC_OK);
    return body;
}

static inline flc_fit_options example_options(flc_fit_method method)
{
    flc_fit_options options;
    flc_fit_options_init(&options);
    options.convention = FLC_CONVENTION_DIMENSIONLESS;
    options.treatment = FLC_BODY_ALREADY_CORRECTED;
    options.reference = FLC_REFERENCE_AT_METER;
    options.method = method;
    return options;
}

/* A point printed as Ro and St. */
static inline flc_certificate_point example_point(double ro, double st)
{
    flc_certificate_point point;
    flc_certificate_point_init(&point);
    point.x = ro;
    point.k_per_m3 = st;
    return point;
}

/* The fit, which must succeed. */
static inline flc_fit *example_fit_of(const flc_fit_options *options, const flc_certificate_point *points, size_t count)
{
    const flc_body_options body = example_body();
    flc_fit *fit = NULL;
    flc_error error;
    const flc_status status = flc_fit_certificate(options, &body, points, count, &fit, &error);
    if (status != FLC_OK) {
        print_error("%s\n", error.message);
    }
    assert_int_equal(status, FLC_OK);
    assert_int_equal(error.status, FLC_OK);
    assert_non_null(fit);
    return fit;
}

static inline double example_value(const flc_fit *fit, double ro)
{
    flc_curve_value value;
    assert_int_equal(flc_curve_at(flc_fit_curve(fit), ro, FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE, &value), FLC_OK);
    return value.st;
}

static inline flc_fit_point example_point_of(const flc_fit *fit, size_t index)
{
    flc_fit_point point;
    flc_fit_point_init(&point);
    assert_int_equal(flc_fit_point_at(fit, index, &point), FLC_OK);
    return point;
}

static inline flc_fit_summary example_summary(const flc_fit *fit)
{
    flc_fit_summary summary;
    flc_fit_summary_init(&summary);
    assert_int_equal(flc_fit_summarise(fit, &summary), FLC_OK);
    return summary;
}

#endif
