/* SPDX-License-Identifier: Apache-2.0 */
/* One line of a trail:
 *
 *   {"body":{"entry":N,"previous":"<hash>","at":"<time>","type":"<word>","id":"..","by":"..","data":{..}},
 *    "hash":"<hash>","signature":"<signature>"}
 *
 * without the break, closed by a newline; an unsigned line has no signature. The parts of fixed length are read by
 * their place, so that a million lines are judged in seconds; the hash is that of the bytes of the body. */
#ifndef FLC_TRAIL_LINE_H
#define FLC_TRAIL_LINE_H

#include "flowcomp/trail.h"
#include "disk.h"
#include "signing.h"
#include "utc_text.h"

#define FLC_TRAIL_DOMAIN "flowcomp-trail-1"
#define FLC_TRAIL_FORMAT "flowcomp-trail"
#define FLC_TRAIL_VERSION 1
#define FLC_TRAIL_TEXT_MAX 63   /* bytes of an id, a name or a person */
#define FLC_TRAIL_OVERHEAD 2048 /* more than a line takes beside its data */

/* The head of a trail of no entries: what the first entry follows. */
extern const char flc_trail_no_hash[FLC_HASH_TEXT];

/** Word of an event. */
const char *flc_trail_event_word(flc_trail_event_kind kind);

/* What stands in a line; pointers go into it. */
typedef struct flc_trail_parts {
    const char *body;
    size_t body_size;
    int64_t number;
    const char *previous;  /* 64 digits */
    const char *at;        /* 24 characters */
    const char *type;      /* from here on the body's own text */
    const char *hash;      /* 64 digits */
    const char *signature; /* 128 digits; NULL where unsigned */
} flc_trail_parts;

/** Take a line without its newline apart; 0 where its form is not that of an entry. The hash is not judged. */
int flc_trail_take_apart(const char *line, size_t length, flc_trail_parts *parts);

/** Is the hash that of the body? */
int flc_trail_hash_is_good(const flc_trail_parts *parts);

/** Must an entry of this number and type carry a signature? */
int flc_trail_must_sign(int64_t number, const char *type, int64_t sign_every);

/* What the first entry says of the whole trail. */
typedef struct flc_trail_terms {
    int32_t is_signed;
    int64_t sign_every;
    uint8_t public_key[FLC_KEY_BYTES];
    char name[FLC_TRAIL_TEXT_MAX + 1];
} flc_trail_terms;

/** Terms of a first line.
 *  @return FLC_OK; FLC_E_SCHEMA (no first entry of a trail), FLC_E_VERSION, FLC_E_HASH, FLC_E_MEMORY */
FLC_STATUS flc_trail_read_terms(const char *line, size_t length, flc_trail_terms *terms, flc_error *error);

/** Data of a first entry for these terms, as new text for flc_text_free. */
FLC_STATUS flc_trail_write_terms(const flc_trail_terms *terms, char **data, flc_error *error);

/** A whole line with its newline, as new text for flc_text_free. data is canonical JSON on one line.
 *  @param pair  NULL: unsigned
 *  @param[out] hash  of the entry */
FLC_STATUS flc_trail_make_line(const flc_trail_event *event, const char *data, const flc_trail_head *after,
                               const flc_key_pair *pair, char **line, size_t *length, char *hash, flc_error *error);

/* Lines of a file, one after the other. Zeroed, with disk, file and end set, then started. */
typedef struct flc_trail_reader {
    const flc_disk *disk;
    int file;
    int64_t end;  /* read up to here */
    char *buffer; /* FLC_TRAIL_READ bytes */
    size_t held, place;
    int64_t at;      /* of buffer[0] in the file */
    int64_t line_at; /* of the line given last */
} flc_trail_reader;

typedef enum flc_trail_read {
    FLC_TRAIL_LINE,     /* a line, closed by a newline */
    FLC_TRAIL_PART,     /* what stands behind the last newline */
    FLC_TRAIL_TOO_LONG, /* a line longer than any entry; its first bytes */
    FLC_TRAIL_END,
    FLC_TRAIL_FAILED /* errno says why */
} flc_trail_read;

FLC_STATUS flc_trail_reader_start(flc_trail_reader *reader, flc_error *error);
flc_trail_read flc_trail_next(flc_trail_reader *reader, const char **line, size_t *length);
void flc_trail_reader_end(flc_trail_reader *reader);

#endif
