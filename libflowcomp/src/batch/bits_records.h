/* SPDX-License-Identifier: Apache-2.0 */
/* The whole records of the contract's set: an invented meter of 25 mm with invented liquids, in one plain configuration
 * and in every combination of product, base and source of viscosity; and readings good, odd and bad. No real meter and
 * no real liquid has these figures. bits_contract.h states what is in the set. */
#ifndef FLC_BITS_RECORDS_H
#define FLC_BITS_RECORDS_H

#include "bits_points.h"

#define FLC_BITS_CONFIGURATIONS 106 /* the plain one; 7 products x 3 bases x 5 sources */
#define FLC_BITS_PLAIN_RECORDS 4096
#define FLC_BITS_READING_FIELDS 17

static inline size_t flc_bits_records_of(size_t configuration)
{
    return configuration == 0 ? FLC_BITS_PLAIN_RECORDS : FLC_BITS_RECORDS;
}

/* ---- the invented meter ---- */

static inline flc_status flc_bits_metal(double alpha_per_k, flc_metal *metal)
{
    return flc_metal_mean(alpha_per_k, -50.0, 150.0, 193.0, 0.29, FLC_USER_GIVEN, "invented", metal, NULL);
}

/* Each cubic goes through its two knots with the slopes given at both. */
static inline flc_status flc_bits_curve(const flc_body_options *body, flc_curve **curve)
{
    static const double ln_ro[5] = {8.0, 9.0, 10.5, 12.0, 13.5};
    static const double st[5] = {3.125, 3.375, 3.421875, 3.40625, 3.4};
    double c[16];
    static const double slope[5] = {0.375, 0.125, -0.0078125, -0.00390625, 0.001};
    for (size_t i = 0; i < 4; i++) {
        const double h = ln_ro[i + 1] - ln_ro[i];
        const double rise = (st[i + 1] - st[i]) / h;
        c[4 * i] = st[i];
        c[4 * i + 1] = slope[i];
        c[4 * i + 2] = (3.0 * rise - 2.0 * slope[i] - slope[i + 1]) / h;
        c[4 * i + 3] = (slope[i] + slope[i + 1] - 2.0 * rise) / (h * h);
    }
    return flc_curve_new(flc_curve_reference_for(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, body), 5, ln_ro, st, c, curve,
                         NULL);
}

static inline flc_status flc_bits_body(size_t configuration, flc_body_options *body)
{
    flc_body_options_init(body);
    body->bore_m = 0.0254;
    body->t0_degc = 20.0;
    body->p0_kpag = 100.0;
    body->area_blocked = 0.22;
    body->end = FLC_END_LAME_CLOSED;
    body->wall_m = 0.005;
    flc_status status = flc_bits_metal(15.9e-6, &body->housing);
    if (status == FLC_OK) {
        status = flc_bits_metal(10.4e-6, &body->rotor);
    }
    if (status == FLC_OK && configuration % 5 == 1) {
        status = flc_metal_nist("304", &body->rotor, NULL);
    } else if (configuration % 5 == 2) {
        body->end = FLC_END_NONE;
        body->area_blocked = 0.0;
    }
    return status;
}

static inline flc_status flc_bits_meter(size_t configuration, flc_meter **meter)
{
    flc_meter_options options;
    flc_body_options body;
    flc_curve *curve = NULL;
    flc_meter_options_init(&options);
    options.name = "invented 25 mm";
    if (configuration > 0) {
        options.below = (flc_curve_beyond)(configuration % 3);
        options.above = (flc_curve_beyond)(configuration / 3 % 3);
        options.cutoff_hz = configuration % 4 == 0 ? 0.0 : 0.5;
    }
    flc_status status = flc_bits_body(configuration, &body);
    if (status == FLC_OK) {
        status = flc_bits_curve(&body, &curve);
    }
    if (status == FLC_OK) {
        status = flc_meter_new(&options, &body, curve, meter, NULL);
    }
    flc_curve_free(curve);
    return status;
}

/* ---- the invented liquids ---- */

static inline flc_petroleum_product flc_bits_product(size_t which)
{
    static const flc_petroleum_group groups[] = {FLC_PETROLEUM_CRUDE, FLC_PETROLEUM_REFINED,    FLC_PETROLEUM_FUEL_OIL,
                                                 FLC_PETROLEUM_JET,   FLC_PETROLEUM_TRANSITION, FLC_PETROLEUM_LUBE};
    return which < 6 ? flc_petroleum_product_of_group(groups[which]) : flc_petroleum_product_of_alpha60(4.5e-4);
}

static inline flc_status flc_bits_liquid(size_t configuration, flc_liquid **liquid)
{
    static const double t_degc[] = {-20.0, 20.0, 60.0, 100.0};
    static const double thin_mm2s[] = {6.1, 2.2, 1.15, 0.71};
    static const double thick_mm2s[] = {160.0, 22.0, 6.4, 2.9};
    const size_t kind = configuration == 0 ? 0 : configuration - 1;
    const size_t product = kind % 7, source = kind / 21;
    flc_liquid_options options;
    flc_liquid_options_init(&options);
    options.name = "invented liquid";
    options.nu_source = "invented, no laboratory";
    options.viscosity = (flc_viscosity_source)source;
    options.volume = source != FLC_VISCOSITY_BETWEEN && kind % 11 == 10 ? FLC_VOLUME_NONE : FLC_VOLUME_PETROLEUM_2004;
    options.product = flc_bits_product(product);
    options.base = (flc_petroleum_base)(configuration == 0 ? FLC_PETROLEUM_BASE_60F : kind / 7 % 3);
    options.negative_pressure = (flc_negative_pressure)(kind % 2);
    options.beyond = (flc_viscosity_beyond)(kind / 2 % 2);
    options.form = source == FLC_VISCOSITY_BETWEEN || product % 3 != 2 ? FLC_D341_BODY : FLC_D341_FULL;
    options.points = (flc_viscosity_points){4, t_degc, thin_mm2s, 790.0};
    options.second = (flc_viscosity_points){4, t_degc, thick_mm2s, 870.0};
    options.slope_b = 3.9;
    options.u_nu_relative = 0.02;
    if (source == FLC_VISCOSITY_ONE_POINT || (source == FLC_VISCOSITY_TYPICAL && kind % 2)) {
        options.points = (flc_viscosity_points){1, &t_degc[1], &thin_mm2s[1], 790.0};
    } else if (source == FLC_VISCOSITY_POINTS && product % 3 == 1) {
        options.points = (flc_viscosity_points){2, t_degc, thick_mm2s, 790.0};
        options.form = FLC_D341_SIMPLE;
    }
    return flc_liquid_new(&options, liquid, NULL);
}

/* ---- readings; r[] in the order of flc_readings ---- */

enum {
    FLC_BITS_PULSES,
    FLC_BITS_DURATION,
    FLC_BITS_FLOWING,
    FLC_BITS_F_FLOWING,
    FLC_BITS_F,
    FLC_BITS_T,
    FLC_BITS_P,
    FLC_BITS_NU,
    FLC_BITS_RHO_BASE,
    FLC_BITS_RHO_OBSERVED,
    FLC_BITS_T_OBSERVED,
    FLC_BITS_P_OBSERVED,
    FLC_BITS_DENSITOMETER,
    FLC_BITS_F_BEFORE,
    FLC_BITS_F_AFTER,
    FLC_BITS_F_HIGHEST,
    FLC_BITS_PE /* given in no record: it belongs to one liquid only, whose records go one by one */
};

static inline void flc_bits_draw_flow(uint64_t *state, double *r)
{
    const size_t kind = flc_bits_draw_below(state, 16);
    const double f = flc_bits_draw_between(state, 0.0, 1.0);
    const double other = flc_bits_draw_between(state, -1.0, 70.0);
    r[FLC_BITS_DURATION] = flc_bits_draw_below(state, 20) == 0 ? other : 60.0;
    r[FLC_BITS_PULSES] = (double)(int64_t)(24000.0 * f * f);
    if (kind == 0) {
        r[FLC_BITS_PULSES] = other < 0.0 ? -0.0 : flc_trunc(other);
    } else if (kind == 1) {
        r[FLC_BITS_PULSES] = -r[FLC_BITS_PULSES];
    } else if (kind == 2) {
        r[FLC_BITS_PULSES] = 1e4 * f; /* no whole number */
    } else if (kind == 3) {
        r[FLC_BITS_FLOWING] = other;
    } else if (kind == 4) {
        r[FLC_BITS_F_FLOWING] = 10.0 * other;
    } else if (kind >= 5 && kind < 8) {
        r[FLC_BITS_PULSES] = r[FLC_BITS_DURATION] = flc_nan();
        r[FLC_BITS_F] = 400.0 * f;
    }
    if (kind >= 12) {
        r[FLC_BITS_F_BEFORE] = kind == 12 ? 0.0 : 12.0 * other;
        r[FLC_BITS_F_AFTER] = 900.0 * f;
        r[FLC_BITS_F_HIGHEST] = kind == 15 ? 900.0 * f : flc_nan();
    }
}

static inline void flc_bits_draw_density(uint64_t *state, double *r)
{
    if (flc_bits_draw_below(state, 3) != 0) {
        r[FLC_BITS_RHO_BASE] = flc_bits_draw_between(state, 780.0, 880.0);
        return;
    }
    r[FLC_BITS_RHO_OBSERVED] = flc_bits_draw_between(state, 780.0, 880.0);
    r[FLC_BITS_T_OBSERVED] = flc_bits_draw_between(state, -20.0, 100.0);
    r[FLC_BITS_P_OBSERVED] = flc_bits_draw_between(state, -5.0, 2000.0);
    r[FLC_BITS_DENSITOMETER] = flc_bits_draw_between(state, 0.99, 1.01);
}

static inline void flc_bits_draw_plain(uint64_t *state, double *r)
{
    r[FLC_BITS_F] = flc_bits_draw_between(state, 20.0, 400.0);
    r[FLC_BITS_T] = flc_bits_draw_between(state, -20.0, 100.0);
    r[FLC_BITS_P] = flc_bits_draw_between(state, 0.0, 8000.0);
    r[FLC_BITS_RHO_BASE] = flc_bits_draw_between(state, 700.0, 1000.0);
    r[FLC_BITS_NU] = flc_bits_draw_between(state, 0.5, 20.0);
}

/* In one configuration of three the columns of the usual case only. */
static inline int flc_bits_has_column(size_t configuration, size_t field)
{
    const int usual = field == FLC_BITS_PULSES || field == FLC_BITS_DURATION || field == FLC_BITS_T ||
                      field == FLC_BITS_P || field == FLC_BITS_NU || field == FLC_BITS_RHO_BASE;
    return field != FLC_BITS_PE && (configuration % 3 != 1 || usual);
}

/** One reading; one field in 320 is any 64 bits. */
static inline void flc_bits_draw_reading(size_t configuration, uint64_t *state, double *r)
{
    for (size_t field = 0; field < FLC_BITS_READING_FIELDS; field++) {
        r[field] = field == FLC_BITS_DENSITOMETER ? 1.0 : flc_nan();
    }
    if (configuration == 0) {
        flc_bits_draw_plain(state, r);
        return;
    }
    flc_bits_draw_flow(state, r);
    r[FLC_BITS_T] = flc_bits_draw_between(state, -25.0, 105.0);
    r[FLC_BITS_P] = flc_bits_draw_between(state, -20.0, 2000.0);
    flc_bits_draw_density(state, r);
    const int is_measured = (configuration - 1) / 21 == FLC_VISCOSITY_MEASURED;
    const double nu = flc_bits_draw_between(state, 0.3, 30.0);
    if (is_measured != (flc_bits_draw_below(state, 40) == 0)) {
        r[FLC_BITS_NU] = nu;
    }
    const uint64_t any = flc_bits_draw(state);
    if (flc_bits_draw_below(state, 20) == 0) {
        r[flc_bits_draw_below(state, FLC_BITS_PE)] = flc_from_bits(any);
    }
    for (size_t field = 0; field < FLC_BITS_READING_FIELDS; field++) {
        if (!flc_bits_has_column(configuration, field)) {
            r[field] = field == FLC_BITS_DENSITOMETER ? 1.0 : flc_nan();
        }
    }
}

#endif
