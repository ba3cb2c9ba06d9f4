/* SPDX-License-Identifier: Apache-2.0 */
#include "record_fields.h"
#include "flowcomp/proving.h"
#include "error.h"
#include "memory.h"
#include "utc_text.h"

#define WHOLE_MAX 1e6
#define LONG_MAX_EXACT 9007199254740992.0 /* 2^53 */

static const char *const kind_hints[] = {
    [FLC_RECORD_NUMBER] = "a number or null belongs here",
    [FLC_RECORD_WHOLE] = "a whole number belongs here",
    [FLC_RECORD_CHOICE] = "a word or null belongs here",
    [FLC_RECORD_TEXT] = "a text belongs here",
    [FLC_RECORD_CHARS] = "a text belongs here",
    [FLC_RECORD_LIST] = "an array of numbers belongs here",
    [FLC_RECORD_OBJECT] = "an object belongs here",
    [FLC_RECORD_ROWS] = "an array of objects belongs here",
    [FLC_RECORD_TABLE] = "an array of objects belongs here",
    [FLC_RECORD_SIGNED] = "a whole number belongs here",
    [FLC_RECORD_LONG] = "a whole number belongs here",
    [FLC_RECORD_TIME] = "a time as 2025-01-31T06:00:00.000Z, or null, belongs here",
};

/* All numbers are read as doubles, 7 and 7.0 alike. */
static int fits_kind(flc_record_kind kind, const json_t *json)
{
    const double number = json_real_value(json);
    switch (kind) {
    case FLC_RECORD_NUMBER:
        return json_is_real(json) || json_is_null(json);
    case FLC_RECORD_WHOLE:
        return json_is_real(json) && number >= 0.0 && number <= WHOLE_MAX && number == (double)(int)number;
    case FLC_RECORD_SIGNED:
        return json_is_real(json) && number >= -WHOLE_MAX && number <= WHOLE_MAX && number == (double)(int)number;
    case FLC_RECORD_LONG:
        return json_is_real(json) && number >= 0.0 && number <= LONG_MAX_EXACT && number == (double)(int64_t)number;
    case FLC_RECORD_TIME:
        return json_is_null(json) ||
               (json_string_length(json) == FLC_UTC_LENGTH && flc_utc_from_text(json_string_value(json)) >= 0);
    case FLC_RECORD_CHOICE:
        return json_is_string(json) || json_is_null(json);
    case FLC_RECORD_TEXT:
    case FLC_RECORD_CHARS:
        return json_is_string(json);
    case FLC_RECORD_LIST:
    case FLC_RECORD_ROWS:
    case FLC_RECORD_TABLE:
        return json_is_array(json);
    case FLC_RECORD_OBJECT:
        return json_is_object(json);
    }
    return 0;
}

static flc_status read_choice(const flc_record_field *field, const json_t *json, const flc_record_place *place,
                              void *values, flc_error *error)
{
    int choice = -1;
    const char *given = json_string_value(json);
    if (given != NULL) {
        int i = 0;
        while (field->words->word[i] != NULL && strcmp(field->words->word[i], given) != 0) {
            i++;
        }
        if (field->words->word[i] == NULL) {
            char hint[sizeof error->message];
            flc_text text = flc_text_start(hint, sizeof hint);
            for (i = 0; field->words->word[i] != NULL; i++) {
                flc_text_add(&text, i == 0 ? "one of " : ", ");
                flc_text_add(&text, field->words->word[i]);
            }
            return flc_record_fail(error, FLC_E_CHOICE, place, field->key, -1, flc_nan(), flc_nan(), hint);
        }
        choice = field->words->first + i;
    }
    memcpy(flc_record_slot(values, field->offset), &choice, sizeof choice);
    return FLC_OK;
}

static flc_status read_text(const flc_record_field *field, const json_t *json, const flc_record_place *place,
                            void *values, flc_error *error)
{
    const char *words = json_string_value(json);
    const size_t length = json_string_length(json);
    if (length >= field->room) {
        return flc_record_fail(error, FLC_E_BUFFER, place, field->key, -1, (double)length, (double)field->room - 1.0,
                               "bytes of text; shorten it");
    }
    if (field->kind == FLC_RECORD_CHARS) {
        memcpy(flc_record_slot(values, field->offset), words, length + 1);
    } else {
        memcpy(flc_record_slot(values, field->offset), &words, sizeof words);
    }
    return FLC_OK;
}

/* The count of a struct that was set up is 0: the first list sets it, unless an empty one has come before. */
static flc_status check_count(const flc_record_field *field, size_t given, const flc_record_place *place, void *values,
                              const flc_record_object *object, flc_error *error)
{
    const flc_record_field *first = object->fields;
    while (first->kind != FLC_RECORD_LIST || first->count != field->count) {
        first++;
    }
    if (first == field) {
        memcpy(flc_record_slot(values, field->count), &given, sizeof given);
        return FLC_OK;
    }
    const size_t needed = flc_record_count(values, field->count);
    if (given != needed) {
        return flc_record_fail(error, FLC_E_COUNT, place, field->key, -1, (double)given, (double)needed, first->key);
    }
    return FLC_OK;
}

static flc_status read_list(const flc_record_field *field, const json_t *json, const flc_record_place *place,
                            void *values, const flc_record_object *object, flc_error *error)
{
    const size_t count = json_array_size(json);
    flc_status status = check_count(field, count, place, values, object, error);
    if (status != FLC_OK || count == 0) {
        return status;
    }
    double *list = flc_allocate_array(count, sizeof *list);
    if (list == NULL) {
        return flc_record_fail(error, FLC_E_MEMORY, place, field->key, -1, flc_nan(), flc_nan(), NULL);
    }
    memcpy(flc_record_slot(values, field->offset), &list, sizeof list);
    for (size_t i = 0; i < count; i++) {
        const json_t *number = json_array_get(json, i);
        if (!json_is_real(number)) {
            return flc_record_fail(error, FLC_E_SCHEMA, place, field->key, (int64_t)i, flc_nan(), flc_nan(),
                                   "a number belongs here");
        }
        list[i] = json_real_value(number);
    }
    return FLC_OK;
}

static flc_status read_row(const flc_record_field *field, const json_t *json, size_t i, const flc_record_place *place,
                           void *row, flc_error *error)
{
    const flc_record_place here = {place, field->key, (int64_t)i};
    const json_t *given = json_array_get(json, i);
    if (!json_is_object(given)) {
        return flc_record_fail(error, FLC_E_SCHEMA, place, field->key, (int64_t)i, flc_nan(), flc_nan(),
                               kind_hints[FLC_RECORD_OBJECT]);
    }
    if (field->prepare != NULL) {
        field->prepare(row);
    }
    return flc_record_read(field->object, given, &here, row, error);
}

static flc_status read_rows(const flc_record_field *field, const json_t *json, const flc_record_place *place,
                            void *values, flc_error *error)
{
    const size_t count = json_array_size(json);
    char *first = flc_record_slot(values, field->offset);
    if (count > field->room) {
        return flc_record_fail(error, FLC_E_COUNT, place, field->key, -1, (double)count, (double)field->room, NULL);
    }
    if (field->kind == FLC_RECORD_TABLE) {
        first = count > 0 ? flc_allocate_array(count, field->object->size) : NULL;
        if (count > 0 && first == NULL) {
            return flc_record_fail(error, FLC_E_MEMORY, place, field->key, -1, flc_nan(), flc_nan(), NULL);
        }
        memcpy(flc_record_slot(values, field->offset), &first, sizeof first);
    }
    memcpy(flc_record_slot(values, field->count), &count, sizeof count);
    for (size_t i = 0; i < count; i++) {
        flc_status status = read_row(field, json, i, place, first + i * field->object->size, error);
        if (status != FLC_OK) {
            return status;
        }
    }
    return FLC_OK;
}

static void read_whole(const flc_record_field *field, double number, void *value)
{
    const int small = field->kind == FLC_RECORD_WHOLE ? (int)number : 0;
    const int32_t with_sign = field->kind == FLC_RECORD_SIGNED ? (int32_t)number : 0;
    const int64_t large = field->kind == FLC_RECORD_LONG ? (int64_t)number : 0;
    if (field->kind == FLC_RECORD_WHOLE) {
        memcpy(value, &small, sizeof small);
    } else if (field->kind == FLC_RECORD_SIGNED) {
        memcpy(value, &with_sign, sizeof with_sign);
    } else {
        memcpy(value, &large, sizeof large);
    }
}

static flc_status read_field(const flc_record_field *field, const json_t *json, const flc_record_place *place,
                             void *values, const flc_record_object *object, flc_error *error)
{
    const flc_record_place here = {place, field->key, -1};
    double number = flc_nan();
    if (json_is_real(json)) {
        number = json_real_value(json);
    }
    int64_t ms = FLC_TIME_NONE;
    switch (field->kind) {
    case FLC_RECORD_NUMBER:
        memcpy(flc_record_slot(values, field->offset), &number, sizeof number);
        return FLC_OK;
    case FLC_RECORD_WHOLE:
    case FLC_RECORD_SIGNED:
    case FLC_RECORD_LONG:
        read_whole(field, number, flc_record_slot(values, field->offset));
        return FLC_OK;
    case FLC_RECORD_TIME:
        if (json_is_string(json)) {
            ms = flc_utc_from_text(json_string_value(json));
        }
        memcpy(flc_record_slot(values, field->offset), &ms, sizeof ms);
        return FLC_OK;
    case FLC_RECORD_CHOICE:
        return read_choice(field, json, place, values, error);
    case FLC_RECORD_TEXT:
    case FLC_RECORD_CHARS:
        return read_text(field, json, place, values, error);
    case FLC_RECORD_LIST:
        return read_list(field, json, place, values, object, error);
    case FLC_RECORD_OBJECT:
        return flc_record_read(field->object, json, &here, flc_record_slot(values, field->offset), error);
    case FLC_RECORD_ROWS:
    case FLC_RECORD_TABLE:
        return read_rows(field, json, place, values, error);
    }
    return FLC_E_INTERNAL;
}

static int is_known(const flc_record_object *object, const char *key)
{
    const flc_record_field *field = object->fields;
    while (field->key != NULL && strcmp(field->key, key) != 0) {
        field++;
    }
    return field->key != NULL;
}

/* An unknown key is told first: where a key is misspelt, that is more to the point than the one that is missing. */
static flc_status check_keys(const flc_record_object *object, const json_t *json, const flc_record_place *place,
                             flc_error *error)
{
    json_t *walked = (json_t *)(uintptr_t)json; /* jansson's iterators are not const-correct; nothing is changed */
    for (void *step = json_object_iter(walked); step != NULL; step = json_object_iter_next(walked, step)) {
        const char *key = json_object_iter_key(step);
        if (!is_known(object, key)) {
            return flc_record_fail(error, FLC_E_SCHEMA, place, key, -1, flc_nan(), flc_nan(), "unknown key");
        }
    }
    return FLC_OK;
}

flc_status flc_record_read(const flc_record_object *object, const json_t *json, const flc_record_place *place,
                           void *values, flc_error *error)
{
    flc_status status = check_keys(object, json, place, error);
    for (const flc_record_field *field = object->fields; field->key != NULL && status == FLC_OK; field++) {
        const json_t *value = json_object_get(json, field->key);
        if (value == NULL) {
            return flc_record_fail(error, FLC_E_SCHEMA, place, field->key, -1, flc_nan(), flc_nan(), "missing");
        }
        if (!fits_kind(field->kind, value)) {
            return flc_record_fail(error, FLC_E_SCHEMA, place, field->key, -1, flc_nan(), flc_nan(),
                                   kind_hints[field->kind]);
        }
        status = read_field(field, value, place, values, object, error);
    }
    return status;
}
