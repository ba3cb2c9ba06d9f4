/* SPDX-License-Identifier: Apache-2.0 */
/* The writer behind flc_trail, and its door for tests, which bring a disk of their own. */
#ifndef FLC_TRAIL_CORE_H
#define FLC_TRAIL_CORE_H

#include "trail_line.h"

#define FLC_TRAIL_PATH_MAX 500

struct flc_trail {
    const flc_disk *disk;
    int file;
    int64_t end; /* of the last entry, which is on the disk */
    flc_trail_head head;
    flc_trail_terms terms;
    flc_key_pair pair; /* of a signed trail */
    int broken;        /* the end of the file is not known any more */
    char path[FLC_TRAIL_PATH_MAX + 1];
};

/** flc_trail_open on a disk. */
FLC_STATUS flc_trail_open_on(const flc_disk *disk, const char *path, const flc_trail_options *options,
                             flc_trail **trail, flc_trail_opening *opening, flc_error *error);

/** Write one entry of any kind and bring it to the disk; event and data have been judged. */
FLC_STATUS flc_trail_put(flc_trail *trail, const flc_trail_event *event, const char *data, flc_error *error);

/** Find the last entry of an open file, and move a torn end aside. */
FLC_STATUS flc_trail_find_end(flc_trail *trail, int64_t at_ms, flc_trail_opening *opening, flc_error *error);

/** flc_trail_check on a disk. */
FLC_STATUS flc_trail_check_on(const flc_disk *disk, const char *path, const uint8_t *public_key,
                              const flc_trail_head *expected, int signatures, flc_trail_report *report,
                              flc_trail_finding *found, size_t capacity, flc_error *error);

/* A check under way: a fold over the lines. Zeroed, with report, room for findings, expected and signatures set. */
typedef struct flc_trail_judge {
    flc_trail_report *report;
    flc_trail_finding *found;
    size_t capacity;
    const flc_trail_head *expected; /* NULL: none is held elsewhere */
    int signatures;
    flc_trail_terms terms;
    int64_t next;            /* number that should come */
    int hash_known;          /* 0 behind a line that could not be read */
    char at[FLC_UTC_LENGTH]; /* of the entry before */
    int64_t line, byte;      /* where we are */
} flc_trail_judge;

/** Take the terms from the first line, which is then judged like any other. */
FLC_STATUS flc_trail_judge_start(flc_trail_judge *judge, const char *line, size_t length, const uint8_t *public_key,
                                 flc_error *error);
void flc_trail_judge_line(flc_trail_judge *judge, flc_trail_read what, const char *line, size_t length, int64_t at);
void flc_trail_judge_end(flc_trail_judge *judge);

/** Is a text at most so long, and UTF-8?
 *  @return FLC_OK; FLC_E_BUFFER, FLC_E_SCHEMA, FLC_E_MEMORY */
FLC_STATUS flc_trail_check_text(const char *words, size_t longest, const char *argument, flc_error *error);

#endif
