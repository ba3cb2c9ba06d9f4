/* SPDX-License-Identifier: Apache-2.0 */
/* A disk in memory, for the tests of files. It keeps a log of every write, cut, sync, name and removal, can be full or
 * fail, and can be brought to any state that a crash may leave: what was not yet synced is lost, torn or there in any
 * order; names that were not yet synced with their folder may be there or not. One folder, one process. */
#ifndef FLC_MEMORY_DISK_H
#define FLC_MEMORY_DISK_H

#include "disk.h"
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MEMORY_FILES 64
#define MEMORY_SECTOR 64 /* smaller than any real one: more ways to be torn */

typedef enum memory_kind {
    MEMORY_WRITE,
    MEMORY_CUT,
    MEMORY_SYNC,
    MEMORY_NAME,
    MEMORY_UNNAME,
    MEMORY_SYNC_NAMES
} memory_kind;

typedef struct memory_step {
    memory_kind kind;
    int file;
    size_t at, size; /* of a write; size of a cut */
    char *bytes;
    char name[128];
} memory_step;

typedef struct memory_file {
    char *bytes;
    size_t size, room;
} memory_file;

typedef struct memory_disk {
    flc_disk table;
    memory_file files[MEMORY_FILES];
    int file_count;
    struct {
        char name[128];
        int file;
    } names[MEMORY_FILES];
    int name_count;
    memory_step *steps;
    size_t step_count, step_room;
    size_t bytes_left;                  /* SIZE_MAX: never full */
    int fail_sync, fail_cut, fail_open; /* errno to fail with, 0: none */
} memory_disk;

static inline int memory_find(const memory_disk *disk, const char *name)
{
    for (int i = 0; i < disk->name_count; i++) {
        if (strcmp(disk->names[i].name, name) == 0) {
            return i;
        }
    }
    return -1;
}

static inline void memory_log(memory_disk *disk, memory_kind kind, int file, size_t at, const void *bytes, size_t size,
                              const char *name)
{
    if (disk->step_count == disk->step_room) {
        disk->step_room = 2 * disk->step_room + 64;
        disk->steps = realloc(disk->steps, disk->step_room * sizeof *disk->steps);
    }
    memory_step *step = &disk->steps[disk->step_count++];
    memset(step, 0, sizeof *step);
    step->kind = kind;
    step->file = file;
    step->at = at;
    step->size = size;
    if (bytes != NULL) {
        step->bytes = malloc(size + 1);
        memcpy(step->bytes, bytes, size);
    }
    if (name != NULL) {
        strncpy(step->name, name, sizeof step->name - 1);
    }
}

static inline void memory_put(memory_file *file, size_t at, const char *bytes, size_t size)
{
    if (at + size > file->room) {
        file->room = 2 * (at + size);
        file->bytes = realloc(file->bytes, file->room);
    }
    if (at > file->size) {
        memset(file->bytes + file->size, 0, at - file->size);
    }
    memcpy(file->bytes + at, bytes, size);
    if (at + size > file->size) {
        file->size = at + size;
    }
}

static inline void memory_set_name(memory_disk *disk, const char *name, int file)
{
    int place = memory_find(disk, name);
    if (place < 0) {
        place = disk->name_count++;
        snprintf(disk->names[place].name, sizeof disk->names[place].name, "%s", name);
    }
    disk->names[place].file = file;
}

static inline void memory_drop_name(memory_disk *disk, const char *name)
{
    const int place = memory_find(disk, name);
    if (place >= 0) {
        disk->names[place] = disk->names[--disk->name_count];
    }
}

/* ---- the table ---- */

static inline int memory_open(void *self, const char *path, flc_disk_access access)
{
    memory_disk *disk = self;
    const int place = memory_find(disk, path);
    if (disk->fail_open != 0 && access != FLC_DISK_READ) {
        errno = disk->fail_open;
        return -1;
    }
    if (place >= 0 && access != FLC_DISK_NEW) {
        return disk->names[place].file;
    }
    if (place >= 0 || access == FLC_DISK_READ || access == FLC_DISK_UPDATE) {
        errno = place >= 0 ? EEXIST : ENOENT;
        return -1;
    }
    const int file = disk->file_count++;
    memory_set_name(disk, path, file);
    memory_log(disk, MEMORY_NAME, file, 0, NULL, 0, path);
    return file;
}

static inline int memory_lock(void *self, int file, int wait)
{
    (void)self, (void)file, (void)wait;
    return 0;
}

static inline int64_t memory_size(void *self, int file)
{
    return (int64_t)((memory_disk *)self)->files[file].size;
}

static inline ptrdiff_t memory_read(void *self, int file, void *bytes, size_t size, int64_t at)
{
    const memory_file *from = &((memory_disk *)self)->files[file];
    const size_t start = (size_t)at, left = start < from->size ? from->size - start : 0;
    const size_t part = size < left ? size : left;
    if (part > 0) {
        memcpy(bytes, from->bytes + start, part);
    }
    return (ptrdiff_t)part;
}

static inline ptrdiff_t memory_write(void *self, int file, const void *bytes, size_t size, int64_t at)
{
    memory_disk *disk = self;
    const size_t part = size < disk->bytes_left ? size : disk->bytes_left;
    if (part == 0 && size > 0) {
        errno = ENOSPC;
        return -1;
    }
    if (disk->bytes_left != SIZE_MAX) {
        disk->bytes_left -= part;
    }
    memory_put(&disk->files[file], (size_t)at, bytes, part);
    memory_log(disk, MEMORY_WRITE, file, (size_t)at, bytes, part, NULL);
    return (ptrdiff_t)part;
}

static inline int memory_cut(void *self, int file, int64_t size)
{
    memory_disk *disk = self;
    if (disk->fail_cut != 0) {
        errno = disk->fail_cut;
        return -1;
    }
    if ((size_t)size < disk->files[file].size) {
        disk->files[file].size = (size_t)size;
    }
    memory_log(disk, MEMORY_CUT, file, 0, NULL, (size_t)size, NULL);
    return 0;
}

static inline int memory_sync(void *self, int file)
{
    memory_disk *disk = self;
    if (disk->fail_sync != 0) {
        errno = disk->fail_sync;
        return -1;
    }
    memory_log(disk, MEMORY_SYNC, file, 0, NULL, 0, NULL);
    return 0;
}

static inline int memory_sync_folder(void *self, const char *path)
{
    memory_log(self, MEMORY_SYNC_NAMES, 0, 0, NULL, 0, path);
    return 0;
}

static inline int memory_remove(void *self, const char *path)
{
    memory_disk *disk = self;
    if (memory_find(disk, path) < 0) {
        errno = ENOENT;
        return -1;
    }
    memory_drop_name(disk, path);
    memory_log(disk, MEMORY_UNNAME, 0, 0, NULL, 0, path);
    return 0;
}

/* One step for both names: a rename is there as a whole or not at all. */
static inline int memory_rename(void *self, const char *from, const char *to)
{
    memory_disk *disk = self;
    const int place = memory_find(disk, from);
    if (place < 0) {
        errno = ENOENT;
        return -1;
    }
    const int file = disk->names[place].file;
    memory_drop_name(disk, from);
    memory_set_name(disk, to, file);
    memory_log(disk, MEMORY_NAME, file, 0, from, strlen(from) + 1, to);
    return 0;
}

static inline int memory_close(void *self, int file)
{
    (void)self, (void)file;
    return 0;
}

static inline void memory_disk_start(memory_disk *disk)
{
    memset(disk, 0, sizeof *disk);
    disk->bytes_left = SIZE_MAX;
    disk->table = (flc_disk){disk,       memory_open, memory_lock,        memory_size,   memory_read,   memory_write,
                             memory_cut, memory_sync, memory_sync_folder, memory_rename, memory_remove, memory_close};
}

static inline void memory_disk_end(memory_disk *disk)
{
    for (size_t i = 0; i < disk->step_count; i++) {
        free(disk->steps[i].bytes);
    }
    free(disk->steps);
    for (int i = 0; i < MEMORY_FILES; i++) {
        free(disk->files[i].bytes);
    }
    memset(disk, 0, sizeof *disk);
}

/* ---- a crash ---- */

/* How what was not synced comes out. */
typedef enum memory_fate {
    MEMORY_LOST,    /* none of it */
    MEMORY_KEPT,    /* all of it */
    MEMORY_PREFIX,  /* each write up to a part of its length */
    MEMORY_SECTORS, /* of each write any sectors, the others as before or zero */
    MEMORY_REORDER  /* whole writes, any of them */
} memory_fate;

static inline uint64_t memory_draw(uint64_t *state) /* splitmix64, Steele, Lea and Flood 2014 */
{
    uint64_t z = *state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

static inline int memory_is_synced(const memory_disk *disk, size_t step, size_t steps)
{
    const int names = disk->steps[step].kind == MEMORY_NAME || disk->steps[step].kind == MEMORY_UNNAME;
    for (size_t i = step + 1; i < steps; i++) {
        const memory_step *later = &disk->steps[i];
        if (names ? later->kind == MEMORY_SYNC_NAMES
                  : later->kind == MEMORY_SYNC && later->file == disk->steps[step].file) {
            return 1;
        }
    }
    return 0;
}

static inline void memory_torn_write(memory_file *file, const memory_step *step, memory_fate fate, uint64_t *draw)
{
    if (fate == MEMORY_PREFIX) {
        const size_t part = (size_t)(memory_draw(draw) % (step->size + 1));
        memory_put(file, step->at, step->bytes, part);
        return;
    }
    for (size_t at = 0; at < step->size; at += MEMORY_SECTOR) {
        const size_t size = step->size - at < MEMORY_SECTOR ? step->size - at : MEMORY_SECTOR;
        if (memory_draw(draw) % 2) {
            memory_put(file, step->at + at, step->bytes + at, size);
        }
    }
}

/* What a crash after that many steps of a log leaves, on top of what left already holds. */
static inline void memory_play(const memory_disk *disk, size_t steps, memory_fate fate, uint64_t seed,
                               memory_disk *left)
{
    uint64_t draw = seed;
    int names_lost = 0; /* names come in their order: once one is lost, the later ones are too */
    left->file_count = disk->file_count;
    for (size_t i = 0; i < steps; i++) {
        const memory_step *step = &disk->steps[i];
        const int synced = memory_is_synced(disk, i, steps);
        const int whole = synced || fate == MEMORY_KEPT || (fate == MEMORY_REORDER && memory_draw(&draw) % 2);
        const int lost = !synced && (fate == MEMORY_LOST || (fate != MEMORY_KEPT && memory_draw(&draw) % 2));
        if (step->kind == MEMORY_NAME || step->kind == MEMORY_UNNAME) {
            names_lost |= lost;
            if (names_lost) {
                continue;
            }
            if (step->bytes != NULL) {
                memory_drop_name(left, step->bytes);
            }
            if (step->kind == MEMORY_NAME) {
                memory_set_name(left, step->name, step->file);
            } else {
                memory_drop_name(left, step->name);
            }
        } else if (step->kind == MEMORY_CUT && !lost) {
            left->files[step->file].size =
                step->size < left->files[step->file].size ? step->size : left->files[step->file].size;
        } else if (step->kind == MEMORY_WRITE && whole) {
            memory_put(&left->files[step->file], step->at, step->bytes, step->size);
        } else if (step->kind == MEMORY_WRITE && (fate == MEMORY_PREFIX || fate == MEMORY_SECTORS)) {
            memory_torn_write(&left->files[step->file], step, fate, &draw);
        }
    }
}

/* The same from an empty disk, as a new disk. */
static inline void memory_crash(const memory_disk *disk, size_t steps, memory_fate fate, uint64_t seed,
                                memory_disk *left)
{
    memory_disk_start(left);
    memory_play(disk, steps, fate, seed, left);
}

/* The same from what an earlier crash had left. */
static inline void memory_crash_on(const memory_disk *base, const memory_disk *disk, size_t steps, memory_fate fate,
                                   uint64_t seed, memory_disk *left)
{
    memory_disk_start(left);
    for (int i = 0; i < base->file_count; i++) {
        memory_put(&left->files[i], 0, base->files[i].bytes != NULL ? base->files[i].bytes : "", base->files[i].size);
    }
    for (int i = 0; i < base->name_count; i++) {
        memory_set_name(left, base->names[i].name, base->names[i].file);
    }
    memory_play(disk, steps, fate, seed, left);
}

#endif
