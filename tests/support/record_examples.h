/* SPDX-License-Identifier: Apache-2.0 */
/* Invented meters and liquids for the tests of records. No real meter has these figures. */
#ifndef FLC_RECORD_EXAMPLES_H
#define FLC_RECORD_EXAMPLES_H

#include "check.h"
#include "error.h"
#include "flowcomp/records.h"

#define EXAMPLE_NAME "invented example"

/* St on straight lines between knots, with figures that no short decimal holds. */
static inline flc_curve *example_curve(const flc_body_options *body, size_t knots)
{
    double ln_ro[64], st[64], coefficients[4 * 63] = {0};
    assert_true(knots >= 2 && knots <= 64);
    for (size_t i = 0; i < knots; i++) {
        ln_ro[i] = 7.0 + (double)i / 3.0;
        st[i] = 0.7 + 0.01 / (1.0 + (double)(i * i));
    }
    for (size_t i = 0; i + 1 < knots; i++) {
        coefficients[4 * i] = st[i];
        coefficients[4 * i + 1] = (st[i + 1] - st[i]) / (ln_ro[i + 1] - ln_ro[i]);
        coefficients[4 * i + 2] = -0.0;
    }
    flc_curve *curve = NULL;
    assert_int_equal(flc_curve_new(flc_curve_reference_for(FLC_CONVENTION_NORMALISED, FLC_BODY_AS_RUN, body), knots,
                                   ln_ro, st, coefficients, &curve, NULL),
                     FLC_OK);
    return curve;
}

static inline flc_body_options example_body(void)
{
    flc_body_options body;
    flc_body_options_init(&body);
    body.bore_m = 0.05 / 3.0;
    body.t0_degc = 20.0;
    body.area_blocked = 0.3;
    body.end = FLC_END_LAME_CLOSED;
    body.wall_m = 0.004;
    assert_int_equal(
        flc_metal_mean(16.6e-6, 0.0, 100.0, 193.0, 0.29, FLC_USER_GIVEN, EXAMPLE_NAME, &body.housing, NULL), FLC_OK);
    assert_int_equal(
        flc_metal_mean(9.9e-6, 0.0, 100.0, flc_nan(), flc_nan(), FLC_FROM_MEMORY, EXAMPLE_NAME, &body.rotor, NULL),
        FLC_OK);
    return body;
}

static inline flc_meter *example_meter_of(const flc_body_options *body, size_t knots)
{
    flc_meter_options options;
    flc_meter_options_init(&options);
    options.name = EXAMPLE_NAME;
    options.above = FLC_BEYOND_EXTEND_SLOPE;
    options.cutoff_hz = 0.1;
    flc_curve *curve = example_curve(body, knots);
    flc_meter *meter = NULL;
    flc_error error;
    if (flc_meter_new(&options, body, curve, &meter, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    flc_curve_free(curve);
    return meter;
}

static inline flc_meter *example_meter(void)
{
    const flc_body_options body = example_body();
    return example_meter_of(&body, 4);
}

static inline flc_liquid_options example_liquid_options(void)
{
    static const double t_degc[] = {20.0, 40.0, 100.0}, nu_mm2s[] = {11.0, 17.0 / 3.0, 1.8};
    flc_liquid_options options;
    flc_liquid_options_init(&options);
    options.name = EXAMPLE_NAME;
    options.volume = FLC_VOLUME_PETROLEUM_2004;
    options.product = flc_petroleum_product_of_group(FLC_PETROLEUM_REFINED);
    options.base = FLC_PETROLEUM_BASE_15C;
    options.viscosity = FLC_VISCOSITY_POINTS;
    options.points.count = 3;
    options.points.t_degc = t_degc;
    options.points.nu_mm2s = nu_mm2s;
    options.u_nu_relative = 0.01;
    options.nu_source = "invented, no laboratory";
    return options;
}

static inline flc_liquid *example_liquid_of(const flc_liquid_options *options)
{
    flc_liquid *liquid = NULL;
    flc_error error;
    if (flc_liquid_new(options, &liquid, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    return liquid;
}

static inline flc_liquid *example_liquid(void)
{
    const flc_liquid_options options = example_liquid_options();
    return example_liquid_of(&options);
}

static inline char *example_meter_text(void)
{
    flc_meter *meter = example_meter();
    char *text = NULL;
    assert_int_equal(flc_meter_to_json(meter, &text, NULL), FLC_OK);
    flc_meter_free(meter);
    return text;
}

static inline char *example_liquid_text(void)
{
    flc_liquid *liquid = example_liquid();
    char *text = NULL;
    assert_int_equal(flc_liquid_to_json(liquid, &text, NULL), FLC_OK);
    flc_liquid_free(liquid);
    return text;
}

#endif
