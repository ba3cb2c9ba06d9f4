/* SPDX-License-Identifier: Apache-2.0 */
/* Random whole records of the contract's configurations, one call each against batches of every instruction set that
 * the processor has, of every result the 64 bits.
 *
 *     bits_differential [records [seed [threads]]]      a million, 1, 1
 *
 * Before it begins, one bit of one result is flipped, and the comparison must notice. Prints one line per instruction
 * set and exits with 1 where a bit differs. */
#include "bits_records.h"
#include "flowcomp/flowcomp.h"
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>

#define RECORDS 4096 /* of a batch */
#define COUNT(name, unit, meaning) +1
#define FIELDS (0 FLC_RESULT_LIST(COUNT))
#define SETS 3
#define THREADS_MAX 64

static const flc_instruction_set sets[SETS] = {FLC_INSTRUCTIONS_BASE, FLC_INSTRUCTIONS_AVX2, FLC_INSTRUCTIONS_AVX512};
static const char *const set_names[SETS] = {"base", "avx2", "avx512"};

typedef struct columns {
    uint8_t status[RECORDS];
    uint32_t flags[RECORDS];
    double field[FIELDS][RECORDS];
} columns;

typedef struct worker {
    uint64_t batches, seed;
    double in[FLC_BITS_READING_FIELDS][RECORDS];
    columns expected, got;
    uint64_t compared[SETS], different[SETS], refused;
} worker;

/* ---- the two ways ---- */

static void one_by_one(worker *w, const flc_meter *meter, const flc_liquid *liquid)
{
    for (size_t n = 0; n < RECORDS; n++) {
        flc_reading r;
        flc_reading_init(&r);
#define INTO(name, place) &r.place,
        double *const into[FLC_BITS_READING_FIELDS] = {FLC_READING_LIST(INTO)};
#undef INTO
        for (size_t field = 0; field < FLC_BITS_READING_FIELDS; field++) {
            memcpy(into[field], &w->in[field][n], sizeof(double));
        }
        flc_result result;
        flc_result_init(&result);
        w->expected.status[n] = (uint8_t)flc_meter_evaluate(meter, liquid, &r, &result, NULL);
        w->expected.flags[n] = result.flags;
        w->refused += result.status != FLC_OK;
        size_t field = 0;
#define KEEP(name, unit, meaning) w->expected.field[field++][n] = result.name;
        FLC_RESULT_LIST(KEEP)
#undef KEEP
    }
}

static int side_by_side(worker *w, size_t configuration, const flc_meter *meter, const flc_liquid *liquid,
                        flc_instruction_set set, size_t from, size_t count)
{
    flc_readings readings;
    flc_results results;
    flc_readings_init(&readings);
    flc_results_init(&results);
    readings.instruction_set = (uint32_t)set;
    for (size_t field = 0; field < FLC_BITS_READING_FIELDS; field++) {
        if (flc_bits_has_column(configuration, field)) {
            (&readings.pulses)[field] = (flc_column){w->in[field] + from, 1};
        }
    }
    size_t field = 0;
#define COLUMN(name, unit, meaning) results.name = w->got.field[field++] + from;
    FLC_RESULT_LIST(COLUMN)
#undef COLUMN
    results.status = w->got.status + from;
    results.flags = w->got.flags + from;
    return flc_meter_evaluate_n(meter, liquid, &readings, count, &results, NULL, NULL) != FLC_OK;
}

static uint64_t differences(const worker *w)
{
    uint64_t records = 0;
    for (size_t n = 0; n < RECORDS; n++) {
        int differs = w->got.status[n] != w->expected.status[n] || w->got.flags[n] != w->expected.flags[n];
        for (size_t field = 0; field < FIELDS; field++) {
            differs |= flc_to_bits(w->got.field[field][n]) != flc_to_bits(w->expected.field[field][n]);
        }
        records += differs != 0;
    }
    return records;
}

static int compare_batch(worker *w, size_t configuration, size_t chunk)
{
    flc_meter *meter = NULL;
    flc_liquid *liquid = NULL;
    int failed = flc_bits_objects(flc_method_count() + configuration, &meter, &liquid) != FLC_OK;
    for (size_t n = 0; n < RECORDS && !failed; n++) {
        double reading[FLC_BITS_READING_FIELDS];
        flc_bits_draw_reading(configuration, &w->seed, reading);
        for (size_t field = 0; field < FLC_BITS_READING_FIELDS; field++) {
            w->in[field][n] = reading[field];
        }
    }
    if (!failed) {
        one_by_one(w, meter, liquid);
    }
    for (size_t s = 0; s < SETS && !failed; s++) {
        if (flc_instructions_taken(sets[s]) != sets[s]) {
            continue;
        }
        for (size_t from = 0; from < RECORDS; from += chunk) {
            failed |= side_by_side(w, configuration, meter, liquid, sets[s], from,
                                   RECORDS - from < chunk ? RECORDS - from : chunk);
        }
        w->compared[s] += RECORDS;
        w->different[s] += differences(w);
    }
    flc_meter_free(meter);
    flc_liquid_free(liquid);
    return failed;
}

static void *work(void *context)
{
    static const size_t chunks[] = {RECORDS, 64, 65, 63, 517, 1, 1000};
    worker *w = context;
    const uint64_t start = w->seed;
    for (uint64_t batch = 0; batch < w->batches; batch++) {
        if (compare_batch(w, (size_t)((start + batch) % FLC_BITS_CONFIGURATIONS), chunks[batch % 7])) {
            return w;
        }
    }
    return NULL;
}

/* The comparison can fail. */
static int notices_a_bit(worker *w)
{
    w->batches = 1;
    if (work(w) != NULL) {
        return 0;
    }
    const uint64_t before = differences(w);
    w->got.field[6][RECORDS / 2] = flc_from_bits(flc_to_bits(w->got.field[6][RECORDS / 2]) ^ 1);
    return before == 0 && differences(w) == 1;
}

int main(int count, char **arguments)
{
    const uint64_t records = count > 1 ? strtoull(arguments[1], NULL, 10) : 1000000;
    const uint64_t seed = count > 2 ? strtoull(arguments[2], NULL, 10) : 1;
    const size_t threads = count > 3 ? strtoul(arguments[3], NULL, 10) : 1;
    worker *workers = threads >= 1 && threads <= THREADS_MAX ? calloc(threads, sizeof *workers) : NULL;
    if (workers == NULL || records == 0 || !notices_a_bit(&workers[0])) {
        fprintf(stderr, "bits_differential: records, seed, threads (1 to %d); or a flipped bit was not noticed\n",
                THREADS_MAX);
        return 1;
    }
    pthread_t thread[THREADS_MAX];
    memset(workers, 0, sizeof *workers);
    int failed = 0;
    for (size_t i = 0; i < threads; i++) {
        workers[i].batches = (records / threads + RECORDS - 1) / RECORDS;
        workers[i].seed = seed + 1000003 * i;
        failed |= pthread_create(&thread[i], NULL, work, &workers[i]) != 0;
    }
    for (size_t i = 0; i < threads && !failed; i++) {
        void *wrong = NULL;
        failed |= pthread_join(thread[i], &wrong) != 0 || wrong != NULL;
    }
    for (size_t s = 0; s < SETS && !failed; s++) {
        uint64_t compared = 0, different = 0, refused = 0;
        for (size_t i = 0; i < threads; i++) {
            compared += workers[i].compared[s];
            different += workers[i].different[s];
            refused += workers[i].refused;
        }
        if (compared == 0) {
            printf("%s: not run, the processor has not these instructions\n", set_names[s]);
            continue;
        }
        printf("%s: %llu records against one call each, %llu of them refused, %llu different\n", set_names[s],
               (unsigned long long)compared, (unsigned long long)refused, (unsigned long long)different);
        failed |= different != 0;
    }
    free(workers);
    return failed;
}
