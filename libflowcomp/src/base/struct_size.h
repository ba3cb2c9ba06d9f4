/* SPDX-License-Identifier: Apache-2.0 */
/* Structs that may grow start with their size as a uint32_t. A program built against an older header has less room than
 * the library knows fields: what it is given ends where its own struct ends. */
#ifndef FLC_STRUCT_SIZE_H
#define FLC_STRUCT_SIZE_H

#include <stdint.h>
#include <string.h>

/** Fill a caller's struct of size bytes from the library's own, of whole bytes; what the library does not know is zero,
 *  and the size that stands in it is the caller's. */
static inline void flc_give_sized(void *given, size_t size, const void *fresh, size_t whole)
{
    const uint32_t own = (uint32_t)size;
    memset(given, 0, size);
    memcpy(given, fresh, size < whole ? size : whole);
    memcpy(given, &own, size < sizeof own ? size : sizeof own);
}

#endif
