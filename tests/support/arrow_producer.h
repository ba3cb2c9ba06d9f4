/* SPDX-License-Identifier: Apache-2.0 */
/* A producer of Arrow arrays, as another program would be: readings of the invented meter as columns, and a count of
 * what was released; and looking at the results, whose expected numbers are those of flc_meter_evaluate. */
#ifndef FLC_ARROW_PRODUCER_H
#define FLC_ARROW_PRODUCER_H

#include "example_meter.h"
#include "failing_allocator.h"
#include "flowcomp/arrow.h"
#include <stdlib.h>

#define RECORDS 3000 /* some pieces, and a part of one */
#define COLUMNS 16 /* all but the last, pe_kpa: with it records go one by one */
#define RESULT_COLUMNS 22

static flc_meter *meter;
static flc_liquid *liquid;
static flc_reading *readings;
static flc_result *expected;

static inline int make_records(void **state)
{
    (void)state;
    meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_HOLD_END);
    liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_BETWEEN);
    readings = calloc(RECORDS, sizeof *readings);
    expected = calloc(RECORDS, sizeof *expected);
    assert_non_null(readings);
    assert_non_null(expected);
    uint64_t seed = 2104;
    for (size_t i = 0; i < RECORDS; i++) {
        readings[i] = invented_draw(&seed, 0);
        expected[i] = evaluated(meter, liquid, &readings[i]);
    }
    return 0;
}

static inline int drop_records(void **state)
{
    (void)state;
    flc_meter_free(meter);
    flc_liquid_free(liquid);
    free(readings);
    free(expected);
    return 0;
}

/* ---- a producer: columns of readings as another program would give them ---- */

typedef struct producer {
    struct ArrowSchema schema, types[COLUMNS], *type_places[COLUMNS];
    struct ArrowArray array, children[COLUMNS], *places[COLUMNS];
    const void *buffers[COLUMNS][2], *whole[1];
    unsigned char *memory[COLUMNS];
    uint8_t *validity[COLUMNS + 1];
    int released; /* how often anything of it was */
} producer;

static inline void release_schema(struct ArrowSchema *schema)
{
    ++*(int *)schema->private_data;
    schema->release = NULL;
}

static inline void release_array(struct ArrowArray *array)
{
    ++*(int *)array->private_data;
    array->release = NULL;
}

static const struct {
    const char *name;
    size_t offset;
} fields[] = {
#define FIELD(name, place) {#name, offsetof(flc_reading, place)},
    FLC_READING_LIST(FIELD)
#undef FIELD
};

/* All columns of n records from one on; each child starts skip elements before them, at an address shifted by so many
 * bytes. */
static inline void produce(producer *p, size_t from, size_t n, size_t skip, size_t shift)
{
    memset(p, 0, sizeof *p);
    p->schema = (struct ArrowSchema){.format = "+s",
                                     .name = "",
                                     .n_children = COLUMNS,
                                     .children = p->type_places,
                                     .release = release_schema,
                                     .private_data = &p->released};
    p->array = (struct ArrowArray){.length = (int64_t)n,
                                   .n_buffers = 1,
                                   .n_children = COLUMNS,
                                   .buffers = p->whole,
                                   .children = p->places,
                                   .release = release_array,
                                   .private_data = &p->released};
    for (size_t j = 0; j < COLUMNS; j++) {
        p->memory[j] = malloc((n + skip) * sizeof(double) + shift + 1);
        assert_non_null(p->memory[j]);
        memset(p->memory[j], 0x55, (n + skip) * sizeof(double) + shift);
        for (size_t i = 0; i < n; i++) {
            memcpy(p->memory[j] + shift + (skip + i) * sizeof(double), (char *)&readings[from + i] + fields[j].offset,
                   sizeof(double));
        }
        p->buffers[j][1] = p->memory[j] + shift;
        p->types[j] = (struct ArrowSchema){.format = "g",
                                           .name = fields[j].name,
                                           .flags = ARROW_FLAG_NULLABLE,
                                           .release = release_schema,
                                           .private_data = &p->released};
        p->children[j] = (struct ArrowArray){.length = (int64_t)n,
                                             .offset = (int64_t)skip,
                                             .n_buffers = 2,
                                             .buffers = p->buffers[j],
                                             .release = release_array,
                                             .private_data = &p->released};
        p->type_places[j] = &p->types[j];
        p->places[j] = &p->children[j];
    }
}

/* A bitmap for a child (or the struct at place COLUMNS), every bit set that stands for one of bits elements. */
static inline uint8_t *add_validity(producer *p, size_t place, size_t bits)
{
    p->validity[place] = malloc(bits / 8 + 1);
    assert_non_null(p->validity[place]);
    memset(p->validity[place], 0, bits / 8 + 1);
    for (size_t i = 0; i < bits; i++) {
        p->validity[place][i / 8] = (uint8_t)(p->validity[place][i / 8] | 1 << i % 8);
    }
    if (place < COLUMNS) {
        p->buffers[place][0] = p->validity[place];
        p->children[place].null_count = -1;
    } else {
        p->whole[0] = p->validity[place];
        p->array.null_count = -1;
    }
    return p->validity[place];
}

static inline void clear_bit(uint8_t *bits, size_t i)
{
    bits[i / 8] = (uint8_t)(bits[i / 8] & ~(1 << i % 8));
}

/* The library never released a thing of it. */
static inline void drop(producer *p)
{
    assert_int_equal(p->released, 0);
    for (size_t j = 0; j < COLUMNS; j++) {
        free(p->memory[j]);
        free(p->validity[j]);
    }
    free(p->validity[COLUMNS]);
}

/* ---- looking at results ---- */

static inline double number_at(const struct ArrowArray *results, size_t column, size_t i)
{
    return ((const double *)results->children[column]->buffers[1])[i];
}

static inline void check_record(const struct ArrowArray *results, size_t i, const flc_result *one)
{
    assert_int_equal(((const uint32_t *)results->children[RESULT_COLUMNS]->buffers[1])[i], one->flags);
    assert_int_equal(((const uint8_t *)results->children[RESULT_COLUMNS + 1]->buffers[1])[i], one->status);
    size_t j = 0;
#define SAME(name, unit, meaning) flc_check_same_bits(number_at(results, j++, i), one->name);
    FLC_RESULT_LIST(SAME)
#undef SAME
    assert_int_equal(j, RESULT_COLUMNS);
}

static inline void check_records(const struct ArrowArray *results, size_t from, size_t n)
{
    assert_int_equal(results->length, n);
    assert_int_equal(results->n_children, RESULT_COLUMNS + 2);
    for (size_t i = 0; i < n; i++) {
        check_record(results, i, &expected[from + i]);
    }
}

static inline flc_status evaluate(const producer *p, const flc_reading *constants, struct ArrowArray *results,
                                  size_t *refused, flc_error *error)
{
    return flc_meter_evaluate_arrow(meter, liquid, &p->schema, &p->array, constants, NULL, 0, NULL, results, refused,
                                    error);
}

#endif
