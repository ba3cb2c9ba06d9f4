/* SPDX-License-Identifier: Apache-2.0 */
/* Checking a whole trail. After something was found the check goes on from what the line says, so that one edit is one
 * finding and not a million. */
#include "record_text.h"
#include "trail_core.h"
#include "record_hash.h"
#include "error.h"
#include "struct_size.h"
#include <string.h>

static const char *const reason_words[] = {
#define WORD(name, word, meaning) word,
    FLC_TRAIL_REASON_LIST(WORD)
#undef WORD
};
static const char *const reason_texts[] = {
#define TEXT(name, word, meaning) meaning,
    FLC_TRAIL_REASON_LIST(TEXT)
#undef TEXT
};

const char *flc_trail_reason_word(flc_trail_reason reason)
{
    return (int)reason >= 0 && reason < FLC_TRAIL_REASON_COUNT ? reason_words[reason] : NULL;
}

const char *flc_trail_reason_text(flc_trail_reason reason)
{
    return (int)reason >= 0 && reason < FLC_TRAIL_REASON_COUNT ? reason_texts[reason] : NULL;
}

void flc_trail_report_init_sized(flc_trail_report *report, size_t own_size)
{
    const flc_trail_report fresh = {.size = sizeof fresh};
    flc_give_sized(report, own_size, &fresh, sizeof fresh);
}

const char *flc_trail_report_text(const flc_trail_report *report)
{
    if (report == NULL || !report->is_signed) {
        return "This trail is not signed: it protects against accidents only, because whoever can write the file can "
               "rewrite all of it.";
    }
    if (!report->key_given) {
        return "This trail is signed, but its signatures were judged by the key that the trail itself names: give the "
               "key that you trust.";
    }
    if (!report->head_given) {
        return "This trail is signed and its signatures were judged by the key given; that no last entries were cut "
               "off is known only against a head held elsewhere.";
    }
    return "This trail is signed, its signatures were judged by the key given and its end by a head held elsewhere: "
           "it protects against whoever does not hold the key.";
}

typedef flc_trail_judge check;

static void find(check *c, flc_trail_reason reason, int64_t entry)
{
    flc_trail_report *report = c->report;
    if ((uint64_t)report->findings < c->capacity) {
        c->found[report->findings] = (flc_trail_finding){reason, entry, c->line, c->byte};
    }
    report->findings++;
}

static void judge_signature(check *c, const flc_trail_parts *parts)
{
    flc_trail_report *report = c->report;
    report->unsigned_last++;
    if (!c->terms.is_signed) {
        if (parts->signature != NULL) {
            find(c, FLC_TRAIL_IS_SIGNATURE, parts->number);
        }
        return;
    }
    if (parts->signature == NULL) {
        if (flc_trail_must_sign(parts->number, parts->type, c->terms.sign_every)) {
            find(c, FLC_TRAIL_IS_UNSIGNED, parts->number);
        }
        return;
    }
    report->unsigned_last = 0;
    if (!c->signatures) {
        return;
    }
    if (flc_signature_is_good(c->terms.public_key, FLC_TRAIL_DOMAIN, parts->hash, parts->signature)) {
        report->signatures++;
    } else {
        find(c, FLC_TRAIL_IS_SIGNATURE, parts->number);
    }
}

/* Its place in the chain; 0 where it stands behind its place, and the chain goes on without it. */
static int judge_place(check *c, const flc_trail_parts *parts)
{
    if (parts->number < c->next) {
        find(c, FLC_TRAIL_IS_ORDER, parts->number);
        return 0;
    }
    if (parts->number > c->next) {
        find(c, FLC_TRAIL_IS_GAP, c->next);
    } else if (c->hash_known && memcmp(parts->previous, c->report->head.hash, FLC_HASH_DIGITS) != 0) {
        find(c, FLC_TRAIL_IS_CHAIN, parts->number);
    }
    return 1;
}

static void judge_expected(check *c, const flc_trail_parts *parts)
{
    if (c->expected != NULL && parts->number == c->expected->number &&
        memcmp(parts->hash, c->expected->hash, FLC_HASH_DIGITS) != 0) {
        find(c, FLC_TRAIL_IS_HEAD, parts->number);
    }
}

static void judge_line(check *c, const char *line, size_t length)
{
    flc_trail_report *report = c->report;
    flc_trail_parts parts;
    if (!flc_trail_take_apart(line, length, &parts)) {
        find(c, FLC_TRAIL_IS_FORM, c->next);
        c->next++;
        c->hash_known = 0;
        return;
    }
    if (!flc_trail_hash_is_good(&parts)) {
        find(c, FLC_TRAIL_IS_EDITED, parts.number);
    }
    const int in_place = judge_place(c, &parts);
    judge_signature(c, &parts);
    if (!in_place) {
        return;
    }
    judge_expected(c, &parts);
    report->clock_backwards += parts.number > 1 && memcmp(parts.at, c->at, FLC_UTC_LENGTH) < 0;
    memcpy(c->at, parts.at, FLC_UTC_LENGTH);
    memcpy(report->head.hash, parts.hash, FLC_HASH_DIGITS);
    report->head.number = parts.number;
    c->hash_known = 1;
    c->next = parts.number + 1;
}

void flc_trail_judge_end(flc_trail_judge *c)
{
    if (c->expected != NULL && c->report->head.number < c->expected->number) {
        find(c, FLC_TRAIL_IS_CUT, c->report->head.number + 1);
    }
    c->report->intact = c->report->findings == 0;
}

flc_status flc_trail_judge_start(flc_trail_judge *c, const char *line, size_t length, const uint8_t *public_key,
                                 flc_error *error)
{
    flc_trail_report *report = c->report;
    flc_status status = flc_trail_read_terms(line, length, &c->terms, error);
    if (status != FLC_OK) {
        return status;
    }
    report->is_signed = c->terms.is_signed;
    memcpy(report->public_key, c->terms.public_key, FLC_KEY_BYTES);
    memcpy(report->name, c->terms.name, sizeof report->name);
    memcpy(report->head.hash, flc_trail_no_hash, FLC_HASH_TEXT);
    c->next = 1;
    c->hash_known = 1;
    if (public_key != NULL && (!c->terms.is_signed || memcmp(public_key, c->terms.public_key, FLC_KEY_BYTES) != 0)) {
        c->line = 1;
        find(c, FLC_TRAIL_IS_KEY, 1);
        c->line = 0;
    }
    return FLC_OK;
}

void flc_trail_judge_line(flc_trail_judge *c, flc_trail_read what, const char *line, size_t length, int64_t at)
{
    c->line++;
    c->byte = at;
    c->report->lines++;
    if (what == FLC_TRAIL_LINE) {
        judge_line(c, line, length);
    } else {
        find(c, what == FLC_TRAIL_PART ? FLC_TRAIL_IS_TORN : FLC_TRAIL_IS_FORM, c->next);
        c->next += what != FLC_TRAIL_PART;
        c->hash_known = 0;
    }
}

static flc_status check_lines(check *c, flc_trail_reader *reader, const uint8_t *public_key, flc_error *error)
{
    const char *line = "";
    size_t length = 0;
    int64_t lines = 0;
    flc_trail_read what;
    while ((what = flc_trail_next(reader, &line, &length)) != FLC_TRAIL_END || lines == 0) {
        if (what == FLC_TRAIL_FAILED) {
            return flc_disk_fail(error, "path");
        }
        if (lines++ == 0) {
            flc_status status = flc_trail_judge_start(c, line, length, public_key, error);
            if (status != FLC_OK) {
                return status;
            }
        }
        flc_trail_judge_line(c, what, line, length, reader->line_at);
    }
    flc_trail_judge_end(c);
    return FLC_OK;
}

static flc_status check_file(const flc_disk *disk, int file, check *c, const uint8_t *public_key, flc_error *error)
{
    flc_trail_reader reader = {.disk = disk, .file = file, .end = disk->size(disk->self, file)};
    if (reader.end < 0) {
        return flc_disk_fail(error, "path");
    }
    flc_status status = flc_trail_reader_start(&reader, error);
    if (status == FLC_OK) {
        status = check_lines(c, &reader, public_key, error);
    }
    flc_trail_reader_end(&reader);
    return status;
}

static flc_status check_path(const flc_disk *disk, const char *path, check *c, const uint8_t *public_key,
                             flc_error *error)
{
    if (!flc_start_sodium()) {
        return flc_fail(error, FLC_E_LIBRARY, "", -1, flc_nan(), flc_nan(), NULL);
    }
    const int file = disk->open(disk->self, path, FLC_DISK_READ);
    if (file < 0) {
        return flc_disk_fail(error, "path");
    }
    flc_status status = check_file(disk, file, c, public_key, error);
    disk->close(disk->self, file);
    return status;
}

flc_status flc_trail_check_on(const flc_disk *disk, const char *path, const uint8_t *public_key,
                              const flc_trail_head *expected, int signatures, flc_trail_report *report,
                              flc_trail_finding *found, size_t capacity, flc_error *error)
{
    flc_error_clear(error);
    if (path == NULL || report == NULL || (found == NULL && capacity > 0)) {
        return flc_fail(error, FLC_E_NULL,
                        path == NULL     ? "path"
                        : report == NULL ? "report"
                                         : "found",
                        -1, flc_nan(), flc_nan(), NULL);
    }
    if (report->size != sizeof *report) {
        return flc_fail(error, FLC_E_SIZE, "report", -1, (double)report->size, (double)sizeof *report, NULL);
    }
    flc_trail_report_init(report);
    report->key_given = public_key != NULL;
    report->head_given = expected != NULL && expected->number > 0;
    check c = {.report = report, .found = found, .capacity = capacity, .signatures = signatures, .line = 0};
    c.expected = report->head_given ? expected : NULL;
    flc_record_host host;
    flc_status status = flc_record_enter(&host, error);
    if (status == FLC_OK) {
        status = check_path(disk, path, &c, public_key, error);
        flc_record_leave(&host);
    }
    if (status != FLC_OK) {
        report->intact = 0;
    }
    return status;
}

flc_status flc_trail_check(const char *path, const uint8_t *public_key, const flc_trail_head *expected, int signatures,
                           flc_trail_report *report, flc_trail_finding *found, size_t capacity, flc_error *error)
{
    return flc_trail_check_on(&flc_disk_of_system, path, public_key, expected, signatures, report, found, capacity,
                              error);
}
