/* SPDX-License-Identifier: Apache-2.0 */
/* Invented trails for the tests: a key, options, events. */
#ifndef FLC_TRAIL_EXAMPLES_H
#define FLC_TRAIL_EXAMPLES_H

#include "check.h"
#include "memory_disk.h"
#include "trail_core.h"
#include <stdio.h>

#define EXAMPLE_TIME INT64_C(1735689600000) /* 2025-01-01T00:00:00Z */
#define EXAMPLE_ENTRIES 100
#define EXAMPLE_PATH "example.trail"

static const uint8_t example_seed[FLC_KEY_BYTES] = {7, 1, 8, 2, 8};
static const uint8_t other_seed[FLC_KEY_BYTES] = {3, 1, 4, 1, 5};

static inline flc_trail_options example_options(const uint8_t *seed)
{
    flc_trail_options options;
    flc_trail_options_init(&options);
    options.seed = seed;
    options.unsigned_allowed = seed == NULL;
    options.create = 1;
    options.name = "invented depot";
    options.at_ms = EXAMPLE_TIME;
    return options;
}

static inline flc_trail *open_example(const flc_disk *disk, const char *path, const uint8_t *seed, int32_t sign_every)
{
    flc_trail_options options = example_options(seed);
    flc_trail *trail = NULL;
    flc_error error;
    options.sign_every = sign_every;
    if (flc_trail_open_on(disk, path, &options, &trail, NULL, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    return trail;
}

/* The i-th of a mixed lot of events. */
static inline flc_status append_example(flc_trail *trail, int i, flc_trail_head *head, flc_error *error)
{
    static const struct {
        flc_trail_event_kind kind;
        const char *data;
    } lot[] = {
        {FLC_TRAIL_CONFIGURATION, "{\"before\": 1000.5, \"after\": 1001.25}"},
        {FLC_TRAIL_PROVING, "{\"accepted\": true, \"mf\": 1.0012, \"runs\": 5}"},
        {FLC_TRAIL_TICKET, "{\"sha256\": \"0f\", \"gsv\": 12345.678}"},
        {FLC_TRAIL_CORRECTION, "{\"old\": 0.1, \"new\": 0.2, \"reason\": \"sampler \\u00e9tait bouch\\u00e9\"}"},
        {FLC_TRAIL_HEAD, NULL},
    };
    char id[32];
    flc_trail_event event;
    flc_trail_event_init(&event);
    snprintf(id, sizeof id, "item-%d", i);
    event.kind = lot[i % 5].kind;
    event.data = lot[i % 5].data;
    event.at_ms = EXAMPLE_TIME + 1000 * (int64_t)i;
    event.id = id;
    event.by = "a person";
    return flc_trail_append(trail, &event, head, error);
}

static inline void append_examples(flc_trail *trail, int from, int to)
{
    flc_error error;
    for (int i = from; i < to; i++) {
        if (append_example(trail, i, NULL, &error) != FLC_OK) {
            fail_msg("event %d: %s", i, error.message);
        }
    }
}

static inline flc_trail_report check_disk(memory_disk *disk, const uint8_t *key, const flc_trail_head *head,
                                          int signatures, flc_trail_finding *found, size_t capacity)
{
    flc_trail_report report;
    flc_error error;
    flc_trail_report_init(&report);
    if (flc_trail_check_on(&disk->table, EXAMPLE_PATH, key, head, signatures, &report, found, capacity, &error)) {
        fail_msg("%s", error.message);
    }
    return report;
}

/* A trail in memory, with where its lines start. */
typedef struct example_trail {
    memory_disk disk;
    memory_file *file;
    size_t start[EXAMPLE_ENTRIES + 1];
    flc_trail_head head;
    uint8_t key[FLC_KEY_BYTES];
} example_trail;

static inline void make_trail(example_trail *made, const uint8_t *seed)
{
    memory_disk_start(&made->disk);
    flc_trail *trail = open_example(&made->disk.table, EXAMPLE_PATH, seed, 1);
    append_examples(trail, 0, EXAMPLE_ENTRIES - 1);
    assert_int_equal(flc_trail_head_of(trail, &made->head), FLC_OK);
    flc_trail_free(trail);
    made->file = &made->disk.files[made->disk.names[memory_find(&made->disk, EXAMPLE_PATH)].file];
    size_t line = 0;
    made->start[0] = 0;
    for (size_t i = 0; i < made->file->size; i++) {
        if (made->file->bytes[i] == '\n') {
            made->start[++line] = i + 1;
        }
    }
    assert_int_equal(line, EXAMPLE_ENTRIES);
    if (seed != NULL) {
        assert_int_equal(flc_public_key(seed, made->key), FLC_OK);
    }
}

#endif
