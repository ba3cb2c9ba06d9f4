/* SPDX-License-Identifier: Apache-2.0 */
#include "record_fields.h"
#include "flowcomp/proving.h"
#include "error.h"
#include "utc_text.h"

static json_t *new_number(double number)
{
    return flc_is_nan(number) ? json_null() : json_real(number);
}

/* json_pack_ex is the constructor of jansson that tells a text that is not UTF-8 from a lack of memory. */
static flc_status write_text(const char *words, json_t **json)
{
    json_error_t reason;
    memset(&reason, 0, sizeof reason);
    *json = json_pack_ex(&reason, 0, "s", words);
    if (*json != NULL) {
        return FLC_OK;
    }
    return json_error_code(&reason) == json_error_invalid_utf8 ? FLC_E_SCHEMA : FLC_E_MEMORY;
}

static flc_status write_choice(const flc_record_words *words, int choice, json_t **json)
{
    if (choice == -1) {
        *json = json_null();
        return FLC_OK;
    }
    for (int i = 0; words->word[i] != NULL; i++) {
        if (words->first + i == choice) {
            return write_text(words->word[i], json);
        }
    }
    return FLC_E_CHOICE;
}

static flc_status write_number(double number, json_t **json)
{
    if (!flc_is_nan(number) && !flc_is_finite(number)) {
        return FLC_E_NUMBER;
    }
    *json = new_number(number);
    return *json != NULL ? FLC_OK : FLC_E_MEMORY;
}

static flc_status write_list(const flc_record_field *field, const void *values, json_t **json)
{
    const double *list;
    memcpy(&list, flc_record_at(values, field->offset), sizeof list);
    *json = json_array();
    for (size_t i = 0; i < flc_record_count(values, field->count); i++) {
        if (json_array_append_new(*json, new_number(list[i])) != 0) {
            return FLC_E_MEMORY;
        }
    }
    return *json != NULL ? FLC_OK : FLC_E_MEMORY;
}

/* first: the first of the rows */
static flc_status write_rows(const flc_record_field *field, const void *values, const void *first,
                             const flc_record_place *place, json_t **json, flc_error *error)
{
    *json = json_array();
    for (size_t i = 0; i < flc_record_count(values, field->count); i++) {
        const flc_record_place here = {place, field->key, (int64_t)i};
        json_t *row = NULL;
        flc_status status =
            flc_record_write(field->object, flc_record_at(first, i * field->object->size), &here, &row, error);
        if (status != FLC_OK) {
            return status;
        }
        if (json_array_append_new(*json, row) != 0) {
            return FLC_E_MEMORY;
        }
    }
    return *json != NULL ? FLC_OK : FLC_E_MEMORY;
}

static flc_status write_time(const void *value, json_t **json)
{
    int64_t ms;
    char text[FLC_UTC_TEXT];
    memcpy(&ms, value, sizeof ms);
    if (ms == FLC_TIME_NONE) {
        *json = json_null();
        return FLC_OK;
    }
    if (ms < FLC_UTC_LOW || ms > FLC_UTC_HIGH) {
        return FLC_E_NUMBER;
    }
    flc_utc_to_text(ms, text);
    return write_text(text, json);
}

static flc_status write_whole(const flc_record_field *field, const void *value, json_t **json)
{
    int small = 0;
    int32_t with_sign = 0;
    int64_t large = 0;
    if (field->kind == FLC_RECORD_WHOLE) {
        memcpy(&small, value, sizeof small);
        large = small;
    } else if (field->kind == FLC_RECORD_SIGNED) {
        memcpy(&with_sign, value, sizeof with_sign);
        large = with_sign;
    } else {
        memcpy(&large, value, sizeof large);
    }
    *json = json_integer(large);
    return *json != NULL ? FLC_OK : FLC_E_MEMORY;
}

static flc_status write_field(const flc_record_field *field, const void *values, const flc_record_place *place,
                              json_t **json, flc_error *error)
{
    const flc_record_place here = {place, field->key, -1};
    const char *words = NULL;
    const void *first = NULL;
    double number = 0.0;
    int choice = 0;
    switch (field->kind) {
    case FLC_RECORD_NUMBER:
        memcpy(&number, flc_record_at(values, field->offset), sizeof number);
        return write_number(number, json);
    case FLC_RECORD_WHOLE:
    case FLC_RECORD_SIGNED:
    case FLC_RECORD_LONG:
        return write_whole(field, flc_record_at(values, field->offset), json);
    case FLC_RECORD_TIME:
        return write_time(flc_record_at(values, field->offset), json);
    case FLC_RECORD_CHOICE:
        memcpy(&choice, flc_record_at(values, field->offset), sizeof choice);
        return write_choice(field->words, choice, json);
    case FLC_RECORD_TEXT:
        memcpy(&words, flc_record_at(values, field->offset), sizeof words);
        return write_text(words, json);
    case FLC_RECORD_CHARS:
        return write_text(flc_record_at(values, field->offset), json);
    case FLC_RECORD_LIST:
        return write_list(field, values, json);
    case FLC_RECORD_OBJECT:
        return flc_record_write(field->object, flc_record_at(values, field->offset), &here, json, error);
    case FLC_RECORD_ROWS:
        return write_rows(field, values, flc_record_at(values, field->offset), place, json, error);
    case FLC_RECORD_TABLE:
        memcpy(&first, flc_record_at(values, field->offset), sizeof first);
        return write_rows(field, values, first, place, json, error);
    }
    return FLC_E_INTERNAL;
}

static const char *reason_of(flc_status status)
{
    return status == FLC_E_SCHEMA ? "the text is not UTF-8" : status == FLC_E_NUMBER ? "infinite" : NULL;
}

flc_status flc_record_write(const flc_record_object *object, const void *values, const flc_record_place *place,
                            json_t **json, flc_error *error)
{
    json_t *made = json_object();
    flc_status status = FLC_OK;
    for (const flc_record_field *field = object->fields; field->key != NULL && status == FLC_OK; field++) {
        json_t *value = NULL;
        status = write_field(field, values, place, &value, error);
        if (status != FLC_OK) {
            json_decref(value);
        } else if (json_object_set_new(made, field->key, value) != 0) {
            status = FLC_E_MEMORY;
        }
        if (status != FLC_OK && (error == NULL || error->status == FLC_OK)) {
            flc_record_fail(error, status, place, field->key, -1, flc_nan(), flc_nan(), reason_of(status));
        }
    }
    if (status != FLC_OK) {
        json_decref(made);
        made = NULL;
    }
    *json = made;
    return status;
}
