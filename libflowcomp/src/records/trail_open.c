/* SPDX-License-Identifier: Apache-2.0 */
/* Opening: lock, read the terms, find the last entry. A new trail is written beside its place and put there as a whole,
 * so that a file of that name always has its first entry. */
#include "record_text.h"
#include "trail_core.h"
#include "record_hash.h"
#include "text.h"
#include "error.h"
#include "memory.h"
#include <errno.h>
#include <string.h>

static flc_status fail(flc_error *error, flc_status status, const char *argument, const char *hint)
{
    return flc_fail(error, status, argument, -1, flc_nan(), flc_nan(), hint);
}

void flc_trail_options_init(flc_trail_options *options)
{
    *options = (flc_trail_options){.size = sizeof *options, .sign_every = 1, .name = "", .at_ms = FLC_TIME_NONE};
}

static flc_status check_options(const char *path, const flc_trail_options *options, flc_error *error)
{
    if (options->size != sizeof *options) {
        return flc_fail(error, FLC_E_SIZE, "options", -1, (double)options->size, (double)sizeof *options, NULL);
    }
    if (options->name == NULL) {
        return fail(error, FLC_E_NULL, "name", NULL);
    }
    if (strlen(path) > FLC_TRAIL_PATH_MAX) {
        return flc_fail(error, FLC_E_BUFFER, "path", -1, (double)strlen(path), FLC_TRAIL_PATH_MAX, "bytes");
    }
    flc_status status = flc_check_range(error, "sign_every", -1, (double)options->sign_every, 1.0, 1e6);
    if (status == FLC_OK) {
        status = flc_trail_check_text(options->name, FLC_TRAIL_TEXT_MAX, "name", error);
    }
    if (status == FLC_OK && options->at_ms == FLC_TIME_NONE) {
        return fail(error, FLC_E_MISSING, "at_ms", NULL);
    }
    return status != FLC_OK
               ? status
               : flc_check_range(error, "at_ms", -1, (double)options->at_ms, (double)FLC_UTC_LOW, (double)FLC_UTC_HIGH);
}

static flc_status open_and_lock(flc_trail *trail, const char *path, flc_disk_access access, int wait, flc_error *error)
{
    trail->file = trail->disk->open(trail->disk->self, path, access);
    if (trail->file < 0) {
        return flc_disk_fail(error, "path");
    }
    if (trail->disk->lock(trail->disk->self, trail->file, wait) == 0) {
        return FLC_OK;
    }
    return errno == EWOULDBLOCK ? fail(error, FLC_E_BUSY, "path", NULL) : flc_disk_fail(error, "path");
}

static void close_file(flc_trail *trail)
{
    if (trail->file >= 0) {
        trail->disk->close(trail->disk->self, trail->file);
        trail->file = -1;
    }
}

/* ---- a new trail ---- */

static flc_status set_terms(flc_trail *trail, const flc_trail_options *options, flc_error *error)
{
    if (options->seed == NULL && !options->unsigned_allowed) {
        return fail(error, FLC_E_MISSING, "seed", "without a key a trail protects against accidents only");
    }
    memset(&trail->terms, 0, sizeof trail->terms);
    trail->terms.is_signed = options->seed != NULL;
    trail->terms.sign_every = options->sign_every;
    memcpy(trail->terms.public_key, trail->pair.open, FLC_KEY_BYTES);
    memcpy(trail->terms.name, options->name, strlen(options->name) + 1);
    return FLC_OK;
}

static flc_status put_first(flc_trail *trail, const flc_trail_options *options, flc_error *error)
{
    char *data = NULL;
    flc_trail_event event;
    flc_trail_event_init(&event);
    event.kind = FLC_TRAIL_OPENED;
    event.at_ms = options->at_ms;
    flc_status status = flc_trail_write_terms(&trail->terms, &data, error);
    if (status == FLC_OK && trail->disk->cut(trail->disk->self, trail->file, 0) != 0) {
        status = flc_disk_fail(error, "path");
    }
    if (status == FLC_OK) {
        status = flc_trail_put(trail, &event, data, error);
    }
    flc_text_free(data);
    return status;
}

static int file_exists(const flc_trail *trail)
{
    const int file = trail->disk->open(trail->disk->self, trail->path, FLC_DISK_READ);
    if (file >= 0) {
        trail->disk->close(trail->disk->self, file);
    }
    return file >= 0;
}

/* The lock on the new file is kept when it gets its name: whoever waited for it finds the trail made, and begins again
 * (FLC_E_BUSY here, for the caller to try once more). */
static flc_status make_file(flc_trail *trail, const flc_trail_options *options, flc_error *error)
{
    char beside[FLC_TRAIL_PATH_MAX + 8];
    const flc_disk *disk = trail->disk;
    flc_text text = flc_text_start(beside, sizeof beside);
    flc_text_add(&text, trail->path);
    flc_text_add(&text, ".new");
    flc_status status = set_terms(trail, options, error);
    if (status == FLC_OK) {
        status = open_and_lock(trail, beside, FLC_DISK_MAKE, options->wait, error);
    }
    if (status == FLC_OK && file_exists(trail)) {
        status = fail(error, FLC_E_BUSY, "path", NULL);
    }
    if (status == FLC_OK) {
        status = put_first(trail, options, error);
    }
    if (status == FLC_OK &&
        (disk->rename(disk->self, beside, trail->path) != 0 || disk->sync_folder(disk->self, trail->path) != 0)) {
        status = flc_disk_fail(error, "path");
    }
    return status;
}

/* ---- an existing one ---- */

static flc_status check_key(const flc_trail *trail, const flc_trail_options *options, flc_error *error)
{
    if (trail->terms.is_signed && options->seed == NULL) {
        return fail(error, FLC_E_MISSING, "seed", "this trail is signed");
    }
    if (!trail->terms.is_signed && options->seed != NULL) {
        return fail(error, FLC_E_CONFLICT, "seed", "this trail is not signed");
    }
    if (trail->terms.is_signed && memcmp(trail->terms.public_key, trail->pair.open, FLC_KEY_BYTES) != 0) {
        return fail(error, FLC_E_CONFLICT, "seed", "this trail is signed by another key");
    }
    return FLC_OK;
}

static flc_status judge_first(flc_trail *trail, const char *line, size_t length, flc_error *error)
{
    flc_trail_parts parts;
    flc_status status = flc_trail_read_terms(line, length, &trail->terms, error);
    if (status != FLC_OK) {
        return status;
    }
    if (!flc_trail_take_apart(line, length, &parts) || parts.number != 1 || !flc_trail_hash_is_good(&parts)) {
        return fail(error, FLC_E_HASH, "line", "the first entry was damaged or edited");
    }
    if (trail->terms.is_signed &&
        (parts.signature == NULL ||
         !flc_signature_is_good(trail->terms.public_key, FLC_TRAIL_DOMAIN, parts.hash, parts.signature))) {
        return fail(error, FLC_E_SIGNATURE, "line", "that of the first entry");
    }
    return FLC_OK;
}

static flc_status read_first(flc_trail *trail, flc_error *error)
{
    const char *line = "";
    size_t length = 0;
    flc_trail_reader reader = {.disk = trail->disk, .file = trail->file};
    reader.end = trail->disk->size(trail->disk->self, trail->file);
    if (reader.end < 0) {
        return flc_disk_fail(error, "path");
    }
    flc_status status = flc_trail_reader_start(&reader, error);
    if (status == FLC_OK) {
        const flc_trail_read what = flc_trail_next(&reader, &line, &length);
        status = what == FLC_TRAIL_FAILED ? flc_disk_fail(error, "path") : judge_first(trail, line, length, error);
    }
    flc_trail_reader_end(&reader);
    return status;
}

/* What was written before may be in the system's memory only, and so may the name: both are brought to the disk before
 * this handle calls its last entry the head. */
static flc_status take_up(flc_trail *trail, const flc_trail_options *options, flc_trail_opening *opening,
                          flc_error *error)
{
    const flc_disk *disk = trail->disk;
    flc_status status = read_first(trail, error);
    if (status == FLC_OK) {
        status = check_key(trail, options, error);
    }
    if (status == FLC_OK &&
        (disk->sync(disk->self, trail->file) != 0 || disk->sync_folder(disk->self, trail->path) != 0)) {
        status = flc_disk_fail(error, "path");
    }
    return status != FLC_OK ? status : flc_trail_find_end(trail, options->at_ms, opening, error);
}

static flc_status open_file(flc_trail *trail, const flc_trail_options *options, flc_trail_opening *opening,
                            flc_error *error)
{
    flc_status status = open_and_lock(trail, trail->path, FLC_DISK_UPDATE, options->wait, error);
    if (status == FLC_E_FILE && trail->file < 0 && errno == ENOENT && options->create) {
        flc_error_clear(error);
        status = make_file(trail, options, error);
        opening->created = status == FLC_OK;
        if (status != FLC_E_BUSY || !file_exists(trail)) {
            return status;
        }
        close_file(trail); /* somebody else has just made it */
        flc_error_clear(error);
        status = open_and_lock(trail, trail->path, FLC_DISK_UPDATE, options->wait, error);
    }
    return status != FLC_OK ? status : take_up(trail, options, opening, error);
}

static flc_status open_trail(const flc_disk *disk, const char *path, const flc_trail_options *options,
                             flc_trail **trail, flc_trail_opening *opening, flc_error *error)
{
    flc_status status = check_options(path, options, error);
    if (status != FLC_OK) {
        return status;
    }
    flc_trail *made = flc_allocate_array(1, sizeof *made);
    if (made == NULL) {
        return fail(error, FLC_E_MEMORY, "", NULL);
    }
    made->disk = disk;
    made->file = -1;
    memcpy(made->path, path, strlen(path) + 1);
    if (!flc_start_sodium()) {
        status = fail(error, FLC_E_LIBRARY, "", NULL);
    }
    if (status == FLC_OK && options->seed != NULL) {
        status = flc_key_pair_of(options->seed, &made->pair);
    }
    if (status == FLC_OK) {
        status = open_file(made, options, opening, error);
    }
    opening->is_signed = status == FLC_OK && made->terms.is_signed;
    if (status != FLC_OK) {
        flc_trail_free(made);
        made = NULL;
    }
    *trail = made;
    return status;
}

flc_status flc_trail_open_on(const flc_disk *disk, const char *path, const flc_trail_options *options,
                             flc_trail **trail, flc_trail_opening *opening, flc_error *error)
{
    flc_trail_opening unseen;
    flc_trail_opening *seen = opening != NULL ? opening : &unseen;
    memset(seen, 0, sizeof *seen);
    flc_error_clear(error);
    if (trail != NULL) {
        *trail = NULL;
    }
    if (path == NULL || options == NULL || trail == NULL) {
        return fail(error, FLC_E_NULL, path == NULL ? "path" : options == NULL ? "options" : "trail", NULL);
    }
    flc_record_host host;
    flc_status status = flc_record_enter(&host, error);
    if (status == FLC_OK) {
        status = open_trail(disk, path, options, trail, seen, error);
        flc_record_leave(&host);
    }
    return status;
}

flc_status flc_trail_open(const char *path, const flc_trail_options *options, flc_trail **trail,
                          flc_trail_opening *opening, flc_error *error)
{
    return flc_trail_open_on(&flc_disk_of_system, path, options, trail, opening, error);
}

void flc_trail_free(flc_trail *trail)
{
    if (trail != NULL) {
        const int reason = errno;
        close_file(trail);
        flc_key_pair_forget(&trail->pair);
        flc_release(trail);
        errno = reason;
    }
}
