/* SPDX-License-Identifier: Apache-2.0 */
/* Readings as they lie in the array of another program. Nothing of it is believed: every length, type and pointer that
 * is used has been looked at, as far as the interface lets one look. */
#include "arrow_core.h"
#include "error.h"
#include "text.h"
#include <string.h>

#define FIELD(name, place) {#name, offsetof(flc_readings, name), offsetof(flc_reading, place)},
static const struct {
    const char *name;
    size_t in_readings, in_reading;
} fields[] = {FLC_READING_LIST(FIELD)};
#undef FIELD
_Static_assert(sizeof fields / sizeof fields[0] == FLC_ARROW_INPUTS, "FLC_READING_LIST has every column");

static flc_column *column_in(flc_readings *readings, size_t field)
{
    return (flc_column *)(void *)((char *)readings + fields[field].in_readings);
}

static double *number_in(flc_reading *reading, size_t field)
{
    return (double *)(void *)((char *)reading + fields[field].in_reading);
}

static flc_status fail(flc_error *error, flc_status status, const char *argument, const char *hint)
{
    return flc_fail(error, status, argument, -1, flc_nan(), flc_nan(), hint);
}

/* ---- bitmaps ---- */

static int is_there(const flc_arrow_bits *there, size_t record)
{
    const size_t bit = there->first + record;
    return there->bits == NULL || ((there->bits[bit / 8] >> (bit % 8)) & 1) != 0;
}

static int all_are_there(const flc_arrow_bits *there, size_t records)
{
    for (size_t i = 0; i < records;) {
        const size_t bit = there->first + i;
        if (bit % 8 == 0 && records - i >= 8 && there->bits[bit / 8] == 0xFF) {
            i += 8;
        } else if (is_there(there, i)) {
            i++;
        } else {
            return 0;
        }
    }
    return 1;
}

/* The bitmap of an array whose record 0 is its element first; none where every record is there. */
static flc_arrow_bits bits_of(const struct ArrowArray *array, size_t first, size_t records)
{
    flc_arrow_bits there = {array->null_count == 0 ? NULL : (const uint8_t *)array->buffers[0], first};
    if (there.bits != NULL && all_are_there(&there, records)) {
        there.bits = NULL;
    }
    return there;
}

/* ---- judging ---- */

/* Buffers and lengths of one array, of which elements up to end are asked for. */
static flc_status judge_array(const struct ArrowArray *array, const char *name, int64_t buffers, int64_t end,
                              flc_error *error)
{
    if (array->length < 0 || array->offset < 0 || array->length > INT64_MAX / 16 || array->offset > INT64_MAX / 16) {
        return fail(error, FLC_E_COUNT, name, "length and offset are no numbers of elements");
    }
    if (array->length < end) {
        return fail(error, FLC_E_COUNT, name, "it is shorter than the struct it is part of: give every child its rows");
    }
    if (array->n_buffers != buffers || array->buffers == NULL) {
        return fail(error, FLC_E_COUNT, name, "a struct has one buffer, a float64 two");
    }
    if (array->null_count > 0 && array->buffers[0] == NULL) {
        return fail(error, FLC_E_COUNT, name, "it counts nulls but has no validity bitmap");
    }
    return FLC_OK;
}

static flc_status judge_type(const struct ArrowSchema *type, const char *name, const char *wanted, flc_error *error)
{
    if (type->format == NULL || strcmp(type->format, wanted) != 0 || type->dictionary != NULL) {
        char hint[128];
        flc_text text = flc_text_start(hint, sizeof hint);
        flc_text_add(&text, strcmp(wanted, "g") == 0 ? "cast it to float64; its Arrow format is "
                                                     : "give a struct (a record batch or table); its Arrow format is ");
        flc_text_add(&text, type->dictionary != NULL ? "a dictionary" : type->format == NULL ? "none" : type->format);
        return fail(error, FLC_E_SCHEMA, name, hint);
    }
    return FLC_OK;
}

static flc_status judge_struct(const struct ArrowSchema *schema, const struct ArrowArray *readings, flc_error *error)
{
    if (schema == NULL || readings == NULL) {
        return fail(error, FLC_E_NULL, schema == NULL ? "schema" : "readings", NULL);
    }
    if (schema->release == NULL || readings->release == NULL) {
        return fail(error, FLC_E_MISSING, schema->release == NULL ? "schema" : "readings",
                    "it has been released or moved: export it again");
    }
    flc_status status = judge_type(schema, "readings", "+s", error);
    if (status == FLC_OK) {
        status = judge_array(readings, "readings", 1, 0, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    const int has_children = schema->children != NULL && readings->children != NULL;
    if (schema->n_children != readings->n_children || schema->n_children < 0 ||
        (schema->n_children > 0 && !has_children)) {
        return fail(error, FLC_E_COUNT, "readings", "schema and array have not the same children");
    }
    return FLC_OK;
}

/* ---- finding the columns ---- */

static int find_field(const char *name, size_t *field)
{
    for (*field = 0; *field < FLC_ARROW_INPUTS; ++*field) {
        if (strcmp(fields[*field].name, name) == 0) {
            return 1;
        }
    }
    return 0;
}

static flc_status open_child(const struct ArrowSchema *type, const struct ArrowArray *child, int64_t first,
                             flc_arrow_table *table, flc_error *error)
{
    if (type == NULL || child == NULL || child->release == NULL) {
        return fail(error, FLC_E_MISSING, type != NULL && type->name != NULL ? type->name : "readings",
                    "a child has been released or moved: export the table again");
    }
    const char *name = type->name != NULL ? type->name : "";
    flc_arrow_column *column = &table->column[table->columns];
    if (!find_field(name, &column->field)) {
        return fail(error, FLC_E_UNKNOWN_NAME, name, "rename it to a column of readings, or leave it out");
    }
    for (size_t i = 0; i < table->columns; i++) {
        if (table->column[i].field == column->field) {
            return fail(error, FLC_E_DUPLICATE, name, "leave one of them out");
        }
    }
    flc_status status = judge_type(type, name, "g", error);
    if (status == FLC_OK) {
        status = judge_array(child, name, 2, first + (int64_t)table->records, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    if (child->buffers[1] == NULL && table->records > 0) {
        return fail(error, FLC_E_MISSING, name, "its buffer of values is NULL");
    }
    const size_t start = (size_t)(child->offset + first);
    column->values = (const unsigned char *)child->buffers[1];
    if (column->values != NULL) {
        column->values += start * sizeof(double);
    }
    column->there = bits_of(child, start, table->records);
    column->is_copied =
        column->there.bits != NULL || table->there.bits != NULL || (uintptr_t)column->values % _Alignof(double) != 0;
    table->copied += (size_t)column->is_copied;
    table->columns++;
    return FLC_OK;
}

/* A constant is a field that is not as flc_reading_init leaves it. */
static flc_status bind_constants(const flc_reading *constants, flc_arrow_table *table, flc_error *error)
{
    flc_reading blank;
    flc_reading_init(&blank);
    if (constants != NULL) {
        if (constants->size != sizeof *constants) {
            return fail(error, FLC_E_SIZE, "constants", NULL);
        }
        table->constants = *constants;
    }
    int is_given[FLC_ARROW_INPUTS];
    for (size_t field = 0; field < FLC_ARROW_INPUTS; field++) {
        const double value = *number_in(&table->constants, field), absent = *number_in(&blank, field);
        is_given[field] = flc_is_nan(value) ? !flc_is_nan(absent) : flc_bits_of(value) != flc_bits_of(absent);
        if (is_given[field]) {
            *column_in(&table->readings, field) = (flc_column){number_in(&table->constants, field), 0};
        }
    }
    for (size_t i = 0; i < table->columns; i++) {
        if (is_given[table->column[i].field]) {
            return fail(error, FLC_E_CONFLICT, fields[table->column[i].field].name,
                        "it is a child and a constant: leave one of them out");
        }
    }
    return FLC_OK;
}

flc_status flc_arrow_open(const struct ArrowSchema *schema, const struct ArrowArray *readings,
                          const flc_reading *constants, flc_arrow_table *table, flc_error *error)
{
    flc_error_clear(error);
    memset(table, 0, sizeof *table);
    flc_readings_init(&table->readings);
    flc_reading_init(&table->constants);
    flc_status status = judge_struct(schema, readings, error);
    if (status != FLC_OK) {
        return status;
    }
    table->records = (size_t)readings->length;
    table->there = bits_of(readings, (size_t)readings->offset, table->records);
    for (int64_t i = 0; i < schema->n_children && status == FLC_OK; i++) {
        status = open_child(schema->children[i], readings->children[i], readings->offset, table, error);
    }
    if (status == FLC_OK) {
        status = bind_constants(constants, table, error);
    }
    for (size_t i = 0; i < table->columns && status == FLC_OK; i++) {
        if (!table->column[i].is_copied) {
            const double *start = (const double *)(const void *)table->column[i].values;
            *column_in(&table->readings, table->column[i].field) = (flc_column){start, 1};
        }
    }
    return status;
}

/* ---- reading ---- */

static void copy_column(const flc_arrow_table *table, const flc_arrow_column *column, size_t from, size_t count,
                        double *to)
{
    memcpy(to, column->values + from * sizeof *to, count * sizeof *to);
    for (size_t i = 0; i < count; i++) {
        if (!is_there(&column->there, from + i) || !is_there(&table->there, from + i)) {
            to[i] = flc_nan();
        }
    }
}

void flc_arrow_piece(const flc_arrow_table *table, size_t from, size_t count, double *scratch, flc_readings *piece)
{
    *piece = table->readings;
    for (size_t i = 0; i < table->columns; i++) {
        const flc_arrow_column *column = &table->column[i];
        flc_column *place = column_in(piece, column->field);
        if (!column->is_copied) {
            place->start += from;
            continue;
        }
        copy_column(table, column, from, count, scratch);
        *place = (flc_column){scratch, 1};
        scratch += count;
    }
}

void flc_arrow_record(const flc_arrow_table *table, size_t place, flc_reading *reading)
{
    *reading = table->constants;
    for (size_t i = 0; i < table->columns; i++) {
        copy_column(table, &table->column[i], place, 1, number_in(reading, table->column[i].field));
    }
    for (size_t field = 0; field < FLC_ARROW_INPUTS; field++) { /* no other NaN leaves the library */
        double *number = number_in(reading, field);
        *number = flc_is_nan(*number) ? flc_nan() : *number;
    }
}
