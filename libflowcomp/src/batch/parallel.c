/* SPDX-License-Identifier: Apache-2.0 */
/* A batch on the caller's threads: cut into parts, each an ordinary batch with totals of its own. */
#include "tile.h"
#include "struct_size.h"

/* A part below this many records costs more to hand over than to evaluate. Parts are whole tiles, so that only the last
 * one has a remainder; a few per thread level out threads of unlike speed. */
#define PART_LEAST 16384
#define PARTS_MOST 256
#define PARTS_PER_THREAD 4
#define PART_MULTIPLE 64

typedef struct part_result {
    flc_totals totals;
    size_t refused;
    flc_status status;
} part_result;

typedef struct parts {
    const flc_meter *meter;
    const flc_liquid *liquid;
    const flc_readings *readings;
    const flc_results *results;
    int with_totals;
    size_t n, part_n; /* records in all, and in each part but the last */
    part_result result[PARTS_MOST];
} parts;

void flc_parallel_init_sized(flc_parallel *parallel, size_t own_size)
{
    const flc_parallel fresh = {.size = sizeof fresh, .threads = 1};
    flc_give_sized(parallel, own_size, &fresh, sizeof fresh);
}

static void move_column(flc_column *column, size_t from)
{
    if (column->start != NULL) {
        column->start += (ptrdiff_t)from * column->stride;
    }
}

/* The columns of readings from record from on. */
static flc_readings readings_from_record(const flc_readings *all, size_t from)
{
    flc_readings part = *all;
#define MOVE(name, place) move_column(&part.name, from);
    FLC_READING_LIST(MOVE)
#undef MOVE
    return part;
}

static flc_results results_from_record(const flc_results *all, size_t from)
{
    flc_results part = *all;
    part.status = part.status != NULL ? part.status + from : NULL;
    part.flags = part.flags != NULL ? part.flags + from : NULL;
#define MOVE(name, unit, meaning) part.name = part.name != NULL ? part.name + from : NULL;
    FLC_RESULT_LIST(MOVE)
#undef MOVE
    return part;
}

static void evaluate_part(void *what, size_t part)
{
    parts *p = what;
    part_result *own = &p->result[part];
    const size_t from = part * p->part_n, n = p->n - from < p->part_n ? p->n - from : p->part_n;
    const flc_readings readings = readings_from_record(p->readings, from);
    const flc_results results = results_from_record(p->results, from);
    own->status = flc_meter_evaluate_n(p->meter, p->liquid, &readings, n, &results,
                                       p->with_totals ? &own->totals : NULL, &own->refused);
}

/* How many records to a part. The cut depends on n and the number of threads; no bit depends on the cut. */
static size_t part_size(size_t n, size_t threads)
{
    size_t count = threads < PARTS_MOST / PARTS_PER_THREAD ? threads * PARTS_PER_THREAD : PARTS_MOST;
    count = count > n / PART_LEAST ? n / PART_LEAST : count;
    return count < 2 ? n + (n == 0) : (n / count / PART_MULTIPLE + 1) * PART_MULTIPLE;
}

/* Add up what the parts have: the first status that is not FLC_OK, and then nothing is added. */
static flc_status add_up(const parts *p, size_t count, flc_totals *totals, size_t *refused)
{
    flc_totals sum = {0};
    flc_status status = FLC_OK;
    size_t all_refused = 0;
    if (totals != NULL) {
        sum = *totals;
    }
    for (size_t i = 0; i < count; i++) {
        all_refused += p->result[i].refused;
        if (status == FLC_OK) {
            status = p->result[i].status;
        }
        if (status == FLC_OK && totals != NULL) {
            status = flc_totals_merge(&sum, &p->result[i].totals);
        }
    }
    if (status == FLC_OK && totals != NULL) {
        *totals = sum;
    }
    if (refused != NULL) {
        *refused = all_refused;
    }
    return status;
}

static flc_status check_parallel(const flc_parallel *parallel)
{
    if (parallel == NULL) {
        return FLC_E_NULL;
    }
    return parallel->size != sizeof *parallel ? FLC_E_SIZE : parallel->threads == 0 ? FLC_E_BELOW : FLC_OK;
}

/* Would flc_meter_evaluate_n start? */
static int is_complete(const parts *p, const flc_totals *totals)
{
    return p->meter != NULL && p->liquid != NULL && p->readings != NULL && p->results != NULL &&
           p->readings->size == sizeof *p->readings && p->results->size == sizeof *p->results &&
           (totals == NULL || totals->size == sizeof *totals);
}

static void evaluate_parts(parts *p, size_t count, const flc_parallel *parallel)
{
    if (count > 1) {
        parallel->run(parallel->context, count, evaluate_part, p);
    } else if (count == 1) {
        evaluate_part(p, 0);
    }
}

flc_status flc_meter_evaluate_parallel_n(const flc_meter *meter, const flc_liquid *liquid, const flc_readings *readings,
                                         size_t n, const flc_results *results, flc_totals *totals, size_t *refused,
                                         const flc_parallel *parallel)
{
    parts p = {.meter = meter, .liquid = liquid, .readings = readings, .results = results};
    if (!is_complete(&p, totals)) {
        return flc_meter_evaluate_n(meter, liquid, readings, n, results, totals, refused);
    }
    if (refused != NULL) {
        *refused = 0;
    }
    flc_status status = check_parallel(parallel);
    flc_totals empty = {0};
    if (status == FLC_OK && totals != NULL) {
        status = flc_totals_start(&empty, totals->unit_m3);
    }
    if (status != FLC_OK) {
        return flc_batch_refuse(status, n, results);
    }
    p.with_totals = totals != NULL;
    p.n = n;
    p.part_n = part_size(n, parallel->run != NULL ? parallel->threads : 0);
    const size_t count = n / p.part_n + (n % p.part_n != 0);
    for (size_t i = 0; i < count; i++) {
        p.result[i].totals = empty;
    }
    evaluate_parts(&p, count, parallel);
    return add_up(&p, count, totals, refused);
}
