/* SPDX-License-Identifier: Apache-2.0 */
/* Appending: judge the event, make its line, write it behind the last entry, bring it to the disk. Only then is it the
 * head of the trail. */
#include "canonical_json.h"
#include "trail_core.h"
#include "error.h"
#include "memory.h"
#include <errno.h>
#include <string.h>

#define DATA_MAX (FLC_TRAIL_ENTRY_MAX / 2)

static flc_status fail(flc_error *error, flc_status status, const char *argument, const char *hint)
{
    return flc_fail(error, status, argument, -1, flc_nan(), flc_nan(), hint);
}

void flc_trail_event_init(flc_trail_event *event)
{
    *event = (flc_trail_event){.size = sizeof *event, .at_ms = FLC_TIME_NONE, .id = "", .by = ""};
    event->kind = FLC_TRAIL_EVENT_COUNT; /* not chosen */
}

/* ---- judging an event ---- */

flc_status flc_trail_check_text(const char *words, size_t longest, const char *argument, flc_error *error)
{
    const size_t length = strlen(words);
    if (length > longest) {
        return flc_fail(error, FLC_E_BUFFER, argument, -1, (double)length, (double)longest,
                        "bytes of text; shorten it");
    }
    json_error_t reason;
    memset(&reason, 0, sizeof reason);
    json_t *made = json_pack_ex(&reason, 0, "s", words);
    if (made == NULL) {
        const int utf8 = json_error_code(&reason) == json_error_invalid_utf8;
        return fail(error, utf8 ? FLC_E_SCHEMA : FLC_E_MEMORY, argument, utf8 ? "the text is not UTF-8" : NULL);
    }
    json_decref(made);
    return FLC_OK;
}

static const char *const *needed_keys(flc_trail_event_kind kind)
{
    static const char *const none[] = {NULL};
    static const char *const configuration[] = {"before", "after", NULL};
    static const char *const proving[] = {"accepted", NULL};
    static const char *const ticket[] = {"sha256", NULL};
    static const char *const correction[] = {"old", "new", "reason", NULL};
    switch (kind) {
    case FLC_TRAIL_CONFIGURATION:
        return configuration;
    case FLC_TRAIL_PROVING:
        return proving;
    case FLC_TRAIL_TICKET:
        return ticket;
    case FLC_TRAIL_CORRECTION:
        return correction;
    default:
        return none;
    }
}

static int needs_id(flc_trail_event_kind kind)
{
    return kind == FLC_TRAIL_TICKET || kind == FLC_TRAIL_PROVING;
}

static flc_status check_event(const flc_trail_event *event, flc_error *error)
{
    if (event->size != sizeof *event) {
        return flc_fail(error, FLC_E_SIZE, "event", -1, (double)event->size, (double)sizeof *event, NULL);
    }
    if (event->id == NULL || event->by == NULL) {
        return fail(error, FLC_E_NULL, event->id == NULL ? "id" : "by", NULL);
    }
    if ((int)event->kind < FLC_TRAIL_CONFIGURATION || event->kind > FLC_TRAIL_HEAD) {
        return fail(error, FLC_E_CHOICE, "kind", "configuration, proving, ticket, correction or head");
    }
    if (event->at_ms == FLC_TIME_NONE) {
        return fail(error, FLC_E_MISSING, "at_ms", NULL);
    }
    flc_status status =
        flc_check_range(error, "at_ms", -1, (double)event->at_ms, (double)FLC_UTC_LOW, (double)FLC_UTC_HIGH);
    if (status == FLC_OK) {
        status = flc_trail_check_text(event->id, FLC_TRAIL_TEXT_MAX, "id", error);
    }
    if (status == FLC_OK && needs_id(event->kind) && event->id[0] == '\0') {
        return fail(error, FLC_E_MISSING, "id", "a ticket or proving needs one");
    }
    if (status == FLC_OK) {
        status = flc_trail_check_text(event->by, FLC_TRAIL_TEXT_MAX, "by", error);
    }
    if (status == FLC_OK && event->kind == FLC_TRAIL_CORRECTION && event->by[0] == '\0') {
        return fail(error, FLC_E_MISSING, "by", "say who corrects");
    }
    return status;
}

static flc_status check_data(const flc_trail_event *event, const json_t *data, flc_error *error)
{
    if (!json_is_object(data)) {
        return fail(error, FLC_E_SCHEMA, "data", "a JSON object belongs here");
    }
    for (const char *const *key = needed_keys(event->kind); *key != NULL; key++) {
        if (json_object_get(data, *key) == NULL) {
            return fail(error, FLC_E_MISSING, *key, "a key of data");
        }
    }
    return FLC_OK;
}

/* Data in its one form. */
static flc_status read_data(const flc_trail_event *event, char **data, flc_error *error)
{
    const char *given = event->data != NULL ? event->data : "{}";
    json_t *tree = NULL;
    flc_status status = flc_record_parse(given, strlen(given), &tree, error);
    if (status == FLC_OK) {
        status = check_data(event, tree, error);
    }
    if (status == FLC_OK) {
        status = flc_json_canonical(tree, FLC_JSON_ONE_LINE, data, error);
    }
    json_decref(tree);
    if (status == FLC_OK && strlen(*data) > DATA_MAX) {
        status = flc_fail(error, FLC_E_ABOVE, "data", -1, (double)strlen(*data), (double)DATA_MAX, "bytes");
        flc_text_free(*data);
        *data = NULL;
    }
    return status;
}

/* ---- one identifier, one ticket ---- */

static flc_status look_for(flc_trail_reader *reader, const char *wanted, flc_error *error)
{
    const size_t size = strlen(wanted);
    const char *line;
    size_t length;
    flc_trail_read what;
    while ((what = flc_trail_next(reader, &line, &length)) != FLC_TRAIL_END) {
        flc_trail_parts parts;
        if (what == FLC_TRAIL_FAILED) {
            return flc_disk_fail(error, "path");
        }
        if (flc_trail_take_apart(line, length, &parts) && (size_t)(parts.hash - parts.type) > size &&
            memcmp(parts.type, wanted, size) == 0) {
            return flc_fail(error, FLC_E_DUPLICATE, "id", parts.number, flc_nan(), flc_nan(),
                            "the trail has this one already; index is its entry");
        }
    }
    return FLC_OK;
}

static flc_status check_new(const flc_trail *trail, const flc_trail_event *event, flc_error *error)
{
    char wanted[8 * FLC_TRAIL_TEXT_MAX];
    flc_text text = flc_text_start(wanted, sizeof wanted);
    flc_text_add(&text, flc_trail_event_word(event->kind));
    flc_text_add(&text, "\",\"id\":");
    flc_json_add_text(&text, event->id);
    flc_trail_reader reader = {.disk = trail->disk, .file = trail->file, .end = trail->end};
    flc_status status = flc_trail_reader_start(&reader, error);
    if (status == FLC_OK) {
        status = look_for(&reader, wanted, error);
    }
    flc_trail_reader_end(&reader);
    return status;
}

/* ---- writing ---- */

/* The file ends where it ended before. A write that failed is taken back; where that fails too, or where the disk could
 * not say what it has (an fsync that failed may have lost pages for good), this handle writes no more. */
static flc_status take_back(flc_trail *trail, int is_sync, flc_error *error)
{
    const flc_status status = flc_disk_fail(error, "path");
    const int cut = trail->disk->cut(trail->disk->self, trail->file, trail->end);
    const int sync = cut == 0 ? trail->disk->sync(trail->disk->self, trail->file) : -1;
    trail->broken = is_sync || cut != 0 || sync != 0;
    return status;
}

static flc_status write_line(flc_trail *trail, const char *line, size_t length, const char *hash, flc_error *error)
{
    const flc_disk *disk = trail->disk;
    if (flc_disk_write(disk, trail->file, line, length, trail->end) != 0) {
        return take_back(trail, 0, error);
    }
    if (disk->sync(disk->self, trail->file) != 0) {
        return take_back(trail, 1, error);
    }
    trail->end += (int64_t)length;
    trail->head.number++;
    memcpy(trail->head.hash, hash, FLC_HASH_TEXT);
    return FLC_OK;
}

flc_status flc_trail_put(flc_trail *trail, const flc_trail_event *event, const char *data, flc_error *error)
{
    char *line = NULL, hash[FLC_HASH_TEXT], type[32];
    size_t length = 0;
    flc_text word = flc_text_start(type, sizeof type);
    flc_text_add(&word, flc_trail_event_word(event->kind));
    flc_text_add(&word, "\"");
    const int sign =
        trail->terms.is_signed && flc_trail_must_sign(trail->head.number + 1, type, trail->terms.sign_every);
    flc_status status =
        flc_trail_make_line(event, data, &trail->head, sign ? &trail->pair : NULL, &line, &length, hash, error);
    if (status == FLC_OK) {
        status = write_line(trail, line, length, hash, error);
    }
    flc_text_free(line);
    return status;
}

static flc_status append(flc_trail *trail, const flc_trail_event *event, flc_error *error)
{
    flc_status status = check_event(event, error);
    char *data = NULL;
    if (status == FLC_OK) {
        status = read_data(event, &data, error);
    }
    if (status == FLC_OK && needs_id(event->kind)) {
        status = check_new(trail, event, error);
    }
    if (status == FLC_OK && trail->broken) {
        errno = EIO;
        status = flc_disk_fail(error, "trail");
    }
    if (status == FLC_OK) {
        status = flc_trail_put(trail, event, data, error);
    }
    flc_text_free(data);
    return status;
}

flc_status flc_trail_append(flc_trail *trail, const flc_trail_event *event, flc_trail_head *head, flc_error *error)
{
    flc_error_clear(error);
    if (trail == NULL || event == NULL) {
        return fail(error, FLC_E_NULL, trail == NULL ? "trail" : "event", NULL);
    }
    flc_record_host host;
    flc_status status = flc_record_enter(&host, error);
    if (status == FLC_OK) {
        status = append(trail, event, error);
        flc_record_leave(&host);
    }
    if (head != NULL) {
        *head = trail->head;
    }
    return status;
}

flc_status flc_trail_head_of(const flc_trail *trail, flc_trail_head *head)
{
    if (trail == NULL || head == NULL) {
        return FLC_E_NULL;
    }
    *head = trail->head;
    return FLC_OK;
}
