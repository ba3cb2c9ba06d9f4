/* SPDX-License-Identifier: Apache-2.0 */
/* The one door to files. Everything that the trail and the saved state ask of the system goes through this table, so
 * that a test can record it, let it fail, or replay a crash at any point. Each call returns -1 with errno set where it
 * fails; POSIX.1-2008 beside C11, and flock. */
#ifndef FLC_DISK_H
#define FLC_DISK_H

#include "flowcomp/status.h"

typedef enum flc_disk_access {
    FLC_DISK_READ,   /* an existing file, for reading */
    FLC_DISK_UPDATE, /* an existing file, for reading and writing */
    FLC_DISK_MAKE,   /* the same, made where there is none */
    FLC_DISK_NEW     /* a file that did not exist */
} flc_disk_access;

typedef struct flc_disk {
    void *self; /* first argument of every call */
    int (*open)(void *self, const char *path, flc_disk_access access);
    int (*lock)(void *self, int file, int wait); /* this file for this handle alone; EWOULDBLOCK where taken */
    int64_t (*size)(void *self, int file);
    ptrdiff_t (*read_at)(void *self, int file, void *bytes, size_t size, int64_t at);
    ptrdiff_t (*write_at)(void *self, int file, const void *bytes, size_t size, int64_t at);
    int (*cut)(void *self, int file, int64_t size);
    int (*sync)(void *self, int file);                /* content to the disk */
    int (*sync_folder)(void *self, const char *path); /* names in the folder of this path to the disk */
    int (*rename)(void *self, const char *from, const char *to);
    int (*remove)(void *self, const char *path);
    int (*close)(void *self, int file);
} flc_disk;

/** The system's own. */
extern const flc_disk flc_disk_of_system;

/** Read exactly size bytes, or fewer at the end of the file.
 *  @return bytes read, or -1 with errno */
ptrdiff_t flc_disk_read(const flc_disk *disk, int file, void *bytes, size_t size, int64_t at);

/** Write all of it; -1 with errno where a part could not be written. */
int flc_disk_write(const flc_disk *disk, int file, const void *bytes, size_t size, int64_t at);

/** FLC_E_FILE with errno as value and, where it is known, what that means. */
flc_status flc_disk_fail(flc_error *error, const char *argument);

#endif
