/* SPDX-License-Identifier: Apache-2.0 */
/* The end of a trail after a crash. A line that was being written when the power went may be there in part, in pieces
 * or as zeros; it was never acknowledged. It is copied into a file beside the trail, brought to the disk there, and cut
 * off here: in this order, so that a crash in between loses nothing. */
#include "canonical_json.h"
#include "trail_core.h"
#include "error.h"
#include "memory.h"
#include <errno.h>
#include <string.h>

#define WINDOW (2 * (size_t)FLC_TRAIL_ENTRY_MAX) /* holds the last entry and a torn one */
#define NAMES_MAX 1000

static flc_status fail(flc_error *error, flc_status status, const char *argument, const char *hint)
{
    return flc_fail(error, status, argument, -1, flc_nan(), flc_nan(), hint);
}

/* Take a line that ends before stop as the last entry, if it is a good one. */
static int take_entry(flc_trail *trail, const char *line, size_t length)
{
    flc_trail_parts parts;
    if (!flc_trail_take_apart(line, length, &parts) || !flc_trail_hash_is_good(&parts)) {
        return 0;
    }
    trail->head.number = parts.number;
    memcpy(trail->head.hash, parts.hash, FLC_HASH_DIGITS);
    trail->head.hash[FLC_HASH_DIGITS] = '\0';
    return 1;
}

/* Bytes up to the end of the last good line; 0 where there is none. whole: the bytes start where a line does. */
static size_t last_good(flc_trail *trail, const char *bytes, size_t size, int whole)
{
    size_t stop = size;
    for (;;) {
        while (stop > 0 && bytes[stop - 1] != '\n') {
            stop--;
        }
        if (stop == 0) {
            return 0;
        }
        size_t start = stop - 1;
        while (start > 0 && bytes[start - 1] != '\n') {
            start--;
        }
        if ((start > 0 || whole) && take_entry(trail, bytes + start, stop - 1 - start)) {
            return stop;
        }
        stop = start;
    }
}

/* ---- setting aside ---- */

static int open_aside(const flc_trail *trail, char *path, size_t size)
{
    for (int i = 0; i < NAMES_MAX; i++) {
        flc_text text = flc_text_start(path, size);
        flc_text_add(&text, trail->path);
        flc_text_add(&text, ".aside.");
        flc_text_add_integer(&text, trail->head.number + 1);
        if (i > 0) {
            flc_text_add(&text, ".");
            flc_text_add_integer(&text, i);
        }
        const int file = trail->disk->open(trail->disk->self, path, FLC_DISK_NEW);
        if (file >= 0 || errno != EEXIST) {
            return file;
        }
    }
    return -1;
}

static flc_status copy_aside(const flc_trail *trail, const char *bytes, size_t size, flc_trail_opening *opening,
                             flc_error *error)
{
    const flc_disk *disk = trail->disk;
    const int file = open_aside(trail, opening->set_aside_path, sizeof opening->set_aside_path);
    if (file < 0) {
        return flc_disk_fail(error, "set_aside_path");
    }
    flc_status status = FLC_OK;
    if (flc_disk_write(disk, file, bytes, size, 0) != 0 || disk->sync(disk->self, file) != 0) {
        status = flc_disk_fail(error, "set_aside_path");
        disk->remove(disk->self, opening->set_aside_path);
    }
    disk->close(disk->self, file);
    if (status == FLC_OK && disk->sync_folder(disk->self, trail->path) != 0) {
        status = flc_disk_fail(error, "set_aside_path");
    }
    return status;
}

static const char *name_of(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash != NULL ? slash + 1 : path;
}

static flc_status put_event(flc_trail *trail, const char *bytes, size_t size, int64_t at_ms, const char *path,
                            flc_error *error)
{
    char hash[FLC_HASH_TEXT], *data = NULL;
    flc_hash_bytes(bytes, size, hash);
    json_t *tree = json_pack("{s:I, s:s*, s:s}", "bytes", (json_int_t)size, "file", name_of(path), "sha256", hash);
    flc_trail_event event;
    flc_trail_event_init(&event);
    event.kind = FLC_TRAIL_SET_ASIDE;
    event.at_ms = at_ms;
    flc_status status =
        tree != NULL ? flc_json_canonical(tree, FLC_JSON_ONE_LINE, &data, error) : fail(error, FLC_E_MEMORY, "", NULL);
    if (status == FLC_OK) {
        status = flc_trail_put(trail, &event, data, error);
    }
    flc_text_free(data);
    json_decref(tree);
    return status;
}

static flc_status set_aside(flc_trail *trail, const char *bytes, size_t size, int64_t at_ms, flc_trail_opening *opening,
                            flc_error *error)
{
    const flc_disk *disk = trail->disk;
    flc_status status = copy_aside(trail, bytes, size, opening, error);
    if (status == FLC_OK &&
        (disk->cut(disk->self, trail->file, trail->end) != 0 || disk->sync(disk->self, trail->file) != 0)) {
        status = flc_disk_fail(error, "path");
    }
    if (status == FLC_OK) {
        opening->set_aside_bytes = (int64_t)size;
        status = put_event(trail, bytes, size, at_ms, opening->set_aside_path, error);
    }
    return status;
}

/* ---- the end ---- */

static flc_status find_in(flc_trail *trail, char *bytes, int64_t size, int64_t at_ms, flc_trail_opening *opening,
                          flc_error *error)
{
    const size_t wanted = size < (int64_t)WINDOW ? (size_t)size : WINDOW;
    const int64_t from = size - (int64_t)wanted;
    const ptrdiff_t got = flc_disk_read(trail->disk, trail->file, bytes, wanted, from);
    if (got < 0) {
        return flc_disk_fail(error, "path");
    }
    const size_t good = last_good(trail, bytes, (size_t)got, from == 0), rest = (size_t)got - good;
    if (good == 0 || rest > FLC_TRAIL_ENTRY_MAX) {
        return fail(error, FLC_E_HASH, "path", "more is damaged than a torn end: check the trail");
    }
    trail->end = from + (int64_t)good;
    return rest == 0 ? FLC_OK : set_aside(trail, bytes + good, rest, at_ms, opening, error);
}

flc_status flc_trail_find_end(flc_trail *trail, int64_t at_ms, flc_trail_opening *opening, flc_error *error)
{
    const int64_t size = trail->disk->size(trail->disk->self, trail->file);
    if (size < 0) {
        return flc_disk_fail(error, "path");
    }
    char *bytes = flc_allocate(WINDOW);
    if (bytes == NULL) {
        return fail(error, FLC_E_MEMORY, "", NULL);
    }
    flc_status status = find_in(trail, bytes, size, at_ms, opening, error);
    flc_release(bytes);
    return status;
}
