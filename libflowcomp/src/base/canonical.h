/* SPDX-License-Identifier: Apache-2.0 */
/* Canonical bytes: what an object is, byte for byte, on every processor. Whole numbers and IEEE doubles big-endian,
 * texts with their length in front, fields in a fixed order. Hashes are taken over these, never over JSON text. */
#ifndef FLC_CANONICAL_H
#define FLC_CANONICAL_H

#include "flowcomp/status.h"
#include "error.h"
#include <string.h>

typedef struct flc_canonical {
    uint8_t *bytes;
    size_t size;
    size_t needed;
} flc_canonical;

static inline void flc_put_byte(flc_canonical *out, uint8_t byte)
{
    if (out->needed < out->size) {
        out->bytes[out->needed] = byte;
    }
    out->needed++;
}

static inline void flc_put_u64(flc_canonical *out, uint64_t number)
{
    for (int shift = 56; shift >= 0; shift -= 8) {
        flc_put_byte(out, (uint8_t)(number >> shift));
    }
}

static inline void flc_put_i64(flc_canonical *out, int64_t number)
{
    flc_put_u64(out, (uint64_t)number);
}

/** Every NaN is written as the one canonical NaN; -0 stays apart from +0. */
static inline void flc_put_double(flc_canonical *out, double number)
{
    flc_put_u64(out, flc_bits_of(flc_is_nan(number) ? flc_nan() : number));
}

static inline void flc_put_text(flc_canonical *out, const char *text)
{
    size_t length = strlen(text);
    flc_put_u64(out, length);
    for (size_t i = 0; i < length; i++) {
        flc_put_byte(out, (uint8_t)text[i]);
    }
}

/** Close the writing: FLC_OK, or FLC_E_BUFFER where the bytes did not fit. */
static inline flc_status flc_canonical_end(const flc_canonical *out, size_t *needed)
{
    *needed = out->needed;
    return out->needed > out->size ? FLC_E_BUFFER : FLC_OK;
}

#endif
