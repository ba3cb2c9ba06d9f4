/* SPDX-License-Identifier: Apache-2.0 */
/* A batch from an array of another program into one of ours. */
#include "arrow_core.h"
#include "error.h"
#include "memory.h"

/* Records a piece where columns have to be copied: the copies of all columns stay in the second cache. */
#define PIECE 1024

static flc_status fail(flc_error *error, flc_status status, const char *argument)
{
    return flc_fail(error, status, argument, -1, flc_nan(), flc_nan(), NULL);
}

static flc_results results_from(const flc_results *whole, size_t from)
{
    flc_results part = *whole;
    part.status = whole->status + from;
    part.flags = whole->flags + from;
#define FROM(name, unit, meaning) part.name = whole->name == NULL ? NULL : whole->name + from;
    FLC_RESULT_LIST(FROM)
#undef FROM
    return part;
}

/* Without copies the whole array is one piece. */
static flc_status evaluate(const flc_meter *meter, const flc_liquid *liquid, const flc_arrow_table *table,
                           const flc_results *columns, flc_totals *totals, size_t *refused)
{
    const size_t piece = table->copied == 0 ? table->records : PIECE;
    double *scratch = NULL;
    if (table->copied > 0) {
        scratch = flc_allocate_array(table->copied * PIECE, sizeof *scratch);
        if (scratch == NULL) {
            return FLC_E_MEMORY;
        }
    }
    flc_status status = FLC_OK;
    for (size_t from = 0; from < table->records && status == FLC_OK; from += piece) {
        const size_t count = table->records - from < piece ? table->records - from : piece;
        const flc_results part = results_from(columns, from);
        flc_readings readings;
        flc_arrow_piece(table, from, count, scratch, &readings);
        size_t here = 0;
        status = flc_meter_evaluate_n(meter, liquid, &readings, count, &part, totals, &here);
        *refused += here;
    }
    flc_release(scratch);
    return status;
}

flc_status flc_meter_evaluate_arrow(const flc_meter *meter, const flc_liquid *liquid, const struct ArrowSchema *schema,
                                    const struct ArrowArray *readings, const flc_reading *constants,
                                    const char *const *outputs, size_t output_count, flc_totals *totals,
                                    struct ArrowArray *results, size_t *refused, flc_error *error)
{
    size_t count = 0;
    flc_error_clear(error);
    if (refused != NULL) {
        *refused = 0;
    }
    if (results != NULL) {
        results->release = NULL;
    }
    if (meter == NULL || liquid == NULL || results == NULL) {
        return fail(error, FLC_E_NULL, meter == NULL ? "meter" : liquid == NULL ? "liquid" : "results");
    }
    if (totals != NULL && totals->size != sizeof *totals) {
        return fail(error, FLC_E_SIZE, "totals");
    }
    flc_arrow_table table;
    flc_arrow_choice choice;
    flc_results columns;
    flc_status status = flc_arrow_open(schema, readings, constants, &table, error);
    if (status == FLC_OK) {
        status = flc_arrow_choose(outputs, output_count, &choice, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    status = flc_arrow_take(&choice, table.records, results, &columns);
    if (status != FLC_OK) {
        return fail(error, status, "results");
    }
    status = evaluate(meter, liquid, &table, &columns, totals, &count);
    if (status != FLC_OK) {
        results->release(results);
        return fail(error, status, status == FLC_E_OVERFLOW ? "totals" : "readings");
    }
    if (refused != NULL) {
        *refused = count;
    }
    return FLC_OK;
}

flc_status flc_arrow_reading(const struct ArrowSchema *schema, const struct ArrowArray *readings,
                             const flc_reading *constants, size_t place, flc_reading *reading, flc_error *error)
{
    flc_error_clear(error);
    if (reading == NULL) {
        return fail(error, FLC_E_NULL, "reading");
    }
    if (reading->size != sizeof *reading) {
        return fail(error, FLC_E_SIZE, "reading");
    }
    flc_reading_init(reading);
    flc_arrow_table table;
    const flc_status status = flc_arrow_open(schema, readings, constants, &table, error);
    if (status != FLC_OK) {
        return status;
    }
    if (place >= table.records) {
        return flc_fail(error, FLC_E_ABOVE, "place", -1, (double)place, (double)table.records - 1.0, NULL);
    }
    flc_arrow_record(&table, place, reading);
    return FLC_OK;
}
