/* SPDX-License-Identifier: Apache-2.0 */
/* A record is a table of fields: key, kind, place in a C struct. The one table serves writing and reading, so that the
 * two cannot disagree. Not a number and "not chosen" (-1) are written as null. */
#ifndef FLC_RECORD_FIELDS_H
#define FLC_RECORD_FIELDS_H

#include "flowcomp/status.h"
#include "text.h"
#include <jansson.h>
#include <string.h>

typedef enum flc_record_kind {
    FLC_RECORD_NUMBER, /* double */
    FLC_RECORD_WHOLE,  /* int, a number without decimals */
    FLC_RECORD_CHOICE, /* enum */
    FLC_RECORD_TEXT,   /* const char *; read, it points into the JSON tree */
    FLC_RECORD_CHARS,  /* char array */
    FLC_RECORD_LIST,   /* double * and a size_t count */
    FLC_RECORD_OBJECT, /* struct inside the struct */
    FLC_RECORD_ROWS,   /* array of structs inside the struct, and a size_t count */
    FLC_RECORD_TABLE,  /* pointer to an array of structs, and a size_t count */
    FLC_RECORD_SIGNED, /* int32_t */
    FLC_RECORD_LONG,   /* int64_t, 0 to 2^53 */
    FLC_RECORD_TIME    /* int64_t, ms since 1970 UTC, as text; FLC_TIME_NONE is null */
} flc_record_kind;

/* Words of a choice, in the order of its enum. */
typedef struct flc_record_words {
    int first;               /* number of the first word */
    const char *const *word; /* closed by NULL */
} flc_record_words;

struct flc_record_object;

typedef struct flc_record_field {
    const char *key;
    flc_record_kind kind;
    size_t offset;                          /* of the value in the struct */
    size_t count;                           /* list, rows, table: offset of the count */
    size_t room;                            /* text, chars: bytes with the final NUL; rows, table: how many fit */
    const flc_record_words *words;          /* choice */
    const struct flc_record_object *object; /* object, rows and table */
    void (*prepare)(void *row);             /* table: set up a row before it is read */
} flc_record_field;

typedef struct flc_record_object {
    size_t size;                    /* of the struct */
    const flc_record_field *fields; /* closed by a NULL key */
} flc_record_object;

/* One row; the key is the name of the member. In a list, the first that names a count sets it, the others must have as
 * many. The last row of a table is FLC_RECORD_END. */
#define FLC_RECORD_NUMBER_OF(type, member) FLC_RECORD_NUMBER_AT(#member, type, member)
#define FLC_RECORD_CHOICE_OF(type, member, its_words) FLC_RECORD_CHOICE_AT(#member, type, member, its_words)
#define FLC_RECORD_TEXT_OF(type, member, its_room) FLC_RECORD_TEXT_AT(#member, type, member, its_room)
#define FLC_RECORD_OBJECT_OF(type, member, its_object) FLC_RECORD_OBJECT_AT(#member, type, member, its_object)

/* The same with a key of its own, for a member of a member. */
#define FLC_RECORD_NUMBER_AT(its_key, type, member)                                   \
    {                                                                                 \
        .key = (its_key), .kind = FLC_RECORD_NUMBER, .offset = offsetof(type, member) \
    }
#define FLC_RECORD_CHOICE_AT(its_key, type, member, its_words)                                              \
    {                                                                                                       \
        .key = (its_key), .kind = FLC_RECORD_CHOICE, .offset = offsetof(type, member), .words = (its_words) \
    }
#define FLC_RECORD_TEXT_AT(its_key, type, member, its_room)                                             \
    {                                                                                                   \
        .key = (its_key), .kind = FLC_RECORD_TEXT, .offset = offsetof(type, member), .room = (its_room) \
    }
#define FLC_RECORD_OBJECT_AT(its_key, type, member, its_object)                                               \
    {                                                                                                         \
        .key = (its_key), .kind = FLC_RECORD_OBJECT, .offset = offsetof(type, member), .object = (its_object) \
    }
#define FLC_RECORD_WHOLE_OF(type, member)                                          \
    {                                                                              \
        .key = #member, .kind = FLC_RECORD_WHOLE, .offset = offsetof(type, member) \
    }
#define FLC_RECORD_CHARS_OF(type, member)                                           \
    {                                                                               \
        .key = #member, .kind = FLC_RECORD_CHARS, .offset = offsetof(type, member), \
        .room = sizeof(((type *)0)->member)                                         \
    }
#define FLC_RECORD_LIST_OF(type, member, its_count)                                                                   \
    {                                                                                                                 \
        .key = #member, .kind = FLC_RECORD_LIST, .offset = offsetof(type, member), .count = offsetof(type, its_count) \
    }
#define FLC_RECORD_ROWS_OF(type, member, its_count, its_room, its_object)                                              \
    {                                                                                                                  \
        .key = #member, .kind = FLC_RECORD_ROWS, .offset = offsetof(type, member), .count = offsetof(type, its_count), \
        .room = (its_room), .object = (its_object)                                                                     \
    }
#define FLC_RECORD_TABLE_OF(type, member, its_count, its_room, its_object, its_prepare)                          \
    {                                                                                                            \
        .key = #member, .kind = FLC_RECORD_TABLE, .offset = offsetof(type, member),                              \
        .count = offsetof(type, its_count), .room = (its_room), .object = (its_object), .prepare = (its_prepare) \
    }
#define FLC_RECORD_SIGNED_OF(type, member)                                          \
    {                                                                               \
        .key = #member, .kind = FLC_RECORD_SIGNED, .offset = offsetof(type, member) \
    }
#define FLC_RECORD_LONG_OF(type, member)                                          \
    {                                                                             \
        .key = #member, .kind = FLC_RECORD_LONG, .offset = offsetof(type, member) \
    }
#define FLC_RECORD_TIME_AT(its_key, type, member)                                   \
    {                                                                               \
        .key = (its_key), .kind = FLC_RECORD_TIME, .offset = offsetof(type, member) \
    }
#define FLC_RECORD_END \
    {                  \
        .key = NULL    \
    }

/* A member of a struct by its offset, and a count there. */
static inline const void *flc_record_at(const void *values, size_t offset)
{
    return (const char *)values + offset;
}

static inline void *flc_record_slot(void *values, size_t offset)
{
    return (char *)values + offset;
}

static inline size_t flc_record_count(const void *values, size_t offset)
{
    size_t count;
    memcpy(&count, flc_record_at(values, offset), sizeof count);
    return count;
}

/* Where in the JSON we are; lives on the stack of the walk. */
typedef struct flc_record_place {
    const struct flc_record_place *up; /* NULL at the root */
    const char *key;                   /* "" at the root */
    int64_t index;                     /* -1 where the key holds no array */
} flc_record_place;

/** Append words with '?' for whatever is not printable ASCII: no file can spoil a message. */
void flc_record_add_clean(flc_text *text, const char *words);

/** flc_fail with the JSON path of a key as argument ("body.housing.alpha_per_k"). */
flc_status flc_record_fail(flc_error *error, flc_status status, const flc_record_place *place, const char *key,
                           int64_t index, double value, double limit, const char *hint);

/** Put a prefix before argument and message of an error that a constructor has filled. */
void flc_record_prefix(flc_error *error, const char *prefix);

/** Struct to JSON.
 *  @return FLC_OK with a new reference; FLC_E_MEMORY; what a file cannot hold: FLC_E_NUMBER (infinite), FLC_E_CHOICE
 * (no word for it), FLC_E_SCHEMA (text is not UTF-8) */
FLC_STATUS flc_record_write(const flc_record_object *object, const void *values, const flc_record_place *place,
                            json_t **json, flc_error *error);

/** JSON to struct. Lists are allocated: flc_record_release gives them back, also after a failure. The struct must have
 *  been set up: zero, or by its initialiser.
 *  @return FLC_OK; FLC_E_SCHEMA, FLC_E_CHOICE, FLC_E_COUNT, FLC_E_BUFFER, FLC_E_MEMORY */
FLC_STATUS flc_record_read(const flc_record_object *object, const json_t *json, const flc_record_place *place,
                           void *values, flc_error *error);

/** Give back the lists of a struct that flc_record_read, or flc_record_copy_list, has filled. */
void flc_record_release(const flc_record_object *object, void *values);

/** A copy of a list, to be given back by flc_record_release; NULL for an empty one or when memory has run out. */
double *flc_record_copy_list(const double *from, size_t count);

#endif
