/* SPDX-License-Identifier: Apache-2.0 */
/* A state file: "flowcomp-state-1 <bytes> <SHA-256>" and a newline, then the bytes. */
#include "state_core.h"
#include "record_hash.h"
#include "signing.h"
#include "error.h"
#include "memory.h"
#include "text.h"
#include <errno.h>
#include <string.h>

#define MARK "flowcomp-state-1 "
#define PATH_MAX_BYTES 500
#define TOTALS_ROOM 1024

static flc_status fail(flc_error *error, flc_status status, const char *argument, const char *hint)
{
    return flc_fail(error, status, argument, -1, flc_nan(), flc_nan(), hint);
}

/* ---- saving ---- */

static flc_status write_new(const flc_disk *disk, const char *path, const char *head, const uint8_t *bytes, size_t size,
                            flc_error *error)
{
    const int file = disk->open(disk->self, path, FLC_DISK_MAKE);
    if (file < 0) {
        return flc_disk_fail(error, "path");
    }
    flc_status status = FLC_OK;
    const size_t length = strlen(head);
    if (disk->cut(disk->self, file, 0) != 0 || flc_disk_write(disk, file, head, length, 0) != 0 ||
        flc_disk_write(disk, file, bytes, size, (int64_t)length) != 0 || disk->sync(disk->self, file) != 0) {
        status = flc_disk_fail(error, "path");
    }
    disk->close(disk->self, file);
    return status;
}

static flc_status save(const flc_disk *disk, const char *path, const uint8_t *bytes, size_t size, flc_error *error)
{
    char beside[PATH_MAX_BYTES + 8], head[128], hash[FLC_HASH_TEXT];
    if (!flc_start_sodium()) {
        return fail(error, FLC_E_LIBRARY, "", NULL);
    }
    flc_hash_bytes(bytes, size, hash);
    flc_text text = flc_text_start(head, sizeof head);
    flc_text_add(&text, MARK);
    flc_text_add_integer(&text, (int64_t)size);
    flc_text_add(&text, " ");
    flc_text_add(&text, hash);
    flc_text_add(&text, "\n");
    text = flc_text_start(beside, sizeof beside);
    flc_text_add(&text, path);
    flc_text_add(&text, ".new");
    flc_status status = write_new(disk, beside, head, bytes, size, error);
    if (status != FLC_OK) {
        disk->remove(disk->self, beside);
        return status;
    }
    if (disk->rename(disk->self, beside, path) != 0 || disk->sync_folder(disk->self, path) != 0) {
        status = flc_disk_fail(error, "path");
    }
    return status;
}

flc_status flc_state_save_on(const flc_disk *disk, const char *path, const uint8_t *bytes, size_t size,
                             flc_error *error)
{
    flc_error_clear(error);
    if (path == NULL || (bytes == NULL && size > 0)) {
        return fail(error, FLC_E_NULL, path == NULL ? "path" : "bytes", NULL);
    }
    if (size > FLC_STATE_MAX) {
        return flc_fail(error, FLC_E_ABOVE, "size", -1, (double)size, (double)FLC_STATE_MAX, NULL);
    }
    if (strlen(path) > PATH_MAX_BYTES) {
        return flc_fail(error, FLC_E_BUFFER, "path", -1, (double)strlen(path), PATH_MAX_BYTES, "bytes");
    }
    const int reason = errno;
    const flc_status status = save(disk, path, size > 0 ? bytes : (const uint8_t *)"", size, error);
    errno = reason;
    return status;
}

flc_status flc_state_save(const char *path, const uint8_t *bytes, size_t size, flc_error *error)
{
    return flc_state_save_on(&flc_disk_of_system, path, bytes, size, error);
}

/* ---- loading ---- */

/* The whole file in new memory. */
static flc_status read_file(const flc_disk *disk, const char *path, char **bytes, size_t *size, flc_error *error)
{
    const int file = disk->open(disk->self, path, FLC_DISK_READ);
    if (file < 0) {
        return flc_disk_fail(error, "path");
    }
    flc_status status = FLC_OK;
    const int64_t there = disk->size(disk->self, file);
    if (there < 0) {
        status = flc_disk_fail(error, "path");
    } else if (there > (int64_t)FLC_STATE_MAX + 256) {
        status = fail(error, FLC_E_SCHEMA, "path", "this is no saved state");
    } else {
        *bytes = flc_allocate((size_t)there + 1);
        const ptrdiff_t got = *bytes != NULL ? flc_disk_read(disk, file, *bytes, (size_t)there, 0) : 0;
        status = *bytes == NULL ? fail(error, FLC_E_MEMORY, "", NULL) : got < 0 ? flc_disk_fail(error, "path") : FLC_OK;
        *size = got > 0 ? (size_t)got : 0;
    }
    disk->close(disk->self, file);
    return status;
}

/* The head is made again from what follows it and compared: there is one form only. */
static flc_status judge(const char *file, size_t size, const char **content, size_t *length, flc_error *error)
{
    const char *stop = size > 0 ? memchr(file, '\n', size) : NULL;
    char head[128], hash[FLC_HASH_TEXT];
    if (stop == NULL || size < sizeof MARK || memcmp(file, MARK, sizeof MARK - 1) != 0) {
        return fail(error, FLC_E_SCHEMA, "path", "this is no saved state");
    }
    *content = stop + 1;
    *length = size - (size_t)(*content - file);
    flc_hash_bytes(*content, *length, hash);
    flc_text text = flc_text_start(head, sizeof head);
    flc_text_add(&text, MARK);
    flc_text_add_integer(&text, (int64_t)*length);
    flc_text_add(&text, " ");
    flc_text_add(&text, hash);
    flc_text_add(&text, "\n");
    if (text.needed != (size_t)(*content - file) || memcmp(head, file, text.needed) != 0) {
        return fail(error, FLC_E_HASH, "path", "the file was damaged or edited");
    }
    return FLC_OK;
}

flc_status flc_state_load_on(const flc_disk *disk, const char *path, uint8_t *bytes, size_t size, size_t *needed,
                             flc_error *error)
{
    flc_error_clear(error);
    if (needed != NULL) {
        *needed = 0;
    }
    if (path == NULL || needed == NULL || (bytes == NULL && size > 0)) {
        return fail(error, FLC_E_NULL, path == NULL ? "path" : needed == NULL ? "needed" : "bytes", NULL);
    }
    if (!flc_start_sodium()) {
        return fail(error, FLC_E_LIBRARY, "", NULL);
    }
    const int reason = errno;
    char *file = NULL;
    const char *content = NULL;
    size_t length = 0;
    flc_status status = read_file(disk, path, &file, &length, error);
    if (status == FLC_OK) {
        status = judge(file, length, &content, needed, error);
    }
    if (status == FLC_OK && *needed > size) {
        status = flc_fail(error, FLC_E_BUFFER, "size", -1, (double)size, (double)*needed, NULL);
    } else if (status == FLC_OK && *needed > 0) {
        memcpy(bytes, content, *needed);
    }
    flc_release(file);
    errno = reason;
    return status;
}

flc_status flc_state_load(const char *path, uint8_t *bytes, size_t size, size_t *needed, flc_error *error)
{
    return flc_state_load_on(&flc_disk_of_system, path, bytes, size, needed, error);
}

/* ---- totals ---- */

flc_status flc_totals_save(const char *path, const flc_totals *totals, flc_error *error)
{
    uint8_t bytes[TOTALS_ROOM];
    size_t size = 0;
    flc_error_clear(error);
    flc_status status = flc_totals_canonical(totals, bytes, sizeof bytes, &size);
    return status != FLC_OK ? fail(error, status, "totals", NULL) : flc_state_save(path, bytes, size, error);
}

flc_status flc_totals_load(const char *path, flc_totals *totals, flc_error *error)
{
    uint8_t bytes[TOTALS_ROOM] = {0};
    size_t size = 0;
    flc_error_clear(error);
    if (totals == NULL) {
        return fail(error, FLC_E_NULL, "totals", NULL);
    }
    flc_status status = flc_totals_restore(bytes, 0, totals); /* refused: the totals are as after a failure */
    status = flc_state_load(path, bytes, sizeof bytes, &size, error);
    if (status == FLC_OK) {
        status = flc_totals_restore(bytes, size, totals);
        return status != FLC_OK ? fail(error, status, "totals", NULL) : FLC_OK;
    }
    return status == FLC_E_BUFFER ? fail(error, FLC_E_SCHEMA, "path", "these are no totals") : status;
}
