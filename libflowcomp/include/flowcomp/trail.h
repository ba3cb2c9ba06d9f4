/* SPDX-License-Identifier: Apache-2.0 */
/* The trail: an append-only file of what happened to a measurement. One line per entry, a JSON object that a person
 * can read; each entry carries the SHA-256 of the one before, so that edits, deletions, reordering and gaps are found
 * and located; Ed25519 signatures tell who wrote it. The form is said in schema/trail.md, so that anybody can check a
 * trail without this library.
 *
 * What it protects against: an unsigned trail, against accidents only, because whoever can write the file can rewrite
 * all of it; a signed one, against whoever does not hold the key. Cutting off whole last entries is found only against
 * a head held elsewhere, such as the one in the last ticket. Keys come from the caller, and keeping them is his part.
 *
 * An append is acknowledged (FLC_OK) once it is on the disk. What a crash left torn behind the last entry is moved into
 * a file beside the trail and named in the report of the opening; nothing before it is lost. One writer at a time:
 * others wait or are refused. This library, unlike the run-time library, uses POSIX beside C11. */
#ifndef FLOWCOMP_TRAIL_H
#define FLOWCOMP_TRAIL_H

#include "flowcomp/proving.h"
#include "flowcomp/records.h"

FLC_BEGIN_DECLS

#define FLC_KEY_BYTES 32              /* an Ed25519 seed (RFC 8032 private key), or a public key */
#define FLC_TRAIL_ENTRY_MAX (1 << 20) /* bytes of a line */

/** Public key of a seed.
 *  @param seed  FLC_KEY_BYTES bytes, secret
 *  @param[out] public_key  room for FLC_KEY_BYTES bytes
 *  @return FLC_OK; FLC_E_NULL, FLC_E_LIBRARY
 *  @source RFC 8032
 *  @since 0.1 */
FLC_API FLC_STATUS flc_public_key(const uint8_t *seed, uint8_t *public_key);

/* What an entry is about, listed once: name, word, meaning. A caller appends those from CONFIGURATION to HEAD. */
#define FLC_TRAIL_EVENT_LIST(ROW)                                                        \
    ROW(OPENED, "opened", "first entry: name of the trail, key, how often it is signed") \
    ROW(CONFIGURATION, "configuration", "something was set: before and after")           \
    ROW(PROVING, "proving", "a proving, accepted or refused")                            \
    ROW(TICKET, "ticket", "a ticket: its SHA-256 and figures")                           \
    ROW(CORRECTION, "correction", "a corrected value: old, new, reason")                 \
    ROW(HEAD, "head", "nothing but a signature on all that stands before")               \
    ROW(SET_ASIDE, "set_aside", "a torn end was found at the opening and moved elsewhere")

typedef enum flc_trail_event_kind {
#define FLC_TRAIL_EVENT_NUMBER(name, word, meaning) FLC_TRAIL_##name,
    FLC_TRAIL_EVENT_LIST(FLC_TRAIL_EVENT_NUMBER)
#undef FLC_TRAIL_EVENT_NUMBER
        FLC_TRAIL_EVENT_COUNT
} flc_trail_event_kind;

/** Kind from its word ("configuration", "proving", "ticket", "correction", "head"; also "opened", "set_aside").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_trail_event_kind_from_name(const char *name, flc_trail_event_kind *choice);

/* An entry's place and hash: the head of a trail is that of its last entry. */
typedef struct flc_trail_head {
    int64_t number;           /* 1, 2, ...; 0: none */
    char hash[FLC_HASH_TEXT]; /* SHA-256, 64 hexadecimal digits; "" for none */
} flc_trail_head;

/* How a trail is opened for appending. Set up by flc_trail_options_init, then filled in. */
typedef struct flc_trail_options {
    uint32_t size;
    const uint8_t *seed; /* FLC_KEY_BYTES bytes, secret; NULL: only where unsigned_allowed, or a trail without key */
    int32_t unsigned_allowed; /* 1: a new trail may be without key: it then protects against accidents only; 0 */
    int32_t create;           /* 1: make the trail where there is none; 0 */
    int32_t wait;             /* 1: wait for another writer to finish; 0: refuse with FLC_E_BUSY */
    int32_t sign_every;       /* of a new trail: a signature on every n-th entry, 1 to 1000000; 1 */
    const char *name;         /* of a new trail: site or purpose, up to 63 bytes; "" */
    int64_t at_ms; /* time of the entries made by the opening itself, ms since 1970 UTC, or FLC_TIME_NONE; required */
} flc_trail_options;

/** Set up options: size, the defaults above, no key, time unknown.
 *  @param[out] options  never NULL
 *  @since 0.1 */
FLC_API void flc_trail_options_init_sized(flc_trail_options *options, size_t own_size);
#define flc_trail_options_init(options) flc_trail_options_init_sized((options), sizeof *(options))

/* What was found at the opening. */
typedef struct flc_trail_opening {
    int32_t created;          /* 1: the trail is new */
    int32_t is_signed;        /* 0: it protects against accidents only */
    int64_t set_aside_bytes;  /* torn bytes behind the last entry, moved to set_aside_path; 0: none */
    char set_aside_path[512]; /* "" */
} flc_trail_opening;

typedef struct flc_trail flc_trail; /* one writer; not to be used by two threads at once */

/** Open a trail for appending. Its first and last entries are judged, not the whole chain: flc_trail_check does that.
 *  @param path     of the file
 *  @param options  from flc_trail_options_init, filled in
 *  @param[out] trail    new handle, to be closed by flc_trail_free; NULL on failure
 *  @param[out] opening  what was found; may be NULL
 *  @param[out] error    detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_MISSING (no key and not unsigned_allowed; a signed trail without its
 *          key; the time), FLC_E_BELOW, FLC_E_ABOVE (sign_every, time), FLC_E_BUFFER (name, path), FLC_E_CONFLICT
 * (another key than the trail's), FLC_E_BUSY, FLC_E_FILE (value is errno), FLC_E_SCHEMA (not a trail), FLC_E_VERSION,
 *          FLC_E_HASH (more is damaged than a torn end), FLC_E_SIGNATURE (first entry), FLC_E_MEMORY, FLC_E_LIBRARY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_trail_open(const char *path, const flc_trail_options *options, flc_trail **trail,
                                  flc_trail_opening *opening, flc_error *error);

/** Close; NULL is allowed. Nothing acknowledged depends on it.
 *  @since 0.1 */
FLC_API void flc_trail_free(flc_trail *trail);

/* One event. Set up by flc_trail_event_init, then filled in. */
typedef struct flc_trail_event {
    uint32_t size;
    flc_trail_event_kind kind;
    int64_t at_ms;    /* when, ms since 1970 UTC, as the caller's clock has it; required */
    const char *id;   /* of the ticket, proving, configuration item or corrected value, up to 63 bytes; a ticket or
                         proving needs one that the trail does not have yet */
    const char *by;   /* who, up to 63 bytes; a correction needs one; "" */
    const char *data; /* a JSON object, up to half of FLC_TRAIL_ENTRY_MAX; NULL: {}. A configuration needs the keys
                         before and after, a proving accepted, a ticket sha256, a correction old, new and reason */
} flc_trail_event;

/** Set up an event: size, nothing chosen, time unknown, empty texts.
 *  @param[out] event  never NULL
 *  @since 0.1 */
FLC_API void flc_trail_event_init_sized(flc_trail_event *event, size_t own_size);
#define flc_trail_event_init(event) flc_trail_event_init_sized((event), sizeof *(event))

/** Append one entry; FLC_OK once it is on the disk. After a failure the file ends where it ended before; where even
 * that could not be done, the handle refuses further entries (FLC_E_FILE) and the next opening sets the rest aside.
 *  @param trail  from flc_trail_open
 *  @param event  from flc_trail_event_init, filled in
 *  @param[out] head   the new entry; on failure the last one; may be NULL
 *  @param[out] error  detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CHOICE, FLC_E_MISSING (time, id, who, a key of data), FLC_E_BELOW,
 *          FLC_E_ABOVE (time, size), FLC_E_BUFFER, FLC_E_DUPLICATE (ticket or proving of this id), what reading refuses
 *          of data (records.h), FLC_E_FILE (value is errno: a full disk, a read-only file), FLC_E_MEMORY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_trail_append(flc_trail *trail, const flc_trail_event *event, flc_trail_head *head,
                                    flc_error *error);

/** Head of the trail: the last entry acknowledged.
 *  @param trail  from flc_trail_open
 *  @param[out] head  its number and hash
 *  @return FLC_OK, FLC_E_NULL
 *  @since 0.1 */
FLC_API FLC_STATUS flc_trail_head_of(const flc_trail *trail, flc_trail_head *head);

/* What a check can find, listed once: name, word, meaning. */
#define FLC_TRAIL_REASON_LIST(ROW)                                                                          \
    ROW(FORM, "form", "the line is no entry: its form was broken")                                          \
    ROW(EDITED, "edited", "the entry does not match its own hash: it was damaged or edited")                \
    ROW(GAP, "gap", "entries are missing before this one")                                                  \
    ROW(ORDER, "order", "the entry stands behind one of the same or a later number: reordered or repeated") \
    ROW(CHAIN, "chain", "the entry does not follow the one before it, which was changed or replaced")       \
    ROW(SIGNATURE, "signature", "the signature is not by the key")                                          \
    ROW(UNSIGNED, "unsigned", "the entry should be signed and is not")                                      \
    ROW(KEY, "key", "the trail names another key than the one expected")                                    \
    ROW(TORN, "torn", "the file ends within an entry")                                                      \
    ROW(CUT, "cut", "entries were cut off the end: the head held elsewhere is a later one")                 \
    ROW(HEAD, "head", "the entry is not the one whose hash is held elsewhere")

typedef enum flc_trail_reason {
#define FLC_TRAIL_REASON_NUMBER(name, word, meaning) FLC_TRAIL_IS_##name,
    FLC_TRAIL_REASON_LIST(FLC_TRAIL_REASON_NUMBER)
#undef FLC_TRAIL_REASON_NUMBER
        FLC_TRAIL_REASON_COUNT
} flc_trail_reason;

/** Word and sentence of a reason; NULL past the last.
 *  @since 0.1 */
FLC_API const char *flc_trail_reason_word(flc_trail_reason reason);
FLC_API const char *flc_trail_reason_text(flc_trail_reason reason);

/* One thing found. */
typedef struct flc_trail_finding {
    flc_trail_reason reason;
    int64_t entry; /* number of the entry, as it should be at that place */
    int64_t line;  /* 1, 2, ... in the file */
    int64_t byte;  /* where that line starts */
} flc_trail_finding;

/* What a check says. Set up by flc_trail_report_init. */
typedef struct flc_trail_report {
    uint32_t size;
    int32_t intact;     /* 1: nothing was found */
    int32_t is_signed;  /* 1: the trail has a key; 0: it protects against accidents only */
    int32_t key_given;  /* 1: signatures were judged by the caller's key; 0: by the one that the trail itself names */
    int32_t head_given; /* 1: the end was judged against a head held elsewhere */
    int64_t lines;      /* in the file */
    int64_t signatures; /* good ones */
    int64_t unsigned_last;   /* entries behind the last signature */
    int64_t clock_backwards; /* entries whose time is before that of the one before: a remark, not a finding */
    int64_t findings;        /* all, also those there was no room for */
    flc_trail_head head;     /* last entry */
    uint8_t public_key[FLC_KEY_BYTES]; /* that the trail names; zero where none */
    char name[64];
} flc_trail_report;

/** Set up a report: size, zero elsewhere.
 *  @param[out] report  never NULL
 *  @since 0.1 */
FLC_API void flc_trail_report_init_sized(flc_trail_report *report, size_t own_size);
#define flc_trail_report_init(report) flc_trail_report_init_sized((report), sizeof *(report))

/** What a report protects against, in one sentence that belongs into everything made from it.
 *  @param report  of flc_trail_check; NULL: as for a trail that is not signed
 *  @return the sentence; never NULL
 *  @since 0.1 */
FLC_API const char *flc_trail_report_text(const flc_trail_report *report);

/** Check a whole trail: every hash, number and signature. The status says whether the check could run; the report says
 *  what it found.
 *  @param path        of the file
 *  @param public_key  FLC_KEY_BYTES bytes that the caller trusts, or NULL: that of the trail itself
 *  @param expected    head held elsewhere, or NULL
 *  @param signatures  0: hashes and numbers only
 *  @param[out] report    from flc_trail_report_init
 *  @param[out] found     room for capacity findings, or NULL with 0
 *  @param capacity  room
 *  @param[out] error  detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_FILE (value is errno), FLC_E_SCHEMA (not a trail: no first entry),
 *          FLC_E_VERSION, FLC_E_MEMORY, FLC_E_LIBRARY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_trail_check(const char *path, const uint8_t *public_key, const flc_trail_head *expected,
                                   int signatures, flc_trail_report *report, flc_trail_finding *found, size_t capacity,
                                   flc_error *error);

FLC_END_DECLS

#endif
