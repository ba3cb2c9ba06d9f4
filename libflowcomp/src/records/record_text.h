/* SPDX-License-Identifier: Apache-2.0 */
/* JSON text in and out through jansson, with the host left as it was found. Include this first in a source file. */
#ifndef FLC_RECORD_TEXT_H
#define FLC_RECORD_TEXT_H

#ifndef _POSIX_C_SOURCE
#define _POSIX_C_SOURCE 200809L /* uselocale */
#endif
#include <locale.h>

#include "flowcomp/status.h"
#include "fp_guard.h"
#include <jansson.h>

#define FLC_RECORD_LENGTH_MAX ((size_t)16 << 20)

/* What is set aside while jansson works and put back afterwards. Numbers turn into text and back by snprintf and
 * strtod: they follow the rounding mode (on x86-64 that of the x87 control word, which the guard of the evaluations
 * does not touch), and jansson mends the decimal point of a locale only where it is one byte (elsewhere an assertion of
 * its own ends the process). So: default rounding, and the "C" locale for this thread alone. */
typedef struct flc_record_host {
    flc_fp_state fp;
    uint16_t x87; /* x86-64 only */
    locale_t plain, before;
    int error_number;
} flc_record_host;

/** @return FLC_OK, or FLC_E_MEMORY with nothing changed */
FLC_STATUS flc_record_enter(flc_record_host *host, flc_error *error);
void flc_record_leave(const flc_record_host *host);

/** Text to JSON tree; to be called inside flc_record_enter. Refused, in this order: too long (FLC_E_ABOVE); a NUL
 *  byte (FLC_E_SYNTAX), nested too deep or too many values (FLC_E_SCHEMA), by line; not valid JSON (FLC_E_SYNTAX), a
 * key twice (FLC_E_SCHEMA) or a number that overflows (FLC_E_NUMBER), whichever comes first, by line; a number that
 * would silently become 0 (FLC_E_NUMBER, by path); FLC_E_MEMORY whenever memory runs out.
 *  @return FLC_OK with a new reference */
FLC_STATUS flc_record_parse(const char *text, size_t length, json_t **tree, flc_error *error);

/** JSON tree to text: sorted keys, two-space indent, 17 digits, a final newline; to be called inside flc_record_enter.
 *  @return FLC_OK with a new text for flc_text_free; FLC_E_MEMORY */
FLC_STATUS flc_record_print(const json_t *tree, char **text, flc_error *error);

#endif
