/* SPDX-License-Identifier: Apache-2.0 */
/* What the files of this library have in common: the head, the hash, and the order in which a file is judged. */
#ifndef FLC_RECORD_FILE_H
#define FLC_RECORD_FILE_H

#include "record_text.h"
#include "record_fields.h"
#include "record_hash.h"

#define FLC_RECORD_METHODS 16

/* A published method that the thing rests on, for people: name in the list of methods, source with edition, provenance.
 */
typedef struct flc_record_method {
    const char *method, *source, *status;
} flc_record_method;

typedef struct flc_record_head {
    const char *format;
    int version;
    const char *library, *bits_contract; /* of the writer */
    const char *sha256;                  /* of the canonical bytes of the thing: its name in tickets and trails */
    const char *head_sha256; /* of the rest of the head, which is for people but must not be edited either */
    flc_record_method methods[FLC_RECORD_METHODS];
    size_t method_count;
} flc_record_head;

extern const flc_record_object flc_record_method_object;

/* Rows of the head, for the table of a file whose struct starts with a flc_record_head. */
#define FLC_RECORD_HEAD_ROWS                                                                                      \
    FLC_RECORD_TEXT_OF(flc_record_head, format, 32), FLC_RECORD_WHOLE_OF(flc_record_head, version),               \
        FLC_RECORD_TEXT_OF(flc_record_head, library, 32), FLC_RECORD_TEXT_OF(flc_record_head, bits_contract, 32), \
        FLC_RECORD_TEXT_OF(flc_record_head, sha256, FLC_HASH_TEXT),                                               \
        FLC_RECORD_TEXT_OF(flc_record_head, head_sha256, FLC_HASH_TEXT),                                          \
        FLC_RECORD_ROWS_OF(flc_record_head, methods, method_count, FLC_RECORD_METHODS, &flc_record_method_object)
#define FLC_RECORD_HEAD_COUNT 7

/* One kind of file. */
typedef struct flc_record_type {
    const char *noun, *format;
    int version;
    const struct flc_record_type *next; /* the next version of the file, or NULL; written where a thing needs it */
    int (*needs_next)(const void *thing);
    const char *other_format;        /* sentence for a file of another format */
    const flc_record_object *object; /* its struct starts with a flc_record_head */
    flc_record_bytes bytes_of;
    /* Set up a zeroed struct for reading. */
    void (*prepare)(void *values);
    /* Fill a zeroed struct from a thing, all but the head; lists are copies. Adds the methods to the head. */
    flc_status (*describe)(const void *thing, void *values);
    /* Make a thing from a struct. */
    flc_status (*make)(const void *values, void **thing, flc_error *error);
    void (*unmake)(void *thing);
} flc_record_type;

/** Add the method of this name to a head. */
void flc_record_add_method(flc_record_head *head, const char *name);

FLC_STATUS flc_record_to_json(const flc_record_type *type, const void *thing, char **text, flc_error *error);

/** Refused in this order: what flc_record_parse refuses; format; version; keys and kinds; what the constructors of the
 *  thing refuse; the hashes; the contract of bits. */
FLC_STATUS flc_record_from_json(const flc_record_type *type, const char *text, size_t length, void **thing,
                                flc_error *error);

#endif
