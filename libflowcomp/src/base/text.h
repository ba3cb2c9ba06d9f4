/* SPDX-License-Identifier: Apache-2.0 */
/* Text without printf: bounded appending, and numbers written with a correct rounding in any locale. */
#ifndef FLC_TEXT_H
#define FLC_TEXT_H

#include <stddef.h>
#include <stdint.h>

/* A text being written into a caller's buffer. needed counts what the whole text takes without its final NUL, so that
 * a first pass with size 0 answers "how large a buffer"; the buffer is always terminated if size > 0. */
typedef struct flc_text {
    char *buffer;
    size_t size;
    size_t needed;
    size_t line; /* needed at the start of the current line */
} flc_text;

flc_text flc_text_start(char *buffer, size_t size);
void flc_text_add(flc_text *text, const char *words);
void flc_text_add_integer(flc_text *text, int64_t number);

/** The number with that many significant digits (1 to 17), correctly rounded (half to even on the exact binary value),
 *  trailing zeros cut, decimal point '.', as 0.00123 or 1.23e-07 (exponent form below 1e-5 and from 1e15 up);
 *  "nan", "inf", "-inf". */
void flc_text_add_number(flc_text *text, double number, int digits);

/** Pad with spaces up to that column, counted from the start of the line (at least one space). */
void flc_text_pad(flc_text *text, size_t column);

#endif
