/* SPDX-License-Identifier: Apache-2.0 */
#define _POSIX_C_SOURCE 200809L
#include "disk.h"
#include "error.h"
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

static int open_file(void *self, const char *path, flc_disk_access access)
{
    static const int flags[] = {
        [FLC_DISK_READ] = O_RDONLY,
        [FLC_DISK_UPDATE] = O_RDWR,
        [FLC_DISK_MAKE] = O_RDWR | O_CREAT,
        [FLC_DISK_NEW] = O_RDWR | O_CREAT | O_EXCL,
    };
    (void)self;
    return open(path, flags[access] | O_CLOEXEC, 0666); /* the caller's umask says who may read it */
}

/* flock, not fcntl: its lock belongs to the open file, so it also holds between two handles of one process, and closing
 * another descriptor of the file does not drop it. */
static int lock_file(void *self, int file, int wait)
{
    (void)self;
    int done;
    do {
        done = flock(file, wait ? LOCK_EX : LOCK_EX | LOCK_NB);
    } while (done != 0 && errno == EINTR);
    return done;
}

static int64_t size_of(void *self, int file)
{
    (void)self;
    struct stat found;
    if (fstat(file, &found) != 0) {
        return -1;
    }
    if (!S_ISREG(found.st_mode)) { /* a pipe or a terminal has no end to append to */
        errno = EINVAL;
        return -1;
    }
    return (int64_t)found.st_size;
}

static ptrdiff_t read_at(void *self, int file, void *bytes, size_t size, int64_t at)
{
    (void)self;
    return (ptrdiff_t)pread(file, bytes, size, (off_t)at);
}

static ptrdiff_t write_at(void *self, int file, const void *bytes, size_t size, int64_t at)
{
    (void)self;
    return (ptrdiff_t)pwrite(file, bytes, size, (off_t)at);
}

static int cut_file(void *self, int file, int64_t size)
{
    (void)self;
    return ftruncate(file, (off_t)size);
}

static int sync_file(void *self, int file)
{
    (void)self;
    return fsync(file);
}

static int sync_folder(void *self, const char *path)
{
    (void)self;
    char folder[512];
    const char *slash = strrchr(path, '/');
    const size_t length = slash == NULL ? 0 : slash == path ? 1 : (size_t)(slash - path);
    if (length >= sizeof folder) {
        errno = ENAMETOOLONG;
        return -1;
    }
    memcpy(folder, path, length);
    folder[length] = '\0';
    const int file = open(length == 0 ? "." : folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file < 0) {
        return -1;
    }
    const int done = fsync(file), reason = errno;
    close(file);
    errno = reason;
    return done;
}

static int rename_file(void *self, const char *from, const char *to)
{
    (void)self;
    return rename(from, to);
}

static int remove_file(void *self, const char *path)
{
    (void)self;
    return unlink(path);
}

static int close_file(void *self, int file)
{
    (void)self;
    return close(file);
}

const flc_disk flc_disk_of_system = {
    .self = NULL,
    .open = open_file,
    .lock = lock_file,
    .size = size_of,
    .read_at = read_at,
    .write_at = write_at,
    .cut = cut_file,
    .sync = sync_file,
    .sync_folder = sync_folder,
    .rename = rename_file,
    .remove = remove_file,
    .close = close_file,
};

ptrdiff_t flc_disk_read(const flc_disk *disk, int file, void *bytes, size_t size, int64_t at)
{
    size_t done = 0;
    while (done < size) {
        const ptrdiff_t part = disk->read_at(disk->self, file, (char *)bytes + done, size - done, at + (int64_t)done);
        if (part < 0 && errno == EINTR) {
            continue;
        }
        if (part < 0) {
            return -1;
        }
        if (part == 0) {
            break;
        }
        done += (size_t)part;
    }
    return (ptrdiff_t)done;
}

int flc_disk_write(const flc_disk *disk, int file, const void *bytes, size_t size, int64_t at)
{
    size_t done = 0;
    while (done < size) {
        const ptrdiff_t part =
            disk->write_at(disk->self, file, (const char *)bytes + done, size - done, at + (int64_t)done);
        if (part < 0 && errno == EINTR) {
            continue;
        }
        if (part <= 0) {
            errno = part == 0 ? ENOSPC : errno;
            return -1;
        }
        done += (size_t)part;
    }
    return 0;
}

static const char *meaning_of(int reason)
{
    switch (reason) {
    case ENOENT:
        return "no such file or folder";
    case EACCES:
    case EPERM:
        return "not allowed";
    case EROFS:
        return "the disk is read-only";
    case ENOSPC:
    case EDQUOT:
        return "the disk is full";
    case EFBIG:
        return "the file may not grow any further";
    case EIO:
        return "the disk failed";
    case EISDIR:
        return "this is a folder";
    default:
        return "value is the system's error number";
    }
}

flc_status flc_disk_fail(flc_error *error, const char *argument)
{
    const int reason = errno;
    return flc_fail(error, FLC_E_FILE, argument, -1, (double)reason, flc_nan(), meaning_of(reason));
}
