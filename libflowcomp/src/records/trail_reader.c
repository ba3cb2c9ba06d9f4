/* SPDX-License-Identifier: Apache-2.0 */
#include "trail_line.h"
#include "error.h"
#include "memory.h"
#include <errno.h>
#include <string.h>

#define ROOM (2 * (size_t)FLC_TRAIL_ENTRY_MAX) /* a whole entry always fits behind a part of one */

flc_status flc_trail_reader_start(flc_trail_reader *reader, flc_error *error)
{
    reader->buffer = flc_allocate(ROOM);
    return reader->buffer != NULL ? FLC_OK : flc_fail(error, FLC_E_MEMORY, "", -1, flc_nan(), flc_nan(), NULL);
}

void flc_trail_reader_end(flc_trail_reader *reader)
{
    flc_release(reader->buffer);
    reader->buffer = NULL;
}

/* Move what is left to the front and fill up; 0 at the end of the file, -1 where the disk fails. */
static int fill(flc_trail_reader *reader)
{
    memmove(reader->buffer, reader->buffer + reader->place, reader->held - reader->place);
    reader->at += (int64_t)reader->place;
    reader->held -= reader->place;
    reader->place = 0;
    const int64_t from = reader->at + (int64_t)reader->held, left = reader->end - from;
    const size_t room = ROOM - reader->held;
    const size_t wanted = left < (int64_t)room ? (size_t)left : room;
    const ptrdiff_t got = flc_disk_read(reader->disk, reader->file, reader->buffer + reader->held, wanted, from);
    if (got < 0) {
        return -1;
    }
    if ((size_t)got < wanted) { /* it has become shorter while it was read */
        reader->end = from + got;
    }
    reader->held += (size_t)got;
    return got > 0;
}

/* Give what stands from place up to and with stop, and go on behind it. */
static flc_trail_read give(flc_trail_reader *reader, size_t size, size_t line_end, const char **line, size_t *length,
                           flc_trail_read what)
{
    *line = reader->buffer + reader->place;
    *length = line_end;
    reader->line_at = reader->at + (int64_t)reader->place;
    reader->place += size;
    return what;
}

flc_trail_read flc_trail_next(flc_trail_reader *reader, const char **line, size_t *length)
{
    size_t looked = 0;
    for (;;) {
        const char *from = reader->buffer + reader->place;
        const size_t here = reader->held - reader->place;
        const char *stop = here > looked ? memchr(from + looked, '\n', here - looked) : NULL;
        if (stop != NULL) {
            const size_t size = (size_t)(stop - from);
            return give(reader, size + 1, size, line, length,
                        size >= FLC_TRAIL_ENTRY_MAX ? FLC_TRAIL_TOO_LONG : FLC_TRAIL_LINE);
        }
        if (here >= FLC_TRAIL_ENTRY_MAX) {
            return give(reader, here, here, line, length, FLC_TRAIL_TOO_LONG);
        }
        looked = here;
        const int more = fill(reader);
        if (more < 0) {
            return FLC_TRAIL_FAILED;
        }
        if (more == 0) {
            return here == 0 ? FLC_TRAIL_END : give(reader, here, here, line, length, FLC_TRAIL_PART);
        }
    }
}
