/* SPDX-License-Identifier: Apache-2.0 */
/* The set of results that the contract of bits is measured on, evaluated through the public calls alone. */
#include "flowcomp/bits_contract.h"
#include "bits_records.h"
#include "canonical.h"
#include "fp_guard.h"
#include "memory.h"

#define RESULT_COUNT(name, unit, meaning) +1
#define RESULT_FIELDS (0 FLC_RESULT_LIST(RESULT_COUNT))

_Static_assert(sizeof(flc_readings) == offsetof(flc_readings, pulses) + FLC_BITS_READING_FIELDS * sizeof(flc_column),
               "a reading of the set has every field of flc_readings");

const char *flc_bits_published(void)
{
    return FLC_BITS_HASH;
}

size_t flc_bits_part_count(void)
{
    return flc_method_count() + FLC_BITS_CONFIGURATIONS;
}

/* ---- describing a part ---- */

static void name_records(size_t configuration, char *name)
{
    static const char stem[] = "record 000";
    memcpy(name, stem, sizeof stem);
    name[7] = (char)('0' + configuration / 100);
    name[8] = (char)('0' + configuration / 10 % 10);
    name[9] = (char)('0' + configuration % 10);
}

static void describe_method(const flc_method_info *method, flc_bits_part *part)
{
    const size_t length = strlen(method->name);
    memcpy(part->name, method->name, length < sizeof part->name ? length : sizeof part->name - 1);
    part->method = method;
    part->points = part->results = FLC_BITS_POINTS;
    part->arguments = method->argument_count;
    part->places = 1;
    for (size_t i = 0; i < method->argument_count; i++) {
        part->places = flc_bits_is_list(method, i) ? FLC_BITS_LIST : part->places;
    }
    part->bytes = 8 + strlen(part->name) + part->points * 9;
}

flc_status flc_bits_part_at(size_t place, flc_bits_part *part)
{
    if (part == NULL) {
        return FLC_E_NULL;
    }
    memset(part, 0, sizeof *part);
    const size_t methods = flc_method_count();
    if (place >= flc_bits_part_count()) {
        return FLC_E_ABOVE;
    }
    if (place < methods) {
        describe_method(flc_method_at(place), part);
        return FLC_OK;
    }
    name_records(place - methods, part->name);
    part->points = flc_bits_records_of(place - methods);
    part->arguments = FLC_BITS_READING_FIELDS;
    part->places = 1;
    part->results = part->points * RESULT_FIELDS;
    part->bytes = 8 + strlen(part->name) + part->points * (9 + 8 * RESULT_FIELDS);
    return FLC_OK;
}

flc_status flc_bits_objects(size_t place, flc_meter **meter, flc_liquid **liquid)
{
    if (meter == NULL || liquid == NULL) {
        return FLC_E_NULL;
    }
    *meter = NULL;
    *liquid = NULL;
    if (place >= flc_bits_part_count()) {
        return FLC_E_ABOVE;
    }
    if (place < flc_method_count()) {
        return FLC_E_CHOICE;
    }
    flc_fp_state fp = flc_fp_enter();
    const size_t configuration = place - flc_method_count();
    flc_status status = flc_bits_meter(configuration, meter);
    if (status == FLC_OK) {
        status = flc_bits_liquid(configuration, liquid);
    }
    if (status != FLC_OK) {
        flc_meter_free(*meter);
        *meter = NULL;
    }
    flc_fp_leave(fp);
    return status;
}

/* ---- the arguments ---- */

/* Column of an argument's place; columns lie so many doubles apart. */
static double *column_of(double *room, const flc_bits_part *part, size_t apart, size_t argument, size_t list_place)
{
    return room + (argument * part->places + list_place) * apart;
}

static void draw_methods(const flc_bits_part *part, double *room, size_t apart)
{
    uint64_t state = flc_bits_seed(part->name);
    flc_bits_point point;
    for (size_t n = 0; n < part->points; n++) {
        flc_bits_draw_point(part->method, &state, &point);
        for (size_t i = 0; i < part->arguments; i++) {
            for (size_t j = 0; j < part->places; j++) {
                column_of(room, part, apart, i, j)[n] = point.at[i][j];
            }
        }
    }
}

static void draw_records(size_t configuration, const flc_bits_part *part, double *room, size_t apart)
{
    uint64_t state = flc_bits_seed(part->name);
    double reading[FLC_BITS_READING_FIELDS];
    for (size_t n = 0; n < part->points; n++) {
        flc_bits_draw_reading(configuration, &state, reading);
        for (size_t field = 0; field < FLC_BITS_READING_FIELDS; field++) {
            room[field * apart + n] = reading[field];
        }
    }
}

/* The draws are numbers too, so the guard stands round them; the evaluations have their own. */
static void draw(size_t place, const flc_bits_part *part, double *room, size_t apart)
{
    flc_fp_state fp = flc_fp_enter();
    if (part->method != NULL) {
        draw_methods(part, room, apart);
    } else {
        draw_records(place - flc_method_count(), part, room, apart);
    }
    flc_fp_leave(fp);
}

flc_status flc_bits_arguments(size_t place, double *results)
{
    flc_bits_part part;
    const flc_status status = flc_bits_part_at(place, &part);
    if (results == NULL) {
        return FLC_E_NULL;
    }
    if (status == FLC_OK) {
        draw(place, &part, results, part.points);
    }
    return status;
}

/* ---- evaluating ---- */

/* A part under way: its columns, apart doubles from one to the next, each beginning at the offset asked for. */
typedef struct evaluation {
    flc_bits_part part;
    size_t chunk, apart;
    flc_instruction_set instructions;
    double *in, *out;
    uint8_t *status;
    uint32_t *flags;
} evaluation;

static void one_point(evaluation *e, size_t n)
{
    flc_value values[24];
    double lists[24][FLC_BITS_LIST];
    for (size_t i = 0; i < e->part.arguments; i++) {
        size_t length = 0;
        for (size_t j = 0; j < e->part.places; j++) {
            lists[i][j] = column_of(e->in, &e->part, e->apart, i, j)[n];
            length += !flc_is_nan(lists[i][j]);
        }
        const int is_list = flc_bits_is_list(e->part.method, i);
        values[i] = (flc_value){lists[i][0], is_list ? lists[i] : NULL, is_list ? length : 0};
    }
    e->status[n] = (uint8_t)flc_method_call(e->part.method, values, e->part.arguments, &e->out[n], NULL);
}

static flc_status points_side_by_side(evaluation *e, size_t from, size_t count)
{
    flc_column columns[24];
    for (size_t i = 0; i < e->part.arguments; i++) {
        columns[i] = (flc_column){e->in + i * e->apart + from, 1};
    }
    return flc_method_call_n(e->part.method, columns, e->part.arguments, count, e->out + from, e->status + from, NULL);
}

/* A method that takes lists has no batch. */
static flc_status evaluate_method(evaluation *e)
{
    const size_t chunk = e->part.places > 1 ? 0 : e->chunk;
    flc_status status = FLC_OK;
    for (size_t n = 0; n < e->part.points && chunk == 0; n++) {
        one_point(e, n);
    }
    for (size_t from = 0; from < e->part.points && chunk > 0 && status == FLC_OK; from += chunk) {
        const size_t left = e->part.points - from;
        status = points_side_by_side(e, from, left < chunk ? left : chunk);
    }
    return status;
}

static void one_record(evaluation *e, const flc_meter *meter, const flc_liquid *liquid, size_t n)
{
    flc_reading r;
    flc_reading_init(&r);
#define INTO(name, place) &r.place,
    double *const into[FLC_BITS_READING_FIELDS] = {FLC_READING_LIST(INTO)};
#undef INTO
    for (size_t field = 0; field < FLC_BITS_READING_FIELDS; field++) {
        memcpy(into[field], &e->in[field * e->apart + n], sizeof(double)); /* bits, also of a NaN */
    }
    flc_result result;
    flc_result_init(&result);
    e->status[n] = (uint8_t)flc_meter_evaluate(meter, liquid, &r, &result, NULL);
    e->flags[n] = result.flags;
    size_t field = 0;
#define KEEP(name, unit, meaning) e->out[field++ * e->apart + n] = result.name;
    FLC_RESULT_LIST(KEEP)
#undef KEEP
}

static flc_status records_side_by_side(evaluation *e, size_t configuration, const flc_meter *meter,
                                       const flc_liquid *liquid, size_t from, size_t count)
{
    flc_readings readings;
    flc_results results;
    flc_readings_init(&readings);
    flc_results_init(&results);
    readings.instruction_set = (uint32_t)e->instructions;
    for (size_t field = 0; field < FLC_BITS_READING_FIELDS; field++) {
        if (flc_bits_has_column(configuration, field)) {
            (&readings.pulses)[field] = (flc_column){e->in + field * e->apart + from, 1};
        }
    }
    size_t field = 0;
#define COLUMN(name, unit, meaning) results.name = e->out + field++ * e->apart + from;
    FLC_RESULT_LIST(COLUMN)
#undef COLUMN
    results.status = e->status + from;
    results.flags = e->flags + from;
    return flc_meter_evaluate_n(meter, liquid, &readings, count, &results, NULL, NULL);
}

static flc_status evaluate_records(evaluation *e, size_t place)
{
    flc_meter *meter;
    flc_liquid *liquid;
    flc_status status = flc_bits_objects(place, &meter, &liquid);
    for (size_t n = 0; status == FLC_OK && n < e->part.points && e->chunk == 0; n++) {
        one_record(e, meter, liquid, n);
    }
    for (size_t from = 0; status == FLC_OK && from < e->part.points && e->chunk > 0; from += e->chunk) {
        const size_t left = e->part.points - from;
        status =
            records_side_by_side(e, place - flc_method_count(), meter, liquid, from, left < e->chunk ? left : e->chunk);
    }
    flc_meter_free(meter);
    flc_liquid_free(liquid);
    return status;
}

/* ---- canonical bytes ---- */

/* Of a double its bits as they are: a NaN other than the one of the contract must show. */
static void write_bytes(const evaluation *e, flc_canonical *out)
{
    const int is_record = e->part.method == NULL;
    const size_t fields = is_record ? RESULT_FIELDS : 1;
    flc_put_text(out, e->part.name);
    for (size_t n = 0; n < e->part.points; n++) {
        flc_put_byte(out, e->status[n]);
        if (is_record) {
            flc_put_u64(out, e->flags[n]);
        }
        for (size_t field = 0; field < fields; field++) {
            flc_put_u64(out, flc_bits_of(e->out[field * e->apart + n]));
        }
    }
}

/* Doubles of the columns in, then of the columns out, then statuses and flags: one block, begun at 64 bytes. */
static flc_status evaluate(size_t place, evaluation *e, size_t offset, flc_canonical *out)
{
    const size_t columns_in = e->part.arguments * e->part.places;
    const size_t columns_out = e->part.method == NULL ? RESULT_FIELDS : 1;
    e->apart = (e->part.points + 15) / 8 * 8;
    const size_t doubles = (columns_in + columns_out) * e->apart + 16;
    double *block = flc_allocate_array(doubles, sizeof(double));
    e->status = flc_allocate_array(e->part.points + 8, 1);
    e->flags = flc_allocate_array(e->part.points + 8, sizeof(uint32_t));
    flc_status status = FLC_E_MEMORY;
    if (block != NULL && e->status != NULL && e->flags != NULL) {
        const size_t past = (size_t)((uintptr_t)block / sizeof(double) % 8);
        e->in = block + (8 - past) % 8 + offset;
        e->out = e->in + columns_in * e->apart;
        e->status += offset;
        e->flags += offset;
        draw(place, &e->part, e->in, e->apart);
        status = e->part.method != NULL ? evaluate_method(e) : evaluate_records(e, place);
        write_bytes(e, out);
        e->status -= offset;
        e->flags -= offset;
    }
    flc_release(block);
    flc_release(e->status);
    flc_release(e->flags);
    return status;
}

flc_status flc_bits_bytes(size_t place, flc_instruction_set instructions, size_t chunk, size_t offset, uint8_t *bytes,
                          size_t size, size_t *needed)
{
    evaluation e = {.chunk = chunk, .instructions = instructions};
    if (needed == NULL || (bytes == NULL && size > 0)) {
        return FLC_E_NULL;
    }
    *needed = 0;
    const flc_status status = flc_bits_part_at(place, &e.part);
    if (status != FLC_OK || offset > 7) {
        return status != FLC_OK ? status : FLC_E_ABOVE;
    }
    *needed = e.part.bytes;
    if (size < e.part.bytes) {
        return FLC_E_BUFFER;
    }
    flc_canonical out = {bytes, size, 0};
    return evaluate(place, &e, offset, &out);
}
