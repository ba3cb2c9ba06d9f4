/* SPDX-License-Identifier: Apache-2.0 */
#include "record_fields.h"
#include "error.h"
#include "memory.h"

/* ---- errors ---- */

void flc_record_add_clean(flc_text *text, const char *words)
{
    for (; *words != '\0'; words++) {
        const char one[2] = {*words >= ' ' && *words <= '~' ? *words : '?', '\0'};
        flc_text_add(text, one);
    }
}

static void add_place(flc_text *text, const flc_record_place *place)
{
    if (place->up == NULL) {
        return;
    }
    add_place(text, place->up);
    flc_record_add_clean(text, place->key);
    if (place->index >= 0) {
        flc_text_add(text, "[");
        flc_text_add_integer(text, place->index);
        flc_text_add(text, "]");
    }
    flc_text_add(text, ".");
}

flc_status flc_record_fail(flc_error *error, flc_status status, const flc_record_place *place, const char *key,
                           int64_t index, double value, double limit, const char *hint)
{
    char path[sizeof error->argument];
    flc_text text = flc_text_start(path, sizeof path);
    add_place(&text, place);
    flc_record_add_clean(&text, key);
    return flc_fail(error, status, path, index, value, limit, hint);
}

static void put_before(char *room, size_t size, const char *prefix)
{
    size_t ahead = strlen(prefix), kept = strlen(room);
    if (ahead + kept >= size) {
        kept = size - 1 - ahead;
    }
    memmove(room + ahead, room, kept);
    memcpy(room, prefix, ahead);
    room[ahead + kept] = '\0';
}

void flc_record_prefix(flc_error *error, const char *prefix)
{
    if (error != NULL && error->argument[0] != '\0') {
        put_before(error->argument, sizeof error->argument, prefix);
        put_before(error->message, sizeof error->message, prefix);
    }
}

/* ---- memory of lists ---- */

double *flc_record_copy_list(const double *from, size_t count)
{
    double *copy = count > 0 ? flc_allocate_array(count, sizeof *copy) : NULL;
    if (copy != NULL) {
        memcpy(copy, from, count * sizeof *copy);
    }
    return copy;
}

void flc_record_release(const flc_record_object *object, void *values)
{
    for (const flc_record_field *field = object->fields; field->key != NULL; field++) {
        if (field->kind == FLC_RECORD_OBJECT) {
            flc_record_release(field->object, flc_record_slot(values, field->offset));
        } else if (field->kind == FLC_RECORD_LIST || field->kind == FLC_RECORD_TABLE) {
            void *list;
            memcpy(&list, flc_record_at(values, field->offset), sizeof list);
            flc_release(list);
        }
    }
}
