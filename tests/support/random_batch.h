/* SPDX-License-Identifier: Apache-2.0 */
/* Batches of seeded records of every kind for an invented meter, in many configurations: sources of viscosity, forms,
 * bases, products, policies, laws of expansion; with what one call per record gives for each. No real meter or liquid.
 */
#ifndef FLC_RANDOM_BATCH_H
#define FLC_RANDOM_BATCH_H

#include "draws.h"
#include "example_meter.h"
#include "flowcomp/batch.h"
#include <stdio.h>
#include <stdlib.h>

#define RANDOM_CONFIGURATIONS 105 /* 7 products x 3 bases x 5 sources */
#define READING_FIELDS 16
#define RESULT_COUNT(name, unit, meaning) +1
#define RESULT_FIELDS (0 FLC_RESULT_LIST(RESULT_COUNT))

typedef struct batch_columns {
    flc_results results;
    uint8_t *status;
    uint32_t *flags;
    double *column[RESULT_FIELDS];
    double *memory;
} batch_columns;

typedef struct random_batch {
    char name[96];
    size_t n;
    flc_meter *meter;
    flc_liquid *liquid;
    double *columns; /* READING_FIELDS columns of n */
    flc_readings readings;
    flc_result *expected;
    size_t refused;
    flc_totals totals;
    flc_status totals_status;
} random_batch;

static inline batch_columns *batch_columns_new(size_t n)
{
    batch_columns *c = malloc(sizeof *c);
    c->memory = malloc(n * RESULT_FIELDS * sizeof *c->memory);
    c->status = malloc(n);
    c->flags = malloc(n * sizeof *c->flags);
    flc_results_init(&c->results);
    c->results.status = c->status;
    c->results.flags = c->flags;
    for (size_t f = 0; f < RESULT_FIELDS; f++) {
        c->column[f] = c->memory + f * n;
        (&c->results.f_hz)[f] = c->column[f];
    }
    return c;
}

static inline void batch_columns_free(batch_columns *c)
{
    free(c->memory);
    free(c->status);
    free(c->flags);
    free(c);
}

static inline flc_results results_from(const flc_results *all, size_t from)
{
    flc_results results = *all;
    results.status += from;
    results.flags += from;
    for (size_t f = 0; f < RESULT_FIELDS; f++) {
        (&results.f_hz)[f] += from;
    }
    return results;
}

static inline flc_readings readings_from(const flc_readings *all, size_t from, flc_instruction_set set)
{
    flc_readings readings = *all;
    readings.instruction_set = set;
    for (size_t f = 0; f < READING_FIELDS; f++) {
        flc_column *column = &readings.pulses + f;
        if (column->start != NULL) {
            column->start += (ptrdiff_t)from * column->stride;
        }
    }
    return readings;
}

/* ---- configurations ---- */

static const double random_alphas[] = {4.5e-4};

static inline flc_meter *random_meter(size_t configuration)
{
    flc_body_options body = invented_body();
    flc_meter_options options = invented_options();
    options.below = (flc_curve_beyond)(configuration % 3);
    options.above = (flc_curve_beyond)((configuration / 3) % 3);
    options.cutoff_hz = configuration % 4 == 0 ? 0.0 : 0.5;
    if (configuration % 5 == 1) {
        flc_metal cold;
        assert_int_equal(flc_metal_nist("304", &cold, NULL), FLC_OK);
        body.rotor = cold;
    }
    if (configuration % 5 == 2) {
        body.end = FLC_END_NONE;
        body.area_blocked = 0.0;
    }
    if (configuration % 5 == 3) {
        body.housing.t_high_degc = 60.0;
    }
    body.beyond = (flc_body_beyond)(configuration % 2);
    return invented_meter_of(&options, &body);
}

static inline flc_liquid *random_liquid(size_t configuration)
{
    static const flc_petroleum_group groups[] = {FLC_PETROLEUM_CRUDE, FLC_PETROLEUM_REFINED,    FLC_PETROLEUM_FUEL_OIL,
                                                 FLC_PETROLEUM_JET,   FLC_PETROLEUM_TRANSITION, FLC_PETROLEUM_LUBE};
    const size_t product = configuration % 7, base = (configuration / 7) % 3, source = configuration / 21;
    const int has_volume = source == FLC_VISCOSITY_BETWEEN || configuration % 11 != 10;
    flc_liquid_options options =
        invented_liquid_options(has_volume ? FLC_VOLUME_PETROLEUM_2004 : FLC_VOLUME_NONE, (flc_viscosity_source)source);
    options.product = product < 6 ? flc_petroleum_product_of_group(groups[product])
                                  : flc_petroleum_product_of_alpha60(random_alphas[0]);
    options.base = (flc_petroleum_base)base;
    options.negative_pressure = (flc_negative_pressure)(configuration % 2);
    options.beyond = (flc_viscosity_beyond)((configuration / 2) % 2);
    options.form = source == FLC_VISCOSITY_BETWEEN || product % 3 != 2 ? FLC_D341_BODY : FLC_D341_FULL;
    if (source == FLC_VISCOSITY_TYPICAL && configuration % 2) {
        options.points.count = 1;
    }
    if (source == FLC_VISCOSITY_POINTS && product % 3 == 1) {
        options.points.count = 2;
        options.form = FLC_D341_SIMPLE;
        options.points.nu_mm2s = invented_thick_mm2s;
    }
    return invented_liquid_of(&options);
}

/* ---- a batch ---- */

static inline void random_columns(random_batch *batch, size_t configuration, uint64_t seed)
{
    flc_column *column = &batch->readings.pulses;
    const int is_measured = configuration / 21 == FLC_VISCOSITY_MEASURED;
    for (size_t i = 0; i < batch->n; i++) {
        flc_reading r = invented_draw(&seed, is_measured);
        r.f_highest_hz = flc_draw_below(&seed, 8) == 0 ? flc_draw_between(&seed, -5.0, 900.0) : r.f_highest_hz;
        const double fields[READING_FIELDS] = {r.pulses,
                                               r.duration_s,
                                               r.flowing_s,
                                               r.f_flowing_hz,
                                               r.f_hz,
                                               r.t_degc,
                                               r.p_kpag,
                                               r.nu_mm2s,
                                               r.density.rho_base_kgm3,
                                               r.density.rho_observed_kgm3,
                                               r.density.t_observed_degc,
                                               r.density.p_observed_kpag,
                                               r.density.densitometer_factor,
                                               r.f_before_hz,
                                               r.f_after_hz,
                                               r.f_highest_hz};
        for (size_t f = 0; f < READING_FIELDS; f++) {
            batch->columns[f * batch->n + i] = fields[f];
        }
    }
    for (size_t f = 0; f < READING_FIELDS; f++) {
        column[f] = (flc_column){batch->columns + f * batch->n, 1};
    }
    if (configuration % 3 == 1) { /* the columns of the usual case only */
        batch->readings.flowing_s.start = batch->readings.f_flowing_hz.start = batch->readings.f_hz.start = NULL;
        batch->readings.f_before_hz.start = batch->readings.f_after_hz.start = NULL;
        batch->readings.f_highest_hz.start = NULL;
        batch->readings.rho_observed_kgm3.start = NULL;
    }
    if (configuration % 6 == 4) { /* one density for all */
        batch->readings.rho_base_kgm3 = (flc_column){batch->columns + 8 * batch->n, 0};
        batch->columns[8 * batch->n] = 812.5;
    }
}

static inline void random_reading(const random_batch *batch, size_t i, flc_reading *reading)
{
    flc_reading_init(reading);
    double *const into[READING_FIELDS] = {&reading->pulses,
                                          &reading->duration_s,
                                          &reading->flowing_s,
                                          &reading->f_flowing_hz,
                                          &reading->f_hz,
                                          &reading->t_degc,
                                          &reading->p_kpag,
                                          &reading->nu_mm2s,
                                          &reading->density.rho_base_kgm3,
                                          &reading->density.rho_observed_kgm3,
                                          &reading->density.t_observed_degc,
                                          &reading->density.p_observed_kpag,
                                          &reading->density.densitometer_factor,
                                          &reading->f_before_hz,
                                          &reading->f_after_hz,
                                          &reading->f_highest_hz};
    for (size_t f = 0; f < READING_FIELDS; f++) {
        const flc_column *column = &batch->readings.pulses + f;
        if (column->start != NULL) {
            *into[f] = column->start[(ptrdiff_t)i * column->stride];
        }
    }
}

static inline random_batch *random_batch_new(size_t configuration, size_t n, uint64_t seed)
{
    random_batch *batch = malloc(sizeof *batch);
    snprintf(batch->name, sizeof batch->name, "%zu (seed %llu)", configuration, (unsigned long long)seed);
    batch->n = n;
    batch->meter = random_meter(configuration);
    batch->liquid = random_liquid(configuration);
    batch->columns = malloc(READING_FIELDS * n * sizeof *batch->columns);
    batch->expected = malloc(n * sizeof *batch->expected);
    flc_readings_init(&batch->readings);
    random_columns(batch, configuration, seed);
    batch->refused = 0;
    batch->totals_status = FLC_OK;
    assert_int_equal(flc_totals_start(&batch->totals, 1e-9), FLC_OK);
    for (size_t i = 0; i < n; i++) {
        flc_reading reading;
        random_reading(batch, i, &reading);
        flc_result_init(&batch->expected[i]);
        batch->refused +=
            flc_meter_evaluate(batch->meter, batch->liquid, &reading, &batch->expected[i], NULL) != FLC_OK;
        if (batch->totals_status == FLC_OK) {
            batch->totals_status = flc_totals_add(&batch->totals, reading.pulses, &batch->expected[i]);
        }
    }
    return batch;
}

static inline void random_batch_free(random_batch *batch)
{
    flc_meter_free(batch->meter);
    flc_liquid_free(batch->liquid);
    free(batch->columns);
    free(batch->expected);
    free(batch);
}

typedef struct moved_readings {
    flc_readings readings;
    double *memory;
} moved_readings;

/* The same records at another place: offset doubles further, and stride doubles from one to the next. */
static inline moved_readings readings_moved(const random_batch *batch, size_t offset, ptrdiff_t stride)
{
    const size_t step = (size_t)(stride < 0 ? -stride : stride), room = batch->n * step + 16;
    moved_readings moved = {batch->readings, aligned_alloc(64, ((READING_FIELDS * room * 8 + 63) / 64) * 64)};
    for (size_t f = 0; f < READING_FIELDS; f++) {
        flc_column *column = &moved.readings.pulses + f;
        if (column->start == NULL || column->stride == 0) {
            continue;
        }
        double *to = moved.memory + f * room + offset;
        to += stride < 0 ? (ptrdiff_t)((batch->n - 1) * step) : 0;
        for (size_t i = 0; i < batch->n; i++) {
            to[(ptrdiff_t)i * stride] = column->start[i];
        }
        *column = (flc_column){to, stride};
    }
    return moved;
}

#endif
