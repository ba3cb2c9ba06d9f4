/* SPDX-License-Identifier: Apache-2.0 */
/* An invented meter with invented liquids and readings, for the tests of meter, totals, explain and batch. No real
 * meter and no real liquid has these figures; their size is that of a 25 mm meter in light fuel. */
#ifndef FLC_EXAMPLE_METER_H
#define FLC_EXAMPLE_METER_H

#include "check.h"
#include "draws.h"
#include "error.h"
#include "flowcomp/meter.h"
#include <math.h>

#define INVENTED "invented, no real meter"

/* A NaN as processors make it: sign set, and it must not pass through. */
#define NAN_OF_ANOTHER_KIND (-(double)NAN)

/* ---- the curve: five knots, cubics with the slopes given, a hump at the low end ---- */

#define INVENTED_KNOTS 5

static const double invented_ln_ro[INVENTED_KNOTS] = {8.0, 9.25, 10.5, 11.75, 13.5};
static const double invented_st[INVENTED_KNOTS] = {3.10, 3.37, 3.42, 3.405, 3.40};
static const double invented_slope[INVENTED_KNOTS] = {0.36, 0.11, -0.005, -0.006, 0.001};

/** Cubic of each segment through its two knots with the slopes at both. */
static inline void invented_coefficients(double c[4 * (INVENTED_KNOTS - 1)])
{
    for (size_t i = 0; i + 1 < INVENTED_KNOTS; i++, c += 4) {
        const double h = invented_ln_ro[i + 1] - invented_ln_ro[i];
        const double rise = (invented_st[i + 1] - invented_st[i]) / h;
        c[0] = invented_st[i];
        c[1] = invented_slope[i];
        c[2] = (3.0 * rise - 2.0 * invented_slope[i] - invented_slope[i + 1]) / h;
        c[3] = (invented_slope[i] + invented_slope[i + 1] - 2.0 * rise) / (h * h);
    }
}

#define INVENTED_D0_M 0.0254
#define INVENTED_T0_DEGC 20.0
#define INVENTED_P0_KPAG 100.0

/* Reference of the invented body, with any convention and treatment. */
static inline flc_curve_reference invented_reference(flc_curve_convention convention, flc_body_treatment treatment)
{
    const flc_curve_reference reference = {convention, treatment, INVENTED_D0_M, INVENTED_T0_DEGC, INVENTED_P0_KPAG};
    return reference;
}

static inline flc_curve *invented_curve_on(flc_curve_reference reference)
{
    double c[4 * (INVENTED_KNOTS - 1)];
    invented_coefficients(c);
    flc_curve *curve = NULL;
    assert_int_equal(flc_curve_new(reference, INVENTED_KNOTS, invented_ln_ro, invented_st, c, &curve, NULL), FLC_OK);
    return curve;
}

static inline flc_curve *invented_curve(void)
{
    return invented_curve_on(invented_reference(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN));
}

/* ---- body and meter ---- */

static inline flc_metal invented_metal(double alpha_per_k)
{
    flc_metal metal;
    assert_int_equal(flc_metal_mean(alpha_per_k, -50.0, 150.0, 193.0, 0.29, FLC_USER_GIVEN, INVENTED, &metal, NULL),
                     FLC_OK);
    return metal;
}

static inline flc_body_options invented_body(void)
{
    flc_body_options body;
    flc_body_options_init(&body);
    body.bore_m = INVENTED_D0_M;
    body.t0_degc = INVENTED_T0_DEGC;
    body.p0_kpag = INVENTED_P0_KPAG;
    body.housing = invented_metal(15.9e-6);
    body.rotor = invented_metal(10.4e-6);
    body.area_blocked = 0.22;
    body.end = FLC_END_LAME_CLOSED;
    body.wall_m = 0.005;
    return body;
}

static inline flc_meter_options invented_options(void)
{
    flc_meter_options options;
    flc_meter_options_init(&options);
    options.name = "invented 25 mm";
    options.cutoff_hz = 0.5;
    return options;
}

static inline flc_meter *invented_meter_of(const flc_meter_options *options, const flc_body_options *body)
{
    flc_curve *curve = invented_curve_on(flc_curve_reference_for(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, body));
    flc_meter *meter = NULL;
    flc_error error;
    if (flc_meter_new(options, body, curve, &meter, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    flc_curve_free(curve);
    return meter;
}

static inline flc_meter *invented_meter(flc_curve_beyond below, flc_curve_beyond above)
{
    flc_meter_options options = invented_options();
    const flc_body_options body = invented_body();
    options.below = below;
    options.above = above;
    return invented_meter_of(&options, &body);
}

/* ---- liquids ---- */

static const double invented_t_degc[] = {-20.0, 20.0, 60.0, 100.0};
static const double invented_nu_mm2s[] = {6.1, 2.2, 1.15, 0.71};
static const double invented_thick_mm2s[] = {160.0, 22.0, 6.4, 2.9};

/** A liquid with this source of viscosity, base 15 degC, group refined (volume none: no base). */
static inline flc_liquid_options invented_liquid_options(flc_volume_method volume, flc_viscosity_source viscosity)
{
    flc_liquid_options options;
    flc_liquid_options_init(&options);
    options.name = "invented light fuel";
    options.volume = volume;
    options.product = flc_petroleum_product_of_group(FLC_PETROLEUM_REFINED);
    options.base = FLC_PETROLEUM_BASE_15C;
    options.viscosity = viscosity;
    options.points = (flc_viscosity_points){4, invented_t_degc, invented_nu_mm2s, 790.0};
    options.second = (flc_viscosity_points){4, invented_t_degc, invented_thick_mm2s, 870.0};
    options.slope_b = 3.9;
    options.u_nu_relative = 0.02;
    options.nu_source = "invented, no laboratory";
    if (viscosity == FLC_VISCOSITY_ONE_POINT) {
        options.points.count = 1;
        options.points.t_degc = &invented_t_degc[1];
        options.points.nu_mm2s = &invented_nu_mm2s[1];
    }
    return options;
}

static inline flc_liquid *invented_liquid_of(const flc_liquid_options *options)
{
    flc_liquid *liquid = NULL;
    flc_error error;
    if (flc_liquid_new(options, &liquid, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    return liquid;
}

static inline flc_liquid *invented_liquid(flc_volume_method volume, flc_viscosity_source viscosity)
{
    const flc_liquid_options options = invented_liquid_options(volume, viscosity);
    return invented_liquid_of(&options);
}

/* ---- readings ---- */

/** An hour at about 264 Hz, 31.5 degC, 420 kPa, 812.5 kg/m3. */
static inline flc_reading invented_reading(void)
{
    flc_reading reading;
    flc_reading_init(&reading);
    reading.pulses = 951019.0;
    reading.duration_s = 3600.0;
    reading.t_degc = 31.5;
    reading.p_kpag = 420.0;
    reading.density.rho_base_kgm3 = 812.5;
    return reading;
}

static inline void invented_flow(uint64_t *seed, flc_reading *reading)
{
    static const double bad[] = {NAN_OF_ANOTHER_KIND, 0.5, 1e300, -1e17, 9007199254740993.0, -0.0, 0.0};
    const uint64_t kind = flc_draw_below(seed, 16);
    const double f = flc_draw_between(seed, 0.0, 1.0);
    reading->duration_s = flc_draw_below(seed, 20) == 0 ? flc_draw_between(seed, -1.0, 1.0) : 60.0;
    reading->pulses = (double)(int64_t)(20000.0 * f * f);
    if (kind == 0) {
        reading->pulses = bad[flc_draw_below(seed, sizeof bad / sizeof bad[0])];
    } else if (kind == 1) {
        reading->pulses = -reading->pulses;
    } else if (kind == 2) {
        reading->pulses = (double)flc_draw_below(seed, 40); /* under the cut-off, or below the curve */
    } else if (kind == 3) {
        reading->pulses = 5e7 * f; /* no whole number, and above the curve */
    } else if (kind == 4) {
        reading->flowing_s = flc_draw_between(seed, -1.0, 70.0);
    } else if (kind == 5) {
        reading->f_flowing_hz = flc_draw_between(seed, 0.0, 700.0);
    } else if (kind == 6) {
        reading->pulses = NAN_OF_ANOTHER_KIND;
        reading->f_hz = 400.0 * f;
    } else if (kind == 7) {
        reading->f_hz = f; /* beside pulses: refused */
    }
    if (flc_draw_below(seed, 4) == 0) {
        reading->f_before_hz = flc_draw_below(seed, 2) == 0 ? 0.0 : flc_draw_between(seed, -20.0, 400.0);
        reading->f_after_hz = flc_draw_between(seed, 0.0, 900.0);
    }
}

/** A record of any kind: good, odd, or to be refused for any of many reasons. For a liquid that measures its viscosity
 * or not. */
static inline flc_reading invented_draw(uint64_t *seed, int is_measured)
{
    flc_reading reading;
    flc_reading_init(&reading);
    invented_flow(seed, &reading);
    reading.t_degc = flc_draw_between(seed, -25.0, 105.0);
    reading.p_kpag = flc_draw_between(seed, -20.0, 2000.0);
    if (flc_draw_below(seed, 3) == 0) {
        reading.density.rho_observed_kgm3 = flc_draw_between(seed, 780.0, 880.0);
        reading.density.t_observed_degc = flc_draw_between(seed, -20.0, 100.0);
        reading.density.p_observed_kpag = flc_draw_between(seed, -5.0, 2000.0);
        reading.density.densitometer_factor = flc_draw_between(seed, 0.99, 1.01);
    } else {
        reading.density.rho_base_kgm3 = flc_draw_between(seed, 780.0, 880.0);
    }
    if (is_measured != (flc_draw_below(seed, 40) == 0)) {
        reading.nu_mm2s = flc_draw_between(seed, 0.3, 30.0);
    }
    if (flc_draw_below(seed, 20) == 0) { /* anything, anywhere */
        double *const any[] = {&reading.t_degc,    &reading.p_kpag,     &reading.density.rho_base_kgm3,
                               &reading.nu_mm2s,   &reading.duration_s, &reading.density.rho_observed_kgm3,
                               &reading.f_hz,      &reading.flowing_s,  &reading.density.t_observed_degc,
                               &reading.f_after_hz};
        *any[flc_draw_below(seed, sizeof any / sizeof any[0])] = flc_draw_any(seed);
    }
    return reading;
}

/** Every field of two results, bit for bit. */
static inline void check_same_result(const flc_result *actual, const flc_result *expected)
{
    assert_int_equal(actual->status, expected->status);
    assert_int_equal(actual->flags, expected->flags);
#define SAME_FIELD(name, unit, meaning) flc_check_same_bits(actual->name, expected->name);
    FLC_RESULT_LIST(SAME_FIELD)
#undef SAME_FIELD
}

/** The same as a question, for threads (the struct has padding, so its bytes as a whole are no answer). */
static inline int is_same_result(const flc_result *a, const flc_result *b)
{
    int same = a->status == b->status && a->flags == b->flags;
#define SAME_BITS(name, unit, meaning) same = same && flc_check_bits(a->name) == flc_check_bits(b->name);
    FLC_RESULT_LIST(SAME_BITS)
#undef SAME_BITS
    return same;
}

static inline flc_result evaluated(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading)
{
    flc_result result;
    flc_result_init(&result);
    const flc_status status = flc_meter_evaluate(meter, liquid, reading, &result, NULL);
    assert_int_equal(status, result.status);
    return result;
}

#endif
